"""Practice ashore against what must hold: only the wind over the deck counts, and heights go with the deck."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from roundown.day.ashore import Ashore, ashore_facts, solve_ashore
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.figures import figures_of
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import DEGREE, FOOT, KNOT
from roundown.recovery.result import CircuitResult
from roundown.solution import Unsolved

ONE_FLIGHT = (Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8")
UNIFORM = ONE_FLIGHT.split("winds = [")[0] + 'wind_profile = "uniform"\n' + ONE_FLIGHT.split("\n]\n", 1)[1]
DECK_HIGH = '[ashore]\nheight = "65 ft over sea"\n'


def day(text: str) -> Day:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


def circuits(found: Ashore) -> tuple[CircuitResult, CircuitResult]:
    assert isinstance(found.circuit, CircuitResult)
    assert isinstance(found.at_sea, CircuitResult)
    return found.circuit, found.at_sea


def test_a_field_in_a_wind_is_a_ship_that_makes_that_wind_in_a_calm() -> None:
    """Symmetry: one velocity added to air and ship changes nothing on deck. The field as high as the deck: same air."""
    field = circuits(solve_ashore(day(UNIFORM.replace("140/11 kt", "140/22 kt") + DECK_HIGH)))[0]
    calm = UNIFORM.replace("140/11 kt", "calm") + '[override.wind]\nover_deck = "22 kt over deck"\n'
    ship = solve(day(calm)).circuit
    assert isinstance(ship, CircuitResult)
    for name in ("abeam", "turn_in_ahead", "rollout_to_turn_in", "final_time", "final_bank", "closing_ramp"):
        assert getattr(field, name) == pytest.approx(getattr(ship, name), rel=1e-4), name


def test_the_turn_in_moves_by_the_wind_that_is_missing_times_the_final_turn() -> None:
    """Second method: the rule of thumb of PRO-81, drift of the deck in the half turn; within a twentieth."""
    found = solve_ashore(day(UNIFORM + DECK_HIGH))
    ashore, at_sea = circuits(found)
    assert found.turn_in_further_aft is not None
    missing = 30.0 * KNOT - 11.0 * KNOT
    assert found.over_deck_less == pytest.approx(missing, rel=1e-3)
    assert found.turn_in_further_aft == pytest.approx(missing * at_sea.final_time, rel=0.05)
    assert ashore.turn_in_ahead < at_sea.turn_in_ahead


def test_the_turn_in_is_later_by_the_legs_sum() -> None:
    """Own arithmetic: downwind from the roll-out to the turn-in at the speed past the deck of each."""
    found = solve_ashore(day(UNIFORM + DECK_HIGH))
    assert found.turn_in_later is not None
    times = []
    for circuit in circuits(found):
        gates = circuit.gates
        gone = math.hypot(
            gates["turn-in"].ahead - gates["downwind"].ahead, gates["turn-in"].port - gates["downwind"].port
        )
        # the downwind speed is reached a little after the roll-out at most
        times.append(gone / circuit.closing_downwind)
    assert found.turn_in_later == pytest.approx(times[0] - times[1], abs=0.3)
    assert found.turn_in_later > 0.0
    assert "later after wings level" in found.differs
    assert "further aft" in found.differs


def test_heights_over_the_marked_deck_are_those_over_the_ships() -> None:
    """Own arithmetic: a field at 20 ft under a deck of 65 ft lowers every height over the sea by 45 ft."""
    ashore, at_sea = circuits(solve_ashore(day(ONE_FLIGHT)))
    for name, gate in at_sea.gates.items():
        if name == "abeam":  # another place of the turn
            continue
        assert ashore.gates[name].height == pytest.approx(gate.height - 45.0 * FOOT, abs=1.0 * FOOT), name
    facts = ashore_facts(day(ONE_FLIGHT))
    assert facts.ramp_over_sea == pytest.approx((20.0 + 17.5) * FOOT)
    assert facts.downwind_band.low == pytest.approx((150.0 - 45.0) * FOOT)


def test_wind_down_and_across_the_runway() -> None:
    """Own arithmetic: 11 kt from 140 on a runway of 110: 9.53 kt down it, 5.5 kt from the right."""
    found = solve_ashore(day(ONE_FLIGHT + '[ashore]\nrunway = "110"\n'))
    assert found.along == pytest.approx(9.526 * KNOT, abs=0.01 * KNOT)
    assert found.across == pytest.approx(5.5 * KNOT, abs=0.01 * KNOT)
    back = solve_ashore(day(ONE_FLIGHT + '[ashore]\nrunway = "320"\n'))
    assert back.along == pytest.approx(-11.0 * KNOT, abs=0.01 * KNOT)
    assert back.across == pytest.approx(0.0, abs=0.01 * KNOT)
    assert "from behind" in back.differs


def test_the_wings_come_level_over_the_middle_of_the_marked_ramp_in_a_cross_wind() -> None:
    """Second method: the path itself, on the ground, crosses the ramp at the field's own place."""
    found = solve_ashore(day(ONE_FLIGHT + '[ashore]\nrunway = "110"\n'))
    ashore, _ = circuits(found)
    ramp = ashore.gates["ramp"]
    assert math.hypot(ramp.east, ramp.north) < 0.1
    assert ashore.ship_speed == 0.0
    assert ashore.ship_course == pytest.approx(110.0 * DEGREE)


def test_a_higher_field_has_the_surface_wind_over_it_too() -> None:
    """Constructed: the winds are raised with the field, so that 10 m over it the wind is the surface wind."""
    found = solve_ashore(day(ONE_FLIGHT + '[ashore]\nheight = "900 ft over sea"\n'))
    assert found.wind_speed == pytest.approx(11.0 * KNOT, rel=2e-3)
    assert found.along == pytest.approx(11.0 * KNOT, rel=2e-3)


def test_a_calm_is_said() -> None:
    found = solve_ashore(day(UNIFORM.replace("140/11 kt", "calm")))
    assert found.differs.startswith("No wind blows along the marked deck; at sea 30.0 kt.")
    assert found.along == 0.0


def test_in_much_wind_the_field_is_nearly_as_the_ship_that_barely_steers() -> None:
    """Own arithmetic: 34 kt on the runway; at sea 6 kt of her least speed more, which move the turn-in."""
    found = solve_ashore(day(UNIFORM.replace("140/11 kt", "140/34 kt") + DECK_HIGH))
    _, at_sea = circuits(found)
    assert found.over_deck_less == pytest.approx(6.0 * KNOT, rel=1e-3)
    assert found.turn_in_further_aft == pytest.approx(6.0 * KNOT * at_sea.final_time, rel=0.05)


def test_a_field_with_more_wind_than_the_deck_has_its_turn_in_further_forward() -> None:
    """Constructed: much wind near the sea and little at the deck's height, which no gradient gives, but a plan may."""
    winds = 'winds = [{ height = "60 ft over sea", wind = "140/2 kt" }]\n'
    text = UNIFORM.replace('wind_profile = "uniform"\n', winds).replace("140/11 kt", "140/40 kt")
    found = solve_ashore(day(text + '[override.wind]\nover_deck = "20 kt over deck"\n'))
    assert found.over_deck_less < 0.0
    assert "more wind carries you aft than at sea" in found.differs


def test_a_circuit_below_the_flight_deck_is_not_flown_into_the_ground() -> None:
    """Constructed: a ninety of 60 ft over the sea under a deck of 65 ft."""
    found = solve_ashore(day(ONE_FLIGHT + '[override.circuit]\nninety_height = "60 ft over sea"\n'))
    assert isinstance(found.circuit, Unsolved)
    assert "in the ground" in found.circuit.reason
    assert found.turn_in_further_aft is None
    assert "not known" in found.differs


def test_the_ship_beside_it_is_the_ship_of_the_day() -> None:
    """Second method: the day solved as a whole."""
    today = day(ONE_FLIGHT)
    found, solution = solve_ashore(today), solve(today)
    assert isinstance(solution.circuit, CircuitResult)
    assert circuits(found)[1].abeam == solution.circuit.abeam
    assert found.flight == solution.flight


def test_every_figure_ashore_says_how() -> None:
    keys = {found.key for found in figures_of(solve_ashore(day(ONE_FLIGHT))) if "." not in found.key}
    assert {"runway", "along", "across", "turn_in_further_aft", "turn_in_later", "steeper"} <= keys
