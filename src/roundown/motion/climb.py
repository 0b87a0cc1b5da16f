"""The best steady climb at sea level.

*Method:* rate of climb = (thrust - drag) x airspeed / weight, lift taken as weight (any text on aircraft performance);
its top by golden sections over the airspeed. *Holds for:* climbs below some 20 degrees; standard air.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from roundown.environment.air import GRAVITY
from roundown.errors import NoSolution
from roundown.motion.aeroplane import Aeroplane, change_available, level_speed, stall_speed
from roundown.motion.position_error import calibrated

_GOLDEN = 0.5 * (math.sqrt(5.0) - 1.0)


class Climb(NamedTuple):
    """speed : true airspeed [m/s]; rate : upward [m/s]."""

    speed: float
    rate: float


def climb_rate(aeroplane: Aeroplane, speed: float, gear: float = 0.0, flap: float = 0.0) -> float:
    """Rate of climb at full power, sea level, standard air [m/s]; negative where it sinks.

    speed : true airspeed [m/s]; gear, flap : parts lowered
    """
    return change_available(aeroplane, speed, 1.0, gear, flap)[1] * speed / GRAVITY


def best_climb(aeroplane: Aeroplane) -> Climb:
    """Steepest gain of height in time, clean, full power, sea level, standard air.

    Raises NoSolution when full power does not hold level flight a little above the stall.
    """
    stall = calibrated(stall_speed(aeroplane, 0.0), aeroplane.position_error)
    low, high = 1.05 * stall, level_speed(aeroplane)
    while high - low > 1e-4:
        first, second = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        if climb_rate(aeroplane, first) < climb_rate(aeroplane, second):
            low = first
        else:
            high = second
    best = Climb(0.5 * (low + high), climb_rate(aeroplane, 0.5 * (low + high)))
    if best.rate <= 0.0:
        raise NoSolution("a climb: full power does not carry it")
    return best
