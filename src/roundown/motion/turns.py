"""Level turns at constant bank: radius, rate, load, time, and the lead for rolling out.

*Method:* level coordinated flight, R = V^2 / (g tan(phi)), omega = g tan(phi) / V, n = 1 / cos(phi) (any flight
mechanics text). Lead for rolling out: own derivation, the integral of omega while the bank falls at a constant rate.

*Holds for:* level flight without slip, still or steadily moving air, banks short of 90 degrees. Radius is through the
air. In a steady descent the load factor is cos(gamma) / cos(phi), slightly less. Rolling in and out is instantaneous
except in `roll_out_lead`.
"""

from __future__ import annotations

import math

from roundown.environment.air import GRAVITY


def _bank_tangent(bank: float) -> float:
    if not abs(bank) < math.pi / 2:
        raise ValueError("a bank is less than 90 degrees")
    return math.tan(bank)


def _check_speed(speed: float) -> None:
    if not speed > 0.0:
        raise ValueError("the airspeed must be positive")


def radius(speed: float, bank: float) -> float:
    """Radius of a turn through the air [m], never negative; wings level: infinite.

    speed : true airspeed, above 0 [m/s]; bank : to either side [rad]
    Raises ValueError for a bank of 90 degrees or more, or a speed that is not positive.
    """
    tangent = abs(_bank_tangent(bank))
    _check_speed(speed)
    return speed * speed / (GRAVITY * tangent) if tangent > 0.0 else math.inf


def rate(speed: float, bank: float) -> float:
    """Rate at which the heading changes [rad/s], right positive; wings level: 0.

    speed : true airspeed, above 0 [m/s]; bank : right positive [rad]
    Raises ValueError for a bank of 90 degrees or more, or a speed that is not positive.
    """
    tangent = _bank_tangent(bank)
    _check_speed(speed)
    return GRAVITY * tangent / speed


def load_factor(bank: float) -> float:
    """Lift as a multiple of weight in a level turn; wings level: 1.

    bank : to either side [rad]
    Raises ValueError for a bank of 90 degrees or more.
    """
    _bank_tangent(bank)
    return 1.0 / math.cos(bank)


def bank_for_rate(speed: float, rate: float) -> float:
    """Bank that gives a rate of turn [rad], right positive; no turn: 0.

    speed : true airspeed, above 0 [m/s]; rate : of heading, right positive [rad/s]
    Raises ValueError for a speed that is not positive.
    """
    _check_speed(speed)
    return math.atan(speed * rate / GRAVITY)


def half_turn_time(speed: float, bank: float) -> float:
    """Time to reverse the heading [s]; wings level: infinite.

    speed : true airspeed, above 0 [m/s]; bank : to either side [rad]
    Raises ValueError for a bank of 90 degrees or more, or a speed that is not positive.
    """
    turning = abs(rate(speed, bank))
    return math.pi / turning if turning > 0.0 else math.inf


def roll_out_lead(speed: float, bank: float, roll_rate: float) -> float:
    """Heading still turned through while the wings are levelled [rad], never negative; wings level: 0.

    speed : true airspeed, above 0 [m/s]; bank : to either side [rad]; roll_rate : constant, above 0 [rad/s]
    (g / (p V)) ln sec(phi), p the roll rate.
    Raises ValueError for a bank of 90 degrees or more, or a speed or roll rate that is not positive.
    """
    _check_speed(speed)
    if not roll_rate > 0.0:
        raise ValueError("the roll rate must be positive")
    return GRAVITY / (roll_rate * speed) * math.log(load_factor(bank))


def stall_in_turn(stall_speed: float, load_factor: float) -> float:
    """Stalling speed under load, in the measure of the one given.

    stall_speed : in unaccelerated flight, calibrated or true, 0 or more [m/s]; load_factor : 0 or more
    Raises ValueError for a negative speed or load factor.
    """
    if not stall_speed >= 0.0 or not load_factor >= 0.0:
        raise ValueError("the stalling speed and the load factor are not negative")
    return stall_speed * math.sqrt(load_factor)
