"""What a launch is solved from: an aeroplane loaded and set for take-off, the air and wind over the deck, the deck."""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.environment.air import GRAVITY, SEA_LEVEL_DENSITY
from roundown.motion.equations.wing import Wing, greatest_lift
from roundown.motion.position_error import Card, indicated


@dataclass(frozen=True)
class LaunchAeroplane:
    """A type at its take-off weight with its take-off settings; SI.

    mass [kg]; wing : see motion/equations/wing.py; wing_span, wing_height : the latter over the deck [m]
    shaft_power : at the power set [W]; figure_of_merit [0..1]; propeller_diameter [m]; friction : wheels free, on deck
    flap : part of full flap, 0 to 1
    three_point, tail_up : angle of attack in the run with the tail down and up [rad]
    tail_up_speed : indicated airspeed at which the tail comes up [m/s]
    lift_off_margin : lift-off speed over the stall with that flap, throttle shut
    gear_time, flap_time : to retract [s]; roll_rate [rad/s]; pull_rate : change of angle of attack past the bow [rad/s]
    position_error : card of the airspeed dial
    """

    mass: float
    wing: Wing
    wing_span: float
    wing_height: float
    shaft_power: float
    figure_of_merit: float
    propeller_diameter: float
    friction: float
    flap: float
    three_point: float
    tail_up: float
    tail_up_speed: float
    lift_off_margin: float
    gear_time: float
    flap_time: float
    roll_rate: float
    pull_rate: float
    position_error: Card = ()

    @property
    def useful_power(self) -> float:
        """Power that goes into the air [W]."""
        return self.shaft_power * self.figure_of_merit

    @property
    def disc(self) -> float:
        """Area of the propeller's disc [m2]."""
        return math.pi * self.propeller_diameter**2 / 4.0


@dataclass(frozen=True)
class RunFacts:
    """One aeroplane on its spot.

    temperature [K], pressure [Pa] : at sea level; deck_height : over the sea [m]
    wind_ahead, wind_across : over the deck, from ahead and from starboard [m/s]; ship_speed [m/s]
    run : from the wheels on the spot to the bow [m]; pitch : of the deck, bow up positive [rad]
    """

    aeroplane: LaunchAeroplane
    temperature: float
    pressure: float
    deck_height: float
    wind_ahead: float
    wind_across: float
    ship_speed: float
    run: float
    pitch: float = 0.0


def stall_speed(aeroplane: LaunchAeroplane, flap: float | None = None) -> float:
    """Indicated airspeed at the stall at the take-off weight, throttle shut [m/s]. flap : as set where None."""
    lift = greatest_lift(aeroplane.flap if flap is None else flap, aeroplane.wing)
    area = aeroplane.wing[0]
    free = math.sqrt(2.0 * aeroplane.mass * GRAVITY / (SEA_LEVEL_DENSITY * area * lift))
    return indicated(free, aeroplane.position_error)
