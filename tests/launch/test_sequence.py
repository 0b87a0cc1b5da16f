"""The launch one after another: intervals, first off to last off, and when the deck is clear."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.findings import Level
from roundown.launch.sequence import (
    DeckTimes,
    SequenceFacts,
    launch_sequence,
    mean_interval,
    ready_each,
    sequence_findings,
    together,
)

SEVEN = 7 * 3600.0


def facts(count: int, interval: float, **more: object) -> SequenceFacts:
    known = SequenceFacts(tuple(f"no {i}" for i in range(1, count + 1)), SEVEN, interval, 120.0)
    return replace(known, **more)  # type: ignore[arg-type]


@pytest.mark.published
def test_a_mass_launch_of_several_carriers_in_ten_minutes() -> None:
    """PRO-27: 216 aircraft in a ten-minute launch; of eleven carriers (from memory), mean 30 s. Within 2.5 s, since

    the ten minutes are round: 216 / 11 are 19.6 a deck, which 30 s part bring off in 9 min 19 s.
    Source: J. J. Clark, "The Marianas Turkey Shoot", American Heritage.
    """
    assert mean_interval(600.0, 216, 11) == pytest.approx(30.0, abs=2.5)
    decks = [launch_sequence(facts(20 if i < 7 else 19, 30.0)) for i in range(11)]
    assert sum(len(deck.offs) for deck in decks) == 216
    first, last = together(decks)
    assert last - first == pytest.approx(600.0, abs=31.0)


@pytest.mark.published
def test_a_mass_launch_of_four_decks_in_seven_minutes() -> None:
    """PRO-28: 108 aircraft from four decks in just over seven minutes: 27 a deck, mean 16-17 s.

    Source: C. Symonds, The Battle of Midway (2011).
    """
    assert 16.0 <= mean_interval(425.0, 108, 4) <= 17.0
    quick = DeckTimes(at_once=3)
    sequence = launch_sequence(facts(27, 16.5, times=quick))
    assert 7 * 60.0 < sequence.duration < 7 * 60.0 + 30.0


@pytest.mark.parametrize(("interval", "duration"), [(30.0, 330.0), (60.0, 660.0)])
def test_the_last_of_twelve_is_off_eleven_intervals_after_the_first(interval: float, duration: float) -> None:
    """PRO-51a, own arithmetic: 11 x 30 s = 5 min 30 s; 11 x 60 s = 11 min."""
    sequence = launch_sequence(facts(12, interval))
    assert sequence.duration == duration
    assert sequence.last_off == SEVEN + duration


def test_the_times_of_a_launch() -> None:
    """Own arithmetic, from 07:00 with 4 at 30 s: engines 06:50, steady 06:58, last 07:01:30, released 10 s after;
    two left on deck at 30 s and wires up in 60 s: clear 07:03:40.
    """
    sequence = launch_sequence(facts(4, 30.0, staying=2))
    assert sequence.start_engines == SEVEN - 600.0
    assert sequence.steady == SEVEN - 120.0
    assert sequence.last_off == SEVEN + 90.0
    assert sequence.released == SEVEN + 100.0
    assert sequence.on_flight_course == 220.0
    assert sequence.deck_clear == SEVEN + 220.0
    third = sequence.offs["no 3"]
    assert (third.off, third.spread) == (SEVEN + 60.0, SEVEN + 60.0 - 45.0)


def test_the_deck_cannot_be_hurried() -> None:
    """Own arithmetic: 15 + 20 + 10 s, one at a time: 45 s."""
    alone = facts(3, 25.0, times=DeckTimes(at_once=1))
    sequence = launch_sequence(alone)
    assert ready_each(alone.times) == 45.0
    assert sequence.interval == 45.0
    (found,) = sequence_findings(sequence, alone)
    assert (found.id, found.level) == ("deck-too-slow", Level.CAUTION)
    assert sequence_findings(launch_sequence(facts(3, 25.0)), facts(3, 25.0)) == []


def test_those_shot_off_one_after_another_keep_the_catapults_interval() -> None:
    """Own arithmetic: three shots from two catapults at 60 s each: 30 s apart; then deck runs at 25 s."""
    shots = facts(5, 25.0, catapulted=frozenset({"no 1", "no 2", "no 3"}), times=DeckTimes(catapults=2))
    offs = [take_off.off - SEVEN for take_off in launch_sequence(shots).offs.values()]
    assert offs == [0.0, 30.0, 60.0, 85.0, 110.0]
    with pytest.raises(ValueError, match="catapult"):
        launch_sequence(replace(shots, times=DeckTimes()))


def test_a_launch_without_aeroplanes_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one"):
        launch_sequence(facts(0, 30.0))
    with pytest.raises(ValueError, match="two take-offs"):
        mean_interval(60.0, 3, 2)


@given(count=st.integers(1, 60), interval=st.floats(5.0, 120.0), at_once=st.integers(1, 4))
def test_mean_interval_gives_the_interval_back(count: int, interval: float, at_once: int) -> None:
    """There and back; and take-offs never go backwards."""
    sequence = launch_sequence(facts(count, interval, times=DeckTimes(at_once=at_once)))
    offs = [take_off.off for take_off in sequence.offs.values()]
    assert offs == sorted(offs)
    if count > 1:
        assert mean_interval(sequence.duration, count) == pytest.approx(sequence.interval)
