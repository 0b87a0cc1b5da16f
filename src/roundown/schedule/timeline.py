"""The day in order: what happens when, where the ship then is, and how light it is.

*Method:* sun and moon over the ship's own place at each moment (environment/light.py).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from roundown.environment.light import Darkness
from roundown.figures import figure
from roundown.quantities import ANGLE, CLOCK_TIME, RATIO, SHIP_SPEED, TRUE_DIRECTION
from roundown.schedule.clock import ShipClock, SimulatorSun, skies_at

_ALL = ("place.*", "ship.*", "event.*", "doctrine.*", "weather.*", "company.*", "type.*", "simulator.*")
_TRACK = "the ship's track of the day (ship/day_track.py)"
_SKY = "JPL ephemeris at the ship's place (environment/light.py), the sun by the simulator's times where it has some"


class Sort(StrEnum):
    """What a moment belongs to."""

    SHIP = "ship"
    LAUNCH = "launch"
    FLIGHT = "flight"
    RECOVERY = "recovery"
    SKY = "sky"


@dataclass(frozen=True)
class Happening:
    """key : unique among those of a day; time [s after midnight]; what : in words; event : its name, "" for none.

    begins : the light that begins with it, which it is told by; None where it is no edge of light
    """

    key: str
    time: float
    sort: Sort
    what: str
    event: str = ""
    begins: Darkness | None = None


@dataclass(frozen=True, kw_only=True)
class Moment:
    """A line of the timeline.

    what : in words; event : its name, "" for none; darkness : how dark the sun leaves it
    latitude, longitude : of the guide [rad]
    """

    sort: Sort
    what: str
    event: str
    darkness: Darkness
    latitude: float
    longitude: float
    time: float = figure(CLOCK_TIME, "time by the ship's clock", "the plan, and the ship's turns", _ALL)
    course: float = figure(TRUE_DIRECTION, "ship's course then, true", _TRACK, _ALL)
    speed: float = figure(SHIP_SPEED, "ship's speed then", _TRACK, _ALL)
    sun_altitude: float = figure(ANGLE, "altitude of the sun's centre, without refraction", _SKY, _ALL)
    moon_altitude: float = figure(ANGLE, "altitude of the moon's centre, without refraction", _SKY, _ALL)
    moon_lit: float = figure(RATIO, "lit part of the moon's disc", _SKY, _ALL)


Ship = Callable[[float], tuple[float, float, float, float]]


def timeline(happenings: Sequence[Happening], ship: Ship, clock: ShipClock, sun: SimulatorSun) -> Mapping[str, Moment]:
    """The moments in order of time, by their keys.

    ship : latitude, longitude, course [rad] and speed [m/s] of the guide at a time by the clock [s after midnight]
    sun : the simulator's, which counts in the cockpit; the moon is the true one
    """
    ordered = sorted(happenings, key=lambda happening: happening.time)
    places = [ship(happening.time) for happening in ordered]
    where = [place[0] for place in places], [place[1] for place in places]
    skies = skies_at([happening.time for happening in ordered], *where, clock)
    suns = skies_at([sun.true_time(happening.time) for happening in ordered], *where, clock) if sun.shown else skies
    return {
        happening.key: Moment(
            sort=happening.sort,
            what=happening.what,
            event=happening.event,
            darkness=lit.darkness if happening.begins is None else happening.begins,
            latitude=latitude,
            longitude=longitude,
            time=happening.time,
            course=course,
            speed=speed,
            sun_altitude=lit.sun_altitude,
            moon_altitude=sky.moon_altitude,
            moon_lit=sky.moon_lit,
        )
        for happening, (latitude, longitude, course, speed), sky, lit in zip(ordered, places, skies, suns, strict=True)
    }
