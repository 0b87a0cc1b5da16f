"""What one second, one degree, one knot and ten feet cost, against closed forms, own integration and new solutions."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from roundown.figures import figures_of
from roundown.motion.manoeuvre import Guard, Until, fly
from roundown.passes.cost import USUAL, Misses, cost, fly_rest, stretches
from roundown.recovery.circuit import Circuit, downwind_leg, final_legs, solve_circuit
from roundown.recovery.error_costs import CALM, aim_of, dearest, error_costs, legs_from, wind_over_deck
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
DEG = math.pi / 180.0
FT = 0.3048  # m
G = 9.80665  # m/s2
EVEN = {"downwind_speed": 90.0 * KT, "ninety_speed": 90.0 * KT, "ramp_speed": 90.0 * KT}
AT_ONCE = {"roll_rate": 100.0}
"""Rolls at once and one speed from the break on: the final turn is half a circle."""


@pytest.fixture(scope="module")
def circle(sea_level: Make, solved: Solve) -> tuple[CircuitFacts, Circuit]:
    facts = sea_level(aeroplane=AT_ONCE, **EVEN)
    return facts, solved(facts)[0]


def test_a_second_late_costs_the_speed_past_the_ship_astern_and_the_straight_flight_after_it(
    circle: tuple[CircuitFacts, Circuit],
) -> None:
    """Closed form: 90 + 30 kt for 1 s astern, flown again at 90 - 30 kt."""
    facts, circuit = circle
    late = error_costs(circuit, facts)["turn_in_1_s_late"]
    assert late.ahead == pytest.approx(-120.0 * KT, rel=1e-4)
    assert late.time == pytest.approx(1.0 + 120.0 / 60.0, rel=1e-4)
    assert late.port == pytest.approx(0.0, abs=0.01)
    assert late.bank == pytest.approx(0.0, abs=1e-4)
    assert late.cost == pytest.approx(120.0 * KT / 50.0, rel=1e-3)  # 50 m is the tolerance


def test_a_degree_of_bank_costs_two_radii_less_and_ends_sooner(circle: tuple[CircuitFacts, Circuit]) -> None:
    """Closed form: width 2 R and time pi R / V of a half circle, at a degree more and a degree less."""
    facts, circuit = circle
    speed, bank = 90.0 * KT, circuit.final_bank
    tight, wide = (speed**2 / (G * math.tan(bank + error)) for error in (DEG, -DEG))
    more = error_costs(circuit, facts)["final_bank_1_deg_more"]
    assert more.port == pytest.approx(wide - tight, rel=1e-3)
    assert more.ahead == pytest.approx(30.0 * KT * math.pi * 0.5 * (wide - tight) / speed, rel=1e-3)
    assert more.bank == pytest.approx(-DEG, rel=1e-9)


def test_a_knot_more_over_the_deck_costs_a_knot_for_the_time_of_the_turn(circle: tuple[CircuitFacts, Circuit]) -> None:
    """Closed form: from dead ahead, so nothing to the side."""
    facts, circuit = circle
    final_time = circuit.flown.end("to ramp")[0] - circuit.flown.end("downwind")[0]
    wind = error_costs(circuit, facts)["wind_over_deck_1_kt_more"]
    assert wind.ahead == pytest.approx(-KT * final_time, rel=1e-6)
    assert wind.port == pytest.approx(0.0, abs=1e-3)


def test_the_wind_a_degree_to_starboard_sets_the_pass_to_port_from_the_break_on(
    circle: tuple[CircuitFacts, Circuit],
) -> None:
    """Closed form: 30 kt times sin 1 deg all the time; the crab at the end adds 0.1 s: within a hundredth."""
    facts, circuit = circle
    time = circuit.flown.end("to ramp")[0] - circuit.flown.end("initial")[0]
    wind = error_costs(circuit, facts)["wind_1_deg_to_starboard"]
    assert wind.port == pytest.approx(30.0 * KT * math.sin(DEG) * time, rel=0.01)


def test_a_late_break_with_the_turn_in_by_the_clock_moves_the_whole_circle_ahead(
    circle: tuple[CircuitFacts, Circuit],
) -> None:
    """Closed form: 120 - 30 kt for 1 s ahead; over the ramp 1 s later less that stretch at 90 - 30 kt."""
    facts, circuit = circle
    late = error_costs(circuit, facts)["break_1_s_late"]
    assert late.ahead == pytest.approx(90.0 * KT, rel=1e-6)
    assert late.port == pytest.approx(0.0, abs=1e-6)
    assert late.time == pytest.approx(1.0 - 90.0 / 60.0, rel=1e-6)


def test_ten_feet_and_a_knot_at_the_ramp_are_ten_feet_and_a_knot(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Constructed: what is aimed at the ramp is reached there."""
    costs = error_costs(solved(demo_facts)[0], demo_facts)
    assert costs["ramp_height_10_ft_more"].height == pytest.approx(10.0 * FT, abs=1e-6)
    assert costs["ramp_height_10_ft_more"].cost == pytest.approx(2.0, abs=0.02)  # of 5 ft
    assert costs["ramp_speed_1_kt_more"].speed == pytest.approx(KT, abs=1e-6)
    assert costs["ninety_height_10_ft_more"].height == pytest.approx(0.0, abs=1e-6)


def own_final(facts: CircuitFacts, bank: float, ninety: float, ramp: float) -> tuple[float, float, float]:
    """Where a left final turn carries at sea level, rolled at once: ahead, to starboard [m] and time [s].

    Own integration over heading: speed runs evenly with heading from the downwind one to `ninety` and to `ramp`.
    """
    total = np.zeros(3)
    speeds = (facts.downwind_speed, ninety, ramp)
    for quarter in (0, 1):
        turned = np.linspace(0.5 * quarter * math.pi, 0.5 * (quarter + 1) * math.pi, 4001)
        middle = 0.5 * (turned[1:] + turned[:-1])
        part = (middle - 0.5 * quarter * math.pi) / (0.5 * math.pi)
        speed = speeds[quarter] + part * (speeds[quarter + 1] - speeds[quarter])
        step = np.diff(turned) * speed / (G * math.tan(bank))  # s
        total += (-speed * np.cos(middle) * step).sum(), (speed * np.sin(middle) * step).sum(), step.sum()
    over_deck = 30.0 * KT
    return float(total[0] - over_deck * total[2]), float(total[1]), float(total[2])


@pytest.mark.parametrize(("key", "ninety", "ramp"), [("ninety", KT, 0.0), ("ramp", 0.0, KT)])
def test_a_knot_at_a_gate_moves_the_end_as_own_integration_over_heading_does(
    sea_level: Make, solved: Solve, key: str, ninety: float, ramp: float
) -> None:
    """Second method: speed even with heading, integrated over it, for a knot more and a knot less."""
    facts = sea_level(aeroplane=AT_ONCE, ramp_speed=85.0 * KT)
    circuit, _ = solved(facts)
    ends = [
        own_final(facts, circuit.final_bank, facts.ninety_speed + sign * ninety, facts.ramp_speed + sign * ramp)
        for sign in (1.0, -1.0)
    ]
    found = error_costs(circuit, facts)[f"{key}_speed_1_kt_more"]
    assert found.ahead == pytest.approx(0.5 * (ends[0][0] - ends[1][0]), rel=2e-3, abs=0.02)
    assert found.port == pytest.approx(-0.5 * (ends[0][1] - ends[1][1]), rel=2e-3, abs=0.02)


def own_pass(facts: CircuitFacts, circuit: Circuit, downwind: float) -> tuple[float, float]:
    """Ahead and to port [m] at the end of a left circuit at sea level, rolled at once, from the break on.

    Own integration in steps of 5 ms: slowing in the break until `downwind` [m/s], the turn-in at its place.
    """
    step = 0.005
    port, speed, turned = 0.0, facts.initial_speed, 0.0
    while turned < math.pi:
        slower = max(speed - facts.slowing * step, downwind)
        middle = 0.5 * (speed + slower)
        turn = G * math.tan(facts.break_bank) / middle * step
        port += middle * math.sin(turned + 0.5 * turn) * step
        turned, speed = turned + turn, slower
    run, aside, _ = own_final(replace(facts, downwind_speed=speed), circuit.final_bank, 90.0 * KT, 90.0 * KT)
    return circuit.turn_in_ahead + run, port - aside


def test_a_knot_more_downwind_widens_the_break_and_the_final_turn_as_own_integration_does(
    sea_level: Make, solved: Solve
) -> None:
    """Second method: the break and the final turn integrated in the test, a knot faster and slower."""
    facts = sea_level(aeroplane=AT_ONCE)
    circuit, _ = solved(facts)
    fast, slow = (own_pass(facts, circuit, facts.downwind_speed + error) for error in (KT, -KT))
    found = error_costs(circuit, facts)["downwind_speed_1_kt_more"]
    assert found.ahead == pytest.approx(0.5 * (fast[0] - slow[0]), rel=5e-3, abs=0.02)
    assert found.port == pytest.approx(0.5 * (fast[1] - slow[1]), rel=5e-3, abs=0.02)


@pytest.mark.parametrize(
    ("key", "field", "step"),
    [
        ("downwind_speed_1_kt_more", "downwind_speed", KT),
        ("ninety_speed_1_kt_more", "ninety_speed", KT),
        ("ramp_speed_1_kt_more", "ramp_speed", KT),
        ("downwind_height_10_ft_more", "downwind_height", 10.0 * FT),
        ("ninety_height_10_ft_more", "ninety_height", 10.0 * FT),
        ("ramp_height_10_ft_more", "ramp_height", 10.0 * FT),
    ],
)
def test_the_bank_that_mends_an_error_is_the_bank_of_the_circuit_solved_with_it(
    demo_facts: CircuitFacts, solved: Solve, key: str, field: str, step: float
) -> None:
    """Second method: the circuit solved anew with the error either way; half the difference of its final banks. Within
    a fiftieth, or 0.01 deg: heights and speeds elsewhere shift the headings by a hair.
    """
    costs = error_costs(solved(demo_facts)[0], demo_facts)
    banks = []
    for sign in (1.0, -1.0):
        other = solve_circuit(replace(demo_facts, **{field: getattr(demo_facts, field) + sign * step}))
        assert isinstance(other, Circuit)
        banks.append(other.final_bank)
    assert costs[key].bank == pytest.approx(0.5 * (banks[0] - banks[1]), rel=0.02, abs=0.01 * DEG)


def test_the_long_steps_of_the_engine_cost_nothing_that_shows(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Second method: the same two differences by the engine's own steps, within a centimetre or a ten-thousandth."""
    circuit, _ = solved(demo_facts)
    costs = error_costs(circuit, demo_facts)
    begun, state = circuit.flown.end("break")
    planned = circuit.flown.end("downwind")[0] - begun
    ends = []
    for error in (1.0, -1.0):
        leg = downwind_leg(demo_facts, Until(Guard.TIME, planned + error, 1))
        flown = fly(begun, state, [leg, *final_legs(demo_facts, circuit.final_bank)], circuit.setting, longest_step=0.1)
        time, end = flown.record(-1)
        ship = demo_facts.ship_speed * time
        course = demo_facts.ship_course
        ends.append(end[0] * math.sin(course) + end[1] * math.cos(course) - ship)
    assert costs["turn_in_1_s_late"].ahead == pytest.approx(0.5 * (ends[0] - ends[1]), rel=1e-4, abs=0.01)


def test_a_right_hand_circuit_is_the_mirror_of_a_left_hand_one(sea_level: Make, solved: Solve) -> None:
    """Symmetry: everything to the side changes its sign, nothing else does; the wind is from dead ahead."""
    left, right = sea_level(), sea_level(hand=1)
    one, other = (error_costs(solved(facts)[0], facts) for facts in (left, right))
    for key, error in one.items():
        if key == "wind_1_deg_to_starboard":
            continue
        assert other[key].port == pytest.approx(-error.port, abs=1e-4)
        assert other[key].ahead == pytest.approx(error.ahead, abs=1e-4)
        assert other[key].bank == pytest.approx(error.bank, abs=1e-6)


def test_in_a_calm_over_the_deck_the_wind_has_no_direction_to_err_in(sea_level: Make, solved: Solve) -> None:
    """Limit case: 19 kt of ship, 19 kt from astern."""
    facts = sea_level(over_deck=0.0)
    assert wind_over_deck(facts) < CALM
    costs = error_costs(solved(facts)[0], facts)
    assert "turn_in_1_s_late" in costs
    assert not any(key.startswith("wind") for key in costs)


def test_the_sentence_names_the_dearest_to_the_side_and_along_the_deck(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Constructed: bank to the side, a late turn-in along it; figures with their units."""
    sentence = dearest(error_costs(solved(demo_facts)[0], demo_facts))
    assert "1 deg more bank in the final turn costs most to the side" in sentence
    assert "a turn-in 1 s late costs most along the deck" in sentence
    assert " ft to port" in sentence
    assert " yd further astern" in sentence
    assert dearest({}) == "No error could be tried."


def test_every_figure_of_the_costs_has_its_key(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Constructed."""
    costs = error_costs(solved(demo_facts)[0], demo_facts)
    keys = {figure.key for figure in figures_of(costs, "costs.")}
    assert "costs.turn_in_1_s_late.ahead" in keys
    assert len(keys) == 7 * len(costs) == 77


@pytest.mark.parametrize("gate", ["break", "downwind", "turn-in", "abeam", "ninety", "ramp"])
def test_the_planned_pass_costs_nothing_at_any_gate(demo_facts: CircuitFacts, solved: Solve, gate: str) -> None:
    """Round trip: the rest of the plan flown from the plan."""
    circuit, result = solved(demo_facts)
    time = result.gates[gate].time + result.initial_to_break
    records = circuit.flown.records
    state = [float(np.interp(time, records[:, 0], records[:, i])) for i in range(1, 9)]
    misses = fly_rest(
        time, (state[0], state[1], state[2], state[3], state[4], state[5], state[6], state[7]),
        legs_from(gate, circuit, demo_facts), circuit.setting, aim_of(gate, circuit, demo_facts),
    )  # fmt: skip
    assert misses is not None
    assert cost(misses) == pytest.approx(0.0, abs=0.02)


def test_a_turn_in_two_seconds_late_is_charged_to_the_stretch_that_ends_there(
    demo_facts: CircuitFacts, solved: Solve
) -> None:
    """Constructed: nothing before it, nothing after it; the sum is what the pass cost."""
    circuit, _ = solved(demo_facts)
    begun, state = circuit.flown.end("break")
    long = circuit.flown.end("downwind")[0] - begun + 2.0
    legs = [
        downwind_leg(demo_facts, Until(Guard.TIME, long, 1)),
        *final_legs(demo_facts, circuit.final_bank),
    ]
    flown = fly(begun, state, legs, circuit.setting)
    costs = {}
    for gate, leg in (("turn-in", "downwind"), ("ninety", "to ninety"), ("ramp", "to ramp")):
        misses = fly_rest(
            *flown.end(leg), legs_from(gate, circuit, demo_facts), circuit.setting, aim_of(gate, circuit, demo_facts)
        )
        assert misses is not None
        costs[gate] = cost(misses)
    parted = stretches(costs)
    late = Misses(ahead=-2.0 * 67.934, port=0.0, height=0.0, speed=0.0, bank=0.0)  # speed past the ship, of the plan
    assert parted["turn-in"] == pytest.approx(cost(late, USUAL), abs=0.02)
    assert parted["ninety"] == pytest.approx(0.0, abs=0.02)
    assert parted["ramp"] == pytest.approx(0.0, abs=0.02)
    assert sum(parted.values()) == costs["ramp"]
