"""Where the guide of the task group is through the day: base course, into the wind for the flying, and back.

*Method:* each order to turn is given so early that she is steady when the flying begins (motion/ship_track.py gives
the time it takes); afterwards she regains the moving point that kept base course and speed since the datum
(ship/regain.py). Straight stretches are rhumb lines. *Holds for:* no leeway, no loss of speed in turns, latitudes to 89
degrees.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from roundown.figures import figure
from roundown.motion.frames import wrap
from roundown.quantities import CLOCK_TIME, COURSE_CHANGE, LONG_DISTANCE, SHIP_SPEED, TIME, TRUE_DIRECTION
from roundown.ship.dead_reckoning import Handling, Way, off_point
from roundown.ship.regain import Base, regain

_ALL = ("place.*", "ship.*", "event.*", "doctrine.*", "weather.*", "company.*", "type.*", "squadron.*")
_TRACK = "turning circle and change of speed in closed form, straight runs along rhumb lines (ship/day_track.py)"
_POINT = "geodesic from the point that kept base course and speed since the datum"
_INSTANT = 1e-6  # s


@dataclass(frozen=True)
class FlyingPeriod:
    """What the ship must do for some flying. name : unique in the day.

    course : flight course, true [rad]; speed [m/s]; start : when she must be steady on them; end : when she may turn
    back, not before `start` [s]
    """

    name: str
    course: float
    speed: float
    start: float
    end: float


@dataclass(frozen=True)
class DayTrackFacts:
    """start, latitude, longitude : the datum, when [s] and where [rad] the group is, on base course and speed.

    base_course, base_speed : [rad, m/s]; turning_circle : diameter [m]; speed_gain : of speed, either way [m/s2]
    regain_speed : at which she regains the base track, not above it [m/s]; periods : in any order, may overlap
    """

    start: float
    latitude: float
    longitude: float
    base_course: float
    base_speed: float
    turning_circle: float
    speed_gain: float
    regain_speed: float
    periods: tuple[FlyingPeriod, ...]


class What(StrEnum):
    """What the ship does for a stretch of the day."""

    BASE = "base course"
    TURNING = "turning into the wind"
    FLIGHT = "flight course"
    REGAINING = "regaining the base track"
    RETURNING = "coming back to base course"


@dataclass(frozen=True)
class Stretch:
    """A part of the day, start to end [s]; the last has no end."""

    what: What
    start: float
    end: float


@dataclass(frozen=True)
class ShipPlace:
    """The ship at an instant: latitude, longitude in (-pi, pi], true course in [0, 2 pi) [rad], speed [m/s]."""

    latitude: float
    longitude: float
    course: float
    speed: float


@dataclass(frozen=True, kw_only=True)
class PeriodTimes:
    """The ship's part in one flying period. None where there is no such thing."""

    order: float = figure(CLOCK_TIME, "order to turn to the flight course", _TRACK, _ALL)
    steady: float = figure(CLOCK_TIME, "steady on the flight course at flight speed", _TRACK, _ALL)
    end: float = figure(
        CLOCK_TIME, "free to leave the flight course", "the last of the flying, or steady if later", _ALL
    )
    course: float = figure(TRUE_DIRECTION, "flight course, true", "the flight course of this flying", _ALL)
    speed: float = figure(SHIP_SPEED, "speed on the flight course", "the flight speed of this flying", _ALL)
    turn: float = figure(COURSE_CHANGE, "turn to the flight course, to starboard positive", "shorter way round", _ALL)
    regained: float | None = figure(
        CLOCK_TIME, "on the base track again, on base course at base speed", "ship/regain.py", _ALL
    )
    off_at_end: float = figure(LONG_DISTANCE, "distance off the base track when free to turn back", _POINT, _ALL)
    bearing_at_end: float = figure(TRUE_DIRECTION, "its bearing from there, true", _POINT, _ALL)
    late: float = figure(TIME, "steady later than the flying asks", _TRACK, _ALL)
    left_off: float | None = figure(
        LONG_DISTANCE, "distance still off the base track at the next order to turn", _POINT, _ALL
    )


@dataclass(frozen=True, eq=False)
class DayTrack:
    """The guide's track. rows : in order of time, the first at the datum; periods : by name, in order of start."""

    facts: DayTrackFacts
    rows: tuple[Way, ...]
    stretches: tuple[Stretch, ...]
    periods: Mapping[str, PeriodTimes]

    def at(self, time: float) -> ShipPlace:
        """The ship at a time [s]; the last row goes on for ever, before the datum she is run back on base course."""
        row = self.rows[bisect_right(self.rows, time, key=lambda each: each.start) - 1]
        place = (row if time >= self.rows[0].start else _datum(self.facts)).at(time)
        return ShipPlace(place.latitude, place.longitude, place.course % math.tau, place.speed)

    def base_at(self, time: float) -> tuple[float, float]:
        """Latitude and longitude [rad] of the moving base point at a time [s]."""
        return _base_at(self.facts, time)

    def off_base(self, time: float) -> tuple[float, float]:
        """Distance [m] of the ship from the moving base point, and her true bearing from it [rad]; nil: bearing 0."""
        place = self.at(time)
        return off_point((place.latitude, place.longitude), self.base_at(time))


def day_track(facts: DayTrackFacts) -> DayTrack:
    """The ship's track through all flying periods of a day.

    Periods between which she cannot leave the flight course and come back are joined. An order that would fall before
    the end of the flying before it, or before the datum, is given then, and she is steady late.
    Raises ValueError for two periods of one name, one that ends before it starts, or a track beyond 89 degrees.
    """
    periods = sorted(facts.periods, key=lambda period: (period.start, period.end))
    if len({period.name for period in periods}) < len(periods):
        raise ValueError("two flying periods have one name")
    helm = _Helm(facts)
    for period, following in zip(periods, [*periods[1:], None], strict=False):
        helm.fly(period)
        helm.leave(following)
    helm.rows.append(helm.now)
    ends = [start for _, start in helm.stretches[1:]] + [math.inf]
    stretches = tuple(Stretch(what, start, end) for (what, start), end in zip(helm.stretches, ends, strict=True))
    track = DayTrack(facts, tuple(helm.rows), stretches, {})
    orders = [*(flown.order for flown in helm.flown[1:]), None][: len(helm.flown)]
    times = {flown.period.name: _times(flown, order, track) for flown, order in zip(helm.flown, orders, strict=True)}
    return DayTrack(facts, track.rows, stretches, times)


def _datum(facts: DayTrackFacts) -> Way:
    return Way(facts.start, facts.latitude, facts.longitude, facts.base_course % math.tau, facts.base_speed)


def _base_at(facts: DayTrackFacts, time: float) -> tuple[float, float]:
    place = _datum(facts).at(time)
    return place.latitude, place.longitude


@dataclass
class _Flown:
    """A period as it is carried out; free : when she may leave her course, for this flying or one before it [s]."""

    period: FlyingPeriod
    order: float
    steady: float
    turn: float
    regained: float | None = None


class _Helm:
    """The ship while her day is laid down. now : steady, with rows up to it; free : till when she must hold on."""

    def __init__(self, facts: DayTrackFacts) -> None:
        self.facts = facts
        self.base = Base(lambda time: _base_at(facts, time), facts.base_course, facts.base_speed)
        self.handling = Handling(0.5 * facts.turning_circle, facts.speed_gain)
        self.now = _datum(facts)
        self.free = facts.start
        self.rows: list[Way] = []
        self.stretches: list[tuple[What, float]] = [(What.BASE, facts.start)]
        self.flown: list[_Flown] = []

    def fly(self, period: FlyingPeriod) -> None:
        """Come to the flight course in time, or as soon as she may."""
        if period.end < period.start:
            raise ValueError(f"{period.name} ends before it starts")
        taken = self._taken(period, self.now)
        order = max(period.start - taken, self.free if taken > _INSTANT else self.now.start)
        turn = wrap(period.course - self.now.course)
        self._hold(order)
        self._begin(What.TURNING)
        self._come_to(period.course, period.speed)
        self._begin(What.FLIGHT)
        late = self.now.start - period.start > _INSTANT
        steady = self.now.start if late else period.start
        self.flown.append(_Flown(period, order, steady, turn))
        self.free = max(self.free, period.end, steady)

    def leave(self, following: FlyingPeriod | None) -> None:
        """Back to the base track as far as there is time before the next order; else hold on."""
        leaving = self.now.at(max(self.free, self.now.start))
        until = math.inf if following is None else following.start
        if following is not None and until - self._taken(following, self.now) <= leaving.start:
            return
        found = regain(leaving, self.base, self.facts.regain_speed, self.handling)
        if found is None:
            back, home = self.handling.come_to(leaving, self.base.course, self.base.speed)
            if until - self._taken(following, home) >= home.start:
                self._carry_on(What.RETURNING, back, home)
        elif until - self._taken(following, found.done) >= found.done.start:
            self._carry_on(What.REGAINING, [*found.out, found.run, *found.back], found.done)
            self.flown[-1].regained = found.done.start
        elif found.out and until - self._taken(following, found.run) >= found.run.start:
            self._carry_on(What.REGAINING, list(found.out), found.run, settled=False)

    def _carry_on(self, what: What, rows: list[Way], after: Way, *, settled: bool = True) -> None:
        self._hold(self.free)
        self._begin(what)
        self.rows += rows
        self.now, self.free = after, after.start
        if settled:
            self._begin(What.BASE)

    def _taken(self, period: FlyingPeriod | None, now: Way) -> float:
        """Time to come to a period's course and speed from what she does then; nil where there is no period [s]."""
        return 0.0 if period is None else self.handling.duration(now, period.course, period.speed)

    def _hold(self, until: float) -> None:
        if until > self.now.start:
            self.rows.append(self.now)
            self.now = self.now.at(until)

    def _come_to(self, course: float, speed: float) -> None:
        rows, self.now = self.handling.come_to(self.now, course, speed)
        self.rows += rows

    def _begin(self, what: What) -> None:
        """Begin a stretch now; one without length gives way, and one of the same goes on."""
        while self.stretches and self.stretches[-1][1] >= self.now.start:
            self.stretches.pop()
        if not self.stretches or self.stretches[-1][0] is not what:
            self.stretches.append((what, self.now.start))


def _times(flown: _Flown, next_order: float | None, track: DayTrack) -> PeriodTimes:
    end = max(flown.period.end, flown.steady)
    off, bearing = track.off_base(end)
    kept_off = next_order is not None and flown.regained is None
    return PeriodTimes(
        order=flown.order,
        steady=flown.steady,
        end=end,
        course=flown.period.course % math.tau,
        speed=flown.period.speed,
        turn=flown.turn,
        regained=flown.regained,
        off_at_end=off,
        bearing_at_end=bearing,
        late=max(flown.steady - flown.period.start, 0.0),
        left_off=track.off_base(next_order)[0] if kept_off and next_order is not None else None,
    )
