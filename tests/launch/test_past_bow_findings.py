"""What is said of a flight past the bow."""

from __future__ import annotations

import re

import pytest
from tests.launch.run_cases import KT, fitted, on_spot

from roundown.findings import Finding, Level
from roundown.launch.bow_findings import best_hand, bow_findings
from roundown.launch.deck_run import lift_off_airspeed, true_airspeed
from roundown.launch.facts import RunFacts
from roundown.launch.past_bow import Hand, lowest_past_bow, past_bow


def said(facts: RunFacts, airspeed: float) -> list[Finding]:
    return bow_findings(past_bow(facts, airspeed), facts, airspeed, "launch.past_bow")


def found(kind: str, part: float) -> list[Finding]:
    """part : airspeed at the bow as a part of that of lift-off."""
    facts = on_spot(kind)
    return said(facts, part * lift_off_airspeed(facts))


def test_the_sea_touched_is_a_stop() -> None:
    """Constructed."""
    (finding,) = found("brindle", 0.75)
    assert (finding.id, finding.level) == ("touches-sea", Level.STOP)
    assert finding.key == "launch.past_bow.touches_after"
    assert re.fullmatch(r"it touches the sea \d\.\d s past the bow", finding.value)
    assert finding.limit == "the deck is 62 ft over the sea"


def test_more_than_half_the_freeboard_lost_is_a_caution() -> None:
    """Constructed: a speed at which it sinks deep and does not touch."""
    (finding,) = found("ottery", 0.78)
    assert (finding.id, finding.level) == ("sinks-deep", Level.CAUTION)
    assert finding.key == "launch.past_bow.sink"
    assert finding.limit == "half the deck's height is 31 ft (own rule)"


@pytest.mark.parametrize("part", [0.72, 0.78])
def test_the_remedy_closes_the_finding_and_a_knot_less_does_not(part: float) -> None:
    """Second method: the airspeed named is flown."""
    facts = on_spot("ottery")
    (finding,) = found("ottery", part)
    match = re.match(r"Pass the bow at (\d+) kt or more: ", finding.remedy)
    assert match
    shown = float(match[1]) * KT
    assert said(facts, true_airspeed(shown, facts)) == []
    assert lowest_past_bow(facts, true_airspeed(shown - KT, facts)) < 0.5 * facts.deck_height


def test_where_no_airspeed_would_do_the_load_is_named() -> None:
    """Constructed: hopelessly slow."""
    (finding,) = said(on_spot("ottery"), 15.0)
    assert finding.remedy == "Load it lighter: 20 kt more at the bow would not do."


def test_no_climb_is_a_stop() -> None:
    """Constructed: the weight just carried, hardly any thrust, a deck so high that the sea is out of reach."""
    facts = on_spot("ottery")
    weak = fitted(facts, shaft_power=0.02 * facts.aeroplane.shaft_power)
    high = RunFacts(**{**vars(weak), "deck_height": 2000.0})
    airspeed = 0.98 * lift_off_airspeed(high)
    (finding,) = said(high, airspeed)
    assert (finding.id, finding.level) == ("no-climb", Level.STOP)
    assert finding.value == "in 30 s past the bow it never climbs"


@pytest.mark.parametrize("part", [0.95, 1.0, 1.1])
def test_nothing_is_said_of_a_good_launch(part: float) -> None:
    assert found("sallow", part) == []


def test_the_better_technique_is_a_sentence() -> None:
    """Constructed: each of the two once."""
    facts = on_spot("ottery")
    sentences = {}
    for part in (0.9, 1.05):
        past = past_bow(facts, part * lift_off_airspeed(facts))
        sentences[past.best] = best_hand(past)
    assert sentences == {
        Hand.HOLDING: "Hold the attitude of the bow until it climbs.",
        Hand.EASING: "Ease the nose up, never to the stall, and gather speed in a shallow climb.",
    }
