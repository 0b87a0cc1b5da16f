"""Distance and dip of the sea horizon against printed tables."""

from __future__ import annotations

import math

import pytest

from roundown.environment.horizon import dip, geographic_range, horizon_distance, radio_horizon, radio_range

FOOT, MILE = 0.3048, 1852.0
MINUTE = math.pi / 180.0 / 60.0


@pytest.mark.published
@pytest.mark.parametrize(("feet", "miles"), [(16, 4.7), (125, 13.1), (6, 2.9)])
def test_distance_of_the_horizon_as_printed(feet: float, miles: float) -> None:
    """Source: Seamanship Secrets, appendix I, p. 292, and p. 78; printed to 0.1 mile."""
    assert horizon_distance(feet * FOOT) / MILE == pytest.approx(miles, abs=0.05)


@pytest.mark.published
def test_distance_of_the_horizon_from_a_small_boat() -> None:
    """Source: a note on boat operations, June 2020: 9 ft, 3.5 miles; printed to 0.1 mile."""
    assert horizon_distance(9 * FOOT) / MILE == pytest.approx(3.5, abs=0.05)


@pytest.mark.published
def test_a_light_comes_in_sight_at_the_sum_of_both_distances() -> None:
    """Source: Seamanship Secrets, appendix I, p. 292: 16 ft and 125 ft, 17.8 miles, a sum of two rounded distances."""
    assert geographic_range(16 * FOOT, 125 * FOOT) / MILE == pytest.approx(17.8, abs=0.1)


@pytest.mark.published
def test_two_heights_of_a_worked_example() -> None:
    """Source: nauticalive.com: 170 ft 15.25, 8 ft 3.31, both 18.56 miles; cut, not rounded, at the second digit."""
    assert horizon_distance(170 * FOOT) / MILE == pytest.approx(15.25, abs=0.01)
    assert horizon_distance(8 * FOOT) / MILE == pytest.approx(3.31, abs=0.01)
    assert geographic_range(170 * FOOT, 8 * FOOT) / MILE == pytest.approx(18.56, abs=0.01)


@pytest.mark.published
@pytest.mark.parametrize(
    ("feet", "minutes"),
    [(1, 1.0), (5, 2.2), (10, 3.1), (20, 4.3), (50, 6.9), (100, 9.7), (200, 13.7), (240, 15.0)],
)
def test_dip_as_printed(feet: float, minutes: float) -> None:
    """Source: dip table in the public repository JoshPaterson/bowditch, edition not stated; printed to 0.1'."""
    assert dip(feet * FOOT) / MINUTE == pytest.approx(minutes, abs=0.05)


@pytest.mark.parametrize(
    ("feet", "miles"), [(1000, 38.9), (2000, 55.0), (5000, 87.0), (10_000, 123.0), (20_000, 173.9)]
)
def test_radio_reaches_a_little_past_the_horizon(feet: float, miles: float) -> None:
    """Own arithmetic: 1.23 sqrt(h); the constant as on an airline pilots' formula sheet, December 2012."""
    assert radio_horizon(feet * FOOT) / MILE == pytest.approx(miles, abs=0.05)
    assert radio_range(feet * FOOT, 0.0) == radio_horizon(feet * FOOT)


def test_radio_constant_is_that_of_an_earth_a_third_larger() -> None:
    """Second method: sqrt(2 R h) with R = 4/3 of 6371 km, within the two digits after the point of 1.23."""
    assert radio_horizon(300.0) == pytest.approx(math.sqrt(2 * 4 / 3 * 6371e3 * 300.0), rel=0.005)


def test_at_the_water_there_is_no_horizon_and_below_it_none_at_all() -> None:
    assert (horizon_distance(0.0), radio_horizon(0.0), dip(0.0)) == (0.0, 0.0, 0.0)
    for height in (-1.0, math.nan, math.inf):
        with pytest.raises(ValueError, match="0 or more"):
            horizon_distance(height)


@pytest.mark.published
@pytest.mark.parametrize(("eye", "light", "printed"), [(10, 50, 11.7), (75, 50, 18.0)])
def test_an_older_book_sees_a_fiftieth_less_far(eye: float, light: float, printed: float) -> None:
    """Source: a book on celestial navigation, fig. 12.2: made with 1.144 sqrt(h), not 1.17, as older lists are.

    Half of the last digit, after the ratio of the two constants.
    """
    found = geographic_range(eye * FOOT, light * FOOT) / MILE
    assert found * 1.144 / 1.17 == pytest.approx(printed, abs=0.06)
    assert found > printed + 0.2


@pytest.mark.published
def test_a_light_of_200_feet_is_seen_over_20_miles() -> None:
    """Source: Encyclopaedia Britannica (14th edition's time), Lighthouses: from an eye at 15 ft, "over 20" miles."""
    assert 20.0 < geographic_range(15 * FOOT, 200 * FOOT) / MILE < 22.0


@pytest.mark.published
@pytest.mark.parametrize(("metres", "kilometres"), [(1, 3.6), (10, 11.3), (100, 35.7), (1000, 112.9)])
def test_refraction_lifts_the_horizon_away(metres: float, kilometres: float) -> None:
    """Source: table-references.info, distance without refraction: 3.57 sqrt(h in m) km, printed to 0.1.

    Ours is 1.17 / 1.064 of it: the two constants for miles and feet.
    """
    assert horizon_distance(metres) / 1000.0 * 1.064 / 1.17 == pytest.approx(kilometres, abs=0.06 + 0.001 * kilometres)


@pytest.mark.parametrize(
    ("feet", "miles"), [(1000, 52.9), (2000, 69.0), (5000, 101.0), (10_000, 137.0), (20_000, 188.0)]
)
def test_radio_of_a_ship_reaches_further_by_her_own_horizon(feet: float, miles: float) -> None:
    """Own arithmetic, antenna at 130 ft (invented): 1.23 (sqrt h + sqrt 130)."""
    assert radio_range(feet * FOOT, 130 * FOOT) / MILE == pytest.approx(miles, abs=0.06)


def test_heights_are_never_added_before_the_root() -> None:
    """Limit case: two equal heights see twice, not 1.41 times, as far as one."""
    assert geographic_range(30.0, 30.0) == pytest.approx(2.0 * horizon_distance(30.0), rel=1e-12)
