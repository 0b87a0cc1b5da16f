"""What is wrong past the bow: the sea touched, a deep sink, no climb; and what mends it."""

from __future__ import annotations

import math

from roundown.findings import Finding, Level
from roundown.launch.deck_run import indicated_airspeed, true_airspeed
from roundown.launch.facts import RunFacts
from roundown.launch.past_bow import LONGEST, Hand, PastBow, lowest_past_bow
from roundown.quantities import HEIGHT_OVER_SEA, INDICATED_SPEED, KNOT, LENGTH, TIME, write

DEEP = 0.5  # sink as a part of the deck's height from which it is a caution; own rule
MOST_MORE = 20  # kt more at the bow that a remedy looks for

_WAYS = "more wind over the deck, a longer run or a lighter load"


def bow_findings(past: PastBow, facts: RunFacts, airspeed: float, key: str = "past_bow") -> list[Finding]:
    """Findings of a flight past the bow of those facts, worst first.

    airspeed : true, at the bow, as past_bow was given it [m/s]; key : stem of the figures they are about
    """
    if past.touches_after is not None:
        when = f"it touches the sea {write(past.touches_after, TIME)} past the bow"
        limit = f"the deck is {write(facts.deck_height, HEIGHT_OVER_SEA)} over the sea"
        return [Finding("touches-sea", Level.STOP, f"{key}.touches_after", when, limit, _remedy(facts, airspeed))]
    if past.climb_after is None:
        value = f"in {write(LONGEST, TIME, decimals=0)} past the bow it never climbs"
        limit = "a climb is wanted"
        return [
            Finding("no-climb", Level.STOP, f"{key}.climb_after", value, limit, "Load it lighter, or set more power.")
        ]
    if past.sink <= DEEP * facts.deck_height:
        return []
    value = f"it sinks {write(past.sink, LENGTH)} below the deck, to {write(past.lowest_height, HEIGHT_OVER_SEA)}"
    limit = f"half the deck's height is {write(DEEP * facts.deck_height, LENGTH)} (own rule)"
    return [
        Finding("sinks-deep", Level.CAUTION, f"{key}.sink", f"{value} over the sea", limit, _remedy(facts, airspeed))
    ]


def best_hand(past: PastBow) -> str:
    """The better technique as a sentence."""
    match past.best:
        case Hand.HOLDING:
            return "Hold the attitude of the bow until it climbs."
        case Hand.EASING | Hand.PULLING:
            return "Ease the nose up, never to the stall, and gather speed in a shallow climb."


def _remedy(facts: RunFacts, airspeed: float) -> str:
    """The whole indicated airspeed at the bow from which the sink is not deep."""
    slowest = math.ceil(indicated_airspeed(airspeed, facts) / KNOT + 1e-6)
    for whole in range(slowest, slowest + MOST_MORE + 1):
        shown = whole * KNOT
        if lowest_past_bow(facts, true_airspeed(shown, facts)) >= (1.0 - DEEP) * facts.deck_height:
            return f"Pass the bow at {write(shown, INDICATED_SPEED)} or more: {_WAYS}."
    return f"Load it lighter: {MOST_MORE} kt more at the bow would not do."
