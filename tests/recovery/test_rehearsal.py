"""Passes flown on purpose: where they begin and end, and that their errors are the ones asked for."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest

from roundown.errors import NoSolution
from roundown.motion.path import MadeBy, Path, Source
from roundown.recovery.circuit import Circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.rehearsal import AFTER, LEAD_IN, rehearse, ship_path
from roundown.recovery.result import CircuitResult

Floats = npt.NDArray[np.float64]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
DEG = math.pi / 180.0


def round_the_ship(path: Path, facts: CircuitFacts) -> tuple[Floats, Floats]:
    """Ahead of the ramp and to port along a path, with a ship that leaves east 0, north 0 at time zero."""
    sine, cosine = math.sin(facts.ship_course), math.cos(facts.ship_course)
    east = path.east.values - facts.ship_speed * path.time * sine
    north = path.north.values - facts.ship_speed * path.time * cosine
    return east * sine + north * cosine, north * sine - east * cosine


def test_a_perfect_pass_is_the_planned_circuit_with_some_flight_before_and_after(
    demo_facts: CircuitFacts, solved: Solve
) -> None:
    """Same places at the same instants as planned, within 0.1 m; 10 s before the initial, 3 s past the cut."""
    circuit, result = solved(demo_facts)
    path = rehearse(circuit, demo_facts)
    assert path.made_by is MadeBy.FLOWN
    assert path.time[0] == -LEAD_IN == -10.0
    cut = result.gates["cut"].time + result.initial_to_break
    assert path.time[-1] == pytest.approx(cut + AFTER, abs=0.02)
    for instant in np.linspace(0.0, cut - 0.05, 60):
        here, planned = path.at(float(instant)), result.path.at(float(instant))
        assert math.hypot(here["east"] - planned["east"], here["north"] - planned["north"]) < 0.1
        assert here["height"] == pytest.approx(planned["height"], abs=0.05)
        assert here["bank"] == pytest.approx(planned["bank"], abs=0.5 * DEG)


def test_the_lead_in_is_straight_and_level_to_the_initial(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Own arithmetic: 10 s at the closing speed up the ship before the initial's place."""
    circuit, result = solved(demo_facts)
    path = rehearse(circuit, demo_facts)
    ahead, port = round_the_ship(path, demo_facts)
    assert ahead[0] == pytest.approx(demo_facts.datum_ahead - 10.0 * result.closing_upwind, abs=0.1)
    assert port[0] == pytest.approx(-demo_facts.upwind_offset, abs=0.1)
    at_initial = int(np.searchsorted(path.time, 0.0))
    assert np.ptp(path.height.values[: at_initial + 1]) == 0.0
    assert np.abs(path.bank.values[: at_initial + 1]).max() == 0.0


def test_a_late_turn_in_ends_astern_and_comes_straight_in(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Against the figures of being late, which are flown without regaining the line: ramp passed within 0.1 s."""
    circuit, result = solved(demo_facts)
    path = rehearse(circuit, demo_facts, 4.0)
    ahead, port = round_the_ship(path, demo_facts)
    late = result.late["late_4_s"]
    assert late.straight_time is not None
    last = int(np.flatnonzero(ahead < 0.0)[-1])
    due = result.initial_to_break + result.break_to_ramp + 4.0 + late.straight_time
    assert path.time[last] == pytest.approx(due, abs=0.2)
    assert abs(port[last]) < 0.5


@pytest.mark.parametrize("error", [-1.0, 1.0])
def test_a_bank_error_is_held_and_mended_behind_the_ship(demo_facts: CircuitFacts, solved: Solve, error: float) -> None:
    """Constructed: the greatest bank is the planned one and the error; 6 s late leaves 13 s to regain the centre line,
    which is 50 yd off when the wings come level.
    """
    circuit, result = solved(demo_facts)
    path = rehearse(circuit, demo_facts, 6.0, error * DEG)
    turn_in = result.gates["turn-in"].time + result.initial_to_break + 6.0
    final = (path.time > turn_in) & (path.time < turn_in + 25.0)
    assert np.abs(path.bank.values[final]).max() == pytest.approx(result.final_bank + error * DEG, abs=1e-6)
    ahead, port = round_the_ship(path, demo_facts)
    last = int(np.flatnonzero(ahead < 0.0)[-1])
    assert abs(port[last]) < 20.0


@pytest.mark.parametrize(("late", "bank_error"), [(-60.0, 0.0), (0.0, 50.0), (0.0, -24.0)])
def test_a_pass_nobody_could_fly_is_refused(
    demo_facts: CircuitFacts, solved: Solve, late: float, bank_error: float
) -> None:
    """Limit cases: a turn-in before the roll-out, 75 degrees of bank, 1 degree of bank."""
    circuit, _ = solved(demo_facts)
    with pytest.raises(NoSolution):
        rehearse(circuit, demo_facts, late, math.radians(bank_error))


@pytest.mark.parametrize("late", [-6.0, -4.0, 6.0])
def test_a_pass_ends_soon_after_its_turn_or_the_ramp(demo_facts: CircuitFacts, solved: Solve, late: float) -> None:
    """Limit cases: a turn so early that it stays ahead of the ramp is not followed round the ocean."""
    circuit, _ = solved(demo_facts)
    path = rehearse(circuit, demo_facts, late)
    assert path.time[-1] < circuit.flown.record(-1)[0] + 30.0
    for name, channel in path.channels.items():
        assert np.all(np.isfinite(channel.values)), name


def test_the_ship_is_where_her_course_and_speed_take_her(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Own arithmetic: speed times time along her course, from where the ramp was at time zero; no bank, no airspeed."""
    circuit, _ = solved(demo_facts)
    ship = ship_path(circuit.setting, -10.0, 90.3)
    assert ship.time[0] == -10.0
    assert ship.time[-1] >= 90.3
    assert ship.east.values == pytest.approx(demo_facts.ship_speed * math.sin(demo_facts.ship_course) * ship.time)
    assert ship.north.values == pytest.approx(demo_facts.ship_speed * math.cos(demo_facts.ship_course) * ship.time)
    assert ship.heading.values == pytest.approx(demo_facts.ship_course)
    assert ship.ground_speed.values == pytest.approx(demo_facts.ship_speed)
    assert ship.bank.source is Source.ABSENT
    assert ship.airspeed.source is Source.ABSENT
