"""How long does a spot of forty take, and what does the search gain? Run `python bench/spot.py`.

Budgets: the greedy spot below 50 ms; the search below 5 s with progress. The baseline is the greedy spot of the
same run.
"""

from __future__ import annotations

import statistics
import time

from roundown.catalog.load import builtin_catalog
from roundown.launch.deck_plan import deck_of
from roundown.launch.footprint import footprint_of
from roundown.launch.spot import Parked, spot
from roundown.launch.spot_search import can_search, improved
from roundown.quantities import LENGTH, write

RUNS = 9
NUMBERS = {"ottery": 12, "sallow": 14, "brindle": 14}


def main() -> None:
    catalog = builtin_catalog()
    sizes = {name: footprint_of(catalog["types"][name].values) for name in NUMBERS}
    load = [Parked(f"{name} {i}", sizes[name]) for name, count in NUMBERS.items() for i in range(count)]
    deck = deck_of(catalog["ships"]["corbel"].values)
    times = []
    for _ in range(RUNS):
        begun = time.perf_counter()
        found = spot(load, deck)
        times.append(time.perf_counter() - begun)
    greedy = statistics.median(times)
    print(f"greedy {1e3 * greedy:8.1f} ms  run of the first {write(found.first_run or 0.0, LENGTH, decimals=1)}")
    if not can_search():
        print("the extra [spot] is not installed: no search")
        return
    begun = time.perf_counter()
    better = improved(found, load, deck, progress=print)
    searched = time.perf_counter() - begun
    print(f"search {searched:8.1f} s   run of the first {write(better.first_run or 0.0, LENGTH, decimals=1)}")
    print(f"search/greedy {searched / greedy:.0f}")


if __name__ == "__main__":
    main()
