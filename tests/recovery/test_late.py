"""What late and early turn-ins cost, against closed forms and the planned path moved along the deck."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from roundown.motion.frames import wrap
from roundown.recovery.circuit import Circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.late import DELAYS, name_of
from roundown.recovery.result import CircuitResult

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s


def planned_final(circuit: Circuit, facts: CircuitFacts) -> list[tuple[float, float, float]]:
    """Ahead, to port, and heading along the planned final turn."""
    rows = np.vstack([circuit.flown.leg("to ninety"), circuit.flown.leg("to ramp")[1:]])
    course = facts.ship_course
    ahead = np.array([math.sin(course), math.cos(course)])
    left = np.array([-ahead[1], ahead[0]])
    out = []
    for row in rows:
        apart = row[1:3] - facts.ship_speed * row[0] * ahead
        out.append((float(apart @ ahead), float(apart @ left), float(row[5])))
    return out


def test_each_delay_has_its_own_key() -> None:
    """Constructed."""
    assert [name_of(delay) for delay in DELAYS] == [
        "early_6_s", "early_4_s", "early_2_s", "late_2_s", "late_4_s", "late_6_s",
    ]  # fmt: skip


@pytest.mark.parametrize("delay", [2.0, 4.0, 6.0])
def test_being_late_costs_the_delay_at_the_speed_down_the_ship_astern(
    sea_level: Make, solved: Solve, delay: float
) -> None:
    """Closed form, 30 kt over the deck, late by t: level (100 + 30 kt) t astern, straight for that at 90 - 30 kt."""
    _, result = solved(sea_level())
    late = result.late[name_of(delay)]
    assert late.delay == delay
    assert late.rolled_out_ahead == pytest.approx(-130.0 * KT * delay, abs=0.1)
    assert late.straight_time == pytest.approx(delay * 130.0 / 60.0, abs=0.01)
    assert late.off_centre == pytest.approx(0.0, abs=0.1)
    assert late.still_to_turn is None


@pytest.mark.parametrize("delay", [2.0, 4.0, 6.0])
def test_being_late_in_winds_by_height_costs_the_same_by_the_figures_shown(
    demo_facts: CircuitFacts, solved: Solve, delay: float
) -> None:
    """Closed form from the figures shown: closing speed down the ship times delay, over closing speed at the ramp."""
    _, result = solved(demo_facts)
    late = result.late[name_of(delay)]
    assert late.rolled_out_ahead == pytest.approx(-result.closing_downwind * delay, rel=2e-3)
    assert late.straight_time == pytest.approx(-late.rolled_out_ahead / result.closing_ramp, abs=0.01)


def test_being_early_rolls_out_as_far_ahead_as_being_late_does_astern(sea_level: Make, solved: Solve) -> None:
    """Symmetry: a steady downwind leg shifts the same turn either way."""
    _, result = solved(sea_level())
    for delay in (2.0, 4.0, 6.0):
        early, late = result.late[name_of(-delay)], result.late[name_of(delay)]
        assert early.rolled_out_ahead == pytest.approx(-late.rolled_out_ahead, abs=0.1)
        assert early.straight_time is None


@pytest.mark.parametrize("delay", [-2.0, -4.0])
def test_being_early_passes_the_ramp_where_the_planned_path_moved_ahead_does(
    sea_level: Make, solved: Solve, delay: float
) -> None:
    """Second method: the planned final turn moved ahead by closing speed times the time early; what is left of the turn
    and the distance off the centre line are read where its inward half passes the ramp. Within 0.3 deg and 1 m.
    """
    facts = sea_level()
    circuit, result = solved(facts)
    moved = [
        (ahead - result.closing_downwind * delay, port, heading)
        for ahead, port, heading in planned_final(circuit, facts)
    ]
    last = moved[-1][2]
    crossing = [i for i in range(len(moved) - 1) if moved[i][0] < 0.0 <= moved[i + 1][0]]
    (low, high) = moved[crossing[0]], moved[crossing[0] + 1]
    part = low[0] / (low[0] - high[0])
    early = result.late[name_of(delay)]
    assert early.still_to_turn == pytest.approx(abs(wrap(last - low[2] - part * (high[2] - low[2]))), abs=0.005)
    assert early.off_centre == pytest.approx(low[1] + part * (high[1] - low[1]), abs=1.0)


def test_a_turn_so_early_that_the_ramp_stays_behind_passes_no_ramp(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Second method: 6 s early the whole planned turn, moved ahead, lies ahead of the ramp; nothing is read there."""
    circuit, result = solved(demo_facts)
    ahead = [place[0] + 6.0 * result.closing_downwind for place in planned_final(circuit, demo_facts)]
    assert min(ahead) > 0.0
    early = result.late.get("early_6_s")
    assert early is not None
    assert early.still_to_turn is None
    assert early.off_centre is None


def test_a_turn_in_before_the_downwind_leg_begins_is_left_out(sea_level: Make, solved: Solve) -> None:
    """Constructed: the break so near that 3 s remain downwind; 4 and 6 s early would turn in before the roll-out."""
    _, far = solved(sea_level())
    spare = far.rollout_to_turn_in - 3.0
    _, near = solved(sea_level(break_ahead=1852.0 - spare * 130.0 * KT))
    assert near.rollout_to_turn_in == pytest.approx(3.0, abs=0.01)
    assert set(near.late) == {"early_2_s", "late_2_s", "late_4_s", "late_6_s"}
