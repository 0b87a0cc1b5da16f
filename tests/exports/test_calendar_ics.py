"""The calendar read back by the library icalendar: form by RFC 5545, content by the Solution."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

import icalendar
import pytest

from roundown.exports.calendar_ics import calendar_bytes
from roundown.exports.moments import NoMomentsError
from roundown.plan.facts import Day
from roundown.quantities import write_position
from roundown.solution import Solution, Unsolved

Solved = tuple[Day, Solution]
CAUTION = "For simulation, teaching and history. Real operations follow the authority's manuals and licensed people."
DEG = math.pi / 180.0


def read(solved: Solved) -> Any:
    return icalendar.Calendar.from_ical(calendar_bytes(*solved))


@pytest.fixture(params=["evening", "pacific"])
def solved(request: pytest.FixtureRequest) -> Solved:
    found: Solved = request.getfixturevalue(request.param)
    return found


def test_a_general_reader_takes_it_without_complaint(solved: Solved) -> None:
    calendar = read(solved)
    assert not calendar.errors
    assert not any(event.errors for event in calendar.events)
    assert calendar["VERSION"] == "2.0"
    assert calendar["PRODID"].startswith("-//roundown//")
    assert str(calendar["DESCRIPTION"]).endswith(CAUTION)
    assert solved[0].hash in calendar["DESCRIPTION"]


def test_lines_are_folded_at_75_octets_and_end_as_the_standard_asks(pacific: Solved) -> None:
    """RFC 5545, 3.1. Unfolded by hand, the text is whole and the caution stands in it once."""
    content = calendar_bytes(*pacific)
    lines = content.split(b"\r\n")
    assert lines[-1] == b""
    assert all(0 < len(line) <= 75 for line in lines[:-1])
    assert b"\n" not in content.replace(b"\r\n", b"")
    for line in lines:
        line.decode()  # no character is parted
    unfolded = content.decode().replace("\r\n ", "")
    assert unfolded.count("For simulation\\, teaching and history.") == 1


def test_texts_come_back_as_they_were(pacific: Solved) -> None:
    """Constructed: the plan's title and event hold every character that is escaped; the bell is left out."""
    calendar = read(pacific)
    title = 'Over the line & back; "Süd", <first> of two, \\.'
    assert str(calendar["DESCRIPTION"]).startswith(f"{title}. Plan ")
    assert 'search; "out", <home> & \\ aboard: first take-off' in [str(event["SUMMARY"]) for event in calendar.events]


@pytest.mark.parametrize(("name", "offset"), [("evening", 0.0), ("pacific", 11.5 * 3600.0)])
def test_every_moment_is_an_entry_at_its_instant_and_place(
    name: str, offset: float, request: pytest.FixtureRequest
) -> None:
    day, solution = request.getfixturevalue(name)
    assert not isinstance(solution.timeline, Unsolved)
    midnight = dt.datetime.fromisoformat(f"{day.word('place.date')}T00:00:00+00:00") - dt.timedelta(seconds=offset)
    for event, moment in zip(read((day, solution)).events, solution.timeline.values(), strict=True):
        start = event["DTSTART"].dt
        assert start.utcoffset() == dt.timedelta(0)
        assert (start - midnight).total_seconds() == round(moment.time)
        assert str(event["SUMMARY"]) == (f"{moment.event}: {moment.what}" if moment.event else moment.what)
        assert event["GEO"].latitude == pytest.approx(moment.latitude / DEG, abs=1e-6)
        assert event["GEO"].longitude == pytest.approx(moment.longitude / DEG, abs=1e-6)
        assert str(event["LOCATION"]) == write_position(moment.latitude, moment.longitude)
        assert moment.darkness.value in event["DESCRIPTION"]
        assert event["DTSTAMP"].dt == day.start


def test_entries_keep_their_identity_and_no_two_share_one(pacific: Solved, pacific_again: Solved) -> None:
    first, second = ([str(event["UID"]) for event in read(solved).events] for solved in (pacific, pacific_again))
    assert first == second
    assert len(set(first)) == len(first)


def test_another_plan_has_other_entries(pacific: Solved, evening: Solved) -> None:
    theirs = {str(event["UID"]) for event in read(evening).events}
    assert not theirs & {str(event["UID"]) for event in read(pacific).events}


def test_the_same_plan_gives_the_same_bytes(pacific: Solved, pacific_again: Solved) -> None:
    assert calendar_bytes(*pacific) == calendar_bytes(*pacific_again)


def test_a_day_without_events_has_no_calendar(one_circuit: Solved) -> None:
    with pytest.raises(NoMomentsError, match="the plan names no event"):
        calendar_bytes(*one_circuit)
