"""The view over the nose: worked cases, the outline in a bank, and a straight approach by marching along it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.sight.sight_cases import COCKPIT, DEG, FT, KT, LIFTING, SHIP, STRAIGHT, lying, straight_in

from roundown.environment.air import Air, density
from roundown.sight.attitude import attitudes, body_pitch
from roundown.sight.cockpit import clear_of, nose, nose_edge
from roundown.sight.facts import Flight
from roundown.sight.final_turn import hidden_from, hidden_seconds, point_seen
from roundown.sight.over_nose import bank_gain, deepest, lost_at, nose_rim, straight_view


@pytest.mark.parametrize(
    ("over_nose", "attack", "climb", "drop", "view", "lost"),
    [
        (15, 11, -3, 40, 7, 326),
        (12, 10, 0, 40, 2, 1145),
        (17, 12, 0, 40, 5, 457),
        (10, 12, -4, 30, 2, 859),
    ],
)
def test_worked_cases(over_nose: float, attack: float, climb: float, drop: float, view: float, lost: float) -> None:
    """Own arithmetic: height over tan of view over the nose less body pitch, to a foot and a degree."""
    pitch = float(body_pitch(attack * DEG, climb * DEG, 0.0))
    assert deepest(over_nose * DEG, pitch) / DEG == pytest.approx(view, abs=1e-9)
    assert lost_at(drop * FT, deepest(over_nose * DEG, pitch)) / FT == pytest.approx(lost, abs=0.5)


def test_a_high_nose_hides_the_horizon() -> None:
    """Own arithmetic: 10 degrees over the nose, 12 of body pitch."""
    assert deepest(10 * DEG, 12 * DEG) / DEG == pytest.approx(-2.0)
    assert lost_at(40 * FT, -2 * DEG) == math.inf
    assert lost_at(-1.0, 2 * DEG) == 0.0


def test_wings_level_straight_ahead_the_outline_gives_the_rule() -> None:
    """Second method: where the outline of the nose crosses the upright plane ahead."""
    for pitch in (-3 * DEG, 0.0, 6 * DEG, 12 * DEG):
        assert nose_rim(COCKPIT, pitch, 0.0, 0.0) == pytest.approx(deepest(COCKPIT.over_nose, pitch), abs=1e-9)
    assert nose_rim(COCKPIT, 0.0, 0.0, 120 * DEG) is None


def test_a_bank_shows_more_on_the_inside_as_the_rule_says_to_first_order() -> None:
    """Second method: a broad, flat nose edge near the horizontal; its rim in a small bank against the rule.

    The round nose of the type falls away besides, so it shows more than a flat one.
    """
    for bank, off in ((-5 * DEG, -8 * DEG), (-3 * DEG, -4 * DEG), (4 * DEG, 6 * DEG)):
        flat = replace(COCKPIT, nose_width=400 * FT, over_nose=0.5 * DEG)  # so wide that its top is flat
        level, banked = nose_rim(flat, 0.0, 0.0, off), nose_rim(flat, 0.0, bank, off)
        assert level is not None
        assert banked is not None
        assert banked - level == pytest.approx(bank_gain(bank, off), rel=0.1)
        assert bank_gain(bank, off) > 0.0
        rounded = nose_rim(replace(COCKPIT, over_nose=0.5 * DEG), 0.0, bank, off)
        assert rounded is not None
        assert rounded > banked


@given(pitch=st.floats(-5 * DEG, 12 * DEG), bank=st.floats(-35 * DEG, 35 * DEG), off=st.floats(-12 * DEG, 12 * DEG))
def test_what_is_above_the_rim_is_seen_and_what_is_below_is_not(pitch: float, bank: float, off: float) -> None:
    """Second method: angle to the outline on the sphere, for directions a little over and under the rim."""
    rim = nose_rim(COCKPIT, pitch, bank, off)
    if rim is None:
        return
    for depression, hidden in ((rim - 0.02, False), (rim + 0.002, True)):
        level = np.array([math.cos(depression) * math.cos(off), -math.cos(depression) * math.sin(off),
                          -math.sin(depression)])  # fmt: skip
        assert (clear_of((level @ lying(0.0, pitch, bank))[None, :], nose(COCKPIT))[0] < 0.0) == hidden


def test_angle_to_the_nose_by_brute_force() -> None:
    """Brute force: the least angle to thousands of points along the outline."""
    corners = nose(COCKPIT)
    parts = np.linspace(0.0, 1.0, 400, endpoint=False)[:, None]
    line = np.vstack([a + parts * (b - a) for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True)])
    line /= np.linalg.norm(line, axis=1, keepdims=True)
    rng = np.random.default_rng(4)
    seen = rng.normal((2.0, 0.0, -0.5), 1.0, (200, 3))
    seen /= np.linalg.norm(seen, axis=1, keepdims=True)
    brute = np.arccos(np.clip(seen @ line.T, -1.0, 1.0)).min(axis=1)
    assert np.abs(clear_of(seen, corners)) == pytest.approx(brute, abs=0.01)


def test_the_side_of_the_nose_by_hand() -> None:
    """By hand: half of 4.6 ft at 10.5 ft: 12.36 degrees."""
    assert nose_edge(COCKPIT) / DEG == pytest.approx(12.36, abs=0.005)


def test_a_straight_approach_loses_ramp_and_wire_where_marching_loses_them() -> None:
    """Second method: the nose's outline against the ramp, instant by instant along a level approach in a calm."""
    speed = 80 * KT
    dense = density(SHIP.deck_height + STRAIGHT.ramp_height, Air())
    straight = replace(STRAIGHT, airspeed=speed, closing=speed, density=dense)
    view = straight_view(straight, COCKPIT, LIFTING)
    assert view is not None
    flown = attitudes(straight_in(speed, SHIP.deck_height + STRAIGHT.ramp_height), COCKPIT, LIFTING, Air())
    eyes = flown.eyes(COCKPIT, SHIP.deck_height)[:, 0]
    for ahead in (0.0, SHIP.wires[0]):
        clear = point_seen(flown, COCKPIT, SHIP, (ahead, 0.0)).clear_of_nose
        first = int(np.flatnonzero(clear < 0.0)[0])
        assert -eyes[first] == pytest.approx(view.lost(ahead), abs=0.05 * speed)
    hidden = (view.lost() - (COCKPIT.eye_behind * math.cos(view.pitch) + COCKPIT.eye_height * math.sin(view.pitch))) / (
        speed
    )
    assert hidden_seconds(flown, COCKPIT, SHIP) == pytest.approx(hidden, abs=0.06)
    gone = hidden_from(flown, COCKPIT, SHIP)
    assert gone is not None
    assert flown.time[-1] - gone == pytest.approx(hidden, abs=0.06)


def test_a_let_down_as_steep_as_the_view_never_shows_the_ramp() -> None:
    """Limit case, and own arithmetic: with 1 degree of slope and 3 of view the tangents' difference counts."""
    assert lost_at(10.0, 3 * DEG, 3 * DEG) == math.inf
    assert lost_at(10.0, 3 * DEG, 1 * DEG) == pytest.approx(10.0 / (0.0524078 - 0.0174551), rel=1e-5)


def test_a_let_down_loses_the_ramp_where_marching_does() -> None:
    """Second method, descending: 80 kt through the air, 50 kt past the ship; marched in a frame of the ship's."""
    straight = replace(STRAIGHT, climb=-1.5 * DEG)
    view = straight_view(straight, COCKPIT, LIFTING)
    assert view is not None
    distance = np.arange(5.0, 2000.0, 0.05)
    drop = view.eye_over_deck + distance * math.tan(view.slope)
    hidden = np.arctan2(drop, distance) > view.deepest
    assert view.lost() == pytest.approx(distance[hidden][-1], abs=0.1)
    assert view.slope / DEG == pytest.approx(1.5 * 80 / 50, rel=0.01)


def test_no_wing_no_view() -> None:
    assert straight_view(replace(STRAIGHT, airspeed=55 * KT), COCKPIT, LIFTING) is None


def test_an_offset_approach_keeps_the_ramp_in_sight_longer() -> None:
    """Direction: the same approach from 40 yd to port of the centre line, nose along her course."""
    ahead = straight_in()
    beside = Flight(ahead.time, ahead.ahead, np.full_like(ahead.time, 36.0), ahead.height, ahead.heading, ahead.bank,
                    ahead.airspeed, ahead.flap)  # fmt: skip
    both = [hidden_seconds(attitudes(each, COCKPIT, LIFTING, Air()), COCKPIT, SHIP) for each in (ahead, beside)]
    assert both[1] < both[0]
