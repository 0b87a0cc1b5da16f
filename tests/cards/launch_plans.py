"""Days for the launch's cards: the evening with its deck changed, and forty aeroplanes with long names."""

from __future__ import annotations

import functools
import tempfile
from pathlib import Path

from tests.cards.conftest import Solved
from tests.cards.day_plans import EVENING

from roundown.cards.brief import cards_of
from roundown.cards.card import Card, Table
from roundown.day.solve import solve
from roundown.plan.read import read_plan

FIRST = 'name = "first patrol"'
PINNED = f'{FIRST}\nspots = {{ "13" = {{ ahead = "560 ft", port = "12 ft" }} }}'
AHEAD = f'{FIRST}\nspots = {{ "11" = {{ ahead = "700 ft" }} }}'
SHOT = f'{FIRST}\ncatapult = ["12"]'
LONG = "Featherstonehaugh-Cholmondeley of Upper Slaughter and the Outer Isles"


def forty(ship: str = "corbel") -> str:
    """A plan of forty seats of two squadrons with long names, all off one deck."""

    def roster(first: int) -> str:
        return "\n".join(f'  {{ side = "{first + i}", name = "{first + i}th {LONG}" }},' for i in range(20))

    head = EVENING.split("[squadrons.amber]")[0].replace('name = "corbel"', f'name = "{ship}"')
    return f"""{head}
[squadrons.amber]
label = "Amber squadron of the larger carrier's morning watch"
type = "ottery"
roster = [
{roster(100)}
]
[squadrons.grey]
label = "Grey squadron, lent from the shore station for the whole week"
type = "sallow"
roster = [
{roster(300)}
]
[[event]]
name = "everything that flies, against the anchorage beyond the outer reef"
launch = "17:00"
recovery = "19:30"
aeroplanes = {{ grey = 20, amber = 20 }}
"""


@functools.cache
def plan_of(text: str) -> Solved:
    """A plan solved."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "plan.toml"
        file.write_text(text, encoding="utf-8")
        day = read_plan(file)
    return Solved(day, solve(day))


def evening(old: str = "", new: str = "") -> Solved:
    """The evening with one thing changed."""
    assert old in EVENING
    return plan_of(EVENING.replace(old, new) if old else EVENING)


@functools.cache
def all_cards(found: Solved) -> dict[str, tuple[Card, ...]]:
    """The cards of a day, made once."""
    return cards_of(found.day, found.solution)


def cards_named(found: Solved, start: str) -> dict[str, tuple[Card, ...]]:
    """The cards whose names begin so."""
    return {name: pages for name, pages in all_cards(found).items() if name.startswith(start)}


def tables(pages: tuple[Card, ...], name: str) -> list[Table]:
    """The tables of a card by their name, those that go on too."""
    return [table for card in pages for table in card.tables if table.name.startswith(name)]


def rows(pages: tuple[Card, ...], name: str) -> list[tuple[str, ...]]:
    """The texts of the rows of those tables."""
    return [tuple(cell.text for cell in row) for table in tables(pages, name) for row in table.rows]


def pairs(pages: tuple[Card, ...], name: str) -> dict[str, str]:
    """What stands right of each label of those tables."""
    return {row[i]: row[i + 1] for row in rows(pages, name) for i in range(0, len(row), 2)}
