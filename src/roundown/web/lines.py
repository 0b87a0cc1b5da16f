"""On which line of the plan a finding is mended: the line of the time, ship or value that it is about.

A figure rests on many lines. The one shown is the nearest a person would change: for a circuit what the plan lays over
the doctrine, then the aeroplane, then the doctrine's name; for another carrier and type that of their squadron; for a
take-off the launch of its event, and for a pinned place that place; for the rest the wind, then the ship.
"""

from __future__ import annotations

import re

from roundown.documents import Document
from roundown.figures import Figure, trace
from roundown.findings import Finding
from roundown.plan.facts import Day

CIRCUIT = ("doctrine.circuit.", "type.", "doctrine.")
ORDER = ("doctrine.wind.", "weather.wind", "ship.", "doctrine.", "weather.", "place.")
_EVENT = re.compile(r"^events\.([^.]+)\.(\w+)$")
_PERIOD = re.compile(r"^track\.periods\.(.+)_(launch|recovery)\.\w+$")
_PART = re.compile(r"^parts\.(.+)\.([^.]+)\.(?:circuit|gates|flight|launch_flight)\b")
_LAUNCH = re.compile(r"^(?:parts\..+\.)?launches\.([^.]+)\.(?:seats\.([^.]+)\.)?")
_COMPANY = re.compile(r"^(?:company|stations)\.(.+)\.(\w+)$")


def line_of(day: Day, document: Document, figures: dict[str, Figure], finding: Finding) -> int:
    """The line of the plan's text; 0 where the finding is about the day as a whole.

    document : the plan's; figures : of the solution, by key
    """
    for pattern, table in ((_EVENT, "event"), (_PERIOD, "event"), (_COMPANY, "company")):
        match = pattern.match(finding.key)
        if match is not None:
            return _first(day, document, f"{table}.{match[1]}.{match[2]}", f"{table}.{match[1]}.name")
    match = _LAUNCH.match(finding.key)
    if match is not None:
        event = f"event.{match[1]}"
        pin = (f"{event}.spots.{match[2]}.ahead",) if finding.id.startswith("spot-pin") else ()
        return _first(day, document, *pin, f"{event}.launch", f"{event}.name")
    match = _PART.match(finding.key)
    if match is not None:
        squadrons = day.squadrons.items()
        lines = [
            document.line(("squadrons", name, "type"))
            for name, each in squadrons
            if (each.ship, each.type) == match.groups()
        ]
        return next((line for line in lines if line), 0)
    if finding.key == "track":
        return document.line(("sea_room",))
    given = trace(finding.key, figures, day.givens) if finding.key in figures else day.givens
    circuit = finding.key.startswith("circuit")
    for stem in CIRCUIT if circuit else ORDER:
        lines = [
            document.line(found.origin.path)
            for key, found in given.items()
            if key.startswith(stem) and found.origin.file == document.file and found.origin.path
        ]
        if any(lines):
            return min(line for line in lines if line)
    return document.line(("doctrine", "name")) if circuit else 0


def _first(day: Day, document: Document, *keys: str) -> int:
    """The line of the first of some givens that stands in the plan."""
    for key in keys:
        given = day.givens.get(key)
        if given is not None and given.origin.file == document.file:
            line = document.line(given.origin.path)
            if line:
                return line
    return 0
