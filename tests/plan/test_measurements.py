"""A file of measurements: what it may say, and one clear complaint for each thing that is wrong."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from roundown.catalog.load import builtin_catalog
from roundown.documents import Document, parse_document
from roundown.errors import PlanError
from roundown.launch.measured import Measured, What
from roundown.plan.measurements import Measurements, read_measurements, single_brackets

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
LB = 0.45359237  # kg

GOOD = """\
format = 1
type = "ottery"

[throughout]
weight = "10500 lb"
height = "2000 ft over sea"
temperature = "21 C"

[[stall]]
flap = "0.65"
speed = "71 kt"

[[run]]
flap = 0.65
over_deck = "25 kt"
distance = "412 ft"
time = "7.4 s"
lift_off = "78 kt"

[[climb]]
speed = "125 kt"
rate = "2450 ft/min"
spread = "40 ft/min"

[[level]]
weight = "9900 lb"
speed = "241 kt true"

[[slow_down]]
gear = "down"
flap = "0"
from = "140 kt"
to = "100 kt"
time = "21 s"
"""


def read(text: str) -> Measurements:
    document = parse_document("mine.toml", text)
    assert isinstance(document, Document), document
    return read_measurements(document, builtin_catalog())


def by_name(found: Measurements) -> dict[str, Measured]:
    return {each.name: each for each in found.measured}


def test_every_list_is_read_with_its_units() -> None:
    found = read(GOOD)
    assert found.type.name == "ottery"
    rows = by_name(found)
    assert list(rows) == [
        "stall 1", "run 1", "run 1, time", "run 1, lift-off speed", "climb 1", "level 1", "slow-down 1",
    ]  # fmt: skip
    assert rows["stall 1"].value == pytest.approx(71.0 * KT)
    assert rows["run 1"].value == pytest.approx(412.0 * FT)
    assert rows["run 1, time"].value == pytest.approx(7.4)
    assert rows["climb 1"].value == pytest.approx(2_450.0 * FT / 60.0)
    assert rows["climb 1"].spread == pytest.approx(40.0 * FT / 60.0)
    slow = rows["slow-down 1"]
    assert (slow.value, slow.flown.gear, slow.flown.flap) == (21.0, 1.0, 0.0)
    assert (slow.flown.begin, slow.flown.end) == pytest.approx((140.0 * KT, 100.0 * KT))


def test_what_holds_throughout_gives_way_to_the_row_and_runs_keep_to_the_sea() -> None:
    rows = by_name(read(GOOD))
    assert rows["stall 1"].flown.mass == pytest.approx(10_500.0 * LB)
    assert rows["level 1"].flown.mass == pytest.approx(9_900.0 * LB)
    assert rows["climb 1"].flown.height == pytest.approx(2_000.0 * FT)
    assert rows["run 1"].flown.height == 0.0
    assert rows["run 1"].flown.air.temperature == pytest.approx(294.15)


def test_a_level_speed_is_true_or_shown_by_its_words() -> None:
    assert by_name(read(GOOD))["level 1"].what is What.LEVEL_TRUE
    assert by_name(read(GOOD.replace("241 kt true", "241 kt")))["level 1"].what is What.LEVEL


def test_line_ends_of_another_system_and_a_mark_at_the_head_do_not_matter() -> None:
    assert by_name(read(GOOD.replace("\n", "\r\n"))) == by_name(read(GOOD))


BROKEN: tuple[tuple[str, str, str, str], ...] = (  # what stands, what is put there, key, part of the complaint
    ('speed = "71 kt"', "speed = 71", "stall[1].speed", "a text in quotes is wanted, with its unit"),
    ('speed = "71 kt"', 'speed = "71 ft"', "stall[1].speed", "unit 'ft' does not fit an indicated airspeed"),
    ('speed = "71 kt"', 'speed = "7 kt"', "stall[1].speed", "at least 30 kt is allowed"),
    ('speed = "71 kt"', 'sped = "71 kt"', "stall[1].sped", "there is no such key here. Did you mean speed"),
    ('flap = "0.65"', 'flap = "65"', "stall[1].flap", "at most 1.000 is allowed"),
    ('flap = "0.65"\n', "", "stall[1].flap", "part of full flap that is down, 0 to 1: missing"),
    ('gear = "down"', 'gear = "out"', "slow_down[1].gear", "allowed are up, down"),
    ('to = "100 kt"', 'to = "140 kt"', "slow_down[1].to", "less than from, 140 kt, is allowed"),
    ('spread = "40 ft/min"', 'spread = "0 ft/min"', "climb[1].spread", "greater than nothing, at least 0.10 ft/min"),
    ('weight = "10500 lb"\n', "", "stall[1].weight", "weight: missing"),
    ('weight = "10500 lb"', 'weight = "10500"', "throughout.weight", "needs its unit"),
    ('type = "ottery"', 'type = "otery"', "type", "there is no type of that name. Did you mean ottery"),
    ('type = "ottery"', 'kind = "ottery"', "type", "the file must name the type to begin with"),
    ("format = 1", "format = 2", "format", "this program reads format 1"),
    ("[[level]]", "[level]", "level", "measurements are tables in a list. Write [[level]] with two"),
    ('weight = "9900 lb"', 'weight = "8000 lb"', "level[1].weight", "ottery weighs 8,860 lb empty and 10,780 lb full"),
    ('weight = "10500 lb"', 'weight = "10900 lb"', "throughout.weight", "weighs 8,860 lb empty and 10,780 lb full"),
    ("[[climb]]", "[[glide]]", "glide", "there is no such key here"),
    ("over_deck", "wind", "run[1].wind", "there is no such key here"),
    ('weight = "9900 lb"', 'weight = "9900-10100 lb"', "level[1].weight", "one value is wanted here, not a range"),
)  # fmt: skip


@pytest.mark.parametrize(("stands", "put", "key", "words"), BROKEN)
def test_what_is_wrong_is_named_by_line_and_key(stands: str, put: str, key: str, words: str) -> None:
    assert GOOD.count(stands) >= 1
    with pytest.raises(PlanError) as error:
        read(GOOD.replace(stands, put, 1))
    found = [each for each in error.value.complaints if each.key == key]
    assert len(found) == 1, error.value
    assert words in str(found[0])
    assert found[0].file == "mine.toml"
    if put and key not in ("type", "glide"):
        assert found[0].line == GOOD[: GOOD.index(stands)].count("\n") + 1


def test_a_fault_under_throughout_is_one_complaint_and_not_one_a_row() -> None:
    with pytest.raises(PlanError) as error:
        read(GOOD.replace('weight = "10500 lb"', 'weight = "heavy"'))
    assert [each.key for each in error.value.complaints] == ["throughout.weight"]


def test_all_faults_come_in_one_reading_in_the_order_of_the_file() -> None:
    text = GOOD.replace("71 kt", "71").replace("21 s", "21").replace("412 ft", "412 lb")
    with pytest.raises(PlanError) as error:
        read(text)
    assert [each.key for each in error.value.complaints] == ["stall[1].speed", "run[1].distance", "slow_down[1].time"]


def test_a_run_with_nothing_measured_and_a_file_with_nothing_are_said() -> None:
    bare = GOOD.replace('distance = "412 ft"\n', "").replace('time = "7.4 s"\n', "").replace('lift_off = "78 kt"\n', "")
    with pytest.raises(PlanError, match=r"nothing measured stands in this run\. Add distance, time or lift_off"):
        read(bare)
    with pytest.raises(PlanError, match="there is nothing measured in this file"):
        read('format = 1\ntype = "ottery"\n')


def test_more_rows_than_anyone_flies_are_refused() -> None:
    row = '[[stall]]\nflap = "0"\nspeed = "80 kt"\n'
    with pytest.raises(PlanError, match="at most 100"):
        read('format = 1\ntype = "ottery"\n[throughout]\nweight = "9000 lb"\n' + 101 * row)


def test_runs_of_a_type_that_knows_nothing_of_the_launch_are_refused_with_what_is_missing() -> None:
    catalog = builtin_catalog()
    entry = catalog["types"]["ottery"]
    bare = {name: given for name, given in entry.values.items() if not name.startswith("launch.")}
    catalog["types"]["ottery"] = type(entry)(entry.name, entry.label, bare, entry.overrides)
    document = parse_document("mine.toml", GOOD)
    assert isinstance(document, Document)
    with pytest.raises(PlanError, match=r"mine.toml:13: run\[1\]: a deck run cannot be compared: the type does not"):
        read_measurements(document, catalog)


@pytest.mark.parametrize("table", ["stall", "run", "climb", "level", "slow_down"])
def test_rows_that_are_no_tables_are_refused(table: str) -> None:
    with pytest.raises(PlanError, match="measurements are tables in a list"):
        read(f'format = 1\ntype = "ottery"\n{table} = ["71 kt"]\n')


def test_single_brackets_are_found_by_line_where_the_file_is_no_toml(tmp_path: Path) -> None:
    """Constructed: [stall] on lines 3 and 7; what stands in two brackets or in a remark is not meant."""
    file = tmp_path / "mine.toml"
    file.write_text("format = 1\r\n\r\n[stall]\r\n# [run]\r\n[[climb]]\r\n\r\n [ stall ] # again\r\n", "utf-8")
    found = single_brackets(file)
    assert [(each.line, each.key) for each in found] == [(3, "stall"), (7, "stall")]
    assert all("Write [[stall]] with two brackets above each" in str(each) for each in found)


@pytest.mark.parametrize("weight", ["8860 lb", "10780 lb", "8859.7 lb"])
def test_a_weight_at_either_end_of_what_the_type_has_is_read(weight: str) -> None:
    """From the catalog: 8860 lb empty, 1400 lb of fuel and 520 lb of stores; less than a pound beyond is rounding."""
    assert read(GOOD.replace("9900 lb", weight)).measured


def test_a_type_that_does_not_say_its_weights_takes_any() -> None:
    catalog = builtin_catalog()
    entry = catalog["types"]["ottery"]
    bare = {name: given for name, given in entry.values.items() if name != "launch.fuel_weight"}
    catalog["types"]["ottery"] = replace(entry, values=bare)
    rows = GOOD[: GOOD.index("[[run]]")].replace("10500 lb", "20000 lb")
    document = parse_document("mine.toml", rows)
    assert isinstance(document, Document)
    assert read_measurements(document, catalog).measured
