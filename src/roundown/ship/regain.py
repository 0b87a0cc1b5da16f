"""Back to the base track: the course and the run that bring her onto a moving point, on its course, at its speed.

She turns to a catch-up course at the speed she has, comes to her regaining speed, runs, turns to the base course and
comes to the base speed; turns and changes of speed count. *Method:* on a plane the miss is a sum of arcs and straight
lines; courses all round the compass are tried for those on which the rest of it lies astern of the relative way, so
that a run takes it up, with either turn past the half circle where that serves (own derivation). The earliest is then
closed in on over the ellipsoid, course and run together (scipy.optimize.root, hybrid Powell). Where a small distance
leaves no room for two turns at the regaining speed, lower speeds are tried. *Holds for:* runs of two days at most.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

import numpy as np

from roundown.motion.frames import Floats, wrap
from roundown.motion.ship_track import STEERAGE_WAY
from roundown.ship.dead_reckoning import Handling, Way, off_point, turn_by

ON_TRACK = 10.0  # m: no manoeuvre is worth less
_MISS = 1.0  # m, allowed when closed in
_LONGEST = 2.0 * 86400.0  # s
_COURSES = 180  # tried round the compass
_SLOWER = tuple(1.0 - 0.05 * i for i in range(15))  # parts of the regaining speed
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
        for guess in _first_guesses(now, off, base, part * speed, handling):
            found = _close_in(now, base, guess, part * speed, handling)
            if found is not None:
                return found
    return None


@dataclass(frozen=True, order=True)
class _Guess:
    """time : of the whole [s]; course [rad]; run [s]; out, back : sides of the two turns, see `turn_by`."""

    time: float
    course: float
    run: float
    out: float
    back: float


def _first_guesses(now: Way, off: tuple[float, float], base: Base, speed: float, handling: Handling) -> list[_Guess]:
    """What meets the point on a plane, the earliest first. off : east and north of the point [m]."""
    courses = base.course + np.linspace(-math.pi, math.pi, _COURSES + 1)
    point = _components(base.course, base.speed)
    way = _components(courses, speed) - point
    square = np.maximum(np.sum(way**2, axis=0), 1e-12)
    guesses = {}
    for out, back in product((1.0, -1.0), repeat=2):
        leaving = _manoeuvre(now.course + 0.0 * courses, now.speed, courses, speed, out, handling)
        coming = _manoeuvre(courses, speed, base.course + 0.0 * courses, base.speed, back, handling)
        times = leaving.time + coming.time
        rest = np.array(off)[:, None] + leaving.run + coming.run - point * times
        across = rest[0] * way[1] - rest[1] * way[0]
        runs = -np.sum(rest * way, axis=0) / square
        jumps = np.abs(np.diff(leaving.turn)) + np.abs(np.diff(coming.turn)) > 1.0  # one goes over to the other side
        ahead = np.maximum(runs[:-1], runs[1:]) >= 0.0
        for i in np.flatnonzero(~jumps & ahead & (across[:-1] * across[1:] <= 0.0)):
            part = across[i] / (across[i] - across[i + 1]) if across[i] != across[i + 1] else 0.5
            course, run, time = (
                float(each[i] + part * (each[i + 1] - each[i])) for each in (courses, runs, runs + times)
            )
            if run <= _LONGEST:
                guesses[round(course, 9), round(time, 3)] = _Guess(time, course, max(run, 0.0), out, back)
    return sorted(guesses.values())


@dataclass(frozen=True, eq=False)
class _Manoeuvre:
    """Turns [rad], times [s] and runs, (2, n), east and north [m], on a plane."""

    turn: Floats
    time: Floats
    run: Floats


def _components(course: float | Floats, length: float | Floats) -> Floats:
    """East and north, (2, n)."""
    return np.atleast_2d(np.array([np.sin(course), np.cos(course)]).reshape(2, -1) * length)


def _manoeuvre(
    course: Floats, speed: float, new_course: Floats, new_speed: float, side: float, handling: Handling
) -> _Manoeuvre:
    """What coming to new courses at a new speed takes, as `Handling.come_to` carries it out."""
    turning = speed if speed >= STEERAGE_WAY else new_speed  # without way on she gathers it first
    turn = turn_by(course, new_course, side) if turning else 0.0 * course
    change = abs(new_speed - speed) / handling.gain
    arc = np.copysign(handling.radius, turn) * np.array(
        [np.cos(course) - np.cos(new_course), np.sin(new_course) - np.sin(course)]
    )
    straight = _components(new_course if speed >= STEERAGE_WAY else course, 0.5 * change * (new_speed + speed))
    return _Manoeuvre(turn, np.abs(turn) * handling.radius / (turning or 1.0) + change, arc + straight)


def _close_in(now: Way, base: Base, guess: _Guess, speed: float, handling: Handling) -> Regain | None:
    """The course and run over the ellipsoid from those on a plane; None where they do not meet the point."""
    from scipy.optimize import root

    def carried_out(course: float, run: float) -> Regain:
        out, steady = handling.come_to(now, course, speed, guess.out)
        back, done = handling.come_to(steady.at(steady.start + run), base.course, base.speed, guess.back)
        return Regain(tuple(out), steady, tuple(back), done)

    def miss(tried: Floats) -> tuple[float, float]:
        done = carried_out(float(tried[0]), 1000.0 * float(tried[1])).done
        latitude, longitude = base.at(done.start)
        east = wrap(done.longitude - longitude) * math.cos(latitude)
        return _MEAN_RADIUS * east, _MEAN_RADIUS * (done.latitude - latitude)

    try:
        met = root(miss, (guess.course, guess.run / 1000.0), method="hybr", options={"xtol": 1e-7, "maxfev": 40})
        if not math.hypot(*met.fun) < _MISS or met.x[1] < 0.0:
            return None
        return carried_out(float(met.x[0]), 1000.0 * float(met.x[1]))
    except ValueError:  # tried beyond the latitudes where rhumb lines are run
        return None
