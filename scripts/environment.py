"""The project's own virtual environment: made once, installed from a lock file with hashes, checked before it is used.

Only the standard library is used here: this runs on a machine that has nothing but Python, pip, venv and git.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / ".venv"
PYTHON = FOLDER / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

BROWSERS = ("chromium", "chromium-browser", "google-chrome")  # as tests/web/conftest.py looks for them


def make(lock: str) -> Path:
    """Make or bring up to date the environment for a lock file, with the project itself in it; returns its Python.

    lock : "core" or "test", in requirements/. An environment made for "test" serves "core" too.
    """
    if sys.version_info < (3, 11):  # noqa: UP036 - said in words to whoever has an older one
        sys.exit(f"Python 3.11 or newer is needed; this is {sys.version.split()[0]}. Install a newer Python.")
    requirements = ROOT / "requirements" / f"{lock}.lock"
    done = FOLDER / f"installed-{lock}"
    mark = hashlib.sha256(requirements.read_bytes() + (ROOT / "pyproject.toml").read_bytes()).hexdigest()
    if done.is_file() and done.read_text("utf-8") == mark and PYTHON.is_file():
        return PYTHON
    print(f"... making {FOLDER.name} for requirements/{lock}.lock (a minute, once)", flush=True)
    if not PYTHON.is_file():
        venv.create(FOLDER, with_pip=True)
    pip("install", "--quiet", "--require-hashes", "--requirement", str(requirements))
    pip("install", "--quiet", "--no-deps", "--no-build-isolation", "--editable", str(ROOT))
    done.write_text(mark, "utf-8")
    return PYTHON


def pip(*arguments: str) -> None:
    """Run the environment's pip; ends the process with a sentence when it fails."""
    command = [str(PYTHON), "-m", "pip", "--disable-pip-version-check", *arguments]
    if subprocess.run(command, check=False).returncode:
        sys.exit("Installing failed: see the lines above. Is this machine online, and is there room on the disk?")


def browser() -> None:
    """See to it that a Chromium is there for the tests of the page; ends the process with a sentence where none is.

    One named in the environment variable CHROMIUM, or on the PATH, will do; Debian's is installed where we may.
    """
    if os.environ.get("CHROMIUM") or any(shutil.which(name) for name in BROWSERS):
        return
    if sys.platform == "linux" and shutil.which("apt-get") and os.geteuid() == 0:
        print("... installing chromium for the tests of the page (half a minute, once)", flush=True)
        steps = (("update",), ("install", "--yes", "--no-install-recommends", "chromium"))
        if all(run("apt-get", "--quiet", *step) == 0 for step in steps) and shutil.which(BROWSERS[0]):
            return
    sys.exit(
        "The tests of the page need a Chromium and none is there: install the package chromium (as root: apt-get "
        "install chromium), or name the program in the environment variable CHROMIUM."
    )


def run(*command: str) -> int:
    """Run a command in the project's folder; returns its exit code."""
    return subprocess.run(command, cwd=ROOT, check=False).returncode
