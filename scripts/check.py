"""Set up what the tests need and run every check: `python scripts/check.py`.

Format, lint, import contracts, types, tests. The tests of the page need a Chromium, which is installed where we may.
With `--here` the running Python is used and nothing is installed.
"""

from __future__ import annotations

import sys
import time

import environment

CHECKS = (
    ("format", ("-m", "ruff", "format", "--check", "--quiet", ".")),
    ("lint", ("-m", "ruff", "check", "--quiet", ".")),
    ("contracts", ("-c", "from importlinter.cli import lint_imports_command; lint_imports_command()")),
    ("types", ("-m", "mypy")),
    ("tests", ("-m", "pytest", "--numprocesses", "auto")),
)


def main() -> int:
    """Run the checks in order; all are run, and the exit code says whether all passed."""
    python = sys.executable
    if "--here" not in sys.argv[1:]:
        python = str(environment.make("test"))
        environment.browser()
    failed = []
    for name, arguments in CHECKS:
        begun = time.monotonic()
        if environment.run(python, *arguments):
            failed.append(name)
        print(f"... {name}: {'FAILED' if name in failed else 'passed'} in {time.monotonic() - begun:.0f} s", flush=True)
    print(f"Failed: {', '.join(failed)}." if failed else "All checks passed.")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
