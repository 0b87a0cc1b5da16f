"""The spread of launches: repeatable, and right where a second method is to be had."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.launch.run_cases import KT, on_spot

from roundown.launch.deck_run import deck_run
from roundown.launch.kernel import DRAW_MASS, DRAW_PHASE, DRAW_WIND
from roundown.launch.needs import least_wind
from roundown.launch.scatter import PLAUSIBLE, Spread, drawn, scatter

STEADY = Spread(wind=0.0, tail_up_speed=0.0, mass=0.0, power=0.0)
RUNS = 200


def test_without_spread_every_launch_is_the_planned_one() -> None:
    """Limit: all margins are that of the run; a chance of none or all."""
    facts = on_spot(run=380.0)
    run = deck_run(facts)
    found = scatter(facts, STEADY, seed=3, runs=5)
    assert run.bow_airspeed is not None
    assert run.speed_margin is not None
    planned = run.bow_airspeed - run.lift_off_speed * run.bow_airspeed / (run.lift_off_speed + run.speed_margin)
    assert found.margins == pytest.approx(planned, abs=1e-6)
    assert found.chance == 1.0
    assert scatter(on_spot(run=500.0), STEADY, seed=3, runs=5).chance == 0.0


def test_same_seed_same_launches() -> None:
    facts = on_spot()
    first, second = (scatter(facts, PLAUSIBLE, seed=7, runs=30) for _ in range(2))
    np.testing.assert_array_equal(first.margins, second.margins)
    other = scatter(facts, PLAUSIBLE, seed=8, runs=30)
    assert not np.array_equal(first.margins, other.margins)


def test_more_draws_begin_with_the_same_ones() -> None:
    few, many = (drawn(PLAUSIBLE, np.random.default_rng(5), runs) for runs in (50, 500))
    np.testing.assert_array_equal(few, many[:50])


def test_draws_have_the_spread_that_was_asked_for() -> None:
    """Own arithmetic: standard deviations to 3 %, the phase even over the cycle (mean pi, deviation 2 pi / 12^0.5)."""
    draws = drawn(PLAUSIBLE, np.random.default_rng(1), 20_000)
    assert draws[:, DRAW_WIND].std() == pytest.approx(2.0 * KT, rel=0.03)
    assert draws[:, DRAW_MASS].mean() == pytest.approx(1.0, abs=0.001)
    phase = draws[:, DRAW_PHASE]
    assert phase.min() >= 0.0
    assert phase.max() <= math.tau
    assert phase.mean() == pytest.approx(math.pi, rel=0.02)
    assert phase.std() == pytest.approx(math.tau / math.sqrt(12.0), rel=0.02)


def test_chance_with_the_wind_alone_astray_is_that_of_a_wind_below_the_least() -> None:
    """Second method: normal distribution at the wind that just lifts it off; within three standard errors."""
    facts, strays = on_spot(wind=33.0, run=380.0), 2.0 * KT
    least = least_wind(facts).value
    assert least is not None
    expected = 0.5 * math.erfc((facts.wind_ahead - least) / strays / math.sqrt(2.0))
    found = scatter(facts, Spread(wind=strays, tail_up_speed=0.0, mass=0.0, power=0.0), seed=11, runs=RUNS)
    assert 0.05 < expected < 0.95
    assert found.chance == pytest.approx(expected, abs=3.0 * found.chance_error)


def test_error_of_a_chance_is_not_nil_where_none_was_seen() -> None:
    """Own arithmetic: none in 46, two added to either side: (2/50 x 48/50 / 50)^0.5 = 0.02771."""
    found = scatter(on_spot(run=700.0), STEADY, seed=1, runs=46)
    assert found.chance == 0.0
    assert found.chance_error == pytest.approx(0.02771, abs=1e-5)


def test_low_margin_is_below_the_median_and_a_wanted_margin_raises_the_chance() -> None:
    facts = on_spot(run=420.0)
    plain, wanted = (scatter(facts, PLAUSIBLE, seed=2, margin=margin, runs=RUNS) for margin in (0.0, 2.0 * KT))
    assert plain.low_margin < plain.median_margin
    assert plain.chance < wanted.chance
    below = float((wanted.margins < 2.0 * KT).mean())
    assert wanted.chance == pytest.approx(below)


def test_pitching_deck_spreads_the_margins() -> None:
    facts = on_spot(run=420.0)
    pitching = Spread(wind=0.0, tail_up_speed=0.0, mass=0.0, power=0.0, pitch=math.radians(1.0), pitch_period=9.0)
    found = scatter(facts, pitching, seed=2, runs=30)
    assert found.margins[-1] - found.margins[0] > 0.5 * KT
