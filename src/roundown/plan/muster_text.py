"""Who turned up, written into the text of a plan: only the table [muster] changes, and every other character stays.

*Method:* the syntax tree of the grammar tree-sitter-toml says where the names stand
(docs/decisions/0002-plan-files.md); the changed text is parsed again and must differ in the muster alone.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from roundown.catalog.load import nearest
from roundown.documents import Document
from roundown.errors import RoundownError
from roundown.plan.squadrons import read_squadrons

Which = Literal["present", "absent"]


class MusterError(RoundownError):
    """A muster that cannot be written: nobody of that name, or a table that is not to be found."""


def rostered(document: Document) -> tuple[str, ...]:
    """Everyone on the rosters of a plan, in the plan's order."""
    squadrons, _, _ = read_squadrons(document)
    return tuple(seat.name for squadron in squadrons.values() for seat in squadron.roster if seat.name)


def check_people(names: Sequence[str], known: Sequence[str]) -> None:
    """Raises MusterError unless every name is one of those known."""
    if not known:
        raise MusterError("the plan has no roster with names. Add [squadrons.blue] with a roster.")
    unknown = [name for name in names if name not in known]
    if unknown:
        near = nearest(unknown[0], known)
        remedy = f"Did you mean {near}?" if near else f"There are {', '.join(known)}."
        raise MusterError(f"nobody on the rosters is called {unknown[0]}. {remedy}")


def people(texts: Sequence[str], known: Sequence[str]) -> tuple[str, ...]:
    """The names in texts such as "Vane, Pell", each once. known : a name of these may itself hold a comma."""
    names: list[str] = []
    for text in texts:
        whole = text.strip()
        names += [whole] if whole in known else [part.strip() for part in whole.split(",") if part.strip()]
    return tuple(dict.fromkeys(names))


def muster_text(text: str, which: Which, names: Sequence[str]) -> str:
    """The text of a plan with another muster.

    text : of a plan that is TOML; which : whether the names are of those present or of those absent
    names : everyone is here where none are absent, and a plan without the table then stays as it is
    Raises MusterError when the muster in the text cannot be found.
    """
    data = tomllib.loads(text.replace("\r\n", "\n"))
    wanted: dict[str, list[str]] = {which: list(names)}
    old = data.get("muster")
    if old == wanted or (old is None and wanted == {"absent": []}):
        return text
    new = _appended(text, wanted) if old is None else _replaced(text, which, names)
    try:
        found = tomllib.loads(new.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError:
        found = {}
    if found != {**data, "muster": wanted}:
        raise MusterError("the table [muster] in the plan could not be changed. Take it out, and muster again.")
    return new


def _array(names: Sequence[str]) -> str:
    """Names as a TOML list; a JSON string is a TOML string but for the character delete."""
    return "[" + ", ".join(json.dumps(name, ensure_ascii=False).replace("\x7f", "\\u007f") for name in names) + "]"


def _appended(text: str, wanted: dict[str, list[str]]) -> str:
    end = "\r\n" if "\r\n" in text else "\n"
    ((which, names),) = wanted.items()
    gap = "" if text.endswith("\n") else end
    return f"{text}{gap}{end}[muster]{end}{which} = {_array(names)}{end}"


@dataclass(frozen=True)
class _Place:
    """Where something of the muster stands. start, end [bytes]; prefix : what goes before "absent"; inline : braces."""

    start: int
    end: int
    prefix: str = ""
    inline: bool = False


def _replaced(text: str, which: Which, names: Sequence[str]) -> str:
    """The text with the first mention of the muster changed, and others taken out."""
    raw = text.encode()
    header, places = _places(raw)
    line = f"{which} = {_array(names)}"
    if not places:
        if header is None:
            return text
        end = "\r\n" if raw[header:].startswith(b"\r\n") else "\n"
        return (raw[:header] + f"{end}{line}".encode() + raw[header:]).decode()
    first, *others = places
    for place in reversed(others):
        raw = _without(raw, place.start, place.end)
    new = f"{{ {line} }}" if first.inline else first.prefix + line
    return (raw[: first.start] + new.encode() + raw[first.end :]).decode()


def _without(raw: bytes, start: int, end: int) -> bytes:
    """Bytes without a stretch of them, and without its line where nothing else stands on that."""
    line, after = raw.rfind(b"\n", 0, start) + 1, raw.find(b"\n", end)
    after = len(raw) if after < 0 else after + 1
    if raw[line:start].strip() or raw[end:after].strip():
        return raw[:start] + raw[end:]
    return raw[:line] + raw[after:]


def _places(raw: bytes) -> tuple[int | None, list[_Place]]:
    """End of the header [muster], None where there is none; and where present and absent stand."""
    import tree_sitter
    import tree_sitter_toml

    tree = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language())).parse(raw)
    header: int | None = None
    places: list[_Place] = []
    for node in tree.root_node.named_children:
        if node.type == "pair":
            places += _of_pair(node)
        elif node.type == "table" and _name(node.named_children[0]) == ("muster",):
            line_end = raw.find(b"\n", node.start_byte)
            header = len(raw) if line_end < 0 else line_end - raw[:line_end].endswith(b"\r")
            pairs = [child for child in node.named_children if child.type == "pair"]
            places += [_Place(pair.start_byte, pair.named_children[1].end_byte) for pair in pairs]
    return header, places


def _of_pair(node: Any) -> Iterator[_Place]:
    """The muster in a pair above all tables: muster = { absent = [...] }, or muster.absent = [...]."""
    key, value, *_ = node.named_children
    name = _name(key)
    if name == ("muster",):
        yield _Place(value.start_byte, value.end_byte, inline=True)
    elif name[0] == "muster":
        yield _Place(node.start_byte, value.end_byte, prefix="muster.")


def _name(node: Any) -> tuple[str, ...]:
    if node.type == "dotted_key":
        return tuple(part for child in node.named_children for part in _name(child))
    raw = node.text.decode()
    return (raw[1:-1] if raw[:1] in "\"'" else raw,)
