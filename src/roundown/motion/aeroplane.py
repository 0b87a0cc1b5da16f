"""What the path engine needs to know of an aeroplane, and the speeds that follow from it.

*Method:* parabolic drag with increments for gear and flap; stall from lift = weight; level speed from power; full
thrust from momentum theory with a figure of merit (motion/equations/kernel.py). *Holds for:* the unstalled range.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.environment.air import GRAVITY, SEA_LEVEL_DENSITY
from roundown.errors import NoSolution
from roundown.motion.equations.kernel import Craft, drag, full_thrust
from roundown.motion.position_error import Card, calibrated, indicated


@dataclass(frozen=True)
class Aeroplane:
    """A type at a weight; SI.

    mass [kg]; wing_area [m2]; zero_lift_drag, gear_drag, flap_drag : drag coefficients, clean and what is added
    induced_drag : factor K of K CL^2; idle_thrust : with the throttle shut, may be negative [N]
    shaft_power [W]; propeller_diameter [m]; figure_of_merit [0..1]; roll_rate [rad/s]
    gear_time, flap_time [s]; gear_limit, flap_limit : greatest indicated airspeed to lower them [m/s]
    lift_clean, lift_flap : greatest lift coefficients, throttle shut
    position_error : card of the airspeed dial, (indicated, correction) [m/s], indicated ascending; empty for none
    """

    mass: float
    wing_area: float
    zero_lift_drag: float
    gear_drag: float
    flap_drag: float
    induced_drag: float
    idle_thrust: float
    shaft_power: float
    propeller_diameter: float
    figure_of_merit: float
    roll_rate: float
    gear_time: float
    flap_time: float
    gear_limit: float
    flap_limit: float
    lift_clean: float
    lift_flap: float
    position_error: Card = ()

    @property
    def craft(self) -> Craft:
        """The numbers in the order the kernel wants them; it knows calibrated airspeeds, not the dial's."""
        return (
            self.mass,
            self.wing_area,
            self.zero_lift_drag,
            self.gear_drag,
            self.flap_drag,
            self.induced_drag,
            self.idle_thrust,
            self.shaft_power * self.figure_of_merit,
            math.pi * self.propeller_diameter**2 / 4.0,
            self.roll_rate,
            self.gear_time,
            self.flap_time,
            calibrated(self.gear_limit, self.position_error),
            calibrated(self.flap_limit, self.position_error),
        )


def stall_speed(aeroplane: Aeroplane, flap: float = 1.0, load: float = 1.0) -> float:
    """Indicated airspeed at the stall, throttle shut [m/s].

    flap : part of full flap, 0 to 1; the greatest lift coefficient is taken as linear between the two given
    load : load factor n
    """
    return indicated(_calibrated_stall(aeroplane, flap, load), aeroplane.position_error)


def _calibrated_stall(aeroplane: Aeroplane, flap: float, load: float = 1.0) -> float:
    """Stall as stall_speed, free of position error [m/s]."""
    lift = aeroplane.lift_clean + flap * (aeroplane.lift_flap - aeroplane.lift_clean)
    return math.sqrt(2.0 * load * aeroplane.mass * GRAVITY / (SEA_LEVEL_DENSITY * aeroplane.wing_area * lift))


def change_available(
    aeroplane: Aeroplane, speed: float, load: float = 1.0, gear: float = 1.0, flap: float = 1.0
) -> tuple[float, float]:
    """Level change of speed to be had at sea level, standard air: (slowing with throttle shut, gaining at full power).

    speed : true airspeed [m/s]; load : load factor; gear, flap : parts lowered
    Returns both as positive magnitudes where they can be had [m/s2]; a negative one says it cannot.
    """
    resisting = drag(speed, SEA_LEVEL_DENSITY, load, gear, flap, aeroplane.craft)
    full = full_thrust(speed, SEA_LEVEL_DENSITY, aeroplane.craft)
    return (resisting - aeroplane.idle_thrust) / aeroplane.mass, (full - resisting) / aeroplane.mass


def level_speed(aeroplane: Aeroplane) -> float:
    """Greatest level speed at sea level, clean, full power, standard air [m/s] (bisection on thrust less drag).

    Raises NoSolution when full power does not hold level flight a little above the stall.
    """
    low, high = _calibrated_stall(aeroplane, 0.0) * 1.05, 400.0
    if change_available(aeroplane, low, 1.0, 0.0, 0.0)[1] <= 0.0:
        raise NoSolution("a level speed: full power does not carry it")
    for _ in range(100):
        middle = 0.5 * (low + high)
        if change_available(aeroplane, middle, 1.0, 0.0, 0.0)[1] > 0.0:
            low = middle
        else:
            high = middle
    return low
