"""A carrier's recovery of one event: where its figures are, and how they are said on card and page."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from roundown.cards.card import Cell
from roundown.cards.launch_figures import called, cut
from roundown.day.deck_load import carriers_of, event_key, part_of, seats_from
from roundown.day.homing import returning_of
from roundown.figures import key_of
from roundown.plan.facts import Day, FlyingEvent, Seat
from roundown.recovery.day_cycle import DeckTurn
from roundown.recovery.landing_order import By
from roundown.recovery.rhythm import Rhythm
from roundown.recovery.stack import Stack, StackedFlight
from roundown.solution import Solution, Unsolved

_NUMBER = re.compile(r"(?: \d+)?(?: part \d+)?$")
TROUBLE = {
    "no radio": "no radio",
    "hook": "hook will not lower",
    "hung stores": "hung stores",
    "wounded": "wounded",
    "damaged": "damaged",
}


@dataclass(frozen=True, eq=False)
class Recovering:
    """One carrier's recovery of one event.

    day, solution : of the carrier; stem : before their keys, "parts.lintel.sallow." or ""
    texts : of every figure of the whole day by its key, as `launch_figures.all_texts` has them
    seats : that come home to her, by key; order : in which they land, in words
    turn : the event's place in her deck's day
    """

    event: FlyingEvent
    carrier: str
    day: Day
    solution: Solution
    stem: str
    texts: Mapping[str, str]
    seats: Mapping[str, Seat]
    order: str
    stack: Stack | Unsolved
    rhythm: Rhythm | Unsolved
    turn: DeckTurn | None

    @property
    def heading(self) -> str:
        """Event and carrier: "First patrol, Corbel"."""
        name = self.event.name
        return f"{name[:1].upper()}{name[1:]}, {self.day.ship_called}"

    def key(self, what: str, where: str = "recoveries") -> str:
        """Key of one of its figures among those of the day. where : "recoveries", "rhythm" or "cycle"."""
        return f"{self.stem}{where}.{event_key(self.event)}.{what}"

    def cell(self, what: str, where: str = "recoveries", *, strong: bool = False) -> Cell:
        """One of its figures; empty where there is none. Arguments as of `key`."""
        key = self.key(what, where)
        text = self.texts.get(key, "none")
        return Cell("") if text == "none" else Cell(text, key, strong)

    def flight_called(self, flight: StackedFlight) -> str:
        """A flight and who flies in it, with what is wrong with one; one that goes alone by himself."""
        if flight.trouble:
            return f"{called(self.seats[flight.aeroplanes[0]])}, alone: {TROUBLE[flight.trouble]}"
        number = _NUMBER.findall(flight.name)[0]  # it tells two divisions apart and is never cut off
        words = cut(flight.name.removesuffix(number))
        return f"{words}{number}: {', '.join(self._side(key) for key in flight.aeroplanes)}"

    def _side(self, key: str) -> str:
        trouble = self.trouble_of(key)
        return self.seats[key].side + (f" ({trouble})" if trouble else "")

    def trouble_of(self, key: str) -> str:
        """What is wrong with one who comes home, in words; "" nothing. key : of the seat."""
        given = self.day.givens.get(f"event.{event_key(self.event)}.home.{key}.trouble")
        return "" if given is None else TROUBLE[given.word]

    def prep_charlie(self) -> Cell:
        """When Prep Charlie is given; empty without a stack."""
        return Cell("") if isinstance(self.stack, Unsolved) else self.cell("prep_charlie")

    def open_until(self) -> Cell:
        """Until when the deck is open: the end of the flight course, or when it must be spotted for the next launch."""
        ends = [
            (value, cell)
            for value, cell in (
                (None if isinstance(self.stack, Unsolved) else self.stack.open_until, self.cell("open_until")),
                (None if self.turn is None else self.turn.open_until, self.cell("open_until", "cycle")),
            )
            if value is not None
        ]
        return min(ends, key=lambda end: end[0])[1] if ends else Cell("")


def recoverings(day: Day, solution: Solution, texts: Mapping[str, str]) -> tuple[Recovering, ...]:
    """Every carrier's recovery of every event that comes home, in the order of the events."""
    return tuple(_recoverings(day, solution, texts))


def _recoverings(day: Day, solution: Solution, texts: Mapping[str, str]) -> Iterator[Recovering]:
    for event in day.events:
        for carrier in carriers_of(day, event):
            hers = next(each for each in (day, *day.parts.values()) if each.ship == carrier)
            own = hers.part == day.part
            theirs = solution if own else solution.parts[hers.part]
            stack = theirs.recoveries.get(event_key(event))
            if stack is not None:
                yield Recovering(
                    event=event,
                    carrier=carrier,
                    day=hers,
                    solution=theirs,
                    stem="" if own else f"parts.{hers.part}.",
                    texts=texts,
                    seats={key_of(seat.side): seat for seat in seats_from(day, event, carrier)},
                    order=_order(day, event, carrier),
                    stack=stack,
                    rhythm=theirs.rhythm.get(event_key(event), Unsolved("there is no stack")),
                    turn=theirs.cycle.get(event_key(event)),
                )


def _order(day: Day, event: FlyingEvent, carrier: str) -> str:
    """In what order those land who have no trouble: recovery/landing_order.py in three words."""
    known = [each for each in returning_of(day, event, carrier) if each.fuel is not None]
    if not known or part_of(day, seats_from(day, event, carrier)[0]).word("doctrine.stack.order") != By.FUEL:
        return "as launched"
    return "least fuel first" if any(each.hold_flow is None for each in known) else "shortest endurance first"
