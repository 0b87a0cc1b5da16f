"""Reading catalogs from data: what a key takes, where a value stands, and what lies over what."""

from __future__ import annotations

import pytest

from roundown.catalog.load import (
    add_entries,
    builtin_catalog,
    check_format,
    check_names,
    find_entry,
    nearest,
    overlay,
    read_keys,
)
from roundown.catalog.types import TABLES, Catalog, Entry, Key
from roundown.documents import Document, parse_document
from roundown.figures import Given, Origin, given_number
from roundown.quantities import (
    AHEAD_OF_BOW,
    AHEAD_OF_RAMP,
    ANGLE,
    FOOT,
    HEIGHT_OVER_SEA,
    INDICATED_SPEED,
    KNOT,
    LENGTH,
    RATIO,
    SPEED_MARGIN,
)

KEYS = (
    Key("label", (), "what it is"),
    Key("hand", (), "side", choices=("left", "right")),
    Key("height", (HEIGHT_OVER_SEA,), "how high", band=True, low=50 * FOOT, high=1000 * FOOT),
    Key("part.length", (LENGTH,), "how long", needed=False, high=20.0),
    Key("place", (AHEAD_OF_BOW, AHEAD_OF_RAMP), "where", needed=False),
    Key("share", (RATIO,), "which part", needed=False, low=0.1, high=0.9),
)
GOOD = 'label = "thing"\nhand = "left"\nheight = "300-400 ft over sea"\n'


def read_text(text: str, source: str = "own notes") -> tuple[dict[str, Given], list[str]]:
    document = parse_document("mine.toml", "[thing]\n" + text)
    assert isinstance(document, Document), document
    values, complaints = read_keys(document, ("thing",), document.data["thing"], KEYS, source)
    return values, [f"{complaint.line}: {complaint.key}: {complaint.limit}" for complaint in complaints]


def catalog_of(text: str, source: str = "own notes") -> tuple[Catalog, list[str]]:
    document = parse_document("mine.toml", text)
    assert isinstance(document, Document), document
    catalog: Catalog = {table: {} for table in TABLES}
    return catalog, [str(complaint) for complaint in add_entries(catalog, document, source)]


def test_values_are_read_in_si_with_their_place() -> None:
    values, complaints = read_text(GOOD + 'part = { length = "10 ft" }\nshare = 0.25\n')
    assert complaints == []
    assert values["height"].value == pytest.approx(350 * FOOT)
    assert values["height"].band.high == pytest.approx(400 * FOOT)
    assert values["part.length"].origin == Origin("mine.toml", ("thing", "part", "length"), "own notes")
    assert values["share"].value == 0.25
    assert (values["hand"].word, values["label"].text) == ("left", "thing")


def test_a_value_may_bring_its_own_source() -> None:
    values, _ = read_text(GOOD.replace('"left"', '{ value = "left", source = "a book" }'))
    assert values["hand"].origin.source == "a book"
    assert values["label"].origin.source == "own notes"


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "1: thing.label: what it is: missing"),
        (GOOD.replace("left", "lft"), "3: thing.hand: allowed are left, right"),
        (GOOD.replace("thing", "  "), "2: thing.label: the text is empty"),
        (GOOD.replace('"thing"', "3"), "2: thing.label: a text in quotes is wanted, with its unit"),
        (GOOD.replace("400", "4000"), "4: thing.height: at most 1,000 ft is allowed"),
        (GOOD.replace("300", "30"), "4: thing.height: at least 50 ft is allowed"),
        (GOOD + 'colour = "grey"\n', "5: thing.colour: there is no such key here"),
        (GOOD + '[thing.part]\nwidth = "3 ft"\n', "6: thing.part.width: there is no such key here"),
        (GOOD + 'part.length = "3-4 ft"\n', "5: thing.part.length: one value is wanted here, not a range"),
        (GOOD + "share = true\n", "5: thing.share: a text in quotes is wanted, with its unit"),
        (GOOD + "share = nan\n", "5: thing.share: not a ratio"),
        (GOOD + "share = inf\n", "5: thing.share: not a ratio"),
        (GOOD + "share = 1e-9\n", "5: thing.share: at least 0.100 is allowed"),
        (GOOD + "share = 2\n", "5: thing.share: at most 0.900 is allowed"),
        (
            GOOD + 'place = "1 nm"\n',
            "5: thing.place: not a distance ahead of the bow or distance ahead of the ramp",
        ),
    ],
)
def test_what_is_wrong_is_told_with_its_line(text: str, complaint: str) -> None:
    assert complaint in read_text(text)[1]


def test_a_missing_key_is_told_with_a_text_it_would_take() -> None:
    document = parse_document("mine.toml", "[doctrines.x]\n")
    assert isinstance(document, Document)
    for table, keys in TABLES.items():
        _, complaints = read_keys(document, (table, "x"), {}, keys, "own notes")
        assert len(complaints) == sum(key.needed and not key.default for key in keys)
        # written as the remedies say, nothing is left to complain of
        remedies = [complaint.remedy.removeprefix("Add ").rsplit(" under ", 1) for complaint in complaints]
        text = "".join(f"{where}\n{what}\n" for what, where in remedies)
        mended = parse_document("mine.toml", _joined(text))
        assert isinstance(mended, Document), mended
        _, left = read_keys(mended, (table, "x"), mended.data[table]["x"], keys, "own notes")
        assert [str(complaint) for complaint in left] == []


def _joined(text: str) -> str:
    """Lines under the same heading brought together: TOML opens a table once."""
    tables: dict[str, list[str]] = {}
    lines = text.splitlines()
    for heading, line in zip(lines[::2], lines[1::2], strict=True):
        tables.setdefault(heading, []).append(line)
    return "\n".join("\n".join([heading, *rows]) for heading, rows in tables.items())


def test_a_section_that_is_no_table_is_told() -> None:
    document = parse_document("mine.toml", "thing = 3\n")
    assert isinstance(document, Document)
    values, (complaint,) = read_keys(document, ("thing",), 3, KEYS, "own notes")
    assert values == {}
    assert str(complaint) == "mine.toml:1: thing = 3: a table is wanted here. Write [thing]."


def test_partial_tables_may_leave_keys_out() -> None:
    document = parse_document("mine.toml", "[override]\n")
    assert isinstance(document, Document)
    assert read_keys(document, ("override",), {}, KEYS, "own notes", partial=True) == ({}, [])


def test_entries_need_a_source_unless_the_plan_gives_them() -> None:
    text = '[ships.punt]\nlabel = "Punt"\n'
    assert any("a catalog value needs a source" in line for line in catalog_of(text, "")[1])
    assert not any("source" in line for line in catalog_of(text)[1])
    assert not any("needs a source" in line for line in catalog_of('source = "own"\n' + text, "")[1])


def test_an_entry_with_faults_is_known_by_its_name_all_the_same() -> None:
    """So that a plan that names it gets no second complaint about an unknown name."""
    catalog, complaints = catalog_of('[ships.punt]\nlabel = "Punt"\n')
    assert complaints
    assert catalog["ships"]["punt"].label == "Punt"


def test_only_ships_bring_overrides() -> None:
    catalog, complaints = catalog_of('[ships.punt.override.circuit]\ninterval = "40 s"\n')
    assert catalog["ships"]["punt"].overrides["circuit.interval"].value == 40.0
    assert not any("override" in line for line in complaints)
    _, complaints = catalog_of('[types.wren.override.circuit]\ninterval = "40 s"\n')
    assert any("types.wren.override.circuit: there is no such key here" in line for line in complaints)


@pytest.mark.parametrize(
    ("text", "told"),
    [("format = 1", []), ("format = 1.0", []), ("x = 1", ["format"]), ("format = 2", ["format"]),
     ("format = false", ["format"]), ('format = "one"', ["format"])],
)  # fmt: skip
def test_a_file_says_its_format(text: str, told: list[str]) -> None:
    document = parse_document("mine.toml", text)
    assert isinstance(document, Document)
    assert [complaint.key for complaint in check_format(document)] == told


def test_strangers_at_the_top_of_a_file_are_told() -> None:
    document = parse_document("mine.toml", "format = 1\n[shps.punt]\n[music]\n")
    assert isinstance(document, Document)
    told = [str(complaint) for complaint in check_names(document, ("format", "ships"))]
    assert told == [
        "mine.toml:2: shps: there is no such key here. Did you mean ships.",
        "mine.toml:3: music: there is no such key here. Allowed are format, ships.",
    ]


def test_an_entry_is_found_by_name_or_the_nearest_is_named() -> None:
    catalog = builtin_catalog()
    assert isinstance(find_entry(catalog, "ships", "corbel"), Entry)
    assert find_entry(catalog, "ships", "corbl") == ("there is no ship of that name", "Did you mean corbel")
    limit, remedy = find_entry(catalog, "types", "zzz")  # type: ignore[misc]
    assert limit == "there is no type of that name"
    assert all(name in remedy for name in catalog["types"])
    assert nearest("corbl", ["corbel", "lintel"]) == "corbel"
    assert nearest("zzz", ["corbel", "lintel"]) == ""


def test_what_lies_over_a_value_remembers_the_file_beneath() -> None:
    base = {name: given_number(1.0, ANGLE, Origin("base.toml", (name,), "a")) for name in ("one", "two")}
    over = {"two": given_number(2.0, ANGLE, Origin("mine.toml", ("x",), "b")), "three": base["one"]}
    merged = overlay(base, over)
    assert list(merged) == ["one", "two", "three"]
    assert merged["one"] is base["one"]
    assert (merged["two"].value, merged["two"].origin) == (2.0, Origin("mine.toml", ("x",), "b", "base.toml"))
    assert merged["three"].origin.overridden == ""
    assert base["two"].value == 1.0


# A card: corrections by the value they are added to

CARD_KEYS = (
    Key("error", (SPEED_MARGIN,), "of the dial", needed=False, low=-40 * KNOT, high=40 * KNOT, by=INDICATED_SPEED),
)


def read_card(text: str) -> tuple[dict[str, Given], list[str]]:
    document = parse_document("mine.toml", "[thing]\n" + text)
    assert isinstance(document, Document), document
    values, complaints = read_keys(document, ("thing",), document.data["thing"], CARD_KEYS, "own notes")
    return values, [str(complaint) for complaint in complaints]


@pytest.mark.parametrize(
    "text",
    ['error = { "80 kt" = "5 kt", "120 kt" = "-1 kt" }', '[thing.error]\n"80 kt" = "5 kt"\n"120 kt" = "-1 kt"'],
)
def test_a_card_is_read_row_by_row(text: str) -> None:
    values, complaints = read_card(text)
    assert complaints == []
    assert {name: round(given.value / KNOT, 9) for name, given in values.items()} == {
        "error.80 kt": 5.0,
        "error.120 kt": -1.0,
    }
    assert values["error.80 kt"].origin == Origin("mine.toml", ("thing", "error", "80 kt"), "own notes")


def test_a_row_of_a_card_may_bring_its_own_source() -> None:
    values, complaints = read_card('error = { "82.5 kt" = { value = "5 kt", source = "a book" } }')
    assert complaints == []
    assert values["error.82.5 kt"].origin.source == "a book"


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ('error = "5 kt"', '2: thing.error = "5 kt": a table by indicated airspeed is wanted'),
        ("error = {}", "a table by indicated airspeed is wanted"),
        ('error = { "80" = "5 kt" }', '"80": an indicated airspeed needs its unit'),
        ('error = { "80 kt" = "5" }', '2: thing.error.80 kt = "5":'),
        ('error = { "80 kt" = 5 }', "a text in quotes is wanted, with its unit"),
        ('error = { "80 kt" = "50 kt" }', "at most 40.0 kt is allowed"),
        ('error = { "80 kt" = "20 kt", "90 kt" = "10 kt" }', "must rise from row to row"),
        ('error = { "80 kt" = "2 kt", "80 knots" = "3 kt" }', "must rise from row to row"),
    ],
)
def test_what_is_wrong_with_a_card_is_told(text: str, complaint: str) -> None:
    _, (told,) = read_card(text)
    assert complaint in told


def test_no_card_is_no_complaint() -> None:
    assert read_card("") == ({}, [])
