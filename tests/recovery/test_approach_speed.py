"""Approach speed against hand arithmetic, a there-and-back, and the rule it stands beside."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from roundown.recovery.approach_speed import POWER_ON, approach_speed
from roundown.recovery.facts import CircuitFacts

Make = Callable[..., CircuitFacts]
KT = 1852.0 / 3600.0  # m/s
CARD = ((50.0 * KT, 4.0 * KT), (90.0 * KT, 2.0 * KT))


def test_the_stall_is_where_the_greatest_lift_just_carries_the_weight(sea_level: Make) -> None:
    """Own arithmetic: 3,900 kg on 27 m2 at 2.1: sqrt(2 x 38,245.9 N / (1.2250 x 27 x 2.1)) = 33.19 m/s = 64.5 kt;
    90 kt is 25.5 kt over it, 1.395 times.
    """
    found = approach_speed(sea_level())
    assert found.stall / KT == pytest.approx(64.51, abs=0.01)
    assert found.ramp_speed / KT == pytest.approx(90.0)
    assert found.margin / KT == pytest.approx(25.49, abs=0.01)
    assert found.ratio == pytest.approx(1.395, abs=5e-4)


def test_five_knots_over_the_stall_is_the_rule_of_one_wartime_account(sea_level: Make) -> None:
    """PRO-85, derived from a published figure: 5 kt above the stall; 64.5 kt makes it 69.5 kt."""
    assert approach_speed(sea_level()).by_rule / KT == pytest.approx(69.5, abs=0.05)


def test_the_rule_from_memory_is_only_bounded_since_the_stall_with_power_is_not_known(sea_level: Make) -> None:
    """Own arithmetic: 1.05 and 1.10 times 64.51 kt."""
    found = approach_speed(sea_level())
    assert found.by_ratio_low / KT == pytest.approx(67.7, abs=0.05)
    assert found.by_ratio_high / KT == pytest.approx(71.0, abs=0.05)
    assert "not known" in POWER_ON


@pytest.mark.parametrize("card", [(), CARD])
def test_at_the_weight_for_the_margin_the_margin_is_just_there(
    sea_level: Make, card: tuple[tuple[float, float], ...]
) -> None:
    """Round trip, with and without position error."""
    facts = sea_level()
    facts = replace(facts, aeroplane=replace(facts.aeroplane, position_error=card))
    weight = approach_speed(facts).weight_for_margin
    assert weight is not None
    heavier = replace(facts, aeroplane=replace(facts.aeroplane, mass=weight))
    assert approach_speed(heavier).margin == pytest.approx(facts.least_margin, abs=1e-9)


def test_a_tenth_heavier_stalls_a_twentieth_faster(sea_level: Make) -> None:
    """Closed form: the stall goes with the root of the weight."""
    light = approach_speed(sea_level())
    heavy = approach_speed(sea_level(aeroplane={"mass": 1.1 * 3_900.0}))
    assert heavy.stall == pytest.approx(light.stall * math.sqrt(1.1))
    assert heavy.margin < light.margin


def test_the_multiple_is_of_speeds_free_of_position_error(sea_level: Make) -> None:
    """Own arithmetic: a dial that shows 3 kt too little at all speeds: 93 kt over 64.51 kt."""
    facts = sea_level()
    low = replace(facts, aeroplane=replace(facts.aeroplane, position_error=((60.0 * KT, 3.0 * KT),)))
    found = approach_speed(low)
    assert found.stall / KT == pytest.approx(61.51, abs=0.01)
    assert found.ratio == pytest.approx(93.0 / 64.51, abs=5e-4)


def test_no_weight_has_a_margin_as_great_as_the_speed(sea_level: Make) -> None:
    """Constructed."""
    assert approach_speed(sea_level(least_margin=90.0 * KT)).weight_for_margin is None
