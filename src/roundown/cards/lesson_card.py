"""The lesson cards: what is flown in a lesson's conditions, how near is near enough, what to look at, when to go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from roundown.cards.card import Card, Cell, Group, Line, Sentence, Table, shortened
from roundown.cards.marks import ESTIMATED, is_estimated
from roundown.cards.sentences import by_what
from roundown.day.facts import heading_shown
from roundown.day.lesson_findings import lesson_findings
from roundown.day.lessons import SolvedLesson
from roundown.figures import figures_of
from roundown.findings import worst_first
from roundown.plan.facts import Day
from roundown.quantities import (
    ANGLE,
    COCKPIT_DIRECTION,
    HEIGHT_OVER_DECK,
    HEIGHT_OVER_SEA,
    LENGTH,
    SHIP_SPEED,
    TIME,
    WIND_OVER_DECK,
    Kind,
    write,
)
from roundown.solution import Unsolved

LABELS = {
    "turn_in": "Turn-in after wings level",
    "abeam": "Abeam",
    "bank": "Bank of the final",
    "ninety_height": "Height at the ninety",
    "ninety_speed": "Speed at the ninety",
    "ramp_height": "Wheels over the ramp",
    "ramp_speed": "Speed over the ramp",
    "line_up": "Off the centre line",
    "interval": "From break to break",
}
_TOLERANCES: dict[Kind, Kind] = {HEIGHT_OVER_SEA: LENGTH, HEIGHT_OVER_DECK: LENGTH}
EITHER = "\N{PLUS-MINUS SIGN}"


def lesson_cards(day: Day, lessons: Sequence[SolvedLesson]) -> dict[str, tuple[Card, ...]]:
    """A card for each lesson, by "lesson-card-NUMBER-NAME" in the order of the ladder.

    day : the plan's own, not one with a lesson's wind
    """
    return {
        f"lesson-card-{number}-{each.lesson.name}": (_card(day, each, number, len(lessons)),)
        for number, each in enumerate(lessons, 1)
    }


def tolerance_text(solved: SolvedLesson, name: str) -> str:
    """How near is near enough, as on the card: "± 15 ft"."""
    target = solved.targets[name]
    kind = _TOLERANCES.get(target.kind, target.kind)
    wide = target.band.high - target.band.aim
    decimals = 0 if kind not in (TIME, ANGLE) else 1
    return f"{EITHER} {write(wide, kind, decimals=decimals)}"


def _card(day: Day, solved: SolvedLesson, number: int, of: int) -> Card:
    lesson = solved.lesson
    group = Group("", tuple((line,) for line in _lines(solved)))
    look = Table("Look at", ("",), tuple((Cell(f"{i}. {text}"),) for i, text in enumerate(lesson.look, 1)))
    return Card(
        template="lesson-card",
        heading=f"Lesson {number} of {of}",
        title=shortened(lesson.label),
        subtitles=(
            shortened(f"{day.word('type.label').split(',')[0]}; {_where(solved, day)}"),
            shortened(f"Flown as {day.word('doctrine.label')}"),
        ),
        head=tuple(_head(day, solved)),
        groups=(group,) if solved.aims is not None else (),
        sentences=tuple(_sentences(solved)),
        marks=tuple(_marks(day, solved)),
        units=f"Heights over the sea, at the ramp over the deck; speeds indicated. Standards: {_source(solved)}.",
        drawings=(),
        plan=day.hash,
        tables=(look,),
    )


def _marks(day: Day, solved: SolvedLesson) -> Iterator[str]:
    """The worst that stands against the circuit or its standards, and estimates."""
    for found in worst_first((*solved.findings, *lesson_findings(solved)))[:1]:
        value = found.value.removeprefix(f"{solved.lesson.label}: ")
        yield f"{found.level.word.capitalize()}: {value[0].lower()}{value[1:]}; {found.limit}."
    if is_estimated(day, day.givens):
        yield ESTIMATED


def _where(solved: SolvedLesson, day: Day) -> str:
    light = "in the dark" if solved.lesson.light == "dark" else "by day"
    many = "one in the circuit" if solved.lesson.aeroplanes == 1 else f"{solved.lesson.aeroplanes} in the circuit"
    if solved.lesson.where == "ashore":
        field = day.word("ashore.name") if "ashore.name" in day.givens else "a runway"
        return f"{day.ship_called}'s deck marked on {field}, {light}, {many}"
    return f"{day.ship_called} at {write(solved.speed, SHIP_SPEED)}, {light}, {many}"


def _head(day: Day, solved: SolvedLesson) -> Iterator[Line]:
    course = write(heading_shown(day, solved.course), COCKPIT_DIRECTION)
    ashore = solved.lesson.where == "ashore"
    yield Line("Runway" if ashore else "Flight course", course, "course", by_what(day.word("cockpit.headings")))
    wind = "Wind over the field" if ashore else "Wind over the deck"
    yield Line(wind, write(solved.over_deck, WIND_OVER_DECK), "over_deck")
    yield Line("Passes", str(solved.lesson.passes), "passes")


def _lines(solved: SolvedLesson) -> Iterator[Line]:
    """Each figure with a standard, then the ramp off the nose, by which the turn-in is seen."""
    if solved.aims is None:
        return
    stem = f"lessons.{solved.lesson.name}"
    text = {found.key: found.text for found in figures_of(solved.aims)}
    for name in solved.targets:
        yield Line(LABELS[name], text[name], f"{stem}.{name}", tolerance_text(solved, name))
    yield Line("Ramp off the nose, turn-in", text["ramp_off_nose"], f"{stem}.ramp_off_nose")


def _sentences(solved: SolvedLesson) -> Iterator[Sentence]:
    if isinstance(solved.circuit, Unsolved):
        reason = solved.circuit.reason
        yield Sentence(f"No circuit in these conditions: {reason[0].lower()}{reason[1:].rstrip('.')}.")
    aims, lesson = solved.aims, solved.lesson
    if aims is not None and lesson.aeroplanes > 1:
        yield Sentence(
            f"The last is over the ramp {write(aims.last_over_ramp, TIME)} after the first breaks; "
            f"each pass takes {write(aims.break_to_ramp, TIME)} from the break."
        )
    yield Sentence(f"Go on after {lesson.onward}.")


def _source(solved: SolvedLesson) -> str:
    """Whose the standards are; several sources one after the other."""
    return "; ".join(dict.fromkeys(each.source for each in solved.lesson.standards.values()))
