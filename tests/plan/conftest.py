"""Plans from text, for tests of their tables."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roundown.documents import Document, parse_document
from roundown.plan.facts import Day
from roundown.plan.read import day_of

BASE = """\
format = 1
[place]
position = "31 40 S 005 20 W"
date = 1949-03-17
time = "14:00"
variation = "24 deg W"
[weather]
surface_wind = "140/11 kt"
[ship]
name = "corbel"
base_course = "185"
base_speed = "16 kt"
[doctrine]
name = "fast-carrier-1944"
"""


@pytest.fixture
def read() -> Callable[[str], Day]:
    """The day of a short plan with tables added below it."""

    def reading(tables: str, base: str = BASE) -> Day:
        document = parse_document("plan.toml", base + tables)
        assert isinstance(document, Document), document
        return day_of(document)

    return reading
