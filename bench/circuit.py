"""How long do one circuit and its error costs take, plain and compiled? Run `python bench/circuit.py`.

Budgets: plain below 100 ms, compiled below 5 ms; with its figures and error costs below 50 ms
compiled. The baseline is the plain circuit in the same run; each way runs in a process of its own, since kernels are
compiled or not once and for all.
"""

from __future__ import annotations

import json
import statistics
import subprocess
import sys

RUNS = 30
TIMER = """
import json, sys, time
if sys.argv[1] == "compiled":
    from roundown.motion import jit
    assert jit.enable()
from importlib import resources
from roundown.day.facts import circuit_facts, wind_rows
from roundown.documents import parse_document
from roundown.plan.read import day_of
from roundown.recovery.circuit import solve_circuit
from roundown.recovery.error_costs import error_costs
from roundown.recovery.latest_turn_in import latest_turn_in
from roundown.recovery.result import describe
text = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
day = day_of(parse_document("demo", text))
facts = circuit_facts(day, wind_rows(day), 2.4, 8.0)
circuit = solve_circuit(facts)
describe(circuit, facts), error_costs(circuit, facts), latest_turn_in(circuit, facts)
out = {"solve": [], "describe": [], "costs": [], "window": []}
for _ in range(int(sys.argv[2])):
    a = time.perf_counter()
    circuit = solve_circuit(facts)
    b = time.perf_counter()
    describe(circuit, facts)
    c = time.perf_counter()
    error_costs(circuit, facts)
    d = time.perf_counter()
    latest_turn_in(circuit, facts)
    out["solve"].append(b - a)
    out["describe"].append(c - b)
    out["costs"].append(d - c)
    out["window"].append(time.perf_counter() - d)
print(json.dumps(out))
"""


def times(way: str) -> dict[str, float]:
    """Median time of each part [s], plain or compiled."""
    command = [sys.executable, "-c", TIMER, way, str(RUNS)]
    run = subprocess.run(command, check=True, capture_output=True, text=True)  # noqa: S603 - our own command
    parts: dict[str, list[float]] = json.loads(run.stdout)
    return {name: statistics.median(values) for name, values in parts.items()}


def main() -> None:
    plain, fast = times("plain"), times("compiled")
    print(f"{'part':10} {'plain ms':>9} {'compiled ms':>12} {'plain/compiled':>15}")
    for name in plain:
        print(f"{name:10} {1e3 * plain[name]:9.1f} {1e3 * fast[name]:12.1f} {plain[name] / fast[name]:15.1f}")


if __name__ == "__main__":
    main()
