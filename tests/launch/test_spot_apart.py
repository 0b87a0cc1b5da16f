"""How far apart outlines stand: against separating axes and distances worked apart from the code."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.launch.spot_cases import DECK, LARGE, MIDDLE, SIZES, SMALL, clear_by, gap, overlap, shapes

from roundown.catalog.load import builtin_catalog
from roundown.errors import NoSolution
from roundown.launch.apart import distance, forbidden, hull, standing
from roundown.launch.deck_plan import deck_of
from roundown.launch.footprint import Footprint, footprint_of

sizes, headings = st.sampled_from(SIZES), st.floats(-math.pi, math.pi)


@settings(max_examples=80, deadline=None)
@given(one=sizes, other=sizes, turn=headings, ahead=st.floats(-20.0, 20.0), port=st.floats(-20.0, 20.0))
def test_distance_agrees_with_the_independent_one(
    one: Footprint, other: Footprint, turn: float, ahead: float, port: float
) -> None:
    found = distance(one.spread, standing(other.folded, ahead, port, turn))
    apart = clear_by(shapes(one.spread, 0.0, 0.0), shapes(other.folded, ahead, port, turn))
    assert found == pytest.approx(apart, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(clearance=st.floats(0.0, 3.0), across=st.floats(-12.0, 12.0), turn=headings)
def test_at_the_end_of_the_forbidden_stretch_the_clearance_is_just_kept(
    clearance: float, across: float, turn: float
) -> None:
    back = standing(MIDDLE.folded, 0.0, 0.0, turn)
    low, high = forbidden(LARGE.folded, back, clearance, np.array([across]))
    if low[0] < high[0]:
        for end in (low[0], high[0]):
            assert distance(standing(LARGE.folded, end, across), back) == pytest.approx(clearance, abs=1e-7)
        inside = standing(LARGE.folded, (low[0] + high[0]) / 2.0, across)
        assert distance(inside, back) <= clearance
    else:
        for ahead in (-5.0, 0.0, 5.0):
            assert distance(standing(LARGE.folded, ahead, across), back) >= clearance - 1e-9


def test_two_squares_side_by_side() -> None:
    """Own arithmetic: squares of 2 m, 5 m apart along the deck: 3 m; and 6 m across: 3, 4, 5."""
    square = (hull([(-1, -1), (-1, 1), (1, 1), (1, -1), (0, 0)]),)
    assert square[0].shape == (4, 2)
    assert distance(square, standing(square, 5.0, 0.0)) == pytest.approx(3.0)
    assert distance(square, standing(square, 5.0, 6.0)) == pytest.approx(5.0)
    assert distance(square, standing(square, 2.0, 0.0)) == 0.0
    low, high = forbidden(square, square, 1.0, np.array([0.0, 2.5, 3.5]))
    assert high == pytest.approx([3.0, 2.0 + math.sqrt(0.75), -math.inf])
    assert low == pytest.approx([-3.0, -2.0 - math.sqrt(0.75), math.inf])


def test_a_nose_to_starboard_points_to_starboard() -> None:
    (turned,) = standing((np.array([(1.0, 0.0)]),), 10.0, 2.0, math.pi / 2.0)
    assert turned[0] == pytest.approx([10.0, 1.0])


def test_the_independent_check_sees_an_overlap() -> None:
    square = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]
    corner = [(1.9, 1.9), (3.0, 1.9), (3.0, 3.0)]
    beyond = [(2.3, 2.4), (3.0, 2.4), (3.0, 3.0)]
    assert overlap(square, corner)
    assert gap(square, corner) == 0.0
    assert gap(square, beyond) == pytest.approx(0.5)  # 3, 4, 5


def test_a_footprint_has_the_lengths_of_its_type() -> None:
    for size in SIZES:
        (folded,) = size.folded
        assert np.ptp(folded[:, 0]) == pytest.approx(size.length_folded)
        assert np.ptp(folded[:, 1]) == pytest.approx(max(size.span_folded, size.tail_span))
        spread = np.concatenate(size.spread)
        assert np.ptp(spread[:, 0]) == pytest.approx(size.length)
        assert np.ptp(spread[:, 1]) == pytest.approx(size.span_spread)


def test_every_built_in_type_and_ship_can_be_spotted() -> None:
    catalog = builtin_catalog()
    for entry in catalog["types"].values():
        size = footprint_of(entry.values)
        assert size.span_folded < size.span_spread
        bare = {key: given for key, given in entry.values.items() if key != "launch.length"}
        with pytest.raises(NoSolution, match=r"launch\.length"):
            footprint_of(bare)
    for entry in catalog["ships"].values():
        deck = deck_of(entry.values)
        assert [each.name for each in deck.keep_outs] == ["island"]
        assert deck.keep_outs[0].starboard == pytest.approx(-deck.width / 2.0)


def test_wheels_stay_further_in_where_the_deck_narrows() -> None:
    """Own arithmetic: 28 m wide narrows to 25 m over 50 m: half-way 13.25 m from the centre line."""
    assert DECK.half_width(225.0) == pytest.approx(13.25)
    port = np.array([0.0, 14.0 - DECK.edge, 13.25 - DECK.edge, 14.0])
    assert DECK.furthest(port) == pytest.approx([250.0 - DECK.edge, 200.0, 225.0, -math.inf])
    low, high = DECK.room(SMALL.wheels, np.array([0.0]))
    assert low[0] < high[0] == 250.0 - DECK.edge
