"""[ashore]: the field, what stands for it where the plan has none, and what is told of a bad one."""

from __future__ import annotations

from pathlib import Path

import pytest

from roundown.documents import Document, parse_document
from roundown.errors import PlanError
from roundown.plan.ashore import ALONG_BASE, INTO_WIND
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import DEGREE, FOOT

ONE_FLIGHT = (Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8")


def day(more: str = "", text: str = ONE_FLIGHT) -> Day:
    document = parse_document("plan.toml", text + more)
    assert isinstance(document, Document)
    return day_of(document)


def test_the_field_is_read() -> None:
    today = day('[ashore]\nname = "Long Strand"\nrunway = "140"\nheight = "45 ft over sea"\n')
    assert today.word("ashore.name") == "Long Strand"
    assert today.number("ashore.runway") == pytest.approx(140.0 * DEGREE)
    assert today.number("ashore.height") == pytest.approx(45.0 * FOOT)


def test_a_plan_without_a_field_has_one_into_the_surface_wind() -> None:
    today = day()
    assert today.number("ashore.runway") == pytest.approx(140.0 * DEGREE)
    assert today.givens["ashore.runway"].origin.source == INTO_WIND
    assert today.number("ashore.height") == pytest.approx(20.0 * FOOT)
    assert "ashore.name" not in today.givens


def test_in_a_calm_the_runway_lies_along_the_base_course() -> None:
    today = day(text=ONE_FLIGHT.replace("140/11 kt", "calm"))
    assert today.number("ashore.runway") == pytest.approx(185.0 * DEGREE)
    assert today.givens["ashore.runway"].origin.source == ALONG_BASE


def test_winds_named_by_where_they_go_give_the_same_runway() -> None:
    text = ONE_FLIGHT.replace("140/11 kt", "320/11 kt").replace("145/15 kt", "325/15 kt")
    today = day('[simulator]\nwinds = "to"\n', text.replace("155/19 kt", "335/19 kt"))
    assert today.number("ashore.runway") == pytest.approx(140.0 * DEGREE)


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ('[ashore]\nrunway = "14"\n', 'ashore.runway = "14": a direction is three digits'),
        ('[ashore]\nrunway = "140 magnetic"\n', "a true direction is wanted here"),
        ('[ashore]\nheight = "20 ft"\n', "a height over the sea must say so"),
        ('[ashore]\nheight = "9000 ft over sea"\n', "at most 3,000 ft"),
        ('[ashore]\nrunwey = "140"\n', "there is no such key here. Did you mean runway"),
        (f'[ashore]\nname = "{"x" * 61}"\n', "at most 60 letters, not 61"),
        ("ashore = 3\n", "a table is wanted here"),
    ],
)
def test_what_is_wrong_with_the_field_is_told(table: str, told: str) -> None:
    text = table + ONE_FLIGHT if table.startswith("ashore") else ONE_FLIGHT + table
    with pytest.raises(PlanError) as raised:
        day(text=text)
    assert any(told in str(complaint) for complaint in raised.value.complaints), raised.value.complaints
