"""Laws of the path engine, against own arithmetic and the atmosphere, and what must not change when nothing does."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from roundown.environment.air import Air, density, equivalent_from_true
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import State
from roundown.motion.manoeuvre import (
    ChangeSpeed,
    CloseOn,
    Flown,
    Guard,
    HeightByHeading,
    HoldBank,
    HoldSpeed,
    Leg,
    Level,
    RegainLine,
    Setting,
    SpeedByHeading,
    ToHeight,
    TurnTo,
    Until,
    fly,
    path_of,
)
from roundown.motion.path import MadeBy, Source
from roundown.motion.ship_track import ShipTrack, steady_track

Floats = npt.NDArray[np.float64]
KT = 1852.0 / 3600.0  # m/s
DEG = math.pi / 180.0
G = 9.80665  # m/s2
DENSITY = 1.225  # kg/m3
SettingMaker = Callable[..., Setting]

headings = st.floats(-math.pi, math.pi)
winds = st.tuples(st.floats(-12.0, 12.0), st.floats(-12.0, 12.0))
few = settings(max_examples=12, deadline=None)


def straight(until: Until, longest: float = 120.0) -> Leg:
    return Leg("straight", HoldBank(0.0), HoldSpeed(), Level(), until, longest)


def at(x: float, y: float, course: float, speed: float, heading: float) -> State:
    """A state at a place of the frame of a ship that is at the datum on `course`."""
    east = x * math.sin(course) - y * math.cos(course)
    return east, x * math.cos(course) + y * math.sin(course), 60.0, speed, heading, 0.0, 0.0, 0.0


def from_ship(flown: Flown, ship: ShipTrack) -> Floats:
    """East and north of the ship at every record, (n, 2)."""
    return flown.records[:, 1:3] - ship.over(flown.records[:, 0])[:, :2]


def in_ship_axes(flown: Flown, ship: ShipTrack) -> Floats:
    """Ahead and to port of the ship at every record, (n, 2)."""
    relative, course = from_ship(flown, ship), ship.over(flown.records[:, 0])[:, 2]
    sine, cosine = np.sin(course), np.cos(course)
    east, north = relative[:, 0], relative[:, 1]
    return np.column_stack([east * sine + north * cosine, north * sine - east * cosine])


def drag_by_hand(a: Aeroplane, speed: float, load: float, gear: float, flap: float) -> float:
    """Drag at sea level [N]."""
    q = 0.5 * DENSITY * speed**2
    lift = load * a.mass * G / (q * a.wing_area)
    return q * a.wing_area * (a.zero_lift_drag + gear * a.gear_drag + flap * a.flap_drag + a.induced_drag * lift**2)


def thrust_by_hand(a: Aeroplane, speed: float) -> float:
    """Full thrust at sea level [N]: power spent on the air through the disc, T (V + w) with T = 2 rho A (V + w) w."""
    mass_flow = 2.0 * DENSITY * math.pi / 4.0 * a.propeller_diameter**2
    power = a.shaft_power * a.figure_of_merit
    inflow = float(brentq(lambda w: mass_flow * (speed + w) ** 2 * w - power, 0.0, 200.0, xtol=1e-13))
    return power / (speed + inflow)


# ---- lateral laws


@pytest.mark.parametrize("offset", [-150.0, -20.0, 20.0, 150.0])
@pytest.mark.parametrize("way_round", [0.0, math.pi])
@pytest.mark.parametrize("wind", [(0.0, 0.0), (4.0, -8.0), (-6.0, 3.0)])
def test_line_of_the_ship_is_regained_and_held(
    setting_in: SettingMaker, offset: float, way_round: float, wind: tuple[float, float]
) -> None:
    """By definition: after 60 s within 1 m of the line and steady, upwind and downwind, from both sides.

    Past the line by less than a metre where no wind carries it over: the law is damped 0.9.
    """
    course, port = 0.4, 300.0
    ship = steady_track(course, 8.0)
    leg = Leg("regain", RegainLine(port, 25.0 * DEG), HoldSpeed(), Level(), Until(Guard.TIME, 80.0), 100.0)
    start = at(-1_000.0, port + offset, course, 45.0, course + way_round)
    flown = fly(0.0, start, [leg], setting_in(wind, ship))
    error = in_ship_axes(flown, ship)[:, 1] - port
    late = flown.records[:, 0] > 60.0
    assert np.abs(error[late]).max() < 1.0
    assert np.ptp(flown.records[late, 5]) < 0.01
    assert np.abs(flown.records[late, 6]).max() < 0.5 * DEG
    if wind == (0.0, 0.0):
        assert (math.copysign(1.0, offset) * error).min() > -1.0
    assert np.abs(flown.records[:, 6]).max() <= 25.0 * DEG + 1e-9


@pytest.mark.parametrize("bearing", np.arange(0.0, 360.0, 60.0))
@pytest.mark.parametrize("heading", [10.0, 130.0, 250.0])
@pytest.mark.parametrize("wind", [(0.0, 0.0), (4.0, -8.0)])
def test_point_of_a_moving_ship_is_met(
    setting_in: SettingMaker, bearing: float, heading: float, wind: tuple[float, float]
) -> None:
    """By definition: from 2500 m off on any heading, within 4 m of a point 300 m astern and 200 m to port."""
    ship = steady_track(0.4, 8.0)
    east, north = 2_500.0 * math.sin(bearing * DEG), 2_500.0 * math.cos(bearing * DEG)
    start: State = (east, north, 60.0, 55.0, heading * DEG, 0.0, 0.0, 0.0)
    leg = Leg("close", CloseOn(-300.0, 200.0, 30.0 * DEG), HoldSpeed(), Level(), Until(Guard.RANGE, 4.0, -1), 200.0)
    flown = fly(0.0, start, [leg], setting_in(wind, ship))
    assert flown.met
    assert math.dist(in_ship_axes(flown, ship)[-1], (-300.0, 200.0)) == pytest.approx(4.0, abs=1e-6)
    assert np.abs(flown.records[:, 6]).max() <= 30.0 * DEG + 1e-9


# ---- speed laws


@pytest.mark.parametrize("target", [35.0, 55.0])
def test_commanded_change_of_speed_is_even_and_stops_at_the_target(setting_in: SettingMaker, target: float) -> None:
    """Own arithmetic: 0.3 m/s2 can be had, so true airspeed is 45 m/s and 0.3 m/s less or more for each second."""
    setting = setting_in()
    leg = replace(straight(Until(Guard.TIME, 60.0)), speed=ChangeSpeed(target, 0.3))
    flown = fly(0.0, at(0.0, 0.0, 0.0, 45.0, 0.0), [leg], setting)
    goal = setting.true_speed(target, 60.0)
    expected = 45.0 + np.sign(goal - 45.0) * np.minimum(0.3 * flown.records[:, 0], abs(goal - 45.0))
    assert flown.records[:, 4] == pytest.approx(expected, abs=1e-9)


def test_speed_gained_is_limited_by_power_and_speed_lost_by_drag(invented: Aeroplane, setting_in: SettingMaker) -> None:
    """Second method: dV/dt = (T - D) / m at sea level by scipy, thrust and drag by hand. Within 1e-5 m/s."""

    def gaining(_: float, v: Floats) -> list[float]:
        speed = float(v[0])
        return [(thrust_by_hand(invented, speed) - drag_by_hand(invented, speed, 1.0, 0.0, 0.0)) / invented.mass]

    def losing(_: float, v: Floats) -> list[float]:
        speed = float(v[0])
        return [(invented.idle_thrust - drag_by_hand(invented, speed, 1.0, 1.0, 1.0)) / invented.mass]

    for slope, start, target, down in ((gaining, 35.0, 100.0, 0.0), (losing, 60.0, 25.0, 1.0)):
        state: State = (0.0, 0.0, 0.0, start, 0.0, 0.0, down, down)
        leg = replace(straight(Until(Guard.TIME, 12.0)), speed=ChangeSpeed(target, 50.0), gear=down, flap=down)
        unlimited = replace(invented, gear_limit=100.0, flap_limit=100.0)
        flown = fly(0.0, state, [leg], setting_in(aeroplane=unlimited))
        times = flown.records[:, 0]
        expected = solve_ivp(slope, (0.0, 12.0), [start], t_eval=times.clip(0.0, 12.0), rtol=1e-10, atol=1e-10).y[0]
        assert flown.records[:, 4] == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize("step", [1.0, 0.2])
@pytest.mark.parametrize("rate", [0.4, 0.8, 1.2])
def test_slowing_is_the_lesser_of_commanded_and_available_even_in_a_descending_turn(
    invented: Aeroplane, setting_in: SettingMaker, rate: float, step: float
) -> None:
    """Own arithmetic: throttle shut, load of the bank, weight along the path; no more than either at any time.

    Mean over a record against the mean of its ends, so within 0.004 m/s2 (0.03 where a step lasts 1 s).
    """
    state: State = (0.0, 0.0, 80.0, 100.0 * KT, 0.0, 0.0, 1.0, 1.0)
    turn = Leg(
        "turn", TurnTo(math.pi, 25.0 * DEG), ChangeSpeed(62.0 * KT, rate), HeightByHeading(20.0, math.pi),
        Until(Guard.TURN_DONE), 60.0, 1.0, 1.0,
    )  # fmt: skip
    flown = fly(0.0, state, [turn], setting_in(air=(288.15, 101_325.0)), longest_step=step)
    time, height, speed, heading, bank = (flown.records[:, i] for i in (0, 3, 4, 5, 6))
    climb = -60.0 / math.pi * G * np.tan(bank) / speed
    sine = climb / speed
    load = np.sqrt(1.0 - sine**2) / np.cos(bank)
    rho = density(height, Air())
    q_s = 0.5 * rho * speed**2 * invented.wing_area
    parasite = invented.zero_lift_drag + invented.gear_drag + invented.flap_drag
    drag = q_s * (parasite + invented.induced_drag * (load * invented.mass * G / q_s) ** 2)
    available = (drag - invented.idle_thrust) / invented.mass + G * sine
    lost = -np.diff(speed) / np.diff(time)
    lesser = np.minimum(available, rate)
    expected = 0.5 * (lesser[1:] + lesser[:-1])
    under_way = np.flatnonzero((speed[1:] > setting_in().true_speed(62.0 * KT, 80.0)) & (np.diff(time) > 1e-3))
    assert lost[under_way] == pytest.approx(expected[under_way], abs=0.004 if step < 1.0 else 0.03)
    assert heading[-1] == pytest.approx(math.pi, abs=3e-4)


def test_held_speed_is_indicated_so_true_airspeed_follows_the_density(setting_in: SettingMaker) -> None:
    """The atmosphere of roundown.environment.air, on a warm day of low pressure, in a climb and a let-down."""
    air = Air(303.15, 99_500.0)
    setting = setting_in(air=(air.temperature, air.pressure))
    climb = replace(straight(Until(Guard.HEIGHT, 1_500.0, 1), 600.0), height=ToHeight(1_600.0, 8.0))
    down = replace(straight(Until(Guard.HEIGHT, 50.0, -1), 600.0), name="down", height=ToHeight(0.0, 10.0))
    flown = fly(0.0, at(0.0, 0.0, 0.0, 60.0, 0.0), [climb, down], setting)
    assert flown.met
    indicated = equivalent_from_true(flown.records[:, 4], density(flown.records[:, 3], air))
    assert np.ptp(flown.records[:, 4]) > 4.0
    # 1.225 kg/m3 is the density of the standard atmosphere to seven digits
    assert indicated == pytest.approx(indicated[0], rel=1e-7)
    assert setting.indicated_speed(60.0, 900.0) == pytest.approx(equivalent_from_true(60.0, density(900.0, air)))
    assert setting.true_speed(setting.indicated_speed(60.0, 900.0), 900.0) == pytest.approx(60.0)


def test_speed_and_height_tied_to_heading_are_there_exactly_when_the_heading_is(setting_in: SettingMaker) -> None:
    """By definition: linear in heading from where the leg began, to 1e-6 of the way."""
    setting = setting_in((3.0, -4.0))
    start: State = (0.0, 0.0, 120.0, 52.0, 0.3, 0.0, 0.0, 0.0)
    end = 0.3 - math.pi
    leg = Leg(
        "turn", HoldBank(-28.0 * DEG), SpeedByHeading(41.0, 35.0, end), HeightByHeading(35.0, end),
        Until(Guard.HEADING, end, -1), 60.0,
    )  # fmt: skip
    flown = fly(0.0, start, [leg], setting)
    assert flown.met
    assert flown.records[-1, 3] == pytest.approx(35.0, abs=1e-4)
    assert setting.indicated_speed(flown.records[-1, 4], 35.0) == pytest.approx(41.0, abs=1e-5)
    part = (flown.records[:, 5] - 0.3) / -math.pi
    assert flown.records[:, 3] == pytest.approx(120.0 - 85.0 * part, abs=1e-4)
    assert flown.records[:, 4] == pytest.approx(52.0 + part * (setting.true_speed(41.0, 35.0) - 52.0), abs=1e-5)


# ---- height, gear and flap


@pytest.mark.parametrize(("height", "rate"), [(160.0, 5.0), (20.0, 2.5)])
def test_height_is_reached_at_the_rate_and_then_held(setting_in: SettingMaker, height: float, rate: float) -> None:
    leg = replace(straight(Until(Guard.TIME, 40.0)), height=ToHeight(height, rate))
    flown = fly(0.0, at(0.0, 0.0, 0.0, 50.0, 0.0), [leg], setting_in())
    change = np.minimum(rate * flown.records[:, 0], abs(height - 60.0))
    assert flown.records[:, 3] == pytest.approx(60.0 + math.copysign(1.0, height - 60.0) * change, abs=1e-9)
    assert flown.records[-1, 3] == pytest.approx(height, abs=1e-9)
    # the climb is part of the airspeed: what is left goes forward
    run = math.sqrt(50.0**2 - rate**2)
    assert flown.records[1, 2] == pytest.approx(run * 0.2, abs=1e-3)


def test_gear_and_flap_wait_for_their_limits_and_take_their_time(invented: Aeroplane, setting_in: SettingMaker) -> None:
    """Own arithmetic: slowing at 0.5 m/s2 from 128 kt indicated: limits of 120 and 110 kt, then 5 s and 6 s."""
    setting = setting_in()
    start: State = (0.0, 0.0, 60.0, setting.true_speed(128.0 * KT, 60.0), 0.0, 0.0, 0.0, 0.0)
    leg = replace(straight(Until(Guard.TIME, 40.0)), speed=ChangeSpeed(95.0 * KT, 0.5), gear=1.0, flap=1.0)
    flown = fly(0.0, start, [leg], setting)
    time = flown.records[:, 0]
    for column, limit, takes in ((7, invented.gear_limit, 5.0), (8, invented.flap_limit, 6.0)):
        begins = (start[3] - setting.true_speed(limit, 60.0)) / 0.5
        assert flown.records[:, column] == pytest.approx(np.clip((time - begins) / takes, 0.0, 1.0), abs=1e-9)


def test_gear_comes_up_at_any_speed_and_flap_may_stop_half_way(setting_in: SettingMaker) -> None:
    start: State = (0.0, 0.0, 60.0, 70.0, 0.0, 0.0, 1.0, 1.0)
    flown = fly(0.0, start, [replace(straight(Until(Guard.TIME, 8.0)), gear=0.0, flap=0.5)], setting_in())
    time = flown.records[:, 0]
    assert flown.records[:, 7] == pytest.approx(np.clip(1.0 - time / 5.0, 0.0, 1.0), abs=1e-9)
    assert flown.records[:, 8] == pytest.approx(np.clip(1.0 - time / 6.0, 0.5, 1.0), abs=1e-9)


# ---- what must not change


def circuit(course: float, side: float = -1.0) -> list[Leg]:
    """Upwind past the bow, turn downwind slowing with the gear, downwind past the beam, turn in, line, ramp."""
    bank, down = side * 28.0 * DEG, course + side * math.pi
    slow, level = ChangeSpeed(90.0 * KT, 0.8), Level()
    return [
        Leg("upwind", HoldBank(0.0), HoldSpeed(), level, Until(Guard.SHIP_AHEAD, 1_500.0, 1), 200.0),
        Leg("crosswind", TurnTo(down, bank), slow, level, Until(Guard.TURN_DONE), 60.0, 1.0),
        Leg("downwind", HoldBank(0.0), slow, level, Until(Guard.SHIP_AHEAD, -100.0, -1), 200.0, 1.0, 1.0),
        Leg(
            "in", TurnTo(course + side * 1.9 * math.pi, bank), ChangeSpeed(78.0 * KT, 0.5),
            HeightByHeading(30.0, course + side * 2.0 * math.pi), Until(Guard.TURN_DONE), 60.0, 1.0, 1.0,
        ),
        Leg("line", RegainLine(-60.0 * side, 20.0 * DEG), HoldSpeed(), level, Until(Guard.TIME, 12.05), 60.0, 1.0, 1.0),
    ]  # fmt: skip


def flown_circuit(setting: Setting, course: float, side: float = -1.0) -> Flown:
    start = at(-400.0, -30.0 * -side, course, 105.0 * KT, course)
    flown = fly(0.0, start, circuit(course, side), setting)
    assert flown.met
    return flown


@few
@given(course=headings, wind=winds, current=st.floats(-8.0, 8.0))
def test_one_velocity_added_to_air_and_ship_changes_nothing_on_board(
    setting_in: SettingMaker, course: float, wind: tuple[float, float], current: float
) -> None:
    """Along the ship's course, so that her axes stay; guards and laws of the ship frame included. Within 1e-6 m."""
    ship, faster = steady_track(course, 9.0), steady_track(course, 9.0 + current)
    set_along = (wind[0] + current * math.sin(course), wind[1] + current * math.cos(course))
    first = flown_circuit(setting_in(wind, ship), course)
    second = flown_circuit(setting_in(set_along, faster), course)
    assert second.records[-1, 0] == pytest.approx(first.records[-1, 0], abs=1e-7)
    assert first.ends == second.ends
    assert in_ship_axes(second, faster) == pytest.approx(in_ship_axes(first, ship), abs=1e-6)


@few
@given(wind=winds, set_east=st.floats(-8.0, 8.0), set_north=st.floats(-8.0, 8.0))
def test_any_current_carries_air_ship_and_path_alike(
    setting_in: SettingMaker, wind: tuple[float, float], set_east: float, set_north: float
) -> None:
    """A program without ship-frame guards; the ship's velocity is added up as a vector. Within 1e-6 m."""
    ship = steady_track(0.7, 9.0)
    east, north = 9.0 * math.sin(0.7) + set_east, 9.0 * math.cos(0.7) + set_north
    carried = steady_track(math.atan2(east, north), math.hypot(east, north))
    legs = circuit(0.0)[1:2]
    start = at(0.0, 0.0, 0.0, 105.0 * KT, 0.0)
    first = fly(0.0, start, legs, setting_in(wind, ship))
    second = fly(0.0, start, legs, setting_in((wind[0] + set_east, wind[1] + set_north), carried))
    assert from_ship(second, carried) == pytest.approx(from_ship(first, ship), abs=1e-6)


def test_ship_in_calm_and_stopped_ship_in_wind_are_one_circuit(setting_in: SettingMaker) -> None:
    """25 kt made by the ship, or 25 kt of wind down the deck of a stopped ship. Within 1e-6 m."""
    making, stopped = steady_track(0.0, 25.0 * KT), steady_track(0.0, 0.0)
    first = flown_circuit(setting_in((0.0, 0.0), making), 0.0)
    second = flown_circuit(setting_in((0.0, -25.0 * KT), stopped), 0.0)
    assert in_ship_axes(second, stopped) == pytest.approx(in_ship_axes(first, making), abs=1e-6)
    assert second.records[:, 3:] == pytest.approx(first.records[:, 3:], abs=1e-6)


@few
@given(wind=winds)
def test_starboard_circuit_is_the_port_circuit_in_a_mirror(setting_in: SettingMaker, wind: tuple[float, float]) -> None:
    ship = steady_track(0.0, 11.0)
    port = flown_circuit(setting_in(wind, ship), 0.0)
    starboard = flown_circuit(setting_in((-wind[0], wind[1]), ship), 0.0, side=1.0)
    mirror = np.array([1.0, -1.0, 1.0, 1.0, 1.0, -1.0, -1.0, 1.0, 1.0])
    assert starboard.ends == port.ends
    assert starboard.records == pytest.approx(port.records * mirror, abs=1e-6)


@few
@given(wind=winds, turned=headings)
def test_course_wind_and_start_turned_together_turn_the_path(
    setting_in: SettingMaker, wind: tuple[float, float], turned: float
) -> None:
    sine, cosine = math.sin(turned), math.cos(turned)
    veered = (wind[0] * cosine + wind[1] * sine, wind[1] * cosine - wind[0] * sine)
    ship, other = steady_track(0.0, 11.0), steady_track(turned, 11.0)
    first = flown_circuit(setting_in(wind, ship), 0.0)
    second = flown_circuit(setting_in(veered, other), turned)
    assert second.ends == first.ends
    assert in_ship_axes(second, other) == pytest.approx(in_ship_axes(first, ship), abs=1e-6)
    assert second.records[:, 5] - turned == pytest.approx(first.records[:, 5], abs=1e-7)


# ---- what came of a program


def test_legs_follow_one_another_without_a_gap(setting_in: SettingMaker) -> None:
    flown = flown_circuit(setting_in((0.0, -5.0), steady_track(0.0, 9.0)), 0.0)
    assert flown.names == ("upwind", "crosswind", "downwind", "in", "line")
    assert flown.leg("upwind")[0].tolist() == flown.records[0].tolist()
    for before, after in zip(flown.names, flown.names[1:], strict=False):
        assert flown.leg(before)[-1].tolist() == flown.leg(after)[0].tolist()
        time, state = flown.end(before)
        assert [time, *state] == flown.leg(before)[-1].tolist()
    assert sum(len(flown.leg(name)) - 1 for name in flown.names) == len(flown.records) - 1
    assert np.all(np.diff(flown.records[:, 0]) > 0.0)


def test_path_of_a_program_is_planned_and_goes_over_the_ground_with_the_wind(setting_in: SettingMaker) -> None:
    """Ground speed against places a step apart, second method; sheared wind, level legs and a let-down."""
    setting = setting_in(table=[(0.0, 1.0, -6.0), (60.0, 3.0, -9.0)], ship=steady_track(0.0, 9.0))
    path = path_of(flown_circuit(setting, 0.0), setting)
    assert path.made_by is MadeBy.PLANNED
    assert path.ground_speed.source is Source.DERIVED
    assert path.heading.source is Source.GIVEN
    step = np.diff(path.time)
    over_ground = np.hypot(np.diff(path.east.values), np.diff(path.north.values)) / step
    mean = 0.5 * (path.ground_speed.values[1:] + path.ground_speed.values[:-1])
    assert mean[step > 0.01] == pytest.approx(over_ground[step > 0.01], abs=0.1)
    assert setting.wind(30.0) == pytest.approx((2.0, -7.5))
