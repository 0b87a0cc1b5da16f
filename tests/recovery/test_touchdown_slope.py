"""The touchdown from a final down a slope: against a flight of the test's own, closed forms, and solving again."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from importlib import resources

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.recovery.touchdown_cases import DEG, DOWN, FIGHTER, FT, GEAR, GOOD, HELD, KT, LATE, ROUGH, G

from roundown.day.facts import circuit_facts, wind_rows
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.figures import figures_of, matching
from roundown.findings import Finding, Level
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.recovery.after_cut import Hand
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult
from roundown.recovery.touchdown import TouchdownFacts, facts_of, solve_touchdown
from roundown.recovery.touchdown_findings import touchdown_findings
from roundown.recovery.touchdown_result import Touchdown

STEEP = replace(DOWN, slope=4.5 * DEG, ramp_height=26.0 * FT, cut_ahead=10.0 * FT)
OVERSHOT = replace(LATE, slope=0.8 * DEG, ramp_height=24.0 * FT)
ASTERN = replace(DOWN, cut_ahead=-40.0, ramp_height=20.0 * FT)


def solved(facts: TouchdownFacts) -> Touchdown:
    found = solve_touchdown(facts)
    assert isinstance(found, Touchdown), found
    return found


def found_in(facts: TouchdownFacts) -> dict[str, Finding]:
    return {finding.id: finding for finding in touchdown_findings(solved(facts), facts)}


def closing(facts: TouchdownFacts) -> float:
    """Past the deck before the throttle is shut: true speed by the density, its level part, less the wind."""
    return facts.ramp_speed * math.sqrt(1.225 / facts.density) * math.cos(facts.slope) - facts.wind_ahead


def over_deck_slope(facts: TouchdownFacts) -> float:
    """Fall to run past the ship before the throttle is shut."""
    return facts.ramp_speed * math.sqrt(1.225 / facts.density) * math.sin(facts.slope) / closing(facts)


@pytest.fixture(scope="module")
def half_mile() -> tuple[Day, CircuitFacts, CircuitResult]:
    """The demo, flown by the other navy's doctrine, 85 kt and 20 ft over the ramp."""
    text = (resources.files("roundown.plan") / "demo.toml").read_text("utf-8")
    document = parse_document("plan.toml", text.replace('"fast-carrier-1944"', '"half-mile-1945"'))
    assert isinstance(document, Document)
    day = day_of(document)
    solution = solve(day)
    assert isinstance(solution.circuit, CircuitResult)
    return day, circuit_facts(day, wind_rows(day), solution.flight.course, solution.flight.speed), solution.circuit


def by_hand(day: Day, slope: float, wind: float, across: float) -> tuple[float, float, float, float]:
    """Second method: Euler's rule in steps of 0.2 ms from the day's own numbers, slipstream by damped repetition.

    The air is 1.2040 kg/m3 at sea level, 1016.6 hPa and 21 C, and 85 ft up 1.2010 (hand).
    Returns where the wheels touch and the hook meets the deck, time from the cut to the wheels, sink.
    """
    n = {key.split(".", 1)[1]: given.value for key, given in day.givens.items() if key.startswith("type.")}
    circuit = {name: day.number(f"doctrine.circuit.{name}") for name in ("ramp_height", "ramp_speed", "cut_place")}
    reaction, dip, part = (
        day.number(f"doctrine.recovery.{name}") for name in ("cut_reaction", "nose_dip", "eased_sink")
    )
    kept = part * n["landing.sink_limit"]
    weight, area, density = n["landing_weight"] * G, n["wing_area"], 1.2010
    speed = circuit["ramp_speed"] * math.sqrt(1.225 / density)
    parasite = n["zero_lift_drag"] + n["gear_drag"] + n["flap_drag"]
    force = 0.5 * density * speed**2 * area
    lift = weight * math.cos(slope) / force
    for _ in range(200):
        thrust = force * (parasite + n["induced_drag"] * lift**2) - weight * math.sin(slope)
        disc = math.pi / 4.0 * n["propeller_diameter"] ** 2
        faster = math.sqrt(speed**2 + 2.0 * thrust / (density * disc)) / speed - 1.0
        wanted = weight * math.cos(slope) / (force * (1.0 + faster * n["propeller_diameter"] / n["wing_span"]))
        lift += 0.5 * (wanted - lift)
    lift *= 1.0 - dip
    u, w = math.sqrt((speed * math.cos(slope)) ** 2 - across**2), -speed * math.sin(slope)
    x = circuit["cut_place"] + reaction * (u - wind)
    z, time, h, hook = circuit["ramp_height"] + w / (u - wind) * x, reaction, 2e-4, math.nan
    mass = weight / G
    while z > 0.0:
        v, level = math.sqrt(u * u + w * w + across**2), math.hypot(u, across)
        force, held = 0.5 * density * v * v * area, lift
        if -w > kept:  # as much as takes the sink out in 0.3 s beside the weight, of what the wing has
            held = min(max(lift, (G - (w + kept) / 0.3) * mass * v / (force * level)), n["lift_flap"])
        back = (force * (parasite + n["induced_drag"] * held**2) - n["idle_thrust"]) / mass / v
        up = force * held / mass / v
        u, w = u - h * (back * u + up * w * u / level), w + h * (up * level - back * w - G)
        x, z, time = x + h * (u - wind), z + h * w, time + h
        if math.isnan(hook) and z <= n["hook.below"]:
            hook = x - n["hook.behind"]
    return x, hook, time, -w


def test_the_half_mile_day_touches_where_ones_own_integration_does(
    half_mile: tuple[Day, CircuitFacts, CircuitResult],
) -> None:
    """Second method; and a third hand's own Euler gave 195 ft, 165 ft and 1.9 s for it."""
    day, circuit, result = half_mile
    facts = facts_of(circuit, day.givens, result.final_slope)
    assert isinstance(facts, TouchdownFacts)
    found = solved(facts)
    wheels, hook, time, sink = by_hand(day, result.final_slope, facts.wind_ahead, facts.wind_across)
    assert found.touch_ahead == pytest.approx(wheels, abs=1.0 * FT)
    assert found.hook_ahead == pytest.approx(hook, abs=1.0 * FT)
    assert found.touch_after == pytest.approx(time, abs=0.02)
    assert found.sink == pytest.approx(sink, abs=0.05)
    assert found.touch_ahead == pytest.approx(195.0 * FT, abs=3.0 * FT)
    assert found.hook_ahead == pytest.approx(165.0 * FT, abs=3.0 * FT)
    assert found.touch_after == pytest.approx(1.9, abs=0.05)


def test_the_final_comes_down_to_the_height_over_the_ramp(
    half_mile: tuple[Day, CircuitFacts, CircuitResult],
) -> None:
    """Own arithmetic: the throttle is open over the ramp, so the wheels are at the height asked for."""
    day, circuit, result = half_mile
    facts = facts_of(circuit, day.givens, result.final_slope)
    assert isinstance(facts, TouchdownFacts)
    assert facts.slope == result.final_slope > 2.5 * DEG
    found = solved(facts)
    assert found.wheels_over_ramp == pytest.approx(day.number("doctrine.circuit.ramp_height"), abs=1e-9)
    down = over_deck_slope(facts)
    assert found.hook_over_ramp == pytest.approx(
        facts.ramp_height - facts.hook.below - down * facts.hook.behind, abs=1e-5
    )
    assert found.cut_height == pytest.approx(facts.ramp_height - down * facts.cut_ahead, abs=1e-5)
    assert facts_of(circuit, day.givens, -0.01) == replace(facts, slope=0.0)  # a climb counts as level


@pytest.mark.parametrize("place", [-60.0, 5.0, 25.0])
def test_where_the_throttle_takes_nothing_away_the_slope_goes_on(place: float) -> None:
    """Closed form: weight alone holds the approach, so wherever the cut is given the slope ends in the deck."""
    mass = FIGHTER.mass
    force = 0.5 * DOWN.density * (DOWN.ramp_speed**2 * 1.225 / DOWN.density) * FIGHTER.wing_area
    glider = replace(
        FIGHTER, zero_lift_drag=mass * G * math.sin(DOWN.slope) / force, gear_drag=0.0, flap_drag=0.0, induced_drag=0.0,
        idle_thrust=0.0,
    )  # fmt: skip
    facts = replace(DOWN, aeroplane=glider, hand=HELD, cut_ahead=place)
    found = solved(facts)
    assert found.touch_ahead == pytest.approx(facts.ramp_height / over_deck_slope(facts), abs=1e-6)
    assert found.sink == pytest.approx(
        facts.ramp_speed * math.sqrt(1.225 / facts.density) * math.sin(facts.slope), rel=1e-6
    )
    assert found.wheels_over_ramp == pytest.approx(facts.ramp_height, abs=1e-6)
    assert found.cut_latest == pytest.approx(
        (facts.ramp_height - facts.hook.below) / over_deck_slope(facts) - facts.reaction * closing(facts), abs=1e-6
    )


@pytest.mark.parametrize("facts", [DOWN, OVERSHOT, ASTERN, replace(DOWN, motion=ROUGH, ramp_height=7.0), STEEP])
def test_earliest_and_latest_cut_are_just_that(facts: TouchdownFacts) -> None:
    """Second method: the cut is moved there and the touchdown solved again; it comes in higher the earlier it is."""
    found = solved(facts)
    assert found.cut_earliest is not None
    assert found.cut_latest is not None
    early, late = (solved(replace(facts, cut_ahead=place)) for place in (found.cut_earliest, found.cut_latest))
    wheels = early.wheels_over_ramp - facts.motion.most(0.0)
    assert min(early.motion.hook_over_ramp, wheels) == pytest.approx(facts.clearance, abs=2e-3)
    if (facts.ramp_height - facts.hook.below) / over_deck_slope(facts) < GEAR.last_wire + facts.hook.behind:
        assert late.hook_after == pytest.approx(facts.reaction, abs=1e-6)  # down as the throttle is shut
    else:
        assert late.hook_ahead == pytest.approx(GEAR.last_wire, abs=1e-6)
    assert found.cut_window == pytest.approx((found.cut_latest - found.cut_earliest) / closing(facts))
    assert found.cut_in_hand == pytest.approx((found.cut_latest - facts.cut_ahead) / closing(facts))


@pytest.mark.parametrize("facts", [DOWN, OVERSHOT, ASTERN, replace(DOWN, motion=ROUGH, cut_ahead=-15.0)])
def test_least_and_greatest_height_over_the_ramp_are_just_that(facts: TouchdownFacts) -> None:
    """Second method: solved again from there. The thinner air a few feet higher moves the place by a hand."""
    found = solved(facts)
    assert found.ramp_lowest is not None
    assert found.ramp_highest is not None
    low, high = (solved(replace(facts, ramp_height=height)) for height in (found.ramp_lowest, found.ramp_highest))
    wheels = low.wheels_over_ramp - facts.motion.most(0.0)
    assert min(low.motion.hook_over_ramp, wheels) == pytest.approx(facts.clearance, abs=0.02)
    assert high.hook_ahead == pytest.approx(GEAR.last_wire, abs=0.2)


@pytest.mark.parametrize("facts", [DOWN, ASTERN, STEEP])
@pytest.mark.parametrize(
    ("name", "height", "speed", "sooner"),
    [("low", -5.0, 0.0, 0.0), ("high", 5.0, 0.0, 0.0), ("slow", 0.0, -3.0, 0.0), ("fast", 0.0, 3.0, 0.0),
     ("early", 0.0, 0.0, 0.3), ("late", 0.0, 0.0, -0.3)],
)  # fmt: skip
def test_an_error_is_the_touchdown_of_one_who_makes_it(
    facts: TouchdownFacts, name: str, height: float, speed: float, sooner: float
) -> None:
    """Second method: solved as a touchdown of its own, the place of the cut moved for an early or a late one."""
    made = replace(
        facts,
        ramp_height=facts.ramp_height + height * FT,
        ramp_speed=facts.ramp_speed + speed * KT,
        cut_ahead=facts.cut_ahead - sooner * closing(facts),
    )
    moved, own = solved(facts).errors[name], solved(made)
    assert moved.hook_ahead == pytest.approx(own.hook_ahead, abs=0.01)
    assert moved.hook_over_ramp == pytest.approx(own.hook_over_ramp, abs=0.01)
    assert moved.wire == (None if own.arresting is None else own.arresting.wire)


def test_a_cut_given_earlier_is_given_higher_and_moves_the_touch_less_than_itself() -> None:
    """Limit case of the slope: on the level the touch moves by as much as the cut does, down a slope by less."""
    late, early = solved(DOWN), solved(replace(DOWN, cut_ahead=DOWN.cut_ahead - 20.0))
    assert 0.0 < late.touch_ahead - early.touch_ahead < 19.0
    assert early.cut_height - late.cut_height == pytest.approx(20.0 * over_deck_slope(DOWN))


@given(slope=st.floats(0.2, 4.0), more=st.floats(0.1, 1.5))
@settings(max_examples=15, deadline=None)
def test_steeper_touches_nearer_the_ramp(slope: float, more: float) -> None:
    facts = replace(LATE, slope=slope * DEG)
    base, steeper = solved(facts), solved(replace(facts, slope=(slope + more) * DEG))
    assert steeper.touch_ahead < base.touch_ahead


@pytest.mark.parametrize("hand", [HELD, DOWN.hand])
def test_one_who_is_on_deck_before_the_throttle_is_shut_is_told_so(hand: Hand) -> None:
    """Closed form for the place, the end of the slope; the remedy closes the caution."""
    facts = replace(DOWN, hand=hand, cut_ahead=60.0)
    found, down = solved(facts), over_deck_slope(facts)
    assert found.touch_ahead == pytest.approx(facts.ramp_height / down)
    assert found.hook_ahead == pytest.approx((facts.ramp_height - facts.hook.below) / down - facts.hook.behind)
    assert found.touch_after == pytest.approx((found.touch_ahead - facts.cut_ahead) / closing(facts))
    assert found.sink == pytest.approx(down * closing(facts))
    caution = found_in(facts)["throttle-open"]
    assert caution.level is Level.CAUTION
    sooner = float(caution.remedy.split("Cut ")[1].split(" s")[0])
    assert "throttle-open" not in found_in(replace(facts, cut_ahead=facts.cut_ahead - sooner * closing(facts)))
    assert "throttle-open" not in found_in(replace(facts, cut_ahead=place_named(caution.remedy)))


def place_named(remedy: str) -> float:
    """The place of a cut out of a remedy."""
    place = re.search(r"earlier, (?:(\d+) yd (ahead|astern) of|over) the ramp", remedy)
    assert place is not None, remedy
    return float(place[1] or 0.0) * 3.0 * FT * (1.0 if place[2] == "ahead" else -1.0)


@pytest.mark.parametrize(
    "facts",
    [
        OVERSHOT,
        replace(DOWN, ramp_height=34.0 * FT, ramp_speed=90.0 * KT, slope=1.2 * DEG, hand=HELD),
        replace(DOWN, ramp_height=22.0 * FT, ramp_speed=90.0 * KT, slope=1.0 * DEG, motion=ROUGH, hand=HELD),
        replace(DOWN, ramp_height=24.0 * FT, ramp_speed=88.0 * KT, slope=1.5 * DEG, motion=ROUGH, hand=HELD),
        replace(DOWN, ramp_height=24.0 * FT, ramp_speed=92.0 * KT, slope=2.0 * DEG, motion=ROUGH, hand=HELD),
    ],
)
def test_each_remedy_of_a_missed_wire_closes_it(facts: TouchdownFacts) -> None:
    remedy = found_in(facts)["no-wire"].remedy
    assert "earlier" in remedy
    assert "no-wire" not in found_in(replace(facts, cut_ahead=place_named(remedy)))
    if "be no more than" in remedy:
        height = float(remedy.split("be no more than ")[1].split(" ft")[0]) * FT
        assert "no-wire" not in found_in(replace(facts, ramp_height=height))
    if "at " in remedy:
        slower = float(remedy.split("ramp at ")[1].split(" kt")[0]) * KT
        assert "no-wire" not in found_in(replace(facts, ramp_speed=slower))


@pytest.mark.parametrize("facts", [replace(ASTERN, cut_ahead=-110.0), replace(DOWN, ramp_height=7.0 * FT)])
def test_each_remedy_of_a_low_hook_closes_it(facts: TouchdownFacts) -> None:
    remedy = found_in(facts)["ramp-clearance"].remedy
    height = float(remedy.split("Be ")[1].split(" ft")[0]) * FT
    assert "ramp-clearance" not in found_in(replace(facts, ramp_height=height))
    if "cut no earlier than" in remedy:
        number, side = remedy.split("earlier than ")[1].split(" yd ")
        place = float(number) * 3.0 * FT * (1.0 if side.startswith("ahead") else -1.0)
        assert "ramp-clearance" not in found_in(replace(facts, cut_ahead=place))


def test_the_height_that_spares_the_wheels_does_and_a_final_too_steep_is_told() -> None:
    weak = replace(DOWN, hand=HELD, sink_limit=12.0 * FT, ramp_height=24.0 * FT)
    remedy = found_in(weak)["sink"].remedy
    height = float(remedy.split("more than ")[1].split(" ft")[0]) * FT
    assert solved(replace(weak, ramp_height=height)).sink <= 12.0 * FT
    assert solved(replace(weak, ramp_height=height + 1.0 * FT)).sink > 12.0 * FT
    steep = found_in(replace(weak, sink_limit=6.0 * FT))["sink"].remedy
    assert "the final itself sinks at 7.1 ft/s" in steep  # 80.09 kt x sin 3 deg


def test_a_late_wire_that_runs_into_the_barrier_is_cut_sooner_than_on_the_level() -> None:
    """Second method: the sooner cut solved again."""
    late = replace(DOWN, slope=1.0 * DEG, cut_ahead=30.0 * FT, gear=replace(GEAR, barrier_place=300.0 * FT))
    caution = found_in(late)["run-out"]
    sooner = float(caution.remedy.split("Cut ")[1].split(" s")[0])
    assert "run-out" not in found_in(replace(late, cut_ahead=late.cut_ahead - sooner * closing(late)))


def test_on_a_level_final_nothing_of_it_is_there() -> None:
    found = solved(GOOD)
    assert found.cut_height == GOOD.ramp_height
    assert float(found.wheels.climb[0]) == 0.0
    assert set(found_in(GOOD)) == set()


def test_the_slope_is_declared_with_what_it_rests_on(half_mile: tuple[Day, CircuitFacts, CircuitResult]) -> None:
    """Constructed: the height at the ninety makes the slope, so every figure of the flight names it."""
    day = half_mile[0]
    figures = {figure.key: figure.how.inputs for figure in figures_of(solved(DOWN), "t.")}
    for name in ("touch_ahead", "hook_over_ramp", "sink", "cut_earliest", "cut_latest", "ramp_lowest", "carried"):
        inputs = figures[f"t.{name}"]
        assert any(matching(pattern, ["doctrine.circuit.ninety_height"]) for pattern in inputs), name
        assert all(
            pattern.startswith("flight.") or pattern.endswith(".*") or matching(pattern, sorted(day.givens))
            for pattern in inputs
        ), name


def test_a_final_steeper_than_the_sink_he_keeps_is_eased_from_the_throttle_on() -> None:
    """Limit case: the sink goes down to the one kept, and the touch is beyond the slope's end; cuts solved again."""
    facts = replace(DOWN, slope=4.0 * DEG, hand=Hand(dip=0.2, kept_sink=6.0 * FT))
    found = solved(facts)
    assert found.sink == pytest.approx(6.0 * FT, rel=0.15)
    assert found.touch_ahead > facts.ramp_height / over_deck_slope(facts)
    assert found.cut_earliest is not None
    early = solved(replace(facts, cut_ahead=found.cut_earliest))
    assert early.hook_over_ramp == pytest.approx(facts.clearance, abs=2e-3)
