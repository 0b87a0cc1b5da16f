"""How long does it take to get so many aboard when things go amiss, and with how much fuel do they come?

*Method:* many recoveries (recovery/cycle.py), each drawn from a stream of its own of one seed (numpy's SeedSequence
with a spawn key), so that the first hundred of a thousand are the hundred of the same seed. Drawn are: how often each
is waved off for the pass, geometric, from one number each, so that a greater part never gives fewer; the deck's clear
time, triangular between its band's ends with the aim as the likeliest; whether it fouls the deck longer or ends in the
barrier; the interval, normal, nil where it comes out below. Quantiles are linear between order statistics.

*Holds for:* the doctrine's rates, which are assumptions: for wave-offs no published rate was found (PRO-105), for
accidents they lie from 2 in 1,000 landings in training (PRO-102) to 1 in 10 on the worst days (PRO-101). Draws are
independent of one another: no bad pilot, no bad day.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from roundown.figures import figure
from roundown.motion.frames import Floats
from roundown.quantities import CLOCK_TIME, COUNT, MASS, MEAN_COUNT, MINUTES, SHARE, TIME, Band
from roundown.recovery.cycle import HOOK, Chance, Recovery, RhythmFacts, planned_duration, recover

RECOVERIES = 1000
SEED = 1
TENTH = 0.1
INPUTS = (
    "event.*", "doctrine.*", "circuit.*", "type.*", "ship.*", "weather.*", "place.*", "simulator.*", "company.*",
)  # fmt: skip
_DRAWN = "many drawn recoveries of one seed (recovery/rhythm.py); the rates are assumptions"
_EVEN = "the interval for each, the doctrine's or what the deck takes; nothing amiss (recovery/cycle.py)"


@dataclass(frozen=True, eq=False, kw_only=True)
class Rhythm:
    """What many recoveries of one event came to. "One in ten" is one recovery in ten.

    draws, seed : how many, and what they were drawn from; durations : one a draw, ascending [s]
    """

    count: float = figure(COUNT, "how many come home", "of the event's", INPUTS)
    aboard: float = figure(COUNT, "how many of them find room parked forward", "packed forward, or as given", INPUTS)
    interval: float = figure(
        TIME, "interval the signal officer keeps", "the doctrine's, or the deck's own clear time where longer", INPUTS
    )
    planned: float = figure(MINUTES, "first over the ramp to the deck ready behind the last, as planned", _EVEN, INPUTS)
    mean: float = figure(MINUTES, "the same, mean of the draws", _DRAWN, INPUTS)
    mean_error: float = figure(
        TIME, "standard error of that mean", "their standard deviation by root of the number", INPUTS
    )
    median: float = figure(MINUTES, "the same, half of the recoveries quicker", _DRAWN, INPUTS)
    quick: float = figure(MINUTES, "the same, one in ten quicker", _DRAWN, INPUTS)
    slow: float = figure(MINUTES, "the same, one in ten slower", _DRAWN, INPUTS)
    in_hand: float = figure(
        MINUTES,
        "longer than planned, one in ten more: what should be kept in hand",
        "slow one less the planned",
        (".slow", ".planned", *INPUTS),
    )
    slow_clear: float = figure(CLOCK_TIME, "deck ready behind the last, one in ten later", _DRAWN, INPUTS)
    wave_offs: float = figure(
        MEAN_COUNT,
        "wave-offs for the pass in a recovery, mean; a novice twice, the experienced half as often",
        _DRAWN,
        INPUTS,
    )
    foul_decks: float = figure(
        MEAN_COUNT, "wave-offs in a recovery because the deck was not ready, mean", _DRAWN, INPUTS
    )
    longest_foul: float = figure(
        MINUTES, "longest the deck was not ready behind one landing, one in ten longer", _DRAWN, INPUTS
    )
    least_fuel: float | None = figure(
        MASS, "fuel at the wire of the one with least, half of the recoveries less; below nil: so much is wanting",
        _DRAWN, INPUTS,
    )  # fmt: skip
    low_fuel: float | None = figure(MASS, "the same, one in ten less", _DRAWN, INPUTS)
    short: float | None = figure(SHARE, "part of the recoveries with one below the reserve at the wire", _DRAWN, INPUTS)
    dry: float | None = figure(SHARE, "part of the recoveries with one that ran dry", _DRAWN, INPUTS)
    draws: int
    seed: int
    durations: Floats
    over_reserve: Floats
    """Least fuel at the wire over the reserve, one a draw, ascending [kg]; empty where no fuel is known."""
    fuels: Floats
    """Least fuel at the wire, one a draw, ascending [kg]; empty where no fuel is known."""


def rhythm(facts: RhythmFacts, seed: int = SEED, draws: int = RECOVERIES) -> Rhythm:
    """Many recoveries. seed : of the draws; draws : how many, one at least."""
    durations, longest, clears = np.empty(draws), np.empty(draws), np.empty(draws)
    fuels, over = np.full(draws, math.nan), np.full(draws, math.nan)
    wave_offs = foul_decks = 0
    for k, went in enumerate(recoveries(facts, seed, draws)):
        durations[k], clears[k] = went.duration, went.last_clear
        longest[k] = max(landing.clear - landing.ramp for landing in went.landings)
        wave_offs += went.wave_offs
        foul_decks += went.foul_decks
        known = [(each.fuel, each.fuel - (each.reserve or 0.0)) for each in went.landings if each.fuel is not None]
        if known:
            fuels[k], over[k] = min(fuel for fuel, _ in known), min(spare for _, spare in known)
    fuels, over = fuels[~np.isnan(fuels)], over[~np.isnan(over)]
    planned, slow = planned_duration(facts), float(np.quantile(durations, 1.0 - TENTH))
    for each in (durations, fuels, over):
        each.sort()
        each.setflags(write=False)
    return Rhythm(
        count=float(len(facts.aeroplanes)),
        aboard=float(facts.room),
        interval=facts.kept,
        planned=planned,
        mean=float(durations.mean()),
        mean_error=float(durations.std(ddof=1)) / math.sqrt(draws) if draws > 1 else math.nan,
        median=float(np.quantile(durations, 0.5)),
        quick=float(np.quantile(durations, TENTH)),
        slow=slow,
        in_hand=slow - planned,
        slow_clear=float(np.quantile(clears, 1.0 - TENTH)),
        wave_offs=wave_offs / draws,
        foul_decks=foul_decks / draws,
        longest_foul=float(np.quantile(longest, 1.0 - TENTH)),
        least_fuel=float(np.quantile(fuels, 0.5)) if fuels.size else None,
        low_fuel=float(np.quantile(fuels, TENTH)) if fuels.size else None,
        short=int(np.count_nonzero(over < 0.0)) / over.size if over.size else None,
        dry=int(np.count_nonzero(fuels <= 0.0)) / fuels.size if fuels.size else None,
        draws=draws,
        seed=seed,
        durations=durations,
        over_reserve=over,
        fuels=fuels,
    )


def recoveries(facts: RhythmFacts, seed: int, draws: int) -> Iterator[Recovery]:
    """The recoveries of a seed, one after another; what one holds does not depend on how many there are."""
    for k in range(draws):
        yield recover(facts, drawn(facts, np.random.default_rng(np.random.SeedSequence(seed, spawn_key=(k,)))))


def drawn(facts: RhythmFacts, rng: np.random.Generator) -> Chance:
    """What befalls one recovery. The intervals go on drawing from the generator, which is the chance's from then on."""
    planes = facts.aeroplanes
    passes, clears, fouls, hits = rng.random((4, len(planes)))
    waved = [math.log(plane.wave_offs) if plane.wave_offs > 0.0 else -math.inf for plane in planes]
    busy = triangular(clears, facts.clear) + np.where(fouls < facts.fouls, facts.foul_time, 0.0)
    barrier = (hits < facts.barrier_hits) | np.array([plane.trouble == HOOK for plane in planes])
    deck = np.where(barrier, facts.barrier_clear, busy)
    return Chance(
        # the k-th wave-off needs a number below part ** k
        wave_offs=tuple(np.floor(np.log1p(-passes) / waved).astype(int).tolist()),
        deck=tuple(deck.tolist()),
        barrier=tuple(barrier.tolist()),
        intervals=_intervals(facts, rng),
    )


def triangular(parts: Floats, band: Band) -> Floats:
    """The triangular distribution's value below which such parts of it lie: ends of the band, likeliest at its aim."""
    width = band.high - band.low
    if width == 0.0:
        return np.full_like(parts, band.aim)
    rising = (band.aim - band.low) / width
    low = band.low + np.sqrt(parts * width * (band.aim - band.low))
    high = band.high - np.sqrt((1.0 - parts) * width * (band.high - band.aim))
    return np.where(parts < rising, low, high)


def _intervals(facts: RhythmFacts, rng: np.random.Generator) -> Iterator[float]:
    """Intervals without end; a block at a time, since single draws are slow."""
    while True:
        for stray in rng.standard_normal(len(facts.aeroplanes) + 8).tolist():
            yield max(0.0, facts.kept + facts.scatter * stray)
