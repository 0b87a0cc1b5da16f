"""The last place in the run from which the brakes stop it before the bow.

*Method:* throttle shut and brakes on after a time to react, during which the run goes on; then the forces of the run
(launch/kernel.py) without thrust and with the brakes' friction, and the way to a stop by quadrature of u du / (-a)
over the speed past the deck (own derivation).

*Holds for:* a level deck, or one at a steady pitch; brakes that hold the same part of the weight on the wheels at all
speeds; the attitude of the run, tail up above its airspeed and down below it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.figures import figure
from roundown.launch import kernel
from roundown.launch.deck_run import RUN_INPUTS, Run, deck_of, indicated_airspeed, load_of
from roundown.launch.facts import RunFacts
from roundown.launch.kernel import Floats
from roundown.quantities import CLOSING_SPEED, INDICATED_SPEED, LENGTH, TIME

REACTION = 1.5  # s, from the failure until the brakes hold; own rule, no source
SLICES = 400  # of speed, in the quadrature
_METHOD = "run, time to react, then brakes without thrust by quadrature over the speed (launch/abort.py)"
_INPUTS = (*RUN_INPUTS, "type.launch.brake_friction")


@dataclass(frozen=True, kw_only=True)
class AbortPoint:
    """The last moment to give it up, lift-off at the latest; past it the run goes on, whatever happens."""

    place: float = figure(LENGTH, "last place from which it stops before the bow, from the spot", _METHOD, _INPUTS)
    after: float = figure(TIME, "that long after brakes off", _METHOD, _INPUTS)
    speed: float = figure(CLOSING_SPEED, "speed past the deck there", _METHOD, _INPUTS)
    airspeed: float = figure(INDICATED_SPEED, "indicated airspeed there", _METHOD, _INPUTS)


def abort_point(run: Run, facts: RunFacts, brake_friction: float, reaction: float = REACTION) -> AbortPoint:
    """The last place from which it stops; the spot itself where it cannot be stopped once it moves.

    run : of those facts; brake_friction : part of the weight on the wheels that the brakes hold
    reaction : until they hold [s]
    """
    path = run.path
    speeds, ways = _ways_to_stop(float(path.speed.max()), facts, brake_friction)
    later = path.time + reaction
    miss = np.interp(later, path.time, path.place) - facts.run
    miss += np.interp(np.interp(later, path.time, path.speed), speeds, ways)
    after = float(np.interp(0.0, miss, path.time))  # miss grows all along the run
    if run.time is not None:
        after = min(after, run.time)
    true = float(np.interp(after, path.time, path.airspeed))
    return AbortPoint(
        place=float(np.interp(after, path.time, path.place)),
        after=after,
        speed=float(np.interp(after, path.time, path.speed)),
        airspeed=indicated_airspeed(true, facts),
    )


def _ways_to_stop(fastest: float, facts: RunFacts, brake_friction: float) -> tuple[Floats, Floats]:
    """Speeds past the deck [m/s], and the way to a stop from each [m]."""
    free, deck, wing = load_of(facts), deck_of(facts), facts.aeroplane.wing
    braked = (*free[: kernel.L_FRICTION], brake_friction, *free[kernel.L_FRICTION + 1 : kernel.L_LAW], kernel.PARABOLA)
    load = (*braked, *free[kernel.L_LAW + 1 :])  # a parabola of nothing: no thrust
    speeds = np.linspace(0.0, fastest, SLICES + 1)
    slowness = np.empty(SLICES + 1)
    for i, speed in enumerate(speeds.tolist()):
        up = kernel.airspeed_at(speed, deck) >= load[kernel.L_TAIL_SPEED]
        slowing = -kernel.forces(0.0, speed, load[kernel.L_UP if up else kernel.L_DOWN], load, wing, deck)[3]
        slowness[i] = speed / slowing if slowing > 0.0 else math.inf
    ways = np.cumsum(0.5 * (slowness[1:] + slowness[:-1]) * np.diff(speeds))
    return speeds, np.concatenate(([0.0], ways))
