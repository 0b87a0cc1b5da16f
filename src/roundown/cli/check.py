"""`roundown check`: does the day work, and how did a figure come about?"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any

from cyclopts import Parameter

from roundown.errors import RoundownError
from roundown.findings import Level

SHOWN = 3  # findings shown without --all


def check(
    plan: Path,
    *,
    why: Annotated[str | None, Parameter(help="Say how a figure came about, by its key.")] = None,
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
    from roundown.day import solve
    from roundown.exports.solution_json import solution_data
    from roundown.plan.read import read_plan
    from roundown.quantities import write

    day = read_plan(plan)
    solution = solve(day)
    code = 1 if any(finding.level is Level.STOP for finding in solution.findings) else 0
    if as_json:
        print(json.dumps(solution_data(day, solution), indent=1, ensure_ascii=False))
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
    print(f"  {circuit_line(solution)}")
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


def circuit_line(solution: object) -> str:
    """The circuit in one line, or why there is none."""
    from roundown.solution import Solution, Unsolved

    assert isinstance(solution, Solution)
    if isinstance(solution.circuit, Unsolved):
        return f"No circuit: {solution.circuit.reason}"
    text = {key.removeprefix("circuit."): found.text for key, found in solution.figures.items()}
    return (
        f"Break {text['break_bank']} of bank for {text['break_to_rollout']}; downwind {text['abeam']} abeam; turn in "
        f"{text['rollout_to_turn_in']} after wings level, ramp {text['ramp_off_nose']} off the nose; "
        f"final {text['final_bank']} for {text['final_time']}."
    )


def explain(day: object, solution: object, key: str, *, metric: bool = False) -> str:
    """How a figure came about: its sentence, method, and every given behind it with place and source.

    Raises RoundownError with the nearest key when there is no such figure.
    """
    from roundown.catalog.load import nearest
    from roundown.figures import trace
    from roundown.plan.facts import Day
    from roundown.quantities import write
    from roundown.solution import Solution

    assert isinstance(day, Day)
    assert isinstance(solution, Solution)
    figures = solution.figures
    if key in day.givens:
        return _given_line(day, key)
    if key not in figures:
        near = nearest(key, figures) or nearest(key, [name.rsplit(".", 1)[-1] for name in figures])
        close = [name for name in figures if near and name.endswith(near)]
        hint = f"Did you mean {close[0]}?" if close else "See all keys with --figures."
        raise RoundownError(f"there is no figure {key}. {hint}")
    found = figures[key]
    value = "none" if found.value is None else write(found.value, found.how.kind, metric=metric)
    lines = [f"{key} = {value}", f"  what: {found.how.sentence}", f"  how: {found.how.method}"]
    rule = figures.get(f"{key}_by_rule")
    if rule is not None and rule.value is not None and found.value is not None:
        apart = write(found.value - rule.value, found.how.kind, metric=metric)
        lines.append(f"  by rule of thumb: {rule.text} ({rule.how.method}); solved less rule: {apart}")
    lines.append("  from:")
    solved = [name for name in found.how.inputs if name in figures]
    lines += [f"    {name} = {figures[name].text} (solved; --why {name})" for name in solved]
    lines += [f"    {_given_line(day, name)}" for name in trace(key, figures, day.givens)]
    return "\n".join(lines)


def _given_line(day: Any, name: str) -> str:
    """A given with its aim, where it is a range, its place and its source."""
    from roundown.quantities import write

    given = day.givens[name]
    ranged = given.kind is not None and given.band.low != given.band.high
    aim = f", aim {write(given.value, given.kind)}" if ranged else ""
    replaced = f", in place of {given.origin.overridden}" if given.origin.overridden else ""
    return f"{name} = {given.text}{aim} ({day.place_of(given)}: {given.origin.source}{replaced})"
