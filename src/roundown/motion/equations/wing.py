"""Lift and drag of a wing by its angle of attack, past the stall too.

Plain scalar Python on floats and tuples, so that it runs as it stands and compiles unchanged (motion/jit.py).

*Method:* straight line from no lift up to the greatest lift coefficient, to which flap adds in parts; beyond it the
lift dies away to a given part of it and the drag grows as a plate's does, with the square of the sine (own model: the
shape after Anderson, *Fundamentals of Aerodynamics*, ch. 4; the figures are the type's). Drag below the stall is
parabolic, its induced part lessened near the deck by the ground factor (launch/ground_effect.py).

*Holds for:* angles from -10 to 40 degrees; one part of flap for lift and drag; no slipstream over the wing.
"""

from __future__ import annotations

import math

from roundown.motion.jit import compiled

Wing = tuple[float, ...]
"""see the W_ indices"""

W_AREA, W_SLOPE, W_ZERO, W_FLAP_LIFT, W_CLEAN, W_FLAP, W_POST = 0, 1, 2, 3, 4, 5, 6
W_DRAG, W_GEAR_DRAG, W_FLAP_DRAG, W_INDUCED = 7, 8, 9, 10

SOFTNESS = math.radians(8.0)  # rad past the stall in which two thirds of the lift that is lost are lost; own rule
PLATE = 1.8  # what a plate's drag coefficient grows by from edge on to broadside on; from memory


def _greatest_lift(flap: float, wing: Wing) -> float:
    return wing[W_CLEAN] + flap * (wing[W_FLAP] - wing[W_CLEAN])


greatest_lift = compiled(_greatest_lift)


def _stall_angle(flap: float, wing: Wing) -> float:
    """Angle of attack at which the straight line meets the greatest lift [rad]."""
    return wing[W_ZERO] + (greatest_lift(flap, wing) - flap * wing[W_FLAP_LIFT]) / wing[W_SLOPE]


stall_angle = compiled(_stall_angle)


def _lift_at(angle: float, flap: float, wing: Wing) -> float:
    """Lift coefficient at an angle of attack [rad]; flap 0 to 1."""
    past = angle - stall_angle(flap, wing)
    if past <= 0.0:
        return wing[W_SLOPE] * (angle - wing[W_ZERO]) + flap * wing[W_FLAP_LIFT]
    left = wing[W_POST] + (1.0 - wing[W_POST]) * math.exp(-past / SOFTNESS)
    return greatest_lift(flap, wing) * left


lift_at = compiled(_lift_at)


def _angle_for(lift: float, flap: float, wing: Wing) -> float:
    """Angle of attack below the stall that gives a lift coefficient [rad]; the stall's where it is not to be had."""
    most = greatest_lift(flap, wing)
    return wing[W_ZERO] + (min(lift, most) - flap * wing[W_FLAP_LIFT]) / wing[W_SLOPE]


angle_for = compiled(_angle_for)


def _drag_at(angle: float, flap: float, gear: float, ground: float, wing: Wing) -> float:
    """Drag coefficient at an angle of attack [rad]; flap, gear 0 to 1; ground : factor on the induced drag, 0 to 1."""
    lift = lift_at(angle, flap, wing)
    parasite = wing[W_DRAG] + gear * wing[W_GEAR_DRAG] + flap * wing[W_FLAP_DRAG]
    past = angle - stall_angle(flap, wing)
    if past <= 0.0:
        return parasite + ground * wing[W_INDUCED] * lift * lift
    most = greatest_lift(flap, wing)
    stalled = angle - past
    plate = PLATE * (math.sin(angle) ** 2 - math.sin(stalled) ** 2)
    return parasite + ground * wing[W_INDUCED] * most * most + plate


drag_at = compiled(_drag_at)
