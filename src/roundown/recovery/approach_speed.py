"""How fast over the ramp today? The doctrine's speed beside the stall at today's weight.

*Method:* stall from lift = weight, flap and wheels down, throttle shut, wings level (motion/aeroplane.py); it goes with
the root of the weight, as a speed free of position error. Rules of thumb stand beside it: so many knots over the stall
(PRO-85 of docs/sources.md, one wartime account: 5 kt), and 1.05 to 1.10 of the stall with power on (from memory).

*Holds for:* the throttle shut. With power on the wing stalls slower, since the slipstream and the thrust carry part of
the weight; by how much is given for no type here, so the second rule can only be bounded from above.
"""

from __future__ import annotations

from dataclasses import dataclass

from roundown.figures import figure
from roundown.motion.aeroplane import stall_speed
from roundown.motion.position_error import calibrated, indicated
from roundown.quantities import INDICATED_SPEED, MASS, RATIO, SPEED_MARGIN
from roundown.recovery.facts import CircuitFacts

LOW_RATIO, HIGH_RATIO = 1.05, 1.10  # over the stall with power on; from memory (PRO-85)
POWER_ON = (
    "The stall with power on is lower than with the throttle shut; by how much is not known for this type, so the true "
    "margin is larger than the one shown."
)

_STALL = ("type.landing_weight", "type.wing_area", "type.lift_flap", "type.position_error.*")
_RAMP = "doctrine.circuit.ramp_speed"
_WANTED = "doctrine.expected.stall_margin"


@dataclass(frozen=True, kw_only=True)
class ApproachSpeed:
    """The speed over the ramp against the stall, throttle shut. All speeds are those of the dial but in `ratio`."""

    stall: float = figure(
        INDICATED_SPEED, "stall, flap and wheels down, throttle shut, wings level", "lift = weight", _STALL
    )
    ramp_speed: float = figure(INDICATED_SPEED, "speed over the ramp", "as commanded", (_RAMP,))
    margin: float = figure(
        SPEED_MARGIN, "speed over the ramp beyond that stall", "ramp speed less stall", (*_STALL, _RAMP)
    )
    ratio: float = figure(
        RATIO, "speed over the ramp as a multiple of that stall", "ramp speed by stall, both free of position error",
        (*_STALL, _RAMP),
    )  # fmt: skip
    by_rule: float = figure(
        INDICATED_SPEED, "speed by the rule of so many knots over the stall",
        "stall plus the doctrine's margin (PRO-85: 5 kt, one wartime account)", (*_STALL, _WANTED),
    )  # fmt: skip
    by_ratio_low: float = figure(
        INDICATED_SPEED, "no more than this by the rule of 1.05 of the stall with power on",
        "1.05 of the stall with the throttle shut: the rule is from memory, the stall with power on not known",
        _STALL,
    )  # fmt: skip
    by_ratio_high: float = figure(
        INDICATED_SPEED, "no more than this by the rule of 1.10 of the stall with power on",
        "1.10 of the stall with the throttle shut: the rule is from memory, the stall with power on not known",
        _STALL,
    )  # fmt: skip
    weight_for_margin: float | None = figure(
        MASS, "weight at which the ramp speed has just the doctrine's margin over the stall",
        "weight times the square of wanted stall by stall, both free of position error", (*_STALL, _RAMP, _WANTED),
    )  # fmt: skip


def approach_speed(facts: CircuitFacts) -> ApproachSpeed:
    """Stall, margin and rules of thumb for the speed over the ramp.

    The weight for the margin is None where the margin is all of the ramp speed.
    """
    plane = facts.aeroplane
    error = plane.position_error
    stall = stall_speed(plane)
    free = calibrated(stall, error)
    wanted = facts.ramp_speed - facts.least_margin
    return ApproachSpeed(
        stall=stall,
        ramp_speed=facts.ramp_speed,
        margin=facts.ramp_speed - stall,
        ratio=calibrated(facts.ramp_speed, error) / free,
        by_rule=stall + facts.least_margin,
        by_ratio_low=indicated(LOW_RATIO * free, error),
        by_ratio_high=indicated(HIGH_RATIO * free, error),
        weight_for_margin=plane.mass * (calibrated(wanted, error) / free) ** 2 if wanted > 0.0 else None,
    )
