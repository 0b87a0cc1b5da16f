"""The circuit full of aeroplanes, against arithmetic from printed figures, brute force and symmetry."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from roundown.findings import Level
from roundown.motion.frames import Floats
from roundown.recovery.circuit import Circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult
from roundown.recovery.spacing import (
    NEAR,
    NEAR_HEIGHT,
    CircuitTrack,
    behind,
    circuit_track,
    closest,
    spacing,
    spacing_findings,
)

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
YD = 0.9144  # m
ALL_90 = {"initial_speed": 90.0 * KT, "downwind_speed": 90.0 * KT}
HEIGHTS = {
    "deck_height": 20.0, "ramp_height": 5.0, "ninety_height": 28.0, "downwind_height": 50.0, "initial_height": 90.0,
}  # fmt: skip


def brute(first: CircuitTrack, second: CircuitTrack, delay: float, step: float = 0.01) -> tuple[Floats, Floats]:
    """Level distance and difference of height at every hundredth of a second they are both in the air."""
    low, high = max(first.time[0], second.time[0] + delay), min(first.time[-1], second.time[-1] + delay)
    times = np.arange(low, high, step)
    one = [np.interp(times, first.time, row) for row in (first.ahead, first.port, first.height)]
    other = [np.interp(times - delay, second.time, row) for row in (second.ahead, second.port, second.height)]
    return np.hypot(one[0] - other[0], one[1] - other[1]), np.abs(one[2] - other[2])


def straight(start: tuple[float, float, float], end: tuple[float, float, float], time: float) -> CircuitTrack:
    """A track straight from place to place, with the gates at its ends."""
    gates = {"initial": 0.0, "break": 0.0, "downwind": 0.0, "turn-in": 0.0, "ninety": 0.0, "ramp": time}
    ends = np.array([start, end])
    return CircuitTrack(np.array([0.0, time]), ends[:, 0], ends[:, 1], ends[:, 2], gates)


# ---- who is where


def test_30_s_apart_they_are_6080_ft_apart_downwind_and_3040_ft_upwind(sea_level: Make, solved: Solve) -> None:
    """PRO-82, derived from published figures: 30 s at 90 + 30 kt past the ship is 6,076 ft (printed 6,080), at 90 - 30
    kt 3,038 ft (printed 3,040). The break is taken 4 nm ahead, so that two are on each of these legs.
    """
    facts = sea_level(break_ahead=4.0 * 1852.0, **ALL_90)
    _, result = solved(facts)
    places = spacing(result, 30.0).places.values()
    on = {leg: [place for place in places if place.leg == leg] for leg in ("downwind leg", "upwind leg")}
    down, up = on["downwind leg"], on["upwind leg"]
    assert len(down) >= 2
    assert len(up) >= 2
    assert down[1].to_next is not None
    assert down[1].to_next / FT == pytest.approx(6080.0, abs=5.0)
    assert up[1].to_next is not None
    assert up[1].to_next / FT == pytest.approx(3040.0, abs=5.0)


def test_15_s_apart_at_80_kt_past_the_ship_is_2025_ft(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: 15 s at 80 kt is 617 m, 2,025 ft; upwind at 110 kt less 30 kt."""
    _, result = solved(sea_level(initial_speed=110.0 * KT))
    up = [place for place in spacing(result, 15.0).places.values() if place.leg == "upwind leg"]
    assert up[-1].to_next is not None
    assert up[-1].to_next / FT == pytest.approx(2025.0, abs=1.0)


def test_number_one_is_over_the_ramp_and_the_last_is_past_the_initial(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Own arithmetic: one is over the ramp break_to_ramp after his break, each next one an interval less far."""
    _, result = solved(demo_facts)
    places = list(spacing(result, 30.0).places.values())
    assert places[0].leg == "over the ramp"
    assert places[0].to_next is None
    assert math.hypot(places[0].ahead, places[0].port) < 0.1
    for number, place in enumerate(places):
        assert place.since_break == pytest.approx(result.break_to_ramp - 30.0 * number)
    assert -result.initial_to_break <= places[-1].since_break < 30.0 - result.initial_to_break


def test_each_stands_where_the_gates_say(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Round trip: with the time from a gate to the ramp as the interval, number two is at that gate."""
    _, result = solved(demo_facts)
    for name in ("turn-in", "ninety", "downwind", "break"):
        gate = result.gates[name]
        two = spacing(result, result.gates["ramp"].time - gate.time).places["number_2"]
        assert (two.ahead, two.port, two.height) == pytest.approx((gate.ahead, gate.port, gate.height), abs=0.05)


def test_how_many_are_between_break_and_ramp_at_once(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: with T from break to ramp, one over the ramp and one more for each whole interval in T."""
    _, result = solved(sea_level())
    for interval in (15.0, 20.0, 30.0, 45.0):
        found = spacing(result, interval)
        assert found.in_circuit == int(result.break_to_ramp // interval) + 1
        flying = [place for place in found.places.values() if place.since_break >= 0.0]
        assert len(flying) == found.in_circuit


def test_before_the_initial_he_comes_straight_up_the_upwind_leg(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: at 90 kt past the ship, 20 s before abeam the bow 250 m ahead of the ramp, 30 m to starboard."""
    _, result = solved(sea_level(upwind_offset=30.0, **HEIGHTS))
    ahead, port, height = circuit_track(result).at(-20.0)
    assert ahead == pytest.approx(250.0 - 20.0 * result.closing_upwind, abs=1e-3)
    assert result.closing_upwind / KT == pytest.approx(90.0, abs=1.0)
    assert (port, height) == pytest.approx((-30.0, 90.0), abs=1e-6)


# ---- the nearest two


@pytest.mark.parametrize("interval", [6.0, 15.0, 30.0])
def test_the_nearest_two_are_those_of_brute_force(demo_facts: CircuitFacts, solved: Solve, interval: float) -> None:
    """Second method: every pair looked at every 0.01 s. Within half a metre."""
    _, result = solved(demo_facts)
    track = circuit_track(result)
    found = spacing(result, interval).closest
    assert found is not None
    worst, near = math.inf, math.inf
    for apart in range(1, int((track.time[-1] - track.time[0]) / interval) + 1):
        level, height = brute(track, track, apart * interval)
        worst = min(worst, float(np.hypot(level, height).min()))
        near = min(near, float(np.where(height < NEAR_HEIGHT, level, np.inf).min()))
    assert found.too_near == (near < NEAR)
    if found.too_near:
        assert found.level == pytest.approx(near, abs=0.5)
    else:
        assert found.distance == pytest.approx(worst, abs=0.5)


def test_two_on_crossing_lines_come_as_near_as_geometry_has_it() -> None:
    """Closed form: one north at 40 m/s, the other east at 30, crossing 300 m ahead of the second as the first passes:
    least distance 300 x 40 / 50 = 240 m, 300 x 30 / 50^2 = 3.6 s later.
    """
    one = straight((-4000.0, 0.0, 100.0), (4000.0, 0.0, 100.0), 200.0)
    other = straight((0.0, 3300.0, 100.0), (0.0, -2700.0, 100.0), 200.0)
    found = closest(one, other, 0.0, 1)
    assert found is not None
    assert found.distance == pytest.approx(240.0, abs=1e-6)
    assert found.since_break == pytest.approx(103.6, abs=1e-6)


def test_two_that_pass_one_over_the_other_are_not_too_near() -> None:
    """Constructed: through one point, 31 m and 30 m apart in height; the rule is 100 ft, 30.48 m."""
    low = straight((-4000.0, 0.0, 100.0), (4000.0, 0.0, 100.0), 200.0)
    for height, too_near in ((131.0, False), (130.0, True)):
        other = straight((0.0, 3000.0, height), (0.0, -3000.0, height), 200.0)
        found = closest(low, other, 0.0, 1)
        assert found is not None
        assert found.too_near is too_near
        assert found.level == pytest.approx(0.0, abs=1e-6)


def test_two_that_climb_through_one_anothers_height_far_apart_are_not_too_near() -> None:
    """Constructed: at one height only while 400 m apart, near one another only while 200 m apart in height."""
    low = straight((0.0, 0.0, 0.0), (4000.0, 0.0, 800.0), 200.0)
    other = straight((400.0, 0.0, 0.0), (3600.0, 0.0, 1200.0), 200.0)
    found = closest(low, other, 0.0, 1)
    assert found is not None
    assert not found.too_near


def test_tracks_that_never_fly_together_have_no_nearest() -> None:
    """Constructed."""
    one = straight((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), 10.0)
    assert closest(one, one, 10.0, 1) is None


def test_the_other_hand_is_spaced_the_same(sea_level: Make, solved: Solve) -> None:
    """Symmetry: the wind from dead ahead; only sides change."""
    left, right = (solved(sea_level(hand=hand, upwind_offset=25.0, **HEIGHTS))[1] for hand in (-1, 1))
    one, other = spacing(left, 20.0), spacing(right, 20.0)
    assert one.closest is not None
    assert other.closest is not None
    assert one.closest.distance == pytest.approx(other.closest.distance, abs=1e-4)
    for mine, theirs in zip(one.places.values(), other.places.values(), strict=True):
        assert theirs.leg == mine.leg
        assert (theirs.ahead, theirs.port) == pytest.approx((mine.ahead, -mine.port), abs=1e-4)


# ---- conflicts


def test_a_good_day_has_no_conflict(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Constructed: the doctrine's own interval."""
    _, result = solved(demo_facts)
    assert spacing_findings(spacing(result, demo_facts.interval), result, demo_facts.interval) == []


def test_too_short_an_interval_is_a_conflict_and_the_remedy_closes_it(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Round trip: at the interval named there is none, a second less there is."""
    _, result = solved(demo_facts)
    (finding,) = spacing_findings(spacing(result, 3.0), result, 3.0)
    assert (finding.id, finding.level) == ("conflict", Level.CAUTION)
    named = float(finding.remedy.split("Break ")[1].split(" s")[0])
    assert spacing_findings(spacing(result, named), result, named) == []
    assert spacing_findings(spacing(result, named - 1.0), result, named - 1.0) != []


def test_a_circuit_flown_at_one_height_over_its_own_upwind_leg_is_a_conflict(sea_level: Make, solved: Solve) -> None:
    """Constructed: all at sea level: at some interval one coming up astern meets one four places before him."""
    _, result = solved(sea_level())
    nearest = [spacing(result, 24.0 + 0.5 * step).closest for step in range(24)]
    (found, *_) = [pair for pair in nearest if pair is not None and pair.too_near]
    assert found.apart > 1
    assert found.second == "coming up astern"
    assert "final turn" in found.first


@pytest.mark.parametrize("interval", [0.0, -3.0, math.nan])
def test_an_interval_that_is_none_is_refused(demo_facts: CircuitFacts, solved: Solve, interval: float) -> None:
    """Constructed."""
    with pytest.raises(ValueError, match="not positive"):
        spacing(solved(demo_facts)[1], interval)


# ---- two types in one circuit


def test_a_fast_type_behind_a_slow_one_gains_what_its_circuit_is_shorter_by(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic from the two circuits: interval less the difference of their times from break to ramp. With the
    interval named, the two are just as wanted over the ramp.
    """
    slow_speeds: dict[str, Any] = {
        "initial_speed": 110.0 * KT, "downwind_speed": 90.0 * KT, "ninety_speed": 80.0 * KT, "ramp_speed": 80.0 * KT,
    }  # fmt: skip
    _, fast = solved(sea_level(**HEIGHTS))
    _, slow = solved(sea_level(**HEIGHTS, **slow_speeds))
    found = behind(slow, fast, 30.0)
    assert found.gained == pytest.approx(slow.break_to_ramp - fast.break_to_ramp)
    assert found.ramp_interval == pytest.approx(30.0 - found.gained)
    assert behind(slow, fast, found.break_interval, wanted=30.0).ramp_interval == pytest.approx(30.0)
    reverse = behind(fast, slow, 30.0)
    assert reverse.gained == pytest.approx(-found.gained)


def test_the_nearest_of_two_types_is_that_of_brute_force(sea_level: Make, solved: Solve) -> None:
    """Second method: every 0.01 s; the second breaks 20 s after the first."""
    _, fast = solved(sea_level(**HEIGHTS))
    _, slow = solved(sea_level(**HEIGHTS, initial_speed=105.0 * KT))
    first, second = circuit_track(slow), circuit_track(fast)
    delay = slow.initial_to_break + 20.0 - fast.initial_to_break
    level, height = brute(first, second, delay)
    found = behind(slow, fast, 20.0).closest
    assert found.distance == pytest.approx(float(np.hypot(level, height).min()), abs=0.5)


def test_a_type_behind_its_own_kind_keeps_the_interval(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Limit case."""
    _, result = solved(demo_facts)
    found = behind(result, result, 30.0)
    assert found.ramp_interval == 30.0
    assert found.gained == 0.0
    assert found.break_interval == 30.0


def test_two_circuits_round_different_ships_are_refused(sea_level: Make, solved: Solve) -> None:
    """Constructed."""
    _, one = solved(sea_level())
    _, other = solved(sea_level(ship_speed=18.0 * KT))
    with pytest.raises(ValueError, match="different courses or speeds"):
        behind(one, other, 30.0)


def test_a_second_that_breaks_when_the_first_has_landed_is_not_behind_it(sea_level: Make, solved: Solve) -> None:
    """Constructed: ten minutes."""
    _, one = solved(sea_level())
    with pytest.raises(ValueError, match="never in the air together"):
        behind(one, one, 600.0)


def test_the_ships_course_does_not_change_who_is_where(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Symmetry: everything turned by 40 degrees."""
    turn = math.radians(40.0)
    winds = demo_facts.winds.copy()
    winds[:, 1] = demo_facts.winds[:, 1] * math.cos(turn) + demo_facts.winds[:, 2] * math.sin(turn)
    winds[:, 2] = demo_facts.winds[:, 2] * math.cos(turn) - demo_facts.winds[:, 1] * math.sin(turn)
    turned = replace(demo_facts, ship_course=demo_facts.ship_course + turn, winds=winds)
    one, other = (spacing(solved(facts)[1], 30.0) for facts in (demo_facts, turned))
    for mine, theirs in zip(one.places.values(), other.places.values(), strict=True):
        assert (theirs.ahead, theirs.port) == pytest.approx((mine.ahead, mine.port), abs=0.01)
