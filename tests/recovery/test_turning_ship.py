"""A ship that turns during the recovery, against arcs worked in the test and a scan of banks."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest

from roundown.figures import figures_of
from roundown.motion.equations.kernel import in_ship_frame
from roundown.motion.manoeuvre import Guard, HoldSpeed, Leg, Level, RegainLine, Until, fly
from roundown.recovery.circuit import Circuit, final_legs
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult
from roundown.recovery.turning_ship import OFF_CENTRE, TurningShip, turning_ship

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
DEG = math.pi / 180.0
G = 9.80665  # m/s2
CIRCLE = 700.0  # m, radius of the ship's turn
SHIP = 19.0 * KT
SPEED = 90.0 * KT
WIND = 11.0 * KT  # from ahead: 30 kt over the deck
EVEN = {"downwind_speed": SPEED, "ninety_speed": SPEED, "ramp_speed": SPEED, "break_bank": 25.0 * DEG}
AT_ONCE = {"roll_rate": 100.0}
"""Rolls at once and one speed from the break on: the final turn is arcs of circles in the air."""


@pytest.fixture(scope="module")
def arcs(sea_level: Make, solved: Solve) -> tuple[CircuitFacts, Circuit, TurningShip]:
    facts = sea_level(aeroplane=AT_ONCE, **EVEN)
    circuit, _ = solved(facts)
    return facts, circuit, turning_ship(circuit, facts, CIRCLE)


@pytest.mark.parametrize("before", [10.0, 20.0, 30.0])
@pytest.mark.parametrize(("side", "way"), [("port", -1.0), ("starboard", 1.0)])
def test_the_planned_pass_ends_where_the_ramp_would_have_been(
    arcs: tuple[CircuitFacts, Circuit, TurningShip], side: str, way: float, before: float
) -> None:
    """Closed form: heading north, the ramp would have run v t; on her circle it runs r sin a north and r (1 - cos a) to
    the side; the difference turned into her frame.
    """
    angle = way * SHIP * before / CIRCLE
    east, north = -way * CIRCLE * (1.0 - math.cos(angle)), SHIP * before - CIRCLE * math.sin(abs(angle))
    turn = arcs[2].turns[f"{side}_{before:.0f}_s"]
    assert turn.ahead == pytest.approx(east * math.sin(angle) + north * math.cos(angle), abs=0.06)
    assert turn.port == pytest.approx(north * math.sin(angle) - east * math.cos(angle), abs=0.06)


def test_seen_from_the_deck_he_comes_off_her_course_by_more_than_she_has_turned(
    arcs: tuple[CircuitFacts, Circuit, TurningShip],
) -> None:
    """Own arithmetic: 20 s to starboard; he tracks north at 90 - 11 kt, she 19 kt on her new course; the difference is
    turned into her frame. To port of her course is negative.
    """
    angle = SHIP * 20.0 / CIRCLE
    ahead = (SPEED - WIND) * math.cos(angle) - SHIP
    to_starboard = -(SPEED - WIND) * math.sin(angle)
    turn = arcs[2].turns["starboard_20_s"]
    assert turn.off_course == pytest.approx(math.atan2(to_starboard, ahead), abs=1e-4)
    assert abs(turn.off_course) > angle


def flown_in_arcs(
    begins: float, circuit: Circuit, first: float, second: float, way: float, circle: float = CIRCLE
) -> tuple[float, float, float, float]:
    """What is left of a left turn in two halves from an instant before the ramp, flown as two arcs of circles.

    Own kinematics in the air, the wind and the ship's arc added; the last heading is the ship's, less the crab.
    Returns ahead, to port [m] of her ramp, the time since [s], and the heading left to the deck's own track [rad].
    """
    end_time, end = circuit.flown.end("to ramp")
    radius = SPEED**2 / (G * math.tan(circuit.final_bank))
    back = (end_time - begins) * SPEED / radius  # turned meanwhile, to the left
    # of the planned end: the air's frame, north and east
    heading = back  # to the right of north; a left circle lies to port
    east, north = radius * (math.cos(back) - 1.0), -radius * math.sin(back)
    last, settled = 0.0, False
    for _ in range(20):  # the time decides the ship's course, and that the last heading
        turn = heading - last
        place, going, time = np.array([east, north]), heading, 0.0
        for bank in (first, second):
            bend = SPEED**2 / (G * math.tan(bank))
            after = going - 0.5 * turn
            place = place + bend * np.array([math.cos(after) - math.cos(going), math.sin(going) - math.sin(after)])
            time += 0.5 * turn * bend / SPEED
            going = after
        course = way * SHIP * time / circle
        crab = math.asin(WIND * math.sin(course) / SPEED)  # the wind goes south: to her starboard once she turned there
        settled, last = abs(course - crab - last) < 1e-5, course - crab
    assert end[2] == pytest.approx(0.0, abs=1e-6)
    # the air has gone south; the ramp was SHIP * (end_time - begins) south of the planned end, its arc since
    over = end_time - begins
    aeroplane = place + np.array([0.0, WIND * over]) - np.array([0.0, WIND * time])
    angle = way * SHIP * time / circle
    ramp = np.array([way * circle * (1.0 - math.cos(angle)), circle * math.sin(abs(angle)) - SHIP * over])
    apart = aeroplane - ramp
    ahead = apart[0] * math.sin(angle) + apart[1] * math.cos(angle)
    port = apart[1] * math.sin(angle) - apart[0] * math.cos(angle)
    if not settled or heading <= last:  # she turns as fast as he does
        return math.nan, math.nan, time, last
    return float(ahead), float(port), time, last


@pytest.mark.parametrize("key", ["port_20_s", "port_30_s", "starboard_10_s", "starboard_20_s", "starboard_30_s"])
def test_the_two_banks_bring_two_arcs_on_to_the_ramp_of_the_turning_ship(
    arcs: tuple[CircuitFacts, Circuit, TurningShip], key: str
) -> None:
    """Second method: arcs of circles worked in the test end within a metre of the ramp, when the figure says."""
    _, circuit, result = arcs
    turn = result.turns[key]
    side, before, _ = key.split("_")
    assert turn.first_bank is not None
    assert turn.second_bank is not None
    begins = circuit.flown.end("to ramp")[0] - float(before)
    way = -1.0 if side == "port" else 1.0
    ahead, port, time, _ = flown_in_arcs(begins, circuit, turn.first_bank, turn.second_bank, way)
    assert math.hypot(ahead, port) < 1.0
    assert turn.later == pytest.approx(time - float(before), abs=0.02)
    assert turn.bank == max(turn.first_bank, turn.second_bank)
    assert turn.regains == (turn.bank <= 35.0 * DEG + 0.05 * DEG)


@pytest.mark.parametrize("circle", [CIRCLE, 350.0])
def test_a_scan_of_banks_finds_the_same_turns_and_the_same_that_cannot_be_flown(
    arcs: tuple[CircuitFacts, Circuit, TurningShip], circle: float
) -> None:
    """Second method, brute force by arcs of circles: for every first bank the second is read where the end lies on her
    centre line, and the pair where it lies over the ramp. The steeper within half a degree; where it is beyond 35, or
    no pair is found, the line is not regained.
    """
    facts, circuit, _ = arcs
    result = turning_ship(circuit, facts, circle)
    banks = np.arange(8.0, 56.0, 1.0) * DEG
    found = {}
    for key in result.turns:
        side, before, _ = key.split("_")
        begins = circuit.flown.end("to ramp")[0] - float(before)
        way = -1.0 if side == "port" else 1.0
        pairs = []
        for first in np.arange(14.0, 40.0, 0.5) * DEG:
            ends = [flown_in_arcs(begins, circuit, float(first), float(bank), way, circle) for bank in banks]
            ports = np.array([end[1] for end in ends])
            for k in np.flatnonzero(ports[:-1] * ports[1:] < 0.0):
                part = ports[k] / (ports[k] - ports[k + 1])
                pairs.append((ends[k][0] + part * (ends[k + 1][0] - ends[k][0]), float(first), banks[k] + part * DEG))
        over = [
            max(
                one[1] + (other[1] - one[1]) * one[0] / (one[0] - other[0]),
                one[2] + (other[2] - one[2]) * one[0] / (one[0] - other[0]),
            )
            for one, other in itertools.pairwise(pairs)
            if one[0] * other[0] < 0.0 and abs(one[2] - other[2]) < 10.0 * DEG
        ]
        found[key] = min(over, default=math.inf)
    for key, turn in result.turns.items():
        if turn.bank is not None:
            assert turn.bank == pytest.approx(found[key], abs=0.5 * DEG), key
        assert turn.regains == (found[key] <= 35.0 * DEG), key
    assert not all(turn.regains for turn in result.turns.values()) or circle == CIRCLE


def test_a_ship_that_hardly_turns_leaves_the_planned_bank(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Limit case: a circle of 10,000 km."""
    circuit, _ = solved(demo_facts)
    for turn in turning_ship(circuit, demo_facts, 1e7).turns.values():
        assert turn.first_bank == pytest.approx(circuit.final_bank, abs=0.01 * DEG)
        assert turn.second_bank == pytest.approx(circuit.final_bank, abs=0.01 * DEG)
        assert turn.later == pytest.approx(0.0, abs=0.01)
        assert turn.regains
        assert math.hypot(turn.ahead, turn.port) < 0.06


def test_a_right_hand_circuit_mirrors_the_sides(sea_level: Make, solved: Solve) -> None:
    """Symmetry: her turn to port is to a left-hand circuit what her turn to starboard is to a right-hand one."""
    left, right = sea_level(), sea_level(hand=1)
    one, other = (turning_ship(solved(facts)[0], facts, CIRCLE) for facts in (left, right))
    for before in ("10", "20", "30"):
        mirrored = other.turns[f"starboard_{before}_s"]
        turn = one.turns[f"port_{before}_s"]
        assert mirrored.port == pytest.approx(-turn.port, abs=0.01)
        assert mirrored.off_course == pytest.approx(-turn.off_course, abs=1e-4)
        assert mirrored.bank == (None if turn.bank is None else pytest.approx(turn.bank, abs=0.02 * DEG))
    assert one.may_begin == pytest.approx(other.may_begin, abs=1e-3)


def test_she_may_begin_to_turn_only_when_her_arc_moves_the_ramp_by_no_more_than_is_allowed(
    arcs: tuple[CircuitFacts, Circuit, TurningShip],
) -> None:
    """Closed form: the chord of the difference, about half of v^2 t^2 / r, is 10 ft; more terms are a hundredth."""
    assert arcs[2].may_begin == pytest.approx(math.sqrt(2.0 * OFF_CENTRE * CIRCLE) / SHIP, rel=0.01)


def test_she_must_be_steady_at_the_turn_in_but_for_the_fraction_of_a_second_that_does_no_harm(
    arcs: tuple[CircuitFacts, Circuit, TurningShip],
) -> None:
    """Second method: his place beside her swings with her heading; the place after t s of turning left to do, and her
    arc in small steps. The longest t for 10 ft, the worse side.
    """
    _, circuit, result = arcs

    def missed(left: float, way: float) -> float:
        angle = way * SHIP * left / CIRCLE
        heading, east, north = -angle, 0.0, 0.0
        for _ in range(1000):  # the ship's arc to the flight course, north
            heading += angle / 2000.0
            east += SHIP * left / 1000.0 * math.sin(heading)
            north += SHIP * left / 1000.0 * math.cos(heading)
            heading += angle / 2000.0
        ahead, port = circuit.turn_in_ahead, circuit.turn_in_port
        bow = np.array([math.sin(-angle), math.cos(-angle)])
        place = ahead * bow + port * np.array([-bow[1], bow[0]])
        apart = place - np.array([-port, ahead]) - np.array([east, north - SHIP * left])
        return float(np.hypot(*apart))

    left = result_left = circuit.flown.end("to ramp")[0] - circuit.flown.end("downwind")[0] - result.steady_before
    assert max(missed(left, way) for way in (-1.0, 1.0)) == pytest.approx(OFF_CENTRE, rel=1e-3)
    assert result.steady_before_turn_in == pytest.approx(-result_left)
    assert 0.0 < left < 1.0


def test_a_ship_that_lies_stopped_does_not_turn(sea_level: Make, solved: Solve) -> None:
    """Limit case: practice round a stopped ship."""
    facts = sea_level(ship_speed=0.0)
    result = turning_ship(solved(facts)[0], facts, CIRCLE)
    assert result.steady_before == 0.0
    assert all(abs(turn.port) < 0.06 and turn.regains for turn in result.turns.values())


def test_a_law_that_steers_by_the_distance_from_the_line_has_not_settled_at_the_ramp(
    demo_facts: CircuitFacts, solved: Solve
) -> None:
    """Second method: the reason for two halves. Ten seconds before the ramp of a steady ship the planned turn is on its
    way; regaining the line from there by its distance passes the ramp more than 10 ft off.
    """
    circuit, _ = solved(demo_facts)
    begun, state = circuit.flown.end("to ninety")
    leg = final_legs(demo_facts, circuit.final_bank)[1]
    long = circuit.flown.end("to ramp")[0] - 10.0 - begun
    there = fly(
        begun, state, [Leg("on", leg.lateral, leg.speed, leg.height, Until(Guard.TIME, long, 1), 60.0, 1.0, 1.0)],
        circuit.setting,
    ).record(-1)  # fmt: skip
    regain = Leg(
        "regain", RegainLine(0.0, 35.0 * DEG), HoldSpeed(), Level(), Until(Guard.SHIP_AHEAD, 0.0, 1), 200.0, 1.0, 1.0
    )
    time, over = fly(*there, [regain], circuit.setting).record(-1)
    assert abs(in_ship_frame(time, over[0], over[1], circuit.setting.ship.rows)[1]) > OFF_CENTRE


def test_every_figure_of_a_turning_ship_has_its_key(arcs: tuple[CircuitFacts, Circuit, TurningShip]) -> None:
    """Constructed."""
    keys = {figure.key for figure in figures_of(arcs[2], "turning.")}
    assert {"turning.turns.port_10_s.port", "turning.may_begin", "turning.steady_before"} <= keys
