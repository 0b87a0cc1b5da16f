"""`roundown schema`: shown, or written for an editor."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from jsonschema import Draft202012Validator

import roundown
from roundown.plan.read import read_plan

Call = Callable[..., Any]
SPY = """
import contextlib, io, sys
from roundown.cli.main import run
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    run(["schema"])
print(" ".join(sys.modules))
"""


def test_the_schema_is_shown(call: Call) -> None:
    outcome = call("schema")
    assert (outcome.code, outcome.err) == (0, "")
    Draft202012Validator.check_schema(json.loads(outcome.out))


def test_the_schema_is_written_and_the_line_for_the_plan_told(call: Call, tmp_path: Path) -> None:
    file = tmp_path / "roundown.schema.json"
    outcome = call("schema", "-o", file)
    assert outcome.code == 0
    assert outcome.out == f"Written to {file}. First line of a plan beside it: #:schema roundown.schema.json\n"
    assert file.read_text("utf-8") == call("schema").out


def test_a_schema_that_cannot_be_written_is_told(call: Call, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    outcome = call("schema", "-o", tmp_path / "file" / "schema.json")
    assert (outcome.code, outcome.out) == (2, "")
    assert "cannot be written" in outcome.err


def test_it_loads_no_heavy_library() -> None:
    environment = {**os.environ, "PYTHONPATH": str(Path(roundown.__file__).parents[1])}
    ended = subprocess.run(  # noqa: S603 - our own words
        [sys.executable, "-c", SPY], env=environment, capture_output=True, text=True, check=True
    )
    heavy = {"numba", "scipy", "numpy", "typst", "skyfield", "geographiclib"}
    assert not heavy & set(ended.stdout.split())


def test_the_line_for_the_editor_is_a_remark_to_the_program(demo: Path) -> None:
    demo.write_text("#:schema roundown.schema.json\n" + demo.read_text("utf-8"), encoding="utf-8")
    assert read_plan(demo).title == "Home before dusk (demo)"
