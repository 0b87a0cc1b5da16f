"""The spot: packed from aft, in launch order, clear of one another. Constructed cases and a published one."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.launch.spot_cases import (
    DECK,
    FT,
    LARGE,
    MIDDLE,
    SIZES,
    SMALL,
    assert_sound,
    clear_by,
    load_of,
    shapes,
)

from roundown.catalog.load import builtin_catalog
from roundown.launch.deck_plan import Deck, deck_of, island
from roundown.launch.footprint import Footprint, footprint_of
from roundown.launch.spot import Parked, Pin, SpotRules, how_many, launch_line, spot, worth

RULES = SpotRules()
loads = st.lists(st.sampled_from(SIZES), min_size=1, max_size=16)
decks = st.builds(
    lambda length, width, bow, side: Deck(
        length, width, width * bow, 0.8 * length, keep_outs=(island(length / 2, 20.0, 4.0, width, to_port=side),)
    ),
    st.floats(120.0, 260.0),
    st.floats(20.0, 32.0),
    st.floats(0.7, 1.0),
    st.booleans(),
)


@settings(max_examples=30, deadline=None)
@given(sizes=loads, deck=decks, clearance=st.floats(0.3, 1.5))
def test_any_spot_is_clear_and_in_order(sizes: list[Footprint], deck: Deck, clearance: float) -> None:
    """Second method: separating axes and distances worked apart from the code."""
    load = load_of(*sizes)
    rules = SpotRules(clearance=clearance)
    assert_sound(spot(load, deck, rules), load, deck, rules)


def test_forty_of_three_types_stand_on_a_large_deck() -> None:
    """Second method, as above; and the same input gives the same output."""
    load = load_of(*[MIDDLE] * 12, *[SMALL] * 14, *[LARGE] * 14)
    spotting = spot(load, DECK)
    assert spotting.fits
    assert_sound(spotting, load, DECK, RULES)
    assert spot(load, DECK) == spotting


@pytest.mark.published
def test_less_than_half_the_deck_is_left_to_the_leading_squadron() -> None:
    """PRO-26: of a deck of about 800 ft less than half was left for the scouts with the others packed behind.

    The numbers are constructed, three squadrons of 18; the types are our invented ones.
    Source: N. J. Kleiss, "Carrier Take-Offs and Landings" (burtonia.com).
    """
    types = {name: footprint_of(entry.values) for name, entry in builtin_catalog()["types"].items()}
    load = load_of(*[types["sallow"]] * 18, *[types["ottery"]] * 18, *[types["brindle"]] * 18)
    deck = replace(deck_of(builtin_catalog()["ships"]["corbel"].values), length=800 * FT, narrows_at=640 * FT)
    spotting = spot(load, deck)
    assert spotting.fits
    assert spotting.first_run is not None
    assert 100 * FT < spotting.first_run < 400 * FT


def test_one_alone_stands_as_far_aft_as_its_tail_wheel_lets_it() -> None:
    """Own arithmetic: the tail wheel is 0.95 of the length behind the nose, the main wheels 0.27."""
    (place,) = spot(load_of(SMALL), DECK).places.values()
    assert place.ahead == pytest.approx(DECK.round_down + (0.95 - 0.27) * 9.2)


def test_coming_across_costs_run() -> None:
    """Own arithmetic: pinned 5 m to port of the line, at 45 degrees 5 m further ahead."""
    load = [Parked("one", SMALL, Pin(60.0, 5.0))]
    (place,) = spot(load, DECK).places.values()
    assert place.launch_ahead == pytest.approx(65.0)
    assert place.run_left == pytest.approx(185.0)
    (straight,) = spot(load, DECK, SpotRules(slant=0.0)).places.values()
    assert straight.launch_ahead == pytest.approx(60.0)


def test_wings_spread_just_clear_of_those_still_standing() -> None:
    """Constructed: one on the line with another beside it; a hand's breadth further aft it would be too near."""
    load = [Parked("one", MIDDLE, Pin(60.0, 0.0)), Parked("two", MIDDLE, Pin(60.0, 7.0))]
    spotting = spot(load, DECK)
    at = spotting.places["one"].launch_ahead
    still = shapes(MIDDLE.folded, 60.0, 7.0)
    assert at > 60.0
    assert clear_by(shapes(MIDDLE.spread, at, 0.0), still) == pytest.approx(RULES.spread)
    assert clear_by(shapes(MIDDLE.spread, at - 0.1, 0.0), still) < RULES.spread


def test_the_rest_is_packed_round_those_pinned() -> None:
    sizes = load_of(*[MIDDLE] * 10)
    pins = {2: Pin(110.0, -6.0), 5: Pin(70.0, 4.0, 0.4)}
    load = [replace(parked, pin=pins.get(i)) for i, parked in enumerate(sizes)]
    spotting = spot(load, DECK)
    assert_sound(spotting, load, DECK, RULES)
    assert spotting.fits
    assert (spotting.places["no 3"].ahead, spotting.places["no 3"].port) == (110.0, -6.0)
    assert spotting.places["no 6"].heading == 0.4
    assert [place.pinned for place in spotting.places.values()].count(True) == 2


def test_what_finds_no_place_is_named_and_is_what_goes_first() -> None:
    load = load_of(*[LARGE] * 90)
    spotting = spot(load, DECK)
    assert not spotting.fits
    assert spotting.left_out == tuple(f"no {i}" for i in range(1, len(spotting.left_out) + 1))
    assert len(spotting.places) + len(spotting.left_out) == 90


def test_fewer_stand_where_the_first_needs_more_run() -> None:
    load = load_of(*[MIDDLE] * 60)
    counts = [how_many(load, DECK, run) for run in (60.0, 100.0, 150.0, 200.0, 240.0, 400.0)]
    assert counts == sorted(counts, reverse=True)
    assert counts[0] > 20
    assert counts[-1] == 0
    some = counts[2]
    assert max(run for run in [spot(load[-some:], DECK).first_run] if run is not None) >= 150.0


def test_a_wide_island_is_passed_on_a_line_beside_the_centre() -> None:
    """Own arithmetic: half of 15.8 m and 1.2 m from an inboard edge 14 - 6 = 8 m to starboard: 1.1 m to port."""
    rules = SpotRules(spread=1.2)
    deck = replace(DECK, keep_outs=(island(130.0, 40.0, 6.0, 28.0),))
    assert launch_line(15.8, deck, rules) == pytest.approx(1.1)
    port = replace(DECK, keep_outs=(island(130.0, 40.0, 6.0, 28.0, to_port=True),))
    assert launch_line(15.8, port, rules) == pytest.approx(-1.1)
    assert launch_line(11.2, deck, rules) == 0.0
    both = replace(DECK, keep_outs=(*deck.keep_outs, *port.keep_outs))
    assert launch_line(15.8, both, rules) is None


def test_on_the_centre_line_the_run_begins_ahead_of_a_wide_island() -> None:
    """Own arithmetic: the island ends 150 m ahead of the ramp; wings have 65 % of the chord behind the wheels."""
    load = [Parked("one", LARGE, Pin(60.0, 0.0))]
    deck = replace(DECK, keep_outs=(island(130.0, 40.0, 7.0, 28.0),))
    (place,) = spot(load, deck).places.values()
    assert place.launch_ahead == pytest.approx(150.0 + 0.65 * LARGE.chord + RULES.spread)
    (beside,) = spot(load, deck, SpotRules(line=2.2)).places.values()
    assert beside.launch_ahead == pytest.approx(62.2)


def test_more_room_never_leaves_the_first_less_run_by_much() -> None:
    """A greedy packing may lose a little where it gains room; two rows would be wrong."""
    load = load_of(*[MIDDLE] * 20)
    runs = [worth(spot(load, DECK, SpotRules(clearance=room)))[1] for room in (1.5, 1.2, 0.9, 0.6, 0.3)]
    for (i, wide), (j, narrow) in combinations(enumerate(runs), 2):
        assert i < j
        assert narrow >= wide - 9.7


def test_no_load_is_a_bare_deck() -> None:
    spotting = spot([], DECK)
    assert spotting.fits
    assert spotting.first_run is None
    assert dict(spotting.places) == {}


def test_a_key_that_stands_twice_is_refused() -> None:
    with pytest.raises(ValueError, match="twice"):
        spot([*load_of(SMALL), *load_of(SMALL)], DECK)
