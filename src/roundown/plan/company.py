"""Reading the ships in company with the guide, and the water they have."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from roundown.catalog.load import GIVEN_IN_PLAN, find_entry, read_keys
from roundown.catalog.types import Catalog, Entry
from roundown.documents import Document, KeyPath, shown
from roundown.errors import Complaint, QuantityError
from roundown.figures import Given, key_of
from roundown.plan.facts import CompanyShip
from roundown.plan.schema import COMPANY_KEYS
from roundown.quantities import read_position

MOST = 60  # ships in company
MOST_CORNERS = 200


def read_company(
    document: Document, catalog: Catalog, guide: str
) -> tuple[tuple[CompanyShip, ...], dict[str, Entry], dict[str, Given], list[Complaint]]:
    """The ships in company, the catalog entry of each carrier by her name, what they give by key, and what is wrong.

    guide : name of the plan's [ship]
    """
    raw = document.data.get("company", [])
    if not isinstance(raw, list) or not all(isinstance(row, dict) for row in raw):
        limit = "ships in company are tables in a list"
        return (), {}, {}, [document.complain(("company",), shown(raw), limit, "Write [[company]]")]
    if len(raw) > MOST:
        return (), {}, {}, [document.complain(("company",), f"{len(raw)} ships", f"at most {MOST}", "Leave some out")]
    ships: list[CompanyShip] = []
    rows: list[int] = []
    carriers: dict[str, Entry] = {}
    givens: dict[str, Given] = {}
    complaints: list[Complaint] = []
    for i, row in enumerate(raw):
        path: KeyPath = ("company", i)
        values, wrong = read_keys(document, path, row, COMPANY_KEYS, GIVEN_IN_PLAN)
        complaints += wrong
        if "name" not in values or "role" not in values:
            continue
        name, role = values["name"].word, values["role"].word
        if _alike(name) in {_alike(other) for other in (guide, *(ship.name for ship in ships))}:
            what = "two carriers of one name" if role == "carrier" else "two ships of one name"
            complaints.append(document.complain((*path, "name"), shown(name), what, "Rename one"))
        if "." in name:
            complaints.append(
                document.complain((*path, "name"), shown(name), "no full stop in a ship's name", "Leave it out")
            )
        entry = None
        if role == "carrier" or "ship" in values:
            given = values.get("ship", values["name"])
            found = find_entry(catalog, "ships", given.word)
            if isinstance(found, Entry):
                entry = found
            else:
                complaints.append(document.complain(given.origin.path, shown(given.word), *found))
        if entry is not None and role == "carrier":
            carriers[name] = entry
        greatest = values.get("greatest_speed") or (entry.values.get("greatest_speed") if entry else None)
        givens |= {f"company.{key_of(name)}.{key}": given for key, given in values.items()}
        if greatest is not None:
            givens[f"company.{key_of(name)}.greatest_speed"] = greatest
        rows.append(i)
        ships.append(
            CompanyShip(
                name=name,
                label=entry.label if entry else name,
                role=role,
                bearing=values["bearing"].value if "bearing" in values else 0.0,
                distance=values["distance"].value if "distance" in values else 0.0,
                guards=values["guards"].word if "guards" in values else (guide if role == "plane guard" else ""),
                greatest_speed=greatest.value if greatest else None,
            )
        )
    if guide:  # otherwise that is the complaint
        complaints += _guards(document, rows, ships, {guide, *carriers})
    return tuple(ships), carriers, givens, complaints


def _alike(name: str) -> str:
    """A name without what people do not hear."""
    return " ".join(key_of(name).replace("_", " ").casefold().split())


def _guards(
    document: Document, rows: Sequence[int], ships: Sequence[CompanyShip], carriers: set[str]
) -> list[Complaint]:
    """Whether plane guards, and only they, have a carrier. rows : where each ship stands in the plan."""
    complaints = []
    for i, ship in zip(rows, ships, strict=True):
        path: KeyPath = ("company", i, "guards")
        if ship.role != "plane guard" and ship.guards:
            complaints.append(
                document.complain(path, shown(ship.guards), "only a plane guard guards", 'Write role = "plane guard"')
            )
        elif ship.role == "plane guard" and ship.guards not in carriers:
            remedy = f"Name one of {', '.join(sorted(carriers))}"
            complaints.append(document.complain(path, shown(ship.guards), "no carrier of that name", remedy))
    return complaints


def read_sea_room(document: Document) -> tuple[tuple[tuple[float, float], ...], list[Complaint]]:
    """Corners of the water the group must keep to, latitude and longitude [rad]; none where the plan gives none."""
    raw: Any = document.data.get("sea_room")
    if raw is None:
        return (), []
    path: KeyPath = ("sea_room",)
    example = 'Write [sea_room] and under it corners = ["31 00 S 006 00 W", "31 00 S 004 30 W", "32 30 S 005 00 W"]'
    if not isinstance(raw, Mapping):
        return (), [document.complain(path, shown(raw), "a table is wanted here", example)]
    complaints = [
        document.complain((*path, key), "", "there is no such key here", "Allowed is corners")
        for key in raw
        if key != "corners"
    ]
    corners = raw.get("corners")
    if not isinstance(corners, list) or not 3 <= len(corners) <= MOST_CORNERS:
        many = isinstance(corners, list) and len(corners) > MOST_CORNERS
        given = "" if corners is None else f"{len(corners)} corners" if many else shown(corners)
        limit = f"3 to {MOST_CORNERS} corners are wanted, in order round the water"
        return (), [*complaints, document.complain((*path, "corners"), given, limit, example)]
    places: list[tuple[float, float]] = []
    for i, corner in enumerate(corners):
        try:
            if not isinstance(corner, str):
                raise QuantityError("a position in quotes is wanted", 'Write "31 00 S 006 00 W"')  # noqa: TRY301
            places.append(read_position(corner))
        except QuantityError as error:
            complaints.append(document.complain((*path, "corners", i), shown(corner), error.limit, error.remedy))
    return tuple(places), complaints
