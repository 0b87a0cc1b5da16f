"""Deck loads for the spot's tests, and a check of clearances that shares nothing with the code."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, pairwise, product

from roundown.launch.apart import Outline
from roundown.launch.deck_plan import Deck, island
from roundown.launch.footprint import Footprint, footprint
from roundown.launch.spot import Parked, SpotRules, Spotting

FT = 0.3048
Corner = tuple[float, float]
Shape = list[Corner]

SMALL = footprint(9.2, 11.2, 5.0, 22.0, 3.2)
MIDDLE = footprint(9.7, 12.5, 5.2, 28.0, 4.0)
LARGE = footprint(12.3, 15.8, 6.3, 42.0, 4.1, length_folded=12.6)
SIZES = (SMALL, MIDDLE, LARGE)
DECK = Deck(250.0, 28.0, 25.0, 200.0, keep_outs=(island(130.0, 40.0, 4.0, 28.0),))
SHORT = Deck(60.0, 14.0, 12.0, 50.0, edge=0.5, round_down=2.0)


def load_of(*sizes: Footprint) -> list[Parked]:
    """A deck load in launch order."""
    return [Parked(f"no {i}", size) for i, size in enumerate(sizes, 1)]


def shapes(parts: Outline, ahead: float, port: float, heading: float = 0.0) -> list[Shape]:
    """Outlines put on deck, worked in plain numbers: a nose off to starboard turns clockwise seen from above."""
    sine, cosine = math.sin(heading), math.cos(heading)
    return [[(ahead + x * cosine + y * sine, port - x * sine + y * cosine) for x, y in part.tolist()] for part in parts]


def overlap(one: Shape, other: Shape) -> bool:
    """Separating axes: two convex shapes overlap unless an edge of one parts them."""
    for shape in (one, other):
        for (x0, y0), (x1, y1) in pairwise([*shape, shape[0]]):
            across = (y0 - y1, x1 - x0)
            first = [x * across[0] + y * across[1] for x, y in one]
            second = [x * across[0] + y * across[1] for x, y in other]
            if max(first) <= min(second) or max(second) <= min(first):
                return False
    return True


def gap(one: Shape, other: Shape) -> float:
    """Distance of two convex shapes: corner to edge, either way [m]; 0 where they overlap."""
    if overlap(one, other):
        return 0.0
    ways = ((one, other), (other, one))
    return min(_to_edge(corner, *edge) for a, b in ways for corner in a for edge in pairwise([*b, b[0]]))


def _to_edge(point: Corner, start: Corner, end: Corner) -> float:
    along = (end[0] - start[0], end[1] - start[1])
    square = along[0] ** 2 + along[1] ** 2
    part = min(1.0, max(0.0, ((point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]) / square))
    return math.hypot(point[0] - start[0] - part * along[0], point[1] - start[1] - part * along[1])


def clear_by(one: Sequence[Shape], other: Sequence[Shape]) -> float:
    """Distance of two outlines of several parts [m]."""
    return min(gap(a, b) for a, b in product(one, other))


def assert_sound(spotting: Spotting, load: Sequence[Parked], deck: Deck, rules: SpotRules) -> None:
    """Order, clearances, wheels and launch places of a spotting, by the independent check."""
    sizes = {parked.key: parked.footprint for parked in load}
    places = spotting.places
    keep_outs = [shapes(each.outline, 0.0, 0.0) for each in deck.keep_outs]
    parked = {key: shapes(sizes[key].folded, at.ahead, at.port, at.heading) for key, at in places.items()}
    assert list(places) == [each.key for each in load if each.key in places]
    for one, other in pairwise(places.values()):
        assert one.ahead >= other.ahead - 1e-6
    for first, second in combinations(parked.values(), 2):
        assert clear_by(first, second) >= rules.clearance - 1e-6
    for i, (key, at) in enumerate(places.items()):
        for each in keep_outs:
            assert clear_by(parked[key], each) >= rules.clearance - 1e-6
        for x, y in sizes[key].wheels:
            assert deck.round_down - 1e-6 <= at.ahead + x <= deck.length - deck.edge + 1e-6
            assert abs(at.port + y) <= deck.half_width(at.ahead + x) - deck.edge + 1e-6
        spread = shapes(sizes[key].spread, at.launch_ahead, spotting.line)
        for still in list(places)[i + 1 :]:
            assert clear_by(spread, parked[still]) >= rules.spread - 1e-6
        for each in keep_outs:
            assert clear_by(spread, each) >= rules.spread - 1e-6
        assert at.launch_ahead >= at.ahead - 1e-9
        assert math.isclose(at.run_left, deck.length - at.launch_ahead)
