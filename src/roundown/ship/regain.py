"""Back to the base track: the course and the run that bring her onto a moving point, on its course, at its speed.

She turns to a catch-up course at the speed she has, comes to her regaining speed, runs, turns to the base course and
comes to the base speed; turns and changes of speed count. *Method:* on a plane the miss is a sum of arcs and straight
lines; courses all round the compass are tried for those on which the rest of it lies astern of the relative way, so
that a run takes it up (own derivation). The earliest is then closed in on over the ellipsoid, course and run together
(scipy.optimize.root, hybrid Powell). Where a small distance leaves no room for two turns at the regaining speed, lower
speeds are tried. *Holds for:* runs of two days at most.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from roundown.motion.frames import Floats, wrap
from roundown.motion.ship_track import STEERAGE_WAY
from roundown.ship.dead_reckoning import Handling, Way, off_point

ON_TRACK = 10.0  # m: no manoeuvre is worth less
_MISS = 1.0  # m, allowed when closed in
_LONGEST = 2.0 * 86400.0  # s
_COURSES = 180  # tried round the compass
_SLOWER = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3)  # parts of the regaining speed
_MEAN_RADIUS = 6371000.0  # m, for the size of a miss that is driven to nil


@dataclass(frozen=True)
class Base:
    """The moving point. at : its latitude and longitude [rad] at a time [s]; course, speed : its own [rad, m/s]."""

    at: Callable[[float], tuple[float, float]]
    course: float
    speed: float


@dataclass(frozen=True)
class Regain:
    """How she regains the point. out, back : rows of the two manoeuvres, perhaps none; run : steady row between.

    done : the ship on the point, on its course and speed
    """

    out: tuple[Way, ...]
    run: Way
    back: tuple[Way, ...]
    done: Way


def regain(now: Way, base: Base, speed: float, handling: Handling) -> Regain | None:
    """The way back to the moving point for a ship that is free to leave her course now.

    speed : at which she regains it; less only where a small distance asks for it [m/s]
    None where she cannot.
    """
    straight, home = handling.come_to(now, base.course, base.speed)
    if off_point((home.latitude, home.longitude), base.at(home.start))[0] < ON_TRACK:
        return Regain((), now, tuple(straight), home)
    far, bearing = off_point((now.latitude, now.longitude), base.at(now.start))
    off = (far * math.sin(bearing), far * math.cos(bearing))
    for part in _SLOWER if speed > 0.0 else ():
        for course, run in _first_guesses(now, off, base, part * speed, handling):
            found = _close_in(now, base, (course, run), part * speed, handling)
            if found is not None:
                return found
    return None


def _first_guesses(
    now: Way, off: tuple[float, float], base: Base, speed: float, handling: Handling
) -> Iterator[tuple[float, float]]:
    """Courses [rad] and runs [s] that meet the point on a plane, the earliest first."""
    courses = base.course + np.linspace(-math.pi, math.pi, _COURSES + 1)
    turn_out, time_out, east_out, north_out = _manoeuvre(now.course, now.speed, courses, speed, handling)
    turn_back, time_back, east_back, north_back = _manoeuvre(courses, speed, base.course, base.speed, handling)
    point_east, point_north = base.speed * math.sin(base.course), base.speed * math.cos(base.course)
    east = off[0] + east_out + east_back - point_east * (time_out + time_back)
    north = off[1] + north_out + north_back - point_north * (time_out + time_back)
    way_east, way_north = speed * np.sin(courses) - point_east, speed * np.cos(courses) - point_north
    across = east * way_north - north * way_east
    way = way_east**2 + way_north**2
    runs = -(east * way_east + north * way_north) / np.maximum(way, 1e-12)
    whole = np.abs(np.diff(turn_out)) + np.abs(np.diff(turn_back)) < 1.0  # no turn goes over to the other side
    changes = np.flatnonzero(whole & (across[:-1] * across[1:] <= 0.0) & (np.maximum(runs[:-1], runs[1:]) >= 0.0))
    guesses = []
    for i in changes:
        part = across[i] / (across[i] - across[i + 1]) if across[i] != across[i + 1] else 0.5
        course = float(courses[i] + part * (courses[i + 1] - courses[i]))
        run = max(float(runs[i] + part * (runs[i + 1] - runs[i])), 0.0)
        if run <= _LONGEST:
            guesses.append((run + float(time_out[i] + time_back[i]), course, run))
    for _, course, run in sorted(guesses):
        yield course, run


def _manoeuvre(
    course: float | Floats, speed: float, new_course: float | Floats, new_speed: float, handling: Handling
) -> tuple[Floats, Floats, Floats, Floats]:
    """Turn [rad], time [s], east and north run [m] of coming to a new course and speed on a plane."""
    turning = speed if speed >= STEERAGE_WAY else new_speed  # without way on she gathers it first
    turn = np.asarray(math.pi - np.mod(math.pi - (new_course - course), math.tau), dtype=np.float64)
    if turning == 0.0:
        return 0.0 * turn, 0.0 * turn, 0.0 * turn, 0.0 * turn
    change = abs(new_speed - speed) / handling.gain
    straight = 0.5 * change * (new_speed + speed)
    along = course if speed < STEERAGE_WAY else new_course
    radius = np.copysign(handling.radius, turn)
    east = radius * (np.cos(course) - np.cos(new_course)) + straight * np.sin(along)
    north = radius * (np.sin(new_course) - np.sin(course)) + straight * np.cos(along)
    return turn, np.abs(turn) * handling.radius / turning + change, east, north


def _close_in(now: Way, base: Base, guess: tuple[float, float], speed: float, handling: Handling) -> Regain | None:
    """The course and run over the ellipsoid from those on a plane; None where they do not meet the point."""
    from scipy.optimize import root

    def carried_out(course: float, run: float) -> Regain:
        out, steady = handling.come_to(now, course, speed)
        back, done = handling.come_to(steady.at(steady.start + run), base.course, base.speed)
        return Regain(tuple(out), steady, tuple(back), done)

    def miss(tried: Floats) -> tuple[float, float]:
        done = carried_out(float(tried[0]), 1000.0 * float(tried[1])).done
        latitude, longitude = base.at(done.start)
        east = wrap(done.longitude - longitude) * math.cos(latitude)
        return _MEAN_RADIUS * east, _MEAN_RADIUS * (done.latitude - latitude)

    try:
        met = root(miss, (guess[0], guess[1] / 1000.0), method="hybr", options={"xtol": 1e-9, "maxfev": 40})
        if not math.hypot(*met.fun) < _MISS or met.x[1] < 0.0:
            return None
        return carried_out(float(met.x[0]), 1000.0 * float(met.x[1]))
    except ValueError:  # tried beyond the latitudes where rhumb lines are run
        return None
