"""Solving a day: the phases in order, each handed the few facts it needs; nothing else."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable
from typing import Any

from roundown.day.facts import circuit_facts, clock_of, deck_wind_of, heading_shown, simulator_times, wind_rows
from roundown.day.findings import company_findings, event_findings, track_findings, wind_findings
from roundown.day.flying import fly_the_day
from roundown.day.launching import launch_the_day
from roundown.day.memory import Memory
from roundown.day.pass_work import pass_work
from roundown.day.recovering import recover_the_day
from roundown.environment.sea import sea_of
from roundown.figures import key_of
from roundown.findings import Finding, worst_first
from roundown.plan.facts import Day
from roundown.quantities import KNOT
from roundown.recovery.circuit import Circuit, NoCircuit, solve_circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.findings import circuit_findings, no_circuit_findings
from roundown.recovery.result import CircuitResult, describe
from roundown.schedule.conditions import air_today, day_light
from roundown.ship.company import StationFacts, stations
from roundown.ship.flight import Flight, LaunchFlight, follow_flight, plan_flight
from roundown.ship.turn_into_wind import turn_into_wind
from roundown.solution import Cockpit, Solution, Unsolved

DIAL = tuple(range(20, 41, 2))  # kt over the deck, the circuits solved beside today's
NOT_WORKED_OUT = (
    "join-up", "route and fuel", "the way home to the hold", "what the signal officer shows",
)  # fmt: skip


def solve(day: Day, memory: Memory | None = None) -> Solution:
    """Solve a day.

    memory : phases solved before are taken from it, and those solved now are put there
    Returns every phase's result and the findings, worst first; a phase without a result says why.
    """
    memory = memory or Memory()
    flight = _flight(day, "doctrine.wind.over_deck")
    launching = any(event.launch for event in day.events)
    launch_flight = None
    if launching:
        launch_flight = LaunchFlight(**vars(_flight(day, "doctrine.wind.launch_over_deck")))
    circuit, found, work = _circuit(day, flight, memory)
    same = launch_flight is not None and vars(launch_flight) == vars(flight)
    findings = [*wind_findings(flight, day, "flight", both=same), *found]
    if launch_flight is not None and not same:
        findings += wind_findings(launch_flight, day, "launch_flight")
    parts: dict[str, Solution] = {}
    circuits: dict[str, CircuitResult | Unsolved] = {day.part: circuit}
    works = {day.part: work}
    for name, other in day.parts.items():
        theirs, wind = _follow(other, flight, "doctrine.wind.over_deck", day)
        circuits[name], found, works[name] = _circuit(other, theirs, memory)
        label = f"{other.word('type.label').split(',')[0]} on {other.word('ship.label').split(',')[0]}"
        wind = [] if other.ship in {day.ship, *(day.parts[known].ship for known in parts)} else wind
        findings += _of_part(name, label, [*wind, *found])
        part = _part(other, theirs, circuits[name], memory)
        parts[name] = dataclasses.replace(part, findings=worst_first([*wind, *found]), **works[name])
    flown = fly_the_day(day, flight, launch_flight, circuits, memory)
    launched = None
    if launch_flight is not None:
        launched = launch_the_day(day, launch_flight, flown.events, memory)
        told = {found.id for found in findings if found.key.endswith(".over_deck")}
        findings += [found for found in launched.findings if not (told and found.id == "wind-outside")]
        parts = {
            name: dataclasses.replace(
                part,
                launches=launched.launches.get(name, {}),
                launch_flight=launched.flights.get(day.parts[name].ship),
            )
            for name, part in parts.items()
        }
    company = stations(
        [StationFacts(key_of(ship.name), ship.bearing, ship.distance, key_of(ship.guards)) for ship in day.company],
        day.number("ship.base_course"),
        flight.course,
        key_of(day.ship),
    )
    findings += [*flown.findings, *event_findings(day, flown), *track_findings(day, flown)]
    findings += company_findings(day, flight, company, circuits)
    parts[day.part] = dataclasses.replace(_part(day, flight, circuit, memory), **work)
    for carrier, hers in recover_the_day(day, flown, parts, launched, memory).items():
        name = _first_part(day, carrier)
        parts[name] = dataclasses.replace(parts[name], recoveries=hers.recoveries, rhythm=hers.rhythm, cycle=hers.cycle)
        findings += hers.findings if name == day.part else _of_part(name, day.carrier_called(carrier), hers.findings)
    whole = parts.pop(day.part)
    dusk = {found.key.split(".")[-2] for found in findings if found.id == "dark-recovery"}  # told with a time to come
    findings = [
        found for found in findings if not (found.id == "recovery-in-the-dark" and found.key.split(".")[1] in dusk)
    ]
    return dataclasses.replace(
        whole,
        launch_flight=launch_flight,
        cockpit=_cockpit(day, flight, launch_flight, circuit),
        events=flown.events,
        track=flown.track,
        timeline=flown.timeline,
        stations=company,
        launches={} if launched is None else launched.launches.get(day.part, {}),
        spots=() if launched is None else launched.spots,
        findings=worst_first(findings),
        unsolved=NOT_WORKED_OUT if day.events else (),
        parts=parts,
    )


def _of_part(name: str, label: str, findings: Iterable[Finding]) -> list[Finding]:
    """Findings of another carrier and type as findings of the whole day. label : what she or it is called."""
    return [
        dataclasses.replace(each, key=f"parts.{name}.{each.key}", value=f"{label}: {each.value}") for each in findings
    ]


def _first_part(day: Day, carrier: str) -> str:
    """The first carrier and type of the day that are hers."""
    return next(each.part for each in (day, *day.parts.values()) if each.ship == carrier)


def solve_for_winds(day: Day, memory: Memory | None = None) -> dict[int, CircuitResult | Unsolved]:
    """The circuit for each wind over the deck of the dial [kt], on today's flight course in today's natural wind.

    The ship is given whatever speed makes that wind, within her limits or not.
    """
    memory = memory or Memory()
    winds = wind_rows(day)
    flight = _flight(day, "doctrine.wind.over_deck")
    blowing = flight.wind_from - flight.course
    ahead, across = flight.wind_speed * math.cos(blowing), flight.wind_speed * math.sin(blowing)
    results: dict[int, CircuitResult | Unsolved] = {}
    for knots in DIAL:
        along = (knots * KNOT) ** 2 - across**2
        if along < 0.0:
            results[knots] = Unsolved("the natural wind across the flight course is stronger than that")
            continue
        results[knots] = _solved(circuit_facts(day, winds, flight.course, math.sqrt(along) - ahead), memory)[1]
    return results


def _part(day: Day, flight: Flight, circuit: CircuitResult | Unsolved, memory: Memory) -> Solution:
    """What is found for one carrier and type; the day's own track and times are put in by `solve`."""
    turn_facts = (
        flight.course,
        flight.speed,
        day.number("ship.base_course"),
        day.number("ship.base_speed"),
        day.number("ship.turning_circle"),
        day.number("ship.speed_gain"),
    )
    place = (day.number("place.latitude"), day.number("place.longitude"))
    light_facts = (*place, clock_of(day), day.offset, simulator_times(day))
    return Solution(
        flight=flight,
        launch_flight=None,
        turn=memory.recall("turn", turn_facts, lambda: turn_into_wind(*turn_facts)),
        circuit=circuit,
        cockpit=_cockpit(day, flight, None, circuit),
        light=memory.recall("light", light_facts, lambda: day_light(*light_facts)),
        air=air_today(
            day.number("weather.temperature"),
            day.number("weather.pressure"),
            day.number("cockpit.altimeter"),
            day.number("ship.deck_height"),
            day.number("doctrine.circuit.initial_height"),
        ),
        sea=sea_of(day.number("weather.wind_speed"), day.number("weather.swell")),
        events={},
        track=Unsolved("the plan names no event"),
        timeline=Unsolved("the plan names no event"),
        stations={},
        findings=(),
    )


def _flight(day: Day, wanted: str) -> Flight:
    """The guide's flight course, at a speed every carrier that flies can make."""
    ships = [day, *day.parts.values()]
    return plan_flight(
        deck_wind_of(day),
        day.number(wanted),
        day.number("doctrine.wind.off_bow"),
        day.number("ship.base_course"),
        min(max(each.number("ship.least_speed") for each in ships), _slowest(day)),
        _slowest(day),
    )


def _slowest(day: Day) -> float:
    return min(each.number("ship.greatest_speed") for each in (day, *day.parts.values()))


def _follow(other: Day, flight: Flight, wanted: str, day: Day) -> tuple[Flight, list[Finding]]:
    """What another carrier and type has on the guide's flight course."""
    if other.ship == day.ship:
        return flight, []
    found = follow_flight(
        deck_wind_of(other),
        flight.course,
        flight.speed,
        other.number(wanted),
        other.number("doctrine.wind.off_bow"),
        day.word("ship.label").split(",")[0],
    )
    return found, wind_findings(found, other, "flight")


def _circuit(
    day: Day, flight: Flight, memory: Memory
) -> tuple[CircuitResult | Unsolved, list[Finding], dict[str, Any]]:
    """The circuit of a carrier and type, its findings, and what else there is to know of it, by field of Solution."""
    facts = circuit_facts(day, wind_rows(day), flight.course, flight.speed)
    circuit, result = _solved(facts, memory)
    if isinstance(circuit, NoCircuit):
        return result, no_circuit_findings(circuit, facts), {}
    assert isinstance(result, CircuitResult)
    work, found = pass_work(day, circuit, result, facts, memory)
    return result, [*circuit_findings(result, facts), *found], vars(work)


def _solved(facts: CircuitFacts, memory: Memory) -> tuple[Circuit | NoCircuit, CircuitResult | Unsolved]:
    def found() -> tuple[Circuit | NoCircuit, CircuitResult | Unsolved]:
        circuit = solve_circuit(facts)
        if isinstance(circuit, NoCircuit):
            return circuit, Unsolved(f"{circuit.reason}. {circuit.remedy}.")
        return circuit, describe(circuit, facts)

    return memory.recall("circuit", facts, found)


def _cockpit(
    day: Day, flight: Flight, launch_flight: LaunchFlight | None, circuit: CircuitResult | Unsolved
) -> Cockpit:
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
        launch_course=None if launch_flight is None else heading_shown(day, launch_flight.course),
    )
