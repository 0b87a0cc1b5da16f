"""The flight course of the day: what the ship steers so that the wind over the deck is as wanted.

*Method:* `wind_over_deck.flight_course` with the wind at deck height, which is not the wind reported at 10 m.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.environment.wind import direction_and_speed
from roundown.figures import figure
from roundown.motion.frames import wrap
from roundown.quantities import (
    DEGREE,
    KNOT,
    OFF_BOW,
    SHIP_SPEED,
    TRUE_DIRECTION,
    WIND_OVER_DECK,
    WIND_SPEED,
    write,
)
from roundown.ship.wind_over_deck import Outcome, deck_wind, explain, flight_course

_SHOWN_SPEED, _SHOWN_ANGLE = 0.05 * KNOT, 0.05 * DEGREE  # half of what is shown

_WIND = ("weather.*", "ship.deck_height")
_ALL = (
    *_WIND, "doctrine.wind.over_deck", "doctrine.wind.off_bow", "ship.base_course",
    "ship.least_speed", "ship.greatest_speed", "company.*",
)  # fmt: skip
_TO_LAUNCH = tuple(name.replace("wind.over_deck", "wind.launch_over_deck") for name in _ALL)
_METHOD = "vector difference of air and ship, closed form; of two answers the one nearest the base course"


@dataclass(frozen=True, kw_only=True)
class Flight:
    """The flight course. attained : whether the wind is as wanted; explanation : one sentence."""

    wind_from: float = figure(TRUE_DIRECTION, "natural wind at deck height comes from, true", "wind by height", _WIND)
    wind_speed: float = figure(WIND_SPEED, "natural wind at deck height", "wind by height", _WIND)
    course: float = figure(TRUE_DIRECTION, "flight course, true", _METHOD, _ALL)
    reciprocal: float = figure(TRUE_DIRECTION, "reciprocal of the flight course, true", "course and half a turn", _ALL)
    speed: float = figure(SHIP_SPEED, "ship's speed on the flight course", _METHOD, _ALL)
    over_deck: float = figure(WIND_OVER_DECK, "wind over the deck at deck height", _METHOD, _ALL)
    off_bow: float = figure(OFF_BOW, "side it comes from", _METHOD, _ALL)
    short: float = figure(WIND_OVER_DECK, "wind over the deck wanted less had", _METHOD, _ALL)
    attained: bool
    outcome: Outcome
    explanation: str


@dataclass(frozen=True, kw_only=True)
class LaunchFlight(Flight):
    """The flight course to launch: as to recover, for the wind over the deck wanted to launch."""

    course: float = figure(TRUE_DIRECTION, "flight course to launch, true", _METHOD, _TO_LAUNCH)
    reciprocal: float = figure(
        TRUE_DIRECTION, "reciprocal of the flight course to launch, true", "course and half a turn", _TO_LAUNCH
    )
    speed: float = figure(SHIP_SPEED, "ship's speed on the flight course to launch", _METHOD, _TO_LAUNCH)
    over_deck: float = figure(WIND_OVER_DECK, "wind over the deck at deck height, to launch", _METHOD, _TO_LAUNCH)
    off_bow: float = figure(OFF_BOW, "side it comes from, to launch", _METHOD, _TO_LAUNCH)
    short: float = figure(WIND_OVER_DECK, "wind over the deck wanted to launch less had", _METHOD, _TO_LAUNCH)


def plan_flight(
    wind: tuple[float, float],
    wanted: float,
    off_bow: float,
    base_course: float,
    least_speed: float,
    greatest_speed: float,
) -> Flight:
    """The flight course for a wind at deck height.

    wind : where the air goes at deck height, east and north [m/s]; the rest as in `flight_course`
    """
    wind_from, wind_speed = direction_and_speed(*wind)
    found = flight_course(wind_from, wind_speed, wanted, off_bow, base_course, least_speed, greatest_speed)
    return Flight(
        wind_from=wind_from,
        wind_speed=wind_speed,
        course=found.course,
        reciprocal=(found.course + math.pi) % math.tau,
        speed=found.speed,
        over_deck=found.over_deck,
        off_bow=found.off_bow,
        short=found.shortfall,
        attained=found.attained,
        outcome=found.reason,
        explanation=explain(found, wind_from, wind_speed, wanted, off_bow, least_speed, greatest_speed),
    )


def follow_flight(
    wind: tuple[float, float], course: float, speed: float, wanted: float, off_bow: float, guide: str
) -> Flight:
    """What a carrier has that keeps company on the guide's flight course.

    wind : where the air goes at her own deck height, east and north [m/s]; course, speed : the guide's
    wanted, off_bow : as in `flight_course`; guide : her name, for the sentence
    """
    wind_from, wind_speed = direction_and_speed(*wind)
    felt = deck_wind(*wind, course, speed)
    attained = abs(felt.speed - wanted) < _SHOWN_SPEED and abs(wrap(felt.off_bow - off_bow)) < _SHOWN_ANGLE
    return Flight(
        wind_from=wind_from,
        wind_speed=wind_speed,
        course=course,
        reciprocal=(course + math.pi) % math.tau,
        speed=speed,
        over_deck=felt.speed,
        off_bow=felt.off_bow,
        short=wanted - felt.speed,
        attained=attained,
        outcome=Outcome.COMPANY,
        explanation=f"She keeps company with {guide}: {write(course, TRUE_DIRECTION, words=True)} at "
        f"{write(speed, SHIP_SPEED)} give {write(felt.speed, WIND_OVER_DECK)} over her deck.",
    )
