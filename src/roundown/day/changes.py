"""What changed between two solved days: verdict, findings, figures, and who flies what.

A figure has changed when its *shown* text has: what nobody can read off a card is no change. Differences of directions
go the shorter way round.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from roundown.figures import Figure
from roundown.findings import Finding
from roundown.plan.facts import Day
from roundown.quantities import (
    ANGLE,
    CLOCK_TIME,
    COCKPIT_DIRECTION,
    MAGNETIC_DIRECTION,
    OFF_BOW,
    TIME,
    TRUE_DIRECTION,
    VARIATION,
    write,
)
from roundown.solution import Solution

# what matters most, in the order it is told; what is in none of them comes last
FIRST = (
    "flight.course", "flight.speed", "flight.over_deck", "cockpit.flight_course", "cockpit.reciprocal",
    "circuit.break_to_rollout", "circuit.abeam", "circuit.rollout_to_turn_in", "circuit.ramp_off_nose",
    "circuit.final_bank", "events.", "track.", "launch_flight.", "cockpit.", "light.", "circuit.", "stations.",
    "parts.",
)  # fmt: skip
_DIRECTIONS = (TRUE_DIRECTION, MAGNETIC_DIRECTION, COCKPIT_DIRECTION)


@dataclass(frozen=True)
class Change:
    """One thing that is not as it was. means : in words; before, after : as shown, "" where there is none.

    apart : after less before, as shown; "" where one of them is no number
    """

    key: str
    means: str
    before: str
    after: str
    apart: str


@dataclass(frozen=True)
class Changes:
    """verdict : before and after; gone, new : findings; figures : most important first; people : who flies what."""

    verdict: tuple[str, str]
    gone: tuple[Finding, ...]
    new: tuple[Finding, ...]
    figures: tuple[Change, ...]
    people: tuple[Change, ...]

    def __bool__(self) -> bool:
        """Whether anything changed."""
        return bool(self.gone or self.new or self.figures or self.people or self.verdict[0] != self.verdict[1])


def changes(before: tuple[Day, Solution], after: tuple[Day, Solution]) -> Changes:
    """What is not in the second day as it is in the first."""
    (day_before, old), (day_after, new) = before, after
    return Changes(
        verdict=(old.verdict, new.verdict),
        gone=_without(old.findings, new.findings),
        new=_without(new.findings, old.findings),
        figures=_figures(_all_figures(old), _all_figures(new)),
        people=_people(_seats(day_before), _seats(day_after)),
    )


def _without(findings: Iterable[Finding], others: Iterable[Finding]) -> tuple[Finding, ...]:
    known = set(others)
    return tuple(finding for finding in findings if finding not in known)


def _all_figures(solution: Solution) -> dict[str, Figure]:
    """Those of the day and of its other carriers and types; the timeline tells again what events and track tell."""
    found = {key: figure for key, figure in solution.figures.items() if not key.startswith("timeline.")}
    for part, theirs in solution.parts.items():
        found |= {
            f"parts.{part}.{key}": figure
            for key, figure in theirs.figures.items()
            if key.startswith(("circuit.", "cockpit.", "flight."))
        }
    return found


def _figures(old: Mapping[str, Figure], new: Mapping[str, Figure]) -> tuple[Change, ...]:
    found = []
    for key in [*old, *(key for key in new if key not in old)]:
        one, other = old.get(key), new.get(key)
        texts = tuple("" if figure is None else figure.text for figure in (one, other))
        if texts[0] != texts[1]:
            known = other or one
            assert known is not None
            found.append(Change(key, known.how.sentence, texts[0], texts[1], _apart(one, other)))
    return tuple(sorted(found, key=lambda change: _rank(change.key)))


def _rank(key: str) -> int:
    if ".seats." in key:  # each person's own follows from the event's
        return len(FIRST) + 1
    return next((i for i, stem in enumerate(FIRST) if key.startswith(stem)), len(FIRST))


def _apart(one: Figure | None, other: Figure | None) -> str:
    """After less before, as shown; "" where one is no number."""
    if one is None or other is None or one.value is None or other.value is None:
        return ""
    kind = other.how.kind
    apart = other.value - one.value
    if kind in _DIRECTIONS:
        apart, kind = math.remainder(apart, math.tau), ANGLE
    elif kind in (OFF_BOW, VARIATION):  # their sign is a side, a difference has none
        kind = ANGLE
    elif kind is CLOCK_TIME:
        kind = TIME
    size = _minutes(abs(apart)) if kind is TIME and abs(apart) >= 60.0 else write(abs(apart), kind)
    return f"{'+' if apart >= 0.0 else '-'}{size}"


def _minutes(seconds: float) -> str:
    whole = round(seconds)
    parts = ((whole // 3600, "h"), (whole // 60 % 60, "min"), (whole % 60, "s"))
    return " ".join(f"{value} {unit}" for value, unit in parts if value)


def _seats(day: Day) -> dict[str, str]:
    """Who flies which seat in each event, and as which of those off."""
    return {
        f"{event.name}, {seat.side}": f"{seat.name or 'nobody named'}, {place} of {len(event.seats)} off"
        for event in day.events
        for place, seat in enumerate(event.seats, 1)
    }


def _people(old: Mapping[str, str], new: Mapping[str, str]) -> tuple[Change, ...]:
    keys = [*old, *(key for key in new if key not in old)]
    return tuple(
        Change(key, "who flies it, and when", old.get(key, ""), new.get(key, ""), "")
        for key in keys
        if old.get(key) != new.get(key)
    )
