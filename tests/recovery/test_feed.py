"""The way down from the stack: against closed forms, and arcs integrated here by another formulation."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from roundown.motion.equations.kernel import in_ship_frame
from roundown.motion.frames import wrap
from roundown.recovery.circuit import start_state
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.feed import STEADY, Feed, FeedFacts, NoFeed, Orbit, feed, orbit

Make = Callable[..., CircuitFacts]
KT, FT, DEG, G = 1852.0 / 3600.0, 0.3048, math.pi / 180.0, 9.80665
RATE = 1000.0 * FT / 60.0  # m/s


def facts_of(circuit: CircuitFacts, speed: float = 130.0, bank: float = 20.0, rate: float = RATE) -> FeedFacts:
    return FeedFacts(circuit, speed * KT, bank * DEG, rate)


def down(height: float, facts: FeedFacts) -> Feed:
    found = feed(height, facts)
    assert isinstance(found, Feed), found
    return found


@pytest.fixture
def plain(sea_level: Make) -> CircuitFacts:
    """300 ft at the initial at 120 kt, 23 m to starboard, from dead ahead."""
    return sea_level(initial_height=300.0 * FT, upwind_offset=23.0)


@pytest.mark.parametrize("feet", [1000.0, 2000.0, 5000.0])
def test_the_flight_ends_where_the_circuit_begins(demo_facts: CircuitFacts, feet: float) -> None:
    """Second method: place, height, speed and heading are those from which the circuit is solved."""
    found = down(feet * FT, facts_of(demo_facts))
    time, end = found.flown.record(-1)
    initial, ship = start_state(demo_facts), demo_facts.setting.ship
    there = in_ship_frame(time, end[0], end[1], ship.rows)
    assert there == pytest.approx(in_ship_frame(0.0, initial[0], initial[1], ship.rows), abs=0.01)
    assert end[2:4] == pytest.approx(initial[2:4], abs=1e-6)
    assert wrap(end[4] - initial[4]) == pytest.approx(0.0, abs=1e-5)
    assert end[5] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("feet", [1000.0, 2000.0, 5000.0])
def test_it_is_level_slowed_and_steady_half_a_minute_before_the_initial(demo_facts: CircuitFacts, feet: float) -> None:
    """The rule it was solved for, read from the records."""
    found = down(feet * FT, facts_of(demo_facts))
    assert found.steady == pytest.approx(STEADY, abs=1e-3)
    last = found.path.time >= found.time - STEADY + 0.01
    for channel, still in ((found.path.height, 1e-6), (found.path.bank, 1e-9), (found.path.heading, 1e-6)):
        assert np.ptp(channel.values[last]) < still
    assert np.ptp(found.path.airspeed.values[last]) < 1e-3


@pytest.mark.parametrize(("feet", "rate"), [(1000.0, 1000.0), (2000.0, 1000.0), (4000.0, 750.0)])
def test_the_let_down_takes_height_over_rate_and_covers_that_time_at_the_ground_speed(
    plain: CircuitFacts, feet: float, rate: float
) -> None:
    """Closed form: (h - 300 ft) / rate; aft through the air, less the wind, with V by the density of the hold's air."""
    found = down(feet * FT, facts_of(plain, rate=rate * FT / 60.0))
    expected = (feet - 300.0) / rate * 60.0
    assert found.let_down_time == pytest.approx(expected, abs=1e-9)
    assert found.level_after == pytest.approx(expected, abs=1e-6)
    # the leg aft at V true, slowly falling, and 11 kt of air with it: the ground it covers
    leg = found.flown.leg("aft")
    covered = math.hypot(leg[-1, 1] - leg[0, 1], leg[-1, 2] - leg[0, 2])
    high, low = plain.setting.true_speed(130.0 * KT, leg[0, 3]), plain.setting.true_speed(130.0 * KT, leg[-1, 3])
    level = math.sqrt((0.5 * (high + low)) ** 2 - (rate * FT / 60.0) ** 2)
    descending = min(found.leg_aft, expected)
    beyond = (found.leg_aft - descending) * (low - level)
    assert covered == pytest.approx((level + 11.0 * KT) * found.leg_aft + beyond, rel=2e-4)


def test_in_a_calm_with_the_ship_stopped_the_way_in_is_as_long_as_the_leg_aft_by_hand(plain: CircuitFacts) -> None:
    """Own arithmetic, speed held at 120 kt, no wind, ship stopped, 2,000 to 300 ft at 1,000 ft/min: 102 s.

    Half turn and roll take t; leg aft a; way in a: a + t + a = 102 + 30 where it is the height that counts.
    """
    still = replace(plain, ship_speed=0.0, winds=np.array([[10.0, 0.0, 0.0]]))
    found = down(2000.0 * FT, facts_of(still, speed=120.0, bank=25.0))
    assert found.time == pytest.approx(132.0, abs=0.01)
    # true airspeed falls a little on the way down, so that the way in, lower, takes a little longer
    assert found.way_in == pytest.approx(found.leg_aft, rel=0.03)
    turn = math.pi * 120.0 * KT / (G * math.tan(25.0 * DEG))
    assert found.turn == pytest.approx(turn, rel=0.08)


def integrated(facts: FeedFacts, height: float, leg_aft: float, until: float) -> tuple[float, float, float, float]:
    """East, north, height and heading of the aeroplane at a time, from east 0, north 0 on the leg aft.

    Small fixed steps of midpoint, own code: indicated held, roll at the type's rate, roll-out begun when the heading
    still to go is what the roll-out turns through.
    """
    circuit = facts.circuit
    setting = circuit.setting
    level = circuit.initial_height
    upwind = start_state(circuit)[4] + circuit.hand * math.tau
    speed = setting.true_speed(facts.speed, height)
    crossing = setting.wind(height)
    to_starboard = crossing[0] * math.cos(circuit.ship_course) - crossing[1] * math.sin(circuit.ship_course)
    heading = circuit.ship_course + circuit.hand * math.pi + math.asin(to_starboard / speed)
    east = north = bank = time = 0.0
    step, roll = 0.01, setting.aeroplane.roll_rate
    rolling_out = False
    while time < until - 1e-9:
        h = min(step, until - time)
        middle = max(height - 0.5 * h * facts.let_down, level)
        speed = setting.true_speed(facts.speed, middle)
        if time >= leg_aft:
            lead = G / (roll * speed) * math.log(1.0 / math.cos(bank))
            rolling_out = rolling_out or abs(upwind - heading) <= lead
            wanted = max(bank - roll * h, 0.0) if rolling_out else min(bank + roll * h, facts.bank)
        else:
            wanted = 0.0
        turned = circuit.hand * G * math.tan(0.5 * (bank + wanted)) / speed * h
        flat = math.sqrt(speed**2 - (facts.let_down if height > level else 0.0) ** 2)
        wind = setting.wind(middle)
        east += h * (flat * math.sin(heading + 0.5 * turned) + wind[0])
        north += h * (flat * math.cos(heading + 0.5 * turned) + wind[1])
        heading, bank, height, time = heading + turned, wanted, max(height - h * facts.let_down, level), time + h
    return east, north, height, heading


@pytest.mark.parametrize("feet", [1000.0, 4000.0])
@pytest.mark.parametrize("hand", [-1, 1])
def test_leg_aft_and_turn_are_those_of_arcs_integrated_by_hand(
    demo_facts: CircuitFacts, feet: float, hand: int
) -> None:
    """Second method: winds by height, speeds by density, either hand; a metre after the turn."""
    facts = facts_of(replace(demo_facts, hand=hand))
    found = down(feet * FT, facts)
    start = found.flown.record(0)[1]
    time, turned = found.flown.end("turn in")
    east, north, height, heading = integrated(facts, feet * FT, found.leg_aft, time)
    assert turned[0] - start[0] == pytest.approx(east, abs=1.0)
    assert turned[1] - start[1] == pytest.approx(north, abs=1.0)
    assert turned[2] == pytest.approx(height, abs=0.05)
    assert turned[4] == pytest.approx(heading, abs=2e-3)


def test_the_leg_aft_is_the_only_one_of_many_that_fits(plain: CircuitFacts) -> None:
    """Brute force: of legs aft a second apart, the time steady on the way in rises through half a minute at the one."""
    facts = facts_of(plain)
    found = down(3000.0 * FT, facts)
    closing_in = plain.setting.true_speed(120.0 * KT, 300.0 * FT) - 30.0 * KT
    spare = []
    for leg_aft in np.arange(round(found.leg_aft) - 5.0, round(found.leg_aft) + 6.0):
        _, north, _, _ = integrated(facts, 3000.0 * FT, float(leg_aft), float(leg_aft) + found.turn)
        astern = -(north - 19.0 * KT * (float(leg_aft) + found.turn))
        # the way in from there, still letting down, reckoned at the speed of its own middle
        slow = plain.setting.true_speed(125.0 * KT, 700.0 * FT) - 30.0 * KT
        level_in = found.let_down_time - (float(leg_aft) + found.turn)
        spare.append((astern - slow * level_in) / closing_in)
    assert all(after > earlier for earlier, after in pairwise(spare))
    crossing = int(np.argmin(np.abs(np.array(spare) - STEADY)))
    assert abs(crossing - 5) <= 2


def test_furthest_astern_is_the_leg_aft_and_the_drift_of_the_turn(plain: CircuitFacts) -> None:
    """Second method: least of the path, seen from the ship at its own speed."""
    found = down(2000.0 * FT, facts_of(plain))
    ahead = found.path.north.values - 19.0 * KT * found.path.time
    assert found.furthest_astern == pytest.approx(-float(np.min(ahead)), abs=0.5)
    assert found.furthest_astern > found.leg_aft * (100.0 * KT) - plain.datum_ahead


def test_a_higher_block_takes_a_minute_longer_for_each_thousand_feet(demo_facts: CircuitFacts) -> None:
    """Closed form: where the height counts, the whole way is the let-down, and half a minute, and the slowing."""
    facts = facts_of(demo_facts)
    times = [down(feet * FT, facts).time for feet in (3000.0, 4000.0, 5000.0)]
    assert np.diff(times) == pytest.approx([60.0, 60.0], abs=0.2)


def test_a_left_hand_hold_leaves_to_port_and_a_right_hand_one_to_starboard(plain: CircuitFacts) -> None:
    """Symmetry: with the wind dead ahead a right-hand way is the mirror of the left-hand one."""
    left, right = down(1500.0 * FT, facts_of(plain)), down(1500.0 * FT, facts_of(replace(plain, hand=1)))
    assert left.abeam == pytest.approx(right.abeam, abs=1e-6)
    assert left.abeam > 0.0
    assert left.path.east.values == pytest.approx(-right.path.east.values, abs=1e-5)
    assert left.path.east.values[0] < 0.0  # to port, heading north


def test_a_ship_in_a_calm_and_a_stopped_ship_in_as_much_wind_give_the_same_way_down(plain: CircuitFacts) -> None:
    """Symmetry: only the wind over the deck counts."""
    calm = replace(plain, ship_speed=25.0 * KT, winds=np.array([[10.0, 0.0, 0.0]]))
    stopped = replace(plain, ship_speed=0.0, winds=np.array([[10.0, 0.0, -25.0 * KT]]))
    one, other = down(2000.0 * FT, facts_of(calm)), down(2000.0 * FT, facts_of(stopped))
    assert one.time == pytest.approx(other.time, abs=1e-5)
    assert one.furthest_astern == pytest.approx(other.furthest_astern, abs=1e-3)


def test_no_way_down_says_why(plain: CircuitFacts) -> None:
    """Constructed: a block under the initial; a ship as fast as the aeroplane."""
    under = feed(200.0 * FT, facts_of(plain))
    assert isinstance(under, NoFeed)
    assert under.reason == "The block at 200 ft is under the initial at 300 ft"
    fast = replace(plain, winds=np.array([[10.0, 0.0, -110.0 * KT]]))
    assert isinstance(feed(1000.0 * FT, facts_of(fast)), NoFeed)
    assert isinstance(orbit(1000.0 * FT, facts_of(fast, speed=120.0)), NoFeed)


def test_an_orbit_is_two_pi_v_over_g_tan_bank_and_falls_behind_by_the_wind_felt(sea_level: Make) -> None:
    """Own arithmetic at sea level: 130 kt = 66.88 m/s, 20 deg: R = 66.88^2 / (9.807 x 0.36397) = 1,253 m, round in
    117.7 s; 30 kt = 15.43 m/s felt: 1,817 m behind, made good at 51.44 m/s in 35.3 s, 153.0 s in all.
    """
    found = orbit(0.0, facts_of(sea_level()))
    assert isinstance(found, Orbit)
    assert found.radius == pytest.approx(1253.0, abs=1.0)
    assert found.circle == pytest.approx(117.7, abs=0.1)
    assert found.drift == pytest.approx(1817.0, abs=2.0)
    assert found.whole == pytest.approx(153.0, abs=0.1)


def test_a_whole_orbit_comes_back_over_the_ship_in_a_wind_from_the_side(demo_facts: CircuitFacts) -> None:
    """Second method: circle and straight leg summed as vectors in the ship frame, wind off the bow."""
    facts, height = facts_of(demo_facts), 2000.0 * FT
    found = orbit(height, facts)
    assert isinstance(found, Orbit)
    setting = demo_facts.setting
    ship = demo_facts.ship_speed * np.array([math.sin(demo_facts.ship_course), math.cos(demo_facts.ship_course)])
    felt = np.array(setting.wind(height)) - ship
    behind = felt * found.circle
    into = -felt / np.hypot(*felt) * setting.true_speed(facts.speed, height)
    back = (into + felt) * (found.whole - found.circle)
    assert np.hypot(*(behind + back)) == pytest.approx(0.0, abs=1e-6)
    assert np.hypot(*behind) == pytest.approx(found.drift, abs=1e-6)
