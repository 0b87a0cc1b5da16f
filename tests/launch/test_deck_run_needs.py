"""What would do for a spot, and what a change costs: each answer put back into the run."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.launch.run_cases import FT, KT, LB, TYPES, fitted, on_spot

from roundown.launch.deck_run import deck_run
from roundown.launch.facts import RunFacts
from roundown.launch.needs import deck_left, heaviest, least_flap, least_wind, sensitivities

SPOT = 380.0  # ft


def left(facts: RunFacts) -> float:
    margin = deck_run(facts).length_margin
    assert margin is not None
    return margin


@pytest.mark.parametrize("kind", TYPES)
def test_least_wind_just_lifts_it_off_at_the_bow(kind: str) -> None:
    """Round trip: with it no deck is left; with half a knot more there is some."""
    facts = on_spot(kind, wind=10.0, run=SPOT)
    wind = least_wind(facts).value
    assert wind is not None
    assert 20.0 * KT < wind < 45.0 * KT
    assert left(replace(facts, wind_ahead=wind)) == pytest.approx(0.0, abs=1e-6)
    assert left(replace(facts, wind_ahead=wind + 0.5 * KT)) > 0.0


def test_deck_in_hand_needs_more_wind() -> None:
    facts = on_spot(run=SPOT)
    wind = least_wind(facts, in_hand=50.0 * FT).value
    assert wind is not None
    assert left(replace(facts, wind_ahead=wind)) == pytest.approx(50.0 * FT, abs=1e-6)


def test_long_deck_needs_no_wind_and_short_deck_has_none_that_does() -> None:
    assert least_wind(on_spot(run=1_100.0)).value == 0.0
    none = least_wind(on_spot(run=40.0))
    assert none.value is None
    assert "60.0 kt" in none.reason
    assert least_wind(on_spot(run=40.0), in_hand=50.0 * FT).value is None


@pytest.mark.parametrize("kind", TYPES)
def test_heaviest_load_just_lifts_off_at_the_bow(kind: str) -> None:
    facts = on_spot(kind, wind=30.0, run=350.0)
    full = facts.aeroplane.mass
    mass = heaviest(facts, 0.6 * full, full).value
    assert mass is not None
    assert 0.6 * full < mass < full
    assert left(fitted(facts, mass=mass)) == pytest.approx(0.0, abs=1e-6)


def test_heaviest_load_is_an_end_or_none_where_all_or_none_fly() -> None:
    facts = on_spot(run=600.0)
    assert heaviest(facts, 3_000.0 * LB, facts.aeroplane.mass).value == facts.aeroplane.mass
    none = heaviest(replace(facts, run=30.0), 9_000.0 * LB, facts.aeroplane.mass)
    assert none.value is None
    assert "9,000 lb" in none.reason


def test_least_flap_is_the_first_that_lifts_off() -> None:
    facts = on_spot(run=405.0)
    flap = least_flap(facts).value
    assert flap is not None
    assert 0.0 < flap < 1.0
    assert left(fitted(facts, flap=flap)) == pytest.approx(0.0, abs=1e-6)
    assert left(fitted(facts, flap=flap - 0.05)) < 0.0


def test_least_flap_is_up_on_a_long_deck_and_none_on_a_short_one() -> None:
    assert least_flap(on_spot(run=800.0)).value == 0.0
    none = least_flap(on_spot(run=100.0))
    assert none.value is None
    assert none.reason == "no setting of the flap does"


def test_run_that_never_lifts_off_is_short_by_more_than_any_other() -> None:
    facts = fitted(on_spot(wind=0.0), shaft_power=1_000.0)
    assert deck_left(facts) < deck_left(on_spot(wind=0.0, run=50.0))


@pytest.mark.parametrize("kind", TYPES)
def test_every_change_for_the_worse_lengthens_the_run(kind: str) -> None:
    """Second method: the difference of two whole runs."""
    facts = on_spot(kind)
    found = sensitivities(facts)
    assert list(found) == ["weight_up_10_percent", "wind_down_5_kt", "half_the_flap", "power_down_10_percent"]
    for cost in found.values():
        assert cost.longer is not None
        assert cost.slower is not None
        assert cost.longer > 0.0
        assert cost.slower > 0.0
    weaker = replace(facts, wind_ahead=facts.wind_ahead - 5.0 * KT)
    assert found["wind_down_5_kt"].longer == pytest.approx(left(facts) - left(weaker), rel=1e-9)
    first, second = deck_run(facts).bow_airspeed, deck_run(weaker).bow_airspeed
    assert first is not None
    assert second is not None
    assert found["wind_down_5_kt"].slower == pytest.approx(first - second, rel=1e-9)


def test_change_that_keeps_it_from_lifting_off_costs_nothing_that_can_be_said() -> None:
    facts = fitted(on_spot(wind=0.0), shaft_power=1_000.0)
    assert sensitivities(facts)["power_down_10_percent"].longer is None
    assert not math.isfinite(deck_run(facts).distance or math.nan)
