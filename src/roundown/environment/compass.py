"""From a true heading to what the compass card shows.

*Method:* magnetic = true - variation, compass = magnetic - deviation, both east positive (American Practical Navigator,
Pub. 9, compass conversion). Deviation is linear in magnetic heading between the headings of the card.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from roundown.environment.wind import full_circle


def magnetic(true: float, variation: float) -> float:
    """Magnetic direction in [0, 2 pi) of a true one; variation east positive [rad]."""
    return full_circle(true - variation)


def compass(magnetic_heading: float, card: Sequence[tuple[float, float]]) -> float:
    """What the compass shows on a magnetic heading, in [0, 2 pi) [rad].

    card : (magnetic heading, deviation) pairs, in any order, east positive [rad]; one or more
    """
    rows = sorted((heading % math.tau, deviation) for heading, deviation in card)
    headings = [heading for heading, _ in rows]
    deviation = np.interp(magnetic_heading % math.tau, headings, [value for _, value in rows], period=math.tau)
    return full_circle(float(magnetic_heading - deviation))
