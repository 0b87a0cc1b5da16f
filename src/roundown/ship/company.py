"""The ships in company: where they stand, and whether one stands in another's landing circle.

*Method:* ships keep their true bearing and distance from the guide when all turn together, so a station given off the
bow on the base course lies elsewhere off the bow on the flight course; a plane guard keeps her station off the bow
of the carrier she guards. *Holds for:* the time between turns; ships of unequal turning circles regain station on their
own.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from roundown.figures import figure
from roundown.motion.frames import wrap
from roundown.quantities import DISTANCE, OFF_BOW, TRUE_DIRECTION, YARD

ROOM = 500.0 * YARD  # m, kept clear round a landing circle; own rule, no source
_BY = ("company.*", "ship.base_course", "flight.course")


@dataclass(frozen=True)
class StationFacts:
    """name; bearing : off the guide's bow on base course [rad]; distance [m]; guards : carrier, "" for none.

    For a plane guard bearing and distance are from the carrier she guards, off her bow on the flight course.
    """

    name: str
    bearing: float
    distance: float
    guards: str


@dataclass(frozen=True, kw_only=True)
class Station:
    """Where a ship stands from the guide. east, north : of the guide while flying [m]."""

    east: float
    north: float
    bearing: float = figure(TRUE_DIRECTION, "bearing from the guide while flying, true", "kept in the turn", _BY)
    distance: float = figure(DISTANCE, "distance from the guide while flying", "kept in the turn", _BY)
    off_bow: float = figure(OFF_BOW, "the same off the guide's bow on the flight course", "true less course", _BY)


@dataclass(frozen=True)
class Circle:
    """How far a landing circle reaches from the ramp: ahead and astern, to port and to starboard [m]."""

    ahead: float
    astern: float
    port: float
    starboard: float


def stations(
    facts: Sequence[StationFacts], base_course: float, flight_course: float, guide: str
) -> Mapping[str, Station]:
    """The station of each ship while flying, by her name. Courses true [rad]; guide : her name."""
    places: dict[str, tuple[float, float]] = {guide: (0.0, 0.0)}
    found: dict[str, Station] = {}
    for ship in sorted(facts, key=lambda ship: bool(ship.guards)):
        start = places.get(ship.guards, (0.0, 0.0))
        bearing = ship.bearing + (flight_course if ship.guards else base_course)
        east = start[0] + ship.distance * math.sin(bearing)
        north = start[1] + ship.distance * math.cos(bearing)
        places[ship.name] = (east, north)
        true = math.atan2(east, north) % math.tau
        found[ship.name] = Station(
            east=east,
            north=north,
            bearing=true,
            distance=math.hypot(east, north),
            off_bow=wrap(true - flight_course),
        )
    return {ship.name: found[ship.name] for ship in facts}


def stands_in(circle: Circle, east: float, north: float, course: float) -> bool:
    """Whether a place east and north of a carrier [m] is in her landing circle or within ROOM of it.

    course : the flight course, true [rad]
    """
    ahead = east * math.sin(course) + north * math.cos(course)
    port = north * math.sin(course) - east * math.cos(course)
    return -circle.astern - ROOM < ahead < circle.ahead + ROOM and -circle.starboard - ROOM < port < circle.port + ROOM
