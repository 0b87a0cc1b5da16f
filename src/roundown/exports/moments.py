"""The moments of the day as files for others need them: instant, time by the ship's clock, and the light in words."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from roundown.day.facts import clock_of
from roundown.documents import one_line
from roundown.environment.light import Darkness
from roundown.errors import RoundownError
from roundown.exports.heading import zone_of
from roundown.plan.facts import Day
from roundown.quantities import ANGLE, CLOCK_TIME, DEGREE, RATIO, SHIP_SPEED, TRUE_DIRECTION, write
from roundown.schedule.timeline import Moment
from roundown.solution import Solution, Unsolved

HORIZON = 1.0 * DEGREE  # rad, of the moon's centre either way: rising or setting, by refraction and half its disc


class NoMomentsError(RoundownError):
    """A day without moments, of which there is no calendar and no timeline."""


@dataclass(frozen=True)
class DatedMoment:
    """A moment with its instant.

    key : as in the Solution; instant : universal time, to the second; local : the same by the ship's clock
    name : what happens, and in which event; light : in words
    about : time by the clock, light, and the ship, at whose place every moment is
    """

    key: str
    instant: dt.datetime
    local: dt.datetime
    name: str
    light: str
    about: str
    moment: Moment


def dated_moments(day: Day, solution: Solution) -> tuple[DatedMoment, ...]:
    """The moments in order of time. Raises NoMomentsError where there is no timeline."""
    if isinstance(solution.timeline, Unsolved):
        raise NoMomentsError(f"There are no times to export: {solution.timeline.reason}.")
    clock = clock_of(day)
    found = []
    for key, moment in solution.timeline.items():
        instant = clock.instant(round(moment.time))
        light = light_words(moment)
        ship = f"{write(moment.course, TRUE_DIRECTION, words=True)} at {write(moment.speed, SHIP_SPEED)}"
        found.append(
            DatedMoment(
                key=key,
                instant=instant,
                local=instant.astimezone(zone_of(day)),
                name=one_line(f"{moment.event}: {moment.what}" if moment.event else moment.what),
                light=light,
                about=f"{write(moment.time, CLOCK_TIME)} by the ship's clock; {light}; ship here, on {ship}",
                moment=moment,
            )
        )
    return tuple(found)


def light_words(moment: Moment) -> str:
    """How light it is: by day the sun says it all, otherwise the moon is named too."""
    dark: str = moment.darkness.value
    if moment.darkness is Darkness.DAY:
        return dark
    if moment.moon_altitude < -HORIZON:
        return f"{dark}, no moon"
    lit = f"{write(moment.moon_lit, RATIO, decimals=2)} of its disc lit"
    if moment.moon_altitude <= HORIZON:
        return f"{dark}, moon on the horizon, {lit}"
    return f"{dark}, moon {write(moment.moon_altitude, ANGLE, decimals=0)} high, {lit}"
