"""Reading a table of the catalog that holds lists: its own plain keys, and the entries with their sources."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Protocol, TypeVar

from roundown.catalog.keys import Key
from roundown.catalog.load import nearest, read_keys
from roundown.documents import Document, KeyPath, dotted, shown
from roundown.errors import Complaint

LONGEST = 120  # letters of one text: more is not read at a glance
MOST = 40  # entries of one list
NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
Row = dict[str, str]
SOURCE = Key("source", (), "who says so", needed=False)


class Named(Protocol):
    """An entry with a name of its own."""

    @property
    def name(self) -> str:
        """For files, and to speak of it."""


Entry = TypeVar("Entry", bound=Named)


def read_head(
    document: Document, path: KeyPath, own: dict[str, Any], keys: tuple[Key, ...], lists: Iterable[str]
) -> tuple[Row, list[Complaint]]:
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


def tables_of(document: Document, path: KeyPath, raw: Any, first: str) -> tuple[list[dict[str, Any]], list[Complaint]]:
    """The entries of one list as they stand; none where they are no list of tables, or too many.

    first : key of an entry, for the remedy
    """
    example = f"Write [[{dotted(path)}]] and under it {first}"
    if not isinstance(raw, list) or not all(isinstance(row, dict) for row in raw):
        return [], [document.complain(path, shown(raw), "a list of tables is wanted", example)]
    if not raw:
        return [], [document.complain(path, "", "a list with nothing in it", example)]
    if len(raw) > MOST:
        limit = f"at most {MOST} entries"
        return [], [document.complain(path, f"{len(raw)} entries", limit, "Leave out what everyone knows")]
    return raw, []


def read_rows(
    document: Document, path: KeyPath, raw: Any, keys: tuple[Key, ...], source: str
) -> tuple[list[Row], list[Complaint]]:
    """The entries of one list, and everything wrong with them; each has a source, "" where none is named."""
    tables, complaints = tables_of(document, path, raw, keys[0].name)
    rows: list[Row] = []
    for i, row in enumerate(tables):
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


def unsourced(document: Document, path: KeyPath, lists: Mapping[str, list[Row]]) -> list[Complaint]:
    """One complaint where entries of some lists, by name, have no source; it counts them."""
    bare = [(*path, name, i) for name, rows in lists.items() for i, row in enumerate(rows) if not row["source"]]
    if not bare:
        return []
    limit = f"a catalog entry needs a source: {len(bare)} in this list without one"
    remedy = f'Write source = "..." beside it, under [{dotted(path)}], or at the head of the file'
    return [document.complain(bare[0], "", limit, remedy)]


def read_list(
    document: Document, path: KeyPath, raw: dict[str, Any], keys: tuple[Key, ...], source: str
) -> tuple[list[Row], list[Complaint]]:
    """A table that holds one list, named `list`, of entries that are texts; arguments as `read_rows`."""
    own = {key: value for key, value in raw.items() if key != "list"}
    values, complaints = read_head(document, path, own, (SOURCE,), ("list",))
    rows, wrong = read_rows(document, (*path, "list"), raw.get("list", []), keys, values.get("source", source))
    return rows, [*complaints, *wrong, *unsourced(document, path, {"list": rows})]


def read_named(
    document: Document,
    path: KeyPath,
    raw: dict[str, Any],
    first: str,
    source: str,
    read_one: Callable[[Document, KeyPath, dict[str, Any], str], tuple[Entry, list[Complaint]]],
) -> tuple[tuple[Entry, ...], list[Complaint]]:
    """A table that holds one list, named `list`, of entries with names of their own, and everything wrong with them.

    first : key of an entry, for the remedy; source : where neither the table nor the entry names one
    read_one : reads the entry at a path, with the source it has where it names none
    """
    own = {key: value for key, value in raw.items() if key != "list"}
    head, complaints = read_head(document, path, own, (SOURCE,), ("list",))
    source = head.get("source", source)
    here: KeyPath = (*path, "list")
    tables, wrong = tables_of(document, here, raw.get("list", []), first)
    complaints += wrong
    found = []
    for i, table in enumerate(tables):
        made, wrong = read_one(document, (*here, i), table, source)
        found.append(made)
        complaints += wrong
    return tuple(found), complaints + _own_names(document, here, [each.name for each in found])


def _own_names(document: Document, path: KeyPath, names: list[str]) -> list[Complaint]:
    """What is wrong with the names of the entries of a list, in their order: they make names of files, none twice."""
    complaints = []
    for i, name in enumerate(names):
        here = (*path, i, "name")
        if not NAME.fullmatch(name):
            limit = "a name here is small letters, figures and hyphens"
            complaints.append(document.complain(here, shown(name), limit, 'Write it as "no-radio"'))
        elif name in names[:i]:
            complaints.append(document.complain(here, shown(name), "two entries of one name", "Change one of them"))
    return complaints
