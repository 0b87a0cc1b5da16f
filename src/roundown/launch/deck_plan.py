"""The deck that aeroplanes are parked on: its edges, and what stands in the way.

Ship's frame: x ahead of the ramp, y to port of the centre line. Nothing is parked on the round-down.

*Method:* straight sides from the ramp to where the deck narrows, then straight to the bow's width (own simplification).
*Holds for:* wheels, which must stand on deck; noses, tails and folded wings may reach over the edge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.figures import Givens
from roundown.launch.apart import Outline, hull
from roundown.motion.frames import Floats
from roundown.quantities import FOOT

ROUND_DOWN = 15.0 * FOOT  # at the after end, not parked on; own rule, no source
NARROWS_PART = 0.8  # of the length, from where the deck narrows to the bow; own rule, no source
EDGE = 3.0 * FOOT  # kept by wheels from the edge; common practice, no source


@dataclass(frozen=True)
class KeepOut:
    """A rectangle nothing may stand in. name : for people; after, fore, starboard, port : its sides [m]."""

    name: str
    after: float
    fore: float
    starboard: float
    port: float

    @property
    def outline(self) -> Outline:
        """Its corners on deck."""
        return (hull((x, y) for x in (self.after, self.fore) for y in (self.starboard, self.port)),)


@dataclass(frozen=True)
class Deck:
    """The deck [m].

    width : aft; bow_width : at the bow; narrows_at : ahead of the ramp, from where it narrows
    edge : kept by wheels from the edge and from the bow; round_down : its length
    keep_outs : what stands in the way, the island among them
    """

    length: float
    width: float
    bow_width: float
    narrows_at: float
    edge: float = EDGE
    round_down: float = ROUND_DOWN
    keep_outs: tuple[KeepOut, ...] = ()

    def half_width(self, ahead: float) -> float:
        """From the centre line to the edge at a place ahead of the ramp [m]."""
        return float(np.interp(ahead, (self.narrows_at, self.length), (self.width / 2.0, self.bow_width / 2.0)))

    def furthest(self, port: Floats) -> Floats:
        """How far ahead of the ramp a wheel may stand, by its distance from the centre line; -inf where nowhere [m]."""
        aside = np.abs(port) + self.edge
        forward = self.length - self.edge
        taper = (self.width - self.bow_width) / 2.0
        if taper > 0.0:
            part = (self.width / 2.0 - aside) / taper
            there = np.minimum(self.narrows_at + part * (self.length - self.narrows_at), forward)
        else:
            there = np.full(np.shape(aside), forward)
        return np.where(aside <= self.width / 2.0, there, -math.inf)

    def room(self, wheels: Floats, port: Floats) -> tuple[Floats, Floats]:
        """From where to where main wheels may stand so that all wheels are on deck.

        wheels : about the main wheels, (k, 2) [m]; port : of the main wheels, (n,) [m]
        Returns the ends, (n,) each, ahead of the ramp [m]; the first lies ahead of the second where nothing is right.
        """
        ends = np.array([self.furthest(port + y) - x for x, y in wheels])
        return np.full(port.shape, self.round_down - wheels[:, 0].min()), ends.min(axis=0)


def island(place: float, length: float, width: float, deck_width: float, *, to_port: bool = False) -> KeepOut:
    """The island. place : of its middle ahead of the ramp; width : what it takes of the deck's width [m]."""
    inner, outer = deck_width / 2.0 - width, deck_width / 2.0
    sides = (inner, outer) if to_port else (-outer, -inner)
    return KeepOut("island", place - length / 2.0, place + length / 2.0, *sides)


def deck_of(values: Givens, keep_outs: tuple[KeepOut, ...] = ()) -> Deck:
    """The deck of a ship of the catalog. values : by key name, without "ship." before it; keep_outs : further ones.

    A ship that does not give her bow's width is as wide there as aft; one without an island's size has none.
    """
    length, width = values["deck_length"].value, values["deck_width"].value
    bow, edge = values.get("deck.bow_width"), values.get("deck.edge_clearance")
    long, wide, side = values.get("deck.island_length"), values.get("deck.island_width"), values.get("deck.island_side")
    if long is not None and wide is not None:
        to_port = side is not None and side.word == "port"
        keep_outs = (island(values["island_place"].value, long.value, wide.value, width, to_port=to_port), *keep_outs)
    return Deck(
        length=length,
        width=width,
        bow_width=width if bow is None else bow.value,
        narrows_at=NARROWS_PART * length,
        edge=EDGE if edge is None else edge.value,
        keep_outs=keep_outs,
    )
