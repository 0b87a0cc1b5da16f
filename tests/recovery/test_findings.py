"""Findings fire when they should, not otherwise, and what they say closes them does.

Every remedy with a number is read back from its text, as a person would read it, put into the facts and solved again.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from roundown.findings import Finding, Level
from roundown.quantities import ACCELERATION, ANGLE, CLIMB_RATE, DISTANCE, LENGTH, MASS, Band, Kind, read
from roundown.recovery.circuit import Circuit, NoCircuit, solve_circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.findings import circuit_findings, no_circuit_findings
from roundown.recovery.result import CircuitResult, describe

Make = Callable[..., CircuitFacts]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
YD = 0.9144  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2


def examined(facts: CircuitFacts) -> tuple[CircuitResult, dict[str, Finding]]:
    """The result and its findings by their names."""
    circuit = solve_circuit(facts)
    assert isinstance(circuit, Circuit), circuit
    result = describe(circuit, facts)
    return result, {finding.id: finding for finding in circuit_findings(result, facts)}


def found_in(facts: CircuitFacts) -> dict[str, Finding]:
    return examined(facts)[1]


def any_bank(facts: CircuitFacts) -> CircuitFacts:
    return replace(facts, expected_bank=Band(0.0, 0.5, 1.0), greatest_bank=1.0)


def any_circle(facts: CircuitFacts) -> CircuitFacts:
    """A doctrine that expects no bank and no distance abeam: nothing is searched for them."""
    return replace(any_bank(facts), expected_abeam=Band(0.0, 1e3, 1e4))


def said(text: str, before: str, kind: Kind, after: str = "") -> float:
    """The quantity that stands in a text between two phrases."""
    match = re.search(re.escape(before) + r"\s*([\d.,]+ [a-z]+)" + re.escape(after), text)
    assert match, text
    return read(match[1], kind).band.aim


def with_drag(facts: CircuitFacts, part: float) -> CircuitFacts:
    """A cleaner aeroplane: that part of every drag, no thrust with the throttle shut."""
    plane = facts.aeroplane
    return replace(
        facts,
        aeroplane=replace(
            plane,
            zero_lift_drag=part * plane.zero_lift_drag,
            gear_drag=part * plane.gear_drag,
            flap_drag=part * plane.flap_drag,
            induced_drag=part * plane.induced_drag,
            idle_thrust=0.0,
        ),
    )


def with_mass(facts: CircuitFacts, times: float) -> CircuitFacts:
    return replace(facts, aeroplane=replace(facts.aeroplane, mass=times * facts.aeroplane.mass))


def test_a_circuit_that_closes_has_no_findings(demo_facts: CircuitFacts) -> None:
    """Constructed: the demo is meant to work."""
    assert found_in(demo_facts) == {}


# ---- bank and abeam


@pytest.mark.parametrize(("break_bank", "level"), [(45.0, Level.STOP), (38.0, Level.CAUTION)])
def test_a_final_turn_too_steep_is_closed_by_the_break_bank_it_names(
    demo_facts: CircuitFacts, break_bank: float, level: Level
) -> None:
    """Constructed: broken too hard, the circle is too small. Above the greatest bank a stop, else a caution."""
    facts = replace(demo_facts, break_bank=break_bank * DEG, expected_abeam=Band(0.0, 1e3, 1e4))
    finding = found_in(facts)["final-bank"]
    assert finding.level is level
    result, after = examined(replace(facts, break_bank=said(finding.remedy, "Break with", ANGLE)))
    assert "final-bank" not in after
    assert result.abeam == pytest.approx(said(finding.remedy, "of bank: from", DISTANCE), abs=4.0)  # bank to 0.1 deg
    assert result.final_bank == pytest.approx(said(finding.remedy, "final turn needs", ANGLE), abs=0.1 * DEG)


def test_a_final_turn_too_flat_is_closed_by_the_break_bank_it_names(demo_facts: CircuitFacts) -> None:
    """Constructed: the doctrine expects 27-30 degrees, the circuit needs 25."""
    band = Band(27.0 * DEG, 28.5 * DEG, 30.0 * DEG)
    facts = replace(any_circle(demo_facts), expected_bank=band)
    finding = found_in(facts)["final-bank"]
    assert finding.level is Level.CAUTION
    assert "final-bank" not in found_in(replace(facts, break_bank=said(finding.remedy, "Break with", ANGLE)))


def test_a_downwind_leg_too_wide_is_closed_by_the_break_bank_it_names(demo_facts: CircuitFacts) -> None:
    """Constructed: broken too gently."""
    facts = any_bank(replace(demo_facts, break_bank=26.0 * DEG))
    finding = found_in(facts)["abeam"]
    assert finding.level is Level.CAUTION
    result, after = examined(replace(facts, break_bank=said(finding.remedy, "Break with", ANGLE)))
    assert "abeam" not in after
    assert result.abeam == pytest.approx(said(finding.remedy, "to be about", DISTANCE, " abeam"), abs=4.0)


def test_a_downwind_leg_too_near_is_closed_by_the_break_bank_it_names(demo_facts: CircuitFacts) -> None:
    """Constructed: broken too hard."""
    facts = any_bank(replace(demo_facts, break_bank=35.0 * DEG))
    finding = found_in(facts)["abeam"]
    assert finding.level is Level.CAUTION
    assert "abeam" not in found_in(replace(facts, break_bank=said(finding.remedy, "Break with", ANGLE)))


# ---- heights


def test_a_deck_of_44_ft_leaves_too_much_to_lose_and_a_lower_ninety_closes_it(demo_facts: CircuitFacts) -> None:
    """Constructed from the doctrine: 90 ft at the ninety and 17.5 ft over a ramp of 44 ft leave 28.5 ft, 0.6 deg."""
    facts = replace(demo_facts, deck_height=44.0 * FT)
    finding = found_in(facts)["heights"]
    assert finding.level is Level.CAUTION
    assert "28.5 ft to lose" in finding.value
    result, after = examined(replace(facts, ninety_height=said(finding.remedy, "Be at", LENGTH)))
    assert "heights" not in after
    assert result.final_slope == pytest.approx(0.5 * DEG, abs=0.02 * DEG)  # no lower than it must be, to 1 ft


def test_a_deck_of_85_ft_means_a_climb_which_is_a_stop(demo_facts: CircuitFacts) -> None:
    """Constructed from the doctrine: 90 ft at the ninety, 102.5 ft over the ramp: 12.5 ft to climb."""
    facts = replace(demo_facts, deck_height=85.0 * FT)
    finding = found_in(facts)["heights"]
    assert finding.level is Level.STOP
    assert re.search(r"climb of 12\.5 ft", finding.value)
    assert "heights" not in found_in(replace(facts, ninety_height=104.0 * FT))


def test_on_every_deck_the_height_named_closes_the_finding(demo_facts: CircuitFacts) -> None:
    """Constructed: decks of 36 to 47 ft, and of 80 and 85 ft, which mean a climb."""
    open_still = []
    for deck in (36, 41, 47, 80, 85):
        facts = replace(demo_facts, deck_height=deck * FT)
        finding = found_in(facts)["heights"]
        if "heights" in found_in(replace(facts, ninety_height=said(finding.remedy, "Be at", LENGTH))):
            open_still.append(deck)
    assert open_still == []


def test_a_level_final_where_a_slope_is_wanted_names_a_higher_ninety(demo_facts: CircuitFacts) -> None:
    """Constructed: the ninety as high as the ramp, 3-4 degrees expected: some 40-60 m higher are wanted."""
    facts = replace(
        demo_facts, ninety_height=demo_facts.ramp_over_sea, expected_slope=Band(3.0 * DEG, 3.5 * DEG, 4.0 * DEG)
    )
    finding = found_in(facts)["heights"]
    assert said(finding.remedy, "Be at", LENGTH) > facts.ramp_over_sea + 20.0


@pytest.mark.parametrize("cure", ["faster", "further"])
def test_a_let_down_not_done_by_the_turn_in_is_closed_either_way_it_names(demo_facts: CircuitFacts, cure: str) -> None:
    """Constructed: 300 ft/min from 300 ft."""
    facts = replace(demo_facts, let_down=300.0 * FT / 60.0)
    finding = found_in(facts)["let-down"]
    assert finding.level is Level.CAUTION
    changed = {
        "faster": replace(
            facts, let_down=read(finding.remedy.split(",")[0].removeprefix("Let down at "), CLIMB_RATE).band.aim
        ),
        "further": replace(facts, break_ahead=said(finding.remedy, "break", DISTANCE)),
    }
    assert "let-down" not in found_in(changed[cure])


# ---- slowing


@pytest.mark.parametrize("cure", ["slower", "further"])
def test_an_aeroplane_too_clean_to_slow_in_time_is_a_stop_closed_either_way_it_names(
    demo_facts: CircuitFacts, cure: str
) -> None:
    """Constructed: a tenth of the drag."""
    facts = with_drag(any_circle(demo_facts), 0.1)
    result, found = examined(facts)
    assert result.slowed_after is None
    assert found["cannot-slow"].level is Level.STOP
    assert "Come up the ship slower, or break further ahead" in found["cannot-slow"].remedy
    changed = {
        "slower": replace(facts, initial_speed=facts.downwind_speed + 3.0 * KT),
        "further": replace(facts, break_ahead=facts.break_ahead + 9000.0),
    }
    assert "cannot-slow" not in found_in(changed[cure])


def test_slowing_too_gently_is_closed_by_the_slowing_it_names(demo_facts: CircuitFacts) -> None:
    """Constructed: 0.03 g asked for; 20 kt then take 10.3 / 0.294 = 35 s, the break 34.5 s."""
    facts = replace(any_circle(demo_facts), slowing=0.03 * G)
    result, found = examined(facts)
    assert result.slowed_after == pytest.approx(35.0, abs=0.5)
    assert found["slow-late"].level is Level.CAUTION
    named = said(found["slow-late"].remedy, "Slow harder:", ACCELERATION)
    assert not {"slow-late", "cannot-slow"} & found_in(replace(facts, slowing=named)).keys()


def test_an_aeroplane_that_cannot_slow_harder_is_not_told_to(demo_facts: CircuitFacts) -> None:
    """Constructed: a seventh of the drag, no let-down; throttle shut all the way round, and late."""
    facts = replace(with_drag(any_circle(demo_facts), 0.14), downwind_height=demo_facts.initial_height)
    result, found = examined(facts)
    assert result.slowing_had < facts.slowing
    assert "slow-late" in found
    assert "Slow harder" not in found["slow-late"].remedy


def test_an_aeroplane_with_less_slowing_than_asked_gets_a_note(demo_facts: CircuitFacts) -> None:
    """Constructed: half the drag is enough to be slow in time, but not at 0.075 g; the circle comes out wider."""
    facts = with_drag(any_circle(demo_facts), 0.5)
    result, found = examined(facts)
    assert list(found) == ["slowing-weak"]
    assert found["slowing-weak"].level is Level.NOTE
    assert result.abeam > examined(demo_facts)[0].abeam
    assert "slowing-weak" not in found_in(replace(facts, slowing=result.slowing_had))


@pytest.mark.parametrize("cure", ["slower", "flatter"])
def test_a_final_turn_that_must_lose_more_speed_than_it_can_is_a_stop(demo_facts: CircuitFacts, cure: str) -> None:
    """Constructed: three tenths of the drag, let down 85 ft and 10 kt slower by the ninety."""
    facts = with_drag(any_circle(demo_facts), 0.28)
    result, found = examined(facts)
    assert result.slowing_spare < 0.0
    assert found["cannot-slow-final"].level is Level.STOP
    assert "Be slower on the downwind leg, or let down less in the turn" in found["cannot-slow-final"].remedy
    lower = Band(25.0, 30.0, 35.0)
    changed = {
        "slower": replace(facts, downwind_speed=facts.ninety_speed + 1.0 * KT),
        "flatter": replace(facts, downwind_height=30.0, downwind_band=lower, let_down=5.0),
    }
    assert "cannot-slow-final" not in found_in(changed[cure])


# ---- stall and power


def test_a_heavy_aeroplane_is_too_near_the_stall(demo_facts: CircuitFacts) -> None:
    """Own arithmetic: the stall goes with the root of the weight: 57.0 kt at 30 deg, 1.0 g becomes more than 85 kt."""
    assert found_in(with_mass(any_circle(demo_facts), 1.35))["stall-margin-final"].level is Level.CAUTION
    worse = found_in(with_mass(any_circle(demo_facts), 1.5))
    assert worse["stall-margin-final"].level is Level.STOP
    assert "stall-margin-break" not in worse
    assert "below the stall" in worse["stall-margin-final"].value


@pytest.mark.parametrize(("name", "times"), [("final", 1.35), ("final", 1.5), ("break", 1.7)])
def test_the_weight_it_names_closes_the_stall_margin(demo_facts: CircuitFacts, name: str, times: float) -> None:
    """Constructed: come aboard at that weight and no more."""
    facts = with_mass(any_circle(demo_facts), times)
    weight = said(found_in(facts)[f"stall-margin-{name}"].remedy, "Come aboard at", MASS)
    lighter = replace(facts, aeroplane=replace(facts.aeroplane, mass=weight))
    assert f"stall-margin-{name}" not in found_in(lighter)
    heavier = replace(facts, aeroplane=replace(facts.aeroplane, mass=1.01 * weight))
    assert f"stall-margin-{name}" in found_in(heavier)


def test_less_bank_or_less_weight_closes_the_stall_margins_too(demo_facts: CircuitFacts) -> None:
    """Constructed."""
    facts = with_mass(any_circle(demo_facts), 1.35)
    wider = replace(facts, upwind_offset=facts.upwind_offset - 400.0)
    assert "stall-margin-final" not in found_in(wider)
    assert "stall-margin-final" not in found_in(with_mass(any_circle(demo_facts), 1.3))


@pytest.mark.parametrize("cure", ["lighter", "wider"])
def test_a_final_turn_short_of_power_is_a_stop_closed_lighter_or_wider(demo_facts: CircuitFacts, cure: str) -> None:
    """Constructed: seven tenths over weight."""
    facts = with_mass(any_circle(demo_facts), 1.7)
    result, found = examined(facts)
    assert result.power_spare < 0.0
    assert found["power-short"].level is Level.STOP
    changed = {
        "lighter": with_mass(any_circle(demo_facts), 1.6),
        "wider": replace(facts, upwind_offset=facts.upwind_offset - 300.0),
    }
    assert "power-short" not in found_in(changed[cure])


# ---- no circuit


def test_a_break_too_near_is_closed_by_the_place_it_names(demo_facts: CircuitFacts) -> None:
    """Constructed: 500 yd ahead of the bow."""
    facts = replace(demo_facts, break_ahead=500.0 * YD)
    none = solve_circuit(facts)
    assert isinstance(none, NoCircuit)
    [finding] = no_circuit_findings(none, facts)
    assert finding.level is Level.STOP
    assert said(finding.value, "by", DISTANCE) == pytest.approx(none.short_by, abs=0.5 * YD)
    assert "500 yd" in finding.remedy
    assert isinstance(solve_circuit(replace(facts, break_ahead=said(finding.remedy, "Break", DISTANCE))), Circuit)


def test_a_final_turn_no_bank_can_make_says_so_with_units(demo_facts: CircuitFacts) -> None:
    """Constructed: the upwind leg so far out that the downwind leg is on the wrong side."""
    facts = replace(demo_facts, upwind_offset=1500.0)
    none = solve_circuit(facts)
    assert isinstance(none, NoCircuit)
    [finding] = no_circuit_findings(none, facts)
    assert not re.search(r"\d(?![\d.,]* (?:yd|deg|kt|ft|s)\b)[\d.,]*\s", finding.value + " ")


def test_a_break_over_the_bow_is_too_near_not_out_of_reach(demo_facts: CircuitFacts) -> None:
    """Constructed: 0 yd ahead of the bow, which a doctrine may say; too near by some 850 yd."""
    none = solve_circuit(replace(demo_facts, break_ahead=0.0))
    assert isinstance(none, NoCircuit)
    assert none.short_by > 0.0


# ---- wheels, flap, the downwind leg


def test_wheels_that_come_down_after_the_ramp_stop_the_day(demo_facts: CircuitFacts) -> None:
    """Own arithmetic: lowered at 90 kt only, which is met at the ninety, they need 30 s more; the ramp is 17 s on."""
    plane = replace(demo_facts.aeroplane, gear_limit=90.0 * KT, gear_time=30.0)
    result, found = examined(replace(demo_facts, aeroplane=plane))
    assert result.wheels_down_after is None
    assert found["wheels-late"].level is Level.STOP
    assert "flap-late" not in found


def test_slow_flap_is_a_caution_between_turn_in_and_ramp(demo_facts: CircuitFacts) -> None:
    """Own arithmetic: begun at the break at 120 kt and 55 s long, it is down 55 s after the break, in the final."""
    plane = replace(demo_facts.aeroplane, flap_time=55.0)
    result, found = examined(replace(demo_facts, aeroplane=plane))
    assert result.flap_down_after == pytest.approx(55.0)
    assert found["flap-late"].level is Level.CAUTION


def test_wheels_and_flap_are_down_when_their_times_are_over(demo_facts: CircuitFacts) -> None:
    """Own arithmetic: 120 kt is below both limits, so both begin at the break."""
    result, found = examined(demo_facts)
    assert result.wheels_down_after == pytest.approx(demo_facts.aeroplane.gear_time)
    assert result.flap_down_after == pytest.approx(demo_facts.aeroplane.flap_time)
    assert not {"wheels-late", "flap-late"} & set(found)


def test_a_downwind_leg_of_a_second_is_closed_by_the_place_it_names(demo_facts: CircuitFacts) -> None:
    """Constructed: the break brought nearer until one second is left."""
    result, _ = examined(demo_facts)
    nearer = demo_facts.break_ahead - (result.rollout_to_turn_in - 1.0) * result.closing_downwind
    facts = replace(demo_facts, break_ahead=nearer, initial_height=demo_facts.downwind_height)
    finding = found_in(facts)["downwind-short"]
    assert finding.level is Level.CAUTION
    further = replace(facts, break_ahead=said(finding.remedy, "Break", DISTANCE))
    assert "downwind-short" not in found_in(further)


def test_the_rules_of_thumb_stand_beside_the_solved_figures(demo_facts: CircuitFacts) -> None:
    """Own arithmetic: two radii V^2/(g tan 30) at 110 kt indicated; wind over the deck times the final turn."""
    result, _ = examined(demo_facts)
    speed = demo_facts.setting.true_speed(110.0 * KT, demo_facts.initial_height)
    radius = speed**2 / (9.80665 * math.tan(demo_facts.break_bank))
    assert result.abeam_by_rule == pytest.approx(2.0 * radius - demo_facts.upwind_offset)
    ramp_speed = demo_facts.setting.true_speed(demo_facts.ramp_speed, demo_facts.ramp_over_sea)
    over_deck = ramp_speed - result.closing_ramp
    assert result.turn_in_ahead_by_rule == pytest.approx(over_deck * result.final_time)
    assert result.turn_in_ahead == pytest.approx(result.turn_in_ahead_by_rule, rel=0.15)


def test_a_let_down_steeper_than_any_aeroplane_is_no_circuit(demo_facts: CircuitFacts) -> None:
    """Limit case: from 3,000 ft down to the ninety in a quarter circle."""
    facts = replace(demo_facts, initial_height=3000.0 * FT, downwind_height=3000.0 * FT)
    assert isinstance(solve_circuit(facts), NoCircuit)
