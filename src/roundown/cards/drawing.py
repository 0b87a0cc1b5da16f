"""A drawing: a sheet that lines, marks and labels are put on, and that comes out as SVG.

Sheet units have x to the right and y down. `Scale.on_sheet` is the only place where metres of the ship frame become
sheet units and ahead becomes up. Labels look for a place where they cover neither another label nor a line.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.markup import element, number
from roundown.motion.frames import Floats

FONT = "Libertinus Serif"  # one of those a card's renderer brings with it
WIDTH_OF_LETTER, WIDTH_OF_BOLD = 0.54, 0.6  # of the text size, of a mean letter of the widest serif face we count with
RISE, DROP = 0.74, 0.24  # of the text size, over and under the base line
INK, PAPER = "#000", "#fff"

# what a kind of line means stands in its dashes and weight, not in a colour
LINES: dict[str, dict[str, str]] = {
    "flown": {"stroke-width": "2.4"},
    "late": {"stroke-width": "1.6", "stroke-dasharray": "7 4"},
    "sight": {"stroke-width": "0.9", "stroke-dasharray": "9 3 1.5 3"},
    "thin": {"stroke-width": "0.8"},
    "hair": {"stroke-width": "0.5"},
    "ring": {"stroke-width": "0.5", "stroke-dasharray": "1 3"},
    "edge": {"stroke-width": "1.2"},
}

Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A rectangle of the sheet, in sheet units."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether two boxes share any room."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    def within(self, other: Box) -> bool:
        """Whether this box lies inside another."""
        across = other.left <= self.left and self.right <= other.right
        return across and other.top <= self.top and self.bottom <= other.bottom


@dataclass(frozen=True)
class Scale:
    """From the ship frame to the sheet. per_metre : sheet units to a metre; x, y : of the ramp on the sheet."""

    per_metre: float
    x: float
    y: float

    def on_sheet(self, ahead: float, port: float) -> Point:
        """Where a place ahead of the ramp and to port of the centre line [m] comes on the sheet."""
        return self.x - port * self.per_metre, self.y - ahead * self.per_metre


def text_box(x: float, y: float, text: str, size: float, anchor: str, *, bold: bool = False) -> Box:
    """The room a text takes, judged by its length. x, y : of its base line; anchor : start, middle or end."""
    width = (WIDTH_OF_BOLD if bold else WIDTH_OF_LETTER) * size * len(text)
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * width
    return Box(left, y - RISE * size, left + width, y + DROP * size)


def between(start: Point, end: Point, spacing: float = 4.0) -> list[Point]:
    """Points along a straight line, no further apart than the spacing."""
    count = max(1, math.ceil(math.dist(start, end) / spacing))
    return [
        (start[0] + (end[0] - start[0]) * i / count, start[1] + (end[1] - start[1]) * i / count)
        for i in range(count + 1)
    ]


def thinned(points: Sequence[Point], tolerance: float = 0.15) -> list[Point]:
    """The points a line needs to stay within a tolerance of all of them (Douglas and Peucker, 1973)."""
    keep = {0, len(points) - 1}
    waiting = [(0, len(points) - 1)]
    while waiting:
        first, last = waiting.pop()
        far, at = 0.0, first
        for i in range(first + 1, last):
            off = _distance_to_segment(points[i], points[first], points[last])
            if off > far:
                far, at = off, i
        if far > tolerance:
            keep.add(at)
            waiting += [(first, at), (at, last)]
    return [points[i] for i in sorted(keep)]


def _distance_to_segment(point: Point, start: Point, end: Point) -> float:
    along = (end[0] - start[0], end[1] - start[1])
    square = along[0] ** 2 + along[1] ** 2
    part = 0.0
    if square > 0.0:
        part = ((point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]) / square
    part = min(1.0, max(0.0, part))
    return math.hypot(point[0] - start[0] - part * along[0], point[1] - start[1] - part * along[1])


class Sheet:
    """A sheet under the pen. inside : where labels may stand; size : of the text, in sheet units."""

    def __init__(self, width: float, height: float, size: float) -> None:
        """A blank sheet."""
        self.width, self.height, self.size = width, height, size
        self.inside = Box(3.0, 3.0, width - 3.0, height - 3.0)
        self._drawn: list[ET.Element] = []
        self._texts: list[ET.Element] = []
        self._taken: list[Box] = []
        self._inked: list[Point] = []

    def line(self, points: Sequence[Point], kind: str, *, filled: bool = False, covers: bool = True) -> None:
        """A line through points. kind : of LINES; covers : whether labels keep off it."""
        there = thinned(points)
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in there) + ("Z" if filled else "")
        attributes = {"d": path, "fill": INK if filled else "none", "stroke": INK, "stroke-linejoin": "round"}
        self._drawn.append(ET.Element("path", attributes | LINES[kind]))
        if covers:
            for start, end in pairwise(there):
                self._inked += between(start, end)

    def mark(self, at: Point, radius: float, *, filled: bool) -> None:
        """A round mark at a point: full, or open with the paper showing through."""
        self._drawn.append(
            element(
                "circle", cx=at[0], cy=at[1], r=radius, fill=INK if filled else "#fff", stroke=INK, stroke_width=1.4
            )
        )
        self._inked += [(at[0] + dx, at[1] + dy) for dx in (-radius, 0.0, radius) for dy in (-radius, 0.0, radius)]

    def arrow_head(self, tip: Point, towards: Point, length: float) -> None:
        """A full arrow head. towards : direction it points, any length, y down."""
        size = math.hypot(*towards)
        ux, uy = towards[0] / size, towards[1] / size
        back = (tip[0] - ux * length, tip[1] - uy * length)
        half = 0.36 * length
        corners = [tip, (back[0] - uy * half, back[1] + ux * half), (back[0] + uy * half, back[1] - ux * half)]
        self.line(corners, "hair", filled=True)

    def words(self, at: Point, text: str, anchor: str = "start", *, bold: bool = False, size: float = 0.0) -> Box:
        """A text at a fixed place. size : where it is not the sheet's. Returns the room it takes."""
        tall = size or self.size
        box = text_box(at[0], at[1], text, tall, anchor, bold=bold)
        self._texts.append(
            element(
                "text",
                text,
                x=at[0],
                y=at[1],
                font_family=FONT,
                font_size=tall,
                text_anchor=anchor,
                font_weight="bold" if bold else None,
                fill=INK,
                stroke=PAPER,  # a line that crosses a label stops short of it
                stroke_width=0.3 * tall,
                paint_order="stroke",
            )
        )
        self._taken.append(box)
        return box

    def label(self, at: Point, texts: Sequence[str], side: Point, *, bold: bool = False, gap: float = 8.0) -> None:
        """Lines of text beside a point, where they cover nothing, as near as can be.

        side : the direction to look in first, y down; a label that had to go far gets a thin leader
        """
        best: tuple[float, Point, str] | None = None
        ink = np.array(self._inked).reshape(-1, 2)
        for reach in (gap, 1.8 * gap, 3.0 * gap, 4.5 * gap, 7.0 * gap):
            for turn in (0.0, 0.5, -0.5, 1.0, -1.0, 1.6, -1.6, 2.4, -2.4, math.pi):
                angle = math.atan2(side[1], side[0]) + turn
                spot = (at[0] + reach * math.cos(angle), at[1] + reach * math.sin(angle))
                first, anchor, boxes = self._standing(spot, texts, angle, bold=bold)
                cost = self._cost(boxes, ink) + 0.02 * reach + 0.1 * abs(turn)
                if best is None or cost < best[0]:
                    best = (cost, first, anchor)
                    leader = spot if reach > 2.0 * gap else None
            if best is not None and best[0] < 5.0:
                break
        assert best is not None
        if leader is not None:
            self.line([at, leader], "hair", covers=False)
        x, y = best[1]
        for i, text in enumerate(texts):
            self.words((x, y + i * 1.05 * self.size), text, best[2], bold=bold and i == 0)

    def _standing(self, spot: Point, texts: Sequence[str], angle: float, *, bold: bool) -> tuple[Point, str, list[Box]]:
        """First base line, anchor and boxes of texts that stand off a spot in a direction."""
        across, down = math.cos(angle), math.sin(angle)
        anchor = "start" if across > 0.35 else "end" if across < -0.35 else "middle"
        tall = (len(texts) - 1) * 1.05 * self.size
        middle = spot[1] + 0.25 * self.size - tall / 2.0
        first = middle + down * (tall / 2.0 + 0.45 * self.size)
        boxes = [
            text_box(spot[0], first + i * 1.05 * self.size, text, self.size, anchor, bold=bold and i == 0)
            for i, text in enumerate(texts)
        ]
        return (spot[0], first), anchor, boxes

    def _cost(self, boxes: Iterable[Box], ink: Floats) -> float:
        cost = 0.0
        for box in boxes:
            cost += 0.0 if box.within(self.inside) else 1000.0
            apart = Box(box.left - 5.0, box.top - 3.0, box.right + 5.0, box.bottom + 3.0)
            cost += 300.0 * sum(apart.meets(taken) for taken in self._taken)
            across = np.abs(ink[:, 0] - (box.left + box.right) / 2.0) <= (box.right - box.left) / 2.0 + 2.0
            down = np.abs(ink[:, 1] - (box.top + box.bottom) / 2.0) <= (box.bottom - box.top) / 2.0 + 1.0
            cost += 6.0 * int(np.count_nonzero(across & down))
        return cost

    def svg(self, name: str, title: str, description: str) -> ET.Element:
        """The drawing. name : makes its ids its own; title, description : for those who hear it instead."""
        return element(
            "svg",
            element("title", title, id=f"{name}-title"),
            element("desc", description, id=f"{name}-desc"),
            *self._drawn,
            *self._texts,
            viewBox=f"0 0 {number(self.width)} {number(self.height)}",
            role="img",
            aria_labelledby=f"{name}-title {name}-desc",
        )
