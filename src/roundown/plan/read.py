"""Reading an air plan: the file, its catalogs and overrides, resolved once into a Day; or every complaint at once."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path
from typing import Any

from roundown.catalog.load import (
    GIVEN_IN_PLAN,
    add_entries,
    builtin_catalog,
    check_format,
    check_names,
    find_entry,
    overlay,
)
from roundown.catalog.load import read_keys as read_catalog_keys
from roundown.catalog.types import DOCTRINE_KEYS, Catalog, Entry
from roundown.documents import Document, KeyPath, open_document, shown
from roundown.errors import Complaint, PlanError, QuantityError
from roundown.figures import Given, Origin, given_number, given_word
from roundown.plan.facts import Day
from roundown.plan.schema import DEFAULTS, SECTIONS, TOP_KEYS, WIND_KEYS
from roundown.quantities import KNOT, TRUE_DIRECTION, VARIATION, WIND_SPEED, Kind, read, read_position, read_wind

LATITUDE = Kind("latitude", "angle", "deg", "deg", "37 20 S", decimals=4)
LONGITUDE = Kind("longitude", "angle", "deg", "deg", "012 10 W", decimals=4)


def read_plan(file: str | Path) -> Day:
    """Read an air plan.

    Raises PlanError with every complaint about the plan and the catalogs it names.
    """
    document = open_document(file)
    if isinstance(document, Complaint):
        raise PlanError([document])
    return day_of(document)


def day_of(document: Document) -> Day:
    """The day a parsed plan describes. Raises PlanError."""
    complaints = check_format(document)
    catalog, documents, wrong = _catalogs(document)
    complaints += wrong
    complaints += check_names(document, TOP_KEYS)
    givens: dict[str, Given] = {}
    for section in SECTIONS:
        values, wrong = _section(document, section)
        complaints += wrong
        givens |= values
    values, wrong = _winds(document)
    givens |= values
    complaints += wrong
    values, wrong = _deviation(document, givens)
    givens |= values
    complaints += wrong
    complaints += _resolve(documents, catalog, givens)
    title, start = _title_and_start(document, givens, complaints)
    if complaints:
        raise PlanError(sorted(complaints, key=lambda complaint: (complaint.file != document.file, complaint.line)))
    return Day(title, start, givens, tuple(documents))


def _catalogs(document: Document) -> tuple[Catalog, list[Document], list[Complaint]]:
    """The built-in catalog with the plan's own tables and the files it names."""
    catalog, documents = builtin_catalog(), [document]
    complaints: list[Complaint] = []
    named = document.data.get("catalog", [])
    if not isinstance(named, list) or not all(isinstance(name, str) for name in named):
        complaints.append(
            document.complain(("catalog",), shown(named), "a list of files is wanted", 'Write catalog = ["mine.toml"]')
        )
        named = []
    for i, name in enumerate(named):
        other = open_document(Path(document.file).parent / name)
        if isinstance(other, Complaint):
            complaints.append(document.complain(("catalog", i), shown(name), other.limit, other.remedy))
            continue
        documents.append(other)
        complaints += check_format(other)
        complaints += check_names(other, TOP_KEYS)
        complaints += add_entries(catalog, other, "")
    complaints += add_entries(catalog, document, GIVEN_IN_PLAN)
    return catalog, documents, complaints


def _section(document: Document, section: str) -> tuple[dict[str, Given], list[Complaint]]:
    raw = document.data.get(section, {})
    keys = SECTIONS[section]
    special = {"weather": ("winds",), "cockpit": ("deviation",)}.get(section, ())
    if isinstance(raw, dict):
        raw = {name: _as_text(value) for name, value in raw.items() if name not in special}
    values, complaints = read_catalog_keys(document, (section,), raw, keys, GIVEN_IN_PLAN)
    givens = {f"{section}.{name}": given for name, given in values.items()}
    for name, text in DEFAULTS.items():
        if (
            name.startswith(section + ".")
            and name not in givens
            and isinstance(raw, dict)
            and name.split(".")[1] not in raw
        ):
            key = next(key for key in keys if f"{section}.{key.name}" == name)
            origin = Origin("built-in", (), "default: used where the plan says nothing")
            givens[name] = (
                given_number(read(text, *key.kinds).band.aim, key.kinds[0], origin, None, text)
                if key.kinds
                else given_word(text, origin)
            )
    _expand(document, section, "position", givens, complaints, _position)
    _expand(document, section, "surface_wind", givens, complaints, _wind)
    return givens, complaints


def _as_text(value: Any) -> Any:
    """Dates and times may stand without quotes in TOML."""
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


def _winds(document: Document) -> tuple[dict[str, Given], list[Complaint]]:
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
        values, wrong = read_catalog_keys(document, (*path, i), item, WIND_KEYS, GIVEN_IN_PLAN)
        complaints += wrong
        level: dict[str, Given] = {f"weather.{name}": given for name, given in values.items()}
        if "weather.wind" in level:
            _expand(document, "weather", "wind", level, complaints, _wind)
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


def _deviation(document: Document, givens: dict[str, Given]) -> tuple[dict[str, Given], list[Complaint]]:
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


def _resolve(documents: list[Document], catalog: Catalog, givens: dict[str, Given]) -> list[Complaint]:
    """Put the ship, the type and the doctrine with its overrides into the givens. documents : the plan comes first."""
    document = documents[0]
    complaints: list[Complaint] = []

    def entry(table: str, key: str) -> Entry | None:
        given = givens.pop(key, None)
        if given is None:
            return None
        found = find_entry(catalog, table, given.word)
        if isinstance(found, Entry):
            return found
        complaints.append(document.complain(given.origin.path, shown(given.word), *found))
        return None

    ship, kind, doctrine = (
        entry("ships", "ship.name"),
        entry("types", "aeroplane.type"),
        entry("doctrines", "doctrine.name"),
    )
    over, wrong = read_catalog_keys(
        document, ("override",), document.data.get("override", {}), DOCTRINE_KEYS, GIVEN_IN_PLAN, partial=True
    )
    complaints += wrong
    if doctrine is not None:
        merged = overlay(overlay(doctrine.values, ship.overrides if ship else {}), over)
        givens |= {f"doctrine.{name}": given for name, given in merged.items()}
    if ship is not None:
        givens |= {f"ship.{name}": given for name, given in ship.values.items()}
        low, high = ship.values.get("least_speed"), ship.values.get("greatest_speed")
        if low and high and low.value > high.value:
            hers = next((each for each in documents if each.file == low.origin.file), document)
            complaints.append(
                hers.complain(low.origin.path, shown(low.text), "least speed is above the greatest", "Exchange the two")
            )
    if kind is not None:
        givens |= {f"type.{name}": given for name, given in kind.values.items()}
        weight = givens.pop("aeroplane.weight", None)
        if weight is not None:
            givens |= overlay(givens, {"type.landing_weight": weight})
    return complaints


def _title_and_start(
    document: Document, givens: dict[str, Given], complaints: list[Complaint]
) -> tuple[str, dt.datetime]:
    title = document.data.get("title", "")
    if not isinstance(title, str) or len(title.splitlines()) > 1:
        complaints.append(
            document.complain(("title",), shown(title), "a title is one line of text in quotes", "Put it in quotes")
        )
        title = ""
    date, time = dt.date(2000, 1, 1), dt.time()
    given = givens.pop("place.date", None)
    if given is not None:
        try:
            date = dt.date.fromisoformat(given.word)
        except ValueError:
            complaints.append(_no_moment(document, given, "not a date", "1949-03-17"))
        if not 1900 <= date.year <= 2050:
            complaints.append(
                document.complain(given.origin.path, shown(given.word), "years 1900 to 2050", "Choose another date")
            )
    given = givens.pop("place.time", None)
    if given is not None:
        try:
            time = dt.time.fromisoformat(given.word)
        except ValueError:
            complaints.append(_no_moment(document, given, "not a time", "14:30"))
        if time.utcoffset():
            complaints.append(_no_moment(document, given, "universal time is wanted, without an offset", "14:30"))
    return title or Path(document.file).stem, dt.datetime.combine(date, time.replace(tzinfo=dt.UTC))


def _no_moment(document: Document, given: Given, limit: str, example: str) -> Complaint:
    return document.complain(given.origin.path, shown(given.word), limit, f'Write "{example}"')
