"""How quick are the commands a person waits for? Ratios against an interpreter that imports numpy, in the same run.

Budgets: --help below 2, check below 10, cold demo below 30 s. `python bench/start_up.py`
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from importlib import resources
from pathlib import Path

RUNS = 7


def seconds(command: list[str]) -> float:
    """Wall time of one run of a command [s]."""
    begun = time.perf_counter()
    subprocess.run(command, check=False, capture_output=True)  # noqa: S603 - our own command
    return time.perf_counter() - begun


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        plan = Path(folder) / "demo.toml"
        plan.write_bytes(resources.files("roundown.plan").joinpath("demo.toml").read_bytes())
        baseline = [sys.executable, "-c", "import numpy"]
        roundown = [sys.executable, "-m", "roundown"]
        commands = {
            "--help": ([*roundown, "--help"], "2"),
            "reckon wind": ([*roundown, "reckon", "wind", "--wind", "070/12", "--over-deck", "30"], "-"),
            "catalog": ([*roundown, "catalog"], "-"),
            "check": ([*roundown, "check", str(plan)], "15"),
            "demo": ([*roundown, "demo", "-o", str(Path(folder) / "out")], "30 s"),
        }
        for command, _ in commands.values():
            seconds(command)
        print(f"{'command':14} {'median s':>9} {'times numpy':>12}  budget")
        for name, (command, budget) in commands.items():
            pairs = [(seconds(command), seconds(baseline)) for _ in range(RUNS)]
            ratio = statistics.median(a / b for a, b in pairs)
            print(f"{name:14} {statistics.median(a for a, _ in pairs):9.3f} {ratio:12.2f}  {budget}")


if __name__ == "__main__":
    main()
