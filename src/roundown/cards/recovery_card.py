"""The recovery card of an event: who holds in which block, when each steps down, leaves and is over the ramp."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from roundown.cards.card import Card, Line, Table, shortened
from roundown.cards.clock_column import clocks_alike
from roundown.cards.launch_figures import all_texts
from roundown.cards.layout import ask
from roundown.cards.marks import ESTIMATED, marks_of
from roundown.cards.markup import svg_text
from roundown.cards.pages import CONTINUED, MOST, Height, Part, shared_out
from roundown.cards.recovery_figures import Recovering, recoverings
from roundown.cards.recovery_tables import (
    flights_table,
    foul_table,
    fuel_table,
    head_cells,
    rhythm_sentence,
    steps_table,
)
from roundown.cards.stack_drawing import StackLook, stack_drawings
from roundown.day.deck_load import event_key
from roundown.plan.facts import Day
from roundown.recovery.stack import Stack
from roundown.solution import Solution

TEMPLATE = "recovery-card"
LOOK = StackLook(width=386.0, size=13.0, numbers=11.0, left=62.0, column=63.5, block=26.0, arrow=7.0, text=13.0)
MARKED = ("recoveries.{}.first_charlie", "recoveries.{}.last_over_ramp", "rhythm.{}.slow")
"""Figures whose givens decide whether a card is marked."""

Drawn = tuple[str, float]
"""A drawing as SVG, and its height [points]."""


def recovery_cards(day: Day, solution: Solution) -> dict[tuple[str, str], tuple[Card, ...]]:
    """The recovery cards by event and carrier, as the plan names them; none where there is no way down."""
    found = {}
    for of in recoverings(day, solution, all_texts(solution)):
        if isinstance(of.stack, Stack):
            card = _card(day, solution, of, of.stack)
            found[of.event.name, of.carrier] = tuple(_pages(card, _drawings(of, of.stack)))
    return found


def _card(day: Day, solution: Solution, of: Recovering, stack: Stack) -> Card:
    return Card(
        template=TEMPLATE,
        heading="Recovery",
        title=shortened(day.title),
        subtitles=(shortened(of.heading),),
        head=_head(of),
        groups=(),
        sentences=rhythm_sentence(of),
        marks=_marks(day, solution, of),
        units=(
            f"Ship’s clock, zone {day.word('place.zone')}; heights over the sea. Charlie: leaves the lowest block. "
            "Nobody waved off."
        ),
        drawings=(),
        plan=day.hash,
        tables=(
            flights_table(of, stack),
            steps_table(of, stack),
            fuel_table(of, stack),
            foul_table(of, stack),
        ),
    )


def _marks(day: Day, solution: Solution, of: Recovering) -> tuple[str, ...]:
    keys = [key.format(event_key(of.event)) for key in MARKED]
    estimated = [mark for mark in marks_of(of.day, of.solution, keys) if mark == ESTIMATED]
    return tuple(dict.fromkeys((*marks_of(day, solution, ()), *estimated)))


def _head(of: Recovering) -> tuple[Line, ...]:
    """Those times; another day is said where it begins."""
    cells = head_cells(of)
    lines, told = [], ""
    for (label, cell), text in zip(cells, clocks_alike([cell.text for _, cell in cells]), strict=True):
        clock, _, then = text.partition(" ")
        lines.append(Line(label, clock, cell.key, then if then != told else "", large=True))
        told = then
    return tuple(lines)


def _drawings(of: Recovering, stack: Stack) -> tuple[Drawn, ...]:
    """The stack, so many flights a drawing."""
    initial = of.day.number("doctrine.circuit.initial_height")
    drawn = []
    for sheet in stack_drawings(stack, initial, {}, "stack", LOOK):
        high = sheet.attrib["viewBox"].split()[3]
        sheet.attrib |= {"width": f"{LOOK.width:g}pt", "height": f"{high}pt"}
        drawn.append((svg_text(sheet), float(high)))
    return tuple(drawn)


def _pages(card: Card, drawn: tuple[Drawn, ...]) -> Iterator[Card]:
    """The card on as many pages as it needs: the first table, the drawings, the other tables, in this order.

    Nothing is drawn where there are more blocks than go on a page.
    """
    card = replace(card, tables=tuple(table for table in card.tables if table.rows))
    asked = ask(replace(card, heading=_numbered(card, MOST, MOST)), "table-heights", "heights")
    if any(high + asked["gap"] > asked["room"] for _, high in drawn):
        drawn = ()
    parts = _shared(ask(card, "table-heights", "heights"), drawn)
    several = len(parts) > 1
    if several:
        parts = _shared(asked, drawn)
    for number, page in enumerate(parts, 1):
        drawings = range(1, 1 + len(drawn))  # among the blocks
        yield replace(
            card,
            heading=_numbered(card, f"{number}", f"{len(parts)}") if several else card.heading,
            drawings=tuple(drawn[part.table - 1][0] for part in page if part.table in drawings),
            tables=tuple(
                _cut(card.tables[max(part.table - len(drawn), 0)], part) for part in page if part.table not in drawings
            ),
        )


def apart(card: Card) -> tuple[Card, ...]:
    """A recovery card whose tables, longer than they were, no longer go under its drawing, as two; else as it is.

    The tables may need several pages.
    """
    if card.template != TEMPLATE or not card.tables:
        return (card,)
    highs = [float(re.findall(r' height="([\d.]+)pt"', drawing)[0]) for drawing in card.drawings]
    drawn = tuple(zip(card.drawings, highs, strict=True))
    if len(_shared(ask(card, "table-heights", "heights"), drawn)) == 1:
        return (card,)
    tables = replace(card, template="table-card", drawings=())
    return (replace(card, tables=()), tables) if card.drawings else (tables,)


def _shared(asked: dict[str, Any], drawn: Sequence[Drawn]) -> list[tuple[Part, ...]]:
    """What goes on each page: block 0 is the first table, then come the drawings, then the other tables."""
    tables = [Height(each["top"], tuple(each["rows"])) for each in asked["tables"]]
    blocks = [*tables[:1], *(Height(0.0, (high,)) for _, high in drawn), *tables[1:]]
    return list(shared_out(blocks, asked["room"], asked["gap"]))


def _numbered(card: Card, number: str, last: str) -> str:
    return f"{card.heading}, page {number} of {last}"


def _cut(table: Table, part: Part) -> Table:
    name = table.name + CONTINUED if part.start and table.name else table.name
    return replace(table, name=name, rows=table.rows[part.start : part.end])
