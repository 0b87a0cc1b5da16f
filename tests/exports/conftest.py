"""Days solved once: the demo evening; a morning that crosses the date line by a half-hour clock; one circuit alone."""

from __future__ import annotations

from importlib import resources

import pytest

from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.solution import Solution

# The names hold what a careless writer of XML, calendars or tables would stumble over.
PACIFIC = r"""
format = 1
title = "Over the line & back; \"Süd\", <first> of two, \\."
[place]
position = "12 00 N 179 38.8 E"
date = 1947-03-02
time = "05:00"
zone = "+11:30"
[weather]
surface_wind = "060/14 kt"
[ship]
name = "corbel"
base_course = "090"
base_speed = "16 kt"
[[company]]
name = "lintel"
role = "carrier"
bearing = "90 deg starboard"
distance = "9000 yd"
[[company]]
name = "Sextant & Co"
role = "plane guard"
guards = "lintel"
bearing = "165 deg port"
distance = "1200 yd"
[doctrine]
name = "fast-carrier-1944"
[squadrons.amber]
type = "ottery"
roster = [{ side = "11", name = "Vane" }, { side = "12", name = "Pell" }]
[squadrons.grey]
type = "sallow"
ship = "lintel"
roster = [{ side = "1", name = "Marl" }, { side = "2", name = "Sedge" }]
[[event]]
name = 'search; "out", <home> & \ aboard'
launch = "sunrise - 40 min"
recovery = "sunrise + 30 min"
aeroplanes = { amber = 2, grey = 2 }
[sea_room]
corners = ["14 00 N 178 00 E", "14 00 N 178 00 W", "10 00 N 178 00 W", "10 00 N 178 00 E"]
"""

NOTHING_FLOWN = """
format = 1
title = "One circuit"
[place]
position = "31 40 S 005 20 W"
date = 1949-03-17
time = "16:30"
[weather]
surface_wind = "140/11 kt"
[ship]
name = "corbel"
base_course = "185"
base_speed = "16 kt"
[[company]]
name = "Tern Rock"
role = "escort"
bearing = "60 deg starboard"
distance = "4000 yd"
[doctrine]
name = "fast-carrier-1944"
[aeroplane]
type = "ottery"
"""

Solved = tuple[Day, Solution]


def solved(text: str) -> Solved:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    day = day_of(document)
    return day, solve(day)


@pytest.fixture(scope="session")
def evening() -> Solved:
    """The demo: one carrier, two flights, clock on universal time."""
    return solved(resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8"))


@pytest.fixture(scope="session")
def pacific() -> Solved:
    """Two carriers steam east over 180 degrees before sunrise; the clock is 11 h 30 min ahead."""
    return solved(PACIFIC)


@pytest.fixture(scope="session")
def pacific_again() -> Solved:
    """The same plan read and solved once more."""
    return solved(PACIFIC)


@pytest.fixture(scope="session")
def one_circuit() -> Solved:
    """A plan without events."""
    return solved(NOTHING_FLOWN)
