"""`roundown diff`: what changed in the solved day."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

if TYPE_CHECKING:
    from roundown.day.changes import Change, Changes

SHOWN = 14  # changes told without --all


def diff(
    plan_a: Path,
    plan_b: Path,
    *,
    all_changes: Annotated[
        bool, Parameter(name="--all", help="Tell every change, not the most important ones.", negative="")
    ] = False,
    as_json: Annotated[bool, Parameter(name="--json", help="Answer in JSON.", negative="")] = False,
) -> int:
    """What plan B makes of the day that plan A did not: verdict, findings, figures, who flies what.

    Ends with 0 when nothing changed, 1 when something did, 2 when a plan cannot be read.

    Parameters
    ----------
    plan_a
        The plan as it was.
    plan_b
        The plan as it is.

    """
    from roundown.day.changes import changes
    from roundown.day.memory import Memory
    from roundown.day.solve import solve
    from roundown.plan.read import read_plan

    memory = Memory()
    before, after = read_plan(plan_a), read_plan(plan_b)
    found = changes((before, solve(before, memory)), (after, solve(after, memory)))
    if as_json:
        print(json.dumps(_data(found), indent=1, ensure_ascii=False))
    else:
        _tell(found, before.hash != after.hash, everything=all_changes)
    return 1 if found else 0


def _data(found: Changes) -> dict[str, object]:
    from roundown.exports.solution_json import finding_data

    return {
        "verdict": list(found.verdict),
        "findings_gone": [finding_data(finding) for finding in found.gone],
        "findings_new": [finding_data(finding) for finding in found.new],
        "figures": [asdict(change) for change in found.figures],
        "people": [asdict(change) for change in found.people],
    }


def _tell(found: Changes, other_text: bool, *, everything: bool) -> None:  # noqa: FBT001
    if not found:
        print("Nothing changed in the solved day" + (", only the text of the plan." if other_text else "."))
        return
    one, other = found.verdict
    print(other if one == other else f"Was: {one}\nIs:  {other}")
    for word, findings in (("gone", found.gone), ("new", found.new)):
        for finding in findings:
            print(f"  {word}: {finding}")
    rows = [*(_line(change) for change in found.people), *(_line(change) for change in found.figures)]
    shown = rows if everything else rows[:SHOWN]
    for row in shown:
        print(f"  {row}")
    if len(rows) > len(shown):
        print(f"  and {len(rows) - len(shown)} more: --all")


def _line(change: Change) -> str:
    apart = f" ({change.apart})" if change.apart else ""
    return f"{change.key}: {change.before or 'none'} -> {change.after or 'none'}{apart}, {change.means}"
