"""The airspeed dial and its error: there and back, and what is flown by a dial that shows too little."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.motion.aeroplane import Aeroplane, level_speed, stall_speed
from roundown.motion.equations.kernel import State
from roundown.motion.manoeuvre import (
    ChangeSpeed,
    Guard,
    HoldBank,
    HoldSpeed,
    Leg,
    Level,
    Setting,
    SpeedByHeading,
    ToHeight,
    TurnTo,
    Until,
    fly,
)  # fmt: skip
from roundown.motion.position_error import calibrated, indicated

KT, DEG = 1852.0 / 3600.0, np.pi / 180.0
CARD = ((80.0 * KT, 5.0 * KT), (120.0 * KT, 1.0 * KT))
FIVE = ((100.0 * KT, 5.0 * KT),)


@pytest.mark.parametrize(
    ("shown", "meant"), [(60.0, 65.0), (80.0, 85.0), (90.0, 94.0), (100.0, 103.0), (120.0, 121.0), (200.0, 201.0)]
)
def test_the_correction_is_linear_between_rows_and_constant_beyond(shown: float, meant: float) -> None:
    """Hand-worked: 5 kt at 80, 1 kt at 120: at 90 a quarter of the way, 4 kt; at 100 half, 3 kt."""
    assert calibrated(shown * KT, CARD) / KT == pytest.approx(meant)
    assert indicated(meant * KT, CARD) / KT == pytest.approx(shown)


def test_without_a_card_both_are_one_to_the_bit() -> None:
    for speed in (0.0, 41.234567, 100.0 / 3.0):
        assert calibrated(speed, ()) == speed
        assert indicated(speed, ()) == speed


steps = st.lists(st.tuples(st.floats(1.0, 40.0), st.floats(-0.9, 3.0)), min_size=1, max_size=5)


@given(steps, st.floats(-15.0, 15.0), st.floats(0.0, 200.0))
def test_dial_and_card_return_to_start(rows: list[tuple[float, float]], first: float, speed: float) -> None:
    """Round trip, for any card along which the calibrated speed rises."""
    at, correction, card = 30.0, first, [(30.0, first)]
    for width, slope in rows:
        at, correction = at + width, correction + slope * width
        card.append((at, correction))
    assert indicated(calibrated(speed, tuple(card)), tuple(card)) == pytest.approx(speed, abs=1e-9)
    assert calibrated(indicated(speed, tuple(card)), tuple(card)) == pytest.approx(speed, abs=1e-9)


def program(slower: float) -> list[Leg]:
    """A break, a let-down and a descending turn by the dial, all speeds less by some [m/s]."""
    return [
        Leg("along", HoldBank(0.0), HoldSpeed(), Level(), Until(Guard.TIME, 5.0, 1), 60.0),
        Leg("break", TurnTo(-np.pi, -0.5), ChangeSpeed(100.0 * KT - slower, 0.6), Level(), Until(Guard.TURN_DONE),
            200.0, gear=1.0, flap=1.0),
        Leg("slow", HoldBank(0.0), ChangeSpeed(90.0 * KT - slower, 0.6), ToHeight(60.0, 2.0),
            Until(Guard.SPEED, 92.0 * KT - slower, -1), 60.0, gear=1.0, flap=1.0),
        Leg("final", TurnTo(-2.0 * np.pi, -0.4), SpeedByHeading(85.0 * KT - slower, 60.0, -2.0 * np.pi), Level(),
            Until(Guard.TURN_DONE), 200.0, gear=1.0, flap=1.0),
    ]  # fmt: skip


def test_a_dial_five_knots_short_flown_five_knots_slower_is_the_same_flight(
    invented: Aeroplane, setting_in: Callable[..., Setting]
) -> None:
    """Constructed: the air knows nothing of the dial; wheels and flap limits are read off it too. To 1e-9."""
    short = replace(
        invented,
        position_error=FIVE,
        gear_limit=invented.gear_limit - 5.0 * KT,
        flap_limit=invented.flap_limit - 5.0 * KT,
    )
    right = setting_in(wind=(3.0, -6.0), aeroplane=invented)
    wrong = replace(right, aeroplane=short)
    start: State = (0.0, 0.0, 90.0, right.true_speed(125.0 * KT, 90.0), 0.0, 0.0, 0.0, 0.0)
    assert wrong.true_speed(120.0 * KT, 90.0) == pytest.approx(start[3], rel=1e-15)
    one, other = fly(0.0, start, program(0.0), right), fly(0.0, start, program(5.0 * KT), wrong)
    assert one.met
    assert other.met
    assert one.records.shape == other.records.shape
    np.testing.assert_allclose(one.records, other.records, rtol=1e-9, atol=1e-9)


def test_the_stall_is_read_off_the_dial_and_the_level_speed_is_the_airs(invented: Aeroplane) -> None:
    """Constructed: 5 kt short is 5 kt less at every stall; how fast it goes level does not depend on a dial."""
    short = replace(invented, position_error=FIVE)
    for flap, load in ((0.0, 1.0), (1.0, 1.0), (1.0, 1.3)):
        assert stall_speed(short, flap, load) == pytest.approx(stall_speed(invented, flap, load) - 5.0 * KT)
    assert level_speed(short) == level_speed(invented)


def test_speeds_of_a_setting_return_to_start(invented: Aeroplane, setting_in: Callable[..., Setting]) -> None:
    setting = setting_in(aeroplane=replace(invented, position_error=CARD))
    for shown in (60.0, 85.0, 110.0, 150.0):
        true = setting.true_speed(shown * KT, 300.0)
        assert setting.indicated_speed(true, 300.0) / KT == pytest.approx(shown, abs=1e-9)
    assert setting.true_speed(80.0 * KT, 0.0) / KT == pytest.approx(85.0, abs=1e-3)
