"""The straight-in against printed figures, the path engine and vectors."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from roundown.motion.manoeuvre import Guard, HoldBank, HoldSpeed, Leg, ToHeight, Until, fly
from roundown.recovery.circuit import Circuit, heading_along
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult
from roundown.recovery.straight_in import straight_in

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
DEG = math.pi / 180.0
HEIGHTS = {
    "deck_height": 20.0, "ramp_height": 5.0, "ninety_height": 45.0, "downwind_height": 70.0, "initial_height": 90.0,
}  # fmt: skip


def test_a_mile_at_60_kt_past_the_ship_takes_a_minute_and_holds_two(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: 90 kt less 30 kt over the deck; at 30 s one over the ramp, one half a mile and one a mile
    astern; a little less than 30 s apart they are still three.
    """
    facts = sea_level()
    found = straight_in(solved(facts)[1], facts)
    assert found.closing / KT == pytest.approx(60.0, abs=1e-4)
    assert found.marks["one_mile"].time == pytest.approx(60.0, abs=1e-3)
    assert found.marks["half_mile"].time == pytest.approx(30.0, abs=1e-3)
    assert found.in_last_mile in (2, 3)
    close = sea_level(interval=29.0)
    assert straight_in(solved(close)[1], close).in_last_mile == 3


def test_30_s_at_60_kt_past_the_ship_is_3040_ft_astern(sea_level: Make, solved: Solve) -> None:
    """PRO-82, derived from published figures: 3,038 ft (printed 3,040)."""
    facts = sea_level()
    found = straight_in(solved(facts)[1], facts)
    assert found.spacing / FT == pytest.approx(3040.0, abs=5.0)
    assert found.one_second / FT == pytest.approx(3040.0 / 30.0, abs=0.2)


def test_the_engine_flies_the_last_mile_in_that_time_and_loses_that_height(sea_level: Make, solved: Solve) -> None:
    """Second method: the path engine, level speed held, from a mile astern, let down at the same rate. Indicated speed
    is held, so that it is a little slower lower down: half a per cent.
    """
    facts = sea_level(winds=np.array([[10.0, 2.0, -11.0 * KT]]), **HEIGHTS)
    result = solved(facts)[1]
    mark = straight_in(result, facts).marks["one_mile"]
    speed = facts.setting.true_speed(facts.ramp_speed, facts.ramp_over_sea)
    heading = heading_along(1, speed, facts.ramp_over_sea, facts)
    down = (mark.height - facts.ramp_over_sea) / mark.time
    leg = Leg(
        "in", HoldBank(0.0), HoldSpeed(), ToHeight(0.0, down), Until(Guard.SHIP_AHEAD, 0.0, 1), 300.0, 1.0, 1.0
    )  # fmt: skip
    state = (0.0, -1852.0, mark.height, speed, heading, 0.0, 1.0, 1.0)
    time, end = fly(0.0, state, [leg], facts.setting).record(-1)
    assert time == pytest.approx(mark.time, rel=5e-3)
    assert end[2] == pytest.approx(facts.ramp_over_sea, abs=0.3)
    assert math.degrees(math.asin(down / speed)) == pytest.approx(math.degrees(result.final_slope), abs=1e-6)


def test_the_deck_is_seen_as_long_as_the_angle_between_two_lines_of_sight(sea_level: Make, solved: Solve) -> None:
    """Second method: by the scalar product of the vectors from the eye to ramp and bow."""
    facts = sea_level(**HEIGHTS)
    found = straight_in(solved(facts)[1], facts, eye_height=2.5)
    for name, miles in (("one_mile", 1.0), ("half_mile", 0.5), ("quarter_mile", 0.25)):
        mark = found.marks[name]
        eye = mark.height + 2.5 - 20.0
        ramp, bow = np.array([1852.0 * miles, -eye]), np.array([1852.0 * miles + 250.0, -eye])
        cosine = float(ramp @ bow / np.linalg.norm(ramp) / np.linalg.norm(bow))
        assert mark.deck_seen is not None
        assert mark.ramp_below is not None
        assert math.cos(mark.deck_seen) == pytest.approx(cosine, abs=1e-12)
        assert math.tan(mark.ramp_below) == pytest.approx(eye / (1852.0 * miles))


def test_the_deck_is_seen_longer_the_nearer_he_is(sea_level: Make, solved: Solve) -> None:
    """Constructed."""
    facts = sea_level(**HEIGHTS)
    marks = straight_in(solved(facts)[1], facts, eye_height=2.5).marks.values()
    seen = [mark.deck_seen for mark in marks if mark.deck_seen is not None]
    assert len(seen) == 3
    assert seen == sorted(seen)


def test_without_the_eyes_height_nothing_is_said_of_what_is_seen(sea_level: Make, solved: Solve) -> None:
    """Constructed."""
    facts = sea_level(**HEIGHTS)
    mark = straight_in(solved(facts)[1], facts).marks["one_mile"]
    assert mark.deck_seen is None
    assert mark.ramp_below is None


def test_a_straight_in_is_longer_than_the_curved_approach_by_the_difference(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: one minute less the time of the final turn; the distance at which both are alike is that time at
    60 kt.
    """
    facts = sea_level()
    result = solved(facts)[1]
    found = straight_in(result, facts)
    assert found.curved_time == result.final_time
    assert found.longer == pytest.approx(60.0 - result.final_time, abs=1e-3)
    assert found.same_time_astern == pytest.approx(60.0 * KT * result.final_time, rel=1e-5)


def test_he_flies_through_the_air_what_the_ship_runs_and_the_wind_blows_beyond_the_mile(
    sea_level: Make, solved: Solve
) -> None:
    """Own arithmetic: 90 kt for a minute is a mile and a half; the ship makes 19 kt of it."""
    facts = sea_level()
    mark = straight_in(solved(facts)[1], facts).marks["one_mile"]
    assert mark.through_air == pytest.approx(1.5 * 1852.0, rel=1e-5)
    assert mark.ship_run == pytest.approx(19.0 / 60.0 * 1852.0, rel=1e-5)
