"""What stood on the cards of an earlier brief, and the cards of this one with what is new on them marked.

A brief leaves cards.json: every card by its name with all it says. A later brief compares, prints the cards that say
something else, and marks on them what does. The plan's hash alone is no change: a remark in the plan gives another hash
and leaves every card as it was.
"""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from roundown.cards.card import Card, Cell, Group, Line, Sentence
from roundown.cards.pages import pages as pages_of
from roundown.cards.recovery_card import apart
from roundown.cards.spot_card import parted

FILE = "cards.json"
FORMAT = 1
PAGE = ", page "  # as in the heading of a card of several pages
MARK = "\N{BLACK RIGHT-POINTING SMALL TRIANGLE}"
Said = dict[str, str]


@dataclass(frozen=True)
class Earlier:
    """An earlier brief. plan : its hash; cards : what each said, by the card's name and then by what it is said of."""

    plan: str
    cards: Mapping[str, Said]


def manifest(cards: Mapping[str, Sequence[Card]], plan: str) -> dict[str, Any]:
    """What the cards of a brief say, as plain data. plan : its hash."""
    return {"format": FORMAT, "plan": plan, "cards": {name: _said(pages) for name, pages in cards.items()}}


def earlier(data: object) -> Earlier:
    """The brief behind what `manifest` wrote. Raises ValueError where it is nothing of the kind."""
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise ValueError("not a list of cards of this version")
    cards, plan = data.get("cards"), data.get("plan")
    if not isinstance(plan, str) or not isinstance(cards, dict):
        raise ValueError("not a list of cards")  # noqa: TRY004 - one answer for all that is none
    for said in cards.values():
        if not isinstance(said, dict) or not all(isinstance(text, str) for text in said.values()):
            raise ValueError("a card in it says nothing that can be read")
    return Earlier(plan, cards)


def changed(cards: Mapping[str, Sequence[Card]], before: Earlier) -> dict[str, tuple[Card, ...]]:
    """The cards that say something else than before, with that marked; new ones as they are."""
    found: dict[str, tuple[Card, ...]] = {}
    for name, pages in cards.items():
        said = before.cards.get(name)
        if said is None:
            found[name] = tuple(pages)
        elif _said(pages) != said:
            found[name] = _paged(_marked(pages, said, before.plan))
    return found


def gone(cards: Mapping[str, Sequence[Card]], before: Earlier) -> tuple[str, ...]:
    """Names of cards that are no longer made."""
    return tuple(name for name in before.cards if name not in cards)


def _said(pages: Sequence[Card]) -> Said:
    """Everything the pages of a card say but the plan's hash, by what it is said of."""
    return dict(_items(pages))


def _items(pages: Sequence[Card]) -> Iterator[tuple[str, str]]:
    """What is said, in order; what is said of the same thing again is counted."""
    seen: Counter[str] = Counter()
    for card in pages:
        for name, text in _of_card(card):
            seen[name] += 1
            yield f"{name} #{seen[name]}", text


def _of_card(card: Card) -> Iterator[tuple[str, str]]:
    yield "heading", f"{card.title}; {'; '.join(card.subtitles)}"
    for line in card.lines:
        yield f"line {line.label} {line.key}", line.text
        yield f"by what {line.label} {line.key}", line.note
    for table in card.tables:
        for row in table.rows:
            about = next((cell.text for cell in row if not cell.key and cell.text), "")
            for column, cell in enumerate(row):
                name = cell.key or f"{table.name} {column} {about if column else ''}"
                yield f"cell {name} {column}", cell.text
    for i, sentence in enumerate(card.sentences):
        yield f"sentence {i}", sentence.text
    for mark in card.marks:
        yield "mark", mark


def _marked(pages: Sequence[Card], said: Said, plan: str) -> tuple[Card, ...]:
    """The pages with what is not as it was marked, and what it was where there is one thing it can have been."""
    names = _items(pages)

    def was(text: str) -> str | None:
        """What stood there: "" nothing, None the same."""
        name, now = next(names)
        assert text in now
        old = said.get(name, "")
        return None if old == now else old

    made = []
    for card in pages:
        was(card.title)
        head = tuple(_line(line, was(line.text), was(line.note)) for line in card.head)
        groups = tuple(
            Group(
                group.name,
                tuple(tuple(_line(line, was(line.text), was(line.note)) for line in row) for row in group.rows),
            )
            for group in card.groups
        )
        tables = tuple(
            dataclasses.replace(
                table, rows=tuple(tuple(_cell(cell, was(cell.text)) for cell in row) for row in table.rows)
            )
            for table in card.tables
        )
        sentences = tuple(_sentence(sentence, was(sentence.text)) for sentence in card.sentences)
        for mark in card.marks:
            was(mark)
        note = f"Changed from plan {plan}: {MARK} marks what is new."
        made.append(
            dataclasses.replace(
                card, head=head, groups=groups, tables=tables, sentences=sentences, marks=(*card.marks, note)
            )
        )
    return tuple(made)


def _paged(cards: tuple[Card, ...]) -> tuple[Card, ...]:
    """The cards with drawings, then those of tables on as many pages as they now need: what was takes room too."""
    parts = [part for card in cards for whole in parted(card) for part in apart(whole)]
    drawn = [card for card in parts if card.template != "table-card"]
    tables = [card for card in parts if card.template == "table-card"]
    headings = [card.heading.split(PAGE)[0] for card in tables]
    made = [
        dataclasses.replace(page, heading=heading)
        for card, heading in zip(tables, headings, strict=True)
        for page in pages_of(dataclasses.replace(card, heading=heading))
    ]
    numbered = (
        dataclasses.replace(page, heading=f"{page.heading}{PAGE}{number} of {len(made)}") if len(made) > 1 else page
        for number, page in enumerate(made, 1)
    )
    return (*drawn, *numbered)


def _line(line: Line, was: str | None, by_what: str | None) -> Line:
    if was is None and by_what is None:
        return line
    old = " ".join(part for part in (was or "", by_what or "") if part)
    return dataclasses.replace(line, label=f"{MARK} {line.label}, {f'was {old}' if old else 'new'}")


def _cell(cell: Cell, was: str | None) -> Cell:
    if was is None or not cell.text:
        return cell
    told = f" (was {was})" if was and cell.key else ""
    return dataclasses.replace(cell, text=f"{MARK} {cell.text}{told}")


def _sentence(sentence: Sentence, was: str | None) -> Sentence:
    return sentence if was is None else dataclasses.replace(sentence, text=f"{MARK} {sentence.text}")
