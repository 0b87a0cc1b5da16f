"""Values that cannot be together are complained of, with the limit; types without launch keys are read as before."""

from __future__ import annotations

import pytest

from roundown.catalog.launch_keys import (
    FOR_THE_RUN,
    FOR_THE_SETTINGS,
    FOR_THE_SPOT,
    SHIP_LAUNCH_KEYS,
    TYPE_LAUNCH_KEYS,
    missing,
)
from roundown.catalog.load import add_entries, builtin_catalog
from roundown.catalog.types import SHIP_KEYS, TABLES, TYPE_KEYS, Catalog
from roundown.documents import Document, parse_document

OTTERY = builtin_catalog()["types"]["ottery"].values
CORBEL = builtin_catalog()["ships"]["corbel"].values


def complaints_of(table: str, changes: dict[str, str], leave_out: str = "") -> tuple[Catalog, list[str]]:
    """What is wrong with an entry of the built-in catalog after changes to its texts."""
    base = OTTERY if table == "types" else CORBEL
    texts = {name: given.text for name, given in base.items() if not leave_out or not name.startswith(leave_out)}
    lines = [f'{name} = "{text}"' for name, text in (texts | changes).items()]
    document = parse_document("mine.toml", f'source = "own"\n[{table}.mine]\n' + "\n".join(lines))
    assert isinstance(document, Document), document
    catalog: Catalog = {name: {} for name in TABLES}
    return catalog, [str(complaint) for complaint in add_entries(catalog, document, "")]


@pytest.mark.parametrize("table", ["types", "ships"])
def test_built_in_values_can_be_together(table: str) -> None:
    assert complaints_of(table, {})[1] == []


def test_a_type_without_launch_keys_is_read_and_names_what_it_lacks() -> None:
    catalog, complaints = complaints_of("types", {}, leave_out="launch.")
    assert complaints == []
    values = catalog["types"]["mine"].values
    assert missing(values, FOR_THE_RUN) == list(FOR_THE_RUN)
    given = {name for name in values if name.startswith("launch.")}
    assert given == {key.name for key in TYPE_LAUNCH_KEYS if key.default}


def test_a_ship_without_deck_keys_is_read() -> None:
    catalog, complaints = complaints_of("ships", {}, leave_out="deck.")
    assert complaints == []
    values = catalog["ships"]["mine"].values
    assert (values["deck.pitch"].value, values["deck.pitch_period"].value) == (0.0, 10.0)
    assert "deck.island_length" not in values


def test_every_wanted_key_is_a_key_and_none_must_be_there() -> None:
    names = {key.name for key in TYPE_KEYS}
    assert {*FOR_THE_RUN, *FOR_THE_SETTINGS, *FOR_THE_SPOT} <= names
    assert not any(key.needed for key in (*TYPE_LAUNCH_KEYS, *SHIP_LAUNCH_KEYS))
    assert len({key.name for key in SHIP_KEYS}) == len(SHIP_KEYS)
    assert len(names) == len(TYPE_KEYS)


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("lift_flap", "1.3", 'lift_flap = "1.3": flap adds to the greatest lift: at least lift_clean, 1.42'),
        ("launch.empty_weight", "9900 lb", 'launch.empty_weight = "9900 lb": it lands no lighter than empty'),
        ("launch.fuel_weight", "100 lb", "empty, fuel and stores together are less than landing_weight, 9740 lb"),
        ("launch.fuel_weight", "-100 lb", "at least 0 lb is allowed"),
        ("launch.flap_lift", "2.1", "at most lift_flap, 1.98, is allowed"),
        ("launch.flap_lift", "1.8", "with it the wing stalls at"),
        ("launch.lift_slope", "2", "with it the wing stalls at 38.6 deg, flap up; 4 to 35 deg is allowed"),
        ("launch.lift_slope", "7", "at most 6.283 is allowed"),
        ("launch.take_off_flap", "1.4", "at most 1.000 is allowed"),
        ("launch.three_point", "2.4 deg", "at least 3.0 deg is allowed"),
        ("launch.tail_up", "12.6 deg", "at least launch.tail_up, 12.6 deg, is allowed"),
        ("launch.clearance_tail_up", "3 ft", "at least launch.clearance_tail_up, 3 ft, is allowed"),
        ("launch.folded_span", "41 ft", 'folded_span = "41 ft": folding does not widen the wings: at most wing_span'),
        ("launch.braked_pressure", "55 inHg", "at least launch.braked_pressure, 55 inHg, is allowed"),
        ("launch.full_revolutions", "90 rpm", "at least 1,000 rpm is allowed"),
        ("launch.lift_off_margin", "0.9", "at least 1.000 is allowed"),
    ],
)  # fmt: skip
def test_an_impossible_type_is_complained_of_with_the_limit(key: str, text: str, words: str) -> None:
    complaints = complaints_of("types", {key: text})[1]
    assert any(words in complaint for complaint in complaints), complaints


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("deck.island_width", "50 ft", "less than half of deck_width, 94 ft, is allowed"),
        ("deck.island_length", "1 ft", "at least 5 ft is allowed"),
        ("deck.island_side", "left", "allowed are starboard, port"),
        ("deck.pitch", "9 deg", "at most 8.0 deg is allowed"),
    ],
)
def test_an_impossible_deck_is_complained_of_with_the_limit(key: str, text: str, words: str) -> None:
    complaints = complaints_of("ships", {key: text})[1]
    assert any(words in complaint for complaint in complaints), complaints


def test_an_island_longer_than_its_deck_is_complained_of() -> None:
    complaints = complaints_of("ships", {"deck.island_length": "399 ft", "deck_length": "390 ft"})[1]
    assert any("less than deck_length, 390 ft, is allowed" in complaint for complaint in complaints), complaints
