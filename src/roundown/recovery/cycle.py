"""One recovery, from the first over the ramp to the deck ready behind the last.

*Method:* a process for each pass, the deck a resource for one (simpy). Before the landing circle, at a gate whence all
fly the same time to the ramp so that nobody overtakes, one goes on at a time, an interval behind the one before. Whose
fuel is down to the reserve goes first, who fell to it first before the others; then those waved off, in turn; then the
rest in the order given. So one waved off takes the next place behind those in the circle, and those who still hold come
an interval later. At the ramp one is waved off where the deck is not ready, else lands and keeps the deck busy until
hook and barriers are seen to and he is past them (PRO-94 tells what is done, published; how long is a given).

A barrier hit is known to all, so that none enters the circle who would come before the deck is cleared; those within it
are waved off. A hook that will not come down ends in the barrier for certain, and the next keeps that much clear
(own rule). An interval drawn below nil is nil. With nothing left to chance this is the schedule by hand.

*Holds for:* one deck, aeroplanes of one circuit time, intervals independent of one another. What wires, barriers and
parking wear on the deck's men is not counted, nor anyone who goes elsewhere or into the water.
"""

from __future__ import annotations

import math
from collections.abc import Generator, Iterator
from dataclasses import dataclass
from itertools import pairwise, repeat
from typing import TYPE_CHECKING

from roundown.quantities import Band

if TYPE_CHECKING:
    from simpy.events import Event

INSTANT = 1e-6  # s; a deck that is ready so soon is ready
HOOK = "hook"  # the trouble of one whose hook will not come down


@dataclass(frozen=True)
class Burn:
    """Fuel burned [kg/s]: in the circuit, holding, and at full power."""

    circuit: float
    hold: float
    full: float


@dataclass(frozen=True)
class Homing:
    """One aeroplane that comes home.

    ready : by the ship's clock when it could be at the initial, nobody before it [s]
    fuel : it has then [kg], or None where it is not known; burn : of its type, or None
    trouble : "" or one of the troubles; wave_offs : part of its passes waved off though the deck is ready, below 1
    """

    key: str
    ready: float
    fuel: float | None = None
    burn: Burn | None = None
    trouble: str = ""
    wave_offs: float = 0.0


@dataclass(frozen=True)
class RhythmFacts:
    """What a recovery is worked out from; times in s. Every part and time of the deck is an assumption of the doctrine.

    aeroplanes : in landing order; none is ready before the one ahead of it
    interval : of the doctrine; scatter : its standard deviation
    circuit : from the initial to the ramp
    go_round : from a wave-off to the ramp again, full_time : of it at full power
    clear : from over the ramp until the deck is ready for the next
    fouls : part that are slow out of the gear, foul_time : how much longer those take
    barrier_hits : part that end in the barrier, barrier_clear : until the deck is ready again behind one
    reserve : fuel to keep, as time in the circuit
    park_room : how many can be parked forward before the landing area is full, or None where there is no want of room
    """

    aeroplanes: tuple[Homing, ...]
    interval: float
    circuit: float
    go_round: float
    clear: Band
    scatter: float = 0.0
    full_time: float = 0.0
    fouls: float = 0.0
    foul_time: float = 0.0
    barrier_hits: float = 0.0
    barrier_clear: float = 0.0
    reserve: float = 0.0
    park_room: int | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be.

        Raises ValueError for no aeroplane, an order that overtakes, a wave-off for certain, no room at all, or more
        full power than there is of a go-round.
        """
        planes = self.aeroplanes
        if not planes:
            raise ValueError("a recovery has at least one aeroplane")
        if any(after.ready < before.ready for before, after in pairwise(planes)):
            raise ValueError("none is ready before the one ahead of it in landing order")
        if not all(0.0 <= plane.wave_offs < 1.0 for plane in planes):
            raise ValueError("the part waved off is 0 or more, and below 1")
        if self.park_room is not None and self.park_room < 1:
            raise ValueError("there is room for one at least")
        if self.full_time > self.go_round:
            raise ValueError("full power is a part of going round")

    @property
    def kept(self) -> float:
        """The interval the signal officer keeps [s]: the doctrine's, or what the deck takes."""
        return max(self.interval, self.clear.aim)

    @property
    def room(self) -> int:
        """How many of them find room."""
        return len(self.aeroplanes) if self.park_room is None else min(self.park_room, len(self.aeroplanes))

    @property
    def shared(self) -> float:
        """Time to the ramp from where those waved off and the rest fly the same way [s]."""
        return min(self.circuit, self.go_round)


@dataclass(frozen=True)
class Chance:
    """What befalls a recovery; the tuples by the place in landing order.

    wave_offs : how often each is waved off though the deck is ready
    deck : how long each keeps the deck once over the ramp [s]; barrier : whether it ends in the barrier
    intervals : behind each in turn that enters the circle [s]; without end
    """

    wave_offs: tuple[int, ...]
    deck: tuple[float, ...]
    barrier: tuple[bool, ...]
    intervals: Iterator[float]


@dataclass(frozen=True)
class Landing:
    """One that came aboard.

    ramp : over the ramp, clear : the deck ready behind it, by the ship's clock [s]; passes : it made
    fuel : at the wire, reserve : to be kept [kg], None where not known; below nil it had run dry before
    """

    key: str
    ramp: float
    clear: float
    passes: int
    fuel: float | None
    reserve: float | None


@dataclass(frozen=True)
class Recovery:
    """A recovery as it went.

    landings : in the order they came aboard; first_ramp : first over the ramp, aboard or not, by the ship's clock [s]
    wave_offs : for the pass; foul_decks : wave-offs because the deck was not ready
    not_aboard : keys of those for whom there was no room
    """

    landings: tuple[Landing, ...]
    first_ramp: float
    wave_offs: int
    foul_decks: int
    not_aboard: tuple[str, ...]

    @property
    def last_clear(self) -> float:
        """The deck ready behind the last, by the ship's clock [s]."""
        return self.landings[-1].clear

    @property
    def duration(self) -> float:
        """From the first over the ramp until the deck is ready behind the last [s]."""
        return self.last_clear - self.first_ramp


def even(facts: RhythmFacts) -> Chance:
    """No chance at all: nobody waved off, every landing at the aim, the interval kept."""
    hooks = tuple(plane.trouble == HOOK for plane in facts.aeroplanes)
    deck = tuple(facts.barrier_clear if hook else facts.clear.aim for hook in hooks)
    return Chance((0,) * len(hooks), deck, hooks, repeat(facts.kept))


def planned_ramps(facts: RhythmFacts) -> tuple[float, ...]:
    """The schedule by hand: when each that finds room is over the ramp, nothing amiss, by the ship's clock [s].

    Each when it is ready and has flown the circuit, or the interval after the one before; more behind one without hook.
    """
    ramps: list[float] = []
    gap = 0.0
    for plane in facts.aeroplanes[: facts.room]:
        own = plane.ready + facts.circuit
        ramps.append(max(own, ramps[-1] + gap) if ramps else own)
        gap = _gap(facts, plane, facts.kept)
    return tuple(ramps)


def planned_duration(facts: RhythmFacts) -> float:
    """From the first over the ramp until the deck is ready behind the last, nothing amiss [s]."""
    ramps = planned_ramps(facts)
    return ramps[-1] - ramps[0] + even(facts).deck[len(ramps) - 1]


def recover(facts: RhythmFacts, chance: Chance) -> Recovery:
    """One recovery under what befalls it. The intervals of the chance are used up."""
    return _Circle(facts, chance).run()


def _gap(facts: RhythmFacts, plane: Homing, interval: float) -> float:
    """How long the next keeps behind one [s]."""
    return max(interval, facts.barrier_clear) if plane.trouble == HOOK else interval


class _Circle:
    """The landing circle and the deck during one recovery. Aeroplanes go by their place in landing order."""

    def __init__(self, facts: RhythmFacts, chance: Chance) -> None:
        import simpy

        planes = facts.aeroplanes
        self.facts, self.chance = facts, chance
        self.around = facts.go_round - facts.shared
        self.lead = facts.circuit - facts.shared
        self.sky = simpy.Environment(planes[0].ready)
        self.deck = simpy.Resource(self.sky, 1)
        self.deck_ready = -math.inf
        self.gate_opens = -math.inf
        self.idle: Event | None = None
        self.holding: list[int] = []  # before the initial, by their order
        self.returned: list[int] = []  # waved off and back before the circle, as they came
        self.started = 0
        self.left = list(chance.wave_offs)
        self.passes = [0] * len(planes)
        self.fuel = [plane.fuel if plane.burn is not None else None for plane in planes]
        self.since = [0.0] * len(planes)  # since when each waits
        self.alarm = [math.inf] * len(planes)  # when each that waits is down to the reserve
        self.counts_fuel = any(each is not None for each in self.fuel)
        self.first_ramp = math.inf
        self.foul_decks = self.wave_offs = 0
        self.landings: list[Landing] = []

    def run(self) -> Recovery:
        self.sky.process(self._come())
        self.sky.process(self._feed())
        self.sky.run()
        aboard = {landing.key for landing in self.landings}
        return Recovery(
            tuple(self.landings),
            self.first_ramp,
            self.wave_offs,
            self.foul_decks,
            tuple(plane.key for plane in self.facts.aeroplanes if plane.key not in aboard),
        )

    def _come(self) -> Generator[Event]:
        """They become ready, each at its time."""
        for i, plane in enumerate(self.facts.aeroplanes):
            at_gate = plane.ready + self.lead
            if at_gate > self.sky.now:
                yield self.sky.timeout(at_gate - self.sky.now)
            if plane.burn is not None:
                self._burn(i, plane.burn.circuit * self.lead)
            self._wait(i, self.holding, None if plane.burn is None else plane.burn.hold)

    def _feed(self) -> Generator[Event]:
        """One after another enters the circle."""
        intervals = self.chance.intervals
        while True:
            if not self.returned and (not self.holding or self.started == self.facts.room):
                self.idle = self.sky.event()
                yield self.idle
            elif self.gate_opens - self.sky.now > INSTANT:
                yield self.sky.timeout(self.gate_opens - self.sky.now)
            else:
                i = self._next()
                self.sky.process(self._pass(i))
                yield self.sky.timeout(_gap(self.facts, self.facts.aeroplanes[i], next(intervals)))

    def _next(self) -> int:
        """Who enters the circle, taken from those who wait."""
        fresh = self.holding if self.started < self.facts.room else []
        waiting = self.returned or fresh
        i = waiting[0]
        if self.counts_fuel:
            least = min((*self.returned, *fresh), key=self.alarm.__getitem__)
            if self.alarm[least] <= self.sky.now:
                i, waiting = least, self.returned if least in self.returned else fresh
        waiting.remove(i)
        burn = self.facts.aeroplanes[i].burn
        if burn is not None:
            rate = burn.hold if waiting is self.holding else burn.circuit
            self._burn(i, rate * (self.sky.now - self.since[i]))
        self.started += waiting is self.holding
        return i

    def _pass(self, i: int) -> Generator[Event]:
        """From the gate to the ramp, and aboard or round again."""
        facts, sky = self.facts, self.sky
        plane = facts.aeroplanes[i]
        yield sky.timeout(facts.shared)
        now = sky.now
        self.passes[i] += 1
        self.first_ramp = min(self.first_ramp, now)
        if plane.burn is not None:
            self._burn(i, plane.burn.circuit * facts.shared)
        foul = self.deck_ready - now > INSTANT
        if foul or self.left[i] > 0:
            if foul:
                self.foul_decks += 1
            else:
                self.wave_offs += 1
                self.left[i] -= 1
            yield sky.timeout(self.around)
            if plane.burn is not None:
                more = (plane.burn.full - plane.burn.circuit) * facts.full_time
                self._burn(i, plane.burn.circuit * self.around + more)
            self._wait(i, self.returned, None if plane.burn is None else plane.burn.circuit)
            return
        busy = self.chance.deck[i]
        self.deck_ready = now + busy
        if self.chance.barrier[i]:
            self.gate_opens = max(self.gate_opens, self.deck_ready - facts.shared)
        with self.deck.request() as landed:
            yield landed
            yield sky.timeout(busy)
        reserve = None if plane.burn is None else plane.burn.circuit * facts.reserve
        self.landings.append(Landing(plane.key, now, now + busy, self.passes[i], self.fuel[i], reserve))

    def _wait(self, i: int, where: list[int], rate: float | None) -> None:
        """One waits before the circle, burning so much [kg/s]."""
        where.append(i)
        self.since[i] = self.sky.now
        plane, fuel = self.facts.aeroplanes[i], self.fuel[i]
        if plane.burn is not None and fuel is not None and rate is not None:
            over = fuel - plane.burn.circuit * self.facts.reserve
            self.alarm[i] = self.sky.now + over / rate if rate > 0.0 else math.copysign(math.inf, over)
        if self.idle is not None and not self.idle.triggered:
            self.idle.succeed()

    def _burn(self, i: int, mass: float) -> None:
        fuel = self.fuel[i]
        if fuel is not None:
            self.fuel[i] = fuel - mass
