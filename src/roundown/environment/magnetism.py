"""Magnetic variation at a place and date.

*Method:* International Geomagnetic Reference Field, 14th generation (IAGA, 2024, doi 10.5281/zenodo.14012302), as
evaluated by the library pyIGRF14; geodetic latitude on the WGS 84 ellipsoid, coefficients linear between epochs.

*Holds for:* 1900 to 2030, the last five years a forecast. The main field only, of degree 10 in the 1940s: not the rock
of volcanic islands, nor the ship's own deviation. Charts of the day may differ by some tenths of a degree. At the
poles, where every direction is south or north, the meridian of the longitude given is meant.
"""

from __future__ import annotations

import calendar
import datetime as dt
import math

from roundown.quantities import DEGREE

FIRST = dt.date(1900, 1, 1)
LAST = dt.date(2030, 1, 1)
_KILOMETRE = 1000.0  # m


def variation(latitude: float, longitude: float, date: dt.date, height: float = 0.0) -> float:
    """Magnetic variation, east positive, in [-pi, pi] [rad].

    latitude, longitude : north and east positive [rad]; date : from 1900 to the first day of 2030
    height : over the sea [m]
    Raises ValueError for a date outside the model or a place that is not on earth.
    """
    length = 366 if calendar.isleap(date.year) else 365
    return variation_in(latitude, longitude, date.year + (date.timetuple().tm_yday - 1) / length, height)


def variation_in(latitude: float, longitude: float, year: float, height: float = 0.0) -> float:
    """Magnetic variation as `variation` gives it, at a decimal year, as tables of the field print it."""
    from pyIGRF14 import igrf_value

    if not FIRST.year <= year <= LAST.year:  # outside, the library prints a warning and answers all the same
        raise ValueError(f"the magnetic field is known from {FIRST.year} to {LAST.year}, not in {year:.1f}")
    if not abs(latitude) <= math.pi / 2 or not abs(longitude) <= math.tau:
        raise ValueError("a latitude is within a right angle, a longitude within a circle [rad]")
    return float(igrf_value(latitude / DEGREE, longitude / DEGREE, height / _KILOMETRE, year)[0]) * DEGREE
