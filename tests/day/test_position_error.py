"""A day whose type has a card for its airspeed dial."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.figures import Origin, given_number, trace
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import KNOT, SPEED_MARGIN

DEMO = (Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8")
KEY = "type.position_error.100 kt"


def demo() -> Day:
    document = parse_document("plan.toml", DEMO)
    assert isinstance(document, Document)
    return day_of(document)


def with_card(day: Day, correction: float) -> Day:
    given = given_number(correction, SPEED_MARGIN, Origin("plan.toml", (), "own notes"))
    return replace(day, givens={**day.givens, KEY: given})


def test_every_figure_a_card_moves_says_so() -> None:
    """Constructed: 5 kt at every speed; what moves says that it rests on the card."""
    before, day = solve(demo()).figures, with_card(demo(), 5.0 * KNOT)
    after = solve(day).figures
    moved = {key for key, figure in after.items() if figure.value != before[key].value}
    assert "circuit.abeam" in moved
    assert "flight.course" not in moved
    assert [key for key in moved if KEY not in trace(key, after, day.givens)] == []


def test_a_card_of_nothing_moves_nothing() -> None:
    """Limit case: to the last bit."""
    before, after = solve(demo()).figures, solve(with_card(demo(), 0.0)).figures
    assert {key: figure.value for key, figure in after.items()} == {key: figure.value for key, figure in before.items()}
