"""What is wrong with a spot, and who goes first. Constructed cases."""

from __future__ import annotations

import pytest
from tests.launch.spot_cases import DECK, LARGE, MIDDLE, SMALL, load_of

from roundown.findings import Level
from roundown.launch.deck_plan import Deck, island
from roundown.launch.launch_order import need_findings, order_by_need
from roundown.launch.spot import Parked, Pin, SpotRules, spot
from roundown.launch.spot_findings import spot_findings


def rules_of(load: list[Parked], deck: Deck = DECK) -> list[str]:
    return [finding.id for finding in spot_findings(spot(load, deck), load, deck)]


def test_a_spot_that_closes_has_no_finding() -> None:
    assert rules_of(load_of(SMALL, MIDDLE, LARGE)) == []


def test_a_load_that_does_not_fit_says_how_many_do() -> None:
    load = load_of(*[LARGE] * 90)
    spotting = spot(load, DECK)
    (found,) = [each for each in spot_findings(spotting, load, DECK) if each.id == "spot-does-not-fit"]
    assert found.level is Level.STOP
    assert f"{len(spotting.places)} of 90 stand" in found.value
    assert f"Range {len(spotting.places)} " in found.remedy


@pytest.mark.parametrize(
    ("pins", "rule"),
    [
        ([Pin(60.0, 13.0)], "spot-pin-off-deck"),
        ([Pin(3.0, 0.0)], "spot-pin-off-deck"),
        ([Pin(249.5, 0.0)], "spot-pin-off-deck"),
        ([Pin(130.0, -8.0)], "spot-pin-near"),
        ([Pin(60.0, 0.0), Pin(60.0, 3.0)], "spot-pin-near"),
        ([Pin(60.0, 0.0), Pin(60.0, 5.5)], "spot-pin-near"),
        ([Pin(60.0, 0.0), Pin(90.0, 0.0)], "spot-order"),
    ],
)
def test_a_pin_that_cannot_be_is_named(pins: list[Pin], rule: str) -> None:
    load = [Parked(f"no {i}", MIDDLE, pin) for i, pin in enumerate(pins, 1)]
    found = spot_findings(spot(load, DECK), load, DECK)
    assert [each.id for each in found] == [rule]
    assert found[0].level is Level.STOP
    assert "no 1" in found[0].value


def test_pins_that_keep_clear_in_order_pass() -> None:
    assert rules_of([Parked("one", MIDDLE, Pin(90.0, 0.0)), Parked("two", MIDDLE, Pin(60.0, 8.0))]) == []


def test_an_island_the_wings_do_not_pass_is_a_caution_with_the_line_that_passes() -> None:
    """Own arithmetic: half of 15.8 m and 4 ft from an inboard edge 7 m to starboard: 2.12 m, 7.0 ft, to port."""
    deck = Deck(250.0, 28.0, 25.0, 200.0, keep_outs=(island(130.0, 40.0, 7.0, 28.0),))
    load = load_of(LARGE)
    (found,) = spot_findings(spot(load, deck), load, deck)
    assert (found.id, found.level) == ("spot-line", Level.CAUTION)
    assert found.remedy == "Launch 7.0 ft to port of the centre line, spot.line."
    rules = SpotRules(line=2.12)
    assert spot_findings(spot(load, deck, rules), load, deck, rules) == []


def test_no_place_to_spread_before_the_bow_is_a_stop() -> None:
    load = [Parked("one", SMALL, Pin(240.0, 10.0))]
    (found,) = spot_findings(spot(load, Deck(240.95, 28.0, 28.0, 200.0)), load, Deck(240.95, 28.0, 28.0, 200.0))
    assert found.id == "spot-no-run"


def test_those_that_need_least_run_go_first() -> None:
    needs = {"heavy": 140.0, "light": 70.0, "scout": 90.0, "another": 70.0}
    assert order_by_need(needs) == ("light", "another", "scout", "heavy")


def test_another_order_is_the_remedy_where_there_is_one() -> None:
    load = load_of(*[MIDDLE] * 6)
    spotting = spot(load, DECK)
    runs = {key: place.run_left for key, place in spotting.places.items()}
    assert need_findings(spotting, runs) == []
    needs = dict.fromkeys(runs, 80.0) | {"no 1": runs["no 1"] + 20.0}
    (found,) = need_findings(spotting, needs)
    assert (found.id, found.level) == ("spot-run-short", Level.STOP)
    assert "66 ft more" in found.limit  # 20 m
    hopeless = {key: run + 10.0 for key, run in runs.items()}
    (found,) = need_findings(spotting, dict.fromkeys(hopeless, 300.0))
    assert found.id == "spot-order-impossible"
    assert "5 more are short" in found.value
