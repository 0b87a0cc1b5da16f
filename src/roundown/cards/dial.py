"""The wind dial of the brief page: one circuit for each wind over the deck, chosen by a radio button on an arc.

Which circuit shows is decided by the style sheet alone (`:has(:checked)`); no script runs.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from roundown.cards.markup import element
from roundown.plan.facts import Day
from roundown.quantities import KNOT, WIND_OVER_DECK, WIND_SPEED, write
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved

TODAY = "today"
SWEEP = 200.0  # degrees of the arc from the least to the greatest wind
SPREAD = 10.0 * KNOT  # m/s on either side of the middle wind of the dial
MIDDLE = 30.0 * KNOT
RADIUS = 41.0  # of the buttons, in hundredths of the dial's width
CENTRE = (50.0, 52.0)


@dataclass(frozen=True)
class Position:
    """One position of the dial.

    name : of its button; over_deck : wind [m/s]; text : the same with its unit; to_be_had : by this ship today
    """

    name: str
    over_deck: float
    text: str
    circuit: CircuitResult | Unsolved
    to_be_had: bool


def positions(day: Day, solution: Solution, dial: Mapping[int, CircuitResult | Unsolved]) -> tuple[Position, ...]:
    """Today's wind first, then the others in order."""
    low, high = winds_to_be_had(day, solution)
    found = [
        Position(
            TODAY, solution.flight.over_deck, write(solution.flight.over_deck, WIND_OVER_DECK), solution.circuit,
            to_be_had=True,
        )
    ]  # fmt: skip
    for knots, circuit in sorted(dial.items()):
        wind = knots * KNOT
        text = write(wind, WIND_OVER_DECK, decimals=0)
        found.append(Position(f"{knots}-kt", wind, text, circuit, to_be_had=low <= wind <= high))
    return tuple(found)


def winds_to_be_had(day: Day, solution: Solution) -> tuple[float, float]:
    """Least and greatest wind over the deck from dead ahead that the ship can make today, head to wind [m/s]."""
    wind = solution.flight.wind_speed
    return wind + day.number("ship.least_speed"), wind + day.number("ship.greatest_speed")


def angle_of(over_deck: float) -> float:
    """Where a wind stands on the arc, clockwise from its top [degrees]; beyond the ends it stays just past the end."""
    return max(-1.08, min(1.08, (over_deck - MIDDLE) / SPREAD)) * SWEEP / 2.0


def dial_fieldset(day: Day, solution: Solution, found: tuple[Position, ...]) -> ET.Element:
    """The buttons on their arc, with a needle; today's in the middle."""
    low, high = winds_to_be_had(day, solution)
    span = (
        f"With {write(solution.flight.wind_speed, WIND_SPEED)} of natural wind this ship can have "
        f"{write(low, WIND_OVER_DECK)} to {write(high, WIND_OVER_DECK)} from dead ahead."
    )
    outside = any(not position.to_be_had for position in found)
    return element(
        "fieldset",
        element("legend", "Wind over the deck"),
        element(
            "div",
            _face(),
            *(_button(position) for position in found),
            class_="dial",
        ),
        element("p", span, " † not to be had today." if outside else None, class_="dial-note"),
        class_="wind",
    )


def dial_rules(found: tuple[Position, ...]) -> str:
    """The style rules that show the circuit chosen and turn the needle to it."""
    shown = ", ".join(f"body:has(#wind-{p.name}:checked) .at-{p.name}" for p in found)
    needle = "\n".join(
        f"body:has(#wind-{p.name}:checked) .needle {{ transform: rotate({angle_of(p.over_deck):.1f}deg); }}"
        for p in found
    )
    return f"{shown} {{ display: contents; }}\n{needle}\n"


def _face() -> ET.Element:
    """The arc with its ticks, and the needle; for the eye only, the buttons say it all."""
    ticks = []
    for knots in range(20, 41):
        angle = math.radians(angle_of(knots * KNOT))
        inner = 29.5 if knots % 2 == 0 else 31.0
        ends = [(CENTRE[0] + r * math.sin(angle), CENTRE[1] - r * math.cos(angle)) for r in (inner, 33.0)]
        ticks.append(f"M{ends[0][0]:.1f} {ends[0][1]:.1f}L{ends[1][0]:.1f} {ends[1][1]:.1f}")
    return element(
        "svg",
        element("path", d="".join(ticks), fill="none", stroke="currentColor", stroke_width="0.5"),
        element(
            "path",
            class_="needle",
            d=f"M{CENTRE[0] - 1.4:.1f} {CENTRE[1]:.1f}L{CENTRE[0]:.1f} {CENTRE[1] - 28:.1f}"
            f"L{CENTRE[0] + 1.4:.1f} {CENTRE[1]:.1f}Z",
        ),
        element("circle", cx=CENTRE[0], cy=CENTRE[1], r=2.6),
        viewBox="0 0 100 76",
        aria_hidden="true",
        focusable="false",
    )


def _button(position: Position) -> ET.Element:
    today = position.name == TODAY
    angle = math.radians(angle_of(position.over_deck))
    across, down = CENTRE[0] + RADIUS * math.sin(angle), CENTRE[1] - RADIUS * math.cos(angle)
    if today:
        across, down = CENTRE[0], CENTRE[1] + 15.0
    mark = None
    if not position.to_be_had:
        mark = element("span", "†", element("span", " not to be had today", class_="heard"), class_="dagger")
    button = element("input", type="radio", name="wind", id=f"wind-{position.name}", value=position.name)
    if today:
        button.set("checked", "checked")
    return element(
        "label",
        button,
        element("span", f"Today: {position.text}" if today else position.text, mark, class_="wind-text"),
        class_="stop today" if today else "stop",
        for_=f"wind-{position.name}",
        style=f"left:{across:.1f}%;top:{down / 0.76:.1f}%",
    )
