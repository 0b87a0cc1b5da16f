"""Who stands on which deck, and in what order they go: an event's launch, and the loads that are ranged together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from roundown.day.facts import of_type
from roundown.day.memory import Memory
from roundown.errors import NoSolution
from roundown.figures import key_of
from roundown.launch.deck_plan import deck_of
from roundown.launch.footprint import footprint_of
from roundown.launch.result import DeckSpot
from roundown.launch.sequence import DeckTimes, SequenceFacts
from roundown.launch.spot import Parked, Pin, SpotRules, spot
from roundown.plan.facts import Day, FlyingEvent, Seat
from roundown.schedule.event_times import EventTimes


def event_key(event: FlyingEvent) -> str:
    """An event's name as part of a key."""
    return key_of(event.name)


def part_of(day: Day, seat: Seat) -> Day:
    """The day of a seat's carrier and type."""
    squadron = day.squadrons[seat.squadron]
    return day.parts.get(f"{squadron.ship}.{squadron.type}", day)


def carriers_of(day: Day, event: FlyingEvent) -> tuple[str, ...]:
    """The carriers an event launches from, by their names in the plan."""
    return tuple(dict.fromkeys(day.squadrons[seat.squadron].ship for seat in event.seats))


def seats_from(day: Day, event: FlyingEvent, carrier: str) -> tuple[Seat, ...]:
    """The seats an event launches from a carrier, in launch order."""
    return tuple(seat for seat in event.seats if day.squadrons[seat.squadron].ship == carrier)


def sequence_facts(day: Day, event: FlyingEvent, carrier: str, first_off: float, interval: str) -> SequenceFacts:
    """What a carrier's launch of an event is solved from.

    first_off : by the ship's clock [s]; interval : key of the doctrine's for the light
    Those to be shot off run where their carrier has no catapult (`launching` says so).
    """
    seats = seats_from(day, event, carrier)
    hers = part_of(day, seats[0])
    times = _deck_times(hers)
    shot = {key_of(side) for side in event.catapult} if times.catapults else set[str]()
    order = tuple(key_of(seat.side) for seat in seats)
    return SequenceFacts(
        order=order,
        first_off=first_off,
        interval=hers.number(interval),
        steady_before=day.number("doctrine.launch.steady_before"),
        catapulted=frozenset(shot & set(order)),
        staying=left_on_deck(day, event),
        times=times,
    )


def left_on_deck(day: Day, event: FlyingEvent) -> int:
    """How many the plan leaves on deck after an event's launch, to be moved forward before anyone comes aboard."""
    given = day.givens.get(f"event.{event_key(event)}.left_on_deck")
    return 0 if given is None else round(given.value)


def _deck_times(day: Day) -> DeckTimes:
    def given(name: str) -> float:
        return day.number(f"doctrine.launch.{name}")

    fitted = "ship.catapult.speed" in day.givens
    return DeckTimes(
        warm_up=given("warm_up"),
        taxi=given("taxi"),
        spread=given("spread"),
        lock=given("lock"),
        at_once=round(given("at_once")),
        catapult=given("catapult_interval"),
        catapults=round(day.number("ship.catapult.number")) if fitted else 0,
        clear=given("clear"),
        respot=day.number("doctrine.spot.respot"),
        rig=given("rig"),
    )


@dataclass(frozen=True)
class DeckLoad:
    """Aeroplanes that stand on one deck at once. seats : in launch order, each with the event it flies."""

    carrier: str
    seats: tuple[tuple[FlyingEvent, Seat], ...]

    @property
    def events(self) -> tuple[str, ...]:
        """Keys of the events it is for."""
        return tuple(dict.fromkeys(event_key(event) for event, _ in self.seats))


def deck_loads(day: Day, times: Mapping[str, EventTimes]) -> tuple[DeckLoad, ...]:
    """Every deck load of the day, by carrier and time.

    Launches of a carrier that follow within the doctrine's time, with no recovery between, are ranged together (common
    practice, no source); who is to fly twice stands there once. times : of the events, by key
    """
    found: list[DeckLoad] = []
    for carrier in dict.fromkeys(squadron.ship for squadron in day.squadrons.values()):
        launches = [
            (launch, times[event_key(event)].last_off or launch, event)
            for event in day.events
            if seats_from(day, event, carrier) and (launch := times[event_key(event)].launch) is not None
        ]
        recoveries = [
            first
            for event in day.events
            if seats_from(day, event, carrier) and (first := times[event_key(event)].recovery) is not None
        ]
        launches.sort(key=lambda row: row[0])
        groups: list[list[FlyingEvent]] = []
        off = 0.0
        for launch, last, event in launches:
            together = part_of(day, seats_from(day, event, carrier)[0]).number("doctrine.spot.together")
            home = any(off <= recovery <= launch for recovery in recoveries)
            if groups and launch - off < together and not home:
                groups[-1].append(event)
            else:
                groups.append([event])
            off = max(off, last)
        found += [DeckLoad(carrier, _in_order(day, group, carrier, times)) for group in groups]
    return tuple(found)


def _in_order(
    day: Day, events: list[FlyingEvent], carrier: str, times: Mapping[str, EventTimes]
) -> tuple[tuple[FlyingEvent, Seat], ...]:
    rows: dict[str, tuple[float, FlyingEvent, Seat]] = {}
    for event in events:
        for seat in seats_from(day, event, carrier):
            off = times[event_key(event)].seats[key_of(seat.side)].take_off
            rows.setdefault(seat.side, (off or 0.0, event, seat))
    return tuple((event, seat) for _, event, seat in sorted(rows.values(), key=lambda row: row[0]))


def spotted(day: Day, load: DeckLoad, memory: Memory) -> DeckSpot:
    """A deck load spotted.

    memory : of decks spotted before
    Raises NoSolution, naming type and keys, where a type of it gives no footprint.
    """
    hers = part_of(day, load.seats[0][1])
    deck = deck_of({key.removeprefix("ship."): given for key, given in hers.givens.items() if key.startswith("ship.")})
    parked = []
    for event, seat in load.seats:
        part = part_of(day, seat)
        try:
            print_ = footprint_of(of_type(part))
        except NoSolution as error:
            raise NoSolution(f"{error.sought} ({part.word('type.label').split(',')[0]})") from error
        parked.append(Parked(key_of(seat.side), print_, _pin(part, event, seat)))
    rules = SpotRules(
        clearance=hers.number("doctrine.spot.clearance"),
        spread=hers.number("doctrine.spot.spread_clearance"),
        slant=hers.number("doctrine.spot.slant"),
        line=hers.number("doctrine.spot.line"),
    )
    return DeckSpot(
        carrier=load.carrier,
        events=load.events,
        deck=deck,
        load=parked,
        sides={key_of(seat.side): seat.side for _, seat in load.seats},
        rules=rules,
        spotting=memory.recall("spot", (tuple(parked), deck, rules), lambda: spot(parked, deck, rules)),
    )


def _pin(day: Day, event: FlyingEvent, seat: Seat) -> Pin | None:
    stem = f"event.{event_key(event)}.spots.{key_of(seat.side)}"
    if f"{stem}.ahead" not in day.givens:
        return None
    return Pin(*(day.number(f"{stem}.{name}") for name in ("ahead", "port", "heading")))
