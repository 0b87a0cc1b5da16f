"""Cues of the pilot, against closed forms and against the path looked through by brute force."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from roundown.recovery.circuit import Circuit
from roundown.recovery.clock_cues import clock_cues, cue_sentences
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult
from roundown.recovery.spacing import circuit_track

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
YD = 0.9144  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2
INSTANT = 1e4  # rad/s, a roll that takes no time to speak of


def test_the_clock_runs_as_plain_trigonometry_has_it(sea_level: Make, solved: Solve) -> None:
    """Closed form, all at 90 kt, 30 kt over the deck, no time to roll: half turns of pi V / (g tan 30), the turn-in
    w T ahead of the ramp, so that with 250 m of deck it comes before the bow is abeam.
    """
    speeds = {"initial_speed": 90.0 * KT, "downwind_speed": 90.0 * KT}
    facts = sea_level(aeroplane={"roll_rate": INSTANT}, **speeds)
    found = clock_cues(solved(facts)[1], facts)
    v, w = 90.0 * KT, 30.0 * KT
    half = math.pi * v / (G * math.tan(30.0 * DEG))
    ahead = w * half
    down = (250.0 + 1852.0 - 2.0 * ahead) / (v + w)
    assert found.initial_to_break == pytest.approx(1852.0 / (v - w), abs=0.01)
    assert found.break_to_downwind == pytest.approx(half, abs=0.01)
    assert found.downwind_to_turn_in == pytest.approx(down, abs=0.02)
    assert found.break_to_turn_in == pytest.approx(half + down, abs=0.02)
    assert found.turn_in_to_ninety == pytest.approx(half / 2.0, abs=0.01)
    assert found.ninety_to_ramp == pytest.approx(half / 2.0, abs=0.01)
    assert found.turn_in_after_bow == pytest.approx((250.0 - ahead) / (v + w), abs=0.01)
    assert found.turn_in_after_ramp == pytest.approx(-ahead / (v + w), abs=0.01)
    assert found.downwind_after_bow is None
    assert found.turn_in_ahead_of_bow == pytest.approx(ahead - 250.0, abs=0.1)
    assert found.turn_in_along_deck == pytest.approx(ahead / 250.0, abs=1e-3)
    width = 2.0 * v * v / (G * math.tan(30.0 * DEG))
    assert found.turn_in_abeam == pytest.approx(width, abs=0.1)
    assert found.ramp_off_nose == pytest.approx(math.atan2(width, ahead), abs=1e-4)
    assert found.bow_off_nose == pytest.approx(math.atan2(width, ahead - 250.0), abs=1e-4)


def test_in_a_calm_he_turns_in_abeam_of_the_ramp_with_the_bow_long_past(sea_level: Make, solved: Solve) -> None:
    """Limit case: no wind over the deck and all at 90 kt, so the turn ends where it began along the deck. The bow was
    abeam 250 m before: 5.4 s.
    """
    speeds = {"initial_speed": 90.0 * KT, "downwind_speed": 90.0 * KT}
    facts = sea_level(ship_speed=0.0, winds=np.zeros((1, 3)), aeroplane={"roll_rate": INSTANT}, **speeds)
    result = solved(facts)[1]
    found = clock_cues(result, facts)
    assert found.turn_in_ahead_of_ramp == pytest.approx(0.0, abs=0.1)
    assert found.turn_in_after_bow == pytest.approx((250.0 - found.turn_in_ahead_of_ramp) / (90.0 * KT), abs=0.01)
    track = circuit_track(result)
    between = (track.time > track.gates["downwind"]) & (track.time < track.gates["turn-in"])
    order = np.flatnonzero(between)[::-1]
    bow_abeam = float(np.interp(250.0, track.ahead[order], track.time[order]))
    assert found.turn_in_after_bow == pytest.approx(track.gates["turn-in"] - bow_abeam, abs=0.01)
    assert found.downwind_after_bow == pytest.approx(bow_abeam - track.gates["downwind"], abs=0.01)
    sentences = cue_sentences(found, facts)
    assert sentences["turn_in_after_bow"].startswith("Start the clock with the bow abeam and turn in at 5.4 s")


@pytest.mark.parametrize("hand", [-1, 1])
def test_bearings_off_the_nose_are_those_of_vectors(demo_facts: CircuitFacts, solved: Solve, hand: int) -> None:
    """Second method: angle between the nose and the line to ramp or bow, by the scalar product, over the earth."""
    facts = replace(demo_facts, hand=hand)
    result = solved(facts)[1]
    found = clock_cues(result, facts)
    ahead = np.array([math.sin(facts.ship_course), math.cos(facts.ship_course)])
    for name, point, bearing in (
        ("turn-in", 0.0, found.ramp_off_nose),
        ("turn-in", facts.deck_length, found.bow_off_nose),
        ("ninety", 0.0, found.ninety_off_nose),
    ):
        gate = result.gates[name]
        ship = (gate.time + result.initial_to_break) * facts.ship_speed * ahead
        line = ship + point * ahead - np.array([gate.east, gate.north])
        nose = np.array([math.sin(gate.heading), math.cos(gate.heading)])
        assert math.cos(bearing) == pytest.approx(float(line @ nose / np.linalg.norm(line)), abs=1e-9)


def test_times_from_gate_to_gate_add_up_to_the_circuit(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Own arithmetic from the figures shown."""
    result = solved(demo_facts)[1]
    found = clock_cues(result, demo_facts)
    total = found.break_to_turn_in + found.turn_in_to_ninety + found.ninety_to_ramp
    assert total == pytest.approx(result.break_to_ramp)
    assert found.break_to_downwind + found.downwind_to_turn_in == pytest.approx(found.break_to_turn_in)
    assert found.ramp_off_nose == pytest.approx(result.ramp_off_nose)


def test_every_cue_is_one_plain_sentence_with_its_figures(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Constructed: one full stop at the end, and the ship to the side of the circuit's hand."""
    for hand, side in ((-1, "port"), (1, "starboard")):
        facts = replace(demo_facts, hand=hand)
        cues = clock_cues(solved(facts)[1], facts)
        sentences = cue_sentences(cues, facts)
        assert sentences["turn_in_abeam"].endswith(f"to {side}.")
        for key, text in sentences.items():
            assert hasattr(cues, key), key
            assert text.endswith(".")
            assert ". " not in text
            assert any(letter.isdigit() for letter in text)


@pytest.mark.parametrize(
    ("ahead", "says"),
    [
        (300.0, "before the bow comes abeam"),
        (200.0, "forward third of the deck abeam"),
        (125.0, "middle third"),
        (40.0, "after third"),
        (-30.0, "past the ramp"),
    ],
)
def test_the_part_of_the_ship_abeam_is_named(demo_facts: CircuitFacts, solved: Solve, ahead: float, says: str) -> None:
    """Constructed: a deck of 250 m, the turn-in moved along it."""
    facts = replace(demo_facts, deck_length=250.0)
    found = clock_cues(solved(demo_facts)[1], facts)
    moved = replace(
        found, turn_in_ahead_of_ramp=ahead, turn_in_ahead_of_bow=ahead - 250.0, turn_in_along_deck=ahead / 250.0
    )
    assert says in cue_sentences(moved, facts)["turn_in_ahead_of_ramp"]
