"""`roundown brief`: cards, the brief page and the solution, written into a folder."""

from __future__ import annotations

import contextlib
import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from roundown.errors import RoundownError
from roundown.findings import Level

LEAST_WIDTH, MOST_WIDTH = 300, 6000  # pixels


def brief(
    plan: Path,
    *,
    output: Annotated[Path, Parameter(name=["-o", "--output"], help="Folder to write into.")] = Path("brief"),
    width: Annotated[int, Parameter(help="Width of the PNG cards in pixels.")] = 1200,
) -> int:
    """Brief an air plan: circuit card and ship card (PDF and PNG), brief.html, solution.json.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    return write_brief(plan, output, width)


def write_brief(plan: Path, output: Path, width: int) -> int:
    """Solve a plan and write its brief; returns the exit code. Raises RoundownError."""
    from roundown.plan.read import read_plan

    if not LEAST_WIDTH <= width <= MOST_WIDTH:
        raise RoundownError(
            f"--width = {width}: {LEAST_WIDTH} to {MOST_WIDTH} pixels are allowed. Choose another width."
        )
    progress("reading the plan")
    day = read_plan(plan)
    progress("solving the circuit in today's wind")
    from roundown.cards.brief import brief as make_brief
    from roundown.day.solve import solve, solve_for_winds
    from roundown.exports.files import write_files
    from roundown.exports.solution_json import solution_bytes

    solution = solve(day)
    progress("solving it for other winds over the deck")
    dial = solve_for_winds(day)
    progress("drawing cards and page")
    files = {**make_brief(day, solution, dial, width, progress), "solution.json": solution_bytes(day, solution)}
    paths = write_files(output, files)
    print(f"{day.title}: {solution.verdict}")
    for finding in solution.findings[:3]:
        print(f"  {finding}")
    print(f"Written to {output}: {', '.join(path.name for path in paths)}")
    print(f"Open {output / 'brief.html'} in a browser; print {output / 'circuit-card.pdf'} for the cockpit.")
    return 1 if any(finding.level is Level.STOP for finding in solution.findings) else 0


def progress(what: str) -> None:
    """Say what is being done, on the error stream, so that answers can be piped."""
    with contextlib.suppress(OSError):  # nobody listens: that is no reason not to go on
        print(f"... {what}", file=sys.stderr, flush=True)
