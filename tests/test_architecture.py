"""The shape of the code: arrows between packages, docstrings, sizes, and no printing but on the command line."""

from __future__ import annotations

import ast
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

import roundown

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "roundown"
MODULES = sorted(SOURCE.rglob("*.py"))
LONGEST = 400  # lines
# One idea that must stay in one module is allowed more: a kernel is compiled as a whole.
LONGER = {"motion/kernel.py": 450}
NO_JUNK = {"utils", "helpers", "common", "misc", "tools"}


def project() -> dict[str, Any]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def named(module: Path) -> str:
    return str(module.relative_to(SOURCE))


def test_arrows_point_inward() -> None:
    """The contracts of pyproject.toml, kept by the library import-linter."""
    code = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    ended = subprocess.run(  # noqa: S603 - our own words
        [sys.executable, "-c", code], cwd=ROOT, env=environment, capture_output=True, text=True, check=False
    )
    assert ended.returncode == 0, ended.stdout
    assert "0 broken" in ended.stdout


def test_the_layers_stand_in_the_architecture_page_in_the_same_order() -> None:
    contract = next(each for each in project()["tool"]["importlinter"]["contracts"] if each["type"] == "layers")
    layers = [[name.strip() for name in layer.split("|")] for layer in contract["layers"]]
    page = (ROOT / "docs" / "architecture.md").read_text("utf-8")
    rows = re.findall(r"^- ((?:`\w+`(?:, )?)+):", page, flags=re.MULTILINE)
    assert [re.findall(r"`(\w+)`", row) for row in rows] == layers


def test_every_package_of_the_source_has_a_place_in_the_layers() -> None:
    contract = next(each for each in project()["tool"]["importlinter"]["contracts"] if each["type"] == "layers")
    placed = {name.strip() for layer in contract["layers"] for name in layer.split("|")}
    found = {entry.stem for entry in SOURCE.iterdir() if entry.suffix == ".py" or (entry / "__init__.py").exists()}
    assert found - {"__init__", "__main__"} == placed


@pytest.mark.parametrize("module", MODULES, ids=named)
def test_a_module_says_what_it_is_for(module: Path) -> None:
    assert ast.get_docstring(ast.parse(module.read_text("utf-8")))


@pytest.mark.parametrize("module", MODULES, ids=named)
def test_a_module_is_short_enough_to_be_read(module: Path) -> None:
    assert len(module.read_text("utf-8").splitlines()) <= LONGER.get(named(module), LONGEST)


@pytest.mark.parametrize("module", MODULES, ids=named)
def test_a_module_is_named_by_its_idea(module: Path) -> None:
    assert module.stem not in NO_JUNK


@pytest.mark.parametrize("module", [each for each in MODULES if each.parent.name != "cli"], ids=named)
def test_only_the_command_line_prints(module: Path) -> None:
    calls = [node.func for node in ast.walk(ast.parse(module.read_text("utf-8"))) if isinstance(node, ast.Call)]
    assert not any(isinstance(call, ast.Name) and call.id == "print" for call in calls)


@pytest.mark.parametrize("module", [each for each in MODULES if each.name == "__init__.py"], ids=named)
def test_a_package_does_nothing_when_it_is_imported(module: Path) -> None:
    body = ast.parse(module.read_text("utf-8")).body
    allowed = (ast.Expr, ast.Assign) if module.parent == SOURCE else (ast.Expr,)
    assert all(isinstance(statement, allowed) for statement in body)


def test_the_version_is_the_same_everywhere() -> None:
    assert project()["project"]["version"] == roundown.__version__
