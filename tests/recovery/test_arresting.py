"""The stop on the wire: energy, deceleration and which wire, against published figures and arithmetic."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.recovery.touchdown_cases import FIGHTER, FT, GEAR, HOOK, KT, LB, G

from roundown.recovery.arresting import arrest, energy, mean_deceleration, stopping_time, wire_taken

FOOT_POUND = 1.3558179483314004  # J


@pytest.mark.published
def test_a_later_gear_stops_what_it_is_said_to_stop() -> None:
    """Source: encyclopaedia article *Arresting gear*, citing the US Navy.

    50 000 lb from 130 kt in 344 ft; capacity 47.5e6 ft lb. The energy of the first is below that capacity. 130 kt is
    219.41 ft/s, its square over 688 ft 69.97 ft/s2, over 32.174 2.175 g. The "two seconds" printed beside them do not
    go with a steady deceleration: 3.14 s (own arithmetic).
    """
    assert energy(50_000.0 * LB, 130.0 * KT) < 47.5e6 * FOOT_POUND
    assert energy(50_000.0 * LB, 130.0 * KT) == pytest.approx(37.4e6 * FOOT_POUND, rel=1.5e-3)
    assert mean_deceleration(130.0 * KT, 344.0 * FT) == pytest.approx(2.175 * G, rel=3e-4)
    assert stopping_time(130.0 * KT, 344.0 * FT) == pytest.approx(3.14, abs=0.005)


@pytest.mark.parametrize(
    ("pounds", "knots", "foot_pounds", "gravities"),
    [(11_000.0, 60.0, 1.75e6, 1.06), (20_000.0, 60.0, 3.19e6, 1.06), (19_800.0, 55.0, 2.65e6, 0.89)],
)
def test_period_gears_over_150_feet(pounds: float, knots: float, foot_pounds: float, gravities: float) -> None:
    """From memory: ratings of British fleet gear (11 000, later 20 000 lb at 60 kt) and of an escort's (19 800 at 55).

    Energy and mean deceleration by hand: 60 kt is 101.27 ft/s, 10 255 / 300 = 34.18 ft/s2, 1.06 g.
    """
    assert energy(pounds * LB, knots * KT) == pytest.approx(foot_pounds * FOOT_POUND, rel=0.003)
    assert mean_deceleration(knots * KT, 150.0 * FT) == pytest.approx(gravities * G, abs=0.005 * G)


@pytest.mark.parametrize(("feet", "gravities"), [(60.0, 1.70), (100.0, 1.02), (150.0, 0.68)])
def test_75_knots_into_27_of_wind_is_48_past_the_ship(feet: float, gravities: float) -> None:
    """Own arithmetic: 48 kt is 81.0 ft/s, 6563 / 120 = 54.7 ft/s2, 1.70 g."""
    assert mean_deceleration((75.0 - 27.0) * KT, feet * FT) == pytest.approx(gravities * G, abs=0.005 * G)


@given(hook=st.floats(0.0, 120.0))
def test_the_wire_is_the_first_ahead_of_the_hook(hook: float) -> None:
    """Second method: look at every wire in turn."""
    ahead = [wire for wire in range(1, GEAR.wires + 1) if GEAR.first_wire + (wire - 1) * GEAR.spacing >= hook]
    assert wire_taken(hook, GEAR) == (ahead[0] if ahead else None)


def test_a_hook_on_a_wire_takes_it() -> None:
    """Limit case: each wire's own place."""
    assert [wire_taken(GEAR.place(wire), GEAR) for wire in range(1, 12)] == list(range(1, 12))
    assert wire_taken(GEAR.last_wire + 1e-6, GEAR) is None


def test_the_figures_of_a_stop() -> None:
    """Own arithmetic: 50 kt is 84.39 ft/s; 7122 / 240 = 29.67 ft/s2, 0.922 g; 240 / 84.39 = 2.84 s.

    Energy as of 9740 lb to 16 000 and 50 to 60 kt squared: 0.4227. Wire 4 at 122 ft, stopped 120 on, wheels 17.5 ahead
    of the hook: 259.5 ft, 70.5 before the barrier. The gear takes 60 kt times the root of 1.6427: 76.9 kt.
    """
    stop = arrest(110.0 * FT, 50.0 * KT, FIGHTER.mass, HOOK, GEAR)
    assert stop is not None
    assert stop.wire == 4
    assert stop.wire_place == pytest.approx(122.0 * FT)
    assert stop.mean == pytest.approx(0.922 * G, rel=1e-3)
    assert (stop.peak_low, stop.peak_high) == pytest.approx((1.5 * stop.mean, 2.0 * stop.mean))
    assert stop.time == pytest.approx(2.84, abs=0.005)
    assert stop.energy_share == pytest.approx(0.4227, abs=1e-4)
    assert stop.most_closing == pytest.approx(76.9 * KT, abs=0.05 * KT)
    assert stop.stop_ahead == pytest.approx(259.5 * FT)
    assert stop.barrier_margin == pytest.approx(70.5 * FT)


def test_past_the_last_wire_nothing_stops_it() -> None:
    assert arrest(300.0 * FT, 50.0 * KT, FIGHTER.mass, HOOK, GEAR) is None


@given(mass=st.floats(2000.0, 9000.0), speed=st.floats(10.0, 40.0), more=st.floats(1.01, 1.5))
def test_heavier_or_faster_is_more_energy(mass: float, speed: float, more: float) -> None:
    assert energy(more * mass, speed) > energy(mass, speed)
    assert energy(mass, more * speed) > energy(more * mass, speed)


@given(speed=st.floats(10.0, 60.0), run_out=st.floats(10.0, 120.0))
def test_deceleration_time_and_run_out_agree(speed: float, run_out: float) -> None:
    """Closed forms put together: v = a t and s = a t^2 / 2."""
    slowing, time = mean_deceleration(speed, run_out), stopping_time(speed, run_out)
    assert math.isclose(slowing * time, speed, rel_tol=1e-9)
    assert math.isclose(0.5 * slowing * time**2, run_out, rel_tol=1e-9)
