"""The cards that can be printed from the page, laid out and drawn when they are asked for."""

from __future__ import annotations

from typing import Literal

from roundown.cards.brief import cards_of, numbered
from roundown.cards.card import Card
from roundown.cards.layout import render
from roundown.plan.facts import Day
from roundown.solution import Solution

WIDTH = 1200  # pixels of a picture


def papers_of(day: Day, solution: Solution) -> dict[str, Card]:
    """Every page of every card by name, numbered where a card has several. Raises ValueError where one cannot be."""
    return {
        name: page for card, pages in cards_of(day, solution).items() for name, page in numbered(card, pages).items()
    }


def paper(card: Card, form: Literal["pdf", "png"]) -> bytes:
    """A page as a file. Raises ValueError where the card does not go on it."""
    return render(card, form, WIDTH)
