"""How near a wingtip comes to the island or a gun tub along the run.

*Method:* geometry (own derivation). The wheels leave the spot parallel to the centre line; the nose swings out as half
a sine over the place and is back on the centre line's direction where the rudder holds it, and so the track ends up off
to one side by 2 / pi of the swing times that length. Tips stand abreast of the wheels, half a span to either side,
drawn in by the cosine of the swing.

*Holds for:* swings of some degrees; straight-sided obstacles; a wing near the wheels, its chord left out.

Frame: ship's, x ahead of the ramp, y to port of the centre line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from roundown.figures import figure
from roundown.launch.deck_run import RUN_INPUTS
from roundown.quantities import CLEARANCE, LENGTH

SLICE = 0.5  # m of run
_METHOD = "half span against each obstacle along the run, with offset and swing (launch/clearance.py)"
_INPUTS = (*RUN_INPUTS, "type.wing_span", "ship.deck.*", "ship.island_place")


class Side(IntEnum):
    """Side of the centre line; +1 to port."""

    PORT = 1
    STARBOARD = -1


@dataclass(frozen=True)
class Obstacle:
    """Something beside the run: from, to [m ahead of the ramp], side, its near edge off the centre line [m]."""

    name: str
    after: float
    fore: float
    side: Side
    edge: float


@dataclass(frozen=True, kw_only=True)
class Clearance:
    """The nearest pass. least is negative where a tip strikes. past : name of the obstacle."""

    least: float = figure(CLEARANCE, "wingtip from the nearest obstacle, negative where it strikes", _METHOD, _INPUTS)
    place: float = figure(LENGTH, "where that is, ahead of the ramp", _METHOD, _INPUTS)
    past: str


def wingtip_clearance(
    obstacles: Sequence[Obstacle],
    half_span: float,
    spot: float,
    run: float,
    offset: float = 0.0,
    swing: float = 0.0,
    held_after: float = 0.0,
) -> Clearance | None:
    """The nearest pass of a wingtip along a run, or None where nothing stands beside it.

    half_span [m]; spot : of the wheels, ahead of the ramp [m]; run : to the bow [m]
    offset : of the wheels on the spot, to port of the centre line [m]; swing : furthest of the nose, starboard positive
    [rad]; held_after : run after which the rudder has brought it back [m]
    """
    along = np.linspace(0.0, run, max(math.ceil(run / SLICE), 1) + 1)
    part = np.minimum(along / held_after, 1.0) if held_after > 0.0 else np.ones_like(along)
    heading = swing * np.sin(math.pi * part)
    track = offset - (swing * held_after * (1.0 - np.cos(math.pi * part)) / math.pi if held_after > 0.0 else 0.0)
    reach, ahead = half_span * np.cos(heading), spot + along
    nearest: Clearance | None = None
    for obstacle in obstacles:
        beside = (ahead >= obstacle.after - SLICE) & (ahead <= obstacle.fore + SLICE)
        if not beside.any():
            continue
        room = np.where(beside, obstacle.edge - obstacle.side * track - reach, math.inf)
        at = int(room.argmin())
        if nearest is None or room[at] < nearest.least:
            nearest = Clearance(least=float(room[at]), place=float(ahead[at]), past=obstacle.name)
    return nearest
