"""Perspective against a pinhole camera built another way, cases by hand, and cutting by brute force."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from tests.sight.sight_cases import DEG, Floats, camera, lying, through

from roundown.sight.projection import NEAR, Look, angles_of, axes, bearing, cut, cut_line, on_image

headings = st.floats(-math.pi, math.pi)
slopes = st.floats(-80 * DEG, 80 * DEG)
AHEAD = Look(0.0, 0.0, 60 * DEG, 0.75)


@given(heading=headings, pitch=slopes, bank=headings)
def test_axes_are_those_of_turns_one_after_the_other(heading: float, pitch: float, bank: float) -> None:
    """Second method: quaternions about the body's own axes. Right-handed and of unit length besides."""
    found = axes(heading, pitch, bank)
    assert_allclose(found, lying(heading, pitch, bank).T, atol=1e-12)
    assert_allclose(np.cross(found[0], found[1]), found[2], atol=1e-12)


@given(heading=st.floats(-3.1, 3.1), pitch=slopes, bank=st.floats(-3.1, 3.1))
def test_angles_come_back_from_axes(heading: float, pitch: float, bank: float) -> None:
    """There and back."""
    assert_allclose(angles_of(axes(heading, pitch, bank)), (heading, pitch, bank), atol=1e-9)


def test_axes_by_hand() -> None:
    """By hand: heading 090 off her course looks to starboard; nose up looks up; right bank puts the port wing up."""
    assert_allclose(axes(90 * DEG, 0.0, 0.0)[0], (0.0, -1.0, 0.0), atol=1e-15)
    assert_allclose(axes(0.0, 90 * DEG, 0.0)[0], (0.0, 0.0, 1.0), atol=1e-15)
    assert_allclose(axes(0.0, 0.0, 90 * DEG)[1], (0.0, 0.0, 1.0), atol=1e-15)
    assert_allclose(axes(0.0, 0.0, 0.0), np.eye(3), atol=1e-15)


def test_axes_of_many_are_those_of_each() -> None:
    """Arrays against numbers."""
    heading, pitch, bank = np.random.default_rng(1).uniform(-1.0, 1.0, (3, 5))
    each = [axes(h, p, b) for h, p, b in zip(heading, pitch, bank, strict=True)]
    assert_allclose(axes(heading, pitch, bank), each)


@given(
    heading=headings, pitch=slopes, bank=headings, azimuth=headings, elevation=slopes, seed=st.integers(0, 1000)
)  # fmt: skip
def test_points_fall_where_a_pinhole_camera_puts_them(
    heading: float, pitch: float, bank: float, azimuth: float, elevation: float, seed: int
) -> None:
    """Second method: one 3 x 4 matrix from quaternions, homogeneous coordinates."""
    rng = np.random.default_rng(seed)
    eye, points = rng.uniform(-100.0, 100.0, 3), rng.uniform(-1000.0, 1000.0, (40, 3))
    view = Look(azimuth, elevation, 1.0, 1.0).turned @ axes(heading, pitch, bank)
    seen = (points - eye) @ view.T
    before = seen[:, 0] > 1.0
    matrix = camera(eye, heading, pitch, bank, azimuth, elevation)
    assert_allclose(on_image(seen[before]), through(matrix, points[before]), rtol=1e-7, atol=1e-9)


def test_right_is_right_and_up_is_up() -> None:
    """By hand: 100 m ahead, 20 m to starboard, 10 m up: 0.2 to the right, 0.1 up."""
    assert_allclose(on_image(np.array([[100.0, -20.0, 10.0]])), [[0.2, 0.1]])
    assert_allclose(bearing(np.array([100.0, -100.0, 0.0])), (45 * DEG, 0.0))


def test_in_a_left_turn_the_horizon_stands_higher_on_the_left() -> None:
    """By hand: in a left bank of 25 degrees a level line far ahead tilts by 25 degrees, left end up."""
    far = np.array([[1e6, 3e5, 0.0], [1e6, -3e5, 0.0]])
    left, right = on_image(far @ axes(0.0, 0.0, -25 * DEG).T)
    assert left[0] < right[0]
    assert math.degrees(math.atan2(left[1] - right[1], right[0] - left[0])) == pytest.approx(25.0)


def test_looking_along_the_low_wing_the_horizon_is_above_it() -> None:
    """By hand: head turned 90 degrees to port in a left bank of 25 degrees looks 25 degrees below the horizon."""
    view = Look(-90 * DEG, 0.0, 1.0, 1.0).turned @ axes(0.0, 0.0, -25 * DEG)
    assert bearing(view[0])[1] == pytest.approx(-25 * DEG)


@given(st.integers(0, 10_000))
def test_a_cut_face_is_what_of_it_is_in_the_field(seed: int) -> None:
    """Brute force: points strewn over a triangle are inside the cut face on the image exactly when in the field."""
    rng = np.random.default_rng(seed)
    corners = rng.uniform(-30.0, 30.0, (3, 3))
    weights = rng.dirichlet((1.0, 1.0, 1.0), 60)
    strewn = weights @ corners
    planes = AHEAD.planes
    depth = strewn @ planes[:, :3].T - planes[:, 3]
    plain = np.abs(depth).min(axis=1) > 1e-6
    seen = np.all(depth > 0.0, axis=1)
    left = cut(corners, planes)
    if len(left) < 3:
        assert not np.any(seen & plain)
        return
    assert np.all(left @ planes[:, :3].T - planes[:, 3] >= -1e-9)
    image = on_image(left)
    for point in on_image(strewn[seen & plain]):
        assert inside(point, image)
    across, upward = AHEAD.half
    assert np.all(np.abs(image) <= (across + 1e-9, upward + 1e-9))


def inside(point: Floats, corners: Floats) -> bool:
    """Whether a point is in a convex polygon, either way round, with a little to spare."""
    following = np.roll(corners, -1, axis=0)
    side = (following[:, 0] - corners[:, 0]) * (point[1] - corners[:, 1])
    side -= (following[:, 1] - corners[:, 1]) * (point[0] - corners[:, 0])
    return bool(np.all(side > -1e-7) or np.all(side < 1e-7))


def test_a_face_that_passes_under_the_eye_is_cut_at_the_near_plane() -> None:
    """By hand: a strip 4 m wide, 1 m below, from 10 m behind to 10 m ahead, looked at straight down the middle."""
    strip = np.array([(-10.0, 2.0, -1.0), (10.0, 2.0, -1.0), (10.0, -2.0, -1.0), (-10.0, -2.0, -1.0)])
    left = cut(strip, AHEAD.planes[:1])
    assert left[:, 0].min() == pytest.approx(NEAR)
    assert left[:, 0].max() == 10.0
    assert len(cut(strip - (20.0, 0.0, 0.0), AHEAD.planes)) == 0


def test_a_line_is_cut_at_both_edges_and_may_come_in_two_pieces() -> None:
    """By hand: a bar across, and a bent one whose middle lies outside the field above."""
    across, upward = AHEAD.half
    (bar,) = cut_line(np.array([(10.0, 50.0, 0.0), (10.0, -50.0, 0.0)]), AHEAD.planes)
    assert_allclose(on_image(bar)[:, 0], (-across, across))
    bent = np.array([(10.0, 2.0, 0.0), (10.0, 1.0, 50.0), (10.0, -1.0, 50.0), (10.0, -2.0, 0.0)])
    first, last = cut_line(bent, AHEAD.planes)
    assert on_image(first)[1, 1] == pytest.approx(upward)
    assert on_image(last)[0, 1] == pytest.approx(upward)
    assert cut_line(bent[1:3], AHEAD.planes) == []
