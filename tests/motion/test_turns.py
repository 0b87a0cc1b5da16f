"""Level turns, against printed cases, a numerical integration and symmetry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.motion.turns import (
    bank_for_rate,
    half_turn_time,
    load_factor,
    radius,
    rate,
    roll_out_lead,
    stall_in_turn,
)

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
NM = 1852.0  # m
DEG = math.pi / 180.0
STANDARD_RATE = 3.0 * DEG  # rad/s

speeds = st.floats(20.0, 200.0)
banks = st.floats(1.0 * DEG, 75.0 * DEG)


@pytest.mark.published
def test_bank_of_a_standard_rate_turn_at_120_kt() -> None:
    """PHY-32, USE. Within 0.01 deg.

    Source: published answer to an airline transport examination question, 18.24 deg (tan of bank = 0.0027463 TAS).
    """
    bank = bank_for_rate(120.0 * KT, STANDARD_RATE)
    assert bank / DEG == pytest.approx(18.24, abs=0.01)
    # computed, not printed there
    assert radius(120.0 * KT, bank) / FT == pytest.approx(3_868.0, abs=1.0)
    assert radius(120.0 * KT, bank) / NM == pytest.approx(0.637, abs=5e-4)


@pytest.mark.published
@pytest.mark.parametrize("knots", [60.0, 120.0, 240.0])
def test_standard_rate_constant(knots: float) -> None:
    """PHY-33, USE. Within 0.1 kt.

    Source: encyclopaedia article Standard rate turn: tan of bank = TAS / 364 (TAS in knots).
    """
    assert knots / math.tan(bank_for_rate(knots * KT, STANDARD_RATE)) == pytest.approx(364.0, abs=0.1)


def test_standard_rate_does_not_reach_25_degrees_only_at_180_kt() -> None:
    """PHY-34, do not use: the article says "greater than 180 kt"; computed 169.8 kt, and 180 kt needs 26.3 deg."""
    assert bank_for_rate(169.8 * KT, STANDARD_RATE) / DEG == pytest.approx(25.0, abs=0.01)
    assert bank_for_rate(180.0 * KT, STANDARD_RATE) / DEG == pytest.approx(26.3, abs=0.05)


@pytest.mark.parametrize(("knots", "feet"), [(120.0, 2_215.0), (240.0, 8_861.0)])
def test_radius_at_30_degrees_of_bank(knots: float, feet: float) -> None:
    """PHY-35 and PHY-36, USE-M, from memory: FAA, Pilot's Handbook of Aeronautical Knowledge, turn chapter.

    Within 0.4 %: the handbook's constant 11.26 is rounded by 0.3 %.
    """
    assert radius(knots * KT, 30.0 * DEG) / FT == pytest.approx(feet, rel=0.004)


def test_handbook_constants_are_rounded() -> None:
    """PHY-37, a fact: handbook constants 11.26 (from memory) and 1091; exact 11.294 and 1092.2, computed."""
    bank = math.atan(1.0)
    assert 100.0**2 / (radius(100.0 * KT, bank) / FT) == pytest.approx(11.294, abs=5e-4)
    assert rate(100.0 * KT, bank) / DEG * 100.0 == pytest.approx(1_092.2, abs=0.05)


@pytest.mark.published
def test_radius_of_a_steep_fast_turn() -> None:
    """PHY-38, USE. Within 5 ft.

    Source: worked example on a web page: 400 kt and 60 deg of bank, 8180 ft.
    """
    assert radius(400.0 * KT, 60.0 * DEG) / FT == pytest.approx(8_180.0, abs=5.0)


def test_steep_slow_turn_of_the_same_page_is_not_reproduced() -> None:
    """PHY-39, do not use: 543 ft at 100 kt breaks the page's own square law; computed 511 ft."""
    assert radius(100.0 * KT, 60.0 * DEG) / FT == pytest.approx(511.0, abs=0.5)


def test_question_bank_full_circle_is_not_reproduced() -> None:
    """PHY-40, do not use: 63 s and 64.6 s are printed for 200 kt and 45 deg; computed 65.9 s."""
    assert 2.0 * half_turn_time(200.0 * KT, 45.0 * DEG) == pytest.approx(65.9, abs=0.05)


@pytest.mark.published
def test_square_of_speed_over_gravity() -> None:
    """PHY-41, USE: V^2 / 11.3 = 716.8 ft at 90 kt; the radius at 45 deg of bank is V^2 / g. Within 1 ft.

    Source: ATP quick-reference sheet, pivotal altitude.
    """
    assert radius(90.0 * KT, 45.0 * DEG) / FT == pytest.approx(716.8, abs=1.0)


@pytest.mark.published
@pytest.mark.parametrize(
    ("fraction", "degrees", "seconds"), [(1.0, 30.0, 10.0), (0.5, 90.0, 60.0), (1.0, 45.0, 15.0), (0.5, 45.0, 30.0)]
)
def test_timed_turns(fraction: float, degrees: float, seconds: float) -> None:
    """PHY-42 and PHY-43, USE. Exact.

    Source: US Naval Air Training, basic instrument flight student text P-1215, timed turns (first two); FAA, Instrument
    Flying Handbook, p. 5-21 (last two).
    """
    bank = bank_for_rate(100.0 * KT, fraction * STANDARD_RATE)
    assert half_turn_time(100.0 * KT, bank) * degrees / 180.0 == pytest.approx(seconds, rel=1e-12)


@pytest.mark.parametrize(
    ("per_second", "knots", "degrees"),
    [
        (3.0, 60.0, 9.4),
        (3.0, 80.0, 12.39),
        (3.0, 90.0, 13.89),
        (3.0, 100.0, 15.36),
        (3.0, 120.0, 18.24),
        (3.0, 140.0, 21.03),
        (3.0, 150.0, 22.39),
        (3.0, 180.0, 26.31),
        (3.0, 200.0, 28.78),
        (1.5, 80.0, 6.27),
        (1.5, 100.0, 7.82),
        (1.5, 120.0, 9.36),
        (1.5, 150.0, 11.64),
    ],
)
def test_bank_for_rate_regression(per_second: float, knots: float, degrees: float) -> None:
    """PHY-44 (exact column) and PHY-45, constructed, answers computed. Within half the last digit."""
    tolerance = 0.05 if knots == 60.0 else 0.0051
    assert bank_for_rate(knots * KT, per_second * DEG) / DEG == pytest.approx(degrees, abs=tolerance)


@pytest.mark.parametrize(
    ("knots", "bank", "feet", "miles", "per_second", "circle", "load"),
    [
        (80.0, 15.0, 2_115.0, 0.348, 3.658, 98.4, 1.0353),
        (80.0, 30.0, 981.5, 0.1615, 7.882, 45.7, 1.1547),
        (100.0, 30.0, 1_534.0, 0.252, 6.306, 57.1, 1.1547),
        (120.0, 20.0, 3_503.0, 0.577, 3.313, 108.7, 1.0642),
        (150.0, 30.0, 3_451.0, 0.568, 4.204, 85.6, 1.1547),
        (180.0, 25.0, 6_152.0, 1.013, 2.829, 127.2, 1.1034),
    ],
)
def test_turn_grid_regression(
    knots: float, bank: float, feet: float, miles: float, per_second: float, circle: float, load: float
) -> None:
    """PHY-45a to PHY-45h, constructed, answers computed.

    Within 1 ft, 0.005 deg/s, 0.1 s, half the last digit of load. The nautical miles are rounded from whole feet (the
    last is 1.0125), so a little more than half their last digit.
    """
    speed, angle = knots * KT, bank * DEG
    assert radius(speed, angle) / FT == pytest.approx(feet, abs=1.0)
    assert radius(speed, angle) / NM == pytest.approx(miles, abs=6e-4)
    assert rate(speed, angle) / DEG == pytest.approx(per_second, abs=0.005)
    assert 2.0 * half_turn_time(speed, angle) == pytest.approx(circle, abs=0.1)
    assert load_factor(angle) == pytest.approx(load, abs=5e-5)


@pytest.mark.published
def test_stall_at_45_degrees_of_bank() -> None:
    """PHY-46 and PHY-47e, USE: 1.41 g, 50 kt becomes 59.5 kt. Within half the last printed digit.

    Source: worked example on a web page on load factor and stalling speed.
    """
    assert load_factor(45.0 * DEG) == pytest.approx(1.41, abs=0.005)
    assert stall_in_turn(50.0, load_factor(45.0 * DEG)) == pytest.approx(59.5, abs=0.05)


@pytest.mark.parametrize(
    ("bank", "load", "rise"),
    [
        (15.0, 1.0353, 1.0175),
        (20.0, 1.0642, 1.0316),
        (30.0, 1.1547, 1.0746),
        (40.0, 1.3054, 1.1425),
        (45.0, 1.4142, 1.1892),
        (50.0, 1.5557, 1.2473),
        (60.0, 2.0000, 1.4142),
    ],
)
def test_load_and_stall_regression(bank: float, load: float, rise: float) -> None:
    """PHY-47a to PHY-47g, constructed, answers computed. Within half the last digit."""
    assert load_factor(bank * DEG) == pytest.approx(load, abs=5.1e-5)
    assert stall_in_turn(1.0, load_factor(bank * DEG)) == pytest.approx(rise, abs=5.1e-5)


def test_half_turn_in_a_wind() -> None:
    """PHY-160, constructed, answer computed: 120 kt, 3 deg/s, wind from ahead at 25 kt. Within 1 ft."""
    bank = bank_for_rate(120.0 * KT, STANDARD_RATE)
    time = half_turn_time(120.0 * KT, bank)
    assert time == pytest.approx(60.0, rel=1e-12)
    assert 2.0 * radius(120.0 * KT, bank) / FT == pytest.approx(7_736.4, abs=1.0)
    assert time * 25.0 * KT / FT == pytest.approx(2_531.7, abs=1.0)


@pytest.mark.parametrize(("speed", "bank"), [(45.0, 15.0), (60.0, 30.0), (90.0, 55.0)])
def test_circle_flown_by_steps(speed: float, bank: float) -> None:
    """Second method: forces on a point mass stepped through half a turn give the diameter, the time and the load.

    Lift n g: its vertical part carries the weight, its horizontal part g tan(bank) bends the path. Midpoint rule.
    """
    pull = 9.80665 * math.tan(bank * DEG)
    steps, time = 20_000, half_turn_time(speed, bank * DEG)
    dt = time / steps
    velocity, place = np.array([0.0, speed]), np.zeros(2)
    for _ in range(steps):
        right = np.array([velocity[1], -velocity[0]]) / math.hypot(velocity[0], velocity[1])
        middle = velocity + right * pull * dt / 2
        right = np.array([middle[1], -middle[0]]) / math.hypot(middle[0], middle[1])
        place = place + middle * dt
        velocity = velocity + right * pull * dt
    assert place == pytest.approx([2.0 * radius(speed, bank * DEG), 0.0], abs=0.01)
    assert velocity == pytest.approx([0.0, -speed], abs=1e-3)
    assert math.hypot(pull, 9.80665) / 9.80665 == pytest.approx(load_factor(bank * DEG), rel=1e-12)


@given(speeds, banks, st.floats(2.0 * DEG, 60.0 * DEG))
def test_roll_out_lead_is_the_turn_left_while_levelling(speed: float, bank: float, roll_rate: float) -> None:
    """Second method: the rate of turn summed by Simpson's rule while the bank falls at the roll rate."""
    held = np.linspace(0.0, bank, 2_001)
    turning = 9.80665 * np.tan(held) / speed
    weights = np.ones(2_001)
    weights[1:-1:2], weights[2:-1:2] = 4.0, 2.0
    summed = float(np.sum(weights * turning)) * (bank / 2_000) / 3.0 / roll_rate
    assert roll_out_lead(speed, bank, roll_rate) == pytest.approx(summed, rel=1e-6)


@given(speeds, banks)
def test_port_mirrors_starboard(speed: float, bank: float) -> None:
    assert rate(speed, -bank) == -rate(speed, bank)
    assert radius(speed, -bank) == radius(speed, bank)
    assert half_turn_time(speed, -bank) == half_turn_time(speed, bank)
    assert load_factor(-bank) == load_factor(bank)
    assert roll_out_lead(speed, -bank, 0.2) == roll_out_lead(speed, bank, 0.2)


@given(speeds, banks)
def test_bank_and_rate_return_to_start(speed: float, bank: float) -> None:
    assert bank_for_rate(speed, rate(speed, bank)) == pytest.approx(bank, rel=1e-12)
    assert radius(speed, bank) * rate(speed, bank) == pytest.approx(speed, rel=1e-12)


def test_wings_level() -> None:
    assert radius(50.0, 0.0) == math.inf
    assert half_turn_time(50.0, 0.0) == math.inf
    assert rate(50.0, 0.0) == 0.0
    assert bank_for_rate(50.0, 0.0) == 0.0
    assert load_factor(0.0) == 1.0
    assert roll_out_lead(50.0, 0.0, 0.2) == 0.0


@pytest.mark.parametrize("bank", [90.0 * DEG, -100.0 * DEG, math.nan])
def test_knife_edge_is_refused(bank: float) -> None:
    for function in (radius, rate, half_turn_time):
        with pytest.raises(ValueError, match="90 degrees"):
            function(50.0, bank)
    with pytest.raises(ValueError, match="90 degrees"):
        load_factor(bank)
    with pytest.raises(ValueError, match="90 degrees"):
        roll_out_lead(50.0, bank, 0.2)


def test_bad_speeds_are_refused() -> None:
    for function in (radius, rate, half_turn_time, bank_for_rate):
        with pytest.raises(ValueError, match="airspeed"):
            function(0.0, 0.3)
    with pytest.raises(ValueError, match="roll rate"):
        roll_out_lead(50.0, 0.3, 0.0)
    with pytest.raises(ValueError, match="not negative"):
        stall_in_turn(-1.0, 1.0)
