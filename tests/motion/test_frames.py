"""Frames: round trips, mirrors, edges, and the near plane against spherical trigonometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.motion.frames import NearPlane, ship_components, turn_between, wrap

DEG = math.pi / 180.0
NM = 1852.0  # m
angles = st.floats(-50.0, 50.0)


@pytest.mark.parametrize("latitude", [-70.0, -33.4, 0.0, 21.3, 57.0, 70.0])
@pytest.mark.parametrize("longitude", [-179.95, 0.0, 179.95])
def test_near_plane_comes_back_to_the_millimetre_at_30_nm(latitude: float, longitude: float) -> None:
    """Round trip, across the date line too."""
    plane = NearPlane(latitude * DEG, longitude * DEG)
    for bearing in range(0, 360, 45):
        east, north = 30.0 * NM * math.sin(bearing * DEG), 30.0 * NM * math.cos(bearing * DEG)
        assert math.dist(plane.place(*plane.position(east, north)), (east, north)) < 0.001


def test_near_plane_of_its_datum_is_nil() -> None:
    plane = NearPlane(21.3 * DEG, -157.9 * DEG)
    assert plane.place(21.3 * DEG, -157.9 * DEG) == pytest.approx((0.0, 0.0), abs=1e-6)
    assert plane.position(0.0, 0.0) == pytest.approx((21.3 * DEG, -157.9 * DEG), abs=1e-12)


@pytest.mark.parametrize("latitude", [0.0, 35.0, 60.0])
def test_a_minute_north_and_a_minute_east_on_the_ellipsoid(latitude: float) -> None:
    """Closed form: radii of curvature of WGS 84 (a = 6 378 137 m, 1/f = 298.257 223 563). Within 0.1 m."""
    a, f = 6_378_137.0, 1.0 / 298.257_223_563
    e2, phi, minute = f * (2.0 - f), latitude * DEG, DEG / 60.0
    root = 1.0 - e2 * math.sin(phi) ** 2
    meridian, prime = a * (1.0 - e2) / root**1.5, a / math.sqrt(root)
    plane = NearPlane(phi, 0.5)
    assert plane.place(phi + minute, 0.5) == pytest.approx((0.0, meridian * minute), abs=0.1)
    east, north = plane.place(phi, 0.5 + minute)
    assert east == pytest.approx(prime * math.cos(phi) * minute, abs=0.1)
    # the parallel curves away from the plane's east line by d^2 tan(phi) / 2R
    assert north == pytest.approx(east**2 * math.tan(phi) / (2.0 * prime), abs=0.01)


def test_scale_across_the_line_of_sight_holds_to_one_part_in_a_hundred_thousand() -> None:
    """Closed form on the sphere: (d / R) / sin(d / R) - 1, about d^2 / 6 R^2 = 1.3e-5 at 30 nm; stated 1e-5."""
    plane = NearPlane(40.0 * DEG, 0.0)
    far = 30.0 * NM
    here, there = plane.position(0.0, far), plane.position(100.0, far)
    apart = NearPlane(*here).place(*there)
    stretch = 100.0 / math.hypot(*apart) - 1.0
    assert stretch == pytest.approx((far / 6_371_000.0) ** 2 / 6.0, rel=0.05)


# ---- ship's axes


def test_components_along_a_ships_axes() -> None:
    """By hand: heading east, east is ahead and north to port; heading 060, a vector along 330 is to port."""
    east, north = np.array([1.0, 0.0, -math.sin(30.0 * DEG)]), np.array([0.0, 1.0, math.cos(30.0 * DEG)])
    course = np.array([90.0, 90.0, 60.0]) * DEG
    ahead, port = ship_components(east, north, course)
    assert ahead == pytest.approx([1.0, 0.0, 0.0], abs=1e-12)
    assert port == pytest.approx([0.0, 1.0, 1.0], abs=1e-12)


@given(east=st.floats(-1e4, 1e4), north=st.floats(-1e4, 1e4), course=angles)
def test_components_keep_length_and_come_back(east: float, north: float, course: float) -> None:
    ahead, port = ship_components(np.array(east), np.array(north), np.array(course))
    assert math.hypot(float(ahead), float(port)) == pytest.approx(math.hypot(east, north), abs=1e-8)
    # the ship's axes seen from a ship whose course is as far the other way
    back_ahead, back_port = ship_components(-port, ahead, np.array(-course))
    assert (float(back_ahead), float(back_port)) == pytest.approx((north, -east), abs=1e-8)


# ---- angles


@pytest.mark.parametrize(
    ("angle", "expected"),
    [(0.0, 0.0), (180.0, 180.0), (-180.0, 180.0), (540.0, 180.0), (190.0, -170.0), (-190.0, 170.0), (720.0, 0.0)],
)
def test_wrap_keeps_180_positive(angle: float, expected: float) -> None:
    assert wrap(angle * DEG) / DEG == pytest.approx(expected, abs=1e-9)


@given(angle=angles)
def test_wrap_is_the_same_direction_in_range(angle: float) -> None:
    wrapped = wrap(angle)
    assert -math.pi < wrapped <= math.pi
    assert math.cos(wrapped - angle) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize(
    ("start", "end", "side", "expected"),
    [
        (350.0, 10.0, 1.0, 20.0),
        (350.0, 10.0, -1.0, -340.0),
        (10.0, 350.0, -1.0, -20.0),
        (10.0, 350.0, 1.0, 340.0),
        (90.0, 270.0, 1.0, 180.0),
        (90.0, 270.0, -1.0, -180.0),
        (45.0, 45.0, 1.0, 0.0),
        (45.0, 45.0, -1.0, 0.0),
        (0.0, 360.0, 1.0, 0.0),
    ],
)
def test_turn_from_one_heading_to_another_the_given_way(start: float, end: float, side: float, expected: float) -> None:
    assert turn_between(start * DEG, end * DEG, side) / DEG == pytest.approx(expected, abs=1e-9)


@given(start=angles, end=angles)
def test_turns_either_way_make_a_circle_together(start: float, end: float) -> None:
    right, left = turn_between(start, end, 1.0), turn_between(start, end, -1.0)
    assert right >= 0.0 >= left
    assert math.cos(start + right - end) == pytest.approx(1.0, abs=1e-12)
    assert min(abs(right - left - 2.0 * math.pi), abs(right - left)) < 1e-9
