"""Thrust, drag, stall and level speed, against a published stall and own arithmetic."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from roundown.motion.aeroplane import Aeroplane, change_available, level_speed, stall_speed
from roundown.motion.equations.kernel import drag, full_thrust

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
HP = 745.699_871_58  # W
LBF = 4.448_221_615  # N
G = 9.80665  # m/s2
DENSITY = 1.225  # kg/m3


def pull(aeroplane: Aeroplane, horsepower: float, diameter: float, merit: float, knots: float) -> float:
    """Full thrust at sea level in pounds; diameter in feet."""
    driven = replace(aeroplane, shaft_power=horsepower * HP, propeller_diameter=diameter * FT, figure_of_merit=merit)
    return full_thrust(knots * KT, DENSITY, driven.craft) / LBF


def test_static_thrust_of_an_ideal_propeller(invented: Aeroplane) -> None:
    """PHY-92, computed: 1200 hp, disc of 11.5 ft: 5992 lb. By hand (2 rho A P^2)^(1/3) = 26.65 kN. Within 2 lb."""
    assert pull(invented, 1_200.0, 11.5, 1.0, 0.0) == pytest.approx(5_992.0, abs=2.0)
    assert pull(invented, 1_200.0, 11.5, 0.65, 0.0) == pytest.approx(4_496.0, abs=2.0)
    assert pull(invented, 1_200.0, 11.5, 0.70, 0.0) == pytest.approx(4_724.0, abs=2.0)


@pytest.mark.parametrize(
    ("knots", "pounds"),
    [(0.0, 4_430.0), (15.0, 4_096.0), (25.0, 3_876.0), (40.0, 3_552.0), (60.0, 3_143.0), (80.0, 2_770.0)],
)
def test_thrust_falls_with_speed(invented: Aeroplane, knots: float, pounds: float) -> None:
    """Constructed case (propeller of a deck run): 1200 hp, 9.75 ft, 0.75 of the power spent well. Within 2 lb."""
    assert pull(invented, 1_200.0, 9.75, 0.75, knots) == pytest.approx(pounds, abs=2.0)


@pytest.mark.parametrize("speed", [0.0, 30.0, 80.0, 150.0])
def test_thrust_satisfies_momentum_theory(invented: Aeroplane, speed: float) -> None:
    """Own arithmetic: T (V + w) = P and T = 2 rho A (V + w) w, with w taken from the second alone."""
    thrust = full_thrust(speed, DENSITY, invented.craft)
    disc = math.pi * 3.0**2 / 4.0
    inflow = -speed / 2.0 + math.sqrt(speed**2 / 4.0 + thrust / (2.0 * DENSITY * disc))
    assert thrust * (speed + inflow) == pytest.approx(0.72 * 895_000.0, rel=1e-10)


def test_no_power_no_thrust(invented: Aeroplane) -> None:
    assert full_thrust(40.0, DENSITY, replace(invented, shaft_power=0.0).craft) == 0.0


@pytest.mark.published
def test_stall_from_wing_loading_and_greatest_lift(invented: Aeroplane) -> None:
    """PHY-59, USE: wing loading 3500 Pa, greatest lift coefficient 1.6: 116.167 kt CAS. Within 0.001 kt.

    Source: A. Sobester, open-source aircraft-design recipes, test suite, stall speed.
    """
    heavy = replace(invented, mass=3_500.0 * 28.0 / G, lift_flap=1.6)
    assert stall_speed(heavy) / KT == pytest.approx(116.167, abs=0.001)


def test_stall_with_flap_part_way_and_under_load(invented: Aeroplane) -> None:
    """Own arithmetic: lift = weight with a coefficient half way between 1.45 and 2.1; square root of the load."""
    weight = 3_600.0 * G
    for flap, coefficient in ((0.0, 1.45), (0.5, 1.775), (1.0, 2.1)):
        speed = stall_speed(invented, flap)
        assert 0.5 * DENSITY * speed**2 * 28.0 * coefficient == pytest.approx(weight, rel=1e-6)
        assert stall_speed(invented, flap, 2.0) == pytest.approx(speed * math.sqrt(2.0))


def test_drag_in_a_banked_turn_with_half_the_gear_and_full_flap(invented: Aeroplane) -> None:
    """Own arithmetic at 50 m/s, load 1.2: q S = 0.5 x 1.225 x 2500 x 28 = 42 875 N; CL = 42 364.7 / 42 875 = 0.98810.

    CD = 0.024 + 0.5 x 0.022 + 0.035 + 0.065 x 0.97635 = 0.133463; drag 5722.2 N.
    """
    assert drag(50.0, DENSITY, 1.2, 0.5, 1.0, invented.craft) == pytest.approx(5_722.2, abs=0.1)


def test_change_of_speed_to_be_had(invented: Aeroplane) -> None:
    """Own arithmetic at 50 m/s, clean, level: CL = 35 303.9 / 42 875 = 0.82342.

    CD = 0.024 + 0.065 x 0.67801 = 0.068071, drag 2918.5 N; throttle shut (2918.5 + 250) / 3600 = 0.8801 m/s2;
    full power (T - 2918.5) / 3600.
    """
    slowing, gaining = change_available(invented, 50.0, 1.0, 0.0, 0.0)
    assert slowing == pytest.approx(0.8801, abs=1e-4)
    assert gaining == pytest.approx((full_thrust(50.0, DENSITY, invented.craft) - 2_918.5) / 3_600.0, abs=1e-4)


def test_level_speed_is_where_thrust_is_drag_and_no_faster_is_held(invented: Aeroplane) -> None:
    speed = level_speed(invented)
    assert full_thrust(speed, DENSITY, invented.craft) == pytest.approx(
        drag(speed, DENSITY, 1.0, 0.0, 0.0, invented.craft), rel=1e-6
    )
    assert change_available(invented, speed - 1.0, 1.0, 0.0, 0.0)[1] > 0.0
    assert change_available(invented, speed + 1.0, 1.0, 0.0, 0.0)[1] < 0.0


def test_craft_holds_each_number_in_its_place(invented: Aeroplane) -> None:
    """Every field moves one number of the craft, or none where the engine has no use for it; the dial's card two."""
    unused = {"lift_clean", "lift_flap"}
    for name, value in vars(invented).items():
        if name == "position_error":
            continue
        moved = replace(invented, **{name: value * 1.1})
        changed = sum(before != after for before, after in zip(invented.craft, moved.craft, strict=True))
        assert changed == (0 if name in unused else 1), name
    by_another_dial = replace(invented, position_error=((30.0, 2.0),)).craft
    apart = [after - before for before, after in zip(invented.craft, by_another_dial, strict=True)]
    assert sorted(apart) == pytest.approx([0.0] * (len(apart) - 2) + [2.0, 2.0])
