"""How the fuselage lies and where the eye is: by hand, and against the balance of forces."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from tests.sight.sight_cases import COCKPIT, DEG, FT, KT, LB, LIFTING, G, half_turn, lying, straight_in

from roundown.environment.air import Air
from roundown.motion.equations.wing import angle_for
from roundown.motion.path import Channel, MadeBy, Path, Source
from roundown.sight.attitude import Attitudes, angle_of_attack, attitudes, attitudes_of, body_pitch, tilted
from roundown.sight.facts import flap_along, flight_of
from roundown.sight.projection import axes


def test_angle_of_attack_by_hand() -> None:
    """By hand: 9740 lb on 296 ft2 at 80 kt, sea level, full flap.

    q = 0.6125 x 41.156^2 = 1037.4 Pa; lift coefficient 4418.0 x 9.80665 / (1037.4 x 27.499) = 1.5187
    (1.5187 - 0.61) / 4.42 = 0.20559 rad = 11.78 deg; less 2.1 = 9.68 deg.
    """
    assert float(angle_of_attack(1.0, 80 * KT, 1.225, 1.0, LIFTING)) / DEG == pytest.approx(9.68, abs=0.01)
    assert float(body_pitch(9.68 * DEG, -3 * DEG, 1.5 * DEG)) / DEG == pytest.approx(5.18)


@given(load=st.floats(0.5, 2.0), speed=st.floats(35.0, 80.0), flap=st.floats(0.0, 1.0))
def test_angle_of_attack_is_the_launchs(load: float, speed: float, flap: float) -> None:
    """Second method: the wing of the launch, which keeps to its stall angle where the lift is not to be had."""
    wing = (LIFTING.wing_area, LIFTING.lift_slope, LIFTING.zero_lift_angle, LIFTING.flap_lift, LIFTING.lift_clean,
            LIFTING.lift_flap, 0.6, 0.03, 0.02, 0.07, 0.07)  # fmt: skip
    lift = load * LIFTING.mass * G / (0.5 * 1.2 * speed**2 * LIFTING.wing_area)
    found = float(angle_of_attack(load, speed, 1.2, flap, LIFTING))
    greatest = LIFTING.lift_clean + flap * (LIFTING.lift_flap - LIFTING.lift_clean)
    if lift > greatest * (1.0 + 1e-9):
        assert math.isnan(found)
    elif lift < greatest * (1.0 - 1e-9):
        assert found == pytest.approx(angle_for(lift, flap, wing), abs=1e-12)


def test_a_wing_that_does_not_carry_has_no_attitude() -> None:
    """Limit case: 60 kt wants a lift coefficient of 2.70, more than 2.2."""
    there = attitudes(straight_in(60 * KT), COCKPIT, LIFTING, Air())
    assert np.all(np.isnan(there.pitch))


@given(climb=st.floats(-15 * DEG, 15 * DEG), angle=st.floats(-5 * DEG, 20 * DEG))
def test_wings_level_pitch_is_climb_and_body_angle(climb: float, angle: float) -> None:
    """By hand: with level wings the two angles add."""
    assert_allclose(tilted(axes(0.4, climb, 0.0), np.asarray(angle)), axes(0.4, climb + angle, 0.0), atol=1e-12)


@given(bank=st.floats(-45 * DEG, 45 * DEG), climb=st.floats(-5 * DEG, 5 * DEG), angle=st.floats(0.0, 15 * DEG))
def test_in_a_bank_the_nose_points_into_the_turn(bank: float, climb: float, angle: float) -> None:
    """Second method: quaternion about the port axis; to first order the nose is off the way by angle x sin(bank)."""
    body = tilted(axes(0.0, climb, bank), np.asarray(angle))
    assert_allclose(body, (lying(0.0, climb, bank) @ lying(0.0, angle, 0.0)).T, atol=1e-12)
    into = math.atan2(-body[0, 1], body[0, 0])
    assert into == pytest.approx(angle * math.sin(bank), abs=0.02)


def test_the_turn_is_coordinated() -> None:
    """Conservation: no part of weight and turn along the port axis of the fuselage; and the nose is up the line of it.

    In the level frame the aeroplane feels g down and v^2 / r outward; both must lie in its plane of symmetry.
    """
    facts = half_turn()
    flat = replace(facts, flight=replace(facts.flight, height=np.full_like(facts.flight.height, 90 * FT)))
    there = attitudes_of(flat)
    i = 900
    rate = G * math.tan(25 * DEG) / (90 * KT)
    outward = 90 * KT * rate
    course = float(flat.flight.heading[i])
    right = np.array([-math.sin(course), -math.cos(course), 0.0])  # outward in a left turn
    felt = np.array([0.0, 0.0, -G]) + outward * right
    assert felt @ there.body[i][1] == pytest.approx(0.0, abs=1e-9)


def test_the_eye_is_where_the_cockpit_is() -> None:
    """By hand: level, 8.4 ft over the wheels and 5.2 ft behind; on end, nose up, 8.4 ft behind and 5.2 ft below."""
    nothing = np.zeros(3)

    def lies(pitch: float, bank: float) -> Attitudes:
        return Attitudes(np.arange(3.0), nothing.copy(), nothing.copy(), nothing + 65 * FT, nothing.copy(),
                         nothing + pitch, nothing + bank)  # fmt: skip

    assert_allclose(lies(0.0, 0.0).eyes(COCKPIT, 65 * FT)[0], (-5.2 * FT, 0.0, 8.4 * FT))
    assert_allclose(lies(90 * DEG, 0.0).eyes(COCKPIT, 65 * FT)[1], (-8.4 * FT, 0.0, -5.2 * FT), atol=1e-12)
    assert_allclose(lies(0.0, 90 * DEG).eyes(COCKPIT, 65 * FT)[2], (-5.2 * FT, -8.4 * FT, 0.0), atol=1e-12)


def test_between_instants_attitudes_are_linear_and_beyond_them_unknown() -> None:
    there = attitudes_of(half_turn())
    assert np.isnan(there.at(there.time[-1] + 0.01).pitch[0])
    assert there.at(there.time[-1] + 1e-9).pitch[0] == there.pitch[-1]
    middle = there.at(0.5 * float(there.time[700] + there.time[701]))
    assert middle.ahead[0] == pytest.approx(0.5 * (there.ahead[700] + there.ahead[701]))


def test_a_path_is_put_past_the_ship() -> None:
    """By hand: ship 090 at 10 m/s; 3 s later, 50 m east and 7 m north of the datum is 20 m ahead and 7 m to port."""

    def channel(*values: float) -> Channel:
        return Channel(np.array(values), 0.0, Source.GIVEN)

    path = Path(
        np.array([0.0, 3.0]), channel(0.0, 50.0), channel(0.0, 7.0), channel(30.0, 31.0), channel(1.0, 1.5),
        channel(0.0, 0.1), channel(40.0, 41.0), channel(40.0, 40.0), MadeBy.PLANNED,
    )  # fmt: skip
    flight = flight_of(path, 90 * DEG, 10.0, np.array([0.0, 1.0]))
    assert flight.ahead[1] == pytest.approx(20.0)
    assert flight.port[1] == pytest.approx(7.0)
    assert_allclose(flight.heading, (1.0 - 90 * DEG, 1.5 - 90 * DEG))
    with pytest.raises(ValueError, match="length of its time"):
        replace(flight, flap=np.zeros(5))


def test_flap_comes_down_in_its_time() -> None:
    """By hand: down at 10 s after 5 s of travel, so half at 7.5 s."""
    assert_allclose(flap_along(np.array([0.0, 5.0, 7.5, 10.0, 20.0]), 10.0, 5.0), (0.0, 0.0, 0.5, 1.0, 1.0))


def test_heavier_flies_nose_higher() -> None:
    """Direction: a tenth more weight wants a tenth more lift."""
    light = attitudes(straight_in(), COCKPIT, LIFTING, Air()).pitch[0]
    heavy = attitudes(straight_in(), COCKPIT, replace(LIFTING, mass=10_714 * LB), Air()).pitch[0]
    assert (heavy - light) / DEG == pytest.approx(0.1 * 1.5187 / 4.42 / DEG, rel=0.02)
