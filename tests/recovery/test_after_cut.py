"""The flight from the cut to the deck, against closed forms, an energy balance and an integration of its own."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.recovery.touchdown_cases import DEG, EASED, FIGHTER, FT, HELD, KT, SPAN, STANDARD, G

from roundown.errors import NoSolution
from roundown.recovery.after_cut import Approach, Flight, Hand, fly_on, steady_approach

SMOOTH = replace(
    FIGHTER, zero_lift_drag=0.0, gear_drag=0.0, flap_drag=0.0, induced_drag=0.0, idle_thrust=0.0, lift_flap=5.0
)
SPEED = 45.0  # m/s


def carrying(part: float, speed: float = SPEED) -> Approach:
    """An approach that leaves the wing a part of the weight once the throttle is shut."""
    lift = part * FIGHTER.mass * G / (0.5 * STANDARD * speed**2 * FIGHTER.wing_area)
    return Approach(speed, STANDARD, lift, 1.0 - part)


def flown(
    speed: float = 85.0 * KT, hand: Hand = HELD, ahead: float = 30.0 * KT, across: float = 0.0, slope: float = 0.0
) -> Flight:
    approach = steady_approach(FIGHTER, SPAN, speed, STANDARD, slope)
    return fly_on(FIGHTER, approach, hand, ahead, across, 8.0, 0.0)


def test_without_lift_and_drag_it_falls_like_a_stone() -> None:
    """Closed form: g t^2 / 2 down, and on at the speed past the ship."""
    flight = fly_on(SMOOTH, carrying(1.0), Hand(dip=1.0), 15.0, 0.0, 6.0, 0.0)
    met = flight.at_fall(5.0)
    assert met is not None
    assert met.time == pytest.approx(math.sqrt(10.0 / G), abs=1e-4)
    assert met.run == pytest.approx(30.0 * math.sqrt(10.0 / G), abs=4e-3)
    assert met.climb == pytest.approx(-math.sqrt(10.0 * G), abs=2e-3)


@pytest.mark.parametrize("part", [0.7, 0.9, 0.95])
def test_without_drag_the_slope_is_that_of_a_phugoid(part: float) -> None:
    """Closed form, from memory (F. W. Lanchester, 1908): cos(gamma) = z / (3 z1) + C (z1 / z)^(1/2).

    z = V^2 / 2g is the depth under the line of no energy, z1 that at which the wing carries the weight.
    """
    flight = fly_on(SMOOTH, carrying(part), HELD, 15.0, 0.0, 8.0, 0.0)
    start = SPEED**2 / (2.0 * G)
    carried = start / part
    constant = (1.0 - start / (3.0 * carried)) * math.sqrt(start / carried)
    depth = start + flight.fall
    slope = depth / (3.0 * carried) + constant * np.sqrt(carried / depth)
    airspeed = np.hypot(flight.level, flight.climb)
    assert np.allclose(airspeed**2, 2.0 * G * depth, rtol=1e-9)
    assert np.allclose(flight.level / airspeed, slope, atol=1e-9)


@pytest.mark.parametrize("slowing", [1.0, 1.6])
def test_a_steady_loss_of_speed_sinks_it_as_the_closed_form_says(slowing: float) -> None:
    """Closed form: z'' = g [(V / V1)^2 - 1] with V = V0 - a t, twice integrated; it leaves out the slope of the path.

    What has fallen a quarter of a metre has gained g 0.25 / V = 0.054 m/s for it, and with that 2 parts in a thousand
    of its lift where a twentieth is missing: 2 per cent are allowed.
    """
    braked = replace(SMOOTH, idle_thrust=-slowing * SMOOTH.mass)
    flight = fly_on(braked, carrying(0.95), HELD, 15.0, 0.0, 0.5, 0.0)
    met = flight.at_fall(0.25)
    assert met is not None
    first, a, t = SPEED**2 / 0.95, slowing, met.time
    speed = SPEED - a * t
    dropped = -G * ((speed**4 - SPEED**4) / (12.0 * a**2 * first) + SPEED**3 * t / (3.0 * a * first) - t**2 / 2.0)
    assert dropped == pytest.approx(0.25, rel=0.02)
    assert met.level == pytest.approx(speed + 0.25 * G / SPEED, abs=0.005)


@pytest.mark.parametrize("hand", [HELD, EASED])
def test_what_energy_it_loses_the_drag_has_taken(hand: Hand) -> None:
    """Conservation: V^2 / 2 + g z against the work of drag less thrust, the drag from lift as it was needed."""
    flight = flown(hand=hand)
    speed = np.hypot(flight.level, flight.climb)
    climb_rate = np.gradient(flight.climb, flight.time, edge_order=2)
    level_rate = np.gradient(flight.level, flight.time, edge_order=2)
    upward, along = climb_rate + G, level_rate
    lift = (upward * flight.level - along * flight.climb) / speed * FIGHTER.mass
    area = 0.5 * STANDARD * speed**2 * FIGHTER.wing_area
    drag = area * (0.0235 + 0.019 + 0.062 + 0.0755 * (lift / area) ** 2) - FIGHTER.idle_thrust
    work = float(np.trapezoid(drag * speed, flight.time)) / FIGHTER.mass
    lost = 0.5 * (speed[0] ** 2 - speed[-1] ** 2) + G * float(flight.fall[-1])
    assert lost == pytest.approx(work, rel=3e-3 if hand is EASED else 2e-4)


@pytest.mark.parametrize("slope", [0.0, 3.5 * DEG])
@pytest.mark.parametrize("across", [0.0, 5.0])
@pytest.mark.parametrize("speed", [80.0 * KT, 90.0 * KT])
def test_small_steps_of_ones_own_come_to_the_same_place(speed: float, across: float, slope: float) -> None:
    """Second method: Euler's rule in steps of 0.2 ms on vectors, drag along the air, lift square to it."""
    approach = steady_approach(FIGHTER, SPAN, speed, STANDARD, slope)
    flight = fly_on(FIGHTER, approach, HELD, 15.0, across, 6.0, 0.0)
    down = speed * math.sin(slope)
    air = np.array([math.sqrt(speed**2 - across**2 - down**2), across, -down])
    run = fall = time = 0.0
    parasite = 0.0235 + 0.019 + 0.062 + 0.0755 * approach.lift**2
    while fall < 5.0:
        fast = float(np.linalg.norm(air))
        square = 0.5 * STANDARD * fast**2 * FIGHTER.wing_area
        ahead = air / fast
        right = np.cross(ahead, [0.0, 0.0, 1.0])
        upright = np.cross(right / np.linalg.norm(right), ahead)
        force = (FIGHTER.idle_thrust - square * parasite) * ahead + square * approach.lift * upright
        gain = force / FIGHTER.mass - np.array([0.0, 0.0, G])
        gain[1] = 0.0  # the pilot keeps the centre line
        run += 2e-4 * (air[0] - 15.0)
        fall -= 2e-4 * air[2]
        air = air + 2e-4 * gain
        time += 2e-4
    met = flight.at_fall(5.0)
    assert met is not None
    assert met.time == pytest.approx(time, abs=2e-3)
    assert met.run == pytest.approx(run, abs=0.05)
    assert met.climb == pytest.approx(float(air[2]), abs=0.01)


@pytest.mark.parametrize(("slope", "sine"), [(0.0, 0.0), (3.0 * DEG, 0.0523360)])
def test_the_slipstream_carries_what_its_speed_makes_of_it(slope: float, sine: float) -> None:
    """Own arithmetic, the other way round: from the lift left over to the weight.

    85 kt is 43.73 m/s, 1171 Pa. T / q = S C_D; the slipstream is faster by the root of 1 + T / (q A), A 11.22 m2;
    down a slope T is less by the weight's part along it, and the lift is the weight's part across it.
    """
    approach = steady_approach(FIGHTER, SPAN, 85.0 * KT, STANDARD, slope)
    pressure = 0.5 * STANDARD * (85.0 * KT) ** 2
    thrust_over_pressure = 27.4993 * (0.1045 + 0.0755 * approach.lift**2) - FIGHTER.mass * G * sine / pressure
    faster = math.sqrt(1.0 + thrust_over_pressure / 11.2191) - 1.0
    lift = pressure * 27.4993 * approach.lift * (1.0 + faster * 12.4 / 39.5)
    assert lift == pytest.approx(FIGHTER.mass * G * math.sqrt(1.0 - sine**2), rel=1e-5)
    assert approach.carried == pytest.approx((lift - pressure * 27.4993 * approach.lift) / (FIGHTER.mass * G), rel=5e-5)
    assert 0.03 < approach.carried < 0.12


def test_steeper_than_it_glides_no_slipstream_is_left() -> None:
    """Limit case: with the weight alone it would run away; the wing then carries all of its share."""
    approach = steady_approach(FIGHTER, SPAN, 85.0 * KT, STANDARD, 12.0 * DEG)
    assert approach.carried == 0.0
    weight = 0.5 * STANDARD * (85.0 * KT) ** 2 * FIGHTER.wing_area * approach.lift / math.cos(12.0 * DEG)
    assert weight == pytest.approx(FIGHTER.mass * G, rel=1e-12)


def test_one_who_eases_back_keeps_the_sink() -> None:
    """Constructed: it comes to the sink kept and stays within a tenth over it; held, it goes on growing."""
    eased, held = flown(hand=EASED), flown(hand=Hand(dip=EASED.dip))
    assert -float(eased.climb[-1]) == pytest.approx(EASED.kept_sink, rel=0.1)
    assert -float(eased.climb.min()) < 1.1 * EASED.kept_sink
    assert -float(held.climb[-1]) > 1.4 * EASED.kept_sink


def test_where_the_wing_has_no_more_lift_easing_back_does_not_keep_it() -> None:
    """Limit case: a wing with hardly more lift than it needs sinks on."""
    approach = steady_approach(FIGHTER, SPAN, 85.0 * KT, STANDARD, 0.0)
    weak = replace(FIGHTER, lift_flap=approach.lift)
    flight = fly_on(weak, approach, EASED, 15.0, 0.0, 8.0, 0.0)
    assert -float(flight.climb[-1]) > 1.3 * EASED.kept_sink


@given(wind=st.floats(5.0, 20.0), more=st.floats(0.5, 8.0))
@settings(max_examples=15, deadline=None)
def test_more_wind_over_the_deck_shortens_the_run_by_its_time(wind: float, more: float) -> None:
    """Conservation: in the air the flight is the same; only the deck goes by slower."""
    one, other = flown(ahead=wind).at_fall(4.0), flown(ahead=wind + more).at_fall(4.0)
    assert one is not None
    assert other is not None
    assert other.run == pytest.approx(one.run - more * one.time, abs=1e-9)
    assert other.climb == pytest.approx(one.climb, rel=1e-12)


def test_before_the_throttle_is_shut_it_is_level() -> None:
    flight = flown()
    before = flight.at_run(-10.0)
    assert before is not None
    assert (before.fall, before.climb) == (0.0, 0.0)
    assert before.time == pytest.approx(-10.0 / (55.0 * KT))
    assert flight.at_fall(-1.0) == flight.at_fall(0.0)
    assert flight.at_run(1e4) is None
    assert flight.at_fall(1e4) is None


def test_before_the_throttle_is_shut_it_is_on_the_slope() -> None:
    """Own arithmetic: 85 kt down 3 degrees is 4.4486 kt of sink and 84.884 kt along, 54.884 past the deck."""
    flight = flown(slope=3.0 * DEG)
    before = flight.at_run(-10.0)
    assert before is not None
    assert flight.descent == pytest.approx(4.4486 / 54.884, rel=1e-4)
    assert before.fall == pytest.approx(-10.0 * 4.4486 / 54.884, rel=1e-4)
    assert before.climb == pytest.approx(-4.4486 * KT, rel=1e-4)
    again = flight.at_fall(before.fall)
    assert again is not None
    assert again.run == pytest.approx(-10.0)
    assert again.time == pytest.approx(before.time)


@pytest.mark.parametrize("slope", [0.0, 3.0 * DEG])
def test_what_it_drops_is_counted_from_the_approach_carried_on(slope: float) -> None:
    """Second method: the slope drawn on past where the throttle was shut."""
    flight = flown(slope=slope, hand=Hand(dip=0.2))
    met = flight.at_drop(2.0)
    assert met is not None
    carried_on = met.run * 85.0 * KT * math.sin(slope) / (85.0 * KT * math.cos(slope) - 30.0 * KT)
    assert met.fall - carried_on == pytest.approx(2.0, abs=1e-3)
    assert flight.at_drop(-1.0) == flight.at_drop(0.0) == flight.at_run(0.0)
    assert flight.at_drop(1e4) is None


def test_no_lift_and_no_thrust_lost_goes_on_straight_down_the_slope() -> None:
    """Closed form: where the weight alone holds the approach, shutting the throttle changes nothing."""
    slope = 3.0 * DEG
    pressure = 0.5 * STANDARD * SPEED**2 * SMOOTH.wing_area
    glider = replace(SMOOTH, zero_lift_drag=SMOOTH.mass * G * math.sin(slope) / pressure)
    approach = steady_approach(glider, SPAN, SPEED, STANDARD, slope)
    flight = fly_on(glider, approach, HELD, 15.0, 0.0, 8.0, 0.0)
    assert approach.carried == pytest.approx(0.0, abs=1e-12)
    assert np.allclose(flight.fall, SPEED * math.sin(slope) * flight.time, atol=1e-9)
    assert np.allclose(flight.run, (SPEED * math.cos(slope) - 15.0) * flight.time, atol=1e-9)


@pytest.mark.parametrize(("speed", "ahead", "what"), [(60.0, 30.0, "carry"), (85.0, 90.0, "gain")])
def test_one_too_slow_for_the_wing_or_the_ship_has_no_flight(speed: float, ahead: float, what: str) -> None:
    with pytest.raises(NoSolution, match=what):
        flown(speed * KT, ahead=ahead * KT)


def test_a_wing_that_carries_more_than_the_weight_does_not_come_down() -> None:
    """Limit case: a gain of lift at the throttle, which no aeroplane has."""
    flight = fly_on(SMOOTH, carrying(1.02), HELD, 15.0, 0.0, 5.0, 0.0)
    assert flight.at_fall(1.0) is None
    assert flight.fall[-1] <= 1.0 * FT
