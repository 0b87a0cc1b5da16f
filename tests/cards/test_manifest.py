"""Which cards changed, and what on them."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Callable

import pytest
from tests.cards.day_plans import day_of as day_plans_day
from tests.cards.launch_plans import cards_named

from roundown.cards.brief import cards_of
from roundown.cards.card import Card, Cell
from roundown.cards.layout import render
from roundown.cards.manifest import MARK, changed, earlier, gone, manifest
from roundown.cards.spot_card import parted
from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.plan.read import day_of

Cards = dict[str, tuple[Card, ...]]
MEMORY = Memory()


@pytest.fixture(scope="session")
def made() -> Callable[..., tuple[Cards, str]]:
    from importlib import resources

    demo = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")

    def make(old: str = "", new: str = "") -> tuple[Cards, str]:
        document = parse_document("demo.toml", demo.replace(old, new) if old else demo)
        assert isinstance(document, Document)
        day = day_of(document)
        return cards_of(day, solve(day, MEMORY)), day.hash

    return make


def test_a_remark_leaves_every_card_as_it_was(made: Callable[..., tuple[Cards, str]]) -> None:
    before = earlier(json.loads(json.dumps(manifest(*made()))))
    cards, plan = made("# The demo", "# A demo")
    assert plan != before.plan
    assert changed(cards, before) == {}
    assert gone(cards, before) == ()


def test_who_is_away_changes_his_squadron_s_cards_and_takes_the_last_one(
    made: Callable[..., tuple[Cards, str]],
) -> None:
    """Constructed: of eight the second is away; the last moves to his seat, and the last seat is not flown.

    One fewer stands on deck, so that it is spotted anew and the others' runs change too.
    """
    before = earlier(manifest(*made()))
    cards, _ = made("# [muster]\n# absent", "[muster]\nabsent")
    new = changed(cards, before)
    assert gone(cards, before) == ("seat-24",)
    assert {"seat-12", "seat-21", "seat-23", "radio-card", "timeline-card"} <= set(new)
    assert {"launch-card-second-patrol-amber", "spot-card-first-patrol", "seat-13"} <= set(new)
    assert {"circuit-card", "ship-card", "light-card", "signs-card"}.isdisjoint(new)


def test_another_wind_marks_what_it_changed_and_says_what_was(made: Callable[..., tuple[Cards, str]]) -> None:
    cards, plan = made()
    before = earlier(manifest(cards, plan))
    new = changed(made("140/11 kt", "150/13 kt")[0], before)
    (circuit,) = new["circuit-card"]
    old = {line.key: line.text for line in cards["circuit-card"][0].lines}
    marked = [line for line in circuit.lines if line.label.startswith(MARK)]
    assert marked
    for line in circuit.lines:
        if line.label.startswith(MARK):
            assert line.text != old[line.key]
            assert line.label.endswith(f", was {old[line.key]}")
        else:
            assert line.text == old[line.key]
    assert circuit.marks[-1] == f"Changed from plan {plan}: {MARK} marks what is new."


def test_every_marked_card_goes_on_its_pages(made: Callable[..., tuple[Cards, str]]) -> None:
    before = earlier(manifest(*made()))
    for pages in changed(made("140/11 kt", "152/16 kt")[0], before).values():
        for page in pages:
            assert render(page, "pdf").startswith(b"%PDF")


@pytest.mark.parametrize(
    "data", [None, [], {}, {"format": 2, "plan": "x", "cards": {}}, {"format": 1, "plan": "x", "cards": {"a": 3}}]
)
def test_what_is_no_list_of_cards_is_refused(data: object) -> None:
    with pytest.raises(ValueError, match="card"):
        earlier(data)


def test_a_spot_card_that_grew_keeps_a_drawing_that_can_be_read() -> None:
    """Constructed: every cell of the table has a second line for what was."""
    found = day_plans_day("evening")
    (whole,) = cards_named(found, "spot-card")["spot-card-first-patrol"]
    assert parted(whole) == (whole,)
    (table,) = whole.tables
    long = tuple(tuple(Cell(f"{cell.text} (was something else)", cell.key) for cell in row) for row in table.rows)
    drawn, apart = parted(dataclasses.replace(whole, tables=(dataclasses.replace(table, rows=long * 3),)))
    assert (drawn.tables, drawn.drawings) == ((), whole.drawings)
    assert (apart.template, apart.drawings, len(apart.tables[0].rows)) == ("table-card", (), 24)
    assert render(drawn, "pdf").startswith(b"%PDF")
