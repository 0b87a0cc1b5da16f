"""The clearing turn, in the ship frame."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad
from tests.launch.run_cases import KT, TYPES, on_spot

from roundown.launch.clearing import ClearingTurn, clearing, roll_out_bank, roll_out_turn, straight_track
from roundown.launch.deck_run import lift_off_airspeed
from roundown.launch.facts import RunFacts
from roundown.launch.past_bow import Hand, PastBow, past_bow

G = 9.80665  # m/s2
DEG = math.pi / 180.0
COMMON = ClearingTurn()


def passed(facts: RunFacts, part: float = 1.03) -> PastBow:
    return past_bow(facts, part * lift_off_airspeed(facts))


def even(past: PastBow, level: float) -> PastBow:
    """The same flight with a level airspeed that never changes [m/s]."""
    path = replace(past.path, level=np.full_like(past.path.level, level), climb=np.zeros_like(past.path.level))
    return replace(past, paths={**past.paths, past.best: path})


@pytest.mark.parametrize("degrees", [10.0, 15.0, 20.0])
def test_the_way_off_the_track_by_quadrature(degrees: float) -> None:
    """Second method: one airspeed; heading by the closed form of an even roll, the way abeam by quadrature; to 1 m.

    Out and back are mirror images, so that each takes as much abeam; between them the heading is held. The tolerance is
    the way abeam of one step, 50 m/s sin(20 deg) 0.05 s, at the end of either turn.
    """
    facts, speed, bank, change = on_spot("ottery"), 50.0, 15.0 * DEG, degrees * DEG
    roll = facts.aeroplane.roll_rate
    rolling = bank / roll
    in_roll = -G / (speed * roll) * math.log(math.cos(bank))
    held = (change - 2.0 * in_roll) / (G * math.tan(bank) / speed)
    assert held > 0.0

    def heading(time: float) -> float:
        if time <= rolling:
            return -G / (speed * roll) * math.log(math.cos(roll * time))
        if time <= rolling + held:
            return in_roll + G * math.tan(bank) / speed * (time - rolling)
        return change + G / (speed * roll) * math.log(math.cos(roll * (2.0 * rolling + held - time)))

    turning = 2.0 * rolling + held
    abeam = quad(lambda time: speed * math.sin(heading(time)), 0.0, turning, points=[rolling, rolling + held])[0]
    made = clearing(facts, even(passed(facts), speed), ClearingTurn(change=change))
    assert made is not None
    assert made.greatest_off == pytest.approx(2.0 * abeam + 5.0 * speed * math.sin(change), abs=1.0)
    assert made.steady_after == pytest.approx(made.begins_after + 2.0 * turning + 5.0, abs=0.2)
    assert made.greatest_change == pytest.approx(change, abs=1e-9)


@pytest.mark.parametrize("kind", TYPES)
def test_out_and_back_to_the_flight_course(kind: str) -> None:
    """Constructed: it begins after the first climb, never banks more than said, ends parallel to the ship's track."""
    facts = on_spot(kind)
    past = passed(facts, 0.93)
    made = clearing(facts, past, COMMON)
    assert made is not None
    assert past.climb_after is not None
    assert made.steady_after is not None
    assert made.begins_after == past.climb_after + 2.0
    track = made.track
    assert np.all(track.starboard[track.time < made.begins_after] == 0.0)
    assert np.all(track.starboard >= -1e-9)  # to starboard
    assert np.abs(track.bank).max() <= 15.0 * DEG + 1e-12
    assert np.all(np.abs(np.diff(track.bank)) <= facts.aeroplane.roll_rate * 0.05 + 1e-9)
    after = track.time >= made.steady_after
    assert np.all(track.heading[after] == 0.0)
    assert np.ptp(track.starboard[after]) < 1e-9
    assert made.off_after_10_s < made.off_after_20_s <= made.off_after_30_s <= made.greatest_off


def test_the_rate_of_turn_is_that_of_the_bank() -> None:
    """Second method: in the even part of the turn the heading changes at g tan(bank) / V."""
    facts = on_spot("ottery")
    made = clearing(facts, even(passed(facts), 50.0), ClearingTurn(change=20.0 * DEG))
    assert made is not None
    rate = np.diff(made.track.heading) / np.diff(made.track.time)
    assert rate.max() == pytest.approx(G * math.tan(15.0 * DEG) / 50.0, rel=1e-9)


def test_port_is_the_mirror_of_starboard() -> None:
    """Symmetry."""
    facts = on_spot("sallow")
    past = passed(facts)
    starboard, port = clearing(facts, past, COMMON), clearing(facts, past, ClearingTurn(side=-1.0))
    assert starboard is not None
    assert port is not None
    np.testing.assert_array_equal(port.track.starboard, -starboard.track.starboard)
    np.testing.assert_array_equal(port.track.ahead, starboard.track.ahead)
    assert port.greatest_off == starboard.greatest_off


def test_straight_on_it_keeps_the_path_past_the_bow() -> None:
    """Second method: the integrated path's own place ahead of the bow."""
    facts = on_spot("brindle")
    past = passed(facts, 0.93)
    track = straight_track(facts, past)
    np.testing.assert_allclose(np.interp(past.path.time, track.time, track.ahead), past.path.place, atol=0.1)
    assert np.all(track.starboard == 0.0)


def test_wind_across_the_deck_drifts_it_to_leeward() -> None:
    """Constructed: 6 kt from starboard sets it to port at 6 kt."""
    facts = on_spot("ottery", across=6.0)
    track = straight_track(facts, passed(facts))
    np.testing.assert_allclose(track.starboard, -6.0 * KT * track.time, atol=1e-9)


def test_a_bank_rolled_out() -> None:
    """Round trip; and the small-angle limit g b^2 / (2 V p)."""
    for bank in (0.001, 0.1, 0.5):
        assert roll_out_bank(roll_out_turn(bank, 50.0, 0.8), 50.0, 0.8) == pytest.approx(bank, rel=1e-6)
    assert roll_out_turn(0.01, 50.0, 0.8) == pytest.approx(G * 0.01**2 / (2.0 * 50.0 * 0.8), rel=1e-4)
    assert roll_out_bank(-1.0, 50.0, 0.8) == 0.0


def test_a_small_change_is_turned_with_less_bank() -> None:
    """Constructed: 2 degrees are over before 30 degrees of bank are reached."""
    facts = on_spot("ottery")
    made = clearing(facts, passed(facts), ClearingTurn(bank=30.0 * DEG, change=2.0 * DEG))
    assert made is not None
    assert np.abs(made.track.bank).max() < 29.0 * DEG
    assert made.greatest_change == pytest.approx(2.0 * DEG, abs=0.02 * DEG)


def test_no_climb_no_turn() -> None:
    """Constructed: into the sea."""
    facts = on_spot("brindle")
    past = passed(facts, 0.7)
    assert past.touches
    assert past.best in Hand
    assert clearing(facts, past, COMMON) is None


def test_impossible_turns_are_refused() -> None:
    facts = on_spot()
    with pytest.raises(ValueError, match="bank of the clearing turn 60 deg is not between 0 and 45 deg"):
        clearing(facts, passed(facts), ClearingTurn(bank=60.0 * DEG))
    with pytest.raises(ValueError, match="change of heading of the clearing turn 0 deg"):
        clearing(facts, passed(facts), ClearingTurn(change=0.0))
