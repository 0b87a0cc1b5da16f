"""What of his own aeroplane stands in a pilot's way: the nose and the wings, as outlines in body axes about his eye.

*Method:* the front of the nose is round, its top where the type says the view over the nose ends; from its sides the
hood comes back to the sides of the cockpit (own proportions, no source: 1.5 ft below the eye, 0.6 of the nose's width
apart). A wing has straight edges; its root is at the side of the fuselage, as wide as the nose.
*Holds for:* a round-nosed aeroplane with one engine ahead of the pilot. Struts of the windscreen and the propeller hide
more, now and then.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from roundown.motion.frames import Floats
from roundown.quantities import FOOT
from roundown.sight.facts import Cockpit

SILL = 1.5 * FOOT  # sides of the cockpit below the eye; own rule
COCKPIT_PART = 0.6  # of the nose's width, the cockpit across; own rule
HOOD_PART = 0.2  # of the nose's length ahead of the eye, where the hood meets the sides of the cockpit; own rule
BESIDE = 0.01  # m ahead of the eye, how far back the sides are followed: beneath them nothing is seen
ARC = 16  # parts the round of the nose is drawn in


def nose(cockpit: Cockpit) -> Floats:
    """Outline of the nose, (n, 3) [m], from the starboard side of the cockpit over the top to the port side."""
    radius, front = 0.5 * cockpit.nose_width, cockpit.nose_length
    middle = -front * math.tan(cockpit.over_nose) - radius
    sill = max(-SILL, middle)
    turns = [math.pi * i / ARC for i in range(ARC + 1)]
    over = [(front, -radius * math.cos(turn), middle + radius * math.sin(turn)) for turn in turns]
    hood = HOOD_PART * front
    half = COCKPIT_PART * radius
    back = [(hood, half, sill), (BESIDE, half, sill), (BESIDE, -half, sill), (hood, -half, sill)]
    return np.array([*over, *back])


def nose_edge(cockpit: Cockpit) -> float:
    """Azimuth of the side of the nose's front, where it is widest, off the datum to either side [rad]."""
    return math.atan2(0.5 * cockpit.nose_width, cockpit.nose_length)


def leading_edge(cockpit: Cockpit, side: int) -> Floats:
    """Leading edge from root to tip, (2, 3) [m]. side : +1 the port wing, -1 the starboard one."""
    root, tip = 0.5 * cockpit.nose_width, 0.5 * cockpit.span
    rise = math.tan(cockpit.dihedral) * (tip - root)
    return np.array(
        [
            (cockpit.wing_ahead, side * root, -cockpit.wing_below),
            (cockpit.tip_ahead, side * tip, rise - cockpit.wing_below),
        ]
    )


def wing(cockpit: Cockpit, side: int) -> Floats:
    """Outline of a wing, (4, 3) [m]: leading edge from root to tip, trailing edge back. side : as leading_edge."""
    root, tip = leading_edge(cockpit, side)
    return np.array([root, tip, tip - (cockpit.tip_chord, 0.0, 0.0), root - (cockpit.root_chord, 0.0, 0.0)])


def outlines(cockpit: Cockpit) -> dict[str, Floats]:
    """Everything that hides, by name, in the order it is drawn."""
    return {"port wing": wing(cockpit, 1), "starboard wing": wing(cockpit, -1), "nose": nose(cockpit)}


def clear_of(directions: Floats, outline: Floats) -> Floats:
    """Least angle from directions to an outline, (n,) [rad]; negative for what the outline hides.

    directions : (n, 3), in body axes, of any length; outline : corners (m, 3)
    *Method:* angle from a direction to each great-circle arc of the outline; hidden is what the outline goes round.
    """
    seen = directions / np.linalg.norm(directions, axis=-1, keepdims=True)
    corners = outline / np.linalg.norm(outline, axis=-1, keepdims=True)
    starts, ends = corners, np.roll(corners, -1, axis=0)
    poles = np.cross(starts, ends)
    poles /= np.linalg.norm(poles, axis=-1, keepdims=True)
    off_arc = np.abs(np.arcsin(np.clip(seen @ poles.T, -1.0, 1.0)))
    beside = (seen @ np.cross(poles, starts).T > 0.0) & (seen @ np.cross(ends, poles).T > 0.0)
    off_corner = np.arccos(np.clip(seen @ corners.T, -1.0, 1.0))
    least = np.minimum(np.where(beside, off_arc, np.pi).min(axis=1), off_corner.min(axis=1))
    signed: Floats = np.where(_gone_round(seen, corners), -least, least)
    return signed


def _gone_round(seen: Floats, corners: Floats) -> npt.NDArray[np.bool_]:
    """Whether an outline goes round each direction, and not round the opposite one, (n,)."""
    across = np.cross(seen, np.where(np.abs(seen[:, 2:]) < 0.9, (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)))
    across /= np.linalg.norm(across, axis=-1, keepdims=True)
    along = np.cross(across, seen)
    turns = np.arctan2(along @ corners.T, across @ corners.T)
    steps = np.remainder(np.roll(turns, -1, axis=1) - turns + np.pi, 2.0 * np.pi) - np.pi
    round_it = np.abs(steps.sum(axis=1)) > np.pi
    found: npt.NDArray[np.bool_] = round_it & (seen @ corners.mean(axis=0) > 0.0)
    return found
