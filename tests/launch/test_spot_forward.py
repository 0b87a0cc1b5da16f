"""The deck packed forward to come aboard: clear of the line, of one another and of the island. Constructed cases."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.launch.spot_cases import DECK, LARGE, MIDDLE, SIZES, SMALL, clear_by, load_of, shapes

from roundown.launch.footprint import Footprint
from roundown.launch.pack_forward import pack_forward
from roundown.launch.spot import SpotRules


@settings(max_examples=25, deadline=None)
@given(sizes=st.lists(st.sampled_from(SIZES), min_size=1, max_size=12), line=st.floats(90.0, 180.0))
def test_nothing_stands_aft_of_the_line_and_all_keep_clear(sizes: list[Footprint], line: float) -> None:
    """Second method: separating axes and distances worked apart from the code."""
    load = load_of(*sizes)
    packed = pack_forward(load, DECK, line)
    named = {parked.key: parked.footprint for parked in load}
    stood = {key: shapes(named[key].folded, at.ahead, at.port) for key, at in packed.places.items()}
    for one, other in combinations(stood.values(), 2):
        assert clear_by(one, other) >= SpotRules().clearance - 1e-6
    tails = [x for each in stood.values() for x, _ in each[0]]
    for x in tails:
        assert x >= line - 1e-6
    if tails:
        assert packed.aft_end == pytest.approx(min(tails))
    tower = [[(float(x), float(y)) for x, y in part] for part in DECK.keep_outs[0].outline]
    for each in stood.values():
        assert clear_by(each, tower) >= SpotRules().clearance - 1e-6
    for key, at in packed.places.items():
        for x, y in named[key].wheels:
            assert at.ahead + x <= DECK.length - DECK.edge + 1e-6
            assert abs(at.port + y) <= DECK.half_width(at.ahead + x) - DECK.edge + 1e-6
    for first, second in pairwise(packed.places.values()):
        assert first.ahead >= second.ahead - 1e-6
    assert len(packed.places) + len(packed.left_out) == len(load)


def test_the_first_aboard_stands_at_the_bow() -> None:
    """Own arithmetic: main wheels an edge's width from the bow."""
    packed = pack_forward(load_of(SMALL), DECK, 150.0)
    assert packed.places["no 1"].ahead == pytest.approx(250.0 - DECK.edge)


def test_each_takes_its_taxi_time() -> None:
    """Own arithmetic: 12 at 25 s are five minutes."""
    packed = pack_forward(load_of(*[MIDDLE] * 12), DECK, 100.0, taxi=25.0)
    assert packed.time == pytest.approx(300.0)
    assert packed.left_out == ()


def test_a_line_far_forward_leaves_some_without_room() -> None:
    packed = pack_forward(load_of(*[LARGE] * 20), DECK, 200.0)
    assert packed.left_out
    assert packed.left_out[-1] == "no 20"
    assert pack_forward([], DECK, 200.0).aft_end is None
