"""Emergencies of a doctrine as data: who does what, in order, and what each one does to the launch or the recovery.

Little is published on them (docs/sources.md): every step says whose word it is, and most are nobody's but ours.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from roundown.catalog.keys import Key, word_key
from roundown.catalog.load import read_keys
from roundown.catalog.rows import SOURCE, read_named, read_rows, unsourced
from roundown.documents import Document, KeyPath
from roundown.errors import Complaint
from roundown.quantities import RATIO, TIME

LANDS = ("first", "last", "in turn", "by itself", "not aboard", "as hurt")
"""When the one in trouble comes aboard; "by itself" is with the circuit kept clear, "as hurt" as the doctrine's stack
has the wounded."""
WHO = ("pilot", "leader", "signal officer", "ship", "plane guard")


@dataclass(frozen=True)
class EmergencyStep:
    """who : of WHO; do : what he does, or she; source : who says so."""

    who: str
    do: str
    source: str


@dataclass(frozen=True)
class Emergency:
    """An emergency.

    name : for files; label : for people; steps : in their order
    holds_up : "recovery" or "launch"; lands : of LANDS
    intervals : landings, or take-offs, that the deck stands still for; delay : time beyond that [s]
    barrier : whether a landing ends in the barrier; source : who says that much of it
    """

    name: str
    label: str
    steps: tuple[EmergencyStep, ...]
    holds_up: str
    lands: str
    intervals: float
    delay: float
    barrier: bool
    source: str


EMERGENCY_STEP_KEYS = (
    word_key("who", "who does it", *WHO),
    word_key("do", "what he does, or she"),
    SOURCE,
)
EMERGENCY_KEYS = (
    word_key("name", "one word for it, of small letters, figures and hyphens"),
    word_key("label", "what has happened, for people"),
    word_key("effect.holds_up", "what it holds up", "recovery", "launch", default="recovery"),
    word_key("effect.lands", "when the one in trouble comes aboard", *LANDS),
    Key("effect.intervals", (RATIO,), "landings or take-offs the deck stands still for", low=0.0, high=50.0,
        default="0"),
    Key("effect.delay", (TIME,), "time the deck stands still beyond that", low=0.0, high=7200.0, default="0 s"),
    word_key("effect.barrier", "whether a landing ends in the barrier", "yes", "no", default="no"),
    word_key("effect.source", "who says so of the effect", needed=False),
    SOURCE,
)  # fmt: skip


def read_emergencies(
    document: Document, path: KeyPath, raw: dict[str, Any], source: str
) -> tuple[tuple[Emergency, ...], list[Complaint]]:
    """The emergencies of one set, [emergencies.NAME], and everything wrong with them.

    source : where neither the set nor the emergency nor its step names one
    """
    return read_named(document, path, raw, EMERGENCY_KEYS[0].name, source, _emergency)


def _emergency(
    document: Document, path: KeyPath, raw: dict[str, Any], source: str
) -> tuple[Emergency, list[Complaint]]:
    plain = {key: value for key, value in raw.items() if key != "steps"}
    values, complaints = read_keys(document, path, plain, EMERGENCY_KEYS, source)
    words = {name: given.word for name, given in values.items()}
    source = words.get("source", source)
    rows, wrong = read_rows(document, (*path, "steps"), raw.get("steps", []), EMERGENCY_STEP_KEYS, source)
    complaints += [*wrong, *unsourced(document, path, {"steps": rows})]

    def number(name: str) -> float:
        return values[name].value if name in values else 0.0

    return Emergency(
        name=words.get("name", ""),
        label=words.get("label", ""),
        steps=tuple(EmergencyStep(row.get("who", ""), row.get("do", ""), row["source"]) for row in rows),
        holds_up=words.get("effect.holds_up", "recovery"),
        lands=words.get("effect.lands", "last"),
        intervals=number("effect.intervals"),
        delay=number("effect.delay"),
        barrier=words.get("effect.barrier") == "yes",
        source=words.get("effect.source", source),
    ), complaints
