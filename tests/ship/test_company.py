"""Stations of ships in company, before and after the turn into the wind."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.ship.company import Circle, StationFacts, stands_in, stations

DEG = math.pi / 180.0
YD = 0.9144


def test_a_station_abeam_on_the_base_course_is_elsewhere_on_the_flight_course() -> None:
    """Own arithmetic: base course 180, 90 to starboard is 270 true; on a flight course of 140 that is 130 starboard."""
    found = stations([StationFacts("escort", 90 * DEG, 1000 * YD, "")], 180 * DEG, 140 * DEG, "guide")["escort"]
    assert found.bearing == pytest.approx(270 * DEG)
    assert found.distance == pytest.approx(1000 * YD)
    assert found.off_bow == pytest.approx(130 * DEG)
    assert (found.east, found.north) == pytest.approx((-1000 * YD, 0.0), abs=1e-9)


def test_a_plane_guard_follows_the_carrier_she_guards() -> None:
    """Own arithmetic: carrier 2000 yd east of the guide; the guard right astern of her on a course of 000, 500 yd."""
    facts = [
        StationFacts("guard", 180 * DEG, 500 * YD, "second"),
        StationFacts("second", 90 * DEG, 2000 * YD, ""),
    ]
    found = stations(facts, 0.0, 0.0, "guide")
    assert (found["guard"].east, found["guard"].north) == pytest.approx((2000 * YD, -500 * YD))
    assert list(found) == ["guard", "second"]


@given(
    bearing=st.floats(-math.pi, math.pi),
    base=st.floats(0.0, 6.28),
    flight=st.floats(0.0, 6.28),
    turned=st.floats(-3.0, 3.0),
)
def test_turning_everything_turns_the_stations(bearing: float, base: float, flight: float, turned: float) -> None:
    one = stations([StationFacts("x", bearing, 4000.0, "")], base, flight, "guide")["x"]
    other = stations([StationFacts("x", bearing, 4000.0, "")], base + turned, flight + turned, "guide")["x"]
    assert math.remainder(other.off_bow - one.off_bow, math.tau) == pytest.approx(0.0, abs=1e-9)
    assert math.remainder(other.bearing - one.bearing - turned, math.tau) == pytest.approx(0.0, abs=1e-9)


def test_what_stands_within_500_yards_of_a_landing_circle_is_in_the_way() -> None:
    """Own arithmetic on a ship that steers east: ahead is east, port is north."""
    circle = Circle(ahead=2000.0, astern=600.0, port=1000.0, starboard=50.0)
    east = 90 * DEG
    assert stands_in(circle, 1500.0, 800.0, east)
    assert stands_in(circle, 0.0, 1000.0 + 450 * YD, east)
    assert not stands_in(circle, 0.0, 1000.0 + 510 * YD, east)
    assert not stands_in(circle, 0.0, -(50.0 + 510 * YD), east)
    assert not stands_in(circle, -(600.0 + 510 * YD), 0.0, east)
    assert not stands_in(circle, 2000.0 + 510 * YD, 0.0, east)
