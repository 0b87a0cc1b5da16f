"""Wind over the deck: what is felt, what the true wind is, and the course and speed that give the wind wanted.

*Method:* vector difference of air and ship velocity. Course and speed for a wanted wind of strength R at rho off the
bow in a natural wind of strength W (own derivation: in the ship's axes the wind felt is the natural wind plus the
ship's speed from dead ahead):
    S = R cos(rho) -/+ sqrt(W^2 - R^2 sin^2(rho)),  beta = atan2(R sin(rho), R cos(rho) - S),  C = wind from - beta
There are 0, 1 or 2 answers with S >= 0. The slower one has the natural wind forward of the beam.

*Holds for:* level deck, undisturbed flow ahead of the bow, ship under way without leeway; a natural wind below 0.01 m/s
counts as calm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from roundown.environment.wind import NO_DIRECTION, direction_and_speed, full_circle, velocity
from roundown.quantities import OFF_BOW, SHIP_SPEED, TRUE_DIRECTION, WIND_OVER_DECK, WIND_SPEED, write

CALM = 0.01  # m/s, a natural wind below this counts as none
WIDER = math.radians(
    15.0
)  # rad, how much wider an angle may be to keep the strength; the project's own rule, no source
NEAR_LIMIT = 0.025  # m/s, half of a tenth of a knot: beyond a speed limit by so little counts as on it
_CLOSE = 1e-9  # rad or m/s, differences that are rounding
_ONE_ANSWER = 1e-4  # m/s, two answers nearer than this are one: rounding parts them by its square root


@dataclass(frozen=True)
class DeckWind:
    """Wind felt on deck.

    speed [m/s]; off_bow : where it comes from, off the bow, starboard positive, in (-pi, pi] [rad]; no wind felt: 0.0
    """

    speed: float
    off_bow: float


class Outcome(StrEnum):
    """Why a flight course is what it is."""

    EXACT = "exact"  # one course and speed within the limits gives the wind wanted
    CHOSEN = "chosen"  # two do; the one with the smaller turn from the base course is taken
    CALM = "calm"  # no natural wind: the ship makes all of it, dead ahead, on any course
    TOO_SLOW = "too slow"  # the wind wanted needs more than the ship's greatest speed
    WIND_STRONGER = "wind stronger"  # there is too much wind even at the ship's least speed
    COMPANY = "company"  # she keeps the guide's course and speed
    ANGLE_TOO_WIDE = "angle too wide"  # the natural wind is too weak for that angle at that strength, at any ship speed


@dataclass(frozen=True)
class FlightCourse:
    """Course and speed for flying, and the wind over the deck they give.

    course : true, in [0, 2 pi) [rad]; speed : of the ship [m/s]
    over_deck [m/s], off_bow [rad, starboard positive] : the wind really felt on that course at that speed
    attained : whether that is the wind wanted
    roots : every course and speed of 0 or more that would give it exactly, the ship's limits ignored, slower first
    shortfall : strength wanted less strength felt [m/s]; negative where there is too much
    reason : why
    """

    course: float
    speed: float
    over_deck: float
    off_bow: float
    attained: bool
    roots: tuple[tuple[float, float], ...]
    shortfall: float
    reason: Outcome


class _Task(NamedTuple):
    """The arguments of flight_course, angles brought into range."""

    wind_from: float
    wind_speed: float
    wanted: float
    off_bow: float
    base_course: float
    least: float
    greatest: float


class _Candidate(NamedTuple):
    """A course and speed, and how far the wind over the deck is from the one wanted [m/s or rad]."""

    course: float
    speed: float
    miss: float


def deck_wind(air_east: float, air_north: float, ship_course: float, ship_speed: float) -> DeckWind:
    """Wind felt on deck by a ship moving through moving air.

    air_east, air_north : where the air goes over the earth [m/s]
    ship_course : true course over the ground, also where the bow points [rad]; ship_speed : over the ground [m/s]
    Returns the strength and the angle off the bow it comes from; no wind felt (below 1e-9 m/s): angle 0.0.
    """
    east = air_east - ship_speed * math.sin(ship_course)
    north = air_north - ship_speed * math.cos(ship_course)
    speed = math.hypot(east, north)
    return DeckWind(speed, _signed(math.atan2(-east, -north) - ship_course) if speed > NO_DIRECTION else 0.0)


def true_wind(course: float, speed: float, relative_from: float, relative_speed: float) -> tuple[float, float]:
    """Natural wind behind a wind felt on deck.

    course : of the ship, true [rad]; speed : of the ship [m/s]
    relative_from : where the wind felt comes from, clockwise off the bow [rad]; relative_speed : its strength [m/s]
    Returns the true direction it comes from, in [0, 2 pi) [rad], and its speed [m/s]; calm (below 1e-9 m/s): from 0.0.
    """
    east, north = velocity(course + relative_from, relative_speed)
    return direction_and_speed(east + speed * math.sin(course), north + speed * math.cos(course))


def flight_course(
    wind_from: float,
    wind_speed: float,
    wanted: float,
    off_bow: float,
    base_course: float,
    least_speed: float,
    greatest_speed: float,
) -> FlightCourse:
    """Course and speed of the ship for a wanted wind over the deck.

    wind_from : true direction the natural wind comes from [rad]; wind_speed : 0 or more, below 0.01 is calm [m/s]
    wanted : strength of the wind over the deck, above 0 [m/s]
    off_bow : where it shall come from, starboard positive [rad]
    base_course : true course the ship comes from [rad]; least_speed, greatest_speed : of the ship [m/s]

    Of two answers within the speed limits that with the smaller turn from the base course is taken, of equal turns the
    slower. Calm: the base course is kept. Without an answer within the limits, in this order:
    1. where there is too much wind the angle is kept with the least of it, or dead ahead if that angle cannot be had;
    2. else the strength is kept, at the angle nearest to the one wanted, if that is at most 15 degrees wider;
    3. else the strength nearest to the one wanted is taken, from the angle wanted or from dead ahead.
    Between equals the course nearer the base course is taken, then the slower.
    Raises ValueError unless all is finite, 0 <= least_speed <= greatest_speed, wanted > 0 and wind_speed >= 0.
    """
    if not all(math.isfinite(x) for x in (wind_from, wind_speed, wanted, off_bow, base_course, greatest_speed)):
        raise ValueError("every argument must be finite")
    if not 0.0 <= least_speed <= greatest_speed:
        raise ValueError("speeds must keep 0 <= least <= greatest")
    if not wanted > 0.0 or not wind_speed >= 0.0:
        raise ValueError("the wind wanted must be above 0, the natural wind 0 or more")
    task = _Task(
        full_circle(wind_from),
        wind_speed,
        wanted,
        _signed(off_bow),
        full_circle(base_course),
        least_speed,
        greatest_speed,
    )
    if wind_speed < CALM:
        return _in_calm(task)
    exact = _exact(task)
    usable = [
        _Candidate(course, min(max(speed, least_speed), greatest_speed), 0.0)
        for course, speed in exact
        if least_speed - NEAR_LIMIT <= speed <= greatest_speed + NEAR_LIMIT
    ]
    if usable:
        reason = Outcome.CHOSEN if len(usable) == 2 else Outcome.EXACT
        return _result(task, _nearest(task, usable), exact, reason, attained=True)
    reason = _reason(task, exact)
    if reason is Outcome.WIND_STRONGER:
        found = _same_angle(task, task.off_bow, task.wanted) or _same_angle(task, 0.0, task.wanted)
    else:
        found = _same_strength(task) or _same_angle(task, task.off_bow, 0.0) + _same_angle(task, 0.0, 0.0)
    nearest = _nearest(task, found or _same_angle(task, 0.0, 0.0))
    return _result(task, nearest, exact, reason, attained=False)


def explain(
    found: FlightCourse,
    wind_from: float,
    wind_speed: float,
    wanted: float,
    off_bow: float,
    least_speed: float,
    greatest_speed: float,
) -> str:
    """One sentence on a flight course: what to steer, what it gives, what is short and what to do about it.

    found : result of flight_course for the other arguments, which mean what they mean there
    """
    steer = f"{write(found.course, TRUE_DIRECTION, words=True)} at {write(found.speed, SHIP_SPEED)}"
    felt = _words(found.over_deck, found.off_bow)
    wish = _words(wanted, off_bow)
    wind = f"the natural wind of {write(wind_speed, WIND_SPEED)} from {write(wind_from, TRUE_DIRECTION, words=True)}"
    too_slow = " or ".join(write(speed, SHIP_SPEED) for _, speed in found.roots if speed < least_speed)
    match found.reason:
        case Outcome.EXACT:
            return f"Steer {steer}: {felt}, as wanted."
        case Outcome.CHOSEN:
            other = max(found.roots, key=lambda root: abs(_signed(root[0] - found.course)) + abs(root[1] - found.speed))
            also = f"{write(other[0], TRUE_DIRECTION, words=True)} at {write(other[1], SHIP_SPEED)}"
            return f"Steer {steer}: {felt}, as wanted; {also} would do too, but is not the smaller turn."
        case Outcome.COMPANY:
            return f"{steer}: the guide's course and speed."
        case Outcome.CALM if found.attained:
            return f"Steer {steer}: {felt}, as wanted; it is calm, so any course serves and the base course is kept."
        case Outcome.CALM:
            what = "it is calm, so the ship makes all the wind herself, and it comes from dead ahead"
            cure = "wait for wind" if found.shortfall > _CLOSE else "plan for other wind over the deck"
        case Outcome.TOO_SLOW:
            need = f"needs {write(found.roots[0][1], SHIP_SPEED)}" if found.roots else "cannot be had on any course"
            what = f"{wish} {need}, the ship's greatest speed being {write(greatest_speed, SHIP_SPEED)}"
            cure = "wait for more natural wind"
        case Outcome.WIND_STRONGER:
            least = write(least_speed, SHIP_SPEED)
            if too_slow:
                what = f"{wish} needs {too_slow}, below the ship's least speed of {least}"
            elif wind_speed > wanted:
                what = f"{wind} alone is more than {wish}"
            else:
                what = f"the ship's least speed of {least} makes more than {wish}"
            cure = f"wait for less wind, or plan for {write(found.over_deck, WIND_OVER_DECK)} over the deck"
        case Outcome.ANGLE_TOO_WIDE:
            what = f"{wind} is too weak for {wish} at any ship speed"
            cure = "plan for a smaller angle off the bow"
    return f"{what[0].upper()}{what[1:]}; steer {steer} for {felt}, {_lacking(found, wanted)}: accept that, or {cure}."


def _words(strength: float, off_bow: float) -> str:
    side = write(_signed(off_bow), OFF_BOW)
    return f"{write(strength, WIND_OVER_DECK)} over the deck from {'dead ahead' if side.startswith('0.0 ') else side}"


def _lacking(found: FlightCourse, wanted: float) -> str:
    if abs(found.shortfall) <= _CLOSE * max(1.0, wanted):
        return "which keeps the strength but not the angle"
    return f"{write(abs(found.shortfall), WIND_OVER_DECK)} {'short' if found.shortfall > 0.0 else 'too much'}"


def _signed(angle: float) -> float:
    """The same angle in (-pi, pi] [rad]."""
    turned = math.remainder(angle, math.tau)
    return math.pi if turned == -math.pi else turned


def _exact(task: _Task) -> tuple[tuple[float, float], ...]:
    """Every course and speed >= 0 that gives the wind wanted, slower first; see the module's equations."""
    across = task.wanted * abs(math.sin(task.off_bow))
    # an angle that can just be had must not be lost by rounding
    if across > task.wind_speed * (1.0 + 1e-12):
        return ()
    half = _third_side(task.wind_speed, across)
    along = task.wanted * math.cos(task.off_bow)
    speeds = (along - half, along + half) if half > _ONE_ANSWER else (along,)
    return tuple(
        (_course(task, task.off_bow, task.wanted, max(speed, 0.0)), max(speed, 0.0))
        for speed in speeds
        if speed >= -_CLOSE
    )


def _third_side(longest: float, side: float) -> float:
    """sqrt(longest^2 - side^2), 0 where the side is the longer; factored, so that great arguments do not overflow."""
    return math.sqrt(max(longest - side, 0.0)) * math.sqrt(longest + side)


def _course(task: _Task, off_bow: float, strength: float, speed: float) -> float:
    """Course on which the ship at that speed feels the wind at that angle and strength."""
    bearing = math.atan2(strength * math.sin(off_bow), strength * math.cos(off_bow) - speed)
    return full_circle(task.wind_from - bearing)


def _same_strength(task: _Task) -> list[_Candidate]:
    """Courses that keep the strength, at the extreme angles the speed limits allow; miss is the angle lost [rad].

    With sides R (felt), S (ship) and W (natural) of a triangle, cos(angle) = (R^2 + S^2 - W^2) / (2 R S); over a range
    of S its extremes are at the ends and, for R > W, at S^2 = R^2 - W^2. What is possible is all between, to both
    sides, so that what is nearest to an impossible angle is an extreme.
    """
    strength, wind = task.wanted, task.wind_speed
    low, high = max(task.least, abs(strength - wind)), min(task.greatest, strength + wind)
    if low > high + _CLOSE:
        return []
    tangent = _third_side(strength, wind)
    speeds = [low, high, *([tangent] if low < tangent < high else [])]
    found = []
    for speed in (min(speed, task.greatest) for speed in speeds if speed > 0.0):
        cosine = ((strength - wind) / speed * ((strength + wind) / strength) + speed / strength) / 2.0
        size = math.acos(max(-1.0, min(1.0, cosine)))
        if size > abs(task.off_bow) + WIDER + _CLOSE:
            continue
        for angle in (size, -size):
            miss = abs(_signed(angle - task.off_bow))
            found.append(_Candidate(_course(task, angle, strength, speed), speed, miss))
    return found


def _same_angle(task: _Task, off_bow: float, enough: float) -> list[_Candidate]:
    """Courses that keep an angle, with the extreme strengths the speed limits allow; miss is the strength lost [m/s].

    enough : weaker winds than this are left out [m/s].

    Strength = S cos(angle) +/- sqrt(W^2 - S^2 sin^2(angle)); its extremes over a range of S are at the ends and at
    S = W cot(angle). Empty where no wind can be had from that angle.
    """
    sine, cosine = abs(math.sin(off_bow)), math.cos(off_bow)
    reach = task.wind_speed / sine if sine > 0.0 else math.inf
    high = min(task.greatest, reach)
    if task.least > high:
        return []
    best = reach * cosine
    found = []
    for speed in [task.least, high, *([best] if task.least < best < high else [])]:
        half = _third_side(task.wind_speed, speed * sine)
        for strength in (speed * cosine + half, speed * cosine - half):
            if strength > max(NO_DIRECTION, enough - _CLOSE):
                course = _course(task, off_bow, strength, speed)
                found.append(_Candidate(course, speed, abs(strength - task.wanted)))
    return found


def _nearest(task: _Task, candidates: list[_Candidate]) -> _Candidate:
    """The least miss, then the smaller turn from the base course, then the slower; differences by rounding are none."""

    def order(found: _Candidate) -> tuple[float, float, float]:
        turn = abs(_signed(found.course - task.base_course))
        return round(found.miss, 9), round(turn, 9), found.speed

    return min(candidates, key=order)


def _reason(task: _Task, exact: tuple[tuple[float, float], ...]) -> Outcome:
    """Why no exact answer is within the limits."""
    if task.wanted > task.greatest + task.wind_speed:
        return Outcome.TOO_SLOW
    if task.wanted < task.least - task.wind_speed:
        return Outcome.WIND_STRONGER
    if not exact:
        return Outcome.ANGLE_TOO_WIDE
    # a single answer is the faster one: the slower would need sternway, so the wind is too strong already
    return Outcome.TOO_SLOW if task.wanted > task.wind_speed and exact[0][1] > task.greatest else Outcome.WIND_STRONGER


def _in_calm(task: _Task) -> FlightCourse:
    speed = min(max(task.wanted, task.least), task.greatest)
    ahead = abs(task.off_bow) <= _CLOSE
    return FlightCourse(
        course=task.base_course,
        speed=speed,
        over_deck=speed,
        off_bow=0.0,
        attained=ahead and abs(speed - task.wanted) <= _CLOSE,
        roots=((task.base_course, task.wanted),) if ahead else (),
        shortfall=task.wanted - speed,
        reason=Outcome.CALM,
    )


def _result(
    task: _Task, found: _Candidate, exact: tuple[tuple[float, float], ...], reason: Outcome, *, attained: bool
) -> FlightCourse:
    felt = deck_wind(*velocity(task.wind_from, task.wind_speed), found.course, found.speed)
    return FlightCourse(
        course=found.course,
        speed=found.speed,
        over_deck=felt.speed,
        off_bow=felt.off_bow,
        attained=attained,
        roots=exact,
        shortfall=task.wanted - felt.speed,
        reason=reason,
    )
