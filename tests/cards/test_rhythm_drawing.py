"""The deck's rhythm in pictures: true to count and to time, every number with its unit. Constructed cases."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations
from typing import Any
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from roundown.cards.drawing import Box, text_box
from roundown.cards.rhythm_drawing import deck_strip, rhythm_drawing
from roundown.quantities import Band
from roundown.recovery.cycle import Homing, RhythmFacts
from roundown.recovery.day_cycle import Back, Off, Turn, deck_day
from roundown.recovery.rhythm import Rhythm, rhythm

HOUR = 3600.0
LEFT, RIGHT = 3.2 * 13.0, 420.0 - 13.0  # ends of the axis of the bars


@cache
def drawn_rhythm(scatter: float = 4.0, barrier_hits: float = 0.01) -> Rhythm:
    clear = Band(20.0, 25.0, 30.0) if scatter else Band(25.0, 25.0, 25.0)
    planes = tuple(Homing(f"{i}", 36_000.0, wave_offs=0.08 if scatter else 0.0) for i in range(16))
    facts = RhythmFacts(
        planes, 30.0, 157.0, 171.0, clear, scatter=scatter, barrier_hits=barrier_hits, barrier_clear=300.0
    )
    return rhythm(facts, draws=200)


def texts(drawing: ET.Element) -> list[tuple[float, float, str, str, float]]:
    """Place, words, anchor and size of every text."""
    return [
        (
            float(each.attrib["x"]),
            float(each.attrib["y"]),
            each.text or "",
            each.attrib["text-anchor"],
            float(each.attrib["font-size"]),
        )
        for each in drawing
        if each.tag == "text"
    ]


def paths(drawing: ET.Element, **attributes: str) -> list[list[tuple[float, float]]]:
    """Points of the lines drawn in a manner."""
    wanted = {name.replace("_", "-"): value for name, value in attributes.items()}
    return [
        [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", each.attrib["d"])]
        for each in drawing
        if each.tag == "path" and wanted.items() <= each.attrib.items()
    ]


def test_the_bars_hold_every_recovery_once() -> None:
    """Second method: the heights of the bars, counted back, add up to a hundred of a hundred."""
    found = drawn_rhythm()
    drawing = rhythm_drawing(found, "dawn")
    bars = paths(drawing, stroke_width="1.2")
    tallest = max(bar[0][1] - bar[1][1] for bar in bars)
    top = next(
        float(words) for x, _, words, anchor, _ in texts(drawing) if anchor == "end" and x < 40.0 and words != "0"
    )
    sum_of = sum((bar[0][1] - bar[1][1]) / tallest for bar in bars)
    width = 30.0 if "in each 0.5 min" in " ".join(words for *_, words, _, _ in texts(drawing)) else 60.0
    counts = np.bincount((found.durations / width).astype(int))
    assert sum_of * counts.max() == pytest.approx(found.draws, rel=0.02)
    assert top == pytest.approx(100.0 * counts.max() / found.draws, abs=0.51)
    assert len(bars) == np.count_nonzero(counts)


def test_plan_half_and_nine_in_ten_stand_true_on_the_axis() -> None:
    found = drawn_rhythm()
    drawing = rhythm_drawing(found, "dawn")
    ticks = {float(words): x for x, _, words, anchor, _ in texts(drawing) if anchor == "middle" and words.isdigit()}
    (first, at_first), *_, (last, at_last) = sorted(ticks.items())
    scale = (at_last - at_first) / (last - first)
    marks = {
        "7 4": found.planned,  # the dashes of the lines as they are drawn
        "9 3 1.5 3": found.slow,
    }
    for dashes, duration in marks.items():
        (line,) = paths(drawing, stroke_dasharray=dashes)
        assert line[0][0] == line[-1][0] == pytest.approx(at_first + scale * (duration / 60.0 - first), abs=0.3)
    (line,) = paths(drawing, stroke_width="2.4")
    assert line[0][0] == pytest.approx(at_first + scale * (found.median / 60.0 - first), abs=0.3)


def test_each_number_beside_the_bars_has_its_unit() -> None:
    drawing = rhythm_drawing(drawn_rhythm(), "dawn")
    words = [words for *_, words, _, _ in texts(drawing)]
    assert sum(bool(re.search(r"\d min$", each)) for each in words) == 4
    assert any(each.startswith("min, first over the ramp") for each in words)
    assert "200 drawn recoveries" in (drawing.findtext("desc") or "")


def test_a_recovery_without_chance_is_one_bar() -> None:
    drawing = rhythm_drawing(drawn_rhythm(0.0, 0.0), "dawn")
    assert len(paths(drawing, stroke_width="1.2")) == 1


def off(first: float) -> Off:
    return Off(
        start_engines=first - 600.0, first_off=first, last_off=first + 330.0, deck_clear=first + 600.0, staying=4
    )


def day(noon: float = 11 * HOUR) -> dict[str, Turn]:
    return {
        "dawn": Turn(off=off(6 * HOUR), back=Back(first_ramp=9 * HOUR, recovered=9 * HOUR + 480.0, count=12)),
        "noon": Turn(off=off(noon), back=Back(first_ramp=14 * HOUR, recovered=14 * HOUR + 480.0, count=12)),
    }


def strip(turns: dict[str, Turn], **changes: Any) -> ET.Element:
    return deck_strip(turns, deck_day(turns, 45.0), {"dawn": "Dawn", "noon": "Noon"}, "hull", **changes)


def test_the_strip_is_true_to_time() -> None:
    """Own arithmetic: every bar's ends, from the hours below."""
    drawing = strip(day())
    hours = {words: x for x, _, words, _, _ in texts(drawing) if re.fullmatch(r"\d\d:\d\d", words)}
    per_hour = (hours["14:00"] - hours["06:00"]) / 8.0
    bars = sorted((min(x for x, _ in bar), max(x for x, _ in bar)) for bar in paths(drawing, fill="#000"))
    stretches = []
    for first, ramp in ((6.0, 9.0), (11.0, 14.0)):
        aft = ramp + 480.0 / HOUR + 16 * 45.0 / HOUR
        stretches += [(first - 1 / 6, first), (first, first + 330.0 / HOUR), (first + 330.0 / HOUR, first + 1 / 6)]
        stretches += [(ramp, ramp + 480.0 / HOUR), (ramp + 480.0 / HOUR, aft)]
    due = sorted(
        (hours["06:00"] + per_hour * (start - 6.0), hours["06:00"] + per_hour * (end - 6.0)) for start, end in stretches
    )
    assert np.array(bars) == pytest.approx(np.array(due), abs=0.3)


def test_each_row_has_its_name_and_each_launch_and_recovery_its_event() -> None:
    words = [words for *_, words, _, _ in texts(strip(day()))]
    assert {"engines", "launch", "clear", "recovery", "spot aft"} <= set(words)
    assert words.count("Dawn") == words.count("Noon") == 2


def test_a_launch_too_soon_says_so_in_words() -> None:
    """Own arithmetic: recovered at 09:08, 16 moved aft take 12 min, engines 10: ready at 09:30, asked at 09:20."""
    drawing = strip(day(9 * HOUR + 20 * 60.0))
    words = [words for *_, words, _, _ in texts(drawing)]
    assert "Noon: 10.0 min too soon" in words


def test_no_words_cover_one_another() -> None:
    close = {
        f"{i}": Turn(
            off=off((6 + i) * HOUR), back=Back(first_ramp=(6.5 + i) * HOUR, recovered=(6.7 + i) * HOUR, count=9)
        )
        for i in range(5)
    }
    names = {f"{i}": f"Patrol {i}" for i in range(5)}
    for drawing in (deck_strip(close, deck_day(close, 45.0), names, "hull"), rhythm_drawing(drawn_rhythm(), "dawn")):
        boxes: list[Box] = [text_box(x, y, words, 0.8 * size, anchor) for x, y, words, anchor, size in texts(drawing)]
        assert not [pair for pair in combinations(boxes, 2) if pair[0].meets(pair[1])]


def test_a_day_of_one_launch_can_be_drawn() -> None:
    turns = {"dawn": Turn(off=off(6 * HOUR))}
    assert len(paths(deck_strip(turns, deck_day(turns, 45.0), {"dawn": "Dawn"}, "hull"), fill="#000")) == 3
