"""What a page needs to draw the pictures itself, as plain data: ship, cockpit, aeroplane and the way flown.

The formulas that go with it stand in docs/method/sight.md. All lengths in metres, angles in radians, times in seconds
from the break. Frames are (forward, to port, up); see `AXES`.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from roundown.motion.frames import Floats
from roundown.sight.cockpit import nose_edge, outlines
from roundown.sight.horizon_cut import REACH
from roundown.sight.officer import aeroplane_faces, officer_eye
from roundown.sight.projection import NEAR
from roundown.sight.result import SightResult
from roundown.sight.view import NARROWEST, RATIO, SPANS, WIDEST, WIDTH, look_at_ramp
from roundown.sight.wireframe import deck_lines, points_of, ship_faces

AXES = {
    "ship": "x ahead of the ramp, y to port of the centre line, z over the deck",
    "body": "x along the fuselage's datum forward, y to port, z up",
    "heading": "of the datum, clockwise from the ship's course",
    "pitch": "nose up positive",
    "bank": "to starboard positive",
    "azimuth": "of the head from the datum, to starboard positive",
    "elevation": "of the head, up positive",
    "image": "to the right and up, in units of the distance of the image plane",
}
LENGTH_DIGITS, ANGLE_DIGITS, TIME_DIGITS = 3, 5, 3  # millimetres and less than 0.001 deg
EVERY = 0.2  # s, between the instants of the path


def picture_data(result: SightResult) -> dict[str, Any]:
    """The data as a dictionary that json takes. An angle that is not known, where the wing stalls, is None."""
    facts = result.facts
    ship, cockpit = facts.ship, facts.cockpit
    start, end = (float(facts.flight.time[i]) for i in (0, -1))
    there = result.attitudes.at(np.append(np.arange(start, end, EVERY), end))
    azimuth, elevation = look_at_ramp(facts, there)
    begun = facts.gates["break"]
    eye = (-cockpit.eye_behind, 0.0, cockpit.eye_height)
    return {
        "axes": AXES,
        "reach": round(REACH, 3),
        "near": NEAR,
        "hand": facts.hand,
        "deck_height": ship.deck_height,
        "field": {
            "pilot": {"width": WIDTH, "ratio": RATIO},
            "officer": {"spans": SPANS, "narrowest": NARROWEST, "widest": WIDEST, "ratio": RATIO},
        },
        "ship": {
            "faces": [{"part": face.part, "corners": _rows(face.corners)} for face in ship_faces(ship)],
            "lines": [_rows(line) for line in deck_lines(ship)],
            "points": {name: _row(point) for name, point in points_of(ship, facts.hand).items()},
            "island_height": ship.island_height,
            "mast_height": ship.mast_height,
        },
        "cockpit": {
            "eye": list(eye),
            "outlines": [{"part": name, "corners": _rows(outline)} for name, outline in outlines(cockpit).items()],
            "nose_edge": round(nose_edge(cockpit), ANGLE_DIGITS),
        },
        "aeroplane": {
            "span": cockpit.span,
            "faces": [{"part": face.part, "corners": _rows(face.corners)} for face in aeroplane_faces(cockpit)],
        },
        "officer": {"eye": _row(officer_eye(ship))},
        "path": {
            "time": _column(there.time - begun, TIME_DIGITS),
            "ahead": _column(there.ahead, LENGTH_DIGITS),
            "port": _column(there.port, LENGTH_DIGITS),
            "height": _column(there.height, LENGTH_DIGITS),
            "heading": _column(there.heading, ANGLE_DIGITS),
            "pitch": _column(there.pitch, ANGLE_DIGITS),
            "bank": _column(there.bank, ANGLE_DIGITS),
            "look_azimuth": _column(azimuth, ANGLE_DIGITS),
            "look_elevation": _column(elevation, ANGLE_DIGITS),
        },
        "gates": {name: round(time - begun, TIME_DIGITS) for name, time in facts.gates.items()},
    }


def _column(values: Floats, digits: int) -> list[float | None]:
    return [round(float(value), digits) if np.isfinite(value) else None for value in values]


def _row(point: Floats) -> list[float]:
    return [round(float(value), LENGTH_DIGITS) for value in point]


def _rows(points: Floats) -> list[list[float]]:
    return [_row(point) for point in points]
