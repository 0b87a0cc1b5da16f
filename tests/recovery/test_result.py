"""The figures of a circuit: what may be changed without changing them, and how each follows from the path."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from roundown.figures import figures_of
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.frames import wrap
from roundown.quantities import TRUE_DIRECTION
from roundown.recovery.circuit import Circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2
MIRRORED = ("port", "bank", "off_centre")  # change sign with the hand


def seen_from_the_ship(result: CircuitResult) -> dict[str, float]:
    """Every figure but directions and places over the earth; none is -1."""
    return {
        found.key: 0.0 if found.value is None else found.value
        for found in figures_of(result)
        if found.how.kind is not TRUE_DIRECTION and not found.key.endswith((".east", ".north"))
    }


def headings(result: CircuitResult) -> dict[str, float]:
    return {
        found.key: found.value
        for found in figures_of(result)
        if found.how.kind is TRUE_DIRECTION and found.value is not None
    }


def turned(
    winds: np.ndarray[tuple[int, int], np.dtype[np.float64]], angle: float
) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """Winds turned clockwise."""
    out = winds.copy()
    out[:, 1] = winds[:, 1] * math.cos(angle) + winds[:, 2] * math.sin(angle)
    out[:, 2] = winds[:, 2] * math.cos(angle) - winds[:, 1] * math.sin(angle)
    return out


def across_the_deck(facts: CircuitFacts) -> CircuitFacts:
    """Wind from about 12 degrees off the bow low down, veering and rising with height."""
    winds = np.array([[10.0, -2.5, -5.0], [60.0, -4.0, -7.0], [200.0, -9.0, -6.0]])
    return replace(facts, ship_course=0.0, ship_speed=9.0, winds=winds)


# ---- invariances


def test_a_ship_at_25_kt_in_calm_is_a_stopped_ship_in_a_wind_of_25_kt(sea_level: Make, solved: Solve) -> None:
    """Symmetry: only the difference of air and ship is felt. Every figure seen from the ship, and every heading."""
    calm = np.zeros((1, 3))
    wind = np.array([[10.0, 0.0, -25.0 * KT]])
    _, moving = solved(sea_level(ship_speed=25.0 * KT, winds=calm, deck_height=18.0, ninety_height=28.0))
    _, stopped = solved(sea_level(ship_speed=0.0, winds=wind, deck_height=18.0, ninety_height=28.0))
    assert seen_from_the_ship(moving) == pytest.approx(seen_from_the_ship(stopped), abs=1e-5)
    assert headings(moving) == pytest.approx(headings(stopped), abs=1e-9)


def test_the_mirrored_circuit_is_the_circuit_mirrored(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Symmetry: other hand, course and winds mirrored east for west. Only sides change, and headings run backwards."""
    left = across_the_deck(demo_facts)
    left = replace(left, ship_course=0.7, winds=turned(left.winds, 0.7))
    right = replace(left, hand=1, ship_course=-0.7, winds=left.winds * np.array([1.0, -1.0, 1.0]))
    _, by_port = solved(left)
    _, by_starboard = solved(right)
    expected = {
        key: -value if key.rsplit(".", 1)[-1] in MIRRORED and "break_bank" not in key else value
        for key, value in seen_from_the_ship(by_port).items()
    }
    assert seen_from_the_ship(by_starboard) == pytest.approx(expected, abs=1e-5)
    for key, heading in headings(by_port).items():
        assert wrap(headings(by_starboard)[key] + heading) == pytest.approx(0.0, abs=1e-8), key


@pytest.mark.parametrize("angle", [40.0, 205.0])
def test_turning_course_and_wind_together_turns_only_directions(
    demo_facts: CircuitFacts, solved: Solve, angle: float
) -> None:
    """Symmetry: the sea has no marks."""
    facts = across_the_deck(demo_facts)
    _, here = solved(facts)
    _, there = solved(replace(facts, ship_course=angle * DEG, winds=turned(facts.winds, angle * DEG)))
    assert seen_from_the_ship(there) == pytest.approx(seen_from_the_ship(here), abs=1e-5)
    for key, heading in headings(here).items():
        assert wrap(headings(there)[key] - heading - angle * DEG) == pytest.approx(0.0, abs=1e-8), key


@pytest.mark.parametrize("over_deck", [0.0, 14.0, 38.0])
def test_at_one_airspeed_a_half_turn_drifts_the_wind_over_the_deck_times_its_time(
    sea_level: Make, solved: Solve, over_deck: float
) -> None:
    """Limit case: at one speed in one wind, rolled in as out, a half turn through the air ends abreast of its start."""
    speeds = dict.fromkeys(("initial_speed", "downwind_speed", "ninety_speed", "ramp_speed"), 98.0 * KT)
    _, result = solved(sea_level(over_deck, **speeds))
    gates = result.gates
    drift = gates["break"].ahead - gates["downwind"].ahead
    assert drift == pytest.approx(over_deck * KT * result.break_to_rollout, abs=0.1)
    assert gates["turn-in"].ahead == pytest.approx(over_deck * KT * result.final_time, abs=0.1)


def test_the_wings_come_level_on_the_centre_line_in_a_wind_across_the_deck(
    demo_facts: CircuitFacts, solved: Solve
) -> None:
    """Constructed: wind off the bow, veering with height. Over the ramp the deck sees no sideways motion; the nose is
    off her course by the crab, asin(cross wind / true airspeed).
    """
    facts = across_the_deck(demo_facts)
    circuit, result = solved(facts)
    _, (east, north, height, speed, heading, bank, _, _) = circuit.flown.end("to ramp")
    wind_east = float(np.interp(height, facts.winds[:, 0], facts.winds[:, 1]))
    assert speed * math.sin(heading) + wind_east == pytest.approx(0.0, abs=0.02)  # heading north, m/s
    assert result.final_heading == pytest.approx(math.asin(-wind_east / speed), abs=1e-9)
    assert wrap(result.gates["ramp"].heading - result.final_heading) == pytest.approx(0.0, abs=4e-4)
    assert bank == pytest.approx(0.0, abs=1e-9)
    assert math.hypot(result.gates["ramp"].ahead, result.gates["ramp"].port) < 0.05
    assert math.hypot(east, north - facts.ship_speed * circuit.flown.end("to ramp")[0]) < 0.05


# ---- what each figure is


def test_times_add_up_and_gates_stand_in_order(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Conservation: the parts make the whole; the gates are those of a landing circuit, in the order they are met."""
    _, result = solved(demo_facts)
    assert result.break_to_ramp == pytest.approx(
        result.break_to_rollout + result.rollout_to_turn_in + result.final_time, abs=1e-9
    )
    assert list(result.gates) == ["initial", "break", "downwind", "turn-in", "abeam", "ninety", "ramp", "cut"]
    times = [gate.time for gate in result.gates.values()]
    assert times == sorted(times)
    assert result.gates["break"].time == 0.0
    assert sum(gate.since_last for gate in result.gates.values()) == pytest.approx(times[-1] - times[0], abs=1e-9)
    assert result.gates["abeam"].ahead == pytest.approx(0.0, abs=0.1)
    assert result.gates["cut"].ahead == pytest.approx(demo_facts.cut_ahead, abs=1e-6)
    assert result.pass_plan.gates is result.gates


def test_the_place_of_each_gate_over_the_earth_and_round_the_ship_agree(
    demo_facts: CircuitFacts, solved: Solve
) -> None:
    """Second method: the ship's own vectors. Bearing of the ramp off the nose from the two places, too."""
    _, result = solved(demo_facts)
    course = demo_facts.ship_course
    ahead = np.array([math.sin(course), math.cos(course)])
    for name, gate in result.gates.items():
        run = demo_facts.ship_speed * (gate.time + result.initial_to_break)
        place = run * ahead + gate.ahead * ahead + gate.port * np.array([-ahead[1], ahead[0]])
        assert place == pytest.approx([gate.east, gate.north], abs=1e-6), name
        if name != "ramp":
            to_ramp = run * ahead - np.array([gate.east, gate.north])
            off = wrap(math.atan2(to_ramp[0], to_ramp[1]) - gate.heading)
            assert gate.ramp_off_nose == pytest.approx(abs(off), abs=1e-9), name


def test_margins_over_the_stall_follow_from_lift_and_load(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic, at one speed: V less the stall at load 1 / cos(bank). In the break the flap is up when the roll
    ends (flap_time made long), in the final down: 0.5 rho V^2 S CL = n W.
    """
    speed = 100.0 * KT
    speeds = dict.fromkeys(("initial_speed", "downwind_speed", "ninety_speed", "ramp_speed"), speed)
    facts = sea_level(aeroplane={"flap_limit": 60.0 * KT}, **speeds)
    _, result = solved(facts)
    plane = facts.aeroplane

    def margin(bank: float, lift: float) -> float:
        weight = plane.mass * G / math.cos(bank)
        return speed - math.sqrt(weight / (0.5 * 1.225 * plane.wing_area * lift))

    assert result.stall_margin_break == pytest.approx(margin(facts.break_bank, plane.lift_clean), abs=0.01)
    assert result.stall_margin_final == pytest.approx(margin(result.final_bank, plane.lift_clean), abs=0.01)
    _, flapped = solved(sea_level(aeroplane={"flap_limit": 150.0 * KT}, **speeds))
    assert flapped.stall_margin_final == pytest.approx(margin(flapped.final_bank, plane.lift_flap), abs=0.01)


def drag_by_hand(plane: Aeroplane, speed: float, bank: float) -> float:
    """Gear and flap down, at sea level [N]."""
    q_s = 0.5 * 1.225 * speed**2 * plane.wing_area
    lift = plane.mass * G / math.cos(bank) / q_s
    return q_s * (plane.zero_lift_drag + plane.gear_drag + plane.flap_drag + plane.induced_drag * lift**2)


def test_spare_slowing_and_power_in_the_final_turn_follow_from_drag_and_thrust(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic, level at one speed. Slowing is least wings level: (drag - idle thrust) / mass; power is least at
    full bank: thrust from T (V + w) = P, T = 2 rho A (V + w) w, found by bisection on w.
    """
    speed = 95.0 * KT
    speeds = dict.fromkeys(("initial_speed", "downwind_speed", "ninety_speed", "ramp_speed"), speed)
    facts = sea_level(**speeds)
    plane = facts.aeroplane
    _, result = solved(facts)
    slowing = (drag_by_hand(plane, speed, 0.0) - plane.idle_thrust) / plane.mass
    assert result.slowing_spare == pytest.approx(slowing, rel=1e-4)
    disc, power = math.pi / 4.0 * plane.propeller_diameter**2, plane.shaft_power * plane.figure_of_merit
    low, high = 0.0, 100.0
    for _ in range(80):
        w = 0.5 * (low + high)
        low, high = (w, high) if 2.0 * 1.225 * disc * (speed + w) ** 2 * w < power else (low, w)
    thrust = power / (speed + low)
    spare = (thrust - drag_by_hand(plane, speed, result.final_bank)) / plane.mass
    assert result.power_spare == pytest.approx(spare, rel=1e-4)


def test_slowed_after_is_the_loss_of_speed_over_the_slowing(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: 20 kt at 0.07 g takes 10.289 / 0.6865 = 14.99 s."""
    _, result = solved(sea_level())
    assert result.slowing_had > 0.07 * G
    assert result.slowed_after == pytest.approx(20.0 * KT / (0.07 * G), abs=1e-3)


def test_the_slope_from_the_ninety_is_height_lost_over_a_quarter_circle(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: 30 m lost from the ninety at 90 kt and constant bank: a quarter circle is pi R / 2 long, and the
    roll-out makes it longer by V (t - lead / rate), t the time to roll. Within 0.5 %.
    """
    facts = sea_level(deck_height=14.0, ramp_height=6.0, ninety_height=50.0, downwind_height=60.0, initial_height=60.0)
    _, result = solved(facts)
    speed, bank, roll = 90.0 * KT * math.sqrt(1.0 / 0.9966), result.final_bank, facts.aeroplane.roll_rate  # rho at 35 m
    turning = G * math.tan(bank) / speed
    lead = G / (roll * speed) * -math.log(math.cos(bank))
    long = speed * ((0.5 * math.pi - lead) / turning + bank / roll)
    assert result.descent_to_ramp == pytest.approx(30.0, abs=1e-9)
    assert result.final_slope == pytest.approx(math.atan(30.0 / long), rel=0.005)
    assert result.let_down > 0.0


def test_bands_at_the_ramp_are_over_the_sea(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Own arithmetic: 15-20 ft over a deck of 65 ft is 80-85 ft over the sea."""
    _, result = solved(demo_facts)
    band = result.gates["ramp"].height_band
    assert band is not None
    assert (band.low / FT, band.high / FT) == pytest.approx((80.0, 85.0))
    assert result.gates["ramp"].height in band
    downwind = result.gates["turn-in"].height_band
    assert downwind is not None
    assert (downwind.low / FT, downwind.high / FT) == pytest.approx((150.0, 200.0))
