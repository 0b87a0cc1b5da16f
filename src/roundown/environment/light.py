"""Sun, moon and twilight: when they come at a place and date, and how dark it is at an instant.

*Method:* JPL ephemeris DE421, fitted again into a small file of our own (docs/decisions/0005-light.md), with the
library skyfield for the rest: precession, nutation, light time, and delta-T from the table inside it. Rising and
setting: upper limb on the sea horizon with 34' of refraction, for the sun its centre at -50'; twilights: centre of the
sun at -6, -12 and -18 degrees, without refraction (U.S. Naval Observatory, Rise, Set, and Twilight Definitions).

*Holds for:* 1900 to 2050, times good to a few seconds below 65 degrees of latitude in standard air. Higher up a rising
that grazes the horizon may come minutes off. After 2026 delta-T is a forecast.

Instants are universal time as the earth turns (UT1), held in datetimes marked UTC: that is what clocks of the 1940s
were set to, and it is within a second of today's UTC.

Searches are kept by place, span and limit: a day on the edit asks for the same evening again and again, a search takes
milliseconds, and its answer rests on nothing but those plain numbers and the file of the ephemeris.
"""

from __future__ import annotations

import datetime as dt
import functools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from importlib import resources
from typing import Any

import numpy as np
import numpy.typing as npt

from roundown.environment.horizon import dip
from roundown.quantities import DEGREE

Floats = npt.NDArray[np.float64]

FIRST = dt.date(1900, 1, 1)
LAST = dt.date(2050, 12, 31)
REFRACTION = 34.0 / 60.0 * DEGREE  # rad, at the horizon (U.S. Naval Observatory, definitions)
SUN_SEMIDIAMETER = 16.0 / 60.0 * DEGREE  # rad, mean (U.S. Naval Observatory, definitions)
MOON_RADIUS = 1737.4  # km (from memory)
CIVIL, NAUTICAL, ASTRONOMICAL = -6.0 * DEGREE, -12.0 * DEGREE, -18.0 * DEGREE  # rad, altitude of the sun's centre
_DAY = dt.timedelta(days=1)
_KEPT = 4096  # searches kept, a few hundred bytes each


class Sky(Enum):
    """What sun or moon does at an event, in words."""

    SUNRISE = "sunrise"
    SUNSET = "sunset"
    CIVIL_DAWN = "civil dawn"
    CIVIL_DUSK = "civil dusk"
    NAUTICAL_DAWN = "nautical dawn"
    NAUTICAL_DUSK = "nautical dusk"
    ASTRONOMICAL_DAWN = "astronomical dawn"
    ASTRONOMICAL_DUSK = "astronomical dusk"
    MOONRISE = "moonrise"
    MOONSET = "moonset"


class Darkness(Enum):
    """How dark the sun leaves the sky, in words; the moon is not asked."""

    DAY = "day"
    CIVIL = "civil twilight"
    NAUTICAL = "nautical twilight"
    ASTRONOMICAL = "astronomical twilight"
    NIGHT = "night"


@dataclass(frozen=True)
class Event:
    """What happens, and when [UT]."""

    sky: Sky
    instant: dt.datetime


@dataclass(frozen=True)
class Light:
    """The light of one day of a place; times carry the day's offset, and are None where the thing does not happen.

    moon_lit : lit part of the moon's disc at noon of that day, 0 new to 1 full
    """

    sunrise: dt.datetime | None
    sunset: dt.datetime | None
    civil_dawn: dt.datetime | None
    civil_dusk: dt.datetime | None
    nautical_dawn: dt.datetime | None
    nautical_dusk: dt.datetime | None
    moonrise: dt.datetime | None
    moonset: dt.datetime | None
    moon_lit: float


@dataclass(frozen=True)
class SkyNow:
    """Sun and moon over a place at an instant.

    sun_altitude, moon_altitude : of their centres, without refraction, up positive [rad]
    darkness : how dark the sun leaves the sky; moon_lit : lit part of the moon's disc, 0 new to 1 full
    """

    sun_altitude: float
    darkness: Darkness
    moon_altitude: float
    moon_lit: float


def sun_events(
    latitude: float, longitude: float, start: dt.datetime, end: dt.datetime, eye: float = 0.0
) -> tuple[Event, ...]:
    """Risings, settings, dawns and dusks of the sun in [start, end), in order of time.

    latitude, longitude : north and east positive [rad]; start, end : aware
    eye : height of eye over the sea [m]; it lowers the horizon for rising and setting, not for twilight
    Where the sun does not cross a limit there is no event. Raises ValueError for a place that is not on earth, a naive
    datetime, or one outside 1900 to 2050.
    """
    limits = (
        (Sky.SUNRISE, Sky.SUNSET, -REFRACTION - SUN_SEMIDIAMETER - dip(eye)),
        (Sky.CIVIL_DAWN, Sky.CIVIL_DUSK, CIVIL),
        (Sky.NAUTICAL_DAWN, Sky.NAUTICAL_DUSK, NAUTICAL),
        (Sky.ASTRONOMICAL_DAWN, Sky.ASTRONOMICAL_DUSK, ASTRONOMICAL),
    )
    found = [
        event
        for dawn, dusk, altitude in limits
        for event in _crossings("sun", (latitude, longitude), (start, end), (dawn, dusk), altitude)
    ]
    return tuple(sorted(found, key=lambda event: event.instant))


def moon_events(latitude: float, longitude: float, start: dt.datetime, end: dt.datetime) -> tuple[Event, ...]:
    """Risings and settings of the moon in [start, end), at sea level, in order of time. As sun_events."""
    found = _crossings("moon", (latitude, longitude), (start, end), (Sky.MOONRISE, Sky.MOONSET), None)
    return tuple(sorted(found, key=lambda event: event.instant))


def light_of_day(latitude: float, longitude: float, date: dt.date, offset: dt.timedelta, eye: float = 0.0) -> Light:
    """The light of the day that begins at midnight of a ship's clock.

    latitude, longitude : north and east positive [rad]
    offset : what the clock is ahead of universal time (east of Greenwich positive; a navigator's zone description has
        the other sign)
    eye : height of eye over the sea [m]; it lowers the horizon for sun and moon, not for twilight
    Of two events of one kind in a day, as near the polar circles, the first is given. Raises ValueError as sun_events.
    """
    zone = dt.timezone(offset)
    start = dt.datetime(date.year, date.month, date.day, tzinfo=zone)
    noon = start + _DAY / 2
    events = list(sun_events(latitude, longitude, start, start + _DAY, eye))
    moon = _moon_horizon(noon) - dip(eye) if eye else None
    place, span = (latitude, longitude), (start, start + _DAY)
    events += sorted(
        _crossings("moon", place, span, (Sky.MOONRISE, Sky.MOONSET), moon), key=lambda event: event.instant
    )
    first: dict[Sky, dt.datetime] = {}
    for event in events:
        first.setdefault(event.sky, event.instant.astimezone(zone))
    return Light(
        sunrise=first.get(Sky.SUNRISE),
        sunset=first.get(Sky.SUNSET),
        civil_dawn=first.get(Sky.CIVIL_DAWN),
        civil_dusk=first.get(Sky.CIVIL_DUSK),
        nautical_dawn=first.get(Sky.NAUTICAL_DAWN),
        nautical_dusk=first.get(Sky.NAUTICAL_DUSK),
        moonrise=first.get(Sky.MOONRISE),
        moonset=first.get(Sky.MOONSET),
        moon_lit=moon_lit(noon),
    )


def next_event(sky: Sky, latitude: float, longitude: float, after: dt.datetime) -> dt.datetime | None:
    """The first event of a kind from an instant on, within 36 hours; None where there is none.

    latitude, longitude : north and east positive [rad]; after : aware. Raises ValueError as sun_events.
    """
    moon = (Sky.MOONRISE, Sky.MOONSET)
    limits: tuple[tuple[str, tuple[Sky, Sky], float | None], ...] = (
        ("sun", (Sky.SUNRISE, Sky.SUNSET), -REFRACTION - SUN_SEMIDIAMETER),
        ("sun", (Sky.CIVIL_DAWN, Sky.CIVIL_DUSK), CIVIL),
        ("sun", (Sky.NAUTICAL_DAWN, Sky.NAUTICAL_DUSK), NAUTICAL),
        ("sun", (Sky.ASTRONOMICAL_DAWN, Sky.ASTRONOMICAL_DUSK), ASTRONOMICAL),
        ("moon", moon, None),
    )
    body, names, altitude = next(limit for limit in limits if sky in limit[1])
    span = (after, after + 1.5 * _DAY)
    found = _crossings(body, (latitude, longitude), span, names, altitude)
    return min((event.instant for event in found if event.sky is sky), default=None)


def sky_at(instant: dt.datetime, latitude: float, longitude: float) -> SkyNow:
    """Sun and moon at an instant over a place, north and east positive [rad]. Raises ValueError as sun_events."""
    return skies((instant,), (latitude,), (longitude,))[0]


def skies(
    instants: Sequence[dt.datetime], latitudes: Sequence[float], longitudes: Sequence[float]
) -> tuple[SkyNow, ...]:
    """Sun and moon at instants over as many places, computed together: sixty take little longer than one.

    latitudes, longitudes : one for each instant, north and east positive [rad]
    Raises ValueError as sun_events, and where there are not as many of each.
    """
    from skyfield import almanac

    if not len(instants) == len(latitudes) == len(longitudes):
        raise ValueError("instants, latitudes and longitudes must be equally many")
    if not instants:
        return ()
    bodies, _ = _ephemeris()
    times = _times(instants)
    here = _place(np.array(latitudes, dtype=np.float64), np.array(longitudes, dtype=np.float64)).at(times)
    sun, moon = (_altitudes(here, body) for body in ("sun", "moon"))
    lit = almanac.fraction_illuminated(bodies, "moon", times)
    return tuple(
        SkyNow(float(high), _darkness(float(high)), float(moon_high), float(part))
        for high, moon_high, part in zip(sun, moon, lit, strict=True)
    )


def sun_altitude(instant: dt.datetime, latitude: float, longitude: float) -> float:
    """Altitude of the sun's centre over the sea-level horizon, without refraction, up positive [rad].

    Raises ValueError as sun_events.
    """
    return float(_altitudes(_place(latitude, longitude).at(_time(instant)), "sun"))


def moon_altitude(instant: dt.datetime, latitude: float, longitude: float) -> float:
    """Altitude of the moon's centre as seen from the place, without refraction, up positive [rad].

    Raises ValueError as sun_events.
    """
    return float(_altitudes(_place(latitude, longitude).at(_time(instant)), "moon"))


def moon_lit(instant: dt.datetime) -> float:
    """Lit part of the moon's disc seen from the earth's centre, 0 new to 1 full. Raises ValueError as sun_events."""
    from skyfield import almanac

    bodies, _ = _ephemeris()
    return float(almanac.fraction_illuminated(bodies, "moon", _time(instant)))


def darkness(instant: dt.datetime, latitude: float, longitude: float) -> Darkness:
    """How dark it is, by the limits of sunrise and the three twilights; exactly on a limit the lighter name.

    Raises ValueError as sun_events.
    """
    return _darkness(sun_altitude(instant, latitude, longitude))


def _darkness(altitude: float) -> Darkness:
    """What an altitude of the sun's centre [rad] is called."""
    for limit, name in (
        (-REFRACTION - SUN_SEMIDIAMETER, Darkness.DAY),
        (CIVIL, Darkness.CIVIL),
        (NAUTICAL, Darkness.NAUTICAL),
        (ASTRONOMICAL, Darkness.ASTRONOMICAL),
    ):
        if altitude >= limit:
            return name
    return Darkness.NIGHT


@functools.cache
def _ephemeris() -> tuple[Any, Any]:
    """Bodies by name, and the time scale: opened once."""
    from skyfield.api import load, load_file

    with resources.as_file(resources.files("roundown.environment") / "data" / "sun_moon.bsp") as file:
        return load_file(str(file)), load.timescale(builtin=True)


def _time(instant: dt.datetime) -> Any:
    """An instant as the library's time. Read as UT1: its UTC runs apart from the clocks of before 1972."""
    _, scale = _ephemeris()
    return scale.ut1(*_calendar(instant))


def _times(instants: Sequence[dt.datetime]) -> Any:
    """Instants as one row of the library's time."""
    _, scale = _ephemeris()
    return scale.ut1(*np.array([_calendar(instant) for instant in instants]).T)


def _calendar(instant: dt.datetime) -> tuple[float, ...]:
    """Year, month, day, hour, minute and second of universal time."""
    if instant.tzinfo is None:
        raise ValueError("an instant must say its offset from universal time")
    if not FIRST - _DAY <= instant.date() <= LAST + 2 * _DAY:
        raise ValueError(f"the sun and moon are known from {FIRST.year} to {LAST.year}, not in {instant.year}")
    ut = instant.astimezone(dt.UTC)
    return ut.year, ut.month, ut.day, ut.hour, ut.minute, ut.second + ut.microsecond * 1e-6


def _place(latitude: float | Floats, longitude: float | Floats) -> Any:
    """An observer at sea level, or one for each element of two rows."""
    from skyfield.api import wgs84

    if not np.all(np.abs(latitude) <= math.pi / 2) or not np.all(np.abs(longitude) <= math.tau):
        raise ValueError("a latitude is within a right angle, a longitude within a circle [rad]")
    bodies, _ = _ephemeris()
    return bodies["earth"] + wgs84.latlon(latitude / DEGREE, longitude / DEGREE)


@functools.lru_cache(maxsize=_KEPT)
def _crossings(
    body: str,
    place: tuple[float, float],
    span: tuple[dt.datetime, dt.datetime],
    names: tuple[Sky, Sky],
    altitude: float | None,
) -> tuple[Event, ...]:
    """Where the centre of a body crosses an altitude [rad]; None is the library's own horizon for its upper limb."""
    from skyfield import almanac

    here, (begin, end) = _place(*place), (_time(instant) for instant in span)
    bodies, _ = _ephemeris()
    start = span[0].astimezone(dt.UTC)
    searches: tuple[Callable[..., Any], ...] = (almanac.find_risings, almanac.find_settings)
    found = []
    for name, search in zip(names, searches, strict=True):
        degrees = None if altitude is None else altitude / DEGREE
        times, real = search(here, bodies[body], begin, end, horizon_degrees=degrees)
        found += [
            Event(name, start + dt.timedelta(days=float(time.ut1 - begin.ut1)))
            for time, crossed in zip(times, real, strict=True)
            if crossed  # a body that only comes near the limit is reported too, and marked
        ]
    return tuple(event for event in found if span[0] <= event.instant < span[1])


def _altitudes(here: Any, body: str) -> Any:
    """Altitude of a body's centre from where an observer is at a time, or at many [rad]."""
    bodies, _ = _ephemeris()
    return here.observe(bodies[body]).apparent(deflectors=()).altaz()[0].radians


def _moon_horizon(instant: dt.datetime) -> float:
    """Altitude of the moon's centre when its upper limb is seen on a sea-level horizon [rad], negative."""
    bodies, _ = _ephemeris()
    distance = float((bodies["moon"] - bodies["earth"]).at(_time(instant)).distance().km)
    return -REFRACTION - MOON_RADIUS / distance
