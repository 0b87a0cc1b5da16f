"""What an emergency costs those who wait: time the deck stands still, landings lost, fuel burned meanwhile.

*Method:* sums: the intervals lost at the doctrine's interval, the delay the emergency's own data give, and for a
landing that ends in the barrier the doctrine's time to clear it; each who waits burns at the rate of holding for so
long. Own rule; the times are assumptions in the data.

*Holds for:* one emergency at a time, and everyone else held meanwhile; who lands when is settled elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass

from roundown.figures import figure
from roundown.quantities import MASS, MEAN_COUNT, MINUTES

_BY = ("doctrine.circuit.interval", "doctrine.launch.interval", "doctrine.recovery.barrier_clear")


@dataclass(frozen=True, kw_only=True)
class HeldUp:
    """The cost of one emergency; the fuel is None where the type's rate of holding is not known."""

    added: float = figure(
        MINUTES, "time the deck stands still", "intervals lost, the emergency's own delay, barrier cleared", _BY
    )
    lost: float = figure(
        MEAN_COUNT, "landings, or take-offs, that would have gone in it", "time over the interval", _BY
    )
    fuel: float | None = figure(
        MASS, "fuel each who waits burns in it", "time at the rate of holding", (*_BY, "type.fuel.*")
    )


def held_up(intervals: float, interval: float, delay: float, barrier_clear: float | None, flow: float | None) -> HeldUp:
    """The cost of an emergency.

    intervals : landings or take-offs lost; interval : from one to the next [s], more than nil
    delay : time beyond them [s]; barrier_clear : to clear the barrier [s], None where nobody ends in it
    flow : fuel of one who waits [kg/s], None where not known
    Raises ValueError for an interval that is not more than nil.
    """
    if not interval > 0.0:
        raise ValueError("an interval is more than nil")
    added = intervals * interval + delay + (barrier_clear or 0.0)
    return HeldUp(added=added, lost=added / interval, fuel=None if flow is None else added * flow)
