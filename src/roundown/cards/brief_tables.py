"""The tables of the brief page: gates, late and early, the ship, and how the large figures came about."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from xml.etree import ElementTree as ET

from roundown.cards.card import Table
from roundown.cards.circuit_drawing import GATE_WORDS
from roundown.cards.markup import Child, element
from roundown.cards.sentences import by_what, sided
from roundown.cards.ship_card import ship_groups
from roundown.day.facts import heading_shown
from roundown.figures import Figure, Tracer, figures_of
from roundown.plan.facts import Day
from roundown.quantities import AHEAD_OF_RAMP, ANGLE, COCKPIT_DIRECTION, DISTANCE, TIME, write
from roundown.recovery.late import Late
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[Child]], name: str) -> ET.Element:
    """A table whose first column names the row; it scrolls by itself where the page is narrow. name : its id."""
    body = [
        element("tr", element("th", row[0], scope="row"), *(element("td", cell) for cell in row[1:])) for row in rows
    ]
    made = element(
        "table",
        element("caption", caption, id=name),
        element("thead", element("tr", *(element("th", head, scope="col") for head in heads))),
        element("tbody", *body),
    )
    return element("div", made, class_="wide", role="region", tabindex="0", aria_labelledby=name)


def as_table(found: Table, caption: str, name: str) -> ET.Element:
    """A card's table on the page. name : its id."""
    rows = [[element("b", cell.text) if cell.strong else cell.text for cell in row] for row in found.rows]
    return table(caption, found.columns, rows, name)


def plain_list(name: str, told: Mapping[str, str]) -> ET.Element:
    """Labels and what is said of them. name : over them."""
    rows = [part for label, text in told.items() for part in (element("dt", label), element("dd", text))]
    return element("div", element("h3", name), element("dl", *rows))


def gates_table(day: Day, circuit: CircuitResult, shown: str) -> ET.Element:
    """Where, how high, how fast at each gate. shown : by what the headings are."""
    text = {found.key: found.text for found in figures_of(circuit)}
    rows = []
    for name, gate in circuit.gates.items():
        rows.append(
            (
                GATE_WORDS[name],
                _time(gate.time),
                sided(gate.ahead, AHEAD_OF_RAMP, "ahead", "astern"),
                sided(gate.port, DISTANCE, "to port", "to starboard"),
                text[f"gates.{name}.height"],
                text[f"gates.{name}.indicated"],
                write(heading_shown(day, gate.heading), COCKPIT_DIRECTION),
                sided(gate.bank, ANGLE, "right", "left"),
            )
        )
    heads = (
        "Gate", "From the break", "From the ramp", "Off the centre line", "Over the sea", "Indicated",
        f"Heading, {by_what(shown)}", "Bank",
    )  # fmt: skip
    return table("Gates in today’s wind", heads, rows, "gates-caption")


def _time(seconds: float) -> str:
    return sided(seconds, TIME, "after", "before")


def whose(day: Day) -> str:
    """Whose circuit it is: type and carrier by name."""
    return f"{day.word('type.label').split(',')[0]} on {day.ship_called}"


PARTS = (
    ("Flight course", "cockpit.flight_course"),
    ("Over the deck", "flight.over_deck"),
    ("Break to roll-out", "circuit.break_to_rollout"),
    ("Abeam", "circuit.abeam"),
    ("Turn-in after", "circuit.rollout_to_turn_in"),
    ("Ramp off the nose", "circuit.ramp_off_nose"),
    ("Bank of the final", "circuit.final_bank"),
)
"""Columns of the table of carriers and types, and the keys they show."""


def parts_table(day: Day, solution: Solution) -> ET.Element:
    """The circuit figures of every carrier and type that fly, the main one first."""
    rows = []
    for name, theirs in {day.part: solution, **solution.parts}.items():
        hers = day if name == day.part else day.parts[name]
        rows.append((whose(hers), *(theirs.figures[key].text if key in theirs.figures else "none" for _, key in PARTS)))
    heads = ("Type and carrier", f"{PARTS[0][0]}, {by_what(solution.cockpit.shown)}", *(head for head, _ in PARTS[1:]))
    return table("Circuits in today’s wind", heads, rows, "parts-caption")


def late_table(circuit: CircuitResult) -> ET.Element:
    """What each delay at the turn-in costs, early first."""
    text = {found.key: found.text for found in figures_of(circuit)}
    rows = []
    for name, late in sorted(circuit.late.items(), key=lambda item: item[1].delay):
        rows.append(
            (
                _delay(late),
                sided(late.rolled_out_ahead, AHEAD_OF_RAMP, "ahead", "astern"),
                text[f"late.{name}.straight_time"],
                text[f"late.{name}.still_to_turn"],
                "ramp not passed"
                if late.off_centre is None
                else sided(late.off_centre, DISTANCE, "to port", "to starboard"),
            )
        )
    heads = (
        "Turn in",
        "Wings level, from the ramp",
        "Straight to the ramp",
        "Still to turn at the ramp",
        "Off the centre line there",
    )
    return table("Turning in late or early, the final turn then as planned", heads, rows, "late-caption")


def _delay(late: Late) -> str:
    return f"{write(abs(late.delay), TIME, decimals=0)} {'late' if late.delay > 0.0 else 'early'}"


def ship_list(day: Day, solution: Solution) -> ET.Element:
    """The ship card's figures, as lists."""
    parts: list[Child] = []
    for group in ship_groups(day, solution, solution.figures):
        rows: list[Child] = []
        for row in group.rows:
            said = " ".join(f"{line.label} {line.text} {line.note}".strip() for line in row[1:])
            first = f"{row[0].text} {row[0].note}".strip()
            rows += [element("dt", row[0].label), element("dd", f"{first} {said}".strip())]
        parts.append(element("div", element("h3", group.name), element("dl", *rows)))
    return element("div", *parts, class_="ship-figures")


def how_details(
    day: Day,
    figures: Mapping[str, Figure],
    large: Iterable[tuple[str, str]],
    summary: str = "How the large figures came about",
    name: str = "givens-caption",
    command: str = "",
) -> ET.Element:
    """How figures came about: sentence and method of each, and the givens they rest on.

    large : label and key of each; summary : what is folded away; name : id of the table
    command : that tells the same of a key, which then stands with each; "" where none is shown
    """
    told: list[Child] = []
    used: dict[str, list[str]] = {}
    named = [(label, figures[key]) for label, key in large if key in figures]
    tracer = Tracer(figures, day.givens)
    for label, figure in named:
        how = figure.how
        told += [
            element("dt", f"{label}: {figure.text}"),
            element("dd", f"{_sentence(how.sentence)} Found from: {how.method}."),
            element("dd", element("code", f"{command} --why {figure.key}")) if command else None,
        ]
        for key in tracer.behind(figure.key):
            used.setdefault(key, []).append(label)
    rows = []
    for key, labels in sorted(used.items()):
        given = day.givens[key]
        source = given.origin.source + (f" (in place of {given.origin.overridden})" if given.origin.overridden else "")
        goes_into = "all" if len(labels) == len(named) else ", ".join(label.lower() for label in labels)
        rows.append((key, given.text, day.place_of(given), source, goes_into))
    heads = ("Given", "Value", "Where it stands", "Who says so", "Goes into")
    return element(
        "details",
        element("summary", summary),
        element("dl", *told, class_="how"),
        table("What they rest on", heads, rows, name),
    )


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."
