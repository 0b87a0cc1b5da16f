"""How a figure came about, in lines for `roundown check --why`."""

from __future__ import annotations

from roundown.catalog.load import nearest
from roundown.errors import RoundownError
from roundown.figures import trace
from roundown.plan.facts import Day
from roundown.quantities import write
from roundown.solution import Solution

MOST_GIVEN = 60  # lines of givens; of more only the tables are told


def explain(day: Day, solution: Solution, key: str, *, metric: bool = False) -> str:
    """How a figure came about: its sentence, method, and every given behind it with place and source.

    Raises RoundownError with the nearest key when there is no such figure.
    """
    figures = solution.figures
    if key in day.givens:
        return _given_line(day, key)
    if key not in figures:
        for part, theirs in solution.parts.items():
            if key in theirs.figures:
                raise RoundownError(f"{key} is a figure of {part}: give --part {part} too.")
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
    given = trace(key, figures, day.givens)
    many = {name.split(".")[0] for name in given} if len(given) > MOST_GIVEN else set()
    for table in sorted(many):
        count = sum(name.split(".")[0] == table for name in given)
        lines.append(f"    {table}.*: {count} value{'s' if count > 1 else ''} (--why one of them by its key)")
    lines += [f"    {_given_line(day, name)}" for name in given if not many]
    return "\n".join(lines)


def _given_line(day: Day, name: str) -> str:
    """A given with its aim, where it is a range, its place and its source."""
    given = day.givens[name]
    aim = ""
    if given.kind is not None and given.band.low != given.band.high:
        aim = f", aim {write(given.value, given.kind)}"
    replaced = f", in place of {given.origin.overridden}" if given.origin.overridden else ""
    return f"{name} = {given.text}{aim} ({day.place_of(given)}: {given.origin.source}{replaced})"
