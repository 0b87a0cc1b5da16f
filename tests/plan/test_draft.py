"""The first plan from eight numbers: it reads, it says what is estimated, and it gives back what was put in."""

from __future__ import annotations

import math

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.plan.draft import Sketch, draft_plan, estimated_power
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import DEGREE, FOOT, KNOT, POUND, read_wind
from roundown.recovery.result import CircuitResult


def sketch(
    *, ship: float = 30.0, deck: float = 65.0, approach: float = 85.0, stall: float = 70.0, fast: float = 120.0,
    weight: float = 9800.0, run: float = 750.0, wind: str = "070/12 kt",
) -> Sketch:  # fmt: skip
    """Knots, feet and pounds as a person gives them."""
    wind_from, wind_speed = read_wind(wind)
    return Sketch(
        ship * KNOT, deck * FOOT, approach * KNOT, stall * KNOT, fast * KNOT, weight * POUND, run * FOOT,
        wind_from, wind_speed,
    )  # fmt: skip


def drafted(what: Sketch, wind: str = "070/12 kt") -> Day:
    document = parse_document("mine.toml", draft_plan(what, wind))
    assert isinstance(document, Document), document
    return day_of(document)


def test_what_was_asked_stands_in_the_plan() -> None:
    day = drafted(sketch())
    for key, value in {
        "ship.greatest_speed": 30 * KNOT,
        "ship.deck_height": 65 * FOOT,
        "doctrine.circuit.ramp_speed": 85 * KNOT,
        "doctrine.circuit.initial_speed": 120 * KNOT,
        "doctrine.circuit.downwind_speed": 95 * KNOT,
        "type.landing_weight": 9800 * POUND,
        "weather.wind_from": 70 * DEGREE,
        "weather.wind_speed": 12 * KNOT,
        "ship.base_course": 160 * DEGREE,
    }.items():
        assert day.number(key) == pytest.approx(value), key


def test_what_was_estimated_says_so() -> None:
    day = drafted(sketch())
    sources = {key: given.origin.source for key, given in day.givens.items()}
    for key in ("type.wing_area", "type.shaft_power", "type.zero_lift_drag", "ship.turning_circle", "ship.deck_length"):
        assert sources[key].startswith("estimated"), key
    for key in ("type.landing_weight", "ship.deck_height", "ship.greatest_speed"):
        assert sources[key] == "given in the plan", key


def test_the_wing_carries_the_weight_at_the_stall_that_was_given() -> None:
    """Own arithmetic: weight = half density speed squared area lift; density 1.225 kg/m3, g 9.80665 m/s2."""
    day = drafted(sketch(stall=68.0))
    lift = 0.5 * 1.225 * (68 * KNOT) ** 2 * day.number("type.wing_area") * day.number("type.lift_flap")
    assert lift == pytest.approx(9800 * POUND * 9.80665, rel=2e-3)  # the area is written to the nearest square foot


def test_a_shorter_run_takes_more_power() -> None:
    powers = [estimated_power(sketch(run=run), 28.0, 3.7) for run in (400.0, 600.0, 800.0)]
    assert powers == sorted(powers, reverse=True)


def test_the_power_gives_the_run_back() -> None:
    """Second method: the run summed up in small steps from rest, momentum theory at every speed.

    The estimate holds the acceleration of one middle speed all the way, so the two agree to a quarter only.
    """
    what = sketch()
    day = drafted(what)
    area, power = day.number("type.wing_area"), day.number("type.shaft_power") * day.number("type.figure_of_merit")
    disc = math.pi / 4.0 * day.number("type.propeller_diameter") ** 2
    drag = day.number("type.zero_lift_drag") + day.number("type.gear_drag") + 0.5 * day.number("type.flap_drag")
    speed = distance = 0.0
    while speed < 1.1 * what.stall_speed:
        low, high = 0.0, 1e5
        for _ in range(50):  # thrust T with T (V + inflow) = power
            thrust = 0.5 * (low + high)
            inflow = 0.5 * (-speed + math.sqrt(speed**2 + 2.0 * thrust / (1.225 * disc)))
            low, high = (thrust, high) if thrust * (speed + inflow) < power else (low, thrust)
        pull = thrust - 0.5 * 1.225 * speed**2 * area * drag - 0.03 * what.weight * 9.80665
        speed += 0.05 * pull / what.weight
        distance += 0.05 * speed
    assert distance == pytest.approx(what.calm_run, rel=0.25)


@given(
    ship=st.integers(17, 33),
    deck=st.integers(35, 75),
    stall=st.integers(55, 80),
    above=st.integers(8, 20),
    faster=st.integers(25, 45),
    weight=st.integers(55, 160),
    run=st.integers(450, 1100),
    wind=st.sampled_from(["calm", "360/5 kt", "070/12 kt", "215/25 kt"]),
)
@settings(max_examples=6, deadline=None, phases=[Phase.generate])
def test_sensible_numbers_make_a_plan_that_is_solved(
    ship: int, deck: int, stall: int, above: int, faster: int, weight: int, run: int, wind: str
) -> None:
    """A circuit or the reason why there is none; a person's first plan never ends in a complaint."""
    approach = stall + above
    what = sketch(
        ship=ship, deck=deck, approach=approach, stall=stall, fast=approach + faster, weight=100.0 * weight, run=run,
        wind=wind,
    )  # fmt: skip
    solution = solve(drafted(what, wind))
    assert solution.verdict
    if not isinstance(solution.circuit, CircuitResult):
        assert solution.circuit.reason
        assert any(finding.level.word == "stop" for finding in solution.findings)


def test_the_numbers_asked_for_as_examples_make_a_day_that_works() -> None:
    solution = solve(drafted(sketch()))
    assert isinstance(solution.circuit, CircuitResult)
    assert solution.verdict.startswith("Works")


def test_the_whole_day_in_the_draft_needs_only_its_marks_taken_away() -> None:
    """The block a person is shown how to go on with is a plan that works."""
    text = draft_plan(sketch(), "070/12 kt")
    start = text.index("# A whole day")
    lines = text[start:].splitlines()[1:]
    document = parse_document("mine.toml", text[:start] + "\n".join(line.removeprefix("#").strip() for line in lines))
    assert isinstance(document, Document), document
    day = day_of(document)
    assert [event.name for event in day.events] == ["first patrol"]
    assert solve(day).verdict == "Works, with 1 note."  # its type has no figures for the launch yet


def test_variation_of_a_guessed_place_is_a_guess() -> None:
    assert drafted(sketch()).givens["place.variation"].origin.source.startswith("estimated")
