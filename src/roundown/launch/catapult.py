"""A shot by catapult: what airspeed it gives at the bow, and whether the machine bears the weight.

*Method:* the end speed past the ship, which the catalog gives for the heaviest weight and which is taken for every
lighter one too, with the wind over the deck (own simplification: a lighter one leaves no slower).
*Holds for:* a track that ends at the bow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.figures import figure
from roundown.findings import Finding, Level
from roundown.launch.deck_run import RUN_INPUTS, indicated_airspeed, lift_off_airspeed
from roundown.launch.facts import RunFacts
from roundown.quantities import CLOSING_SPEED, INDICATED_SPEED, MASS, SPEED_MARGIN, TRUE_SPEED, write

_METHOD = "end speed past the ship and the wind over the deck (launch/catapult.py)"
_INPUTS = (*RUN_INPUTS, "ship.catapult.*")


@dataclass(frozen=True, kw_only=True)
class Shot:
    """One aeroplane shot off."""

    end_speed: float = figure(CLOSING_SPEED, "speed past the ship at the end of the catapult", "as given", _INPUTS)
    bow_airspeed: float = figure(TRUE_SPEED, "true airspeed at the bow", _METHOD, _INPUTS)
    bow_speed: float = figure(INDICATED_SPEED, "indicated airspeed at the bow", _METHOD, _INPUTS)
    speed_margin: float = figure(SPEED_MARGIN, "indicated airspeed at the bow over that of lift-off", _METHOD, _INPUTS)


def shot(facts: RunFacts, end_speed: float) -> Shot:
    """A shot of an aeroplane of those facts; its run is passed over. end_speed : past the ship [m/s]."""
    airspeed = math.hypot(end_speed + facts.wind_ahead, facts.wind_across)
    shown = indicated_airspeed(airspeed, facts)
    return Shot(
        end_speed=end_speed,
        bow_airspeed=airspeed,
        bow_speed=shown,
        speed_margin=shown - indicated_airspeed(lift_off_airspeed(facts), facts),
    )


def shot_findings(made: Shot, facts: RunFacts, heaviest: float, key: str) -> list[Finding]:
    """What is wrong with a shot. heaviest : the catapult brings to its end speed [kg]; key : stem of its figures."""
    found = []
    if facts.aeroplane.mass > heaviest:
        found.append(
            Finding(
                "catapult-weight", Level.STOP, f"{key}.loaded.weight", f"it weighs {write(facts.aeroplane.mass, MASS)}",
                f"the catapult takes {write(heaviest, MASS)}", "Load it lighter, or run it off.",
            )
        )  # fmt: skip
    if made.speed_margin < 0.0:
        found.append(
            Finding(
                "catapult-slow", Level.STOP, f"{key}.shot.speed_margin",
                f"it passes the bow {write(-made.speed_margin, SPEED_MARGIN)} below lift-off speed",
                f"the catapult ends at {write(made.end_speed, CLOSING_SPEED)}",
                "Have more wind over the deck, or load it lighter.",
            )
        )  # fmt: skip
    return found
