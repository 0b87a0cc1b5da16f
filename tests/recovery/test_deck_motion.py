"""Pitch and heave at a place of the deck, and the worst moment of them, against closed forms and a plain search."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.recovery.touchdown_cases import DEG, FT, ROUGH, STEADY

from roundown.recovery.deck_motion import MOMENTS, OFF, RELATIONS, DeckMotion, PointPath, meetings, rise, worst_motion


def at(motion: DeckMotion, ahead: float, time: float, moment: float, relation: float) -> tuple[float, float, float]:
    parts = rise(motion, *(np.array([each]) for each in (ahead, time, moment, relation)))
    return float(parts[0][0]), float(parts[1][0]), float(parts[2][0])


def straight(sink: float, closing: float = 25.0, height: float = 5.0) -> PointPath:
    """A point that comes down on a straight line."""
    time = np.arange(0.0, 1.6 * height / sink, 0.02)
    return PointPath(time, closing * time, height - sink * time, np.full_like(time, closing), np.full_like(time, -sink))


def test_a_swell_that_lifts_the_deck_15_feet_in_20_seconds() -> None:
    """Own arithmetic: 15 ft from lowest to highest is 7.5 ft either way; 2 pi / 20 x 7.5 = 2.36 ft/s.

    The swell is that of an essay on signal officers (Vintage Wings of Canada), which gives no speed.
    """
    swell = DeckMotion(pitch=0.0, heave=7.5 * FT, period=20.0, deck_length=250.0)
    assert swell.fastest(30.0) == pytest.approx(2.356 * FT, abs=5e-4)
    assert swell.fastest(30.0) == swell.fastest(200.0)


def test_a_degree_of_pitch_at_400_feet_from_midships() -> None:
    """Own arithmetic: 400 ft x 0.017453 = 6.98 ft a degree; 10 s of period: 2 pi / 10 x 6.98 = 4.39 ft/s."""
    motion = DeckMotion(pitch=DEG, heave=0.0, period=10.0, deck_length=800.0 * FT)
    assert motion.most(0.0) == motion.most(800.0 * FT) == pytest.approx(6.98 * FT, abs=0.005 * FT)
    assert motion.fastest(0.0) == pytest.approx(4.39 * FT, abs=0.005 * FT)
    assert motion.most(400.0 * FT) == 0.0


def test_with_the_bow_up_the_ramp_is_down() -> None:
    motion = DeckMotion(pitch=DEG, heave=0.0, period=10.0, deck_length=200.0)
    height, _, slope = at(motion, 0.0, 0.0, 0.5 * math.pi, 0.0)
    assert slope == pytest.approx(DEG)
    assert height == pytest.approx(-100.0 * DEG)
    assert at(motion, 200.0, 0.0, 0.5 * math.pi, 0.0)[0] == pytest.approx(100.0 * DEG)


@given(
    ahead=st.floats(0.0, 250.0), time=st.floats(0.0, 30.0), moment=st.floats(0.0, 6.28), relation=st.floats(0.0, 6.28)
)
def test_the_rate_is_the_slope_of_the_rise_in_time(ahead: float, time: float, moment: float, relation: float) -> None:
    """Second method: differences; and no place leaves its greatest rise and rate."""
    height, rate, _ = at(ROUGH, ahead, time, moment, relation)
    later, earlier = (at(ROUGH, ahead, time + step, moment, relation)[0] for step in (1e-4, -1e-4))
    assert (later - earlier) / 2e-4 == pytest.approx(rate, abs=1e-6)
    assert abs(height) <= ROUGH.most(ahead) + 1e-12
    assert abs(rate) <= ROUGH.fastest(ahead) + 1e-12


def test_a_steady_deck_is_met_where_the_path_comes_down() -> None:
    """Closed form: 5 m at 3 m/s of sink and 25 past the ship."""
    met = meetings(STEADY, straight(3.0))
    assert met.ahead.shape == (RELATIONS, MOMENTS)
    assert np.allclose(met.ahead, 125.0 / 3.0)
    assert np.allclose(met.sink, 3.0)


def test_the_moving_deck_is_met_as_a_plain_search_finds_it() -> None:
    """Second method: one moment at a time, in steps of a millisecond, sink by differences of the height."""
    path = straight(3.2)
    met = meetings(ROUGH, path)
    for k in (0, 7, 15):
        for i in (0, 11, 23, 40):
            moment, relation = math.tau * i / MOMENTS, math.tau * k / RELATIONS
            turning = math.tau / ROUGH.period

            def over(
                time: float, moment: float = moment, relation: float = relation, turning: float = turning
            ) -> float:
                arm = 25.0 * time - 0.5 * ROUGH.deck_length
                pitch = ROUGH.pitch * math.sin(turning * time + moment)
                heave = ROUGH.heave * math.sin(turning * time + moment + relation)
                return 5.0 - 3.2 * time - pitch * arm - heave

            time = 0.0
            while over(time) > 0.0:
                time += 1e-3
            assert met.ahead[k, i] == pytest.approx(25.0 * time, abs=0.05)
            assert met.sink[k, i] == pytest.approx((over(time - 1e-4) - over(time + 1e-4)) / 2e-4, abs=0.01)


def test_a_path_that_comes_over_the_ramp_below_the_deck_meets_it_there() -> None:
    met = meetings(ROUGH, straight(3.0, height=0.05))
    assert np.nanmin(met.ahead) == 0.0


def test_off_says_so_and_makes_nothing_worse() -> None:
    path = straight(3.0)
    worst = worst_motion(STEADY, path, path, 125.0 / 3.0, 2.0)
    assert STEADY.off
    assert STEADY.sentence == OFF
    assert (worst.ramp_rise, worst.deck_speed, worst.hook_over_ramp) == (0.0, 0.0, 2.0)
    assert worst.sink == pytest.approx(3.0)
    assert worst.nearest == pytest.approx(worst.furthest)


@given(pitch=st.floats(0.0, 0.02), heave=st.floats(0.0, 1.0), period=st.floats(6.0, 20.0))
def test_a_moving_deck_is_never_kinder_than_a_steady_one_at_its_worst(
    pitch: float, heave: float, period: float
) -> None:
    """Symmetry: half the cycle raises the deck. Steps of the cycle may miss the worst by a little."""
    path = straight(3.5)
    worst = worst_motion(DeckMotion(pitch, heave, period, 250.0), path, path, 35.0, 2.0)
    assert worst.sink >= 3.5 - 0.02
    assert worst.nearest <= 125.0 / 3.5 + 0.05 <= worst.furthest + 0.1
    assert worst.hook_over_ramp <= 2.0


def test_the_sentence_names_both_and_the_period() -> None:
    assert "pitch 0.5 deg" in ROUGH.sentence
    assert "heave 2.0 ft" in ROUGH.sentence
    assert "9.0 s" in ROUGH.sentence
