"""What lies on the table for a solved day: its drawings and tables, made by the same builders as the cards'."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from roundown.cards.brief_page import COURSE, LARGE
from roundown.cards.brief_pass import pass_section
from roundown.cards.brief_recovery import recovery_section
from roundown.cards.brief_tables import gates_table, late_table, parts_table, ship_list, whose
from roundown.cards.circuit_drawing import PAGE_PLAN, Heading, deck_of, plan_drawing
from roundown.cards.clock_drawing import day_clock
from roundown.cards.day_track_drawing import day_track_drawing
from roundown.cards.elevation_drawing import elevation_drawing
from roundown.cards.markup import element
from roundown.cards.sentences import by_what
from roundown.cards.ship_drawing import rose_drawing, track_drawing
from roundown.figures import Figure
from roundown.plan.facts import Day
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved
from roundown.web.deck_sheet import deck_sheet

SHOWN = (*(key for _, key in COURSE), *(key for _, key in LARGE), "flight.over_deck")

TRACK = 300.0  # sheet units, the side of the ship's track


def shown_figures(day: Day, solution: Solution, figures: dict[str, Figure]) -> dict[str, str]:
    """The large figures, as texts by key; those of a circuit that is not there say so, once in each place."""
    missing = {key: "none" for key in SHOWN if key not in figures} | {"circuit.ramp_off_nose": ""}
    found = {key: figures[key].text if key in figures else missing[key] for key in SHOWN}
    return {**found, "cockpit.shown": by_what(solution.cockpit.shown), "whose": whose(day) if day.parts else ""}


def sheets_of(day: Day, solution: Solution, figures: dict[str, Figure]) -> dict[str, str]:
    """Markup by name; the circuit's sheets are missing where there is no circuit."""
    circuit, flight = solution.circuit, solution.flight
    found = {
        "clock": day_clock(solution, "clock"),
        "rose": rose_drawing(flight, day.number("ship.base_course"), 260.0, 16.0, "rose"),
        "track": _track(day, solution),
        "ship": ship_list(day, solution),
        "deck": deck_sheet(day, solution),
    }
    if solution.parts:
        found["parts"] = parts_table(day, solution)
    passes = [made for each, theirs in _parts(day, solution) if (made := pass_section(each, theirs)) is not None]
    if passes:
        found["pass"] = element("div", *passes)
    recovery = recovery_section(day, solution)
    if recovery is not None:
        found["recovery"] = recovery
    if isinstance(circuit, CircuitResult):
        shown = by_what(solution.cockpit.shown)
        heading = Heading(
            figures["cockpit.flight_course"].text, shown, figures["flight.over_deck"].text, flight.off_bow
        )
        found |= {
            "circuit": plan_drawing(circuit, deck_of(day), heading, PAGE_PLAN, "plan"),
            "elevation": elevation_drawing(circuit, deck_of(day), "elevation"),
            "gates": gates_table(day, circuit, solution.cockpit.shown),
            "late": late_table(circuit),
        }
    return {name: ET.tostring(made, encoding="unicode", method="html") for name, made in found.items()}


def _parts(day: Day, solution: Solution) -> list[tuple[Day, Solution]]:
    """The day's own carrier and type, and each other."""
    return [(day, solution), *((day.parts[name], theirs) for name, theirs in solution.parts.items())]


def _track(day: Day, solution: Solution) -> ET.Element:
    """The ship's track of the day; without events her run off from the base track while she would fly."""
    if isinstance(solution.track, Unsolved):
        base_course, base_speed = day.number("ship.base_course"), day.number("ship.base_speed")
        return track_drawing(solution.turn, base_course, base_speed, TRACK, TRACK, 16.0, "track")
    return day_track_drawing(solution.track, day.sea_room, TRACK, TRACK, 14.0, "track")
