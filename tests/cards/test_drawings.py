"""The drawings: text clear of text and inside the sheet, and places where the figures say. Constructed cases."""

from __future__ import annotations

import math
from itertools import combinations, pairwise
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.cards.conftest import RIGHT_HAND, SHIPS, WINDS, SolvedBy

from roundown.cards.circuit_card import CARD_PLAN
from roundown.cards.circuit_drawing import (
    PAGE_PLAN,
    Heading,
    PlanSheet,
    deck_of,
    plan_drawing,
    seen_from_ship,
    turned_in_late,
)
from roundown.cards.drawing import Box, Scale, text_box, thinned
from roundown.cards.elevation_drawing import elevation_drawing
from roundown.cards.ship_drawing import rose_drawing, track_drawing
from roundown.recovery.result import CircuitResult

BUNDLED = {"Libertinus Serif", "New Computer Modern", "DejaVu Sans Mono"}
DAYS = [(doctrine, wind, more) for doctrine in SHIPS for wind in WINDS for more in ("", RIGHT_HAND)]


def text_boxes(drawing: ET.Element) -> list[tuple[str, Box]]:
    """The room of each text, judged by its length."""
    found = []
    for text in drawing.iter("text"):
        size, bold = float(text.attrib["font-size"]), "font-weight" in text.attrib
        x, y, words = float(text.attrib["x"]), float(text.attrib["y"]), text.text or ""
        found.append((words, text_box(x, y, words, size, text.attrib["text-anchor"], bold=bold)))
    return found


def assert_clear(drawing: ET.Element) -> None:
    width, height = (float(part) for part in drawing.attrib["viewBox"].split()[2:])
    sheet = Box(0.0, 0.0, width, height)
    boxes = text_boxes(drawing)
    assert boxes
    for words, box in boxes:
        assert box.within(sheet), words
    for (first, one), (second, other) in combinations(boxes, 2):
        assert not one.meets(other), f"{first} over {second}"
    assert {text.attrib["font-family"] for text in drawing.iter("text")} <= BUNDLED


@pytest.mark.parametrize(("doctrine", "wind", "more"), DAYS)
@pytest.mark.parametrize("sheet", [PAGE_PLAN, CARD_PLAN], ids=["page", "card"])
def test_no_text_covers_another_or_leaves_the_plan(
    solved: SolvedBy, doctrine: str, wind: str, more: str, sheet: PlanSheet
) -> None:
    found = solved(doctrine, wind, more=more)
    circuit = found.solution.circuit
    assert isinstance(circuit, CircuitResult)
    heading = Heading("094", "magnetic", "30.0 kt", found.solution.flight.off_bow)
    assert_clear(plan_drawing(circuit, deck_of(found.day), heading, sheet, "plan"))
    assert_clear(elevation_drawing(circuit, deck_of(found.day), "side"))


@pytest.mark.parametrize("doctrine", SHIPS)
def test_no_text_covers_another_in_any_wind_of_the_dial(solved: SolvedBy, doctrine: str) -> None:
    found = solved(doctrine)
    for knots, circuit in found.dial.items():
        assert isinstance(circuit, CircuitResult)
        heading = Heading("094", "magnetic", f"{knots} kt", 0.0)
        assert_clear(plan_drawing(circuit, deck_of(found.day), heading, PAGE_PLAN, "plan"))
        assert_clear(elevation_drawing(circuit, deck_of(found.day), "side"))


@pytest.mark.parametrize(("doctrine", "wind", "more"), DAYS)
def test_no_text_covers_another_on_the_ships_drawings(solved: SolvedBy, doctrine: str, wind: str, more: str) -> None:
    found = solved(doctrine, wind, more=more)
    course, speed = found.day.number("ship.base_course"), found.day.number("ship.base_speed")
    assert_clear(rose_drawing(found.solution.flight, course, 164.0, 11.0, "rose"))
    assert_clear(track_drawing(found.solution.turn, course, speed, 164.0, 180.0, 11.0, "track"))


def test_the_way_seen_from_the_ship_goes_through_the_gates(solved: SolvedBy) -> None:
    """Second method: the gates were put into the ship frame one by one by the path engine."""
    circuit = solved().solution.circuit
    assert isinstance(circuit, CircuitResult)
    way, time = seen_from_ship(circuit), circuit.path.time - circuit.initial_to_break
    for gate in circuit.gates.values():
        assert np.interp(gate.time, time, way[:, 0]) == pytest.approx(gate.ahead, abs=0.5)
        assert np.interp(gate.time, time, way[:, 1]) == pytest.approx(gate.port, abs=0.5)


def test_one_who_turns_in_late_rolls_out_astern_and_ends_at_the_ramp(solved: SolvedBy) -> None:
    """Second method: the late turn was flown by the path engine, the drawn one is the planned one shifted."""
    circuit = solved().solution.circuit
    assert isinstance(circuit, CircuitResult)
    late = circuit.late["late_4_s"]
    way = turned_in_late(circuit, late)
    assert way is not None
    assert way[-1] == pytest.approx([0.0, 0.0], abs=1.0)
    assert way[-2, 0] == pytest.approx(late.rolled_out_ahead, abs=1.0)
    assert way[-2, 1] == pytest.approx(0.0, abs=1.0)
    assert turned_in_late(circuit, circuit.late["early_4_s"]) is None


@given(st.floats(0.01, 2.0), st.floats(-3000.0, 3000.0), st.floats(-3000.0, 3000.0))
def test_ahead_is_up_and_port_is_to_the_left(per_metre: float, ahead: float, port: float) -> None:
    scale = Scale(per_metre, 300.0, 500.0)
    x, y = scale.on_sheet(ahead, port)
    assert (500.0 - y) / per_metre == pytest.approx(ahead, abs=1e-6)
    assert (300.0 - x) / per_metre == pytest.approx(port, abs=1e-6)


def test_a_thinned_line_stays_within_its_tolerance() -> None:
    """A circle of 100 units, known in closed form: every chord kept lies within the tolerance of the arc."""
    circle = [(100.0 * math.cos(i / 100.0), 100.0 * math.sin(i / 100.0)) for i in range(315)]
    kept = thinned(circle, 0.15)
    assert len(kept) < 60
    for (x0, y0), (x1, y1) in pairwise(kept):
        assert math.hypot((x0 + x1) / 2.0, (y0 + y1) / 2.0) > 100.0 - 0.17


def test_a_drawing_can_be_heard(solved: SolvedBy) -> None:
    circuit = solved().solution.circuit
    assert isinstance(circuit, CircuitResult)
    drawing = elevation_drawing(circuit, deck_of(solved().day), "side")
    named = drawing.attrib["aria-labelledby"].split()
    assert [part.attrib["id"] for part in drawing if part.tag in {"title", "desc"}] == named
    assert "turn-in 175 ft" in (drawing.findtext("desc") or "")
