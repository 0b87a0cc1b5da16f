"""`roundown brief` and `roundown demo`: what is written, what is said, and what is left alone."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]
CARDS = {
    "circuit-card", "ship-card", "light-card", "timeline-card", "ship-day-card", "radio-card",
    *(f"seat-{side}" for side in (11, 12, 13, 14, 21, 22, 23, 24)),
}  # fmt: skip
CAUTION = "For simulation, teaching and history."


def names(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


def written(folder: Path) -> list[str]:
    """What of a folder a brief of the demo has written: page, solution, and its cards as paper and picture."""
    cards = {name.removesuffix(".pdf") for name in names(folder) if name.endswith(".pdf")}
    assert {re.sub(r"-page-\d+$", "", card) for card in cards} >= CARDS
    drawn = [f"{card}.{form}" for card in cards for form in ("pdf", "png")]
    return sorted(["brief.html", "solution.json", "cards.json", *drawn])


def test_a_brief_is_cards_page_and_solution(call: Call, demo: Path) -> None:
    folder = demo.parent / "out"
    outcome = call("brief", demo, "-o", folder, "--width", "600")
    assert outcome.code == 0
    assert names(folder) == written(folder)
    assert (folder / "circuit-card.pdf").read_bytes().startswith(b"%PDF-")
    picture = (folder / "circuit-card.png").read_bytes()
    assert picture.startswith(b"\x89PNG")
    assert int.from_bytes(picture[16:20], "big") == 600
    page = (folder / "brief.html").read_text("utf-8")
    assert CAUTION in page
    data = json.loads((folder / "solution.json").read_text("utf-8"))
    first, *_, last = outcome.out.splitlines()
    assert first == f"{data['plan']}: {data['verdict']}"
    assert str(folder / "brief.html") in last
    assert [line[:4] for line in outcome.err.splitlines()] == ["... "] * len(outcome.err.splitlines())


def test_other_files_of_the_folder_stay_and_older_briefs_are_replaced(call: Call, demo: Path) -> None:
    folder = demo.parent
    (folder / "brief.html").write_bytes(b"last week")
    (folder / "notes.txt").write_bytes(b"mine")
    before = demo.read_bytes()
    assert call("brief", demo, "-o", folder, "--width", "300").code == 0
    assert names(folder) == sorted([*written(folder), "demo.toml", "notes.txt"])
    assert (folder / "notes.txt").read_bytes() == b"mine"
    assert demo.read_bytes() == before
    assert (folder / "brief.html").read_bytes() != b"last week"


@pytest.mark.parametrize("width", ["0", "-5", "299", "6001"])
def test_a_width_nobody_can_read_is_refused(call: Call, demo: Path, width: str) -> None:
    outcome = call("brief", demo, "-o", demo.parent / "out", f"--width={width}")
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == f"--width = {width}: 300 to 6000 pixels are allowed. Choose another width.\n"
    assert names(demo.parent) == ["demo.toml"]


def test_a_file_where_the_folder_should_be_is_told(call: Call, demo: Path) -> None:
    outcome = call("brief", demo, "-o", demo, "--width", "300")
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.splitlines()[-1] == f"{demo}: this is a file. Name a folder with -o."


def test_a_day_that_does_not_work_is_briefed_all_the_same(call: Call, demo: Path) -> None:
    demo.write_text(demo.read_text("utf-8") + '\n[override.wind]\nover_deck = "60 kt"\n', encoding="utf-8")
    folder = demo.parent / "out"
    outcome = call("brief", demo, "-o", folder, "--width", "300")
    assert outcome.code == 1
    assert outcome.out.splitlines()[1].startswith("  stop: ")
    assert names(folder) == written(folder)


def test_the_demo_needs_nothing_and_keeps_a_plan_somebody_changed(call: Call, tmp_path: Path) -> None:
    folder = tmp_path / "roundown-demo"
    outcome = call("demo", "-o", folder)
    assert outcome.code == 0
    assert names(folder) == sorted([*written(folder), "demo.toml"])
    plan = folder / "demo.toml"
    assert f"The plan is {plan}" in outcome.out
    plan.write_text(plan.read_text("utf-8").replace("Home before dusk (demo)", "My evening"), encoding="utf-8")
    again = call("demo", "-o", folder)
    assert again.out.startswith("My evening: ")
    assert "My evening" in (folder / "brief.html").read_text("utf-8")
