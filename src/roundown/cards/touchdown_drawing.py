"""The touchdown from the side: ramp, wires and barrier, the wheels' path and the hook's, heights drawn larger."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.drawing import Point, Sheet
from roundown.quantities import FOOT, HEIGHT_OVER_DECK, LENGTH, write
from roundown.recovery.deck_motion import PointPath
from roundown.recovery.touchdown import TouchdownFacts
from roundown.recovery.touchdown_result import Touchdown

WIDTH, HEIGHT, SIZE = 600.0, 270.0, 16.4
LEFT, RIGHT, TOP, UNDER = 14.0, 14.0, 56.0, 72.0
ASTERN, BEYOND = 60.0 * FOOT, 40.0 * FOOT  # drawn astern of the ramp, and past barrier or touchdown
LARGER = 4.0  # at most, heights against lengths
OVER = 4.0 * FOOT  # of sky over the wheels
BARRIER, WIRE = 4.0 * FOOT, 0.8 * FOOT  # heights of what is drawn, not of what stands there
RAMP_LENGTH, RAMP_DROP = 9.0 * FOOT, 3.5 * FOOT  # of the rounded end, likewise


def touchdown_drawing(found: Touchdown, facts: TouchdownFacts, name: str) -> ET.Element:
    """The side view, from astern of the ramp to past the barrier. name : makes the ids of the drawing its own."""
    return _SideView(found, facts).draw(name)


def _height(path: PointPath, ahead: float) -> float:
    """Of a path over the deck at a place ahead of the ramp [m]; before it begins, straight on back."""
    before = max(float(path.ahead[0]) - ahead, 0.0)
    there = float(np.interp(ahead, path.ahead, path.height))
    return there - before * float(path.climb[0] / path.closing[0])


class _SideView:
    def __init__(self, found: Touchdown, facts: TouchdownFacts) -> None:
        self.found, self.facts, self.gear = found, facts, facts.gear
        self.pen = Sheet(WIDTH, HEIGHT, SIZE)
        self.first = min(-ASTERN, facts.cut_ahead - 0.3 * ASTERN)
        self.last = max(facts.gear.barrier_place, facts.gear.last_wire, found.touch_ahead) + BEYOND
        self.along = (WIDTH - LEFT - RIGHT) / (self.last - self.first)
        room = HEIGHT - TOP - UNDER
        highest = max(_height(found.wheels, self.first), facts.ramp_height, BARRIER)
        self.up = min(room / (highest + OVER), LARGER * self.along)

    def draw(self, name: str) -> ET.Element:
        self._deck()
        self._gear()
        self._path(self.found.hook, self.found.hook_ahead, "late")
        self._path(self.found.wheels, self.found.touch_ahead, "flown")
        self._marks()
        taken = self._taken()
        larger = f"heights {self.up / self.along:.1f} times larger"
        told = (
            f"Cut {write(self.found.cut_height, HEIGHT_OVER_DECK)} over the deck; wheels touch "
            f"{write(self.found.touch_ahead, LENGTH)} ahead of the ramp; {taken}; {larger} than lengths. "
            f"{self.found.deck_motion}"
        )
        self.pen.words((LEFT, HEIGHT - 6.0), f"solid: wheels; dashed: hook; {larger}")
        return self.pen.svg(name, "Touchdown from the side, the bow to the right", told)

    def _place(self, ahead: float, height: float) -> Point:
        return LEFT + (ahead - self.first) * self.along, HEIGHT - UNDER - height * self.up

    def _taken(self) -> str:
        if self.found.strikes:
            return "the ramp is struck"
        stop = self.found.arresting
        return "no wire" if stop is None else f"wire {stop.wire} of {self.gear.wires}"

    def _deck(self) -> None:
        end = self._place(self.last, 0.0)
        parts = [step / 8.0 for step in range(9)]
        turn = [self._place(-RAMP_LENGTH * part, -RAMP_DROP * part**2) for part in reversed(parts)]
        self.pen.line([*turn, end], "edge")

    def _gear(self) -> None:
        pen, gear = self.pen, self.gear
        stop = self.found.arresting
        for wire in range(1, gear.wires + 1):
            at = gear.place(wire)
            kind = "flown" if stop is not None and stop.wire == wire else "thin"
            pen.line([self._place(at, 0.0), self._place(at, WIRE)], kind)
        pen.line([self._place(gear.barrier_place, 0.0), self._place(gear.barrier_place, BARRIER)], "edge")
        self._names(*(self._place(at, 0.0)[0] for at in (0.0, gear.first_wire, gear.last_wire, gear.barrier_place)))

    def _names(self, ramp: float, first: float, last: float, barrier: float) -> None:
        """What stands on the deck, in a row under it; the last wire's number where there is room for it."""
        ramp = max(min(ramp, first - 3.1 * SIZE), 1.5 * SIZE)
        first, most = max(first, ramp + 3.1 * SIZE), WIDTH - 2.2 * SIZE
        after = min(max(barrier, last + 2.7 * SIZE), most)
        numbered = last - first > 2.6 * SIZE and after - last > 2.5 * SIZE
        if not numbered:
            after = min(max(barrier, first + 3.8 * SIZE), most)
        named = [("ramp", ramp), ("wire 1", first), ("barrier", after)]
        for words, at in [*named, (f"{self.gear.wires}", last)] if numbered else named:
            self.pen.words((at, HEIGHT - UNDER + 1.15 * SIZE), words, "middle")

    def _path(self, path: PointPath, met: float, kind: str) -> None:
        """A point's path, down the slope from the edge of the sheet to where its path begins, and on to the deck."""
        start = (self.first, _height(path, self.first))
        flying = [(float(x), float(z)) for x, z in zip(path.ahead, path.height, strict=True) if z > 0.0]
        points = [start, *((x, z) for x, z in flying if self.first < x < met), (met, 0.0)]
        if start[1] > 0.0:
            self.pen.line([self._place(*point) for point in points], kind)

    def _marks(self) -> None:
        pen, found, facts = self.pen, self.found, self.facts
        cut, touch = self._place(facts.cut_ahead, found.cut_height), self._place(found.touch_ahead, 0.0)
        pen.mark(cut, 0.26 * SIZE, filled=False)
        pen.mark(touch, 0.26 * SIZE, filled=True)
        if not found.strikes:
            pen.mark(self._place(found.hook_ahead, 0.0), 0.2 * SIZE, filled=False)
            meets = f"hook meets the deck at {write(found.hook_ahead, LENGTH)}"
            pen.words((WIDTH - RIGHT, HEIGHT - UNDER + 2.3 * SIZE), meets, "end")
        half = 5.8 * SIZE
        over = min(max(cut[0], half + 6.0), WIDTH - 3.0 * half - 6.0)
        pen.words((over, 1.2 * SIZE), "cut", "middle", bold=True)
        pen.words((over, 2.25 * SIZE), write(found.cut_height, HEIGHT_OVER_DECK, words=True), "middle")
        pen.line([(over, 2.6 * SIZE), cut], "hair", covers=False)
        middle = min(max(touch[0], over + 2.0 * half), WIDTH - half - 6.0)
        pen.words((middle, 1.2 * SIZE), self._taken(), "middle", bold=True)
        pen.words((middle, 2.25 * SIZE), f"touches at {write(found.touch_ahead, LENGTH)}", "middle")
        pen.line([(middle, 2.6 * SIZE), touch], "hair", covers=False)
