"""Nothing waits silently: light commands load no heavy library. Looked at in a process of their own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import roundown
from roundown import CAUTION

SPY = """
import contextlib, io, json, sys
from roundown.cli.main import run
with contextlib.redirect_stdout(io.StringIO()) as out:
    try:
        run(sys.argv[1:])
    except SystemExit as ended:
        code = ended.code
print(json.dumps({"code": code, "modules": sorted(sys.modules), "out": out.getvalue()}))
"""


def spy(*arguments: str) -> tuple[int, set[str], str]:
    """Exit code, modules loaded and answer of a command run in a fresh process."""
    environment = {**os.environ, "PYTHONPATH": str(Path(roundown.__file__).parents[1])}
    ended = subprocess.run(  # noqa: S603 - our own words
        [sys.executable, "-c", SPY, *arguments], env=environment, capture_output=True, text=True, check=True
    )
    found = json.loads(ended.stdout)
    return found["code"], set(found["modules"]), found["out"]


@pytest.mark.parametrize(
    "line",
    [
        "--help",
        "catalog",
        "reckon wind --wind 070/12 --over-deck 30",
        "reckon true-wind --course 90 --speed 20 --relative 030/25",
        "reckon turn --tas 90 --bank 30",
        "reckon air --altitude 10000 --cas 150",
        "reckon triangle --course 45 --tas 120 --wind 300/20",
    ],
)
def test_light_commands_load_no_heavy_library(line: str) -> None:
    code, modules, out = spy(*line.split())
    assert code == 0
    assert out
    assert not modules & {"numba", "scipy", "typst", "llvmlite", "tree_sitter", "geographiclib", "skyfield"}


@pytest.mark.parametrize(
    "arguments",
    [
        ("horizon", "--height", "90"),
        ("variation", "--position", "15 00 N 145 00 E", "--date", "1944-06-19"),
    ],
)
def test_horizon_and_variation_load_neither_the_ephemeris_nor_arrays(arguments: tuple[str, ...]) -> None:
    code, modules, _ = spy("reckon", *arguments)
    assert code == 0
    assert not modules & {"numpy", "scipy", "skyfield", "jplephem", "sgp4", "tree_sitter"}


def test_light_opens_the_ephemeris_and_nothing_else_heavy() -> None:
    code, modules, _ = spy("reckon", "light", "--position", "15 00 N 145 00 E", "--date", "1944-06-19", "--zone", "Z")
    assert code == 0
    assert "skyfield" in modules
    assert not modules & {"numba", "scipy", "typst", "llvmlite", "tree_sitter", "pandas"}


def test_checking_a_plan_compiles_nothing_and_sets_no_type(tmp_path: Path) -> None:
    plan = tmp_path / "mine.toml"
    answers = {
        "--ship-speed": "30 kt", "--deck-height": "65 ft", "--approach-speed": "85 kt", "--stall-speed": "70 kt",
        "--break-speed": "120 kt", "--weight": "9800 lb", "--calm-run": "750 ft", "--wind": "070/12 kt",
    }  # fmt: skip
    code, modules, _ = spy("new", *(part for answer in answers.items() for part in answer), "-o", str(plan))
    assert code == 0
    assert not modules & {"numba", "scipy", "typst"}
    code, modules, out = spy("check", str(plan))
    assert code == 0
    assert out.startswith("My circuit: ")
    assert not modules & {"numba", "typst", "llvmlite"}


def test_help_says_what_it_is_for_and_names_every_command() -> None:
    code, _, out = spy("--help")
    assert code == 0
    words = " ".join(out.split())
    assert CAUTION in words
    for command in ("demo", "new", "check", "brief", "rehearse", "catalog", "reckon"):
        assert f"│ {command} " in out


def test_the_program_may_be_run_as_a_module() -> None:
    environment = {**os.environ, "PYTHONPATH": str(Path(roundown.__file__).parents[1])}
    ended = subprocess.run(
        [sys.executable, "-m", "roundown", "--version"], env=environment, capture_output=True, text=True, check=False
    )
    assert (ended.returncode, ended.stdout.strip(), ended.stderr) == (0, roundown.__version__, "")
