"""The stack from the side: the blocks one above the other, who waits in which, when each steps down and leaves.

A column for each flight in landing order: a full mark where it waits at first, an arrow for every step down with the
time at which it leaves the block; the last arrow, from the lowest block, is Charlie. Under it the time at the initial.
More flights than go abreast are drawn on several sheets, each with all its blocks.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from roundown.cards.clock_column import clocks_alike
from roundown.cards.drawing import WIDTH_OF_LETTER, Point, Sheet
from roundown.quantities import CLOCK_TIME, HEIGHT_OVER_SEA, write
from roundown.recovery.stack import Stack, StackedFlight

# of the numbers' size: over the top, under the initial, between lines, under the last line
ABOVE, UNDER, LINE, GAP = 2.8, 1.9, 1.3, 0.4


@dataclass(frozen=True)
class StackLook:
    """How a stack is drawn, in sheet units.

    width : of the sheet; size : of the flights' numbers; numbers : of heights and times; left : of the first column
    column : across a flight; block : down a block; arrow, text : of the arrow and its time, from the column's left
    """

    width: float
    size: float
    numbers: float
    left: float
    column: float
    block: float
    arrow: float
    text: float

    @property
    def abreast(self) -> int:
        """How many flights go on a sheet at most."""
        return max(math.floor((self.width - self.left) / self.column), 1)

    def height(self, blocks: int) -> float:
        """How high a sheet is without its list. blocks : drawn."""
        return self.block * blocks + self.numbers * (ABOVE + UNDER)


PAGE = StackLook(width=760.0, size=17.0, numbers=15.0, left=84.0, column=92.0, block=46.0, arrow=10.0, text=18.0)


def stack_drawings(
    stack: Stack, initial_height: float, called: Mapping[str, str], name: str, look: StackLook = PAGE
) -> tuple[ET.Element, ...]:
    """The stack on as few sheets as may be, its flights shared out evenly.

    initial_height : over the sea [m]; called : each flight in words, by its key; name : makes the ids its own
    Under the flights of a sheet stands who they are; a mapping without words leaves that out.
    """
    keys = list(stack.flights)
    abreast = math.ceil(len(keys) / math.ceil(len(keys) / look.abreast))
    sheets = [keys[i : i + abreast] for i in range(0, len(keys), abreast)]
    return tuple(
        _SideView(stack, initial_height, called, look, sheet).draw(f"{name}-{i}") for i, sheet in enumerate(sheets, 1)
    )


class _SideView:
    def __init__(
        self, stack: Stack, initial_height: float, called: Mapping[str, str], look: StackLook, keys: Sequence[str]
    ) -> None:
        self.look = look
        places = {key: place for place, key in enumerate(stack.flights, 1)}
        self.flights = {places[key]: stack.flights[key] for key in keys}
        self.initial_height = initial_height
        highest = self.flights[max(self.flights)]
        self.heights = {stay.number: stay.height for stay in highest.steps.values()}
        self.right = look.left + look.column * len(keys)
        self.foot = look.numbers * ABOVE + look.block * len(self.heights)  # of the initial's line
        letters = int((look.width - look.left) / (WIDTH_OF_LETTER * look.numbers))
        self.told = {places[key]: textwrap.wrap(called[key], letters) for key in keys if key in called}
        times = [
            time
            for flight in stack.flights.values()
            for time in (flight.at_initial, *(stay.leaves for stay in flight.steps.values()))
        ]
        # without their day, which does not go beside an arrow
        texts = clocks_alike([write(time, CLOCK_TIME).partition(" ")[0] for time in times])
        self.clock = dict(zip(times, texts, strict=True))
        rows = sum(len(lines) for lines in self.told.values())
        under = look.numbers * (LINE * rows + GAP) if rows else 0.0
        self.pen = Sheet(look.width, look.height(len(self.heights)) + under, look.size)

    def draw(self, name: str) -> ET.Element:
        self._levels()
        for i, (place, flight) in enumerate(self.flights.items()):
            self._flight(self.look.left + self.look.column * i, place, flight)
        self._list()
        title = "Stack: who waits in which block, and when each steps down"
        told = " ".join(f"{flight.name}: {_way(flight)}." for flight in self.flights.values())
        return self.pen.svg(name, title, told)

    def _level(self, number: float) -> float:
        """Where a block is on the sheet; 0 is the initial."""
        return self.foot - self.look.block * number

    def _levels(self) -> None:
        right, numbers = self.look.left - 0.5 * self.look.numbers, self.look.numbers
        for number, height in {**self.heights, 0: self.initial_height}.items():
            y = self._level(number)
            self.pen.line([(self.look.left, y), (self.right, y)], "thin" if number else "edge")
            self.pen.words((right, y + 0.35 * numbers), write(height, HEIGHT_OVER_SEA), "end", size=numbers)
        self.pen.words((right, self._level(0.5) + 0.35 * numbers), "Charlie", "end", size=numbers)
        self.pen.words((right, self.foot + 1.55 * numbers), "initial", "end", size=numbers)

    def _flight(self, left: float, place: int, flight: StackedFlight) -> None:
        along, text, numbers = left + self.look.arrow, left + self.look.text, self.look.numbers
        first = max(stay.number for stay in flight.steps.values())
        self.pen.words((along, self._level(first) - 0.75 * self.look.size), str(place), "middle", bold=True)
        for stay in flight.steps.values():
            start: Point = (along, self._level(stay.number))
            end: Point = (along, self._level(stay.number - 1))
            self.pen.line([start, end], "flown")
            self.pen.arrow_head(end, (0.0, 1.0), 0.7 * numbers)
            middle = (text, self._level(stay.number - 0.5) + 0.35 * numbers)
            self.pen.words(middle, self.clock[stay.leaves], size=numbers)
        self.pen.mark((along, self._level(first)), 0.36 * numbers, filled=True)
        self.pen.words((text, self.foot + 1.55 * numbers), self.clock[flight.at_initial], size=numbers)

    def _list(self) -> None:
        numbers = self.look.numbers
        y = self.foot + (UNDER + LINE) * numbers
        for place, lines in self.told.items():
            self.pen.words((self.look.left - 0.5 * numbers, y), str(place), "end", bold=True, size=numbers)
            for line in lines:
                self.pen.words((self.look.left, y), line, size=numbers)
                y += LINE * numbers


def _way(flight: StackedFlight) -> str:
    """Its blocks in words."""
    stays = (
        f"{write(stay.height, HEIGHT_OVER_SEA)} until {write(stay.leaves, CLOCK_TIME)}"
        for stay in flight.steps.values()
    )
    return f"{', '.join(stays)}, at the initial {write(flight.at_initial, CLOCK_TIME)}"
