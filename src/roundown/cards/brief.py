"""All files a brief consists of, made from a solved day."""

from __future__ import annotations

from collections.abc import Mapping

from roundown.cards.brief_page import brief_page
from roundown.cards.circuit_card import circuit_card
from roundown.cards.layout import render
from roundown.cards.ship_card import ship_card
from roundown.plan.facts import Day
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved


def brief(
    day: Day, solution: Solution, dial: Mapping[int, CircuitResult | Unsolved], width: int = 1200
) -> dict[str, bytes]:
    """The files by name.

    dial : the circuit for each wind over the deck [kt], from `day.solve_for_winds`; width : of the PNG cards [pixels]
    The same day gives the same bytes. Raises ValueError when the width is not positive or a card overflows its page.
    """
    circuit, ship = circuit_card(day, solution), ship_card(day, solution)
    return {
        "brief.html": brief_page(day, solution, dial),
        "circuit-card.pdf": render(circuit, "pdf"),
        "circuit-card.png": render(circuit, "png", width),
        "ship-card.pdf": render(ship, "pdf"),
        "ship-card.png": render(ship, "png", width),
    }
