"""Deck and launch on the brief page: each deck load to scale, who stands where, and every squadron's launch."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from roundown.cards.brief_tables import as_table, how_details, plain_list
from roundown.cards.launch_card import past_bow_table, seats_table, settings_list
from roundown.cards.launch_figures import Launching, all_texts, called, launchings, least_in_hand, why_unsolved
from roundown.cards.markup import Child, element
from roundown.cards.spot_card import (
    begins,
    launches_from,
    left_out,
    reads,
    spot_drawing,
    spot_heading,
    spot_legend,
    spot_table,
)
from roundown.launch.result import DeckSpot
from roundown.plan.facts import Day
from roundown.solution import Solution, Unsolved

WIDE, TEXT = 760.0, 15.0  # sheet units of the drawing and of its text
HIGH = (190.0, 330.0, 520.0)  # sheet units, heights that are tried
HOW = (
    ("Weight", "loaded.weight"),
    ("Run needed", "run.distance"),
    ("Run left", "spot.run_left"),
    ("In hand", "run.length_margin"),
    ("Lift-off speed", "run.lift_off_speed"),
    ("Speed at the bow", "run.bow_speed"),
    ("Lowest over the sea", "past_bow.lowest_height"),
    ("First climb after the bow", "past_bow.climb_after"),
)
"""Figures of a seat whose origin is told, and their keys below it."""


def launch_section(day: Day, solution: Solution) -> ET.Element | None:
    """The decks and the launches; None where nothing is launched."""
    found = launchings(day, solution, all_texts(solution))
    if not found:
        return None
    parts: list[Child] = []
    for i, spot in enumerate(solution.spots, 1):
        parts += _deck(day, spot, launches_from(spot, found), i)
    for of in found:
        if isinstance(of.found, Unsolved):
            parts.append(element("p", f"{_name(of)}: no launch is worked out, {why_unsolved(of.found.reason)}."))
    return element("section", element("h2", "Deck and launch"), *parts, *_how(found))


def _deck(day: Day, spot: DeckSpot, launches: tuple[Launching, ...], number: int) -> list[Child]:
    """One deck load. number : of it, for the ids."""
    high = next((each for each in HIGH if reads(spot, WIDE, each, TEXT)), HIGH[-1])
    told = " ".join((*(sentence.text for sentence in begins(launches)), *left_out(spot, launches)))
    parts: list[Child] = [
        element("h3", spot_heading(day, spot)),
        element("p", told) if told else None,
        element(
            "div",
            spot_drawing(spot, WIDE, high, TEXT, f"deck-{number}"),
            class_="wide deck",
            role="region",
            tabindex="0",
            aria_labelledby=f"deck-{number}-title",
        ),
        element("p", spot_legend(spot), class_="small"),
        element(
            "details",
            element("summary", "Where each stands"),
            as_table(spot_table(spot, launches), spot_heading(day, spot), f"spot-{number}"),
        ),
    ]
    for i, of in enumerate(launches, 1):
        if any(of.launched()):
            parts += _launch(of, f"launch-{number}-{i}")
    return parts


def _launch(of: Launching, name: str) -> list[Child]:
    """One squadron's launch. name : id of its table."""
    past = past_bow_table(of)
    return [
        as_table(seats_table(of), f"{_name(of)}: in launch order", name),
        element(
            "div",
            plain_list("Settings", settings_list(of)),
            plain_list(past.name, {row[0].text: row[1].text for row in past.rows}) if past.rows else None,
            class_="launch-words",
        ),
    ]


def _name(of: Launching) -> str:
    return f"{of.event.name[:1].upper()}{of.event.name[1:]}, {of.squadron.label}"


def _how(found: tuple[Launching, ...]) -> list[Child]:
    """How the figures came about, of each carrier and type for who has least in hand, with their keys."""
    told: dict[str, Launching] = {}
    for of in found:
        if least_in_hand(of) is not None:
            told.setdefault(of.stem, of)
    parts: list[Child] = []
    for i, (stem, of) in enumerate(told.items(), 1):
        least = least_in_hand(of)
        assert least is not None
        own = of.seat_key(least[0], "").removeprefix(stem)
        summary = f"How the launch figures came about: {_name(of)}, {called(least[0])}"
        large = [(label, f"{own}{what}") for label, what in HOW]
        part = f" --part {of.day.part}" if stem else ""
        parts.append(
            how_details(of.day, of.solution.figures, large, summary, f"launch-givens-{i}", f"roundown check PLAN{part}")
        )
    return parts
