"""The signs card: what the deck shows the pilot in arms, flags and lamps, what it means, and what he does."""

from __future__ import annotations

from collections.abc import Sequence

from roundown.cards.card import Card, Cell, Table, shortened
from roundown.cards.pages import pages
from roundown.cards.sources_table import SOURCES
from roundown.catalog.lists import Sign


def signs_cards(signs: Sequence[Sign], title: str, subtitle: str, plan: str) -> tuple[Card, ...]:
    """The signs of the deck, on as many cards as they need; none where there are none.

    title, subtitle : of the day; plan : hash of the plan
    """
    rows = tuple(
        (Cell(str(i)), Cell(each.sign), Cell(each.means, strong=True), Cell(each.do)) for i, each in enumerate(signs, 1)
    )
    return pages(
        Card(
            template="table-card",
            heading="Signs of the deck",
            title=shortened(title),
            subtitles=(shortened(subtitle),) if subtitle else (),
            head=(),
            groups=(),
            sentences=(),
            marks=(),
            units=SOURCES,
            drawings=(),
            plan=plan,
            tables=(Table("", ("", "What is shown", "Means", "Do"), rows, (0.9, 5.6, 4.8, 4.8)),),
        )
    )
