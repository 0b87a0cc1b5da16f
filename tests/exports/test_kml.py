"""KML read back by the library fastkml: form by KML 2.2, content by the Solution."""

from __future__ import annotations

import datetime as dt
import math
import warnings
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from roundown.exports.chart import chart_of
from roundown.exports.kml import NAMES, kml_bytes
from roundown.plan.facts import Day
from roundown.ship.day_track import DayTrack
from roundown.solution import Solution, Unsolved

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it would rather have another XML library for pretty printing
    from fastkml import Placemark, kml
    from fastkml.utils import find_all

Solved = tuple[Day, Solution]
CAUTION = "For simulation, teaching and history."
DEG = math.pi / 180.0
CENTIMETRE = 1e-7  # degrees
# Order of the schema's sequences, as far as we use them (OGC 07-147r2, KML 2.2, annex C).
FEATURE = ("name", "visibility", "open", "description", "TimeStamp", "TimeSpan", "styleUrl")
SEQUENCES = {
    "Document": (*FEATURE, "Folder", "Placemark"),
    "Folder": (*FEATURE, "Placemark"),
    "Placemark": (*FEATURE, "Point", "LineString", "Polygon", "MultiGeometry"),
    "LineString": ("extrude", "tessellate", "altitudeMode", "coordinates"),
    "Polygon": ("extrude", "tessellate", "altitudeMode", "outerBoundaryIs"),
    "TimeSpan": ("begin", "end"),
}


def document(solved: Solved) -> Any:
    text = kml_bytes(chart_of(*solved)).decode().partition("?>")[2]
    return kml.KML.from_string(text).features[0]


def placemarks(solved: Solved) -> list[Any]:
    return list(find_all(document(solved), of_type=Placemark))


def parts(placemark: Any) -> list[list[tuple[float, ...]]]:
    """Positions of a line's parts."""
    geometry = placemark.geometry
    return [list(line.coords) for line in getattr(geometry, "geoms", [geometry])]


@pytest.fixture(params=["evening", "pacific", "one_circuit"])
def solved(request: pytest.FixtureRequest) -> Solved:
    found: Solved = request.getfixturevalue(request.param)
    return found


def test_a_general_reader_takes_it_and_finds_the_caution_once(solved: Solved) -> None:
    read = document(solved)
    assert read.name == chart_of(*solved).title
    assert CAUTION in read.description
    assert kml_bytes(chart_of(*solved)).decode().count(CAUTION) == 1


def test_elements_stand_in_the_order_of_the_schema(solved: Solved) -> None:
    for element in ET.fromstring(kml_bytes(chart_of(*solved))).iter():  # noqa: S314 - our own
        name = element.tag.removeprefix(f"{{{NAMES}}}")
        if name in SEQUENCES:
            places = [SEQUENCES[name].index(child.tag.removeprefix(f"{{{NAMES}}}")) for child in element]
            assert places == sorted(places)


def test_moments_are_points_with_a_time_stamp(pacific: Solved) -> None:
    timeline = pacific[1].timeline
    assert not isinstance(timeline, Unsolved)
    points = [each for each in placemarks(pacific) if each.time_stamp is not None]
    midnight = dt.datetime(1947, 3, 2, tzinfo=dt.UTC) - dt.timedelta(hours=11, minutes=30)
    for point, moment in zip(points, timeline.values(), strict=True):
        assert point.name == (f"{moment.event}: {moment.what}" if moment.event else moment.what)
        assert (point.time_stamp.dt - midnight).total_seconds() == round(moment.time)
        assert point.geometry.x == pytest.approx(moment.longitude / DEG, abs=CENTIMETRE)
        assert point.geometry.y == pytest.approx(moment.latitude / DEG, abs=CENTIMETRE)


def test_stretches_of_the_track_have_their_span_of_time(evening: Solved) -> None:
    track = evening[1].track
    assert isinstance(track, DayTrack)
    stretches = [each for each in placemarks(evening) if each.name.startswith("Corbel: ")]
    midnight = dt.datetime(1949, 3, 17, tzinfo=dt.UTC)
    for placed, stretch in zip(stretches, track.stretches, strict=False):
        assert placed.name == f"Corbel: {stretch.what}"
        ends = [(each.dt - midnight).total_seconds() for each in (placed.begin, placed.end)]
        assert ends[0] == pytest.approx(stretch.start, abs=1e-3)
        for time, position in zip(ends, (placed.geometry.coords[0], placed.geometry.coords[-1]), strict=True):
            place = track.at(time)
            assert position == pytest.approx((place.longitude / DEG, place.latitude / DEG), abs=2.0 * CENTIMETRE)


def test_circuits_are_at_their_heights_and_ships_on_the_sea(evening: Solved) -> None:
    """Own arithmetic: the doctrine's initial is at 300 ft over the sea, 91.44 m."""
    for placed in placemarks(evening):
        if "circuit of" in placed.name:
            assert placed.geometry.coords[0][2] == pytest.approx(91.44, abs=0.006)
        elif placed.geometry.geom_type == "LineString":
            assert not placed.geometry.has_z


def test_nothing_crosses_180_degrees(pacific: Solved) -> None:
    cut = [each for each in placemarks(pacific) if each.geometry.geom_type.startswith(("Multi", "Geometry"))]
    assert {"sea room"} < {each.name for each in cut}
    for placed in cut:
        if placed.name == "sea room":
            wests = [sorted({position[0] for position in part.exterior.coords}) for part in placed.geometry.geoms]
            assert sorted(wests) == [[-180.0, -178.0], [178.0, 180.0]]
            continue
        pieces = parts(placed)
        assert len(pieces) > 1
        assert all(len({position[0] > 0.0 for position in part}) == 1 for part in pieces)
        assert all(abs(part[-1][0]) == 180.0 for part in pieces[:-1])


def test_an_area_is_told_against_the_clock(evening: Solved) -> None:
    (room,) = [each for each in placemarks(evening) if each.name == "sea room"]
    assert room.geometry.exterior.is_ccw


def test_the_same_plan_gives_the_same_bytes(pacific: Solved, pacific_again: Solved) -> None:
    assert kml_bytes(chart_of(*pacific)) == kml_bytes(chart_of(*pacific_again))
