"""What the signal officer sees from his platform: the aeroplane in the air, and how large.

*Method:* his eye is 5.5 ft over the deck, on a platform at the port edge. The aeroplane is a plain wireframe: a round
nose, a body that tapers to the tail, the wing as the pilot has it (cockpit.py), a tailplane and a fin, legs and wheels
(own proportions, no source: those of launch outlines, tailplane 0.38 of the span, 0.26 of it between the wheels).
*Holds for:* tail-wheel aeroplanes with one engine, wheels down.
"""

from __future__ import annotations

import math

import numpy as np

from roundown.motion.frames import Floats
from roundown.quantities import FOOT
from roundown.sight.attitude import Attitudes
from roundown.sight.cockpit import leading_edge, nose, wing
from roundown.sight.facts import Cockpit, ShipOutline
from roundown.sight.wireframe import LEDGE, Face

EYE = 5.5 * FOOT  # of a man who stands, over the deck; own rule
TAIL_SPAN, TAIL_CHORD, TRACK = 0.38, 0.12, 0.26  # parts of span, length, span; own rule
FIN = 0.14  # height of the fin over the body's end, part of the length; own rule
WHEEL = 1.3 * FOOT  # radius; own rule
SIDES = 10  # of the round nose


def officer_eye(ship: ShipOutline) -> Floats:
    """The signal officer's eye in the ship frame, (3,) [m]."""
    return np.array([ship.platform_ahead, 0.5 * (ship.deck_width + LEDGE), EYE])


def aeroplane_faces(cockpit: Cockpit) -> tuple[Face, ...]:
    """The aeroplane as faces about its main wheels, in body axes: forward, to port, up [m]."""
    eye = np.array([-cockpit.eye_behind, 0.0, cockpit.eye_height])
    outline = nose(cockpit)
    front, radius = float(outline[0, 0]), 0.5 * cockpit.nose_width
    middle = float(outline[0, 2])
    tail = front - cockpit.length
    end = np.array([tail, 0.0, middle + 0.35 * radius])
    ring = [
        np.array([front, radius * math.cos(turn), middle + radius * math.sin(turn)])
        for turn in (2.0 * math.pi * i / SIDES for i in range(SIDES))
    ]
    sides = [np.array([ring[i - 1], ring[i], end]) for i in range(SIDES)]
    faces = [Face("body", side + eye) for side in sides]
    faces += [Face("wing", wing(cockpit, side) + eye) for side in (1, -1)]
    faces.append(Face("canopy", _canopy(radius, middle) + eye))
    faces += _tail(cockpit, end, eye)
    faces += [face for side in (1, -1) for face in _leg(cockpit, side, eye)]
    faces.append(Face("nose", np.array(ring) + eye))
    return tuple(faces)


def span_seen(there: Attitudes, cockpit: Cockpit, ship: ShipOutline) -> Floats:
    """Angle between the wing tips from the officer's platform, (n,) [rad]."""
    tips = [_placed(leading_edge(cockpit, side)[1], there, cockpit, ship) - officer_eye(ship) for side in (1, -1)]
    port, starboard = (tip / np.linalg.norm(tip, axis=-1, keepdims=True) for tip in tips)
    seen: Floats = 2.0 * np.arcsin(np.clip(0.5 * np.linalg.norm(port - starboard, axis=-1), 0.0, 1.0))
    return seen


def _placed(points: Floats, there: Attitudes, cockpit: Cockpit, ship: ShipOutline) -> Floats:
    """Points about the eye in body axes, (3,), in the ship frame at each attitude, (n, 3) [m]."""
    return there.eyes(cockpit, ship.deck_height) + points @ there.body


def _canopy(radius: float, middle: float) -> Floats:
    """The pilot's hood, across the aeroplane at his eye."""
    half, foot = 0.5 * radius, middle + 0.9 * radius
    top = 0.5 * radius
    return np.array([(0.0, -half, foot), (0.0, half, foot), (0.0, 0.7 * half, top), (0.0, -0.7 * half, top)])


def _tail(cockpit: Cockpit, end: Floats, eye: Floats) -> list[Face]:
    half, chord = 0.5 * TAIL_SPAN * cockpit.span, TAIL_CHORD * cockpit.length
    plane = np.array([(chord, half, 0.0), (chord, -half, 0.0), (0.0, -half, 0.0), (0.0, half, 0.0)])
    fin = np.array([(1.4 * chord, 0.0, 0.0), (0.5 * chord, 0.0, FIN * cockpit.length), (0.0, 0.0, 0.0)])
    return [Face("tail", plane + end + eye), Face("tail", fin + end + eye)]


def _leg(cockpit: Cockpit, side: int, eye: Floats) -> list[Face]:
    """A wheel, edge on from ahead, and its leg up to the wing."""
    out = 0.5 * side * TRACK * cockpit.span
    wheel = [
        (WHEEL * math.sin(turn), out, WHEEL * (1.0 - math.cos(turn)))
        for turn in (2.0 * math.pi * i / SIDES for i in range(SIDES))
    ]
    top = float(eye[2]) - cockpit.wing_below
    wide = 0.3 * WHEEL
    leg = [(0.0, out - wide, 0.0), (0.0, out + wide, 0.0), (0.0, out + wide, top), (0.0, out - wide, top)]
    return [Face("leg", np.array(leg)), Face("leg", np.array(wheel))]
