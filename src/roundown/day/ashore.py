"""Practice ashore: the ship's own circuit round her deck marked out on a runway, beside the circuit at sea.

*Method:* the circuit is solved as for the ship (recovery/circuit.py) with ship speed nil on the runway's course. The
doctrine's heights are kept over the marked deck as they are over the ship's: all are shifted by the height of the
field less that of the flight deck, so that the let-down and the pilot's eye over the deck are those at sea. The day's
winds by height are raised by the height of the field, so that the surface wind blows 10 m over it.

*Holds for:* a level field; wind over it as over the sea, which overstates it near the ground; the runway's own
elevation as the only height. Own derivation, docs/method/practice.md.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass

from roundown.day.circuits import circuit_cautions, solved_circuit
from roundown.day.facts import circuit_facts, deck_wind_of, wind_rows
from roundown.day.memory import Memory
from roundown.day.pass_work import sight_facts, sight_waits_for
from roundown.environment.wind import WindTable, direction_and_speed
from roundown.figures import figure
from roundown.findings import Finding
from roundown.motion.equations.kernel import Floats
from roundown.plan.facts import Day
from roundown.quantities import (
    BANK,
    DISTANCE,
    HEIGHT_OVER_SEA,
    TIME,
    TRUE_DIRECTION,
    WIND_OVER_DECK,
    WIND_SPEED,
    Band,
    Kind,
    write,
)
from roundown.recovery.clock_cues import ClockCues, clock_cues
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult
from roundown.ship.flight import Flight, plan_flight
from roundown.sight.result import SightResult, sight
from roundown.solution import Unsolved

SAME_TIME, SAME_PLACE, SAME_BANK, SAME_WIND = 0.05, 0.5, 0.008, 0.025  # s, m, rad, m/s: nobody reads less off a card
_FIELD = ("ashore.*", "weather.*")
_PASS = ("ashore.*", "weather.*", "doctrine.*", "ship.*", "type.*", "company.*")
_LESS = "ashore less at sea, both solved"


@dataclass(frozen=True, eq=False, kw_only=True)
class Ashore:
    """The circuit round the marked runway, and what is not as at sea; differences are None where one has no circuit.

    cues, sight : of the circuit ashore, the marked deck lying on the ground without island or hull
    circuit : ashore; at_sea, flight : the ship's, on her flight course of the day; name : of the field, or ""
    differs : a sentence; findings : stops and cautions against the circuit ashore
    """

    runway: float = figure(TRUE_DIRECTION, "course of the runway, true", "as given; else into the surface wind", _FIELD)
    height: float = figure(HEIGHT_OVER_SEA, "height of the field", "as given", ("ashore.*",))
    wind_from: float = figure(TRUE_DIRECTION, "wind over the field comes from, true", "10 m over it", _FIELD)
    wind_speed: float = figure(WIND_SPEED, "wind over the field", "10 m over it", _FIELD)
    along: float = figure(WIND_SPEED, "wind down the runway, from behind negative", "part along the runway", _FIELD)
    across: float = figure(WIND_SPEED, "wind across, from the right positive", "part across the runway", _FIELD)
    over_deck_less: float = figure(
        WIND_OVER_DECK, "wind over the deck at sea less that down the runway", "along the deck of each", _PASS
    )
    turn_in_further_aft: float | None = figure(DISTANCE, "turn-in further aft than at sea", _LESS, _PASS)
    turn_in_later: float | None = figure(TIME, "turn-in later after wings level than at sea", _LESS, _PASS)
    wider: float | None = figure(DISTANCE, "downwind leg further abeam than at sea", _LESS, _PASS)
    steeper: float | None = figure(BANK, "bank of the final turn more than at sea", _LESS, _PASS)
    longer: float | None = figure(TIME, "from the break to the ramp, longer than at sea", _LESS, _PASS)
    circuit: CircuitResult | Unsolved
    cues: ClockCues | Unsolved
    sight: SightResult | Unsolved
    at_sea: CircuitResult | Unsolved
    flight: Flight
    name: str
    differs: str
    findings: tuple[Finding, ...]


def solve_ashore(day: Day, memory: Memory | None = None) -> Ashore:
    """The circuit ashore of a day, in its own wind, beside that of the ship.

    memory : circuits solved before are taken from it, and those solved now are put there
    """
    memory = memory or Memory()
    flight = flight_of(day)
    at_sea = solved_circuit(circuit_facts(day, wind_rows(day), flight.course, flight.speed), memory)[1]
    circuit, findings = ashore_circuit(day, memory)
    runway, height = day.number("ashore.runway"), day.number("ashore.height")
    wind_from, wind_speed = _wind_over(day, height + 10.0)
    along = wind_speed * math.cos(wind_from - runway)
    across = wind_speed * math.sin(wind_from - runway)
    aft = later = wider = steeper = longer = None
    if isinstance(circuit, CircuitResult) and isinstance(at_sea, CircuitResult):
        aft = at_sea.turn_in_ahead - circuit.turn_in_ahead
        later = circuit.rollout_to_turn_in - at_sea.rollout_to_turn_in
        wider = circuit.abeam - at_sea.abeam
        steeper = circuit.final_bank - at_sea.final_bank
        longer = circuit.break_to_ramp - at_sea.break_to_ramp
    over = flight.over_deck * math.cos(flight.off_bow)
    return Ashore(
        runway=runway,
        height=height,
        wind_from=wind_from,
        wind_speed=wind_speed,
        along=along,
        across=across,
        over_deck_less=over - along,
        turn_in_further_aft=aft,
        turn_in_later=later,
        wider=wider,
        steeper=steeper,
        longer=longer,
        circuit=circuit,
        cues=circuit if isinstance(circuit, Unsolved) else clock_cues(circuit, ashore_facts(day)),
        sight=circuit if isinstance(circuit, Unsolved) else _seen(day, circuit),
        at_sea=at_sea,
        flight=flight,
        name=day.word("ashore.name") if "ashore.name" in day.givens else "",
        findings=findings,
        differs=_differs(along, over, aft, later, steeper),
    )


def ashore_circuit(day: Day, memory: Memory) -> tuple[CircuitResult | Unsolved, tuple[Finding, ...]]:
    """The circuit round the marked runway, or why there is none; and the stops and cautions against it."""
    facts = ashore_facts(day)
    least = min(facts.initial_height, facts.downwind_height, facts.ninety_height) - facts.deck_height
    if least <= 0.0:
        return Unsolved("at sea this circuit goes below the flight deck; ashore that is in the ground"), ()
    return solved_circuit(facts, memory)[1], circuit_cautions(facts, memory)


def flight_of(day: Day) -> Flight:
    """The flight course of a day to recover, for the slowest carrier that flies."""
    ships = [day, *day.parts.values()]
    greatest = min(each.number("ship.greatest_speed") for each in ships)
    return plan_flight(
        deck_wind_of(day),
        day.number("doctrine.wind.over_deck"),
        day.number("doctrine.wind.off_bow"),
        day.number("ship.base_course"),
        min(max(each.number("ship.least_speed") for each in ships), greatest),
        greatest,
    )


def _seen(day: Day, circuit: CircuitResult) -> SightResult | Unsolved:
    """What is seen of the marked deck: heights are over the ground, and nothing stands on it."""
    absent = sight_waits_for(day)
    if absent:
        return Unsolved(f"what is seen waits for {', '.join(absent)}")
    given = sight_facts(day.givens, circuit, ashore_facts(day))
    flat = dataclasses.replace(
        given.ship, deck_height=0.0, island_height=0.0, mast_height=0.0, beam=given.ship.deck_width
    )
    over_ground = dataclasses.replace(given.flight, height=given.flight.height - day.number("ashore.height"))
    return sight(dataclasses.replace(given, ship=flat, flight=over_ground))


def ashore_facts(day: Day) -> CircuitFacts:
    """What the circuit ashore is solved from: heights over the marked deck as over the ship's, winds raised with it."""
    field = day.number("ashore.height")
    facts = circuit_facts(day, _raised(wind_rows(day), field), day.number("ashore.runway"), 0.0)
    up = field - facts.deck_height
    band = facts.downwind_band
    return dataclasses.replace(
        facts,
        deck_height=field,
        initial_height=facts.initial_height + up,
        downwind_height=facts.downwind_height + up,
        ninety_height=facts.ninety_height + up,
        downwind_band=Band(band.low + up, band.aim + up, band.high + up),
    )


def _raised(winds: Floats, field: float) -> Floats:
    """The winds by height, rows of height, east, north, over a field of some height over the sea."""
    raised = winds.copy()
    raised[:, 0] += field
    return raised


def _wind_over(day: Day, height: float) -> tuple[float, float]:
    """Where the wind comes from [rad] and how strong it is [m/s] at a height over the sea, over the field."""
    winds = _raised(wind_rows(day), day.number("ashore.height"))
    return direction_and_speed(*WindTable(winds[:, 0], winds[:, 1], winds[:, 2]).at(height))


def _differs(along: float, over: float, aft: float | None, later: float | None, steeper: float | None) -> str:
    """What is not as at sea, in a sentence."""
    at_sea = write(over, WIND_OVER_DECK)
    if abs(along) < SAME_WIND:
        natural = f"No wind blows along the marked deck; at sea {at_sea}."
    else:
        natural = f"Only the natural wind, {_down(along)}, is over the marked deck; at sea {at_sea}."
    if aft is None or later is None or steeper is None:
        return f"{natural} What that does to the turn-in is not known: one of the two has no circuit."
    place = _either(aft, SAME_PLACE, "further aft", "further forward", "in the same place", DISTANCE)
    time = _either(later, SAME_TIME, "later", "sooner", "at the same time", TIME)
    bank = _either(steeper, SAME_BANK, "more bank", "less bank", "the same bank", BANK)
    why = "the marked deck does not run away from you" if over > along else "more wind carries you aft than at sea"
    return f"{natural} In the final turn {why}: turn in {place}, {time} after wings level, and hold {bank}."


def _down(along: float) -> str:
    return f"{write(abs(along), WIND_SPEED)} {'down the runway' if along >= 0.0 else 'from behind'}"


def _either(value: float, same: float, more: str, less: str, alike: str, kind: Kind) -> str:
    return alike if abs(value) < same else f"{write(abs(value), kind)} {more if value > 0.0 else less}"
