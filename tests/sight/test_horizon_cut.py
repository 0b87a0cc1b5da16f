"""Where the horizon cuts a ship: the rule, the constants, a worked table, and the geometry of a round earth."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from roundown.environment.horizon import dip, horizon_distance
from roundown.sight.horizon_cut import REACH, horizon_cut, horizon_dip, sight_lines, waterline_dip

FT, NM = 0.3048, 1852.0
MINUTE = math.pi / 10_800.0
DISTANCES = (0.10, 0.25, 0.5, 1.0, 2.0, 3.0)  # nm
TABLE = {  # ft of eye: ft at which the horizon cuts, at each distance; worked out with 1.169 to a tenth
    65: (63.6, 61.6, 58.3, 51.9, 40.3, 30.2),
    150: (147.9, 144.8, 139.7, 129.8, 111.0, 93.7),
    300: (297.0, 292.6, 285.4, 271.1, 243.7, 217.7),
    500: (496.2, 490.5, 481.0, 462.5, 426.4, 391.8),
    1000: (994.6, 986.5, 973.1, 946.6, 894.7, 844.3),
}


@pytest.mark.published
@pytest.mark.parametrize(("feet", "miles"), [(100, 11.7), (16, 4.7), (125, 13.1)])
def test_where_the_cut_comes_down_to_the_sea_is_the_distance_of_the_horizon(feet: float, miles: float) -> None:
    """Source: American Practical Navigator, ch. 22, 1.17 sqrt(h); Seamanship Secrets, appendix I. To 0.1 mile."""
    lowest = minimize_scalar(lambda d: horizon_cut(feet * FT, d), bounds=(0.0, 60.0 * NM), method="bounded").x
    assert lowest / NM == pytest.approx(miles, abs=0.05)
    assert horizon_distance(feet * FT) / NM == pytest.approx(miles, abs=0.05)


@pytest.mark.published
def test_dip_constant() -> None:
    """Source: American Practical Navigator, dip table: 0.97' sqrt(h). The tangent's is within half a digit."""
    assert dip(FT) / MINUTE == pytest.approx(0.97, abs=0.001)
    assert horizon_dip(FT) / MINUTE == pytest.approx(0.97, abs=0.005)


def test_the_sea_short_of_the_horizon_stands_lower() -> None:
    """Own arithmetic by tan D = h/(6076.1 d) + 0.8321 d/(2 x 3440.1), from memory: 29.12' at 2 nm from 100 ft."""
    assert waterline_dip(100 * FT, 2 * NM) / MINUTE == pytest.approx(29.12, abs=0.05)


@pytest.mark.parametrize("feet", TABLE)
def test_every_row_of_the_worked_table(feet: int) -> None:
    """Own arithmetic, to a tenth of a foot."""
    for miles, expected in zip(DISTANCES, TABLE[feet], strict=True):
        assert horizon_cut(feet * FT, miles * NM) / FT == pytest.approx(expected, abs=0.1)


def test_at_ninety_feet_the_horizon_cuts_the_island_ninety_feet_up() -> None:
    """Common practice, no source; short of it by 1.7 d sqrt(h): 2.7 ft at a third of a mile (own arithmetic)."""
    cut = horizon_cut(90 * FT, NM / 6.0) / FT
    assert cut == pytest.approx(90.0, abs=3.0)
    assert cut == pytest.approx(90.0 - 1.7 / 6.0 * math.sqrt(90.0), abs=0.1)
    assert horizon_cut(90 * FT, 0.0) == pytest.approx(90 * FT)


@given(height=st.floats(1.0, 500.0), part=st.floats(0.01, 2.5))
def test_the_cut_is_on_the_tangent_to_a_round_earth(height: float, part: float) -> None:
    """Second method: a circle of the radius that refraction makes, its tangent from the eye, and a plumb upright."""
    radius = REACH**2 / 2.0
    distance = part * REACH * math.sqrt(height)
    touches = math.acos(radius / (radius + height))
    off = distance / radius - touches  # angle at the earth's middle from where the tangent touches
    assert horizon_cut(height, distance) == pytest.approx(radius / math.cos(off) - radius, rel=1e-3, abs=0.01)


@given(height=st.floats(5.0, 500.0), distance=st.floats(10.0, 5000.0))
def test_a_sight_line_to_the_cut_lies_on_the_horizon(height: float, distance: float) -> None:
    """Second method: the height on an upright that is seen at the dip, by root finding."""
    eye = np.array([0.0, 0.0, height])

    def rise(cut: float) -> float:
        line = sight_lines(np.array([distance, 0.0, cut]), eye)
        return math.atan2(line[2], line[0]) + math.atan(horizon_dip(height))

    assert brentq(rise, -10.0, 600.0) == pytest.approx(horizon_cut(height, distance), abs=1e-6)


def test_below_the_sea_there_is_no_horizon() -> None:
    with pytest.raises(ValueError, match="0 or more"):
        horizon_cut(-1.0, 100.0)
    with pytest.raises(ValueError, match="right below"):
        waterline_dip(10.0, 0.0)
