"""Reading a file of measurements: what was read in the simulator of a machine that a type is to be like.

A file names a type and holds lists of rows: [[stall]], [[run]], [[climb]], [[level]], [[slow_down]]. Under
[throughout] stands what holds for every row that does not say otherwise; its height is not that of the runs, which are
at the sea unless they say so.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from roundown import quantities as q
from roundown.catalog.keys import Key, word_key
from roundown.catalog.load import check_format, check_names, find_entry, read_keys
from roundown.catalog.types import Catalog, Entry
from roundown.documents import Document, KeyPath, shown
from roundown.environment.air import Air
from roundown.errors import Complaint, PlanError
from roundown.figures import Given
from roundown.launch.measured import KINDS, Flown, Measured, What
from roundown.launch.of_type import full_weight, why_not

SAID = "measured in the simulator"
MOST = 100  # rows of one list: a fit of more would keep one waiting
_ROUNDING = 0.5 * q.POUND  # that a weight may be beyond those of the type
_KT, _FT = q.KNOT, q.FOOT


def _flap(default: str = "") -> Key:
    return Key("flap", (q.RATIO,), "part of full flap that is down, 0 to 1", low=0.0, high=1.0, default=default)


def _gear(default: str = "") -> Key:
    return word_key("gear", "wheels", "up", "down", default=default)


def _speed(name: str, meaning: str, *kinds: q.Kind) -> Key:
    return Key(name, kinds or (q.INDICATED_SPEED,), meaning, low=30 * _KT, high=350 * _KT)


def _spread(name: str, kind: q.Kind, of: str, low: float, high: float, default: str) -> Key:
    return Key(name, (kind,), f"one standard deviation of {of}", low=low, high=high, default=default)


_WEIGHT = Key("weight", (q.MASS,), "all-up weight", needed=False, low=500 * q.POUND, high=60_000 * q.POUND)
_HEIGHT = Key("height", (q.HEIGHT_OVER_SEA,), "where it was flown", needed=False, low=0.0, high=25_000 * _FT)
TOP_KEYS = ("format", "type", "throughout", "stall", "run", "climb", "level", "slow_down")
THROUGHOUT_KEYS = (
    Key("temperature", (q.TEMPERATURE,), "at sea level", default="15 C", low=233.15, high=323.15),
    Key("pressure", (q.PRESSURE,), "at sea level", default="29.92126 inHg", low=90_000.0, high=110_000.0),
    _WEIGHT,
    _HEIGHT,
)
ROW_KEYS: dict[str, tuple[Key, ...]] = {
    "stall": (
        _WEIGHT,
        _flap(),
        _speed("speed", "airspeed shown at the stall, throttle shut"),
        _spread("spread", q.SPEED_MARGIN, "the speed", 0.01 * _KT, 20 * _KT, "1 kt"),
    ),
    "run": (
        _WEIGHT,
        Key("height", (q.HEIGHT_OVER_SEA,), "deck or field", low=0.0, high=15_000 * _FT, default="0 ft over sea"),
        _flap(),
        Key("over_deck", (q.WIND_OVER_DECK,), "wind along the run from ahead", low=0.0, high=60 * _KT),
        Key("distance", (q.LENGTH,), "from brakes off to lift-off", needed=False, low=20 * _FT, high=5000 * _FT),
        Key("time", (q.TIME,), "from brakes off to lift-off", needed=False, low=1.0, high=60.0),
        Key("lift_off", (q.INDICATED_SPEED,), "airspeed shown at lift-off", needed=False, low=30 * _KT, high=200 * _KT),
        _spread("spread", q.LENGTH, "the distance", 0.1 * _FT, 500 * _FT, "15 ft"),
        _spread("time_spread", q.TIME, "the time", 0.01, 10.0, "0.3 s"),
        _spread("lift_off_spread", q.SPEED_MARGIN, "the airspeed at lift-off", 0.01 * _KT, 20 * _KT, "2 kt"),
    ),
    "climb": (
        _WEIGHT,
        _HEIGHT,
        _flap("0"),
        _gear("up"),
        _speed("speed", "airspeed shown, held steady at full power"),
        Key("rate", (q.CLIMB_RATE,), "rate of climb", low=-3000 * _FT / 60, high=8000 * _FT / 60),
        _spread("spread", q.CLIMB_RATE, "the rate", 0.1 * _FT / 60, 1000 * _FT / 60, "75 ft/min"),
    ),
    "level": (
        _WEIGHT,
        _HEIGHT,
        _flap("0"),
        _gear("up"),
        _speed("speed", "greatest at full power", q.INDICATED_SPEED, q.TRUE_SPEED),
        _spread("spread", q.SPEED_MARGIN, "the speed", 0.01 * _KT, 40 * _KT, "2 kt"),
    ),
    "slow_down": (
        _WEIGHT,
        _HEIGHT,
        _flap(),
        _gear(),
        _speed("from", "airspeed shown as the watch is started, level, throttle shut"),
        _speed("to", "airspeed shown as it is stopped"),
        Key("time", (q.TIME,), "between the two", low=0.5, high=600.0),
        _spread("spread", q.TIME, "the time", 0.01, 60.0, "0.5 s"),
    ),
}
"""What a row of each list may say; the spreads that stand by themselves are an own rule."""
_SINGLE = re.compile(rf"^[ \t]*\[[ \t]*({'|'.join(ROW_KEYS)})[ \t]*\][ \t]*(?:#.*)?$", re.MULTILINE)
_ONE_BRACKET = "one bracket makes a table, and measurements are tables in a list"


@dataclass(frozen=True)
class Measurements:
    """The type as it was and what was measured of the machine it is to be like."""

    type: Entry
    measured: tuple[Measured, ...]


def read_measurements(document: Document, catalog: Catalog) -> Measurements:
    """Read a file of measurements. Raises PlanError with every complaint."""
    complaints = [*check_format(document), *check_names(document, TOP_KEYS)]
    entry = _type(document, catalog, complaints)
    said = document.data.get("throughout", {})
    throughout, wrong = read_keys(document, ("throughout",), said, THROUGHOUT_KEYS, SAID)
    complaints += wrong
    if entry is not None and "weight" in throughout:
        complaints += _weighed(document, ("throughout", "weight"), throughout["weight"], entry)
    measured: list[Measured] = []
    for table in ROW_KEYS:
        for i, row in enumerate(_rows(document, table, complaints)):
            measured += _row(document, (table, i), row, throughout, entry, complaints)
    if entry is not None and document.data.get("run") and (absent := why_not(entry.values)):
        limit = f"a deck run cannot be compared: {absent}"
        complaints.append(document.complain(("run", 0), "", limit, "Give them in the type, or leave the runs out"))
    if not measured and not complaints:
        limit = "there is nothing measured in this file"
        complaints.append(document.complain((), "", limit, "Write rows below [[stall]], [[run]], [[climb]] and so on"))
    if complaints or entry is None:
        raise PlanError(sorted(complaints, key=lambda complaint: complaint.line))
    return Measurements(entry, tuple(measured))


def _type(document: Document, catalog: Catalog, complaints: list[Complaint]) -> Entry | None:
    name = document.data.get("type")
    if not isinstance(name, str):
        stands = "" if name is None else shown(name)
        limit = "the file must name the type to begin with"
        complaints.append(document.complain(("type",), stands, limit, 'Write type = "ottery" at the top'))
        return None
    found = find_entry(catalog, "types", name)
    if isinstance(found, Entry):
        return found
    remedy = found[1].split("; or add", maxsplit=1)[0]
    complaints.append(document.complain(("type",), shown(name), found[0], f"{remedy}; one of your own needs --plan"))
    return None


def _rows(document: Document, table: str, complaints: list[Complaint]) -> list[dict[str, Any]]:
    raw = document.data.get(table, [])
    if isinstance(raw, dict):
        complaints.append(document.complain((table,), "", _ONE_BRACKET, _two_brackets(table)))
        return []
    if not isinstance(raw, list) or not all(isinstance(row, dict) for row in raw):
        limit = "measurements are tables in a list"
        complaints.append(document.complain((table,), shown(raw), limit, f"Write [[{table}]] above each"))
        return []
    if len(raw) > MOST:
        complaints.append(document.complain((table,), f"{len(raw)} rows", f"at most {MOST}", "Leave some out"))
        return []
    return raw


def single_brackets(file: Path) -> list[Complaint]:
    """What a file that is no TOML says with one bracket and should with two, as where [stall] stands twice in it."""
    text = file.read_text("utf-8-sig", errors="replace").replace("\r\n", "\n")
    return [
        Complaint(
            str(file), text.count("\n", 0, found.start()) + 1, found[1], "", _ONE_BRACKET, _two_brackets(found[1])
        )
        for found in _SINGLE.finditer(text)
    ]


def _two_brackets(table: str) -> str:
    return f"Write [[{table}]] with two brackets above each"


def _weighed(document: Document, path: KeyPath, weight: Given, entry: Entry) -> list[Complaint]:
    """A weight the type cannot have; nothing where the type does not say how light and heavy it is."""
    empty = entry.values.get("launch.empty_weight")
    if empty is None or "launch.fuel_weight" not in entry.values:
        return []
    full = full_weight(entry.values)
    if empty.value - _ROUNDING <= weight.value <= full + _ROUNDING:
        return []
    limit = f"{entry.name} weighs {q.write(empty.value, q.MASS)} empty and {q.write(full, q.MASS)} full"
    remedy = "Look at the figure, or give the type the weights of the simulator's machine"
    return [document.complain(path, shown(weight.text), limit, remedy)]


def _nothing(wrong: Iterable[Complaint], table: str) -> list[Complaint]:
    """The complaints; one of a spread of next to nothing in words, as its least value may show as nil."""
    least = {key.name: key for key in ROW_KEYS[table] if key.name.endswith("spread")}
    said = []
    for each in wrong:
        key = least.get(each.key.rsplit(".", 1)[-1])
        if key is not None and each.limit.startswith("at least "):
            limit = f"a spread is greater than nothing, at least {q.write(key.low, key.kinds[0], decimals=2)}"
            said.append(replace(each, limit=limit, remedy="Write how far two readings differ"))
        else:
            said.append(each)
    return said


def _row(
    document: Document,
    path: KeyPath,
    raw: dict[str, Any],
    throughout: dict[str, Given],
    entry: Entry | None,
    complaints: list[Complaint],
) -> list[Measured]:
    """What one row says, several numbers for a run; its complaints are added to those there are."""
    table, place = str(path[0]), int(path[1])
    values, wrong = read_keys(document, path, raw, ROW_KEYS[table], SAID)
    wrong = _nothing(wrong, table)
    if entry is not None and "weight" in values:
        wrong += _weighed(document, (*path, "weight"), values["weight"], entry)
    known = {key.name for key in ROW_KEYS[table]}
    values = {name: given for name, given in throughout.items() if name in known and name not in raw} | values
    complained = {each.key.removeprefix("throughout.") for each in complaints if each.key.startswith("throughout")}
    for name, example in (("weight", "9800 lb"), ("height", "2000 ft over sea")):
        if name in known and name not in values and name not in raw and name not in complained:
            remedy = f'Add {name} = "{example}" to the row, or under [throughout] for all'
            wrong.append(document.complain((*path, name), "", f"{name}: missing", remedy))
    wrong += _together(document, path, values) if not wrong else []
    complaints += wrong
    if wrong or complained:
        return []

    def number(name: str) -> float:
        return values[name].value if name in values else 0.0

    flown = Flown(
        mass=number("weight"),
        flap=number("flap"),
        gear=1.0 if "gear" in values and values["gear"].word == "down" else 0.0,
        height=number("height"),
        air=Air(throughout["temperature"].value, throughout["pressure"].value),
        wind=number("over_deck"),
        speed=number("speed") if table == "climb" else 0.0,
        begin=number("from"),
        end=number("to"),
    )
    return [
        Measured(what, f"{_named(what)} {place + 1}{part}", values[key].value, values[spread].value, flown)
        for what, key, spread, part in _numbers(table, values)
        if key in values
    ]


def _together(document: Document, path: KeyPath, values: dict[str, Given]) -> list[Complaint]:
    """What cannot be in one row though each value can."""
    if path[0] == "run" and not any(name in values for name in ("distance", "time", "lift_off")):
        return [document.complain(path, "", "nothing measured stands in this run", "Add distance, time or lift_off")]
    if path[0] == "slow_down" and values["to"].value >= values["from"].value:
        limit = f"less than from, {values['from'].text}, is allowed"
        return [document.complain((*path, "to"), shown(values["to"].text), limit, "It slows down from the faster one")]
    return []


def _named(what: What) -> str:
    return what.value.split(",", maxsplit=1)[0]


def _numbers(table: str, values: dict[str, Given]) -> list[tuple[What, str, str, str]]:
    """What a row measures: what, its key, the key of its spread, what is added to its name."""
    match table:
        case "stall":
            return [(What.STALL, "speed", "spread", "")]
        case "run":
            return [
                (What.RUN, "distance", "spread", ""),
                (What.RUN_TIME, "time", "time_spread", ", time"),
                (What.LIFT_OFF, "lift_off", "lift_off_spread", ", lift-off speed"),
            ]
        case "climb":
            return [(What.CLIMB, "rate", "spread", "")]
        case "level":
            true = values["speed"].kind is KINDS[What.LEVEL_TRUE]
            return [(What.LEVEL_TRUE if true else What.LEVEL, "speed", "spread", "")]
        case _:
            return [(What.SLOW_DOWN, "time", "spread", "")]
