"""Times of day that are read together, in one form: where any shows seconds, all do.

A time on the minute is written without seconds (quantities.write), which is good alone and uneven below others.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from roundown.cards.card import Table

_CLOCK = re.compile(r"^\d\d:\d\d(:\d\d)?(?= |$)")


def clocks_alike(texts: Sequence[str]) -> tuple[str, ...]:
    """The texts, those that begin with a time given seconds where any of them has some; the others as they are."""
    return tuple(_with_seconds(text) for text in texts) if _any_seconds(texts) else tuple(texts)


def table_alike(table: Table) -> Table:
    """A table whose figures that are times are alike; what people wrote has no key and stays."""
    if not _any_seconds(cell.text for row in table.rows for cell in row if cell.key):
        return table
    rows = tuple(
        tuple(replace(cell, text=_with_seconds(cell.text)) if cell.key else cell for cell in row) for row in table.rows
    )
    return replace(table, rows=rows)


def _any_seconds(texts: Iterable[str]) -> bool:
    return any(found is not None and found[1] for found in map(_CLOCK.match, texts))


def _with_seconds(text: str) -> str:
    found = _CLOCK.match(text)
    return text if found is None or found[1] else f"{found[0]}:00{text[found.end() :]}"
