"""The ship's faces, the pictures at an instant and the officer's view: against a camera, mirrors and by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from tests.sight.sight_cases import COCKPIT, DEG, FT, LIFTING, SHIP, Floats, camera, half_turn, straight_in, through

from roundown.environment.air import Air
from roundown.errors import NoSolution
from roundown.sight.attitude import attitudes, attitudes_of
from roundown.sight.horizon_cut import horizon_cut
from roundown.sight.officer import aeroplane_faces, officer_eye, span_seen
from roundown.sight.projection import Look
from roundown.sight.view import Picture, officers_picture, pilots_picture
from roundown.sight.wireframe import deck_edge, normal, points_of, ship_faces

REACH = 1.169 * 1852.0 / math.sqrt(FT)


def sunk(points: Floats, eye: Floats) -> Floats:
    low = points.copy()
    low[:, 2] -= ((points[:, :2] - eye[:2]) ** 2).sum(axis=1) / REACH**2
    return low


def test_the_ships_faces_look_outward() -> None:
    """By hand: hull, slab, island and mast turn from their own middle; the deck looks up."""
    middles = {
        "hull": (400 * FT, 0.0, -30 * FT), "deck side": (400 * FT, 0.0, -5 * FT),
        "island": (430 * FT, -40 * FT, 20 * FT), "mast": (430 * FT, -40 * FT, 70 * FT),
    }  # fmt: skip
    for face in ship_faces(SHIP):
        if face.part in middles:
            outward = face.corners.mean(axis=0) - middles[face.part]
            assert normal(face.corners) @ outward > 0.0, face.part
        if face.part == "deck":
            assert normal(face.corners)[2] > 0.0


def test_the_ship_is_as_large_as_her_facts() -> None:
    """By hand: lengths and heights of the outline."""
    corners = {part: np.vstack([face.corners for face in ship_faces(SHIP) if face.part == part]) / FT
               for part in ("deck", "hull", "island", "mast")}  # fmt: skip
    assert_allclose(corners["deck"].min(axis=0), (0.0, -47.0, 0.0), atol=1e-9)
    assert_allclose(corners["deck"].max(axis=0), (838.0, 47.0, 0.0), atol=1e-9)
    assert_allclose((corners["hull"][:, 2].min(), corners["hull"][:, 2].max()), (-65.0, -10.0))
    low = corners["hull"][corners["hull"][:, 2] < -64.0]
    assert low[:, 1].max() == pytest.approx(42.0)
    assert np.abs(corners["hull"][:, 1]).max() <= 47.0
    assert_allclose(corners["island"].min(axis=0), (364.0, -47.0, 0.0), atol=1e-9)
    assert_allclose(corners["island"].max(axis=0), (496.0, -33.0, 42.0), atol=1e-9)
    assert corners["mast"][:, 2].max() == pytest.approx(95.0)
    assert len(ship_faces(replace(SHIP, mast_height=42 * FT))) == len(ship_faces(SHIP)) - 5
    assert deck_edge(SHIP)[2][1] == pytest.approx(-43 * FT)


@pytest.mark.parametrize("time", [-15.0, 0.0, 6.0, 15.5, 26.0])
def test_points_of_the_ship_stand_where_a_pinhole_camera_has_them(time: float) -> None:
    """Second method: quaternion camera at the eye, points lowered by the round sea."""
    facts = half_turn()
    flown = attitudes_of(facts)
    picture = pilots_picture(facts, flown, time)
    there = flown.at(time)
    eye = there.eyes(COCKPIT, SHIP.deck_height)[0]
    matrix = camera(eye, float(there.heading[0]), float(there.pitch[0]), float(there.bank[0]), picture.look.azimuth,
                    picture.look.elevation)  # fmt: skip
    assert "ramp" in picture.marks
    for name, mark in picture.marks.items():
        seen = through(matrix, sunk(points_of(SHIP, -1)[name][None, :], eye))[0]
        assert (mark.right, mark.up) == pytest.approx(tuple(seen), abs=1e-9)


@pytest.mark.parametrize("time", [-15.0, 0.0, 6.0, 15.5, 26.0])
def test_the_horizon_crosses_the_island_where_the_rule_says(time: float) -> None:
    """Second method: the point of the mast's line at the cut, through a camera, lies on the drawn horizon."""
    facts = half_turn()
    flown = attitudes_of(facts)
    picture = pilots_picture(facts, flown, time, None)
    there = flown.at(time)
    eye = there.eyes(COCKPIT, SHIP.deck_height)[0]
    look = picture.look
    matrix = camera(eye, float(there.heading[0]), float(there.pitch[0]), float(there.bank[0]), look.azimuth,
                    look.elevation)  # fmt: skip
    foot = np.array([SHIP.island_place, 0.0, 0.0])
    off = math.hypot(*(foot[:2] - eye[:2]))
    assert picture.cut == pytest.approx(horizon_cut(float(eye[2]) + SHIP.deck_height, off))
    foot[2] = horizon_cut(float(eye[2]) + SHIP.deck_height, off) - SHIP.deck_height
    right, up = through(matrix, sunk(foot[None, :], eye))[0]
    line = picture.horizon[np.argsort(picture.horizon[:, 0])]
    assert up == pytest.approx(float(np.interp(right, line[:, 0], line[:, 1])), abs=2e-5)


def test_the_mast_stands_above_the_horizon_when_it_is_higher_than_the_eye() -> None:
    """By hand: wheels at 200 - 110 x 29 / 31.8 = 99.7 ft, eye 7.6 ft over them; masthead 160 ft, deck 65 ft."""
    facts = half_turn()
    picture = pilots_picture(facts, attitudes_of(facts), 29.0)
    assert picture.eye_height / FT == pytest.approx(107.3, abs=1.0)
    line = picture.horizon[np.argsort(picture.horizon[:, 0])]
    over = {name: mark.up - np.interp(mark.right, line[:, 0], line[:, 1]) for name, mark in picture.marks.items()}
    assert over["masthead"] > 0.0
    assert over["ramp"] < 0.0


def test_a_right_hand_circuit_is_the_mirror_of_a_left_hand_one() -> None:
    """Mirror: points and horizon with right for left; what hides, too."""
    left, right = (pilots_picture(facts, attitudes_of(facts), 20.0) for facts in (half_turn(-1), half_turn(1)))
    assert set(left.marks) == set(right.marks)
    for name, mark in left.marks.items():
        other = right.marks[name]
        assert (mark.right, mark.up) == pytest.approx((-other.right, other.up), abs=1e-9)
    for ends in (left.horizon, right.horizon):
        assert len(ends) > 1
    assert left.horizon[:, 1].max() == pytest.approx(right.horizon[:, 1].max(), abs=1e-9)


def test_the_nose_hides_the_ramp_on_a_straight_approach_and_not_in_the_turn() -> None:
    """Direction: hidden a hundred yards astern with the nose on it, seen from the last third of the turn."""
    facts = half_turn()
    turn = pilots_picture(facts, attitudes_of(facts), 24.0)
    assert turn.marks["ramp"].hidden_by == ""
    flight = straight_in()
    straight = replace(facts, flight=flight)
    flown = attitudes(flight, COCKPIT, LIFTING, Air())
    near, far = (
        pilots_picture(straight, flown, float(np.interp(-d, flight.ahead, flight.time))) for d in (60.0, 590.0)
    )
    assert near.marks["ramp"].hidden_by == "nose"
    assert far.marks["ramp"].hidden_by == ""


def test_everything_drawn_is_inside_the_picture() -> None:
    facts = half_turn()
    flown = attitudes_of(facts)
    for time in np.arange(-20.0, float(facts.flight.time[-1]), 1.7):
        for picture in (pilots_picture(facts, flown, float(time)), officers_picture(facts, flown, float(time))):
            across, upward = picture.half
            for shape in picture.shapes:
                assert np.all(np.abs(shape.points[:, 0]) <= across + 1e-9)
                assert np.all(np.abs(shape.points[:, 1]) <= upward + 1e-9)


def test_the_wing_is_low_in_the_turn_and_hidden_faces_are_left_out() -> None:
    """By hand: head half-way to port in a left turn: port wing to the left and below; no underside of the island."""
    facts = half_turn()
    flown = attitudes_of(facts)
    picture = pilots_picture(facts, flown, 5.0, Look(-60 * DEG, -10 * DEG, 66 * DEG, 0.72))
    wing = next(shape for shape in picture.shapes if shape.part == "port wing")
    assert wing.points[:, 1].mean() < picture.horizon[:, 1].mean()
    parts = [shape.part for shape in pilots_picture(facts, flown, 20.0).shapes]
    order = list(dict.fromkeys(parts))
    assert order[0] == "sea"
    assert order.index("hull") < order.index("deck") < order.index("island") < order.index("nose")


def test_an_eye_below_the_deck_sees_no_deck() -> None:
    """Limit case: wheels 30 ft over the sea."""
    facts = half_turn()
    low = replace(facts, flight=replace(facts.flight, height=np.full_like(facts.flight.height, 30 * FT)))
    picture = pilots_picture(low, attitudes_of(low), 15.0)
    parts = [shape.part for shape in picture.shapes]
    assert "deck" not in parts
    assert parts.index("island") < parts.index("hull")


def test_the_officer_sees_a_span_by_its_distance() -> None:
    """By hand: wings level, straight astern of the platform: twice the arc tangent of half the span over distance."""
    flight = straight_in()
    flown = attitudes(flight, COCKPIT, LIFTING, Air())
    eye = officer_eye(SHIP)
    assert_allclose(eye, (35 * FT, 50 * FT, 5.5 * FT))
    seen = span_seen(flown, COCKPIT, SHIP)[0]
    assert seen == pytest.approx(2.0 * math.atan(0.5 * COCKPIT.span / (600.0 + eye[0])), rel=0.01)


def test_the_officers_picture_has_the_aeroplane_in_the_middle_and_a_true_size() -> None:
    """Second method: wing tips through a camera at the platform."""
    facts = half_turn()
    flown = attitudes_of(facts)
    picture: Picture = officers_picture(facts, flown, 22.0)
    wings = np.vstack([shape.points for shape in picture.shapes if shape.part == "wing"])
    extent = math.hypot(*(wings.max(axis=0) - wings.min(axis=0)))
    assert extent == pytest.approx(2.0 * math.tan(0.5 * span_seen(flown.at(22.0), COCKPIT, SHIP)[0]), rel=0.15)
    assert abs(wings.mean(axis=0)).max() < 0.3 * picture.half[0]


def test_the_wireframe_is_as_large_as_the_type() -> None:
    """By hand: span, length, wheels on the ground."""
    corners = np.vstack([face.corners for face in aeroplane_faces(COCKPIT)]) / FT
    assert corners[:, 1].max() - corners[:, 1].min() == pytest.approx(39.5)
    assert corners[:, 0].max() == pytest.approx(10.5 - 5.2)
    assert corners[:, 0].max() - corners[:, 0].min() == pytest.approx(31.8)
    assert corners[:, 2].min() == pytest.approx(0.0, abs=1e-9)


def test_there_is_no_picture_outside_the_way_flown() -> None:
    facts = half_turn()
    flown = attitudes_of(facts)
    with pytest.raises(NoSolution, match="no attitude"):
        pilots_picture(facts, flown, 1e4)
    with pytest.raises(NoSolution, match="no attitude"):
        officers_picture(facts, flown, -1e4)
