"""A pinned place on deck, written into the text of a plan: only that place changes, and every other character stays.

*Method:* the syntax tree of the grammar tree-sitter-toml says where the places stand
(docs/decisions/0002-plan-files.md); the changed text is parsed again and must differ in that place alone.
"""

from __future__ import annotations

import copy
import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from typing import Any

from roundown.documents import Document, KeyPath, parse_document
from roundown.errors import RoundownError
from roundown.figures import key_of
from roundown.quantities import FOOT

Place = tuple[float, float]
"""Ahead of the ramp, and to port of the centre line [m]."""
SpotPath = tuple[str, int, str, str]


class SpotsError(RoundownError):
    """A place that cannot be written: no such event, or one that stands where it is not to be found."""


def spots_text(text: str, event: str, side: str, place: Place | None) -> str:
    """The text of a plan in which one aeroplane of an event is pinned to a place, or is pinned no more.

    event : its name; side : number of the seat
    place : written to a tenth of a foot, or None to free it; a heading that is
    given with an old place stays with the new one
    Raises SpotsError where the text is no TOML or has no such event, or the place in it cannot be changed.
    """
    document = parse_document("", text)
    if not isinstance(document, Document):
        raise SpotsError("The plan cannot be read as it stands: mend the marked lines first.")
    path = ("event", _event(document.data, event), "spots", side)
    written = None if place is None else _written(place)
    wanted = _with(document.data, path, written)
    raw = text.encode()
    raw = _freed(raw, path) if written is None else _pinned(raw, path, written)
    found = parse_document("", raw.decode())
    if not isinstance(found, Document) or _tidy(found.data, path) != wanted:
        raise SpotsError(
            f"The place of {side} could not be written into {event}. "
            f'Write spots = {{ "{side}" = {{ ahead = "90 ft" }} }} there first, in one line.'
        )
    return raw.decode()


def _written(place: Place) -> dict[str, str]:
    return {key: f"{round(value / FOOT, 1) + 0.0:g} ft" for key, value in zip(("ahead", "port"), place, strict=True)}


def _event(data: dict[str, Any], name: str) -> int:
    """Which of the plan's events has a name; one without a name has its number."""
    rows = data.get("event")
    for i, row in enumerate(rows if isinstance(rows, list) else []):
        if isinstance(row, dict) and key_of(str(row.get("name", f"event {i + 1}"))) == key_of(name):
            return i
    raise SpotsError(f"The plan has no event called {name} any more.")


def _with(data: dict[str, Any], path: SpotPath, written: dict[str, str] | None) -> dict[str, Any]:
    """The data as they are to be read afterwards."""
    wanted = copy.deepcopy(data)
    side = path[-1]
    places = wanted["event"][path[1]].setdefault("spots", {})
    if not isinstance(places, dict) or not isinstance(places.get(side, {}), dict):
        raise SpotsError(f'Places stand in a table, as in spots = {{ "{side}" = {{ ahead = "90 ft" }} }}.')
    if written is None:
        places.pop(side, None)
    else:
        places[side] = {**places.get(side, {}), **written}
    return _tidy(wanted, path)


def _tidy(data: dict[str, Any], path: SpotPath) -> dict[str, Any]:
    """Data in which an event without a place has no table for places either."""
    row = data["event"][path[1]]
    if row.get("spots") == {}:
        del row["spots"]
    return data


@dataclass(frozen=True)
class _Table:
    """A table with a header, or one in braces. path : whole; start, end [bytes]: of the header, or of the braces."""

    path: KeyPath
    start: int
    end: int
    braces: bool
    parts: tuple[int, ...] = ()


@dataclass(frozen=True)
class _Pair:
    """A key with its value. path : whole; start, end [bytes].

    parts : where each part of its own key starts; value : where the value starts; table : that it stands in
    """

    path: KeyPath
    start: int
    end: int
    parts: tuple[int, ...]
    value: int
    table: _Table


@dataclass(frozen=True)
class _Said:
    """Everything a text says, in its order."""

    tables: tuple[_Table, ...]
    pairs: tuple[_Pair, ...]

    def within(self, table: _Table) -> list[_Pair]:
        """The pairs that stand directly in a table."""
        return [pair for pair in self.pairs if pair.table == table]

    def last(self, table: _Table) -> _Pair | _Table:
        """The last pair of a table, or the table where it has none."""
        pairs = self.within(table)
        return pairs[-1] if pairs else table


def _pinned(raw: bytes, path: SpotPath, written: dict[str, str]) -> bytes:
    """Bytes with a place: its figures changed where they stand, or the place put to the others."""
    ahead = next((pair for pair in _said(raw).pairs if pair.path == (*path, "ahead")), None)
    if ahead is None:
        return _added(_freed(raw, path), path, written)
    raw = raw[: ahead.value] + _text(written["ahead"]) + raw[ahead.end :]
    said = _said(raw)
    port = next((pair for pair in said.pairs if pair.path == (*path, "port")), None)
    if port is not None:
        return raw[: port.value] + _text(written["port"]) + raw[port.end :]
    ahead = next(pair for pair in said.pairs if pair.path == (*path, "ahead"))
    return _after(raw, ahead, raw[ahead.start : ahead.parts[-1]] + b"port = " + _text(written["port"]))


def _text(value: str) -> bytes:
    """A TOML string; a JSON string is one but for the character delete."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f").encode()


def _added(raw: bytes, path: SpotPath, written: dict[str, str]) -> bytes:
    """Bytes with a place that was not there, beside the other places as these are written."""
    said, spots = _said(raw), path[:-1]
    pair = b"%s = { ahead = %s, port = %s }" % tuple(map(_text, (path[-1], *written.values())))
    own = next((table for table in said.tables if table.path == spots), None)
    if own is not None:
        last = said.last(own)
        if own.braces and last == own:
            return raw[: own.start] + b"{ " + pair + b" }" + raw[own.end :]
        return _after(raw, last, pair)
    others = [table for table in said.tables if table.path[:-1] == spots and not table.braces]
    if others:
        stem = raw[others[-1].start : others[-1].parts[-1]]
        lines = [stem + _text(path[-1]) + b"]", *(_key(name) + _text(value) for name, value in written.items())]
        return reduce(_line_after, [b"", *lines], (raw, said.last(others[-1]).end))[0]
    dotted = [each for each in said.pairs if _dotted(each, spots)]
    if dotted:
        each = dotted[-1]
        return _after(raw, each, raw[each.start : each.parts[len(spots) - len(each.path)]] + pair)
    event = next((table for table in said.tables if table.path == spots[:-1]), None)
    return raw if event is None else _after(raw, said.last(event), b"spots = { " + pair + b" }")


def _key(name: str) -> bytes:
    return f"{name} = ".encode()


def _dotted(pair: _Pair, spots: KeyPath) -> bool:
    """Whether a pair names one of the places by a key such as spots.11.ahead."""
    return pair.path[: len(spots)] == spots and len(pair.path) > len(spots) > len(pair.path) - len(pair.parts)


def _freed(raw: bytes, path: SpotPath) -> bytes:
    """Bytes without a place, and without a table of places in which no other stands."""
    gone: _Pair | _Table | None = None
    while gone := _last_of(said := _said(raw), path):
        raw = _without(raw, *_stretch(said, gone))
    spots = path[:-1]
    if any(pair.path[: len(spots)] == spots and len(pair.path) > len(spots) for pair in said.pairs):
        return raw
    those: list[_Pair | _Table] = [*said.pairs, *said.tables]
    empty = next((each for each in those if each.path == spots), None)
    return raw if empty is None else _without(raw, *_stretch(said, empty))


def _last_of(said: _Said, path: KeyPath) -> _Pair | _Table | None:
    """What comes last in the text of what says a place: a header, or a pair that stands in no other of it."""
    depth = len(path)
    found: list[_Pair | _Table] = [each for each in said.tables if not each.braces and each.path[:depth] == path]
    found += [
        pair
        for pair in said.pairs
        if pair.path[:depth] == path and (len(pair.table.path) < depth or not pair.table.braces)
    ]
    return max(found, key=lambda each: each.start, default=None)


def _stretch(said: _Said, gone: _Pair | _Table) -> tuple[int, int]:
    """What is to be cut out: in braces with the comma before or behind."""
    if isinstance(gone, _Pair) and gone.table.braces:
        beside = said.within(gone.table)
        i = beside.index(gone)
        if i + 1 < len(beside):
            return gone.start, beside[i + 1].start
        if i:
            return beside[i - 1].end, gone.end
    return gone.start, gone.end


def _without(raw: bytes, start: int, end: int) -> bytes:
    """Bytes without a stretch of them, and without its line where nothing else stands on that."""
    line, after = raw.rfind(b"\n", 0, start) + 1, raw.find(b"\n", end) + 1 or len(raw)
    if raw[line:start].strip() or raw[end:after].strip():
        return raw[:start] + raw[end:]
    return raw[:line] + raw[after:]


def _after(raw: bytes, last: _Pair | _Table, new: bytes) -> bytes:
    """Bytes with a new pair behind the last one of its table, or behind the table's header."""
    if isinstance(last, _Pair) and last.table.braces:
        return raw[: last.end] + b", " + new + raw[last.end :]
    line = raw.rfind(b"\n", 0, last.start) + 1
    indent = b"" if isinstance(last, _Table) else raw[line : last.start]
    return _line_after((raw, last.end), indent + new)[0]


def _line_after(place: tuple[bytes, int], new: bytes) -> tuple[bytes, int]:
    """Bytes with a line more behind the one on which a place lies, and a place on the new line."""
    raw, at = place
    line = raw.find(b"\n", at) + 1
    end = b"\r\n" if b"\r\n" in raw else b"\n"
    if not line:
        return raw + end + new, len(raw + end + new)
    return raw[:line] + new + end + raw[line:], line + len(new)


def _said(raw: bytes) -> _Said:
    import tree_sitter
    import tree_sitter_toml

    tree = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language())).parse(raw)
    walk = _Walk([_Table((), 0, 0, braces=False)], [], {})
    for node in tree.root_node.named_children:
        walk.top(node)
    return _Said(tuple(walk.tables), tuple(walk.pairs))


@dataclass(frozen=True)
class _Walk:
    """A walk over the syntax tree. counts : tables seen of each list of tables."""

    tables: list[_Table]
    pairs: list[_Pair]
    counts: dict[KeyPath, int]

    def top(self, node: Any) -> None:
        """A pair above all tables, or a table with its pairs."""
        if node.type == "pair":
            self.pair(node, self.tables[0])
        elif node.type in ("table", "table_array_element"):
            names, parts = _names(node.named_children[0])
            here: KeyPath = ()
            for i, name in enumerate(names):
                here = (*here, name)
                if node.type == "table_array_element" and i == len(names) - 1:
                    self.counts[here] = self.counts.get(here, 0) + 1
                if here in self.counts:
                    here = (*here, self.counts[here] - 1)
            closing = next(child for child in node.children if child.type in ("]", "]]"))
            table = _Table(here, node.start_byte, closing.end_byte, False, parts)
            self.tables.append(table)
            for child in node.named_children:
                if child.type == "pair":
                    self.pair(child, table)

    def pair(self, node: Any, table: _Table) -> None:
        """A pair, and the tables in its value."""
        key, value = node.named_children[:2]
        names, parts = _names(key)
        path = (*table.path, *names)
        self.pairs.append(_Pair(path, node.start_byte, value.end_byte, parts, value.start_byte, table))
        self.value(value, path)

    def value(self, node: Any, path: KeyPath) -> None:
        """A table in braces, or a list of them."""
        if node.type == "inline_table":
            table = _Table(path, node.start_byte, node.end_byte, braces=True)
            self.tables.append(table)
            for child in node.named_children:
                if child.type == "pair":
                    self.pair(child, table)
        elif node.type == "array":
            items = [child for child in node.named_children if child.type != "comment"]
            for i, child in enumerate(items):
                self.value(child, (*path, i))


def _names(node: Any) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """The parts of a key as they are meant, and where each starts."""
    leaves = list(_leaves(node))
    return tuple(_name(leaf.text.decode()) for leaf in leaves), tuple(leaf.start_byte for leaf in leaves)


def _leaves(node: Any) -> Iterator[Any]:
    if node.type == "dotted_key":
        for child in node.named_children:
            yield from _leaves(child)
    else:
        yield node


def _name(raw: str) -> str:
    return next(iter(tomllib.loads(f"{raw} = 0")))
