"""Where the ship is at any instant: a track of rows, closed form in each.

A row is steady, gains or loses speed on a straight course, or turns on a circle at steady speed. *Method:* uniform
motion, uniformly accelerated motion, and the circular arc. *Holds for:* no leeway, and the ship's reference point (the
ramp) on its own course while she turns; the loss of speed in a turn is not modelled.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from roundown.motion.equations.kernel import ship_at
from roundown.motion.frames import Floats, wrap
from roundown.quantities import KNOT

STEERAGE_WAY = 0.5 * KNOT  # m/s, below it she gathers speed before she turns; own rule, no source


@dataclass(frozen=True)
class Order:
    """One thing the ship is told: turn to a course, come to a speed, or hold on for a time.

    course : new true course [rad], reached on the ship's turning circle; None to keep it
    speed : new speed [m/s], reached at the ship's rate of gaining or losing speed; None to keep it
    hold : time to hold on afterwards [s]
    """

    course: float | None = None
    speed: float | None = None
    hold: float = 0.0


@dataclass(frozen=True, eq=False)
class ShipTrack:
    """Rows of start time [s], east, north [m], course [rad], speed [m/s], gain of speed [m/s2], turn rate [rad/s]."""

    rows: Floats

    def at(self, time: float) -> tuple[float, float, float, float]:
        """East, north [m], course (not wrapped) [rad] and speed [m/s] at a time; the last row goes on for ever."""
        return ship_at(time, self.rows)

    def over(self, times: Floats) -> Floats:
        """The same for many times, (n, 4)."""
        return np.array([ship_at(float(time), self.rows) for time in times]).reshape(-1, 4)

    @property
    def settled(self) -> float:
        """Time at which the last row begins [s]."""
        return float(self.rows[-1, 0])


def steady_track(course: float, speed: float, east: float = 0.0, north: float = 0.0) -> ShipTrack:
    """A ship on one course at one speed, at the given place at time zero."""
    return _track([(0.0, east, north, course, speed, 0.0, 0.0)])


def ordered_track(
    course: float, speed: float, orders: Iterable[Order], turning_radius: float, gain: float, start: float = 0.0
) -> ShipTrack:
    """The track of a ship that carries out orders one after another, from east 0, north 0.

    course, speed : when the first order is given [rad, m/s]; turning_radius [m]; gain : of speed, either way [m/s2]
    start : time of the first order [s]
    She turns the shorter way, at the speed she has; then changes speed. Without way on, below half a knot, she gathers
    speed first; told to turn and given no speed she keeps her heading.
    """
    rows: list[tuple[float, float, float, float, float, float, float]] = []
    now = (start, 0.0, 0.0, course, speed)

    def add(span: float, acceleration: float, rate: float) -> None:
        nonlocal now
        row = (*now, acceleration, rate)
        rows.append(row)
        east, north, after, faster = ship_at(now[0] + span, np.array([row]))
        now = (now[0] + span, east, north, after, faster)

    def come_to(wanted: float | None) -> None:
        nonlocal now
        if wanted is not None and wanted != now[4]:
            change = wanted - now[4]
            add(abs(change) / gain, math.copysign(gain, change), 0.0)
            now = (*now[:4], wanted)

    for order in orders:
        if now[4] < STEERAGE_WAY:
            come_to(order.speed)
        turn = 0.0 if order.course is None else wrap(order.course - now[3])
        if turn != 0.0 and now[4] > 0.0:
            rate = math.copysign(now[4] / turning_radius, turn)
            add(turn / rate, 0.0, rate)
        come_to(order.speed)
        if order.hold > 0.0:
            add(order.hold, 0.0, 0.0)
    rows.append((*now, 0.0, 0.0))
    return _track(rows)


def run_off(track: ShipTrack, time: float, base_course: float, base_speed: float) -> tuple[float, float]:
    """How far the ship is from where her base course and speed would have put her.

    Returns distance [m] and its true bearing from that place [rad]; bearing 0 where the distance is nil.
    """
    start = float(track.rows[0, 0])
    east, north, _, _ = track.at(time)
    de = east - float(track.rows[0, 1]) - base_speed * (time - start) * math.sin(base_course)
    dn = north - float(track.rows[0, 2]) - base_speed * (time - start) * math.cos(base_course)
    far = math.hypot(de, dn)
    return far, math.atan2(de, dn) % (2.0 * math.pi) if far > 1e-9 else 0.0


def _track(rows: list[tuple[float, float, float, float, float, float, float]]) -> ShipTrack:
    array = np.array(rows, dtype=np.float64)
    array.setflags(write=False)
    return ShipTrack(array)
