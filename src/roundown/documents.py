"""A TOML file a person wrote: its data, and the line on which any key stands.

Lines are looked up only when one is to be shown: the standard parser keeps none, so the syntax tree of the grammar
tree-sitter-toml is walked for them (docs/decisions/0002-plan-files.md).
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from roundown.errors import Complaint

KeyPath = tuple[str | int, ...]
GREATEST_SIZE = 2_000_000  # bytes: an air plan is a few kB


@dataclass(frozen=True)
class Document:
    """file : as the user named it; text : as read; data : as parsed."""

    file: str
    text: str
    data: dict[str, Any]

    def line(self, path: KeyPath) -> int:
        """Line of a key, or of the nearest thing above it; 0 where there is none."""
        lines = _lines(self.text)
        for end in range(len(path), 0, -1):
            if path[:end] in lines:
                return lines[path[:end]]
        return 0

    def complain(self, path: KeyPath, value: str, limit: str, remedy: str) -> Complaint:
        """A complaint about one key of this file."""
        return Complaint(self.file, self.line(path), dotted(path), value, limit, remedy)


def dotted(path: KeyPath) -> str:
    """A key path as people write it: weather.winds[1].height."""
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def open_document(file: str | Path) -> Document | Complaint:
    """Read a TOML file; a file that is no TOML comes back as one complaint."""
    name = str(file)

    def bad(line: int, limit: str, remedy: str) -> Complaint:
        return Complaint(name, line, "", "", limit, remedy)

    path = Path(file)
    if path.is_dir():
        return bad(0, "this is a folder", "Name the plan file in it")
    if not path.is_file():
        near = _nearest_file(path)
        return bad(
            0, "there is no such file", f"Did you mean {near}?"[:-1] if near else "Look at the name and the folder"
        )
    if path.stat().st_size > GREATEST_SIZE:
        return bad(0, f"the file is larger than {GREATEST_SIZE // 1_000_000} MB", "Name a plan file, not a recording")
    raw = path.read_bytes()
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        return bad(line, "the file is not UTF-8 text", "Save it as UTF-8 in your editor")
    return parse_document(name, text)


def parse_document(name: str, text: str) -> Document | Complaint:
    """Parse TOML text that came from the file named."""
    text = text.replace("\r\n", "\n")
    if not text.strip():
        return Complaint(name, 0, "", "", "the file is empty", "Run `roundown new` to write a plan to start from")
    try:
        return Document(name, text, tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        place = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
        what = str(error).split(" (at ", maxsplit=1)[0]
        line = int(place[1]) if place else text.count("\n") + 1
        shown = text.splitlines()[line - 1].strip()[:60] if line <= text.count("\n") + 1 and text.splitlines() else ""
        return Complaint(
            name, line, "", "", f"not TOML: {what}" + (f": {shown}" if shown else ""),
            'Texts stand in quotes, as in wind = "070/12 kt"',
        )  # fmt: skip
    except RecursionError:
        return Complaint(name, 0, "", "", "brackets are nested too deeply", "Name a plan file")


def _nearest_file(path: Path) -> str:
    import difflib

    if not path.parent.is_dir():
        return ""
    names = [entry.name for entry in path.parent.iterdir() if entry.suffix == ".toml"]
    close = difflib.get_close_matches(path.name, names, n=1)
    return str(path.parent / close[0]) if close else ""


def _lines(text: str) -> dict[KeyPath, int]:
    """Line of every key and table of a TOML text."""
    import tree_sitter
    import tree_sitter_toml

    tree = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language())).parse(text.encode())
    walk = _Walk({}, {})
    for node in tree.root_node.named_children:
        walk.top(node)
    return walk.lines


@dataclass(frozen=True)
class _Walk:
    """A walk over the syntax tree. lines : found so far; counts : tables seen of each array of tables."""

    lines: dict[KeyPath, int]
    counts: dict[KeyPath, int]

    def top(self, node: Any) -> None:
        """A pair, a table or an element of an array of tables."""
        if node.type == "pair":
            self.pair((), node)
            return
        key = next((c for c in node.named_children if c.type in ("bare_key", "quoted_key", "dotted_key")), None)
        if node.type not in ("table", "table_array_element") or key is None:
            return
        parts = _names(key)
        if node.type == "table_array_element":
            stem = (*self.resolve(parts[:-1]), parts[-1])
            self.counts[stem] = self.counts.get(stem, 0) + 1
            here: KeyPath = (*stem, self.counts[stem] - 1)
        else:
            here = self.resolve(parts)
        self.note(here, node)
        for child in node.named_children:
            if child.type == "pair":
                self.pair(here, child)

    def pair(self, path: KeyPath, node: Any) -> None:
        key, *rest = node.named_children
        here = path + _names(key)
        self.note(here, node)
        if rest:
            self.value(here, rest[-1])

    def value(self, path: KeyPath, node: Any) -> None:
        """Keys inside an inline table, and the items of an array."""
        if node.type == "inline_table":
            for child in node.named_children:
                if child.type == "pair":
                    self.pair(path, child)
        elif node.type == "array":
            for i, child in enumerate(child for child in node.named_children if child.type != "comment"):
                self.note((*path, i), child)
                self.value((*path, i), child)

    def note(self, path: KeyPath, node: Any) -> None:
        for end in range(1, len(path) + 1):
            self.lines.setdefault(path[:end], node.start_point[0] + 1)

    def resolve(self, path: KeyPath) -> KeyPath:
        """A table name with the last index of each array of tables in it."""
        out: KeyPath = ()
        for part in path:
            out = (*out, part)
            if out in self.counts:
                out = (*out, self.counts[out] - 1)
        return out


def _names(node: Any) -> KeyPath:
    """The parts of a key."""
    if node.type == "dotted_key":
        return tuple(part for child in node.named_children for part in _names(child))
    raw = node.text.decode()
    return (raw[1:-1] if raw[:1] in "\"'" else raw,)
