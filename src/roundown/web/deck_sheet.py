"""The decks on the page: every deck load drawn so that its aeroplanes can be moved, and what each place leaves them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree as ET

from roundown.cards.brief_tables import table
from roundown.cards.deck_drawing import movable_deck
from roundown.cards.markup import Child, element
from roundown.cards.sentences import sided
from roundown.figures import key_of
from roundown.launch.apart import distance, standing
from roundown.launch.packing import HAIR
from roundown.launch.result import DeckSpot, EventLaunch, SeatLaunch
from roundown.launch.spot import Pin
from roundown.launch.spot_findings import spot_findings
from roundown.plan.facts import Day
from roundown.quantities import CLOCK_TIME, LENGTH, SPEED_MARGIN, write
from roundown.solution import Solution, Unsolved

WIDTH, HEIGHT, TEXT = 760.0, 400.0, 13.0  # of a drawing, sheet units
HEADS = ("Goes", "Side, name", "Take-off", "Run needed", "Run left", "In hand", "Stands, from the ramp")
NOTHING = "The plan launches nothing, so no deck is spotted."


@dataclass(frozen=True)
class _Row:
    """One aeroplane of a deck load. event : its name; wrong : why it cannot stand where it is pinned, "" if it can."""

    key: str
    event: str
    side: str
    called: str
    launch: SeatLaunch
    wrong: str

    @property
    def needed(self) -> str:
        run = self.launch.run
        if self.launch.shot is not None:
            return "catapult"
        if run is None:
            return "not known"
        return "does not fly off" if run.distance is None else write(run.distance, LENGTH)

    @property
    def left(self) -> str:
        spot = self.launch.spot
        return "none" if spot is None or spot.run_left <= 0.0 else write(spot.run_left, LENGTH)

    @property
    def in_hand(self) -> str:
        if self.launch.shot is not None:
            margin = self.launch.shot.speed_margin
            speed = write(abs(margin), SPEED_MARGIN)
            return f"short of lift-off speed by {speed}" if margin < 0.0 else f"{speed} over lift-off speed"
        run = self.launch.run
        if run is None or run.length_margin is None:
            return "none"
        text = write(abs(run.length_margin), LENGTH)
        return f"short by {text}" if run.length_margin < 0.0 else text

    @property
    def place(self) -> str:
        spot = self.launch.spot
        if spot is None:
            return "finds no place"
        aside = sided(spot.port, LENGTH, "to port", "to starboard")
        return f"{write(spot.ahead, LENGTH)} ahead, {aside if ' to ' in aside else 'on the centre line'}"

    @property
    def told(self) -> str:
        """How it stands, for those who hear it."""
        spot = self.launch.spot
        pinned = ", pinned" if spot is not None and spot.pinned else ""
        wrong = f"; {self.wrong}" if self.wrong else ""
        if self.launch.shot is not None:
            return f"{self.called}: {self.place}{pinned}; by catapult, {self.in_hand}{wrong}"
        hand = self.in_hand if self.in_hand.startswith("short") else f"{self.in_hand} in hand"
        return f"{self.called}: {self.place}{pinned}; run left {self.left}, {hand}{wrong}"


def deck_sheet(day: Day, solution: Solution) -> ET.Element:
    """Every deck load with its table, and why others have none."""
    parts: list[Child] = [_load(day, solution, i, stood) for i, stood in enumerate(solution.spots)]
    for event, reason in _unsolved(day, solution):
        parts.append(element("p", f"No deck is spotted for {event}: {reason}", class_="no-deck"))
    return element("div", *(parts or [element("p", NOTHING, class_="no-deck")]))


def _load(day: Day, solution: Solution, i: int, stood: DeckSpot) -> ET.Element:
    names = {key_of(event.name): event.name for event in day.events}
    events = [names[key] for key in stood.events]
    called = f"{day.carrier_called(stood.carrier)}: {', '.join(events)}"
    rows = _rows(day, solution, stood)
    drawing = movable_deck(
        stood.spotting,
        {parked.key: parked.footprint for parked in stood.load},
        stood.deck,
        WIDTH,
        HEIGHT,
        TEXT,
        f"The spotted deck of {called}",
        {row.key: (row.launch.number or 0, f"{row.launch.number}, {row.told}") for row in rows},
        {row.key for row in rows if row.wrong},
    )
    caption = f"What each place leaves, {called}"
    listed = table(caption, HEADS, [_cells(row) for row in rows], f"deck-caption-{i}")
    for made, row in zip(listed.iterfind(".//tbody/tr"), rows, strict=True):
        for name, value in (("row", row.key), ("event", row.event), ("side", row.side), ("called", row.called)):
            made.set(f"data-{name}", value)
        made.set("data-told", row.told)
    return element(
        "div",
        element("div", drawing, class_="deck-drawing"),
        listed,
        class_="load",
        data_load=f"{stood.carrier} {' '.join(stood.events)}",
        data_called=called,
    )


def _cells(row: _Row) -> tuple[Child, ...]:
    short = row.in_hand.startswith("short")
    spot = row.launch.spot
    pinned = "" if spot is None or not spot.pinned else f", pinned{f': {row.wrong}' if row.wrong else ''}"
    return (
        f"{row.launch.number or ''}",
        row.called,
        write(row.launch.take_off.off, CLOCK_TIME),
        row.needed,
        row.left if row.launch.shot is None else _no_run(),
        element("strong" if short else "span", row.in_hand, class_=None if row.launch.shot is None else "of-shot"),
        element("span", row.place, element("b", pinned) if pinned else None),
    )


def _no_run() -> ET.Element:
    """A dash for the eye, words for the ear."""
    return element("span", element("span", "–", aria_hidden="true"), element("span", "no run", class_="heard"))


def _rows(day: Day, solution: Solution, stood: DeckSpot) -> list[_Row]:
    """The aeroplanes of a deck load in launch order, of every type that stands on it."""
    wrong = _wrong(stood)
    found = []
    for part, launches in _launches(day, solution).items():
        if (day if part == day.part else day.parts[part]).ship != stood.carrier:
            continue
        for event in day.events:
            launch = launches.get(key_of(event.name))
            if key_of(event.name) not in stood.events or not isinstance(launch, EventLaunch):
                continue
            names = {key_of(seat.side): f"{seat.side} {seat.name}".strip() for seat in event.seats}
            found += [
                _Row(key, event.name, stood.sides[key], names[key], each, wrong.get(key, ""))
                for key, each in launch.seats.items()
            ]
    return sorted(found, key=lambda row: row.launch.take_off.off)


def _launches(day: Day, solution: Solution) -> dict[str, Mapping[str, EventLaunch | Unsolved]]:
    """The launches of every carrier and type."""
    return {day.part: solution.launches, **{part: theirs.launches for part, theirs in solution.parts.items()}}


def _unsolved(day: Day, solution: Solution) -> Iterator[tuple[str, str]]:
    """Events whose launch was not solved, with the reason, each once."""
    names = {key_of(event.name): event.name for event in day.events}
    told = {
        (names[event], launch.reason)
        for launches in _launches(day, solution).values()
        for event, launch in launches.items()
        if isinstance(launch, Unsolved)
    }
    yield from sorted(told)


def _wrong(stood: DeckSpot) -> dict[str, str]:
    """Why pinned ones cannot stand where they are, by key: their findings, told to both where two are too near."""
    pins = {parked.key: parked for parked in stood.load if parked.pin is not None}
    found: dict[str, str] = {}
    for each in spot_findings(stood.spotting, stood.load, stood.deck, stood.rules):
        if each.id.startswith("spot-pin"):
            found.setdefault(each.key.removeprefix("spot.places."), each.value)
    outlines = {
        key: standing(parked.footprint.folded, pin.ahead, pin.port, pin.heading)
        for key, parked in pins.items()
        if isinstance(pin := parked.pin, Pin)
    }
    for one, other in combinations(outlines, 2):
        if distance(outlines[one], outlines[other]) < stood.rules.clearance - HAIR and one in found:
            found.setdefault(other, f"too near {stood.sides[one]}")
    return found
