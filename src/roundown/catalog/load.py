"""Reading catalogs: the built-in one, and the tables a user adds in a file or in the plan itself."""

from __future__ import annotations

import difflib
import functools
from collections.abc import Iterable, Iterator
from importlib import resources
from itertools import pairwise
from typing import Any

from roundown.catalog.possible import impossible
from roundown.catalog.types import DOCTRINE_KEYS, SINGULAR, TABLES, Catalog, Entry, Key
from roundown.documents import Document, KeyPath, dotted, parse_document, shown
from roundown.errors import CatalogError, Complaint, QuantityError
from roundown.figures import Given, Givens, Origin, given_number, given_word
from roundown.quantities import Kind, read, write

FORMAT = 1
GIVEN_IN_PLAN = "given in the plan"
DEFAULT = Origin("built-in", (), "default: used where nothing is given; common practice, no source")


def builtin_catalog() -> Catalog:
    """The catalog that comes with the program, to add to. Raises CatalogError, which would be our own fault."""
    return {table: dict(entries) for table, entries in _builtin().items()}


def built_in_documents(folder: str) -> Iterator[Document]:
    """The files of a folder of the built-in catalog, in the order of their names. Raises CatalogError."""
    files = (resources.files("roundown.catalog") / folder).iterdir()
    for file in sorted(files, key=lambda item: item.name):
        if file.name.endswith(".toml"):
            document = parse_document(f"built-in {file.name}", file.read_text("utf-8"))
            if isinstance(document, Complaint):
                raise CatalogError([document])
            yield document


@functools.cache
def _builtin() -> Catalog:
    """The same, read once: it is the same for every plan."""
    catalog: Catalog = {table: {} for table in TABLES}
    complaints: list[Complaint] = []
    for document in built_in_documents("data"):
        complaints += check_format(document)
        complaints += add_entries(catalog, document, "")
    if complaints:
        raise CatalogError(complaints)
    return catalog


def check_format(document: Document) -> list[Complaint]:
    """Whether the file says it is of the format this program reads."""
    given = document.data.get("format")
    if given == FORMAT and not isinstance(given, bool):
        return []
    limit = f"this program reads format {FORMAT}" if given is not None else "the file must say its format"
    newer = isinstance(given, int) and not isinstance(given, bool) and given > FORMAT
    remedy = "The file is from a newer version; update roundown" if newer else f"Write format = {FORMAT} at the top"
    return [document.complain(("format",), "" if given is None else shown(given), limit, remedy)]


def check_names(document: Document, allowed: Iterable[str]) -> list[Complaint]:
    """Whether every key and table at the top of a file is one of those allowed there."""
    complaints = []
    for name in document.data:
        if name not in allowed:
            near = nearest(name, allowed)
            remedy = f"Did you mean {near}" if near else f"Allowed are {', '.join(allowed)}"
            complaints.append(document.complain((name,), "", "there is no such key here", remedy))
    return complaints


def add_entries(catalog: Catalog, document: Document, source: str) -> list[Complaint]:
    """Add the ships, types and doctrines of a document to a catalog; returns what is wrong with them.

    source : where the document names none for a value, at its head or beside it; "" makes one necessary
    """
    complaints: list[Complaint] = []
    unsourced: list[Given] = []
    head = document.data.get("source", source)
    if not isinstance(head, str):
        complaints.append(
            document.complain(("source",), shown(head), "a source is a text in quotes", "Say who gives it")
        )
        head = source
    for table, keys in TABLES.items():
        entries = document.data.get(table, {})
        if not isinstance(entries, dict):
            complaints.append(
                document.complain(
                    (table,), shown(entries), f"{table} are tables", f"Write [{table}.name] above its keys"
                )
            )
            continue
        for name, raw in entries.items():
            path: KeyPath = (table, name)
            if not isinstance(raw, dict):
                complaints.append(
                    document.complain(path, shown(raw), f"a {SINGULAR[table]} is a table", f"Write [{table}.{name}]")
                )
                continue
            if name in catalog[table]:
                complaints.append(
                    document.complain(
                        path, "", f"there is a {SINGULAR[table]} of that name already", "Choose another name"
                    )
                )
                continue
            flat = dict(raw)
            moved = flat.pop("override", {}) if table == "ships" else {}
            values, wrong = read_keys(document, path, flat, keys, head)
            complaints += wrong
            for each in impossible(table, values):
                where = (*path, *each.key.split("."))
                complaints.append(document.complain(where, shown(values[each.key].text), each.limit, each.remedy))
            overrides, wrong = read_keys(document, (*path, "override"), moved, DOCTRINE_KEYS, head, partial=True)
            complaints += wrong
            unsourced += [given for given in (*values.values(), *overrides.values()) if not given.origin.source.strip()]
            label = values["label"].word if "label" in values else name
            catalog[table][name] = Entry(name, label, values, overrides)
    if unsourced:
        limit = f"a catalog value needs a source: {len(unsourced)} in this file without one"
        remedy = 'Write source = "..." at the head of the file, or { value = "...", source = "..." }'
        complaints.append(document.complain(unsourced[0].origin.path, shown(unsourced[0].text), limit, remedy))
    return complaints


def read_keys(
    document: Document, path: KeyPath, raw: Any, keys: Iterable[Key], source: str, *, partial: bool = False
) -> tuple[dict[str, Given], list[Complaint]]:
    """Read a table by its keys.

    path : the table's place in the document; raw : its data; source : where a value names none
    partial : leave out the complaint about missing keys
    Returns the values by key name, and everything wrong with them.
    """
    known = {key.name: key for key in keys}
    values: dict[str, Given] = {}
    complaints: list[Complaint] = []
    if not isinstance(raw, dict):
        return {}, [
            document.complain(path, shown(raw), "a table is wanted here", f"Write [{'.'.join(map(str, path))}]")
        ]
    for name, value in _flat(raw, known):
        here = (*path, *name.split("."))
        if name not in known:
            near = nearest(name, known)
            remedy = f"Did you mean {near}?" if near else f"Allowed are {', '.join(known)}"
            complaints.append(document.complain(here, "", "there is no such key here", remedy.rstrip("?")))
            continue
        by = known[name].by
        if by is not None:
            rows, wrong = _card(document, here, value, known[name], by, source)
            values |= rows
            complaints += wrong
            continue
        try:
            values[name] = _given(value, known[name], Origin(document.file, here, source))
        except QuantityError as error:
            complaints.append(document.complain(here, shown(value), error.limit, error.remedy))
    tried = {name for name, _ in _flat(raw, known)}
    for name, key in known.items():
        if key.default and not partial and name not in tried:
            values[name] = _given(key.default, key, DEFAULT)
        elif key.needed and not partial and name not in tried:
            here = (*path, *name.split("."))
            remedy = f'Add {here[-1]} = "{example_of(key)}" under [{dotted(here[:-1])}]'
            complaints.append(document.complain(here, "", f"{key.meaning}: missing", remedy))
    return values, complaints


def _card(
    document: Document, path: KeyPath, raw: Any, key: Key, by: Kind, source: str
) -> tuple[dict[str, Given], list[Complaint]]:
    """Read a table of corrections; its values are named "key.row". Arguments as read_keys."""
    example = f'Write {path[-1]} = {{ "{by.example}" = "{example_of(key)}" }}'
    if not isinstance(raw, dict) or not raw:
        return {}, [document.complain(path, shown(raw), f"a table by {by.name} is wanted", example)]
    found: dict[str, Given] = {}
    complaints: list[Complaint] = []
    card: list[tuple[float, float]] = []
    for row, value in raw.items():
        here = (*path, row)
        try:
            at = read(row, by).band.aim
        except QuantityError as error:
            complaints.append(document.complain(here, shown(value), f'"{row}": {error.limit}', error.remedy))
            continue
        try:
            found[f"{key.name}.{row}"] = given = _given(value, key, Origin(document.file, here, source))
        except QuantityError as error:
            complaints.append(document.complain(here, shown(value), error.limit, error.remedy))
            continue
        card.append((at, given.value))
    card.sort()
    if any(low == high or low + a >= high + b for (low, a), (high, b) in pairwise(card)):
        limit = f"{by.name} and correction together must rise from row to row"
        complaints.append(document.complain(path, "", limit, "Look at the rows: two readings would mean one speed"))
    return found, complaints


def example_of(key: Key, kind: Kind | None = None) -> str:
    """A text the key would take, of one of its kinds; the first of them unless another is named."""
    if not key.kinds:
        return key.choices[0] if key.choices else "..."
    if key.default and kind in {None, key.kinds[0]}:
        return key.default
    kind = kind or key.kinds[0]
    shown_for_kind = read(kind.example, kind, band=True).band
    if key.low <= shown_for_kind.aim <= key.high and (key.band or shown_for_kind.low == shown_for_kind.high):
        return kind.example
    return write(0.5 * (key.low + key.high), kind, words=True)


def nearest(word: str, words: Iterable[str]) -> str:
    """The word most like the one given, or "" if none is."""
    close = difflib.get_close_matches(word, list(words), n=1, cutoff=0.6)
    return close[0] if close else ""


def find_entry(catalog: Catalog, table: str, name: str) -> Entry | tuple[str, str]:
    """The entry of that name, or (limit, remedy) for a complaint."""
    entries = catalog[table]
    if name in entries:
        return entries[name]
    near = nearest(name, entries)
    have = ", ".join(entries)
    return (
        f"there is no {SINGULAR[table]} of that name",
        f"Did you mean {near}"
        if near
        else f"There are: {have}; or add a table for it to the plan, such as [{table}.mine]",
    )


def _flat(raw: dict[str, Any], known: dict[str, Key]) -> list[tuple[str, Any]]:
    """Sub-tables joined by dots; an inline {value, source} is a value."""
    rows: list[tuple[str, Any]] = []
    for name, value in raw.items():
        if isinstance(value, dict) and name not in known and "value" not in value:
            rows += [(f"{name}.{inner}", item) for inner, item in value.items()]
        else:
            rows.append((name, value))
    return rows


def _given(raw: Any, key: Key, origin: Origin) -> Given:
    value, source = raw, origin.source
    if isinstance(raw, dict):
        unknown = set(raw) - {"value", "source"}
        if unknown or "value" not in raw:
            raise QuantityError("a table here holds value and source", 'Write { value = "...", source = "..." }')
        value, source = raw["value"], raw.get("source", source)
        if not isinstance(source, str) or not source.strip():
            raise QuantityError("a source is a text in quotes", "Say who gives the value")
    origin = Origin(origin.file, origin.path, source)
    if (
        isinstance(value, (int, float))
        and not isinstance(value, bool)
        and key.kinds
        and key.kinds[0].dimension == "ratio"
    ):
        value = f"{value:f}" if "e-" in shown(value) else shown(value)
    if not isinstance(value, str):
        example = key.kinds[0].example if key.kinds else key.choices[0] if key.choices else "text"
        raise QuantityError("a text in quotes is wanted, with its unit", f'Write for example "{example}"')
    if len(value.splitlines()) > 1:
        raise QuantityError("the text has several lines", "Write it on one line")
    if not key.kinds:
        if not value.strip():
            raise QuantityError("the text is empty", "Write something people can read")
        if key.choices and value not in key.choices:
            near = nearest(value, key.choices)
            raise QuantityError(
                f"allowed are {', '.join(key.choices)}", f"Did you mean {near}" if near else "Choose one"
            )
        return given_word(value, origin)
    quantity = read(value, *key.kinds, band=key.band)
    for bound, wrong, word in (
        (key.low, quantity.band.low < key.low - 1e-9, "at least"),
        (key.high, quantity.band.high > key.high + 1e-9, "at most"),
    ):
        if wrong:
            shown_bound = write(bound, quantity.kind)
            # of a value to port the lower end is the greatest that is allowed
            word = "at most" if bound < 0.0 and not shown_bound.startswith("-") else word  # noqa: PLW2901
            raise QuantityError(f"{word} {shown_bound} is allowed", "Look at the figure and its unit")
    return given_number(quantity.band.aim, quantity.kind, origin, quantity.band, value)


def overlay(base: Givens, over: Givens) -> dict[str, Given]:
    """Values with others laid over them; each replaced one remembers the file it replaced."""
    merged = dict(base)
    for name, given in over.items():
        replaced = merged[name].origin.file if name in merged else ""
        origin = Origin(given.origin.file, given.origin.path, given.origin.source, replaced)
        merged[name] = Given(given.value, given.kind, given.band, given.word, origin)
    return merged
