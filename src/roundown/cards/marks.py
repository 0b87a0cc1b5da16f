"""Marks on a card whose figures are not to be taken as they stand."""

from __future__ import annotations

from collections.abc import Iterable

from roundown.figures import Tracer
from roundown.findings import Level
from roundown.plan.facts import Day
from roundown.solution import Solution

STOP = "A stop stands against this plan: read the brief before you fly it."
CAUTIONS = "Cautions stand against this plan: read the brief."
ESTIMATED = "Estimated: some of what these figures rest on is an estimate."


def marks_of(day: Day, solution: Solution, keys: Iterable[str]) -> tuple[str, ...]:
    """The marks of a card that shows the figures with these keys; keys that are not there do not count."""
    levels = {finding.level for finding in solution.findings}
    marks = [STOP] if Level.STOP in levels else [CAUTIONS] if Level.CAUTION in levels else []
    tracer = Tracer(solution.figures, day.givens)
    shown = (key for key in keys if key in tracer.figures)
    if is_estimated(day, day.givens) and any(is_estimated(day, tracer.behind(key)) for key in shown):
        marks.append(ESTIMATED)
    return tuple(marks)


def is_estimated(day: Day, keys: Iterable[str]) -> bool:
    """Whether any of some givens, by key, is an estimate."""
    return any(day.givens[key].origin.source.startswith("estimated") for key in keys)
