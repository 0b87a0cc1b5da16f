"""The ship's clock, and what the simulator and the cockpit have otherwise."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable

import pytest

from roundown.environment.magnetism import variation
from roundown.errors import PlanError
from roundown.plan.facts import Day
from roundown.quantities import DEGREE, INCH_OF_MERCURY, KNOT

Read = Callable[..., Day]
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
PLANE = '\n[aeroplane]\ntype = "ottery"\n'


def at(zone: str, time: str = "14:00") -> str:
    return BASE.replace('time = "14:00"', f'time = "{time}"\nzone = "{zone}"')


@pytest.mark.parametrize(
    ("zone", "time", "utc"),
    [
        ("+00:00", "14:00", dt.datetime(1949, 3, 17, 14, 0, tzinfo=dt.UTC)),
        ("Z", "14:00", dt.datetime(1949, 3, 17, 14, 0, tzinfo=dt.UTC)),
        ("+10:00", "14:00", dt.datetime(1949, 3, 17, 4, 0, tzinfo=dt.UTC)),
        ("ZD -10", "14:00", dt.datetime(1949, 3, 17, 4, 0, tzinfo=dt.UTC)),
        ("-10:00", "14:00", dt.datetime(1949, 3, 18, 0, 0, tzinfo=dt.UTC)),
        ("ZD +10", "14:00", dt.datetime(1949, 3, 18, 0, 0, tzinfo=dt.UTC)),
        ("+5:30", "04:00", dt.datetime(1949, 3, 16, 22, 30, tzinfo=dt.UTC)),
        ("-9:30", "16:00", dt.datetime(1949, 3, 18, 1, 30, tzinfo=dt.UTC)),
        ("+14:00", "00:00", dt.datetime(1949, 3, 16, 10, 0, tzinfo=dt.UTC)),
        ("-12:00", "23:59:59", dt.datetime(1949, 3, 18, 11, 59, 59, tzinfo=dt.UTC)),
    ],
)
def test_the_datum_is_the_clock_less_its_offset(read: Read, zone: str, time: str, utc: dt.datetime) -> None:
    """Own arithmetic; a zone description has the opposite sign of the offset."""
    day = read(PLANE, at(zone, time))
    assert day.start == utc
    hours, minutes, *seconds = (int(part) for part in time.split(":"))
    assert day.datum == 3600 * hours + 60 * minutes + sum(seconds)
    assert day.start + dt.timedelta(seconds=day.offset - day.datum) == dt.datetime(1949, 3, 17, tzinfo=dt.UTC)


def test_without_a_zone_the_clock_shows_universal_time(read: Read) -> None:
    """As before there were zones."""
    day = read(PLANE)
    assert (day.start, day.offset, day.datum) == (dt.datetime(1949, 3, 17, 14, tzinfo=dt.UTC), 0.0, 14 * 3600.0)
    assert day.givens["place.zone"].origin.source.startswith("default")


def test_parts_of_a_second_are_kept(read: Read) -> None:
    """They were once dropped."""
    assert read(PLANE, BASE.replace('"14:00"', "14:00:00.5")).datum == 14 * 3600.0 + 0.5


def test_a_plan_of_before_has_none_of_the_new_tables(read: Read) -> None:
    day = read(PLANE)
    assert (day.squadrons, day.events, day.company, day.sea_room, day.parts) == ({}, (), (), (), {})
    assert (day.ship, day.type) == ("corbel", "ottery")
    assert not [key for key in day.givens if key.startswith(("event.", "company.", "squadrons.", "radio."))]


# Variation


def test_variation_is_the_earths_where_the_plan_gives_none(read: Read) -> None:
    bare = BASE.replace('variation = "24 deg W"\n', "")
    day = read(PLANE, bare)
    found = day.givens["place.variation"]
    assert found.value == variation(-(31 + 40 / 60) * DEGREE, -(5 + 20 / 60) * DEGREE, dt.date(1949, 3, 17))
    assert "Geomagnetic" in found.origin.source
    assert day.place_of(found) == "built-in"


def test_variation_is_the_simulators_where_the_plan_gives_it(read: Read) -> None:
    given = read(PLANE).givens["place.variation"]
    assert given.value == pytest.approx(-24 * DEGREE)
    assert given.origin.source == "given in the plan"


def test_the_date_of_the_field_is_universal(read: Read) -> None:
    """Constructed: at +10 the clock's 1 January 1900 is still 31 December in Greenwich, before the field begins."""
    bare = BASE.replace('variation = "24 deg W"\n', "").replace("1949-03-17", "1900-01-01")
    with pytest.raises(PlanError, match="the earth's field is known from 1900"):
        read(PLANE, bare.replace('"14:00"', '"04:00"\nzone = "+10:00"'))


def test_beyond_the_field_a_given_variation_will_do(read: Read) -> None:
    assert read(PLANE, BASE.replace("1949", "2040")).start.year == 2040


# Winds, times and dials of the simulator

WINDS = '[[weather.winds]]\nheight = "500 ft over sea"\nwind = "350/20 kt"\n'


def test_winds_named_by_where_they_go_are_turned_round(read: Read) -> None:
    day = read(PLANE + WINDS + '[simulator]\nwinds = "to"\n')
    assert day.number("weather.wind_from") == pytest.approx(320 * DEGREE)
    assert day.number("weather.wind_speed") == pytest.approx(11 * KNOT)
    assert day.number("weather.winds.1.from") == pytest.approx(170 * DEGREE)
    assert 0.0 <= day.number("weather.winds.1.from") < math.tau


def test_winds_are_otherwise_named_by_where_they_come_from(read: Read) -> None:
    for more in ("", '[simulator]\nwinds = "from"\n'):
        day = read(PLANE + WINDS + more)
        assert day.number("weather.wind_from") == pytest.approx(140 * DEGREE)
        assert day.number("weather.winds.1.from") == pytest.approx(350 * DEGREE)


def test_a_calm_has_no_direction_to_turn_round(read: Read) -> None:
    calm = BASE.replace("140/11 kt", "calm")
    assert read(PLANE + '[simulator]\nwinds = "to"\n', calm).number("weather.wind_speed") == 0.0


def test_the_simulators_sunset_is_a_time_by_the_clock(read: Read) -> None:
    day = read(PLANE + '[simulator]\nsunset = 18:02:00\ncivil_dusk = "18:30"\n')
    assert day.number("simulator.sunset") == 18 * 3600 + 120
    assert day.number("simulator.civil_dusk") == 18 * 3600 + 1800
    assert "simulator.sunrise" not in day.givens


def test_the_altimeter_is_set_to_the_pressure_unless_told_otherwise(read: Read) -> None:
    low = BASE.replace("[weather]", '[weather]\npressure = "29.50 inHg"')
    assert read(PLANE, low).number("cockpit.altimeter") == pytest.approx(29.50 * INCH_OF_MERCURY)
    told = read(PLANE + '[cockpit]\naltimeter = "29.92 inHg"\n', low)
    assert told.number("cockpit.altimeter") == pytest.approx(29.92 * INCH_OF_MERCURY)
    assert told.number("weather.pressure") == pytest.approx(29.50 * INCH_OF_MERCURY)
