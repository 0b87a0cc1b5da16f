"""The ships in company while flying, north up: the guide on her flight course and who stands where."""

from __future__ import annotations

import math
from collections.abc import Mapping
from xml.etree import ElementTree as ET

from roundown.cards.drawing import Point, Sheet
from roundown.quantities import DISTANCE, TRUE_DIRECTION, YARD, write
from roundown.ship.company import Station

RINGS = (500, 1000, 2000, 5000, 10_000, 20_000)  # yd from one ring to the next
MOST_RINGS = 4
LONGEST = 12  # letters of a name
COURSE = 0.22  # of the side of the sheet, the length of the flight course drawn


def company_drawing(
    stations: Mapping[str, Station], names: Mapping[str, str], guide: str, course: float, side: float, size: float
) -> ET.Element:
    """The stations about the guide.

    names : of the ships, by the keys of stations; guide : her name; course : the flight course, true [rad]
    side : of the square sheet; size : of its text
    """
    pen = Sheet(side, side, size)
    farthest = max(station.distance for station in stations.values())
    apart = next((ring for ring in RINGS if farthest <= MOST_RINGS * ring * YARD), RINGS[-1])
    rings = max(1, math.ceil(farthest / (apart * YARD)))
    scale = (side / 2.0 - 1.7 * size) / (rings * apart * YARD)
    middle = side / 2.0

    def at(east: float, north: float) -> Point:
        return middle + east * scale, middle - north * scale

    for ring in range(1, rings + 1):
        reach = ring * apart * YARD
        circle = [at(reach * math.sin(a), reach * math.cos(a)) for a in (math.radians(d) for d in range(0, 361, 5))]
        pen.line(circle, "ring", covers=False)
    ahead = (math.sin(course), math.cos(course))
    bow = (middle + COURSE * side * ahead[0], middle - COURSE * side * ahead[1])
    pen.line([(middle, middle), bow], "edge")
    pen.arrow_head(bow, (ahead[0], -ahead[1]), 0.6 * size)
    pen.mark((middle, middle), 0.32 * size, filled=True)
    for station in stations.values():
        pen.mark(at(station.east, station.north), 0.26 * size, filled=False)
    pen.label((middle, middle), [_short(guide)], (-ahead[0], ahead[1]), bold=True, gap=7.0)
    for key, station in stations.items():
        spot = at(station.east, station.north)
        pen.label(spot, [_short(names[key])], (spot[0] - middle or 1.0, spot[1] - middle), gap=7.0)
    pen.words((3.0, side - 0.4 * size), f"rings {apart:,} yd apart")
    told = "; ".join(
        f"{names[key]} {write(station.bearing, TRUE_DIRECTION, words=True)} {write(station.distance, DISTANCE)}"
        for key, station in stations.items()
    )
    return pen.svg("company", "Ships in company while flying, north up", f"From {guide}: {told}.")


def _short(name: str) -> str:
    return name if len(name) <= LONGEST else f"{name[: LONGEST - 1]}…"
