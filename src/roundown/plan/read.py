"""Reading an air plan: the file, its catalogs and overrides, resolved once into a Day; or every complaint at once."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from roundown.catalog.lists import Checklist, ListCatalog, add_lists, builtin_lists
from roundown.catalog.load import (
    GIVEN_IN_PLAN,
    add_entries,
    builtin_catalog,
    check_format,
    check_names,
    find_entry,
    nearest,
    overlay,
    read_keys,
)
from roundown.catalog.types import DOCTRINE_KEYS, Catalog, Entry
from roundown.documents import Document, KeyPath, open_document, shown
from roundown.errors import Complaint, PlanError, QuantityError
from roundown.figures import Given, Origin, given_number
from roundown.plan.ashore import read_ashore
from roundown.plan.company import read_company, read_sea_room
from roundown.plan.deck import check_loads
from roundown.plan.events import read_events
from roundown.plan.facts import Day, Squadron
from roundown.plan.radio import read_radio
from roundown.plan.schema import SECTIONS, TOP_KEYS
from roundown.plan.sections import read_deviation, read_section, read_winds
from roundown.plan.squadrons import read_squadrons
from roundown.quantities import MASS, VARIATION, read_zone, write

Item = TypeVar("Item")
FIELD = "International Geomagnetic Reference Field for the date and place (environment/magnetism.py)"


@dataclass(frozen=True)
class _Catalogs:
    """What the plan may name: the built-in entries with those of the plan and its files laid beside them."""

    entries: Catalog
    lists: ListCatalog
    documents: tuple[Document, ...]


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
    catalogs, wrong = _catalogs(document)
    complaints += [*wrong, *check_names(document, TOP_KEYS)]
    givens, wrong = _sections(document)
    complaints += wrong
    title = _title(document, complaints)
    start, offset, datum = _start(document, givens, complaints)
    squadrons, values, wrong = read_squadrons(document)
    givens |= values
    complaints += wrong
    guide = givens["ship.name"].word if "ship.name" in givens else ""
    company, carriers, values, wrong = read_company(document, catalogs.entries, guide)
    givens |= values
    complaints += wrong
    events, values, wrong = read_events(document, squadrons, datum)
    givens |= values
    complaints += wrong
    radio, wrong = read_radio(document)
    complaints += wrong
    sea_room, wrong = read_sea_room(document)
    complaints += wrong
    values, wrong = read_ashore(document, givens)
    givens |= values
    complaints += wrong
    squadrons, kinds = _homes(document, catalogs.entries, squadrons, guide, carriers, complaints)
    parts = _resolve(document, catalogs, givens, carriers, squadrons, kinds, complaints)
    complaints += _unknown_lists(document, catalogs, parts.values())
    complaints += check_loads(document, events, squadrons, parts)
    if complaints:
        raise PlanError(sorted(complaints, key=lambda complaint: (complaint.file != document.file, complaint.line)))
    _variation(document, start, parts)
    days = {
        part: Day(
            title=title,
            start=start,
            givens=found,
            documents=catalogs.documents,
            ship=part[0],
            type=part[1],
            offset=offset,
            datum=datum,
            squadrons=squadrons,
            events=events,
            company=company,
            radio=radio,
            sea_room=sea_room,
            checklists=_checklists(catalogs.lists, parts),
            signs=_of_doctrine(catalogs.lists.signs, "signs", found),
            words=_of_doctrine(catalogs.lists.words, "words", found),
            emergencies=_of_doctrine(catalogs.lists.emergencies, "emergencies", found),
            lessons=_of_doctrine(catalogs.lists.lessons, "lessons", found),
        )
        for part, found in parts.items()
    }
    first, *others = days
    return dataclasses.replace(days[first], parts={".".join(part): days[part] for part in others})


def _catalogs(document: Document) -> tuple[_Catalogs, list[Complaint]]:
    """The built-in catalog with the plan's own tables and the files it names."""
    entries, lists, documents = builtin_catalog(), builtin_lists(), [document]
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
        complaints += add_entries(entries, other, "")
        complaints += add_lists(lists, other, "")
    complaints += add_entries(entries, document, GIVEN_IN_PLAN)
    complaints += add_lists(lists, document, GIVEN_IN_PLAN)
    return _Catalogs(entries, lists, tuple(documents)), complaints


def _sections(document: Document) -> tuple[dict[str, Given], list[Complaint]]:
    """The plain tables. A plan with squadrons need not name an aeroplane: theirs are flown."""
    simulator, complaints = read_section(document, "simulator")
    givens = dict(simulator)
    winds_to = "simulator.winds" in simulator and simulator["simulator.winds"].word == "to"
    for section in SECTIONS:
        if section in ("simulator", "radio"):
            continue
        if section == "aeroplane" and "aeroplane" not in document.data and "squadrons" in document.data:
            continue
        values, wrong = read_section(document, section, winds_to=winds_to)
        complaints += wrong
        givens |= values
    values, wrong = read_winds(document, winds_to=winds_to)
    givens |= values
    complaints += wrong
    values, wrong = read_deviation(document, givens)
    givens |= values
    if "weather.pressure" in givens:
        givens.setdefault("cockpit.altimeter", givens["weather.pressure"])
    return givens, complaints + wrong


def _homes(
    document: Document,
    catalog: Catalog,
    squadrons: Mapping[str, Squadron],
    guide: str,
    carriers: Mapping[str, Entry],
    complaints: list[Complaint],
) -> tuple[dict[str, Squadron], dict[str, Entry]]:
    """Squadrons with their carrier filled in, and the entry of every type they fly."""
    found: dict[str, Squadron] = {}
    kinds: dict[str, Entry] = {}
    for name, squadron in squadrons.items():
        path = ("squadrons", name)
        if squadron.type:
            entry = find_entry(catalog, "types", squadron.type)
            if isinstance(entry, Entry):
                kinds[squadron.type] = entry
            else:
                complaints.append(document.complain((*path, "type"), shown(squadron.type), *entry))
        if squadron.ship and squadron.ship != guide and squadron.ship not in carriers:
            known = [carrier for carrier in (guide, *carriers) if carrier]
            near = nearest(squadron.ship, known)
            remedy = f"Did you mean {near}" if near else f"There are {', '.join(known) or 'none'}"
            complaints.append(
                document.complain((*path, "ship"), shown(squadron.ship), "no carrier of that name in the plan", remedy)
            )
        found[name] = dataclasses.replace(squadron, ship=squadron.ship or guide)
    return found, kinds


def _resolve(
    document: Document,
    catalogs: _Catalogs,
    givens: dict[str, Given],
    carriers: Mapping[str, Entry],
    squadrons: Mapping[str, Squadron],
    kinds: Mapping[str, Entry],
    complaints: list[Complaint],
) -> dict[tuple[str, str], dict[str, Given]]:
    """The givens with ship.*, type.* and doctrine.* for each carrier and type that fly, by their names."""

    def entry(table: str, key: str) -> tuple[str, Entry | None]:
        given = givens.pop(key, None)
        if given is None:
            return "", None
        found = find_entry(catalogs.entries, table, given.word)
        if isinstance(found, Entry):
            return given.word, found
        complaints.append(document.complain(given.origin.path, shown(given.word), *found))
        return given.word, None

    guide, ship = entry("ships", "ship.name")
    first, kind = entry("types", "aeroplane.type")
    _, doctrine = entry("doctrines", "doctrine.name")
    weight = givens.pop("aeroplane.weight", None)
    over, wrong = read_keys(
        document, ("override",), document.data.get("override", {}), DOCTRINE_KEYS, GIVEN_IN_PLAN, partial=True
    )
    complaints += wrong
    for each in filter(None, (ship, *carriers.values())):
        _speeds(document, catalogs.documents, each, complaints)
    pairs: list[tuple[str, str, Entry | None]] = [(guide, first, kind)] if kind is not None else []
    for squadron in squadrons.values():
        pair = (squadron.ship, squadron.type, kinds.get(squadron.type))
        if squadron.seats and pair[:2] not in [known[:2] for known in pairs]:
            pairs.append(pair)
    parts: dict[tuple[str, str], dict[str, Given]] = {}
    for where, what, type_entry in pairs:
        hers = ship if where == guide else carriers.get(where)
        if hers is None or type_entry is None or doctrine is None:
            continue
        found = dict(givens)
        merged = overlay(overlay(doctrine.values, hers.overrides), over)
        found |= {f"doctrine.{name}": given for name, given in merged.items()}
        found |= {f"ship.{name}": given for name, given in hers.values.items()}
        found |= {f"type.{name}": given for name, given in type_entry.values.items()}
        if weight is not None and what == first:
            complaints += _weight(document, weight, found)
            found |= overlay(found, {"type.landing_weight": weight})
        parts[where, what] = found
    if not parts and not complaints:
        limit = "nobody is left to fly: no aeroplane is named, or everyone is absent"
        complaints.append(document.complain(("squadrons",), "", limit, "Name who is present in [muster]"))
    return parts


def _weight(document: Document, weight: Given, givens: Mapping[str, Given]) -> list[Complaint]:
    """A weight on coming aboard that the type cannot have, where its weights are known."""
    parts = [givens.get(f"type.launch.{name}_weight") for name in ("empty", "fuel", "stores")]
    known = [part.value for part in parts if part is not None]
    if parts[0] is None or parts[1] is None or known[0] * (1.0 - 1e-9) <= weight.value <= sum(known) * (1.0 + 1e-9):
        return []
    limit = f"{write(known[0], MASS)} empty to {write(sum(known), MASS)} full is allowed"
    return [document.complain(weight.origin.path, shown(weight.text), limit, "Choose another weight or type")]


def _speeds(document: Document, documents: tuple[Document, ...], ship: Entry, complaints: list[Complaint]) -> None:
    low, high = ship.values.get("least_speed"), ship.values.get("greatest_speed")
    if low and high and low.value > high.value:
        hers = next((each for each in documents if each.file == low.origin.file), document)
        complaints.append(
            hers.complain(low.origin.path, shown(low.text), "least speed is above the greatest", "Exchange the two")
        )


def _unknown_lists(document: Document, catalogs: _Catalogs, parts: Iterable[Mapping[str, Given]]) -> list[Complaint]:
    """Checklists, and lists of a doctrine, that are named but not there; each told once."""
    lists = catalogs.lists
    found: dict[tuple[str, KeyPath], Complaint] = {}
    for givens in parts:
        for key, what, known in (
            ("type.checklist", "checklists", lists.checklists),
            ("doctrine.signs", "signs", lists.signs),
            ("doctrine.words", "words", lists.words),
            ("doctrine.emergencies", "emergencies", lists.emergencies),
            ("doctrine.lessons", "lessons", lists.lessons),
        ):
            given = givens.get(key)
            if given is None or given.word in known:
                continue
            near = nearest(given.word, known)
            remedy = f"Did you mean {near}" if near else f"There are {', '.join(known) or 'none'}"
            where = next((each for each in catalogs.documents if each.file == given.origin.file), document)
            limit = f"there are no {what} of that name"
            complaint = where.complain(given.origin.path, shown(given.word), limit, remedy)
            found[given.origin.file, given.origin.path] = complaint
    return list(found.values())


def _of_doctrine(known: Mapping[str, tuple[Item, ...]], table: str, givens: Mapping[str, Given]) -> tuple[Item, ...]:
    """The list of one kind that a day's doctrine names; nothing where it names none."""
    named = givens.get(f"doctrine.{table}")
    return () if named is None else known.get(named.word, ())


def _checklists(lists: ListCatalog, parts: Mapping[tuple[str, str], Mapping[str, Given]]) -> dict[str, Checklist]:
    """The checklists of each type that flies and has some, by the type's name."""
    named = {kind: found["type.checklist"].word for (_, kind), found in parts.items() if "type.checklist" in found}
    return {kind: lists.checklists[name] for kind, name in named.items() if name in lists.checklists}


def _title(document: Document, complaints: list[Complaint]) -> str:
    title = document.data.get("title", "")
    if not isinstance(title, str) or len(title.splitlines()) > 1:
        complaints.append(
            document.complain(("title",), shown(title), "a title is one line of text in quotes", "Put it in quotes")
        )
        title = ""
    return title or Path(document.file).stem


def _start(
    document: Document, givens: dict[str, Given], complaints: list[Complaint]
) -> tuple[dt.datetime, float, float]:
    """The datum time in universal time, what the ship's clock is ahead of it [s], and the time on that clock [s]."""
    date, time, offset = dt.date(2000, 1, 1), dt.time(), 0.0
    given = givens.get("place.date")
    if given is not None:
        try:
            date = dt.date.fromisoformat(given.word)
        except ValueError:
            complaints.append(_no_moment(document, given, "not a date", "1949-03-17"))
        if not 1900 <= date.year <= 2050:
            complaints.append(
                document.complain(given.origin.path, shown(given.word), "years 1900 to 2050", "Choose another date")
            )
            date = dt.date(2000, 1, 1)
    given = givens.get("place.zone")
    if given is not None:
        try:
            offset = read_zone(given.word)
        except QuantityError as error:
            complaints.append(document.complain(given.origin.path, shown(given.word), error.limit, error.remedy))
    given = givens.get("place.time")
    if given is not None:
        try:
            time = dt.time.fromisoformat(given.word)
        except ValueError:
            complaints.append(_no_moment(document, given, "not a time", "14:30"))
        if time.utcoffset() or (time.tzinfo is not None and offset):
            complaints.append(_no_moment(document, given, "a time by the ship's clock, without an offset", "14:30"))
    datum = 3600.0 * time.hour + 60.0 * time.minute + time.second + 1e-6 * time.microsecond
    midnight = dt.datetime(date.year, date.month, date.day, tzinfo=dt.UTC)
    return midnight + dt.timedelta(seconds=datum - offset), offset, datum


def _no_moment(document: Document, given: Given, limit: str, example: str) -> Complaint:
    return document.complain(given.origin.path, shown(given.word), limit, f'Write "{example}"')


def _variation(document: Document, start: dt.datetime, parts: Mapping[tuple[str, str], dict[str, Given]]) -> None:
    """Fill in the variation of the date where the plan gives none. Raises PlanError where the field is not known."""
    from roundown.environment.magnetism import FIRST, LAST, variation

    for givens in parts.values():
        if "place.variation" in givens:
            continue
        if not FIRST <= start.date() <= LAST:
            limit = f"the earth's field is known from {FIRST.year} to {LAST.year}"
            remedy = 'Give variation = "7 deg E" under [place]'
            raise PlanError([document.complain(("place", "date"), shown(givens["place.date"].word), limit, remedy)])
        found = variation(givens["place.latitude"].value, givens["place.longitude"].value, start.date())
        guessed = any(givens[key].origin.source.startswith("estimated") for key in ("place.latitude", "place.date"))
        source = f"estimated, as place or date are: {FIELD}" if guessed else FIELD
        givens["place.variation"] = given_number(found, VARIATION, Origin("built-in", (), source))
