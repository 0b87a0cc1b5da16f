"""A card as data: what stands on it, each figure with the key of the Solution or the given it comes from."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

LONGEST = 110  # letters of a title or a label, as many as two lines hold
WORD = 28  # letters after which a word without a gap may be broken


def shortened(text: str) -> str:
    """A text someone gave, cut where it would not go on a card; the mark of omission shows that it is."""
    words = " ".join(text.split())
    if len(words) > LONGEST:
        words = words[: LONGEST - 1].rstrip() + "…"
    return " ".join("\N{ZERO WIDTH SPACE}".join(re.findall(f".{{1,{WORD}}}", word)) for word in words.split(" "))


@dataclass(frozen=True)
class Line:
    """One figure. label : what it is; text : with its unit; key : where it comes from; note : which of two it is.

    large : one of those to be read first
    """

    label: str
    text: str
    key: str
    note: str = ""
    large: bool = False


@dataclass(frozen=True)
class Group:
    """Figures that belong together, row by row. name : over them."""

    name: str
    rows: tuple[tuple[Line, ...], ...]


@dataclass(frozen=True)
class Sentence:
    """A sentence, and the keys of the figures in it, in their order."""

    text: str
    keys: tuple[str, ...] = ()


@dataclass(frozen=True)
class Cell:
    """What stands in one place of a table. key : of the figure it shows, "" for words; strong : to be read first."""

    text: str
    key: str = ""
    strong: bool = False


@dataclass(frozen=True)
class Table:
    """A table. name : over it; columns : what stands in each; rows : as many cells each as there are columns.

    widths : of the columns, one to another; none for all alike
    """

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    widths: tuple[float, ...] = ()


def two_abreast(rows: Sequence[tuple[Cell, ...]]) -> tuple[tuple[Cell, ...], ...]:
    """The rows of a table of few columns, read in pairs from left to right; the last is filled up."""
    if len(rows) < 2:
        return tuple(rows)
    filled = [*rows, tuple(Cell("") for _ in rows[-1])]
    return tuple((*filled[i], *filled[i + 1]) for i in range(0, len(rows), 2))


def channels_table(name: str, channels: Sequence[tuple[str, str, str, str]]) -> Table:
    """Radio channels: name, what for, frequency, who answers; a column that nobody filled in is left out."""
    columns = ("Channel", "For", "Frequency", "Who answers")
    kept = [i for i in range(4) if i == 0 or any(channel[i] for channel in channels)]
    rows = tuple(tuple(Cell(channel[i], strong=i == 0) for i in kept) for channel in channels)
    widths = (1.0, 2.2, 1.4, 1.6)
    return Table(name, tuple(columns[i] for i in kept), rows, tuple(widths[i] for i in kept))


@dataclass(frozen=True)
class Card:
    """A card.

    template : name of its layout in templates/; heading : what card it is; title, subtitles : of the day
    head : the figures across the top; groups : the others
    sentences : in words; marks : warnings, none when all is well; units : one line; drawings : SVG, none without a plan
    plan : hash of the plan it was made from; tables : one under the other
    """

    template: str
    heading: str
    title: str
    subtitles: tuple[str, ...]
    head: tuple[Line, ...]
    groups: tuple[Group, ...]
    sentences: tuple[Sentence, ...]
    marks: tuple[str, ...]
    units: str
    drawings: tuple[str, ...]
    plan: str
    tables: tuple[Table, ...] = ()

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every figure that stands by itself, in the order they are read."""
        return (*self.head, *(line for group in self.groups for row in group.rows for line in row))

    @property
    def keys(self) -> tuple[str, ...]:
        """The key of every figure on the card, those in sentences and tables too."""
        cells = (cell for table in self.tables for row in table.rows for cell in row)
        return (
            *(line.key for line in self.lines),
            *(key for found in self.sentences for key in found.keys),
            *(cell.key for cell in cells if cell.key),
        )
