"""The guide's track of the day on a plotting sheet, north up, with the base track beside it and the sea room round it.

Places are laid down on a plane about the middle of the track, a minute of longitude as short as it is in that latitude.
*Holds for:* tracks of some hundreds of miles, away from the poles.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np

from roundown.cards.drawing import Box, Point, Sheet
from roundown.motion.frames import Floats
from roundown.motion.rhumb import PolarError
from roundown.quantities import CLOCK_TIME, write
from roundown.ship.day_track import DayTrack, What

Corners = Sequence[tuple[float, float]]

AFTER = 600.0  # s, shown after the last of the flying
SAMPLES = 240
TOGETHER = 3.0  # sizes of text: the two times of a shorter stretch stand together
WIDER = 2.0  # spans of the track that the sea room may take up before it is cut off at the edge
STEPS = (1, 2, 5, 10, 20, 50, 100, 200)  # nm of the scale
MINUTE_OF_ARC = math.pi / 10800.0
LEGEND = (
    "Solid: her track, heavy on the flight course from dot (steady) to ring (flying ends), at those times; "
    "dashed: the base track"
)
WATER = "dash and point: the edge of the sea room"
OFF_SHEET = "sea room beyond the sheet"


@dataclass(frozen=True)
class _Plane:
    """East and north of a middle place [nm] from latitude and longitude [rad]."""

    latitude: float
    longitude: float

    def places(self, latitudes: Floats, longitudes: Floats) -> Floats:
        east = np.mod(longitudes - self.longitude + math.pi, math.tau) - math.pi
        places = np.column_stack([east * math.cos(self.latitude), latitudes - self.latitude])
        return np.asarray(places / MINUTE_OF_ARC, dtype=np.float64)


@dataclass(frozen=True)
class _Fit:
    """From the plane to the sheet. per_mile : sheet units to a mile; east, north : of its middle, at x, y."""

    per_mile: float
    east: float
    north: float
    x: float
    y: float

    def on_sheet(self, place: Floats) -> Point:
        return self.x + (float(place[0]) - self.east) * self.per_mile, self.y - (
            float(place[1]) - self.north
        ) * self.per_mile


def day_track_drawing(
    track: DayTrack, sea_room: Corners, width: float, height: float, size: float, name: str
) -> ET.Element:
    """The track from the datum to the last of the flying and the way back.

    sea_room : corners, latitude and longitude [rad]; width, height : of the sheet; size : of its text
    name : makes the ids its own
    """
    times, plane, ways = _laid_down(track)
    corners = np.array(sea_room).reshape(-1, 2)
    water = plane.places(corners[:, 0], corners[:, 1])
    pen = Sheet(width, height, size)
    fit = _fit(np.vstack(ways), water, width, height, size)
    _frame(pen)
    _scale(pen, fit)
    _water(pen, fit, water)
    pen.line([fit.on_sheet(place) for place in ways[1]], "late")
    pen.line([fit.on_sheet(place) for place in ways[0]], "edge")
    pen.mark(fit.on_sheet(ways[0][0]), 0.24 * size, filled=True)
    labels: list[tuple[Point, list[str], Point]] = [
        (fit.on_sheet(ways[0][0]), ["datum", write(float(times[0]), CLOCK_TIME)], _away(ways, 0))
    ]
    for start, end in flown(track):
        parts = np.flatnonzero((times >= start) & (times <= end))
        run = [fit.on_sheet(ways[0][i]) for i in parts]
        pen.line(run, "flown")
        pen.mark(run[0], 0.24 * size, filled=True)
        pen.mark(run[-1], 0.24 * size, filled=False)
        clock = [write(start, CLOCK_TIME), write(end, CLOCK_TIME)]
        if math.dist(run[0], run[-1]) < TOGETHER * size:
            labels.append((run[-1], clock, _away(ways, int(parts[-1]))))
        else:
            labels += [
                (run[0], clock[:1], _away(ways, int(parts[0]))),
                (run[-1], clock[1:], _away(ways, int(parts[-1]))),
            ]
    for spot, texts, side in labels:
        pen.label(spot, texts, side, gap=7.0)
    periods = "; ".join(f"{write(start, CLOCK_TIME)} to {write(end, CLOCK_TIME)}" for start, end in flown(track))
    return pen.svg(
        name, "Track and base track of the day, north up", f"On the flight course {periods}. {legend(sea_room)}."
    )


def legend(sea_room: Corners) -> str:
    """What the kinds of line mean."""
    return f"{LEGEND}; {WATER}" if sea_room else LEGEND


def lies_across(track: DayTrack) -> bool:
    """Whether the day's track goes further east and west than north and south."""
    ways = np.vstack(_laid_down(track)[2])
    span = ways.max(axis=0) - ways.min(axis=0)
    return bool(span[0] > span[1])


def flown(track: DayTrack) -> tuple[tuple[float, float], ...]:
    """When she is on a flight course: start and end of each stretch [s after midnight]."""
    return tuple((each.start, each.end) for each in track.stretches if each.what is What.FLIGHT)


def _laid_down(track: DayTrack) -> tuple[Floats, _Plane, tuple[Floats, Floats]]:
    """Times, the plane about the middle of the track, and on it the ship and the base point at those times [nm]."""
    times, ship, base = _followed(track, _times(track))
    middle = ship[len(ship) // 2]
    plane = _Plane(float(middle[0]), float(middle[1]))
    return times, plane, (plane.places(ship[:, 0], ship[:, 1]), plane.places(base[:, 0], base[:, 1]))


def _followed(track: DayTrack, times: Floats) -> tuple[Floats, Floats, Floats]:
    """Times, places of the ship and of the base point at them [rad], as far as the track goes short of a pole."""
    ship: list[tuple[float, float]] = []
    base: list[tuple[float, float]] = []
    for time in times:
        try:
            place, point = track.at(float(time)), track.base_at(float(time))
        except PolarError:
            break
        ship.append((place.latitude, place.longitude))
        base.append(point)
    return times[: len(ship)], np.array(ship), np.array(base)


def _times(track: DayTrack) -> Floats:
    """Times at which the track is laid down, the ends of the stretches among them."""
    edges = [time for each in track.stretches for time in (each.start, each.end) if math.isfinite(time)]
    last = max(edges) + AFTER
    first = track.facts.start
    turning = [
        np.linspace(each.start, each.end, 24)
        for each in track.stretches
        if each.what is not What.BASE and math.isfinite(each.end)
    ]
    return np.unique(np.concatenate([np.linspace(first, last, SAMPLES), edges, *turning]))


def _away(ways: tuple[Floats, Floats], i: int) -> Point:
    """On the sheet, away from the base track; at the datum, back along the track."""
    off = ways[0][i] - ways[1][i]
    if math.hypot(*off) < 0.1:
        off = ways[0][i] - ways[0][min(i + 40, len(ways[0]) - 1)]
    return float(off[0]) or 1.0, -float(off[1])


def _fit(ways: Floats, water: Floats, width: float, height: float, size: float) -> _Fit:
    """The scale at which the track comes on the sheet; the sea room too where that does not make it small."""
    low, high = ways.min(axis=0), ways.max(axis=0)
    if len(water):
        wide_low, wide_high = np.minimum(low, water.min(axis=0)), np.maximum(high, water.max(axis=0))
        if np.max(wide_high - wide_low) <= WIDER * np.max(high - low):
            low, high = wide_low, wide_high
    span = np.maximum(high - low, 0.5)
    per_mile = float(min((width - 8.0 * size) / span[0], (height - 5.0 * size) / span[1]))
    middle = (low + high) / 2.0
    return _Fit(per_mile, float(middle[0]), float(middle[1]), width / 2.0, height / 2.0)


def _frame(pen: Sheet) -> None:
    """The neat line, and north."""
    right, foot = pen.width - 1.0, pen.height - 1.0
    pen.line([(1.0, 1.0), (right, 1.0), (right, foot), (1.0, foot), (1.0, 1.0)], "edge", covers=False)
    x, top = pen.width - 1.4 * pen.size, 1.9 * pen.size
    pen.line([(x, top + 2.2 * pen.size), (x, top)], "thin")
    pen.arrow_head((x, top - 2.0), (0.0, -1.0), 0.7 * pen.size)
    pen.words((x, top - 0.6 * pen.size), "N", "middle", bold=True)


def _scale(pen: Sheet, fit: _Fit) -> None:
    """A scale of miles in a lower corner."""
    step = max((each for each in STEPS if each * fit.per_mile <= 0.3 * pen.width), default=STEPS[0])
    long = step * fit.per_mile
    x, y = 0.8 * pen.size, pen.height - 0.8 * pen.size
    pen.line([(x, y - 3.0), (x, y), (x + long, y), (x + long, y - 3.0)], "thin")
    pen.words((x + long + 4.0, y), f"{step} nm")


def _water(pen: Sheet, fit: _Fit, water: Floats) -> None:
    """The edges of the sea room so far as they come on the sheet; where none does, that is said."""
    if not len(water):
        return
    sheet = Box(2.0, 2.0, pen.width - 2.0, pen.height - 2.0)
    round_it = [fit.on_sheet(place) for place in (*water, water[0])]
    edges = [inside for start, end in pairwise(round_it) if (inside := clipped(start, end, sheet)) is not None]
    for start, end in edges:
        pen.line([start, end], "sight")
    if not edges:
        pen.words((pen.width - 0.5 * pen.size, pen.height - 0.8 * pen.size), OFF_SHEET, "end", size=0.98 * pen.size)


def clipped(start: Point, end: Point, box: Box) -> tuple[Point, Point] | None:
    """The part of a straight line inside a box; None where there is none.

    *Method:* Liang and Barsky, 1984: the parameters at which the line passes each side.
    """
    across, down = end[0] - start[0], end[1] - start[1]
    low, high = 0.0, 1.0
    sides = (
        (-across, start[0] - box.left),
        (across, box.right - start[0]),
        (-down, start[1] - box.top),
        (down, box.bottom - start[1]),
    )
    for towards, room in sides:
        if towards == 0.0:
            if room < 0.0:
                return None
        elif towards < 0.0:
            low = max(low, room / towards)
        else:
            high = min(high, room / towards)
    if low > high:
        return None
    return (
        (start[0] + low * across, start[1] + low * down),
        (start[0] + high * across, start[1] + high * down),
    )
