"""`roundown export`: which files are written, what is said, and what is left alone."""

from __future__ import annotations

from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]
ENDINGS = ["csv", "geojson", "gpx", "ics", "kml"]


@pytest.fixture
def single(tmp_path: Path) -> Path:
    """A plan without events."""
    file = tmp_path / "single.toml"
    text = (Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8")
    file.write_text(text, encoding="utf-8")
    return file


def contents(folder: Path) -> dict[str, bytes]:
    return {entry.name: entry.read_bytes() for entry in folder.iterdir()}


def test_every_format_is_written_and_twice_the_same(call: Call, demo: Path) -> None:
    folder = demo.parent / "out"
    outcome = call("export", demo, "-o", folder)
    assert outcome.code == 0
    first = contents(folder)
    assert sorted(first) == [f"demo.{ending}" for ending in ENDINGS]
    assert outcome.out.splitlines()[0].startswith("Home before dusk (demo): Works")
    assert outcome.out.splitlines()[-1] == (
        f"Written to {folder}: demo.geojson, demo.gpx, demo.kml, demo.ics, demo.csv"
    )
    assert [line[:4] for line in outcome.err.splitlines()] == ["... "] * len(outcome.err.splitlines())
    assert call("export", demo, "-o", folder).code == 0
    assert contents(folder) == first


@pytest.mark.parametrize(
    "options", [["--format", "gpx", "csv"], ["--format", "gpx", "--format", "csv", "--format", "gpx"]]
)
def test_only_the_formats_asked_for_are_written_and_other_files_stay(
    call: Call, demo: Path, options: list[str]
) -> None:
    folder = demo.parent / "out"
    folder.mkdir()
    (folder / "demo.kml").write_bytes(b"mine")
    outcome = call("export", demo, "-o", folder, *options)
    assert outcome.code == 0
    assert outcome.out.splitlines()[-1] == f"Written to {folder}: demo.gpx, demo.csv"
    assert sorted(contents(folder)) == ["demo.csv", "demo.gpx", "demo.kml"]
    assert contents(folder)["demo.kml"] == b"mine"


def test_a_plan_without_events_exports_its_circuit_and_says_what_there_is_not(call: Call, single: Path) -> None:
    folder = single.parent / "out"
    outcome = call("export", single, "-o", folder)
    assert outcome.code == 0
    assert sorted(contents(folder)) == ["single.geojson", "single.gpx", "single.kml"]
    assert "  No single.ics. There are no times to export: the plan names no event." in outcome.out.splitlines()


def test_where_there_is_nothing_to_write_that_is_said(call: Call, single: Path) -> None:
    folder = single.parent / "out"
    outcome = call("export", single, "-o", folder, "--format", "ics")
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.splitlines()[-1] == (
        f"{single}: nothing was written. No single.ics. There are no times to export: the plan names no event."
    )
    assert not folder.exists()


def test_a_format_nobody_knows_is_refused_with_those_there_are(call: Call, demo: Path) -> None:
    outcome = call("export", demo, "-o", demo.parent / "out", "--format", "pdf")
    assert outcome.code != 0
    assert all(ending in outcome.out + outcome.err for ending in ENDINGS)
    assert not (demo.parent / "out").exists()


def test_a_sea_room_round_a_pole_is_refused_before_anything_is_written(call: Call, demo: Path) -> None:
    text = demo.read_text("utf-8")
    start = text.index("corners = [")
    line = text[start : text.index("\n", start)]
    demo.write_text(
        text.replace(line, 'corners = ["70 00 S 000 00 E", "70 00 S 120 00 E", "70 00 S 120 00 W"]'), encoding="utf-8"
    )
    folder = demo.parent / "out"
    outcome = call("export", demo, "-o", folder)
    assert outcome.code == 2
    assert "pole" in outcome.err.splitlines()[-1]
    assert not folder.exists()


def test_a_plan_that_cannot_be_read_writes_nothing(call: Call, tmp_path: Path) -> None:
    outcome = call("export", tmp_path / "none.toml", "-o", tmp_path / "out")
    assert outcome.code == 2
    assert "there is no such file" in outcome.err
    assert not (tmp_path / "out").exists()


def test_a_day_that_does_not_work_is_exported_all_the_same(call: Call, demo: Path) -> None:
    demo.write_text(demo.read_text("utf-8") + '\n[override.wind]\nover_deck = "60 kt"\n', encoding="utf-8")
    folder = demo.parent / "out"
    outcome = call("export", demo, "-o", folder, "--format", "kml")
    assert outcome.code == 1
    assert sorted(contents(folder)) == ["demo.kml"]


def test_the_larger_day_is_exported(call: Call, tmp_path: Path) -> None:
    plan = tmp_path / "larger.toml"
    plan.write_bytes(resources.files("roundown.plan").joinpath("larger.toml").read_bytes())
    assert call("export", plan, "-o", tmp_path / "out").code == 0
    assert sorted(contents(tmp_path / "out")) == [f"larger.{ending}" for ending in ENDINGS]
