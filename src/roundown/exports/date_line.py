"""Lines and areas cut where they cross 180 degrees of longitude, for formats that know no way round the earth.

*Method:* longitudes are counted on past 180 degrees along the line; each crossing is cut in proportion. The parts of an
area on one side of a meridian are joined along it: where its border goes out, counted from the south, there it comes in
again. *Holds for:* steps of less than half the earth, and areas that hold no pole.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from roundown.errors import RoundownError
from roundown.exports.chart import Fix
from roundown.motion.frames import wrap

Corner = tuple[float, float]  # longitude and latitude [rad]; longitude may be counted on past pi


class PoleInsideError(RoundownError):
    """An area round a pole, which cannot be drawn by latitude and longitude."""


def cut_line(fixes: Sequence[Fix]) -> list[list[Fix]]:
    """The parts of a line of two or more fixes, longitudes in [-pi, pi].

    At a crossing one part ends and the next begins at the same place and instant, each with its own sign of longitude.
    """
    parts: list[list[Fix]] = []
    sheet = 0
    for before, after in _cut(fixes):
        here = math.floor((0.5 * (before.longitude + after.longitude) + math.pi) / math.tau)
        if not parts or here != sheet:
            parts.append([_turned(before, here)])
            sheet = here
        parts[-1].append(_turned(after, here))
    return parts


def cut_area(corners: Sequence[tuple[float, float]]) -> list[list[tuple[float, float]]]:
    """The rings of latitude and longitude [rad] that make up an area, each against the clock and not closed.

    corners : latitude and longitude [rad], in order round the area, either way. Raises PoleInsideError.
    """
    ring = [(corners[0][1], corners[0][0])]
    for latitude, longitude in corners[1:]:
        ring.append((ring[-1][0] + wrap(longitude - ring[-1][0]), latitude))
    if abs(ring[-1][0] + wrap(corners[0][1] - ring[-1][0]) - ring[0][0]) > 1e-9:
        raise PoleInsideError("The sea room goes round a pole; it cannot be drawn by latitude and longitude.")
    if _area(ring) < 0.0:
        ring.reverse()
    middle = [piece for part in _side(ring, math.pi, -1.0) for piece in _side(part, -math.pi, 1.0)]
    pieces = [(piece, 0.0) for piece in middle]
    pieces += [(piece, -math.tau) for piece in _side(ring, math.pi, 1.0)]
    pieces += [(piece, math.tau) for piece in _side(ring, -math.pi, -1.0)]
    return [[(latitude, longitude + shift) for longitude, latitude in piece] for piece, shift in pieces]


def _cut(fixes: Sequence[Fix]) -> Iterator[tuple[Fix, Fix]]:
    """The steps of a line with longitudes counted on, each step that crosses in two."""
    counted = fixes[0].longitude
    for before, after in pairwise(fixes):
        onward = counted + wrap(after.longitude - before.longitude)
        start, end = _moved(before, counted), _moved(after, onward)
        low, high = min(counted, onward), max(counted, onward)
        edge = math.tau * math.floor((high + math.pi) / math.tau) - math.pi
        if low < edge < high:
            crossing = _between(start, end, (edge - counted) / (onward - counted), edge)
            yield start, crossing
            yield crossing, end
        else:
            yield start, end
        counted = onward


def _moved(fix: Fix, longitude: float) -> Fix:
    return Fix(fix.instant, fix.latitude, longitude, fix.height)


def _turned(fix: Fix, turns: int) -> Fix:
    return _moved(fix, fix.longitude - math.tau * turns)


def _between(before: Fix, after: Fix, part: float, longitude: float) -> Fix:
    height = None
    if before.height is not None and after.height is not None:
        height = before.height + part * (after.height - before.height)
    instant = before.instant + part * (after.instant - before.instant)
    return Fix(instant, before.latitude + part * (after.latitude - before.latitude), longitude, height)


def _area(ring: Sequence[Corner]) -> float:
    """Twice the area, positive against the clock; longitude to the right, latitude up."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))


def _side(ring: Sequence[Corner], edge: float, side: float) -> list[list[Corner]]:
    """The parts of a ring west (side -1) or east (+1) of a meridian, in the same sense."""

    def kept(i: int) -> bool:
        return (ring[i % len(ring)][0] - edge) * side > 0.0

    entries = [i for i in range(len(ring)) if kept(i) and not kept(i - 1)]
    if not entries:
        return [list(ring)] if kept(0) else []
    chains: list[list[Corner]] = []
    for entry in entries:
        chain, i = [_crossing(ring[entry - 1], ring[entry], edge)], entry
        while kept(i):
            chain.append(ring[i % len(ring)])
            i += 1
        chains.append([*chain, _crossing(ring[(i - 1) % len(ring)], ring[i % len(ring)], edge)])
    return _joined(chains)


def _joined(chains: list[list[Corner]]) -> list[list[Corner]]:
    """Rings of chains that begin and end on one meridian."""
    out = sorted(range(len(chains)), key=lambda i: chains[i][-1][1])
    into = sorted(range(len(chains)), key=lambda i: chains[i][0][1])
    following = dict(zip(out, into, strict=True))
    rings: list[list[Corner]] = []
    while following:
        i = next(iter(following))
        ring: list[Corner] = []
        while i in following:
            ring += chains[i]
            i = following.pop(i)
        ring = [corner for n, corner in enumerate(ring) if corner != ring[n - 1]]
        if len(ring) > 2:
            rings.append(ring)
    return rings


def _crossing(one: Corner, other: Corner, edge: float) -> Corner:
    part = (edge - one[0]) / (other[0] - one[0])
    return edge, one[1] + part * (other[1] - one[1])
