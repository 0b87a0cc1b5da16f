"""The path engine against closed arcs and procedure figures, and against itself with finer steps across switches."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest

from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import State
from roundown.motion.manoeuvre import (
    ChangeSpeed,
    Guard,
    HeightByHeading,
    HoldBank,
    HoldSpeed,
    Leg,
    Level,
    Setting,
    SpeedByHeading,
    TurnTo,
    Until,
    fly,
    path_of,
)
from roundown.motion.ship_track import steady_track

Floats = npt.NDArray[np.float64]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
YD = 0.9144  # m
NM = 1852.0  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2
INSTANT = 1e4  # rad/s, a roll that takes no time to speak of
SettingMaker = Callable[..., Setting]


def turn_to(turn: float, bank: float, **changes: Any) -> Leg:
    leg = Leg("turn", TurnTo(turn, bank), HoldSpeed(), Level(), Until(Guard.TURN_DONE), 120.0)
    return replace(leg, **changes)


# ---- against closed arcs


def at_once(aeroplane: Aeroplane) -> Aeroplane:
    """The same aeroplane, rolling at once."""
    return replace(aeroplane, roll_rate=INSTANT)


def circling(bank: float, until: Until) -> Leg:
    return Leg("circle", HoldBank(bank), HoldSpeed(), Level(), until, 300.0)


def test_full_circle_in_still_air_comes_back_to_its_start(invented: Aeroplane, setting_in: SettingMaker) -> None:
    """Closed form: radius V^2 / (g tan(bank)), time 2 pi V / (g tan(bank)); roll in no time."""
    speed, bank = 45.0, 30.0 * DEG
    setting = setting_in(aeroplane=at_once(invented))
    start: State = (0.0, 0.0, 100.0, speed, 0.0, bank, 0.0, 0.0)
    flown = fly(0.0, start, [circling(bank, Until(Guard.HEADING, 2.0 * math.pi, 1))], setting, longest_step=0.1)
    time, (east, north, *_) = flown.record(-1)
    assert (east, north) == pytest.approx((0.0, 0.0), abs=1e-5)
    assert time == pytest.approx(2.0 * math.pi * speed / (G * math.tan(bank)), abs=1e-7)
    radius = speed**2 / (G * math.tan(bank))
    from_centre = np.hypot(flown.records[:, 1] - radius, flown.records[:, 2])
    assert from_centre == pytest.approx(radius, abs=1e-5)


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_heading_turned_through_while_rolling_in(setting_in: SettingMaker, side: float) -> None:
    """Closed form: (g / pV) ln sec(bank), here 20 deg/s to 30 deg at 45 m/s."""
    bank = side * 30.0 * DEG
    leg = circling(bank, Until(Guard.TIME, 30.0 / 20.0))
    _, state = fly(0.0, (0.0, 0.0, 100.0, 45.0, 0.0, 0.0, 0.0, 0.0), [leg], setting_in(), longest_step=0.05).record(-1)
    expected = side * G / (20.0 * DEG * 45.0) * math.log(1.0 / math.cos(bank))
    assert state[4] == pytest.approx(expected, abs=1e-9)
    assert state[5] == pytest.approx(bank, abs=1e-9)


def test_half_turn_drifts_with_the_wind(invented: Aeroplane, setting_in: SettingMaker) -> None:
    """PHY-160, computed from published equations: 120 kt, 3 deg/s, 000 right to 180, wind from 000 at 25 kt.

    After 60 s 7736.4 ft east and 2531.7 ft south. Within 1 ft.
    """
    speed = 120.0 * KT
    bank = math.atan(speed * 3.0 * DEG / G)
    setting = setting_in((0.0, -25.0 * KT), aeroplane=at_once(invented))
    start: State = (0.0, 0.0, 100.0, speed, 0.0, 0.0, 0.0, 0.0)
    for leg in (circling(bank, Until(Guard.TIME, 60.0)), turn_to(math.pi, bank)):
        time, (east, north, *_) = fly(0.0, start, [leg], setting).record(-1)
        assert time == pytest.approx(60.0, abs=0.001)
        assert east / FT == pytest.approx(7_736.4, abs=1.0)
        assert north / FT == pytest.approx(-2_531.7, abs=1.0)


def test_full_circle_drifts_downwind_and_astern(invented: Aeroplane, setting_in: SettingMaker) -> None:
    """PHY-161, computed from published equations: full circle in the wind of PHY-160.

    5063.4 ft (0.8333 nm) downwind; 1.500 nm astern of a ship that steams north at 20 kt. Within 1 ft.
    """
    speed = 120.0 * KT
    bank = math.atan(speed * 3.0 * DEG / G)
    ship = steady_track(0.0, 20.0 * KT)
    setting = setting_in((0.0, -25.0 * KT), ship, at_once(invented))
    leg = circling(bank, Until(Guard.HEADING, 2.0 * math.pi, 1))
    time, (east, north, *_) = fly(0.0, (0.0, 0.0, 100.0, speed, 0.0, 0.0, 0.0, 0.0), [leg], setting).record(-1)
    assert (east / FT, north / FT) == pytest.approx((0.0, -5_063.4), abs=1.0)
    assert north / NM == pytest.approx(-0.8333, abs=1.0 * FT / NM)
    assert (north - ship.at(time)[1]) == pytest.approx(-1.5 * NM, abs=1.0 * FT)


@pytest.mark.parametrize(
    ("knots", "bank", "radius", "spacing", "seconds"),
    [(78.0, 28.0, 1_013.0, 675.0, 24.0), (90.0, 25.0, 1_538.0, 1_025.0, 32.0)],
)
def test_level_half_turn_needs_two_radii_between_tracks(
    invented: Aeroplane,
    setting_in: SettingMaker,
    knots: float,
    bank: float,
    radius: float,
    spacing: float,
    seconds: float,
) -> None:
    """PRO-80, derived from published airspeeds and banks, not printed. Within half a unit of the last digit."""
    setting = setting_in(aeroplane=at_once(invented))
    leg = turn_to(-math.pi, -bank * DEG)
    time, (east, north, *_) = fly(0.0, (0.0, 0.0, 50.0, knots * KT, 0.0, 0.0, 0.0, 0.0), [leg], setting).record(-1)
    assert -east / YD == pytest.approx(spacing, abs=0.5)
    assert -east / 2.0 / FT == pytest.approx(radius, abs=0.5)
    assert north == pytest.approx(0.0, abs=0.05)
    assert time == pytest.approx(seconds, abs=0.5)


def test_ship_gains_in_the_half_turn_what_leaves_the_aeroplane_in_the_groove(
    invented: Aeroplane, setting_in: SettingMaker
) -> None:
    """PRO-81, derived: 30 kt over the deck, half turn of 24 s at 78 kt and 28 deg: 1220 ft, about 400 yd astern.

    Within 5 ft (printed to ten) and 10 yd ("about"). The aeroplane starts abreast of the stern, downwind.
    """
    ship = steady_track(0.0, 22.0 * KT)
    setting = setting_in((0.0, -8.0 * KT), ship, at_once(invented))
    start: State = (-617.0, 0.0, 50.0, 78.0 * KT, math.pi, 0.0, 1.0, 1.0)
    leg = turn_to(0.0, -28.0 * DEG, gear=1.0, flap=1.0)
    time, (_, north, *_) = fly(0.0, start, [leg], setting).record(-1)
    astern = ship.at(time)[1] - north
    assert astern / FT == pytest.approx(1_220.0, abs=5.0)
    assert astern / YD == pytest.approx(400.0, abs=10.0)


@pytest.mark.parametrize(("heading", "feet"), [(0.0, 3_040.0), (math.pi, 6_080.0)])
def test_interval_sets_the_spacing_in_the_groove_and_downwind(
    setting_in: SettingMaker, heading: float, feet: float
) -> None:
    """PRO-82, derived: 30 s apart at 90 kt with 30 kt over the deck: 3040 ft in the groove, about 6080 ft downwind.

    Within 5 ft (printed to ten).
    """
    ship = steady_track(0.0, 18.0 * KT)
    leg = circling(0.0, Until(Guard.TIME, 30.0))
    setting = setting_in((0.0, -12.0 * KT), ship)
    time, (_, north, *_) = fly(0.0, (0.0, 0.0, 50.0, 90.0 * KT, heading, 0.0, 0.0, 0.0), [leg], setting).record(-1)
    assert abs(north - ship.at(time)[1]) / FT == pytest.approx(feet, abs=5.0)


def test_drift_in_a_turn_is_wind_over_deck_times_time(setting_in: SettingMaker) -> None:
    """Closed form at constant airspeed in a uniform wind, roll-in and roll-out included; wind 15 deg on the bow."""
    start: State = (0.0, 0.0, 60.0, 42.0, math.pi, 0.0, 0.0, 0.0)
    wind = (-12.0 * math.sin(15.0 * DEG), -12.0 * math.cos(15.0 * DEG))
    ship = steady_track(0.0, 8.0)
    still = fly(0.0, start, [turn_to(0.0, -27.0 * DEG)], setting_in()).record(-1)
    time, state = fly(0.0, start, [turn_to(0.0, -27.0 * DEG)], setting_in(wind, ship)).record(-1)
    assert time == pytest.approx(still[0], abs=1e-9)
    drift_east, drift_north = state[0] - still[1][0], state[1] - ship.at(time)[1] - still[1][1]
    assert drift_east == pytest.approx(wind[0] * time, abs=1e-6)
    assert drift_north == pytest.approx((wind[1] - 8.0) * time, abs=1e-6)


# ---- finer steps, and switches


def circuit_turn(turn: float = -math.pi) -> Leg:
    """Rolls in, throttle shut, gear and flap on their way, the commanded rate and the speed wanted both reached."""
    return turn_to(
        turn, -28.0 * DEG, speed=ChangeSpeed(78.0 * KT, 1.0), height=HeightByHeading(30.0, turn), gear=1.0, flap=1.0
    )


CIRCUIT_START: State = (0.0, 0.0, 60.0, 100.0 * KT, 0.0, 0.0, 0.0, 0.0)


def end_with(step: float, setting: Setting, leg: Leg) -> Floats:
    last: Floats = fly(0.0, CIRCUIT_START, [leg], setting, longest_step=step).records[-1]
    return last


def test_finer_steps_converge_at_fourth_order_across_switches(setting_in: SettingMaker) -> None:
    """A step that ran across a switch would leave an error that halves with the step, and metres of it.

    From one halving to the next the error falls 16 times at fourth order; 10 is asked, as cut steps differ in length.
    """
    setting = setting_in((3.0, -8.0))
    finest = end_with(0.0125, setting, circuit_turn())
    error = [float(np.abs(end_with(step, setting, circuit_turn()) - finest)[1:4].max()) for step in (0.2, 0.1, 0.05)]
    assert error[0] > 10.0 * error[1] > 100.0 * error[2]


def test_long_steps_stay_near_short_ones(setting_in: SettingMaker) -> None:
    """0.05 s: 1e-6 m. 0.2 s and longer: 1e-4 m, as no step rolls further than 5 degrees."""
    setting = setting_in((3.0, -8.0))
    finest = end_with(0.0125, setting, circuit_turn())
    for step, near in ((0.05, 1e-6), (0.2, 1e-4), (1.0, 1e-4)):
        assert end_with(step, setting, circuit_turn())[:5] == pytest.approx(finest[:5], abs=near)


def test_two_switches_in_one_step_are_both_honoured_in_order(invented: Aeroplane, setting_in: SettingMaker) -> None:
    """Own arithmetic: 28 deg at 20 deg/s ends at 1.4 s, the gear is down at 1.5 s, the flap at 1.6 s; steps of 2 s."""
    quick = replace(invented, gear_time=1.5, flap_time=1.6)
    leg = replace(circling(28.0 * DEG, Until(Guard.TIME, 1.9)), gear=1.0, flap=1.0)
    start: State = (0.0, 0.0, 60.0, 45.0, 0.0, 0.0, 0.0, 0.0)
    flown = fly(0.0, start, [leg], setting_in(aeroplane=quick), longest_step=2.0)
    late = flown.records[-4:]  # the roll itself is flown in steps of 5 degrees
    assert late[:, 0] == pytest.approx([1.4, 1.5, 1.6, 1.9])
    assert late[:, 6] / DEG == pytest.approx([28.0, 28.0, 28.0, 28.0])
    assert late[:, 7] == pytest.approx([1.4 / 1.5, 1.0, 1.0, 1.0])
    assert late[:, 8] == pytest.approx([1.4 / 1.6, 1.5 / 1.6, 1.0, 1.0])


def test_switches_closer_than_the_clock_can_tell_leave_no_instant_twice(
    invented: Aeroplane, setting_in: SettingMaker
) -> None:
    """At noon, in seconds of the day, two instants differ by 7e-12 s at least; gear and flap come home together."""
    setting = setting_in(aeroplane=replace(invented, gear_time=3.0, flap_time=6.0))
    for noon in np.linspace(42_000.0, 43_000.0, 40) + 0.123_456_789:
        leg = replace(circling(0.0, Until(Guard.TIME, 4.0)), gear=1.0, flap=0.5)
        flown = fly(float(noon), CIRCUIT_START, [leg], setting)
        assert np.all(np.diff(flown.records[:, 0]) > 0.0)
        assert path_of(flown, setting).time[-1] == pytest.approx(noon + 4.0)


@pytest.mark.parametrize(
    ("bank", "speed"),
    [
        (28.0, ChangeSpeed(70.0 * KT, 0.5)),
        (40.0, ChangeSpeed(70.0 * KT, 1.0)),
        (40.0, ChangeSpeed(68.0 * KT, 1.0)),
        (35.0, ChangeSpeed(60.0 * KT, 20.0)),
        (28.0, SpeedByHeading(78.0 * KT, 60.0, -math.pi)),
        (28.0, ChangeSpeed(130.0 * KT, 20.0)),
    ],
)
def test_turn_rolls_out_on_its_heading_while_the_speed_changes(
    setting_in: SettingMaker, bank: float, speed: ChangeSpeed | SpeedByHeading
) -> None:
    """By definition; the lead is closed form only at constant speed. Within 2e-4 rad (0.01 deg)."""
    flown = fly(0.0, CIRCUIT_START, [turn_to(-math.pi, -bank * DEG, speed=speed)], setting_in())
    assert flown.met
    assert flown.records[-1, 5] == pytest.approx(-math.pi, abs=2e-4)
    assert flown.records[-1, 6] == 0.0


def test_a_rate_beyond_any_aeroplane_is_simply_what_it_can_do(setting_in: SettingMaker) -> None:
    """Both ask more than can be had from start to end, so they are one flight; also in steps of 1 s."""
    leg = turn_to(-2.0, -28.0 * DEG, height=HeightByHeading(30.0, -2.0))
    setting = setting_in()
    ends = [
        end_with(step, setting, replace(leg, speed=ChangeSpeed(50.0 * KT, rate)))
        for rate in (30.0, 1e6, math.inf)
        for step in (0.2, 1.0)
    ]
    for end in ends:
        assert end == pytest.approx(ends[0], abs=0.02)
