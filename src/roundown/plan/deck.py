"""Reading what an event says by squadron or seat: loads, pinned places, catapult, and in what state who comes home."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from roundown.catalog.load import GIVEN_IN_PLAN, nearest, read_keys
from roundown.documents import Document, KeyPath, shown
from roundown.errors import Complaint
from roundown.figures import Given, Givens, key_of
from roundown.plan.facts import FlyingEvent, Seat, Squadron
from roundown.plan.schema import HOME_KEYS, LOADING_KEYS, PIN_KEYS

DECK_KEYS = ("loading", "spots", "catapult", "home")


def read_deck(
    document: Document, path: KeyPath, row: Mapping[str, Any], squadrons: Mapping[str, Squadron], seats: Sequence[Seat]
) -> tuple[dict[str, Given], tuple[str, ...], list[Complaint]]:
    """What the event's tables give by key below it, who is catapulted, and everything wrong with them.

    path, row : of the event; seats : that fly
    """
    loading = {table: row.get(table, {}) for table in ("loading", "spots", "home")}
    known: dict[str, tuple[Sequence[str], str]] = {
        "loading": (tuple(squadrons), "no squadron of that name"),
        "spots": (tuple(seat.side for seat in seats), "no seat of that number flies in this event"),
        "home": (tuple(seat.side for seat in seats), "no seat of that number flies in this event"),
    }
    keys = {"loading": LOADING_KEYS, "spots": PIN_KEYS, "home": HOME_KEYS}
    examples = {
        "loading": 'loading = { blue = { fuel = "900 lb" } }',
        "spots": 'spots = { "11" = { ahead = "90 ft" } }',
        "home": 'home = { "11" = { fuel = "300 lb", trouble = "hook" } }',
    }
    givens: dict[str, Given] = {}
    complaints: list[Complaint] = []
    for table, raw in loading.items():
        if not isinstance(raw, dict):
            remedy = f"Write {examples[table]}"
            complaints.append(document.complain((*path, table), shown(raw), "a table is wanted here", remedy))
            continue
        names, limit = known[table]
        rostered = {seat.side for squadron in squadrons.values() for seat in squadron.roster}
        for name, own in raw.items():
            here = (*path, table, name)
            if name not in names and not (table != "loading" and name in rostered):
                near = nearest(name, names)
                remedy = f"Did you mean {near}" if near else f"There are {', '.join(names) or 'none'}"
                complaints.append(document.complain(here, "", limit, remedy))
                continue
            values, wrong = read_keys(document, here, own, keys[table], GIVEN_IN_PLAN)
            complaints += wrong
            givens |= {f"{table}.{key_of(name)}.{key}": given for key, given in values.items()}
    complaints += _both(document, path, row, loading["loading"])
    catapult, wrong = _catapult(document, (*path, "catapult"), row.get("catapult", []), seats, squadrons)
    return givens, catapult, complaints + wrong


def _catapult(
    document: Document, path: KeyPath, raw: Any, seats: Sequence[Seat], squadrons: Mapping[str, Squadron]
) -> tuple[tuple[str, ...], list[Complaint]]:
    if not isinstance(raw, list) or not all(isinstance(side, str) for side in raw):
        remedy = 'Write catapult = ["11", "12"]'
        return (), [document.complain(path, shown(raw), "a list of side numbers is wanted", remedy)]
    flying = {seat.side for seat in seats}
    rostered = {seat.side for squadron in squadrons.values() for seat in squadron.roster}
    complaints = [
        document.complain((*path, i), shown(side), "no seat of that number", "Side numbers are those of the rosters")
        for i, side in enumerate(raw)
        if side not in rostered
    ]
    return tuple(side for side in raw if side in flying), complaints


def _both(document: Document, path: KeyPath, row: Mapping[str, Any], loading: Any) -> list[Complaint]:
    """Power said twice."""
    rows = [(path, row)]
    if isinstance(loading, dict):
        rows += [((*path, "loading", name), own) for name, own in loading.items() if isinstance(own, dict)]
    return [
        document.complain((*here, "power"), "", "power is given as a part or by manifold pressure", "Leave one out")
        for here, own in rows
        if "power" in own and "manifold_pressure" in own
    ]


def load_said(givens: Givens, event: str, squadron: str) -> dict[str, Given]:
    """What an event says of a squadron's load: by squadron, or else for all. event : its name as part of a key."""
    found: dict[str, Given] = {}
    for stem in (f"event.{event}", f"event.{event}.loading.{key_of(squadron)}"):
        own = {key.name: givens[f"{stem}.{key.name}"] for key in LOADING_KEYS if f"{stem}.{key.name}" in givens}
        for name, other in (("power", "manifold_pressure"), ("manifold_pressure", "power")):
            if name in own:
                found.pop(other, None)
        found |= own
    return found


_LIMITS = {
    "fuel": ("launch.fuel_weight", "full tanks hold"),
    "stores": ("launch.stores_weight", "it carries at most"),
    "manifold_pressure": ("launch.full_pressure", "full power has"),
    "braked_pressure": ("launch.full_pressure", "full power has"),
}


def check_loads(
    document: Document,
    events: Iterable[FlyingEvent],
    squadrons: Mapping[str, Squadron],
    parts: Mapping[tuple[str, str], Givens],
) -> list[Complaint]:
    """Loads that the type of a squadron cannot have, each told once. parts : the givens by carrier and type."""
    found: dict[KeyPath, Complaint] = {}
    for event in events:
        for name in dict.fromkeys(seat.squadron for seat in event.seats):
            squadron = squadrons[name]
            givens = parts.get((squadron.ship, squadron.type), {})
            if "type.launch.empty_weight" not in givens:
                continue
            for key, given in load_said(givens, key_of(event.name), name).items():
                most = givens.get(f"type.{_LIMITS[key][0]}") if key in _LIMITS else None
                if most is not None and given.value > most.value * (1.0 + 1e-9):
                    limit = f"{_LIMITS[key][1]} {most.text} in {squadron.type}"
                    complaint = document.complain(given.origin.path, shown(given.text), limit, "Take no more than that")
                    found.setdefault(given.origin.path, complaint)
    return list(found.values())
