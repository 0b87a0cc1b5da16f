"""Days for the practice cards: read and not solved, since their circuits are solved by themselves."""

from __future__ import annotations

import functools

from tests.cards.conftest import PLAN, SHIPS

from roundown.documents import Document, parse_document
from roundown.plan.facts import Day
from roundown.plan.read import day_of


@functools.cache
def today(
    doctrine: str = "fast-carrier-1944", wind: str = "070/12 kt", title: str = "Evening recovery", more: str = ""
) -> Day:
    """A day from a few words; the same words give the same one."""
    text = PLAN.format(title=title, wind=wind, ship=SHIPS[doctrine], doctrine=doctrine, more=more)
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)
