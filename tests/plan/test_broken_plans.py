"""Plans and catalogs with faults: every complaint at once, each with its line and its remedy, and nothing written.

Each case is a small change of one good plan. Lines are found here by counting line ends before the changed text, not by
the program's own syntax tree. The words of a complaint are form, not figures; they are spelt out so that a change of
them is read by somebody.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.cli.main import run
from roundown.documents import Document, parse_document
from roundown.errors import PlanError
from roundown.plan.read import day_of

GOOD = """\
# An evening of no particular day.
format = 1
title = "Evening"
catalog = ["mine.toml"]

[place]
position = "31 40 S 005 20 W"
date = 1949-03-17
time = "16:30"
variation = "24 deg W"

[weather]
surface_wind = "140/11 kt"
winds = [
  { height = "500 ft over sea", wind = "145/15 kt" },
  { height = "2000 ft over sea", wind = "155/19 kt" },
]
temperature = "21 C"
pressure = "30.02 inHg"

[ship]
name = "sloop"
base_course = "185"
base_speed = "16 kt"

[doctrine]
name = "fast-carrier-1944"

[aeroplane]
type = "ottery"
weight = "9600 lb"

[cockpit]
headings = "compass"
deviation = { "000" = "2 deg E", "180" = "1 deg W" }

[override.circuit]
break_bank = "28 deg"
ramp_height = "15-20 ft over ramp"

[ships.sloop]
label = "Sloop"
deck_height = "40 ft over sea"
deck_length = "500 ft"
deck_width = "70 ft"
island_place = "250 ft ahead of ramp"
least_speed = "4 kt"
greatest_speed = "18 kt"
turning_circle = "700 yd"
speed_gain = "4 kt/min"
"""
CATALOG = """\
format = 1

[ships.skiff]
label = { value = "Skiff", source = "own notes" }
deck_height = { value = "40 ft over sea", source = "own notes" }
deck_length = { value = "500 ft", source = "own notes" }
deck_width = { value = "70 ft", source = "own notes" }
island_place = { value = "250 ft ahead of ramp", source = "own notes" }
least_speed = { value = "4 kt", source = "own notes" }
greatest_speed = { value = "18 kt", source = "own notes" }
turning_circle = { value = "700 yd", source = "own notes" }
speed_gain = { value = "4 kt/min", source = "own notes" }
"""


@dataclass(frozen=True)
class Fault:
    """One change of a good file and what is to be said of it.

    old, new : what is replaced by what, once; at : text whose line the complaint must name, "" for the whole file
    says : the complaint after file and line
    """

    old: str
    new: str
    at: str
    says: str


EXAMPLE_OF_CARD = 'Write deviation = { "000" = "2 deg E", "180" = "1 deg W" }.'
LOOK = "Look at the figure and its unit."
SPEED = "kt, mph, m/s, km/h"
BASE = 'base_speed = "16 kt"'


def base_speed(shown: str, says: str) -> Fault:
    """The ship's base speed replaced by another text of the file."""
    return Fault(BASE, f"base_speed = {shown}", "base_speed", f"ship.base_speed = {shown}: {says}")


TEXT_WANTED = 'a text in quotes is wanted, with its unit. Write for example "22 kt".'
IN_PLAN = {
    "newer format": Fault(
        "format = 1", "format = 2", "format",
        "format = 2: this program reads format 1. The file is from a newer version; update roundown."),
    "older format": Fault(
        "format = 1", "format = 0", "format", "format = 0: this program reads format 1. Write format = 1 at the top."),
    "format as truth": Fault(
        "format = 1", "format = true", "format",
        "format = true: this program reads format 1. Write format = 1 at the top."),
    "format in quotes": Fault(
        "format = 1", 'format = "1"', "format",
        'format = "1": this program reads format 1. Write format = 1 at the top.'),
    "format missing": Fault(
        "format = 1\n", "", "", "format: the file must say its format. Write format = 1 at the top."),
    "title a number": Fault(
        'title = "Evening"', "title = 3", "title",
        "title = 3: a title is one line of text in quotes. Put it in quotes."),
    "title of two lines": Fault(
        'title = "Evening"', r'title = "one\ntwo"', "title",
        'title = "one two": a title is one line of text in quotes. Put it in quotes.'),
    "misspelt section": Fault(
        "[override.circuit]", "[overide.circuit]", "[overide",
        "overide: there is no such key here. Did you mean override."),
    "unknown section": Fault(
        "[override.circuit]", "[music.circuit]", "[music",
        "music: there is no such key here. Allowed are format, title, source, catalog, place, weather, ship, doctrine, "
        "aeroplane, cockpit, simulator, radio, company, squadrons, event, muster, sea_room, ashore, override, "
        "ships, types, doctrines, checklists, signs, words, emergencies, lessons."),
    "misspelt ship": Fault(
        'name = "sloop"', 'name = "slop"', 'name = "slop"',
        'ship.name = "slop": there is no ship of that name. Did you mean sloop.'),
    "unknown type": Fault(
        '"ottery"', '"auk"', '"auk"',
        'aeroplane.type = "auk": there is no type of that name. '
        "There are: ottery, brindle, sallow; or add a table for it to the plan, such as [types.mine]."),
    "misspelt doctrine": Fault(
        '"fast-carrier-1944"', '"fast-carier-1944"', "fast-carier",
        'doctrine.name = "fast-carier-1944": there is no doctrine of that name. Did you mean fast-carrier-1944.'),
    "empty ship": Fault(
        'name = "sloop"', 'name = ""', 'name = ""',
        'ship.name = "": the text is empty. Write something people can read.'),
    "time missing": Fault(
        'time = "16:30"\n', "", "[place]",
        'place.time: datum time by the ship\'s clock, as in "14:30"; without events the first aeroplane is at the '
        "initial then: missing. "
        'Add time = "..." under [place].'),
    "section missing": Fault(
        '[doctrine]\nname = "fast-carrier-1944"\n', "", "",
        'doctrine.name: a doctrine of the catalog or of this file: missing. Add name = "..." under [doctrine].'),
    "bare number": base_speed("16", TEXT_WANTED),
    "truth for a speed": base_speed("true", TEXT_WANTED),
    "not a number": base_speed("nan", TEXT_WANTED),
    "infinite": base_speed("inf", TEXT_WANTED),
    "list for a speed": base_speed("[]", TEXT_WANTED),
    "number of 61 digits": Fault(
        BASE, "base_speed = 1" + "0" * 60, "base_speed", f"ship.base_speed = 1{'0' * 56}...: {TEXT_WANTED}"),
    "number of 6000 digits": Fault(
        BASE, "base_speed = 0x" + "f" * 5000, "base_speed", f"ship.base_speed = a very long number: {TEXT_WANTED}"),
    "no unit": base_speed('"16"', f'a ship speed needs its unit: {SPEED}. Write for example "22 kt".'),
    "nan with a unit": base_speed('"nan kt"', 'not a ship speed. Write for example "22 kt".'),
    "wrong unit": base_speed(
        '"16 ft"', f"unit 'ft' does not fit a ship speed; use one of: {SPEED}. Write for example \"22 kt\"."),
    "misspelt unit": base_speed(
        '"16 knts"',
        f"unit 'knts' does not fit a ship speed; use one of: {SPEED}. Did you mean 'kt'? Write for example \"22 kt\"."),
    "decimal comma": base_speed('"16,5 kt"', 'a decimal comma is not read. Write a point: "16.5 kt".'),
    "range for one value": base_speed(
        '"16-18 kt"', 'one value is wanted here, not a range. Write for example "22 kt".'),
    "below what is allowed": base_speed('"-3 kt"', f"at least 0.0 kt is allowed. {LOOK}"),
    "above what is allowed": base_speed('"60 kt"', f"at most 45.0 kt is allowed. {LOOK}"),
    "table without a value": base_speed(
        '{ source = "me" }', 'a table here holds value and source. Write { value = "...", source = "..." }.'),
    "table with a stranger": base_speed(
        '{ value = "16 kt", sauce = "me" }',
        'a table here holds value and source. Write { value = "...", source = "..." }.'),
    "empty source": base_speed(
        '{ value = "16 kt", source = "" }', "a source is a text in quotes. Say who gives the value."),
    "value of two lines": Fault(
        BASE, r'base_speed = "16\nkt"', "base_speed",
        'ship.base_speed = "16 kt": the text has several lines. Write it on one line.'),
    "wrong datum": Fault(
        '"500 ft over sea"', '"500 ft over deck"', "500 ft",
        "weather.winds[1].height = \"500 ft over deck\": a height over the sea is wanted here, not one 'over deck'. "
        'Write for example "300 ft over sea".'),
    "datum missing": Fault(
        '"2000 ft over sea"', '"2000 ft"', "2000 ft",
        'weather.winds[2].height = "2000 ft": a height over the sea must say so. '
        "Add 'over sea', for example \"300 ft over sea\"."),
    "magnetic for true": Fault(
        'base_course = "185"', 'base_course = "185 magnetic"', "185",
        "ship.base_course = \"185 magnetic\": a true direction is wanted here, not 'magnetic'. "
        'Write for example "070".'),
    "reversed range": Fault(
        "15-20 ft", "20-15 ft", "20-15",
        'override.circuit.ramp_height = "20-15 ft over ramp": the first figure of a range is the lower one. '
        'Write "15-20 ft over ramp".'),
    "override out of range": Fault(
        '"28 deg"', '"75 deg"', "75 deg",
        f'override.circuit.break_bank = "75 deg": at most 60.0 deg is allowed. {LOOK}'),
    "override of an unknown key": Fault(
        "break_bank", "brake_bank", "brake_bank",
        "override.circuit.brake_bank: there is no such key here. Did you mean circuit.break_bank."),
    "ship twice": Fault(
        "[place]", '[ships.corbel]\nlabel = "mine"\n[place]', "[ships.corbel]",
        "ships.corbel: there is a ship of that name already. Choose another name."),
    "catalog missing": Fault(
        '"mine.toml"', '"zzz.toml"', "catalog",
        'catalog[1] = "zzz.toml": there is no such file. Look at the name and the folder.'),
    "catalog nearly named": Fault(
        '"mine.toml"', '"mime.toml"', "catalog",
        'catalog[1] = "mime.toml": there is no such file. Did you mean {folder}mine.toml.'),
    "catalog a folder": Fault(
        '"mine.toml"', '"."', "catalog", 'catalog[1] = ".": this is a folder. Name the plan file in it.'),
    "catalog no list": Fault(
        '["mine.toml"]', '"mine.toml"', "catalog",
        'catalog = "mine.toml": a list of files is wanted. Write catalog = ["mine.toml"].'),
    "heights not rising": Fault(
        "2000 ft", "400 ft", "400 ft",
        'weather.winds[2].height = "400 ft over sea": heights must rise, from above 10 m. Sort the winds.'),
    "winds no list": Fault(
        "winds = [", 'winds = "aloft"\nhours = [', "winds",
        'weather.winds = "aloft": a list of winds by height is wanted. '
        'Write winds = [{ height = "1000 ft over sea", wind = "075/15 kt" }].'),
    "wind without a height": Fault(
        'height = "500 ft over sea", ', "", "145/15",
        'weather.winds[1].height: height of this wind: missing. '
        'Add height = "300 ft over sea" under [weather.winds[1]].'),
    "wind too strong": Fault(
        "140/11 kt", "140/111 kt", "140/111",
        f'weather.surface_wind = "140/111 kt": a wind of at most 100 kt is allowed. {LOOK}'),
    "no wind": Fault(
        "140/11 kt", "breezy", "breezy",
        'weather.surface_wind = "breezy": not a wind: direction it comes from, stroke, speed with unit, or "calm". '
        'Write for example "070/12 kt".'),
    "no date": Fault(
        "1949-03-17", '"17 March 1949"', "17 March",
        'place.date = "17 March 1949": not a date. Write "1949-03-17".'),
    "date with more behind it": Fault(
        "1949-03-17", '"1949-03-17 or so"', "or so",
        'place.date = "1949-03-17 or so": not a date. Write "1949-03-17".'),
    "no such day": Fault(
        "1949-03-17", '"1949-02-30"', "02-30", 'place.date = "1949-02-30": not a date. Write "1949-03-17".'),
    "year too early": Fault(
        "1949-03-17", "1849-03-17", "1849",
        'place.date = "1849-03-17": years 1900 to 2050. Choose another date.'),
    "no time": Fault('"16:30"', '"25:30"', "25:30", 'place.time = "25:30": not a time. Write "14:30".'),
    "time of a zone": Fault(
        '"16:30"', '"16:30+02:00"', "16:30",
        'place.time = "16:30+02:00": a time by the ship\'s clock, without an offset. Write "14:30".'),
    "no position": Fault(
        "31 40 S", "S 31 40", "31 40",
        'place.position = "S 31 40 005 20 W": not a position: degrees and minutes with N or S, then E or W. '
        'Write "37 20 S 012 10 W".'),
    "position off the earth": Fault(
        "31 40 S", "31 70 S", "31 70",
        'place.position = "31 70 S 005 20 W": latitude to 89, longitude to 180, minutes below 60. '
        "Look at the figures."),
    "variation without a side": Fault(
        '"24 deg W"', '"24 deg"', "24 deg",
        'place.variation = "24 deg": an angle east or west must say which side. Write for example "7 deg E".'),
    "headings of no compass": Fault(
        '"compass"', '"magnetik"', "magnetik",
        'cockpit.headings = "magnetik": allowed are magnetic, compass, true. Did you mean magnetic.'),
    "deviation missing": Fault(
        'deviation = { "000" = "2 deg E", "180" = "1 deg W" }\n', "", "[cockpit]",
        f"cockpit.deviation: compass headings need the deviation by heading. {EXAMPLE_OF_CARD}"),
    "deviation on no heading": Fault(
        '"000" = "2', '"000.5" = "2', "000.5",
        'cockpit.deviation.000.5 = "2 deg E": a heading of the card is three digits from 000 to 359. '
        f"{EXAMPLE_OF_CARD}"),
    "deviation a number": Fault(
        '"000" = "2 deg E"', '"000" = 2', '"000" = 2',
        f"cockpit.deviation.000 = 2: a text in quotes is wanted, with its unit. {EXAMPLE_OF_CARD}"),
    "wrong weight": Fault(
        '"9600 lb"', '"9600 lbf"', "9600",
        "aeroplane.weight = \"9600 lbf\": unit 'lbf' does not fit a weight; use one of: lb, kg. "
        'Write for example "9800 lb".'),
    "list for a section": Fault(
        "[cockpit]", "[[cockpit]]", "[[cockpit]]",
        'cockpit = [{ headings = "compass", deviation = { 000 = "2 deg E", 1...: a table is wanted here. '
        "Write [cockpit]."),
    "word for a ship": Fault(
        "[place]", '[ships]\nraft = "small"\n[place]', "raft",
        'ships.raft = "small": a ship is a table. Write [ships.raft].'),
    "word for the types": Fault(
        "catalog =", 'types = "all"\ncatalog =', "types",
        'types = "all": types are tables. Write [types.name] above its keys.'),
    "least speed above greatest": Fault(
        'least_speed = "4 kt"\ngreatest_speed = "18 kt"', 'least_speed = "14 kt"\ngreatest_speed = "13 kt"',
        "least_speed", 'ships.sloop.least_speed = "14 kt": least speed is above the greatest. Exchange the two.'),
    "key of a ship missing": Fault(
        'speed_gain = "4 kt/min"\n', "", "[ships.sloop]",
        'ships.sloop.speed_gain: gain or loss of speed: missing. Add speed_gain = "4 kt/min" under [ships.sloop].'),
    "deck over the deck": Fault(
        "40 ft over sea", "40 ft over deck", "40 ft",
        "ships.sloop.deck_height = \"40 ft over deck\": a height over the sea is wanted here, not one 'over deck'. "
        'Write for example "300 ft over sea".'),
}  # fmt: skip
IN_CATALOG = {
    "value without source": Fault(
        '{ value = "500 ft", source = "own notes" }', '"500 ft"', "deck_length",
        'ships.skiff.deck_length = "500 ft": a catalog value needs a source: 1 in this file without one. '
        'Write source = "..." at the head of the file, or { value = "...", source = "..." }.'),
    "blank source at the head": Fault(
        'format = 1\n\n[ships.skiff]\nlabel = { value = "Skiff", source = "own notes" }',
        'format = 1\nsource = " "\n[ships.skiff]\nlabel = "Skiff"', "label",
        'ships.skiff.label = "Skiff": a catalog value needs a source: 1 in this file without one. '
        'Write source = "..." at the head of the file, or { value = "...", source = "..." }.'),
    "source a number": Fault(
        "format = 1\n", "format = 1\nsource = 7\n", "source",
        "source = 7: a source is a text in quotes. Say who gives it."),
    "newer catalog": Fault(
        "format = 1", "format = 3", "format",
        "format = 3: this program reads format 1. The file is from a newer version; update roundown."),
    "misspelt table": Fault(
        "[ships.skiff]", "[ship.skiff]\n[sips.raft]", "[sips.raft]",
        "sips: there is no such key here. Did you mean ships."),
    "misspelt key": Fault(
        "deck_width", "deck_with", "deck_with",
        "ships.skiff.deck_with: there is no such key here. Did you mean deck_width."),
    "override of an unknown key": Fault(
        "[ships.skiff]", '[ships.skiff]\noverride.circuit.bank = { value = "3 deg", source = "me" }', "override",
        "ships.skiff.override.circuit.bank: there is no such key here. Did you mean circuit.hand."),
    "ship that is there already": Fault(
        "[ships.skiff]", '[ships.lintel]\nlabel = "x"\n[ships.skiff]', "[ships.lintel]",
        "ships.lintel: there is a ship of that name already. Choose another name."),
}  # fmt: skip


def line_of(text: str, at: str) -> int:
    """The line on which a text begins, counted by line ends."""
    return text[: text.index(at)].count("\n") + 1 if at else 0


def changed(text: str, fault: Fault) -> str:
    assert text.count(fault.old) >= 1, fault.old
    return text.replace(fault.old, fault.new, 1)


def complaints_of(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> list[str]:
    """What a command says of its input: one complaint a line; the code is 2, and nothing goes to the answer stream."""
    with pytest.raises(SystemExit) as ended:
        run([str(argument) for argument in arguments])
    captured = capsys.readouterr()
    assert ended.value.code == 2
    assert captured.out == ""
    assert "Traceback" not in captured.err
    *said, last = [line for line in captured.err.splitlines() if not line.startswith("... ")]
    assert last == f"{len(said)} to mend; nothing was written."
    return said


def place(file: Path, line: int) -> str:
    return f"{file}:{line}: " if line else f"{file}: "


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the catalog file the good plan names."""
    (tmp_path / "mine.toml").write_text(CATALOG, encoding="utf-8")
    return tmp_path


@pytest.fixture
def plan(folder: Path) -> Path:
    file = folder / "plan.toml"
    file.write_text(GOOD, encoding="utf-8")
    return file


def test_the_plan_all_faults_start_from_is_good(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        run(["check", str(plan)])
    assert ended.value.code in (0, 1)
    assert capsys.readouterr().out.startswith("Evening: ")


@pytest.mark.parametrize("fault", IN_PLAN.values(), ids=IN_PLAN)
def test_a_fault_in_the_plan_is_one_clear_line(fault: Fault, plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = changed(GOOD, fault)
    plan.write_text(text, encoding="utf-8")
    said = complaints_of(capsys, "check", plan)
    wanted = fault.says.replace("{folder}", f"{plan.parent}/")
    assert f"{place(plan, line_of(text, fault.at))}{wanted}" in said
    # a misspelt or missing thing may leave another one unfound; nothing else is said
    assert sum("no such key here" not in line and "missing" not in line for line in said) <= 1


@pytest.mark.parametrize("fault", IN_CATALOG.values(), ids=IN_CATALOG)
def test_a_fault_in_a_catalog_file_is_told_with_that_file(
    fault: Fault, plan: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = changed(CATALOG, fault)
    catalog = plan.parent / "mine.toml"
    catalog.write_text(text, encoding="utf-8")
    said = complaints_of(capsys, "check", plan)
    assert f"{place(catalog, line_of(text, fault.at))}{fault.says}" in said


def test_speeds_of_a_ship_in_a_catalog_file_are_told_with_that_file(
    plan: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The complaint once named the plan, where the ship does not stand."""
    catalog = plan.parent / "mine.toml"
    catalog.write_text(CATALOG.replace('"4 kt"', '"14 kt"').replace('"18 kt"', '"13 kt"'), encoding="utf-8")
    plan.write_text(GOOD.replace('name = "sloop"', 'name = "skiff"'), encoding="utf-8")
    wanted = 'ships.skiff.least_speed = "14 kt": least speed is above the greatest. Exchange the two.'
    assert complaints_of(capsys, "check", plan) == [f"{catalog}:9: {wanted}"]


def test_a_misspelt_section_is_missing_too(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan.write_text(GOOD.replace("[weather]", "[wether]"), encoding="utf-8")
    said = complaints_of(capsys, "check", plan)
    wind = 'wind at 10 m, where it comes from and how strong, as in "070/12 kt": missing'
    assert said == [
        f'{plan}: weather.surface_wind: {wind}. Add surface_wind = "..." under [weather].',
        f"{plan}:12: wether: there is no such key here. Did you mean weather.",
    ]


def test_five_faults_are_five_complaints_in_the_order_of_the_file(
    plan: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = GOOD
    faults = ("time of a zone", "wind too strong", "no unit", "unknown type", "override of an unknown key")
    for name in faults:
        text = changed(text, IN_PLAN[name])
    plan.write_text(text, encoding="utf-8")
    wanted = [f"{plan}:{line_of(text, IN_PLAN[name].at)}: {IN_PLAN[name].says}" for name in faults]
    assert complaints_of(capsys, "check", plan) == wanted


def test_a_wrong_date_is_told_though_the_time_is_missing(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Date and time were once looked at only together, so that mending one brought up the other."""
    plan.write_text(GOOD.replace("1949-03-17", '"today"').replace('time = "16:30"\n', ""), encoding="utf-8")
    said = complaints_of(capsys, "check", plan)
    assert len(said) == 2
    assert f'{plan}:8: place.date = "today": not a date. Write "1949-03-17".' in said


def test_faults_of_plan_and_catalog_are_told_together_the_plans_first(
    plan: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    catalog = plan.parent / "mine.toml"
    catalog.write_text(changed(CATALOG, IN_CATALOG["misspelt key"]), encoding="utf-8")
    plan.write_text(changed(GOOD, IN_PLAN["no time"]), encoding="utf-8")
    said = complaints_of(capsys, "check", plan)
    assert [line.split(":")[0] for line in said] == [str(plan), str(catalog), str(catalog)]


def test_every_line_of_a_plan_of_nonsense_is_told(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan.write_text("".join(f"nonsense{i} = {i}\n" for i in range(300)), encoding="utf-8")
    said = complaints_of(capsys, "check", plan)
    for i in range(300):
        assert any(line.startswith(f"{plan}:{i + 1}: nonsense{i}: there is no such key here.") for line in said)


# Files that are no plan


@pytest.mark.parametrize(
    ("raw", "line", "limit"),
    [
        (b"", 0, "the file is empty"),
        (GOOD.replace("title", "title = ", 1).encode(), 3, "not TOML"),
        (GOOD.replace('"16 kt"', '"16 kt').encode(), 24, "not TOML"),
        (GOOD.replace("]\ntemperature", "\ntemperature").encode(), 18, "not TOML"),
        (GOOD[: GOOD.index("]\ntemperature")].encode(), 16, "not TOML"),
        (GOOD.replace("Evening", "Soirée").encode("latin-1"), 3, "the file is not UTF-8 text"),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 8, 1, "the file is not UTF-8 text"),
        (b"\x00" * 2000, 1, "not TOML"),
        (b"# junk\n" * 450_000, 0, "the file is larger than 2 MB"),
        (b"a = " + b"[" * 20_000, 0, "brackets are nested too deeply"),
        (b"[" + b"a." * 2000 + b"a]\n", 0, "brackets are nested too deeply"),
    ],
    ids=["empty", "two equal signs", "open quote", "open list", "cut off", "latin-1", "picture", "zeros", "3 MB",
         "brackets", "dots"],
)  # fmt: skip
def test_a_file_that_is_no_plan_is_one_complaint(
    raw: bytes, line: int, limit: str, plan: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan.write_bytes(raw)
    (said,) = complaints_of(capsys, "check", plan)
    assert said.startswith(f"{place(plan, line)}{limit}")
    assert len(said) < 300


def test_a_plan_that_is_not_there_or_a_folder_is_one_complaint(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    near = plan.parent / "plann.toml"
    assert complaints_of(capsys, "check", near) == [f"{near}: there is no such file. Did you mean {plan}."]
    assert complaints_of(capsys, "check", plan.parent) == [
        f"{plan.parent}: this is a folder. Name the plan file in it."
    ]


@pytest.mark.parametrize(
    "raw",
    [GOOD.encode("utf-8-sig"), GOOD.replace("\n", "\r\n").encode(), GOOD.replace("\n", "\r\n").encode("utf-8-sig")],
    ids=["byte order mark", "Windows line ends", "both"],
)
def test_a_plan_saved_on_windows_is_the_same_plan(raw: bytes, plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        run(["check", str(plan), "--all"])
    before = capsys.readouterr().out
    plan.write_bytes(raw)
    with pytest.raises(SystemExit) as ended:
        run(["check", str(plan), "--all"])
    assert ended.value.code in (0, 1)
    assert capsys.readouterr().out == before


# Nothing is written


@pytest.mark.parametrize("name", ["misspelt ship", "no unit", "newer format", "catalog missing"])
@pytest.mark.parametrize(
    "command",
    [("brief", "-o", "out"), ("rehearse", "--csv", "out/pass.csv")],
    ids=["brief", "rehearse"],
)
def test_a_broken_plan_writes_nothing(
    name: str, command: tuple[str, ...], plan: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.chdir(plan.parent)
    plan.write_text(changed(GOOD, IN_PLAN[name]), encoding="utf-8")
    before = sorted(plan.parent.rglob("*"))
    complaints_of(capsys, command[0], plan, *command[1:])
    assert sorted(plan.parent.rglob("*")) == before
    out = plan.parent / "out"
    out.mkdir()
    (out / "brief.html").write_bytes(b"last week")
    (out / "pass.csv").write_bytes(b"last week")
    complaints_of(capsys, command[0], plan, *command[1:])
    assert {file.name: file.read_bytes() for file in out.iterdir()} == {
        "brief.html": b"last week", "pass.csv": b"last week",
    }  # fmt: skip


# Any plan at all

DEMO = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
WORDS = (
    "\n", '"', "[", "]", "{ ", " }", "=", ".", ",", "-", "0", "9", "nan", "inf", "true", "over deck", " kt", "é", "#",
    "[[ship]]", "1e9", "\\u0007", "[ships.corbel]", "weather", "''", "1979-05-27", "\t", "\N{MINUS SIGN}",
)  # fmt: skip


def spoilt(text: str, seed: int, changes: int) -> str:
    """A plan after some slips of the hand: lines lost, doubled, exchanged; characters lost, doubled, put in."""
    chance = random.Random(seed)  # noqa: S311 - no secret
    for _ in range(changes):
        slip = chance.randrange(6)
        if slip < 3:
            lines = text.split("\n")
            i, j = chance.randrange(len(lines)), chance.randrange(len(lines))
            if slip == 0:
                del lines[i]
            elif slip == 1:
                lines.insert(j, lines[i])
            else:
                lines[i], lines[j] = lines[j], lines[i]
            text = "\n".join(lines) or "\n"
        else:
            i = chance.randrange(len(text))
            new = "" if slip == 3 else text[i] * 2 if slip == 4 else chance.choice(WORDS)
            text = text[:i] + new + text[i + 1 :]
            text = text or "\n"
    return text


@given(seed=st.integers(0, 2**32), changes=st.integers(1, 8), base=st.sampled_from([DEMO, GOOD]))
@settings(max_examples=400, deadline=None)
def test_a_spoilt_plan_is_a_day_or_complaints(seed: int, changes: int, base: str) -> None:
    text = spoilt(base.replace('catalog = ["mine.toml"]\n', ""), seed, changes)
    document = parse_document("plan.toml", text)
    if not isinstance(document, Document):
        assert len(str(document).splitlines()) == 1
        return
    try:
        day_of(document)
    except PlanError as error:
        for complaint in error.complaints:
            assert len(str(complaint).splitlines()) == 1
            assert 0 <= complaint.line <= text.count("\n") + 1
            assert complaint.limit
            assert complaint.remedy
