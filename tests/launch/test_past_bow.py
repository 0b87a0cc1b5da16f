"""The invented types past the bow."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from tests.launch.run_cases import FT, KT, TYPES, fitted, on_spot

from roundown.figures import figures_of
from roundown.launch import past_bow as module
from roundown.launch.bow_kernel import ANGLE_LAG, PATH_LAG
from roundown.launch.deck_run import deck_run, lift_off_airspeed, load_of
from roundown.launch.facts import RunFacts
from roundown.launch.past_bow import (
    EASED_SLOPE,
    BowPath,
    Hand,
    PastBow,
    eased_angle,
    edge_angle,
    lowest_by_angle,
    lowest_past_bow,
    past_bow,
)
from roundown.motion.equations.kernel import density_at, full_thrust
from roundown.motion.equations.wing import angle_for, drag_at, greatest_lift, lift_at, stall_angle

G = 9.80665  # m/s2


@cache
def past(kind: str, part: float) -> PastBow:
    """part : airspeed at the bow as a part of that of lift-off."""
    facts = on_spot(kind)
    return past_bow(facts, part * lift_off_airspeed(facts))


def second_method(facts: RunFacts, hand: Hand, airspeed: float, angle: float) -> tuple[float, float, float]:
    """Lowest height, height and airspeed after 20 s: speed and slope as states, an adaptive solver, small steps."""
    craft, wing = facts.aeroplane, facts.aeroplane.wing
    density = density_at(facts.deck_height, (facts.temperature, facts.pressure))
    load, weight = load_of(facts), craft.mass * G

    def rates(time: float, state: list[float], wheels_from: float) -> list[float]:
        v, slope, _, alpha = state
        if hand is Hand.HOLDING:
            alpha = angle - slope
        gear = 1.0 - min(max((time - wheels_from) / craft.gear_time, 0.0), 1.0)
        pressure_area = 0.5 * density * v * v * wing[0]
        lift = pressure_area * lift_at(alpha, craft.flap, wing)
        drag = pressure_area * drag_at(alpha, craft.flap, gear, 1.0, wing)
        change = 0.0
        if hand is Hand.EASING:
            wanted = weight / pressure_area * (math.cos(slope) + v / G * (EASED_SLOPE - slope) / PATH_LAG)
            aim = eased_angle(facts)
            if wanted < greatest_lift(craft.flap, wing):
                aim = min(aim, angle_for(wanted, craft.flap, wing))
            change = float(np.clip((aim - alpha) / ANGLE_LAG, -craft.pull_rate, craft.pull_rate))
        elif hand is Hand.PULLING:
            aim = stall_angle(craft.flap, wing) + module.PULLED_PAST
            change = float(np.clip((aim - alpha) / ANGLE_LAG, -craft.pull_rate, craft.pull_rate))
        along = (full_thrust(v, density, load) - drag - weight * math.sin(slope)) / craft.mass
        return [along, (lift - weight * math.cos(slope)) / (craft.mass * v), v * math.sin(slope), change]

    def lowest(_time: float, state: list[float], _wheels_from: float) -> float:
        return state[1]

    lowest.terminal, lowest.direction = True, 1.0  # type: ignore[attr-defined]
    start = [airspeed, 0.0, facts.deck_height, angle]
    settings_ = {"rtol": 1e-9, "atol": 1e-9, "max_step": 0.02}
    down = solve_ivp(rates, (0.0, 20.0), start, args=(math.inf,), events=lowest, **settings_)
    up = solve_ivp(rates, (down.t[-1], 20.0), down.y[:, -1], args=(down.t[-1],), **settings_)
    heights = np.concatenate([down.y[2], up.y[2]])
    return float(heights.min()), float(up.y[2, -1]), float(up.y[0, -1])


@pytest.mark.parametrize("hand", [Hand.EASING, Hand.HOLDING])
@pytest.mark.parametrize("kind", TYPES)
def test_an_adaptive_solver_with_small_steps_finds_the_same(kind: str, hand: Hand) -> None:
    """Second method: scipy.integrate.solve_ivp, speed and slope as states; to 2 cm and a hundredth of a knot."""
    facts = on_spot(kind)
    airspeed = 0.93 * lift_off_airspeed(facts)
    lowest, height, speed = second_method(facts, hand, airspeed, edge_angle(facts, airspeed))
    path = past(kind, 0.93).paths[hand]
    at = int(np.argmin(np.abs(path.time - 20.0)))
    assert path.time[at] == pytest.approx(20.0, abs=1e-9)
    assert path.height.min() == pytest.approx(lowest, abs=0.02)
    assert path.height[at] == pytest.approx(height, abs=0.05)
    assert math.hypot(path.level[at], path.climb[at]) == pytest.approx(speed, abs=0.01 * KT)


def test_pulling_past_the_stall_by_a_second_method() -> None:
    """Second method, as above, where it does not come down to the sea within 20 s."""
    facts = on_spot("ottery")
    airspeed = lift_off_airspeed(facts)
    _, height, _ = second_method(facts, Hand.PULLING, airspeed, edge_angle(facts, airspeed))
    path = past("ottery", 1.0).paths[Hand.PULLING]
    assert np.interp(20.0, path.time, path.height) == pytest.approx(height, abs=0.1)


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("kind", TYPES)
def test_the_energy_account_closes(kind: str, hand: Hand) -> None:
    """Conservation: kinetic and potential energy gained are the work of thrust less drag, to a part in a thousand."""
    path = past(kind, 0.93).paths[hand]
    mass = on_spot(kind).aeroplane.mass
    speed = np.hypot(path.level, path.climb)
    energy = mass * (0.5 * speed**2 + G * path.height)
    power = (path.thrust - path.drag) * speed
    work = float(np.sum(0.5 * (power[1:] + power[:-1]) * np.diff(path.time)))
    turned_over = float(np.sum(0.5 * np.abs(power[1:] + power[:-1]) * np.diff(path.time)))
    assert energy[-1] - energy[0] == pytest.approx(work, abs=1e-3 * turned_over)


@pytest.mark.parametrize("kind", TYPES)
def test_faster_at_the_bow_stays_higher(kind: str) -> None:
    """Constructed."""
    facts = on_spot(kind)
    lift_off = lift_off_airspeed(facts)
    lowest = [lowest_past_bow(facts, part * lift_off) for part in np.arange(0.7, 1.15, 0.025).tolist()]
    assert lowest == sorted(lowest)
    assert lowest[0] == 0.0
    assert lowest[-1] == facts.deck_height


@settings(max_examples=15, deadline=None)
@given(part=st.floats(0.85, 1.0), more=st.floats(0.005, 0.1), kind=st.sampled_from(TYPES))
def test_a_knot_more_never_hurts(part: float, more: float, kind: str) -> None:
    """Constructed."""
    facts = on_spot(kind)
    lift_off = lift_off_airspeed(facts)
    slow, fast = lowest_past_bow(facts, part * lift_off), lowest_past_bow(facts, (part + more) * lift_off)
    assert fast >= slow - 1e-6


@pytest.mark.parametrize("kind", TYPES)
def test_easing_beats_pulling_past_the_stall(kind: str) -> None:
    """Common practice, no source: short of flying speed the stick is eased, not pulled."""
    for part in (0.88, 0.92, 0.94):
        made = past(kind, part)
        assert made.lowest_easing > made.lowest_pulling + 1.0 * FT
        assert made.lowest_height >= made.lowest_easing


@pytest.mark.parametrize("kind", TYPES)
def test_more_lift_helps_up_to_the_stall(kind: str) -> None:
    """Constructed: a greater angle of attack stays higher as long as it is below the stall."""
    facts = on_spot(kind)
    stall = stall_angle(facts.aeroplane.flap, facts.aeroplane.wing)
    angles = np.linspace(0.4, 0.95, 8) * stall
    heights = lowest_by_angle(facts, 0.9 * lift_off_airspeed(facts), angles)
    assert np.all(np.diff(heights)[heights[:-1] > 0.0] > 0.0)


def test_past_the_stall_more_angle_is_worse() -> None:
    """Constructed: the weakest of the types."""
    facts = on_spot("brindle")
    stall = stall_angle(facts.aeroplane.flap, facts.aeroplane.wing)
    at, past_it, far = lowest_by_angle(facts, 0.9 * lift_off_airspeed(facts), stall + np.radians([-0.5, 4.0, 12.0]))
    assert at > past_it > far
    assert far == 0.0


@pytest.mark.parametrize("kind", TYPES)
def test_with_lift_off_speed_it_does_not_sink(kind: str) -> None:
    """Limit case: the wing carries the weight at the edge, and there is thrust to spare."""
    made = past(kind, 1.0)
    assert made.lowest_height == on_spot(kind).deck_height
    assert made.sink == 0.0
    assert made.climb_after == 0.0
    assert made.lowest_tail_up < made.lowest_height - 5.0 * FT  # not if the nose is raised only past the bow


@pytest.mark.parametrize("kind", TYPES)
def test_the_figures_are_those_of_the_path(kind: str) -> None:
    """Constructed: one short run; each figure is looked up in the path of the better technique."""
    made = past(kind, 0.92)
    path = made.path
    at = int(np.argmin(path.height))
    assert made.lowest_height == path.height[at] == max(made.lowest_easing, made.lowest_holding)
    assert made.lowest_after == path.time[at] == made.climb_after
    assert path.climb[at] == 0.0
    assert made.sink == pytest.approx(on_spot(kind).deck_height - made.lowest_height, abs=1e-12)
    assert made.touches_after is None
    assert not made.touches
    heights = [later.height for later in made.after.values()]
    assert list(made.after) == ["after_10_s", "after_20_s", "after_30_s"]
    for seconds, height in zip((10.0, 20.0, 30.0), heights, strict=True):
        assert height == pytest.approx(path.height[np.isclose(path.time, seconds)][0], abs=1e-9)
    assert path.time[-1] == 30.0
    assert lowest_past_bow(on_spot(kind), 0.92 * lift_off_airspeed(on_spot(kind))) == made.lowest_height


def test_wheels_come_up_from_the_first_climb() -> None:
    """Constructed: down until the climb begins, up a gear time later."""
    made = past("ottery", 0.92)
    path, gear_time = made.path, on_spot("ottery").aeroplane.gear_time
    assert made.climb_after is not None
    assert np.all(path.gear[path.time <= made.climb_after] == 1.0)
    assert np.all(path.gear[path.time >= made.climb_after + gear_time] == 0.0)
    half = np.interp(made.climb_after + 0.5 * gear_time, path.time, path.gear)
    assert half == pytest.approx(0.5, abs=1e-3)


def test_into_the_sea_ends_it() -> None:
    """Constructed: much too slow."""
    made = past("brindle", 0.75)
    assert made.touches
    assert made.lowest_height == 0.0
    assert made.lowest_after == made.touches_after == made.path.time[-1]
    assert made.climb_after is None
    assert [later.height for later in made.after.values()] == [None] * 3


def test_wind_over_the_deck_moves_the_place_alone() -> None:
    """Constructed: at one airspeed a stopped ship in 25 kt of wind and a 25-kt ship in a calm are the same."""
    blown = on_spot("ottery", wind=25.0)
    steaming, still = replace(blown, ship_speed=0.0), on_spot("ottery", wind=0.0)
    first, second, third = (past_bow(facts, 40.0).path for facts in (blown, steaming, still))
    np.testing.assert_array_equal(first.place, second.place)
    np.testing.assert_array_equal(first.height, third.height)
    np.testing.assert_allclose(third.place - first.place, 25.0 * KT * first.time, atol=1e-9)


def test_the_deck_is_left_with_the_wing_carrying_what_it_may() -> None:
    """Constructed: own arithmetic of the three cases."""
    facts = on_spot("ottery")
    craft, lift_off = facts.aeroplane, lift_off_airspeed(facts)
    density = density_at(facts.deck_height, (facts.temperature, facts.pressure))
    for part in (1.0, 1.1):
        lift = lift_at(edge_angle(facts, part * lift_off), craft.flap, craft.wing)
        carried = 0.5 * density * (part * lift_off) ** 2 * craft.wing[0] * lift
        assert carried == pytest.approx(craft.mass * G, rel=1e-9)
    assert edge_angle(facts, 0.8 * lift_off) == min(craft.three_point, eased_angle(facts))
    low_tail = fitted(facts, three_point=0.1)
    assert edge_angle(low_tail, 0.95 * lift_off) == 0.1
    assert edge_angle(fitted(facts, tail_up=0.5), 0.8 * lift_off) == 0.5


def test_an_angle_given_is_flown_from() -> None:
    """Constructed: the tail kept up to the bow."""
    facts = on_spot("ottery")
    airspeed = 0.97 * lift_off_airspeed(facts)
    given_angle, own = past_bow(facts, airspeed, facts.aeroplane.tail_up), past_bow(facts, airspeed)
    assert given_angle.path.angle[0] == facts.aeroplane.tail_up
    assert given_angle.lowest_easing == own.lowest_tail_up < own.lowest_easing


def test_heavier_comes_lower() -> None:
    """Constructed: a run short by little at the type's weight, and the same airspeed a twentieth heavier."""
    facts = on_spot("sallow")
    airspeed = 0.95 * lift_off_airspeed(facts)
    heavier = fitted(facts, mass=1.05 * facts.aeroplane.mass)
    assert past_bow(heavier, airspeed).lowest_height < past_bow(facts, airspeed).lowest_height


@pytest.mark.parametrize("kind", TYPES)
def test_a_common_spot_never_brings_it_near_the_sea(kind: str) -> None:
    """Common practice, no source: 32 kt over the deck and 420 ft of it; more than half the freeboard is kept."""
    facts = on_spot(kind, wind=32.0, run=420.0)
    airspeed = deck_run(facts).bow_airspeed
    assert airspeed is not None
    assert past_bow(facts, airspeed).lowest_height > 0.5 * facts.deck_height


def test_paths_cannot_be_changed() -> None:
    path: BowPath = past("ottery", 0.92).path
    with pytest.raises(ValueError, match="read-only"):
        path.height[0] = 1.0


def test_no_airspeed_is_refused() -> None:
    with pytest.raises(ValueError, match="airspeed at the bow -1 m/s is not positive"):
        past_bow(on_spot(), -1.0)


def test_every_number_is_a_figure_with_its_unit() -> None:
    figures = {each.key: each.text for each in figures_of(past("ottery", 0.92), "past_bow.")}
    assert figures["past_bow.touches_after"] == "none"
    assert all(text == "none" or text.rsplit(" ", 1)[-1] in ("ft", "s", "kt") for text in figures.values())
    assert "past_bow.after.after_20_s.height" in figures
