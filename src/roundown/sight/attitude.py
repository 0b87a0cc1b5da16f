"""How the aeroplane lies on the air, and so where its eye is and where its nose points.

*Method:* the angle of attack is what gives the lift the flight asks for, by the type's straight line of lift
(motion/equations/wing.py). The fuselage's datum then lies over the line of flight by the angle of attack less the
wing's setting. Bank is about the line of flight. So with level wings

    body pitch = angle of attack - wing setting + climb angle,

and in a bank the nose also points into the turn, off the line of flight, by about (angle of attack - setting) x
sin(bank). No slip. The place and height of a way flown are those of the main wheels.
*Holds for:* the unstalled wing in a coordinated turn; no slipstream over the wing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from roundown.environment.air import GRAVITY, Air, density
from roundown.motion.frames import Floats
from roundown.sight.facts import Cockpit, Flight, Lifting, SightFacts
from roundown.sight.projection import angles_of, axes

SLACK = 1e-6  # s, what an instant may be off the first or last of a way by rounding


@dataclass(frozen=True, eq=False)
class Attitudes:
    """Where the wheels are and how the fuselage lies, one entry a moment, (n,) each. Read-only; NaN where stalled.

    time [s]; ahead, port : of the wheels in the ship frame; height : over the sea [m]
    heading : of the fuselage's datum, clockwise from the ship's course; pitch : up; bank : to starboard [rad]
    """

    time: Floats
    ahead: Floats
    port: Floats
    height: Floats
    heading: Floats
    pitch: Floats
    bank: Floats

    def __post_init__(self) -> None:
        for name in self.__dataclass_fields__:
            getattr(self, name).setflags(write=False)

    def at(self, time: float | Floats) -> Attitudes:
        """The attitudes at other instants, linear between; NaN outside the times there are (by more than SLACK)."""
        when = np.atleast_1d(np.asarray(time, dtype=float))
        when = np.where(np.abs(when - self.time[0]) < SLACK, self.time[0], when)
        when = np.where(np.abs(when - self.time[-1]) < SLACK, self.time[-1], when)
        columns = (getattr(self, name) for name in list(self.__dataclass_fields__)[1:])
        return Attitudes(when, *(np.interp(when, self.time, column, left=np.nan, right=np.nan) for column in columns))

    @property
    def body(self) -> Floats:
        """Body axes as rows in the ship frame, (n, 3, 3)."""
        return axes(self.heading, self.pitch, self.bank)

    def eyes(self, cockpit: Cockpit, deck_height: float) -> Floats:
        """The pilot's eye in the ship frame, (n, 3) [m]."""
        wheels = np.column_stack([self.ahead, self.port, self.height - deck_height])
        return wheels + np.array([-cockpit.eye_behind, 0.0, cockpit.eye_height]) @ self.body


def angle_of_attack(
    load: float | Floats, airspeed: float | Floats, air_density: float | Floats, flap: float | Floats, wing: Lifting
) -> Floats:
    """Angle of attack that carries the aeroplane [rad]; NaN where that is beyond the greatest lift.

    load : lift over weight; airspeed : true [m/s]; air_density [kg/m3]; flap : part of full flap
    """
    flap = np.asarray(flap, dtype=float)
    pressure = 0.5 * np.asarray(air_density) * np.square(airspeed)
    lift = np.asarray(load) * wing.mass * GRAVITY / (pressure * wing.wing_area)
    greatest = wing.lift_clean + flap * (wing.lift_flap - wing.lift_clean)
    angle = wing.zero_lift_angle + (lift - flap * wing.flap_lift) / wing.lift_slope
    return np.where(lift <= greatest, angle, np.nan)


def body_pitch(attack: float | Floats, climb: float | Floats, wing_setting: float) -> Floats:
    """Pitch of the fuselage's datum over the level, wings level [rad]. attack : angle of attack; climb [rad]."""
    pitch: Floats = np.asarray(attack) - wing_setting + np.asarray(climb)
    return pitch


def attitudes(flight: Flight, cockpit: Cockpit, wing: Lifting, air: Air) -> Attitudes:
    """How the fuselage lies all along a way flown."""
    climb = flight.climb
    load = np.cos(climb) / np.cos(flight.bank)
    dense = density(flight.height, air)
    attack = angle_of_attack(load, flight.airspeed, dense, flight.flap, wing)
    body = tilted(axes(flight.heading, climb, flight.bank), attack - cockpit.wing_setting)
    heading, pitch, bank = angles_of(body)
    turned = flight.heading + np.remainder(heading - flight.heading + np.pi, 2.0 * np.pi) - np.pi
    return Attitudes(
        flight.time.copy(), flight.ahead.copy(), flight.port.copy(), flight.height.copy(), turned, pitch, bank
    )


def tilted(flying: Floats, angle: Floats) -> Floats:
    """Axes (n, 3, 3) along the line of flight with the nose lifted by an angle (n,) [rad], about the port axis."""
    forward, port, up = flying[..., 0, :], flying[..., 1, :], flying[..., 2, :]
    sine, cosine = np.sin(angle)[..., None], np.cos(angle)[..., None]
    return np.stack([cosine * forward + sine * up, port, cosine * up - sine * forward], axis=-2)


def attitudes_of(facts: SightFacts) -> Attitudes:
    """How the fuselage lies along the flight of some facts."""
    return attitudes(facts.flight, facts.cockpit, facts.lifting, Air(facts.temperature, facts.pressure))
