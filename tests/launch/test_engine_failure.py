"""An engine fails past the bow."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from tests.launch.run_cases import FT, KT, TYPES, on_spot

from roundown.errors import NoSolution
from roundown.launch.clearing import ClearingTurn, clearing
from roundown.launch.deck_run import lift_off_airspeed
from roundown.launch.engine_failure import APART, WINDMILLING, EngineFailure, engine_failure, glide_angle
from roundown.launch.facts import RunFacts
from roundown.launch.past_bow import PastBow, eased_angle, past_bow
from roundown.motion.equations.kernel import density_at
from roundown.motion.equations.wing import drag_at, lift_at

G = 9.80665  # m/s2
COMMON = ClearingTurn()
HALF_WIDTH = 70.0 * FT


def at_sea(kind: str = "ottery", across: float = 0.0, ship: float = 20.0) -> RunFacts:
    return replace(on_spot(kind, across=across), ship_speed=ship * KT)


def passed(facts: RunFacts, part: float = 1.03) -> PastBow:
    return past_bow(facts, part * lift_off_airspeed(facts))


def failed(facts: RunFacts, turn: ClearingTurn = COMMON, windmilling: float = WINDMILLING) -> EngineFailure:
    made = engine_failure(facts, passed(facts), turn, HALF_WIDTH, windmilling)
    assert made is not None
    return made


@pytest.mark.parametrize("moment", [0, 8, 20])
@pytest.mark.parametrize("kind", TYPES)
def test_a_glide_by_an_adaptive_solver(kind: str, moment: int) -> None:
    """Second method: scipy.integrate.solve_ivp, speed and slope as states, from the path at the moment; to 0.5 m."""
    facts = at_sea(kind)
    past, craft = passed(facts), facts.aeroplane
    path, wing = past.path, craft.wing
    density = density_at(facts.deck_height, (facts.temperature, facts.pressure))
    at = int(np.argmin(np.abs(path.time - moment)))
    best = glide_angle(facts, float(path.gear[at]))
    wheels_from = past.climb_after if past.climb_after is not None and past.climb_after < moment else None

    def rates(time: float, state: list[float]) -> list[float]:
        v, slope, _, _, alpha = state
        since = wheels_from if wheels_from is not None else math.inf
        gear = 1.0 - min(max((moment + time - since) / craft.gear_time, 0.0), 1.0)
        pressure = 0.5 * density * v * v
        lift = pressure * wing[0] * lift_at(alpha, craft.flap, wing)
        drag = pressure * (wing[0] * drag_at(alpha, craft.flap, gear, 1.0, wing) + WINDMILLING * craft.disc)
        change = float(np.clip((best - alpha) / 0.3, -craft.pull_rate, craft.pull_rate))
        turn = (lift / craft.mass - G * math.cos(slope)) / v
        return [-drag / craft.mass - G * math.sin(slope), turn, v * math.sin(slope), v * math.cos(slope), change]

    def sea(_time: float, state: list[float]) -> float:
        return state[2]

    sea.terminal = True  # type: ignore[attr-defined]
    slope = math.atan2(path.climb[at], path.level[at])
    start = [math.hypot(path.climb[at], path.level[at]), slope, path.height[at], 0.0, path.angle[at]]
    glided = solve_ivp(rates, (0.0, 180.0), start, events=sea, rtol=1e-9, atol=1e-9, max_step=0.05)
    made = failed(facts).straight[moment]
    assert made.failed_after == moment
    assert made.struck_after - moment == pytest.approx(glided.t[-1], abs=0.02)
    ahead = path.place[at] + glided.y[3, -1] - facts.wind_ahead * glided.t[-1]
    assert made.ahead == pytest.approx(ahead, abs=0.5)


def test_the_ship_comes_up_at_her_own_speed() -> None:
    """Own arithmetic: the distance ahead over the ship's speed; never where she has no way."""
    made = failed(at_sea(ship=20.0))
    assert made.ship_after == pytest.approx(made.struck_ahead / (20.0 * KT), rel=1e-12)
    stopped = failed(at_sea(ship=0.0))
    assert stopped.ship_after is None
    assert stopped.struck_ahead == made.struck_ahead


@pytest.mark.parametrize("kind", TYPES)
def test_the_worst_moment_is_the_worst_of_those_tried(kind: str) -> None:
    """Second method: looked up in the list."""
    made = failed(at_sea(kind))
    assert len(made.turning) == len(made.straight) == 31
    left = [ditching.ship_after for ditching in made.turning]
    assert made.ship_after == min(each for each in left if each is not None)
    worst = made.turning[round(made.worst_moment / APART)]
    assert (worst.struck_after, worst.ahead, abs(worst.starboard)) == (
        made.struck_after,
        made.struck_ahead,
        made.abeam,
    )
    assert made.abeam_straight == 0.0


@pytest.mark.parametrize("kind", TYPES)
def test_only_the_turn_takes_it_out_of_the_ships_way(kind: str) -> None:
    """Constructed: without it no failure ends clear; with it those soon after its beginning do."""
    facts = at_sea(kind)
    made, turn = failed(facts), clearing(facts, passed(facts), COMMON)
    assert turn is not None
    assert made.clear_from_straight is None
    assert made.clear_from is not None
    assert turn.begins_after < made.clear_from < 10.0
    for ditching in made.turning:
        clear = abs(ditching.starboard) > HALF_WIDTH
        assert clear == (ditching.failed_after >= made.clear_from)


def test_a_failure_before_the_turn_is_the_same_with_it() -> None:
    """Limit case."""
    made = failed(at_sea())
    assert made.turning[0] == replace(made.straight[0], ahead=made.turning[0].ahead)
    assert made.turning[0].ahead == pytest.approx(made.straight[0].ahead, abs=1e-9)


def test_a_wider_turn_ditches_further_off() -> None:
    """Constructed: 20 degrees against 10, a failure in the middle of the leg."""
    degree = math.pi / 180.0
    small, great = (failed(at_sea(), ClearingTurn(change=change * degree)) for change in (10.0, 20.0))
    assert great.turning[9].starboard > small.turning[9].starboard


def test_a_propeller_that_drags_more_brings_it_down_sooner() -> None:
    """Constructed: from well up, where the glide is long."""
    clean, dragging = failed(at_sea(), windmilling=0.0), failed(at_sea(), windmilling=0.3)
    assert dragging.straight[30].struck_after < clean.straight[30].struck_after


def test_the_glide_is_flown_where_induced_drag_is_as_great_as_the_rest() -> None:
    """Second method: least drag to lift by trying angles, where that is below the easing pilot's greatest."""
    facts = at_sea()
    craft, wing = facts.aeroplane, facts.aeroplane.wing
    angles = np.radians(np.arange(0.0, 15.0, 0.01))
    drags = [drag_at(angle, craft.flap, 1.0, 1.0, wing) + 0.1 * craft.disc / wing[0] for angle in angles]
    ratio = np.array(drags) / [lift_at(angle, craft.flap, wing) for angle in angles]
    least = angles[int(np.argmin(ratio))]
    assert glide_angle(facts, 1.0) == pytest.approx(least, abs=math.radians(0.02))
    assert glide_angle(facts, 1.0, windmilling=5.0) == eased_angle(facts)


def test_wind_across_carries_the_place_to_leeward() -> None:
    """Own arithmetic: a failure at the bow is set to port by the wind for the time to the sea."""
    made = failed(at_sea(across=5.0))
    assert made.straight[0].starboard == pytest.approx(-5.0 * KT * made.straight[0].struck_after, rel=1e-9)


def test_no_climb_nothing_to_say() -> None:
    facts = at_sea("brindle")
    assert engine_failure(facts, passed(facts, 0.7), COMMON, HALF_WIDTH) is None


def test_a_glide_that_does_not_end_is_no_answer() -> None:
    """Constructed: a deck 5 km up."""
    facts = replace(at_sea(), deck_height=5000.0)
    with pytest.raises(NoSolution, match="a glide to the sea within 180 s"):
        engine_failure(facts, passed(facts, 1.1), COMMON, HALF_WIDTH)
