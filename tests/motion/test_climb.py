"""The best climb, by limit case and by looking about."""

from __future__ import annotations

from dataclasses import replace

import pytest

from roundown.errors import NoSolution
from roundown.motion.aeroplane import Aeroplane, level_speed, stall_speed
from roundown.motion.climb import best_climb, climb_rate
from roundown.motion.equations.kernel import drag, full_thrust


def test_no_other_airspeed_climbs_better(invented: Aeroplane) -> None:
    """Second method: every half metre a second from the stall to the level speed is tried."""
    best = best_climb(invented)
    low, high = 1.05 * stall_speed(invented, 0.0), level_speed(invented)
    speeds = [low + 0.5 * i for i in range(int((high - low) / 0.5))]
    tried = max(speeds, key=lambda speed: climb_rate(invented, speed))
    assert best.speed == pytest.approx(tried, abs=0.5)
    assert best.rate >= climb_rate(invented, tried)


def test_climb_is_spare_power_by_weight(invented: Aeroplane) -> None:
    """Own arithmetic at 70 m/s: (thrust - drag) x 70 / (3600 x 9.80665)."""
    spare = full_thrust(70.0, 1.225, invented.craft) - drag(70.0, 1.225, 1.0, 0.0, 0.0, invented.craft)
    assert climb_rate(invented, 70.0) == pytest.approx(spare * 70.0 / 35_303.94, rel=1e-5)


def test_at_the_greatest_level_speed_nothing_is_left_to_climb_with(invented: Aeroplane) -> None:
    """Limit case."""
    assert climb_rate(invented, level_speed(invented)) == pytest.approx(0.0, abs=1e-6)


def test_heavier_climbs_less_and_faster(invented: Aeroplane) -> None:
    """Common sense of the trade: the rate falls and its airspeed grows with weight."""
    light, heavy = best_climb(invented), best_climb(replace(invented, mass=1.3 * invented.mass))
    assert heavy.rate < light.rate
    assert heavy.speed > light.speed


def test_too_little_power_is_no_climb(invented: Aeroplane) -> None:
    with pytest.raises(NoSolution):
        best_climb(replace(invented, shaft_power=60_000.0))
