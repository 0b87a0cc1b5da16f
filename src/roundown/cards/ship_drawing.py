"""The ship on the plotting sheet, north up: a rose with her courses and the wind, and her track off the base track."""

from __future__ import annotations

import math
from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.drawing import Point, Scale, Sheet
from roundown.figures import figures_of
from roundown.motion.frames import Floats
from roundown.quantities import NAUTICAL_MILE, TRUE_DIRECTION, write
from roundown.ship.flight import Flight
from roundown.ship.turn_into_wind import HOLDS, TurnIntoWind
from roundown.ship.wind_over_deck import CALM

_QUARTERS = ("N", "E", "S", "W")


def rose_drawing(flight: Flight, base_course: float, width: float, size: float, name: str) -> ET.Element:
    """Base course (dashed), flight course (the ship) and natural wind (arrow) on a rose.

    base_course : true [rad]; width : of the square sheet; size : of the text; name : makes the ids its own
    """
    pen = Sheet(width, width, size)
    centre, radius = width / 2.0, width / 2.0 - 1.9 * size

    def at(bearing: float, part: float) -> Point:
        reach = radius * part
        return centre + reach * math.sin(bearing), centre - reach * math.cos(bearing)

    for degrees in range(0, 360, 10):
        bearing = math.radians(degrees)
        pen.line([at(bearing, 0.88 if degrees % 90 == 0 else 0.94), at(bearing, 1.0)], "thin", covers=False)
    pen.line([at(math.radians(degrees), 1.0) for degrees in range(0, 361, 3)], "thin")
    for i, letter in enumerate(_QUARTERS):
        x, y = at(i * math.pi / 2.0, 1.0 + 0.8 * size / radius)
        pen.words((x, y + 0.26 * size), letter, "middle", bold=i == 0)
    pen.line([at(base_course, -0.5), at(base_course, 0.6)], "late")
    pen.arrow_head(at(base_course, 0.66), _towards(base_course), 0.5 * size)
    pen.line([at(flight.course, part) for part in (0.0, 0.6)], "thin")
    pen.arrow_head(at(flight.course, 0.66), _towards(flight.course), 0.6 * size)
    _hull(pen, (centre, centre), flight.course, 0.62 * radius)
    told = f"flight course {write(flight.course, TRUE_DIRECTION, words=True)}, "
    told += f"base course {write(base_course, TRUE_DIRECTION, words=True)}"
    if flight.wind_speed >= CALM:
        pen.line([at(flight.wind_from, 1.24), at(flight.wind_from, 0.84)], "flown")
        pen.arrow_head(at(flight.wind_from, 0.76), _towards(flight.wind_from + math.pi), 0.8 * size)
        told += f", natural wind from {write(flight.wind_from, TRUE_DIRECTION, words=True)}"
        pen.label(at(flight.wind_from, 1.16), ["wind"], _beside(flight.wind_from, base_course), gap=5.0)
    pen.label(at(base_course, 0.45), ["base"], _beside(base_course, flight.course), gap=5.0)
    pen.label(at(flight.course, 0.45), ["flight"], _beside(flight.course, base_course), gap=5.0)
    return pen.svg(name, "Courses and wind, north up", f"A rose with {told}.")


def _towards(bearing: float) -> Point:
    return math.sin(bearing), -math.cos(bearing)


def _beside(course: float, other: float) -> Point:
    """The side of one course away from another."""
    away = -1.0 if math.sin(other - course) >= 0.0 else 1.0
    return math.cos(course) * away, math.sin(course) * away


def _hull(pen: Sheet, middle: Point, course: float, length: float) -> None:
    """A ship's outline about a point: bow rounded, stern square."""
    half = 0.07 * length
    corners = [(-0.5, -half), (0.38, -half), (0.46, -0.6 * half), (0.5, 0.0), (0.46, 0.6 * half), (0.38, half)]
    corners += [(-0.5, half), (-0.5, -half)]
    sine, cosine = math.sin(course), math.cos(course)
    outline = [
        (middle[0] + part * length * sine + off * cosine, middle[1] - part * length * cosine + off * sine)
        for part, off in corners
    ]
    pen.line(outline, "thin", filled=True)


def track_drawing(
    turn: TurnIntoWind, base_course: float, base_speed: float, width: float, highest: float, size: float, name: str
) -> ET.Element:
    """Her track from the order to turn (solid), where the base track would have had her (dashed), the run off between.

    base_course [rad], base_speed [m/s]; width, highest : of the sheet, which is no higher than the tracks need
    size : of the text; name : makes the ids its own
    """
    marks = [turn.track.settled + 60.0 * minutes for minutes in HOLDS]
    times = np.linspace(0.0, marks[-1], 181)
    track = turn.track.over(times)[:, :2]
    base = np.array([[t * base_speed * math.sin(base_course), t * base_speed * math.cos(base_course)] for t in times])
    height, scale = _fit(np.vstack([track, base]), width, highest, size)
    pen = Sheet(width, height, size)

    def at(east: float, north: float) -> Point:
        return scale.on_sheet(north, -east)

    _miles(pen, scale, width, height)
    pen.line([at(*row) for row in base], "late")
    pen.line([at(*row) for row in track], "flown")
    start = at(0.0, 0.0)
    pen.mark(start, 0.24 * size, filled=True)
    ends = [at(*track[-1]), at(*base[-1])]
    back = (2.0 * start[0] - ends[0][0] - ends[1][0], 2.0 * start[1] - ends[0][1] - ends[1][1])
    labels: list[tuple[Point, str, Point]] = [(start, "order", back)]
    for minutes, time in zip(HOLDS, marks, strict=True):
        there = at(*turn.track.at(time)[:2])
        planned = at(time * base_speed * math.sin(base_course), time * base_speed * math.cos(base_course))
        pen.line([planned, there], "thin")
        pen.mark(there, 0.24 * size, filled=False)
        labels.append((there, f"{minutes} min", (there[0] - planned[0], there[1] - planned[1])))
    for spot, text, side in labels:
        pen.label(spot, [text], side, gap=6.0)
    figures = {found.key: found.text for found in figures_of(turn)}
    told = "; ".join(f"after {m} min {figures[f'run_off.after_{m}_min.distance']}" for m in HOLDS)
    return pen.svg(name, "Run off from the base track, north up, a tick every mile", f"Off the base track {told}.")


def _fit(places: Floats, width: float, highest: float, size: float) -> tuple[float, Scale]:
    """Height of the sheet and the scale at which east and north places come on it, with room for labels."""
    low, high = np.min(places, axis=0), np.max(places, axis=0)
    aside, over = 6.4 * size, 5.0 * size
    span = np.maximum(high - low, 1.0)
    per_metre = float(min((width - aside) / span[0], (highest - over) / span[1]))
    height = float(span[1]) * per_metre + over
    middle = (low + high) / 2.0
    x, y = width / 2.0 - float(middle[0]) * per_metre, height / 2.0 + float(middle[1]) * per_metre
    return height, Scale(per_metre, x, y)


def _miles(pen: Sheet, scale: Scale, width: float, height: float) -> None:
    """The neat line, with a tick every nautical mile."""
    edge, step = 1.0, NAUTICAL_MILE * scale.per_metre
    pen.line(
        [(edge, edge), (width - edge, edge), (width - edge, height - edge), (edge, height - edge), (edge, edge)],
        "edge",
        covers=False,
    )
    for origin, limit, across in ((scale.x, width, True), (scale.y, height, False)):
        for i in range(math.ceil(-origin / step), math.floor((limit - origin) / step) + 1):
            at = origin + i * step
            far = height - edge if across else width - edge
            for start, end in ((edge, edge + 5.0), (far, far - 5.0)):
                pen.line([(at, start), (at, end)] if across else [(start, at), (end, at)], "hair", covers=False)
