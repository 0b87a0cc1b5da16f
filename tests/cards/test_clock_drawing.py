"""The day's clock as a strip: true to time, in words, nothing over anything. Constructed cases."""

from __future__ import annotations

import math
import re
from importlib import resources
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.cards.clock_drawing import ClockLine, Span, clock_strip, day_clock, light_spans, spread
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.environment.light import Darkness
from roundown.plan.read import day_of
from roundown.solution import Solution, Unsolved

HOUR = 3600.0
NO_LIGHT = (Span(-math.inf, math.inf, "day"),)


def solution_of(name: str) -> Solution:
    document = parse_document(name, resources.files("roundown.plan").joinpath(name).read_text("utf-8"))
    assert isinstance(document, Document)
    return solve(day_of(document))


def texts(drawing: ET.Element) -> list[tuple[float, float, str]]:
    """Place and words of every text."""
    return [
        (float(each.attrib["x"]), float(each.attrib["y"]), each.text or "") for each in drawing if each.tag == "text"
    ]


@given(
    wanted=st.lists(st.floats(0.0, 500.0), min_size=1, max_size=30).map(sorted),
    pitch=st.floats(1.0, 15.0),
)
def test_lines_keep_their_order_and_distance_and_their_place_where_there_is_room(
    wanted: list[float], pitch: float
) -> None:
    places = spread(wanted, pitch, 0.0, 500.0)
    assert all(after - before >= pitch - 1e-9 for before, after in pairwise(places))
    assert places[0] >= 0.0
    if pitch * (len(wanted) - 1) <= 500.0:
        assert places[-1] <= 500.0 + 1e-9
    if all(after - before >= pitch for before, after in pairwise(wanted)):
        assert places == pytest.approx(wanted)


def test_three_at_one_time_stand_about_it() -> None:
    """Own arithmetic: least squares puts the middle one of three on the place that all three want."""
    assert spread([100.0, 100.0, 100.0], 10.0, 0.0, 500.0) == pytest.approx([90.0, 100.0, 110.0])


def test_the_light_goes_from_word_to_word_as_the_sun_goes() -> None:
    evening = [(18.0 * HOUR, "sunset"), (18.4 * HOUR, "civil_dusk"), (18.9 * HOUR, "nautical_dusk")]
    spans = light_spans(evening, Darkness.DAY)
    assert [span.word for span in spans] == ["day", "civil twilight", "nautical twilight", "dark"]
    assert [span.start for span in spans[1:]] == [time for time, _ in evening]
    assert [span.end for span in spans[:-1]] == [time for time, _ in evening]
    assert [span.word for span in light_spans([], Darkness.CIVIL)] == ["civil twilight"]
    assert [span.word for span in light_spans([(6.0 * HOUR, "sunrise")], Darkness.NIGHT)] == ["civil twilight", "day"]


def test_the_hours_stand_true_to_time() -> None:
    drawing = clock_strip([ClockLine(10.0 * HOUR, "a"), ClockLine(14.0 * HOUR, "b")], NO_LIGHT, (), "c", 320.0, 13.0)
    hours = {text: y for x, y, text in texts(drawing) if x < 45.0 and re.fullmatch(r"\d\d:\d\d", text)}
    assert {"10:00", "12:00", "14:00"} <= set(hours)
    assert hours["12:00"] - hours["10:00"] == pytest.approx(hours["14:00"] - hours["12:00"], abs=0.2)


def test_a_day_that_goes_past_midnight_says_so() -> None:
    lines = [ClockLine(23.5 * HOUR, "launch"), ClockLine(25.0 * HOUR, "recovery")]
    words = [text for _, _, text in texts(clock_strip(lines, NO_LIGHT, (), "c", 320.0, 13.0))]
    assert words.index("23:30") < words.index("next day") < words.index("01:00", words.index("next day"))


@pytest.mark.parametrize("name", ["demo.toml", "larger.toml"])
def test_every_moment_of_a_day_stands_on_it_once_and_none_over_another(name: str) -> None:
    solution = solution_of(name)
    assert not isinstance(solution.timeline, Unsolved)
    drawing = day_clock(solution, "clock")
    found = texts(drawing)
    width, height = (float(part) for part in drawing.attrib["viewBox"].split()[2:])
    times = [(x, y) for x, y, text in found if re.fullmatch(r"\d\d:\d\d(:\d\d)?", text) and x > 60.0]
    assert len(times) == len(solution.timeline)
    assert all(after[1] - before[1] >= 13.0 for before, after in pairwise(times))
    assert all(0.0 <= x <= width and 0.0 <= y <= height for x, y, _ in found)
    said = drawing.findtext("desc") or ""
    assert said.count("first take-off") == len(solution.events)
    assert "Light: " in said


def test_light_is_told_by_hatching_and_words_never_by_colour() -> None:
    drawing = day_clock(solution_of("larger.toml"), "clock")
    for word in ("day", "civil twilight", "nautical twilight", "dark, sun more than 12 deg down"):
        assert word in [text for _, _, text in texts(drawing)]
    colours = {each.attrib.get(name) for each in drawing.iter() for name in ("fill", "stroke")}
    assert colours <= {None, "none", "#000", "#fff"}


def test_without_events_the_clock_shows_the_light_of_the_date(solved_without_events: Solution) -> None:
    drawing = day_clock(solved_without_events, "clock")
    words = [text for _, _, text in texts(drawing)]
    for word in ("sunrise", "sunset", "civil dawn", "nautical dusk"):
        assert word in words


@pytest.fixture
def solved_without_events() -> Solution:
    text = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
    text = re.sub(r"\[\[event\]\]\n(?:.+\n)+", "", text)
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    solution = solve(day_of(document))
    assert solution.events == {}
    return solution
