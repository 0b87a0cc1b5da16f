"""solution.json: every figure with number, unit and words, every given with its place and source, the path."""

from __future__ import annotations

import json
import math
from importlib import resources
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from roundown import __version__
from roundown.day.solve import solve
from roundown.exports.solution_json import PATH_STEP, solution_bytes, solution_data
from roundown.figures import trace
from roundown.plan.facts import Day
from roundown.plan.read import read_plan
from roundown.quantities import plain
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> Day:
    file = tmp_path_factory.mktemp("plan") / "demo.toml"
    file.write_bytes(resources.files("roundown.plan").joinpath("demo.toml").read_bytes())
    return read_plan(file)


@pytest.fixture(scope="module")
def solution(day: Day) -> Solution:
    return solve(day)


@pytest.fixture(scope="module")
def data(day: Day, solution: Solution) -> dict[str, Any]:
    return solution_data(day, solution)


def test_the_file_is_json_that_any_reader_takes(day: Day, solution: Solution, data: dict[str, Any]) -> None:
    """Strict JSON: no NaN and no infinity, which many readers refuse."""

    def refuse(name: str) -> None:
        raise AssertionError(name)

    raw = solution_bytes(day, solution)
    assert json.loads(raw, parse_constant=refuse) == json.loads(json.dumps(data))
    assert raw.endswith(b"}\n")


def test_the_head_says_what_was_solved_with_what(day: Day, solution: Solution, data: dict[str, Any]) -> None:
    assert set(data) == {
        "roundown",
        "plan",
        "hash",
        "start",
        "zone",
        "verdict",
        "findings",
        "figures",
        "given",
        "path",
        "parts",
    }
    assert data["roundown"] == __version__
    assert data["plan"] == day.title
    assert data["hash"] == day.hash
    assert data["start"] == "1949-03-17T16:00:00+00:00"
    assert data["verdict"] == solution.verdict


def test_every_figure_is_there_with_number_unit_and_words(solution: Solution, data: dict[str, Any]) -> None:
    assert list(data["figures"]) == list(solution.figures)
    for key, found in solution.figures.items():
        row = data["figures"][key]
        assert set(row) == {"value", "unit", "text", "means", "method", "given"}
        assert row["unit"] == found.how.kind.unit
        assert row["text"] == found.text
        assert row["means"]
        assert row["method"]
        if found.value is None:
            assert row["value"] is None
        else:
            assert row["value"] == pytest.approx(plain(found.value, found.how.kind), abs=1e-6)


def test_directions_stay_below_360(data: dict[str, Any]) -> None:
    for key, row in data["figures"].items():
        if key.endswith(("heading", "course", "reciprocal", "wind_from", "bearing")) and not key.endswith("off_course"):
            assert 0.0 <= row["value"] < 360.0, key
    assert all(0.0 <= heading < 360.0 for heading in data["path"]["heading_true_deg"])


def test_a_heading_a_hair_west_of_north_is_nought(tmp_path: Path) -> None:
    """In a wind from 180 the downwind heading came out as 360.0 with "000" beside it."""
    text = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
    start, end = text.index("winds = ["), text.index("temperature =")
    file = tmp_path / "south.toml"
    file.write_text((text[:start] + text[end:]).replace("140/11 kt", "180/12 kt"))
    day = read_plan(file)
    data = solution_data(day, solve(day))
    assert data["figures"]["circuit.downwind_heading"]["value"] == pytest.approx(0.0, abs=1e-6)
    assert data["figures"]["circuit.downwind_heading"]["text"] == "000"
    assert max(data["path"]["heading_true_deg"]) < 360.0


def test_every_figure_rests_on_givens_that_are_in_the_file(day: Day, solution: Solution, data: dict[str, Any]) -> None:
    for key, row in data["figures"].items():
        assert set(row["given"]) <= set(data["given"]), key
        if row["value"] is not None:
            assert row["given"] == sorted(trace(key, solution.figures, day.givens))


def test_every_given_has_its_words_its_place_and_its_source(day: Day, data: dict[str, Any]) -> None:
    assert set(data["given"]) == set(day.givens)
    for key, row in data["given"].items():
        assert set(row) == {"text", "place", "source"}
        assert all(row.values()), key


def test_findings_are_words_only(solution: Solution, data: dict[str, Any]) -> None:
    assert len(data["findings"]) == len(solution.findings)
    for row in data["findings"]:
        assert set(row) == {"id", "level", "key", "value", "limit", "remedy"}
        assert row["level"] in ("stop", "caution", "note")


def test_the_path_is_the_circuit_second_by_second(solution: Solution, data: dict[str, Any]) -> None:
    """Second method: places along the path are as far apart as its own speed over the ground says."""
    path = data["path"]
    assert set(path) == {"time_from_break_s", "east_m", "north_m", "height_ft", "heading_true_deg", "bank_deg"}
    count = len(path["time_from_break_s"])
    assert {len(column) for column in path.values()} == {count}
    times = path["time_from_break_s"]
    assert all(second - first == pytest.approx(PATH_STEP) for first, second in pairwise(times))
    circuit = solution.circuit
    assert isinstance(circuit, CircuitResult)
    assert times[0] == pytest.approx(-circuit.initial_to_break, abs=1e-3)
    assert times[-1] == pytest.approx(circuit.break_to_ramp, abs=PATH_STEP)
    assert path["height_ft"][0] == pytest.approx(300.0, abs=0.5)
    for i in range(count - 1):
        step = math.hypot(path["east_m"][i + 1] - path["east_m"][i], path["north_m"][i + 1] - path["north_m"][i])
        assert 25.0 < step < 85.0  # 50 to 165 kt over the ground


def test_a_day_without_a_circuit_has_no_path_and_says_so(tmp_path: Path) -> None:
    text = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
    file = tmp_path / "none.toml"
    file.write_text(text + NO_CIRCUIT)
    day = read_plan(file)
    solution = solve(day)
    assert isinstance(solution.circuit, Unsolved)
    data = solution_data(day, solution)
    assert data["path"] is None
    assert not any(key.startswith("circuit.") for key in data["figures"])
    assert data["figures"]["cockpit.downwind"] == {
        **data["figures"]["cockpit.downwind"], "value": None, "text": "none", "given": [],
    }  # fmt: skip
    assert any(row["level"] == "stop" for row in data["findings"])


NO_CIRCUIT = """
[override.circuit]
upwind_offset = "2000 yd"
greatest_bank = "10 deg"
"""
