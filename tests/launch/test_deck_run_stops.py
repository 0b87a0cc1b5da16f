"""Giving it up in time, a pitching deck, and wingtips beside the run."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.launch.run_cases import FT, TYPES, G, fitted, on_spot

from roundown.launch import kernel
from roundown.launch.abort import abort_point
from roundown.launch.clearance import Obstacle, Side, wingtip_clearance
from roundown.launch.deck_run import deck_of, deck_run, load_of
from roundown.launch.pitch_cycle import worst_of_cycle


def test_brakes_without_air_stop_it_by_the_closed_form() -> None:
    """Closed form: almost no wing, so that u^2 / (2 mu g) from the last place ends at the bow. Within 0.1 m."""
    wing = (1e-6, 4.4, 0.0, 0.0, 1.5, 1.5, 0.7, 0.02, 0.0, 0.0, 0.07)
    facts = fitted(on_spot(wind=0.0, run=600.0), wing=wing, three_point=0.04, tail_up=0.04)
    found = abort_point(deck_run(facts), facts, brake_friction=0.4, reaction=0.0)
    assert found.place + found.speed**2 / (2.0 * 0.4 * G) == pytest.approx(facts.run, abs=0.1)


@pytest.mark.parametrize("kind", TYPES)
def test_stepping_the_brakes_from_the_last_place_ends_at_the_bow(kind: str) -> None:
    """Second method: short steps of the forces without thrust, after 1.5 s of the run; the bow within 0.3 m."""
    facts = on_spot(kind, wind=15.0, run=600.0)
    run = deck_run(facts)
    found = abort_point(run, facts, brake_friction=0.5)
    assert run.time is not None
    assert 0.0 < found.after < run.time
    path, load, deck = run.path, list(load_of(facts)), deck_of(facts)
    load[kernel.L_FRICTION], load[kernel.L_LAW] = 0.5, kernel.PARABOLA
    then = found.after + 1.5
    place, speed = float(np.interp(then, path.time, path.place)), float(np.interp(then, path.time, path.speed))
    while speed > 0.0:
        up = kernel.airspeed_at(speed, deck) >= load[kernel.L_TAIL_SPEED]
        angle = load[kernel.L_UP if up else kernel.L_DOWN]
        speed += 0.002 * kernel.forces(0.0, speed, angle, tuple(load), facts.aeroplane.wing, deck)[3]
        place += 0.002 * speed
    assert place == pytest.approx(facts.run, abs=0.3)


def test_stronger_brakes_and_a_quicker_pilot_may_stop_later() -> None:
    facts = on_spot(run=600.0)
    run = deck_run(facts)
    place = abort_point(run, facts, 0.4).place
    assert abort_point(run, facts, 0.6).place > place
    assert abort_point(run, facts, 0.4, reaction=0.5).place > place


def test_from_a_forward_spot_it_cannot_be_stopped_once_it_moves() -> None:
    facts = on_spot(run=10.0)
    assert abort_point(deck_run(facts), facts, 0.4).place == 0.0


def test_deck_that_does_not_pitch_has_no_worst_moment() -> None:
    """Limit: nil amplitude is the plain run."""
    facts = on_spot()
    run, cycle = deck_run(facts), worst_of_cycle(facts, 0.0, 10.0)
    assert cycle.longest == pytest.approx(run.distance, rel=1e-12)
    assert cycle.shortest == pytest.approx(run.distance, rel=1e-12)
    assert cycle.worst_pitch_at_bow == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("kind", TYPES)
def test_pitching_deck_is_worse_and_better_than_a_level_one(kind: str) -> None:
    facts = on_spot(kind)
    run, cycle = deck_run(facts), worst_of_cycle(facts, math.radians(1.0), 10.0)
    assert run.distance is not None
    assert cycle.longest is not None
    assert cycle.shortest is not None
    assert cycle.longest > run.distance > cycle.shortest
    assert cycle.worst_margin is not None
    assert cycle.best_margin is not None
    assert cycle.worst_margin < cycle.best_margin
    steady = deck_run(replace(facts, pitch=math.radians(1.0))).distance
    assert steady is not None
    assert cycle.longest < steady  # the bow is not up all along a run


def test_slow_cycle_is_a_deck_that_stands_still() -> None:
    """Limit: a period of an hour; the longest run is that with the bow up, the shortest that with it down."""
    facts = on_spot()
    cycle = worst_of_cycle(facts, math.radians(1.0), 3_600.0)
    up, down = (deck_run(replace(facts, pitch=side * math.radians(1.0))).distance for side in (1.0, -1.0))
    assert cycle.longest == pytest.approx(up, rel=1e-4)
    assert cycle.shortest == pytest.approx(down, rel=1e-4)
    assert cycle.worst_after == pytest.approx(0.0, abs=100.0)
    assert cycle.best_after == pytest.approx(1_800.0, abs=100.0)


def test_no_answer_for_an_aeroplane_that_does_not_move() -> None:
    cycle = worst_of_cycle(fitted(on_spot(wind=0.0), shaft_power=1_000.0), 0.01, 10.0)
    assert cycle.longest is None
    assert cycle.worst_margin is None


ISLAND = Obstacle("island", 100.0, 140.0, Side.STARBOARD, 11.0)
TUB = Obstacle("port gun tub", 60.0, 66.0, Side.PORT, 12.5)


def test_tip_clears_by_what_is_left_of_the_half_width() -> None:
    """Own arithmetic: 11 m to the island less 6 m of half span; spotted 2 m to port, 2 m more."""
    plain = wingtip_clearance([ISLAND, TUB], 6.0, spot=50.0, run=150.0)
    assert plain is not None
    assert plain.least == pytest.approx(5.0)
    assert plain.past == "island"
    ported = wingtip_clearance([ISLAND, TUB], 6.0, spot=50.0, run=150.0, offset=2.0)
    assert ported is not None
    assert ported.least == pytest.approx(4.5)
    assert ported.past == "port gun tub"
    assert 60.0 - 0.5 <= ported.place <= 66.0


def test_swing_brings_the_tip_nearer_by_two_pi_ths() -> None:
    """Own arithmetic: 3 deg to starboard held after 40 m ends 2/pi x 0.05236 x 40 = 1.3333 m to starboard."""
    swung = wingtip_clearance([ISLAND], 6.0, spot=50.0, run=150.0, swing=math.radians(3.0), held_after=40.0)
    assert swung is not None
    assert swung.least == pytest.approx(5.0 - 1.3333, abs=1e-4)
    away = wingtip_clearance([ISLAND], 6.0, spot=50.0, run=150.0, swing=-math.radians(3.0), held_after=40.0)
    assert away is not None
    assert away.least == pytest.approx(5.0 + 1.3333, abs=1e-4)


def test_port_and_starboard_mirror_each_other() -> None:
    """Symmetry."""
    mirrored = replace(ISLAND, side=Side.PORT)
    one = wingtip_clearance([ISLAND], 6.0, 50.0, 150.0, offset=1.0, swing=0.05, held_after=70.0)
    other = wingtip_clearance([mirrored], 6.0, 50.0, 150.0, offset=-1.0, swing=-0.05, held_after=70.0)
    assert one is not None
    assert other is not None
    assert one.least == pytest.approx(other.least, abs=1e-12)


def test_what_lies_behind_the_spot_is_not_passed() -> None:
    assert wingtip_clearance([TUB], 6.0, spot=80.0, run=100.0) is None
    assert wingtip_clearance([], 6.0, spot=80.0, run=100.0) is None


def test_wide_wing_strikes() -> None:
    struck = wingtip_clearance([ISLAND], 40.0 * FT, spot=50.0, run=150.0)
    assert struck is not None
    assert struck.least < 0.0
