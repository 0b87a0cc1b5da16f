"""From a card to a page: PDF, or PNG of an exact width.

The layouts are Typst files in templates/; what stands on the card goes to them as data, never as source. Only the faces
that come with the renderer are used, so that the same card gives the same bytes on any machine.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from importlib import resources
from typing import Any, Literal

from roundown import CAUTION
from roundown.cards.card import Card

POINTS_WIDE = 420.0  # width of a card's page, as in templates/card.typ
OVERFLOW = "more than one page"  # what templates/card.typ says then


def render(card: Card, form: Literal["pdf", "png"], width: int = 1200) -> bytes:
    """A card as a file. width : of a PNG [pixels]; a PDF has none.

    Raises ValueError when the width is not positive or the card does not go on one page.
    """
    if width < 1:
        raise ValueError("a picture is one pixel wide or more")
    import typst

    try:
        made = typst.compile(
            _source(card.template),
            format=form,
            ppi=72.0 * width / POINTS_WIDE if form == "png" else None,
            ignore_system_fonts=True,
            sys_inputs=_inputs(card),
        )
    except typst.TypstError as error:
        if OVERFLOW in str(error):
            raise ValueError(f"the {card.heading.lower()} does not go on one page: shorten its title") from error
        raise
    assert isinstance(made, bytes)
    return made


def ask(card: Card, template: str, label: str) -> Any:
    """What a layout that draws nothing says of a card. template : its name; label : of what it says."""
    import typst

    said = typst.query(
        _source(template),
        f"<{label}>",
        field="value",
        one=True,
        ignore_system_fonts=True,
        sys_inputs=_inputs(card),
    )
    typst.compile(b"", format="pdf", ignore_system_fonts=True)  # a question alone leaves what it laid out in memory
    return json.loads(said)


def _source(template: str) -> bytes:
    return "\n".join(_template(name) for name in ("card", template)).encode()


def _inputs(card: Card) -> dict[str, str]:
    return {"card": json.dumps(asdict(card) | {"caution": CAUTION})}


def _template(name: str) -> str:
    return (resources.files("roundown.cards") / "templates" / f"{name}.typ").read_text(encoding="utf-8")
