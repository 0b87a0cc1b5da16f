"""The demo's circuit, a plainer one at sea level, and solving either."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

import numpy as np
import pytest

from roundown.day.facts import circuit_facts, wind_rows
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.motion.aeroplane import Aeroplane
from roundown.plan.read import day_of
from roundown.quantities import Band
from roundown.recovery.circuit import Circuit, solve_circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult, describe

KT = 1852.0 / 3600.0  # m/s
YD = 0.9144  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2

INVENTED = Aeroplane(
    mass=3_900.0,
    wing_area=27.0,
    zero_lift_drag=0.026,
    gear_drag=0.02,
    flap_drag=0.07,
    induced_drag=0.075,
    idle_thrust=-900.0,
    shaft_power=1_000_000.0,
    propeller_diameter=3.4,
    figure_of_merit=0.75,
    roll_rate=12.0 * DEG,
    gear_time=6.0,
    flap_time=5.0,
    gear_limit=140.0 * KT,
    flap_limit=130.0 * KT,
    lift_clean=1.45,
    lift_flap=2.1,
)


def facts_from(text: str) -> CircuitFacts:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    day = day_of(document)
    flight = solve(day).flight
    return circuit_facts(day, wind_rows(day), flight.course, flight.speed)


@pytest.fixture(scope="session")
def demo_facts() -> CircuitFacts:
    """The facts of the demo plan: veering winds by height, heights and speeds that change all the way round."""
    return facts_from((Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8"))


@pytest.fixture(scope="session")
def sea_level() -> Callable[..., CircuitFacts]:
    """Makes facts at sea level, where indicated is true, heading north, 30 kt over the deck from dead ahead.

    120 kt up the ship, 100 kt down, 90 kt from the ninety; over_deck : knots, of which the ship makes 19.
    """

    def make(over_deck: float = 30.0, aeroplane: dict[str, float] | None = None, **changes: Any) -> CircuitFacts:
        facts = CircuitFacts(
            ship_course=0.0,
            ship_speed=19.0 * KT,
            deck_height=0.0,
            deck_length=250.0,
            hand=-1,
            upwind_offset=0.0,
            datum="bow",
            datum_ahead=250.0,
            break_ahead=1852.0,
            interval=30.0,
            initial_height=0.0,
            initial_speed=120.0 * KT,
            break_bank=30.0 * DEG,
            slowing=0.07 * G,
            downwind_height=0.0,
            downwind_speed=100.0 * KT,
            let_down=2.5,
            ninety_height=0.0,
            ninety_speed=90.0 * KT,
            ramp_height=0.0,
            ramp_speed=90.0 * KT,
            cut_ahead=10.0,
            greatest_bank=35.0 * DEG,
            expected_abeam=Band(900.0, 1000.0, 1100.0),
            expected_bank=Band(20.0 * DEG, 25.0 * DEG, 30.0 * DEG),
            expected_slope=Band(0.0, 0.25 * DEG, 0.5 * DEG),
            least_margin=5.0 * KT,
            downwind_band=Band(0.0, 0.0, 0.0),
            ramp_band=Band(0.0, 0.0, 0.0),
            aeroplane=replace(INVENTED, **cast("dict[str, Any]", aeroplane or {})),
            temperature=288.15,
            pressure=101_325.0,
            winds=np.array([[10.0, 0.0, -(over_deck - 19.0) * KT]]),
        )
        return replace(facts, **changes)

    return make


@pytest.fixture(scope="session")
def solved() -> Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]:
    """Solves a circuit that has an answer."""

    def solve_it(facts: CircuitFacts) -> tuple[Circuit, CircuitResult]:
        circuit = solve_circuit(facts)
        assert isinstance(circuit, Circuit), circuit
        return circuit, describe(circuit, facts)

    return solve_it
