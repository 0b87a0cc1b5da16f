"""Every figure can say how: each declared input resolves, and nothing undeclared moves a figure by a single bit."""

from __future__ import annotations

from dataclasses import replace
from importlib import resources
from pathlib import Path

import pytest
from tests.moving_givens import day, moved, moves

from roundown.day.solve import solve
from roundown.figures import Tracer, trace

DEMO = (Path(__file__).parents[0] / "files" / "one_flight.toml").read_text("utf-8")
CARD = (
    'headings = "compass"\ndeviation = { "000" = "2 deg E", "090" = "1 deg W", "180" = "3 deg W", "270" = "4 deg E" }'
)
WITH_CARD = DEMO.replace('headings = "magnetic"', CARD)
WHOLE_DAY = (resources.files("roundown.plan") / "demo.toml").read_text("utf-8")  # with events
AT_REST = {  # givens the demo does not feel, each with a change to the plan that lets it be felt
    "ship.greatest_speed": ("# [override.circuit]", '[override.wind]\nover_deck = "45 kt over deck"'),
    "ship.least_speed": ("140/11 kt", "140/40 kt"),
    "type.gear_limit": ("# [override.circuit]", '[override.circuit]\ninitial_speed = "140 kt"'),
    "type.flap_limit": ("# [override.circuit]", '[override.circuit]\ninitial_speed = "130 kt"'),
    "type.lift_clean": ("# [override.circuit]", '[override.circuit]\ninitial_speed = "100 kt"'),  # slow before the flap
    "doctrine.wave_off.clearance": ("fast-carrier-1944", "half-mile-1945"),  # whose final is steep enough to matter
    "ship.deck.pitch_period": ('"corbel"', '"lintel"'),  # who pitches
    "weather.winds.2.height": ("500 ft", "150 ft"),  # above the circuit
    "weather.winds.2.from": ("500 ft", "150 ft"),
    "weather.winds.2.speed": ("500 ft", "150 ft"),
}
STALLED = {"type.launch.post_stall_lift"}  # what is left past the stall: no wave-off of a planned pass goes there


@pytest.mark.parametrize("doctrine", ["fast-carrier-1944", "half-mile-1945"])
@pytest.mark.parametrize("text", [DEMO, WITH_CARD, WHOLE_DAY])
def test_every_declared_input_is_a_given_or_a_figure(doctrine: str, text: str) -> None:
    """Constructed: `trace` raises for a declaration that resolves to nothing; every figure rests on something given."""
    today = day(text.replace("fast-carrier-1944", doctrine))
    figures = solve(today).figures
    for key, figure in figures.items():
        behind = trace(key, figures, today.givens)
        assert behind or figure.value is None or not figure.how.inputs, key  # without inputs: our own round figure
        for name, given in behind.items():
            assert given.origin.source, name


@pytest.mark.parametrize("text", [WITH_CARD, WHOLE_DAY], ids=["one flight", "whole day"])
def test_moving_an_undeclared_given_moves_no_figure_by_a_bit(text: str) -> None:
    """Second method: every number given is moved by a hundredth, one at a time, and the day solved again."""
    changed, figures = moves(text)
    givens = day(text).givens
    tracer = Tracer(figures, givens)
    behind = {name: tracer.behind(name) for name in figures}
    undeclared = {
        (figure, given) for given, names in changed.items() for figure in names if given not in behind[figure]
    }
    assert undeclared == set()


def test_every_given_a_figure_is_said_to_rest_on_moves_some_figure() -> None:
    """Second method, the other way round, for inputs declared one by one; the exceptions are named above."""
    changed, figures = moves(WITH_CARD)
    declared = {name for figure in figures.values() for name in figure.how.inputs if name in changed}
    at_rest = {name for name in declared if not changed[name]}
    assert at_rest == {name for name in AT_REST if not name.startswith("weather.winds.")} | STALLED


@pytest.mark.parametrize("key", sorted(AT_REST))
def test_a_given_the_demo_does_not_feel_is_felt_on_another_day(key: str) -> None:
    """Constructed: one change to the plan each; of the declared inputs none is there for show."""
    before, after = AT_REST[key]
    assert before in WITH_CARD
    today = day(WITH_CARD.replace(before, after))
    here = solve(today).figures
    there = solve(replace(today, givens={**today.givens, key: moved(today.givens[key])})).figures
    felt = {name for name, figure in there.items() if figure.value != here[name].value}
    assert felt
    assert all(key in trace(name, here, today.givens) for name in felt)


def test_givens_that_are_only_compared_move_no_figure() -> None:
    """Constructed: what a doctrine expects of a circuit makes findings, not figures."""
    changed, _ = moves(WITH_CARD)
    for name in ("abeam", "final_bank", "final_slope"):
        assert changed[f"doctrine.expected.{name}"] == set(), name


def test_the_place_moves_the_light_alone() -> None:
    """Constructed: in one circuit nothing but sun and moon knows where on earth it is."""
    changed, _ = moves(WITH_CARD)
    for name in ("place.latitude", "place.longitude"):
        assert changed[name]
        assert all(figure.startswith("light.") for figure in changed[name]), name


def test_doctrine_of_the_launch_is_felt_by_a_day_that_launches() -> None:
    """Constructed."""
    changed, _ = moves(WHOLE_DAY)
    assert "launch_flight.speed" in changed["doctrine.wind.launch_over_deck"]
    assert "events.first_patrol.last_off" in changed["doctrine.launch.interval"]
    assert "track.periods.first_patrol_launch.order" in changed["doctrine.launch.steady_before"]
    assert "track.periods.second_patrol_recovery.end" in changed["doctrine.recovery.in_hand"]
