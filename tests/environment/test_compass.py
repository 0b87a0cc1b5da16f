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


@pytest.mark.published
def test_magnetic_of_a_westerly_variation_is_the_greater() -> None:
    """Source: AIN, column of February 2013: true 270, variation 20 W, magnetic 290."""
    assert magnetic(270.0 * DEG, -20.0 * DEG) / DEG == pytest.approx(290.0)


@pytest.mark.published
@pytest.mark.parametrize(("true", "variation", "shown"), [(130.0, -10.0, 140.0), (282.0, -7.0, 289.0)])
def test_true_courses_of_a_lecture_on_flight_computers(true: float, variation: float, shown: float) -> None:
    """Source: CR-3 computer lecture slides: MC 140 is TC 130 with 10 W (problem 3), MH 289 is TH 282 with 7 W."""
    assert magnetic(true * DEG, variation * DEG) / DEG == pytest.approx(shown)


@pytest.mark.published
def test_a_compass_that_shows_less_has_easterly_deviation() -> None:
    """Source: EASA question bank, instrumentation: to make magnetic 210 the card says steer 209: deviation 1 E."""
    assert compass(210.0 * DEG, card([(210.0, 1.0)])) / DEG == pytest.approx(209.0)


@pytest.mark.published
@pytest.mark.parametrize(("needle", "deviation", "shown"), [(90.0, -5.0, 95.0), (95.0, 5.0, 90.0)])
def test_compass_of_a_magnetic_heading(needle: float, deviation: float, shown: float) -> None:
    """Source: aviation training page on aircraft magnetism: compass 095 with 5 W is 090, 090 with 5 E is 095."""
    assert compass(needle * DEG, card([(needle, deviation)])) / DEG == pytest.approx(shown)


@pytest.mark.published
@pytest.mark.parametrize(
    ("true", "deviation", "shown"),
    [(70.0, -4.0, 84.0), (25.0, 4.0, 31.0), (200.0, -6.0, 216.0), (260.0, 6.0, 264.0), (190.0, -3.0, 203.0),
     (0.0, 2.0, 8.0)],
)  # fmt: skip
def test_from_true_to_compass_of_a_practice_chart(true: float, deviation: float, shown: float) -> None:
    """Source: Answers to Practice Chart, chapter X, nos. 1 to 6: variation 10 W in all of them."""
    needle = magnetic(true * DEG, -10.0 * DEG)
    assert compass(needle, card([(needle / DEG, deviation)])) / DEG == pytest.approx(shown)
