"""Catalog data that are lists: checklists by type; by doctrine signs, words of the radio, emergencies, lessons.

A step of a checklist may wait for something. What it waits for is either the name of an earlier step, which is one
word, or something outside the aeroplane, told in several words, such as "director's sign".
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from roundown.catalog.emergencies import Emergency, read_emergencies
from roundown.catalog.keys import Key
from roundown.catalog.lessons import Lesson, read_lessons
from roundown.catalog.load import built_in_documents, check_format, nearest
from roundown.catalog.rows import LONGEST, MOST, SOURCE, Row, read_head, read_list, read_rows, unsourced
from roundown.documents import Document, KeyPath, dotted, shown
from roundown.errors import CatalogError, Complaint

PHASES = {
    "start": "Start",
    "before_take_off": "Before take-off",
    "after_take_off": "After take-off",
    "landing": "Landing",
    "after_landing": "After landing",
}


@dataclass(frozen=True)
class Step:
    """One step of a checklist.

    do : what is done; verify : what shows that it is; why : why it matters, "" where it is plain
    after : name of the earlier step, or the words of the outside cue, it waits for; "" for none
    source : who says so; name : one word other steps wait for it by, "" where none does
    """

    do: str
    verify: str
    after: str
    why: str
    source: str
    name: str = ""


@dataclass(frozen=True)
class Checklist:
    """name : in the catalog; label : for people; phases : steps in their order, by the words of PHASES in theirs."""

    name: str
    label: str
    phases: Mapping[str, tuple[Step, ...]]


@dataclass(frozen=True)
class Sign:
    """A sign, flag or lamp. sign : its shape; means : to the pilot; do : what he does; source : who says so."""

    sign: str
    means: str
    do: str
    source: str


@dataclass(frozen=True)
class Word:
    """A word of the radio, what it means, and who says so."""

    word: str
    means: str
    source: str


@dataclass(frozen=True)
class ListCatalog:
    """All lists known, by name. checklists : named by types; the others by doctrines."""

    checklists: dict[str, Checklist] = field(default_factory=dict)
    signs: dict[str, tuple[Sign, ...]] = field(default_factory=dict)
    words: dict[str, tuple[Word, ...]] = field(default_factory=dict)
    emergencies: dict[str, tuple[Emergency, ...]] = field(default_factory=dict)
    lessons: dict[str, tuple[Lesson, ...]] = field(default_factory=dict)


_NAME = Key("label", (), "what it is of, for people")
STEP_KEYS = (
    Key("do", (), "what is done"),
    Key("verify", (), "what shows that it is done", needed=False),
    Key(
        "after", (), "what it waits for: the name of an earlier step, or an outside cue in several words", needed=False
    ),
    Key("why", (), "why it matters", needed=False),
    Key("name", (), "one word other steps wait for it by", needed=False),
    SOURCE,
)
SIGN_KEYS = (
    Key("sign", (), "its shape, in words"),
    Key("means", (), "what it says to the pilot"),
    Key("do", (), "what he does", needed=False),
    SOURCE,
)
WORD_KEYS = (
    Key("word", (), "as it is spoken"),
    Key("means", (), "what it says"),
    SOURCE,
)
_SINGULAR = {
    "checklists": "a checklist", "signs": "a set of signs", "words": "a set of words",
    "emergencies": "a set of emergencies", "lessons": "a ladder of lessons",
}  # fmt: skip
_Reader = Callable[[Document, KeyPath, dict[str, Any], str], tuple[Any, list[Complaint]]]


def builtin_lists() -> ListCatalog:
    """The lists that come with the program, to add to. Raises CatalogError, which would be our own fault."""
    return ListCatalog(**{name: dict(known) for name, known in vars(_builtin()).items()})


@functools.cache
def _builtin() -> ListCatalog:
    """The same, read once: it is the same for every plan."""
    lists = ListCatalog()
    complaints: list[Complaint] = []
    for document in built_in_documents("procedures"):
        complaints += check_format(document)
        complaints += add_lists(lists, document, "")
    if complaints:
        raise CatalogError(complaints)
    return lists


def add_lists(lists: ListCatalog, document: Document, source: str) -> list[Complaint]:
    """Add the lists of a document to those known; returns what is wrong with them.

    source : where neither the document's head nor the list nor its entry names one; "" makes one necessary
    """
    head = document.data.get("source", source)
    head = head if isinstance(head, str) else source
    complaints: list[Complaint] = []
    readers: dict[str, _Reader] = {
        "checklists": _checklist, "signs": _signs, "words": _words, "emergencies": read_emergencies,
        "lessons": read_lessons,
    }  # fmt: skip
    for table, reader in readers.items():
        known: dict[str, Any] = getattr(lists, table)
        entries = document.data.get(table, {})
        if not isinstance(entries, dict):
            remedy = f"Write [{table}.name] above its keys"
            complaints.append(document.complain((table,), shown(entries), f"{table} are tables", remedy))
            continue
        for name, raw in entries.items():
            path: KeyPath = (table, name)
            if not isinstance(raw, dict):
                limit = f"{_SINGULAR[table]} is a table"
                complaints.append(document.complain(path, shown(raw), limit, f"Write [{table}.{name}]"))
            elif name in known:
                limit = f"there is {_SINGULAR[table]} of that name already"
                complaints.append(document.complain(path, "", limit, "Choose another name"))
            else:
                known[name], wrong = reader(document, path, raw, head)
                complaints += wrong
    return complaints


def _signs(
    document: Document, path: KeyPath, raw: dict[str, Any], source: str
) -> tuple[tuple[Sign, ...], list[Complaint]]:
    rows, wrong = read_list(document, path, raw, SIGN_KEYS, source)
    return tuple(Sign(_text(row, "sign"), _text(row, "means"), _text(row, "do"), row["source"]) for row in rows), wrong


def _words(
    document: Document, path: KeyPath, raw: dict[str, Any], source: str
) -> tuple[tuple[Word, ...], list[Complaint]]:
    rows, wrong = read_list(document, path, raw, WORD_KEYS, source)
    return tuple(Word(_text(row, "word"), _text(row, "means"), row["source"]) for row in rows), wrong


def _checklist(
    document: Document, path: KeyPath, raw: dict[str, Any], source: str
) -> tuple[Checklist, list[Complaint]]:
    own = {key: value for key, value in raw.items() if key not in PHASES}
    values, complaints = read_head(document, path, own, (_NAME, SOURCE), PHASES)
    source = values.get("source", source)
    phases: dict[str, list[Row]] = {}
    for phase in PHASES:
        if phase in raw:
            phases[phase], wrong = read_rows(document, (*path, phase), raw[phase], STEP_KEYS, source)
            complaints += wrong
    if not phases:
        remedy = f"Write [[{dotted(path)}.start]] and under it do"
        complaints.append(document.complain(path, "", "a checklist with nothing in it", remedy))
    complaints += unsourced(document, path, phases)
    complaints += _waits(document, path, phases)
    steps = {
        phase: tuple(
            Step(*(_text(row, key) for key in ("do", "verify", "after", "why", "source", "name"))) for row in rows
        )
        for phase, rows in phases.items()
    }
    return Checklist(str(path[-1]), values.get("label", str(path[-1])), steps), complaints


def _waits(document: Document, path: KeyPath, phases: Mapping[str, list[Row]]) -> list[Complaint]:
    """What is wrong with the names of steps, and with what they wait for."""
    steps = [((*path, phase, i), row) for phase, rows in phases.items() for i, row in enumerate(rows)]
    names = {row["name"] for _, row in steps if "name" in row}
    seen: set[str] = set()
    complaints = []
    for here, row in steps:
        name, after = _text(row, "name"), _text(row, "after")
        if after and " " not in after and after not in seen:
            if after in names:
                limit, remedy = "the step it waits for comes later", "Exchange the two, or wait for an earlier one"
            else:
                near = nearest(after, seen)
                limit = "there is no step of that name"
                remedy = f"Did you mean {near}" if near else 'Write an outside cue in words, as in "director\'s sign"'
            complaints.append(document.complain((*here, "after"), shown(after), limit, remedy))
        if " " in name:
            limit = "a step's name is one word"
            complaints.append(document.complain((*here, "name"), shown(name), limit, f'Write "{name.split(" ")[0]}"'))
        elif name in seen:
            limit = "two steps of one name"
            complaints.append(document.complain((*here, "name"), shown(name), limit, "Change one of them"))
        seen |= {name} if name else set()
    return complaints


def _text(row: Row, key: str) -> str:
    return row.get(key, "")


__all__ = [
    "LONGEST", "MOST", "PHASES", "SIGN_KEYS", "STEP_KEYS", "WORD_KEYS", "Checklist", "Emergency", "Lesson",
    "ListCatalog", "Sign", "Step", "Word", "add_lists", "builtin_lists",
]  # fmt: skip
