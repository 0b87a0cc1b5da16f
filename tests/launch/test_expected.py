"""What a type says a measurement should be, against closed forms."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from roundown.environment.air import Air
from roundown.launch.deck_run import deck_run
from roundown.launch.expected import expected, lifts_off
from roundown.launch.facts import RunFacts
from roundown.launch.measured import Flown, Measured, What
from roundown.launch.of_type import aeroplane_at, launch_aeroplane
from roundown.motion.aeroplane import level_speed
from roundown.motion.climb import climb_rate
from roundown.motion.engine import lapse

from .fit_cases import FT, KT, LB, OTTERY, like, stall

MASS = 10_000.0 * LB
AREA = OTTERY["wing_area"].value
DENSITY = 1.225
G = 9.80665


def said(what: What, flown: Flown, **changed: float) -> float:
    return expected(like(OTTERY, changed), [Measured(what, "row", 1.0, 1.0, flown)])[0]


def test_a_stall_is_lift_equal_to_weight() -> None:
    """Closed form: CL = 2 W / (rho S V^2), linear in the flap."""
    for flap in (0.0, 0.4, 1.0):
        speed = expected(OTTERY, [stall(flap, mass=MASS)])[0]
        lift = (1.0 - flap) * 1.42 + flap * 1.98
        assert 2.0 * MASS * G / (DENSITY * AREA * speed**2) == pytest.approx(lift, rel=1e-4)


SLOWING = Flown(MASS, begin=70.0, end=50.0)


def test_a_slow_down_under_constant_force_is_uniform() -> None:
    """Closed form: without any drag of the air the time is m (V1 - V2) / F; F is what the idle propeller holds back."""
    clean = {"zero_lift_drag": 0.0, "induced_drag": 0.0, "idle_thrust": -4_000.0}
    assert said(What.SLOW_DOWN, SLOWING, **clean) == pytest.approx(MASS * 20.0 / 4_000.0, rel=1e-12)


def test_a_slow_down_under_drag_of_the_square_of_the_speed() -> None:
    """Closed form: with D = k V^2 the time is (m / k) (1 / V2 - 1 / V1)."""
    only = {"zero_lift_drag": 0.03, "induced_drag": 0.0, "idle_thrust": 0.0}
    k = 0.5 * DENSITY * AREA * 0.03
    assert said(What.SLOW_DOWN, SLOWING, **only) == pytest.approx(MASS / k * (1.0 / 50.0 - 1.0 / 70.0), rel=1e-6)


def test_a_slow_down_under_parabolic_drag() -> None:
    """Closed form: D = a V^2 + b / V^2, and t = m integral V^2 dV / (a V^4 + b).

    With V = c x, c^4 = b / a, the integral of x^2 / (x^4 + 1) is
    [ln((x^2 - r x + 1) / (x^2 + r x + 1)) + 2 atan(r x + 1) + 2 atan(r x - 1)] / (4 r), r = root 2.
    """
    a = 0.5 * DENSITY * AREA * 0.0235
    b = 0.0755 * (MASS * G) ** 2 / (0.5 * DENSITY * AREA)
    c, r = (b / a) ** 0.25, math.sqrt(2.0)

    def antiderivative(speed: float) -> float:
        x = speed / c
        logs = math.log((x * x - r * x + 1.0) / (x * x + r * x + 1.0))
        return (logs + 2.0 * math.atan(r * x + 1.0) + 2.0 * math.atan(r * x - 1.0)) / (4.0 * r)

    time = MASS / (a * c) * (antiderivative(70.0) - antiderivative(50.0))
    assert said(What.SLOW_DOWN, SLOWING, idle_thrust=0.0) == pytest.approx(time, rel=1e-4)


def test_level_speed_at_the_sea_is_that_of_the_report() -> None:
    """Second method: bisection of motion/aeroplane.py. The engine here is flat to its critical height."""
    level = level_speed(aeroplane_at(OTTERY, MASS))
    assert said(What.LEVEL_TRUE, Flown(MASS)) == pytest.approx(level, rel=1e-6)
    assert said(What.LEVEL, Flown(MASS)) == pytest.approx(level, rel=1e-6)  # standard sea: the dial shows the true one


def test_a_level_speed_shown_aloft_is_less_than_the_true_one() -> None:
    aloft = Flown(MASS, height=4_000.0 * FT)
    true, shown = said(What.LEVEL_TRUE, aloft), said(What.LEVEL, aloft)
    assert true > said(What.LEVEL_TRUE, Flown(MASS))  # power holds, the air is thinner
    assert true / shown == pytest.approx(1.0 / math.sqrt(0.8881), rel=3e-3)  # density ratio of the table at 4000 ft


def test_a_climb_at_a_steady_dial_gains_speed_and_so_climbs_less() -> None:
    """Own arithmetic: sea level, V dV/dh / g = V^2 (g/R - L) / (2 T g), 2.4 per cent at 70 m/s."""
    flat = climb_rate(aeroplane_at(OTTERY, MASS), 70.0)
    share = 70.0**2 * (9.80665 / 287.05287 - 0.0065) / (2.0 * 288.15 * 9.80665)
    assert share == pytest.approx(0.024, abs=5e-4)
    assert said(What.CLIMB, Flown(MASS, speed=70.0)) == pytest.approx(flat / (1.0 + share), rel=1e-4)


def test_power_falls_above_the_critical_height() -> None:
    """Own arithmetic: what a climb loses in thrust power is what the engine loses, times the figure of merit."""
    high = 9_000.0 * FT
    at = Flown(MASS, height=high, speed=70.0)
    part = lapse(high, OTTERY["launch.critical_height"].value)
    assert part < 0.95
    weaker = said(What.CLIMB, at)
    held = said(What.CLIMB, at, **{"launch.critical_height": high})
    assert weaker < held
    assert said(
        What.CLIMB, at, **{"launch.critical_height": high, "shaft_power": part * OTTERY["shaft_power"].value}
    ) == (pytest.approx(weaker, rel=1e-12))


def test_a_hot_day_lengthens_a_run_and_lets_the_dial_be() -> None:
    cool = Flown(MASS, flap=0.65, wind=10.0)
    hot = replace(cool, air=Air(308.15, 101_325.0))
    assert said(What.RUN, hot) > 1.05 * said(What.RUN, cool)
    assert said(What.LIFT_OFF, hot) == pytest.approx(said(What.LIFT_OFF, cool), rel=1e-9)


def test_a_run_is_that_of_the_launch() -> None:
    """Second method: the whole deck run with its path, on a long deck."""
    facts = RunFacts(launch_aeroplane(OTTERY, MASS, 0.65), 288.15, 101_325.0, 0.0, 10.0, 0.0, 0.0, 1_000.0)
    run, flown = deck_run(facts), Flown(MASS, flap=0.65, wind=10.0)
    assert said(What.RUN, flown) == pytest.approx(run.distance, rel=1e-8)
    assert said(What.RUN_TIME, flown) == pytest.approx(run.time, rel=1e-8)
    assert said(What.LIFT_OFF, flown) == pytest.approx(run.lift_off_speed, rel=1e-8)


def test_where_a_type_cannot_do_it_the_answer_stays_a_number() -> None:
    weak = like(OTTERY, {"shaft_power": 60_000.0})
    run = Measured(What.RUN, "run 1", 100.0, 5.0, Flown(MASS, flap=0.65))
    assert not lifts_off(weak, run.flown)
    assert expected(weak, [run]) == [3_000.0]
    level = [
        expected(like(OTTERY, {"shaft_power": power}), [replace(run, what=What.LEVEL_TRUE)])[0]
        for power in (100_000.0, 200_000.0, 300_000.0, 400_000.0)
    ]
    assert all(40.0 < speed < 120.0 for speed in level)
    pushed = said(What.SLOW_DOWN, Flown(MASS, begin=100.0 * KT, end=99.0 * KT), idle_thrust=9_000.0)
    assert pushed == pytest.approx(1.0 * KT / 1e-3, rel=1e-9)
