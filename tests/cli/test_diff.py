"""`roundown diff` and `brief --changed-from`."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest


@pytest.fixture
def plans(demo: Path) -> tuple[Path, Path]:
    """The demo, and the demo in another wind."""
    other = demo.parent / "other.toml"
    other.write_text(demo.read_text("utf-8").replace("140/11 kt", "150/13 kt"), "utf-8")
    return demo, other


def test_a_plan_against_itself_ends_with_0(call: Any, demo: Path) -> None:
    outcome = call("diff", demo, demo)
    assert (outcome.code, outcome.out) == (0, "Nothing changed in the solved day.\n")


def test_another_wind_ends_with_1_and_tells_course_first(call: Any, plans: tuple[Path, Path]) -> None:
    outcome = call("diff", *plans)
    assert outcome.code == 1
    assert outcome.out.splitlines()[1].startswith("  flight.course: 140 -> 150 (+9.")
    assert "more: --all" in outcome.out
    assert "more: --all" not in call("diff", *plans, "--all").out


def test_json_holds_every_change(call: Any, plans: tuple[Path, Path]) -> None:
    found = json.loads(call("diff", *plans, "--json").out)
    assert set(found) == {"verdict", "findings_gone", "findings_new", "figures", "people"}
    assert found["figures"][0]["key"] == "flight.course"


def test_a_plan_that_cannot_be_read_ends_with_2(call: Any, demo: Path) -> None:
    outcome = call("diff", demo, demo.parent / "none.toml")
    assert (outcome.code, outcome.out) == (2, "")
    assert "there is no such file" in outcome.err


def test_only_the_cards_that_changed_are_written(call: Any, plans: tuple[Path, Path]) -> None:
    demo, other = plans
    first, second = demo.parent / "first", demo.parent / "second"
    assert call("brief", demo, "-o", first, "--width", "400").code == 0
    outcome = call("brief", other, "-o", second, "--changed-from", first, "--width", "400")
    assert outcome.code == 0
    written = {entry.name for entry in second.iterdir()}
    assert {"circuit-card.pdf", "ship-card.png", "cards.json"} <= written
    assert not any(name.startswith(("signs-card", "checklist")) for name in written)
    assert "cards changed, written to" in outcome.out


def test_where_nothing_changed_nothing_is_written(call: Any, demo: Path) -> None:
    first, second = demo.parent / "first", demo.parent / "second"
    call("brief", demo, "-o", first, "--width", "400")
    outcome = call("brief", demo, "-o", second, "--changed-from", first)
    assert outcome.code == 0
    assert "No card changed" in outcome.out
    assert not second.exists()


@pytest.mark.parametrize("content", [None, b"", b"{", b"[]", b'{"format": 9}', b"\xff\xfe"])
def test_a_folder_that_is_no_brief_is_told(call: Any, demo: Path, content: bytes | None) -> None:
    old, new = demo.parent / "old", demo.parent / "new"
    old.mkdir()
    if content is not None:
        (old / "cards.json").write_bytes(content)
    outcome = call("brief", demo, "-o", new, "--changed-from", old)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.splitlines()[-1].startswith(f"--changed-from = {old}: cards.json cannot be read there")
    assert not new.exists()
