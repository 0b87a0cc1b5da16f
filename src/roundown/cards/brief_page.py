"""brief.html: the whole brief in one file that opens anywhere, without a line out; only the clock edge has a script."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import timedelta
from importlib import resources
from xml.etree import ElementTree as ET

from roundown import CAUTION
from roundown.cards.brief_day import light_section, parts_section, sources_section, timeline_section, unsolved_sentence
from roundown.cards.brief_launch import launch_section
from roundown.cards.brief_pass import pass_section
from roundown.cards.brief_recovery import recovery_section
from roundown.cards.brief_sight import sight_section
from roundown.cards.brief_tables import gates_table, how_details, late_table, ship_list
from roundown.cards.circuit_drawing import PAGE_PLAN, Heading, deck_of, plan_drawing
from roundown.cards.dial import TODAY, Position, dial_fieldset, dial_rules, positions
from roundown.cards.elevation_drawing import elevation_drawing
from roundown.cards.marks import ESTIMATED, is_estimated
from roundown.cards.markup import Child, element, html_text
from roundown.cards.sentences import by_what, late_sentence, no_circuit
from roundown.cards.ship_drawing import rose_drawing, track_drawing
from roundown.figures import figures_of
from roundown.findings import Finding
from roundown.plan.facts import Day
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved

WORST = 3  # findings shown before the rest is folded away
COURSE = (("Flight course", "cockpit.flight_course"), ("Reciprocal", "cockpit.reciprocal"))
LARGE = (
    ("Break to roll-out", "circuit.break_to_rollout"),
    ("Abeam", "circuit.abeam"),
    ("Turn-in after roll-out", "circuit.rollout_to_turn_in"),
    ("Ramp off the nose", "circuit.ramp_off_nose"),
    ("Bank of the final", "circuit.final_bank"),
)


def brief_page(day: Day, solution: Solution, dial: Mapping[int, CircuitResult | Unsolved]) -> bytes:
    """The page. dial : the circuit for each wind over the deck of the dial [kt]."""
    found = positions(day, solution, dial)
    page = element(
        "html",
        element(
            "head",
            element("meta", charset="utf-8"),
            element("meta", name="viewport", content="width=device-width, initial-scale=1"),
            element("title", f"{day.title}: brief"),
            element("link", rel="icon", href="data:,"),
            element("style", _style() + dial_rules(found)),
        ),
        element("body", _head(day, solution), _main(day, solution, found), _foot(day)),
        lang="en",
    )
    return html_text(page).encode()


def _style() -> str:
    return (resources.files("roundown.cards") / "templates" / "brief.css").read_text(encoding="utf-8")


def _head(day: Day, solution: Solution) -> ET.Element:
    local = day.start + timedelta(seconds=day.offset)
    when = f"{local:%d} {local:%B} {local:%Y}, {local:%H:%M} by the ship's clock".lstrip("0")
    labels = (day.word("type.label"), day.word("ship.label"), day.word("doctrine.label"))
    return element(
        "header",
        element("h1", day.title),
        element("p", f"{'; '.join(labels)}. {when}.", class_="of-the-day"),
        element("p", element("strong", solution.verdict), class_="verdict"),
        element("p", ESTIMATED, class_="of-the-day") if is_estimated(day, day.givens) else None,
    )


def _worst(solution: Solution) -> ET.Element | None:
    """The worst findings, the rest folded away."""
    worst, rest = solution.findings[:WORST], solution.findings[WORST:]
    if not worst:
        return None
    return element(
        "section",
        element("h3", "Findings, worst first"),
        _findings(worst),
        element("details", element("summary", f"The other findings ({len(rest)})"), _findings(rest)) if rest else None,
        class_="worst",
    )


def _findings(findings: Sequence[Finding]) -> ET.Element:
    return element(
        "ul",
        *(
            element("li", element("b", f"{found.level.word}: "), f"{found.value}; {found.limit}. {found.remedy}")
            for found in findings
        ),
        class_="findings",
    )


def _main(day: Day, solution: Solution, found: tuple[Position, ...]) -> ET.Element:
    circuit = solution.circuit
    below: list[Child] = []
    if isinstance(circuit, CircuitResult):
        below = [
            element("h2", "The circuit, gate by gate"),
            gates_table(day, circuit, solution.cockpit.shown),
            element("h2", "Late and early"),
            late_table(circuit),
        ]
    base_course, base_speed = day.number("ship.base_course"), day.number("ship.base_speed")
    return element(
        "main",
        element(
            "section",
            element("h2", "The circuit in this wind", class_="heard"),
            *(_position(day, solution, position) for position in found),
            dial_fieldset(day, solution, found),
            _worst(solution),
            class_="circuit",
        ),
        element("section", *below) if below else None,
        parts_section(day, solution),
        sight_section(day, solution),
        pass_section(day, solution),
        *(pass_section(day.parts[part], theirs) for part, theirs in solution.parts.items()),
        launch_section(day, solution),
        recovery_section(day, solution),
        timeline_section(day, solution),
        light_section(day, solution),
        element(
            "section",
            element("h2", "The ship"),
            element("p", solution.flight.explanation),
            element(
                "div",
                element(
                    "div",
                    rose_drawing(solution.flight, base_course, 260.0, 16.0, "rose"),
                    track_drawing(solution.turn, base_course, base_speed, 300.0, 300.0, 16.0, "track"),
                    class_="ship-drawings",
                ),
                ship_list(day, solution),
                class_="ship",
            ),
            element("p", "Courses and bearings true unless marked; wind at deck height.", class_="small"),
        ),
        element("section", element("h2", "How"), how_details(day, solution.figures, (*COURSE, *LARGE))),
        sources_section(day),
        unsolved_sentence(solution),
    )


def _position(day: Day, solution: Solution, position: Position) -> ET.Element:
    """The plan, the elevation and the large figures for one position of the dial."""
    courses = [(label, solution.figures[key].text) for label, key in COURSE]
    shown = by_what(solution.cockpit.shown)
    circuit = position.circuit
    missing = None
    if not position.to_be_had:
        missing = element("p", f"{position.text} over the deck is not to be had today.", class_="missing")
    if isinstance(circuit, Unsolved):
        findings = solution.findings if position.name == TODAY else ()
        sheet: list[Child] = [element("p", no_circuit(circuit, findings), class_="no-circuit")]
        numbers, sentence = [], None
    else:
        heading = Heading(courses[0][1], shown, position.text, solution.flight.off_bow)
        plan = plan_drawing(circuit, deck_of(day), heading, PAGE_PLAN, f"plan-{position.name}")
        side = elevation_drawing(circuit, deck_of(day), f"side-{position.name}")
        sheet = [plan, side, element("p", _KEY, class_="small")]
        text = {f"circuit.{found.key}": found.text for found in figures_of(circuit)}
        numbers = [(label, text[key]) for label, key in LARGE]
        sentence = element("p", *_unbroken(late_sentence(circuit).text), class_="cost")
    return element(
        "div",
        element("div", *sheet, class_="sheet"),
        element("div", missing, _large(courses, shown, numbers), sentence, class_="numbers"),
        class_=f"position at-{position.name}",
    )


_KEY = (
    "Seen from the ship: solid, the way flown; dashed, turned in late; dash and point, the line of sight to the ramp. "
    "Times from the break; rings and long ticks every 500 yd; N is true north."
)


def _unbroken(sentence: str) -> list[Child]:
    """A sentence whose figures stay on one line with their units."""
    parts = re.split(r"(\d[\d,.]* (?:s|yd|deg)\b)", sentence)
    return [element("span", part, class_="unbroken") if i % 2 else part for i, part in enumerate(parts)]


def _large(courses: list[tuple[str, str]], shown: str, numbers: list[tuple[str, str]]) -> ET.Element:
    """The five large figures, two of them in two parts: course and reciprocal, turn-in by the watch and by eye."""
    rows: list[Child] = [
        element("dt", "Flight course, reciprocal"),
        element("dd", element("span", courses[0][1]), element("span", courses[1][1]), element("small", shown)),
    ]
    text = dict(numbers)
    if text:
        for label in ("Break to roll-out", "Abeam"):
            rows += [element("dt", label), element("dd", element("span", text[label]))]
        rows += [
            element("dt", "Turn-in after roll-out, ramp off the nose"),
            element("dd", element("span", text["Turn-in after roll-out"]), element("span", text["Ramp off the nose"])),
            element("dt", "Bank of the final"),
            element("dd", element("span", text["Bank of the final"])),
        ]
    return element("dl", *rows, class_="large")


def _foot(day: Day) -> ET.Element:
    return element(
        "footer",
        element("p", CAUTION),
        element("p", "Plan ", element("code", day.hash), ". Units: kt, yd, ft, nm, s; speeds indicated."),
    )
