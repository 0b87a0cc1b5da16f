"""Where the ship is over the earth while she carries out an order: rows of latitude and longitude.

*Method:* the rows of an order are those of motion/ship_track.py, each begun anew at its own latitude and longitude. On
a straight row, steady or changing speed, she runs along the rhumb line (motion/rhumb.py); a turn is an arc in the near
plane of the place where it begins. *Holds for:* as those two do.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from roundown.motion.equations.kernel import ship_at
from roundown.motion.frames import Floats, NearPlane, wrap
from roundown.motion.rhumb import rhumb
from roundown.motion.ship_track import STEERAGE_WAY, Order, ShipTrack, ordered_track

Angle = TypeVar("Angle", float, Floats)


@dataclass(frozen=True)
class Way:
    """A place and what she does from there. start [s]; latitude, longitude, true course [rad]; speed [m/s].

    gain : of speed [m/s2]; rate : of turning, to starboard positive [rad/s]; both nil for a steady row
    """

    start: float
    latitude: float
    longitude: float
    course: float
    speed: float
    gain: float = 0.0
    rate: float = 0.0

    def at(self, time: float) -> Way:
        """The ship at a time, steady on the course and speed she then has; a time before `start` runs her back."""
        span = time - self.start
        if self.rate == 0.0:
            distance = span * (self.speed + 0.5 * self.gain * span)
            place = rhumb(self.latitude, self.longitude, self.course, distance)
            return Way(time, *place, self.course, self.speed + self.gain * span)
        row = np.array([(0.0, 0.0, 0.0, self.course, self.speed, self.gain, self.rate)])
        east, north, course, speed = ship_at(span, row)
        latitude, longitude = NearPlane(self.latitude, self.longitude).position(east, north)
        return Way(time, latitude, wrap(longitude), course, speed)


@dataclass(frozen=True)
class Handling:
    """How she turns and changes speed. radius : of her turning circle [m]; gain : of speed, either way [m/s2]."""

    radius: float
    gain: float

    def duration(self, now: Way, course: float, speed: float) -> float:
        """Time from the order until she is steady on a course [rad] at a speed [m/s], from what she does now [s]."""
        return self._ordered(now, course, speed).settled

    def come_to(self, now: Way, course: float, speed: float, side: float = 0.0) -> tuple[list[Way], Way]:
        """The rows of an order given now, and the ship when she is steady on its course [rad] and speed [m/s].

        side : +1 to starboard or -1 to port where the turn is to go past the half circle (`turn_by`), 0 the shorter way
        No rows where there is nothing to do. A ship that lies stopped and is told to stop keeps her heading.
        """
        track = self._ordered(now, course, speed, side)
        rows: list[Way] = []
        at = now
        for row, end in zip(track.rows, track.rows[1:, 0], strict=False):
            rows.append(Way(at.start, at.latitude, at.longitude, *(float(number) for number in row[3:])))
            at = rows[-1].at(now.start + float(end))
        _, _, _, heading, after, _, _ = (float(number) for number in track.rows[-1])
        heading = course if abs(wrap(course - heading)) < 1e-9 else heading
        return rows, Way(at.start, at.latitude, at.longitude, heading % math.tau, after)

    def _ordered(self, now: Way, course: float, speed: float, side: float = 0.0) -> ShipTrack:
        orders = [Order(course % math.tau, speed)]
        if side != 0.0 and abs(turn_by(now.course, course, side)) > math.pi:
            orders.insert(0, Order(now.course + 0.5 * side * math.pi, None if now.speed >= STEERAGE_WAY else speed))
        return ordered_track(now.course, now.speed, orders, self.radius, self.gain)


def turn_by(course: Angle, new_course: Angle, side: float) -> Angle:
    """Turn from a course to another, a quarter circle the other way at most, else to a side (+1 starboard, -1 port).

    Returns side times [-pi/2, 3 pi/2), without a jump at a half circle [rad].
    """
    return side * ((side * (new_course - course) + 0.5 * math.pi) % math.tau - 0.5 * math.pi)


def off_point(place: tuple[float, float], point: tuple[float, float]) -> tuple[float, float]:
    """How far a place is from a point, both latitude and longitude [rad].

    Returns distance [m] and true bearing of the place from the point, in [0, 2 pi) [rad]; below 1 mm the bearing is 0.
    """
    east, north = NearPlane(*point).place(*place)
    far = math.hypot(east, north)
    return far, math.atan2(east, north) % math.tau if far > 1e-3 else 0.0
