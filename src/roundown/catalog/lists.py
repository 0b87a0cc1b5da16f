"""Catalog data that are lists: checklists by type, the deck directors' signs, the words of the radio.

A step of a checklist may wait for something. What it waits for is either the name of an earlier step, which is one
word, or something outside the aeroplane, told in several words, such as "director's sign".
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from roundown.catalog.load import built_in_documents, check_format, nearest, read_keys
from roundown.catalog.types import Key
from roundown.documents import Document, KeyPath, dotted, shown
from roundown.errors import CatalogError, Complaint

PHASES = {
    "start": "Start",
    "before_take_off": "Before take-off",
    "after_take_off": "After take-off",
    "landing": "Landing",
    "after_landing": "After landing",
}
LONGEST = 120  # letters of one text: more is not read at a glance
MOST = 40  # entries of one list


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
    """All lists known, by name. checklists : named by types; signs, words : named by doctrines."""

    checklists: dict[str, Checklist] = field(default_factory=dict)
    signs: dict[str, tuple[Sign, ...]] = field(default_factory=dict)
    words: dict[str, tuple[Word, ...]] = field(default_factory=dict)


_SOURCE = Key("source", (), "who says so", needed=False)
_NAME = Key("label", (), "what it is of, for people")
STEP_KEYS = (
    Key("do", (), "what is done"),
    Key("verify", (), "what shows that it is done", needed=False),
    Key(
        "after", (), "what it waits for: the name of an earlier step, or an outside cue in several words", needed=False
    ),
    Key("why", (), "why it matters", needed=False),
    Key("name", (), "one word other steps wait for it by", needed=False),
    _SOURCE,
)
SIGN_KEYS = (
    Key("sign", (), "its shape, in words"),
    Key("means", (), "what it says to the pilot"),
    Key("do", (), "what he does", needed=False),
    _SOURCE,
)
WORD_KEYS = (
    Key("word", (), "as it is spoken"),
    Key("means", (), "what it says"),
    _SOURCE,
)
_SINGULAR = {"checklists": "a checklist", "signs": "a set of signs", "words": "a set of words"}
_Row = dict[str, str]


def builtin_lists() -> ListCatalog:
    """The lists that come with the program, to add to. Raises CatalogError, which would be our own fault."""
    known = _builtin()
    return ListCatalog(dict(known.checklists), dict(known.signs), dict(known.words))


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
    """Add the checklists, signs and words of a document to those known; returns what is wrong with them.

    source : where neither the document's head nor the list nor its entry names one; "" makes one necessary
    """
    head = document.data.get("source", source)
    head = head if isinstance(head, str) else source
    complaints: list[Complaint] = []
    known: dict[str, Iterable[str]] = {"checklists": lists.checklists, "signs": lists.signs, "words": lists.words}
    for table, names in known.items():
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
            elif name in names:
                limit = f"there is {_SINGULAR[table]} of that name already"
                complaints.append(document.complain(path, "", limit, "Choose another name"))
            elif table == "checklists":
                found, wrong = _checklist(document, path, raw, head)
                complaints += wrong
                lists.checklists[name] = found
            else:
                rows, wrong = _one_list(document, path, raw, SIGN_KEYS if table == "signs" else WORD_KEYS, head)
                complaints += wrong
                if table == "signs":
                    lists.signs[name] = tuple(
                        Sign(_text(row, "sign"), _text(row, "means"), _text(row, "do"), row["source"]) for row in rows
                    )
                else:
                    lists.words[name] = tuple(
                        Word(_text(row, "word"), _text(row, "means"), row["source"]) for row in rows
                    )
    return complaints


def _checklist(
    document: Document, path: KeyPath, raw: dict[str, Any], source: str
) -> tuple[Checklist, list[Complaint]]:
    own = {key: value for key, value in raw.items() if key not in PHASES}
    values, complaints = _head(document, path, own, (_NAME, _SOURCE), PHASES)
    source = values.get("source", source)
    phases: dict[str, list[_Row]] = {}
    for phase in PHASES:
        if phase in raw:
            phases[phase], wrong = _rows(document, (*path, phase), raw[phase], STEP_KEYS, source)
            complaints += wrong
    if not phases:
        remedy = f"Write [[{dotted(path)}.start]] and under it do"
        complaints.append(document.complain(path, "", "a checklist with nothing in it", remedy))
    complaints += _unsourced(document, path, phases)
    complaints += _waits(document, path, phases)
    steps = {
        phase: tuple(
            Step(*(_text(row, key) for key in ("do", "verify", "after", "why", "source", "name"))) for row in rows
        )
        for phase, rows in phases.items()
    }
    return Checklist(str(path[-1]), values.get("label", str(path[-1])), steps), complaints


def _one_list(
    document: Document, path: KeyPath, raw: dict[str, Any], keys: tuple[Key, ...], source: str
) -> tuple[list[_Row], list[Complaint]]:
    own = {key: value for key, value in raw.items() if key != "list"}
    values, complaints = _head(document, path, own, (_SOURCE,), ("list",))
    rows, wrong = _rows(document, (*path, "list"), raw.get("list", []), keys, values.get("source", source))
    return rows, [*complaints, *wrong, *_unsourced(document, path, {"list": rows})]


def _head(
    document: Document, path: KeyPath, own: dict[str, Any], keys: tuple[Key, ...], lists: Iterable[str]
) -> tuple[_Row, list[Complaint]]:
    """The plain keys of a table that holds lists too."""
    allowed = [*(key.name for key in keys), *lists]
    complaints = []
    for name in [name for name in own if name not in allowed]:
        near = nearest(name, allowed)
        remedy = f"Did you mean {near}" if near else f"Allowed are {', '.join(allowed)}"
        complaints.append(document.complain((*path, name), "", "there is no such key here", remedy))
        del own[name]
    values, wrong = read_keys(document, path, own, keys, "")
    return {name: given.word for name, given in values.items()}, complaints + wrong


def _rows(
    document: Document, path: KeyPath, raw: Any, keys: tuple[Key, ...], source: str
) -> tuple[list[_Row], list[Complaint]]:
    """The entries of one list, and everything wrong with them; each has a source, "" where none is named."""
    example = f"Write [[{dotted(path)}]] and under it {keys[0].name}"
    if not isinstance(raw, list) or not all(isinstance(row, dict) for row in raw):
        return [], [document.complain(path, shown(raw), "a list of tables is wanted", example)]
    if not raw:
        return [], [document.complain(path, "", "a list with nothing in it", example)]
    if len(raw) > MOST:
        limit = f"at most {MOST} entries"
        return [], [document.complain(path, f"{len(raw)} entries", limit, "Leave out what everyone knows")]
    rows: list[_Row] = []
    complaints: list[Complaint] = []
    for i, row in enumerate(raw):
        values, wrong = read_keys(document, (*path, i), row, keys, source)
        complaints += wrong
        for name, given in values.items():
            if len(given.word) > LONGEST:
                limit = f"at most {LONGEST} letters, not {len(given.word)}"
                complaints.append(document.complain((*path, i, name), shown(given.word), limit, "Say it in fewer"))
        texts = {name: given.word.strip() for name, given in values.items()}
        named = next((given.origin.source for given in values.values()), source)
        rows.append({"source": named.strip()} | texts)
    return rows, complaints


def _unsourced(document: Document, path: KeyPath, lists: Mapping[str, list[_Row]]) -> list[Complaint]:
    bare = [(*path, name, i) for name, rows in lists.items() for i, row in enumerate(rows) if not row["source"]]
    if not bare:
        return []
    limit = f"a catalog entry needs a source: {len(bare)} in this list without one"
    remedy = f'Write source = "..." beside it, under [{dotted(path)}], or at the head of the file'
    return [document.complain(bare[0], "", limit, remedy)]


def _waits(document: Document, path: KeyPath, phases: Mapping[str, list[_Row]]) -> list[Complaint]:
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


def _text(row: _Row, key: str) -> str:
    return row.get(key, "")
