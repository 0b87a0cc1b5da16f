"""Shot off by catapult."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.launch.run_cases import KT, LB, on_spot

from roundown.findings import Level
from roundown.launch.catapult import shot, shot_findings
from roundown.launch.deck_run import deck_run


def test_the_bow_is_passed_at_the_end_speed_and_the_wind() -> None:
    """Own arithmetic: 66 kt past the ship, 24 kt from ahead and 7 kt across are 90.3 kt through the air.

    The end speed is that of a catapult of 1938, two of them, for 12,000 lb. Source: PRO-35, a warship reference as
    quoted in a history article.
    """
    facts = replace(on_spot("ottery"), wind_ahead=24.0 * KT, wind_across=7.0 * KT)
    found = shot(facts, 66.0 * KT)
    assert found.bow_airspeed == pytest.approx(math.hypot(90.0, 7.0) * KT)


def test_its_margin_is_over_the_lift_off_speed_of_the_run() -> None:
    """Second method: the lift-off speed of the deck run of the same facts."""
    facts = on_spot("ottery")
    found = shot(facts, 66.0 * KT)
    assert found.speed_margin == pytest.approx(found.bow_speed - deck_run(facts).lift_off_speed)


def test_too_heavy_and_too_slow_are_stops_that_say_what_to_do() -> None:
    facts = replace(on_spot("ottery"), wind_ahead=0.0)
    slow = shot(facts, 40.0 * KT)
    found = shot_findings(slow, facts, 9000 * LB, "x")
    assert [each.id for each in found] == ["catapult-weight", "catapult-slow"]
    assert all(each.level is Level.STOP and each.remedy for each in found)
    assert "9,000 lb" in found[0].limit
    fast = replace(on_spot("ottery"), wind_ahead=30.0 * KT)
    assert shot_findings(shot(fast, 72.0 * KT), fast, 15_400 * LB, "x") == []
