"""The pass on the brief page: every table and drawing is there, says what was solved, and has ids of its own."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
from tests.cards.conftest import NO_CIRCUIT, RIGHT_HAND, Solved, SolvedBy
from tests.cards.day_plans import day_of

from roundown.cards.brief_pass import pass_section
from roundown.quantities import ANGLE, YARD, write
from roundown.recovery.latest_turn_in import LatestTurnIn
from roundown.recovery.spacing import Spacing
from roundown.recovery.touchdown_result import Touchdown, what_moves_it
from roundown.solution import Unsolved

DAYS = [("fast-carrier-1944", ""), ("half-mile-1945", ""), ("fast-carrier-1944", RIGHT_HAND)]


def section(found: Solved) -> ET.Element:
    made = pass_section(found.day, found.solution)
    assert made is not None
    return made


def text_of(made: ET.Element) -> str:
    return " ".join(" ".join(made.itertext()).split())


def table_of(made: ET.Element, caption: str) -> list[list[str]]:
    """The rows of the table whose caption begins so, the heads first."""
    found = next(each for each in made.iter("table") if (each.findtext("caption") or "").startswith(caption))
    return [["".join(cell.itertext()) for cell in row] for row in found.iter("tr")]


def listed(made: ET.Element, name: str) -> dict[str, str]:
    found = next(each for each in made.iter("div") if each.findtext("h3") == name and each.find("dl") is not None)
    told = ["".join(each.itertext()) for each in found.find("dl") or []]
    return dict(zip(told[::2], told[1::2], strict=True))


@pytest.mark.parametrize(("doctrine", "more"), DAYS)
def test_every_error_has_its_row_dearest_first(solved: SolvedBy, doctrine: str, more: str) -> None:
    found = solved(doctrine, more=more)
    heads, *rows = table_of(section(found), "What an error costs")
    assert len(rows) == len(found.solution.costs)
    assert all(len(row) == len(heads) for row in rows)
    costs = [float(row[-1]) for row in rows]
    assert costs == sorted(costs, reverse=True)
    late = next(row for row in rows if row[0] == "A turn-in 1 s late")
    assert late[1] == f"{-found.solution.costs['turn_in_1_s_late'].ahead / YARD:.0f} yd astern"
    assert late[2] == "–"
    bank = next(row for row in rows if row[0].startswith("1 deg more bank"))
    assert bank[6] == "1.0 deg less"


def test_who_is_where_is_told_for_everyone_in_the_circuit(solved: SolvedBy) -> None:
    found = solved()
    spacing = found.solution.spacing
    assert isinstance(spacing, Spacing)
    _, first, second, *rest = table_of(section(found), "Who is where")
    assert len(rest) + 2 == len(spacing.places)
    assert (first[0], first[1], first[-1]) == ("Number 1", "over the ramp", "")
    figures = found.solution.figures
    assert second[-1] == figures["spacing.places.number_2.to_next"].text
    assert f"{figures['spacing.closest.distance'].text}, with " in text_of(section(found))
    alone = Solved(found.day, replace(found.solution, spacing=replace(spacing, closest=None)))
    assert "No two are ever in the circuit together." in text_of(section(alone))


def test_the_lists_hold_the_figures_of_the_day(solved: SolvedBy) -> None:
    found = solved()
    made, figures = section(found), found.solution.figures
    again = listed(made, "Waved off over the ramp")
    assert again["over the ramp again in"] == figures["wave_off.time"].text
    assert again["the same by rule of thumb"] == figures["wave_off.time_by_rule"].text
    speed = listed(made, "Speed over the ramp")
    assert speed["stall, throttle shut"] == figures["approach.stall"].text
    assert speed["by rule, so many knots over it"] == figures["approach.by_rule"].text
    turns = listed(made, "The ship’s own turns")
    assert turns["steady before the first is over the ramp"] == figures["turning.steady_before"].text
    last = listed(made, "Last wave-off that stays clear")
    assert last["height lost"] == figures["last_wave_off.height_lost"].text


def test_the_window_of_turn_ins_is_told_with_its_banks(solved: SolvedBy) -> None:
    found = solved()
    window = found.solution.latest_turn_in
    assert isinstance(window, LatestTurnIn)
    assert window.latest is not None
    told = text_of(section(found))
    assert f"The latest needs {write(window.latest.to_ninety, ANGLE)} up to the ninety" in told
    assert found.solution.figures["latest_turn_in.closest_abeam"].text in told
    shut = replace(window, earliest=None, latest=None, window=None, closest_abeam=None)
    told = text_of(section(Solved(found.day, replace(found.solution, latest_turn_in=shut))))
    assert "Earliest: none closes. Latest: none closes." in told


def test_both_drawings_stand_on_the_page_with_what_moves_the_touch(solved: SolvedBy) -> None:
    found = solved()
    made = section(found)
    titles = [each.findtext("title") for each in made.iter("svg")]
    assert titles == [
        "Final turns from a turn-in early, on time and late", "Touchdown from the side, the bow to the right",
    ]  # fmt: skip
    touchdown = found.solution.touchdown
    assert isinstance(touchdown, Touchdown)
    assert [each.text for each in made.iter("li")] == list(what_moves_it(touchdown))
    assert listed(made, "The touch")["Hook over the ramp"] == found.solution.figures["touchdown.hook_over_ramp"].text


def test_the_sections_of_all_carriers_and_types_share_no_id() -> None:
    found = day_of("night")
    whole = [Solved(found.day, found.solution)]
    whole += [Solved(found.day.parts[name], theirs) for name, theirs in found.solution.parts.items()]
    made = [section(each) for each in whole]
    ids = [each.attrib["id"] for part in made for each in part.iter() if "id" in each.attrib]
    assert len(ids) == len(set(ids))
    named = {name for part in made for each in part.iter() for name in each.attrib.get("aria-labelledby", "").split()}
    assert named <= set(ids)
    assert made[0].findtext("h2") == "The pass: Ottery on Corbel"
    assert len({part.findtext("h2") for part in made}) == len(made)


def test_what_is_not_worked_out_says_why(solved: SolvedBy) -> None:
    found = solved()
    why = Unsolved("the type does not give wave_off.power_time")
    lacking = replace(
        found.solution, wave_off=why, last_wave_off=why, latest_turn_in=why, spacing=why, touchdown=why, approach=why,
        turning=why, late_paths={}, late_views={}, costs={},
    )  # fmt: skip
    made = section(Solved(found.day, lacking))
    told = text_of(made)
    assert told.count("not worked out: the type does not give wave_off.power_time.") == 4
    assert "What an error costs is not worked out" in told
    assert "Not worked out: the type does not give wave_off.power_time." in told
    assert not list(made.iter("svg"))


def test_without_a_circuit_there_is_no_section(solved: SolvedBy) -> None:
    found = solved(more=NO_CIRCUIT)
    assert pass_section(found.day, found.solution) is None


def test_how_the_figures_came_about_names_the_givens(solved: SolvedBy) -> None:
    rows = table_of(section(solved()), "What they rest on")
    keys = {row[0] for row in rows}
    assert {"doctrine.circuit.greatest_bank", "ship.gear.wires", "type.wave_off.power_time"} & keys
