"""Times as people write them in a plan: by the clock, or by the sun, the moon or another time of the same event.

"17:25", "17:25:30", "01:20 next day"; "sunset - 75 min", "moonrise", "launch + 1 h 30 min". Which sunset is meant, and
where the ship then is, is settled when the day is solved (schedule/).
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass

from roundown.errors import QuantityError
from roundown.quantities import CLOCK_TIME, read

SKY = (
    "sunrise", "sunset", "civil dawn", "civil dusk", "nautical dawn", "nautical dusk", "moonrise", "moonset",
)  # fmt: skip
OWN = ("launch", "push", "time on target", "recovery")
_RELATIVE = re.compile(r"^([a-z][a-z ]*?)(?:\s*([+-])\s*(\d.*))?$")
_SPAN = re.compile(r"^(?:(\d+(?:\.\d+)?)\s*h)?\s*(?:(\d+(?:\.\d+)?)\s*min)?\s*(?:(\d+(?:\.\d+)?)\s*s)?$")
_EXAMPLE = 'Write "17:25", "sunset - 75 min" or "launch + 1 h 30 min"'


@dataclass(frozen=True)
class When:
    """A time as written.

    anchor : what it is counted from, of SKY or OWN; "" for the clock
    seconds : after midnight of the plan's date for the clock, otherwise after the anchor; written : as in the plan
    """

    anchor: str
    seconds: float
    written: str


def read_when(text: str) -> When:
    """Read a time. Raises QuantityError with what is allowed and what to do."""
    plain = " ".join(text.replace("\N{MINUS SIGN}", "-").split())
    if plain[:1].isdigit():
        return When("", read(plain, CLOCK_TIME).band.aim, text)
    match = _RELATIVE.match(plain.lower())
    if not match:
        raise QuantityError("not a time", _EXAMPLE)
    anchor = match[1].strip()
    if anchor not in (*SKY, *OWN):
        near = difflib.get_close_matches(anchor, (*SKY, *OWN), n=1)
        raise QuantityError(
            f"a time is counted from the clock or from {', '.join((*SKY, *OWN))}",
            f"Did you mean {near[0]}" if near else _EXAMPLE,
        )
    span = read_span(match[3]) if match[3] else 0.0
    return When(anchor, -span if match[2] == "-" else span, text)


def read_span(text: str) -> float:
    """Read a length of time such as "75 min", "1 h 30 min", "40 s" [s]. Raises QuantityError."""
    match = _SPAN.match(text.strip())
    if not match or not any(match.groups()):
        raise QuantityError("a length of time has its unit: h, min or s", 'Write for example "1 h 30 min"')
    hours, minutes, seconds = (float(part or 0.0) for part in match.groups())
    return 3600.0 * hours + 60.0 * minutes + seconds
