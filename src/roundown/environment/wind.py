"""Wind as a vector, wind with height, and the wind triangle.

*Method:* plane vectors. Triangle:
    wind correction = asin(W sin(wind from - course) / TAS)
    ground speed = TAS cos(wind correction) - W cos(wind from - course)
(any navigation text, e.g. American Practical Navigator, Pub. 9, dead reckoning). Over the sea: power law with exponent
0.11 (Hsu, Meindl & Gilhousen, Journal of Applied Meteorology 33, 1994, pp. 757-765; paper not read, figure 0.11 as
configured in an open buoy-correction project).

*Holds for:* plane earth; sea profile from 2 m to 100 m in near-neutral air. Over swell that outruns the wind the
profile can be flat.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from roundown.errors import NoSolution

Floats = npt.NDArray[np.float64]

NO_DIRECTION = 1e-9  # m/s, rounding alone leaves this much: such a wind has no direction
SEA_EXPONENT = 0.11  # dimensionless, see the module's source
SEA_REFERENCE = 10.0  # m, height of a reported wind (World Meteorological Organization practice)
SEA_LOWEST, SEA_HIGHEST = 2.0, 100.0  # m, where the power law is used
_SEA_STEP = 0.2  # of the logarithm of height: straight lines between samples are within 0.05 % of the power law


@dataclass(frozen=True)
class Wind:
    """One wind: where the air goes, east and north [m/s]."""

    east: float
    north: float


@dataclass(frozen=True)
class Triangle:
    """The wind triangle solved: heading [rad, in 0 to 2 pi), ground speed [m/s], wind correction [rad, right positive].

    The drift is the wind correction with the other sign.
    """

    heading: float
    ground_speed: float
    wind_correction: float


@dataclass(frozen=True, eq=False)
class WindTable:
    """Wind at some heights over the sea.

    height : over the sea [m], ascending, (n,) with n at least 1; east, north : where the air goes [m/s], (n,)
    The table keeps read-only copies.
    Raises ValueError for another shape, heights that do not ascend, or a value that is not finite.
    """

    height: Floats
    east: Floats
    north: Floats

    def __post_init__(self) -> None:
        for name in ("height", "east", "north"):
            column = np.array(getattr(self, name), dtype=np.float64)
            if column.ndim != 1 or column.size == 0 or not np.all(np.isfinite(column)):
                raise ValueError(f"{name} must be a row of finite numbers")
            column.flags.writeable = False
            object.__setattr__(self, name, column)
        if not self.height.size == self.east.size == self.north.size:
            raise ValueError("height, east and north must be equally long")
        if np.any(np.diff(self.height) <= 0.0):
            raise ValueError("heights must ascend")

    def at(self, height: float) -> tuple[float, float]:
        """Wind at a height: east and north, where the air goes [m/s].

        height : over the sea [m]
        Linear in the components between the heights of the table; constant below the lowest and above the highest.
        Raises ValueError for a height that is not a number.
        """
        if math.isnan(height):
            raise ValueError("height is not a number")
        return float(np.interp(height, self.height, self.east)), float(np.interp(height, self.height, self.north))

    @classmethod
    def uniform(cls, east: float, north: float) -> WindTable:
        """The same wind at every height: east, north where the air goes [m/s]."""
        return cls(np.array([0.0]), np.array([east]), np.array([north]))

    @classmethod
    def sea_profile(cls, east10: float, north10: float, top: float) -> WindTable:
        """Wind over the sea from 2 m up to a height, by the power law; its direction does not change with height.

        east10, north10 : wind at 10 m, where the air goes [m/s]
        top : height over the sea above which the wind stays the same [m], 10 to 100
        Returns a table that is within 0.1 % of the power law everywhere from 2 m to top.
        Raises ValueError for a top outside 10 to 100 m.
        """
        if not SEA_REFERENCE <= top <= SEA_HIGHEST:
            raise ValueError(f"top {top:g} m is outside {SEA_REFERENCE:g} to {SEA_HIGHEST:g} m")
        steps = math.ceil(math.log(top / SEA_LOWEST) / _SEA_STEP)
        height = np.geomspace(SEA_LOWEST, top, steps + 1)
        ratio = (height / SEA_REFERENCE) ** SEA_EXPONENT
        return cls(height, east10 * ratio, north10 * ratio)


def full_circle(angle: float) -> float:
    """The same direction in [0, 2 pi) [rad]; north is 0."""
    turned = angle % math.tau
    # a tiny negative angle is rounded up to a whole turn
    return turned if turned < math.tau else 0.0


def velocity(wind_from: float, speed: float) -> tuple[float, float]:
    """Wind as a vector: east and north, where the air goes [m/s].

    wind_from : true direction it comes from, clockwise from north [rad]; speed [m/s]
    """
    # adding nought turns -0.0 into 0.0
    return 0.0 - speed * math.sin(wind_from), 0.0 - speed * math.cos(wind_from)


def direction_and_speed(east: float, north: float) -> tuple[float, float]:
    """Direction a wind comes from [rad, true, clockwise from north, in 0 to 2 pi) and its speed [m/s].

    east, north : where the air goes [m/s]
    Calm (below 1e-9 m/s): from 0.0.
    """
    speed = math.hypot(east, north)
    return (full_circle(math.atan2(-east, -north)) if speed > NO_DIRECTION else 0.0), speed


def sea_ratio(height: float) -> float:
    """Wind at a height over the sea as a multiple of the wind at 10 m.

    height : over the sea [m]
    Raises ValueError outside 2 to 100 m.
    """
    if not SEA_LOWEST <= height <= SEA_HIGHEST:
        raise ValueError(f"height {height:g} m is outside {SEA_LOWEST:g} to {SEA_HIGHEST:g} m")
    return math.pow(height / SEA_REFERENCE, SEA_EXPONENT)


def triangle(course: float, true_airspeed: float, wind_from: float, wind_speed: float) -> Triangle:
    """Heading to fly and ground speed made on a course in a wind.

    course : track wanted over the ground, true [rad]; true_airspeed : above 0 [m/s]
    wind_from : true direction the wind comes from [rad]; wind_speed : 0 or more [m/s]; calm: heading is the course
    With two answers (wind faster than the aeroplane, from astern) the faster over the ground.
    Raises NoSolution where the wind across the course exceeds the airspeed or no headway is made, ValueError for a
    speed out of range.
    """
    if not true_airspeed > 0.0 or not wind_speed >= 0.0:
        raise ValueError("the airspeed must be positive and the wind speed not negative")
    across = wind_speed * math.sin(wind_from - course)
    if abs(across) > true_airspeed:
        raise NoSolution(
            f"a heading on the course: wind across it {abs(across):.2f} m/s, airspeed {true_airspeed:.2f} m/s",
            ((true_airspeed, true_airspeed - abs(across)),),
        )
    correction = math.asin(across / true_airspeed)
    ground_speed = true_airspeed * math.cos(correction) - wind_speed * math.cos(wind_from - course)
    if ground_speed <= 0.0:
        raise NoSolution(
            f"headway on the course: airspeed {true_airspeed:.2f} m/s, wind {wind_speed:.2f} m/s",
            ((true_airspeed, ground_speed),),
        )
    return Triangle(full_circle(course + correction), ground_speed, correction)


def wind_from_triangle(heading: float, true_airspeed: float, track: float, ground_speed: float) -> tuple[float, float]:
    """Wind that carries an aeroplane from its heading to its track.

    heading, track : true [rad]; true_airspeed, ground_speed [m/s]
    Returns the direction it comes from, in [0, 2 pi) [rad], and its speed [m/s]; calm: from 0.0.
    """
    east = ground_speed * math.sin(track) - true_airspeed * math.sin(heading)
    north = ground_speed * math.cos(track) - true_airspeed * math.cos(heading)
    return direction_and_speed(east, north)
