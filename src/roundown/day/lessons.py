"""The ladder of lessons solved: the circuit in each lesson's own conditions, and the standards laid round its figures.

*Method:* a lesson is the day with another wind, or ashore with ship speed nil (day/ashore.py). In a calm the ship makes
all the wind she can, up to what the doctrine wants, on her base course. The standards are the lesson's own data.

*Holds for:* as the circuit; light changes what can be seen, not what is flown. Tolerances are assumptions.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass

from roundown.catalog.lessons import Lesson
from roundown.day.ashore import ashore_circuit, ashore_facts, flight_of
from roundown.day.circuits import circuit_cautions, solved_circuit
from roundown.day.facts import circuit_facts, wind_rows
from roundown.day.memory import Memory
from roundown.environment.wind import WindTable, direction_and_speed
from roundown.figures import Given, figure
from roundown.findings import Finding
from roundown.motion.frames import wrap
from roundown.plan.ashore import ALONG_BASE, INTO_WIND
from roundown.plan.facts import Day
from roundown.quantities import (
    BANK,
    CLOSING_SPEED,
    DISTANCE,
    HEIGHT_OVER_DECK,
    HEIGHT_OVER_SEA,
    INDICATED_SPEED,
    LENGTH,
    OFF_BOW,
    OFF_NOSE,
    SHIP_SPEED,
    TIME,
    TRUE_DIRECTION,
    WIND_OVER_DECK,
    Band,
    Kind,
    read_wind,
)
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult
from roundown.ship.wind_over_deck import deck_wind
from roundown.solution import Unsolved

_ALL = ("weather.*", "doctrine.*", "ship.*", "type.*", "ashore.*", "company.*")
_SOLVED = "the circuit solved in the lesson's own wind (recovery/circuit.py)"
AIMED = {
    "turn_in": TIME, "abeam": DISTANCE, "bank": BANK, "ninety_height": HEIGHT_OVER_SEA,
    "ninety_speed": INDICATED_SPEED, "ramp_height": HEIGHT_OVER_DECK, "ramp_speed": INDICATED_SPEED,
    "line_up": LENGTH, "interval": TIME,
}  # fmt: skip
"""What a standard lies round, by its name, and its kind."""


@dataclass(frozen=True, kw_only=True)
class Aims:
    """The figures of a lesson that standards lie round; interval is None for one aeroplane."""

    turn_in: float = figure(TIME, "turn-in after wings level downwind", _SOLVED, _ALL)
    abeam: float = figure(DISTANCE, "downwind leg from the centre line", _SOLVED, _ALL)
    bank: float = figure(BANK, "bank of the final turn", _SOLVED, _ALL)
    ninety_height: float = figure(HEIGHT_OVER_SEA, "height at the ninety", _SOLVED, _ALL)
    ninety_speed: float = figure(INDICATED_SPEED, "speed at the ninety", _SOLVED, _ALL)
    ramp_height: float = figure(HEIGHT_OVER_DECK, "wheels over the ramp", "as commanded", ("doctrine.*",))
    ramp_speed: float = figure(INDICATED_SPEED, "speed over the ramp", "as commanded", ("doctrine.*",))
    line_up: float = figure(LENGTH, "off the centre line over the ramp", "nil", _ALL)
    interval: float | None = figure(TIME, "from one break to the next", "as commanded", ("doctrine.*",))
    ramp_off_nose: float = figure(OFF_NOSE, "bearing of the ramp off the nose at the turn-in", _SOLVED, _ALL)
    break_to_ramp: float = figure(TIME, "from the break to the ramp", _SOLVED, _ALL)
    last_over_ramp: float = figure(
        TIME, "from the first break until the last is over the ramp", "intervals of those behind", _ALL
    )
    closing: float = figure(CLOSING_SPEED, "speed over the ramp, seen from the deck", _SOLVED, _ALL)


@dataclass(frozen=True)
class Target:
    """An aim and how near is near enough. band : within the standard, in SI; source : of the tolerance."""

    name: str
    kind: Kind
    band: Band
    source: str


@dataclass(frozen=True, eq=False, kw_only=True)
class SolvedLesson:
    """A lesson in its conditions.

    day : with the lesson's wind in it; aims : None without a circuit
    targets : by the names of AIMED, those with a standard; findings : stops and cautions against the circuit
    """

    course: float = figure(TRUE_DIRECTION, "flight course, or the runway's, true", "as for the day", _ALL)
    speed: float = figure(SHIP_SPEED, "ship's speed, nil ashore", "as for the day", _ALL)
    over_deck: float = figure(WIND_OVER_DECK, "wind over the deck, or the marked deck", "vector difference", _ALL)
    off_bow: float = figure(OFF_BOW, "side it comes from", "vector difference", _ALL)
    lesson: Lesson
    day: Day
    circuit: CircuitResult | Unsolved
    aims: Aims | None
    targets: Mapping[str, Target]
    findings: tuple[Finding, ...]


def solve_lessons(day: Day, memory: Memory | None = None) -> tuple[SolvedLesson, ...]:
    """Every lesson of the day's doctrine, in its order; none where it names no ladder.

    memory : circuits solved before are taken from it, and those solved now are put there
    """
    memory = memory or Memory()
    return tuple(_solved(lesson, day, memory) for lesson in day.lessons)


def lesson_day(lesson: Lesson, day: Day) -> Day:
    """The day with the lesson's wind at every height instead of its own; as it is where the lesson has the day's."""
    if lesson.wind == "day":
        return day
    wind_from, wind_speed = read_wind(lesson.wind)
    givens = {name: given for name, given in day.givens.items() if not name.startswith("weather.winds.")}
    givens["weather.wind_from"] = _other(givens["weather.wind_from"], wind_from)
    givens["weather.wind_speed"] = _other(givens["weather.wind_speed"], wind_speed)
    if givens["ashore.runway"].origin.source in (INTO_WIND, ALONG_BASE) and wind_speed > 0.0:
        givens["ashore.runway"] = _other(givens["ashore.runway"], wind_from)
    return dataclasses.replace(day, givens=givens, parts={n: lesson_day(lesson, d) for n, d in day.parts.items()})


def _other(given: Given, value: float) -> Given:
    return dataclasses.replace(given, value=value, band=Band(value, value, value), word="")


def _solved(lesson: Lesson, day: Day, memory: Memory) -> SolvedLesson:
    today = lesson_day(lesson, day)
    if lesson.where == "ashore":
        facts = ashore_facts(today)
        circuit, findings = ashore_circuit(today, memory)
        # as reported: 10 m over the field
        over_deck, off_bow = _felt(facts, facts.deck_height + 10.0)
    else:
        flight = flight_of(today)
        facts = circuit_facts(today, wind_rows(today), flight.course, flight.speed)
        circuit, findings = solved_circuit(facts, memory)[1], circuit_cautions(facts, memory)
        over_deck, off_bow = flight.over_deck, flight.off_bow
    aims = _aims(lesson, circuit, facts) if isinstance(circuit, CircuitResult) else None
    return SolvedLesson(
        course=facts.ship_course,
        speed=facts.ship_speed,
        over_deck=over_deck,
        off_bow=off_bow,
        lesson=lesson,
        day=today,
        circuit=circuit,
        aims=aims,
        targets={} if aims is None else _targets(lesson, aims),
        findings=findings,
    )


def _felt(facts: CircuitFacts, height: float) -> tuple[float, float]:
    """The wind over a deck that lies still, at a height over the sea, and the side of it."""
    winds = facts.winds
    air = WindTable(winds[:, 0], winds[:, 1], winds[:, 2]).at(height)
    if direction_and_speed(*air)[1] == 0.0:
        return 0.0, 0.0
    felt = deck_wind(*air, facts.ship_course, facts.ship_speed)
    return felt.speed, wrap(felt.off_bow)


def _aims(lesson: Lesson, circuit: CircuitResult, facts: CircuitFacts) -> Aims:
    ninety = circuit.gates["ninety"]
    return Aims(
        turn_in=circuit.rollout_to_turn_in,
        abeam=circuit.abeam,
        bank=circuit.final_bank,
        ninety_height=ninety.height,
        ninety_speed=ninety.indicated,
        ramp_height=facts.ramp_height,
        ramp_speed=facts.ramp_speed,
        line_up=0.0,
        interval=facts.interval if lesson.aeroplanes > 1 else None,
        ramp_off_nose=circuit.ramp_off_nose,
        break_to_ramp=circuit.break_to_ramp,
        last_over_ramp=circuit.break_to_ramp + (lesson.aeroplanes - 1) * facts.interval,
        closing=circuit.closing_ramp,
    )


def _targets(lesson: Lesson, aims: Aims) -> dict[str, Target]:
    found = {}
    for name, kind in AIMED.items():
        aim, standard = getattr(aims, name), lesson.standards.get(name)
        if aim is not None and standard is not None:
            band = Band(aim - standard.tolerance, aim, aim + standard.tolerance)
            found[name] = Target(name, kind, band, standard.source)
    return found
