"""What changed between two solved days."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roundown.day.changes import Changes, changes
from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.plan.facts import Day

DayOf = Callable[..., Day]
MEMORY = Memory()


def between(one: Day, other: Day) -> Changes:
    return changes((one, solve(one, MEMORY)), (other, solve(other, MEMORY)))


def test_a_day_against_itself_has_not_changed(day_with: DayOf) -> None:
    assert not between(day_with(), day_with())


def test_a_remark_changes_the_plan_and_not_the_day(day_with: DayOf) -> None:
    one, other = day_with(), day_with("# later\n")
    assert one.hash != other.hash
    assert not between(one, other)


def test_a_knot_of_wind_changes_course_speed_and_circuit_and_says_by_how_much(day_with: DayOf) -> None:
    """Own arithmetic: dead ahead, a knot more of wind is a knot less of ship; the flight course goes with the wind."""
    found = between(day_with(wind="140/11 kt"), day_with(wind="150/12 kt"))
    told = {change.key: change for change in found.figures}
    assert (told["flight.course"].before, told["flight.course"].after) == ("140", "150")
    assert told["flight.course"].apart == "+10.0 deg"
    assert (told["flight.speed"].before, told["flight.speed"].after) == ("19.0 kt", "18.0 kt")
    assert told["flight.speed"].apart == "-1.0 kt"
    assert found.figures[0].key == "flight.course"


def test_a_direction_changes_the_shorter_way(day_with: DayOf) -> None:
    found = between(day_with(wind="355/11 kt"), day_with(wind="005/11 kt"))
    assert next(change for change in found.figures if change.key == "flight.course").apart == "+10.0 deg"


def test_a_later_launch_is_told_in_minutes(day_with: DayOf) -> None:
    found = between(day_with(launch="13:00"), day_with(launch="13:12"))
    launch = next(change for change in found.figures if change.key == "events.patrol.launch")
    assert (launch.before, launch.after, launch.apart) == ("13:00", "13:12", "+12 min")


def test_who_flies_what_is_told(day_with: DayOf) -> None:
    """Constructed: Pell is away, and Lusk, who sat behind, moves up."""
    found = between(day_with(), day_with('\n[muster]\nabsent = ["Pell"]\n'))
    people = {change.key: (change.before, change.after) for change in found.people}
    assert people["patrol, 12"] == ("Pell, 2 of 4 off", "Lusk, 2 of 3 off")
    assert people["patrol, 14"] == ("Lusk, 4 of 4 off", "")
    assert [finding.id for finding in found.new] == ["short-of-aeroplanes", "section-of-one"]
    assert found.verdict == ("Works as planned.", "Works, with 2 notes.")


@pytest.mark.parametrize(("first", "second"), [("140/11 kt", "150/13 kt"), ("calm", "140/11 kt")])
def test_backwards_it_is_the_mirror(day_with: DayOf, first: str, second: str) -> None:
    there = between(day_with(wind=first), day_with(wind=second))
    back = between(day_with(wind=second), day_with(wind=first))
    assert {(change.key, change.before, change.after) for change in there.figures} == {
        (change.key, change.after, change.before) for change in back.figures
    }
    assert (there.gone, there.new) == (back.new, back.gone)
    assert there.verdict == back.verdict[::-1]
