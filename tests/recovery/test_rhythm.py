"""Many drawn recoveries: draws against closed forms, the same to the bit, and findings that their remedy closes."""

from __future__ import annotations

import math
import re
from dataclasses import fields, replace
from itertools import islice
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.figures import figures_of
from roundown.findings import Level
from roundown.quantities import POUND, Band
from roundown.recovery.cycle import HOOK, Burn, Homing, RhythmFacts, planned_duration
from roundown.recovery.cycle_findings import MOST_DRY, MOST_SHORT, rhythm_findings
from roundown.recovery.rhythm import Rhythm, drawn, recoveries, rhythm, triangular

BURN = Burn(circuit=0.06, hold=0.045, full=0.2)


def facts(count: int = 12, wave_offs: float = 0.08, fuel: float | None = 200.0, **changes: Any) -> RhythmFacts:
    """A recovery with everything that may go amiss."""
    known: dict[str, Any] = {
        "interval": 30.0, "circuit": 157.0, "go_round": 171.0, "clear": Band(18.0, 22.0, 29.0), "scatter": 4.0,
        "full_time": 15.0, "fouls": 0.05, "foul_time": 30.0, "barrier_hits": 0.01, "barrier_clear": 300.0,
        "reserve": 1200.0,
    }  # fmt: skip
    planes = tuple(Homing(f"{i}", 43_200.0, fuel, BURN, wave_offs=wave_offs) for i in range(count))
    return RhythmFacts(planes, **(known | changes))


def calm(count: int = 12, **changes: Any) -> RhythmFacts:
    """The same with nothing left to chance."""
    even: dict[str, Any] = {"clear": Band(22.0, 22.0, 22.0), "scatter": 0.0, "fouls": 0.0, "barrier_hits": 0.0}
    return facts(count, 0.0, **(even | changes))


def bits(found: Rhythm) -> list[bytes]:
    return [np.asarray(getattr(found, field.name), dtype=np.float64).tobytes() for field in fields(found)]


def test_the_same_seed_gives_the_same_bits() -> None:
    first, again = rhythm(facts(), seed=7, draws=60), rhythm(facts(), seed=7, draws=60)
    assert bits(first) == bits(again)
    assert not np.array_equal(first.durations, rhythm(facts(), seed=8, draws=60).durations)


def test_the_first_of_many_draws_are_those_of_a_few() -> None:
    few, many = list(recoveries(facts(), 3, 20)), list(recoveries(facts(), 3, 50))
    assert few == many[:20]


def test_with_nothing_left_to_chance_every_recovery_is_as_planned() -> None:
    """Own arithmetic: eleven intervals and the deck's 22 s; the last holds 11 intervals and flies the circuit."""
    found = rhythm(calm(), draws=20)
    assert found.planned == 11 * 30.0 + 22.0
    assert np.all(found.durations == found.planned)
    assert (found.mean, found.median, found.slow, found.quick) == (found.planned,) * 4
    assert (found.in_hand, found.wave_offs, found.foul_decks, found.mean_error) == (0.0, 0.0, 0.0, 0.0)
    assert found.longest_foul == 22.0
    assert found.slow_clear == 43_200.0 + 157.0 + found.planned
    assert found.least_fuel == found.low_fuel == pytest.approx(200.0 - 330.0 * 0.045 - 157.0 * 0.06)
    assert (found.short, found.dry) == (0.0, 0.0)


def test_one_alone_comes_aboard_after_as_many_rounds_as_a_geometric_law_says() -> None:
    """Closed form: passes waved off are p / (1 - p) in the mean, each a round of 171 s; the deck then 22 s.

    Its variance p / (1 - p)^2 rounds squared gives the tolerance, four standard errors.
    """
    part, draws = 0.25, 4000
    alone = replace(calm(1), aeroplanes=(replace(calm(1).aeroplanes[0], wave_offs=part),))
    found = rhythm(alone, draws=draws)
    rounds, spread = part / (1.0 - part), math.sqrt(part) / (1.0 - part)
    error = spread / math.sqrt(draws)
    assert found.wave_offs == pytest.approx(rounds, abs=4.0 * error)
    assert found.mean == pytest.approx(22.0 + 171.0 * rounds, abs=4.0 * 171.0 * error)
    assert found.mean_error == pytest.approx(171.0 * error, rel=0.1)
    for times in range(3):
        share = np.count_nonzero(np.isclose(found.durations, 22.0 + 171.0 * times)) / draws
        assert share == pytest.approx((1.0 - part) * part**times, abs=4.0 * math.sqrt(0.25 / draws))


def test_wave_offs_for_the_pass_do_not_hang_on_the_deck() -> None:
    """Closed form: n p / (1 - p) in the mean, however often the deck is foul."""
    draws, part = 1500, 0.1
    found = rhythm(facts(12, part), draws=draws)
    error = math.sqrt(12 * part) / (1.0 - part) / math.sqrt(draws)
    assert found.wave_offs == pytest.approx(12 * part / (1.0 - part), abs=4.0 * error)
    assert found.foul_decks > 0.0


@given(seed=st.integers(0, 9999), low=st.floats(0.0, 0.8), more=st.floats(0.0, 0.15))
@settings(deadline=None, max_examples=60)
def test_a_greater_part_never_gives_fewer_wave_offs(seed: int, low: float, more: float) -> None:
    few = drawn(facts(20, low), np.random.default_rng(seed)).wave_offs
    many = drawn(facts(20, low + more), np.random.default_rng(seed)).wave_offs
    assert all(after >= before for before, after in zip(few, many, strict=True))


def test_more_wave_offs_take_longer_and_leave_less_fuel() -> None:
    means, fuels = [], []
    for part in (0.0, 0.05, 0.1, 0.2, 0.4):
        found = rhythm(facts(10, part), draws=150)
        assert found.low_fuel is not None
        means.append(found.mean)
        fuels.append(found.low_fuel)
    assert means == sorted(means)
    assert fuels == sorted(fuels, reverse=True)


def test_the_deck_s_clear_time_is_the_triangular_distribution() -> None:
    """Closed form: mean (a + b + c) / 3, variance (a2 + b2 + c2 - ab - ac - bc) / 18, (c - a) / (b - a) below c."""
    band = Band(18.0, 22.0, 40.0)
    parts = (np.arange(200_000) + 0.5) / 200_000
    values = triangular(parts, band)
    assert values.mean() == pytest.approx((18.0 + 22.0 + 40.0) / 3.0, abs=1e-4)
    square = 18.0**2 + 22.0**2 + 40.0**2 - 18.0 * 22.0 - 18.0 * 40.0 - 22.0 * 40.0
    assert values.var() == pytest.approx(square / 18.0, rel=1e-4)
    assert np.count_nonzero(values < 22.0) / 200_000 == pytest.approx(4.0 / 22.0, abs=1e-5)
    assert triangular(np.array([0.0, 1.0]), band).tolist() == [18.0, 40.0]
    assert triangular(np.array([0.3]), Band(25.0, 25.0, 25.0)).tolist() == [25.0]
    assert triangular(np.array([0.0, 0.5, 1.0]), Band(20.0, 20.0, 30.0))[0] == 20.0
    assert triangular(np.array([0.0, 0.5, 1.0]), Band(20.0, 30.0, 30.0))[2] == 30.0


def test_the_draws_keep_the_doctrine_s_rates() -> None:
    """Closed form: parts of so many draws within four standard errors; intervals about the one kept."""
    many = facts(200, fouls=0.1, barrier_hits=0.05, clear=Band(20.0, 20.0, 20.0))
    chances = [drawn(many, np.random.default_rng(seed)) for seed in range(40)]
    barrier = np.array([each.barrier for each in chances])
    deck = np.array([each.deck for each in chances])
    assert barrier.mean() == pytest.approx(0.05, abs=4.0 * math.sqrt(0.05 / 8000))
    assert np.all(deck[barrier] == 300.0)
    assert np.count_nonzero(deck == 50.0) / np.count_nonzero(~barrier) == pytest.approx(
        0.1, abs=4.0 * math.sqrt(0.1 / 8000)
    )
    intervals = np.array([list(islice(each.intervals, 500)) for each in chances])
    assert intervals.mean() == pytest.approx(30.0, abs=4.0 * 4.0 / math.sqrt(20_000))
    assert intervals.std() == pytest.approx(4.0, rel=0.02)


def test_no_interval_is_below_nil() -> None:
    wild = facts(5, scatter=100.0)
    assert min(islice(drawn(wild, np.random.default_rng(1)).intervals, 500)) == 0.0


def test_a_hook_that_will_not_come_down_is_in_the_barrier_in_every_draw() -> None:
    planes = (*facts(3).aeroplanes, Homing("up", 43_200.0, trouble=HOOK))
    one = replace(facts(3), aeroplanes=planes, barrier_hits=0.0)
    assert all(drawn(one, np.random.default_rng(seed)).barrier == (False, False, False, True) for seed in range(5))


def test_quantiles_are_those_of_the_durations_sorted_by_hand() -> None:
    """Second method: order statistics of 101 draws, so that no interpolation is wanted."""
    found = rhythm(facts(), draws=101)
    durations = sorted(went.duration for went in recoveries(facts(), 1, 101))
    assert found.durations.tolist() == durations
    assert (found.quick, found.median) == pytest.approx((durations[10], durations[50]), abs=1e-9)
    assert found.slow == pytest.approx(durations[90], abs=1e-9)
    assert found.in_hand == pytest.approx(durations[90] - planned_duration(facts()))
    assert found.mean == pytest.approx(math.fsum(durations) / 101)
    assert not found.durations.flags.writeable


def test_without_fuel_given_nothing_is_said_of_fuel() -> None:
    found = rhythm(facts(fuel=None), draws=5)
    assert (found.least_fuel, found.low_fuel, found.short, found.dry) == (None,) * 4
    assert not rhythm_findings(found, facts(fuel=None), "rhythm.dawn")


def test_every_figure_has_a_sentence_and_inputs() -> None:
    found = list(figures_of({"dawn": rhythm(facts(), draws=3)}, "rhythm."))
    assert {each.key for each in found} >= {"rhythm.dawn.mean", "rhythm.dawn.slow", "rhythm.dawn.short"}
    assert all(each.how.sentence and each.how.method and each.how.inputs for each in found)


def test_a_good_recovery_has_no_findings() -> None:
    assert not rhythm_findings(rhythm(facts(), draws=200), facts(), "rhythm.dawn")


def test_a_slow_deck_is_told_with_what_it_costs() -> None:
    """Own arithmetic: 11 intervals of 36 s instead of 30 s, 66 s more."""
    slow = calm(clear=Band(36.0, 36.0, 36.0))
    (finding,) = rhythm_findings(rhythm(slow, draws=5), slow, "rhythm.dawn")
    assert (finding.id, finding.level, finding.key) == (
        "deck-slower-than-interval",
        Level.CAUTION,
        "rhythm.dawn.interval",
    )
    assert "every 36.0 s" in finding.remedy
    assert "66.0 s longer for 12" in finding.remedy


def test_a_full_deck_says_how_many_must_go_below() -> None:
    full = calm(park_room=9)
    found = rhythm(full, draws=5)
    assert (found.count, found.aboard) == (12.0, 9.0)
    (finding,) = rhythm_findings(found, full, "rhythm.dawn")
    assert (finding.id, finding.level, finding.key) == ("deck-full", Level.STOP, "rhythm.dawn.aboard")
    assert "Strike 3 below" in finding.remedy
    roomier = replace(full, park_room=12)
    assert not rhythm_findings(rhythm(roomier, draws=5), roomier, "rhythm.dawn")


@pytest.mark.parametrize(("fuel", "level", "key"), [(95.0, Level.CAUTION, "short"), (22.0, Level.STOP, "dry")])
def test_the_last_short_of_fuel_is_told_what_more_would_do(fuel: float, level: Level, key: str) -> None:
    """Round trip: with the fuel the remedy asks for there is no finding any more."""
    thin = facts(16, fuel=fuel)
    found = rhythm(thin, draws=300)
    (finding,) = rhythm_findings(found, thin, "rhythm.dawn")
    assert (finding.id, finding.level, finding.key) == ("last-short-of-fuel", level, f"rhythm.dawn.{key}")
    assert getattr(found, key) > (MOST_SHORT if key == "short" else MOST_DRY)
    more = re.search(r"Have (\d+) lb more", finding.remedy)
    assert more is not None
    mended = facts(16, fuel=fuel + float(more[1]) * POUND)
    assert not rhythm_findings(rhythm(mended, draws=300), mended, "rhythm.dawn")
