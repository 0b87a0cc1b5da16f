"""Where a ship comes to that holds one true course over the ellipsoid: the rhumb line on WGS 84.

*Method:* the northing s cos(course) is measured along the meridian (geographiclib); the change of longitude is the
easting s sin(course) times the change of isometric latitude by that northing, psi = atanh(sin phi) - e atanh(e sin phi)
(J. P. Snyder, Map Projections: A Working Manual, U.S. Geological Survey Professional Paper 1395, 1987, eqs. 7-7 and
7-8, from memory). The change of psi is taken from the difference of the sines, so that nothing is lost on courses close
to east and west; below 100 m of northing it is the limit 1 / (N cos phi) at the middle latitude. The two agree there to
1e-10 of the distance.
*Holds for:* latitudes to 89 degrees at both ends, no leeway.
"""

from __future__ import annotations

import math

from roundown.motion.frames import wrap

LIMIT = math.radians(89.0)  # of latitude: towards a pole a rhumb line winds without end
_AXIS = 6378137.0  # m, WGS 84
_FLATTENING = 1.0 / 298.257223563
_ECCENTRICITY = math.sqrt(_FLATTENING * (2.0 - _FLATTENING))
_SMALL = 100.0  # m of northing
_HALF_MERIDIAN = 2.0e7  # m, nearly: what no northing between latitudes below the limit exceeds


class PolarError(ValueError):
    """A place or a way so near a pole that a constant course leads nowhere."""


def isometric_latitude(latitude: float) -> float:
    """Northing on a chart on which rhumb lines are straight, in radians of longitude; latitude within 89 degrees [rad].

    Raises ValueError beyond.
    """
    _within(latitude)
    sine = math.sin(latitude)
    return math.atanh(sine) - _ECCENTRICITY * math.atanh(_ECCENTRICITY * sine)


def rhumb(latitude: float, longitude: float, course: float, distance: float) -> tuple[float, float]:
    """The latitude and longitude [rad] at the end of a run on one true course.

    latitude, longitude : of the start [rad]; course : true [rad]
    distance : [m], negative for a run back along the course
    Longitude comes back in (-pi, pi]. Raises ValueError where either end is beyond 89 degrees of latitude.
    """
    from geographiclib.geodesic import Geodesic

    _within(latitude)
    north, east = distance * math.cos(course), distance * math.sin(course)
    if abs(north) > _HALF_MERIDIAN:
        raise PolarError("the run goes over a pole")
    mask = Geodesic.LATITUDE | Geodesic.LONGITUDE
    line = Geodesic.WGS84.Direct(math.degrees(latitude), 0.0, 0.0, north, mask)
    if abs(line["lon2"]) > 90.0:
        raise PolarError("the run goes over a pole")
    after = math.radians(line["lat2"])
    _within(after)
    return after, wrap(longitude + east * _longitude_by_easting(latitude, after, north))


def _within(latitude: float) -> None:
    if not abs(latitude) <= LIMIT + 1e-12:
        raise PolarError(f"latitude {math.degrees(latitude):.2f} is beyond 89 degrees: no rhumb line is run there")


def _longitude_by_easting(start: float, end: float, north: float) -> float:
    """Change of longitude by easting [rad/m] between two latitudes a northing [m] apart."""
    middle = 0.5 * (start + end)
    if abs(north) < _SMALL:
        return math.sqrt(1.0 - (_ECCENTRICITY * math.sin(middle)) ** 2) / (_AXIS * math.cos(middle))
    apart = 2.0 * math.cos(middle) * math.sin(0.5 * (end - start))  # difference of the sines
    product = math.sin(start) * math.sin(end)
    square = _ECCENTRICITY**2
    change = math.atanh(apart / (1.0 - product)) - _ECCENTRICITY * math.atanh(
        _ECCENTRICITY * apart / (1.0 - square * product)
    )
    return change / north
