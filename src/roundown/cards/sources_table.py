"""Where the entries of the lists on the cards come from: told in the brief, not in the cockpit."""

from __future__ import annotations

from collections.abc import Iterable

from roundown.cards.card import Cell, Table
from roundown.catalog.lists import PHASES
from roundown.plan.facts import Day

REST, ALL = "the others", "all"
SOURCES = "Where each entry comes from stands in the brief."


def list_sources(day: Day) -> tuple[Table, ...]:
    """The sources of checklists, signs and words of a day; none where it has no lists."""
    tables = []
    for kind, checklist in day.checklists.items():
        steps = [step for phase in PHASES for step in checklist.phases.get(phase, ())]
        tables.append(sources_table(f"Checklist, {kind}", ((str(i), step.source) for i, step in enumerate(steps, 1))))
    tables.append(sources_table("Signs of the deck", ((str(i), each.source) for i, each in enumerate(day.signs, 1))))
    tables.append(sources_table("Words", ((each.word, each.source) for each in day.words)))
    return tuple(table for table in tables if table.rows)


def sources_table(name: str, entries: Iterable[tuple[str, str]]) -> Table:
    """The sources of some entries, the one that most rest on last.

    entries : what each is called on the card, and its source
    """
    by_source: dict[str, list[str]] = {}
    for entry, source in entries:
        by_source.setdefault(source, []).append(entry)
    most = max(by_source, key=lambda source: len(by_source[source]), default="")
    told = {source: ", ".join(names) for source, names in by_source.items() if source != most}
    if most:
        told[most] = REST if told else ALL
    rows = tuple((Cell(source), Cell(names)) for source, names in told.items())
    return Table(name, ("Source", "Of"), rows, (3.0, 1.3))
