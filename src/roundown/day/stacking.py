"""A carrier's stack for an event: its facts, and how long after the first each comes to the initial.

The times of the day ask the stack for those before they know when the event comes home (`landing`); the recovery
then solves the same stack at its time of day.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from roundown.day.deck_load import carriers_of, left_on_deck, part_of, seats_from
from roundown.day.facts import circuit_facts, wind_rows
from roundown.day.homing import landing_places, returning_of
from roundown.day.memory import Memory
from roundown.plan.facts import Day, FlyingEvent
from roundown.recovery.feed import Feed, FeedFacts, NoFeed, feed
from roundown.recovery.landing_order import By, HurtLand, landing_order
from roundown.recovery.result import CircuitResult
from roundown.recovery.stack import StackFacts, solve_stack
from roundown.solution import Unsolved

Circuits = Mapping[str, CircuitResult | Unsolved]


def interval_kept(hers: Day) -> float:
    """The interval the signal officer keeps [s]: the doctrine's, or what the deck takes where that is longer."""
    return max(hers.number("doctrine.circuit.interval"), hers.number("doctrine.recovery.clear"))


def slowest_part(day: Day, event: FlyingEvent, carrier: str, circuits: Circuits) -> Day:
    """The day of the carrier and of the type that takes longest from the initial to the ramp."""

    def takes(part: str) -> float:
        circuit = circuits.get(part)
        return circuit.initial_to_break + circuit.break_to_ramp if isinstance(circuit, CircuitResult) else 0.0

    parts = dict.fromkeys(part_of(day, seat).part for seat in seats_from(day, event, carrier))
    slowest = max(parts, key=takes)
    return day if slowest == day.part else day.parts[slowest]


def stack_facts(
    day: Day, hers: Day, event: FlyingEvent, carrier: str, circuit: CircuitResult, recovery: float, to_ramp: float
) -> StackFacts:
    """The stack of an event over a carrier, without what the rest of her day adds to it.

    hers : her day, of the type that takes longest; circuit : of that
    recovery : first at the initial by the clock, to_ramp : from the initial to the ramp [s]
    """
    return StackFacts(
        returning=returning_of(day, event, carrier),
        most=round(hers.number("doctrine.stack.flight")),
        by=By(hers.word("doctrine.stack.order")),
        hurt=HurtLand(hers.word("doctrine.stack.hurt")),
        lowest=hers.number("doctrine.stack.lowest"),
        block=hers.number("doctrine.stack.block"),
        wait=hers.number("doctrine.stack.wait"),
        feed=FeedFacts(
            circuit_facts(hers, wind_rows(hers), circuit.ship_course, circuit.ship_speed),
            hers.number("doctrine.stack.speed"),
            hers.number("doctrine.stack.bank"),
            hers.number("doctrine.stack.let_down"),
        ),
        interval=interval_kept(hers),
        barrier_clear=hers.number("doctrine.recovery.barrier_clear"),
        initial_to_ramp=to_ramp,
        recovery=recovery,
        clear=hers.number("doctrine.launch.clear"),
        staying=left_on_deck(day, event),
        respot=hers.number("doctrine.spot.respot"),
        rig=hers.number("doctrine.launch.rig"),
        reserve=hers.number("doctrine.recovery.reserve"),
    )


def ways_down(facts: StackFacts, memory: Memory) -> tuple[Feed | NoFeed, ...]:
    """The way down from each block the flights of a stack hold in, solved once for all times of day."""
    count = len(landing_order(facts.returning, facts.most, facts.by, facts.hurt))
    heights = tuple(facts.lowest + facts.block * i for i in range(count))

    def found(height: float) -> Feed | NoFeed:
        return memory.recall("feed", (height, facts.feed), lambda: feed(height, facts.feed))

    return tuple(found(height) for height in heights)


@dataclass(frozen=True)
class Landing:
    """How an event comes down, in seconds after the first of each carrier at the initial.

    after : each aeroplane at the initial, by its key; charlies : each flight leaves the lowest block, by its name
    """

    after: Mapping[str, float]
    charlies: Mapping[str, float]


def landing(day: Day, event: FlyingEvent, circuits: Circuits, memory: Memory) -> Landing:
    """How an event comes down to each of its carriers.

    circuits : of each carrier and type. Without a circuit or a way down there is no Charlie, and each comes an interval
    after the one before.
    """
    found: dict[str, float] = {}
    charlies: dict[str, float] = {}
    places = landing_places(day, event)
    for carrier in carriers_of(day, event):
        hers = slowest_part(day, event, carrier, circuits)
        circuit = circuits.get(hers.part)
        facts = None
        if isinstance(circuit, CircuitResult):
            facts = stack_facts(
                day, hers, event, carrier, circuit, 0.0, circuit.initial_to_break + circuit.break_to_ramp
            )
        stack = None if facts is None else solve_stack(facts, ways_down(facts, memory))
        if stack is None or isinstance(stack, NoFeed):
            keys = {each.key for each in returning_of(day, event, carrier)}
            found |= {key: interval_kept(hers) * (place - 1) for key, place in places.items() if key in keys}
        else:
            found |= {key: each.at_initial for key, each in stack.aeroplanes.items()}
            charlies |= {each.name: each.charlie for each in stack.flights.values()}
    return Landing(found, charlies)
