"""Whether the ship keeps to the water she has.

*Method:* the corners joined by rhumb lines, which are straight on a Mercator chart; on it a ray to the east crosses the
sides an odd number of times from inside (even-odd rule). The track is looked at every minute and the moment of leaving
is closed in on by halving. *Holds for:* sides shorter than half round the earth; a corner cut in less than a minute is
not seen.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from roundown.ship.day_track import DayTrack

STEP = 60.0  # s, between looks
FINE = 0.5  # s, to which the moment of leaving is found


def leaves(
    track: DayTrack, polygon: Sequence[tuple[float, float]], start: float, end: float
) -> tuple[float, float, float] | None:
    """When and where the ship first is outside her water: time [s], latitude, longitude [rad]; None if she keeps to it.

    polygon : corners in order, latitude and longitude [rad]; start, end : of the time looked at [s]
    """
    corners = _charted(polygon)

    def outside(time: float) -> bool:
        place = track.at(time)
        return not _inside(corners, place.latitude, place.longitude)

    looks = [start + STEP * i for i in range(math.ceil((end - start) / STEP))] + [end]
    late = next((time for time in looks if outside(time)), None)
    if late is None:
        return None
    early = max(start, late - STEP)
    while late - early > FINE:
        middle = 0.5 * (early + late)
        early, late = (early, middle) if outside(middle) else (middle, late)
    place = track.at(late)
    return late, place.latitude, place.longitude


def inside(polygon: Sequence[tuple[float, float]], latitude: float, longitude: float) -> bool:
    """Whether a place [rad] lies within corners [rad]."""
    return _inside(_charted(polygon), latitude, longitude)


def _charted(polygon: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """East of the first corner and north on the chart; sides go the shorter way round."""
    corners: list[tuple[float, float]] = []
    east, before = 0.0, polygon[0][1]
    for latitude, longitude in polygon:
        east += math.remainder(longitude - before, math.tau)
        before = longitude
        corners.append((polygon[0][1] + east, math.asinh(math.tan(latitude))))
    return corners


def _inside(corners: Sequence[tuple[float, float]], latitude: float, longitude: float) -> bool:
    middle = sum(east for east, _ in corners) / len(corners)
    x, y = middle + math.remainder(longitude - middle, math.tau), math.asinh(math.tan(latitude))
    crossings = 0
    for (east, north), (next_east, next_north) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (north > y) != (next_north > y) and x < east + (y - north) / (next_north - north) * (next_east - east):
            crossings += 1
    return crossings % 2 == 1
