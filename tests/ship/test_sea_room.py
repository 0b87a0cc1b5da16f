"""The water a ship has, and when she leaves it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.ship.day_track import DayTrack, DayTrackFacts, day_track
from roundown.ship.sea_room import inside, leaves

DEG = math.pi / 180.0
KT = 1852.0 / 3600.0


def box(south: float, north: float, west: float, east: float) -> list[tuple[float, float]]:
    return [(lat * DEG, lon * DEG) for lat, lon in ((south, west), (south, east), (north, east), (north, west))]


def steady(latitude: float, longitude: float, course: float, speed: float) -> DayTrack:
    return day_track(
        DayTrackFacts(
            0.0, latitude * DEG, longitude * DEG, course * DEG, speed * KT, 1000.0, 0.05, (speed + 5) * KT, ()
        )
    )


def test_a_ship_that_runs_north_leaves_when_she_has_run_the_miles() -> None:
    """Own arithmetic: from 0 N to 0 20 N is 20.0 minutes of latitude, 19.90 nm on the ellipsoid at the equator."""
    found = leaves(steady(0.0, 10.0, 0.0, 20.0), box(-1.0, 20 / 60, 9.0, 11.0), 0.0, 7200.0)
    assert found is not None
    time, latitude, longitude = found
    minute = 6_378_137.0 * (1.0 - 0.00669438) / 3437.74677  # m, on the meridian at the equator
    assert time == pytest.approx(20 * minute / (20 * KT), abs=1.0)
    assert latitude == pytest.approx(20 / 60 * DEG, abs=1e-5)
    assert longitude == pytest.approx(10 * DEG)


def test_a_ship_that_keeps_within_her_water_leaves_it_never() -> None:
    assert leaves(steady(0.0, 10.0, 0.0, 20.0), box(-1.0, 1.0, 9.0, 11.0), 0.0, 7200.0) is None


def test_a_ship_outside_from_the_start_is_told_at_the_start() -> None:
    found = leaves(steady(5.0, 10.0, 0.0, 20.0), box(-1.0, 1.0, 9.0, 11.0), 100.0, 7200.0)
    assert found is not None
    assert found[0] == 100.0


def test_water_across_the_date_line_is_one_water() -> None:
    across = [(lat * DEG, lon * DEG) for lat, lon in ((-1.0, 179.0), (-1.0, -179.0), (1.0, -179.0), (1.0, 179.0))]
    assert inside(across, 0.0, 179.9 * DEG)
    assert inside(across, 0.0, -179.9 * DEG)
    assert not inside(across, 0.0, 178.0 * DEG)
    assert not inside(across, 0.0, 0.0)
    found = leaves(steady(0.0, 179.9, 90.0, 20.0), across, 0.0, 20 * 3600.0)
    assert found is not None
    assert found[2] == pytest.approx(-179 * DEG, abs=1e-4)


@given(latitude=st.floats(-60.0, 60.0), longitude=st.floats(-180.0, 180.0), turned=st.floats(-360.0, 360.0))
def test_turning_the_earth_changes_nothing(latitude: float, longitude: float, turned: float) -> None:
    """Symmetry; and second method: a box is inside both its limits."""
    corners = box(-20.0, 30.0, -15.0, 40.0)
    here = inside(corners, latitude * DEG, longitude * DEG)
    near = min(abs(latitude + 20), abs(latitude - 30), abs(longitude + 15), abs(longitude - 40))
    if near < 1e-6:
        return
    assert here == (-20.0 < latitude < 30.0 and -15.0 < longitude < 40.0)
    moved = [(lat, lon + turned * DEG) for lat, lon in corners]
    assert inside(moved, latitude * DEG, (longitude + turned) * DEG) == here


def test_a_bay_in_the_water_is_not_part_of_it() -> None:
    """Constructed: a square with a notch cut into its northern side."""
    notched = [
        (lat * DEG, lon * DEG)
        for lat, lon in ((0.0, 0.0), (0.0, 4.0), (4.0, 4.0), (4.0, 3.0), (1.0, 2.0), (4.0, 1.0), (4.0, 0.0))
    ]
    assert inside(notched, 0.5 * DEG, 2.0 * DEG)
    assert not inside(notched, 3.0 * DEG, 2.0 * DEG)
    assert inside(notched, 3.0 * DEG, 0.5 * DEG)
