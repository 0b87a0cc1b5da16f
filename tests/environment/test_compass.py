"""True, magnetic and compass directions: the navigator's rules worked by hand, and there and back."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from roundown.environment.compass import compass, magnetic

DEG = math.pi / 180.0
CARD = [(0.0, 2.0), (90.0, -1.0), (180.0, -3.0), (270.0, 4.0)]


def card(rows: list[tuple[float, float]] = CARD) -> list[tuple[float, float]]:
    return [(heading * DEG, deviation * DEG) for heading, deviation in rows]


@pytest.mark.parametrize(
    ("true", "variation", "shown"),
    [(140.0, -24.0, 164.0), (140.0, 24.0, 116.0), (10.0, 15.0, 355.0), (350.0, -15.0, 5.0), (0.0, 0.0, 0.0)],
)
def test_magnetic_is_true_less_east_variation(true: float, variation: float, shown: float) -> None:
    """Hand-worked: "variation west, magnetic best" (the greater), east least; across north."""
    assert magnetic(true * DEG, variation * DEG) / DEG == pytest.approx(shown)


@pytest.mark.parametrize(
    ("needle", "shown"), [(0.0, 358.0), (90.0, 91.0), (180.0, 183.0), (270.0, 266.0), (45.0, 44.5), (135.0, 137.0)]
)
def test_compass_is_magnetic_less_east_deviation(needle: float, shown: float) -> None:
    """Hand-worked from the card: on it as printed, half-way between two headings the mean of their deviations."""
    assert compass(needle * DEG, card()) / DEG == pytest.approx(shown)


@pytest.mark.parametrize(("needle", "deviation"), [(315.0, 3.0), (337.5, 2.5), (350.0, 2.2222), (359.0, 2.0222)])
def test_deviation_is_interpolated_across_north(needle: float, deviation: float) -> None:
    """Hand-worked: between 270 (4 E) and 000 (2 E), 90 degrees apart."""
    shown = compass(needle * DEG, card())
    assert math.remainder(needle * DEG - shown, math.tau) / DEG == pytest.approx(deviation, abs=1e-4)


def test_a_card_without_north_is_interpolated_from_its_last_heading_to_its_first() -> None:
    """Hand-worked: 330 (3 E) and 030 (1 W) give 1 E on 000, wherever the card begins."""
    rows = [(330.0, 3.0), (30.0, -1.0), (180.0, 0.0)]
    assert compass(0.0, card(rows)) / DEG == pytest.approx(359.0)
    assert compass(0.0, card(rows[::-1])) / DEG == pytest.approx(359.0)


def test_a_card_of_one_heading_holds_everywhere() -> None:
    """Limit case."""
    assert compass(200.0 * DEG, card([(45.0, -2.0)])) / DEG == pytest.approx(202.0)


def test_a_card_that_writes_north_as_360_is_the_same_card() -> None:
    """Constructed."""
    rows = [(90.0, -1.0), (180.0, -3.0), (270.0, 4.0), (360.0, 2.0)]
    for needle in (0.0, 10.0, 300.0, 359.9):
        assert compass(needle * DEG, card(rows)) == pytest.approx(compass(needle * DEG, card()))


def test_true_to_compass_in_the_navigators_columns() -> None:
    """Hand-worked: T 066, variation 14 W, M 080; deviation on 080: -1 + 10 / 90 x 3 = 0.667 W; C 080.667."""
    needle = magnetic(66.0 * DEG, -14.0 * DEG)
    assert needle / DEG == pytest.approx(80.0)
    assert compass(needle, card()) / DEG == pytest.approx(80.0 - (2.0 - 3.0 * 80.0 / 90.0))


@given(st.floats(0.0, math.tau, exclude_max=True), st.floats(-math.pi, math.pi))
@example(0.0, 1e-20)
def test_there_and_back(true: float, variation: float) -> None:
    """Round trip: compass and deviation of that magnetic heading and variation give the true heading again."""
    needle = magnetic(true, variation)
    shown = compass(needle, card())
    assert 0.0 <= needle < math.tau
    assert 0.0 <= shown < math.tau
    deviation = math.remainder(needle - shown, math.tau)
    assert abs(deviation) <= 4.0 * DEG + 1e-9
    assert math.remainder(shown + deviation + variation - true, math.tau) == pytest.approx(0.0, abs=1e-9)
