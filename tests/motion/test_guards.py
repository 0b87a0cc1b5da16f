"""Guards: when a leg ends, and when it does not. Expected instants are closed forms of straight flight and circles."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import State
from roundown.motion.manoeuvre import (
    ChangeSpeed,
    CloseOn,
    Guard,
    HoldBank,
    HoldSpeed,
    Leg,
    Level,
    Outcome,
    RegainLine,
    Setting,
    ToHeight,
    TurnTo,
    Until,
    fly,
)
from roundown.motion.ship_track import steady_track

DEG = math.pi / 180.0
G = 9.80665  # m/s2
SPEED = 45.0  # m/s
BANK = 30.0 * DEG
RADIUS = SPEED**2 / (G * math.tan(BANK))
ONCE_ROUND = 2.0 * math.pi * RADIUS / SPEED  # s
SettingMaker = Callable[..., Setting]


def straight(until: Until, longest: float = 60.0) -> Leg:
    return Leg("straight", HoldBank(0.0), HoldSpeed(), Level(), until, longest)


def circle(until: Until, longest: float = 400.0) -> Leg:
    return Leg("circle", HoldBank(BANK), HoldSpeed(), Level(), until, longest)


def northbound(x: float, port: float = 0.0) -> State:
    """Ahead of and to port of a ship that heads north, flying north with the wings level."""
    return -port, x, 100.0, SPEED, 0.0, 0.0, 0.0, 0.0


def circling(x: float, psi: float = 0.0) -> State:
    """In a right-hand turn, heading psi, where a circle with its centre abreast of x = `x` has it."""
    return RADIUS * (1.0 - math.cos(psi)), x + RADIUS * math.sin(psi), 100.0, SPEED, psi, BANK, 0.0, 0.0


# ---- each kind once


@pytest.mark.parametrize("way", [0, 1])
def test_time(setting_in: SettingMaker, way: int) -> None:
    flown = fly(1_000.0, northbound(0.0), [straight(Until(Guard.TIME, 12.34, way))], setting_in())
    assert flown.met
    assert flown.records[-1, 0] == pytest.approx(1_012.34, abs=1e-9)


@pytest.mark.parametrize("way", [0, 1])
def test_distance_ahead_of_a_ship_under_way(setting_in: SettingMaker, way: int) -> None:
    """Closing at 45 - 10 m/s from 500 m astern: 100 m ahead after 600/35 s."""
    setting = setting_in(ship=steady_track(0.0, 10.0))
    flown = fly(0.0, northbound(-500.0), [straight(Until(Guard.SHIP_AHEAD, 100.0, way))], setting)
    assert flown.met
    assert flown.records[-1, 0] == pytest.approx(600.0 / 35.0, abs=1e-9)


def test_distance_to_port_while_regaining_a_line(setting_in: SettingMaker) -> None:
    """The line is 50 m to port, the guard 60 m: it is met on the way in, from 150 m, falling."""
    leg = Leg("regain", RegainLine(50.0, 25.0 * DEG), HoldSpeed(), Level(), Until(Guard.SHIP_PORT, 60.0, -1), 60.0)
    flown = fly(0.0, northbound(0.0, port=150.0), [leg], setting_in())
    assert flown.met
    assert -flown.records[-1, 1] == pytest.approx(60.0, abs=1e-6)
    assert np.all(-flown.records[:-1, 1] > 60.0)


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_heading_met_after_exactly_one_orbit(setting_in: SettingMaker, side: float) -> None:
    start: State = (0.0, 0.0, 100.0, SPEED, 0.5, side * BANK, 0.0, 0.0)
    leg = replace(circle(Until(Guard.HEADING, 0.5 + side * 2.0 * math.pi, int(side))), lateral=HoldBank(side * BANK))
    flown = fly(0.0, start, [leg], setting_in())
    assert flown.met
    assert flown.records[-1, 0] == pytest.approx(ONCE_ROUND, abs=1e-6)
    assert flown.records[-1, 1:3] == pytest.approx([0.0, 0.0], abs=1e-3)


def test_height_in_a_climb_that_goes_on(setting_in: SettingMaker) -> None:
    leg = replace(straight(Until(Guard.HEIGHT, 130.0, 1)), height=ToHeight(200.0, 4.0))
    flown = fly(0.0, northbound(0.0), [leg], setting_in())
    assert flown.met
    assert flown.records[-1, 0] == pytest.approx(30.0 / 4.0, abs=1e-9)


def test_indicated_speed(setting_in: SettingMaker) -> None:
    setting = setting_in()
    change = SPEED - setting.true_speed(40.0, 100.0)
    leg = replace(straight(Until(Guard.SPEED, 40.0, -1)), speed=ChangeSpeed(35.0, 0.25))
    flown = fly(0.0, northbound(0.0), [leg], setting)
    assert flown.met
    assert flown.records[-1, 0] == pytest.approx(change / 0.25, abs=1e-6)


def test_range_of_a_point_closed_on(setting_in: SettingMaker) -> None:
    """From 500 m right astern of the point, closing at 35 m/s: 50 m off after 450/35 s."""
    setting = setting_in(ship=steady_track(0.0, 10.0))
    leg = Leg("close", CloseOn(200.0, 30.0, BANK), HoldSpeed(), Level(), Until(Guard.RANGE, 50.0, -1), 60.0)
    flown = fly(0.0, northbound(-300.0, port=30.0), [leg], setting)
    assert flown.met
    assert flown.records[-1, 0] == pytest.approx(450.0 / 35.0, abs=1e-6)


def test_turn_done_means_wings_level_on_the_heading(setting_in: SettingMaker) -> None:
    leg = Leg("turn", TurnTo(2.0, BANK), HoldSpeed(), Level(), Until(Guard.TURN_DONE), 60.0)
    flown = fly(0.0, northbound(0.0), [leg], setting_in())
    assert flown.met
    assert flown.records[-1, 5:7] == pytest.approx([2.0, 0.0], abs=1e-6)
    assert np.all(flown.records[1:-1, 6] > 0.0)


def test_guard_on_the_value_a_law_stops_at_is_met(setting_in: SettingMaker) -> None:
    """The switch and the guard fall on one instant; the guard is not lost to the switch."""
    climb = replace(straight(Until(Guard.HEIGHT, 130.0, 1)), height=ToHeight(130.0, 4.0))
    slow = replace(straight(Until(Guard.SPEED, 40.0, -1)), speed=ChangeSpeed(40.0, 0.25))
    for leg in (climb, slow):
        assert fly(0.0, northbound(0.0), [leg], setting_in()).met


# ---- arming, side and direction


def test_already_past_is_not_met_until_it_has_come_back_from_the_asked_side(setting_in: SettingMaker) -> None:
    """Starts 10 m ahead of the beam, flying ahead; meets "ahead of the beam, rising" only after most of a circle.

    Closed form: x = 10 + R sin(psi) rises through 0 at psi = 2 pi - asin(10 / R).
    """
    flown = fly(0.0, circling(10.0), [circle(Until(Guard.SHIP_AHEAD, 0.0, 1))], setting_in())
    assert flown.met
    assert flown.records[-1, 5] == pytest.approx(2.0 * math.pi - math.asin(10.0 / RADIUS), abs=1e-6)


@pytest.mark.parametrize(("way", "turned"), [(0, math.pi), (-1, math.pi), (1, 2.0 * math.pi)])
def test_exactly_on_the_line_at_the_start_is_armed_by_leaving_it(
    setting_in: SettingMaker, way: int, turned: float
) -> None:
    """From x = 0 flying ahead: back through 0 falling after half a circle, rising after a whole one."""
    flown = fly(0.0, circling(0.0), [circle(Until(Guard.SHIP_AHEAD, 0.0, way))], setting_in())
    assert flown.met
    assert flown.records[-1, 5] == pytest.approx(turned, abs=1e-6)


@pytest.mark.parametrize(("start", "way"), [(-500.0, -1), (100.0, 1), (100.0, -1), (100.0, 0)])
def test_crossing_the_wrong_way_or_never_leaves_the_leg_to_its_longest_time(
    setting_in: SettingMaker, start: float, way: int
) -> None:
    flown = fly(0.0, northbound(start), [straight(Until(Guard.SHIP_AHEAD, 0.0, way), 20.0)], setting_in())
    assert flown.outcomes == (Outcome.OUT_OF_TIME,)
    assert flown.records[-1, 0] == pytest.approx(20.0)


def test_value_that_stays_where_it_is_does_not_end_a_leg(setting_in: SettingMaker) -> None:
    """Level at the guard's height, level a hair off it, and steady on the guard's heading."""
    for until in (Until(Guard.HEIGHT, 100.0), Until(Guard.HEIGHT, 100.0 + 1e-7), Until(Guard.HEADING, 0.0)):
        flown = fly(0.0, northbound(0.0), [straight(until, 5.0)], setting_in())
        assert flown.outcomes == (Outcome.OUT_OF_TIME,)


def test_hairs_breadth_short_of_the_line_at_the_start_is_met_at_once(setting_in: SettingMaker) -> None:
    """1 mm short at 45 m/s: 22 microseconds."""
    flown = fly(0.0, northbound(-0.001), [straight(Until(Guard.SHIP_AHEAD, 0.0, 1))], setting_in())
    assert flown.met
    assert flown.records[-1, 0] == pytest.approx(0.001 / 45.0, abs=1e-9)


# ---- inside one step


@pytest.mark.parametrize("past", [3.0, 0.5, 0.01, 0.001])
@pytest.mark.parametrize("from_psi", np.linspace(-1.1, -0.6, 6))
def test_dip_through_and_back_inside_a_step_is_found(setting_in: SettingMaker, past: float, from_psi: float) -> None:
    """Northbound side of the circle lies `past` beyond the line to port, for 0.03 to 1.5 s; steps of 1 s.

    Closed form: port = -R (1 - cos(psi)) first rises through -past at psi = -acos(1 - past / R). Within 2 ms.
    """
    leg = circle(Until(Guard.SHIP_PORT, -past, 1), 20.0)
    flown = fly(0.0, circling(0.0, from_psi), [leg], setting_in(), longest_step=1.0)
    assert flown.met
    expected = (-math.acos(1.0 - past / RADIUS) - from_psi) * RADIUS / SPEED
    assert flown.records[-1, 0] == pytest.approx(expected, abs=2e-3)


@pytest.mark.parametrize("short", [1.0, 0.01, 0.001])
def test_coming_near_without_crossing_is_no_event(setting_in: SettingMaker, short: float) -> None:
    """The circle comes within `short` of the line, at any place in a step."""
    for from_psi in np.linspace(-1.1, -0.6, 6):
        leg = circle(Until(Guard.SHIP_PORT, short, 1), 10.0)
        flown = fly(0.0, circling(0.0, float(from_psi)), [leg], setting_in(), longest_step=0.2)
        assert flown.outcomes == (Outcome.OUT_OF_TIME,)


def test_first_of_two_crossings_in_a_step_is_the_one_met(setting_in: SettingMaker) -> None:
    """Rising and either way: the way in. Falling: the way out, 2 acos(1 - past / R) later; all within a second."""
    past = 0.5
    half = math.acos(1.0 - past / RADIUS)
    assert 2.0 * half * RADIUS / SPEED < 1.0
    for way, psi in ((1, -half), (0, -half), (-1, half)):
        leg = circle(Until(Guard.SHIP_PORT, -past, way), 20.0)
        # falling is armed from the far side only, which a step of 0.2 s ends on
        flown = fly(0.0, circling(0.0, -0.2), [leg], setting_in(), longest_step=0.2 if way < 0 else 1.0)
        assert flown.met
        assert flown.records[-1, 5] == pytest.approx(psi, abs=5e-4)


def test_guard_before_a_switch_in_the_same_step_leaves_the_switch_to_the_next_leg(
    invented: Aeroplane, setting_in: SettingMaker
) -> None:
    """Gear home at 1.5 s, guard at 1.2 s, steps of 2 s; and the other way about."""
    setting = setting_in(aeroplane=replace(invented, gear_time=1.5))
    early = replace(straight(Until(Guard.SHIP_AHEAD, 1.2 * SPEED, 1)), gear=1.0)
    late = replace(straight(Until(Guard.SHIP_AHEAD, 1.8 * SPEED, 1)), gear=1.0)
    before = fly(0.0, northbound(0.0), [early], setting, longest_step=2.0)
    assert before.records[:, 0] == pytest.approx([0.0, 1.2])
    assert before.records[-1, 7] == pytest.approx(0.8)
    after = fly(0.0, northbound(0.0), [late], setting, longest_step=2.0)
    assert after.records[:, 0] == pytest.approx([0.0, 1.5, 1.8])
    assert after.records[-1, 7] == 1.0


# ---- legs that do not end by their guard


def test_longest_time_ends_a_turn_that_does_not_get_round(setting_in: SettingMaker) -> None:
    turn = Leg("turn", TurnTo(math.pi, BANK), HoldSpeed(), Level(), Until(Guard.TURN_DONE), 5.0)
    flown = fly(100.0, northbound(0.0), [turn, straight(Until(Guard.TIME, 5.0))], setting_in())
    assert flown.outcomes == (Outcome.OUT_OF_TIME,)
    assert flown.names == ("turn",)
    assert not flown.met
    assert flown.records[-1, 0] == pytest.approx(105.0, abs=1e-8)


def test_no_more_room_is_an_answer_too(setting_in: SettingMaker) -> None:
    flown = fly(0.0, northbound(0.0), [straight(Until(Guard.TIME, 50.0))], setting_in(), room=100)
    assert flown.outcomes == (Outcome.OUT_OF_ROOM,)
    assert flown.records.shape == (100, 9)
    assert flown.records[-1, 0] == pytest.approx(99 * 0.2)
