"""The checklist cards of a type: what is done, what shows that it is, what it waits for, and why it matters."""

from __future__ import annotations

from roundown.cards.card import Card, Cell, Table, shortened
from roundown.cards.pages import pages
from roundown.cards.sources_table import SOURCES
from roundown.catalog.lists import PHASES, Checklist, Step

COLUMNS = ("", "Do", "Verify", "Waits for", "Why")
WIDTHS = (0.9, 4.2, 4.4, 2.7, 4.8)


def checklist_cards(checklist: Checklist, title: str, subtitle: str, plan: str) -> tuple[Card, ...]:
    """The checklists of a type, on as many cards as they need; none where there is no step.

    title, subtitle : of the day; plan : hash of the plan. Steps are numbered through, since one waits for another.
    """
    steps = [step for phase in PHASES for step in checklist.phases.get(phase, ())]
    named = {step.name: number for number, step in enumerate(steps, 1) if step.name}
    tables, number = [], 0
    for phase, words in PHASES.items():
        rows = []
        for step in checklist.phases.get(phase, ()):
            number += 1
            rows.append(_row(number, step, named))
        tables.append(Table(words, COLUMNS, tuple(rows), WIDTHS))
    return pages(
        Card(
            template="table-card",
            heading="Checklist",
            title=shortened(title),
            subtitles=tuple(shortened(line) for line in (subtitle, checklist.label) if line),
            head=(),
            groups=(),
            sentences=(),
            marks=(),
            units=SOURCES,
            drawings=(),
            plan=plan,
            tables=tuple(tables),
        )
    )


def _row(number: int, step: Step, named: dict[str, int]) -> tuple[Cell, ...]:
    waits = f"step {named[step.after]}" if step.after in named else step.after
    return (
        Cell(str(number)),
        Cell(step.do, strong=True),
        Cell(step.verify),
        Cell(waits),
        Cell(step.why),
    )
