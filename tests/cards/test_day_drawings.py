"""The sheets of the ship's day: text clear of text, places where the track is. Constructed cases."""

from __future__ import annotations

import math
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.cards.day_plans import PLANS, day_of
from tests.cards.test_drawings import assert_clear

from roundown.cards.company_drawing import company_drawing
from roundown.cards.day_track_drawing import clipped, day_track_drawing, flown
from roundown.cards.drawing import Box
from roundown.cards.ship_day_card import ship_day_cards
from roundown.figures import key_of
from roundown.quantities import CLOCK_TIME, NAUTICAL_MILE, write
from roundown.ship.day_track import DayTrack

BOX = Box(0.0, 0.0, 100.0, 60.0)
PLACES = st.tuples(st.floats(-200.0, 300.0), st.floats(-200.0, 300.0))
SHEETS = [(386.0, 300.0), (230.0, 440.0), (386.0, 200.0)]


def track_of(name: str) -> DayTrack:
    track = day_of(name).solution.track
    assert isinstance(track, DayTrack)
    return track


def drawn(name: str, width: float = 386.0, height: float = 300.0) -> ET.Element:
    return day_track_drawing(track_of(name), day_of(name).day.sea_room, width, height, 11.0, "t")


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize(("width", "height"), SHEETS)
def test_no_text_of_the_track_covers_another_or_leaves_the_sheet(name: str, width: float, height: float) -> None:
    assert_clear(drawn(name, width, height))


@pytest.mark.parametrize("name", PLANS)
def test_each_stretch_on_the_flight_course_is_marked_with_its_times(name: str) -> None:
    texts = {text.text for text in drawn(name).iter("text")}
    for start, end in flown(track_of(name)):
        assert {write(start, CLOCK_TIME), write(end, CLOCK_TIME)} <= texts


def test_the_marks_lie_as_far_apart_as_the_ship_ran() -> None:
    """Second method: on the sheet, miles by its own scale; of the track, miles of latitude and longitude."""
    track, sheet = track_of("evening"), drawn("evening")
    marks = [(float(mark.attrib["cx"]), float(mark.attrib["cy"])) for mark in sheet.iter("circle")]
    label = next(text for text in sheet.iter("text") if (text.text or "").endswith(" nm"))
    miles = float((label.text or "").removesuffix(" nm"))
    per_mile = (float(label.attrib["x"]) - 4.0 - 0.8 * 11.0) / miles
    places = [track.at(track.facts.start)]
    for start, end in flown(track):
        places += [track.at(start), track.at(end)]
    assert len(marks) == len(places)
    for mark, place in zip(marks[1:], places[1:], strict=True):
        north = (place.latitude - places[0].latitude) * 6371e3 / NAUTICAL_MILE
        east = (place.longitude - places[0].longitude) * math.cos(place.latitude) * 6371e3 / NAUTICAL_MILE
        assert (mark[0] - marks[0][0]) / per_mile == pytest.approx(east, abs=0.3)
        assert (marks[0][1] - mark[1]) / per_mile == pytest.approx(north, abs=0.3)


def test_a_sea_room_beyond_the_sheet_is_said() -> None:
    wide = ((-0.7, -1.0), (-0.7, 1.0), (0.7, 1.0), (0.7, -1.0))
    sheet = day_track_drawing(track_of("evening"), wide, 386.0, 300.0, 11.0, "t")
    assert "sea room beyond the sheet" in {text.text for text in sheet.iter("text")}
    assert "sea room beyond the sheet" not in {text.text for text in drawn("evening").iter("text")}


@pytest.mark.parametrize("name", PLANS)
def test_the_ships_in_company_are_named_and_lie_where_they_stand(name: str) -> None:
    found = day_of(name)
    names = {key_of(ship.name): ship.name for ship in found.day.company}
    sheet = company_drawing(found.solution.stations, names, "corbel", found.solution.flight.course, 140.0, 11.0)
    assert_clear(sheet)
    guide, *others = [(float(mark.attrib["cx"]), float(mark.attrib["cy"])) for mark in sheet.iter("circle")]
    for (x, y), station in zip(others, found.solution.stations.values(), strict=True):
        assert math.atan2(x - guide[0], guide[1] - y) % math.tau == pytest.approx(station.bearing, abs=0.02)


def test_a_short_day_is_on_one_page_and_a_long_one_on_several() -> None:
    evening = day_of("evening")
    pages = ship_day_cards(evening.day, evening.solution)
    assert pages[0].drawings
    periods = [column for card in pages for table in card.tables for column in table.columns if ", " in column]
    assert periods[:4] == [
        "first patrol, launch", "second patrol, launch", "first patrol, recovery", "second patrol, recovery",
    ]  # fmt: skip


@given(start=PLACES, end=PLACES)
def test_a_clipped_line_is_a_part_of_the_line_and_inside(start: tuple[float, float], end: tuple[float, float]) -> None:
    found = clipped(start, end, BOX)
    if found is None:
        middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
        for x, y in (start, middle, end):
            assert not (BOX.left < x < BOX.right and BOX.top < y < BOX.bottom)
        return
    for x, y in found:
        assert -1e-6 <= x <= 100.0 + 1e-6
        assert -1e-6 <= y <= 60.0 + 1e-6
        along = math.dist(start, (x, y)) + math.dist((x, y), end)
        assert along == pytest.approx(math.dist(start, end), abs=1e-6)
