"""The plan file as a JSON Schema (draft 2020-12), from the same tables of keys the reader goes by.

An editor for TOML completes and checks a plan by it. The schema lets through every plan that can be read; what can only
be seen from several keys at once (who is on which roster, what comes before what) is left to the reader.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from roundown.catalog.emergencies import EMERGENCY_KEYS, EMERGENCY_STEP_KEYS
from roundown.catalog.lessons import LESSON_KEYS, LONGEST_LOOK, MOST_LOOKS
from roundown.catalog.lists import MOST as MOST_ENTRIES
from roundown.catalog.lists import PHASES, SIGN_KEYS, STEP_KEYS, WORD_KEYS, ListCatalog
from roundown.catalog.load import FORMAT, example_of
from roundown.catalog.types import DOCTRINE_KEYS, SHIP_KEYS, TYPE_KEYS, Catalog, Key
from roundown.plan import company, events, patterns, radio, squadrons
from roundown.plan.ashore import ASHORE_KEYS
from roundown.plan.patterns import kind_pattern, wind_pattern
from roundown.plan.schema import (
    CHANNEL_KEYS,
    COMPANY_KEYS,
    EVENT_KEYS,
    HOME_KEYS,
    LOADING_KEYS,
    PIN_KEYS,
    SEAT_KEYS,
    SECTIONS,
    SQUADRON_KEYS,
    WIND_KEYS,
)
from roundown.quantities import VARIATION, write

Schema = dict[str, Any]
DIALECT = "https://json-schema.org/draft/2020-12/schema"
_OF_A_PLAN = (*SECTIONS, "company", "squadrons", "event", "muster", "sea_room", "ashore", "override")
_NEEDED_SECTIONS = ("place", "weather", "ship", "doctrine")
_SAID = {
    "place": "where and when the day begins",
    "weather": "wind, air and sea",
    "ship": "the carrier, and what she does between flying",
    "doctrine": "whose practice is flown",
    "aeroplane": "the type that flies, where the plan has no squadrons",
    "cockpit": "what the instruments show",
    "simulator": "what the simulator has otherwise than the real sky",
    "radio": "what is said and shown, and when not",
}


def plan_schema(catalog: Catalog, lists: ListCatalog) -> Schema:
    """The schema of a plan or catalog file.

    catalog, lists : whose names are offered; other names are allowed, since a plan may bring its own
    """
    names = {table: _name(list(entries)) for table, entries in catalog.items()}
    named = {
        "checklist": _name(list(lists.checklists)),
        "signs": _name(list(lists.signs)),
        "words": _name(list(lists.words)),
        "emergencies": _name(list(lists.emergencies)),
        "lessons": _name(list(lists.lessons)),
    }
    properties: Schema = {
        "format": {"description": "format of the file", "const": FORMAT},
        "title": {"description": "one line, for people; else the file's name", "type": "string"},
        "source": {"description": "who gives the values that name no source of their own", **_word()},
        "catalog": _list({"type": "string"}, "files with ships, types and doctrines, beside the plan"),
        **_sections(names),
        "company": _list(_object(COMPANY_KEYS, {"ship": names["ships"]}), "ships in company", most=company.MOST),
        "squadrons": _named("squadrons by name", _squadron(names)),
        "event": _list(_event(), "launches and recoveries", most=events.MOST),
        "muster": _muster(),
        "sea_room": _sea_room(),
        "ashore": _object(ASHORE_KEYS, said="the runway the deck is marked out on, for practice"),
        "override": _object(DOCTRINE_KEYS, named, partial=True, said="values of the doctrine to change"),
        "ships": _named("ships by name", _ship(named)),
        "types": _named("types of aeroplane by name", _object(TYPE_KEYS, named)),
        "doctrines": _named("doctrines by name", _object(DOCTRINE_KEYS, named)),
        "checklists": _named("checklists by name", _checklist()),
        "signs": _named("deck directors' signs by name", _entries(SIGN_KEYS)),
        "words": _named("words of the radio by name", _entries(WORD_KEYS)),
        "emergencies": _named("emergencies by name", _emergencies()),
        "lessons": _named("ladders of lessons by name", _lessons()),
    }
    return {
        "$schema": DIALECT,
        "title": "Air plan or catalog of roundown",
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
        "required": ["format"],
        "if": {"anyOf": [{"required": [section]} for section in _OF_A_PLAN]},
        "then": {
            "required": list(_NEEDED_SECTIONS),
            "anyOf": [{"required": ["aeroplane"]}, {"required": ["squadrons"]}],
        },
    }


# The tables


def _sections(names: Mapping[str, Schema]) -> Schema:
    wind = {"type": "string", "pattern": wind_pattern(), "examples": ["070/12 kt", "calm"]}
    texts: dict[str, dict[str, Schema]] = {
        "place": {
            "position": _position(),
            "date": {"type": "string", "pattern": patterns.DATE, "examples": ["1949-03-17"]},
            "time": {"type": "string", "pattern": patterns.TIME, "examples": ["14:30"]},
            "zone": {"type": "string", "pattern": patterns.ZONE, "examples": ["+10:00", "-9:30", "ZD -10"]},
        },
        "weather": {"surface_wind": wind},
        "ship": {"name": names["ships"]},
        "doctrine": {"name": names["doctrines"]},
        "aeroplane": {"type": names["types"]},
    }
    found = {name: _object(keys, texts.get(name, {}), said=_SAID[name]) for name, keys in SECTIONS.items()}
    found["weather"]["properties"]["winds"] = _list(
        _object(WIND_KEYS, {"wind": wind}), "winds by height, from above 10 m upward"
    )
    found["radio"]["properties"]["channels"] = _list(_object(CHANNEL_KEYS), "channels of the radio", most=radio.MOST)
    found["cockpit"]["properties"]["deviation"] = {
        "description": "the compass card: deviation by magnetic heading; needed for compass headings",
        "type": "object",
        "propertyNames": {"pattern": patterns.HEADING},
        "additionalProperties": {"type": "string", "pattern": kind_pattern(VARIATION)},
        "examples": [{"000": "2 deg E", "180": "1 deg W"}],
    }
    found["cockpit"]["if"] = {"properties": {"headings": {"const": "compass"}}, "required": ["headings"]}
    found["cockpit"]["then"] = {"required": ["deviation"]}
    return found


def _squadron(names: Mapping[str, Schema]) -> Schema:
    whole = {
        "anyOf": [
            {"type": "string", "pattern": patterns.WHOLE_TO_30},
            {"type": "integer", "minimum": 1, "maximum": 30},
        ],
        "examples": [1],
    }
    side = {"anyOf": [_word(), {"type": "integer"}], "examples": ["11"]}
    seat = _object(SEAT_KEYS, {"side": side, "division": whole, "section": whole})
    found = _object(SQUADRON_KEYS, {"type": names["types"]})
    found["properties"]["roster"] = _list(seat, "seats in order of precedence", least=1, most=squadrons.LARGEST)
    found["required"].append("roster")
    return found


def _event() -> Schema:
    when = {
        "type": "string",
        "pattern": patterns.WHEN,
        "examples": ["17:25", "01:20 next day", "sunset - 75 min", "launch + 1 h 30 min"],
    }
    found = _object(EVENT_KEYS, dict.fromkeys(events.TIMES, when))
    found["properties"]["aeroplanes"] = {
        "description": "how many of each squadron, the next of its roster",
        "type": "object",
        "minProperties": 1,
        "additionalProperties": {"type": "integer", "minimum": 1, "maximum": squadrons.LARGEST},
    }
    found["properties"]["seats"] = _list({"type": "string"}, "side numbers in launch order", least=1)
    found["properties"]["catapult"] = _list({"type": "string"}, "side numbers of those that are shot off")
    found["properties"]["loading"] = _named("what each squadron carries, by its name", _object(LOADING_KEYS))
    found["properties"]["home"] = _named("in what state who comes home, by side number", _object(HOME_KEYS))
    found["properties"]["spots"] = _named("places given by hand, by side number", _object(PIN_KEYS))
    found["oneOf"] = [{"required": ["aeroplanes"]}, {"required": ["seats"]}]
    found["anyOf"] = [{"required": ["launch"]}, {"required": ["recovery"]}]
    return found


def _muster() -> Schema:
    return {
        "description": "who turned up: the present or the absent, by the names of the rosters",
        "type": "object",
        "properties": {
            "present": _list({"type": "string"}, "who is here"),
            "absent": _list({"type": "string"}, "who is not here"),
        },
        "additionalProperties": False,
        "not": {"required": ["present", "absent"]},
    }


def _sea_room() -> Schema:
    corners = _list(_position(), "corners, in order round the water", least=3, most=company.MOST_CORNERS)
    return {
        "description": "the water the group must keep to",
        "type": "object",
        "properties": {"corners": corners},
        "additionalProperties": False,
        "required": ["corners"],
    }


def _ship(named: Mapping[str, Schema]) -> Schema:
    found = _object(SHIP_KEYS)
    found["properties"]["override"] = _object(
        DOCTRINE_KEYS, named, partial=True, said="values of the doctrine she brings with her"
    )
    return found


def _checklist() -> Schema:
    found = _entries(())
    del found["properties"]["list"]
    found["properties"] |= {"label": _sourced("what it is of, for people", _word())}
    found["properties"] |= {
        phase: _list(_object(STEP_KEYS), f"{label.lower()}: steps in their order", least=1, most=MOST_ENTRIES)
        for phase, label in PHASES.items()
    }
    found["required"] = ["label"]
    found["anyOf"] = [{"required": [phase]} for phase in PHASES]
    return found


def _emergencies() -> Schema:
    found = _entries(EMERGENCY_KEYS)
    steps = _list(_object(EMERGENCY_STEP_KEYS), "who does what, in order", least=1, most=MOST_ENTRIES)
    entry = found["properties"]["list"]["items"]
    entry["properties"]["steps"] = steps
    entry["required"].append("steps")
    return found


def _lessons() -> Schema:
    found = _entries(LESSON_KEYS)
    line = {"type": "string", "minLength": 1, "maxLength": LONGEST_LOOK}
    entry = found["properties"]["list"]["items"]
    entry["properties"]["look"] = _list(line, "what to look at, in order", least=1, most=MOST_LOOKS)
    entry["required"] += ["look", "standards"]
    return found


def _entries(keys: Sequence[Key]) -> Schema:
    """A named list of entries."""
    return {
        "type": "object",
        "properties": {
            "source": _sourced("who says so, where an entry does not say", _word()),
            "list": _list(_object(keys), "the entries, in the order they are shown", least=1, most=MOST_ENTRIES),
        },
        "additionalProperties": False,
        "required": ["list"],
    }


# Their parts


def _object(
    keys: Sequence[Key], texts: Mapping[str, Schema] | None = None, *, partial: bool = False, said: str = ""
) -> Schema:
    """A table of keys.

    texts : schemas of words that are no kind, by key; partial : nothing is needed; said : what the table is for
    """
    found: Schema = {"type": "object", "properties": {}, "additionalProperties": False, "required": []}
    if said:
        found = {"description": said, **found}
    for key in keys:
        table, needed = found, key.needed and not key.default and not partial
        *above, name = key.name.split(".")
        for part in above:
            inner = {"type": "object", "properties": {}, "additionalProperties": False, "required": []}
            if needed and part not in table["required"]:
                table["required"].append(part)
            table = table["properties"].setdefault(part, inner)
        table["properties"][name] = _value(key, (texts or {}).get(key.name))
        if needed:
            table["required"].append(name)
    return found


def _value(key: Key, text: Schema | None) -> Schema:
    """What stands behind one key: its text, or the text with its source. text : of a word that is no kind."""
    said = [key.meaning, *_limits(key), *(["a range is allowed"] if key.band else [])]
    if key.default:
        said.append(f"if left out: {key.default}")
    if key.by is not None:
        return {
            "description": "; ".join(said),
            "type": "object",
            "minProperties": 1,
            "propertyNames": {"pattern": kind_pattern(key.by)},
            "additionalProperties": _sourced("correction", _text(key)),
            "examples": [{key.by.example: example_of(key)}],
        }
    found = _sourced("; ".join(said), text or _text(key))
    return {**found, "default": key.default} if key.default else found


def _limits(key: Key) -> list[str]:
    """What the least and the greatest allowed are, with their unit."""
    if not key.kinds or not math.isfinite(key.low + key.high):
        return []
    low, high = (write(bound, key.kinds[0], words=True) for bound in (key.low, key.high))
    return [f"{low} to {high}"]


def _text(key: Key) -> Schema:
    """A text of the key's kinds or choices, or any word."""
    if key.choices:
        return {"enum": list(key.choices), "examples": list(key.choices)}
    if not key.kinds:
        return _word()
    text: Schema = {"type": "string", "pattern": kind_pattern(*key.kinds, band=key.band)}
    examples = [example_of(key, kind) for kind in key.kinds]
    if key.kinds[0].dimension == "ratio":
        return {
            "anyOf": [{"type": "number", "minimum": key.low, "maximum": key.high}, text],
            "examples": [float(example) for example in examples],
        }
    return {**text, "examples": examples}


def _sourced(said: str, text: Schema) -> Schema:
    """A text, or a table of the text and its source."""
    plain = {name: part for name, part in text.items() if name != "examples"}
    with_source = {
        "type": "object",
        "properties": {"value": plain, "source": {"description": "who gives the value", **_word()}},
        "additionalProperties": False,
        "required": ["value"],
    }
    examples = {"examples": text["examples"]} if text.get("examples") else {}
    return {"description": said, "anyOf": [plain, with_source], **examples}


def _word() -> Schema:
    return {"type": "string", "pattern": patterns.TEXT}


def _name(known: list[str]) -> Schema:
    """A name: one of those known is offered, another is allowed."""
    return {"anyOf": [{"enum": known}, _word()], "examples": known} if known else _word()


def _position() -> Schema:
    return {"type": "string", "pattern": patterns.POSITION, "examples": ["37 20 S 012 10 W"]}


def _list(item: Schema, said: str, *, least: int = 0, most: int | None = None) -> Schema:
    found: Schema = {"description": said, "type": "array", "items": item}
    if least:
        found["minItems"] = least
    return found if most is None else {**found, "maxItems": most}


def _named(said: str, item: Schema) -> Schema:
    """Tables by a name of one's own."""
    return {"description": said, "type": "object", "additionalProperties": item}
