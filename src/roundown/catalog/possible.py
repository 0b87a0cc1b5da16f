"""Values that are allowed one by one, and cannot be together: a type or a ship like that is not read.

*Method:* definitions and plain geometry; no figure of experience stands here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.figures import Given, Givens
from roundown.quantities import DEGREE

LEAST_STALL, GREATEST_STALL = 4.0 * DEGREE, 35.0 * DEGREE  # angles of attack at the stall, of any wing; own rule


@dataclass(frozen=True)
class Impossible:
    """key : the value to mend; limit, remedy : as in a complaint."""

    key: str
    limit: str
    remedy: str


def impossible(table: str, values: Givens) -> list[Impossible]:
    """What cannot be in an entry of a table of the catalog; values that are missing are passed over."""
    if table == "types":
        return [*_no_less(values), *_weights(values), *_stall(values)]
    return _deck(values) if table == "ships" else []


def _no_less(values: Givens) -> list[Impossible]:
    """Pairs of which the first must not be less than the second."""
    pairs = (
        ("lift_flap", "lift_clean", "flap adds to the greatest lift"),
        ("lift_flap", "launch.flap_lift", "the greatest lift holds what flap adds"),
        ("launch.three_point", "launch.tail_up", "the nose is lower with the tail up"),
        ("launch.clearance_three_point", "launch.clearance_tail_up", "the propeller is nearer the deck, tail up"),
        ("wing_span", "launch.folded_span", "folding does not widen the wings"),
        ("launch.full_pressure", "launch.braked_pressure", "full power is the most there is"),
    )
    strict = {"launch.three_point"}
    found = []
    for more, less, reason in pairs:
        high, low = values.get(more), values.get(less)
        if high is None or low is None or high.value > low.value or (high.value == low.value and more not in strict):
            continue
        key, limit = _younger(more, less, high, low)
        found.append(Impossible(key, f"{reason}: {limit}", "Look at both figures"))
    return found


def _younger(more: str, less: str, high: Given, low: Given) -> tuple[str, str]:
    """The key to complain of and its limit: the launch key of the two, as it came later than the other."""
    if less.startswith("launch.") and not more.startswith("launch."):
        return less, f"at most {more}, {high.text}, is allowed"
    return more, f"at least {less}, {low.text}, is allowed"


def _weights(values: Givens) -> list[Impossible]:
    landing, empty = values.get("landing_weight"), values.get("launch.empty_weight")
    if landing is None or empty is None:
        return []
    if landing.value < empty.value:
        limit = f"it lands no lighter than empty: at most landing_weight, {landing.text}, is allowed"
        return [Impossible("launch.empty_weight", limit, "Look at both figures")]
    fuel, stores = values.get("launch.fuel_weight"), values.get("launch.stores_weight")
    if fuel is None:
        return []
    full = empty.value + fuel.value + (stores.value if stores is not None else 0.0)
    if full < landing.value - 1e-9:
        limit = f"empty, fuel and stores together are less than landing_weight, {landing.text}"
        return [Impossible("launch.fuel_weight", limit, "Look at the weights")]
    return []


def _stall(values: Givens) -> list[Impossible]:
    """The straight line of lift must meet the greatest lift at an angle a wing can stall at."""
    names = ("lift_clean", "lift_flap", "launch.lift_slope", "launch.zero_lift_angle", "launch.flap_lift")
    if any(name not in values for name in names):
        return []
    clean, flapped, slope, zero, added = (values[name].value for name in names)
    found = []
    for which, angle in (("flap up", zero + clean / slope), ("full flap", zero + (flapped - added) / slope)):
        if not LEAST_STALL <= angle <= GREATEST_STALL:
            limit = (
                f"with it the wing stalls at {math.degrees(angle):.1f} deg, {which}; "
                f"{math.degrees(LEAST_STALL):.0f} to {math.degrees(GREATEST_STALL):.0f} deg is allowed"
            )
            key = "launch.lift_slope" if which == "flap up" else "launch.flap_lift"
            found.append(Impossible(key, limit, "Look at lift_slope, zero_lift_angle and the greatest lifts"))
    return found


def _deck(values: Givens) -> list[Impossible]:
    found = []
    width, length = values.get("deck_width"), values.get("deck_length")
    island, inward = values.get("deck.island_length"), values.get("deck.island_width")
    if width is not None and inward is not None and inward.value >= 0.5 * width.value:
        limit = f"the island leaves the centre line free: less than half of deck_width, {width.text}, is allowed"
        found.append(Impossible("deck.island_width", limit, "Look at both figures"))
    if length is not None and island is not None and island.value >= length.value:
        limit = f"less than deck_length, {length.text}, is allowed"
        found.append(Impossible("deck.island_length", limit, "Look at both figures"))
    return found
