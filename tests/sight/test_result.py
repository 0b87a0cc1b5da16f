"""The figures of what is seen: against their own parts, by mirror, and where there are none."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.sight.sight_cases import COCKPIT, DEG, FT, KT, LIFTING, SHIP, half_turn, lying

from roundown.figures import figures_of
from roundown.sight.facts import SightFacts
from roundown.sight.result import SightResult, sight


def figures(result: SightResult) -> dict[str, float | None]:
    return {each.key: each.value for each in figures_of(result)}


@pytest.fixture(scope="module")
def seen() -> SightResult:
    return sight(without_break(half_turn()))


def without_break(facts: SightFacts) -> SightFacts:
    return replace(facts, gates={name: time for name, time in facts.gates.items() if name != "break"})


def test_at_the_ninety_the_horizon_is_on_the_island(seen: SightResult) -> None:
    """By hand: wheels at 145 ft half-way down from 200 to 90 ft; the eye 8 ft over them, 25 degrees of bank: 7.3 ft."""
    gate = seen.gates["ninety"]
    assert gate.eye_height is not None
    assert gate.horizon_cut is not None
    assert gate.horizon_over_deck is not None
    assert gate.eye_height / FT == pytest.approx(145.0 + 8.4 * math.cos(25 * DEG), abs=1.0)
    assert gate.eye_height > gate.horizon_cut > 0.9 * gate.eye_height
    assert gate.horizon_over_deck == pytest.approx(gate.horizon_cut - 65 * FT)


@pytest.mark.parametrize("name", ["turn-in", "ninety"])
def test_the_ramp_stands_where_quaternions_put_it(seen: SightResult, name: str) -> None:
    """Second method: the fuselage turned about its own axes, the ramp lowered by the round sea."""
    there = seen.attitudes.at(seen.facts.gates[name])
    body = lying(float(there.heading[0]), float(there.pitch[0]), float(there.bank[0]))
    wheels = np.array([there.ahead[0], there.port[0], there.height[0] - SHIP.deck_height])
    eye = wheels + body @ (-COCKPIT.eye_behind, 0.0, COCKPIT.eye_height)
    line = -eye
    line[2] -= (eye[0] ** 2 + eye[1] ** 2) / (1.169 * 1852.0) ** 2 * FT
    forward, port, _ = body.T @ line
    gate = seen.gates[name]
    assert gate.ramp_azimuth == pytest.approx(math.atan2(port, forward), abs=1e-9)
    if name == "ninety":  # at this turn-in the ramp is abaft the beam, and not beside the nose
        assert gate.beside_nose == pytest.approx(math.atan2(port, forward) - 12.356 * DEG, abs=1e-4)
    height = float(eye[2]) + SHIP.deck_height
    dip = 0.97 * math.sqrt(height / FT) / 60 * DEG
    assert gate.ramp_below_horizon == pytest.approx(math.atan2(-line[2], math.hypot(*line[:2])) - dip, abs=2e-5)


def test_left_and_right_hand_figures_are_the_same(seen: SightResult) -> None:
    """Mirror: only the officer stands on the other side of the aeroplane."""
    left, right = figures(seen), figures(sight(without_break(half_turn(1))))
    for key, value in left.items():
        if not key.endswith("officer_span"):
            assert right[key] == pytest.approx(value, abs=1e-8), key


def test_over_the_ramp_the_ramp_has_no_place_beside_the_nose(seen: SightResult) -> None:
    gate = seen.gates["ramp"]
    assert gate.ramp_azimuth is gate.beside_nose is gate.clear_of_nose is gate.deck_angle is None
    assert gate.eye_height is not None
    assert gate.officer_span is not None


def test_the_curved_approach_shows_what_the_straight_one_hides(seen: SightResult) -> None:
    """Direction: PRO-87 and its sources look out of the left side because the nose hides the deck."""
    assert seen.straight_ramp_lost is not None
    assert seen.straight_wire_lost is not None
    assert seen.straight_ramp_hidden == pytest.approx(seen.straight_ramp_lost / (50 * KT))
    assert seen.straight_wire_lost < seen.straight_ramp_lost
    assert seen.final_ramp_hidden is not None
    assert seen.straight_ramp_hidden is not None
    assert seen.final_ramp_hidden < seen.straight_ramp_hidden


def test_the_edge_of_the_nose_comes_onto_the_ramp_when_its_azimuth_is_that_of_the_edge(seen: SightResult) -> None:
    """Second method: the ramp's azimuth at that instant."""
    assert seen.edge_on_ramp is not None
    gates = {"then": seen.facts.gates["ramp"] - seen.edge_on_ramp, **seen.facts.gates}
    then = sight(replace(seen.facts, gates=gates)).gates["then"]
    assert then.beside_nose == pytest.approx(0.0, abs=0.001)


def test_a_stalled_way_has_no_figures_and_no_error() -> None:
    """Limit case: a wing of a third the lift."""
    facts = without_break(half_turn())
    stalled = sight(replace(facts, lifting=replace(LIFTING, lift_flap=0.7, lift_clean=0.5)))
    assert all(value is None for value in figures(stalled).values())


def test_keys_are_words_and_every_figure_names_what_it_rests_on(seen: SightResult) -> None:
    for each in figures_of(seen, "sight."):
        assert each.how.inputs
        assert each.how.sentence
        assert each.how.method
