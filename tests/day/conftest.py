"""Days with events, made from text."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roundown.documents import Document, parse_document
from roundown.plan.facts import Day
from roundown.plan.read import day_of

HEAD = """\
format = 1
title = "A day for the tests"

[place]
position = "{position}"
date = {date}
time = "{time}"
zone = "{zone}"

[weather]
surface_wind = "{wind}"
wind_profile = "uniform"

[ship]
name = "{ship}"
base_course = "{course}"
base_speed = "{speed}"
{ship_more}

[doctrine]
name = "fast-carrier-1944"

[squadrons.amber]
type = "ottery"
roster = [
  {{ side = "11", name = "Vane", leader = "squadron", skill = "experienced" }},
  {{ side = "12", name = "Pell" }},
  {{ side = "13", name = "Orme", leader = "section" }},
  {{ side = "14", name = "Lusk" }},
]
"""
EVENT = """
[[event]]
name = "patrol"
launch = "{launch}"
recovery = "{recovery}"
aeroplanes = {{ amber = 4 }}
"""
GIVEN = {
    "position": "31 40 S 005 20 W", "date": "1949-03-17", "time": "12:00", "zone": "+00:00", "wind": "140/11 kt",
    "ship": "corbel", "course": "185", "speed": "16 kt", "ship_more": "", "launch": "13:00", "recovery": "15:00",
}  # fmt: skip

DayOf = Callable[..., Day]


@pytest.fixture(scope="session")
def day_with() -> DayOf:
    """A day of one event, with other values where they are given; more : tables behind it."""

    def make(more: str = "", **other: str) -> Day:
        document = parse_document("plan.toml", (HEAD + EVENT).format(**(GIVEN | other)) + more)
        assert isinstance(document, Document)
        return day_of(document)

    return make
