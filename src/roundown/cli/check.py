"""`roundown check`: does the day work, and how did a figure come about?"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from roundown.errors import RoundownError
from roundown.findings import Level

SHOWN = 3  # findings shown without --all


def check(
    plan: Path,
    *,
    why: Annotated[str | None, Parameter(help="Say how a figure came about, by its key.")] = None,
    part: Annotated[str | None, Parameter(help="Another carrier and type that fly, as in lintel.sallow.")] = None,
    figures: Annotated[bool, Parameter(help="Show every figure with its key.", negative="")] = False,
    metric: Annotated[bool, Parameter(help="Show metric units.", negative="")] = False,
    all_findings: Annotated[
        bool, Parameter(name="--all", help="Show all findings, not the worst three.", negative="")
    ] = False,
    as_json: Annotated[bool, Parameter(name="--json", help="Answer in JSON.", negative="")] = False,
) -> int:
    """Check an air plan: one verdict line, then the worst findings.

    Ends with 0 when the day works, 1 when a finding stops it, 2 when the plan cannot be read.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    from roundown.cards.marks import is_estimated
    from roundown.cards.sentences import circuit_sentence, event_sentence
    from roundown.cli.why import explain
    from roundown.day.solve import solve
    from roundown.exports.solution_json import solution_data
    from roundown.plan.read import read_plan
    from roundown.quantities import write

    day = read_plan(plan)
    solution = solve(day)
    if part is not None:
        if part not in day.parts:
            known = ", ".join(day.parts) or "none beside the main one"
            raise RoundownError(f"--part = {part}: no such carrier and type fly. There are {known}.")
        day, solution = day.parts[part], solution.parts[part]
    code = 1 if any(finding.level is Level.STOP for finding in solution.findings) else 0
    if as_json:
        said = (
            solution_data(day, solution)
            if why is None
            else {"key": why, "why": explain(day, solution, why, metric=metric)}
        )
        print(json.dumps(said, indent=1, ensure_ascii=False))
        return code
    if why is not None:
        print(explain(day, solution, why, metric=metric))
        return code
    print(f"{day.title}: {solution.verdict}")
    shown = solution.findings if all_findings else solution.findings[:SHOWN]
    for finding in shown:
        print(f"  {finding}")
    left = len(solution.findings) - len(shown)
    if left:
        print(f"  and {left} more: roundown check {plan} --all")
    if solution.flight.attained:
        print(f"  {solution.flight.explanation}")
    print(f"  {circuit_sentence(solution)}")
    for name, times in solution.events.items():
        print(f"  {event_sentence(name, times)}")
    if solution.unsolved:
        print(f"  Not worked out by this version: {', '.join(solution.unsolved)}.")
    if is_estimated(day, day.givens):
        print("  Some of what these figures rest on is estimated in the plan; put in what you know.")
    if figures:
        for key, found in solution.figures.items():
            text = "none" if found.value is None else write(found.value, found.how.kind, metric=metric)
            print(f"  {key:44} {text}")
    else:
        print(f"  Cards and pictures: roundown brief {_quoted(plan)} -o brief")
    return code


def _quoted(plan: Path) -> str:
    """A path as it can be typed again."""
    return f'"{plan}"' if " " in str(plan) else str(plan)
