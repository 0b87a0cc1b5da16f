"""All files a brief consists of, made from a solved day."""

from __future__ import annotations

import re
import time
import unicodedata
from collections.abc import Callable, Collection, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor

from roundown.cards.brief_page import brief_page
from roundown.cards.card import Card
from roundown.cards.checklist_card import checklist_cards
from roundown.cards.circuit_card import circuit_card
from roundown.cards.emergency_card import emergency_cards
from roundown.cards.landing_card import landing_cards
from roundown.cards.launch_card import launch_cards
from roundown.cards.layout import render
from roundown.cards.light_card import light_cards
from roundown.cards.pass_card import pass_cards
from roundown.cards.radio_card import radio_cards
from roundown.cards.recovery_card import recovery_cards
from roundown.cards.seat_card import seat_cards
from roundown.cards.ship_card import ship_card
from roundown.cards.ship_day_card import ship_day_cards
from roundown.cards.sight_card import sight_cards
from roundown.cards.signs_card import signs_cards
from roundown.cards.spot_card import spot_cards
from roundown.cards.timeline_card import timeline_cards
from roundown.plan.facts import Day
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved

LONGEST_NAME = 60  # letters of a file's name
EVENT, WHOSE = 20, 12  # letters of an event, and of a squadron or a carrier, in the name of a card of both
TELL_EACH = 1.0  # s
WORKERS = 4  # cards drawn at a time: the renderer lets go of the interpreter meanwhile


def brief(
    day: Day,
    solution: Solution,
    dial: Mapping[int, CircuitResult | Unsolved],
    width: int = 1200,
    progress: Callable[[str], None] | None = None,
) -> dict[str, bytes]:
    """The files by name; a card of several pages has its page in the name.

    dial : the circuit for each wind over the deck [kt], from `day.solve_for_winds`; width : of the PNG cards [pixels]
    progress : told each second how far it is
    The same day gives the same bytes. Raises ValueError when the width is not positive or a card overflows its page.
    """
    return {"brief.html": brief_page(day, solution, dial)} | draw(cards_of(day, solution), width, progress)


def draw(
    cards: Mapping[str, tuple[Card, ...]], width: int, progress: Callable[[str], None] | None = None
) -> dict[str, bytes]:
    """The files of some cards. Arguments and errors as of `brief`."""
    files: dict[str, bytes] = {}
    told = time.monotonic()
    with ThreadPoolExecutor(WORKERS) as workers:
        drawn = workers.map(lambda name: card_files(name, cards[name], width), cards)
        for i, (name, made) in enumerate(zip(cards, drawn, strict=True), 1):
            files |= made
            if progress is not None and time.monotonic() - told > TELL_EACH:
                told = time.monotonic()
                progress(f"{i} of {len(cards)} cards are drawn, the last of them {name}")
    return files


def card_files(name: str, pages: tuple[Card, ...], width: int) -> dict[str, bytes]:
    """The files of one card.

    name : of the card; width : of its pictures [pixels]. Raises ValueError as `brief` does.
    """
    files = {}
    for page, card in numbered(name, pages).items():
        files[f"{page}.pdf"] = render(card, "pdf")
        files[f"{page}.png"] = render(card, "png", width)
    return files


def numbered(name: str, pages: Sequence[Card]) -> dict[str, Card]:
    """Each page of a card by a name of its own, which no other card has. name : of the card."""
    if len(pages) == 1:
        return {name: pages[0]}
    return {f"{name}-page-{number}": page for number, page in enumerate(pages, 1)}


def cards_of(day: Day, solution: Solution) -> dict[str, tuple[Card, ...]]:
    """The cards by name, each of one page or more, in the order they are looked for."""
    found: dict[str, tuple[Card, ...]] = {"circuit-card": (circuit_card(day, solution),)}
    for part, theirs in solution.parts.items():
        found[_free(f"circuit-card-{part}", found)] = (circuit_card(day.parts[part], theirs),)
    for name, cards, what in (
        ("pass-card", pass_cards, "circuit"), ("sight-card", sight_cards, "sight"),
        ("landing-card", landing_cards, "touchdown"),
    ):  # fmt: skip
        for part, hers, theirs in (("", day, solution), *((p, day.parts[p], s) for p, s in solution.parts.items())):
            if not isinstance(getattr(theirs, what), Unsolved):
                found[_free(f"{name}-{part}" if part else name, found)] = cards(hers, theirs)
    found["ship-card"] = (ship_card(day, solution),)
    found["light-card"] = light_cards(day, solution)
    found["timeline-card"] = timeline_cards(day, solution)
    found["ship-day-card"] = ship_day_cards(day, solution)
    found |= _launches(day, solution, found)
    found |= _by_carrier("recovery-card", recovery_cards(day, solution), found)
    for side, pages in seat_cards(day, solution).items():
        found[_free(f"seat-{side}", found)] = pages
    if day.events:
        found |= _lists(day, found)
        found |= {_free(name, found): pages for name, pages in emergency_cards(day, solution).items()}
    return {name: pages for name, pages in found.items() if pages}


def _launches(day: Day, solution: Solution, taken: Collection[str]) -> dict[str, tuple[Card, ...]]:
    """A launch card for each event and squadron, and a spot card for each deck load, with its carrier of several."""
    found: dict[str, tuple[Card, ...]] = {}
    for (event, squadron), pages in launch_cards(day, solution).items():
        found[_free(f"launch-card-{event[:EVENT]}-{squadron[:WHOSE]}", {*taken, *found})] = pages
    return found | _by_carrier("spot-card", spot_cards(day, solution), {*taken, *found})


def _by_carrier(
    stem: str, cards: Mapping[tuple[str, str], tuple[Card, ...]], taken: Collection[str]
) -> dict[str, tuple[Card, ...]]:
    """Cards of events and carriers by a name with the event in it, and the carrier where there are several."""
    found: dict[str, tuple[Card, ...]] = {}
    several = len({carrier for _, carrier in cards}) > 1
    for (event, carrier), pages in cards.items():
        name = f"{stem}-{event[:EVENT]}"
        found[_free(f"{name}-{carrier[:WHOSE]}" if several else name, {*taken, *found})] = pages
    return found


def _lists(day: Day, taken: Collection[str]) -> dict[str, tuple[Card, ...]]:
    """Checklists by type, signs of the deck, radio and recognition."""
    ship = f"{day.word('ship.label')}; flown as {day.word('doctrine.label')}"
    kinds = {each.type: each.word("type.label") for each in (day, *day.parts.values())}
    found: dict[str, tuple[Card, ...]] = {}
    for kind, checklist in day.checklists.items():
        name = _free(f"checklist-card-{kind}", {*taken, *found})
        found[name] = checklist_cards(checklist, day.title, kinds.get(kind, ""), day.hash)
    found["signs-card"] = signs_cards(day.signs, day.title, ship, day.hash)
    found["radio-card"] = radio_cards(day.radio, _called(day), day.words, day.title, ship, day.hash)
    return found


def _called(day: Day) -> list[tuple[str, str]]:
    """Who is called what: each squadron, and each who flies."""
    called: list[tuple[str, str]] = []
    for squadron in day.squadrons.values():
        called.append((squadron.label, squadron.call_sign))
        called += [(f"{seat.side} {seat.name}".strip(), seat.call_sign) for seat in squadron.seats]
    return called


def _free(words: str, taken: Collection[str]) -> str:
    """A name for a file from some words: of letters, figures and hyphens, and not taken, whether or not case counts."""
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    name = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:LONGEST_NAME].strip("-")
    name = re.sub(r"-page-(\d+)$", r"-page\1", name)  # kept for the pages of a card
    number, free = 1, name
    while free in taken:
        number += 1
        free = f"{name}-again-{number}"
    return free
