"""The last safe wave-off against own integrations, closed forms and limits."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from scipy.optimize import brentq

from roundown.errors import NoSolution
from roundown.findings import Level
from roundown.motion.equations.kernel import full_thrust
from roundown.recovery.circuit import Circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.last_wave_off import (
    Approach,
    LastWaveOff,
    LastWaveOffFacts,
    NoWaveOff,
    approach_power,
    go_round,
    last_wave_off,
    last_wave_off_findings,
    lost_by_rule,
)
from roundown.recovery.result import CircuitResult

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2
SLOPE, ZERO, FLAP = 4.5, -2.0 * DEG, 0.6
WING = (27.0, SLOPE, ZERO, FLAP, 1.45, 2.1, 0.7, 0.026, 0.02, 0.07, 0.075)
DESCENT = Approach(
    mass=3_900.0, wing=WING, useful_power=750_000.0, disc=math.pi * 3.4**2 / 4.0, density=1.2, speed=86.0 * KT,
    slope=3.5 * DEG, wind_ahead=30.0 * KT, margin=5.0 * KT, reaction=1.0, power_time=2.5,
)  # fmt: skip
BY = LastWaveOffFacts(reaction=1.0, power_time=2.5, clearance=10.0 * FT, wing=WING)
FLAT = {"deck_height": 20.0, "ramp_height": 5.0, "ninety_height": 26.0, "downwind_height": 50.0, "initial_height": 90.0}
STEEP = {**FLAT, "ninety_height": 55.0, "downwind_height": 90.0}


def thrust_of(power: float, speed: float, density: float, disc: float) -> float:
    """Momentum theory by root finding on the thrust: P = T (V + w), T = 2 rho A (V + w) w."""
    if power <= 0.0:
        return 0.0
    inflow = brentq(lambda w: 2.0 * density * disc * (speed + w) ** 2 * w - power, 0.0, 200.0, xtol=1e-12)
    return float(power / (speed + inflow))


def by_euler(a: Approach, h: float = 0.002) -> tuple[float, float, float]:
    """Height lost, time and run to the end of the sink, by speed and slope, in small steps of Euler's."""

    def drag(lift: float, speed: float) -> float:
        return 0.5 * a.density * speed**2 * WING[0] * (0.026 + 0.02 + 0.07 + 0.075 * lift**2)

    def needed(lift: float) -> float:
        return (lift - FLAP) / SLOPE + ZERO

    trim = a.mass * G * math.cos(a.slope) / (0.5 * a.density * a.speed**2 * WING[0])
    wanted_thrust = drag(trim, a.speed) - a.mass * G * math.sin(a.slope)
    begin = brentq(lambda p: thrust_of(p, a.speed, a.density, a.disc) - wanted_thrust, 0.0, 2.0 * a.useful_power)
    speed, gamma, angle = a.speed, -a.slope, needed(trim)
    time = run = height = 0.0
    while gamma < 0.0:
        risen = min(max((time - a.reaction) / a.power_time, 0.0), 1.0)
        thrust = thrust_of(begin + risen * (a.useful_power - begin), speed, a.density, a.disc)
        lift = SLOPE * (angle - ZERO) + FLAP
        area = 0.5 * a.density * speed**2 * WING[0]
        gain = (thrust - drag(lift, speed)) / a.mass - G * math.sin(gamma)
        bend = (area * lift / a.mass - G * math.cos(gamma)) / speed
        turn = 0.0
        if time >= a.reaction:
            asked = a.mass * (G * math.cos(gamma) + speed * (a.climb_slope - gamma) / a.path_lag) / area
            limit = max(2.1 * (1.0 - a.margin / speed) ** 2, trim)
            turn = (needed(min(asked, limit)) - angle) / a.angle_lag
            turn = min(max(turn, -a.angle_rate), a.angle_rate)
        height += h * speed * math.sin(gamma)
        run += h * (speed * math.cos(gamma) - a.wind_ahead)
        speed, gamma, angle, time = speed + h * gain, gamma + h * bend, angle + h * turn, time + h
    return -height, time, run


@pytest.mark.parametrize(
    "approach",
    [
        DESCENT,
        replace(DESCENT, slope=1.0 * DEG, speed=95.0 * KT),
        replace(DESCENT, slope=5.0 * DEG, reaction=0.5, power_time=5.0),
        replace(DESCENT, speed=72.0 * KT, power_time=4.0),
    ],
    ids=["descent", "shallow-and-fast", "steep-with-slow-power", "hardly-over-the-margin"],
)
def test_the_height_lost_is_that_of_small_steps_by_speed_and_slope(approach: Approach) -> None:
    """Second method: Euler steps of 2 ms in speed and slope (ours: level and upright parts, Runge-Kutta), momentum
    theory by root finding. Within 3 cm, 0.01 s and 0.3 m.
    """
    lost, time, run = by_euler(approach)
    found = go_round(approach)
    assert found.lost == pytest.approx(lost, abs=0.03)
    assert found.time == pytest.approx(time, abs=0.01)
    assert found.run == pytest.approx(run, abs=0.3)


def test_a_hand_that_takes_no_time_loses_what_a_steady_load_loses() -> None:
    """Closed form for a constant upward acceleration: s t + s^2 / (2 (n - 1) g), power and nose at once. The speed,
    and with it the load, changes by a per cent or two while the sink is stopped: 3 per cent of the second part.
    """
    quick = replace(
        DESCENT,
        speed=90.0 * KT,
        power_time=0.01,
        angle_rate=100.0,
        angle_lag=0.004,
        path_lag=0.01,
        climb_slope=5.0 * DEG,
    )
    s = quick.speed * math.sin(quick.slope)
    limit = 2.1 * (85.0 / 90.0) ** 2
    load = limit * 0.5 * 1.2 * quick.speed**2 * 27.0 / (3_900.0 * G)
    stopping = s * s / (2.0 * (load - 1.0) * G)
    assert lost_by_rule(quick) == pytest.approx(s + stopping, rel=1e-3)
    assert go_round(quick, step=0.002).lost - s == pytest.approx(stopping, rel=0.03)


def test_finer_steps_change_nothing_that_is_shown() -> None:
    """Convergence: a quarter of the step, within a millimetre."""
    assert go_round(DESCENT).lost == pytest.approx(go_round(DESCENT, step=0.0125).lost, abs=1e-3)


def test_the_approachs_power_gives_the_thrust_it_needs() -> None:
    """Round trip: thrust by the engine's own equations at that part of the power is drag less the weight's part."""
    part = approach_power(DESCENT)
    thrust = full_thrust(DESCENT.speed, 1.2, (0.0,) * 7 + (part * 750_000.0, DESCENT.disc))
    lift = 3_900.0 * G * math.cos(3.5 * DEG) / (0.5 * 1.2 * DESCENT.speed**2 * 27.0)
    drag = 0.5 * 1.2 * DESCENT.speed**2 * 27.0 * (0.116 + 0.075 * lift**2)
    assert thrust == pytest.approx(drag - 3_900.0 * G * math.sin(3.5 * DEG), rel=1e-9)


def test_a_level_approach_loses_nothing() -> None:
    """Limit case: without sink there is nothing to stop, whatever the reaction."""
    level = go_round(replace(DESCENT, slope=0.0, reaction=3.0))
    assert level.lost == pytest.approx(0.0, abs=1e-9)
    assert level.time == 0.0


def test_slower_hands_slower_power_and_less_speed_lose_more() -> None:
    """Constructed."""
    least = go_round(DESCENT).lost
    for worse in (
        replace(DESCENT, reaction=1.5),
        replace(DESCENT, power_time=5.0),
        replace(DESCENT, slope=4.5 * DEG),
        replace(DESCENT, margin=15.0 * KT),
        replace(DESCENT, mass=4_500.0),
    ):
        assert go_round(worse).lost > least


def test_one_without_the_power_sinks_on() -> None:
    """Constructed: power for the descent, not for level flight."""
    weak = replace(DESCENT, slope=6.0 * DEG, useful_power=150_000.0)
    with pytest.raises(NoSolution, match="does not stop the sink"):
        go_round(weak)


def test_an_approach_below_the_stall_or_beyond_full_power_is_none() -> None:
    """Constructed."""
    with pytest.raises(NoSolution, match="below the stall"):
        go_round(replace(DESCENT, speed=60.0 * KT))
    with pytest.raises(NoSolution, match="full power carries"):
        go_round(replace(DESCENT, slope=0.0, useful_power=100_000.0))


# ---- in the circuit


def last(facts: CircuitFacts, solved: Solve, by: LastWaveOffFacts = BY) -> tuple[LastWaveOff, CircuitResult]:
    result = solved(facts)[1]
    found = last_wave_off(result, facts, by)
    assert isinstance(found, LastWaveOff)
    return found, result


def test_on_a_flat_approach_it_may_come_as_late_as_the_cut_and_no_later(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: 1 m in the last half turn; the cut 10 m past the ramp at 60 kt past the ship is 0.32 s after it.
    After the cut there is no wave-off on a straight deck (PRO-100).
    """
    facts = sea_level(**FLAT)
    found, _ = last(facts, solved)
    assert found.up_to_cut
    assert found.height_lost < 1.0
    assert found.latest == pytest.approx(-10.0 / (60.0 * KT), rel=0.01)
    assert found.latest_astern == pytest.approx(-10.0, rel=0.01)
    assert last_wave_off_findings(found, BY) == []


def test_on_a_descent_the_last_place_leaves_just_the_clearance(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: wheels over the deck there, less what is lost, is the clearance; and there is astern of the ramp
    by sink times time.
    """
    facts = sea_level(**STEEP)
    found, result = last(facts, solved)
    assert found.latest is not None
    assert found.latest > 0.0
    assert found.latest_height is not None
    assert found.latest_height - found.height_lost == pytest.approx(BY.clearance)
    sink = result.gates["ramp"].indicated * math.sin(result.final_slope)
    assert found.latest_height == pytest.approx(5.0 + sink * found.latest, rel=2e-3)
    assert found.latest_astern == pytest.approx(found.latest * result.closing_ramp)
    assert found.over_deck_from_ramp == pytest.approx(5.0 - found.height_lost)
    assert found.over_deck_from_cut < found.over_deck_from_ramp


def test_power_at_once_loses_less_and_the_rule_of_thumb_least(sea_level: Make, solved: Solve) -> None:
    """Constructed: the rule knows no easing of the nose."""
    found, _ = last(sea_level(**STEEP), solved)
    assert found.height_lost_by_rule is not None
    assert found.height_lost_by_rule < found.height_lost_at_once < found.height_lost


def test_what_the_finding_says_mends_it(sea_level: Make, solved: Solve) -> None:
    """Round trip: over the ramp as high as the remedy has it, there is none; a foot and a half lower there still is."""
    facts = sea_level(**STEEP)
    found, _ = last(facts, solved)
    (finding,) = last_wave_off_findings(found, BY)
    assert finding.id == "wave-off-late"
    assert finding.level in (Level.NOTE, Level.CAUTION)
    needed = float(finding.remedy.split("cross the ramp ")[1].split(" ft")[0]) * FT
    assert needed > facts.ramp_height
    assert last_wave_off_findings(last(replace(facts, ramp_height=needed), solved)[0], BY) == []


def test_a_last_place_long_before_the_ramp_is_a_caution(sea_level: Make, solved: Solve) -> None:
    """Constructed: 3 s of reaction."""
    slow = replace(BY, reaction=3.0)
    found, _ = last(sea_level(**STEEP), solved, slow)
    (finding,) = last_wave_off_findings(found, slow)
    assert finding.level is Level.CAUTION


def test_wheels_below_the_clearance_all_the_way_is_a_stop(sea_level: Make, solved: Solve) -> None:
    """Constructed: 30 m wanted over the deck on a flat approach."""
    high = replace(BY, clearance=30.0)
    found, _ = last(sea_level(**FLAT), solved, high)
    assert found.latest is None
    (finding,) = last_wave_off_findings(found, high)
    assert finding.level is Level.STOP


def test_an_aeroplane_that_cannot_go_round_is_a_stop(sea_level: Make, solved: Solve) -> None:
    """Constructed: too little power to hold it level with wheels and flap down."""
    facts = sea_level(aeroplane={"shaft_power": 250_000.0}, **STEEP)
    found = last_wave_off(solved(facts)[1], facts, BY)
    assert isinstance(found, NoWaveOff)
    (finding,) = last_wave_off_findings(found, BY)
    assert finding.level is Level.STOP


@pytest.mark.parametrize("hand", [-1, 1])
def test_either_hand_has_the_same_last_wave_off(sea_level: Make, solved: Solve, hand: int) -> None:
    """Symmetry: the wind is from dead ahead."""
    found, _ = last(sea_level(hand=hand, **STEEP), solved)
    left, _ = last(sea_level(**STEEP), solved)
    assert found.latest == pytest.approx(left.latest, abs=1e-6)
