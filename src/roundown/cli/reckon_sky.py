"""`roundown reckon light`, `variation` and `horizon`: what nature gives a place and date."""

from __future__ import annotations

import datetime as dt
from typing import Annotated

from cyclopts import Parameter

from roundown.cli.reckon import Json, limits, number, say
from roundown.errors import QuantityError, RoundownError
from roundown.quantities import DEGREE, FOOT, LENGTH, NAUTICAL_MILE, read_position, read_zone, write
from roundown.quantities import VARIATION as EAST_OR_WEST

Position = Annotated[str, Parameter(help='Where, as in "15 00 N 145 00 E".')]
Date = Annotated[str, Parameter(help="Date, as in 1944-06-19.")]


def light(
    *,
    position: Position,
    date: Date,
    zone: Annotated[
        str,
        Parameter(
            help="What the ship's clock is ahead of universal time: +10:00, -9:30 or Z; east of Greenwich it is plus. "
            "Not the navigator's zone description, whose sign is the opposite: write that as ZD -10.",
            allow_leading_hyphen=True,
        ),
    ],
    as_json: Json = False,
) -> int:
    """Sunrise, sunset, twilights and moon of a day at a place, for an eye at sea level.

    The day is that of the ship's clock. What does not happen on it is null. moon_lit is the lit part of the disc at
    noon, 0 new to 1 full.
    """
    from roundown.environment.light import FIRST, LAST, light_of_day

    latitude, longitude = _position(position)
    day = _date(date, FIRST, LAST)
    found = light_of_day(latitude, longitude, day, _offset(zone))
    times = {
        "sunrise": found.sunrise,
        "sunset": found.sunset,
        "civil_dawn": found.civil_dawn,
        "civil_dusk": found.civil_dusk,
        "nautical_dawn": found.nautical_dawn,
        "nautical_dusk": found.nautical_dusk,
        "moonrise": found.moonrise,
        "moonset": found.moonset,
    }
    whole = {name: None if time is None else _to_the_second(time) for name, time in times.items()}
    answer: dict[str, float | str | None] = {
        name: None if time is None else time.isoformat() for name, time in whole.items()
    }
    answer["moon_lit"] = round(found.moon_lit, 4)
    shown = {name: "none" if time is None else f"{time:%H:%M}" for name, time in whole.items()}
    never = found.sunrise is None and found.sunset is None
    sun = _all_day(latitude, longitude, day, _offset(zone)) if never else f"Sun {shown['sunrise']} to {shown['sunset']}"
    words = (
        f"{sun}; civil twilight from {shown['civil_dawn']} and to "
        f"{shown['civil_dusk']}, nautical from {shown['nautical_dawn']} and to {shown['nautical_dusk']}; moon rises "
        f"{shown['moonrise']}, sets {shown['moonset']}, {found.moon_lit:.2f} of it lit; clock {_clock(_offset(zone))}."
    )
    return say(answer, as_json, words)


def _all_day(latitude: float, longitude: float, day: dt.date, offset: dt.timedelta) -> str:
    """On which side of the horizon a sun stays that neither rises nor sets."""
    from roundown.environment.light import sky_at

    noon = dt.datetime(day.year, day.month, day.day, 12, tzinfo=dt.UTC) - offset
    high = sky_at(noon, latitude, longitude).sun_altitude
    return f"Sun {'up' if high > 0.0 else 'down'} all day, neither rising nor setting"


def variation(*, position: Position, date: Date, as_json: Json = False) -> int:
    """Magnetic variation at a place and date, east positive; of the earth's main field."""
    from roundown.environment.magnetism import FIRST, LAST
    from roundown.environment.magnetism import variation as of_field

    found = of_field(*_position(position), _date(date, FIRST, LAST))
    return say({"variation_deg": found / DEGREE}, as_json, f"Variation {write(found, EAST_OR_WEST)}.")


def horizon(
    *, height: Annotated[float, number("Height of eye or aerial over the sea, ft.", LENGTH)], as_json: Json = False
) -> int:
    """How far the sea horizon is, for the eye and for radio."""
    from roundown.environment.horizon import horizon_distance, radio_horizon

    limits({"--height": (height, 0, 60_000)})
    answer = {
        "distance_nm": horizon_distance(height * FOOT) / NAUTICAL_MILE,
        "radio_nm": radio_horizon(height * FOOT) / NAUTICAL_MILE,
    }
    words = f"Sea horizon {answer['distance_nm']:.1f} nm off; radio to {answer['radio_nm']:.1f} nm."
    return say(answer, as_json, words)


def _position(text: str) -> tuple[float, float]:
    try:
        return read_position(text)
    except QuantityError as error:
        raise RoundownError(f"--position = {text}: {error}") from error


def _date(text: str, first: dt.date, last: dt.date) -> dt.date:
    try:
        date = dt.date.fromisoformat(text)
    except ValueError as error:
        raise RoundownError(f"--date = {text}: not a date. Write for example 1944-06-19.") from error
    if not first <= date <= last:
        raise RoundownError(f"--date = {text}: {first} to {last} is known. Give another date.")
    return date


def _offset(text: str) -> dt.timedelta:
    """What a clock is ahead of universal time."""
    try:
        return dt.timedelta(seconds=read_zone(text))
    except QuantityError as error:
        raise RoundownError(f"--zone = {text}: {error}") from error


def _clock(offset: dt.timedelta) -> str:
    minutes = round(offset.total_seconds() / 60.0)
    return f"{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d} from universal time"


def _to_the_second(time: dt.datetime) -> dt.datetime:
    return (time + dt.timedelta(milliseconds=500)).replace(microsecond=0)
