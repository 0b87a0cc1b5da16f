"""How far apart two outlines on deck stand, and how far ahead of another one must stand to be clear of it.

An outline is one or more convex polygons about the main wheels, x ahead and y to port, corners counter-clockwise.

*Method:* the places at which one convex polygon meets another are the Minkowski sum of the other and of the first
turned half round; a clearance rounds that sum off with a disc (M. de Berg and others, Computational Geometry, 3rd ed.,
2008, sections 13.2 and 13.3).
*Holds for:* outlines that keep their heading while they are moved. Where an outline has several parts, the places
between two of the forbidden stretches are forbidden too: nobody is threaded through a gap.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import product

import numpy as np

from roundown.motion.frames import Floats

Outline = tuple[Floats, ...]
FLAT = 1e-12  # m, an edge that runs along the deck


def hull(points: Iterable[Sequence[float]]) -> Floats:
    """The convex hull of points, (n, 2), counter-clockwise (Andrew's chain, 1979)."""
    there = sorted({(float(x), float(y)) for x, y in points})

    def half(some: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
        kept: list[tuple[float, float]] = []
        for point in some:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], point) <= 0.0:
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return np.array(half(there) + half(reversed(there)))


def _turn(one: tuple[float, float], two: tuple[float, float], three: tuple[float, float]) -> float:
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])


def standing(outline: Outline, ahead: float, port: float, heading: float = 0.0) -> Outline:
    """An outline put on deck. ahead, port : of its wheels [m]; heading : of its nose off the bow, starboard + [rad]."""
    sine, cosine = math.sin(heading), math.cos(heading)
    turn = np.array([[cosine, -sine], [sine, cosine]])
    return tuple(part @ turn + (ahead, port) for part in outline)


def distance(one: Outline, other: Outline) -> float:
    """Distance between two outlines [m]; 0 where they touch or overlap."""
    return min(_between(a, b) for a, b in product(one, other))


def _between(a: Floats, b: Floats) -> float:
    sides = _differences(b, a)
    along = np.roll(sides, -1, axis=0) - sides
    if np.all(along[:, 0] * -sides[:, 1] - along[:, 1] * -sides[:, 0] >= 0.0):
        return 0.0  # the origin lies within: they meet
    part = np.clip(-np.sum(sides * along, axis=1) / np.sum(along * along, axis=1), 0.0, 1.0)
    return float(np.hypot(*(sides + part[:, None] * along).T).min())


def _differences(back: Floats, front: Floats) -> Floats:
    """The places of `front` relative to `back` at which they meet: a convex polygon."""
    return hull((back[:, None, :] - front[None, :, :]).reshape(-1, 2))


def forbidden(front: Outline, back: Outline, clearance: float, across: Floats) -> tuple[Floats, Floats]:
    """How far ahead of `back` the wheels of `front` may not stand.

    clearance : kept between the two [m]; across : of front's wheels to port of back's, (n,) [m]
    Returns the ends of the open stretch that is forbidden, (n,) each [m]; where nothing is, inf and -inf.
    """
    low, high = np.full(across.shape, math.inf), np.full(across.shape, -math.inf)
    for one, other in product(front, back):
        corners = _differences(other, one)
        after, fore = _rounded(corners, clearance, across)
        low, high = np.minimum(low, after), np.maximum(high, fore)
    return low, high


def _rounded(corners: Floats, clearance: float, across: Floats) -> tuple[Floats, Floats]:
    """Least and greatest x of a convex polygon rounded off by a disc, at each y of `across`."""
    off = across[:, None] - corners[None, :, 1]
    within = np.abs(off) <= clearance
    reach = np.sqrt(np.where(within, clearance**2 - off**2, 0.0))
    low = np.where(within, corners[:, 0] - reach, math.inf).min(axis=1)
    high = np.where(within, corners[:, 0] + reach, -math.inf).max(axis=1)
    along = np.roll(corners, -1, axis=0) - corners
    normal = np.column_stack((along[:, 1], -along[:, 0])) / np.hypot(*along.T)[:, None]
    start = corners + clearance * normal
    sloped = np.abs(along[:, 1]) > FLAT
    part = (across[:, None] - start[None, sloped, 1]) / along[sloped, 1]
    place = start[sloped, 0] + part * along[sloped, 0]
    on = (part >= 0.0) & (part <= 1.0)
    low = np.minimum(low, np.where(on, place, math.inf).min(axis=1))
    return low, np.maximum(high, np.where(on, place, -math.inf).max(axis=1))
