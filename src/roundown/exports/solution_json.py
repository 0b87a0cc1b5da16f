"""The Solution as JSON: findings, every figure with unit and text, the circuit's path."""

from __future__ import annotations

import json
from typing import Any

from roundown import __version__
from roundown.figures import Tracer
from roundown.findings import Finding
from roundown.plan.facts import Day
from roundown.quantities import DEGREE, FOOT, plain
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution

PATH_STEP = 1.0  # s, between the path's instants in the file


def solution_data(day: Day, solution: Solution) -> dict[str, Any]:
    """Plain data of a solved day. Numbers are in the unit named beside them; sources are those of the givens behind.

    Times count from 00:00 of the plan's date by the ship's clock; start is the datum in universal time. parts holds the
    figures and the path of every other carrier and type that fly.
    """
    return {
        "roundown": __version__,
        "plan": day.title,
        "hash": day.hash,
        "start": day.start.isoformat(),
        "zone": day.word("place.zone"),
        "verdict": solution.verdict,
        "findings": [finding_data(finding) for finding in solution.findings],
        "figures": figures_data(day, solution),
        "given": {
            key: {"text": given.text, "place": day.place_of(given), "source": given.origin.source}
            for key, given in day.givens.items()
        },
        "path": path_data(solution.circuit) if isinstance(solution.circuit, CircuitResult) else None,
        "parts": {
            name: {
                "figures": figures_data(day.parts[name], theirs),
                "path": path_data(theirs.circuit) if isinstance(theirs.circuit, CircuitResult) else None,
            }
            for name, theirs in solution.parts.items()
        },
    }


def figures_data(day: Day, solution: Solution) -> dict[str, Any]:
    """Every figure by key: value and unit, the text shown, what it means, its method and the givens behind it."""
    figures = {}
    tracer = Tracer(solution.figures, day.givens)
    for key, found in solution.figures.items():
        behind = {} if found.value is None else tracer.behind(key)
        figures[key] = {
            "value": None if found.value is None else plain(found.value, found.how.kind, 6),
            "unit": found.how.kind.unit,
            "text": found.text,
            "means": found.how.sentence,
            "method": found.how.method,
            "given": sorted(behind),
        }
    return figures


def finding_data(finding: Finding) -> dict[str, str]:
    """A finding as plain data."""
    return {
        "id": finding.id,
        "level": finding.level.word,
        "key": finding.key,
        "value": finding.value,
        "limit": finding.limit,
        "remedy": finding.remedy,
    }


def path_data(circuit: CircuitResult) -> dict[str, Any]:
    """The circuit's path each second, in the unit of the name's ending; east and north of the ramp at the initial."""
    path = circuit.path
    start = float(path.time[0]) + circuit.initial_to_break
    instants = [float(path.time[0]) + PATH_STEP * i for i in range(int((path.time[-1] - path.time[0]) / PATH_STEP) + 1)]
    rows = [path.at(instant) for instant in instants]
    return {
        "time_from_break_s": [round(instant - start, 3) for instant in instants],
        "east_m": [round(row["east"], 2) for row in rows],
        "north_m": [round(row["north"], 2) for row in rows],
        "height_ft": [round(row["height"] / FOOT, 1) for row in rows],
        "heading_true_deg": [round(row["heading"] / DEGREE % 360.0, 2) % 360.0 for row in rows],
        "bank_deg": [round(row["bank"] / DEGREE, 2) for row in rows],
    }


def solution_bytes(day: Day, solution: Solution) -> bytes:
    """solution.json as written."""
    return (json.dumps(solution_data(day, solution), indent=1, ensure_ascii=False) + "\n").encode()
