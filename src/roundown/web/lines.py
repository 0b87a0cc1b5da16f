"""On which line of the plan a finding is mended: the line of the time, ship or value that it is about.

A figure rests on many lines. The one shown is the nearest a person would change: what the plan says of the procedure or
the aeroplane, then the wind, then the ship, then the rest.
"""

from __future__ import annotations

import re

from roundown.documents import Document
from roundown.figures import Figure, trace
from roundown.findings import Finding
from roundown.plan.facts import Day

ORDER = ("doctrine.circuit.", "doctrine.", "type.", "weather.wind", "ship.", "weather.", "place.")
_EVENT = re.compile(r"^events\.([^.]+)\.(\w+)$")
_PERIOD = re.compile(r"^track\.periods\.(.+)_(launch|recovery)\.\w+$")
_COMPANY = re.compile(r"^company\.(.+)\.(\w+)$")


def line_of(day: Day, document: Document, figures: dict[str, Figure], finding: Finding) -> int:
    """The line of the plan's text; 0 where the finding is about the day as a whole.

    document : the plan's; figures : of the solution, by key
    """
    for pattern, table in ((_EVENT, "event"), (_PERIOD, "event"), (_COMPANY, "company")):
        match = pattern.match(finding.key)
        if match is not None:
            return _first(day, document, f"{table}.{match[1]}.{match[2]}", f"{table}.{match[1]}.name")
    if finding.key == "track":
        return document.line(("sea_room",))
    given = trace(finding.key, figures, day.givens) if finding.key in figures else day.givens
    for stem in ORDER:
        lines = [
            document.line(found.origin.path)
            for key, found in given.items()
            if key.startswith(stem) and found.origin.file == document.file and found.origin.path
        ]
        if any(lines):
            return min(line for line in lines if line)
    return 0


def _first(day: Day, document: Document, *keys: str) -> int:
    """The line of the first of some givens that stands in the plan."""
    for key in keys:
        given = day.givens.get(key)
        if given is not None and given.origin.file == document.file:
            line = document.line(given.origin.path)
            if line:
                return line
    return 0
