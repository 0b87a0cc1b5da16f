"""Standing outlines on a deck one before another, each as far aft as those behind let it.

*Method:* own; the pieces are placed in their order from aft, each at the column where it comes to stand furthest aft
and never behind the one before, clear of all that stands. Several manners of choosing among columns that are as good
are tried by the caller.
*Holds for:* pieces that keep their heading. Same input, same output.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from roundown.launch.apart import Outline, forbidden
from roundown.motion.frames import Floats
from roundown.quantities import FOOT

Mask = npt.NDArray[np.bool_]
Place = tuple[float, float]  # ahead of the ramp and to port of the centre line [m]
HAIR = 0.15 * FOOT  # m, what places written to a tenth of a foot may be off between two of them
TINY = 1e-9  # m, below which two places are the same


@dataclass(frozen=True, eq=False)
class Piece:
    """Something to stand on deck.

    kind : pieces of one kind have one outline; outline : about its wheels
    low, high : from where to where it may stand, at each column, (n,) [m]; pinned : the place it must have
    """

    kind: str
    outline: Outline
    low: Floats
    high: Floats
    pinned: Place | None = None


@dataclass(frozen=True, eq=False)
class Manner:
    """How to choose a column.

    columns : those that may be used; wish : the least is taken among those as good
    slack : how much further ahead still counts as as good [m]
    """

    columns: Mask
    wish: Floats
    slack: float


@dataclass(frozen=True, eq=False)
class Ground:
    """Pieces from aft to bow, and how they keep clear of one another.

    columns : evenly spaced places to port of the centre line, (n,) [m]
    clear_ahead : by kinds of the one in front and the one behind: how far ahead the one in front must stand, by its
    columns to port of the one behind from -(n - 1) to n - 1, (2 n - 1,) [m]
    blocked : by kind: stretches it may not stand in, at each column
    """

    pieces: tuple[Piece, ...]
    columns: Floats
    clear_ahead: dict[tuple[str, str], Floats]
    blocked: dict[str, list[tuple[Floats, Floats]]]


def ground_for(
    pieces: Sequence[Piece], columns: Floats, obstacles: Sequence[tuple[Outline, float]], clearance: float
) -> Ground:
    """The ground for pieces from aft to bow.

    columns : evenly spaced [m]; obstacles : where they stand, and what is kept from them [m]
    clearance : kept between pieces [m]
    """
    count = len(columns)
    across = (columns[-1] - columns[0]) / max(count - 1, 1) * np.arange(1 - count, count)
    kinds = {piece.kind: piece.outline for piece in pieces if piece.pinned is None}
    ahead = {(a, b): forbidden(kinds[a], kinds[b], clearance, across)[1] for a in kinds for b in kinds}
    blocked = {}
    for kind, outline in kinds.items():
        stretches = [forbidden(outline, each, room, columns) for each, room in obstacles]
        for piece in pieces:
            if piece.pinned is not None:
                low, high = forbidden(outline, piece.outline, clearance, columns - piece.pinned[1])
                stretches.append((low + piece.pinned[0], high + piece.pinned[0]))
        blocked[kind] = stretches
    return Ground(tuple(pieces), columns, ahead, blocked)


def pack(ground: Ground, each_manner: Iterable[Manner]) -> list[Place | None]:
    """Places from aft to bow; None from the first that does not find one. A pinned piece has its place in any case.

    each_manner : how each piece chooses, from aft to bow; as many as there are pieces, or more
    """
    count = len(ground.columns)
    floor = {kind: np.full(count, -math.inf) for kind in ground.blocked}
    caps = _caps(ground.pieces)
    places: list[Place | None] = []
    last, full = -math.inf, False
    for piece, cap, manner in zip(ground.pieces, caps, each_manner, strict=False):
        if piece.pinned is not None or full:
            places.append(piece.pinned)
            last = max(last, piece.pinned[0]) if piece.pinned is not None else last
            continue
        start = np.maximum(np.maximum(piece.low, floor[piece.kind]), last)
        there = settled(start, ground.blocked[piece.kind])
        there = np.where(manner.columns & (there <= np.minimum(piece.high, cap) + TINY), there, math.inf)
        best = float(there.min())
        full = math.isinf(best)
        if full:
            places.append(None)
            continue
        column = int(np.where(there <= best + manner.slack + TINY, manner.wish, math.inf).argmin())
        last = float(there[column])
        places.append((last, float(ground.columns[column])))
        for kind, least in floor.items():
            ahead = ground.clear_ahead[kind, piece.kind][count - 1 - column : 2 * count - 1 - column]
            np.maximum(least, last + ahead, out=least)
    return places


def _caps(pieces: Sequence[Piece]) -> list[float]:
    """How far ahead each may stand at most, so as not to stand before a pinned one that goes first."""
    caps, cap = [], math.inf
    for piece in reversed(pieces):
        caps.append(cap)
        cap = min(cap, piece.pinned[0] + HAIR) if piece.pinned is not None else cap
    return caps[::-1]


def settled(start: Floats, stretches: Sequence[tuple[Floats, Floats]]) -> Floats:
    """The first places at or ahead of `start` that lie in none of the stretches."""
    there = start
    while True:
        moved = there
        for low, high in stretches:
            moved = np.where((moved > low + TINY) & (moved < high - TINY), high, moved)
        if np.array_equal(moved, there):
            return there
        there = moved


def manners(ground: Ground, widest: int = 6) -> Iterator[Manner]:
    """The manners that are tried: anywhere, or in so many files abreast. widest : most files."""
    columns = ground.columns
    everywhere = np.full(columns.shape, fill_value=True)
    wishes = (-np.abs(columns), np.abs(columns), -columns, columns)
    for slack in (0.0, 0.6):
        for wish in wishes:
            yield Manner(everywhere, wish, slack)
    usable = everywhere.copy()
    for piece in ground.pieces:
        usable &= piece.low <= piece.high
    if not usable.any():
        return
    for files in range(2, widest + 1):
        marks = np.linspace(columns[usable][0], columns[usable][-1], files)
        chosen = np.zeros(columns.shape, dtype=bool)
        chosen[[int(np.abs(columns - mark).argmin()) for mark in marks]] = True
        yield Manner(chosen, -np.abs(columns), 0.0)
