"""Events of a plan: when, what for, and who flies."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roundown.errors import PlanError
from roundown.plan.facts import Day, FlyingEvent
from roundown.schedule.when import When

Read = Callable[[str], Day]
SQUADRONS = """
[squadrons.amber]
type = "ottery"
roster = [
  { side = "11", name = "Vane" }, { side = "12", name = "Pell" }, { side = "13", name = "Orme" },
  { side = "14", name = "Lusk" }, { side = "21", name = "Hale" }, { side = "22", name = "Dray" },
]
[squadrons.cobalt]
type = "brindle"
roster = [{ side = "51", name = "Rudd" }, { side = "52", name = "Tope" }, { side = "53", name = "Wick" }]
"""


def event(name: str, times: str = 'launch = "17:00"', who: str = "aeroplanes = { amber = 4 }") -> str:
    return f'\n[[event]]\nname = "{name}"\n{times}\n{who}\n'


def sides(found: FlyingEvent) -> list[str]:
    return [seat.side for seat in found.seats]


def wrong(read: Read, text: str) -> list[str]:
    with pytest.raises(PlanError) as caught:
        read(text)
    return [complaint.limit for complaint in caught.value.complaints]


# When


def test_times_stand_as_they_were_written(read: Read) -> None:
    times = """\
launch = 17:25:30
push = "launch + 20 min"
time_on_target = "Sunset"
recovery = "01:20 next day"
task = "patrol"
load = "none"
target = "the anchorage"
"""
    (found,) = read(SQUADRONS + event("one", times)).events
    assert found.launch == When("", 17 * 3600 + 25 * 60 + 30, "17:25:30")
    assert found.push == When("launch", 1200.0, "launch + 20 min")
    assert found.time_on_target == When("sunset", 0.0, "Sunset")
    assert found.recovery == When("", 86400 + 3600 + 1200, "01:20 next day")
    assert (found.task, found.load, found.target) == ("patrol", "none", "the anchorage")


def test_a_time_may_stand_without_quotes_beside_its_source(read: Read) -> None:
    (found,) = read(SQUADRONS + event("one", 'launch = { value = 17:25:00, source = "order of the day" }')).events
    assert found.launch == When("", 17 * 3600 + 25 * 60, "17:25:00")


def test_an_event_may_be_a_launch_or_a_recovery_alone(read: Read) -> None:
    first, second = read(SQUADRONS + event("out") + event("home", 'recovery = "18:00"')).events
    assert (first.recovery, second.launch) == (None, None)


def test_what_an_event_gives_is_found_by_its_name(read: Read) -> None:
    day = read(SQUADRONS + event("dawn strike no. 2"))
    assert day.word("event.dawn_strike_no__2.launch") == "17:00"


def test_a_launch_at_the_datum_time_is_the_earliest(read: Read) -> None:
    """The plan's datum time is 14:00."""
    assert read(SQUADRONS + event("one", 'launch = "14:00"')).events[0].launch is not None
    assert wrong(read, SQUADRONS + event("one", 'launch = "13:59:59"')) == ["this is before the datum time, 14:00"]


@pytest.mark.parametrize(
    ("times", "limit"),
    [
        ('launch = "17:00"\nrecovery = "17:00"', "recovery must come after launch, 17:00"),
        ('launch = "17:00"\npush = "16:50"', "push must come after launch, 17:00"),
        ('launch = "23:00"\nrecovery = "01:00"', "this is before the datum time, 14:00"),
        ('launch = "23:00 next day"\nrecovery = "01:00 next day"', "recovery must come after launch, 23:00 next day"),
        ('launch = "17:00"\npush = "launch"', "push must come after launch, 17:00"),
        ('launch = "17:00"\npush = "launch + 1 h"\nrecovery = "18:00"', "recovery must come after push, launch + 1 h"),
        (
            'launch = "17:00"\npush = "launch + 20 min"\ntime_on_target = "launch + 10 min"',
            "time_on_target must come after push, launch + 20 min",
        ),
        (
            'launch = "sunset - 1 h"\nrecovery = "sunset - 2 h"',
            "recovery must come after launch, sunset - 1 h",
        ),
        (
            'launch = "sunset"\npush = "launch + 1 h"\nrecovery = "sunset + 40 min"',
            "recovery must come after push, launch + 1 h",
        ),
    ],
)  # fmt: skip
def test_what_comes_later_must_be_later(read: Read, times: str, limit: str) -> None:
    assert wrong(read, SQUADRONS + event("one", times)) == [limit]


def test_times_by_different_things_are_compared_only_when_they_are_known(read: Read) -> None:
    assert read(SQUADRONS + event("one", 'launch = "sunset"\nrecovery = "15:00"')).events


# Who


def test_seats_are_given_out_in_order_of_the_roster_over_the_day(read: Read) -> None:
    """Constructed: of six the first event takes four, the second the two left of three asked for, the third begins
    anew; the other squadron is counted by itself."""
    three = (
        event("first", who="aeroplanes = { amber = 4, cobalt = 1 }")
        + event("second", who="aeroplanes = { amber = 3 }")
        + event("third", who="aeroplanes = { cobalt = 1, amber = 2 }")
    )
    first, second, third = read(SQUADRONS + three).events
    assert sides(first) == ["11", "12", "13", "14", "51"]
    assert (sides(second), second.wanted) == (["21", "22"], 3)
    assert (sides(third), third.wanted) == (["52", "11", "12"], 3)


def test_more_than_there_are_is_no_error_but_remembered(read: Read) -> None:
    (found,) = read(SQUADRONS + event("one", who="aeroplanes = { cobalt = 9 }")).events
    assert (len(found.seats), found.wanted) == (3, 9)


def test_seats_by_side_number_fly_in_the_order_named(read: Read) -> None:
    found, again = read(
        SQUADRONS + event("one", who='seats = ["22", "51", "11"]') + event("two", who='seats = ["11"]')
    ).events
    assert (sides(found), found.wanted) == (["22", "51", "11"], 3)
    assert sides(again) == ["11"]


def test_after_the_muster_the_seats_follow(read: Read) -> None:
    """Constructed: Pell and Hale of six are away; four seats fly, and Dray comes forward to 12."""
    muster = '\n[muster]\nabsent = ["Pell", "Hale"]\n'
    day = read(SQUADRONS + muster + event("one", who="aeroplanes = { amber = 3 }") + event("two", who='seats = ["22"]'))
    one, two = day.events
    assert [(seat.side, seat.name) for seat in one.seats] == [("11", "Vane"), ("12", "Dray"), ("13", "Orme")]
    assert (two.seats, two.wanted) == ((), 1)


def test_a_seat_nobody_is_left_for_is_still_a_seat_of_the_roster(read: Read) -> None:
    """A side number that stands as a number, or beside its source, was once not known once its seat was empty."""
    roster = SQUADRONS.replace('side = "22"', 'side = { value = "22", source = "line book" }')
    muster = '\n[muster]\nabsent = ["Dray"]\n'
    (found,) = read(roster + muster + event("one", who='seats = ["21", "22"]')).events
    assert (sides(found), found.wanted) == (["21"], 2)
