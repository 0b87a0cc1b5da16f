"""The ladder of lessons of a doctrine as data: conditions of each, what to look at, and how near is near enough.

A standard is a tolerance either way round the figure that is solved for the lesson's own wind and deck. None is
published; every one of them is an assumption, and says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from roundown.catalog.keys import Key, word_key
from roundown.catalog.load import read_keys
from roundown.catalog.rows import LONGEST, SOURCE, read_named
from roundown.documents import Document, KeyPath, shown
from roundown.errors import Complaint, QuantityError
from roundown.figures import Given
from roundown.quantities import ANGLE, DISTANCE, FOOT, KNOT, LENGTH, RATIO, SPEED_MARGIN, TIME, YARD, Kind, read_wind

MOST_LOOKS, LONGEST_LOOK = 4, 90  # lines on a card, and letters of each
LONGEST_LABEL = 50  # letters
STANDARD_KINDS: dict[str, tuple[Kind, str, float]] = {
    "turn_in": (TIME, "turn-in, early or late", 30.0),
    "abeam": (DISTANCE, "downwind leg, nearer or wider", 1000.0 * YARD),
    "bank": (ANGLE, "bank of the final turn, more or less", 0.5),
    "ninety_height": (LENGTH, "height at the ninety, high or low", 300.0 * FOOT),
    "ninety_speed": (SPEED_MARGIN, "speed at the ninety, fast or slow", 40.0 * KNOT),
    "ramp_height": (LENGTH, "wheels over the ramp, high or low", 60.0 * FOOT),
    "ramp_speed": (SPEED_MARGIN, "speed over the ramp, fast or slow", 40.0 * KNOT),
    "line_up": (LENGTH, "off the centre line over the ramp, either side", 100.0 * FOOT),
    "interval": (TIME, "behind the one ahead, near or far", 60.0),
}
"""Tolerances by name: kind, meaning, the most allowed."""


@dataclass(frozen=True)
class Standard:
    """tolerance : either way [SI], nil or more; source : who says so."""

    tolerance: float
    source: str


@dataclass(frozen=True)
class Lesson:
    """A lesson.

    name : for files; label : for people; where : "ashore" or "ship"; light : "day" or "dark"
    wind : "day" for that of the plan, "calm", or as in "070/12 kt" at 10 m
    aeroplanes : how many in the circuit; passes : how many each flies; onward : when to go on to the next lesson
    look : what to look at, in order; standards : by the names of STANDARD_KINDS
    source : who says the rest
    """

    name: str
    label: str
    where: str
    wind: str
    aeroplanes: int
    light: str
    passes: int
    onward: str
    look: tuple[str, ...]
    standards: Mapping[str, Standard]
    source: str


LESSON_KEYS = (
    word_key("name", "one word for it, of small letters, figures and hyphens"),
    word_key("label", "what it is, for people"),
    word_key("where", "round a marked runway, or the ship", "ashore", "ship"),
    word_key("wind", 'the plan\'s ("day"), "calm", or as in "070/12 kt"', default="day"),
    Key("aeroplanes", (RATIO,), "how many are in the circuit", low=1.0, high=12.0, default="1"),
    word_key("light", "by day or in the dark", "day", "dark", default="day"),
    Key("passes", (RATIO,), "how many passes each one flies", low=1.0, high=50.0),
    word_key("onward", "when to go on to the next lesson"),
    *(
        Key(f"standards.{name}", (kind,), f"allowed either way: {meaning}", low=0.0, high=most, needed=False)
        for name, (kind, meaning, most) in STANDARD_KINDS.items()
    ),
    SOURCE,
)


def read_lessons(
    document: Document, path: KeyPath, raw: dict[str, Any], source: str
) -> tuple[tuple[Lesson, ...], list[Complaint]]:
    """The lessons of one ladder, [lessons.NAME], in their order, and everything wrong with them.

    source : where neither the ladder nor the lesson nor the value names one
    """
    return read_named(document, path, raw, LESSON_KEYS[0].name, source, _lesson)


def _lesson(document: Document, path: KeyPath, raw: dict[str, Any], source: str) -> tuple[Lesson, list[Complaint]]:
    named = raw.get("source", source)
    source = named if isinstance(named, str) else source
    plain = {key: value for key, value in raw.items() if key != "look"}
    values, complaints = read_keys(document, path, plain, LESSON_KEYS, source)
    words = {name: given.word for name, given in values.items()}
    look, wrong = _look(document, (*path, "look"), raw.get("look", []))
    complaints += [*wrong, *_wind(document, path, values.get("wind")), *_whole(document, values)]
    standards = {
        name: Standard(values[f"standards.{name}"].value, values[f"standards.{name}"].origin.source.strip())
        for name in STANDARD_KINDS
        if f"standards.{name}" in values
    }
    if not standards:
        remedy = 'Write standards = { turn_in = "3 s" }'
        complaints.append(document.complain((*path, "standards"), "", "a lesson without a standard", remedy))
    if not source.strip() or not all(each.source for each in standards.values()):
        remedy = 'Write source = "..." under it, or at the head of the file'
        complaints.append(document.complain(path, "", "a catalog entry needs a source", remedy))
    for name, most in (("label", LONGEST_LABEL), ("onward", LONGEST)):
        if len(words.get(name, "")) > most:
            limit = f"at most {most} letters, not {len(words[name])}"
            complaints.append(document.complain((*path, name), shown(words[name]), limit, "Say it in fewer"))
    return Lesson(
        name=words.get("name", ""),
        label=words.get("label", ""),
        where=words.get("where", "ship"),
        wind=words.get("wind", "day"),
        aeroplanes=round(values["aeroplanes"].value) if "aeroplanes" in values else 1,
        light=words.get("light", "day"),
        passes=round(values["passes"].value) if "passes" in values else 1,
        onward=words.get("onward", ""),
        look=look,
        standards=standards,
        source=source.strip(),
    ), complaints


def _look(document: Document, path: KeyPath, raw: Any) -> tuple[tuple[str, ...], list[Complaint]]:
    if not isinstance(raw, list) or not all(isinstance(text, str) and text.strip() for text in raw) or not raw:
        limit = "texts in a list are wanted: what to look at"
        return (), [document.complain(path, shown(raw) if raw else "", limit, 'Write look = ["the clock at roll-out"]')]
    if len(raw) > MOST_LOOKS:
        limit = f"at most {MOST_LOOKS} things to look at"
        return (), [document.complain(path, f"{len(raw)} texts", limit, "Leave the least of them for another lesson")]
    wrong = [
        document.complain((*path, i), shown(text), f"one line of at most {LONGEST_LOOK} letters", "Say it in fewer")
        for i, text in enumerate(raw)
        if len(text) > LONGEST_LOOK or len(text.splitlines()) > 1
    ]
    return tuple(text.strip() for text in raw), wrong


def _wind(document: Document, path: KeyPath, given: Given | None) -> list[Complaint]:
    if given is None or given.word == "day":
        return []
    try:
        speed = read_wind(given.word)[1]
    except QuantityError as error:
        remedy = 'Write "day", "calm", or a wind such as "070/12 kt"'
        return [document.complain((*path, "wind"), shown(given.word), error.limit, remedy)]
    if speed > 100.0 * KNOT:
        limit = "a wind of at most 100 kt is allowed"
        return [document.complain((*path, "wind"), shown(given.word), limit, "Look at the figure and its unit")]
    return []


def _whole(document: Document, values: Mapping[str, Given]) -> list[Complaint]:
    return [
        document.complain(given.origin.path, shown(given.text), "a whole number is wanted", "Leave out the fraction")
        for name, given in values.items()
        if name in ("aeroplanes", "passes") and given.value != round(given.value)
    ]
