"""How often does a launch pass the bow with less airspeed than wanted, when nothing is quite as planned?

*Method:* the run integrated (launch/kernel.py) once for each draw. Wind, tail-up airspeed, weight and power are drawn
from normal distributions about what was planned, the deck's pitch at brakes off anywhere in its cycle. What one draw
holds does not depend on how many there are: the first thousand of ten thousand are the thousand of the same seed.
Standard error of the probability by A. Agresti and B. A. Coull, The American Statistician 52, 1998: two more of either
outcome are counted, so that it is not nil where none was seen.

*Holds for:* plausible spreads; draws independent of one another, the same wind all along a run.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.figures import figure
from roundown.launch import kernel
from roundown.launch.deck_run import RUN_INPUTS, deck_of, load_of
from roundown.launch.facts import RunFacts
from roundown.launch.kernel import Floats
from roundown.quantities import DEGREE, KNOT, RATIO, SPEED_MARGIN

RUNS = 10_000
LEAST_FACTOR = 0.1  # of weight and power; nobody meant a draw that makes them nothing
_METHOD = "integrated runs with drawn wind, weight, power, tail-up airspeed and pitch (launch/scatter.py)"


@dataclass(frozen=True, kw_only=True)
class Spread:
    """How far things stray: standard deviations, SI.

    wind : over the deck from ahead [m/s]; tail_up_speed : airspeed at which the pilot raises the tail [m/s]
    mass, power : as parts of what was planned
    pitch : of the deck, either way from level [rad], and its period [s]; where in it the brakes go is left to chance
    """

    wind: float
    tail_up_speed: float
    mass: float
    power: float
    pitch: float = 0.0
    pitch_period: float = 10.0


PLAUSIBLE = Spread(wind=2.0 * KNOT, tail_up_speed=4.0 * KNOT, mass=0.01, power=0.02, pitch=0.5 * DEGREE)
"""Own rule, no source."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Scatter:
    """What the draws came to. runs : how many; seed : what they were drawn from; margins : one a run, ascending."""

    chance: float = figure(
        RATIO, "chance of passing the bow below lift-off speed, or the margin asked for over it", _METHOD, RUN_INPUTS
    )
    chance_error: float = figure(
        RATIO, "standard error of that chance", "Agresti and Coull, 1998 (launch/scatter.py)", RUN_INPUTS
    )
    median_margin: float = figure(
        SPEED_MARGIN, "true airspeed at the bow over lift-off speed, half the runs below it", _METHOD, RUN_INPUTS
    )
    low_margin: float = figure(SPEED_MARGIN, "the same, one run in twenty below it", _METHOD, RUN_INPUTS)
    runs: int
    seed: int
    margins: Floats


def scatter(facts: RunFacts, spread: Spread, seed: int, margin: float = 0.0, runs: int = RUNS) -> Scatter:
    """Many runs with a spread.

    margin : true airspeed wanted at the bow over that of lift-off [m/s]; seed : of the draws
    For many runs call motion.jit.enable() before anything of motion is imported.
    """
    sway, rate = spread.pitch, math.tau / spread.pitch_period
    margins = np.empty(runs)
    draws = drawn(spread, np.random.default_rng(seed), runs)
    kernel.margins_of(draws, load_of(facts), facts.aeroplane.wing, deck_of(facts, sway, rate), margins)
    margins.sort()
    margins.setflags(write=False)
    below = int(np.searchsorted(margins, margin, side="left"))
    return Scatter(
        chance=below / runs,
        chance_error=_standard_error(below, runs),
        median_margin=float(np.quantile(margins, 0.5)),
        low_margin=float(np.quantile(margins, 0.05)),
        runs=runs,
        seed=seed,
        margins=margins,
    )


def drawn(spread: Spread, rng: np.random.Generator, runs: int) -> Floats:
    """The draws, (runs, 5) by the DRAW_ indices of launch/kernel.py, row after row from the generator."""
    within = rng.standard_normal((runs, 5))
    draws = np.empty((runs, 5))
    draws[:, kernel.DRAW_WIND] = spread.wind * within[:, 0]
    draws[:, kernel.DRAW_TAIL] = spread.tail_up_speed * within[:, 1]
    draws[:, kernel.DRAW_MASS] = np.maximum(1.0 + spread.mass * within[:, 2], LEAST_FACTOR)
    draws[:, kernel.DRAW_POWER] = np.maximum(1.0 + spread.power * within[:, 3], LEAST_FACTOR)
    draws[:, kernel.DRAW_PHASE] = math.tau * _normal_part(within[:, 4])
    return draws


def _normal_part(value: Floats) -> Floats:
    """Part of a normal distribution below a value: evenly spread from 0 to 1 for normal values."""
    return np.array([0.5 * math.erfc(-each / math.sqrt(2.0)) for each in value.tolist()])


def _standard_error(seen: int, runs: int) -> float:
    part = (seen + 2.0) / (runs + 4.0)
    return math.sqrt(part * (1.0 - part) / (runs + 4.0))
