"""The flight course with the wind where the deck is, worked by hand."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.environment.wind import velocity
from roundown.plan.read import day_of
from roundown.ship.flight import Flight, plan_flight
from roundown.ship.wind_over_deck import Outcome

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
DEG = math.pi / 180.0
DEMO = (Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8")
ALOFT = DEMO[DEMO.index("winds = [") : DEMO.index("temperature")]


def flight_of(text: str) -> Flight:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return solve(day_of(document)).flight


@pytest.mark.parametrize(("ship", "deck"), [("corbel", 65.0), ("lintel", 44.0)])
def test_wind_at_deck_height_follows_the_power_law_over_the_sea(ship: str, deck: float) -> None:
    """Own arithmetic: 11 kt at 10 m times (65 ft / 10 m)^0.11 = 1.0781: 11.86 kt; 44 ft: 1.0329: 11.36 kt. The table it
    is read from is within 0.1 %.
    """
    flight = flight_of(DEMO.replace(ALOFT, "").replace('name = "corbel"', f'name = "{ship}"'))
    ratio = (deck * FT / 10.0) ** 0.11
    assert ratio == pytest.approx({65.0: 1.0781, 44.0: 1.0329}[deck], abs=2e-4)
    assert flight.wind_speed == pytest.approx(11.0 * KT * ratio, rel=1e-3)
    assert flight.wind_from == pytest.approx(140.0 * DEG, abs=1e-9)


def test_a_uniform_wind_is_the_same_at_the_deck() -> None:
    """Constructed."""
    text = DEMO.replace(ALOFT, 'wind_profile = "uniform"\n')
    assert flight_of(text).wind_speed == pytest.approx(11.0 * KT, abs=1e-9)


def test_winds_aloft_are_blended_in_components_between_10_m_and_the_first_height() -> None:
    """Own arithmetic: 140/11 at 10 m, 145/15 at 500 ft (152.4 m); the deck at 19.812 m is 9.812 / 142.4 = 0.0689 of the
    way: east -7.071 - 0.0689 x 1.533, north 8.427 + 0.0689 x 3.861 kt.
    """
    part = (65.0 * FT - 10.0) / (500.0 * FT - 10.0)
    low = (-11.0 * math.sin(140.0 * DEG), -11.0 * math.cos(140.0 * DEG))
    high = (-15.0 * math.sin(145.0 * DEG), -15.0 * math.cos(145.0 * DEG))
    east, north = (a + part * (b - a) for a, b in zip(low, high, strict=True))
    flight = flight_of(DEMO)
    assert flight.wind_speed == pytest.approx(math.hypot(east, north) * KT, abs=1e-6)
    assert flight.wind_from == pytest.approx(math.atan2(-east, -north), abs=1e-9)


def test_wind_from_dead_ahead_needs_the_difference() -> None:
    """Own arithmetic: 30 kt wanted, 12 kt from 070: steer 070 at 18 kt; the reciprocal is 250."""
    flight = plan_flight(velocity(70.0 * DEG, 12.0 * KT), 30.0 * KT, 0.0, 0.0, 5.0 * KT, 31.0 * KT)
    assert flight.course == pytest.approx(70.0 * DEG)
    assert flight.reciprocal == pytest.approx(250.0 * DEG)
    assert flight.speed == pytest.approx(18.0 * KT)
    assert flight.over_deck == pytest.approx(30.0 * KT)
    assert flight.off_bow == pytest.approx(0.0, abs=1e-9)
    assert flight.short == pytest.approx(0.0, abs=1e-9)
    assert flight.attained


def test_a_ship_too_slow_is_short_by_the_difference() -> None:
    """Own arithmetic: 8 kt of wind and 19.5 kt of ship make 27.5 kt, 2.5 kt short of 30."""
    flight = plan_flight(velocity(0.0, 8.0 * KT), 30.0 * KT, 0.0, 1.0, 5.0 * KT, 19.5 * KT)
    assert not flight.attained
    assert flight.outcome is Outcome.TOO_SLOW
    assert flight.over_deck == pytest.approx(27.5 * KT)
    assert flight.short == pytest.approx(2.5 * KT)
    assert flight.explanation.endswith(".")
    assert "2.5 kt" in flight.explanation


def test_the_reciprocal_stays_on_the_compass_rose() -> None:
    """Constructed: a course of 250 has the reciprocal 070, not 430."""
    flight = plan_flight(velocity(250.0 * DEG, 12.0 * KT), 30.0 * KT, 0.0, 0.0, 5.0 * KT, 31.0 * KT)
    assert flight.reciprocal == pytest.approx(70.0 * DEG)
