"""How long do ten thousand deck runs take, plain and compiled? Run `python bench/run.py`.

Budget: compiled at most a tenth of the plain loop in the same run; each way runs in a process of its own, since kernels
are compiled or not once and for all. The plain loop makes a tenth of the runs and is scaled; compiling is not counted.
"""

from __future__ import annotations

import json
import subprocess
import sys

RUNS = 10_000
PLAIN_RUNS = 1_000
TIMER = """
import json, sys, time
runs = int(sys.argv[2])
if sys.argv[1] == "compiled":
    from roundown.motion import jit
    assert jit.enable()
from roundown.catalog.load import builtin_catalog
from roundown.launch.facts import RunFacts
from roundown.launch.of_type import launch_aeroplane
from roundown.launch.scatter import PLAUSIBLE, scatter
aeroplane = launch_aeroplane(builtin_catalog()["types"]["ottery"].values)
facts = RunFacts(aeroplane, 288.15, 101325.0, 19.0, 16.0, 0.0, 16.0, 125.0)
scatter(facts, PLAUSIBLE, seed=1, runs=2)
begun = time.perf_counter()
found = scatter(facts, PLAUSIBLE, seed=1, runs=runs)
print(json.dumps([(time.perf_counter() - begun) / runs, found.chance, found.chance_error]))
"""


def timed(way: str, runs: int) -> tuple[float, float, float]:
    """Time of one run [s], and the chance with its standard error."""
    command = [sys.executable, "-c", TIMER, way, str(runs)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)  # noqa: S603 - our own command
    seconds, chance, error = json.loads(done.stdout)
    return seconds, chance, error


def main() -> None:
    plain, fast = timed("plain", PLAIN_RUNS), timed("compiled", RUNS)
    print(
        f"{RUNS} runs: plain {RUNS * plain[0]:.1f} s, compiled {RUNS * fast[0]:.2f} s, ratio {plain[0] / fast[0]:.0f}"
    )
    print(
        f"chance below lift-off speed {fast[1]:.4f} within {fast[2]:.4f} (plain, a tenth of the runs: {plain[1]:.3f})"
    )


if __name__ == "__main__":
    main()
