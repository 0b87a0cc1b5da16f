"""The touchdown: window of the cut, errors, deck motion and findings, against flights of the tests' own."""

from __future__ import annotations

import math
from dataclasses import replace
from importlib import resources

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.recovery.touchdown_cases import (
    DEG,
    EASED,
    FIGHTER,
    FT,
    GEAR,
    GOOD,
    KT,
    LATE,
    LB,
    ROUGH,
    SPAN,
    G,
)

from roundown.day.facts import circuit_facts, wind_rows
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.figures import figures_of, matching
from roundown.findings import Finding, Level
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.recovery.arresting import wire_taken
from roundown.recovery.deck_motion import OFF, DeckMotion
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.touchdown import (
    NEEDED,
    NoTouchdown,
    TouchdownFacts,
    facts_of,
    solve_touchdown,
)
from roundown.recovery.touchdown_findings import touchdown_findings
from roundown.recovery.touchdown_result import Touchdown, what_moves_it


def solved(facts: TouchdownFacts) -> Touchdown:
    found = solve_touchdown(facts)
    assert isinstance(found, Touchdown), found
    return found


def found_in(facts: TouchdownFacts) -> dict[str, Finding]:
    return {finding.id: finding for finding in touchdown_findings(solved(facts), facts)}


def day_from(text: str) -> Day:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


@pytest.fixture(scope="module")
def demo() -> tuple[Day, CircuitFacts]:
    day = day_from((resources.files("roundown.plan") / "demo.toml").read_text("utf-8"))
    flight = solve(day).flight
    return day, circuit_facts(day, wind_rows(day), flight.course, flight.speed)


def touched(facts: TouchdownFacts) -> tuple[float, float, float, float]:
    """Second method: Euler's rule in steps of 0.1 ms, slipstream by damped repetition, everything written out anew.

    Returns where the wheels touch, time from the cut, true airspeed, sink.
    """
    speed, weight = facts.ramp_speed, FIGHTER.mass * G
    density = 1.225 * (1.0 - 0.0065 * (facts.deck_height + facts.ramp_height) / 288.15) ** 4.2559
    speed *= math.sqrt(1.225 / density)
    area, pressure = FIGHTER.wing_area, 0.5 * density * speed**2
    lift = weight / (pressure * area)
    for _ in range(200):
        thrust = pressure * area * (0.1045 + 0.0755 * lift**2)
        fully = math.sqrt(speed**2 + 2.0 * thrust / (density * math.pi / 4.0 * FIGHTER.propeller_diameter**2))
        lift += 0.5 * (
            weight / (pressure * area * (1.0 + (fully / speed - 1.0) * FIGHTER.propeller_diameter / SPAN)) - lift
        )
    run = facts.cut_ahead + facts.reaction * (speed - facts.wind_ahead)
    height, slope, time, h = facts.ramp_height, 0.0, facts.reaction, 1e-4
    while height > 0.0:
        square = 0.5 * density * speed**2 * area
        drag = square * (0.1045 + 0.0755 * lift**2) - FIGHTER.idle_thrust
        height += h * speed * math.sin(slope)
        run += h * (speed * math.cos(slope) - facts.wind_ahead)
        faster = -drag / FIGHTER.mass - G * math.sin(slope)
        slope += h * (square * lift / FIGHTER.mass - G * math.cos(slope)) / speed
        speed += h * faster
        time += h
    return run, time, speed, -speed * math.sin(slope)


@pytest.mark.parametrize("facts", [GOOD, LATE], ids=["good", "late"])
def test_it_touches_where_small_steps_of_ones_own_do(facts: TouchdownFacts) -> None:
    run, time, speed, sink = touched(facts)
    found = solved(facts)
    assert found.touch_ahead == pytest.approx(run, abs=0.05)
    assert found.touch_after == pytest.approx(time, abs=2e-3)
    assert found.sink == pytest.approx(sink, abs=0.01)
    assert found.touch_closing == pytest.approx(math.sqrt(speed**2 - sink**2) - facts.wind_ahead, abs=0.01)
    lost = facts.ramp_speed - speed * math.sqrt(facts.density / 1.225)
    assert found.speed_lost == pytest.approx(lost, abs=0.01)


def test_the_hook_is_down_before_the_wheels() -> None:
    """Own arithmetic: it hangs 1.4 ft below them and is 17.5 ft behind; the wire is the first from there on."""
    found = solved(GOOD)
    assert found.arresting is not None
    assert found.hook_over_ramp == pytest.approx(GOOD.ramp_height - 1.4 * FT, abs=0.01)  # the throttle just shut
    assert found.hook_after < found.touch_after
    assert 17.5 * FT < found.touch_ahead - found.hook_ahead < 17.5 * FT + 14.0 * FT
    assert found.arresting.wire == wire_taken(found.hook_ahead, GEAR)
    assert 0.0 <= found.arresting.wire_place - found.hook_ahead < GEAR.spacing
    assert found.arresting.engaging == found.hook_closing


@pytest.mark.published
def test_a_touch_at_65_knots_into_40_of_wind_is_25_past_the_deck() -> None:
    """Source: G. P. Davis, RN pilot, letter on a public aviation forum, 13 September 2009: "about 25 kt" at the wire.

    The ship makes about 20 kt into about 20 kt of wind. That the airspeed is near 65 kt is derived, so the check is of
    the triangle: an approach that touches at 65 kt takes the wire at 25 to within half a knot.
    """
    light = replace(FIGHTER, mass=6200.0 * LB)
    for tenths in range(690, 720):
        found = solved(replace(GOOD, aeroplane=light, wind_ahead=40.0 * KT, ramp_speed=0.1 * tenths * KT))
        if found.touch_speed >= 65.0 * KT:
            break
    assert found.touch_closing == pytest.approx(25.0 * KT, abs=0.5 * KT)


@pytest.mark.parametrize("facts", [GOOD, replace(LATE, hand=EASED), replace(GOOD, motion=ROUGH, ramp_height=5.0)])
def test_earliest_and_latest_cut_are_just_that(facts: TouchdownFacts) -> None:
    """Second method: the cut is moved there and the touchdown solved again."""
    found = solved(facts)
    assert found.cut_earliest is not None
    assert found.cut_latest is not None
    early, late = (solved(replace(facts, cut_ahead=place)) for place in (found.cut_earliest, found.cut_latest))
    assert early.motion.hook_over_ramp == pytest.approx(facts.clearance, abs=2e-3)
    assert late.hook_ahead == pytest.approx(GEAR.last_wire, abs=1e-6)
    closing = facts.ramp_speed * math.sqrt(1.225 / facts.density) - facts.wind_ahead
    assert found.cut_window == pytest.approx((found.cut_latest - found.cut_earliest) / closing)
    assert found.cut_in_hand == pytest.approx((found.cut_latest - facts.cut_ahead) / closing)


@pytest.mark.parametrize("facts", [GOOD, replace(LATE, hand=EASED), replace(GOOD, motion=ROUGH, cut_ahead=-15.0)])
def test_least_and_greatest_height_over_the_ramp_are_just_that(facts: TouchdownFacts) -> None:
    """Second method: solved again from there. The thinner air a few feet higher moves the place by a hand."""
    found = solved(facts)
    assert found.ramp_lowest is not None
    assert found.ramp_highest is not None
    low, high = (solved(replace(facts, ramp_height=height)) for height in (found.ramp_lowest, found.ramp_highest))
    assert low.motion.hook_over_ramp == pytest.approx(facts.clearance, abs=0.01)
    assert high.hook_ahead == pytest.approx(GEAR.last_wire, abs=0.1)


def test_no_cut_clears_a_ramp_that_rises_above_the_hook() -> None:
    found = solved(replace(GOOD, motion=DeckMotion(1.5 * DEG, 0.0, 9.0, 838.0 * FT)))
    assert found.cut_earliest is None
    assert found.cut_window is None
    assert found.motion.hook_over_ramp < 0.0


@given(height=st.floats(3.0, 6.0), more=st.floats(0.1, 2.0), speed=st.floats(78.0, 95.0), faster=st.floats(0.5, 5.0))
@settings(max_examples=15, deadline=None)
def test_higher_or_faster_touches_further_and_higher_harder(
    height: float, more: float, speed: float, faster: float
) -> None:
    facts = replace(LATE, ramp_height=height, ramp_speed=speed * KT)
    base = solved(facts)
    higher = solved(replace(facts, ramp_height=height + more))
    quicker = solved(replace(facts, ramp_speed=(speed + faster) * KT))
    assert higher.hook_ahead > base.hook_ahead
    assert higher.sink > base.sink
    assert quicker.hook_ahead > base.hook_ahead


@given(lighter=st.floats(0.8, 0.99))
@settings(max_examples=10, deadline=None)
def test_a_heavier_aeroplane_asks_more_of_the_gear(lighter: float) -> None:
    one = solved(GOOD).arresting
    other = solved(replace(GOOD, aeroplane=replace(FIGHTER, mass=lighter * FIGHTER.mass))).arresting
    assert one is not None
    assert other is not None
    assert other.energy_share < one.energy_share
    assert other.most_closing > one.most_closing


def test_what_an_error_of_the_cut_does_is_its_time_at_the_speed_past_the_ship() -> None:
    """Closed form; and early brings the hook lower over a ramp that the throttle is shut before."""
    found = solved(GOOD)
    closing = 80.0 * KT * math.sqrt(1.225 / GOOD.density) - 30.0 * KT
    assert found.errors["late"].moved == pytest.approx(0.3 * closing, rel=1e-6)
    assert found.errors["early"].moved == pytest.approx(-0.3 * closing, rel=1e-6)
    astern = solved(replace(GOOD, cut_ahead=-30.0)).errors
    assert astern["early"].hook_over_ramp < astern["late"].hook_over_ramp


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("low", {"ramp_height": GOOD.ramp_height - 5.0 * FT}),
        ("high", {"ramp_height": GOOD.ramp_height + 5.0 * FT}),
        ("slow", {"ramp_speed": 77.0 * KT}),
        ("fast", {"ramp_speed": 83.0 * KT}),
        ("early", {"cut_ahead": GOOD.cut_ahead - 0.3 * (80.0 * KT * 1.001145 - 30.0 * KT)}),
    ],
)
def test_an_error_is_the_touchdown_of_one_who_makes_it(name: str, changes: dict[str, float]) -> None:
    """Second method: solved as a touchdown of its own. True over indicated airspeed is 1.0011 at 76 ft (hand)."""
    moved, own = solved(GOOD).errors[name], solved(replace(GOOD, **changes))  # type: ignore[arg-type]
    assert moved.hook_ahead == pytest.approx(own.hook_ahead, abs=0.01)
    assert moved.hook_over_ramp == pytest.approx(own.hook_over_ramp, abs=0.01)
    assert moved.wire == (None if own.arresting is None else own.arresting.wire)
    assert moved.moved == pytest.approx(moved.hook_ahead - solved(GOOD).hook_ahead)


def test_an_error_that_cannot_be_flown_is_left_out() -> None:
    """Limit case: near the stall with the power of the approach, three knots slower."""
    stall = math.sqrt(2.0 * FIGHTER.mass * G / (1.225 * FIGHTER.wing_area * FIGHTER.lift_flap))
    errors = solved(replace(GOOD, ramp_speed=0.965 * stall)).errors
    assert "slow" not in errors
    assert "fast" in errors


def test_the_signal_officer_reads_early_and_late_in_wires() -> None:
    found = solved(GOOD)
    sentences = what_moves_it(found)
    assert len(sentences) == 6
    assert f"wire {found.errors['late'].wire}." in sentences[1]
    low = replace(GOOD, ramp_height=5.5 * FT)
    assert any("the ramp is struck" in sentence for sentence in what_moves_it(solved(low)))
    assert "no wire, the barrier" in what_moves_it(solved(LATE))[1]


def test_motion_off_is_said_and_changes_nothing() -> None:
    found = solved(GOOD)
    assert found.deck_motion == OFF
    assert found.motion.sink == pytest.approx(found.sink, abs=1e-3)
    assert found.motion.nearest == found.motion.furthest == pytest.approx(found.hook_ahead, abs=5e-3)
    assert found.motion.hook_over_ramp == found.hook_over_ramp


def test_the_worst_moment_is_the_worst_of_many_tried_one_by_one() -> None:
    """Second method: the path followed step by step over decks in motion, each moment and relation for itself."""
    found = solved(replace(GOOD, motion=ROUGH))
    wheels, hook, turning = found.wheels, found.hook, math.tau / ROUGH.period
    sinks, places, ramps = [], [], []
    for moment in np.arange(0.0, math.tau, math.tau / 30):
        for relation in np.arange(0.0, math.tau, math.tau / 16):

            def deck(
                ahead: float, time: float, moment: float = float(moment), relation: float = float(relation)
            ) -> float:
                pitch = ROUGH.pitch * math.sin(turning * time + moment) * (ahead - 0.5 * ROUGH.deck_length)
                return pitch + ROUGH.heave * math.sin(turning * time + moment + relation)

            over = [z - deck(x, t) for x, z, t in zip(wheels.ahead, wheels.height, wheels.time, strict=True)]
            last = next(i for i, height in enumerate(over) if height <= 0.0)
            sinks.append((over[last - 1] - over[last]) / (wheels.time[last] - wheels.time[last - 1]))
            above = [
                (x, z - deck(x, t)) for x, z, t in zip(hook.ahead, hook.height, hook.time, strict=True) if x >= 0.0
            ]
            places.append(next(x for x, height in above if height <= 0.0))
            passing = float(np.interp(0.0, hook.ahead, hook.time))
            ramps.append(float(np.interp(0.0, hook.ahead, hook.height)) - deck(0.0, passing))
    assert found.motion.sink == pytest.approx(max(sinks), abs=0.05)
    assert found.motion.nearest == pytest.approx(min(places), abs=0.6)
    assert found.motion.furthest == pytest.approx(max(places), abs=0.6)
    assert found.motion.hook_over_ramp == pytest.approx(min(ramps), abs=0.03)


def test_a_good_day_gives_no_finding() -> None:
    assert found_in(GOOD) == {}


def test_past_the_wires_is_a_stop_that_each_remedy_closes() -> None:
    stop = found_in(LATE)["no-wire"]
    assert stop.level is Level.STOP
    assert "barrier is met at 54" in stop.value
    assert "Cut 0.9 s earlier, 19 yd astern of the ramp" in stop.remedy
    assert "8.0 ft over the ramp" in stop.remedy
    assert "at 78 kt" in stop.remedy
    for cure in (
        {"cut_ahead": -57.0 * FT},
        {"ramp_height": 8.0 * FT},
        {"ramp_speed": 78.0 * KT},
    ):
        assert "no-wire" not in found_in(replace(LATE, **cure))  # type: ignore[arg-type]
    assert "no-wire" in found_in(replace(LATE, ramp_speed=79.0 * KT))


def test_a_hook_under_the_ramp_is_a_stop_and_nothing_else_counts() -> None:
    struck = found_in(replace(GOOD, ramp_height=1.0 * FT))
    assert list(struck) == ["ramp-clearance"]
    assert struck["ramp-clearance"].level is Level.STOP
    assert solved(replace(GOOD, ramp_height=1.0 * FT)).arresting is None
    near = found_in(replace(GOOD, ramp_height=6.0 * FT))["ramp-clearance"]
    assert near.level is Level.CAUTION
    assert "Be 6.5 ft or more over the ramp" in near.remedy
    assert "ramp-clearance" not in found_in(replace(GOOD, ramp_height=6.5 * FT))


def test_a_cut_too_early_strikes_with_the_wheels_or_the_hook() -> None:
    early = replace(GOOD, cut_ahead=-90.0)
    assert solved(early).strikes
    assert found_in(early)["ramp-clearance"].level is Level.STOP
    assert "cut no earlier than" in found_in(early)["ramp-clearance"].remedy


def test_a_hard_arrival_is_a_stop_and_the_height_named_spares_the_wheels() -> None:
    """The limit is that of a wartime fighter, 7 ft/s; the drop after the cut alone is beyond it."""
    weak = replace(LATE, sink_limit=13.0 * FT)
    stop = found_in(weak)["sink"]
    assert stop.level is Level.STOP
    height = float(stop.remedy.split("more than ")[1].split(" ft")[0]) * FT
    assert solved(replace(weak, ramp_height=height)).sink <= 13.0 * FT
    assert solved(replace(weak, ramp_height=height + 1.0 * FT)).sink > 13.0 * FT
    assert "No height" in found_in(replace(weak, sink_limit=7.0 * FT))["sink"].remedy
    assert "sink" not in found_in(replace(weak, sink_limit=None))


def test_a_deck_that_rises_to_meet_it_is_a_caution() -> None:
    steady = solved(GOOD).sink
    rough = found_in(replace(GOOD, motion=ROUGH, sink_limit=steady + 0.1))
    assert rough["sink"].level is Level.CAUTION
    assert "worst moment" in rough["sink"].value
    late = replace(GOOD, motion=ROUGH, cut_ahead=solved(GOOD).cut_latest or 0.0)
    assert found_in(late)["no-wire"].level is Level.CAUTION


def test_a_late_wire_that_runs_into_the_barrier_is_a_caution() -> None:
    late = replace(GOOD, cut_ahead=30.0 * FT)
    caution = found_in(late)["run-out"]
    assert caution.level is Level.CAUTION
    sooner = float(caution.remedy.split("Cut ")[1].split(" s")[0])
    assert "run-out" not in found_in(replace(late, reaction=late.reaction - sooner))


def test_hook_and_gear_that_are_too_weak_are_found() -> None:
    stop = solved(GOOD).arresting
    assert stop is not None
    assert found_in(replace(GOOD, hook_load=0.9 * stop.mean))["hook-load"].level is Level.STOP
    assert found_in(replace(GOOD, hook_load=1.9 * stop.mean))["hook-load"].level is Level.CAUTION
    assert "hook-load" not in found_in(replace(GOOD, hook_load=2.01 * stop.mean))
    weak = replace(GOOD, gear=replace(GEAR, rating_weight=5000.0 * LB, rating_speed=50.0 * KT))
    assert found_in(weak)["gear-rating"].level is Level.STOP
    light = replace(GOOD, gear=replace(GEAR, rating_weight=9000.0 * LB, rating_speed=80.0 * KT))
    assert found_in(light)["gear-rating"].level is Level.CAUTION


@pytest.mark.parametrize("changes", [{"ramp_speed": 55.0 * KT}, {"wind_ahead": 95.0 * KT}])
def test_no_touchdown_says_why(changes: dict[str, float]) -> None:
    none = solve_touchdown(replace(GOOD, **changes))  # type: ignore[arg-type]
    assert isinstance(none, NoTouchdown)
    assert none.reason.startswith("There is no answer for")


@pytest.mark.parametrize("missing", NEEDED)
def test_a_missing_key_is_named(demo: tuple[Day, CircuitFacts], missing: str) -> None:
    day, circuit = demo
    none = facts_of(circuit, {key: given for key, given in day.givens.items() if key != missing}, 0.0)
    assert isinstance(none, NoTouchdown)
    assert missing in none.reason


def test_the_facts_of_the_demo_are_those_given(demo: tuple[Day, CircuitFacts]) -> None:
    """Second method: the wind over the deck is that asked for at deck height, 30 kt; a few feet up hardly more."""
    day, circuit = demo
    facts = facts_of(circuit, day.givens, 0.05)
    assert isinstance(facts, TouchdownFacts)
    assert facts.wind_ahead == pytest.approx(day.number("doctrine.wind.over_deck"), abs=1.0 * KT)
    assert facts.gear.wires == round(day.number("ship.gear.wires"))
    assert facts.hook.behind == day.number("type.hook.behind")
    assert facts.motion.deck_length == day.number("ship.deck_length")
    assert facts.sink_limit == day.number("type.landing.sink_limit")
    assert facts.slope == 0.05
    solved(facts)


def test_every_figure_rests_on_keys_that_a_day_gives(demo: tuple[Day, CircuitFacts]) -> None:
    """Constructed: each declared input is a given of the demo, of the flight, or stands for several."""
    day, _ = demo
    for figure in figures_of(solved(LATE), "touchdown."):
        for pattern in figure.how.inputs:
            flying = pattern.startswith("flight.") or pattern.endswith(".*")
            assert flying or matching(pattern, sorted(day.givens)), (figure.key, pattern)
