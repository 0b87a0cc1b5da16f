"""The circuit from the side: height over the sea against time from the break, with the deck's height across it.

Its scales stand on the drawing's root, for whoever puts a mark on it [sheet units]: data-left at the break and
data-per-second; data-foot at the sea, data-per-metre and data-top at the greatest height.
"""

from __future__ import annotations

from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.circuit_drawing import GATE_WORDS, Deck
from roundown.cards.drawing import Box, Point, Scale, Sheet, text_box
from roundown.figures import figures_of
from roundown.quantities import FOOT, HEIGHT_OVER_SEA, TIME, write
from roundown.recovery.result import CircuitResult

WIDTH, HEIGHT, SIZE = 600.0, 284.0, 16.0
LEFT, RIGHT, TOP, UNDER = 58.0, 26.0, 92.0, 28.0
SHOWN = ("break", "downwind", "turn-in", "abeam", "ninety", "ramp")
ROWS = (16.0, 16.0 + 2.3 * SIZE)  # base lines of the two rows in which the gates are named
HUNDRED = 100.0 * FOOT


def elevation_drawing(circuit: CircuitResult, deck: Deck, name: str) -> ET.Element:
    """The elevation, from the break to the ramp. name : makes the ids of the drawing its own."""
    return _Elevation(circuit, deck).draw(name)


class _Elevation:
    def __init__(self, circuit: CircuitResult, deck: Deck) -> None:
        self.circuit, self.deck = circuit, deck
        self.pen = Sheet(WIDTH, HEIGHT, SIZE)
        self.gates = [circuit.gates[key] for key in SHOWN if key in circuit.gates]
        self.last = circuit.gates["ramp"].time
        self.highest = float(np.max(circuit.path.height.values))
        self.up = Scale((HEIGHT - UNDER - TOP) / self.highest, 0.0, HEIGHT - UNDER)

    def draw(self, name: str) -> ET.Element:
        self._scales()
        self._deck()
        time = self.circuit.path.time - self.circuit.initial_to_break
        rows = zip(time, self.circuit.path.height.values, strict=True)
        self._names()
        self.pen.line([self._place(float(t), float(h)) for t, h in rows if 0.0 <= t <= self.last], "flown")
        for gate in self.gates:
            self.pen.mark(self._place(gate.time, gate.height), 0.26 * SIZE, filled=gate.name == "turn-in")
        told = "; ".join(f"{GATE_WORDS[gate.name]} {self._height(gate.name)}" for gate in self.gates)
        title = "Elevation: height over the sea against time from the break"
        over_sea = write(self.deck.height, HEIGHT_OVER_SEA)
        drawing = self.pen.svg(name, title, f"{told}; the deck is {over_sea} over the sea.")
        drawing.set("data-drawing", "elevation")
        scales = {
            "left": LEFT, "per-second": (WIDTH - LEFT - RIGHT) / self.last,
            "foot": self.up.y, "per-metre": self.up.per_metre, "top": TOP,
        }  # fmt: skip
        for key, value in scales.items():
            drawing.set(f"data-{key}", repr(float(value)))
        return drawing

    def _height(self, gate: str) -> str:
        return next(found.text for found in figures_of(self.circuit) if found.key == f"gates.{gate}.height")

    def _place(self, when: float, height: float) -> Point:
        return LEFT + (WIDTH - LEFT - RIGHT) * when / self.last, self.up.on_sheet(height, 0.0)[1]

    def _scales(self) -> None:
        pen = self.pen
        pen.line([self._place(0.0, self.highest), self._place(0.0, 0.0), self._place(self.last, 0.0)], "edge")
        for i in range(int(self.highest / HUNDRED) + 1):
            at = self._place(0.0, i * HUNDRED)
            pen.line([(at[0] - 6.0, at[1]), at], "thin")
            pen.words((at[0] - 9.0, at[1] + 0.26 * SIZE), write(i * HUNDRED, HEIGHT_OVER_SEA), "end", size=14.0)
        step = 10.0 if self.last < 100.0 else 20.0
        for i in range(int(self.last / step) + 1):
            at = self._place(i * step, 0.0)
            pen.line([at, (at[0], at[1] + 6.0)], "thin")
            pen.words((at[0], at[1] + 20.0), write(i * step, TIME, decimals=0), "middle", size=14.0)

    def _deck(self) -> None:
        left, right = self._place(0.0, self.deck.height), self._place(self.last, self.deck.height)
        self.pen.line([left, right], "late")
        self.pen.words((left[0] + 8.0, left[1] - 5.0), f"deck {write(self.deck.height, HEIGHT_OVER_SEA)}")

    def _names(self) -> None:
        taken: list[Box] = []
        for gate in self.gates:
            at = self._place(gate.time, gate.height)
            texts = [GATE_WORDS[gate.name], self._height(gate.name)]
            half = max(text_box(0.0, 0.0, text, SIZE, "start", bold=True).right for text in texts) / 2.0
            x = min(max(at[0], half + 4.0), WIDTH - half - 4.0)
            y = ROWS[0]
            if any(text_box(x, y, text, SIZE, "middle", bold=True).meets(box) for text in texts for box in taken):
                y = ROWS[1]
            self.pen.line([(at[0], y + 1.4 * SIZE), at], "hair", covers=False)
            for i, text in enumerate(texts):
                taken.append(self.pen.words((x, y + 1.05 * i * SIZE), text, "middle", bold=i == 0))
