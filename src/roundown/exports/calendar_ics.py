"""The moments of a day as a calendar (iCalendar, RFC 5545; name and description of the whole, RFC 7986).

An entry keeps its identity as long as plan and moment are the same, and is stamped with the plan's datum: one plan
gives the same bytes whenever it is written.
"""

from __future__ import annotations

import datetime as dt
import uuid

from roundown import __version__
from roundown.exports.chart import degrees
from roundown.exports.heading import description, title_of
from roundown.exports.moments import DatedMoment, dated_moments
from roundown.plan.facts import Day
from roundown.quantities import write_position
from roundown.solution import Solution

LONGEST = 75  # octets of a line, without its end
_OURS = uuid.UUID("6c8ff1c4-3f0b-5d0e-9a51-0b8a6a4e2d17")  # name space of the entries' identities, drawn once


def calendar_bytes(day: Day, solution: Solution) -> bytes:
    """The file as written. Raises NoMomentsError where the day has no moments."""
    moments = dated_moments(day, solution)
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:-//roundown//roundown {__version__}//EN",
        "CALSCALE:GREGORIAN",
        f"NAME:{_text(title_of(day))}",
        f"DESCRIPTION:{_text(description(day))}",
    ]
    for moment in moments:
        lines += _entry(day, moment)
    lines.append("END:VCALENDAR")
    return b"".join(_folded(line) for line in lines)


def _entry(day: Day, dated: DatedMoment) -> list[str]:
    moment = dated.moment
    return [
        "BEGIN:VEVENT",
        f"UID:{uuid.uuid5(_OURS, f'{day.hash}/{dated.key}')}",
        f"DTSTAMP:{_stamp(day.start)}",
        f"DTSTART:{_stamp(dated.instant)}",
        f"SUMMARY:{_text(dated.name)}",
        f"DESCRIPTION:{_text(dated.about)}",
        f"LOCATION:{_text(write_position(moment.latitude, moment.longitude))}",
        f"GEO:{degrees(moment.latitude):.6f};{degrees(moment.longitude):.6f}",
        f"CATEGORIES:{_text(moment.sort.value)}",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    ]


def _stamp(instant: dt.datetime) -> str:
    return instant.astimezone(dt.UTC).strftime("%Y%m%dT%H%M%SZ")


def _text(text: str) -> str:
    """A text with the characters escaped that part values."""
    for character in "\\;,":
        text = text.replace(character, "\\" + character)
    return text


def _folded(line: str) -> bytes:
    """A content line with its end, folded so that no line is too long and no character is parted."""
    parts = [b""]
    for character in line:
        octets = character.encode()
        if len(parts[-1]) + len(octets) > LONGEST:
            parts.append(b" ")
        parts[-1] += octets
    return b"\r\n".join(parts) + b"\r\n"
