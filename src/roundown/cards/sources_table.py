"""Where the entries of a list come from, told once at its end and not beside each."""

from __future__ import annotations

from collections.abc import Iterable

from roundown.cards.card import Cell, Table, two_abreast

REST, ALL = "the others", "all"


def sources_table(entries: Iterable[tuple[str, str]]) -> Table:
    """The sources of some entries, the one that most rest on last.

    entries : what each is called on the card, and its source
    """
    by_source: dict[str, list[str]] = {}
    for name, source in entries:
        by_source.setdefault(source, []).append(name)
    most = max(by_source, key=lambda source: len(by_source[source]), default="")
    told = {source: ", ".join(names) for source, names in by_source.items() if source != most}
    if most:
        told[most] = REST if told else ALL
    rows = two_abreast([(Cell(source), Cell(names)) for source, names in told.items()])
    pairs = 1 if len(told) < 2 else 2
    return Table("Where it comes from", ("Source", "Of") * pairs, rows, (3.0, 1.3) * pairs)
