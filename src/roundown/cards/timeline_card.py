"""The timeline card: every moment of the day in order, what the ship then does, and how light it is."""

from __future__ import annotations

from collections.abc import Mapping

from roundown.cards.card import Card, Cell, Table, shortened
from roundown.cards.clock_column import table_alike
from roundown.cards.light_card import SIMULATORS, date_of
from roundown.cards.marks import marks_of
from roundown.cards.pages import pages
from roundown.figures import Figure
from roundown.plan.facts import Day
from roundown.schedule.timeline import Moment, Sort
from roundown.solution import Solution, Unsolved

COLUMNS = ("Time", "What", "Course, true", "Speed", "Light", "Sun")
WIDTHS = (1.55, 3.15, 1.3, 1.25, 2.3, 1.45)


def timeline_cards(day: Day, solution: Solution) -> tuple[Card, ...]:
    """The timeline on as many pages as it needs; none where the day has no timeline."""
    if isinstance(solution.timeline, Unsolved):
        return ()
    keys = [f"timeline.{name}.time" for name in solution.timeline]
    return pages(
        Card(
            template="table-card",
            heading="Timeline",
            title=shortened(day.title),
            subtitles=(shortened(f"{date_of(day)}; {day.word('ship.label')}"),),
            head=(),
            groups=(),
            sentences=(),
            marks=marks_of(day, solution, keys),
            units=clock_note(day, solution),
            drawings=(),
            plan=day.hash,
            tables=(timeline_table(solution, solution.timeline, solution.figures),),
        )
    )


def clock_note(day: Day, solution: Solution) -> str:
    """By what clock the times are, whose course and speed it is, whose sun."""
    note = f"Times by the ship’s clock, zone {day.word('place.zone')}. Course true and speed: the guide’s."
    if solution.light.simulated:
        note += f" Times marked {SIMULATORS} are its own, and light and sun follow them."
    return f"{note} Sun: altitude of its centre, no refraction."


def timeline_table(solution: Solution, moments: Mapping[str, Moment], figures: dict[str, Figure]) -> Table:
    """The moments in order, for card and page; launches and recoveries are read first."""
    rows = []
    for name, moment in moments.items():
        stem = f"timeline.{name}"
        strong = moment.sort in {Sort.LAUNCH, Sort.RECOVERY}
        rows.append(
            (
                Cell(figures[f"{stem}.time"].text, f"{stem}.time", strong=True),
                Cell(_what(name, moment, solution), strong=strong),
                Cell(figures[f"{stem}.course"].text, f"{stem}.course"),
                Cell(figures[f"{stem}.speed"].text, f"{stem}.speed"),
                Cell(moment.darkness.value),
                Cell(figures[f"{stem}.sun_altitude"].text, f"{stem}.sun_altitude"),
            )
        )
    return table_alike(Table("", COLUMNS, tuple(rows), WIDTHS))


def _what(name: str, moment: Moment, solution: Solution) -> str:
    said = f"{moment.event}: {moment.what}" if moment.event else moment.what
    return f"{said}, {SIMULATORS}" if name in solution.light.simulated else said
