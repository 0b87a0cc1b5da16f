"""Whether a lesson's standards can be kept safely: not too low, not too steep, not too near the stall.

*Method:* the worst edge of each standard by itself against the doctrine's limits; the stall with more bank goes with
the root of the load factor, level flight. Own rules: standards that are wide for one type are reckless for another.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from roundown.day.lessons import SolvedLesson
from roundown.findings import Finding, Level
from roundown.quantities import ANGLE, BANK, CLEARANCE, LENGTH, SPEED_MARGIN, write
from roundown.recovery.result import CircuitResult


def lesson_findings(solved: SolvedLesson) -> tuple[Finding, ...]:
    """What is wrong with the standards of a lesson on its day; nothing without a circuit."""
    if not isinstance(solved.circuit, CircuitResult):
        return ()
    return (*_low(solved), *_steep(solved), *_slow(solved, solved.circuit))


def ladder_findings(lessons: Sequence[SolvedLesson]) -> tuple[Finding, ...]:
    """The same of a whole ladder, each rule told once, of the first lesson that breaks it."""
    told: dict[str, Finding] = {}
    for solved in lessons:
        for found in lesson_findings(solved):
            told.setdefault(found.id, found)
    return tuple(told.values())


def _low(solved: SolvedLesson) -> Iterator[Finding]:
    """Heights a pass within the standard may have over the ramp, or over the deck's level at the ninety."""
    day = solved.day
    limit = day.number("doctrine.recovery.ramp_clearance")
    hook = day.number("type.hook.below") if "type.hook.below" in day.givens else 0.0
    deck = day.number("ashore.height" if solved.lesson.where == "ashore" else "ship.deck_height")
    for name, under, what in (
        ("ramp_height", hook, "the hook over the ramp"),
        ("ninety_height", deck, "the wheels over the deck's level at the ninety"),
    ):
        target = solved.targets.get(name)
        if target is None or target.band.low - under >= limit:
            continue
        room, least = target.band.aim - under - limit, write(target.band.low - under, CLEARANCE)
        remedy = f"Allow no more than {write(room, LENGTH)} either way" if room > 0.0 else "Fly it higher"
        yield Finding(
            "lesson-low",
            Level.CAUTION,
            f"lessons.{solved.lesson.name}.{name}",
            f"{solved.lesson.label}: a pass within the standard has {what} by {least}",
            f"{write(limit, CLEARANCE)} is the least",
            f"{remedy}: standards.{name} of the lesson.",
        )


def _steep(solved: SolvedLesson) -> Iterator[Finding]:
    target = solved.targets.get("bank")
    greatest = solved.day.number("doctrine.circuit.greatest_bank")
    if target is None or target.band.high <= greatest:
        return
    room = greatest - target.band.aim
    remedy = f"Allow no more than {write(room, ANGLE)} either way" if room > 0.0 else "Break further out"
    yield Finding(
        "lesson-steep",
        Level.CAUTION,
        f"lessons.{solved.lesson.name}.bank",
        f"{solved.lesson.label}: a pass within the standard has {write(target.band.high, BANK)} of bank",
        f"{write(greatest, BANK)} is the most",
        f"{remedy}: standards.bank of the lesson.",
    )


def _slow(solved: SolvedLesson, circuit: CircuitResult) -> Iterator[Finding]:
    """Speed over the stall with the slowest speed, and with the steepest bank, of a pass within the standard."""
    least = solved.day.number("doctrine.expected.stall_margin")
    margin, stall = circuit.stall_margin_final, circuit.stall_in_final
    speed, bank = stall + margin, circuit.final_bank
    slow = max(
        (
            each.band.aim - each.band.low
            for name in ("ninety_speed", "ramp_speed")
            if (each := solved.targets.get(name))
        ),
        default=0.0,
    )
    if margin >= least > margin - slow:
        yield _near_stall(
            solved, margin - slow, least, f"no more than {write(margin - least, SPEED_MARGIN)} slow", "ninety_speed"
        )
    target = solved.targets.get("bank")
    if target is None or margin < least:
        return
    steeper = stall * math.sqrt(math.cos(bank) / math.cos(min(target.band.high, 1.5)))
    if speed - steeper < least:
        most = math.acos(math.cos(bank) * (stall / (speed - least)) ** 2)
        room = f"no more than {write(most - bank, ANGLE)} of bank either way"
        yield _near_stall(solved, speed - steeper, least, room, "bank")


def _near_stall(solved: SolvedLesson, left: float, least: float, room: str, name: str) -> Finding:
    what = "standards.bank" if name == "bank" else "standards.ninety_speed and ramp_speed"
    return Finding(
        "lesson-near-stall",
        Level.CAUTION,
        f"lessons.{solved.lesson.name}.{name}",
        f"{solved.lesson.label}: a pass within the standard is {write(left, SPEED_MARGIN)} over the stall",
        f"{write(least, SPEED_MARGIN)} is the least",
        f"Allow {room}: {what} of the lesson.",
    )
