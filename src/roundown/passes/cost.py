"""What the state at a gate still costs: fly the rest from there as told, and weigh the misses at the ramp.

J(gate) is the root of the sum of the squares of the misses, each divided by its tolerance: one means one tolerance off
in one thing. A stretch between two gates costs J after it less J before it, so that the stretches of a pass add up to
what it cost; a stretch that mends is negative. Own derivation, docs/method/errors.md.

*Method:* the path engine (motion/kernel.py). Wings level astern of the ramp, the aeroplane is flown straight on to it
and the misses are taken there; wings level ahead of the ramp, they are taken where the wings come level.

*Holds for:* legs that end with the wings level. A rest that cannot be flown to its end has no cost: None.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import astuple, dataclass, fields

import numpy as np

from roundown.motion.equations.kernel import State, in_ship_frame
from roundown.motion.manoeuvre import Guard, HoldBank, HoldSpeed, Leg, Level, Setting, Until, fly
from roundown.quantities import DEGREE, FOOT, KNOT

LONGEST = 1500.0  # s of straight flight to the ramp
QUANTUM = 2.0**-20  # of a tolerance: costs are whole numbers of it, so that sums of their differences are exact
STRAIGHT = Leg("straight", HoldBank(0.0), HoldSpeed(), Level(), Until(Guard.SHIP_AHEAD, 0.0, 1), LONGEST, 1.0, 1.0)
"""Straight and level on to the ramp."""


@dataclass(frozen=True)
class Aim:
    """What is meant. height : wheels over the sea at the ramp [m]; speed : indicated [m/s]; bank : steepest [rad]."""

    height: float
    speed: float
    bank: float


@dataclass(frozen=True)
class Misses:
    """How far the rest ends from the aim.

    ahead : of the ramp, where the wings come level; astern is negative [m]; port : of the centre line [m]
    height [m], speed : indicated [m/s]; bank : steepest bank used beyond the planned one, not negative [rad]
    """

    ahead: float
    port: float
    height: float
    speed: float
    bank: float


@dataclass(frozen=True)
class Tolerances:
    """What counts as one: the fields of Misses, all above nought."""

    ahead: float
    port: float
    height: float
    speed: float
    bank: float


USUAL = Tolerances(ahead=50.0, port=10.0 * FOOT, height=5.0 * FOOT, speed=2.0 * KNOT, bank=5.0 * DEGREE)
"""Own rule, no source: 50 m is about a second and a half of straight flight at 30 kt over the deck."""


def fly_rest(
    time: float, state: State, legs: Sequence[Leg], setting: Setting, aim: Aim, *, longest_step: float = 0.2
) -> Misses | None:
    """The misses when the rest is flown from an observed state.

    time [s], state : at the gate; its heading unwrapped as in the legs; legs : the rest, () where the wings are level
    longest_step : of the engine [s]
    Returns None where a leg, or the straight flight to the ramp, does not end by its guard.
    """
    steepest = abs(state[5])
    if legs:
        flown = fly(time, state, legs, setting, longest_step=longest_step)
        if not flown.met:
            return None
        steepest = float(np.max(np.abs(flown.records[:, 6])))
        time, state = flown.record(-1)
    ahead, port = in_ship_frame(time, state[0], state[1], setting.ship.rows)
    if ahead < 0.0:
        straight = fly(time, state, [STRAIGHT], setting, longest_step=longest_step)
        if not straight.met:
            return None
        time, state = straight.record(-1)
        port = in_ship_frame(time, state[0], state[1], setting.ship.rows)[1]
    return Misses(
        ahead=ahead,
        port=port,
        height=state[2] - aim.height,
        speed=setting.indicated_speed(state[3], state[2]) - aim.speed,
        bank=max(steepest - aim.bank, 0.0),
    )


def parts(misses: Misses, tolerances: Tolerances = USUAL) -> dict[str, float]:
    """Each miss in tolerances, with its sign, by the name of its field."""
    pairs = zip(fields(misses), astuple(misses), astuple(tolerances), strict=True)
    return {field.name: float(miss) / float(tolerance) for field, miss, tolerance in pairs}


def cost(misses: Misses, tolerances: Tolerances = USUAL) -> float:
    """J: the root of the sum of the squares of the misses in tolerances, to a millionth."""
    return round(math.hypot(*parts(misses, tolerances).values()) / QUANTUM) * QUANTUM


def cost_at(
    time: float, state: State, legs: Sequence[Leg], setting: Setting, aim: Aim, tolerances: Tolerances = USUAL
) -> float | None:
    """J of an observed state, arguments as `fly_rest`; None where the rest cannot be flown."""
    misses = fly_rest(time, state, legs, setting, aim)
    return None if misses is None else cost(misses, tolerances)


def stretches(costs: Mapping[str, float]) -> dict[str, float]:
    """What each stretch cost, by the gate it ends at: J there less J at the gate before it.

    costs : J of each gate, in the order they were passed, as `cost` gives it; before the first gate nothing is lost
    Returns numbers whose sum is exactly J of the last gate.
    """
    before = [0.0, *costs.values()]
    return {gate: after - before[i] for i, (gate, after) in enumerate(costs.items())}
