"""The paths of late and early turn-ins, against the figures of the same delays and the planned path moved astern."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from roundown.recovery.circuit import Circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.late import LatePath, late_paths
from roundown.recovery.result import CircuitResult

Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
Demo = tuple[CircuitResult, dict[str, LatePath]]


@pytest.fixture(scope="module")
def demo(demo_facts: CircuitFacts, solved: Solve) -> Demo:
    circuit, result = solved(demo_facts)
    return result, late_paths(circuit, demo_facts)


def test_there_is_a_path_for_each_delay_and_the_planned_one_among_them(demo: Demo) -> None:
    """Constructed."""
    delays = {name: path.delay for name, path in demo[1].items()}
    assert delays == {
        "early_6_s": -6.0, "early_4_s": -4.0, "early_2_s": -2.0, "on_time": 0.0,
        "late_2_s": 2.0, "late_4_s": 4.0, "late_6_s": 6.0,
    }  # fmt: skip


def test_the_straight_flight_of_a_path_lasts_as_long_as_its_figure_says(demo: Demo) -> None:
    """Second method: from straight_from to the end, over the ramp."""
    result, paths = demo
    for name in ("late_2_s", "late_4_s", "late_6_s"):
        path = paths[name]
        assert float(path.time[-1]) - path.straight_from == pytest.approx(result.late[name].straight_time, abs=1e-6)
        assert path.ahead[-1] == pytest.approx(0.0, abs=1e-6)
        straight = path.time >= path.straight_from + 1e-9
        assert np.all(path.bank[straight] == 0.0)
        assert np.ptp(path.heading[straight]) < 1e-9


def test_the_planned_path_has_no_straight_flight_and_the_early_ones_pass_the_ramp_turning(demo: Demo) -> None:
    """Constructed."""
    _, paths = demo
    assert paths["on_time"].straight_from == pytest.approx(float(paths["on_time"].time[-1]))
    assert math.hypot(paths["on_time"].ahead[-1], paths["on_time"].port[-1]) < 0.05
    for name in ("early_6_s", "early_4_s", "early_2_s"):
        assert math.isnan(paths[name].straight_from)
        assert paths[name].ahead[-1] > 0.0


def test_a_late_path_is_the_planned_one_flown_that_much_later_and_further_astern(demo: Demo) -> None:
    """Second method: the steady downwind leg moves the same turn astern by the speed past the ship. Within half a
    metre: the leg has settled to its height a second before.
    """
    result, paths = demo
    on_time, late = paths["on_time"], paths["late_4_s"]
    for since in (0.0, 8.0, 16.0, 24.0, 32.0):
        there = [float(np.interp(on_time.turn_in + since, on_time.time, c)) for c in (on_time.ahead, on_time.port)]
        moved = [float(np.interp(late.turn_in + since, late.time, c)) for c in (late.ahead, late.port)]
        assert moved[0] == pytest.approx(there[0] - 4.0 * result.closing_downwind, abs=0.5)
        assert moved[1] == pytest.approx(there[1], abs=0.5)
    assert late.turn_in == pytest.approx(on_time.turn_in + 4.0, abs=1e-9)
    assert on_time.turn_in == pytest.approx(result.gates["turn-in"].time, abs=1e-6)


def test_the_columns_of_a_path_cannot_be_written_over(demo: Demo) -> None:
    """Constructed."""
    path = demo[1]["late_2_s"]
    for column in (path.time, path.ahead, path.port, path.height, path.heading, path.bank, path.speed):
        assert not column.flags.writeable
        assert column.shape == path.time.shape
