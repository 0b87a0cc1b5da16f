"""Documentation that can go stale is held current."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])


def test_the_plan_file_reference_is_current() -> None:
    """Run `python scripts/reference.py` when a key has changed."""
    script = ROOT / "scripts" / "reference.py"
    assert subprocess.run([sys.executable, str(script), "--check"], check=False, cwd=ROOT).returncode == 0  # noqa: S603 - our own script


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_between_pages_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)", page.read_text("utf-8")):
        assert (page.parent / target).exists(), f"{page.name} links to {target}"


def test_every_command_is_in_the_readme() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    for command in ("demo", "new", "check", "brief", "rehearse", "catalog", "reckon"):
        assert f"roundown {command}" in text or f"scripts/{command}.py" in text, command


def test_lock_files_have_hashes_and_no_address() -> None:
    for lock in (ROOT / "requirements").glob("*.lock"):
        text = lock.read_text("utf-8")
        assert "--hash=sha256:" in text
        assert "://" not in text
        assert "index-url" not in text
