"""One recovery: the schedule by hand, a queue's printed mean, and a hand simulation without the library."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain, pairwise, repeat
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.quantities import Band
from roundown.recovery.cycle import (
    HOOK,
    Burn,
    Chance,
    Homing,
    Recovery,
    RhythmFacts,
    even,
    planned_duration,
    planned_ramps,
    recover,
)
from roundown.recovery.rhythm import drawn

NOON = 43_200.0  # s
BURN = Burn(circuit=0.0625, hold=0.03125, full=0.25)


def homing(count: int, **changes: Any) -> tuple[Homing, ...]:
    plain: dict[str, Any] = {"ready": NOON, "burn": BURN}
    return tuple(Homing(f"{i}", **(plain | changes)) for i in range(count))


def plain(planes: tuple[Homing, ...], **changes: Any) -> RhythmFacts:
    """All 30 s apart, 160 s round the circuit and 170 s round again, the deck ready 25 s behind each."""
    known: dict[str, Any] = {
        "interval": 30.0, "circuit": 160.0, "go_round": 170.0, "clear": Band(25.0, 25.0, 25.0), "barrier_clear": 300.0,
    }  # fmt: skip
    return RhythmFacts(planes, **(known | changes))


def amiss(facts: RhythmFacts, **changes: Any) -> Chance:
    """Nothing amiss but what is said."""
    return replace(even(facts), **changes)


def keys(went: Recovery) -> list[str]:
    return [landing.key for landing in went.landings]


def test_recovery_of_24_without_scatter_is_the_schedule_by_hand() -> None:
    """Own arithmetic: first ramp 160 s after the first is at the initial, 23 intervals of 30 s, 25 s for the last."""
    facts = plain(homing(24))
    went = recover(facts, even(facts))
    assert went.first_ramp == NOON + 160.0
    assert [landing.ramp for landing in went.landings] == [NOON + 160.0 + 30.0 * i for i in range(24)]
    assert went.last_clear == NOON + 160.0 + 23 * 30.0 + 25.0
    assert went.duration == planned_duration(facts) == 23 * 30.0 + 25.0
    assert keys(went) == [plane.key for plane in facts.aeroplanes]
    assert (went.wave_offs, went.foul_decks, went.not_aboard) == (0, 0, ())


def test_a_deck_slower_than_the_interval_sets_the_pace_and_waves_nobody_off() -> None:
    """Own arithmetic: 9 times the deck's 40 s instead of 30 s, and 40 s for the last."""
    facts = plain(homing(10), clear=Band(40.0, 40.0, 40.0))
    went = recover(facts, even(facts))
    assert went.duration == planned_duration(facts) == 9 * 40.0 + 40.0
    assert went.foul_decks == 0


def test_had_the_doctrines_interval_been_kept_every_second_one_would_be_waved_off() -> None:
    """Constructed: 30 s apart over a deck that takes 40 s; 0 lands, 1 finds it busy, 2 lands, and so on."""
    facts = plain(homing(4), clear=Band(40.0, 40.0, 40.0), go_round=1000.0, circuit=1000.0)
    went = recover(facts, amiss(facts, intervals=repeat(30.0)))
    assert keys(went)[:2] == ["0", "2"]
    assert went.foul_decks >= 2


def test_even_odd_numbers_keep_the_schedule_though_the_deck_is_ready_to_the_instant() -> None:
    """Constructed: interval and clear time alike, no float of theirs exact; no rounding may wave anyone off."""
    for interval in (100.0 / 3.0, 27.1, 31.7, 28.9):
        facts = plain(homing(100, ready=1_234.567), interval=interval, clear=Band(20.0, interval, 40.0), circuit=151.1)
        went = recover(facts, even(facts))
        assert went.foul_decks == 0
        assert [landing.ramp for landing in went.landings] == pytest.approx(planned_ramps(facts), abs=1e-6)


@given(
    waits=st.lists(st.floats(0.0, 400.0), min_size=1, max_size=30),
    interval=st.floats(5.0, 90.0),
    clear=st.floats(5.0, 90.0),
    circuit=st.floats(60.0, 400.0),
    go_round=st.floats(60.0, 400.0),
    hook=st.integers(0, 40),
)
@settings(deadline=None, max_examples=60)
def test_whatever_the_stack_feeds_without_chance_it_is_the_schedule(
    waits: list[float], interval: float, clear: float, circuit: float, go_round: float, hook: int
) -> None:
    """Second method: the schedule is one line of arithmetic, each when ready or an interval behind the one before."""
    ready = NOON + np.cumsum(waits)
    planes = tuple(Homing(f"{i}", float(at), trouble=HOOK if i == hook else "") for i, at in enumerate(ready))
    facts = plain(planes, interval=interval, clear=Band(clear, clear, clear), circuit=circuit, go_round=go_round)
    went = recover(facts, even(facts))
    due: list[float] = []
    for i, at in enumerate(ready):
        behind = max(interval, clear, 300.0 if i == hook + 1 else 0.0)
        due.append(max(float(at) + circuit, due[-1] + behind if due else 0.0))
    assert [landing.ramp for landing in went.landings] == pytest.approx(due, abs=1e-5)
    assert list(planned_ramps(facts)) == pytest.approx(due, abs=1e-9)
    assert went.foul_decks == 0
    assert went.duration == pytest.approx(planned_duration(facts), abs=1e-5)


def waits_at_the_gate(seed: int, count: int, between: float, intervals: Iterator[float]) -> float:
    """Mean wait before the circle of so many that come at random [s]."""
    rng = np.random.default_rng(seed)
    ready = NOON + np.cumsum(rng.exponential(between, count))
    facts = plain(tuple(Homing(f"{i}", float(at)) for i, at in enumerate(ready)), clear=Band(0.0, 0.0, 0.0))
    went = recover(facts, amiss(facts, intervals=intervals, deck=(0.0,) * count))
    assert len(went.landings) == count
    return float(np.mean([landing.ramp for landing in went.landings]) - ready.mean() - 160.0)


@pytest.mark.published
def test_those_who_come_at_random_wait_as_long_as_the_queue_with_constant_service_says() -> None:
    """Mean wait rho D / (2 (1 - rho)) by F. Pollaczek, 1930, and A. Khinchin, 1932.

    Source: Wikipedia, "M/D/1 queue", worked example: 20 an hour come, 30 an hour are served: 0.033 hour in line, 2 min.
    Tolerance: four standard errors of twelve independent runs.
    """
    means = [waits_at_the_gate(seed, 2500, 180.0, repeat(120.0)) for seed in range(12)]
    error = float(np.std(means, ddof=1)) / math.sqrt(len(means))
    assert error < 6.0
    assert np.mean(means) == pytest.approx(120.0, abs=4.0 * error)


@pytest.mark.published
def test_intervals_drawn_from_chance_double_the_wait() -> None:
    """Exponential service: rho D / (1 - rho).

    Source: Wikipedia, "M/D/1 queue": the mean wait with exponential service is twice that with constant service.
    """
    services = [np.random.default_rng(seed + 100).exponential(120.0, 2500).tolist() for seed in range(12)]
    means = [waits_at_the_gate(seed, 2500, 180.0, chain(services[seed], repeat(120.0))) for seed in range(12)]
    error = float(np.std(means, ddof=1)) / math.sqrt(len(means))
    assert error < 20.0
    assert np.mean(means) == pytest.approx(240.0, abs=4.0 * error)


def test_one_waved_off_takes_the_next_place_behind_those_in_the_circle() -> None:
    """Own arithmetic, times from the first over the ramp.

    The first is waved off at 0, and 10 s later is where those from the initial are. At -160 s the first entered, and at
    intervals of 30 s the next: at 10 s six are in the circle (-130 .. -10 behind it), so it enters at 20 s and is over
    the ramp at 180 s, the seventh; the seventh from the hold comes 30 s later than planned.
    """
    facts = plain(homing(8))
    went = recover(facts, amiss(facts, wave_offs=(1, *(0,) * 7)))
    assert keys(went) == ["1", "2", "3", "4", "5", "0", "6", "7"]
    assert [landing.ramp - went.first_ramp for landing in went.landings] == [30.0 * i for i in range(1, 9)]
    assert went.landings[5].passes == 2
    assert went.duration == planned_duration(facts) + 30.0


def test_a_fouled_deck_waves_off_those_who_come_meanwhile() -> None:
    """Own arithmetic: the first keeps the deck 85 s, so those at 30 and 60 s go round and the one at 90 s lands."""
    facts = plain(homing(4))
    went = recover(facts, amiss(facts, deck=(85.0, 25.0, 25.0, 25.0)))
    assert keys(went) == ["0", "3", "1", "2"]
    assert went.foul_decks == 2
    # waved off at 30 and 60 s, back at the ramp 170 s later; nobody else is in the circle
    assert [landing.ramp - went.first_ramp for landing in went.landings] == [0.0, 90.0, 200.0, 230.0]


def test_a_barrier_hit_holds_up_all_and_those_who_still_hold_are_not_sent_round_for_nothing() -> None:
    """Own arithmetic: the first is in the barrier until 300 s; the five behind it in the circle go round once.

    Nobody enters before 140 s, so that the first is over the ramp at 300 s as the deck comes ready.
    """
    facts = plain(homing(10))
    went = recover(facts, amiss(facts, barrier=(True, *(False,) * 9), deck=(300.0, *(25.0,) * 9)))
    assert went.foul_decks == 5
    assert keys(went) == ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"]
    assert [landing.ramp - went.first_ramp for landing in went.landings[1:]] == [300.0 + 30.0 * i for i in range(9)]


def test_a_hook_that_will_not_come_down_is_kept_clear_of() -> None:
    facts = plain(tuple(replace(each, trouble=HOOK if each.key == "1" else "") for each in homing(3)))
    went = recover(facts, even(facts))
    assert [landing.ramp - went.first_ramp for landing in went.landings] == [0.0, 30.0, 330.0]
    assert went.foul_decks == 0


def test_fuel_at_the_wire_is_what_was_burned_by_hand() -> None:
    """Own arithmetic: the third holds 60 s and flies the circuit of 160 s.

    The first is waved off: circuit 160 s, 15 s at full power, 155 s of the circuit, and 40 s of waiting in it.
    """
    facts = plain(homing(3, fuel=100.0), full_time=15.0, go_round=170.0)
    third = recover(facts, even(facts)).landings[2]
    assert third.fuel == pytest.approx(100.0 - 60.0 * 0.03125 - 160.0 * 0.0625, abs=1e-12)
    alone = plain(homing(1, fuel=100.0), full_time=15.0)
    again = recover(alone, amiss(alone, wave_offs=(1,))).landings[0]
    assert again.fuel == pytest.approx(100.0 - (160.0 + 155.0) * 0.0625 - 15.0 * 0.25, abs=1e-12)
    # the eighth of nine is waved off on its first pass and waits for none; the first waits for the next place
    waved = recover(facts := plain(homing(9, fuel=100.0), full_time=15.0), amiss(facts, wave_offs=(1, *(0,) * 8)))
    first = next(landing for landing in waved.landings if landing.key == "0")
    waited = first.ramp - waved.first_ramp - 170.0
    assert waited == 10.0
    assert first.fuel == pytest.approx(100.0 - (160.0 + 155.0 + waited) * 0.0625 - 15.0 * 0.25, abs=1e-12)


def test_who_falls_to_the_reserve_goes_before_the_others() -> None:
    """Own arithmetic: the last has 2 kg over its reserve of 75 kg, 64 s of holding; it goes at 90 s, the fourth."""
    planes = (*homing(7, fuel=200.0), Homing("least", NOON, 77.0, BURN))
    facts = plain(planes, reserve=1200.0)
    went = recover(facts, even(facts))
    assert keys(went) == ["0", "1", "2", "least", "3", "4", "5", "6"]


def test_of_two_below_the_reserve_the_one_with_less_goes_first() -> None:
    planes = (*homing(2, fuel=200.0), Homing("low", NOON, 60.0, BURN), Homing("lower", NOON, 50.0, BURN))
    facts = plain(planes, reserve=1200.0)
    assert keys(recover(facts, even(facts))) == ["lower", "low", "0", "1"]


def test_one_that_burns_nothing_holding_goes_first_only_if_it_is_below_the_reserve_already() -> None:
    """Limit case: no time falls to the reserve, so it is below it for good or never."""
    glider = Burn(circuit=0.0625, hold=0.0, full=0.25)
    for fuel, first in ((74.0, "last"), (76.0, "0")):
        facts = plain((*homing(3, fuel=200.0), Homing("last", NOON, fuel, glider)), reserve=1200.0)
        assert keys(recover(facts, even(facts)))[0] == first


def test_with_the_landing_area_full_nobody_more_lands() -> None:
    facts = plain(homing(10), park_room=6)
    went = recover(facts, even(facts))
    assert keys(went) == ["0", "1", "2", "3", "4", "5"]
    assert went.not_aboard == ("6", "7", "8", "9")
    assert went.duration == planned_duration(facts) == 5 * 30.0 + 25.0


@given(waved=st.integers(0, 11), count=st.integers(1, 12), more=st.integers(1, 3), go_round=st.floats(100.0, 300.0))
@settings(deadline=None, max_examples=80)
def test_one_more_wave_off_never_shortens_an_even_recovery(waved: int, count: int, more: int, go_round: float) -> None:
    facts = plain(homing(count), go_round=go_round)
    durations = []
    for times in range(more + 1):
        offs = tuple(times if i == waved % count else 0 for i in range(count))
        durations.append(recover(facts, amiss(facts, wave_offs=offs)).duration)
    assert durations[0] == pytest.approx(planned_duration(facts))
    assert all(after >= before - 1e-6 for before, after in pairwise(durations))


@given(seed=st.integers(0, 10_000), scatter=st.floats(0.0, 25.0))
@settings(deadline=None, max_examples=60)
def test_nobody_overtakes_where_nobody_is_waved_off(seed: int, scatter: float) -> None:
    """Limit case: a deck that is ready at once waves nobody off, whatever the intervals."""
    facts = plain(homing(20), clear=Band(0.0, 0.0, 0.0), scatter=scatter)
    went = recover(facts, drawn(facts, np.random.default_rng(seed)))
    assert keys(went) == [plane.key for plane in facts.aeroplanes]
    assert all(after.ramp >= before.ramp for before, after in pairwise(went.landings))


def by_hand(facts: RhythmFacts, chance: Chance) -> tuple[list[tuple[str, float, float | None]], int, int]:
    """A recovery told step by step without the library: who is aboard when and with what fuel, and the wave-offs.

    Lists of who waits and who flies are searched for whatever comes next; fuel is worked out afresh at each choice.
    """
    shared = min(facts.circuit, facts.go_round)
    lead, around = facts.circuit - shared, facts.go_round - shared
    planes = dict(enumerate(facts.aeroplanes))
    # waiting: (at the gate from, returned or not, number, fuel then, burn while waiting)
    waiting: list[tuple[float, bool, int, float | None, float]] = []
    for i, plane in planes.items():
        burn = plane.burn or Burn(0.0, 0.0, 0.0)
        fuel = None if plane.fuel is None or plane.burn is None else plane.fuel - burn.circuit * lead
        waiting.append((plane.ready + lead, False, i, fuel, burn.hold))
    flying: list[tuple[float, int, float | None]] = []
    gate = deck = -math.inf
    left, entered, foul, waved = list(chance.wave_offs), 0, 0, 0
    aboard: list[tuple[str, float, float | None]] = []
    while True:
        may = [each for each in waiting if each[1] or entered < facts.room]
        choice = max(gate, min(each[0] for each in may)) if may else math.inf
        ramp = min((each[0] for each in flying), default=math.inf)
        if choice == ramp == math.inf:
            return aboard, foul, waved
        if ramp < choice:
            now, i, fuel = flying.pop(flying.index(min(flying, key=lambda each: each[0])))
            burn = planes[i].burn or Burn(0.0, 0.0, 0.0)
            if now < deck - 1e-6 or left[i]:
                foul, waved = foul + (now < deck - 1e-6), waved + (now >= deck - 1e-6)
                left[i] -= now >= deck - 1e-6
                spent = burn.full * facts.full_time + burn.circuit * (facts.go_round - facts.full_time - shared)
                waiting.append((now + around, True, i, None if fuel is None else fuel - spent, burn.circuit))
                continue
            deck = now + chance.deck[i]
            if chance.barrier[i]:
                gate = max(gate, deck - shared)
            aboard.append((planes[i].key, now, fuel))
            continue
        here = [each for each in may if each[0] <= choice]

        def spare(each: tuple[float, bool, int, float | None, float], at: float = choice) -> float:
            burn = planes[each[2]].burn
            if each[3] is None or burn is None:
                return math.inf
            return (each[3] - each[4] * (at - each[0]) - burn.circuit * facts.reserve) / each[4]

        low = [each for each in here if spare(each) <= 0.0]
        taken = min(low, key=spare) if low else min(here, key=lambda e: (not e[1], e[0] if e[1] else 0.0, e[2]))
        waiting.remove(taken)
        entered += not taken[1]
        i, fuel = taken[2], taken[3]
        burn = planes[i].burn or Burn(0.0, 0.0, 0.0)
        if fuel is not None:
            fuel -= taken[4] * (choice - taken[0]) + burn.circuit * shared
        flying.append((choice + shared, i, fuel))
        gap = next(chance.intervals)
        gate = choice + (max(gap, facts.barrier_clear) if planes[i].trouble == HOOK else gap)


@pytest.mark.parametrize("go_round", [171.3, 148.9])
@pytest.mark.parametrize("seed", range(25))
def test_drawn_recoveries_are_those_of_a_hand_simulation(seed: int, go_round: float) -> None:
    """Second method: own loop over what comes next, without processes, on the same draws."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(1, 30))
    ready = NOON + np.cumsum(rng.uniform(0.0, 45.0, count))
    fuel = rng.uniform(70.0, 110.0, count)
    planes = tuple(
        Homing(
            f"{i}", float(ready[i]), None if i % 7 == 3 else float(fuel[i]),
            None if i % 11 == 5 else Burn(0.06, 0.045, 0.21), HOOK if i == 9 else "", 0.15 if i % 3 else 0.0,
        )
        for i in range(count)
    )  # fmt: skip
    facts = plain(
        planes, interval=28.7, circuit=157.3, go_round=go_round, clear=Band(17.0, 22.0, 33.0), scatter=6.0,
        full_time=14.0, fouls=0.15, foul_time=37.0, barrier_hits=0.04, barrier_clear=211.0, reserve=1100.0,
        park_room=22,
    )  # fmt: skip
    went = recover(facts, drawn(facts, np.random.default_rng(seed + 500)))
    aboard, foul, waved = by_hand(facts, drawn(facts, np.random.default_rng(seed + 500)))
    assert keys(went) == [key for key, _, _ in aboard]
    assert [landing.ramp for landing in went.landings] == pytest.approx([ramp for _, ramp, _ in aboard], abs=1e-6)
    for landing, (_, _, left) in zip(went.landings, aboard, strict=True):
        assert landing.fuel is left is None or landing.fuel == pytest.approx(left, abs=1e-6)
    assert (went.foul_decks, went.wave_offs) == (foul, waved)
    assert len(went.landings) + len(went.not_aboard) == count


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one"):
        plain(())
    with pytest.raises(ValueError, match="ahead of it"):
        plain((Homing("0", 10.0), Homing("1", 9.0)))
    with pytest.raises(ValueError, match="below 1"):
        plain(homing(1, wave_offs=1.0))
    with pytest.raises(ValueError, match="room for one"):
        plain(homing(1), park_room=0)
    with pytest.raises(ValueError, match="going round"):
        plain(homing(1), full_time=171.0)
