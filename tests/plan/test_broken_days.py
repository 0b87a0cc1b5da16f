"""Faults in the tables of a whole day: squadrons, events, company, muster, clock, radio.

As test_broken_plans.py: each case is one small change of one good plan, lines are counted by line ends, and the words
are spelt out so that a change of them is read by somebody.
"""

from __future__ import annotations

import os
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
# Two carriers, an evening and a night.
format = 1
title = "Evening"
[place]
position = "31 40 S 005 20 W"
date = 1949-03-17
time = "16:00"
zone = "-1:00"
[weather]
surface_wind = "140/11 kt"
swell = "5 ft"
[ship]
name = "corbel"
base_course = "185"
base_speed = "16 kt"
regain_speed = "20 kt"
[doctrine]
name = "fast-carrier-1944"
[cockpit]
altimeter = "30.02 inHg"
[simulator]
winds = "from"
sunset = "18:10"
[[company]]
name = "lintel"
role = "carrier"
bearing = "90 deg starboard"
distance = "9000 yd"
[[company]]
name = "Sextant"
role = "plane guard"
guards = "lintel"
bearing = "165 deg port"
distance = "1200 yd"
[[company]]
name = "Tern Rock"
role = "escort"
bearing = "60 deg port"
distance = "4000 yd"
[squadrons.amber]
type = "ottery"
roster = [
  { side = "11", name = "Vane", leader = "squadron", skill = "trained" },
  { side = "12", name = "Pell", division = 1 },
  { side = "13", name = "Orme" },
]
[squadrons.grey]
type = "sallow"
ship = "lintel"
roster = [{ side = "1", name = "Marl" }]
[[event]]
name = "first patrol"
launch = "17:00"
push = "launch + 12 min"
recovery = "18:30"
aeroplanes = { amber = 2, grey = 1 }
[[event]]
name = "second patrol"
launch = "sunset - 10 min"
recovery = "launch + 1 h"
seats = ["13", "1"]
[muster]
absent = ["Pell"]
[radio]
silence = "from take-off"
channels = [{ name = "A", use = "landing" }]
[sea_room]
corners = [
  "31 S 6 W",
  "31 S 4 W",
  "33 S 5 W",
]
"""
WHO = 'Write aeroplanes = { blue = 4 } or seats = ["11", "12"].'
ROSTER = 'Write roster = [{ side = "11", name = "Vane", division = "1", section = "1", leader = "squadron" }].'
CORNERS = 'Write [sea_room] and under it corners = ["31 00 S 006 00 W", "31 00 S 004 30 W", "32 30 S 005 00 W"].'
MUSTER = 'Write [muster] and under it absent = ["Vane"] or present = ["Pell", "Orme"].'
CHANNELS = 'Write channels = [{ name = "A", use = "launch and landing", call_sign = "Hearth" }].'
LOOK = "Look at the figure and its unit."
ANCHORS = (
    "a time is counted from the clock or from sunrise, sunset, civil dawn, civil dusk, nautical dawn, nautical dusk, "
    "moonrise, moonset, launch, push, time on target, recovery"
)
FIRST = 'launch = "17:00"'
PUSH = '"launch + 12 min"'
COUNT = "{ amber = 2, grey = 1 }"
LIST_OF_SEATS = GOOD[GOOD.index("roster = [\n") : GOOD.index("[squadrons.grey]")]


@dataclass(frozen=True)
class Fault:
    """One change of the good plan and what is to be said of it.

    old, new : what is replaced by what, once; at : text whose line the complaint must name, "" for the whole file
    says : the complaint after file and line
    """

    old: str
    new: str
    at: str
    says: str


def push(new: str, says: str) -> Fault:
    return Fault(PUSH, new, "push =", f"event[1].push = {new}: {says}")


def count(new: str, says: str) -> Fault:
    return Fault("amber = 2,", f"amber = {new},", "aeroplanes =", f"event[1].aeroplanes.amber = {says}")


TIMES = {
    "launch before the datum": Fault(
        FIRST, 'launch = "15:59"', "15:59",
        'event[1].launch = "15:59": this is before the datum time, 16:00. '
        'Set place.time earlier, or write the later day with it, as in "01:20 next day".'),
    "launch on the day before": Fault(
        FIRST, 'launch = "17:00 day before"', "day before",
        'event[1].launch = "17:00 day before": this is before the datum time, 16:00. '
        'Set place.time earlier, or write the later day with it, as in "01:20 next day".'),
    "event in a week": Fault(
        FIRST, 'launch = "17:00 +7 days"', "+7 days",
        'event[1].launch = "17:00 +7 days": an event lies within three days. '
        "Make a plan of its own for the later day."),
    "recovery before launch": Fault(
        '"18:30"', '"16:30"', "16:30",
        'event[1].recovery = "16:30": recovery must come after launch, 17:00. '
        'Write the later day with it, as in "01:20 next day".'),
    "recovery before push": Fault(
        '"18:30"', '"17:12"', "17:12",
        'event[1].recovery = "17:12": recovery must come after push, launch + 12 min. '
        'Write the later day with it, as in "01:20 next day".'),
    "recovery after midnight without its day": Fault(
        '"18:30"', '"00:30"', "00:30",
        'event[1].recovery = "00:30": this is before the datum time, 16:00. '
        'Set place.time earlier, or write the later day with it, as in "01:20 next day".'),
    "recovery before launch by the sun": Fault(
        '"launch + 1 h"', '"sunset - 20 min"', "sunset - 20",
        'event[2].recovery = "sunset - 20 min": recovery must come after launch, sunset - 10 min. Make it later.'),
    "time counted from itself": push(
        '"push + 5 min"', "a time cannot be counted from itself. Count it from something else."),
    "time counted from one that is missing": push(
        '"time on target - 5 min"',
        "the event gives no time on target. Give time_on_target, or count from something else."),
    "time counted from a later one": push(
        '"recovery - 1 h"',
        "push is counted from recovery, which comes later. Count a later time from an earlier one."),
    "time before the one it is counted from": push(
        '"launch - 5 min"', 'push must not come before launch. Write a plus, as in "launch + 1 h".'),
    "time counted from a misspelt sunset": push('"sunst - 5 min"', f"{ANCHORS}. Did you mean sunset."),
    "time counted from breakfast": push(
        '"breakfast + 5 min"', f'{ANCHORS}. Write "17:25", "sunset - 75 min" or "launch + 1 h 30 min".'),
    "time 25 h from sunset": push(
        '"sunset + 25 h"', "at most 24 h from what it is counted from. Choose something nearer to count from."),
    "time without a unit": push(
        '"sunset + 25"', 'a length of time has its unit: h, min or s. Write for example "1 h 30 min".'),
    "time of no clock": push(
        '"25:10"', 'a time is hours and minutes by the clock, from 00:00 to 23:59. Write for example "17:25".'),
    "time of words": push('"soon!"', 'not a time. Write "17:25", "sunset - 75 min" or "launch + 1 h 30 min".'),
    "event without launch and recovery": Fault(
        'launch = "sunset - 10 min"\nrecovery = "launch + 1 h"\n', "", '[[event]]\nname = "second',
        'event[2]: an event has a launch, a recovery or both. Add launch = "17:25".'),
}  # fmt: skip
EVENTS = {
    "two events of one name": Fault(
        '"second patrol"', '"first patrol"', 'name = "first patrol"\nlaunch = "sunset',
        'event[2].name = "first patrol": two events of one name. Rename one.'),
    "event without a name": Fault(
        'name = "second patrol"\n', "", '[[event]]\nlaunch = "sunset',
        'event[2].name: what it is called, no two alike: missing. Add name = "..." under [event[2]].'),
    "nobody flies": Fault(
        f"aeroplanes = {COUNT}\n", "", "[[event]]",
        f"event[1]: aeroplanes by squadron or by seat are wanted, one of the two. {WHO}"),
    "aeroplanes and seats": Fault(
        f"aeroplanes = {COUNT}\n", f'aeroplanes = {COUNT}\nseats = ["11"]\n', "[[event]]",
        f"event[1]: aeroplanes by squadron or by seat are wanted, one of the two. {WHO}"),
    "aeroplanes a number": Fault(
        COUNT, "4", "aeroplanes =", f"event[1].aeroplanes = 4: how many of each squadron is wanted. {WHO}"),
    "aeroplanes of no squadron": Fault(
        COUNT, "{}", "aeroplanes =", f"event[1].aeroplanes = {{  }}: how many of each squadron is wanted. {WHO}"),
    "no aeroplane": count("0", "0: a number from 1 to 60. Write amber = 4."),
    "61 aeroplanes": count("61", "61: a number from 1 to 60. Write amber = 4."),
    "aeroplanes in words": count('"four"', '"four": a number from 1 to 60. Write amber = 4.'),
    "aeroplanes true": count("true", "true: a number from 1 to 60. Write amber = 4."),
    "half an aeroplane": count("2.5", "2.5: a number from 1 to 60. Write amber = 4."),
    "misspelt squadron": Fault(
        "amber = 2,", "ambre = 2,", "ambre",
        "event[1].aeroplanes.ambre = 2: no squadron of that name. Did you mean amber."),
    "unknown squadron": Fault(
        "amber = 2,", "zzz = 2,", "zzz",
        "event[1].aeroplanes.zzz = 2: no squadron of that name. There are amber, grey."),
    "unknown seat": Fault(
        '["13", "1"]', '["13", "99"]', '"99"',
        'event[2].seats[2] = "99": no seat of that number. Side numbers are those of the rosters.'),
    "seat twice": Fault(
        '["13", "1"]', '["13", "1", "13"]', '"1", "13"]',
        'event[2].seats[3] = "13": this seat is named twice. Leave one out.'),
    "seats as numbers": Fault(
        '["13", "1"]', "[13, 1]", "[13", f"event[2].seats = [13, 1]: a list of side numbers is wanted. {WHO}"),
    "seats none": Fault(
        '["13", "1"]', "[]", "seats =", f"event[2].seats = []: a list of side numbers is wanted. {WHO}"),
    "event as a plain table": Fault(
        GOOD[GOOD.index("[[event]]") : GOOD.index("[muster]")], '[event]\nname = "one"\nlaunch = "17:00"\n', "[event]",
        'event = { name = "one", launch = "17:00" }: events are tables in a list. Write [[event]].'),
    "misspelt key of an event": Fault(
        PUSH, '"launch + 12 min"\nloud = "bombs"', "loud",
        "event[1].loud: there is no such key here. Did you mean load."),
}  # fmt: skip
SQUADRONS = {
    "unknown type": Fault(
        '"sallow"', '"salow"', "salow",
        'squadrons.grey.type = "salow": there is no type of that name. Did you mean sallow.'),
    "type missing": Fault(
        'type = "sallow"\n', "", "[squadrons.grey]",
        "squadrons.grey.type: a type of the catalog or of this file: missing. "
        'Add type = "..." under [squadrons.grey].'),
    "ship not in the plan": Fault(
        'ship = "lintel"', 'ship = "barge"', "barge",
        'squadrons.grey.ship = "barge": no carrier of that name in the plan. There are corbel, lintel.'),
    "ship an escort": Fault(
        'ship = "lintel"', 'ship = "Tern Rock"', 'ship = "Tern',
        'squadrons.grey.ship = "Tern Rock": no carrier of that name in the plan. There are corbel, lintel.'),
    "roster missing": Fault(
        'roster = [{ side = "1", name = "Marl" }]\n', "", "[squadrons.grey]",
        f"squadrons.grey.roster: a list of seats is wanted. {ROSTER}"),
    "roster empty": Fault(
        '[{ side = "1", name = "Marl" }]', "[]", "roster = []",
        f"squadrons.grey.roster = []: a list of seats is wanted. {ROSTER}"),
    "roster of names": Fault(
        '[{ side = "1", name = "Marl" }]', '["Marl"]', '["Marl"]',
        f'squadrons.grey.roster = ["Marl"]: a list of seats is wanted. {ROSTER}'),
    "roster of 61": Fault(
        '[{ side = "1", name = "Marl" }]', f"[{', '.join(f'{{ side = {200 + i} }}' for i in range(61))}]",
        "roster = [{ side = 200", "squadrons.grey.roster = 61 seats: at most 60 seats. Make two squadrons of it."),
    "seat without a side": Fault(
        'side = "13", ', "", '{ name = "Orme"',
        "squadrons.amber.roster[3].side: number on the aeroplane's side, no two alike: missing. "
        'Add side = "..." under [squadrons.amber.roster[3]].'),
    "side twice": Fault(
        'side = "12"', 'side = "11"', 'side = "11", name = "Pell"',
        'squadrons.amber.roster[2].side = "11": two seats of one side number: squadron amber has it too. '
        "Change one of them."),
    "side twice in two squadrons": Fault(
        'side = "12"', 'side = "1"', 'side = "1", name = "Marl"',
        'squadrons.grey.roster[1].side = "1": two seats of one side number: squadron amber has it too. '
        "Change one of them."),
    "name twice": Fault(
        "Marl", "Vane", 'side = "1"',
        'squadrons.grey.roster[1].name = "Vane": two seats of one name: squadron amber has it too. '
        "Change one of them."),
    "division 0": Fault(
        "division = 1", "division = 0", "division = 0",
        'squadrons.amber.roster[2].division = "0": a number from 1 to 30. Write division = "1".'),
    "division in words": Fault(
        "division = 1", 'division = "one"', '"one"',
        'squadrons.amber.roster[2].division = "one": a number from 1 to 30. Write division = "1".'),
    "leader of nothing known": Fault(
        '"squadron"', '"squad"', '"squad"',
        'squadrons.amber.roster[1].leader = "squad": allowed are squadron, division, section. Did you mean squadron.'),
    "skill unknown": Fault(
        'skill = "trained"', 'skill = "expert"', "expert",
        'squadrons.amber.roster[1].skill = "expert": allowed are novice, trained, experienced. Choose one.'),
    "squadrons in a list": Fault(
        "[squadrons.grey]", "[squadrons]\ngrey = 3\n[types.x.y]", "grey = 3",
        "squadrons.grey = 3: a squadron is a table. Write [squadrons.grey]."),
    "muster of the present and the absent": Fault(
        'absent = ["Pell"]', 'absent = ["Pell"]\npresent = ["Vane"]', "[muster]",
        "muster: either the present or the absent are named. Leave one out."),
    "misspelt name in the muster": Fault(
        '["Pell"]', '["Pel"]', '["Pel"]', 'muster.absent[1] = "Pel": nobody of that name. Did you mean Pell.'),
    "unknown name in the muster": Fault(
        '["Pell"]', '["Pell",\n"Zzyzx"]', "Zzyzx",
        'muster.absent[2] = "Zzyzx": nobody of that name. Names are those of the rosters.'),
    "unknown key in the muster": Fault(
        "absent =", "away =", "away", "muster.away: there is no such key here. Allowed are present and absent."),
    "one name for a list in the muster": Fault(
        '["Pell"]', '"Pell"', "absent", f'muster.absent = "Pell": a list of names is wanted. {MUSTER}'),
    "everyone absent": Fault(
        '["Pell"]', '["Vane", "Pell", "Orme", "Marl"]', "[squadrons.amber]",
        "squadrons: nobody is left to fly: no aeroplane is named, or everyone is absent. "
        "Name who is present in [muster]."),
}  # fmt: skip
COMPANY = {
    "two carriers of one name": Fault(
        'name = "Tern Rock"\nrole = "escort"', 'name = "lintel" # too\nrole = "carrier"', '"lintel" # too',
        'company[3].name = "lintel": two carriers of one name. Rename one.'),
    "ship named like the guide": Fault(
        '"Tern Rock"', '"corbel"', 'name = "corbel"\nrole',
        'company[3].name = "corbel": two ships of one name. Rename one.'),
    "plane guard of nobody": Fault(
        'guards = "lintel"', 'guards = "barge"', "barge",
        'company[2].guards = "barge": no carrier of that name. Name one of corbel, lintel.'),
    "escort that guards": Fault(
        'role = "escort"', 'role = "escort"\nguards = "corbel"', 'guards = "corbel"',
        'company[3].guards = "corbel": only a plane guard guards. Write role = "plane guard".'),
    "carrier not in the catalog": Fault(
        'role = "escort"', 'role = "carrier"', 'name = "Tern',
        'company[3].name = "Tern Rock": there is no ship of that name. '
        "There are: corbel, lintel; or add a table for it to the plan, such as [ships.mine]."),
    "bearing without a side": Fault(
        '"60 deg port"', '"60 deg"', '"60 deg"',
        'company[3].bearing = "60 deg": an angle off the bow must say which side. Write for example "10 deg port".'),
    "bearing missing": Fault(
        'bearing = "60 deg port"\n', "", '[[company]]\nname = "Tern',
        "company[3].bearing: off the guide's bow on the base course: missing. "
        'Add bearing = "10 deg port" under [company[3]].'),
    "distance without a unit": Fault(
        '"4000 yd"', '"4000"', '"4000"',
        'company[3].distance = "4000": a distance needs its unit: ft, yd, nm, m, km. Write for example "1000 yd".'),
    "distance of ten yards": Fault(
        '"4000 yd"', '"10 yd"', '"10 yd"', f'company[3].distance = "10 yd": at least 100 yd is allowed. {LOOK}'),
    "role unknown": Fault(
        '"escort"', '"tanker"', "tanker",
        'company[3].role = "tanker": allowed are carrier, escort, plane guard. Choose one.'),
    "company as one table": Fault(
        GOOD[GOOD.index("[[company]]") : GOOD.index("[squadrons.amber]")], '[company]\nname = "x"\n', "[company]",
        'company = { name = "x" }: ships in company are tables in a list. Write [[company]].'),
    "two corners": Fault(
        '  "33 S 5 W",\n', "", "corners",
        'sea_room.corners = ["31 S 6 W", "31 S 4 W"]: 3 to 200 corners are wanted, in order round the water. '
        f"{CORNERS}"),
    "201 corners": Fault(
        '  "33 S 5 W",\n', '"33 S 5 W",\n' * 199, "corners",
        f"sea_room.corners = 201 corners: 3 to 200 corners are wanted, in order round the water. {CORNERS}"),
    "corner in words": Fault(
        '"31 S 4 W"', '"the cape"', "cape",
        'sea_room.corners[2] = "the cape": not a position: degrees and minutes with N or S, then E or W. '
        'Write "37 20 S 012 10 W".'),
    "corner a number": Fault(
        '"31 S 4 W"', "31.4", "31.4",
        'sea_room.corners[2] = 31.4: a position in quotes is wanted. Write "31 00 S 006 00 W".'),
    "corners missing": Fault(
        "[sea_room]\ncorners = [", "[sea_room]\nconers = [", "[sea_room]",
        f"sea_room.corners: 3 to 200 corners are wanted, in order round the water. {CORNERS}"),
}  # fmt: skip
OTHERS = {
    "zone in words": Fault(
        'zone = "-1:00"', 'zone = "GMT"', "GMT",
        'place.zone = "GMT": not an offset from universal time. '
        "Write for example +10:00, -9:30 or Z, or a zone description as ZD -10."),
    "zone without a sign": Fault(
        'zone = "-1:00"', 'zone = "1:00"', "zone",
        'place.zone = "1:00": not an offset from universal time. '
        "Write for example +10:00, -9:30 or Z, or a zone description as ZD -10."),
    "zone of +15": Fault(
        'zone = "-1:00"', 'zone = "+15:00"', "+15:00",
        'place.zone = "+15:00": -12:00 to +14:00 is allowed. Give another offset.'),
    "zone description of the wrong sign": Fault(
        'zone = "-1:00"', 'zone = "ZD +13"', "ZD +13",
        'place.zone = "ZD +13": -12:00 to +14:00 is allowed. Give another offset.'),
    "date beyond the field": Fault(
        "1949-03-17", "2040-03-17", "2040",
        'place.date = "2040-03-17": the earth\'s field is known from 1900 to 2030. '
        'Give variation = "7 deg E" under [place].'),
    "simulator's sunset in words": Fault(
        '"18:10"', '"evening"', 'sunset = "evening',
        'simulator.sunset = "evening": a time is hours and minutes by the clock, from 00:00 to 23:59. '
        'Write for example "17:25".'),
    "winds towards": Fault(
        '"from"', '"towards"', "towards", 'simulator.winds = "towards": allowed are from, to. Choose one.'),
    "unknown time of the simulator": Fault(
        'sunset = "18:10"', 'sundown = "18:10"', "sundown",
        "simulator.sundown: there is no such key here. "
        "Allowed are winds, sunrise, sunset, civil_dawn, civil_dusk, nautical_dawn, nautical_dusk."),
    "radio a word": Fault(
        GOOD[GOOD.index("[radio]") : GOOD.index("[sea_room]")], '[[radio]]\nsilence = "x"\n', "[[radio]]",
        'radio = [{ silence = "x" }]: a table is wanted here. Write [radio].'),
    "channels no list": Fault(
        '[{ name = "A", use = "landing" }]', '"A"', "channels",
        f'radio.channels = "A": a list of channels is wanted. {CHANNELS}'),
    "21 channels": Fault(
        '{ name = "A", use = "landing" }', ", ".join(['{ name = "A", use = "x" }'] * 21), "channels",
        "radio.channels = 21 channels: at most 20. Leave some out."),
    "channel without a use": Fault(
        ', use = "landing"', "", "channels",
        'radio.channels[1].use: what it is for: missing. Add use = "..." under [radio.channels[1]].'),
    "altimeter in feet": Fault(
        '"30.02 inHg"', '"30.02 ft"', "30.02 ft",
        "cockpit.altimeter = \"30.02 ft\": unit 'ft' does not fit a pressure; use one of: inHg, hPa, mb. "
        'Write for example "29.92 inHg".'),
    "negative swell": Fault(
        '"5 ft"', '"-5 ft"', "-5 ft", f'weather.swell = "-5 ft": at least 0 ft is allowed. {LOOK}'),
    "signs of no name": Fault(
        "[radio]", '[override]\nsigns = "fast-carier-1944"\n[radio]', "fast-carier",
        'override.signs = "fast-carier-1944": there are no signs of that name. Did you mean fast-carrier-1944.'),
    "words of no name": Fault(
        "[radio]", '[override]\nwords = "zzz"\n[radio]', "zzz",
        'override.words = "zzz": there are no words of that name. There are fast-carrier-1944, half-mile-1945.'),
    "regaining at 99 kt": Fault(
        '"20 kt"', '"99 kt"', "99 kt", f'ship.regain_speed = "99 kt": at most 45.0 kt is allowed. {LOOK}'),
}  # fmt: skip
FAULTS = TIMES | EVENTS | SQUADRONS | COMPANY | OTHERS


def changed(text: str, fault: Fault) -> str:
    assert fault.old in text, fault.old
    return text.replace(fault.old, fault.new, 1)


def line_of(text: str, at: str) -> int:
    """The line on which a text begins, counted by line ends."""
    return text[: text.index(at)].count("\n") + 1


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


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    file = tmp_path / "plan.toml"
    file.write_text(GOOD, encoding="utf-8")
    return file


def test_the_plan_all_faults_start_from_is_good() -> None:
    document = parse_document("plan.toml", GOOD)
    assert isinstance(document, Document)
    day = day_of(document)
    assert (len(day.events), len(day.company), len(day.parts)) == (2, 3, 1)


def test_there_are_many_cases() -> None:
    assert len(FAULTS) >= 75


@pytest.mark.parametrize("fault", FAULTS.values(), ids=FAULTS)
def test_a_fault_is_one_clear_line(fault: Fault, plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = changed(GOOD, fault)
    plan.write_text(text, encoding="utf-8")
    said = complaints_of(capsys, "check", plan)
    assert f"{plan}:{line_of(text, fault.at)}: {fault.says}" in said
    # what is misspelt or wrong may leave another thing unfound; nothing else is said
    assert sum(not any(word in line for word in ("no such key", "missing", "nobody", "no seat", "no squadron",
               "no carrier")) for line in said) <= 1  # fmt: skip


# Nothing is written


@pytest.mark.parametrize(
    "name", ["launch before the datum", "two carriers of one name", "everyone absent", "two corners", "zone of +15"]
)
def test_a_broken_day_leaves_the_folder_as_it_was(
    name: str, plan: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(plan.parent)
    plan.write_text(changed(GOOD, FAULTS[name]), encoding="utf-8")
    out = plan.parent / "out"
    out.mkdir()
    (out / "brief.html").write_bytes(b"last week")
    before = {file: file.read_bytes() for file in plan.parent.rglob("*") if file.is_file()}
    for command in (("brief", "-o", "out"), ("brief", "-o", "new"), ("rehearse", "--csv", "out/pass.csv")):
        complaints_of(capsys, command[0], plan, *command[1:])
        assert {file: file.read_bytes() for file in plan.parent.rglob("*") if file.is_file()} == before
        assert not (plan.parent / "new").exists()


# Files that are no plan


@pytest.mark.parametrize(
    ("raw", "line", "limit"),
    [
        (b"", 0, "the file is empty"),
        (b"\xef\xbb\xbf\r\n\r\n", 0, "the file is empty"),
        (GOOD.replace("Tern Rock", "Aigrette à lunettes").encode("cp1252"), 36, "the file is not UTF-8 text"),
        (GOOD.encode("utf-16"), 1, "the file is not UTF-8 text"),
        (GOOD.replace("[[event]]", "[event]", 1).encode(), 57, "this stands in the file already"),
        (bytes(range(255, -1, -1)) * 400, 1, "the file is not UTF-8 text"),
        (GOOD.encode() + b"# junk\n" * 300_000, 0, "the file is larger than 2 MB"),
    ],
    ids=["empty", "only line ends", "cp1252", "utf-16", "event twice in two ways", "noise", "2 MB"],
)
def test_a_file_that_is_no_plan_is_one_complaint(
    raw: bytes, line: int, limit: str, plan: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan.write_bytes(raw)
    (said,) = complaints_of(capsys, "check", plan)
    assert said.startswith(f"{plan}:{line}: {limit}" if line else f"{plan}: {limit}")
    assert len(said) < 300


def test_a_folder_or_a_pipe_is_no_plan(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert complaints_of(capsys, "check", plan.parent) == [
        f"{plan.parent}: this is a folder. Name the plan file in it."
    ]
    if hasattr(os, "mkfifo"):
        pipe = plan.parent / "pipe.toml"
        os.mkfifo(pipe)
        assert complaints_of(capsys, "check", pipe) == [f"{pipe}: this is no ordinary file. Name a plan file."]


# Any plan at all

PLANS = (
    GOOD,
    *(resources.files("roundown.plan").joinpath(name).read_text("utf-8") for name in ("demo.toml", "larger.toml")),
)
JUNK = (
    "true", "0", "-1", "1e400", "nan", "0x" + "f" * 5000, '""', '"  "', '"a"', "[]", "{}", "[[]]", "[{}]", '["a"]',
    "{ value = 3 }", '{ value = "17:00", source = "x" }', "1949-03-17", "17:00:00", "1949-03-17T17:00:00Z",
    '"launch"', '"recovery - 1 h"', '"00:00 +999 days"', '"11"', '"Vane"', '"corbel"', r'"\u0000"', '"x\\ny"',
)  # fmt: skip


def spoilt(text: str, chance: random.Random) -> str:
    """A plan with a line lost, two values exchanged, or a value replaced by something of another sort."""
    lines = text.split("\n")
    valued = [i for i, line in enumerate(lines) if "=" in line]
    i, j = chance.choice(valued), chance.choice(valued)
    slip = chance.randrange(4)
    if slip == 0:
        del lines[i]
    elif slip == 1:
        first, second = (lines[k].split("=", 1) for k in (i, j))
        lines[i], lines[j] = f"{first[0]}={second[1]}", f"{second[0]}={first[1]}"
    elif slip == 2:
        lines[i] = f"{lines[i].split('=', 1)[0]}= {chance.choice(JUNK)}"
    else:  # one value inside a line
        parts = lines[i].split('"')
        if len(parts) > 2:
            k = chance.randrange(1, len(parts), 2)
            before, after = '"'.join(parts[:k]), '"'.join(parts[k + 1 :])
            lines[i] = f"{before}{chance.choice(JUNK)}{after}"
    return "\n".join(lines)


@given(seed=st.integers(0, 2**32), changes=st.integers(1, 4), base=st.sampled_from(PLANS))
@settings(max_examples=400, deadline=None)
def test_a_spoilt_day_is_a_day_or_complaints(seed: int, changes: int, base: str) -> None:
    chance = random.Random(seed)  # noqa: S311 - no secret
    text = base
    for _ in range(changes):
        text = spoilt(text, chance)
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
