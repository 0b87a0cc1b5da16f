"""How long does a whole day take? Run `python bench/day.py`.

Budget: the demo day below 200 ms when imports and light searches are warm. The baseline is the day's own circuit,
solved and described in the same run. "Remembered" is the same day again with the memory the page uses; "edited" another
wind each time with that memory.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from functools import partial
from importlib import resources

from roundown.day.facts import circuit_facts, wind_rows
from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.recovery.circuit import Circuit, solve_circuit
from roundown.recovery.result import describe

RUNS = 15


def day(text: str) -> Day:
    document = parse_document("plan", text)
    assert isinstance(document, Document)
    return day_of(document)


def median(work: Callable[[int], object]) -> float:
    """Median time of a piece of work, given the number of the run [s]."""
    work(-1)
    times = []
    for i in range(RUNS):
        begun = time.perf_counter()
        work(i)
        times.append(time.perf_counter() - begun)
    return statistics.median(times)


def one_circuit(today: Day, _: int) -> None:
    facts = circuit_facts(today, wind_rows(today), 2.44, 9.6)
    circuit = solve_circuit(facts)
    assert isinstance(circuit, Circuit)
    describe(circuit, facts)


def rows(text: str, today: Day) -> dict[str, float]:
    """Median times of what is done with a plan [s]."""
    memory = Memory()
    wind = next(line for line in text.splitlines() if line.startswith("surface_wind"))

    def edited(run: int) -> None:
        solve(day(text.replace(wind, f'surface_wind = "{130 + run}/12 kt"')), memory)

    return {
        "read": median(lambda _: day(text)),
        "solved": median(lambda _: solve(today)),
        "remembered": median(lambda _: solve(today, memory)),
        "edited": median(edited),
    }


def main() -> None:
    for name in ("demo", "larger"):
        text = resources.files("roundown.plan").joinpath(f"{name}.toml").read_text("utf-8")
        today = day(text)
        base = median(partial(one_circuit, today))
        print(f"{name}: one circuit {1e3 * base:.0f} ms")
        for part, took in rows(text, today).items():
            print(f"  {part:11} {1e3 * took:7.1f} ms {took / base:6.2f} circuits")


if __name__ == "__main__":
    main()
