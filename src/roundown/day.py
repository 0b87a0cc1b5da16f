"""Solving a day: the phases in order, each handed the few facts it needs; nothing else."""

from __future__ import annotations

import math

import numpy as np

from roundown.environment.compass import compass, magnetic
from roundown.environment.wind import WindTable, velocity
from roundown.findings import Finding, Level, worst_first
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import Floats
from roundown.motion.frames import wrap
from roundown.plan.facts import Day
from roundown.quantities import (
    AHEAD_OF_BOW,
    AHEAD_OF_ISLAND,
    AHEAD_OF_RAMP,
    DEGREE,
    KNOT,
    OFF_BOW,
    WIND_OVER_DECK,
    write,
)
from roundown.recovery.circuit import Circuit, NoCircuit, solve_circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.findings import circuit_findings, no_circuit_findings
from roundown.recovery.result import CircuitResult, describe
from roundown.ship.flight import Flight, plan_flight
from roundown.ship.turn_into_wind import turn_into_wind
from roundown.solution import Cockpit, Solution, Unsolved

SEA_PROFILE_TOP = 100.0  # m, as far as the power law of environment/wind.py holds
DIAL = tuple(range(20, 41, 2))  # kt over the deck, the circuits solved beside today's
SHOWN_SPEED, SHOWN_ANGLE = 0.05 * KNOT, 0.05 * DEGREE  # half of what is shown
TOO_MUCH = 1.5  # of the wind wanted: above it a stop (own rule, no source)
ENOUGH = (
    0.8  # of the wind wanted: below it a stop, from it a caution (own rule; PRO-06 has landings at 0.55, at a price)
)


def solve(day: Day) -> Solution:
    """Solve a day.

    Returns every phase's result and the findings, worst first; a phase without a result says why.
    """
    winds = wind_rows(day)
    flight = _flight(day, winds)
    turn = turn_into_wind(
        flight.course,
        flight.speed,
        day.number("ship.base_course"),
        day.number("ship.base_speed"),
        day.number("ship.turning_circle"),
        day.number("ship.speed_gain"),
    )
    circuit, found = _circuit(circuit_facts(day, winds, flight.course, flight.speed))
    findings = worst_first([*_wind_findings(flight, day), *found])
    cockpit = _cockpit(day, flight, circuit)
    return Solution(flight=flight, turn=turn, circuit=circuit, cockpit=cockpit, findings=findings)


def solve_for_winds(day: Day) -> dict[int, CircuitResult | Unsolved]:
    """The circuit for each wind over the deck of the dial [kt], on today's flight course in today's natural wind.

    The ship is given whatever speed makes that wind, within her limits or not.
    """
    winds = wind_rows(day)
    flight = _flight(day, winds)
    blowing = flight.wind_from - flight.course
    ahead, across = flight.wind_speed * math.cos(blowing), flight.wind_speed * math.sin(blowing)
    results: dict[int, CircuitResult | Unsolved] = {}
    for knots in DIAL:
        along = (knots * KNOT) ** 2 - across**2
        if along < 0.0:
            results[knots] = Unsolved("the natural wind across the flight course is stronger than that")
            continue
        results[knots] = _solved(circuit_facts(day, winds, flight.course, math.sqrt(along) - ahead))[1]
    return results


def wind_rows(day: Day) -> Floats:
    """The day's wind by height: rows of height [m], east and north, where the air goes [m/s]."""
    east, north = velocity(day.number("weather.wind_from"), day.number("weather.wind_speed"))
    rows = [(10.0, east, north)]
    level = 1
    while f"weather.winds.{level}.height" in day.givens:
        stem = f"weather.winds.{level}"
        aloft = velocity(day.number(f"{stem}.from"), day.number(f"{stem}.speed"))
        rows.append((day.number(f"{stem}.height"), *aloft))
        level += 1
    if level == 1 and day.word("weather.wind_profile") == "sea":
        table = WindTable.sea_profile(east, north, SEA_PROFILE_TOP)
        return np.column_stack([table.height, table.east, table.north])
    return np.array(rows)


def circuit_facts(day: Day, winds: Floats, course: float, speed: float) -> CircuitFacts:
    """What the circuit is solved from, for a ship on a course [rad] at a speed [m/s]."""
    given = {
        name.removeprefix("doctrine.circuit."): value
        for name, value in day.givens.items()
        if name.startswith("doctrine.circuit.")
    }
    place = given["break_place"]
    datum, datum_ahead = {
        AHEAD_OF_BOW: ("bow", day.number("ship.deck_length")),
        AHEAD_OF_ISLAND: ("island", day.number("ship.island_place")),
    }.get(place.kind or AHEAD_OF_RAMP, ("ramp", 0.0))
    return CircuitFacts(
        ship_course=course,
        ship_speed=speed,
        deck_height=day.number("ship.deck_height"),
        deck_length=day.number("ship.deck_length"),
        hand=-1 if given["hand"].word == "left" else 1,
        upwind_offset=given["upwind_offset"].value,
        datum=datum,
        datum_ahead=datum_ahead,
        break_ahead=place.value,
        interval=given["interval"].value,
        initial_height=given["initial_height"].value,
        initial_speed=given["initial_speed"].value,
        break_bank=given["break_bank"].value,
        slowing=given["slowing"].value,
        downwind_height=given["downwind_height"].value,
        downwind_speed=given["downwind_speed"].value,
        let_down=given["let_down"].value,
        ninety_height=given["ninety_height"].value,
        ninety_speed=given["ninety_speed"].value,
        ramp_height=given["ramp_height"].value,
        ramp_speed=given["ramp_speed"].value,
        cut_ahead=given["cut_place"].value,
        greatest_bank=given["greatest_bank"].value,
        expected_abeam=day.givens["doctrine.expected.abeam"].band,
        expected_bank=day.givens["doctrine.expected.final_bank"].band,
        expected_slope=day.givens["doctrine.expected.final_slope"].band,
        least_margin=day.number("doctrine.expected.stall_margin"),
        downwind_band=given["downwind_height"].band,
        ramp_band=given["ramp_height"].band,
        aeroplane=aeroplane(day),
        temperature=day.number("weather.temperature"),
        pressure=day.number("weather.pressure"),
        winds=winds,
    )


def aeroplane(day: Day) -> Aeroplane:
    """The aeroplane of the day, at its weight on coming aboard."""

    def given(name: str) -> float:
        return day.number(f"type.{name}")

    return Aeroplane(
        mass=given("landing_weight"),
        wing_area=given("wing_area"),
        zero_lift_drag=given("zero_lift_drag"),
        gear_drag=given("gear_drag"),
        flap_drag=given("flap_drag"),
        induced_drag=given("induced_drag"),
        idle_thrust=given("idle_thrust"),
        shaft_power=given("shaft_power"),
        propeller_diameter=given("propeller_diameter"),
        figure_of_merit=given("figure_of_merit"),
        roll_rate=given("roll_rate"),
        gear_time=given("gear_time"),
        flap_time=given("flap_time"),
        gear_limit=given("gear_limit"),
        flap_limit=given("flap_limit"),
        lift_clean=given("lift_clean"),
        lift_flap=given("lift_flap"),
    )


def heading_shown(day: Day, true: float) -> float:
    """A true heading as the cockpit's compass shows it [rad]."""
    shown = day.word("cockpit.headings")
    if shown == "true":
        return true
    by_needle = magnetic(true, day.number("place.variation"))
    if shown == "magnetic":
        return by_needle
    stem = "cockpit.deviation."
    card = [
        (int(key.removeprefix(stem)) * DEGREE, given.value) for key, given in day.givens.items() if key.startswith(stem)
    ]
    return compass(by_needle, card)


def _flight(day: Day, winds: Floats) -> Flight:
    table = WindTable(winds[:, 0], winds[:, 1], winds[:, 2])
    return plan_flight(
        table.at(day.number("ship.deck_height")),
        day.number("doctrine.wind.over_deck"),
        day.number("doctrine.wind.off_bow"),
        day.number("ship.base_course"),
        day.number("ship.least_speed"),
        day.number("ship.greatest_speed"),
    )


def _solved(facts: CircuitFacts) -> tuple[Circuit | NoCircuit, CircuitResult | Unsolved]:
    circuit = solve_circuit(facts)
    if isinstance(circuit, NoCircuit):
        return circuit, Unsolved(f"{circuit.reason}. {circuit.remedy}.")
    return circuit, describe(circuit, facts)


def _circuit(facts: CircuitFacts) -> tuple[CircuitResult | Unsolved, list[Finding]]:
    circuit, result = _solved(facts)
    if isinstance(circuit, NoCircuit):
        return result, no_circuit_findings(circuit, facts)
    assert isinstance(result, CircuitResult)
    return result, circuit_findings(result, facts)


def _cockpit(day: Day, flight: Flight, circuit: CircuitResult | Unsolved) -> Cockpit:
    headings: tuple[float | None, ...] = (None, None, None)
    if isinstance(circuit, CircuitResult):
        headings = (circuit.upwind_heading, circuit.downwind_heading, circuit.final_heading)
    upwind, downwind, final = (None if true is None else heading_shown(day, true) for true in headings)
    return Cockpit(
        shown=day.word("cockpit.headings"),
        flight_course=heading_shown(day, flight.course),
        reciprocal=heading_shown(day, flight.reciprocal),
        upwind=upwind,
        downwind=downwind,
        final=final,
    )


def _wind_findings(flight: Flight, day: Day) -> list[Finding]:
    wanted = day.number("doctrine.wind.over_deck")
    turned = abs(wrap(flight.off_bow - day.number("doctrine.wind.off_bow")))
    if flight.attained or (abs(flight.short) < SHOWN_SPEED and turned < SHOWN_ANGLE):
        return []
    far_out = not ENOUGH * wanted <= flight.over_deck <= TOO_MUCH * wanted
    level = Level.STOP if far_out else Level.CAUTION
    had = f"{write(flight.over_deck, WIND_OVER_DECK)} over the deck, {write(flight.off_bow, OFF_BOW)} off the bow"
    want = (
        f"wanted are {write(wanted, WIND_OVER_DECK)}, {write(day.number('doctrine.wind.off_bow'), OFF_BOW)} off the bow"
    )
    return [Finding("wind-over-deck", level, "flight.over_deck", had, want, flight.explanation)]
