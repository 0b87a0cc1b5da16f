"""Frames: the near plane, the ship's own axes, and latitude and longitude.

*Near plane*: east and north of a datum at sea, azimuthal equidistant on the WGS 84 ellipsoid: distance and bearing from
the datum are those of the geodesic (C. F. F. Karney, Algorithms for geodesics, Journal of Geodesy 87, 2013, through the
library geographiclib). Heights are over the sea, not over the plane.
*Ship frame*: origin on the centre line at the ramp at deck level, x ahead, y to port.

*Holds for:* the near plane within 30 nautical miles of its datum (scale error across the line of sight below 1e-5).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


def wrap(angle: float) -> float:
    """An angle brought into (-pi, pi] [rad]."""
    turned = math.remainder(angle, math.tau)
    return math.pi if turned == -math.pi else turned


def turn_between(start: float, end: float, side: float) -> float:
    """Signed turn from one heading to another the given way round [rad].

    side : +1 to starboard, -1 to port. Returns 0 to 2 pi in size with that sign; equal headings give 0.
    """
    return side * ((side * (end - start)) % (2.0 * math.pi))


def ship_components(east: Floats, north: Floats, course: Floats) -> tuple[Floats, Floats]:
    """Components of vectors along a ship's axes: ahead, and to port. course : true, clockwise from north [rad]."""
    sine, cosine = np.sin(course), np.cos(course)
    return east * sine + north * cosine, north * sine - east * cosine


@dataclass(frozen=True)
class NearPlane:
    """A plane about a datum at sea. latitude, longitude : of the datum, WGS 84, north and east positive [rad]."""

    latitude: float
    longitude: float

    def place(self, latitude: float, longitude: float) -> tuple[float, float]:
        """East and north of the datum [m] of a latitude and longitude [rad]."""
        from geographiclib.geodesic import Geodesic

        line = Geodesic.WGS84.Inverse(
            math.degrees(self.latitude), math.degrees(self.longitude), math.degrees(latitude), math.degrees(longitude)
        )
        azimuth = math.radians(line["azi1"])
        return line["s12"] * math.sin(azimuth), line["s12"] * math.cos(azimuth)

    def position(self, east: float, north: float) -> tuple[float, float]:
        """Latitude and longitude [rad] of a place east and north of the datum [m]."""
        from geographiclib.geodesic import Geodesic

        line = Geodesic.WGS84.Direct(
            math.degrees(self.latitude),
            math.degrees(self.longitude),
            math.degrees(math.atan2(east, north)),
            math.hypot(east, north),
        )
        return math.radians(line["lat2"]), math.radians(line["lon2"])
