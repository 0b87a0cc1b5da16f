"""The radio and recognition card: who is called what, on which channel, what is kept silent or dark, and the words."""

from __future__ import annotations

from collections.abc import Sequence

from roundown.cards.card import Card, Cell, Table, channels_table, shortened, two_abreast
from roundown.cards.pages import pages
from roundown.cards.sources_table import SOURCES
from roundown.catalog.lists import Word
from roundown.plan.facts import Radio

NAME = 60  # letters of a channel's name
LONGEST = 300  # letters of a text someone gave, as many as a row holds


def radio_cards(
    radio: Radio, call_signs: Sequence[tuple[str, str]], words: Sequence[Word], title: str, subtitle: str, plan: str
) -> tuple[Card, ...]:
    """Radio and recognition, on as many cards as they need; what the plan does not give is left out.

    call_signs : who, and what he is called; title, subtitle : of the day; plan : hash of the plan
    """
    kept = (
        ("Silence", radio.silence),
        ("Lights", radio.lights),
        ("Identification", radio.identification),
    )
    channels = [
        (_cut(each.name)[:NAME], _cut(each.use), _cut(each.frequency), _cut(each.call_sign)) for each in radio.channels
    ]
    called = two_abreast([(_given(who), _given(sign, strong=True)) for who, sign in call_signs if sign])
    spoken = tuple((Cell(each.word, strong=True), Cell(each.means)) for each in words)
    return pages(
        Card(
            template="table-card",
            heading="Radio and recognition",
            title=shortened(title),
            subtitles=(shortened(subtitle),) if subtitle else (),
            head=(),
            groups=(),
            sentences=(),
            marks=(),
            units=SOURCES if words else "",
            drawings=(),
            plan=plan,
            tables=(
                Table(
                    "Silence, lights, identification",
                    ("", ""),
                    tuple((Cell(name), _given(text)) for name, text in kept if text),
                    (1.3, 4.0),
                ),
                channels_table("Channels", channels),
                Table("Call signs", ("Who", "Call sign") * (len(called[0]) // 2 if called else 1), called),
                Table("Words", ("Word", "Means"), spoken, (1.3, 4.0)),
            ),
        )
    )


def _given(text: str, *, strong: bool = False) -> Cell:
    """A text someone gave, cut where it would not go in a row."""
    return Cell(_cut(text), strong=strong)


def _cut(text: str) -> str:
    words = " ".join(text.split())
    return words if len(words) <= LONGEST else words[: LONGEST - 1].rstrip() + "…"
