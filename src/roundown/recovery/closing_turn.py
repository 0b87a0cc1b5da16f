"""A final turn in two halves, each with a bank of its own: steeper up to the ninety and slacker after it, or the other
way about. One bank decides how far to the side the turn carries, two decide how far along the deck as well, so that a
turn-in off its place can be mended and the wings still come level over the ramp.

*Method:* heights and speeds by heading as in the planned turn; the path engine. Own derivation, docs/method/errors.md.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from roundown.environment.air import GRAVITY
from roundown.errors import NoSolution
from roundown.motion.aeroplane import stall_speed
from roundown.motion.equations.kernel import Floats, State, in_ship_frame
from roundown.motion.manoeuvre import Flown, Leg, fly
from roundown.motion.position_error import calibrated
from roundown.quantities import DEGREE
from roundown.recovery.circuit import COARSE, Circuit, final_legs
from roundown.recovery.facts import CircuitFacts

SLACK = 0.05 * DEGREE  # half of what is shown of a bank
SETTLED = 0.05  # m, of a place found; as much as the planned circuit is allowed
GUESSES = 40  # most flights in search of one answer
CLOSE = 1e-6  # of an unknown, to which it is found
FAR = 1e4  # m, what a turn that cannot be flown counts as missing by
NUDGE = 1e-6  # square of the part by which an unknown is moved to see what it does


def halves(to_ninety: float, from_ninety: float, facts: CircuitFacts) -> list[Leg]:
    """The final turn at two unsigned banks [rad]."""
    return [final_legs(facts, to_ninety)[0], final_legs(facts, from_ninety)[1]]


def fly_halves(
    time: float, state: State, to_ninety: float, from_ninety: float, facts: CircuitFacts, step: float = COARSE
) -> Flown | None:
    """The turn flown from its turn-in; None when it does not end."""
    flown = fly(time, state, halves(to_ninety, from_ninety, facts), facts.setting, longest_step=step)
    return flown if flown.met else None


def level_place(flown: Flown | None, facts: CircuitFacts) -> tuple[float, float]:
    """Where the wings come level, ahead of the ramp and to port of the centre line [m]; NaN for a turn not flown."""
    if flown is None:
        return math.nan, math.nan
    time, end = flown.record(-1)
    return in_ship_frame(time, end[0], end[1], facts.setting.ship.rows)


def bank_limits(circuit: Circuit, facts: CircuitFacts) -> tuple[float, float]:
    """Steepest bank allowed up to the ninety and from it on [rad]: the doctrine's, or less to keep its stall margin.

    The margin is asked for at every speed of the planned turn while its bank is on, with the flap as planned; the load
    is that of a level turn, which is a hair more than that of a descending one. 0 where the margin is gone already with
    the wings level.
    """
    limits = []
    for name in ("to ninety", "to ramp"):
        leg = circuit.flown.leg(name)
        bank = np.abs(leg[:, 6])
        turning = leg[bank >= np.max(bank) - 1e-6]
        limits.append(min(_bank_with_margin(record, circuit, facts) for record in turning))
    return min(limits[0], facts.greatest_bank), min(limits[1], facts.greatest_bank)


def _bank_with_margin(record: Floats, circuit: Circuit, facts: CircuitFacts) -> float:
    plane = facts.aeroplane
    shown = circuit.setting.indicated_speed(float(record[4]), float(record[3])) - facts.least_margin
    if shown <= 0.0:
        return 0.0
    ratio = calibrated(shown, plane.position_error)
    ratio /= calibrated(stall_speed(plane, float(record[8])), plane.position_error)
    return math.acos(1.0 / ratio**2) if ratio > 1.0 else 0.0


def settle(miss: Callable[[Floats], Sequence[float]], start: Sequence[float], sought: str) -> Floats:
    """The unknowns for which every miss is nought.

    miss : of the unknowns, as many as there are [m, or what is as small when it is good]; start : a first guess
    *Method:* Powell's hybrid, M. J. D. Powell, A hybrid method for nonlinear equations, in Rabinowitz (ed.), Numerical
    Methods for Nonlinear Algebraic Equations, 1970, as scipy.optimize.root.
    Raises NoSolution where none is found to SETTLED.
    """
    from scipy.optimize import root

    def tried(unknowns: Floats) -> Floats:
        return np.nan_to_num(np.array(miss(unknowns), dtype=np.float64), nan=FAR)

    found = root(tried, start, tol=CLOSE, options={"eps": NUDGE, "maxfev": GUESSES})
    if not np.all(np.abs(found.fun) < SETTLED):
        raise NoSolution(sought)
    return np.asarray(found.x, dtype=np.float64)


def radius_by_bank(bank: float, speed: float) -> float:
    """Radius of a level turn in the air [m]; for first guesses."""
    return speed**2 / (GRAVITY * math.tan(bank))
