"""The JSON Schema of the plan lets through what is read and refuses what is plainly wrong.

The judge is the library jsonschema.
"""

from __future__ import annotations

import copy
import datetime as dt
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from roundown import quantities as q
from roundown.catalog.lists import builtin_lists
from roundown.catalog.load import builtin_catalog, example_of
from roundown.catalog.types import DOCTRINE_KEYS, TABLES, Key
from roundown.documents import Document, parse_document
from roundown.errors import PlanError, QuantityError
from roundown.plan import patterns
from roundown.plan.draft import Sketch, draft_plan
from roundown.plan.json_schema import plan_schema
from roundown.plan.read import day_of
from roundown.plan.schema import (
    CHANNEL_KEYS,
    COMPANY_KEYS,
    EVENT_KEYS,
    SEAT_KEYS,
    SECTIONS,
    SQUADRON_KEYS,
    TOP_KEYS,
    WIND_KEYS,
)
from roundown.quantities import ALL_KINDS, DEGREE, FOOT, KNOT, POUND, Kind, read, read_position, read_wind, read_zone
from roundown.schedule.when import OWN, SKY, read_when

ROOT = resources.files("roundown")
PLANS = {name: ROOT.joinpath("plan", name).read_text("utf-8") for name in ("demo.toml", "larger.toml")}
CATALOGS = {
    file.name: file.read_text("utf-8")
    for folder in ("data", "procedures")
    for file in ROOT.joinpath("catalog", folder).iterdir()
    if file.name.endswith(".toml")
}
FILES = {file.name: file.read_text("utf-8") for file in (Path(__file__).parents[1] / "files").glob("*.toml")}
DRAFT = draft_plan(
    Sketch(30 * KNOT, 65 * FOOT, 85 * KNOT, 70 * KNOT, 120 * KNOT, 9800 * POUND, 750 * FOOT, 70 * DEGREE, 12 * KNOT),
    "070/12 kt",
)


@cache
def schema() -> dict[str, Any]:
    return plan_schema(builtin_catalog(), builtin_lists())


@cache
def validator() -> Any:
    return Draft202012Validator(schema())


def plain(part: Any) -> Any:
    """As an editor sees it: JSON has no dates and times."""
    if isinstance(part, dict):
        return {name: plain(item) for name, item in part.items()}
    if isinstance(part, list):
        return [plain(item) for item in part]
    return part.isoformat() if isinstance(part, (dt.date, dt.time)) else part


def faults(text: str) -> list[str]:
    data = plain(tomllib.loads(text.replace("\r\n", "\n")))
    return [f"{error.json_path}: {error.message}" for error in validator().iter_errors(data)]


# What it lets through


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("text", [*PLANS.values(), *FILES.values(), DRAFT], ids=[*PLANS, *FILES, "draft"])
def test_plans_that_are_read_are_let_through(text: str) -> None:
    assert faults(text) == []


@pytest.mark.parametrize("text", CATALOGS.values(), ids=CATALOGS)
def test_catalogs_are_let_through(text: str) -> None:
    assert faults(text) == []


EVERYTHING = """\
format = 1
title = "Everything"
source = "own notes"
catalog = ["mine.toml"]
[place]
position = { value = "31 40.5 S, 5 20 W", source = "chart" }
date = { value = 1949-03-17, source = "x" }
time = 16:00:00
zone = "ZD +1"
variation = "0 deg"
[weather]
surface_wind = "calm"
wind_profile = "uniform"
temperature = "59 F"
pressure = "1010 mb"
swell = "2 m"
winds = [{ height = "500 ft over sea", wind = "070.5 / 12 knots" }]
[ship]
name = "punt"
base_course = "185 deg true"
base_speed = "16 kt through water"
regain_speed = "17.5 kt"
[doctrine]
name = "thursday"
[aeroplane]
type = "wren"
weight = "4,000 kg"
[cockpit]
headings = "compass"
deviation = { "000" = "2 deg E", "359" = "1° W" }
altimeter = "29.92 inHg"
[simulator]
winds = "to"
sunset = "18:10"
civil_dusk = 18:30:00
[radio]
silence = "always"
channels = [{ name = "A", use = "landing", frequency = "140.58", call_sign = "Hearth" }]
[[company]]
name = "Sister"
ship = "lintel"
role = "carrier"
bearing = "P90"
distance = "4 nm"
[[company]]
name = "Tern Rock"
role = "escort"
bearing = "0 deg"
distance = "3000 m"
greatest_speed = "34 kt"
[squadrons.amber]
type = "ottery"
roster = [{ side = 11, division = 1, section = "2" }, { side = "12", name = { value = "Pell", source = "list" } }]
[[event]]
name = "one"
launch = 17:25:00
push = "Launch + 20 min"
time_on_target = "sunset\N{MINUS SIGN}5 min"
recovery = "01:20 next day"
aeroplanes = { amber = 2 }
[[event]]
name = "two"
recovery = "moonset"
seats = ["11"]
[muster]
present = []
[sea_room]
corners = ["31 S 6 W", "31 S 4 W", "33 S 5 W"]
[override.circuit]
break_bank = { value = "20-28 deg", source = "club rule" }
break_place = "700 yd ahead of ramp"
[ships.punt]
label = "Punt"
override.circuit.interval = "40 s"
[types.wren]
position_error = { "80 kt" = "2 kt", "120 kt" = { value = "5 kt", source = "dial" } }
lift_flap = 1.82
[words.ours]
list = [{ word = "Charlie", means = "land" }]
[checklists.wren]
label = "wren"
start = [{ do = "brakes on", verify = "toes", name = "brakes" }, { do = "start", after = "brakes", source = "x" }]
"""


def test_everything_a_plan_may_hold_is_let_through() -> None:
    """A ship and a type here lack keys, which is told and nothing else."""
    said = [fault for fault in faults(EVERYTHING) if "is a required property" not in fault]
    assert said == []


def test_every_key_of_the_tables_is_in_it() -> None:
    properties = schema()["properties"]
    assert set(properties) == set(TOP_KEYS)

    def inner(table: dict[str, Any], key: Key) -> dict[str, Any]:
        for part in key.name.split("."):
            table = table["properties"][part]
        return table

    tables = [(properties[name], keys) for name, keys in SECTIONS.items()]
    tables += [(properties[name]["additionalProperties"], keys) for name, keys in TABLES.items()]
    tables += [
        (properties["override"], DOCTRINE_KEYS),
        (properties["ships"]["additionalProperties"]["properties"]["override"], DOCTRINE_KEYS),
        (properties["company"]["items"], COMPANY_KEYS),
        (properties["event"]["items"], EVENT_KEYS),
        (properties["squadrons"]["additionalProperties"], SQUADRON_KEYS),
        (properties["squadrons"]["additionalProperties"]["properties"]["roster"]["items"], SEAT_KEYS),
        (properties["radio"]["properties"]["channels"]["items"], CHANNEL_KEYS),
        (properties["weather"]["properties"]["winds"]["items"], WIND_KEYS),
    ]
    for table, keys in tables:
        for key in keys:
            found = inner(table, key)
            assert found["description"].startswith(key.meaning), key.name
            assert found.get("default", "") == key.default or key.by is not None, key.name


def tables_of(part: Any) -> Iterator[dict[str, Any]]:
    if isinstance(part, dict):
        yield part
        for item in part.values():
            yield from tables_of(item)
    elif isinstance(part, list):
        for item in part:
            yield from tables_of(item)


def test_every_example_and_default_is_let_through_by_its_own_key() -> None:
    count = 0
    for part in tables_of(schema()):
        if isinstance(part.get("description"), str) and ("anyOf" in part or "type" in part):
            for example in [*part.get("examples", []), *([part["default"]] if "default" in part else [])]:
                assert Draft202012Validator(part).is_valid(example), (part["description"], example)
                count += 1
    assert count > 200


def test_limits_and_ranges_are_told_with_their_units() -> None:
    bank = schema()["properties"]["override"]["properties"]["circuit"]["properties"]["break_bank"]
    assert bank["description"] == "bank of the break; 5.0 deg to 60.0 deg; a range is allowed"
    swell = schema()["properties"]["weather"]["properties"]["swell"]
    assert swell["description"].endswith("; 0 ft to 100 ft; if left out: 0 ft")


def test_names_are_offered_and_others_allowed() -> None:
    ship = schema()["properties"]["ship"]["properties"]["name"]
    assert {"corbel", "lintel"} <= set(ship["examples"])
    assert "mine" not in ship["examples"]
    kind = schema()["properties"]["squadrons"]["additionalProperties"]["properties"]["type"]
    assert {"ottery", "brindle", "sallow"} <= set(kind["examples"])


# What it refuses

DEMO = PLANS["demo.toml"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("format = 1", "format = 2"),
        ("[place]", "[plaice]"),
        ("base_course", "base_corse"),
        ("[radio]", '[music]\nx = "y"\n[radio]'),
        ('base_course = "185"\n', ""),
        ("date = 1949-03-17\n", ""),
        ('[doctrine]\nname = "fast-carrier-1944"\n', ""),
        ("1949-03-17", '"17 March 1949"'),
        ('"16 kt"', '"16"'),
        ('"16 kt"', '"16 ft"'),
        ('"16 kt"', "16"),
        ('"16 kt"', '""'),
        ('"16 kt"', '{ value = "16 kt", sauce = "x" }'),
        ('"16 kt"', '{ value = "16 kt", source = " " }'),
        ('"500 ft over sea"', '"500 ft"'),
        ('"500 ft over sea"', '"500 ft over deck"'),
        ('"140/11 kt"', '"breezy"'),
        ('"185"', '"185 magnetic"'),
        ('"magnetic"', '"magnetik"'),
        ('"magnetic"', '"compass"'),
        ('role = "escort"', 'role = "tanker"'),
        ('"60 deg starboard"', '"60 deg left"'),
        ('skill = "novice"', 'skill = "green"'),
        ("division = 1", "division = 0"),
        ('side = "11", ', ""),
        ("aeroplanes = { amber = 4 }", ""),
        ("aeroplanes = { amber = 4 }", 'aeroplanes = { amber = 4 }\nseats = ["11"]'),
        ("amber = 4", "amber = 0"),
        ("amber = 4", "amber = true"),
        ('"launch + 12 min"', '"launch + 12"'),
        ('launch = "sunset - 110 min"\n', 'load = "x"\n# '),
        ('"31 10 S 006 00 W", "31 10 S 004 30 W", ', '"31 10 S 006 00 W"]\n# '),
        ('"31 10 S 006 00 W"', '"the cape"'),
        ('zone = "+00:00"', 'zone = "GMT"'),
        ("# [muster]", '[muster]\nabsent = ["Pell"]\npresent = []\n#'),
        ("# [muster]", '[muster]\naway = ["Pell"]\n#'),
        ("# [override.circuit]", '[override.circuit]\nbrake_bank = "28 deg"\n#'),
        ("# [override.circuit]", '[override.circuit]\nhand = "port"\n#'),
    ],
)  # fmt: skip
def test_what_is_plainly_wrong_is_refused(old: str, new: str) -> None:
    """The reader refuses it too."""
    assert old in DEMO
    text = DEMO.replace(old, new, 1)
    if old.startswith("launch ="):
        text = text.replace('recovery = "sunset - 45 min"\n', "", 1).replace('push = "launch + 12 min"\n', "", 1)
    assert faults(text)
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document), document
    with pytest.raises(PlanError):
        day_of(document)


def test_a_plan_needs_an_aeroplane_or_squadrons_and_a_catalog_neither() -> None:
    short = DEMO[: DEMO.index("[squadrons")]
    assert faults(short)
    assert not faults(short + '[aeroplane]\ntype = "ottery"\n')
    assert not faults("format = 1\n")
    assert faults("[ships]\n")


# Patterns against the readers of the texts

# the marks of numbers, units and words, put together anyhow
PIECES = st.sampled_from([
    "0", "7", "12", "070", "4.5", ".5", "1,200", "+", "-", "\N{MINUS SIGN}", "\N{EN DASH}", " ", "  ", "/", " to ", ":",
    "kt", "knots", "ft", "yd", "nm", "deg", "°", "s", "min", "h", "lb", "inHg", "C", "g", "kt/min", "m/s2", "over sea",
    "over deck", "over ramp", "ahead of bow", "ahead of ramp", "indicated", "true", "T", "magnetic", "port",
    "starboard", "E", "W", "N", "S", "P", "p", "ZD", "Z", "calm", "Calm", "next day", "day before", "days", "\t", "\n",
])  # fmt: skip
ANYHOW = st.lists(PIECES, min_size=1, max_size=7).map("".join)
NUMBERS = st.one_of(
    st.decimals(-2000, 20_000, places=2).map(str),
    st.integers(0, 5_000_000).map(lambda number: f"{number:,}"),
    st.integers(0, 360).map(lambda number: f"{number:03d}"),
)


def units(kind: Kind) -> st.SearchStrategy[str]:
    return st.sampled_from([*q.spellings(kind), kind.unit, ""])


@st.composite
def likely(draw: st.DrawFn, kind: Kind) -> str:
    """Texts much like those of a kind."""
    gap = st.sampled_from(["", " ", "  "])
    text = draw(st.sampled_from(["", " "])) + draw(NUMBERS)
    if draw(st.booleans()):
        text += (
            draw(gap) + draw(st.sampled_from(["-", "\N{EN DASH}", "to", "\N{MINUS SIGN}"])) + draw(gap) + draw(NUMBERS)
        )
    return text + draw(gap) + draw(units(kind)) + draw(gap) + draw(st.sampled_from([*kind.words, ""])) + draw(gap)


def lets_through(pattern: str, text: str) -> bool:
    return re.search(pattern, text) is not None


@pytest.mark.parametrize("kind", ALL_KINDS, ids=lambda kind: f"{kind.name} in {kind.unit}")
@pytest.mark.parametrize("band", [True, False], ids=["range", "one"])
def test_every_text_read_as_a_kind_is_let_through(kind: Kind, *, band: bool) -> None:
    pattern = patterns.kind_pattern(kind, band=band)

    @given(st.one_of(likely(kind), ANYHOW, LIKELY_WORDS) if kind is q.CLOCK_TIME else st.one_of(likely(kind), ANYHOW))
    def whatever_is_read(text: str) -> None:
        try:
            read(text, kind, band=band)
        except QuantityError:
            return
        assert lets_through(pattern, text)

    assert lets_through(pattern, kind.example) or not band
    search(whatever_is_read)


def search(test: Any) -> None:
    settings(suppress_health_check=list(HealthCheck), deadline=None, max_examples=60)(test)()


WORDS = {
    "wind": (read_wind, patterns.wind_pattern()),
    "position": (read_position, patterns.POSITION),
    "zone": (read_zone, patterns.ZONE),
    "time of an event": (read_when, patterns.WHEN),
    "date": (dt.date.fromisoformat, patterns.DATE),
    "time": (dt.time.fromisoformat, patterns.TIME),
}
LIKELY_WORDS = st.one_of(
    ANYHOW,
    st.builds("{:03d}/{} kt".format, st.integers(0, 370), st.integers(-3, 120)),
    st.builds("{:02d} {:02d} {} {:03d} {:02d}.5 {}".format, st.integers(0, 99), st.integers(0, 70),
              st.sampled_from("NS"), st.integers(0, 190), st.integers(0, 70), st.sampled_from("EW")),
    st.builds("{}{:d}:{:02d}".format, st.sampled_from(["+", "-", "ZD -", "ZD+", ""]), st.integers(0, 30),
              st.integers(0, 70)),
    st.builds("{} {} {} {}".format, st.sampled_from([*SKY, *OWN, "Sunset", "LAUNCH", "noon"]),
              st.sampled_from("+-\N{MINUS SIGN}"), st.sampled_from(["5", "1.5", "1 h 30"]),
              st.sampled_from(["h", "min", "s", ""])),
    st.times().map(lambda time: time.isoformat(timespec="minutes")),
    st.times().map(dt.time.isoformat),
    st.builds("{:02d}:{:02d} {}".format, st.integers(0, 25), st.integers(0, 65),
              st.sampled_from(["next day", "day before", "+2 days", "-10 days", ""])),
    st.dates().map(dt.date.isoformat),
    st.dates().map(lambda date: date.strftime("%G-W%V-%u")),
)  # fmt: skip


@pytest.mark.parametrize("name", WORDS)
def test_every_text_read_by_a_reader_of_its_own_is_let_through(name: str) -> None:
    reader, pattern = WORDS[name]

    @given(LIKELY_WORDS)
    def whatever_is_read(text: str) -> None:
        try:
            reader(text)
        except (QuantityError, ValueError):
            return
        assert lets_through(pattern, text)

    search(whatever_is_read)


@pytest.mark.parametrize("kind", ALL_KINDS, ids=lambda kind: f"{kind.name} in {kind.unit}")
def test_a_word_of_another_sort_is_not_let_through(kind: Kind) -> None:
    pattern = patterns.kind_pattern(kind, band=True)
    for text in ("", "breezy", "12 parsecs", "12 kt over the moon"):
        assert not lets_through(pattern, text)


def test_every_example_of_the_tables_is_let_through() -> None:
    for keys in (*SECTIONS.values(), *TABLES.values(), COMPANY_KEYS, WIND_KEYS):
        for key in keys:
            for kind in key.kinds:
                assert lets_through(patterns.kind_pattern(*key.kinds, band=key.band), example_of(key, kind)), key.name


# Spoilt plans


@given(st.integers(0, 10_000), st.sampled_from(["", "nonsense", "0", "12 ft"]))
def test_whatever_the_schema_refuses_the_reader_refuses(seed: int, junk: str) -> None:
    """One text of the demo replaced by another: a plan that is read is let through."""
    data = copy.deepcopy(tomllib.loads(DEMO))
    places = [(table, key) for table in tables_of(data) for key, value in table.items() if isinstance(value, str)]
    table, key = places[seed % len(places)]
    table[key] = junk
    if validator().is_valid(plain(data)):
        return
    with pytest.raises(PlanError):
        day_of(Document("plan.toml", "", data))
