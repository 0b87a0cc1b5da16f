"""Reading the squadrons of a plan: their rosters, and who turned up."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from roundown.catalog.load import GIVEN_IN_PLAN, nearest, read_keys
from roundown.documents import Document, KeyPath, shown
from roundown.errors import Complaint
from roundown.figures import Given, key_of
from roundown.plan.facts import Seat, Squadron
from roundown.plan.muster import reseat
from roundown.plan.schema import SEAT_KEYS, SQUADRON_KEYS

LARGEST = 60  # seats of a squadron
_NUMBERS = ("side", "division", "section")
_EXAMPLE = 'Write roster = [{ side = "11", name = "Vane", division = "1", section = "1", leader = "squadron" }]'


def read_squadrons(document: Document) -> tuple[dict[str, Squadron], dict[str, Given], list[Complaint]]:
    """The squadrons by name, what they give by key, and everything wrong with them and with the muster."""
    raw = document.data.get("squadrons", {})
    if not isinstance(raw, dict):
        return {}, {}, [document.complain(("squadrons",), shown(raw), "squadrons are tables", "Write [squadrons.blue]")]
    squadrons: dict[str, Squadron] = {}
    givens: dict[str, Given] = {}
    complaints: list[Complaint] = []
    sides: dict[str, str] = {}
    names: dict[str, str] = {}
    for name, table in raw.items():
        path: KeyPath = ("squadrons", name)
        if not isinstance(table, dict):
            complaints.append(
                document.complain(path, shown(table), "a squadron is a table", f"Write [squadrons.{name}]")
            )
            continue
        own = {key: value for key, value in table.items() if key != "roster"}
        values, wrong = read_keys(document, path, own, SQUADRON_KEYS, GIVEN_IN_PLAN)
        complaints += wrong
        givens |= {f"squadrons.{name}.{key}": given for key, given in values.items()}
        words = {key: given.word for key, given in values.items()}
        call_sign = words.get("call_sign", "")
        seats, wrong = _roster(document, (*path, "roster"), table.get("roster"), name, call_sign)
        complaints += wrong
        complaints += _doubles(document, path, seats, sides, names)
        squadrons[name] = Squadron(
            name=name,
            label=words.get("label") or name,
            type=words.get("type", ""),
            ship=words.get("ship", ""),
            call_sign=call_sign,
            seats=tuple(seats),
            roster=tuple(seats),
        )
    mustered, wrong = _muster(document, squadrons)
    return mustered, givens, complaints + wrong


def _roster(
    document: Document, path: KeyPath, raw: Any, squadron: str, call_sign: str
) -> tuple[list[Seat], list[Complaint]]:
    if not isinstance(raw, list) or not raw or not all(isinstance(row, dict) for row in raw):
        return [], [document.complain(path, "" if raw is None else shown(raw), "a list of seats is wanted", _EXAMPLE)]
    if len(raw) > LARGEST:
        return [], [
            document.complain(path, f"{len(raw)} seats", f"at most {LARGEST} seats", "Make two squadrons of it")
        ]
    seats: list[Seat] = []
    complaints: list[Complaint] = []
    for i, row in enumerate(raw):
        plain = {key: _as_text(value) if key in _NUMBERS else value for key, value in row.items()}
        values, wrong = read_keys(document, (*path, i), plain, SEAT_KEYS, GIVEN_IN_PLAN)
        complaints += wrong
        words = {key: given.word.strip() for key, given in values.items()}
        numbers = {}
        for part in ("division", "section"):
            text = words.get(part, str(i // 4 + 1 if part == "division" else i % 4 // 2 + 1))
            if not (text.isascii() and text.isdigit() and 1 <= int(text) <= 30):
                limit, remedy = "a number from 1 to 30", f'Write {part} = "1"'
                complaints.append(document.complain((*path, i, part), shown(text), limit, remedy))
                text = "1"
            numbers[part] = int(text)
        seats.append(
            Seat(
                side=words.get("side", ""),
                name=words.get("name", ""),
                squadron=squadron,
                division=numbers["division"],
                section=numbers["section"],
                leader=words.get("leader", ""),
                skill=words.get("skill", "trained"),
                call_sign=words.get("call_sign", f"{call_sign} {i + 1}" if call_sign else ""),
            )
        )
    return seats, complaints


def _as_text(value: Any) -> Any:
    """Numbers of a roster may stand without quotes."""
    return shown(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _doubles(
    document: Document, path: KeyPath, seats: Sequence[Seat], sides: dict[str, str], names: dict[str, str]
) -> list[Complaint]:
    """Side numbers and names that stand twice; remembers those seen."""
    complaints = []
    for i, seat in enumerate(seats):
        for key, word, seen, who in (
            ("side", seat.side, sides, "one side number"),
            ("name", seat.name, names, "one name"),
        ):
            alike = key_of(word) if key == "side" else word
            if word and alike in seen:
                limit = f"two seats of {who}: {seen[alike]} has it too"
                complaints.append(
                    document.complain((*path, "roster", i, key), shown(word), limit, "Change one of them")
                )
            elif word:
                seen[alike] = f"squadron {seat.squadron}"
    return complaints


def _muster(document: Document, squadrons: Mapping[str, Squadron]) -> tuple[dict[str, Squadron], list[Complaint]]:
    """Squadrons with those who turned up in their seats: the table [muster] names the present, or the absent."""
    raw = document.data.get("muster", {})
    path: KeyPath = ("muster",)
    example = 'Write [muster] and under it absent = ["Vane"] or present = ["Pell", "Orme"]'
    if not isinstance(raw, dict):
        return dict(squadrons), [document.complain(path, shown(raw), "a table is wanted here", example)]
    complaints = [
        document.complain((*path, key), "", "there is no such key here", "Allowed are present and absent")
        for key in raw
        if key not in ("present", "absent")
    ]
    if "present" in raw and "absent" in raw:
        complaints.append(document.complain(path, "", "either the present or the absent are named", "Leave one out"))
    known = {seat.name for squadron in squadrons.values() for seat in squadron.seats if seat.name}
    named: dict[str, set[str]] = {}
    for key in ("present", "absent"):
        given = raw.get(key)
        if given is None:
            continue
        if not isinstance(given, list) or not all(isinstance(name, str) for name in given):
            complaints.append(document.complain((*path, key), shown(given), "a list of names is wanted", example))
            continue
        for i, name in enumerate(given):
            if name not in known:
                near = nearest(name, known)
                remedy = f"Did you mean {near}" if near else "Names are those of the rosters"
                complaints.append(document.complain((*path, key, i), shown(name), "nobody of that name", remedy))
        named[key] = set(given)
    if complaints or not named:
        return dict(squadrons), complaints
    return {name: _seated(squadron, named) for name, squadron in squadrons.items()}, []


def _seated(squadron: Squadron, named: Mapping[str, set[str]]) -> Squadron:
    here = [
        seat.name in named["present"] if "present" in named else seat.name not in named["absent"]
        for seat in squadron.seats
    ]
    found = reseat(squadron.seats, here)
    away = tuple(seat.name or seat.side for seat, present in zip(squadron.seats, here, strict=True) if not present)
    return dataclasses.replace(squadron, seats=found.seats, absent=away, moved=found.moved)
