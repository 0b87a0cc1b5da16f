"""Every figure can say how: each declared input resolves, and nothing undeclared moves a figure by a single bit."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from importlib import resources
from pathlib import Path

import pytest

from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.figures import Figure, Given, trace
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.quantities import Band

DEG = math.pi / 180.0
DEMO = (Path(__file__).parents[0] / "files" / "one_flight.toml").read_text("utf-8")
CARD = (
    'headings = "compass"\ndeviation = { "000" = "2 deg E", "090" = "1 deg W", "180" = "3 deg W", "270" = "4 deg E" }'
)
WITH_CARD = DEMO.replace('headings = "magnetic"', CARD)
WHOLE_DAY = (resources.files("roundown.plan") / "demo.toml").read_text("utf-8")  # with events
STEP = 0.5 * DEG  # rad, for a given that is nil and has no hundredth
AT_REST = {  # givens the demo does not feel, each with a change to the plan that lets it be felt
    "ship.greatest_speed": ("# [override.circuit]", '[override.wind]\nover_deck = "45 kt over deck"'),
    "ship.least_speed": ("140/11 kt", "140/40 kt"),
    "ship.island_place": ("# [override.circuit]", '[override.circuit]\nbreak_place = "1 nm ahead of island"'),
    "type.gear_limit": ("# [override.circuit]", '[override.circuit]\ninitial_speed = "140 kt"'),
    "type.flap_limit": ("# [override.circuit]", '[override.circuit]\ninitial_speed = "130 kt"'),
    "type.lift_clean": ("# [override.circuit]", '[override.circuit]\ninitial_speed = "100 kt"'),  # slow before the flap
    "weather.winds.2.height": ("500 ft", "150 ft"),  # above the circuit
    "weather.winds.2.from": ("500 ft", "150 ft"),
    "weather.winds.2.speed": ("500 ft", "150 ft"),
}


def day(text: str) -> Day:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


def moved(given: Given) -> Given:
    """The given a hundredth greater, band and all; the other hand for a hand."""
    if given.kind is None:
        return replace(given, word={"left": "right", "right": "left"}[given.word])
    if given.value == 0.0 and given.band.high == 0.0:
        return replace(given, value=STEP, band=Band(STEP, STEP, STEP))
    band = Band(1.01 * given.band.low, 1.01 * given.band.aim, 1.01 * given.band.high)
    return replace(given, value=1.01 * given.value, band=band)


def movable(today: Day) -> Iterator[str]:
    """Every number given, and the hand."""
    for key, given in today.givens.items():
        if given.kind is not None or given.word in ("left", "right"):
            yield key


@cache
def moves(text: str = WITH_CARD) -> tuple[dict[str, set[str]], dict[str, Figure]]:
    """For each given of a plan the figures that change, or come to be, when it alone is moved; and the figures."""
    today = day(text)
    memory = Memory()
    before = solve(today, memory).figures
    changed, found = {}, dict(before)
    for key in movable(today):
        after = solve(replace(today, givens={**today.givens, key: moved(today.givens[key])}), memory).figures
        assert after.keys() >= before.keys(), key
        new = after.keys() - before.keys()
        found |= {name: after[name] for name in new}
        changed[key] = {*new, *(name for name in before if after[name].value != before[name].value)}
    return changed, found


@pytest.mark.parametrize("doctrine", ["fast-carrier-1944", "half-mile-1945"])
@pytest.mark.parametrize("text", [DEMO, WITH_CARD, WHOLE_DAY])
def test_every_declared_input_is_a_given_or_a_figure(doctrine: str, text: str) -> None:
    """Constructed: `trace` raises for a declaration that resolves to nothing; every figure rests on something given."""
    today = day(text.replace("fast-carrier-1944", doctrine))
    figures = solve(today).figures
    for key, figure in figures.items():
        behind = trace(key, figures, today.givens)
        assert behind or figure.value is None, key
        for name, given in behind.items():
            assert given.origin.source, name


@pytest.mark.parametrize("text", [WITH_CARD, WHOLE_DAY], ids=["one flight", "whole day"])
def test_moving_an_undeclared_given_moves_no_figure_by_a_bit(text: str) -> None:
    """Second method: every number given is moved by a hundredth, one at a time, and the day solved again."""
    changed, figures = moves(text)
    givens = day(text).givens
    undeclared = {
        (figure, given)
        for given, names in changed.items()
        for figure in names
        if given not in trace(figure, figures, givens)
    }
    assert undeclared == set()


def test_every_given_a_figure_is_said_to_rest_on_moves_some_figure() -> None:
    """Second method, the other way round; the exceptions are named above."""
    changed, figures = moves()
    givens = day(WITH_CARD).givens
    declared = {name for key in figures for name in trace(key, figures, givens) if name in changed}
    at_rest = {name for name in declared if not changed[name]}
    assert at_rest == set(AT_REST)


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
    """Constructed: a doctrine's expectations and its greatest bank make findings, not figures."""
    changed, _ = moves()
    compared = [name for name in changed if name.startswith("doctrine.expected.")]
    assert len(compared) == 4
    for name in (*compared, "doctrine.circuit.greatest_bank", "ship.deck_width", "type.wing_span"):
        assert changed[name] == set(), name


def test_the_place_moves_the_light_alone() -> None:
    """Constructed: in one circuit nothing but sun and moon knows where on earth it is."""
    changed, _ = moves()
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
