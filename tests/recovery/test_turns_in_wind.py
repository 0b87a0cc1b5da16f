"""A half turn in any wind, by the path engine, against the circle carried along by the air."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import in_ship_frame
from roundown.motion.manoeuvre import Guard, HoldSpeed, Leg, Level, Setting, TurnTo, Until, fly
from roundown.motion.ship_track import steady_track

KT = 1852.0 / 3600.0  # m/s
DEG = math.pi / 180.0
G = 9.80665  # m/s2
INSTANT = 1e4  # rad/s, a roll that takes no time to speak of
PLANE = Aeroplane(
    mass=3_900.0, wing_area=27.0, zero_lift_drag=0.026, gear_drag=0.02, flap_drag=0.07, induced_drag=0.075,
    idle_thrust=-900.0, shaft_power=1_000_000.0, propeller_diameter=3.4, figure_of_merit=0.75, roll_rate=INSTANT,
    gear_time=6.0, flap_time=5.0, gear_limit=70.0, flap_limit=65.0, lift_clean=1.45, lift_flap=2.1,
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(
    wind=st.floats(0.0, 50.0),
    toward=st.floats(-math.pi, math.pi),
    course=st.floats(-math.pi, math.pi),
    ship=st.floats(0.0, 30.0),
    speed=st.floats(75.0, 130.0),
    bank=st.floats(10.0, 45.0),
    hand=st.sampled_from((-1.0, 1.0)),
)
def test_a_half_turn_in_any_wind_is_a_half_circle_carried_by_the_air(
    wind: float, toward: float, course: float, ship: float, speed: float, bank: float, hand: float
) -> None:
    """Closed form: radius V^2 / (g tan bank), time pi V / (g tan bank); in the ship frame the half circle's width
    to the side, and wind less the ship's way times the time. Winds to 50 kt from everywhere, either hand. Within 5 cm.
    """
    blowing = wind * KT * np.array([math.sin(toward), math.cos(toward)])
    setting = Setting(
        PLANE, (288.15, 101_325.0), np.array([[10.0, *blowing]]), steady_track(course, ship * KT)
    )  # fmt: skip
    true, tangent = speed * KT, math.tan(bank * DEG)
    heading = 0.4
    start = (120.0, -60.0, 0.0, true, heading, 0.0, 1.0, 1.0)
    turn = Leg(
        "turn", TurnTo(heading + hand * math.pi, hand * bank * DEG), HoldSpeed(), Level(), Until(Guard.TURN_DONE),
        600.0, gear=1.0, flap=1.0,
    )  # fmt: skip
    time, end = fly(0.0, start, [turn], setting).record(-1)
    expected = math.pi * true / (G * tangent)
    width = 2.0 * true * true / (G * tangent)
    right = np.array([math.cos(heading), -math.sin(heading)])
    ahead = np.array([math.sin(course), math.cos(course)])
    over_sea = np.array(start[:2]) + hand * width * right + expected * blowing
    from_ship = over_sea - ship * KT * expected * ahead
    assert time == pytest.approx(expected, abs=1e-3)
    found = in_ship_frame(time, end[0], end[1], setting.ship.rows)
    assert found == pytest.approx(
        (float(from_ship @ ahead), float(from_ship @ np.array([-ahead[1], ahead[0]]))), abs=0.05
    )


@pytest.mark.parametrize("wind", [0.0, 20.0, 50.0])
def test_rolling_in_and_out_shifts_the_half_turn_but_not_its_drift(wind: float) -> None:
    """Second method: with a roll of 12 deg/s the drift is still wind times time, the width as in calm."""

    def end_of(blowing: float) -> tuple[float, float, float]:
        setting = Setting(
            replace(PLANE, roll_rate=12.0 * DEG), (288.15, 101_325.0),
            np.array([[10.0, 0.0, -blowing * KT]]), steady_track(0.0, 0.0),
        )  # fmt: skip
        turn = Leg("turn", TurnTo(-math.pi, -0.5), HoldSpeed(), Level(), Until(Guard.TURN_DONE), 600.0)
        time, end = fly(0.0, (0.0, 0.0, 0.0, 100.0 * KT, 0.0, 0.0, 1.0, 1.0), [turn], setting).record(-1)
        return time, end[0], end[1]

    calm, blown = end_of(0.0), end_of(wind)
    assert blown[0] == pytest.approx(calm[0], abs=1e-6)
    assert blown[1] == pytest.approx(calm[1], abs=1e-6)
    assert blown[2] - calm[2] == pytest.approx(-wind * KT * calm[0], abs=1e-6)
