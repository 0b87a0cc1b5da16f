"""`roundown catalog`: the ships, types and doctrines that come with the program."""

from __future__ import annotations

import json
from typing import Annotated

from cyclopts import Parameter

from roundown.errors import RoundownError


def catalog(
    name: str | None = None,
    *,
    as_json: Annotated[bool, Parameter(name="--json", help="Answer in JSON.", negative="")] = False,
) -> int:
    """List doctrines, ships and types, or every value of one with its source.

    Parameters
    ----------
    name
        One of them, to see all its values.

    """
    from roundown.catalog.load import builtin_catalog, nearest

    entries = builtin_catalog()
    if name is None:
        listed = {table: list(entries[table]) for table in ("doctrines", "ships", "types")}
        if as_json:
            print(json.dumps(listed))
            return 0
        for table, names in listed.items():
            print(f"{table}:")
            for each in names:
                print(f"  {each:20} {entries[table][each].label}")
        print("One in full: roundown catalog NAME. Your own go into the plan: see docs/reference/plan-file.md.")
        return 0
    found = next((table[name] for table in entries.values() if name in table), None)
    if found is None:
        near = nearest(name, [each for table in entries.values() for each in table])
        raise RoundownError(
            f"there is nothing called {name}. {f'Did you mean {near}?' if near else 'See `roundown catalog`.'}"
        )
    if as_json:
        values = {key: {"text": given.text, "source": given.origin.source} for key, given in found.values.items()}
        print(json.dumps({"name": found.name, "label": found.label, "values": values}, ensure_ascii=False))
        return 0
    print(f"{found.name}: {found.label}")
    for key, given in found.values.items():
        print(f"  {key:30} {given.text:24} {given.origin.source}")
    return 0
