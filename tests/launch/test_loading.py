"""Weights and settings at take-off."""

from __future__ import annotations

import pytest
from tests.launch.run_cases import LB

from roundown.catalog.load import builtin_catalog
from roundown.errors import NoSolution
from roundown.figures import Given, Origin, given_number
from roundown.launch.loading import loaded
from roundown.quantities import INCH_OF_MERCURY, MASS, PRESSURE, RATIO, Kind

OTTERY = builtin_catalog()["types"]["ottery"].values


def said(value: float, kind: Kind) -> Given:
    return given_number(value, kind, Origin("plan.toml", (), "given in the plan"))


def test_what_is_not_said_is_full() -> None:
    """Own arithmetic: 8,860 + 1,400 + 520 = 10,780 lb, the type's own flap, full power."""
    found = loaded(OTTERY, {})
    assert found.weight == pytest.approx(10_780 * LB)
    assert (found.flap, found.power) == (OTTERY["launch.take_off_flap"].value, 1.0)


def test_what_is_said_is_added_up() -> None:
    """Own arithmetic: 8,860 + 900 + 360 = 10,120 lb."""
    found = loaded(OTTERY, {"fuel": said(900 * LB, MASS), "stores": said(360 * LB, MASS), "flap": said(0.4, RATIO)})
    assert found.weight == pytest.approx(10_120 * LB)
    assert found.flap == 0.4


def test_power_by_manifold_pressure_is_straight_in_it() -> None:
    """Own arithmetic: half-way between the pressure that gives none and that of full power is half the power."""
    full, half = OTTERY["launch.full_pressure"].value, 40.0 * INCH_OF_MERCURY
    at_full = loaded(OTTERY, {"manifold_pressure": said(full, PRESSURE)}).power
    at_forty = loaded(OTTERY, {"manifold_pressure": said(half, PRESSURE)}).power
    assert at_full == pytest.approx(1.0)
    none = full - (full - half) / (1.0 - at_forty)
    middle = loaded(OTTERY, {"manifold_pressure": said(0.5 * (full + none), PRESSURE)}).power
    assert middle == pytest.approx(0.5)
    assert 0.0 < none < 15.0 * INCH_OF_MERCURY


def test_a_type_that_lacks_keys_is_told_which() -> None:
    bare = {key: given for key, given in OTTERY.items() if key != "launch.lift_slope"}
    with pytest.raises(NoSolution, match=r"launch\.lift_slope"):
        loaded(bare, {})
    bare = {key: given for key, given in OTTERY.items() if key != "launch.full_pressure"}
    with pytest.raises(NoSolution, match=r"launch\.full_pressure"):
        loaded(bare, {"manifold_pressure": said(1e5, PRESSURE)})
