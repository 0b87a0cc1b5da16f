"""What is seen at an instant, as outlines on an image plane: horizon, ship, and what of the own aeroplane hides her.

*Method:* perspective of projection.py over the round sea of horizon_cut.py. Faces turned away are left out; the rest
is in painter's order, what hides after what is hidden: sea, hull, deck, what stands on the deck, own wings, own nose.
*Holds for:* an eye that is not inside the ship; a ship of boxes, whose parts hide one another in that order. For an eye
below the deck the order of deck and island is the other way.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from roundown.errors import NoSolution
from roundown.motion.frames import Floats
from roundown.sight.attitude import Attitudes
from roundown.sight.cockpit import clear_of, outlines
from roundown.sight.facts import SightFacts
from roundown.sight.horizon_cut import REACH, horizon_cut, sight_lines
from roundown.sight.officer import aeroplane_faces, officer_eye
from roundown.sight.projection import Look, bearing, cut, cut_line, on_image
from roundown.sight.wireframe import Face, deck_lines, points_of, ship_faces

WIDTH, RATIO = math.radians(66.0), 0.72  # of a pilot's picture; own choice
TURNS_PAST = math.radians(8.0)  # azimuth of the ramp at which the head is turned half-way to it; own choice
LAST = 60.0  # m from the ramp, within which the head comes back to the nose; own choice
BELOW_RAMP = math.radians(9.0)  # how far below the ramp the middle of the picture is, for nose and wing; own choice
HEAD_STARBOARD, HEAD_PORT = math.radians(30.0), math.radians(110.0)  # furthest the head turns: outward, inward
HEAD_DOWN, HEAD_UP = math.radians(-20.0), math.radians(12.0)
NARROWEST, WIDEST, SPANS = math.radians(4.0), math.radians(60.0), 2.6  # of the officer's picture, in spans seen
ROUND_SEA = np.radians(np.arange(0.0, 360.5, 0.5))


@dataclass(frozen=True, eq=False)
class Shape:
    """One outline to draw. part : what it is of; points : (n, 2) on the image plane; closed : a face, not a line."""

    part: str
    points: Floats
    closed: bool


@dataclass(frozen=True)
class Mark:
    """A point of the ship in a picture. right, up : on the image plane; hidden_by : "" where it is seen."""

    right: float
    up: float
    hidden_by: str


@dataclass(frozen=True, eq=False)
class Picture:
    """What an eye sees. shapes : in the order they are drawn; marks : points of the ship inside the picture, by name.

    horizon : (n, 2), empty where it is not in the picture; eye_height : over the sea [m]
    cut : height over the sea at which the horizon cuts the island [m]; None in a picture away from her
    datum : what the look's azimuth is from, "nose" or "bow"
    """

    datum: str
    look: Look
    horizon: Floats
    shapes: tuple[Shape, ...]
    marks: Mapping[str, Mark]
    eye_height: float
    cut: float | None

    @property
    def half(self) -> tuple[float, float]:
        """Half the picture across and upward, on the image plane."""
        return self.look.half


def look_at_ramp(facts: SightFacts, there: Attitudes) -> tuple[Floats, Floats]:
    """Azimuth and elevation of a head that follows the ramp but keeps nose or wing in view, (n,) each [rad].

    It is turned towards the ramp by the part a / (a + 8 deg) of the ramp's azimuth a, and looks 9 deg below the ramp in
    the cockpit, no further either way than a head goes. Over the last 60 m it comes back to straight ahead.
    """
    eyes = there.eyes(facts.cockpit, facts.ship.deck_height)
    seen = np.einsum("nij,nj->ni", there.body, sight_lines(np.zeros(3), eyes))
    azimuth, elevation = bearing(seen)
    inward = np.remainder(facts.hand * azimuth + 0.5 * math.pi, 2.0 * math.pi) - 0.5 * math.pi
    near = np.clip(np.hypot(eyes[:, 0], eyes[:, 1]) / LAST, 0.0, 1.0)
    turned = near * np.clip(inward, -HEAD_STARBOARD, HEAD_PORT)
    size = np.abs(turned)
    return facts.hand * turned * size / (size + TURNS_PAST), np.clip(elevation - BELOW_RAMP, HEAD_DOWN, HEAD_UP)


def pilots_picture(facts: SightFacts, flown: Attitudes, time: float, look: Look | None = None) -> Picture:
    """What the pilot sees at an instant.

    flown : the attitudes along the flight; time : on its clock [s]; look : where he looks, towards the ramp where None
    Raises NoSolution where there is no attitude: outside the flight, or where the wing does not carry it.
    """
    there = flown.at(time)
    if not np.isfinite(there.pitch[0]):
        raise NoSolution(f"a picture at {time:.1f} s: the way flown has no attitude there")
    if look is None:
        azimuth, elevation = look_at_ramp(facts, there)
        look = Look(float(azimuth[0]), float(elevation[0]), WIDTH, RATIO)
    eye = there.eyes(facts.cockpit, facts.ship.deck_height)[0]
    body = there.body[0]
    own = {name: clear_of(_marks(facts, eye) @ body.T, outline) for name, outline in outlines(facts.cockpit).items()}
    hidden = [next((name for name in reversed(own) if own[name][i] < 0.0), "") for i in range(len(_names(facts)))]
    view = _View(facts, eye, look.turned @ body, look)
    view.sea()
    view.ship(ship_faces(facts.ship))
    for name, outline in outlines(facts.cockpit).items():
        view.face(name, outline @ look.turned.T)
    return view.picture("nose", hidden)


def officers_picture(facts: SightFacts, flown: Attitudes, time: float) -> Picture:
    """What the signal officer sees when he looks at the aeroplane at an instant; as pilots_picture."""
    there = flown.at(time)
    if not np.isfinite(there.pitch[0]):
        raise NoSolution(f"a picture at {time:.1f} s: the way flown has no attitude there")
    eye = officer_eye(facts.ship)
    wheels = np.array([there.ahead[0], there.port[0], there.height[0] - facts.ship.deck_height])
    towards = sight_lines(there.eyes(facts.cockpit, facts.ship.deck_height)[0], eye)
    azimuth, elevation = bearing(towards)
    apart = SPANS * facts.cockpit.span / float(np.linalg.norm(towards))
    look = Look(float(azimuth), float(elevation), min(WIDEST, max(NARROWEST, 2.0 * math.atan(0.5 * apart))), RATIO)
    view = _View(facts, eye, look.turned, look)
    view.sea()
    view.ship(face for face in ship_faces(facts.ship) if face.part != "platform")
    faces = [Face(face.part, face.corners @ there.body[0] + wheels) for face in aeroplane_faces(facts.cockpit)]
    faces.sort(key=lambda face: -float(np.linalg.norm(face.corners - eye, axis=1).mean()))
    for face in faces:
        view.seen(face.part, face.corners)
    return view.picture("bow", [""] * len(_names(facts)))


def _names(facts: SightFacts) -> list[str]:
    return list(points_of(facts.ship, facts.hand))


def _marks(facts: SightFacts, eye: Floats) -> Floats:
    return sight_lines(np.array(list(points_of(facts.ship, facts.hand).values())), eye)


class _View:
    """A picture in the making: shapes gather in the order they are put in."""

    def __init__(self, facts: SightFacts, eye: Floats, to_view: Floats, look: Look) -> None:
        self.facts, self.eye, self.to_view, self.look = facts, eye, to_view, look
        self.shapes: list[Shape] = []
        self.over_sea = float(eye[2]) + facts.ship.deck_height
        self.horizon: Floats = np.empty((0, 2))

    def sea(self) -> None:
        """The sea as far as the horizon, which is the edge of a level disc below the eye."""
        reach = REACH * math.sqrt(self.over_sea)
        ring = np.column_stack([reach * np.cos(ROUND_SEA), -reach * np.sin(ROUND_SEA), 0.0 * ROUND_SEA])
        ring[:, 2] = -2.0 * self.over_sea  # the disc at the dip: its depth over its radius
        turned = ring @ self.to_view.T
        self.face("sea", turned[:-1])
        pieces = cut_line(turned, self.look.planes)
        if pieces:
            joined = pieces[-1:] + pieces[:-1] if np.array_equal(pieces[-1][-1], pieces[0][0]) else pieces
            self.horizon = on_image(np.vstack(joined))

    def ship(self, faces: Iterable[Face]) -> None:
        """The ship's faces that are turned to the eye, and the lines on her deck."""
        over_deck = float(self.eye[2]) > 0.0
        mast_on_top = float(self.eye[2]) > self.facts.ship.island_height
        on_deck = ["platform", "island", "mast"] if mast_on_top else ["platform", "mast", "island"]
        order = ["hull", "deck side", "deck", *on_deck] if over_deck else [*on_deck, "hull", "deck side", "deck"]
        turned_here = [face for face in faces if face.faces(self.eye)]
        for part in order:
            for face in turned_here:
                if face.part == part:
                    self.seen(part, face.corners)
            if part == "deck" and over_deck:
                for line in deck_lines(self.facts.ship):
                    pieces = cut_line(sight_lines(line, self.eye) @ self.to_view.T, self.look.planes)
                    self.shapes += [Shape("deck line", on_image(piece), closed=False) for piece in pieces]

    def seen(self, part: str, corners: Floats) -> None:
        """A face with its corners in the ship frame."""
        self.face(part, sight_lines(corners, self.eye) @ self.to_view.T)

    def face(self, part: str, corners: Floats) -> None:
        """A face with its corners in view axes."""
        left = cut(corners, self.look.planes)
        if len(left) > 2:
            self.shapes.append(Shape(part, on_image(left), closed=True))

    def picture(self, datum: str, hidden: list[str]) -> Picture:
        """The picture. hidden : what hides each point of the ship, in their order."""
        across, upward = self.look.half
        marks = {}
        for name, place, by in zip(
            _names(self.facts), _marks(self.facts, self.eye) @ self.to_view.T, hidden, strict=True
        ):
            if place[0] > 0.0:
                right, up = (float(each) for each in on_image(place[None, :])[0])
                if abs(right) <= across and abs(up) <= upward:
                    marks[name] = Mark(right, up, by)
        ship = self.facts.ship
        off = math.hypot(ship.island_place - float(self.eye[0]), float(self.eye[1]))
        cut_at = horizon_cut(self.over_sea, off) if datum == "nose" else None
        return Picture(datum, self.look, self.horizon, tuple(self.shapes), marks, self.over_sea, cut_at)
