"""What is seen, on the brief page: still pictures that need nothing, and a clock to move along where scripts run.

The scripts and their rules are those of the plotting room's page. The scripts are modules of one directory that import
one another; in a page of one file they stand one after another, and those imports are left out.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import resources
from typing import Any
from xml.etree import ElementTree as ET

from roundown.cards.brief_tables import whose
from roundown.cards.circuit_drawing import PAGE_PLAN, Heading, deck_of, plan_drawing
from roundown.cards.elevation_drawing import elevation_drawing
from roundown.cards.markup import Child, element
from roundown.cards.sentences import by_what
from roundown.cards.sight_data import picture_data
from roundown.cards.sight_drawing import SightSheet, sight_drawing
from roundown.errors import NoSolution
from roundown.plan.facts import Day
from roundown.quantities import COCKPIT_DIRECTION, TIME, WIND_OVER_DECK, write
from roundown.sight.facts import SightFacts
from roundown.sight.result import SightResult
from roundown.sight.view import officers_picture, pilots_picture
from roundown.solution import Solution, Unsolved

HEADING = "What the pilot sees"
STILL = SightSheet(300.0, 11.5)
GROOVE = 4.0  # s before the ramp; own choice
STILLS = {"break": "at the break", "turn-in": "at the turn-in", "ninety": "at the ninety"}
STATIC = resources.files("roundown") / "web" / "static"
SCRIPTS = ("sight.js", "sight_canvas.js", "sight_marks.js", "sight_panel.js")
RULES = ("/* what the pilot sees; ", "/* and what the brief has in other words */")
"""How the comments before and after the rules of the section begin in page.css."""
START = """const data = document.getElementById("sight-data").textContent;
new SightPanel(document.getElementById("sight")).show(JSON.parse(data));
"""


@dataclass(frozen=True, eq=False)
class SightView:
    """What is seen on the circuit of one type on one carrier.

    whose : both by name; reason : why nothing is drawn, "" where it is; data : as `picture_data`
    plan, elevation : of that circuit, as markup; "" for the day's own, which stands on the page
    """

    whose: str
    reason: str
    data: dict[str, Any] | None
    plan: str
    elevation: str


def views_of(day: Day, solution: Solution) -> tuple[SightView, ...]:
    """The day's own type and carrier, then the others."""
    return (
        SightView(whose(day), *_seen(solution), "", ""),
        *(SightView(whose(day.parts[name]), *_drawn(day.parts[name], each)) for name, each in solution.parts.items()),
    )


def _seen(solution: Solution) -> tuple[str, dict[str, Any] | None]:
    """Why nothing is seen, and the data."""
    if isinstance(solution.sight, Unsolved):
        return why(solution.sight), None
    return "", picture_data(solution.sight)


def _drawn(day: Day, solution: Solution) -> tuple[str, dict[str, Any] | None, str, str]:
    """The same of another type or carrier, with its plan and elevation."""
    reason, data = _seen(solution)
    circuit, flight = solution.circuit, solution.flight
    if data is None or isinstance(circuit, Unsolved):
        return reason, None, "", ""
    course = write(solution.cockpit.flight_course, COCKPIT_DIRECTION)
    over_deck = write(flight.over_deck, WIND_OVER_DECK)
    heading = Heading(course, by_what(solution.cockpit.shown), over_deck, flight.off_bow)
    plan = plan_drawing(circuit, deck_of(day), heading, PAGE_PLAN, "plan")
    return reason, data, _markup(plan), _markup(elevation_drawing(circuit, deck_of(day), "side"))


def _markup(drawing: ET.Element) -> str:
    return ET.tostring(drawing, encoding="unicode", method="html")


def why(unsolved: Unsolved) -> str:
    """Why nothing is drawn, as a sentence."""
    return f"Nothing is drawn of what is seen: {unsolved.reason.rstrip('.')}."


def sight_section(day: Day, solution: Solution) -> ET.Element:
    """The section of the page."""
    if isinstance(solution.sight, Unsolved):
        return element("section", element("h2", HEADING), element("p", why(solution.sight)))
    return element(
        "section",
        element("style", _rules()),
        element("h2", HEADING),
        element("p", f"{whose(day)}, on the circuit as planned. {_KEY}"),
        element("div", id="sight"),
        element("div", *_stills(solution.sight), class_="sight-stills"),
        element("script", _inside(views_of(day, solution)), id="sight-data", type="application/json"),
        element("script", f"{_scripts()}\n{START}", type="module"),
        class_="sight",
    )


_KEY = (
    "The ship is drawn as boxes, on an even keel; grey in front of her are the pilot’s own nose and wings. "
    f"In the groove: {write(GROOVE, TIME, decimals=0)} before the ramp."
)


def _stills(found: SightResult) -> Iterator[Child]:
    """What the pilot and the signal officer see at four instants."""
    for i, (words, time) in enumerate(_instants(found.facts)):
        try:
            pilot = pilots_picture(found.facts, found.attitudes, time)
            officer = officers_picture(found.facts, found.attitudes, time)
        except NoSolution as error:
            yield element("p", f"No picture {words}: {error}.")
            continue
        yield element(
            "div",
            sight_drawing(pilot, STILL, f"Pilot’s eye {words}", f"pilot-{i}"),
            sight_drawing(officer, STILL, f"Signal officer’s eye {words}", f"officer-{i}"),
        )


def _instants(facts: SightFacts) -> list[tuple[str, float]]:
    """The instants of the stills, in words and on the clock of the flight [s]."""
    groove = ("in the groove", facts.gates["ramp"] - GROOVE)
    return [*((words, facts.gates[name]) for name, words in STILLS.items()), groove]


def _inside(views: tuple[SightView, ...]) -> str:
    """Views as JSON that can stand inside a page."""
    text = json.dumps([vars(view) for view in views], ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.replace("<", "\\u003c")


def _rules() -> str:
    """The rules of the section."""
    before, after = RULES
    text = (STATIC / "page.css").read_text(encoding="utf-8")
    return before + text.partition(before)[2].partition(after)[0]


def _scripts() -> str:
    lines = "".join((STATIC / name).read_text(encoding="utf-8") for name in SCRIPTS).splitlines()
    return "\n".join(line for line in lines if not line.startswith("import "))
