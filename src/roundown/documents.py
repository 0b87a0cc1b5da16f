"""A TOML file a person wrote: its data, and the line on which any key stands.

Lines are looked up only when one is to be shown: the standard parser keeps none, so the syntax tree of the grammar
tree-sitter-toml is walked for them (docs/decisions/0002-plan-files.md).
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from roundown.errors import Complaint

KeyPath = tuple[str | int, ...]
GREATEST_SIZE = 2_000_000  # bytes: an air plan is a few kB
GREATEST_DEPTH = 20  # tables within tables: an air plan has five
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")
GREATEST_LENGTH = 1000  # characters of one part of a complaint


@dataclass(frozen=True)
class Document:
    """file : as the user named it; text : as read; data : as parsed."""

    file: str
    text: str
    data: dict[str, Any]

    def line(self, path: KeyPath) -> int:
        """Line of a key, or of the nearest thing above it; 0 where there is none."""
        for end in range(len(path), 0, -1):
            if path[:end] in self._lines:
                return self._lines[path[:end]]
        return 0

    @cached_property
    def _lines(self) -> dict[KeyPath, int]:
        return _lines(self.text)

    def complain(self, path: KeyPath, value: str, limit: str, remedy: str) -> Complaint:
        """A complaint about one key of this file."""
        texts = (one_line(text) for text in (dotted(path), value, limit, remedy))
        return Complaint(self.file, self.line(path), *texts)


def dotted(path: KeyPath) -> str:
    """A key path as people write it: weather.winds[1].height."""
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def shown(value: Any) -> str:
    """A value of a document as it stands in a complaint: on one line, and not all of a long one."""
    text = one_line(_as_written(value))
    return text if len(text) <= 60 else text[:57] + "..."


def _as_written(value: Any) -> str:
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{name} = {_as_written(item)}" for name, item in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_as_written(item) for item in value) + "]"
    try:
        return str(value)
    except ValueError:  # Python writes no whole number of more than 4300 digits
        return "a very long number"


def one_line(text: str) -> str:
    """A text without line ends and control characters, cut where it is longer than anyone reads."""
    plain = "".join(character if character.isprintable() else " " for character in text[: GREATEST_LENGTH + 1])
    return plain if len(plain) <= GREATEST_LENGTH else plain[: GREATEST_LENGTH - 3] + "..."


def open_document(file: str | Path) -> Document | Complaint:
    """Read a TOML file; a file that cannot be read, or is no TOML, comes back as one complaint."""
    try:
        return _open(file)
    except OSError as error:
        return Complaint(
            str(file), 0, "", "", f"cannot be read: {error.strerror or error}", "Look at the name and the folder"
        )


def _open(file: str | Path) -> Document | Complaint:
    name = str(file)

    def bad(line: int, limit: str, remedy: str) -> Complaint:
        return Complaint(name, line, "", "", limit, remedy)

    path = Path(file)
    if path.is_dir():
        return bad(0, "this is a folder", "Name the plan file in it")
    if path.exists() and not path.is_file():
        return bad(0, "this is no ordinary file", "Name a plan file")
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
    too_deep = Complaint(name, 0, "", "", "brackets are nested too deeply", "Name a plan file")
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        place = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
        what = one_line(str(error).split(" (at ", maxsplit=1)[0])
        lines = text.rstrip("\n").split("\n")
        line = int(place[1]) if place else len(lines)
        stands = one_line(lines[line - 1].strip()[:60]) if line <= len(lines) else ""
        limit, remedy = _syntax(what, stands)
        return Complaint(name, line, "", "", limit + (f": {stands}" if stands else ""), remedy)
    except ValueError:  # Python reads no whole number of more than 4300 digits
        return Complaint(name, 0, "", "", "a number in it is too long to read", "Look at the figures")
    except RecursionError:
        return too_deep
    if _depth(data) > GREATEST_DEPTH:
        return too_deep
    found = Document(name, text, data)
    hidden = _hidden(data)
    if hidden is not None:
        return found.complain(hidden, "", "a control character that nobody sees stands in this text", "Type it anew")
    return found


def _syntax(what: str, line: str) -> tuple[str, str]:
    """What a fault of TOML means, and what to do: (limit, remedy). what : in the parser's words; line : where it is."""
    if what.startswith(("Cannot declare", "Cannot overwrite", "Cannot redefine")):
        return "this stands in the file already", "Put its keys where it stood first, each of them once"
    if any(quote in line for quote in "\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}"):
        return "curly quotation marks are not read", 'Use straight ones: "'
    if re.search(r"=\s*\d{1,4}-\d{1,2}-\d{1,4}", line):
        return "not a date", "Write year, month, day, as in 1949-03-17"
    return f"not TOML: {what}", 'Texts stand in quotes, as in wind = "070/12 kt"'


def _hidden(data: dict[str, Any]) -> KeyPath | None:
    """Where the first text or key stands that has a control character in it, tabs and line ends aside."""
    level: list[tuple[KeyPath, Any]] = [((), data)]
    while level:
        path, part = level.pop()
        if isinstance(part, str) and _CONTROL.search(part):
            return path
        if isinstance(part, dict):
            for key, item in part.items():
                if _CONTROL.search(key):
                    return (*path, key)
                level.append(((*path, key), item))
        elif isinstance(part, list):
            level += [((*path, i), item) for i, item in enumerate(part)]
    return None


def _depth(data: dict[str, Any]) -> int:
    """How many tables and lists stand one in the other."""
    depth = 0
    level: list[Any] = [data]
    while level:
        depth += 1
        inner = [item for part in level for item in (part.values() if isinstance(part, dict) else part)]
        level = [item for item in inner if isinstance(item, (dict, list))]
    return depth


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
