"""All parked forward, so that the after deck is free to come aboard.

*Method:* the spot's packing from the bow aft, in the order they come aboard: the first stands furthest forward (common
practice, no source). The time is a given taxi time for each, one after another (common practice, no source).
*Holds for:* wings folded, noses to the bow.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import repeat

import numpy as np

from roundown.figures import figure
from roundown.launch.apart import Outline
from roundown.launch.deck_plan import Deck
from roundown.launch.packing import Piece, Place, ground_for, manners, pack
from roundown.launch.spot import Parked, SpotRules
from roundown.quantities import LENGTH, TIME

TAXI = 30.0  # s, from the wires to chocks under the wheels; common practice, no source
_INPUTS = (
    "type.launch.*",
    "type.wing_span",
    "ship.deck_length",
    "ship.deck_width",
    "ship.deck.*",
    "event.*",
    "doctrine.spot.*",
)


@dataclass(frozen=True, kw_only=True)
class Forward:
    """One aeroplane parked forward."""

    ahead: float = figure(LENGTH, "main wheels ahead of the ramp, parked forward", "packed from the bow aft", _INPUTS)
    port: float = figure(
        LENGTH, "the same to port of the centre line, negative to starboard", "packed from the bow aft", _INPUTS
    )


@dataclass(frozen=True, kw_only=True)
class PackedForward:
    """The deck packed forward. places : in the order they come aboard; left_out : those that do not find room."""

    places: Mapping[str, Forward]
    left_out: tuple[str, ...]
    time: float = figure(
        TIME,
        "to park them all forward",
        "a taxi time for each, one after another",
        (
            "event.*",
            "doctrine.spot.*",
        ),
    )
    aft_end: float | None = figure(LENGTH, "after end of the pack, ahead of the ramp", "tail of the aftermost", _INPUTS)


def pack_forward(
    load: Sequence[Parked], deck: Deck, line: float, rules: SpotRules | None = None, taxi: float = TAXI
) -> PackedForward:
    """The load parked forward of a line.

    load : in the order they come aboard; pins are passed over; line : nothing stands aft of it, ahead of the ramp [m]
    taxi : for each [s]
    """
    kept = rules or SpotRules()
    count = math.ceil((deck.width / 2.0 - deck.edge) / kept.step)
    columns = kept.step * np.arange(-count, count + 1, dtype=np.float64)
    pieces, kinds = [], {each: f"{i}" for i, each in enumerate({parked.footprint: None for parked in load})}
    for parked in load:
        low, high = deck.room(parked.footprint.wheels, columns)
        tail = min(float(part[:, 0].min()) for part in parked.footprint.folded)
        least = np.maximum(low, line - tail)
        outline = _mirrored(parked.footprint.folded, 0.0)
        pieces.append(Piece(kinds[parked.footprint], outline, deck.length - high, deck.length - least))
    obstacles = [(_mirrored(each.outline, deck.length), kept.clearance) for each in deck.keep_outs]
    ground = ground_for(pieces, columns, obstacles, kept.clearance)
    best = max((pack(ground, repeat(manner)) for manner in manners(ground)), key=_worth, default=[])
    stood = {
        parked.key: Forward(ahead=deck.length - place[0], port=place[1])
        for parked, place in zip(load, best, strict=True)
        if place is not None
    }
    tails = [
        stood[parked.key].ahead + min(float(part[:, 0].min()) for part in parked.footprint.folded)
        for parked in load
        if parked.key in stood
    ]
    return PackedForward(
        places=stood,
        left_out=tuple(parked.key for parked in load if parked.key not in stood),
        time=taxi * len(stood),
        aft_end=min(tails, default=None),
    )


def _mirrored(outline: Outline, ahead: float) -> Outline:
    """An outline seen with bow and ramp changed about, corners again counter-clockwise."""
    return tuple((part * (-1.0, 1.0) + (ahead, 0.0))[::-1] for part in outline)


def _worth(places: Sequence[Place | None]) -> tuple[int, float, float]:
    there = [place[0] for place in places if place is not None]
    return len(there), round(-max(there, default=0.0), 6), round(-sum(there), 6)
