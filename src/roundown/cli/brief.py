"""`roundown brief`: cards, the brief page and the solution, written into a folder."""

from __future__ import annotations

import contextlib
import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from roundown.errors import RoundownError
from roundown.findings import Level

if TYPE_CHECKING:
    from roundown.cards.manifest import Earlier
    from roundown.plan.facts import Day
    from roundown.solution import Solution

LEAST_WIDTH, MOST_WIDTH = 300, 6000  # pixels


def brief(
    plan: Path,
    *,
    output: Annotated[Path, Parameter(name=["-o", "--output"], help="Folder to write into.")] = Path("brief"),
    width: Annotated[int, Parameter(help="Width of the PNG cards in pixels.")] = 1200,
    changed_from: Annotated[
        Path | None,
        Parameter(help="Folder of an earlier brief: only cards that say something else are written, marked."),
    ] = None,
) -> int:
    """Brief an air plan: circuit card and ship card (PDF and PNG), brief.html, solution.json.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    return write_brief(plan, output, width, changed_from)


def write_brief(plan: Path, output: Path, width: int, changed_from: Path | None = None) -> int:
    """Solve a plan and write its brief; returns the exit code. Raises RoundownError."""
    from roundown.plan.read import read_plan

    if not LEAST_WIDTH <= width <= MOST_WIDTH:
        raise RoundownError(
            f"--width = {width}: {LEAST_WIDTH} to {MOST_WIDTH} pixels are allowed. Choose another width."
        )
    before = None if changed_from is None else _earlier(changed_from)
    progress("reading the plan")
    day = read_plan(plan)
    progress("solving the circuit in today's wind")
    from roundown.cards.brief import brief as make_brief
    from roundown.cards.brief import cards_of
    from roundown.cards.manifest import FILE, manifest
    from roundown.day.solve import solve, solve_for_winds
    from roundown.exports.files import write_files
    from roundown.exports.solution_json import solution_bytes

    solution = solve(day)
    code = 1 if any(finding.level is Level.STOP for finding in solution.findings) else 0
    listed = {FILE: (json.dumps(manifest(cards_of(day, solution), day.hash), indent=1) + "\n").encode()}
    if before is not None:
        _write_changed(day, solution, before, listed, output, width)
        return code
    progress("solving it for other winds over the deck")
    dial = solve_for_winds(day)
    progress("drawing cards and page")
    files = {**make_brief(day, solution, dial, width, progress), "solution.json": solution_bytes(day, solution)}
    files |= listed
    stale = _stale(output, files)
    paths = write_files(output, files)
    for path in stale:
        path.unlink(missing_ok=True)
    print(f"{day.title}: {solution.verdict}")
    for finding in solution.findings[:3]:
        print(f"  {finding}")
    sheets = sum(path.suffix == ".pdf" for path in paths)
    print(f"Written to {output}: brief.html, solution.json, and {sheets} sheets of cards as PDF and as PNG.")
    print(f"Open {output / 'brief.html'} in a browser; print {output / 'circuit-card.pdf'} for the cockpit.")
    return code


def _earlier(folder: Path) -> Earlier:
    """The cards of an earlier brief. Raises RoundownError."""
    from roundown.cards.manifest import FILE, earlier

    file = folder / FILE
    try:
        return earlier(json.loads(file.read_text("utf-8")))
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is no list of cards of this version"
        raise RoundownError(
            f"--changed-from = {folder}: {file.name} cannot be read there: {reason}. "
            "Name the folder of an earlier brief, or brief without it."
        ) from error


def _stale(folder: Path, files: Mapping[str, bytes]) -> list[Path]:
    """Cards that an earlier brief left in a folder, by its own list, and this one does not make."""
    from roundown.cards.manifest import FILE, earlier

    try:
        named = earlier(json.loads((folder / FILE).read_text("utf-8"))).cards
    except (OSError, ValueError):
        return []
    return [
        path
        for name in named
        for pattern in (f"{name}.p[dn][fg]", f"{name}-page-*.p[dn][fg]")
        for path in folder.glob(pattern)
        if path.name not in files
    ]


def _write_changed(
    day: Day, solution: Solution, before: Earlier, listed: dict[str, bytes], output: Path, width: int
) -> None:
    """Write the cards that say something else than before, with that marked; say which are gone."""
    from roundown.cards.brief import cards_of, draw
    from roundown.cards.manifest import changed, gone
    from roundown.exports.files import write_files

    cards = cards_of(day, solution)
    new, old = changed(cards, before), gone(cards, before)
    print(f"{day.title}: {solution.verdict}")
    if new:
        progress("drawing the cards that changed")
        write_files(output, draw(new, width, progress) | listed)
        print(f"{len(new)} of {len(cards)} cards changed, written to {output}: {', '.join(new)}")
    else:
        print(f"No card changed; those of plan {before.plan} still hold, and nothing was written.")
    if old:
        print(f"No longer needed: {', '.join(old)}")


def progress(what: str) -> None:
    """Say what is being done, on the error stream, so that answers can be piped."""
    with contextlib.suppress(OSError):  # nobody listens: that is no reason not to go on
        print(f"... {what}", file=sys.stderr, flush=True)
