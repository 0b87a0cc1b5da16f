"""Cutting at 180 degrees: nothing is lost, nothing is added, and no part reaches beyond."""

from __future__ import annotations

import datetime as dt
import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.exports.chart import Fix
from roundown.exports.date_line import PoleInsideError, cut_area, cut_line

DEG = math.pi / 180.0
START = dt.datetime(1947, 3, 2, 12, tzinfo=dt.UTC)
Place = tuple[float, float]


def fix(minutes: float, latitude: float, longitude: float, height: float | None = None) -> Fix:
    return Fix(START + dt.timedelta(minutes=minutes), latitude * DEG, longitude * DEG, height)


def shown(part: list[Fix]) -> list[tuple[float, float, float]]:
    """Minutes, latitude and longitude in degrees, rounded for comparison."""
    return [
        (
            round((each.instant - START).total_seconds() / 60.0, 6),
            round(each.latitude / DEG, 9),
            round(each.longitude / DEG, 9),
        )
        for each in part
    ]


def area(ring: list[Place]) -> float:
    """Of a ring of latitude and longitude, positive against the clock, in square degrees."""
    return sum(a[1] * b[0] - b[1] * a[0] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)) / 2.0 / DEG**2


def corners(*places: Place) -> list[Place]:
    return [(latitude * DEG, longitude * DEG) for latitude, longitude in places]


def test_a_line_that_stays_on_one_side_is_left_alone() -> None:
    """Constructed."""
    line = [fix(0, 10, 178), fix(5, 11, 179), fix(10, 11, 177)]
    assert cut_line(line) == [line]


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_a_line_is_cut_in_proportion(side: float) -> None:
    """Hand-worked: from 1 degree short of the line to 3 beyond it: a quarter of way, time and climb."""
    line = [fix(0, 10, 179 * side, 100.0), fix(8, 14, -177 * side, 300.0), fix(9, 14, -176 * side, 300.0)]
    first, second = cut_line(line)
    assert shown(first) == [(0, 10, 179 * side), (2, 11, 180 * side)]
    assert shown(second) == [(2, 11, -180 * side), (8, 14, -177 * side), (9, 14, -176 * side)]
    assert first[-1].height == second[0].height == pytest.approx(150.0)


def test_a_line_that_goes_over_and_comes_back_has_three_parts() -> None:
    """Constructed."""
    parts = cut_line([fix(0, 0, 179), fix(2, 0, -179), fix(4, 0, 179)])
    assert [shown(part) for part in parts] == [
        [(0, 0, 179), (1, 0, 180)],
        [(1, 0, -180), (2, 0, -179), (3, 0, -180)],
        [(3, 0, 180), (4, 0, 179)],
    ]


def test_a_fix_on_the_line_itself_ends_one_part_and_begins_the_next() -> None:
    """Constructed: 180 degrees may be written with either sign."""
    for written in (180, -180):
        parts = cut_line([fix(0, 0, 179), fix(1, 0, written), fix(2, 0, -179)])
        assert [shown(part) for part in parts] == [[(0, 0, 179), (1, 0, 180)], [(1, 0, -180), (2, 0, -179)]]


@given(
    st.floats(-math.pi, math.pi),
    st.lists(st.tuples(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0)), min_size=1, max_size=12),
)
def test_no_way_is_lost_in_cutting(start: float, steps: list[Place]) -> None:
    """Conservation: the parts' changes of longitude add up to the line's, and every longitude is on the chart."""
    line = [Fix(START, 0.0, start)]
    for i, (north, east) in enumerate(steps):
        longitude = math.remainder(line[-1].longitude + east, math.tau)
        line.append(Fix(START + dt.timedelta(minutes=i + 1), 0.5 * north, longitude))
    parts = cut_line(line)
    run = sum(after.longitude - before.longitude for part in parts for before, after in pairwise(part))
    assert run == pytest.approx(sum(east for _, east in steps), abs=1e-9)
    assert all(abs(each.longitude) <= math.pi + 1e-12 for part in parts for each in part)
    assert all(before[-1].instant == after[0].instant for before, after in pairwise(parts))


def test_an_area_is_told_against_the_clock_whichever_way_it_was_given() -> None:
    """Constructed: RFC 7946 wants outer rings against the clock."""
    room = corners((10, 20), (10, 24), (13, 24), (13, 20))
    for given_ring in (room, room[::-1]):
        (ring,) = cut_area(given_ring)
        assert area(ring) == pytest.approx(12.0)
        assert sorted(ring) == sorted(room)


def test_an_area_over_the_line_is_cut_in_two() -> None:
    """Hand-worked: 2 degrees of longitude on one side, 3 on the other, 4 of latitude."""
    rings = cut_area(corners((14, 178), (14, -177), (10, -177), (10, 178)))
    found = sorted((min(place[1] for place in ring) / DEG, area(ring)) for ring in rings)
    assert [west for west, _ in found] == pytest.approx([-180.0, 178.0])
    assert [size for _, size in found] == pytest.approx([12.0, 8.0])


def test_an_area_that_ends_on_the_line_is_not_cut() -> None:
    """Constructed, with 180 degrees written either way and the area on either side."""
    for written in (180, -180):
        for other in (176, -176):
            (ring,) = cut_area(corners((10, written), (10, other), (13, other), (13, written)))
            assert area(ring) == pytest.approx(12.0)
            assert all(place[1] * other >= 0.0 for place in ring)


def test_a_bay_that_reaches_back_over_the_line_makes_three_areas() -> None:
    """Hand-worked: a U on its side, its back 1 degree by 6 west of the line, two arms of 2 by 2 degrees east of it.

    The back runs from 178 to 179 E; the arms from there to 179 W, half of each on either side.
    """
    rings = cut_area(corners((0, 178), (0, -179), (2, -179), (2, 179), (4, 179), (4, -179), (6, -179), (6, 178)))
    assert len(rings) == 3
    assert sorted(area(ring) for ring in rings) == pytest.approx([2.0, 2.0, 10.0])


def test_a_point_of_the_border_that_just_touches_the_line_parts_nothing() -> None:
    """Constructed: the border comes back to the line at one corner, from the west and from the east of it."""
    whole = cut_area(corners((0, 178), (0, -178), (4, -178), (2, 180), (4, 178)))
    assert sum(area(ring) for ring in whole) == pytest.approx(12.0)
    assert all(area(ring) > 0.0 for ring in whole)
    tooth = cut_area(corners((0, 178), (2, 180), (4, 178)))
    assert [area(ring) for ring in tooth] == pytest.approx([4.0])


@given(st.floats(-180.0, 180.0), st.lists(st.floats(0.5, 5.0), min_size=3, max_size=12))
def test_no_water_is_lost_in_cutting(longitude: float, reaches: list[float]) -> None:
    """Conservation: a star-shaped area about any longitude keeps its size, in parts that are each against the clock."""
    count = len(reaches)
    star = [
        (reach * math.sin(math.tau * i / count), longitude + reach * math.cos(math.tau * i / count))
        for i, reach in enumerate(reaches)
    ]
    rings = cut_area([(latitude * DEG, math.remainder(east * DEG, math.tau)) for latitude, east in star])
    plain = [(latitude * DEG, east * DEG) for latitude, east in star]
    assert sum(area(ring) for ring in rings) == pytest.approx(abs(area(plain)), rel=1e-9)
    assert all(area(ring) > -1e-9 for ring in rings)
    assert all(abs(place[1]) <= math.pi + 1e-12 for ring in rings for place in ring)


def test_an_area_round_a_pole_is_refused_in_a_sentence() -> None:
    """Constructed."""
    with pytest.raises(PoleInsideError, match="goes round a pole"):
        cut_area(corners((70, 0), (70, 120), (70, -120)))
