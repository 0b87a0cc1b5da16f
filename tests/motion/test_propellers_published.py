"""Thrust of measured propellers: momentum theory with the figure of merit that was measured."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import full_thrust

FT, LBF, HP = 0.3048, 4.448_221_615, 745.699_871_58


def thrust(aeroplane: Aeroplane, power: float, diameter: float, merit: float, speed: float, density: float) -> float:
    driven = replace(aeroplane, shaft_power=power, propeller_diameter=diameter, figure_of_merit=merit)
    return full_thrust(speed, density, driven.craft)


@pytest.mark.published
@pytest.mark.parametrize(
    ("advance", "thrust_coefficient", "power_coefficient", "merit"),
    [
        (0.0, 0.1322, 0.0584, 0.657),
        (0.05, 0.1280, 0.0582, 0.685),
        (0.1, 0.1224, 0.0578, 0.706),
        (0.2, 0.1101, 0.0564, 0.748),
        (0.3, 0.0968, 0.0543, 0.784),
    ],
)
def test_full_size_propeller_at_low_speed(
    invented: Aeroplane, advance: float, thrust_coefficient: float, power_coefficient: float, merit: float
) -> None:
    """PHY-85 and 86: coefficients of propeller C at 15 degrees, by advance ratio J; 10 ft, 20 turns a second.

    The merit is that which the coefficients give (last digit 0.0005), so that thrust is met within 0.3 percent.
    Source: Theodorsen, Stickle & Brevoort, NACA Report 594, 1937.
    """
    diameter, turns = 10.0 * FT, 20.0
    power = power_coefficient * 1.225 * turns**3 * diameter**5
    printed = thrust_coefficient * 1.225 * turns**2 * diameter**4
    found = thrust(invented, power, diameter, merit, advance * turns * diameter, 1.225)
    assert found == pytest.approx(printed, rel=0.003)


@pytest.mark.published
@pytest.mark.parametrize(
    ("newtons", "watts", "merit"),
    [(5.296, 19.69, 0.628), (20.92, 138.96, 0.698), (41.42, 376.6, 0.717), (61.97, 683.1, 0.724)],
)
def test_small_propeller_on_the_bench(invented: Aeroplane, newtons: float, watts: float, merit: float) -> None:
    """PHY-87: a propeller of 28 in at rest, thrust and power measured. Within 0.3 percent.

    Source: an open-source bench data set of static propeller tests, air density 1.225.
    """
    assert thrust(invented, watts, 0.7112, merit, 0.0, 1.225) == pytest.approx(newtons, rel=0.003)


@pytest.mark.published
def test_small_propeller_in_the_tunnel(invented: Aeroplane) -> None:
    """PHY-88: J 0.113, thrust coefficient 0.0912, power coefficient 0.0381; merit from both 0.728. Within 0.3 percent.

    Source: UIUC propeller data, 10 x 5 in, as tabulated in an open-source rotor code.
    """
    diameter, turns = 0.254, 80.0
    power, printed = 0.0381 * 1.225 * turns**3 * diameter**5, 0.0912 * 1.225 * turns**2 * diameter**4
    assert thrust(invented, power, diameter, 0.728, 0.113 * turns * diameter, 1.225) == pytest.approx(
        printed, rel=0.003
    )


@pytest.mark.published
def test_ideal_propeller_at_500_kilometres_an_hour(invented: Aeroplane) -> None:
    """PHY-89: D 2.5 m, density 0.525, jet speed ratio 0.75: 19.333 kN, thrust power 2685.1 kW, ideal efficiency 0.857.

    Source: Murugaperumal, Gas Dynamics and Jet Propulsion, Ex. 6.9. The power is that by 6/7, exactly 0.857.
    """
    speed = 500.0 / 3.6
    assert thrust(invented, 2_685.1e3 * 7.0 / 6.0, 2.5, 1.0, speed, 0.525) == pytest.approx(19_333.0, rel=1e-4)


@pytest.mark.published
def test_ideal_propeller_at_220_miles_an_hour(invented: Aeroplane) -> None:
    """PHY-90: D 6 ft, density 0.0022 slug/ft3, thrust 5372.2 lb, efficiency 76 percent, the power from both.

    Source: I. A. Khan, Fluid Mechanics, Ex. 5.8 (p. 211); its printed horsepower is not used.
    Within 0.7 percent, as the efficiency is printed to one.
    """
    speed, density = 220.0 * 0.44704, 0.0022 * 515.378_8
    power = 5_372.2 * LBF * speed / 0.76
    assert thrust(invented, power, 6.0 * FT, 1.0, speed, density) == pytest.approx(5_372.2 * LBF, rel=0.007)


def test_rotor_in_a_climb(invented: Aeroplane) -> None:
    """From memory, PHY-91 (Houghton & Carpenter): 16 m, 170 N/m2, 53 percent of 600 kW, climbing at 110 m/min."""
    wanted = 170.0 * math.pi * 64.0
    assert thrust(invented, 600e3, 16.0, 0.53, 110.0 / 60.0, 1.225) == pytest.approx(wanted, rel=0.003)


@pytest.mark.parametrize(
    ("horsepower", "feet", "merit", "pounds"),
    [
        (1_000.0, 10.0, 1.0, 4_834.0),
        (1_700.0, 12.58, 1.0, 8_025.0),
        (1_000.0, 10.0, 0.65, 3_627.0),
        (1_700.0, 12.58, 0.65, 6_022.0),
    ],
)
def test_static_thrust_of_two_engines(
    invented: Aeroplane, horsepower: float, feet: float, merit: float, pounds: float
) -> None:
    """Constructed case, PHY-93: (2 rho A P^2)^(1/3) with the figure of merit under the root. Within 2 lb."""
    assert thrust(invented, horsepower * HP, feet * FT, merit, 0.0, 1.225) / LBF == pytest.approx(pounds, abs=2.0)
