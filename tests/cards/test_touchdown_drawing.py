"""The touchdown drawn from the side: text clear of text, and everything where the figures say. Constructed cases."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
from tests.cards.test_drawings import assert_clear, text_boxes
from tests.recovery.touchdown_cases import DEG, DOWN, FT, GEAR, GOOD, LATE, ROUGH

from roundown.cards.touchdown_drawing import HEIGHT, WIDTH, touchdown_drawing
from roundown.recovery.deck_motion import OFF
from roundown.recovery.touchdown import TouchdownFacts, solve_touchdown
from roundown.recovery.touchdown_result import Touchdown

CASES = {
    "good": GOOD,
    "late": LATE,
    "rough": replace(GOOD, motion=ROUGH),
    "struck": replace(GOOD, ramp_height=0.4 * FT),
    "short": replace(GOOD, cut_ahead=-90.0),
    "far astern": replace(LATE, cut_ahead=-100.0),
    "high": replace(LATE, ramp_height=30.0 * FT),
    "few wires": replace(GOOD, gear=replace(GEAR, wires=3, spacing=8.0 * FT, barrier_place=140.0 * FT)),
    "long gear": replace(GOOD, gear=replace(GEAR, wires=30, barrier_place=700.0 * FT)),
    "down": DOWN,
    "steep and far astern": replace(DOWN, slope=4.0 * DEG, cut_ahead=-100.0),
    "throttle open": replace(DOWN, cut_ahead=60.0),
    "struck down a slope": replace(DOWN, ramp_height=0.4 * FT),
    "cut past the gear": replace(GOOD, cut_ahead=180.0, ramp_height=30.0 * FT),
    "gear from the ramp on": replace(GOOD, gear=replace(GEAR, first_wire=1.0, spacing=7.0)),
    "barrier among the wires": replace(GOOD, gear=replace(GEAR, barrier_place=200.0 * FT)),
    "barrier behind the last wire": replace(GOOD, gear=replace(GEAR, wires=12, barrier_place=290.0 * FT)),
}


def drawn(facts: TouchdownFacts) -> tuple[Touchdown, ET.Element]:
    found = solve_touchdown(facts)
    assert isinstance(found, Touchdown)
    return found, touchdown_drawing(found, facts, "side")


def marks(drawing: ET.Element) -> list[tuple[float, float, bool]]:
    return [
        (float(mark.attrib["cx"]), float(mark.attrib["cy"]), mark.attrib["fill"] == "#000")
        for mark in drawing.iter("circle")
    ]


@pytest.mark.parametrize("case", CASES)
def test_no_text_covers_another_and_the_ink_stays_on_the_sheet(case: str) -> None:
    _, drawing = drawn(CASES[case])
    assert_clear(drawing)
    for path in drawing.iter("path"):
        numbers = [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", path.attrib["d"])]
        assert all(0.0 <= x <= WIDTH for x in numbers[::2]), case
        assert all(0.0 <= y <= HEIGHT for y in numbers[1::2]), case


def test_lengths_are_to_scale() -> None:
    """Own arithmetic: from the cut to where the wheels touch on the sheet as in the figures, by the wires' spacing."""
    found, drawing = drawn(GOOD)
    (cut, high, _), (touch, deck, full), (hook, low, _) = marks(drawing)
    assert full
    assert low == deck
    per_metre = (touch - cut) / (found.touch_ahead - GOOD.cut_ahead)
    assert touch - hook == pytest.approx((found.touch_ahead - found.hook_ahead) * per_metre, abs=0.1)
    assert 1.0 < (deck - high) / GOOD.ramp_height / per_metre < 4.01
    named = {words: (box.left + box.right) / 2.0 for words, box in text_boxes(drawing)}
    spacing = (named["11"] - named["wire 1"]) / 10.0
    assert spacing == pytest.approx(GEAR.spacing * per_metre, abs=0.1)


def test_the_path_comes_down_the_slope_to_the_cut() -> None:
    """Own arithmetic: 80.09 kt down 3 degrees into 30 of wind falls 4.192 ft in 49.98, so 0.08387 of what it runs."""
    found, drawing = drawn(DOWN)
    (cut, high, _), (touch, deck, _), _ = marks(drawing)
    per_metre = (touch - cut) / (found.touch_ahead - DOWN.cut_ahead)
    lines = [
        [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", path.attrib["d"])]
        for path in drawing.iter("path")
        if path.attrib["stroke-width"] == "2.4"
    ]
    wheels = max(lines, key=len)
    larger = float(re.findall(r"heights ([\d.]+) times", drawing.findtext("desc") or "")[0])
    fallen, run = high - wheels[1], cut - wheels[0]
    assert fallen / run / larger == pytest.approx(0.08387, rel=0.02)
    assert (deck - high) / per_metre / larger == pytest.approx(DOWN.ramp_height + 0.08387 * 30.0 * FT, rel=0.02)
    assert f"Cut {found.cut_height / FT:.1f} ft over the deck" in (drawing.findtext("desc") or "")


def test_it_says_what_it_takes_and_whether_the_deck_moves() -> None:
    found, drawing = drawn(GOOD)
    told = drawing.findtext("desc") or ""
    assert found.arresting is not None
    assert f"wire {found.arresting.wire} of 11" in told
    assert OFF in told
    assert "no wire" in (drawn(LATE)[1].findtext("desc") or "")
    assert "the ramp is struck" in (drawn(CASES["struck"])[1].findtext("desc") or "")
    assert "pitch 0.5 deg" in (drawn(CASES["rough"])[1].findtext("desc") or "")


def test_it_is_black_on_white() -> None:
    for case in CASES.values():
        inks = {each.attrib.get("stroke") for each in drawn(case)[1].iter()} - {None}
        assert inks <= {"#000", "#fff"}
