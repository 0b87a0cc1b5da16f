"""Listing the catalog, and everything about one entry of it."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from roundown.catalog.load import builtin_catalog

Call = Callable[..., Any]
NAMES = [name for entries in builtin_catalog().values() for name in entries]


def test_the_list_in_json_has_exactly_three_tables(call: Call) -> None:
    outcome = call("catalog", "--json")
    assert outcome.code == 0
    listed = json.loads(outcome.out)
    assert set(listed) == {"doctrines", "ships", "types"}
    assert sorted(name for names in listed.values() for name in names) == sorted(NAMES)
    assert "fast-carrier-1944" in listed["doctrines"]


def test_the_list_for_people_names_everything_and_the_next_step(call: Call) -> None:
    out = call("catalog").out
    for table, entries in builtin_catalog().items():
        assert f"{table}:\n" in out
        for name, entry in entries.items():
            assert any(line.split(maxsplit=1) == [name, entry.label] for line in out.splitlines())
    assert "roundown catalog NAME" in out


@pytest.mark.parametrize("name", NAMES)
def test_every_entry_is_shown_with_a_source_for_every_value(call: Call, name: str) -> None:
    outcome = call("catalog", name)
    assert outcome.code == 0
    entry = next(entries[name] for entries in builtin_catalog().values() if name in entries)
    heading, *rows = outcome.out.splitlines()
    assert heading == f"{name}: {entry.label}"
    for row, (key, given) in zip(rows, entry.values.items(), strict=True):
        assert row.split()[0] == key
        assert given.text in row
        assert row.endswith(given.origin.source)
    values = json.loads(call("catalog", name, "--json").out)["values"]
    assert values == {key: {"text": given.text, "source": given.origin.source} for key, given in entry.values.items()}


def test_a_misspelt_name_is_told_with_the_nearest(call: Call) -> None:
    outcome = call("catalog", "corbl")
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == "there is nothing called corbl. Did you mean corbel?\n"
    assert "See `roundown catalog`" in call("catalog", "zzz").err
