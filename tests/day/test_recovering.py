"""The recovery in the solved day: order, stack, rhythm, the deck's own day, and what a pass costs."""

from __future__ import annotations

from importlib import resources

import pytest
from tests.day.conftest import DayOf

from roundown.day.homing import landing_places, returning_of
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.errors import PlanError
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import POUND
from roundown.recovery.result import CircuitResult
from roundown.recovery.rhythm import Rhythm
from roundown.recovery.stack import Stack
from roundown.recovery.touchdown_result import Touchdown
from roundown.recovery.wave_off import WaveOff
from roundown.sight.result import SightResult
from roundown.solution import Solution, Unsolved

DEMO = (resources.files("roundown.plan") / "demo.toml").read_text("utf-8")
LARGER = (resources.files("roundown.plan") / "larger.toml").read_text("utf-8")


def day(text: str) -> Day:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


def stack_of(solution: Solution, event: str) -> Stack:
    found = solution.recoveries[event]
    assert isinstance(found, Stack)
    return found


def ids(solution: Solution) -> list[str]:
    return [finding.id for finding in solution.findings]


@pytest.fixture(scope="module")
def demo() -> Solution:
    return solve(day(DEMO))


# Order and times


def test_the_stack_brings_each_aboard_when_the_days_times_say(demo: Solution) -> None:
    """Second method: the stack's times beside those of schedule/event_times.py, which knows no stack."""
    for event in ("first_patrol", "second_patrol"):
        stack, times = stack_of(demo, event), demo.events[event]
        assert {key: each.over_ramp for key, each in stack.aeroplanes.items()} == pytest.approx(
            {key: seat.over_ramp for key, seat in times.seats.items()}
        )
        assert stack.last_over_ramp == pytest.approx(times.last_aboard)


def test_the_demo_is_a_day_that_works(demo: Solution) -> None:
    """Constructed: the first thing a new user sees has wires to take, fuel in hand and nothing to mend."""
    assert ids(demo) == []


def test_one_short_of_fuel_puts_his_flight_first_and_the_times_follow(day_with: DayOf) -> None:
    """PRO-112, common practice, no source: least fuel first; one with a hook that will not come down goes last."""
    plain = day_with()
    (event,) = plain.events
    assert landing_places(plain, event) == {"11": 1, "12": 2, "13": 3, "14": 4}
    text = 'fuel_home = "400 lb"\nhome = { "11" = { trouble = "hook" }, "13" = { fuel = "200 lb" } }\n'
    hurt = day_with(text)
    assert landing_places(hurt, hurt.events[0]) == {"12": 1, "13": 2, "14": 3, "11": 4}
    fuels = {each.key: each.fuel for each in returning_of(hurt, hurt.events[0], "corbel")}
    assert fuels == pytest.approx({"11": 400 * POUND, "12": 400 * POUND, "13": 200 * POUND, "14": 400 * POUND})
    times = solve(hurt).events["patrol"]
    order = sorted(times.seats, key=lambda key: times.seats[key].over_ramp or 0.0)
    assert order == ["12", "13", "14", "11"]
    assert [times.seats[key].landing_place for key in order] == [1, 2, 3, 4]


def test_fuel_at_the_ramp_is_what_he_brought_less_hold_and_circuit(day_with: DayOf) -> None:
    """Own arithmetic: 260 lb/h from the block to the initial, 430 lb/h from there to the ramp."""
    solution = solve(day_with('fuel_home = "400 lb"\n'))
    stack, times = stack_of(solution, "patrol"), solution.events["patrol"]
    assert times.first_aboard is not None
    assert times.recovery is not None
    circuit = times.first_aboard - times.recovery
    for place, each in enumerate(stack.aeroplanes.values()):
        held = stack.feed.time + 30.0 * place
        left = 400.0 - 260.0 / 3600.0 * held - 430.0 / 3600.0 * circuit
        assert each.fuel_at_ramp is not None
        assert each.fuel_at_ramp / POUND == pytest.approx(left, abs=0.1)


def test_too_little_fuel_is_a_finding_with_what_it_wants(day_with: DayOf) -> None:
    """Constructed: 160 lb on reaching the hold do not leave twenty minutes of circuit, 143 lb, at the ramp."""
    assert "short-of-fuel" in ids(solve(day_with('fuel_home = "160 lb"\n')))
    assert "short-of-fuel" not in ids(solve(day_with('fuel_home = "400 lb"\n')))


# The deck's rhythm and its day


def test_the_planned_recovery_is_intervals_and_one_clearing_of_the_deck(demo: Solution) -> None:
    """Own arithmetic: three intervals of 30 s and a clear time of 22 s."""
    found = demo.rhythm["first_patrol"]
    assert isinstance(found, Rhythm)
    assert found.planned == pytest.approx(3 * 30.0 + 22.0)
    assert demo.cycle["first_patrol"].recovered == pytest.approx((demo.events["first_patrol"].first_aboard or 0) + 112)


def test_aeroplanes_left_on_deck_delay_prep_charlie(day_with: DayOf) -> None:
    """Own arithmetic: 30 s for each of six moved forward."""
    without, left = (stack_of(solve(day_with(text)), "patrol") for text in ("", 'left_on_deck = "6"\n'))
    assert without.earliest_prep_charlie is not None
    assert left.earliest_prep_charlie == pytest.approx(without.earliest_prep_charlie + 6 * 30.0)


def test_a_recovery_before_the_deck_is_ready_is_a_stop_told_once(day_with: DayOf) -> None:
    """Constructed: home a minute after the last is off, with twelve left to be moved forward."""
    solution = solve(day_with('left_on_deck = "12"\n', launch="13:00", recovery="13:03"))
    told = [found for found in ids(solution) if found in {"prep-charlie-late", "cycle-does-not-fit"}]
    assert told == ["prep-charlie-late"]


def test_the_next_launch_waits_until_the_deck_is_spotted_aft(day_with: DayOf) -> None:
    """Constructed: a second launch ten minutes after the first is home, of the same four and with the same deck."""
    again = '\n[[event]]\nname = "again"\nlaunch = "15:10"\nrecovery = "17:00"\nseats = ["11", "12", "13", "14"]\n'
    solution = solve(day_with(again))
    found = next(each for each in solution.findings if each.id == "cycle-does-not-fit")
    assert "again" in found.value
    later = again.replace("15:10", "15:40")
    assert "cycle-does-not-fit" not in ids(solve(day_with(later)))


def test_each_carrier_has_her_own_recoveries() -> None:
    """Constructed: the larger demo's search flies from the small carrier alone."""
    solution = solve(day(LARGER))
    assert set(solution.recoveries) == {"dawn_strike", "noon_patrol"}
    assert set(solution.parts["lintel.sallow"].recoveries) == {"dawn_search"}
    assert solution.parts["corbel.brindle"].recoveries == {}
    strike = stack_of(solution, "dawn_strike")
    assert [each.block for each in strike.flights.values()] == sorted(each.block for each in strike.flights.values())
    assert len(strike.aeroplanes) == 10


# The pass


def test_every_part_of_the_pass_is_worked_out_for_each_carrier_and_type() -> None:
    """Constructed: the built-in ships and types give every key the pass asks for."""
    solution = solve(day(LARGER))
    for part in (solution, *solution.parts.values()):
        assert isinstance(part.circuit, CircuitResult)
        assert isinstance(part.wave_off, WaveOff)
        assert isinstance(part.touchdown, Touchdown)
        assert isinstance(part.sight, SightResult)
        assert part.costs
        assert set(part.late_views) == set(part.late_paths)


def test_a_type_without_the_keys_says_which_and_flies_its_circuit_all_the_same() -> None:
    """Constructed: a type of the plan's own that knows nothing of sight, hook, wave-off and fuel."""
    own = """
[types.plain]
label = "Plain, for a test"
landing_weight = "9740 lb"
wing_area = "296 ft2"
wing_span = "39.5 ft"
lift_clean = "1.42"
lift_flap = "1.98"
zero_lift_drag = "0.0235"
gear_drag = "0.019"
flap_drag = "0.062"
induced_drag = "0.0755"
idle_thrust = "90 lbf"
shaft_power = "1640 hp"
propeller_diameter = "12.4 ft"
figure_of_merit = "0.78"
roll_rate = "12 deg/s"
gear_time = "9 s"
flap_time = "6 s"
gear_limit = "138 kt"
flap_limit = "122 kt"
"""
    solution = solve(day(DEMO.replace('type = "ottery"', 'type = "plain"') + own))
    assert isinstance(solution.circuit, CircuitResult)
    for found, key in (
        (solution.wave_off, "wave_off.power_time"),
        (solution.touchdown, "type.hook.behind"),
        (solution.sight, "type.sight.eye_height"),
        (solution.rhythm["first_patrol"], "wave_off.power_time"),
    ):
        assert isinstance(found, Unsolved)
        assert key in found.reason


def test_without_a_circuit_there_is_nothing_of_a_pass() -> None:
    """Constructed: a break so near that the final turn has no room."""
    broken = DEMO.replace("# [override.circuit]", '[override.circuit]\nbreak_place = "0 yd ahead of ramp"')
    solution = solve(day(broken))
    assert isinstance(solution.circuit, Unsolved)
    assert isinstance(solution.touchdown, Unsolved)
    assert solution.costs == {}
    assert all(isinstance(each, Unsolved) for each in solution.recoveries.values())


def test_the_hand_and_the_side_of_a_wave_off_are_words_of_the_doctrine() -> None:
    """Constructed: a wave-off ahead over the deck is another way round than one to port."""
    ahead = solve(day(DEMO + '\n[override.wave_off]\nside = "ahead"\n'))
    port = solve(day(DEMO))
    assert isinstance(ahead.wave_off, WaveOff)
    assert isinstance(port.wave_off, WaveOff)
    assert ahead.wave_off.time != port.wave_off.time


def test_a_trouble_nobody_knows_is_told_with_those_there_are(day_with: DayOf) -> None:
    with pytest.raises(PlanError) as caught:
        day_with('home = { "12" = { trouble = "rough engine" } }\n')
    assert "hung stores" in str(caught.value.complaints[0].limit) + caught.value.complaints[0].remedy


# One truth for all times of a recovery


ODD = {
    "flights of one": '\n[override.stack]\nflight = "1"\n',
    "a deck slower than the interval": '\n[override.recovery]\nclear = "40-50 s"\n',
    "hooks that will not come down": (
        'home = { "11" = { trouble = "hook" }, "12" = { trouble = "hook" }, "13" = { trouble = "wounded" }, '
        '"14" = { trouble = "hung stores" } }\n'
    ),
}


@pytest.mark.parametrize("odd", ODD)
def test_stack_schedule_timeline_rhythm_and_deck_agree_on_the_last_aboard(day_with: DayOf, odd: str) -> None:
    """Second method: five phases, each by its own way; the deck is ready a clear time behind the last."""
    today = day_with(ODD[odd])
    solution = solve(today)
    stack, times, drawn = stack_of(solution, "patrol"), solution.events["patrol"], solution.rhythm["patrol"]
    assert isinstance(drawn, Rhythm)
    assert not isinstance(solution.timeline, Unsolved)
    last = stack.last_over_ramp
    assert times.last_aboard == pytest.approx(last)
    assert solution.timeline["patrol_last_aboard"].time == pytest.approx(last)
    final = list(stack.aeroplanes)[-1]
    hook = today.givens.get(f"event.patrol.home.{final}.trouble")
    clear = 300.0 if hook is not None and hook.word == "hook" else today.number("doctrine.recovery.clear")
    assert drawn.planned == pytest.approx(last - (times.first_aboard or 0.0) + clear)
    assert solution.cycle["patrol"].recovered == pytest.approx(last + clear)


def test_behind_a_hook_in_the_barrier_the_next_waits_until_it_is_clear(day_with: DayOf) -> None:
    """Own arithmetic: five minutes for the barrier; the second hook, certain to end there too, goes last of all."""
    stack = stack_of(solve(day_with(ODD["hooks that will not come down"])), "patrol")
    order = list(stack.aeroplanes)
    assert order == ["13", "14", "11", "12"]
    ramps = [each.over_ramp for each in stack.aeroplanes.values()]
    assert ramps[3] - ramps[2] == pytest.approx(300.0)


def test_those_left_on_deck_are_in_the_deck_s_own_day_too(day_with: DayOf) -> None:
    """Own arithmetic: six moved forward at 30 s each, and ten, not four, moved aft at 45 s each."""
    without, left = (solve(day_with(text)).cycle["patrol"] for text in ("", 'left_on_deck = "6"\n'))
    assert without.deck_ready is not None
    assert left.deck_ready == pytest.approx(without.deck_ready + 180.0)
    assert left.forward == 10.0
    assert left.respot == pytest.approx(450.0)


def test_a_recovery_before_dawn_should_come_later() -> None:
    """Constructed: an hour before civil dawn the remedy is not to come home earlier still."""
    text = DEMO.replace('time = "16:00"', 'time = "02:00"')
    text = text.replace("sunset - 110 min", "03:00").replace("sunset - 107 min", "03:03")
    text = text.replace("sunset - 45 min", "civil dawn - 20 min").replace("sunset - 39 min", "civil dawn - 14 min")
    found = [each for each in solve(day(text)).findings if each.id in {"recovery-in-the-dark", "dark-recovery"}]
    assert len(found) == 2
    assert all(each.remedy.startswith("Come home after ") for each in found)
