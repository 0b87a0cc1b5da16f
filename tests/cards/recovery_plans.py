"""Days for the recovery's cards: eight home in one event, with trouble; and how to get at what a card holds."""

from __future__ import annotations

import functools

from tests.cards.conftest import Solved
from tests.cards.day_plans import EVENING
from tests.cards.launch_plans import plan_of
from tests.cards.test_day_cards import to_the_second

from roundown.cards.card import Card
from roundown.cards.launch_figures import all_texts
from roundown.cards.recovery_card import recovery_cards
from roundown.cards.recovery_figures import Recovering, recoverings

HOME = """fuel_home = "330 lb"
home = { "12" = { trouble = "hook" }, "13" = { fuel = "150 lb" }, "14" = { trouble = "no radio" }, \
"22" = { trouble = "wounded" } }"""


def in_trouble() -> Solved:
    """The evening with all eight in one event: a hook that will not lower, one short of fuel, one wounded, one deaf."""
    head, _, rest = EVENING.partition("[[event]]")
    first, _, tail = rest.partition("[[event]]")
    radio = tail.partition("[radio]")[2]
    event = first.replace("amber = 4", "amber = 8").rstrip()
    return plan_of(f"{head}[[event]]{event}\n{HOME}\n[radio]{radio}")


@functools.cache
def texts_of(found: Solved) -> dict[str, str]:
    """The text of every figure of a day by its key."""
    return all_texts(found.solution)


@functools.cache
def cards_of(found: Solved) -> dict[tuple[str, str], tuple[Card, ...]]:
    """Its recovery cards, made once."""
    return recovery_cards(found.day, found.solution)


def as_shown(text: str) -> set[str]:
    """What a figure may look like on a card: its day said elsewhere, its sign in words, seconds as others have them."""
    clock = {text.partition(" ")[0], to_the_second(text.partition(" ")[0])} if ":" in text else set()
    return {text.lstrip("-"), *clock}


def recovering(found: Solved) -> tuple[Recovering, ...]:
    """The recoveries of a day."""
    return recoverings(found.day, found.solution, texts_of(found))
