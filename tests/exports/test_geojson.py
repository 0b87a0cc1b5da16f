"""GeoJSON read back by the library geojson: form by RFC 7946, content by the Solution."""

from __future__ import annotations

import datetime as dt
import itertools
import json
import math
from typing import Any

import geojson
import pytest

from roundown.exports.chart import chart_of
from roundown.exports.geojson import geojson_bytes
from roundown.plan.facts import Day
from roundown.recovery.result import CircuitResult
from roundown.ship.day_track import DayTrack
from roundown.solution import Solution, Unsolved

Solved = tuple[Day, Solution]
CAUTION = "For simulation, teaching and history."
DEG = math.pi / 180.0
AS_READ = 7e-7  # degrees: the reader rounds to six decimals; times are told to the millisecond


def read(solved: Solved) -> Any:
    return geojson.loads(geojson_bytes(chart_of(*solved)))


def lines(feature: Any) -> list[tuple[list[list[float]], list[str]]]:
    """Positions and times of a feature's parts."""
    coordinates, times = feature.geometry.coordinates, feature.properties["times"]
    if feature.geometry.type == "MultiLineString":
        return list(zip(coordinates, times, strict=True))
    return [(coordinates, times)]


def instant(text: str) -> dt.datetime:
    assert text.endswith("Z")
    return dt.datetime.fromisoformat(text)


@pytest.fixture(params=["evening", "pacific", "one_circuit"])
def solved(request: pytest.FixtureRequest) -> Solved:
    found: Solved = request.getfixturevalue(request.param)
    return found


def test_a_general_reader_takes_it(solved: Solved) -> None:
    whole = read(solved)
    assert whole.type == "FeatureCollection"
    assert whole.is_valid, whole.errors()
    assert "crs" not in whole
    identities = [feature.id for feature in whole.features]
    assert len(set(identities)) == len(identities)
    raw = geojson_bytes(chart_of(*solved)).decode()
    assert raw.count(CAUTION) == 1
    assert CAUTION in whole["description"]


def test_positions_are_on_the_chart_and_two_long(solved: Solved) -> None:
    """RFC 7946, 3.1.1: a third number would be a height over the ellipsoid, which we do not know."""
    for position in geojson.coords(read(solved)):
        assert len(position) == 2
        assert abs(position[0]) <= 180.0
        assert abs(position[1]) <= 90.0


def test_no_line_crosses_180_degrees_and_its_parts_meet_there(pacific: Solved) -> None:
    """RFC 7946, 3.1.9. The morning steams over the line, and a circuit is flown across it."""
    cut = {}
    for feature in read(pacific).features:
        if "times" not in feature.properties:
            continue
        parts = lines(feature)
        for positions, times in parts:
            assert len(positions) == len(times)
            assert all(abs(b[0] - a[0]) < 1.0 for a, b in itertools.pairwise(positions))
        for (before, ends), (after, begins) in itertools.pairwise(parts):
            assert (before[-1][0], after[0][0]) in {(180.0, -180.0), (-180.0, 180.0)}
            assert (before[-1][1], ends[-1]) == (after[0][1], begins[0])
        if len(parts) > 1:
            cut[feature.id.split(".")[0]] = feature
    assert {"track", "circuit"} <= set(cut)


def test_the_ships_track_is_read_back_at_its_times(pacific: Solved) -> None:
    """The Solution, with the clock 11 h 30 min ahead reckoned here. Places cut at 180 degrees are in proportion."""
    track = pacific[1].track
    assert isinstance(track, DayTrack)
    midnight = dt.datetime(1947, 3, 2, tzinfo=dt.UTC) - dt.timedelta(hours=11, minutes=30)
    stretches = [feature for feature in read(pacific).features if feature.id.startswith("track.")]
    assert len(stretches) > 5
    for feature in stretches:
        assert feature.properties["who"] == "Corbel"
        for positions, times in lines(feature):
            for (longitude, latitude), text in zip(positions, times, strict=True):
                place = track.at((instant(text) - midnight).total_seconds())
                east = math.remainder(longitude - place.longitude / DEG, 360.0)
                close = 3e-4 if abs(longitude) == 180.0 else AS_READ
                assert abs(east) < close
                assert abs(latitude - place.latitude / DEG) < close


def test_moments_are_read_back_with_their_names(pacific: Solved) -> None:
    timeline = pacific[1].timeline
    assert not isinstance(timeline, Unsolved)
    points = {feature.id: feature for feature in read(pacific).features if feature.id.startswith("timeline.")}
    assert len(points) == len(timeline)
    for key, moment in timeline.items():
        point = points[f"timeline.{key}"]
        assert point.properties["name"] == (f"{moment.event}: {moment.what}" if moment.event else moment.what)
        assert point.geometry.coordinates[0] == pytest.approx(moment.longitude / DEG, abs=AS_READ)
        assert point.geometry.coordinates[1] == pytest.approx(moment.latitude / DEG, abs=AS_READ)
        assert "by the ship's clock" in point.properties["description"]
        assert instant(point.properties["time"]).microsecond == 0


def test_heights_of_a_circuit_stand_beside_its_times(one_circuit: Solved) -> None:
    circuit = one_circuit[1].circuit
    assert isinstance(circuit, CircuitResult)
    (feature,) = [each for each in read(one_circuit).features if each.id.startswith("circuit.")]
    heights, times = feature.properties["heights_m"], feature.properties["times"]
    assert len(heights) == len(times) == len(feature.geometry.coordinates)
    assert times[0] == "1949-03-17T16:30:00.000Z"
    assert heights[0] == pytest.approx(circuit.gates["initial"].height, abs=0.006)
    assert (instant(times[-1]) - instant(times[0])).total_seconds() == pytest.approx(
        float(circuit.path.time[-1] - circuit.path.time[0]), abs=0.002
    )


def test_the_sea_room_is_closed_and_against_the_clock(evening: Solved, pacific: Solved) -> None:
    """RFC 7946, 3.1.6; hand-worked areas: 1.5 by 1 5/6 degrees, and twice 2 by 4 on either side of the line."""
    for whole, areas in ((read(evening), [2.75]), (read(pacific), [8.0, 8.0])):
        (room,) = [feature for feature in whole.features if feature.id == "sea_room"]
        polygons = room.geometry.coordinates if room.geometry.type == "MultiPolygon" else [room.geometry.coordinates]
        found = []
        for (ring,) in polygons:
            assert ring[0] == ring[-1]
            found.append(0.5 * sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise(ring)))
        assert found == pytest.approx(areas)


def test_the_same_plan_gives_the_same_bytes(pacific: Solved, pacific_again: Solved) -> None:
    first, second = geojson_bytes(chart_of(*pacific)), geojson_bytes(chart_of(*pacific_again))
    assert first == second
    assert json.loads(first)["title"] == 'Over the line & back; "Süd", <first> of two, \\.'
