"""How far the sea horizon is from a height, and how far below the level it stands.

*Method:* with the height in feet,
    distance = 1.17 sqrt(h) nautical miles (American Practical Navigator, Pub. 9, 1995, chapter 22: seen, refracted)
    radio    = 1.23 sqrt(h) nautical miles (earth of 4/3 the radius; 1.2287 computed)
    dip      = 0.97 sqrt(h) minutes of arc (American Practical Navigator, dip table).
The metric twin printed beside the first, 2.07 sqrt(h in m), contradicts it and is not used.

*Holds for:* standard refraction, heights that are small beside the earth. Old light lists and British practice have
1.144 or 8/7 in place of 1.17: 2 % less.
"""

from __future__ import annotations

import math

from roundown.quantities import DEGREE, FOOT, NAUTICAL_MILE

SEEN = 1.17 * NAUTICAL_MILE / math.sqrt(FOOT)  # m of distance for the root of a height in m
RADIO = 1.23 * NAUTICAL_MILE / math.sqrt(FOOT)  # m of distance for the root of a height in m
DIP = 0.97 / 60.0 * DEGREE / math.sqrt(FOOT)  # rad for the root of a height in m


def horizon_distance(height: float) -> float:
    """Distance of the sea horizon [m] from a height over the sea [m]. Raises ValueError for a height below it."""
    return SEEN * _root(height)


def radio_horizon(height: float) -> float:
    """Distance [m] to which radio reaches over the sea from a height [m] to sea level. Raises ValueError below it."""
    return RADIO * _root(height)


def geographic_range(first: float, second: float) -> float:
    """Distance [m] at which two heights over the sea [m] come in sight of one another over the horizon between them.

    The two distances add, never the heights. Raises ValueError for a height below the sea.
    """
    return horizon_distance(first) + horizon_distance(second)


def radio_range(first: float, second: float) -> float:
    """Distance [m] at which two heights over the sea [m] come into radio line of sight. As geographic_range."""
    return radio_horizon(first) + radio_horizon(second)


def dip(height: float) -> float:
    """How far the sea horizon seen from a height [m] stands below the level [rad]. Raises ValueError below the sea."""
    return DIP * _root(height)


def _root(height: float) -> float:
    if not 0.0 <= height < math.inf:
        raise ValueError("a height over the sea is 0 or more")
    return math.sqrt(height)
