"""Reading the plain tables of a plan: place, weather with its winds, ship, cockpit with its deviation."""

from __future__ import annotations

import datetime as dt
import math
import re
from typing import Any

from roundown.catalog.load import GIVEN_IN_PLAN, read_keys
from roundown.documents import Document, KeyPath, shown
from roundown.errors import Complaint, QuantityError
from roundown.figures import Given, Origin, given_number
from roundown.plan.schema import SECTIONS, WIND_KEYS
from roundown.quantities import KNOT, TRUE_DIRECTION, VARIATION, WIND_SPEED, Kind, read, read_position, read_wind

LATITUDE = Kind("latitude", "angle", "deg", "deg", "37 20 S", decimals=4)
LONGITUDE = Kind("longitude", "angle", "deg", "deg", "012 10 W", decimals=4)


def read_section(
    document: Document, section: str, *, winds_to: bool = False
) -> tuple[dict[str, Given], list[Complaint]]:
    """One table of the plan. winds_to : winds are named by where they go."""
    raw = document.data.get(section, {})
    keys = SECTIONS[section]
    special = {"weather": ("winds",), "cockpit": ("deviation",), "radio": ("channels",)}.get(section, ())
    if isinstance(raw, dict):
        raw = {name: as_text(value) for name, value in raw.items() if name not in special}
    values, complaints = read_keys(document, (section,), raw, keys, GIVEN_IN_PLAN)
    givens = {f"{section}.{name}": given for name, given in values.items()}
    _expand(document, section, "position", givens, complaints, _position)
    _expand(document, section, "surface_wind", givens, complaints, _wind_to if winds_to else _wind)
    return givens, complaints


def as_text(value: Any) -> Any:
    """Dates and times may stand without quotes in TOML, alone or beside their source."""
    if isinstance(value, dict) and isinstance(value.get("value"), (dt.date, dt.time)):
        return {**value, "value": value["value"].isoformat()}
    return value.isoformat() if isinstance(value, (dt.date, dt.time)) else value


def _expand(
    document: Document, section: str, name: str, givens: dict[str, Given], complaints: list[Complaint], parse: Any
) -> None:
    """Replace a text that holds several numbers by those numbers."""
    given = givens.pop(f"{section}.{name}", None)
    if given is None:
        return
    try:
        for part, number, kind in parse(given.word):
            givens[f"{section}.{part}"] = given_number(number, kind, given.origin, None, given.word)
    except QuantityError as error:
        complaints.append(document.complain(given.origin.path, shown(given.word), error.limit, error.remedy))


def _position(text: str) -> list[tuple[str, float, Kind]]:
    latitude, longitude = read_position(text)
    return [("latitude", latitude, LATITUDE), ("longitude", longitude, LONGITUDE)]


def _wind(text: str) -> list[tuple[str, float, Kind]]:
    direction, speed = read_wind(text)
    if speed > 100.0 * KNOT:
        raise QuantityError("a wind of at most 100 kt is allowed", "Look at the figure and its unit")
    return [("wind_from", direction, TRUE_DIRECTION), ("wind_speed", speed, WIND_SPEED)]


def _wind_to(text: str) -> list[tuple[str, float, Kind]]:
    (name, direction, kind), speed = _wind(text)
    return [(name, (direction + math.pi) % math.tau, kind), speed]


def read_winds(document: Document, *, winds_to: bool = False) -> tuple[dict[str, Given], list[Complaint]]:
    """The winds by height. winds_to : they are named by where they go."""
    weather = document.data.get("weather", {})
    raw = weather.get("winds", []) if isinstance(weather, dict) else []
    path: KeyPath = ("weather", "winds")
    if not isinstance(raw, list) or not all(isinstance(item, dict) for item in raw):
        example = 'Write winds = [{ height = "1000 ft over sea", wind = "075/15 kt" }]'
        return {}, [document.complain(path, shown(raw), "a list of winds by height is wanted", example)]
    givens: dict[str, Given] = {}
    complaints: list[Complaint] = []
    below = 10.0
    for i, item in enumerate(raw):
        values, wrong = read_keys(document, (*path, i), item, WIND_KEYS, GIVEN_IN_PLAN)
        complaints += wrong
        level: dict[str, Given] = {f"weather.{name}": given for name, given in values.items()}
        if "weather.wind" in level:
            _expand(document, "weather", "wind", level, complaints, _wind_to if winds_to else _wind)
        for name, given in level.items():
            givens[f"weather.winds.{i + 1}.{name.split('.')[1].removeprefix('wind_')}"] = given
        height = values.get("height")
        if height is not None:
            if height.value <= below:
                complaints.append(
                    document.complain(
                        (*path, i, "height"), shown(height.text), "heights must rise, from above 10 m", "Sort the winds"
                    )
                )
            below = height.value
    return givens, complaints


def read_deviation(document: Document, givens: dict[str, Given]) -> tuple[dict[str, Given], list[Complaint]]:
    """The compass card: deviation by magnetic heading."""
    cockpit = document.data.get("cockpit", {})
    raw = cockpit.get("deviation", {}) if isinstance(cockpit, dict) else {}
    path: KeyPath = ("cockpit", "deviation")
    wanted = "cockpit.headings" in givens and givens["cockpit.headings"].word == "compass"
    example = 'Write deviation = { "000" = "2 deg E", "180" = "1 deg W" }'
    if not isinstance(raw, dict) or (wanted and not raw):
        return {}, [
            document.complain(
                path, shown(raw) if raw else "", "compass headings need the deviation by heading", example
            )
        ]
    found: dict[str, Given] = {}
    complaints: list[Complaint] = []
    for name, text in raw.items():
        try:
            value = _row_of_card(name, text, example)
            origin = Origin(document.file, (*path, name), GIVEN_IN_PLAN)
            found[f"cockpit.deviation.{name}"] = given_number(value, VARIATION, origin, None, text)
        except QuantityError as error:
            complaints.append(document.complain((*path, name), shown(text), error.limit, error.remedy))
    return found, complaints


def _row_of_card(heading: str, text: Any, example: str) -> float:
    """The deviation on one heading of the card [rad]. Raises QuantityError."""
    if not re.fullmatch(r"\d{3}", heading) or int(heading) >= 360:
        raise QuantityError("a heading of the card is three digits from 000 to 359", example)
    if not isinstance(text, str):
        raise QuantityError("a text in quotes is wanted, with its unit", example)
    return read(text, VARIATION).band.aim
