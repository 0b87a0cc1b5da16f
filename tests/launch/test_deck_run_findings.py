"""What is said of a run, and that every remedy mends it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from tests.launch.run_cases import FT, KT, LB, fitted, on_spot

from roundown.findings import Finding, Level
from roundown.launch.clearance import Clearance
from roundown.launch.deck_run import deck_run
from roundown.launch.facts import RunFacts
from roundown.launch.findings import COMMON, Room, clearance_findings, run_findings

ROOM = Room(least_mass=8_000.0 * LB, aft=400.0 * FT)


def found(facts: RunFacts, room: Room = ROOM) -> dict[str, Finding]:
    return {each.id: each for each in run_findings(deck_run(facts), facts, COMMON, room)}


def figure(pattern: str, text: str) -> float:
    match = re.search(pattern, text)
    assert match, text
    return float(match[1].replace(",", ""))


def test_good_run_has_nothing_to_say() -> None:
    assert found(on_spot(run=500.0)) == {}


@pytest.mark.parametrize(("run", "rule"), [(330.0, "run-short"), (415.0, "run-thin")])
def test_every_remedy_closes_the_finding(run: float, rule: str) -> None:
    """Round trip: wind, weight or spot of the remedy put back; no finding of the run is left."""
    facts = on_spot(run=run)
    remedy = found(facts)[rule].remedy
    wind = figure(r"ave (\d+) kt over the deck", remedy)
    weight = figure(r"load it to ([\d,]+) lb", remedy)
    aft = figure(r"spot it (\d+) ft further aft", remedy)
    assert found(replace(facts, wind_ahead=wind * KT)) == {}
    assert found(fitted(facts, mass=weight * LB)) == {}
    assert found(replace(facts, run=facts.run + aft * FT)) == {}
    assert found(replace(facts, wind_ahead=(wind - 1.0) * KT))
    assert found(replace(facts, run=facts.run + (aft - 1.0) * FT))


def test_short_run_is_a_stop_and_says_by_how_much() -> None:
    short = found(on_spot(run=330.0))["run-short"]
    assert short.level is Level.STOP
    assert short.value.startswith("it needs 401 ft and it passes the bow at ")
    assert short.limit == "the spot leaves 330 ft"
    thin = found(on_spot(run=415.0))["run-thin"]
    assert thin.level is Level.CAUTION
    assert thin.value == "14 ft of deck are left at lift-off"


def test_remedy_that_is_not_to_be_had_is_not_named() -> None:
    """No deck behind the spot, nothing to unload, and no wind within the limits that does."""
    facts = on_spot(run=150.0)
    heavy = facts.aeroplane.mass
    assert found(facts, Room(least_mass=heavy))["run-short"].remedy == "Take less, or use the catapult."
    without = found(facts, Room(least_mass=heavy, catapult=False))["run-short"].remedy
    assert "catapult" not in without
    few = found(on_spot(run=415.0), Room(least_mass=heavy, most_wind=31.0 * KT))["run-thin"].remedy
    assert "over the deck" not in few


def test_full_power_and_flap_are_remedies_that_close_it() -> None:
    """Round trip: what the remedy names put back; no finding of the run is left."""
    full = on_spot(run=470.0)
    weak = fitted(full, shaft_power=0.85 * full.aeroplane.shaft_power)
    room = Room(least_mass=weak.aeroplane.mass, full_power=full.aeroplane.shaft_power)
    (finding,) = found(weak, room).values()
    assert "use full power" in finding.remedy.lower()
    assert found(full, room) == {}
    little = fitted(on_spot(run=480.0), flap=0.0)
    part = figure(r"et (\d+) % of full flap", next(iter(found(little, room).values())).remedy)
    assert found(fitted(little, flap=0.01 * part)) == {}


def test_aeroplane_without_power_is_a_stop() -> None:
    short = found(fitted(on_spot(wind=30.0), shaft_power=1_000.0))["run-short"]
    assert short.value == "it does not gain speed enough to reach the bow"


def test_weak_and_strong_wind_are_outside() -> None:
    assert found(on_spot(wind=20.0, run=900.0))["wind-outside"].remedy == "Steam faster into the wind."
    strong = found(on_spot(wind=44.0, run=900.0))["wind-outside"]
    assert strong.level is Level.CAUTION
    assert strong.limit == "25.0 kt to 40.0 kt are wanted to launch"


@pytest.mark.parametrize(("across", "side"), [(9.0, "starboard"), (-9.0, "port")])
def test_wind_across_the_deck_says_its_side(across: float, side: str) -> None:
    assert found(on_spot(run=500.0, across=across))["crosswind"].value == f"9.0 kt across the deck from {side}"
    assert "crosswind" not in found(on_spot(run=500.0, across=across * 0.8))


def test_wingtip_near_is_a_caution_and_on_it_a_stop() -> None:
    near = clearance_findings(Clearance(least=2.0 * FT, place=90.0, past="island"), COMMON)
    assert [each.level for each in near] == [Level.CAUTION]
    assert near[0].value == "a wingtip passes the island by 2.0 ft"
    assert near[0].remedy == "Move the launch line 3.0 ft away from the island, or hold the swing sooner."
    struck = clearance_findings(Clearance(least=-1.0, place=90.0, past="island"), COMMON)
    assert [each.level for each in struck] == [Level.STOP]
    assert clearance_findings(Clearance(least=9.0 * FT, place=90.0, past="island"), COMMON) == []
    assert clearance_findings(None, COMMON) == []
