"""Wind and sea: the printed tables row by row, the fully developed sea, waves by their period."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.environment.sea import (
    beaufort,
    combined_height,
    crest_speed,
    fully_developed,
    group_speed,
    probable_height,
    sea_of,
    sea_state,
    wave_length,
)
from roundown.figures import figures_of

KT, FT, G = 1852.0 / 3600.0, 0.3048, 9.80665

# force, name, least and greatest whole knot, mean, probable height in metres
BEAUFORT = [
    (1, "light air", 1, 3, 2, 0.1),
    (2, "light breeze", 4, 6, 5, 0.2),
    (3, "gentle breeze", 7, 10, 9, 0.6),
    (4, "moderate breeze", 11, 16, 13, 1.0),
    (5, "fresh breeze", 17, 21, 19, 2.0),
    (6, "strong breeze", 22, 27, 24, 3.0),
    (7, "near gale", 28, 33, 30, 4.0),
    (8, "gale", 34, 40, 37, 5.5),
    (9, "strong gale", 41, 47, 44, 7.0),
    (10, "storm", 48, 55, 52, 9.0),
    (11, "violent storm", 56, 63, 60, 11.5),
]


@pytest.mark.published
@pytest.mark.parametrize(("force", "term", "least", "greatest", "mean", "metres"), BEAUFORT)
def test_beaufort_table_as_printed(force: int, term: str, least: int, greatest: int, mean: int, metres: float) -> None:
    """Source: Met Office, Beaufort table (as at infotextmanuscripts.org): limits and mean in knots, probable height."""
    assert beaufort(least * KT) == beaufort(greatest * KT) == (force, term)
    assert probable_height(mean * KT) == pytest.approx(metres, abs=1e-9)


@pytest.mark.published
def test_ends_of_the_beaufort_table_as_printed() -> None:
    """Source: the same table: below 1 kt calm, from 64 kt hurricane, waves over 14 m."""
    assert beaufort(0.0) == beaufort(0.99 * KT) == (0, "calm")
    assert beaufort(64 * KT) == beaufort(150 * KT) == (12, "hurricane")
    assert probable_height(0.0) == 0.0
    assert probable_height(64 * KT) == probable_height(150 * KT) == 14.0


def test_a_wind_between_two_whole_knots_is_rounded() -> None:
    """Hand-worked: 10.4 kt counts as 10, 10.5 as 11."""
    assert beaufort(10.4 * KT)[0] == 3
    assert beaufort(10.5 * KT)[0] == 4


def test_probable_height_between_two_forces_is_in_proportion() -> None:
    """Hand-worked: 16 kt is half-way from 13 kt (1.0 m) to 19 kt (2.0 m); 1 kt half-way from calm to 2 kt (0.1 m)."""
    assert probable_height(16 * KT) == pytest.approx(1.5)
    assert probable_height(1 * KT) == pytest.approx(0.05)


@pytest.mark.published
@pytest.mark.parametrize(
    ("code", "term", "greatest"),
    [
        (0, "calm (glassy)", 0.0), (1, "calm (rippled)", 0.1), (2, "smooth", 0.5), (3, "slight", 1.25),
        (4, "moderate", 2.5), (5, "rough", 4.0), (6, "very rough", 6.0), (7, "high", 9.0), (8, "very high", 14.0),
    ],
)  # fmt: skip
def test_state_of_the_sea_as_printed(code: int, term: str, greatest: float) -> None:
    """Source: World Meteorological Organization, No. 306, code table 3700 (as cited in SEDRIS EDCS).

    A height on a boundary belongs to the lower code; a hair above it to the next.
    """
    assert sea_state(greatest) == (code, term)
    assert sea_state(greatest + 0.001)[0] == code + 1


@pytest.mark.published
def test_phenomenal_is_over_14_metres() -> None:
    """Source: the same code table: code 9, phenomenal, over 14 m."""
    assert sea_state(14.01) == sea_state(30.0) == (9, "phenomenal")


@pytest.mark.published
@pytest.mark.parametrize(
    ("force", "codes"),
    [(0, {0}), (1, {1}), (2, {2}), (3, {3}), (4, {3, 4}), (5, {4}), (6, {5}), (7, {5, 6}), (8, {6, 7}), (9, {7}),
     (11, {8})],
)  # fmt: skip
def test_state_of_the_sea_by_force_as_printed(force: int, codes: set[int]) -> None:
    """Source: the Met Office table, column of the WMO code."""
    mean = 0 if force == 0 else BEAUFORT[force - 1][4]
    assert sea_state(probable_height(mean * KT))[0] in codes


def test_the_height_of_a_storm_is_on_the_boundary_of_two_codes() -> None:
    """By the rule of code table 3700: 9 m of force 10 are still code 7; the wind's table prints 8, a hair more."""
    assert sea_state(probable_height(52 * KT))[0] == 7
    assert sea_state(probable_height(52.1 * KT))[0] == 8


# Fully developed


@pytest.mark.published
@pytest.mark.parametrize("knots", [5.0, 20.0, 40.0])
def test_fully_developed_sea_as_printed(knots: float) -> None:
    """Source: R. H. Stewart, Introduction to Physical Oceanography, chapter 16, eqs. 16.29 to 16.33.

    H = 0.22 U^2 / g with U at 10 m (two digits: 0.215 to 0.225); crests at the peak run 1.17 U (half a digit).
    """
    height, period = fully_developed(knots * KT)
    assert height * G / (knots * KT) ** 2 == pytest.approx(0.22, abs=0.005)
    assert crest_speed(period) / (knots * KT) == pytest.approx(1.17, abs=0.005)


@pytest.mark.published
def test_height_follows_from_the_variance_of_the_spectrum() -> None:
    """Source: the same chapter: variance 2.74e-3 U^4 / g^2 with U at 19.5 m, 1.026 times the wind at 10 m.

    Four standard deviations are 0.2094 U^2 / g, printed 0.21: half a unit of that digit.
    """
    wind = 15.0
    root = math.sqrt(2.74e-3) * (1.026 * wind) ** 2 / G
    assert fully_developed(wind)[0] == pytest.approx(4.0 * root, rel=0.005 / 0.21)


@pytest.mark.parametrize(
    ("knots", "metres", "seconds"),
    [(10, 0.60, 3.9), (15, 1.34, 5.8), (20, 2.39, 7.7), (25, 3.73, 9.6), (30, 5.37, 11.6), (44, 11.55, 17.0)],
)
def test_fully_developed_sea_by_wind(knots: float, metres: float, seconds: float) -> None:
    """Own arithmetic, noted to two digits after the point and to 0.1 s."""
    height, period = fully_developed(knots * KT)
    assert height == pytest.approx(metres, abs=0.006)
    assert period == pytest.approx(seconds, abs=0.06)


def test_a_gale_does_not_reach_its_bound_and_a_breeze_does() -> None:
    """From the two tables: within 15 % at forces 4 to 6, a third or more over it from force 7 on."""
    for _, _, _, _, mean, metres in BEAUFORT[3:6]:
        assert fully_developed(mean * KT)[0] == pytest.approx(metres, rel=0.15)
    for _, _, _, _, mean, metres in BEAUFORT[6:]:
        assert fully_developed(mean * KT)[0] > 1.33 * metres


# Waves by their period


@pytest.mark.published
@pytest.mark.parametrize("period", [5.0, 10.0, 14.0])
def test_waves_in_deep_water_as_printed(period: float) -> None:
    """Source: U.S. Navy, Aerographer's Mate training manual 14010, p. 6-3: 5.12 T^2 ft, 3.03 T kt, group 1.515 T kt.

    Half of the last digit of the first two; the third is half the second.
    """
    assert wave_length(period) / FT / period**2 == pytest.approx(5.12, abs=0.005)
    assert crest_speed(period) / KT / period == pytest.approx(3.03, abs=0.005)
    assert group_speed(period) / KT / period == pytest.approx(1.515, abs=0.0025)


@given(st.floats(0.1, 30.0))
def test_a_crest_runs_its_length_in_its_period(period: float) -> None:
    assert crest_speed(period) * period == pytest.approx(wave_length(period), rel=1e-12)


# Together


def test_sea_and_swell_add_as_squares() -> None:
    """Hand-worked: 3 and 4 make 5; either alone is itself."""
    assert combined_height(3.0, 4.0) == 5.0
    assert combined_height(0.0, 2.0) == combined_height(2.0, 0.0) == 2.0


def test_sea_of_a_fresh_breeze_over_a_long_swell() -> None:
    """Hand-worked: 19 kt raises 2 m; with 1.5 m of swell 2.5 m, the greatest height of code 4."""
    sea = sea_of(19 * KT, 1.5)
    assert (sea.force, sea.wind_term, sea.state, sea.state_term) == (5, "fresh breeze", 4, "moderate")
    assert sea.combined_height == pytest.approx(2.5)
    assert not sea.off_the_table
    texts = {figure.key: figure.text for figure in figures_of(sea)}
    assert texts["wave_height"] == "6.6 ft"
    assert set(texts) == {"wave_height", "combined_height", "full_height", "full_period"}


def test_a_dead_calm_and_a_hurricane_have_answers() -> None:
    """Limit cases."""
    calm = sea_of(0.0)
    assert (calm.force, calm.state, calm.combined_height, calm.full_height, calm.full_period) == (0, 0, 0.0, 0.0, 0.0)
    assert sea_of(70 * KT).off_the_table
    assert not sea_of(63 * KT).off_the_table


@given(st.floats(0.0, 60.0), st.floats(0.0, 5.0), st.floats(0.0, 15.0))
def test_more_wind_or_more_swell_is_never_less_sea(wind: float, more: float, swell: float) -> None:
    low, high = sea_of(wind, swell), sea_of(wind + more, swell)
    assert low.force <= high.force
    assert low.state <= high.state
    assert low.wave_height <= high.wave_height
    assert low.combined_height <= sea_of(wind, swell + more).combined_height


@pytest.mark.parametrize("value", [-0.1, math.nan, math.inf])
def test_what_is_no_wind_and_no_height_is_refused(value: float) -> None:
    for function in (beaufort, probable_height, sea_state, fully_developed, wave_length, crest_speed, sea_of):
        with pytest.raises(ValueError, match="is not 0 or more"):
            function(value)
    with pytest.raises(ValueError, match="swell"):
        sea_of(5.0, value)
