"""The recovery of a day: for every event of every carrier the stack, the deck's rhythm, and whether her day closes."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from roundown.day.deck_load import event_key, left_on_deck, part_of, seats_from
from roundown.day.facts import of_type
from roundown.day.flying import Flown
from roundown.day.homing import returning_of
from roundown.day.launching import Launched, sequence_of_event
from roundown.day.memory import Memory
from roundown.day.stacking import interval_kept, slowest_part, stack_facts, ways_down
from roundown.errors import NoSolution
from roundown.figures import key_of
from roundown.findings import Finding, Level
from roundown.launch.deck_plan import deck_of
from roundown.launch.footprint import footprint_of
from roundown.launch.pack_forward import pack_forward
from roundown.launch.sequence import LaunchSequence
from roundown.launch.spot import Parked
from roundown.plan.facts import Day, FlyingEvent, Seat
from roundown.quantities import MINUTES, write
from roundown.recovery.cycle import Burn, Homing, RhythmFacts
from roundown.recovery.cycle_findings import cycle_findings, rhythm_findings
from roundown.recovery.day_cycle import Back, DeckTurn, Off, Turn, deck_day
from roundown.recovery.feed import NoFeed
from roundown.recovery.result import CircuitResult
from roundown.recovery.rhythm import Rhythm, rhythm
from roundown.recovery.stack import Stack, solve_stack
from roundown.recovery.stack_findings import no_feed_findings, stack_findings
from roundown.recovery.wave_off import WaveOff
from roundown.schedule.event_times import EventTimes
from roundown.solution import Solution, Unsolved

DRAWS = 300  # recoveries drawn for one event of a day that is solved while somebody types
BY_SKILL = {"novice": 2.0, "trained": 1.0, "experienced": 0.5}  # of the part waved off; own rule, no source
MOST_WAVED_OFF = 0.9
MINUTE = 60.0  # s


@dataclass(frozen=True, eq=False, kw_only=True)
class Recovered:
    """What one carrier's recoveries come to, by event. findings : of them, with keys of the day's own part."""

    recoveries: Mapping[str, Stack | Unsolved] = field(default_factory=dict)
    rhythm: Mapping[str, Rhythm | Unsolved] = field(default_factory=dict)
    cycle: Mapping[str, DeckTurn] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


def recover_the_day(
    day: Day, flown: Flown, solved: Mapping[str, Solution], launched: Launched | None, memory: Memory
) -> dict[str, Recovered]:
    """The recoveries by carrier.

    flown : times and track of the day; solved : what is solved of each carrier and type, by "carrier.type"
    launched : the day's launches, None where nothing is launched
    """
    carriers = dict.fromkeys(squadron.ship for squadron in day.squadrons.values() if squadron.seats)
    return {carrier: _recover(day, carrier, flown, solved, launched, memory) for carrier in carriers}


def _recover(
    day: Day, carrier: str, flown: Flown, solved: Mapping[str, Solution], launched: Launched | None, memory: Memory
) -> Recovered:
    stacks: dict[str, Stack | Unsolved] = {}
    rhythms: dict[str, Rhythm | Unsolved] = {}
    turns: dict[str, Turn] = {}
    findings: list[Finding] = []
    names = {event_key(event): event.name for event in day.events}
    busy: Back | None = None  # the recovery before
    for event in sorted(day.events, key=lambda each: flown.events[event_key(each)].recovery or 0.0):
        seats = seats_from(day, event, carrier)
        if not seats:
            continue
        key, times = event_key(event), flown.events[event_key(event)]
        sequence = _sequence(day, event, carrier, times, launched)
        off = None if sequence is None else _off(sequence, left_on_deck(day, event))
        back = None
        if times.recovery is not None:
            one = _Event(day, event, carrier, seats, times, flown, solved, memory)
            before = _launch_before(day, carrier, times.recovery, flown, launched)
            stacks[key], told = one.stack(before, None if busy is None else busy.recovered)
            rhythms[key], drawn = one.rhythm(stacks[key])
            findings += [dataclasses.replace(each, value=f"{event.name}: {each.value}") for each in (*told, *drawn)]
            busy = back = one.back(rhythms[key])
        turns[key] = Turn(off=off, back=back)
    hers = part_of(day, next(s for e in day.events for s in seats_from(day, e, carrier))) if turns else day
    each = hers.number("doctrine.recovery.respot_each")
    late = {found.key.split(".")[1] for found in findings if found.id == "prep-charlie-late"}
    findings += [
        found
        for found in cycle_findings(turns, each, names)
        if not (found.key.endswith("margin_aboard") and found.key.split(".")[1] in late)
    ]
    return Recovered(recoveries=stacks, rhythm=rhythms, cycle=deck_day(turns, each), findings=tuple(findings))


def _sequence(
    day: Day, event: FlyingEvent, carrier: str, times: EventTimes, launched: Launched | None
) -> LaunchSequence | None:
    if times.launch is None or launched is None:
        return None
    return sequence_of_event(day, event, carrier, times)[1]


def _off(sequence: LaunchSequence, staying: int) -> Off:
    return Off(
        staying=staying,
        start_engines=sequence.start_engines,
        first_off=sequence.first_off,
        last_off=sequence.last_off,
        deck_clear=sequence.deck_clear,
    )


def _launch_before(
    day: Day, carrier: str, recovery: float, flown: Flown, launched: Launched | None
) -> LaunchSequence | None:
    """The last launch of a carrier before a recovery."""
    if launched is None:
        return None
    found = [
        sequence_of_event(day, event, carrier, times)[1]
        for event in day.events
        if seats_from(day, event, carrier)
        and (times := flown.events[event_key(event)]).launch is not None
        and times.launch < recovery
    ]
    return max(found, key=lambda sequence: sequence.last_off, default=None)


@dataclass(frozen=True, eq=False)
class _Event:
    """One event's recovery on one carrier."""

    day: Day
    event: FlyingEvent
    carrier: str
    seats: tuple[Seat, ...]
    times: EventTimes
    flown: Flown
    solved: Mapping[str, Solution]
    memory: Memory

    @property
    def hers(self) -> Day:
        """The day of the carrier and of the type that takes longest from the initial to the ramp."""
        circuits = {part: each.circuit for part, each in self.solved.items()}
        return slowest_part(self.day, self.event, self.carrier, circuits)

    def stack(self, before: LaunchSequence | None, busy_until: float | None) -> tuple[Stack | Unsolved, list[Finding]]:
        """The stack and its findings.

        before : the launch the deck must be cleared of; busy_until : end of the recovery before
        """
        hers, times = self.hers, self.times
        circuit = self.solved[hers.part].circuit
        if times.recovery is None or times.first_aboard is None or not isinstance(circuit, CircuitResult):
            return Unsolved("there is no circuit to come home to"), []
        period = None
        if not isinstance(self.flown.track, Unsolved):
            period = self.flown.track.periods.get(f"{event_key(self.event)}_recovery")
        dusk = None
        if not isinstance(self.flown.timeline, Unsolved) and "civil_dusk" in self.flown.timeline:
            dusk = self.flown.timeline["civil_dusk"].time
        to_ramp = times.first_aboard - times.recovery
        facts = dataclasses.replace(
            stack_facts(self.day, hers, self.event, self.carrier, circuit, times.recovery, to_ramp),
            last_off=None if before is None else before.last_off,
            busy_until=busy_until,
            open_until=self._open_until(None if period is None else period.end),
            dark_at=dusk,
        )
        ways = ways_down(facts, self.memory)
        found = self.memory.recall("stack", facts, lambda: solve_stack(facts, ways))
        key = f"recoveries.{event_key(self.event)}"
        if isinstance(found, NoFeed):
            return Unsolved(found.reason), no_feed_findings(found, key)
        return found, stack_findings(found, facts, key)

    def _open_until(self, turns_back: float | None) -> float | None:
        """The end of the time on the flight course [s]; or when the deck must be clear for the next to come home."""
        clear = self.hers.number("doctrine.recovery.clear")
        others = [
            theirs.first_aboard - clear
            for event in self.day.events
            if seats_from(self.day, event, self.carrier)
            and (theirs := self.flown.events[event_key(event)]).first_aboard is not None
            and theirs.recovery is not None
            and self.times.recovery is not None
            and theirs.recovery > self.times.recovery
        ]
        known = [time for time in (turns_back, *others) if time is not None]
        return min(known, default=None)

    def rhythm(self, stack: Stack | Unsolved) -> tuple[Rhythm | Unsolved, list[Finding]]:
        """Many recoveries drawn, and their findings."""
        facts = self._rhythm_facts(stack)
        if isinstance(facts, Unsolved):
            return facts, []
        found = self.memory.recall("rhythm", facts, lambda: rhythm(facts, draws=DRAWS))
        key = f"rhythm.{event_key(self.event)}"
        return found, [*rhythm_findings(found, facts, key), *self._in_hand(found, key)]

    def _in_hand(self, found: Rhythm, key: str) -> list[Finding]:
        """Whether what the ship holds on for covers nine recoveries in ten."""
        kept = self.hers.number("doctrine.recovery.in_hand")
        if found.in_hand <= kept:
            return []
        whole = MINUTE * math.ceil(found.in_hand / MINUTE)
        return [
            Finding(
                "in-hand-short", Level.CAUTION, f"{key}.in_hand",
                f"one recovery in ten takes {write(found.in_hand, MINUTES)} or more over the plan (rates assumed)",
                f"the ship holds on for {write(kept, MINUTES)} after the last is due",
                f"Set recovery.in_hand to {write(whole, MINUTES, decimals=0)}.",
            )
        ]  # fmt: skip

    def _rhythm_facts(self, stack: Stack | Unsolved) -> RhythmFacts | Unsolved:
        hers, times = self.hers, self.times
        around = self.solved[hers.part].wave_off
        if isinstance(stack, Unsolved) or times.first_aboard is None or times.recovery is None:
            return Unsolved("there is no stack")
        if not isinstance(around, WaveOff):
            return Unsolved(f"how long going round takes is not known: {around.reason}")

        def given(name: str) -> float:
            return hers.number(f"doctrine.recovery.{name}")

        return RhythmFacts(
            aeroplanes=self._homing(stack, given("wave_offs")),
            interval=hers.number("doctrine.circuit.interval"),
            circuit=times.first_aboard - times.recovery,
            go_round=around.time,
            clear=hers.givens["doctrine.recovery.clear"].band,
            scatter=given("scatter"),
            full_time=around.full_power_time,
            fouls=given("fouls"),
            foul_time=given("foul_time"),
            barrier_hits=given("barrier_hits"),
            barrier_clear=given("barrier_clear"),
            reserve=given("reserve"),
            park_room=self._park_room(stack),
        )

    def _homing(self, stack: Stack, wave_offs: float) -> tuple[Homing, ...]:
        """The aeroplanes in landing order, each ready when its flight is due at the initial."""
        seats = {key_of(seat.side): seat for seat in self.seats}
        known = {key_of(each.key): each for each in returning_of(self.day, self.event, self.carrier)}
        found = []
        for key in stack.aeroplanes:
            seat, home = seats[key], known[key]
            values = of_type(part_of(self.day, seat))
            flows = [values.get(f"fuel.{name}") for name in ("circuit", "hold", "full_power")]
            burn = None
            if flows[0] is not None and flows[1] is not None and flows[2] is not None:
                burn = Burn(flows[0].value, flows[1].value, flows[2].value)
            fuel = home.fuel
            ready = stack.flights[stack.aeroplanes[key].flight].at_initial
            if fuel is not None and burn is not None:
                fuel -= burn.hold * (ready - stack.first_charlie)
            found.append(
                Homing(
                    key=key,
                    ready=ready,
                    fuel=fuel if burn is not None else None,
                    burn=burn,
                    trouble=home.trouble,
                    wave_offs=min(wave_offs * BY_SKILL.get(seat.skill, 1.0), MOST_WAVED_OFF),
                )
            )
        return tuple(found)

    def _park_room(self, stack: Stack) -> int | None:
        """How many find room forward of the barrier, packed in landing order; None where that is not known."""
        hers = self.hers
        barrier = hers.givens.get("ship.gear.barrier_place")
        if barrier is None:
            return None
        seats = {key_of(seat.side): seat for seat in self.seats}
        try:
            load = tuple(Parked(key, footprint_of(of_type(part_of(self.day, seats[key])))) for key in stack.aeroplanes)
        except NoSolution:
            return None
        values = {key.removeprefix("ship."): given for key, given in hers.givens.items() if key.startswith("ship.")}
        deck = deck_of(values)
        packed = self.memory.recall(
            "forward", (load, deck, barrier.value), lambda: pack_forward(load, deck, barrier.value)
        )
        return max(len(packed.places), 1) if packed.left_out else None

    def back(self, found: Rhythm | Unsolved) -> Back | None:
        """What the recovery asks of the deck, as planned."""
        times = self.times
        if times.first_aboard is None:
            return None
        count, clear = len(self.seats), self.hers.number("doctrine.recovery.clear")
        lasts = found.planned if isinstance(found, Rhythm) else (count - 1) * interval_kept(self.hers) + clear
        return Back(first_ramp=times.first_aboard, recovered=times.first_aboard + lasts, count=count)
