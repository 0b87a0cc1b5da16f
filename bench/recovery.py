"""How long do a thousand drawn recoveries of 24 take? Run `python bench/recovery.py`.

Budget: 2 s. The baseline, in the same run, is one recovery of the same count with nothing left to chance: what drawing
and wave-offs cost beside it is the ratio.
"""

from __future__ import annotations

import statistics
import time

from roundown.quantities import Band
from roundown.recovery.cycle import Burn, Homing, RhythmFacts, even, recover
from roundown.recovery.rhythm import RECOVERIES, rhythm

COUNT = 24
EVEN_RUNS = 200
BUDGET = 2.0  # s


def facts(count: int) -> RhythmFacts:
    """A plain recovery with every assumption at work."""
    burn = Burn(circuit=0.055, hold=0.04, full=0.2)
    return RhythmFacts(
        aeroplanes=tuple(Homing(f"{i}", 0.0, 120.0, burn, wave_offs=0.06) for i in range(count)),
        interval=30.0,
        circuit=150.0,
        go_round=170.0,
        clear=Band(20.0, 25.0, 30.0),
        scatter=4.0,
        full_time=15.0,
        fouls=0.03,
        foul_time=30.0,
        barrier_hits=0.004,
        barrier_clear=300.0,
        reserve=1200.0,
    )


def main() -> None:
    plain = facts(COUNT)
    even_times = []
    for _ in range(EVEN_RUNS):
        begun = time.perf_counter()
        recover(plain, even(plain))
        even_times.append(time.perf_counter() - begun)
    each_even = statistics.median(even_times)
    begun = time.perf_counter()
    found = rhythm(plain)
    whole = time.perf_counter() - begun
    within = "within" if whole <= BUDGET else "OVER"
    print(f"{RECOVERIES} recoveries of {COUNT}: {whole:.2f} s, {within} the budget of {BUDGET:.0f} s")
    print(f"each {1e3 * whole / RECOVERIES:.2f} ms, without chance {1e3 * each_even:.2f} ms, ", end="")
    print(
        f"ratio {whole / RECOVERIES / each_even:.1f} with {found.wave_offs + found.foul_decks:.1f} wave-offs a recovery"
    )
    twice = facts(2 * COUNT)
    begun = time.perf_counter()
    rhythm(twice, draws=RECOVERIES // 4)
    double = 4.0 * (time.perf_counter() - begun)
    print(f"of {2 * COUNT}: {double:.2f} s, ratio {double / whole:.1f} to those of {COUNT}")


if __name__ == "__main__":
    main()
