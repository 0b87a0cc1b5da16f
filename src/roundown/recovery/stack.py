"""The stack over the ship: who waits in which block, when each steps down, leaves, and comes over the ramp.

*Method:* flights in the order of landing_order.py hold in blocks one above the other, the first to land lowest. The
first leaves its block so that its leader is at the initial at the time of the recovery, by the way down of feed.py. As
each block falls empty the flight above steps down after the doctrine's wait, at its rate of let-down; nobody skips a
block, and every flight leaves from the lowest. A flight's leader is due at the initial one interval after the last of
the flight before; where it cannot have reached the lowest block in time it comes as soon as it can. Blocks of a
thousand feet are common practice, no source.

The deck is ready when the last one launched is clear, those left on deck are moved forward and wires and barriers are
up. Prep Charlie, which calls the lowest flight down, may be given so long before that as its way to the ramp takes.

*Holds for:* a ship on her flight course from the first Charlie on; nobody waved off. Fuel counts the flow of the hold
until the own initial and that of the circuit from there to the ramp.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from roundown.figures import figure, key_of
from roundown.quantities import CLOCK_TIME, HEIGHT_OVER_SEA, MASS, MINUTES, TIME
from roundown.recovery.feed import Feed, FeedFacts, NoFeed, Orbit, feed, orbit
from roundown.recovery.landing_order import HOOK, By, HoldingFlight, HurtLand, Returning, landing_order

DELAYS = (60.0, 180.0, 300.0)  # s, for which a foul deck is worked out

STACK_INPUTS = (
    "event.*", "doctrine.*", "place.*", "simulator.*", "ship.*", "weather.*", "company.*", "type.*", "flight.*",
    "circuit.*",
)  # fmt: skip
_DOWN = "time at the initial less the way down from the lowest block (recovery/feed.py)"
_ORDER = "intervals from the first at the initial, in landing order (recovery/stack.py)"
_FUEL = "fuel on reaching the hold less flow of the hold to the initial and of the circuit to the ramp"


@dataclass(frozen=True)
class StackFacts:
    """One carrier's recovery. Times by the ship's clock [s after midnight] unless said otherwise.

    returning : in launch order; most : in a flight; by, hurt : the doctrine's order
    lowest : block over the sea [m]; block : from one to the next [m]; wait : before stepping down [s]
    feed : how they hold and come down; interval [s]; initial_to_ramp : of the slowest circuit [s]
    recovery : the first at the initial
    last_off : of the launch before, None for none; clear, respot, rig : past the bow, for each one moved forward,
    wires and barriers up [s]; staying : so many are moved forward
    barrier_clear : until the deck is ready again behind one whose hook will not come down [s]
    busy_until : deck ready again behind a recovery before this one, None for none
    open_until : end of the time on the flight course; dark_at : from when it is dark; None where not known or never
    at_hold : when the hold is reached, None for not known: then fuel is counted from the first Charlie
    reserve : fuel kept, as time in the circuit [s]
    """

    returning: tuple[Returning, ...]
    most: int
    by: By
    hurt: HurtLand
    lowest: float
    block: float
    wait: float
    feed: FeedFacts
    interval: float
    initial_to_ramp: float
    recovery: float
    last_off: float | None = None
    clear: float = 0.0
    staying: int = 0
    respot: float = 0.0
    rig: float = 0.0
    barrier_clear: float = 0.0
    busy_until: float | None = None
    open_until: float | None = None
    dark_at: float | None = None
    at_hold: float | None = None
    reserve: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Stay:
    """A flight's stay in one block. number : of the block, 1 the lowest."""

    number: int
    height: float = figure(HEIGHT_OVER_SEA, "block", "lowest block and so many blocks above it", STACK_INPUTS)
    enters: float | None = figure(
        CLOCK_TIME, "steady in the block", "steps down, and the block at the rate of let-down", STACK_INPUTS
    )
    leaves: float = figure(
        CLOCK_TIME, "leaves the block", "the flight below has left, and the doctrine's wait; the lowest: Charlie",
        STACK_INPUTS,
    )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class StackedFlight:
    """One flight. name : for people; aeroplanes : keys in landing order; trouble : of one alone; steps : by block."""

    name: str
    aeroplanes: tuple[str, ...]
    trouble: str
    block: float = figure(HEIGHT_OVER_SEA, "block at first", "landing order, from the lowest block up", STACK_INPUTS)
    told_by: float = figure(
        CLOCK_TIME, "told to land by", "Charlie less one whole orbit, so that he comes to the place of leaving",
        (".charlie", "...orbit.whole", *STACK_INPUTS),
    )  # fmt: skip
    charlie: float = figure(
        CLOCK_TIME, "Charlie: leaves the lowest block", _DOWN, (".at_initial", "...feed.time", *STACK_INPUTS)
    )
    at_initial: float = figure(CLOCK_TIME, "first of the flight at the initial", _ORDER, STACK_INPUTS)
    first_over_ramp: float = figure(CLOCK_TIME, "first of the flight over the ramp", _ORDER, STACK_INPUTS)
    last_over_ramp: float = figure(CLOCK_TIME, "last of the flight over the ramp", _ORDER, STACK_INPUTS)
    held_up: float = figure(
        TIME, "later at the initial than the interval would have it", "time to come down to the lowest block",
        STACK_INPUTS,
    )  # fmt: skip
    straight_down: float | None = figure(
        TIME, "straight from its first block to the initial, in need",
        "the way down from that block (recovery/feed.py)", STACK_INPUTS,
    )  # fmt: skip
    latest_charlie: float | None = figure(
        CLOCK_TIME, "latest Charlie that leaves each of the flight its reserve",
        "Charlie and what fuel there is over the reserve, by the flow of the hold", STACK_INPUTS,
    )  # fmt: skip
    steps: Mapping[str, Stay]


@dataclass(frozen=True, kw_only=True)
class StackedAeroplane:
    """One aeroplane. flight : key of its flight; place : in the landing order, from 1."""

    flight: str
    place: int
    at_initial: float = figure(CLOCK_TIME, "due at the initial", _ORDER, STACK_INPUTS)
    over_ramp: float = figure(CLOCK_TIME, "due over the ramp", _ORDER, STACK_INPUTS)
    fuel_at_ramp: float | None = figure(MASS, "fuel left over the ramp", _FUEL, STACK_INPUTS)
    reserve: float | None = figure(
        MASS, "fuel to be kept", "the doctrine's time at the flow of the circuit", STACK_INPUTS
    )
    latest_charlie: float | None = figure(
        CLOCK_TIME, "latest Charlie of his flight that leaves him his reserve",
        "Charlie and what fuel there is over the reserve, by the flow of the hold", STACK_INPUTS,
    )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class LaterCharlie:
    """A flight's Charlie after a foul deck."""

    charlie: float = figure(CLOCK_TIME, "Charlie after the foul deck", "Charlie and the delay", STACK_INPUTS)


@dataclass(frozen=True, kw_only=True)
class FoulDeck:
    """A deck foul for a time: every flight still in the stack comes so much later.

    orbits : whole orbits over the ship in that time; short : keys of those left with less than their reserve
    aboard_in_time : so many are over the ramp before the ship leaves the flight course; None where that is not known
    """

    orbits: int
    short: tuple[str, ...]
    aboard_in_time: int | None
    delay: float = figure(MINUTES, "deck foul for", "worked out for one, three and five minutes", ())
    left_over: float = figure(
        TIME, "what whole orbits leave over, to fly further up or down the ship", "delay less whole orbits",
        STACK_INPUTS,
    )  # fmt: skip
    fuel: float | None = figure(
        MASS, "burned by the thirstiest while waiting", "flow of the hold times the delay", STACK_INPUTS
    )
    last_over_ramp: float = figure(CLOCK_TIME, "last over the ramp", "delay added to every later Charlie", STACK_INPUTS)
    flights: Mapping[str, LaterCharlie]


@dataclass(frozen=True, eq=False, kw_only=True)
class Stack:
    """A solved stack. flights in landing order, aeroplanes in landing order; foul : by the delay.

    feed : from the lowest block; orbit : in it; ways : straight from each block, the lowest first
    could_take : aeroplanes over the ramp by the end of the time on the flight course, if more kept coming; None where
    that is not known
    """

    could_take: int | None
    deck_ready: float | None = figure(
        CLOCK_TIME, "deck ready to come aboard",
        "last take-off, past the bow, those left on deck moved forward, wires and barriers up; or the recovery before",
        STACK_INPUTS,
    )  # fmt: skip
    earliest_prep_charlie: float | None = figure(
        CLOCK_TIME, "earliest Prep Charlie: the lowest flight may be called down",
        "deck ready less the circuit from the initial and the way down from the lowest block",
        (".deck_ready", ".feed.time", *STACK_INPUTS),
    )  # fmt: skip
    prep_charlie: float = figure(
        CLOCK_TIME, "Prep Charlie: the lowest flight gets ready to land",
        "a whole orbit before the first Charlie, or the earliest the deck allows where that is later",
        (".first_charlie", ".orbit.whole", ".earliest_prep_charlie", *STACK_INPUTS),
    )  # fmt: skip
    earliest_recovery: float | None = figure(
        CLOCK_TIME, "earliest first at the initial", "deck ready less the circuit from the initial to the ramp",
        (".deck_ready", *STACK_INPUTS),
    )  # fmt: skip
    deck_in_hand: float | None = figure(
        MINUTES, "deck ready before the first is over the ramp; after it is negative",
        "first over the ramp less deck ready", (".deck_ready", *STACK_INPUTS),
    )  # fmt: skip
    first_charlie: float = figure(CLOCK_TIME, "first Charlie", _DOWN, (".feed.time", *STACK_INPUTS))
    last_over_ramp: float = figure(CLOCK_TIME, "last over the ramp", _ORDER, STACK_INPUTS)
    open_until: float | None = figure(
        CLOCK_TIME,
        "deck open until",
        "end of the time on the flight course, or a clear deck for the recovery after it",
        STACK_INPUTS,
    )
    open_in_hand: float | None = figure(
        MINUTES, "from the last over the ramp to the end of the time on the flight course; over it is negative",
        "deck open until less last over the ramp", (".open_until", ".last_over_ramp", *STACK_INPUTS),
    )  # fmt: skip
    top: float = figure(HEIGHT_OVER_SEA, "highest block", "lowest block and a block for each further flight",
                        STACK_INPUTS)  # fmt: skip
    step: float = figure(TIME, "from one block to the next", "block over the rate of let-down", STACK_INPUTS)
    feed: Feed
    orbit: Orbit
    ways: tuple[Feed | NoFeed, ...]
    flights: Mapping[str, StackedFlight]
    aeroplanes: Mapping[str, StackedAeroplane]
    foul: Mapping[str, FoulDeck]


def solve_stack(facts: StackFacts, ways: tuple[Feed | NoFeed, ...] = ()) -> Stack | NoFeed:
    """The stack of a recovery; NoFeed where there is no way down or no hold.

    ways : those of a stack solved before with the same flights and the same `feed`, `lowest` and `block`, to save time
    Raises ValueError where nobody comes home, and as landing_order does.
    """
    if not facts.returning:
        raise ValueError("a recovery has at least one aeroplane")
    order = landing_order(facts.returning, facts.most, facts.by, facts.hurt)
    ways = ways or tuple(feed(facts.lowest + facts.block * i, facts.feed) for i in range(len(order)))
    down, round_ = ways[0], orbit(facts.lowest, facts.feed)
    if isinstance(down, NoFeed):
        return down
    if isinstance(round_, NoFeed):
        return round_
    flights, aeroplanes = _placed(order, facts, ways, round_.whole)
    last = max(each.over_ramp for each in aeroplanes.values())
    first_over = facts.recovery + facts.initial_to_ramp
    ready = None
    if facts.last_off is not None:
        ready = facts.last_off + facts.clear + facts.respot * facts.staying + facts.rig
    if facts.busy_until is not None:
        ready = facts.busy_until if ready is None else max(ready, facts.busy_until)
    could = None
    if facts.open_until is not None:
        could = max(math.floor((facts.open_until - first_over) / facts.interval + 1e-9) + 1, 0)
    first = facts.recovery - down.time
    earliest = None if ready is None else ready - facts.initial_to_ramp - down.time
    stack = Stack(
        could_take=could,
        deck_ready=ready,
        earliest_prep_charlie=earliest,
        prep_charlie=first - round_.whole if earliest is None else max(earliest, first - round_.whole),
        earliest_recovery=None if ready is None else ready - facts.initial_to_ramp,
        deck_in_hand=None if ready is None else first_over - ready,
        first_charlie=first,
        last_over_ramp=last,
        open_until=facts.open_until,
        open_in_hand=None if facts.open_until is None else facts.open_until - last,
        top=facts.lowest + facts.block * (len(order) - 1),
        step=_step(facts),
        feed=down,
        orbit=round_,
        ways=ways,
        flights=flights,
        aeroplanes=aeroplanes,
        foul={},
    )
    return replace(stack, foul={f"min_{d / 60.0:.0f}": foul_deck(stack, facts, -math.inf, d) for d in DELAYS})


def foul_deck(stack: Stack, facts: StackFacts, since: float, delay: float) -> FoulDeck:
    """What a deck foul for a time costs: every flight whose Charlie is not before `since` comes `delay` later.

    since : by the ship's clock; -infinity for all [s]; delay [s], 0 or more
    """
    later = {key for key, flight in stack.flights.items() if flight.charlie >= since}
    ramps = {key: each.over_ramp + (delay if each.flight in later else 0.0) for key, each in stack.aeroplanes.items()}
    flows = {key_of(each.key): each.hold_flow for each in facts.returning}
    waiting = [key for key, each in stack.aeroplanes.items() if each.flight in later]
    known = [flow for key in waiting if (flow := flows[key]) is not None]
    short = tuple(
        key
        for key in waiting
        if (latest := stack.aeroplanes[key].latest_charlie) is not None
        and stack.flights[stack.aeroplanes[key].flight].charlie + delay > latest
    )
    orbits = math.floor(delay / stack.orbit.whole)
    open_until = stack.open_until
    return FoulDeck(
        orbits=orbits,
        short=short,
        aboard_in_time=None if open_until is None else sum(time <= open_until for time in ramps.values()),
        delay=delay,
        left_over=delay - orbits * stack.orbit.whole,
        fuel=max(known) * delay if known and len(known) == len(waiting) else None,
        last_over_ramp=max(ramps.values()),
        flights={
            key: LaterCharlie(charlie=stack.flights[key].charlie + delay) for key in stack.flights if key in later
        },
    )


def _step(facts: StackFacts) -> float:
    return facts.block / facts.feed.let_down


def _placed(
    order: Sequence[HoldingFlight], facts: StackFacts, ways: Sequence[Feed | NoFeed], whole_orbit: float
) -> tuple[dict[str, StackedFlight], dict[str, StackedAeroplane]]:
    """The flights by their keys and the aeroplanes by theirs."""
    flights: dict[str, StackedFlight] = {}
    aeroplanes: dict[str, StackedAeroplane] = {}
    left_below: list[float] = []  # when the flight below left each of its blocks, the highest first
    down = ways[0]
    assert isinstance(down, Feed)
    due, step = facts.recovery, _step(facts)
    counted_from = facts.recovery - down.time if facts.at_hold is None else facts.at_hold
    for i, flight in enumerate(order):
        heights = [facts.lowest + facts.block * (i - k) for k in range(i + 1)]
        entered: list[float | None] = [facts.at_hold]
        left: list[float] = []
        for below in left_below:
            since = entered[-1] if left else None
            left.append(max(below + facts.wait, -math.inf if since is None else since))
            entered.append(left[-1] + step)
        ready = entered[-1] if left else None
        at_initial = due if ready is None else max(due, ready + down.time)
        charlie = at_initial - down.time
        left.append(charlie)
        key = key_of(flight.name)
        times = [at_initial + facts.interval * k for k in range(len(flight.aeroplanes))]
        for each, time in zip(flight.aeroplanes, times, strict=True):
            place = len(aeroplanes) + 1
            aeroplanes[key_of(each.key)] = _aeroplane(each, key, place, time, charlie, time - counted_from, facts)
        own = [aeroplanes[key_of(each.key)].latest_charlie for each in flight.aeroplanes]
        known = [latest for latest in own if latest is not None]
        straight = ways[i]
        flights[key] = StackedFlight(
            name=flight.name,
            aeroplanes=tuple(key_of(each.key) for each in flight.aeroplanes),
            trouble=flight.trouble,
            block=heights[0],
            told_by=charlie - whole_orbit,
            charlie=charlie,
            at_initial=at_initial,
            first_over_ramp=times[0] + facts.initial_to_ramp,
            last_over_ramp=times[-1] + facts.initial_to_ramp,
            held_up=at_initial - due,
            straight_down=straight.time if isinstance(straight, Feed) else None,
            latest_charlie=min(known, default=None),
            steps={
                f"block_{i + 1 - k}": Stay(number=i + 1 - k, height=heights[k], enters=entered[k], leaves=left[k])
                for k in range(i + 1)
            },
        )
        barrier = facts.barrier_clear if flight.trouble == HOOK else 0.0
        due, left_below = times[-1] + max(facts.interval, barrier), left
    return flights, aeroplanes


def _aeroplane(
    each: Returning, flight: str, place: int, at_initial: float, charlie: float, waited: float, facts: StackFacts
) -> StackedAeroplane:
    """One aeroplane. waited : from when its fuel is counted until its own initial [s]."""
    left = keep = latest = None
    if each.circuit_flow is not None:
        keep = each.circuit_flow * facts.reserve
        if each.fuel is not None and each.hold_flow is not None:
            left = each.fuel - each.hold_flow * waited - each.circuit_flow * facts.initial_to_ramp
            latest = charlie + (left - keep) / each.hold_flow
    return StackedAeroplane(
        flight=flight,
        place=place,
        at_initial=at_initial,
        over_ramp=at_initial + facts.initial_to_ramp,
        fuel_at_ramp=left,
        reserve=keep,
        latest_charlie=latest,
    )
