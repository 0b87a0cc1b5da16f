"""An invented ship and type, and ways flown past a stopped ship that are closed form."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from roundown.sight.facts import Cockpit, Flight, Lifting, ShipOutline, SightFacts, StraightIn

Floats = npt.NDArray[np.float64]
FT, YD, KT, LB, DEG = 0.3048, 0.9144, 1852.0 / 3600.0, 0.45359237, math.pi / 180.0
G = 9.80665

SHIP = ShipOutline(
    deck_length=838 * FT,
    deck_width=94 * FT,
    bow_width=86 * FT,
    narrows_at=670 * FT,
    deck_height=65 * FT,
    beam=84 * FT,
    island_place=430 * FT,
    island_length=132 * FT,
    island_width=14 * FT,
    island_side=-1,
    island_height=42 * FT,
    mast_height=95 * FT,
    platform_ahead=35 * FT,
    wires=(62 * FT, 83 * FT, 104 * FT),
)
COCKPIT = Cockpit(
    eye_height=8.4 * FT,
    eye_behind=5.2 * FT,
    over_nose=9.5 * DEG,
    nose_length=10.5 * FT,
    nose_width=4.6 * FT,
    wing_setting=1.5 * DEG,
    wing_below=3.6 * FT,
    wing_ahead=4.4 * FT,
    tip_ahead=2.2 * FT,
    root_chord=9.6 * FT,
    tip_chord=5.4 * FT,
    dihedral=5 * DEG,
    span=39.5 * FT,
    length=31.8 * FT,
)
LIFTING = Lifting(
    mass=9740 * LB,
    wing_area=296 * FT**2,
    lift_slope=4.42,
    zero_lift_angle=-2.1 * DEG,
    flap_lift=0.61,
    lift_clean=1.5,
    lift_flap=2.2,
)
STRAIGHT = StraightIn(airspeed=80 * KT, climb=0.0, closing=50 * KT, ramp_height=15 * FT, density=1.225)


def straight_in(speed: float = 80 * KT, wheels: float = 80 * FT, start: float = -600.0, step: float = 0.05) -> Flight:
    """Level up the centre line of a stopped ship in a calm, full flap, from a place astern to the ramp."""
    time = np.arange(0.0, -start / speed, step)
    time = np.append(time, -start / speed)
    nothing = np.zeros_like(time)
    return Flight(
        time, start + speed * time, nothing, nothing + wheels, nothing.copy(), nothing.copy(), nothing + speed,
        nothing + 1.0,
    )  # fmt: skip


def half_turn(hand: int = -1, speed: float = 90 * KT, bank: float = 25 * DEG, leg: float = 20.0) -> SightFacts:
    """Downwind leg and half circle to the ramp of a stopped ship in a calm, rolls in no time; 200 ft down to 90 ft.

    The turn-in is abeam the ramp, a diameter off.
    """
    rate = G * math.tan(bank) / speed
    radius, turn = speed / rate, math.pi / rate
    time = np.concatenate([np.linspace(-leg, 0.0, 401), np.linspace(0.0, turn, 801)[1:]])
    angle = np.clip(time, 0.0, None) * rate
    ahead = np.where(time < 0.0, -speed * time, -radius * np.sin(angle))
    port = radius * (1.0 + np.cos(angle))
    height = np.interp(time, (0.0, turn), (200 * FT, 90 * FT))
    flight = Flight(
        time, ahead, -hand * port, height, hand * (math.pi + angle), np.where(time <= 0.0, 0.0, hand * bank),
        np.full_like(time, speed), np.ones_like(time),
    )  # fmt: skip
    gates = {"break": -leg - 30.0, "downwind": -leg, "turn-in": 0.0, "ninety": 0.5 * turn, "ramp": turn}
    ship = SHIP if hand < 0 else replace(SHIP, island_side=1)
    return SightFacts(ship, COCKPIT, LIFTING, flight, STRAIGHT, gates, hand, 288.15, 101_325.0)


def turning(axis: tuple[float, float, float], angle: float) -> Floats:
    """Rotation of vectors about an axis by an angle, right-handed, by quaternions: a method of the tests' own."""
    w, (x, y, z) = math.cos(0.5 * angle), (math.sin(0.5 * angle) * part for part in axis)
    return np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
            [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
            [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
        ]
    )


def lying(heading: float, pitch: float, bank: float) -> Floats:
    """Columns: a body's forward, port and up in the outer frame, turned about its own axes one after the other."""
    yawed = turning((0.0, 0.0, 1.0), -heading)  # clockwise from above is against the third axis
    pitched = turning((0.0, 1.0, 0.0), -pitch)  # nose up is against the port axis
    rolled = turning((1.0, 0.0, 0.0), bank)  # port wing up is with the forward axis
    return yawed @ pitched @ rolled


def camera(eye: Floats, heading: float, pitch: float, bank: float, azimuth: float, elevation: float) -> Floats:
    """A pinhole camera as a 3 x 4 matrix: homogeneous points to homogeneous (right, up, 1)."""
    body = lying(heading, pitch, bank) @ lying(azimuth, elevation, 0.0)
    forward, port, up = body.T
    rows = np.array([-port, up, forward])
    return np.column_stack([rows, -rows @ eye])


def through(matrix: Floats, points: Floats) -> Floats:
    """Points (n, 3) through a camera, (n, 2)."""
    seen = np.column_stack([points, np.ones(len(points))]) @ matrix.T
    return np.asarray(seen[:, :2] / seen[:, 2:])
