"""Runs on one true course against meridians, parallels and many short geodesics, each steered anew."""

from __future__ import annotations

import math

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.motion.rhumb import isometric_latitude, rhumb

DEG = math.pi / 180.0
NM = 1852.0  # m
AXIS = 6378137.0  # m, WGS 84 as defined
FLATTENING = 1.0 / 298.257223563


def stepped(latitude: float, longitude: float, course: float, distance: float, steps: int) -> tuple[float, float]:
    """Latitude and longitude [deg] after short geodesics, each of which has the course at its middle; second method."""
    span = distance / steps
    for _ in range(steps):
        half = Geodesic.WGS84.Direct(latitude, longitude, course, 0.5 * span)
        aim = course + (course - half["azi2"])  # a geodesic's azimuth turns as it goes: half before, half behind
        line = Geodesic.WGS84.Direct(latitude, longitude, aim, span)
        latitude, longitude = line["lat2"], line["lon2"]
    return latitude, longitude


def apart(first: tuple[float, float], second: tuple[float, float]) -> float:
    """Distance between two places in radians [m]."""
    line = Geodesic.WGS84.Inverse(*(math.degrees(angle) for angle in (*first, *second)))
    return float(line["s12"])


@pytest.mark.parametrize("start", [-60.0, -1.0, 0.0, 35.0])
def test_north_and_south_she_runs_along_the_meridian(start: float) -> None:
    """Constructed: a meridian is a rhumb line and a geodesic at once."""
    for course in (0.0, 180.0):
        line = Geodesic.WGS84.Direct(start, 12.0, course, 200.0 * NM)
        end = rhumb(start * DEG, 12.0 * DEG, course * DEG, 200.0 * NM)
        assert end == pytest.approx((line["lat2"] * DEG, 12.0 * DEG), abs=1e-12)


def test_along_the_equator_longitude_is_distance_over_the_axis() -> None:
    """Own arithmetic: one degree of the equator is 6378137 m x pi / 180 = 111319.4908 m."""
    assert rhumb(0.0, 0.0, 90.0 * DEG, 111319.4908) == pytest.approx((0.0, DEG), abs=1e-11)
    assert rhumb(0.0, 0.0, 270.0 * DEG, 111319.4908) == pytest.approx((0.0, -DEG), abs=1e-11)


def test_along_a_parallel_longitude_is_distance_over_its_radius() -> None:
    """Own arithmetic: at 60 degrees e2 = f (2 - f), N = a / sqrt(1 - 0.75 e2), radius N / 2; latitude stays."""
    square = FLATTENING * (2.0 - FLATTENING)
    radius = 0.5 * AXIS / math.sqrt(1.0 - 0.75 * square)
    end = rhumb(60.0 * DEG, 0.0, 90.0 * DEG, 500.0 * NM)
    assert end == pytest.approx((60.0 * DEG, 500.0 * NM / radius), abs=1e-11)


@pytest.mark.parametrize(
    ("latitude", "course", "miles"),
    [(10.0, 45.0, 400.0), (-47.0, 250.0, 300.0), (62.0, 100.0, 200.0), (-5.0, 20.0, 600.0), (75.0, 315.0, 120.0)],
)
def test_many_short_geodesics_end_at_the_same_place(latitude: float, course: float, miles: float) -> None:
    """Second method: steps of one mile; a step errs by about its square over the earth's, which adds up to metres."""
    end = rhumb(latitude * DEG, 170.0 * DEG, course * DEG, miles * NM)
    other = stepped(latitude, 170.0, course, miles * NM, round(miles))
    assert apart(end, (other[0] * DEG, other[1] * DEG)) < 1.0


def test_courses_close_to_east_pass_smoothly_into_east() -> None:
    """Limit case: the two ways of finding the longitude meet where the northing is 100 m, on either side of it."""
    latitude, distance = 50.0 * DEG, 300.0 * NM
    for north in (-100.0, 100.0):
        nearer, farther = (rhumb(latitude, 0.0, math.acos((north + by) / distance), distance) for by in (-1.0, 1.0))
        middle = rhumb(latitude, 0.0, math.acos(north / distance), distance)
        assert middle == pytest.approx([0.5 * (nearer[i] + farther[i]) for i in (0, 1)], abs=2e-11)  # 0.1 mm


@settings(max_examples=50, deadline=None)
@given(
    latitude=st.floats(-70.0, 70.0),
    longitude=st.floats(-180.0, 180.0),
    course=st.floats(0.0, 360.0),
    miles=st.floats(0.0, 400.0),
)
def test_there_and_back_ends_where_she_began(latitude: float, longitude: float, course: float, miles: float) -> None:
    """There on the course and back on its reciprocal; a negative run is the same as the reciprocal."""
    start = (latitude * DEG, longitude * DEG)
    end = rhumb(*start, course * DEG, miles * NM)
    assert -math.pi < end[1] <= math.pi
    assert apart(start, rhumb(*end, (course + 180.0) * DEG, miles * NM)) < 1e-4
    assert apart(start, rhumb(*end, course * DEG, -miles * NM)) < 1e-4


def test_two_runs_on_one_course_are_one_run() -> None:
    """Invariance."""
    half = rhumb(40.0 * DEG, 3.0, 2.0, 150.0 * NM)
    assert rhumb(*half, 2.0, 150.0 * NM) == pytest.approx(rhumb(40.0 * DEG, 3.0, 2.0, 300.0 * NM), abs=1e-12)


def test_the_date_line_is_crossed_without_a_break() -> None:
    """Constructed: the same run begun at longitude 0 and at 179 east."""
    latitude, plain = rhumb(20.0 * DEG, 0.0, 80.0 * DEG, 100.0 * NM)
    assert rhumb(20.0 * DEG, 179.0 * DEG, 80.0 * DEG, 100.0 * NM) == pytest.approx(
        (latitude, plain + 179.0 * DEG - 2.0 * math.pi), abs=1e-12
    )
    assert rhumb(0.0, 180.0 * DEG, 0.0, NM)[1] == math.pi
    assert rhumb(0.0, -180.0 * DEG, 0.0, NM)[1] == math.pi


@pytest.mark.parametrize(
    ("latitude", "course", "miles"), [(89.5, 180.0, 1.0), (88.5, 0.0, 40.0), (-88.5, 180.0, 400.0), (0.0, 0.0, 12000.0)]
)
def test_near_the_poles_no_rhumb_line_is_run(latitude: float, course: float, miles: float) -> None:
    """Bad input, by start, by end, over the pole and right round the earth."""
    with pytest.raises(ValueError, match=r"beyond 89 degrees|over a pole"):
        rhumb(latitude * DEG, 0.0, course * DEG, miles * NM)
    with pytest.raises(ValueError, match="beyond 89 degrees"):
        isometric_latitude(math.nan)


def test_the_charts_northing_grows_by_the_run_over_the_parallels_radius() -> None:
    """Second method: the slope of the isometric latitude by northing is 1 / (N cos phi); by central difference."""
    latitude = 40.0 * DEG
    above, below = rhumb(latitude, 0.0, 0.0, 1000.0)[0], rhumb(latitude, 0.0, math.pi, 1000.0)[0]
    square = FLATTENING * (2.0 - FLATTENING)
    radius = AXIS * math.cos(latitude) / math.sqrt(1.0 - square * math.sin(latitude) ** 2)
    slope = (isometric_latitude(above) - isometric_latitude(below)) / 2000.0
    assert slope * radius == pytest.approx(1.0, abs=1e-7)
    assert isometric_latitude(-latitude) == -isometric_latitude(latitude)
