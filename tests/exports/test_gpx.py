"""GPX read back by the library gpxpy: form by the GPX 1.1 schema, content by the Solution."""

from __future__ import annotations

import datetime as dt
import math
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree as ET

import gpxpy
import pytest

from roundown.exports.chart import chart_of
from roundown.exports.gpx import NAMES, gpx_bytes
from roundown.plan.facts import Day
from roundown.ship.day_track import DayTrack
from roundown.solution import Solution, Unsolved

Solved = tuple[Day, Solution]
CAUTION = "For simulation, teaching and history."
DEG = math.pi / 180.0
CENTIMETRE = 1e-7  # degrees
# Order of the schema's sequences, as far as we use them (GPX 1.1 Schema Documentation, topografix.com).
SEQUENCES = {
    "gpx": ("metadata", "wpt", "rte", "trk"),
    "metadata": ("name", "desc", "author", "copyright", "link", "time", "keywords", "bounds"),
    "wpt": ("ele", "time", "magvar", "geoidheight", "name", "cmt", "desc", "src", "link", "sym", "type"),
    "trk": ("name", "cmt", "desc", "src", "link", "number", "type", "extensions", "trkseg"),
    "trkseg": ("trkpt",),
    "trkpt": ("ele", "time"),
}


def read(solved: Solved) -> Any:
    return gpxpy.parse(gpx_bytes(chart_of(*solved)))


@pytest.fixture(params=["evening", "pacific", "one_circuit"])
def solved(request: pytest.FixtureRequest) -> Solved:
    found: Solved = request.getfixturevalue(request.param)
    return found


def test_a_general_reader_takes_it_and_finds_the_caution_once(solved: Solved) -> None:
    gpx = read(solved)
    assert gpx.version == "1.1"
    assert gpx.creator.startswith("roundown ")
    assert CAUTION in gpx.description
    assert gpx.time is None  # when the file was made is the computer's business
    assert gpx_bytes(chart_of(*solved)).decode().count(CAUTION) == 1


def test_elements_stand_in_the_order_of_the_schema(solved: Solved) -> None:
    for element in ET.fromstring(gpx_bytes(chart_of(*solved))).iter():  # noqa: S314 - our own
        names = [child.tag.removeprefix(f"{{{NAMES}}}") for child in element]
        if names:
            allowed = SEQUENCES[element.tag.removeprefix(f"{{{NAMES}}}")]
            places = [allowed.index(name) for name in names]
            assert places == sorted(places)


def test_longitudes_are_those_the_schema_allows(pacific: Solved) -> None:
    """GPX 1.1, longitudeType: from -180 up to, but not with, 180."""
    gpx = read(pacific)
    found = [point.longitude for point in gpx.waypoints] + [point.point.longitude for point in gpx.get_points_data()]
    assert all(-180.0 <= longitude < 180.0 for longitude in found)
    assert min(found) < 0.0 < max(found)


def test_moments_are_waypoints_with_time_and_name(pacific: Solved) -> None:
    timeline = pacific[1].timeline
    assert not isinstance(timeline, Unsolved)
    waypoints = read(pacific).waypoints
    midnight = dt.datetime(1947, 3, 2, tzinfo=dt.UTC) - dt.timedelta(hours=11, minutes=30)
    for point, moment in zip(waypoints, timeline.values(), strict=True):
        assert point.name == (f"{moment.event}: {moment.what}" if moment.event else moment.what)
        assert point.time.utcoffset() == dt.timedelta(0)
        assert (point.time - midnight).total_seconds() == round(moment.time)
        assert point.latitude == pytest.approx(moment.latitude / DEG, abs=CENTIMETRE)
        assert point.longitude == pytest.approx(moment.longitude / DEG, abs=CENTIMETRE)


def test_the_guides_track_is_read_back_at_its_times(evening: Solved) -> None:
    track = evening[1].track
    assert isinstance(track, DayTrack)
    (guide,) = [each for each in read(evening).tracks if each.type == "track of the guide"]
    assert guide.name == "Corbel"
    midnight = dt.datetime(1949, 3, 17, tzinfo=dt.UTC)
    for segment in guide.segments:
        assert all(b.time > a.time for a, b in pairwise(segment.points))
        for point in segment.points:
            place = track.at((point.time - midnight).total_seconds())
            assert point.latitude == pytest.approx(place.latitude / DEG, abs=2.0 * CENTIMETRE)
            assert point.longitude == pytest.approx(place.longitude / DEG, abs=2.0 * CENTIMETRE)
    assert [a.points[-1].time for a in guide.segments[:-1]] == [b.points[0].time for b in guide.segments[1:]]


def test_each_ship_and_each_circuit_is_a_track(evening: Solved, pacific: Solved) -> None:
    """Constructed: the company has a segment for each launch and each recovery of two flights."""
    named = [(each.name, each.type, len(each.segments)) for each in read(evening).tracks]
    assert named[1:] == [
        ("Sextant", "ship in company", 4),
        ("Tern Rock", "ship in company", 4),
        ("first patrol: circuit of Ottery on Corbel", "circuit", 1),
        ("second patrol: circuit of Ottery on Corbel", "circuit", 1),
        ("sea room", "sea room", 1),
    ]
    event = pacific[0].events[0].name
    assert f"{event}: circuit of Sallow on Lintel" in [each.name for each in read(pacific).tracks]


def test_a_circuit_has_heights_over_the_sea(one_circuit: Solved) -> None:
    """Own arithmetic: the doctrine's initial is at 300 ft over the sea, 91.44 m."""
    (circuit,) = [each for each in read(one_circuit).tracks if each.type == "circuit"]
    assert circuit.segments[0].points[0].elevation == pytest.approx(91.44, abs=0.006)
    assert circuit.segments[0].points[0].time == one_circuit[0].start


def test_the_sea_room_is_a_closed_line_without_times(evening: Solved) -> None:
    room = read(evening).tracks[-1]
    points = room.segments[0].points
    assert (points[0].latitude, points[0].longitude) == (points[-1].latitude, points[-1].longitude)
    assert [(round(p.latitude * 60), round(p.longitude * 60)) for p in points[:4]] == [
        (-1870, -360), (-1870, -270), (-1980, -270), (-1980, -360),
    ]  # fmt: skip
    assert not any(point.time for point in points)


def test_the_same_plan_gives_the_same_bytes(pacific: Solved, pacific_again: Solved) -> None:
    assert gpx_bytes(chart_of(*pacific)) == gpx_bytes(chart_of(*pacific_again))
