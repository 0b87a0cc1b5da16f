"""What an emergency costs the others, against sums by hand."""

from __future__ import annotations

import pytest

from roundown.quantities import POUND
from roundown.recovery.held_up import held_up

LB_H = POUND / 3600.0


def test_a_barrier_to_clear_is_time_for_so_many_landings() -> None:
    """Own arithmetic: 5 min of barrier at 30 s a landing are ten landings; at 264 lb/h 22 lb."""
    found = held_up(0.0, 30.0, 0.0, 300.0, 264.0 * LB_H)
    assert found.added == pytest.approx(300.0)
    assert found.lost == pytest.approx(10.0)
    assert found.fuel == pytest.approx(22.0 * POUND)


def test_intervals_and_delay_add_up() -> None:
    """Own arithmetic: two intervals of 15 s and a minute: 90 s, six intervals; at 240 lb/h 6 lb."""
    found = held_up(2.0, 15.0, 60.0, None, 240.0 * LB_H)
    assert (found.added, found.lost) == (90.0, 6.0)
    assert found.fuel == pytest.approx(6.0 * POUND)


def test_fuel_of_a_type_without_a_rate_is_not_known() -> None:
    assert held_up(1.0, 30.0, 0.0, None, None).fuel is None


def test_what_costs_nothing_costs_nothing() -> None:
    found = held_up(0.0, 30.0, 0.0, None, 1.0)
    assert (found.added, found.lost, found.fuel) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize("interval", [0.0, -1.0, float("nan")])
def test_an_interval_of_nil_is_refused(interval: float) -> None:
    with pytest.raises(ValueError, match="more than nil"):
        held_up(1.0, interval, 0.0, None, None)
