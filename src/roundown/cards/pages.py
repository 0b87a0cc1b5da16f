"""A card whose tables do not go on one page, as several cards of one page each.

The heights of the rows are those of the layout itself, so that nothing is guessed. A table is kept together where a
page of its own holds it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from roundown.cards.card import Card, Table
from roundown.cards.layout import ask

CONTINUED = " (continued)"
MOST = "99"  # pages: the widest number to leave room for


@dataclass(frozen=True)
class Height:
    """How high a table is [points]. top : its name and the names of its columns; rows : each of them."""

    top: float
    rows: tuple[float, ...]


@dataclass(frozen=True)
class Part:
    """Some rows of a table, from start up to end. table : which, from 0."""

    table: int
    start: int
    end: int


def pages(card: Card) -> tuple[Card, ...]:
    """The card as as many cards as it needs pages; none where its tables have no rows.

    Raises ValueError when one row is higher than a page.
    """
    tables = tuple(table for table in card.tables if table.rows)
    if not tables:
        return ()
    whole = replace(card, tables=tables)
    parts = _parts(whole)
    if len(parts) == 1:
        return (whole,)
    parts = _parts(replace(whole, heading=_heading(card, MOST, MOST)))
    return tuple(
        replace(
            card,
            heading=_heading(card, str(number), str(len(parts))),
            tables=tuple(_cut(tables[part.table], part) for part in page),
        )
        for number, page in enumerate(parts, 1)
    )


def _parts(card: Card) -> list[tuple[Part, ...]]:
    """What goes on each page under the card's heading as it is."""
    found = ask(card, "table-heights", "heights")
    heights = [Height(each["top"], tuple(each["rows"])) for each in found["tables"]]
    return list(shared_out(heights, found["room"], found["gap"]))


def shared_out(heights: Sequence[Height], room: float, gap: float) -> Iterator[tuple[Part, ...]]:
    """What goes on each page. room : height of the place for tables; gap : over each table [points].

    Raises ValueError when one row is higher than a page.
    """
    page: list[Part] = []
    left = room
    for i, height in enumerate(heights):
        rows, start = height.rows, 0
        least = gap + height.top
        whole = least + sum(rows)
        if page and left < whole <= room:
            yield tuple(page)
            page, left = [], room
        while start < len(rows):
            if page and left < least + rows[start]:
                yield tuple(page)
                page, left = [], room
            left -= least
            end = start
            while end < len(rows) and rows[end] <= left:
                left -= rows[end]
                end += 1
            if end == start:
                raise ValueError("one row of a table does not go on a page: shorten it")
            page.append(Part(i, start, end))
            start = end
    if page:
        yield tuple(page)


def _heading(card: Card, number: str, last: str) -> str:
    return f"{card.heading}, page {number} of {last}"


def _cut(table: Table, part: Part) -> Table:
    name = table.name + CONTINUED if part.start and table.name else table.name
    return replace(table, name=name, rows=table.rows[part.start : part.end])
