"""What a pitching deck does to a run: the worst and the best moment to let go.

*Method:* the run integrated (launch/kernel.py) with the deck's pitch a sine in time, for brakes off at even steps of
one cycle. The deck's slope weighs along the run; the rise and fall of the deck under the wheels is left out.

*Holds for:* pitch of a few degrees with periods not much shorter than the run.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.figures import figure
from roundown.launch.deck_run import RUN_INPUTS, deck_of, lift_off_airspeed, roll
from roundown.launch.facts import RunFacts
from roundown.launch.kernel import O_BOW_SPEED, O_BOW_TIME, O_OFF_PLACE, airspeed_at, pitch_at
from roundown.quantities import ANGLE, LENGTH, SPEED_MARGIN, TIME

MOMENTS = 36  # of a cycle that are tried
_METHOD = "integrated runs with the pitch a sine in time, let go at even steps of its cycle (launch/pitch_cycle.py)"
_INPUTS = (*RUN_INPUTS, "ship.deck.*")


@dataclass(frozen=True, kw_only=True)
class PitchCycle:
    """Worst and best moment of the deck's cycle; None where at some moment it does not lift off or pass the bow."""

    longest: float | None = figure(LENGTH, "longest run needed, brakes off at the worst moment", _METHOD, _INPUTS)
    shortest: float | None = figure(LENGTH, "shortest run needed, brakes off at the best moment", _METHOD, _INPUTS)
    worst_margin: float | None = figure(
        SPEED_MARGIN, "least true airspeed at the bow over lift-off speed", _METHOD, _INPUTS
    )
    best_margin: float | None = figure(SPEED_MARGIN, "greatest of the same", _METHOD, _INPUTS)
    worst_after: float | None = figure(
        TIME, "brakes off at the worst moment, after the bow was highest", _METHOD, _INPUTS
    )
    best_after: float | None = figure(
        TIME, "brakes off at the best moment, after the bow was highest", _METHOD, _INPUTS
    )
    worst_pitch_at_bow: float | None = figure(
        ANGLE, "pitch as the slowest passes the bow, bow up positive", _METHOD, _INPUTS
    )


def worst_of_cycle(facts: RunFacts, amplitude: float, period: float) -> PitchCycle:
    """The run over one cycle of the deck's pitch.

    amplitude : either way from the pitch of the facts [rad]; period : from bow highest to bow highest [s]
    """
    rate = math.tau / period
    off_at = lift_off_airspeed(facts)
    lengths, margins, pitches = [], [], []
    for moment in range(MOMENTS):
        phase = 0.5 * math.pi + math.tau * moment / MOMENTS  # moment 0: the bow is highest
        outcome = roll(facts, amplitude, rate, phase)
        deck = deck_of(facts, amplitude, rate, phase)
        lengths.append(outcome[O_OFF_PLACE])
        margins.append(airspeed_at(outcome[O_BOW_SPEED], deck) - off_at)
        pitches.append(pitch_at(outcome[O_BOW_TIME], deck))
    lifts, passes = math.isfinite(sum(lengths)), math.isfinite(sum(margins))
    worst, best = (margins.index(min(margins)), margins.index(max(margins))) if passes else (0, 0)
    return PitchCycle(
        longest=max(lengths) if lifts else None,
        shortest=min(lengths) if lifts else None,
        worst_margin=margins[worst] if passes else None,
        best_margin=margins[best] if passes else None,
        worst_after=period * worst / MOMENTS if passes else None,
        best_after=period * best / MOMENTS if passes else None,
        worst_pitch_at_bow=pitches[worst] if passes else None,
    )
