"""Where the sea horizon stands against a ship: from this height of eye, how high over the sea it cuts her.

*Method:* on a flat sea the horizon lies in the level plane through the eye, so it cuts everything at the height of the
eye, however far away. On the round earth the line of sight to the horizon comes down to the sea, and passes an object
at a distance d at

    (sqrt(h) - d / 1.169)^2 feet     h feet of eye, d nautical miles, seen in standard refraction

(own derivation: the tangent to a parabola; 1.169 is the constant of *American Practical Navigator*'s table of the
distance of the horizon, 1.17 in its text). Nearer than the horizon that is below the eye by about 1.7 d sqrt(h) feet.
Beyond the horizon the same line has risen again: what is lower is hidden.
*Holds for:* heights small beside the earth, standard refraction.
"""

from __future__ import annotations

import math

from roundown.motion.frames import Floats
from roundown.quantities import FOOT, NAUTICAL_MILE

REACH = 1.169 * NAUTICAL_MILE / math.sqrt(FOOT)  # m of distance of the horizon for the root of a height in m


def horizon_cut(eye: float, distance: float) -> float:
    """Height over the sea at which the sea horizon cuts an upright [m].

    eye : height over the sea [m]; distance : of the upright [m]. Raises ValueError for an eye below the sea.
    """
    return (_root(eye) - distance / REACH) ** 2


def horizon_dip(eye: float) -> float:
    """How far the horizon stands below the level [rad]. Raises ValueError for an eye below the sea."""
    return 2.0 * _root(eye) / REACH


def waterline_dip(eye: float, distance: float) -> float:
    """How far the sea at a distance [m], no further than the horizon, stands below the level [rad]; as `horizon_dip`.

    Raises ValueError for a distance that is not positive.
    """
    if not distance > 0.0:
        raise ValueError("the sea right below the eye has no direction off the level")
    _root(eye)
    return math.atan(eye / distance + distance / REACH**2)


def sight_lines(points: Floats, eyes: Floats) -> Floats:
    """From eyes to points as seen over the round sea, (..., 3); straight lines that stand for the bent ones [m].

    points, eyes : (..., 3) in any frame with its third axis up. A point appears lower by (distance / REACH)^2: so the
    sea's edge comes out at `horizon_dip`, and against an upright at `horizon_cut`.
    """
    lines: Floats = points - eyes
    lines[..., 2] -= (lines[..., :2] ** 2).sum(axis=-1) / REACH**2
    return lines


def _root(height: float) -> float:
    if not 0.0 <= height < math.inf:
        raise ValueError("a height over the sea is 0 or more")
    return math.sqrt(height)
