"""The stack's side view: text clear of text and inside the sheet, marks where the flights wait. Constructed cases."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from tests.cards.test_day_cards import to_the_second

from roundown.cards.drawing import Box, text_box
from roundown.cards.recovery_card import LOOK
from roundown.cards.stack_drawing import PAGE, StackLook, stack_drawings
from roundown.day.facts import circuit_facts, wind_rows
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.plan.read import day_of
from roundown.quantities import CLOCK_TIME, write
from roundown.recovery.feed import FeedFacts
from roundown.recovery.landing_order import By, HurtLand, Returning
from roundown.recovery.stack import Stack, StackFacts, solve_stack

KT, FT, DEG = 1852.0 / 3600.0, 0.3048, math.pi / 180.0
StackOf = Callable[[list[int]], Stack]


@pytest.fixture(scope="session")
def stack_of() -> StackOf:
    """Solves a stack of so many in each flight, in the demo's wind; the last of more than two is wounded."""
    document = parse_document("plan.toml", (Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8"))
    assert isinstance(document, Document)
    day = day_of(document)
    flight = solve(day).flight
    circuit = circuit_facts(day, wind_rows(day), flight.course, flight.speed)

    def make(counts: list[int]) -> Stack:
        back = [
            Returning(f"{i + 1}0{k}", f"bombing {i + 1}", trouble="wounded" if len(counts) > 2 and i + k == 0 else "")
            for i, count in enumerate(counts)
            for k in range(count)
        ]
        facts = StackFacts(
            returning=tuple(back), most=12, by=By.FUEL, hurt=HurtLand.LAST, lowest=1000.0 * FT, block=1000.0 * FT,
            wait=15.0, feed=FeedFacts(circuit, 130.0 * KT, 20.0 * DEG, 1000.0 * FT / 60.0), interval=30.0,
            initial_to_ramp=115.0, recovery=62700.0,
        )  # fmt: skip
        stack = solve_stack(facts)
        assert isinstance(stack, Stack)
        return stack

    return make


def drawings_of(stack: Stack, look: StackLook = PAGE) -> tuple[ET.Element, ...]:
    who = {key: f"{flight.name}: {', '.join(flight.aeroplanes)}" for key, flight in stack.flights.items()}
    return stack_drawings(stack, 300.0 * FT, who if look is PAGE else {}, "stack", look)


@pytest.mark.parametrize("look", [PAGE, LOOK], ids=["page", "card"])
@pytest.mark.parametrize("counts", [[1], [4, 4], [4, 4, 4, 4], [12, 12, 12, 4, 4, 1, 1], [1] * 11])
def test_no_text_covers_another_or_leaves_the_sheet(stack_of: StackOf, counts: list[int], look: StackLook) -> None:
    """Constructed: one aeroplane to twelve flights, a dozen in one."""
    for drawing in drawings_of(stack_of(counts), look):
        width, height = (float(part) for part in drawing.attrib["viewBox"].split()[2:])
        assert width == look.width
        boxes = []
        for text in drawing.iter("text"):
            size, bold = float(text.attrib["font-size"]), "font-weight" in text.attrib
            x, y, words = float(text.attrib["x"]), float(text.attrib["y"]), text.text or ""
            boxes.append((words, text_box(x, y, words, size, text.attrib["text-anchor"], bold=bold)))
        for words, box in boxes:
            assert box.within(Box(0.0, 0.0, width, height)), words
        for (first, one), (second, other) in combinations(boxes, 2):
            assert not one.meets(other), f"{first} over {second}"
        assert {text.attrib["font-family"] for text in drawing.iter("text")} == {"Libertinus Serif"}


def test_each_flight_is_marked_in_its_block_and_every_time_stands_once_beside_its_arrow(stack_of: StackOf) -> None:
    """Constructed: marks a block apart, lowest flight lowest; times those of the figures."""
    stack = stack_of([4, 4, 4])
    (drawing,) = drawings_of(stack)
    marks = [(float(mark.attrib["cx"]), float(mark.attrib["cy"])) for mark in drawing.iter("circle")]
    assert len(marks) == len(stack.flights) == 4
    assert [y - marks[0][1] for _, y in marks] == pytest.approx([-PAGE.block * i for i in range(4)])
    assert [x for x, _ in marks] == sorted(x for x, _ in marks)
    texts = [text.text for text in drawing.iter("text")]
    for flight in stack.flights.values():
        for stay in flight.steps.values():
            assert texts.count(to_the_second(write(stay.leaves, CLOCK_TIME))) == 1
        assert to_the_second(write(flight.at_initial, CLOCK_TIME)) in texts
    assert "bombing 1 alone 100: 100" in texts
    assert "bombing 2: 200, 201, 202, 203" in texts
    assert {"1,000 ft", "2,000 ft", "3,000 ft", "4,000 ft", "300 ft"} <= set(texts)


def test_more_flights_than_go_abreast_are_shared_out_evenly_each_once(stack_of: StackOf) -> None:
    """Own arithmetic: five go abreast on a card: twelve are drawn in fours, each sheet up to its highest block."""
    stack = stack_of([1] * 12)
    assert LOOK.abreast == 5
    drawn = [
        [text.text for text in each.iter("text") if "font-weight" in text.attrib] for each in drawings_of(stack, LOOK)
    ]
    assert drawn == [[str(i) for i in range(first, first + 4)] for first in (1, 5, 9)]
    highs = [float(each.attrib["viewBox"].split()[3]) for each in drawings_of(stack, LOOK)]
    assert highs == pytest.approx([LOOK.height(blocks) for blocks in (4, 8, 12)], abs=0.1)


def test_the_day_of_a_time_is_left_to_the_card(stack_of: StackOf) -> None:
    """Constructed: the same stack a day later."""
    stack = stack_of([1])
    (key,) = stack.flights
    flight = stack.flights[key]
    late = replace(flight, steps={n: replace(stay, leaves=stay.leaves + 86400.0) for n, stay in flight.steps.items()})
    (drawing,) = drawings_of(replace(stack, flights={key: late}))
    assert not any("day" in (text.text or "") for text in drawing.iter("text"))
    assert "next day" in (drawing.findtext("desc") or "")


def test_it_is_black_on_white_and_tells_itself_to_those_who_hear_it(stack_of: StackOf) -> None:
    """Constructed."""
    (drawing,) = drawings_of(stack_of([2, 2]))
    inks = {element.attrib[name] for element in drawing.iter() for name in ("stroke", "fill") if name in element.attrib}
    assert inks <= {"#000", "#fff", "none"}
    told = drawing.find("desc")
    assert isinstance(told, ET.Element)
    assert told.text is not None
    assert told.text.startswith("bombing 1: 1,000 ft until ")


def test_two_drawings_on_one_page_have_ids_of_their_own(stack_of: StackOf) -> None:
    """Constructed."""
    stack = stack_of([1])
    drawn = [drawing for name in ("one", "two") for drawing in stack_drawings(stack, 300.0 * FT, {}, name)]
    ids = [element.attrib["id"] for drawing in drawn for element in drawing.iter() if "id" in element.attrib]
    assert len(ids) == len(set(ids)) == 4
