"""Blocks, step-downs, Charlies and fuel: against the schedule by hand, an event simulation and plain arithmetic."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.figures import figures_of
from roundown.findings import Level
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.feed import FeedFacts, NoFeed
from roundown.recovery.landing_order import By, HurtLand, Returning
from roundown.recovery.stack import Stack, StackFacts, foul_deck, solve_stack
from roundown.recovery.stack_findings import no_feed_findings, stack_findings
from roundown.schedule.event_times import EventFacts, TakeOffs, event_times
from roundown.schedule.when import When

Make = Callable[..., CircuitFacts]
KT, FT, LB, DEG = 1852.0 / 3600.0, 0.3048, 0.45359237, math.pi / 180.0
RECOVERY = 17.0 * 3600.0 + 25.0 * 60.0
FLOW = 0.05  # kg/s


def flight_of(group: str, count: int, fuel: float | None = None, first: int = 1, **more: Any) -> list[Returning]:
    return [Returning(f"{group}{first + i}", group, fuel, **more) for i in range(count)]


@pytest.fixture(scope="session")
def facts(sea_level: Make) -> Callable[..., StackFacts]:
    """Makes a recovery: 1,000-ft blocks, 1,000 ft/min, wait 15 s, interval 30 s, 115 s from the initial to the ramp."""

    def make(returning: list[Returning], **changes: Any) -> StackFacts:
        circuit = sea_level(initial_height=300.0 * FT, upwind_offset=23.0)
        plain = StackFacts(
            returning=tuple(returning), most=4, by=By.FUEL, hurt=HurtLand.LAST, lowest=1000.0 * FT, block=1000.0 * FT,
            wait=15.0, feed=FeedFacts(circuit, 130.0 * KT, 20.0 * DEG, 1000.0 * FT / 60.0), interval=30.0,
            initial_to_ramp=115.0, recovery=RECOVERY,
        )  # fmt: skip
        return replace(plain, **changes)

    return make


Facts = Callable[..., StackFacts]


def stacked(given_facts: StackFacts) -> Stack:
    found = solve_stack(given_facts)
    assert isinstance(found, Stack), found
    return found


def test_a_single_flight_comes_aboard_as_the_schedule_by_hand_and_the_day_has_it(facts: Facts) -> None:
    """Hand: 17:25:00 at the initial and 30 s each, 115 s to the ramp; second method: schedule/event_times.py."""
    stack = stacked(facts(flight_of("f", 4)))
    times = {name: (each.at_initial, each.over_ramp) for name, each in stack.aeroplanes.items()}
    assert times == {f"f{i + 1}": (62700.0 + 30.0 * i, 62815.0 + 30.0 * i) for i in range(4)}
    places = {f"f{i + 1}": i + 1 for i in range(4)}
    none = TakeOffs(0.0, dict.fromkeys(places, 0.0))
    when = {"recovery": When("", RECOVERY, "17:25")}
    schedule = event_times(EventFacts("e", when, 4, none, none, 30.0, 115.0, places), {}, dark=False)
    assert schedule.last_aboard == stack.last_over_ramp
    assert {name: (seat.at_initial, seat.over_ramp) for name, seat in schedule.seats.items()} == times


def test_three_full_flights_by_hand(facts: Facts) -> None:
    """Own arithmetic: Charlies 120 s apart; step-downs 15 s and 30 s after the first, 15 s after the second; 60 s each.

    Common practice, no source: blocks of 1,000 ft.
    """
    stack = stacked(facts([*flight_of("a", 4), *flight_of("b", 4), *flight_of("c", 4)]))
    a, b, c = (stack.flights[name] for name in "abc")
    first = stack.first_charlie
    assert [flight.block / FT for flight in (a, b, c)] == pytest.approx([1000.0, 2000.0, 3000.0])
    assert [flight.charlie - first for flight in (a, b, c)] == pytest.approx([0.0, 120.0, 240.0])
    assert first == pytest.approx(RECOVERY - stack.feed.time)
    assert stack.step == pytest.approx(60.0)
    assert {stay.number: stay.leaves - first for stay in b.steps.values()} == pytest.approx({2: 15.0, 1: 120.0})
    assert b.steps["block_1"].enters == pytest.approx(first + 75.0)
    assert {stay.number: stay.leaves - first for stay in c.steps.values()} == pytest.approx(
        {3: 30.0, 2: 135.0, 1: 240.0}
    )
    assert (c.steps["block_2"].enters, c.steps["block_1"].enters) == pytest.approx((first + 90.0, first + 195.0))
    assert stack.last_over_ramp == pytest.approx(RECOVERY + 11 * 30.0 + 115.0)
    assert all(flight.held_up == 0.0 for flight in (a, b, c))
    assert stack.top == pytest.approx(3000.0 * FT)


def test_flights_of_one_cannot_come_faster_than_the_stack_steps_down(facts: Facts) -> None:
    """Own arithmetic: 15 s wait and 60 s of let-down are 75 s from one to the next, 45 s over the interval of 30 s."""
    stack = stacked(facts([*flight_of("a", 1), *flight_of("b", 1), *flight_of("c", 1)]))
    charlies = [flight.charlie for flight in stack.flights.values()]
    assert [after - before for before, after in pairwise(charlies)] == pytest.approx([75.0, 75.0])
    assert [flight.held_up for flight in stack.flights.values()] == pytest.approx([0.0, 45.0, 45.0])


def test_a_flight_in_need_comes_straight_from_its_block_later_by_the_let_down(facts: Facts) -> None:
    """Closed form: a minute for each further thousand feet where the height counts."""
    stack = stacked(facts([*flight_of("a", 1), *flight_of("b", 1), *flight_of("c", 1), *flight_of("d", 1)]))
    straight = [flight.straight_down for flight in stack.flights.values()]
    assert straight[0] == stack.feed.time
    assert [after - before for before, after in pairwise(straight) if before and after][1:] == pytest.approx(
        [60.0, 60.0], abs=0.3
    )


def stepped_by_seconds(counts: list[int], wait: float, step: float, interval: float) -> list[list[tuple[int, float]]]:
    """Each flight's (block, time of leaving it) from the first Charlie, by an event simulation in tenths of a second.

    At each tick the lowest flights act first: one in the lowest block leaves when it is due, one above steps down when
    the block below has been empty of anyone, on the way into it or in it, for the wait.
    """
    tick = 0.1
    block = {i: i + 1 for i in range(len(counts))}
    busy = dict.fromkeys(block, -1.0)
    empty_since: dict[int, float] = {}
    left: dict[int, list[tuple[int, float]]] = {i: [] for i in block}
    due = [0.0]
    n = 0
    while block:
        time = n * tick
        for i in sorted(block):
            if time < busy[i] - 1e-6:
                continue
            here = block[i]
            if here == 1:
                if i < len(due) and time >= due[i] - 1e-6:
                    left[i].append((1, time))
                    due.append(time + counts[i] * interval)
                    empty_since[1] = time
                    del block[i]
            elif here - 1 in empty_since and time >= empty_since[here - 1] + wait - 1e-6:
                left[i].append((here, time))
                del empty_since[here - 1]
                empty_since[here] = time
                block[i], busy[i] = here - 1, time + step
        n += 1
    return [left[i] for i in range(len(counts))]


@pytest.mark.parametrize(
    ("counts", "wait", "rate", "interval"),
    [
        ([4, 4, 4, 4], 15.0, 1000.0, 30.0),
        ([1, 4, 1, 1, 2], 15.0, 1000.0, 30.0),
        ([2, 1, 3], 0.0, 500.0, 25.0),
        ([1, 1, 4, 4], 90.0, 1500.0, 45.0),
        ([4, 1, 1, 1, 4], 20.0, 2000.0, 20.0),
    ],
)
def test_step_downs_are_those_of_a_simulation(
    facts: Facts, counts: list[int], wait: float, rate: float, interval: float
) -> None:
    """Second method: an event simulation in tenths of a second that knows only who may move when."""
    returning = [each for i, count in enumerate(counts) for each in flight_of("abcde"[i], count)]
    made = facts(returning, wait=wait, interval=interval)
    made = replace(made, feed=replace(made.feed, let_down=rate * FT / 60.0))
    stack = stacked(made)
    simulated = stepped_by_seconds(counts, wait, 60_000.0 / rate, interval)
    for flight, moves in zip(stack.flights.values(), simulated, strict=True):
        assert [stay.number for stay in flight.steps.values()] == [number for number, _ in moves]
        times = [stay.leaves - stack.first_charlie for stay in flight.steps.values()]
        assert times == pytest.approx([time for _, time in moves], abs=0.5)


@settings(deadline=None, max_examples=60)
@given(
    counts=st.lists(st.integers(1, 4), min_size=1, max_size=5),
    wait=st.floats(0.0, 120.0),
    interval=st.floats(10.0, 120.0),
    step=st.floats(10.0, 300.0),
)
def test_no_two_flights_are_in_one_block_at_one_time(
    facts: Facts, counts: list[int], wait: float, interval: float, step: float
) -> None:
    """Property. Blocks never skip, Charlies rise, and so do times at the initial, never closer than the interval."""
    returning = [each for i, count in enumerate(counts) for each in flight_of("abcde"[i], count)]
    made = facts(returning, wait=wait, interval=interval)
    ways = solved_ways(facts)[: len(counts)]
    made = replace(made, block=step * made.feed.let_down, most=4)
    stack = solve_stack(made, ways)
    assert isinstance(stack, Stack)
    in_block: dict[int, list[tuple[float, float]]] = {}
    for i, flight in enumerate(stack.flights.values()):
        assert [stay.number for stay in flight.steps.values()] == list(range(i + 1, 0, -1))
        stays = list(flight.steps.values())
        assert stays[-1].leaves == pytest.approx(flight.charlie)
        for stay in stays:
            enters = -math.inf if stay.enters is None else stay.enters
            assert stay.leaves >= enters - 1e-6
            in_block.setdefault(stay.number, []).append((enters, stay.leaves))
        for above, below in pairwise(stays):
            assert below.enters == pytest.approx(above.leaves + stack.step)
    for spans in in_block.values():
        for (_, leaves), (enters, _) in pairwise(sorted(spans)):
            assert enters >= leaves + wait + stack.step - 1e-6
    charlies = [flight.charlie for flight in stack.flights.values()]
    assert all(after > before for before, after in pairwise(charlies))
    initials = [each.at_initial for each in stack.aeroplanes.values()]
    assert all(after - before >= interval - 1e-6 for before, after in pairwise(initials))
    assert [each.place for each in stack.aeroplanes.values()] == list(range(1, len(returning) + 1))


_SOLVED: list[Stack] = []


def solved_ways(facts: Facts) -> tuple[Any, ...]:
    """The ways down from five blocks, flown once."""
    if not _SOLVED:
        _SOLVED.append(stacked(facts([each for name in "abcde" for each in flight_of(name, 1)])))
    return _SOLVED[0].ways


def test_prep_charlie_waits_for_the_deck_to_be_pulled_forward(facts: Facts) -> None:
    """Own arithmetic: 17:20 last off, 10 s clear, 5 x 30 s moved forward, 60 s rigged: ready 17:23:40, 62,620 s."""
    stack = stacked(facts(flight_of("a", 4), last_off=62400.0, clear=10.0, staying=5, respot=30.0, rig=60.0))
    assert stack.deck_ready == 62620.0
    assert stack.earliest_recovery == 62620.0 - 115.0
    assert stack.earliest_prep_charlie is not None
    assert stack.earliest_prep_charlie == pytest.approx(62620.0 - 115.0 - stack.feed.time)
    assert stack.prep_charlie == pytest.approx(
        max(stack.earliest_prep_charlie, 62700.0 - stack.feed.time - stack.orbit.whole)
    )
    assert stack.deck_in_hand == pytest.approx(62700.0 + 115.0 - 62620.0)
    assert not stack_findings(stack, facts(flight_of("a", 4)))


def test_with_nothing_launched_before_the_deck_is_not_waited_for(facts: Facts) -> None:
    """Constructed."""
    stack = stacked(facts(flight_of("a", 2)))
    waited = (stack.deck_ready, stack.earliest_prep_charlie, stack.earliest_recovery, stack.deck_in_hand)
    assert waited == (None,) * 4
    assert stack.prep_charlie == pytest.approx(stack.first_charlie - stack.orbit.whole)


def test_a_deck_that_cannot_be_ready_is_a_stop_and_each_remedy_closes_it(facts: Facts) -> None:
    """Own arithmetic: ready 17:28:40 or 62,920 s, first over the ramp 62,815 s: 105 s too late, four moves of 30 s."""
    made = facts(flight_of("a", 4), last_off=62700.0, clear=10.0, staying=5, respot=30.0, rig=60.0)
    (found,) = stack_findings(stacked(made), made, "recoveries.e")
    assert (found.id, found.level, found.key) == ("prep-charlie-late", Level.STOP, "recoveries.e.earliest_prep_charlie")
    assert found.remedy == (
        "Have the first at the initial at 17:27 or later, launch 105 s earlier, or leave 4 fewer on deck."
    )
    cures = (
        {"recovery": 62820.0},
        {"last_off": 62700.0 - 105.0},
        {"staying": 1},
    )
    for cure in cures:
        cured = replace(made, **cure)
        assert not stack_findings(stacked(cured), cured)


def test_the_deck_is_open_for_so_many_more(facts: Facts) -> None:
    """Own arithmetic: from 62,815 s at 30 s until 62,970 s are 155 s: six aeroplanes, the sixth at 62,965 s."""
    stack = stacked(facts(flight_of("a", 4), open_until=62970.0))
    assert stack.could_take == 6
    assert stack.open_in_hand == pytest.approx(65.0)


def test_a_deck_that_shuts_too_soon_is_a_stop_and_holding_the_course_closes_it(facts: Facts) -> None:
    """Own arithmetic: last over the ramp at 62,905 s; shut at 62,850 s: the last two are too late."""
    made = facts(flight_of("a", 4), open_until=62850.0)
    (found,) = stack_findings(stacked(made), made)
    assert (found.id, found.level) == ("deck-shut", Level.STOP)
    assert "2 too late" in found.limit
    assert found.remedy == "Hold the flight course until 17:29."
    cured = replace(made, open_until=62940.0)
    assert not stack_findings(stacked(cured), cured)


def test_a_recovery_into_the_dark_says_when_it_must_begin(facts: Facts) -> None:
    """Own arithmetic: last over the ramp at 62,905 s, dark at 62,850 s: begin 55 s earlier, on the minute 17:24."""
    made = facts(flight_of("a", 4), dark_at=62850.0)
    (found,) = stack_findings(stacked(made), made)
    assert (found.id, found.level) == ("dark-recovery", Level.CAUTION)
    assert found.remedy == "Have the first at the initial at 17:24 or earlier."
    cured = replace(made, recovery=62640.0)
    assert not stack_findings(stacked(cured), cured)
    never = replace(made, dark_at=None)
    assert not stack_findings(stacked(never), never)


def test_fuel_over_the_ramp_is_what_hold_and_circuit_leave(facts: Facts) -> None:
    """Own arithmetic, third of four: 600 s before his flight's first is due, 60 s more; 100 - 660 x 0.05 - 115 x 0.08
    = 57.8 kg. Reserve 300 s x 0.08 = 24 kg: 33.8 kg over, 676 s of the hold.
    """
    made = facts(flight_of("a", 4, 100.0, hold_flow=0.05, circuit_flow=0.08), at_hold=RECOVERY - 600.0, reserve=300.0)
    stack = stacked(made)
    third = stack.aeroplanes["a3"]
    assert third.fuel_at_ramp == pytest.approx(57.8)
    assert third.reserve == pytest.approx(24.0)
    assert third.latest_charlie == pytest.approx(stack.flights["a"].charlie + 676.0)
    assert stack.flights["a"].latest_charlie == stack.aeroplanes["a4"].latest_charlie
    held = replace(made, recovery=RECOVERY + 676.0)
    assert stacked(held).aeroplanes["a3"].fuel_at_ramp == pytest.approx(24.0)


def test_without_fuel_figures_there_is_no_fuel_over_the_ramp(facts: Facts) -> None:
    """Constructed."""
    stack = stacked(facts([*flight_of("a", 1), *flight_of("b", 1, 100.0), *flight_of("c", 1, circuit_flow=0.08)]))
    for each in stack.aeroplanes.values():
        assert each.fuel_at_ramp is None
        assert each.latest_charlie is None
    assert stack.foul["min_1"].fuel is None


def fuels(name: str, made: StackFacts) -> float:
    found = stacked(made).aeroplanes[name].fuel_at_ramp
    assert found is not None
    return found


def test_short_of_fuel_names_the_order_that_helps(facts: Facts) -> None:
    """Constructed: launched last and lowest on fuel; landing by fuel leaves everyone enough."""
    counts = (("a", 4, 60.0), ("b", 4, 60.0), ("c", 1, 25.0))
    back = [
        each
        for group, count, fuel in counts
        for each in flight_of(group, count, fuel, hold_flow=FLOW, circuit_flow=FLOW)
    ]
    made = facts(back, by=By.LAUNCH, reserve=100.0)
    (found,) = stack_findings(stacked(made), made, "r")
    assert (found.id, found.level, found.key) == ("short-of-fuel", Level.CAUTION, "r.aeroplanes.c1.fuel_at_ramp")
    assert found.remedy == "Land those with least fuel first."
    assert not [f for f in stack_findings(stacked(replace(made, by=By.FUEL)), made) if f.id == "short-of-fuel"]


def test_short_of_fuel_names_the_time_that_helps(facts: Facts) -> None:
    """Own arithmetic: 600 s in the hold of 40 kg at 0.05 kg/s leaves 10 kg less 5.75 kg; 15 kg are wanted: 215 s."""
    back = flight_of("a", 1, 40.0, hold_flow=FLOW, circuit_flow=FLOW)
    made = facts(back, at_hold=RECOVERY - 600.0, reserve=300.0)
    assert fuels("a1", made) == pytest.approx(4.25)
    (found,) = stack_findings(stacked(made), made)
    assert found.level is Level.CAUTION
    assert found.remedy == "Have the first at the initial at 17:21."
    cured = replace(made, recovery=17.0 * 3600.0 + 21.0 * 60.0)
    assert not stack_findings(stacked(cured), cured)


def test_fuel_that_does_not_reach_is_a_stop_and_so_much_more_closes_it(facts: Facts) -> None:
    """Own arithmetic: 5 kg, no time of reaching the hold: about 106 s of way down and 115 s of circuit want 11 kg."""
    back = flight_of("a", 1, 5.0, hold_flow=FLOW, circuit_flow=FLOW)
    made = facts(back, reserve=300.0)
    (found,) = stack_findings(stacked(made), made)
    assert (found.id, found.level) == ("short-of-fuel", Level.STOP)
    assert found.value.startswith("a1 would want ")
    assert found.remedy.startswith("Have a1 reach the hold with ")
    more = float(found.remedy.removeprefix("Have a1 reach the hold with ").split(" lb")[0])
    cured = replace(made, returning=(replace(back[0], fuel=5.0 + more * LB),))
    assert not stack_findings(stacked(cured), cured)


def test_a_flight_that_is_not_home_by_its_charlie_is_a_stop(facts: Facts) -> None:
    """Constructed: home at 17:24; the recovery that closes it is the whole minute after the way down."""
    made = facts(flight_of("a", 2), at_hold=RECOVERY - 60.0)
    (found,) = stack_findings(stacked(made), made)
    assert (found.id, found.level) == ("late-home", Level.STOP)
    assert found.remedy == "Have the first at the initial at 17:26 or later."
    cured = replace(made, recovery=RECOVERY + 60.0)
    assert not stack_findings(stacked(cured), cured)


def test_flights_of_two_are_a_note_with_the_let_down_that_closes_it(facts: Facts) -> None:
    """Own arithmetic: 60 s had, 75 s wanted; a block in 45 s is 1,333 ft/min, to the next fifty 1,350."""
    made = facts([*flight_of("a", 2), *flight_of("b", 2), *flight_of("c", 2)])
    (found,) = stack_findings(stacked(made), made, "r")
    assert (found.id, found.level) == ("stack-slow", Level.NOTE)
    assert found.remedy.startswith("Let down in the stack at 1,350 ft/min.")
    cured = replace(made, feed=replace(made.feed, let_down=1350.0 * FT / 60.0))
    assert not stack_findings(stacked(cured), cured)


def test_a_lowest_block_near_the_initial_is_a_caution(facts: Facts) -> None:
    """Own rule, 500 ft: 600 ft over an initial at 300 ft; 800 ft closes it."""
    made = facts(flight_of("a", 2), lowest=600.0 * FT)
    (found,) = stack_findings(stacked(made), made)
    assert (found.id, found.level) == ("stack-over-circuit", Level.CAUTION)
    assert found.remedy == "Put the lowest block at 800 ft."
    cured = replace(made, lowest=800.0 * FT)
    assert not stack_findings(stacked(cured), cured)


def test_no_way_down_is_a_stop(facts: Facts) -> None:
    """Constructed: a block under the initial."""
    none = solve_stack(facts(flight_of("a", 2), lowest=200.0 * FT))
    assert isinstance(none, NoFeed)
    (found,) = no_feed_findings(none, "r")
    assert str(found).startswith("stop: The block at 200 ft is under the initial at 300 ft")


def test_a_foul_deck_shifts_every_later_charlie_and_no_earlier_one(facts: Facts) -> None:
    """Own arithmetic: foul for 200 s after the first has left; 200 s x 0.05 kg/s = 10 kg each."""
    back = [*flight_of("a", 4, 60.0, hold_flow=FLOW, circuit_flow=FLOW),
            *flight_of("b", 4, 60.0, hold_flow=FLOW, circuit_flow=FLOW)]  # fmt: skip
    made = facts(back, open_until=63200.0, reserve=300.0)
    stack = stacked(made)
    foul = foul_deck(stack, made, stack.first_charlie + 1.0, 200.0)
    assert list(foul.flights) == ["b"]
    assert foul.flights["b"].charlie == pytest.approx(stack.flights["b"].charlie + 200.0)
    assert foul.fuel == pytest.approx(10.0)
    assert foul.last_over_ramp == pytest.approx(stack.last_over_ramp + 200.0)
    # b's four over the ramp at 62,935 ... 63,025 s, now 63,135, 63,165, 63,195, 63,225 s
    assert foul.aboard_in_time == 7
    assert foul.orbits == math.floor(200.0 / stack.orbit.whole) == 1
    assert foul.left_over == pytest.approx(200.0 - stack.orbit.whole)
    assert foul_deck(stack, made, math.inf, 200.0).last_over_ramp == stack.last_over_ramp


def test_a_foul_deck_leaves_short_those_whose_latest_charlie_it_passes(facts: Facts) -> None:
    """Second method: the same stack with its recovery so much later, fuel counted from the same time."""
    back = [Returning(f"a{i}", "a", 40.0 + 2.0 * i, FLOW, FLOW) for i in range(4)]
    made = facts(back, by=By.LAUNCH, reserve=100.0, at_hold=RECOVERY - 200.0)
    stack = stacked(made)
    for delay in (0.0, 60.0, 180.0, 300.0, 600.0):
        later = stacked(replace(made, recovery=RECOVERY + delay))
        lacking = [
            name
            for name, each in later.aeroplanes.items()
            if each.fuel_at_ramp is not None and each.reserve is not None and each.fuel_at_ramp < each.reserve
        ]
        assert list(foul_deck(stack, made, -math.inf, delay).short) == lacking


def test_every_figure_has_a_key_and_a_text(facts: Facts) -> None:
    """Constructed: keys of the recovery as cards and --why name them."""
    stack = stacked(facts([*flight_of("a", 4, 60.0, hold_flow=FLOW, circuit_flow=FLOW), *flight_of("b", 1)]))
    keys = {found.key: found.text for found in figures_of(stack, "recoveries.e.")}
    for key in (
        "prep_charlie", "deck_ready", "open_until", "feed.time", "feed.furthest_astern", "orbit.whole",
        "flights.a.charlie", "flights.a.block", "flights.b.steps.block_2.leaves", "aeroplanes.a1.over_ramp",
        "aeroplanes.a1.fuel_at_ramp", "foul.min_3.last_over_ramp",
    ):  # fmt: skip
        assert f"recoveries.e.{key}" in keys
    assert keys["recoveries.e.flights.a.at_initial"] == "17:25"
    assert keys["recoveries.e.earliest_prep_charlie"] == "none"


def test_nobody_coming_home_is_no_recovery(facts: Facts) -> None:
    """Constructed."""
    with pytest.raises(ValueError, match="at least one"):
        solve_stack(facts([]))
