"""The circuit as seen from the ship: a plan with the flight course up the sheet, to one scale, the deck with it.

Solid is the way flown, dashed the way of one who turns in four seconds late, dash and point the line of sight from the
turn-in to the ramp. Its scale stands on the drawing's root, for whoever puts a mark on it: data-per-metre, and
data-ramp-x and data-ramp-y [sheet units]; port is to the left, ahead is up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.drawing import Point, Scale, Sheet
from roundown.cards.sentences import sided
from roundown.figures import figures_of
from roundown.motion.frames import Floats, ship_components
from roundown.plan.facts import Day
from roundown.quantities import AHEAD_OF_RAMP, DISTANCE, FOOT, YARD
from roundown.recovery.late import Late
from roundown.recovery.result import CircuitResult

GATE_WORDS = {
    "initial": "initial", "break": "break", "downwind": "roll-out", "turn-in": "turn-in", "abeam": "ramp abeam",
    "ninety": "ninety", "ramp": "ramp", "cut": "cut",
}  # fmt: skip
LATE = "late_4_s"


@dataclass(frozen=True)
class Deck:
    """What is drawn of the ship: deck length, width and height over the sea, island ahead of the ramp [m]."""

    length: float
    width: float
    height: float
    island_place: float


@dataclass(frozen=True)
class PlanSheet:
    """How a plan is laid out, in sheet units.

    size : of the text; outside, inside, top, bottom : room kept beside the way flown, outside being the downwind side
    figures : whether figures stand in it; a card has them beside the drawing
    """

    width: float
    height: float
    size: float
    outside: float
    inside: float
    top: float
    bottom: float
    figures: bool


PAGE_PLAN = PlanSheet(600.0, 830.0, 18.0, 98.0, 138.0, 34.0, 62.0, figures=True)


@dataclass(frozen=True)
class Heading:
    """What stands on the sheet for the ship. course : the flight course as the cockpit shows it, and by what compass.

    over_deck : wind over the deck, with its unit; off_bow : side it comes from, starboard positive [rad]
    """

    course: str
    shown: str
    over_deck: str
    off_bow: float


def seen_from_ship(circuit: CircuitResult) -> Floats:
    """The way flown in the ship frame, (n, 2): ahead of the ramp and to port [m]."""
    path = circuit.path
    gone = circuit.ship_speed * path.time
    course = np.float64(circuit.ship_course)
    ahead, port = ship_components(path.east.values, path.north.values, np.asarray(course))
    return np.column_stack([ahead - gone, port])


def turned_in_late(circuit: CircuitResult, late: Late) -> Floats | None:
    """The way of one who turns in late, from the planned turn-in to the ramp, (n, 2); None for one early.

    The final turn is the planned one, further astern by what the delay is worth; then straight on to the ramp.
    """
    if late.straight_time is None:
        return None
    way, time = seen_from_ship(circuit), circuit.path.time - circuit.initial_to_break
    final = way[(time >= circuit.gates["turn-in"].time) & (time <= circuit.gates["ramp"].time)]
    shifted = final + np.array([late.rolled_out_ahead, 0.0])
    return np.vstack([final[:1], shifted, [[0.0, late.off_centre or 0.0]]])


def plan_drawing(circuit: CircuitResult, deck: Deck, heading: Heading, sheet: PlanSheet, name: str) -> ET.Element:
    """The plan. name : makes the ids of the drawing its own."""
    way = seen_from_ship(circuit)
    late = turned_in_late(circuit, circuit.late[LATE]) if LATE in circuit.late else None
    return _Plan(circuit, way, late, deck, heading, sheet).draw(name)


class _Plan:
    def __init__(
        self, circuit: CircuitResult, way: Floats, late: Floats | None, deck: Deck, heading: Heading, sheet: PlanSheet
    ) -> None:
        self.circuit, self.way, self.late, self.deck, self.heading, self.sheet = (
            circuit,
            way,
            late,
            deck,
            heading,
            sheet,
        )
        self.text = {figure.key: figure.text for figure in figures_of(circuit)}
        self.out = float(circuit.hand)  # sheet x towards the downwind side: port is to the left
        self.pen = Sheet(sheet.width, sheet.height, sheet.size)
        self.scale = self._scale()

    def _scale(self) -> Scale:
        sheet = self.sheet
        everything = self.way if self.late is None else np.vstack([self.way, self.late])
        low, high = np.min(everything, axis=0), np.max(everything, axis=0)
        left, right = (sheet.outside, sheet.inside) if self.out < 0.0 else (sheet.inside, sheet.outside)
        wide, tall = sheet.width - left - right, sheet.height - sheet.top - sheet.bottom
        per_metre = min(wide / (high[1] - low[1]), tall / (high[0] - low[0]))
        spare = wide - per_metre * (high[1] - low[1])
        x = left + spare / 2.0 + high[1] * per_metre
        y = sheet.top + (tall - per_metre * (high[0] - low[0])) / 2.0 + high[0] * per_metre
        return Scale(per_metre, float(x), float(y))

    def draw(self, name: str) -> ET.Element:
        self._graticule()
        self._ship()
        self._ways()
        self._sight()
        self._abeam()
        self._wind_and_north()
        self._gates()
        title = f"Plan of the circuit, flight course up the sheet, {self.heading.over_deck} over the deck"
        told = [
            f"{GATE_WORDS[key]} {self.text[f'gates.{key}.time']} from the break, "
            f"{sided(gate.ahead, AHEAD_OF_RAMP, 'ahead of the ramp', 'astern of it')}, "
            f"{sided(gate.port, DISTANCE, 'to port', 'to starboard')}"
            for key, gate in self.circuit.gates.items()
        ]
        drawing = self.pen.svg(name, title, f"The way flown as seen from the ship: {'; '.join(told)}.")
        drawing.set("data-drawing", "plan")
        for key, value in (("per-metre", self.scale.per_metre), ("ramp-x", self.scale.x), ("ramp-y", self.scale.y)):
            drawing.set(f"data-{key}", repr(float(value)))
        return drawing

    def _place(self, row: Sequence[float] | Floats) -> Point:
        return self.scale.on_sheet(float(row[0]), float(row[1]))

    def _gate(self, name: str) -> Point:
        gate = self.circuit.gates[name]
        return self.scale.on_sheet(gate.ahead, gate.port)

    def _graticule(self) -> None:
        """The neat line with a tick every 100 yd, long every 500; rings every 500 yd round the ramp."""
        pen, sheet = self.pen, self.sheet
        edge = 1.0
        right, foot = sheet.width - edge, sheet.height - edge
        pen.line([(edge, edge), (right, edge), (right, foot), (edge, foot), (edge, edge)], "edge", covers=False)
        step = 100.0 * YARD * self.scale.per_metre
        for x0, along, limit in ((self.scale.x, 0, sheet.width), (self.scale.y, 1, sheet.height)):
            for i in range(math.ceil(-x0 / step), math.floor((limit - x0) / step) + 1):
                at, long = x0 + i * step, 9.0 if i % 5 == 0 else 4.5
                for start, end in ((edge, edge + long), ((foot, right)[along], (foot, right)[along] - long)):
                    ends = [(at, start), (at, end)] if along == 0 else [(start, at), (end, at)]
                    pen.line(ends, "hair", covers=False)
        reach = math.hypot(sheet.width, sheet.height)
        for i in range(1, math.floor(reach / (5.0 * step)) + 1):
            self._ring(5.0 * step * i)

    def _ring(self, radius: float) -> None:
        margin = 12.0
        piece: list[Point] = []
        for degrees in range(0, 362, 2):
            angle = math.radians(degrees)
            at = (self.scale.x + radius * math.sin(angle), self.scale.y - radius * math.cos(angle))
            free = margin < at[0] < self.sheet.width - margin and margin < at[1] < self.sheet.height - margin
            if free:
                piece.append(at)
            if len(piece) > 1 and (not free or degrees == 360):
                self.pen.line(piece, "ring", covers=False)
            if not free:
                piece = []

    def _ship(self) -> None:
        """The deck to scale: ramp square, bow rounded, island on the starboard edge; her centre line astern."""
        length, half = self.deck.length, self.deck.width / 2.0
        bow = 0.12 * length
        outline = [(0.0, half), (length - bow, half), (length - 0.35 * bow, 0.62 * half), (length, 0.25 * half)]
        outline += [(ahead, -port) for ahead, port in reversed(outline)]
        self.pen.line([self._place(row) for row in [*outline, outline[0]]], "thin")
        self.pen.line([self._place((0.0, half)), self._place((0.0, -half))], "flown", covers=False)
        long, wide = 60.0 * FOOT, max(18.0 * FOOT, 2.0 / self.scale.per_metre)
        aft, edge = self.deck.island_place - long / 2.0, -half
        island = [(aft, edge), (aft + long, edge), (aft + long, edge - wide), (aft, edge - wide)]
        self.pen.line([self._place(row) for row in island], "hair", filled=True)
        top, foot = (self.scale.x, self.sheet.height - 12.0), self._place((0.0, 0.0))
        self.pen.line([top, foot], "hair", covers=False)

    def _ways(self) -> None:
        if self.late is not None:
            # the first stretch goes on down the downwind leg, the last comes up the centre line
            self.pen.line([self._place(row) for row in self.late], "late")
        self.pen.line([self._place(row) for row in self.way], "flown")
        time = self.circuit.path.time - self.circuit.initial_to_break
        gates = self.circuit.gates
        spans = [("initial", "break"), ("break", "downwind"), ("turn-in", "ramp")]
        for first, last in spans:
            self._direction(time, 0.5 * (gates[first].time + gates[last].time))

    def _direction(self, time: Floats, when: float) -> None:
        i = int(np.searchsorted(time, when))
        tip, before = self._place(self.way[i]), self._place(self.way[i - 1])
        towards = (tip[0] - before[0], tip[1] - before[1])
        if math.hypot(*towards) > 0.0:
            self.pen.arrow_head(tip, towards, 0.75 * self.sheet.size)

    def _sight(self) -> None:
        """The line of sight from the turn-in to the ramp, the line of the nose, and the angle between."""
        turn_in, ramp = self._gate("turn-in"), self.scale.on_sheet(0.0, 0.0)
        self.pen.line([turn_in, ramp], "sight")
        nose = self.circuit.gates["turn-in"].heading - self.circuit.ship_course
        sight = math.atan2(ramp[0] - turn_in[0], turn_in[1] - ramp[1])
        reach = min(0.45 * math.dist(turn_in, ramp), 4.5 * self.sheet.size)
        if not self.sheet.figures:
            return
        between = math.remainder(sight - nose, math.tau)
        arc = [
            (turn_in[0] + reach * math.sin(nose + between * part), turn_in[1] - reach * math.cos(nose + between * part))
            for part in np.linspace(0.0, 1.0, 19)
        ]
        self.pen.line(arc, "thin")
        self.pen.line([turn_in, (arc[0][0] * 1.25 - turn_in[0] * 0.25, arc[0][1] * 1.25 - turn_in[1] * 0.25)], "thin")
        middle = arc[10]
        away = (middle[0] - turn_in[0], middle[1] - turn_in[1])
        self.pen.label(middle, [self.text["ramp_off_nose"], "off the nose"], away, gap=6.0)

    def _abeam(self) -> None:
        """How far the downwind leg is from the centre line, as a dimension across."""
        first, last = self.circuit.gates["downwind"], self.circuit.gates["turn-in"]
        ahead = last.ahead + 0.5 * (first.ahead - last.ahead)
        side = 0.5 * (first.port + last.port)
        from_, to = self.scale.on_sheet(ahead, 0.0), self.scale.on_sheet(ahead, side)
        head = 0.5 * self.sheet.size
        inset = 2.5 * self.out
        from_, to = (from_[0] + inset * 0.5, from_[1]), (to[0] - inset, to[1])
        self.pen.line([from_, to], "thin")
        self.pen.arrow_head(to, (to[0] - from_[0], 0.0), head)
        self.pen.arrow_head(from_, (from_[0] - to[0], 0.0), head)
        self.pen.line([(self.scale.x, from_[1] - 6.0), (self.scale.x, from_[1] + 6.0)], "hair", covers=False)
        middle = ((from_[0] + to[0]) / 2.0, from_[1])
        texts = [f"{self.text['abeam']} abeam"] if self.sheet.figures else ["abeam"]
        self.pen.label(middle, texts, (0.0, -1.0), gap=5.0)

    def _wind_and_north(self) -> None:
        """On the side away from the downwind leg: the wind over the deck, true north, and the scale."""
        sheet, size = self.sheet, self.sheet.size
        x = sheet.width - sheet.inside / 2.0 if self.out < 0.0 else sheet.inside / 2.0
        y = sheet.top + (0.5 * (sheet.height - sheet.top - sheet.bottom))
        long = 3.6 * size
        toward = (-math.sin(self.heading.off_bow), math.cos(self.heading.off_bow))
        start = (x - toward[0] * long / 2.0, y - toward[1] * long / 2.0)
        end = (x + toward[0] * long / 2.0, y + toward[1] * long / 2.0)
        self.pen.line([start, end], "flown")
        self.pen.arrow_head(end, toward, 0.8 * size)
        self.pen.line([start, (start[0] - toward[0] * 0.4 * size, start[1] - toward[1] * 0.4 * size)], "flown")
        below = y + long / 2.0 + 1.2 * size
        self._stacked((x, below), [self.heading.over_deck, "over the deck"] if sheet.figures else ["wind"])
        if sheet.figures:
            self._course((x, y - 8.0 * size))
        north = (-math.sin(self.circuit.ship_course), -math.cos(self.circuit.ship_course))
        y = sheet.height - sheet.bottom - 2.2 * size
        reach = (1.5 if sheet.figures else 1.1) * size
        tip, tail = (x + north[0] * reach, y + north[1] * reach), (x - north[0] * reach, y - north[1] * reach)
        self.pen.line([tail, tip], "thin")
        self.pen.arrow_head(tip, north, 0.6 * size)
        self.pen.words((tip[0] + north[0] * 0.7 * size, tip[1] + north[1] * 0.7 * size + 0.26 * size), "N", "middle")
        if sheet.figures:
            self._scale_bar()

    def _stacked(self, at: Point, texts: Sequence[str]) -> None:
        for i, text in enumerate(texts):
            bold = self.sheet.figures and i == 0
            self.pen.words((at[0], at[1] + 1.05 * i * self.sheet.size), text, "middle", bold=bold)

    def _course(self, at: Point) -> None:
        """Which way is up."""
        size = self.sheet.size
        self.pen.line([(at[0], at[1]), (at[0], at[1] - 2.0 * size)], "thin")
        self.pen.arrow_head((at[0], at[1] - 2.6 * size), (0.0, -1.0), 0.6 * size)
        texts = [self.heading.course, self.heading.shown, "flight course"]
        self._stacked((at[0], at[1] + 1.1 * size), texts)

    def _scale_bar(self) -> None:
        """A bar of yards at the foot, as long as fits."""
        sheet, size = self.sheet, self.sheet.size
        step = 100.0 * YARD * self.scale.per_metre
        count = 10 if 10.0 * step < 0.45 * sheet.width else 5
        left, y = 16.0, sheet.height - 16.0
        if self.out > 0.0:
            left = sheet.width - 16.0 - 3.0 * size - count * step
        for i in range(count):
            x0, x1 = left + i * step, left + (i + 1) * step
            corners = [(x0, y - 5.0), (x1, y - 5.0), (x1, y), (x0, y), (x0, y - 5.0)]
            self.pen.line(corners, "hair", filled=i % 2 == 0)
        self.pen.words((left - 1.0, y - 9.0), "0", "start", size=0.85 * size)
        self.pen.words((left + count * step, y - 9.0), f"{100 * count:,} yd", "middle", size=0.85 * size)

    def _gates(self) -> None:
        out, figures = self.out, self.sheet.figures
        sides: dict[str, Point] = {
            "initial": (-out, -0.3), "break": (-out, 0.0), "downwind": (out, 0.0), "turn-in": (out, 0.0),
            "abeam": (out, 0.0), "ninety": (out, 0.4), "ramp": (-out, 0.15),
        }  # fmt: skip
        shown = [name for name in self.circuit.gates if name in sides and (figures or name != "abeam")]
        for name in shown:
            self.pen.mark(self._gate(name), 0.24 * self.sheet.size, filled=name == "turn-in")
        for name in shown:
            texts = [GATE_WORDS[name]]
            if figures and name != "initial":
                texts.append(self.text[f"gates.{name}.time"])
            self.pen.label(self._gate(name), texts, sides[name], bold=True)
        if self.late is not None:
            lowest = self._place(self.late[int(np.argmin(self.late[:, 0]))])
            self.pen.label(lowest, ["turned in 4 s late" if figures else "late"], (out, 0.6), gap=6.0)


def deck_of(day: Day) -> Deck:
    """The deck of the day's ship."""
    return Deck(*(day.number(f"ship.{name}") for name in ("deck_length", "deck_width", "deck_height", "island_place")))
