"""Perspective: from the ship frame to the axes of an eye, cut to the field of view, onto an image plane.

*Frames*, all right-handed, all (forward, to port, up): the ship frame, x ahead of the ramp, y to port, z over the deck;
body axes, along the fuselage's datum; view axes, along the direction an eye looks. Heading clockwise from the ship's
course, pitch nose up positive, bank to starboard positive; a head turns to starboard positive, then up positive.
The image plane lies one unit ahead of the eye, x to the right and y up: what is at (forward, port, up) in view axes is
at (-port / forward, up / forward).

*Method:* rotations in the order heading, pitch, bank (any text on flight mechanics); polygons are cut to the field of
view in space, before they are projected (I. E. Sutherland and G. W. Hodgman, Communications of the ACM 17, 1974).
*Holds for:* convex polygons, and others whose cut remains one piece; the cut is made with planes through the eye and
with one plane a little ahead of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from roundown.motion.frames import Floats

NEAR = 0.1  # m ahead of the eye, nearer than which nothing is drawn


def axes(heading: float | Floats, pitch: float | Floats, bank: float | Floats) -> Floats:
    """Unit vectors forward, to port and up of a body, as rows in the frame its angles are measured in.

    heading : clockwise; pitch : up; bank : to starboard [rad], numbers or arrays of one shape (...)
    Returns (..., 3, 3): with a vector v of the outer frame, axes @ v are its components in body axes.
    """
    heading, pitch, bank = np.broadcast_arrays(*(np.asarray(each, dtype=float) for each in (heading, pitch, bank)))
    sine, cosine = np.sin(heading), np.cos(heading)
    forward = np.stack([np.cos(pitch) * cosine, -np.cos(pitch) * sine, np.sin(pitch)], axis=-1)
    port = np.stack([sine, cosine, np.zeros_like(sine)], axis=-1)
    up = np.cross(forward, port)
    over, across = np.cos(bank)[..., None], np.sin(bank)[..., None]
    return np.stack([forward, over * port + across * up, over * up - across * port], axis=-2)


def angles_of(body: Floats) -> tuple[Floats, Floats, Floats]:
    """Heading, pitch and bank [rad] of body axes (..., 3, 3), the reverse of `axes`. Heading and bank in (-pi, pi]."""
    forward, port, up = body[..., 0, :], body[..., 1, :], body[..., 2, :]
    heading = np.arctan2(-forward[..., 1], forward[..., 0])
    pitch = np.arctan2(forward[..., 2], np.hypot(forward[..., 0], forward[..., 1]))
    return heading, pitch, np.arctan2(port[..., 2], up[..., 2])


def bearing(directions: Floats) -> tuple[Floats, Floats]:
    """Azimuth, to starboard positive in (-pi, pi], and elevation [rad] of directions (..., 3) in any of the frames."""
    azimuth = np.arctan2(-directions[..., 1], directions[..., 0])
    return azimuth, np.arctan2(directions[..., 2], np.hypot(directions[..., 0], directions[..., 1]))


@dataclass(frozen=True)
class Look:
    """Where an eye looks and how much it takes in.

    azimuth : of the head from the fuselage's datum, to starboard positive; elevation : up positive [rad]
    width : of the field of view [rad]; ratio : height of the picture to its width
    """

    azimuth: float
    elevation: float
    width: float
    ratio: float

    @property
    def half(self) -> tuple[float, float]:
        """Half the picture, across and upward, in units of the image plane."""
        across = math.tan(0.5 * self.width)
        return across, across * self.ratio

    @property
    def turned(self) -> Floats:
        """View axes as rows in body axes, (3, 3)."""
        return axes(self.azimuth, self.elevation, 0.0)

    @property
    def planes(self) -> Floats:
        """The field of view as (5, 4): normal and offset of each plane; what is seen has normal @ v >= offset."""
        across, upward = self.half
        return np.array(
            [
                (1.0, 0.0, 0.0, NEAR), (across, 1.0, 0.0, 0.0), (across, -1.0, 0.0, 0.0),
                (upward, 0.0, 1.0, 0.0), (upward, 0.0, -1.0, 0.0),
            ]
        )  # fmt: skip


def cut(corners: Floats, planes: Floats) -> Floats:
    """What is left of a polygon (n, 3) on the inner side of planes (m, 4), (k, 3); k is 0 where nothing is."""
    for plane in planes:
        if len(corners) == 0:
            break
        depth = corners @ plane[:3] - plane[3]
        kept: list[Floats] = []
        for i in range(len(corners)):
            here, before = depth[i], depth[i - 1]
            if (here >= 0.0) != (before >= 0.0):
                part = before / (before - here)
                kept.append(corners[i - 1] + part * (corners[i] - corners[i - 1]))
            if here >= 0.0:
                kept.append(corners[i])
        corners = np.array(kept).reshape(-1, 3)
    return corners


def cut_line(points: Floats, planes: Floats) -> list[Floats]:
    """What is left of a line through points (n, 3) on the inner side of planes (m, 4): pieces of two or more points."""
    pieces: list[list[Floats]] = []
    for start, end in pairwise(points):
        first, last = 0.0, 1.0
        for plane in planes:
            a, b = float(start @ plane[:3] - plane[3]), float(end @ plane[:3] - plane[3])
            if a < 0.0 and b < 0.0:
                last = -1.0
            elif a < 0.0:
                first = max(first, a / (a - b))
            elif b < 0.0:
                last = min(last, a / (a - b))
        if first >= last:
            continue
        ends = [start + part * (end - start) for part in (first, last)]
        if pieces and first == 0.0 and np.array_equal(pieces[-1][-1], ends[0]):
            pieces[-1].append(ends[1])
        else:
            pieces.append(ends)
    return [np.array(piece) for piece in pieces]


def on_image(points: Floats) -> Floats:
    """Points in view axes (n, 3), all ahead of the eye, on the image plane (n, 2): to the right and up."""
    return np.column_stack([-points[:, 1] / points[:, 0], points[:, 2] / points[:, 0]])
