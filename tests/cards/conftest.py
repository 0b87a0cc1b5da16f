"""Solved days for the cards: both built-in doctrines, three winds, and days that do not close."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import pytest

from roundown.day.solve import solve, solve_for_winds
from roundown.plan.facts import Day
from roundown.plan.read import read_plan
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved

PLAN = """format = 1
title = "{title}"
[place]
position = "37 20 S 012 10 W"
date = 1949-03-17
time = "16:30"
variation = "24 deg W"
[weather]
surface_wind = "{wind}"
[ship]
name = "{ship}"
base_course = "100"
base_speed = "12 kt"
[doctrine]
name = "{doctrine}"
[aeroplane]
type = "ottery"
{more}
"""
SHIPS = {"fast-carrier-1944": "corbel", "half-mile-1945": "lintel"}
WINDS = ("070/3 kt", "070/12 kt", "200/21 kt")
AWKWARD = "Fog <&> 'low' cloud"
# a break so near that the final turn would have to begin before it ends
NO_CIRCUIT = '[override]\n"circuit.break_place" = "0.1 nm ahead of bow"'
ESTIMATE = '[override]\n"circuit.break_bank" = { value = "28 deg", source = "estimated by the author" }'
RIGHT_HAND = '[override]\n"circuit.hand" = "right"\n"wind.off_bow" = "5 deg port"'


@dataclass(frozen=True, eq=False)
class Solved:
    """A day and what was found for it."""

    day: Day
    solution: Solution

    @cached_property
    def dial(self) -> dict[int, CircuitResult | Unsolved]:
        """Solved only where a test asks for it."""
        return solve_for_winds(self.day)


SolvedBy = Callable[..., Solved]


@pytest.fixture(scope="session")
def solved(tmp_path_factory: pytest.TempPathFactory) -> SolvedBy:
    """A day solved from a few words; the same words give the same one."""
    made: dict[tuple[str, str, str, str], Solved] = {}
    folder = tmp_path_factory.mktemp("plans")

    def by(
        doctrine: str = "fast-carrier-1944", wind: str = "070/12 kt", title: str = "Evening recovery", more: str = ""
    ) -> Solved:
        words = (doctrine, wind, title, more)
        if words not in made:
            file = Path(folder) / f"plan-{len(made)}.toml"
            text = PLAN.format(title=title, wind=wind, ship=SHIPS[doctrine], doctrine=doctrine, more=more)
            file.write_text(text, encoding="utf-8")
            day = read_plan(file)
            made[words] = Solved(day, solve(day))
        return made[words]

    return by
