"""What the state at a gate costs, against circles and straight lines worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import State
from roundown.motion.manoeuvre import Guard, HoldBank, HoldSpeed, Leg, Level, Setting, TurnTo, Until
from roundown.motion.ship_track import steady_track
from roundown.passes.cost import USUAL, Aim, Misses, Tolerances, cost, cost_at, fly_rest, parts, stretches

KT = 1852.0 / 3600.0  # m/s
DEG = math.pi / 180.0
G = 9.80665  # m/s2
SPEED = 45.0  # m/s
AIM = Aim(height=0.0, speed=SPEED, bank=25.0 * DEG)

AT_ONCE = Aeroplane(
    mass=3_900.0, wing_area=27.0, zero_lift_drag=0.026, gear_drag=0.02, flap_drag=0.07, induced_drag=0.075,
    idle_thrust=-900.0, shaft_power=1_000_000.0, propeller_diameter=3.4, figure_of_merit=0.75, roll_rate=200.0,
    gear_time=6.0, flap_time=5.0, gear_limit=140.0 * KT, flap_limit=130.0 * KT, lift_clean=1.45, lift_flap=2.1,
)  # fmt: skip
"""Rolls to its bank in hundredths of a second, so that turns are plain circles."""


def sea(ship_speed: float = 0.0) -> Setting:
    """A calm sea-level day, the ship heading north."""
    return Setting(AT_ONCE, (288.15, 101_325.0), np.array([[10.0, 0.0, 0.0]]), steady_track(0.0, ship_speed))


def at(east: float, north: float, heading: float, bank: float = 0.0, height: float = 0.0) -> State:
    return east, north, height, SPEED, heading, bank, 1.0, 1.0


def left_half_turn(bank: float) -> list[Leg]:
    """From south to north by the east, to the left."""
    return [
        Leg("turn", TurnTo(0.0, -bank), HoldSpeed(), Level(), Until(Guard.TURN_DONE), 300.0, 1.0, 1.0),
    ]


def test_flown_straight_from_astern_the_misses_are_those_of_the_start() -> None:
    """Own arithmetic: 300 m astern, 4 m to port, 2 m high, along the deck: nothing of it is mended on the way."""
    misses = fly_rest(0.0, at(-4.0, -300.0, 0.0, height=2.0), (), sea(), AIM)
    assert misses is not None
    assert misses.ahead == pytest.approx(-300.0)
    assert misses.port == pytest.approx(4.0, abs=1e-9)
    assert misses.height == pytest.approx(2.0)
    assert misses.bank == 0.0


def test_two_degrees_off_the_deck_s_line_astern_are_paid_at_the_ramp() -> None:
    """Own arithmetic: 300 m astern, heading 2 degrees to starboard: 300 tan 2 deg from 4 m to port."""
    misses = fly_rest(0.0, at(-4.0, -300.0, 2.0 * DEG), (), sea(), AIM)
    assert misses is not None
    assert misses.port == pytest.approx(4.0 - 300.0 * math.tan(2.0 * DEG), abs=1e-6)


def test_a_half_turn_misses_by_the_difference_of_abeam_and_two_radii() -> None:
    """Closed form: from 1000 m abeam to port, 150 m ahead of a stopped ship, 25 degrees of bank."""
    radius = SPEED**2 / (G * math.tan(25.0 * DEG))
    misses = fly_rest(0.0, at(-1000.0, 150.0, math.pi), left_half_turn(25.0 * DEG), sea(), AIM)
    assert misses is not None
    assert misses.ahead == pytest.approx(150.0, abs=0.3)
    assert misses.port == pytest.approx(1000.0 - 2.0 * radius, abs=0.3)
    assert misses.bank == pytest.approx(0.0, abs=1e-9)


def test_a_ship_under_way_leaves_the_same_turn_astern() -> None:
    """Closed form: she runs speed times pi R / V ahead meanwhile."""
    bank, ship = 25.0 * DEG, 10.0
    radius = SPEED**2 / (G * math.tan(bank))
    misses = fly_rest(0.0, at(-1000.0, 150.0, math.pi), left_half_turn(bank), sea(ship), AIM)
    assert misses is not None
    assert misses.ahead == pytest.approx(150.0 - ship * math.pi * radius / SPEED, abs=0.5)


def test_bank_steeper_than_planned_counts_and_less_bank_does_not() -> None:
    """Constructed: seen at 32 degrees with 25 planned; and the rest flown with 20."""
    steep = fly_rest(0.0, at(-1000.0, 0.0, math.pi, bank=-32.0 * DEG), left_half_turn(25.0 * DEG), sea(), AIM)
    slack = fly_rest(0.0, at(-1000.0, 0.0, math.pi), left_half_turn(20.0 * DEG), sea(), AIM)
    assert steep is not None
    assert slack is not None
    assert steep.bank == pytest.approx(7.0 * DEG)
    assert slack.bank == 0.0


def test_a_rest_that_cannot_be_flown_has_no_cost() -> None:
    """Constructed: a ship that outruns the aeroplane is never reached; a leg that runs out of time ends nowhere."""
    never = Leg("on", HoldBank(0.0), HoldSpeed(), Level(), Until(Guard.SHIP_AHEAD, 5000.0, 1), 10.0, 1.0, 1.0)
    assert fly_rest(0.0, at(0.0, -100.0, 0.0), (), sea(50.0), AIM) is None
    assert cost_at(0.0, at(0.0, -100.0, 0.0), [never], sea(), AIM) is None


def test_one_tolerance_off_in_one_thing_costs_one() -> None:
    """Constructed."""
    for name in ("ahead", "port", "height", "speed", "bank"):
        none = {"ahead": 0.0, "port": 0.0, "height": 0.0, "speed": 0.0, "bank": 0.0}
        missed = Misses(**{**none, name: getattr(USUAL, name)})
        assert cost(missed) == pytest.approx(1.0, abs=1e-6)
        assert parts(missed)[name] == pytest.approx(1.0)


def test_three_and_four_tolerances_make_five() -> None:
    """Own arithmetic: 3-4-5; the sign of a part says which way."""
    tolerances = Tolerances(ahead=10.0, port=2.0, height=1.0, speed=1.0, bank=0.1)
    misses = Misses(ahead=-30.0, port=8.0, height=0.0, speed=0.0, bank=0.0)
    assert cost(misses, tolerances) == 5.0
    assert parts(misses, tolerances) == {"ahead": -3.0, "port": 4.0, "height": 0.0, "speed": 0.0, "bank": 0.0}


def test_the_straight_flight_that_mends_a_miss_comes_out_negative() -> None:
    """Own arithmetic: 2 at the turn-in, 3.5 at the ninety, 1 at the end."""
    parted = stretches({"turn-in": 2.0, "ninety": 3.5, "level": 1.0})
    assert parted == {"turn-in": 2.0, "ninety": 1.5, "level": -2.5}
    assert sum(parted.values()) == 1.0


@given(st.lists(st.tuples(st.floats(-3e4, 3e4), st.floats(-900.0, 900.0)), min_size=1, max_size=9))
def test_the_stretches_add_up_to_the_last_bit(places: list[tuple[float, float]]) -> None:
    """Conservation: whatever was missed at the gates, the sum of the stretches is the cost at the last one, exactly."""
    costs = {str(i): cost(Misses(ahead, port, 1.7, -0.3, 0.02)) for i, (ahead, port) in enumerate(places)}
    assert sum(stretches(costs).values()) == list(costs.values())[-1]
    assert sum(reversed(list(stretches(costs).values()))) == list(costs.values())[-1]


def test_nothing_passed_costs_nothing() -> None:
    """Limit case."""
    assert stretches({}) == {}
