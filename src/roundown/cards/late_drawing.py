"""Turned in early and late, seen from the ship: the final turns to one scale, the flight course up the sheet.

All fly the planned turn; what the delay is worth is left as straight flight behind the ship, or as turn still to make
at the ramp. Beside each end stands what it leaves, and for how long the nose hides the ramp on that way
(sight/late_view.py). Solid is the turn on time, thin an early one, dashed a late one.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.circuit_drawing import Deck
from roundown.cards.drawing import Point, Scale, Sheet
from roundown.quantities import AHEAD_OF_RAMP, ANGLE, TIME, YARD, write
from roundown.recovery.late import Late, LatePath
from roundown.sight.late_view import LateView

WIDTH, SIZE = 600.0, 16.0
OUTSIDE, INSIDE, TOP, BOTTOM = 106.0, 214.0, 40.0, 34.0  # room beside the paths; outside is the downwind side
LEAST_HIGH = 440.0
LEAD = 120.0 * YARD  # m of the downwind leg drawn before the first turn-in
FIRST = -4.0  # s, the earliest turn-in that is drawn
LINE, APART = 1.1, 0.3  # of the text size: a line, and what is kept between labels
STEP = 100.0 * YARD  # m, a bar of the scale


@dataclass(frozen=True)
class LateTurns:
    """What is drawn. paths, views : by delay, as in a Solution; late : the same delays of the circuit, but for none.

    hand : of the circuit, -1 left-hand, +1 right-hand
    """

    paths: Mapping[str, LatePath]
    views: Mapping[str, LateView]
    late: Mapping[str, Late]
    hand: int

    @property
    def shown(self) -> list[str]:
        """Keys of the paths that are drawn, earliest first."""
        found = [key for key, path in self.paths.items() if path.delay >= FIRST]
        return sorted(found, key=lambda key: self.paths[key].delay)

    def named(self, key: str) -> str:
        """A delay in words."""
        delay = self.paths[key].delay
        if delay == 0.0:
            return "on time"
        return f"{write(abs(delay), TIME, decimals=0)} {'late' if delay > 0.0 else 'early'}"

    def leaves(self, key: str) -> str:
        """What a delay leaves: straight flight, or turn at the ramp."""
        late = self.late.get(key)
        if late is None:
            return "level over the ramp"
        if late.straight_time is not None:
            return f"{write(late.straight_time, TIME)} straight"
        if late.still_to_turn is not None:
            return f"{write(late.still_to_turn, ANGLE, decimals=0)} left to turn"
        return "never at the ramp"

    def hidden(self, key: str) -> str:
        """For how long the nose hides the ramp; "" where that is not known."""
        view = self.views.get(key)
        if view is None or view.hidden is None:
            return ""
        if view.hidden == 0.0:
            return "ramp never hidden"
        return f"ramp hidden {write(view.hidden, TIME)}"

    def told(self, key: str) -> list[str]:
        """All that is said of a delay."""
        return [text for text in (self.named(key), self.leaves(key), self.hidden(key)) if text]


def late_drawing(turns: LateTurns, deck: Deck, name: str) -> ET.Element:
    """The drawing. name : makes its ids its own. Raises ValueError where there is no path to draw."""
    if not turns.shown:
        raise ValueError("no turn-in to draw")
    return _Drawing(turns, deck).draw(name)


class _Drawing:
    def __init__(self, turns: LateTurns, deck: Deck) -> None:
        self.turns, self.deck = turns, deck
        self.out = float(turns.hand)  # sheet x towards the downwind side: port is to the left
        self.ways = {key: self._from_turn_in(turns.paths[key]) for key in turns.shown}
        everything = np.vstack([*self.ways.values(), [[deck.length, 0.0], [0.0, 0.0]]])
        low, high = everything.min(axis=0), everything.max(axis=0)
        wide = WIDTH - OUTSIDE - INSIDE
        per_metre = wide / float(high[1] - low[1])
        tall = max(float(high[0] - low[0] + LEAD) * per_metre, LEAST_HIGH - TOP - BOTTOM)
        left = OUTSIDE if self.out < 0.0 else INSIDE
        x = left + float(high[1]) * per_metre
        self.scale = Scale(per_metre, x, TOP + float(high[0] + LEAD) * per_metre)
        self.pen = Sheet(WIDTH, TOP + tall + BOTTOM, SIZE)

    @staticmethod
    def _from_turn_in(path: LatePath) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
        """Ahead of the ramp and to port [m] from the turn-in on, (n, 2)."""
        after = path.time >= path.turn_in - 1e-9
        return np.column_stack([path.ahead[after], path.port[after]])

    def draw(self, name: str) -> ET.Element:
        edge, right, foot = 1.0, WIDTH - 1.0, self.pen.height - 1.0
        self.pen.line([(edge, edge), (right, edge), (right, foot), (edge, foot), (edge, edge)], "edge", covers=False)
        self._ship()
        self._paths()
        self._turn_ins()
        self._ends()
        self._scale_bar()
        told = [", ".join(self.turns.told(key)) for key in self.turns.shown]
        return self.pen.svg(name, "Final turns from a turn-in early, on time and late", f"{'; '.join(told)}.")

    def _place(self, ahead: float, port: float) -> Point:
        return self.scale.on_sheet(ahead, port)

    def _ship(self) -> None:
        """The deck to scale, and her centre line astern."""
        length, half = self.deck.length, self.deck.width / 2.0
        outline = [(0.0, half), (0.88 * length, half), (length, 0.25 * half), (length, -0.25 * half),
                   (0.88 * length, -half), (0.0, -half), (0.0, half)]  # fmt: skip
        self.pen.line([self._place(*row) for row in outline], "edge")
        self.pen.line([self._place(0.0, half), self._place(0.0, -half)], "flown", covers=False)
        self.pen.line([self._place(0.0, 0.0), (self.scale.x, self.pen.height - 8.0)], "hair", covers=False)
        x = self.scale.x
        self.pen.line([(x, 10.0 + 1.6 * SIZE), (x, 10.0)], "thin")
        self.pen.arrow_head((x, 8.0), (0.0, -1.0), 0.6 * SIZE)
        anchor = "end" if self.out < 0.0 else "start"
        self.pen.words((x + self.out * 0.6 * SIZE, 10.0 + 1.2 * SIZE), "flight course", anchor)

    def _paths(self) -> None:
        starts = [self.ways[key][0] for key in self.turns.shown]
        self.pen.line([self._place(starts[0][0] + LEAD, starts[0][1]), *(self._place(*row) for row in starts)], "thin")
        for key, way in self.ways.items():
            delay = self.turns.paths[key].delay
            kind = "flown" if delay == 0.0 else "late" if delay > 0.0 else "thin"
            self.pen.line([self._place(*row) for row in way], kind)

    def _turn_ins(self) -> None:
        """A mark at each turn-in, its delay beside it on the outer side."""
        places = [self._place(*self.ways[key][0]) for key in self.turns.shown]
        rows = apart([place[1] for place in places], (LINE + APART) * SIZE, self._room(1))
        anchor = "end" if self.out < 0.0 else "start"
        for key, place, row in zip(self.turns.shown, places, rows, strict=True):
            self.pen.mark(place, 0.24 * SIZE, filled=self.turns.paths[key].delay == 0.0)
            beside = (place[0] + self.out * 0.8 * SIZE, row)
            self.pen.line([place, beside], "hair", covers=False)
            self.pen.words((beside[0] + self.out * 2.0, row + 0.26 * SIZE), self.turns.named(key), anchor, bold=True)

    def _ends(self) -> None:
        """Where the wings come level, what the delay leaves, on the side away from the turn."""
        told = {key: self.turns.told(key) for key in self.turns.shown}
        most = max(len(lines) for lines in told.values())
        places = [self._place(*self._level(key)) for key in told]
        rows = apart([place[1] for place in places], (most * LINE + APART) * SIZE, self._room(most))
        anchor = "start" if self.out < 0.0 else "end"
        for lines, place, row in zip(told.values(), places, rows, strict=True):
            self.pen.mark(place, 0.2 * SIZE, filled=False)
            beside = (self.scale.x - self.out * 2.2 * SIZE, row)
            self.pen.line([place, beside], "hair", covers=False)
            for i, text in enumerate(lines):
                down = 0.26 + (i - 0.5 * (len(lines) - 1)) * LINE
                self.pen.words((beside[0] - self.out * 3.0, row + down * SIZE), text, anchor, bold=i == 0)

    def _room(self, lines: int) -> tuple[float, float]:
        """Between which heights of the sheet the middles of labels stand. lines : of each."""
        half = 0.5 * lines * LINE * SIZE
        return 4.0 + half, self.pen.height - 4.0 - half

    def _level(self, key: str) -> tuple[float, float]:
        """Where the wings come level, ahead and to port [m]: the place the straight flight begins, or the end."""
        path = self.turns.paths[key]
        if math.isnan(path.straight_from):
            return float(path.ahead[-1]), float(path.port[-1])
        return (
            float(np.interp(path.straight_from, path.time, path.ahead)),
            float(np.interp(path.straight_from, path.time, path.port)),
        )

    def _scale_bar(self) -> None:
        """A bar of yards at the foot of the downwind side."""
        step, count = STEP * self.scale.per_metre, 5
        left = 14.0 if self.out < 0.0 else WIDTH - 14.0 - 3.0 * SIZE - count * step
        y = self.pen.height - 10.0
        for i in range(count):
            x0, x1 = left + i * step, left + (i + 1) * step
            self.pen.line([(x0, y - 4.0), (x1, y - 4.0), (x1, y), (x0, y), (x0, y - 4.0)], "hair", filled=i % 2 == 0)
        self.pen.words((left + count * step + 4.0, y), f"{write(count * STEP, AHEAD_OF_RAMP)}")


def apart(rows: Sequence[float], least: float, room: tuple[float, float]) -> list[float]:
    """Heights of labels so moved that they stand apart and, where it holds them all, within a room.

    rows : where they would stand, in sheet units; least : between two of them
    Half-way between what moving them down alone and moving them up alone would give, so that neither end moves far.
    """
    order = sorted(range(len(rows)), key=lambda i: rows[i])
    low, high = room
    down, up = [rows[i] for i in order], [rows[i] for i in order]
    for n in range(1, len(order)):
        down[n] = max(down[n], down[n - 1] + least)
    for n in reversed(range(len(order) - 1)):
        up[n] = min(up[n], up[n + 1] - least)
    found = [0.5 * (one + other) for one, other in zip(down, up, strict=True)]
    for n in range(len(order)):
        found[n] = max(found[n], low + n * least)
    for n in range(len(order)):
        found[n] = min(found[n], high - (len(order) - 1 - n) * least)
    placed = list(rows)
    for i, row in zip(order, found, strict=True):
        placed[i] = row
    return placed
