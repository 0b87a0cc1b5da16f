"""What the pictures are made from: the ship's outline, the cockpit and the wing, and the way flown. SI and radians."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from roundown.motion.frames import Floats, ship_components
from roundown.motion.path import Path


@dataclass(frozen=True)
class ShipOutline:
    """What is seen of the ship [m], in her own frame: ahead of the ramp, to port, over the deck.

    deck_width : aft; bow_width : at the bow; narrows_at : ahead of the ramp, from where it narrows
    deck_height : over the sea; beam : of the hull at the waterline
    island_place : its middle ahead of the ramp; island_side : -1 starboard edge of the deck, +1 port edge
    island_height, mast_height : tops over the deck
    platform_ahead : signal officer's platform ahead of the ramp, at the port edge; wires : each ahead of the ramp
    """

    deck_length: float
    deck_width: float
    bow_width: float
    narrows_at: float
    deck_height: float
    beam: float
    island_place: float
    island_length: float
    island_width: float
    island_side: int
    island_height: float
    mast_height: float
    platform_ahead: float
    wires: tuple[float, ...] = ()


@dataclass(frozen=True)
class Cockpit:
    """Where the eye is and what stands in its way [m, rad], in body axes.

    eye_height : over the main wheels; eye_behind : behind them; over_nose : from the datum down to the top of the nose
    nose_length : eye to the front of the nose; nose_width : across its front
    wing_setting : the wing's line of angles of attack to the datum, nose-up positive
    wing_below, wing_ahead : leading edge at the root from the eye; tip_ahead : at the tip, ahead of the eye
    root_chord, tip_chord; dihedral; span : of the wing; length : of the aeroplane
    """

    eye_height: float
    eye_behind: float
    over_nose: float
    nose_length: float
    nose_width: float
    wing_setting: float
    wing_below: float
    wing_ahead: float
    tip_ahead: float
    root_chord: float
    tip_chord: float
    dihedral: float
    span: float
    length: float


@dataclass(frozen=True)
class Lifting:
    """What the angle of attack follows from: mass [kg], wing_area [m2], lift_slope [1/rad], zero_lift_angle [rad].

    flap_lift : coefficient full flap adds at one angle; lift_clean, lift_flap : greatest coefficients
    """

    mass: float
    wing_area: float
    lift_slope: float
    zero_lift_angle: float
    flap_lift: float
    lift_clean: float
    lift_flap: float


@dataclass(frozen=True, eq=False)
class Flight:
    """The way of the main wheels past the ship, one entry a moment, (n,) each. Read-only.

    time [s]; ahead, port : in the ship frame [m]; height : over the sea [m]
    heading : through the air, clockwise from the ship's course; bank : to starboard positive [rad]
    airspeed : true [m/s]; flap : part of full flap, 0 to 1
    """

    time: Floats
    ahead: Floats
    port: Floats
    height: Floats
    heading: Floats
    bank: Floats
    airspeed: Floats
    flap: Floats

    def __post_init__(self) -> None:
        columns = (self.time, self.ahead, self.port, self.height, self.heading, self.bank, self.airspeed, self.flap)
        if any(column.shape != self.time.shape for column in columns):
            raise ValueError("all columns of a flight have the length of its time")
        for column in columns:
            column.setflags(write=False)

    @property
    def climb(self) -> Floats:
        """Angle of the way through the air over the level [rad]."""
        return np.arcsin(np.gradient(self.height, self.time) / self.airspeed)


@dataclass(frozen=True)
class StraightIn:
    """A straight approach up the wake: airspeed : true [m/s]; climb : through the air, descending negative [rad].

    closing : speed past the ship [m/s]; ramp_height : wheels over the ramp [m]; density : of the air there [kg/m3]
    """

    airspeed: float
    climb: float
    closing: float
    ramp_height: float
    density: float


@dataclass(frozen=True, eq=False)
class SightFacts:
    """All of it. gates : instants by name [s], on the clock of the flight, in the order they are met.

    hand : -1 left-hand circuit, +1 right-hand; temperature [K], pressure [Pa] : at sea level
    """

    ship: ShipOutline
    cockpit: Cockpit
    lifting: Lifting
    flight: Flight
    straight: StraightIn
    gates: Mapping[str, float]
    hand: int
    temperature: float
    pressure: float


def flight_of(path: Path, ship_course: float, ship_speed: float, flap: Floats) -> Flight:
    """A path past a ship on a steady course [rad] at a steady speed [m/s], her ramp at the path's datum at time 0.

    flap : part of full flap along the path, (n,)
    """
    course = np.asarray(np.float64(ship_course))
    ahead, port = ship_components(path.east.values, path.north.values, course)
    return Flight(
        time=path.time.copy(),
        ahead=ahead - ship_speed * path.time,
        port=port,
        height=path.height.values.copy(),
        heading=path.heading.values - ship_course,
        bank=path.bank.values.copy(),
        airspeed=path.airspeed.values.copy(),
        flap=flap.copy(),
    )


def flap_along(time: Floats, down_at: float, takes: float) -> Floats:
    """Part of full flap along times (n,) [s], for flap that is down at an instant and takes some time to come [s]."""
    return np.clip((time - (down_at - takes)) / takes, 0.0, 1.0)
