"""A type as a catalog file, to be named in a plan."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence

from roundown import CAUTION
from roundown.figures import Given, Givens

_BARE = re.compile(r"^[A-Za-z0-9_-]+$")


def type_bytes(name: str, label: str, values: Givens, changed: Mapping[str, Given], comments: Sequence[str]) -> bytes:
    """The text of a catalog file that holds one type whole, UTF-8.

    name : of its table; label : what it is, for people; values : as the type has them, by key name
    changed : those that take their place; comments : lines at the head
    """
    tables: dict[str, list[str]] = {"": []}
    for key, given in values.items():
        table, _, row = key.rpartition(".") if key.startswith("launch.") else key.partition(".")
        table, row = (table, row) if row else ("", table)
        said = changed.get(key, given)
        text = label if key == "label" else said.text
        line = f"{_key(row)} = {{ value = {_quoted(text)}, source = {_quoted(said.origin.source)} }}"
        tables.setdefault(table, []).append(line)
    lines = [f"# {' '.join(comment.split())}" for comment in (*comments, CAUTION)]
    lines.append("format = 1")
    for table, rows in tables.items():
        lines += ["", f"[types.{_key(name)}{'.' if table else ''}{table}]", *rows]
    return ("\n".join(lines) + "\n").encode()


def _key(name: str) -> str:
    return name if _BARE.match(name) else _quoted(name)


def _quoted(text: str) -> str:
    """A text of one line as TOML and JSON both write it."""
    return json.dumps(text, ensure_ascii=False)
