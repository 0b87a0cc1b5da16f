"""How long the nose hides the ramp when the turn-in is late: what straight flight behind the ship costs in view.

*Method:* the way of each delay, attitude by attitude (sight/attitude.py, sight/final_turn.py).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.environment.air import Air
from roundown.figures import figure
from roundown.quantities import TIME
from roundown.sight.attitude import attitudes
from roundown.sight.facts import Flight, SightFacts
from roundown.sight.final_turn import hidden_seconds

_ALL = ("flight.course", "flight.speed", "weather.*", "doctrine.circuit.*", "ship.*", "type.*")


@dataclass(frozen=True, kw_only=True)
class LateView:
    """What one delay of the turn-in leaves to be seen. None where the wing does not carry the aeroplane."""

    hidden: float | None = figure(
        TIME, "how long the nose hides the ramp, from the turn-in on, turned in that much later",
        "line of sight against the outline of the nose along that way (sight/final_turn.py)", _ALL,
    )  # fmt: skip


def late_view(flight: Flight, facts: SightFacts) -> LateView:
    """The view along the way of one delay. flight : from its turn-in on; facts : of the pass as planned."""
    there = attitudes(flight, facts.cockpit, facts.lifting, Air(facts.temperature, facts.pressure))
    hidden = hidden_seconds(there, facts.cockpit, facts.ship)
    return LateView(hidden=hidden if math.isfinite(hidden) else None)
