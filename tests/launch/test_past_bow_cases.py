"""Past the bow: closed forms and printed values through the same kernel."""

from __future__ import annotations

import math

import numpy as np
import pytest

from roundown.launch import bow_kernel, kernel
from roundown.launch.bow_kernel import EASE, HOLD, Outcome
from roundown.launch.kernel import Floats

FT = 0.3048  # m
KT = 1852.0 / 3600.0  # m/s
G = 9.80665  # m/s2
MASS, AREA, DENSITY = 4000.0, 25.0, 1.225
DECK = 100.0 * FT


def flown(
    *,
    airspeed: float,
    angle: float,
    climb: float = 0.0,
    thrust: float = 0.0,
    drag: float = 0.0,
    slope: float = 0.0,
    rule: float = HOLD,
    attitude: float | None = None,
    resolved: float = 1.0,
    wind: float = 0.0,
    until: float = 12.0,
) -> tuple[Outcome, Floats]:
    """A wing whose lift coefficient is its angle of attack, far from the stall, without induced drag; SI.

    airspeed, climb : level part and rate of climb at the bow; thrust, drag : constant, and a coefficient
    """
    wing = (AREA, 1.0, 0.0, 0.0, 9.0, 9.0, 0.7, drag, 0.0, 0.0, 0.0)
    load = (MASS, 0.0, 1.0, 0.0, 0.0, 0.0, kernel.PARABOLA, 0.0, 1.0, 0.0, 0.0, thrust, 0.0, 0.0)
    technique = (rule, angle if attitude is None else attitude, slope, 0.1, 6.0, resolved)
    deck = (wind, 0.0, 100.0, DENSITY, 0.0, 0.0, 0.0, 0.0)
    rows = np.empty((400, bow_kernel.COLUMNS))
    start = (airspeed, climb, 0.0, DECK, angle)
    outcome = bow_kernel.fly(0.0, until, start, math.inf, load, technique, wing, deck, rows)
    return outcome, rows[: outcome[bow_kernel.O_ROWS]]


def carrying(airspeed: float) -> float:
    """Lift coefficient, here also the angle, that carries the weight in level flight."""
    return 2.0 * MASS * G / (DENSITY * AREA * airspeed**2)


SINKS = [  # V0, V1 [kt], acceleration [g], lowest z [ft], at [s], airspeed then [kt]
    (72.0, 75.0, 0.15, -1.85, 2.08, 77.96),
    (71.25, 75.0, 0.12, -5.62, 3.25, 78.69),
    (70.0, 75.0, 0.10, -19.0, 5.19, 79.89),
    (67.5, 75.0, 0.15, -28.1, 5.16, 82.26),
]


@pytest.mark.parametrize(("first", "flying", "gain", "lowest", "at", "then"), SINKS)
def test_sink_in_closed_form(first: float, flying: float, gain: float, lowest: float, at: float, then: float) -> None:
    """Constructed; closed form z(t) = g [(V^4 - V0^4) / (12 a^2 V1^2) - V0^3 t / (3 a V1^2) - t^2 / 2], own arithmetic.

    Level airspeed gains at a constant rate, lift goes with its square at the incidence held, the sink is fed back into
    neither. Tolerances are half a unit of the last digit of the arithmetic.
    """
    outcome, rows = flown(
        airspeed=first * KT, angle=carrying(flying * KT), thrust=MASS * gain * G, resolved=0.0
    )  # fmt: skip
    assert (outcome[bow_kernel.O_LOWEST] - DECK) / FT == pytest.approx(lowest, abs=0.05)
    assert outcome[bow_kernel.O_LOWEST_TIME] == pytest.approx(at, abs=0.005)
    reached = np.interp(outcome[bow_kernel.O_LOWEST_TIME], rows[:, bow_kernel.B_TIME], rows[:, bow_kernel.B_LEVEL])
    assert reached / KT == pytest.approx(then, abs=0.006)

    t, a, v0, v1 = rows[:, bow_kernel.B_TIME], gain * G, first * KT, flying * KT
    v = v0 + a * t
    z = G * ((v**4 - v0**4) / (12.0 * a**2 * v1**2) - v0**3 * t / (3.0 * a * v1**2) - t**2 / 2.0)
    np.testing.assert_allclose(rows[:, bow_kernel.B_HEIGHT] - DECK, z, atol=1e-6)
    t_low = outcome[bow_kernel.O_LOWEST_TIME]
    assert ((v0 + a * t_low) ** 3 - v0**3) / (3.0 * a * v1**2) == pytest.approx(t_low, abs=1e-7)


def test_the_sink_fed_back_is_less_than_the_closed_form() -> None:
    """Constructed: with the attitude held a sinking path raises the angle of attack, and weight adds to the thrust."""
    short = {"airspeed": 70.0 * KT, "angle": carrying(75.0 * KT), "thrust": 0.10 * MASS * G}
    free, fed = flown(**short, resolved=0.0), flown(**short)
    assert fed[0][bow_kernel.O_LOWEST] > free[0][bow_kernel.O_LOWEST] + 1.0 * FT


def test_speed_given_for_height() -> None:
    """Constructed; own arithmetic: (V1^2 - V2^2) / 2g from 80 to 70 kt without drag is 66.4 ft."""
    first = 80.0 * KT
    _, rows = flown(airspeed=first, angle=1.6 * carrying(first), until=20.0)
    airspeed = np.hypot(rows[:, bow_kernel.B_LEVEL], rows[:, bow_kernel.B_CLIMB])
    slower = int(np.argmax(airspeed < 70.0 * KT))
    part = (airspeed[slower - 1] - 70.0 * KT) / (airspeed[slower - 1] - airspeed[slower])
    height = rows[:, bow_kernel.B_HEIGHT]
    gained = height[slower - 1] + part * (height[slower] - height[slower - 1]) - DECK
    assert slower > 1
    assert gained / FT == pytest.approx(66.4, abs=0.1)


def steady(airspeed: float, slope: float, wind: float = 0.0, until: float = 12.0) -> tuple[Outcome, Floats]:
    """A climb along a slope, thrust as great as drag and the weight's part along the path."""
    drag = 0.03
    pressure_area = 0.5 * DENSITY * AREA * airspeed**2
    return flown(
        airspeed=airspeed * math.cos(slope),
        climb=airspeed * math.sin(slope),
        angle=carrying(airspeed) * math.cos(slope),
        attitude=5.0,
        thrust=MASS * G * math.sin(slope) + pressure_area * drag,
        drag=drag,
        slope=slope,
        rule=EASE,
        wind=wind,
        until=until,
    )


@pytest.mark.published
def test_gradient_in_feet_for_a_thousand() -> None:
    """Source: TM 55-1510-221-10, 7-11: a climb gradient of 5.1 % is 51 ft in 1000 ft. In still air; exact."""
    _, rows = steady(100.0 * KT, math.atan(0.051))
    height = np.interp(1000.0 * FT, rows[:, bow_kernel.B_PLACE], rows[:, bow_kernel.B_HEIGHT])
    assert (height - DECK) / FT == pytest.approx(51.0, abs=0.005)


def test_gradient_past_a_ship_under_way_is_steeper() -> None:
    """Constructed: with 25 kt over the deck the same climb stands over a way shorter by what the ship makes good."""
    slope = math.atan(0.051)
    _, rows = steady(100.0 * KT, slope, wind=25.0 * KT)
    gained, way = rows[-1, bow_kernel.B_HEIGHT] - DECK, rows[-1, bow_kernel.B_PLACE]
    level = 100.0 * math.cos(slope)
    assert gained / way == pytest.approx(0.051 * level / (level - 25.0), rel=1e-6)


def test_slope_of_a_climb() -> None:
    """Constructed; own arithmetic: 4000 ft/min at 250 kt, 1.69 ft/s a knot, is asin(66.67 / 422.5) = 9.08 degrees."""
    airspeed = 250.0 * 1.69 * FT
    _, rows = steady(airspeed, math.radians(9.08), until=5.0)
    climb, level = rows[-1, bow_kernel.B_CLIMB], rows[-1, bow_kernel.B_LEVEL]
    assert climb / FT * 60.0 == pytest.approx(4000.0, abs=10.0)
    assert math.degrees(math.atan2(climb, level)) == pytest.approx(9.08, abs=0.02)


def test_a_balanced_climb_stays_as_it_is() -> None:
    """Limit case: forces in balance change neither speed nor slope."""
    _, rows = steady(90.0 * KT, 0.04, until=30.0)
    assert np.ptp(np.hypot(rows[:, bow_kernel.B_LEVEL], rows[:, bow_kernel.B_CLIMB])) < 1e-6
    assert np.ptp(rows[:, bow_kernel.B_CLIMB]) < 1e-6


def test_without_lift_it_falls_as_a_stone() -> None:
    """Closed form: the sea after sqrt(2 h / g), and the place there by the airspeed less the wind over the deck."""
    outcome, rows = flown(airspeed=35.0, angle=0.0, rule=EASE, attitude=0.0, wind=12.0)
    time = math.sqrt(2.0 * DECK / G)
    assert outcome[bow_kernel.O_SEA_TIME] == pytest.approx(time, abs=1e-9)
    assert rows[-1, bow_kernel.B_PLACE] == pytest.approx(23.0 * time, abs=1e-7)
    assert rows[-1, bow_kernel.B_HEIGHT] == 0.0
    assert math.isnan(outcome[bow_kernel.O_CLIMB_TIME])
