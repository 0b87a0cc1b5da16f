"""What would do for a spot: the least wind over the deck, the heaviest load, the least flap; and what a change costs.

*Method:* root of the deck left at lift-off, by a scan and Brent's method (motion/solve.py) on the integrated run
(launch/kernel.py). Where the scan meets no root the answer is None with the reason.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from roundown.errors import NoSolution
from roundown.figures import figure
from roundown.launch.deck_run import RUN_INPUTS, deck_of, lift_off_airspeed, roll
from roundown.launch.facts import RunFacts
from roundown.launch.kernel import FARTHEST, O_BOW_SPEED, O_OFF_PLACE, airspeed_at
from roundown.motion.solve import find_root
from roundown.quantities import KNOT, LENGTH, MASS, SPEED_MARGIN, WIND_OVER_DECK, write

MOST_WIND = 60.0 * KNOT  # over the deck, as far as a need is looked for; own rule
_SCANNED = {"wind": 12, "mass": 12, "flap": 20}  # intervals of each scan
_CHANGE = "difference of two integrated runs (launch/kernel.py)"


@dataclass(frozen=True)
class Need:
    """What would do, SI; None where nothing does. reason : why there is none, or why it is an end of what was tried."""

    value: float | None
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class Sensitivity:
    """What one change does to the run. None where it does not lift off, or does not reach the bow, with or without."""

    longer: float | None = figure(LENGTH, "what the change adds to the run needed", _CHANGE, RUN_INPUTS)
    slower: float | None = figure(
        SPEED_MARGIN, "what the change takes from the margin over lift-off speed at the bow", _CHANGE, RUN_INPUTS
    )


def deck_left(facts: RunFacts, in_hand: float = 0.0) -> float:
    """Deck left ahead of the wheels at lift-off [m], less what is to be kept in hand [m]; below nothing: short by that.

    Where it never lifts off it is short by more than any run that does.
    """
    place = roll(facts)[O_OFF_PLACE]
    return facts.run - in_hand - place if math.isfinite(place) else -2.0 * FARTHEST


def least_wind(facts: RunFacts, in_hand: float = 0.0) -> Need:
    """Least wind over the deck from ahead that lets it fly off [m/s]; the wind across stays as it is.

    in_hand : deck to be left ahead of the wheels at lift-off [m]
    """

    def left(wind: float) -> float:
        return deck_left(replace(facts, wind_ahead=wind), in_hand)

    if facts.run <= in_hand:
        return Need(None, f"there is no deck beside the {write(in_hand, LENGTH)} to be kept in hand")
    if left(0.0) >= 0.0:
        return Need(0.0, "it flies off in a calm")
    return _first(left, 0.0, MOST_WIND, "wind", f"not even {write(MOST_WIND, WIND_OVER_DECK)} over the deck does")


def heaviest(facts: RunFacts, least: float, most: float, in_hand: float = 0.0) -> Need:
    """Greatest mass at which it flies off [kg], everything else as it is.

    least, most : masses between which it is looked for [kg]; in_hand : deck to be left at lift-off [m]
    """

    def left(mass: float) -> float:
        return deck_left(replace(facts, aeroplane=replace(facts.aeroplane, mass=mass)), in_hand)

    if left(most) >= 0.0:
        return Need(most, f"it flies off at {write(most, MASS)}, the most that was tried")
    if left(least) < 0.0:
        return Need(None, f"not even {write(least, MASS)} flies off")
    return _first(left, least, most, "mass", "no weight was found")


def least_flap(facts: RunFacts, in_hand: float = 0.0) -> Need:
    """Least part of full flap with which it flies off, 0 to 1: more lowers the lift-off speed but drags.

    in_hand : deck to be left ahead of the wheels at lift-off [m]
    """

    def left(flap: float) -> float:
        return deck_left(replace(facts, aeroplane=replace(facts.aeroplane, flap=flap)), in_hand)

    if left(0.0) >= 0.0:
        return Need(0.0, "it flies off with the flap up")
    return _first(left, 0.0, 1.0, "flap", "no setting of the flap does")


def sensitivities(facts: RunFacts) -> Mapping[str, Sensitivity]:
    """What a tenth more weight, 5 kt less wind, half the flap and a tenth less power cost, by name."""
    craft = facts.aeroplane
    changed = {
        "weight_up_10_percent": replace(facts, aeroplane=replace(craft, mass=1.1 * craft.mass)),
        "wind_down_5_kt": replace(facts, wind_ahead=facts.wind_ahead - 5.0 * KNOT),
        "half_the_flap": replace(facts, aeroplane=replace(craft, flap=0.5 * craft.flap)),
        "power_down_10_percent": replace(facts, aeroplane=replace(craft, shaft_power=0.9 * craft.shaft_power)),
    }
    run, margin = _run_and_margin(facts)
    found = {}
    for name, other in changed.items():
        other_run, other_margin = _run_and_margin(other)
        found[name] = Sensitivity(longer=_known(other_run - run), slower=_known(margin - other_margin))
    return found


def _first(left: Callable[[float], float], low: float, high: float, name: str, reason: str) -> Need:
    try:
        return Need(find_root(left, low, high, f"the {name} of a run", steps=_SCANNED[name], tolerance=1e-9))
    except NoSolution:
        return Need(None, reason)


def _run_and_margin(facts: RunFacts) -> tuple[float, float]:
    """Run needed [m] and true airspeed at the bow over lift-off [m/s], NaN where there is none."""
    outcome = roll(facts)
    return outcome[O_OFF_PLACE], airspeed_at(outcome[O_BOW_SPEED], deck_of(facts)) - lift_off_airspeed(facts)


def _known(value: float) -> float | None:
    return value if math.isfinite(value) else None
