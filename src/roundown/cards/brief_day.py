"""The day round the circuit, for the brief page: its timeline, its light and wind, and what is not worked out."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from roundown.cards.brief_tables import as_table, parts_table
from roundown.cards.card import Table
from roundown.cards.light_card import light_note, light_tables
from roundown.cards.markup import Child, element
from roundown.cards.sources_table import list_sources
from roundown.cards.timeline_card import clock_note, timeline_table
from roundown.plan.facts import Day
from roundown.solution import Solution, Unsolved


def timeline_section(day: Day, solution: Solution) -> ET.Element | None:
    """The moments of the day in order; None where the day has no timeline."""
    if isinstance(solution.timeline, Unsolved):
        return None
    return element(
        "section",
        element("h2", "The day in order"),
        as_table(timeline_table(solution, solution.timeline, solution.figures), "Timeline", "timeline-caption"),
        element("p", clock_note(day, solution), class_="small"),
    )


def parts_section(day: Day, solution: Solution) -> ET.Element | None:
    """The circuit of every carrier and type that fly; None where only one does."""
    if not solution.parts:
        return None
    return element("section", element("h2", "Every type that flies"), parts_table(day, solution))


def light_section(day: Day, solution: Solution) -> ET.Element:
    """Sun and moon, wind by height, sea, air and compass."""
    tables = light_tables(day, solution, solution.figures)
    lists = [_as_list(found) for found in tables if not any(found.columns)]
    winds = [as_table(found, found.name, "winds-caption") for found in tables if any(found.columns)]
    return element(
        "section",
        element("h2", "Light and wind"),
        element("div", *lists, class_="ship-figures"),
        *winds,
        element(
            "p",
            light_note(day),
            class_="small",
        ),
    )


def sources_section(day: Day) -> ET.Element | None:
    """Where the entries of checklists, signs and words come from, folded away; None where no card shows them."""
    tables = list_sources(day) if day.events else ()
    if not tables:
        return None
    return element(
        "section",
        element("h2", "Checklists, signs and words"),
        element(
            "details",
            element("summary", "Where each entry comes from"),
            element("p", "Codes such as PRO-42 are those of docs/sources.md.", class_="small"),
            *(as_table(found, found.name, f"sources-{i}") for i, found in enumerate(tables, 1)),
        ),
    )


def unsolved_sentence(solution: Solution) -> ET.Element | None:
    """What such a day has and is not worked out, said once."""
    if not solution.unsolved:
        return None
    *first, last = solution.unsolved
    listed = f"{', '.join(first)} and {last}" if first else last
    return element("p", f"Not worked out here: {listed}.", class_="small")


def _as_list(found: Table) -> ET.Element:
    """A table of labels and figures, by twos from left to right."""
    told: list[Child] = []
    for row in found.rows:
        for label, shown in zip(row[::2], row[1::2], strict=True):
            if label.text:
                told += [element("dt", label.text), element("dd", shown.text)]
    return element("div", element("h3", found.name), element("dl", *told))
