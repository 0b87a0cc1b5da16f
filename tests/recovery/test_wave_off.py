"""Round again after a wave-off, against closed forms, own integration, symmetry and what must close."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from roundown.errors import NoSolution
from roundown.figures import figures_of
from roundown.motion.aeroplane import Aeroplane
from roundown.recovery.circuit import Circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult
from roundown.recovery.wave_off import BESIDE, WaveOffFacts, wave_off

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2
DENSITY = 1.225  # kg/m3
INSTANT = 1e4  # rad/s, a roll that takes no time to speak of
BY = WaveOffFacts(side=1, straight=10.0, reaction=1.0, power_time=3.0, full_power_fuel=0.12, circuit_fuel=0.05)
ALL_90 = {"initial_speed": 90.0 * KT, "downwind_speed": 90.0 * KT}
RAISED = {
    "deck_height": 20.0, "ramp_height": 5.0, "ninety_height": 28.0, "downwind_height": 50.0, "initial_height": 90.0,
}  # fmt: skip


def plain(make: Make, **changes: Any) -> CircuitFacts:
    """All at 90 kt, sea level, 30 kt over the deck, a roll that takes no time."""
    return make(aeroplane={"roll_rate": INSTANT}, **ALL_90, **changes)


def excess(plane: Aeroplane, speed: float, sine: float = 0.0) -> float:
    """Full thrust less drag less the weight's part, over the mass [m/s2]; momentum theory by root finding."""
    disc = math.pi * plane.propeller_diameter**2 / 4.0
    power = plane.shaft_power * plane.figure_of_merit
    inflow = brentq(lambda w: 2.0 * DENSITY * disc * (speed + w) ** 2 * w - power, 0.0, 100.0, xtol=1e-13)
    thrust = power / (speed + inflow)
    area = 0.5 * DENSITY * speed**2 * plane.wing_area
    lift = plane.mass * G * math.sqrt(1.0 - sine**2) / area
    parasite = plane.zero_lift_drag + plane.gear_drag + plane.flap_drag
    return float((thrust - area * (parasite + plane.induced_drag * lift**2)) / plane.mass - G * sine)


def test_round_again_over_the_deck_takes_what_two_half_circles_and_two_straights_take(
    sea_level: Make, solved: Solve
) -> None:
    """Closed form, V 90 kt, w 30 kt over the deck: both half turns at 30 deg drift w T astern, the downwind leg is 3 s
    at V + w, and the straight must reach 2 w T + 3 (V + w) ahead of the ramp at V - w.
    """
    facts = plain(sea_level)
    circuit, _ = solved(facts)
    v, w = 90.0 * KT, 30.0 * KT
    half = math.pi * v / (G * math.tan(30.0 * DEG))
    ahead = 2.0 * w * half + 3.0 * (v + w)
    found = wave_off(circuit, facts, replace(BY, side=0))
    assert found.turn_bank == pytest.approx(30.0 * DEG, abs=1e-4)
    assert found.turn_ahead == pytest.approx(ahead, abs=0.2)
    assert found.straight == pytest.approx(ahead / (v - w), abs=0.01)
    assert found.downwind_time == pytest.approx(3.0, abs=0.01)
    assert found.time == pytest.approx(ahead / (v - w) + 2.0 * half + 3.0, abs=0.02)


def test_beside_the_deck_the_turn_is_narrower_by_the_distance_from_the_centre_line(
    sea_level: Make, solved: Solve
) -> None:
    """Closed form: from a line 50 yd to port of the centre line the half circle is 50 yd narrower."""
    facts = plain(sea_level)
    circuit, _ = solved(facts)
    v = 90.0 * KT
    radius = v**2 / (G * math.tan(30.0 * DEG)) - 0.5 * BESIDE
    found = wave_off(circuit, facts, BY)
    assert found.turn_bank == pytest.approx(math.atan(v**2 / (G * radius)), abs=0.1 * DEG)


def test_the_doctrines_straight_is_the_least_that_is_flown(sea_level: Make, solved: Solve) -> None:
    """Constructed: asked for 80 s he flies 80 s, and what is beyond the need is flown back down at V + w."""
    facts = plain(sea_level)
    circuit, _ = solved(facts)
    short, long = (wave_off(circuit, facts, replace(BY, side=0, straight=time)) for time in (10.0, 80.0))
    assert short.straight < 80.0
    assert long.straight == pytest.approx(80.0, abs=1e-6)
    further = (80.0 - short.straight) * 60.0 * KT
    assert long.turn_ahead - short.turn_ahead == pytest.approx(further, abs=0.2)
    assert long.time - short.time == pytest.approx(80.0 - short.straight + further / (120.0 * KT), abs=0.02)


def test_the_climb_is_what_full_power_leaves_over_drag(sea_level: Make, solved: Solve) -> None:
    """Second method: the slope at which thrust by momentum theory (root finding), drag and the weight's part balance,
    at sea-level density; 65 m to climb. The density half-way up is 0.5 per cent less: 2 per cent allowed.
    """
    facts = sea_level(**RAISED)
    circuit, _ = solved(facts)
    speed = 90.0 * KT
    sine = brentq(lambda tried: excess(facts.aeroplane, speed, tried), 0.0, 0.5)
    found = wave_off(circuit, facts, BY)
    assert found.climb_rate == pytest.approx(speed * sine, rel=0.02)
    assert found.climb_time == pytest.approx(1.0 + 1.5 + 65.0 / found.climb_rate, abs=0.01)


def test_full_power_is_held_until_the_downwind_speed_is_gathered(sea_level: Make, solved: Solve) -> None:
    """Second method: 90 to 100 kt level, dV/dt summed in steps of 1 ms (own Euler), after the climb. Density at 90 m is
    0.9 per cent less than at the sea: 0.15 s allowed.
    """
    facts = sea_level(**RAISED)
    circuit, _ = solved(facts)
    found = wave_off(circuit, facts, BY)
    grid = np.linspace(90.0 * KT, 100.0 * KT, 40)
    gain = [excess(facts.aeroplane, float(speed)) for speed in grid]
    speed, gathering = 90.0 * KT, 0.0
    while speed < 100.0 * KT:
        speed += 0.001 * float(np.interp(speed, grid, gain))
        gathering += 0.001
    assert found.full_power_time == pytest.approx(found.climb_time - 1.0 + gathering, abs=0.15)


def test_fuel_is_full_power_while_it_is_held_and_the_circuits_flow_for_the_rest(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic from the figures shown, kg/s times s."""
    facts = sea_level(**RAISED)
    circuit, _ = solved(facts)
    found = wave_off(circuit, facts, BY)
    full = found.full_power_time
    assert found.fuel == pytest.approx(0.12 * full + 0.05 * (found.time - full))
    assert found.fuel_in_place == pytest.approx(0.12 * full + 0.05 * (found.next_free - full))
    none = wave_off(circuit, facts, replace(BY, full_power_fuel=None))
    assert none.fuel is None
    assert none.fuel_in_place is None


@pytest.mark.parametrize("before", [0.0, 4.0])
def test_the_next_free_place_is_whole_intervals_after_his_own(sea_level: Make, solved: Solve, before: float) -> None:
    """Own arithmetic: at 30 s he was due over the ramp `before` seconds on, and the rest keep their places."""
    facts = sea_level(**RAISED)
    circuit, _ = solved(facts)
    found = wave_off(circuit, facts, BY, before)
    assert found.next_free == pytest.approx(before + 30.0 * found.places)
    assert 0.0 <= found.spare < 30.0
    assert found.time + found.spare == pytest.approx(found.next_free)


@pytest.mark.parametrize("before", [0.0, 3.0, 6.0])
def test_he_is_over_the_ramp_again_wings_level_and_never_lower_than_it(
    demo_facts: CircuitFacts, solved: Solve, before: float
) -> None:
    """Constructed, in veering winds: the path ends within 2 m of the ramp and at its height, as the circuit's does."""
    circuit, result = solved(demo_facts)
    found = wave_off(circuit, demo_facts, BY, before)
    path = found.path
    run = demo_facts.ship_speed * path.time[-1]
    course = demo_facts.ship_course
    off = math.hypot(
        path.east.values[-1] - run * math.sin(course), path.north.values[-1] - run * math.cos(course)
    )  # fmt: skip
    assert off < 2.0
    assert path.height.values[-1] == pytest.approx(demo_facts.ramp_over_sea, abs=1e-6)
    assert path.height.values.min() > demo_facts.ramp_over_sea - 1e-6
    assert path.time[-1] - path.time[0] == pytest.approx(found.time)
    assert found.time > result.final_time
    assert found.path.heading.values[-1] % math.tau == pytest.approx(result.final_heading, abs=1e-3)


def test_the_downwind_leg_is_long_enough_to_let_down_on(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Own arithmetic: 300 to 175 ft at 500 ft/min takes 15 s."""
    circuit, _ = solved(demo_facts)
    found = wave_off(circuit, demo_facts, BY)
    assert found.downwind_time == pytest.approx(15.0, abs=0.05)


def test_by_rule_of_thumb_it_is_the_run_to_the_break_and_the_circuit_again(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: 250 m of deck and a mile at 60 kt past the ship, and from the break to the ramp."""
    facts = sea_level()
    circuit, result = solved(facts)
    found = wave_off(circuit, facts, BY)
    assert found.time_by_rule == pytest.approx((250.0 + 1852.0) / (60.0 * KT) + result.break_to_ramp, abs=0.01)


def test_the_other_hand_and_side_in_mirrored_winds_is_the_same_wave_off(
    demo_facts: CircuitFacts, solved: Solve
) -> None:
    """Symmetry."""
    left = replace(demo_facts, ship_course=0.7)
    right = replace(left, hand=1, ship_course=-0.7, winds=left.winds * np.array([1.0, -1.0, 1.0]))
    mirrored = replace(BY, side=-1)
    one, other = wave_off(solved(left)[0], left, BY), wave_off(solved(right)[0], right, mirrored)
    for mine, theirs in zip(figures_of(one), figures_of(other), strict=True):
        assert theirs.value == pytest.approx(mine.value, rel=1e-6, abs=1e-6), mine.key


def test_a_ship_at_25_kt_in_calm_is_a_stopped_ship_in_a_wind_of_25_kt(sea_level: Make, solved: Solve) -> None:
    """Symmetry: only the difference of air and ship is felt."""
    moving = sea_level(ship_speed=25.0 * KT, winds=np.zeros((1, 3)), **RAISED)
    stopped = sea_level(ship_speed=0.0, winds=np.array([[10.0, 0.0, -25.0 * KT]]), **RAISED)
    one, other = wave_off(solved(moving)[0], moving, BY), wave_off(solved(stopped)[0], stopped, BY)
    assert one.time == pytest.approx(other.time, abs=1e-4)
    assert one.turn_bank == pytest.approx(other.turn_bank, abs=1e-6)


@pytest.mark.parametrize(("hand", "side"), [(-1, 0), (1, 1)])
@pytest.mark.parametrize("over_deck", [0.0, 20.0, 45.0])
def test_every_hand_side_and_wind_comes_round(
    sea_level: Make, solved: Solve, hand: int, side: int, over_deck: float
) -> None:
    """Constructed: it closes, with less wind sooner."""
    facts = sea_level(over_deck, ship_speed=0.0, hand=hand, winds=np.array([[10.0, 2.0, -over_deck * KT]]), **RAISED)
    found = wave_off(solved(facts)[0], facts, replace(BY, side=side))
    assert 60.0 < found.time < 400.0
    assert found.turn_bank > 8.0 * DEG


def test_an_aeroplane_without_the_power_has_no_wave_off(sea_level: Make, solved: Solve) -> None:
    """Constructed: a fifth of the power does not carry wheels and flap level."""
    facts = sea_level(aeroplane={"shaft_power": 200_000.0}, **RAISED)
    circuit, _ = solved(facts)
    with pytest.raises(NoSolution, match="full power does not carry it"):
        wave_off(circuit, facts, BY)


@pytest.mark.parametrize(("before", "says"), [(-1.0, "from there"), (60.0, "from there"), (14.0, "so far back")])
def test_a_wave_off_is_flown_from_the_last_of_the_turn_or_over_the_ramp(
    sea_level: Make, solved: Solve, before: float, says: str
) -> None:
    """Constructed."""
    facts = sea_level(**RAISED)
    circuit, _ = solved(facts)
    with pytest.raises(NoSolution, match=says):
        wave_off(circuit, facts, BY, before)
