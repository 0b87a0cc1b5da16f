"""Set up the core and brief the demo: `python scripts/demo.py`. Further arguments go to `roundown demo`."""

from __future__ import annotations

import sys

import environment


def main() -> int:
    """Install what a run needs, then solve and brief the demo evening."""
    python = environment.make("core")
    return environment.run(str(python), "-m", "roundown", "demo", *sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
