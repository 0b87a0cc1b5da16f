"""The ship as flat faces in her own frame: hull, deck, island, mast and platform.

*Method:* own proportions, no source, where the facts do not say: the deck is a slab 10 ft thick with straight sides
that narrow to the bow; below it the hull stands in, narrows towards its ends and is fine at the bow; the island is a
box on the edge of the deck, the mast a slender box out of the middle of it, the platform a ledge outboard of the deck
edge with a screen on its forward side.
*Holds for:* a ship on an even keel. Corners run counter-clockwise as seen from outside.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from roundown.motion.frames import Floats
from roundown.quantities import FOOT
from roundown.sight.facts import ShipOutline

SLAB = 10.0 * FOOT  # of the flight deck and the gallery under it; own rule
MAST_WIDTH = 3.0 * FOOT  # own rule
LEDGE = 6.0 * FOOT  # of the platform, either way; own rule
SCREEN = 6.0 * FOOT  # height of the wind screen beside the platform; own rule
# hull at the waterline, part of the deck's length ahead of the ramp and part of the beam; own rule
WATERLINE = ((0.03, 0.55), (0.16, 0.96), (0.3, 1.0), (0.66, 1.0), (0.84, 0.7), (0.97, 0.06))
STANDS_IN = 0.94  # of the deck's width, the hull where it meets the deck, at most; own rule


@dataclass(frozen=True, eq=False)
class Face:
    """One flat face. part : what it belongs to; corners : (n, 3) in the ship frame [m], read-only."""

    part: str
    corners: Floats

    def __post_init__(self) -> None:
        self.corners.setflags(write=False)

    def faces(self, eye: Floats) -> bool:
        """Whether its outer side is turned to an eye (3,)."""
        middle = self.corners.mean(axis=0)
        return bool(normal(self.corners) @ (eye - middle) > 0.0)


def normal(corners: Floats) -> Floats:
    """Outward normal of corners (n, 3) that run counter-clockwise as seen from outside, its length twice the area."""
    following = np.roll(corners, -1, axis=0)
    found: Floats = np.cross(corners, following).sum(axis=0)
    return found


def deck_edge(ship: ShipOutline) -> list[tuple[float, float]]:
    """Corners of the deck, (ahead, port) [m], counter-clockwise from above, from the starboard corner of the ramp."""
    aft, bow = 0.5 * ship.deck_width, 0.5 * ship.bow_width
    return [
        (0.0, -aft), (ship.narrows_at, -aft), (ship.deck_length, -bow),
        (ship.deck_length, bow), (ship.narrows_at, aft), (0.0, aft),
    ]  # fmt: skip


def ship_faces(ship: ShipOutline) -> tuple[Face, ...]:
    """All faces of the ship."""
    edge = deck_edge(ship)
    slab = [Face("deck side", side) for side in _walls(edge, -SLAB, edge, 0.0)]
    deck = Face("deck", np.array([(x, y, 0.0) for x, y in edge]))
    return (*_hull(ship), *slab, deck, *_island(ship), *_mast(ship), *_platform(ship))


def deck_lines(ship: ShipOutline) -> tuple[Floats, ...]:
    """What is painted on the deck or lies across it: the centre line, then each wire; (2, 3) each [m]."""
    half = 0.5 * ship.deck_width
    wires = [np.array([(x, -0.8 * half, 0.0), (x, 0.8 * half, 0.0)]) for x in ship.wires]
    return np.array([(0.0, 0.0, 0.0), (ship.deck_length, 0.0, 0.0)]), *wires


def points_of(ship: ShipOutline, hand: int) -> dict[str, Floats]:
    """Points people speak of, (3,) each [m]. hand : -1 left-hand circuit, whose side of the ship is the port side."""
    side = -float(hand)
    found = {
        "ramp": (0.0, 0.0, 0.0),
        "stern": (0.0, side * 0.5 * ship.deck_width, 0.0),
        "bow": (ship.deck_length, 0.0, 0.0),
        "island": (ship.island_place, island_middle(ship), ship.island_height),
        "masthead": (ship.island_place, island_middle(ship), ship.mast_height),
    }
    if ship.wires:
        found["first wire"] = (ship.wires[0], 0.0, 0.0)
    return {name: np.array(place) for name, place in found.items()}


def island_middle(ship: ShipOutline) -> float:
    """Middle of the island, to port of the centre line [m]."""
    return ship.island_side * 0.5 * (ship.deck_width - ship.island_width)


def _hull(ship: ShipOutline) -> list[Face]:
    stations = [(part * ship.deck_length, 0.5 * share * ship.beam) for part, share in WATERLINE]
    starboard = [(x, -half) for x, half in stations]
    low = [*starboard, *((x, half) for x, half in reversed(stations))]
    high = [_under_deck(x, half, ship) for x, half in stations]
    top = [*((x, -half) for x, half in high), *((x, half) for x, half in reversed(high))]
    return [Face("hull", side) for side in _walls(low, -ship.deck_height, top, -min(SLAB, ship.deck_height))]


def _under_deck(ahead: float, half: float, ship: ShipOutline) -> tuple[float, float]:
    """Where the side of the hull meets the deck above a place at the waterline: flared, but within the deck."""
    deck = np.interp(ahead, (ship.narrows_at, ship.deck_length), (0.5 * ship.deck_width, 0.5 * ship.bow_width))
    fine = np.interp(ahead, (0.84 * ship.deck_length, ship.deck_length), (1.0, 0.75))
    return ahead, float(min(max(half, 0.5 * ship.beam), STANDS_IN * deck) * fine)


def _walls(
    low: Sequence[tuple[float, float]], low_height: float, high: Sequence[tuple[float, float]], high_height: float
) -> list[Floats]:
    """Faces between two outlines of the same count, counter-clockwise from above, at two heights."""
    below = [(x, y, low_height) for x, y in [*low, low[0]]]
    above = [(x, y, high_height) for x, y in [*high, high[0]]]
    return [np.array([a, b, d, c]) for (a, b), (c, d) in zip(pairwise(below), pairwise(above), strict=True)]


def _box(part: str, middle: tuple[float, float], size: tuple[float, float], foot: float, top: float) -> list[Face]:
    """A box without a floor. middle, size : along and across [m]."""
    (x, y), (long, wide) = middle, (0.5 * size[0], 0.5 * size[1])
    outline = [(x - long, y - wide), (x + long, y - wide), (x + long, y + wide), (x - long, y + wide)]
    roof = Face(part, np.array([(x, y, top) for x, y in outline]))
    return [*(Face(part, side) for side in _walls(outline, foot, outline, top)), roof]


def _island(ship: ShipOutline) -> list[Face]:
    middle = (ship.island_place, island_middle(ship))
    return _box("island", middle, (ship.island_length, ship.island_width), 0.0, ship.island_height)


def _mast(ship: ShipOutline) -> list[Face]:
    if ship.mast_height <= ship.island_height:
        return []
    middle = (ship.island_place, island_middle(ship))
    return _box("mast", middle, (MAST_WIDTH, MAST_WIDTH), ship.island_height, ship.mast_height)


def _platform(ship: ShipOutline) -> list[Face]:
    """The ledge at the port edge of the deck, and the screen at its forward side, drawn from either side."""
    aft, fore, edge = ship.platform_ahead - 0.5 * LEDGE, ship.platform_ahead + 0.5 * LEDGE, 0.5 * ship.deck_width
    ledge = np.array([(aft, edge, 0.0), (fore, edge, 0.0), (fore, edge + LEDGE, 0.0), (aft, edge + LEDGE, 0.0)])
    screen = np.array(
        [(fore, edge, 0.0), (fore, edge + LEDGE, 0.0), (fore, edge + LEDGE, SCREEN), (fore, edge, SCREEN)]
    )
    return [Face("platform", ledge), Face("platform", screen), Face("platform", screen[::-1].copy())]
