"""Squadrons of a plan: rosters, homes, call signs, and who turned up."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roundown.errors import PlanError
from roundown.plan.facts import Day
from roundown.plan.muster import reseat

Read = Callable[[str], Day]
AMBER = """
[squadrons.amber]
type = "ottery"
call_sign = "Tallow"
roster = [
  { side = 11, name = "Vane", leader = "squadron", skill = "experienced" },
  { side = "12", name = "Pell", call_sign = "Tallow Two" },
  { side = "13", name = "Orme", leader = "section" },
  { side = "14", name = "Lusk", skill = "novice" },
  { side = "21", division = "2", section = 1 },
  { side = "22", division = 7, section = "3" },
]
"""
GREY = """
[[company]]
name = "lintel"
role = "carrier"
bearing = "90 deg starboard"
distance = "9000 yd"
[squadrons.grey]
label = "Grey flight"
type = "sallow"
ship = "lintel"
roster = [{ side = "1", name = "Marl" }, { side = "2", name = "Sedge" }]
"""


def test_a_roster_gives_each_seat_its_place(read: Read) -> None:
    """Constructed: without numbers a division is four seats and a section two, in order."""
    amber = read(AMBER).squadrons["amber"]
    assert [seat.side for seat in amber.seats] == ["11", "12", "13", "14", "21", "22"]
    assert [(seat.division, seat.section) for seat in amber.seats] == [(1, 1), (1, 1), (1, 2), (1, 2), (2, 1), (7, 3)]
    assert [seat.leader for seat in amber.seats] == ["squadron", "", "section", "", "", ""]
    assert [seat.skill for seat in amber.seats] == ["experienced", "trained", "trained", "novice", "trained", "trained"]
    assert {seat.squadron for seat in amber.seats} == {"amber"}


def test_a_seats_call_sign_is_the_squadrons_and_its_number_unless_it_has_its_own(read: Read) -> None:
    amber = read(AMBER).squadrons["amber"]
    assert [seat.call_sign for seat in amber.seats[:3]] == ["Tallow 1", "Tallow Two", "Tallow 3"]
    silent = read(AMBER.replace('call_sign = "Tallow"\n', "")).squadrons["amber"]
    assert [seat.call_sign for seat in silent.seats[:3]] == ["", "Tallow Two", ""]


def test_a_squadron_without_label_or_ship_has_its_own_name_and_the_guide(read: Read) -> None:
    amber = read(AMBER).squadrons["amber"]
    assert (amber.label, amber.ship) == ("amber", "corbel")
    grey = read(AMBER + GREY).squadrons["grey"]
    assert (grey.label, grey.ship) == ("Grey flight", "lintel")


def test_a_plan_with_squadrons_needs_no_aeroplane_of_its_own(read: Read) -> None:
    day = read(AMBER)
    assert (day.ship, day.type, day.part) == ("corbel", "ottery", "corbel.ottery")
    assert day.parts == {}
    assert day.word("type.label")


def test_each_carrier_and_type_that_fly_are_a_part_of_the_day(read: Read) -> None:
    cobalt = '\n[squadrons.cobalt]\ntype = "brindle"\nroster = [{ side = "51" }]\n'
    again = '\n[squadrons.umber]\ntype = "ottery"\nroster = [{ side = "91" }]\n'
    day = read(AMBER + GREY + cobalt + again)
    assert day.part == "corbel.ottery"
    assert set(day.parts) == {"corbel.brindle", "lintel.sallow"}
    grey = day.parts["lintel.sallow"]
    assert (grey.ship, grey.type) == ("lintel", "sallow")
    assert grey.word("ship.label") != day.word("ship.label")
    assert grey.word("type.label") != day.word("type.label")
    assert grey.number("place.latitude") == day.number("place.latitude")
    assert (grey.events, grey.squadrons, grey.company) == (day.events, day.squadrons, day.company)


def test_the_aeroplane_of_the_plan_is_the_first_part_and_its_weight_only_its_own(read: Read) -> None:
    day = read(AMBER + '[aeroplane]\ntype = "sallow"\nweight = "6000 lb"\n')
    assert day.part == "corbel.sallow"
    assert set(day.parts) == {"corbel.ottery"}
    assert day.givens["type.landing_weight"].text == "6000 lb"
    assert day.parts["corbel.ottery"].givens["type.landing_weight"].text != "6000 lb"


def test_a_carrier_brings_her_own_doctrine_values_and_the_plan_goes_over_them(read: Read) -> None:
    punt = """
[ships.punt]
label = "Punt"
deck_height = "40 ft over sea"
deck_length = "500 ft"
deck_width = "70 ft"
island_place = "250 ft ahead of ramp"
least_speed = "4 kt"
greatest_speed = "18 kt"
turning_circle = "700 yd"
speed_gain = "4 kt/min"
[ships.punt.override.circuit]
interval = "40 s"
break_bank = "22 deg"
[override.circuit]
break_bank = "26 deg"
"""
    grey = GREY.replace('name = "lintel"', 'name = "Punt"\nship = "punt"').replace('"lintel"', '"Punt"')
    day = read(AMBER + grey + punt)
    hers = day.parts["Punt.sallow"]
    assert hers.givens["doctrine.circuit.interval"].text == "40 s"
    assert day.givens["doctrine.circuit.interval"].text != "40 s"
    for part in (day, hers):
        assert part.givens["doctrine.circuit.break_bank"].text == "26 deg"


# Muster


def test_those_absent_leave_their_seats_to_those_behind(read: Read) -> None:
    """Constructed: Vane is away; five seats fly, and of those behind them only the seat without a name is left."""
    amber = read(AMBER + '[muster]\nabsent = ["Vane"]\n').squadrons["amber"]
    assert [seat.side for seat in amber.seats] == ["11", "12", "13", "14", "21"]
    assert amber.absent == ("Vane",)
    assert [seat.side for seat in amber.roster] == ["11", "12", "13", "14", "21", "22"]
    assert [seat.name for seat in amber.roster][:2] == ["Vane", "Pell"]


def test_naming_the_present_or_the_absent_comes_to_the_same(read: Read) -> None:
    named = AMBER[: AMBER.index('  { side = "21"')] + "]\n"
    absent = read(named + '[muster]\nabsent = ["Vane", "Lusk"]\n').squadrons["amber"]
    present = read(named + '[muster]\npresent = ["Pell", "Orme"]\n').squadrons["amber"]
    assert absent == present
    assert [seat.name for seat in absent.seats] == ["Orme", "Pell"]
    assert absent.moved == {"Orme": "13"}
    assert absent.absent == ("Vane", "Lusk")


def test_a_muster_reaches_every_squadron(read: Read) -> None:
    day = read(AMBER + GREY + '[muster]\nabsent = ["Marl", "Pell"]\n')
    assert [seat.name for seat in day.squadrons["grey"].seats] == ["Sedge"]
    assert day.squadrons["grey"].moved == {"Sedge": "2"}
    roster = day.squadrons["amber"].roster
    assert day.squadrons["amber"].seats == reseat(roster, [seat.name != "Pell" for seat in roster]).seats


def test_nobody_absent_changes_nothing(read: Read) -> None:
    assert read(AMBER + "[muster]\nabsent = []\n").squadrons == read(AMBER).squadrons
    assert read(AMBER + "[muster]\n").squadrons == read(AMBER).squadrons


def test_a_squadron_that_stayed_at_home_is_no_part_of_the_day(read: Read) -> None:
    assert read(AMBER + GREY + '[muster]\nabsent = ["Marl", "Sedge"]\n').parts == {}


def test_a_number_too_long_to_write_is_a_complaint(read: Read) -> None:
    """It once ended in a traceback."""
    with pytest.raises(PlanError, match="a number from 1 to 30"):
        read(AMBER.replace('division = "2"', "division = 0x" + "f" * 5000))
