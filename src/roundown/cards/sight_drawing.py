"""A picture of what is seen, drawn: horizon, ship, own wing and nose, in black on white with grey for what is solid.

The picture stands in a frame; a caption below says from where it is seen, how wide the field of view is, and whither.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.drawing import INK, Box, Point, Sheet, between, text_box
from roundown.cards.markup import element, number
from roundown.motion.frames import Floats
from roundown.quantities import ANGLE, HEIGHT_OVER_SEA, write
from roundown.sight.view import Mark, Picture, Shape

FILLS = {
    "sea": "#e9e9e9", "hull": "#9a9a9a", "deck side": "#6e6e6e", "deck": "#fff", "platform": "#444",
    "island": "#bdbdbd", "mast": "#444", "port wing": "#d0d0d0", "starboard wing": "#d0d0d0", "nose": "#b4b4b4",
    "wing": "#d0d0d0", "body": "#c4c4c4", "canopy": "#fff", "tail": "#d0d0d0", "leg": "#444",
}  # fmt: skip
WITHOUT_EDGES = ("sea", "hull")  # faces that run into one another, or end at the horizon
OWN = ("port wing", "starboard wing", "nose")  # named where there is room
CAPTION_LINES, CAPTION_SIZE = 3, 0.9  # size : part of the text's
LEAST_NAMED = 0.02  # of the picture, the smallest own part that is named


@dataclass(frozen=True)
class SightSheet:
    """How a picture is laid out, in sheet units. width : of the whole; size : of the text."""

    width: float
    size: float

    @property
    def line(self) -> float:
        """Room for a line of the caption."""
        return 1.2 * self.size


PAGE_SIGHT = SightSheet(600.0, 20.0)
CARD_SIGHT = SightSheet(300.0, 11.0)


class _Pen(Sheet):
    """A sheet that also takes filled faces, one over the other."""

    def shade(self, points: Sequence[Point], fill: str, weight: float, *, covers: bool) -> None:
        """A closed face, filled, its edge in ink or, without a weight, its own. covers : labels keep off it."""
        self._drawn.append(
            element(
                "path", d=_path(points) + "Z", fill=fill, stroke=INK if weight else fill,
                stroke_width=weight or 0.4, stroke_linejoin="round",
            )
        )  # fmt: skip
        if covers:
            for start, end in pairwise([*points, points[0]]):
                self._inked += between(start, end)

    def stroke(self, points: Sequence[Point], weight: float, *, covers: bool = False) -> None:
        """An open line of a weight."""
        self._drawn.append(
            element("path", d=_path(points), fill="none", stroke=INK, stroke_width=weight, stroke_linejoin="round")
        )
        if covers:
            for start, end in pairwise(points):
                self._inked += between(start, end)


def _path(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def caption(picture: Picture, whose: str) -> list[str]:
    """The lines under a picture. whose : from where it is seen, such as "Pilot's eye at the ninety"."""
    look = picture.look
    across, upward = _turned(look.azimuth, "to port", "to starboard"), _turned(-look.elevation, "up", "down")
    parts = [f"{across} of the {picture.datum}" if across else "", upward]
    turned = ", ".join(part for part in parts if part) or "straight ahead"
    height = write(picture.eye_height, HEIGHT_OVER_SEA, words=True)
    return [whose, f"eye {height}; field of view {write(look.width, ANGLE, decimals=0)}", f"looking {turned}"]


def _turned(angle: float, negative: str, positive: str) -> str:
    """An angle [rad] in words with its way; "" where it is nothing to speak of."""
    text = write(abs(angle), ANGLE, decimals=0)
    return "" if text == write(0.0, ANGLE, decimals=0) else f"{text} {negative if angle < 0.0 else positive}"


def sight_drawing(picture: Picture, sheet: SightSheet, whose: str, name: str) -> ET.Element:
    """A picture as a drawing.

    whose : from where it is seen, as for `caption`; name : makes the ids of the drawing its own
    """
    return _Drawing(picture, sheet).draw(whose, name)


class _Drawing:
    def __init__(self, picture: Picture, sheet: SightSheet) -> None:
        self.picture, self.sheet = picture, sheet
        across, upward = picture.half
        self.tall = sheet.width * upward / across
        self.per_unit = 0.5 * sheet.width / across
        self.pen = _Pen(sheet.width, self.tall + (CAPTION_LINES + 0.2) * sheet.line, sheet.size)
        self.thin, self.thick = 0.04 * sheet.size, 0.09 * sheet.size

    def draw(self, whose: str, name: str) -> ET.Element:
        for shape in self.picture.shapes:
            self._shape(shape)
        edge = 0.5 * self.thick
        right, foot = self.sheet.width - edge, self.tall - edge
        self.pen.stroke([(edge, edge), (right, edge), (right, foot), (edge, foot), (edge, edge)], self.thick)
        self.pen.inside = Box(3.0, 3.0, self.sheet.width - 3.0, self.tall - 3.0)
        self._labels()
        lines = caption(self.picture, whose)
        for i, line in enumerate(lines):
            at = (0.2 * self.sheet.size, self.tall + (i + 0.85) * self.sheet.line)
            self.pen.words(at, line, size=CAPTION_SIZE * self.sheet.size)
        return self.pen.svg(name, "; ".join(lines), told(self.picture))

    def _place(self, right: float, up: float) -> Point:
        return 0.5 * self.sheet.width + right * self.per_unit, 0.5 * self.tall - up * self.per_unit

    def _places(self, points: Floats) -> list[Point]:
        return [self._place(float(right), float(up)) for right, up in points]

    def _shape(self, shape: Shape) -> None:
        places = self._places(shape.points)
        if not shape.closed:
            self.pen.stroke(places, self.thin)
            return
        weight = 0.0 if shape.part in WITHOUT_EDGES else self.thin
        self.pen.shade(places, FILLS[shape.part], weight, covers=shape.part not in ("sea", *OWN))
        if shape.part == "sea" and len(self.picture.horizon) > 1:
            self.pen.stroke(self._places(self.picture.horizon), self.thick, covers=True)

    def _labels(self) -> None:
        marks = self.picture.marks
        for part in OWN:
            self._own(part)
        if "ramp" in marks:
            self._ramp(marks["ramp"])
        if len(self.picture.horizon) > 1:
            self._horizon()

    def _own(self, part: str) -> None:
        """The name of a part of his own aeroplane, inside it where it fits."""
        shape = next((each for each in self.picture.shapes if each.part == part), None)
        if shape is None:
            return
        x, y = shape.points[:, 0], shape.points[:, 1]
        cross = x * np.roll(y, -1) - np.roll(x, -1) * y
        area = 0.5 * float(cross.sum())
        across, upward = self.picture.half
        if abs(area) < LEAST_NAMED * 4.0 * across * upward:
            return
        middle = [float(((c + np.roll(c, -1)) * cross).sum()) / (6.0 * area) for c in (x, y)]
        at = self._place(*middle)
        box = text_box(at[0], at[1] + 0.25 * self.sheet.size, part, self.sheet.size, "middle")
        if box.within(self.pen.inside):
            self.pen.words((at[0], at[1] + 0.25 * self.sheet.size), part, "middle")

    def _ramp(self, mark: Mark) -> None:
        at = self._place(mark.right, mark.up)
        self.pen.mark(at, 0.16 * self.sheet.size, filled=not mark.hidden_by)
        text = f"ramp, behind the {mark.hidden_by}" if mark.hidden_by else "ramp"
        self.pen.label(at, [text], (1.0 if mark.right > 0.0 else -1.0, 1.0), gap=0.8 * self.sheet.size)

    def _horizon(self) -> None:
        """What the horizon is level with, above its line, on the side away from the ship as far as the words fit."""
        cut, width = self.picture.cut, self.sheet.width
        text = "horizon" if cut is None else f"horizon at {write(cut, HEIGHT_OVER_SEA)}"
        box = text_box(0.0, 0.0, text, self.sheet.size, "start")
        fits = 1.0 - 2.0 * (box.right + 1.5 * self.sheet.size) / width
        marks = self.picture.marks.values()
        side = -1.0 if marks and np.mean([mark.right for mark in marks]) > 0.0 else 1.0
        right = side * min(0.55, fits) * self.picture.half[0]
        along = self.picture.horizon[np.argsort(self.picture.horizon[:, 0])]
        (x0, y0), (x1, y1) = (
            self._place(at, float(np.interp(at, along[:, 0], along[:, 1]))) for at in (right - 0.02, right + 0.02)
        )
        middle = (0.5 * (x0 + x1), 0.5 * (y0 + y1))
        self.pen.label(middle, [text], (y1 - y0, x0 - x1), gap=0.5 * self.sheet.size)


def told(picture: Picture) -> str:
    """The picture in words, for those who hear it."""
    parts = []
    if len(picture.horizon) < 2:
        parts.append("The horizon is not in the picture.")
    elif picture.cut is not None:
        parts.append(f"The horizon cuts the ship {write(picture.cut, HEIGHT_OVER_SEA)} over the sea.")
    for name, mark in picture.marks.items():
        side = "left" if mark.right < 0.0 else "right"
        off = write(abs(math.atan(mark.right)), ANGLE)
        how = f", hidden by the {mark.hidden_by}" if mark.hidden_by else ""
        parts.append(f"The {name} is {off} {side} of the middle{how}.")
    return " ".join(parts) or "Nothing of the ship is in the picture."
