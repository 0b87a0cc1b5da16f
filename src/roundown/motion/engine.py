"""Power of a supercharged piston engine by manifold pressure, revolutions and height.

*Method:* shaft power goes with revolutions and with the manifold pressure over that which only turns the engine (own
rule: a straight line through the full power and nil at 6 inHg). The pressure can be held up to the critical height;
above it power falls as (sigma - 0.117) / 0.883 of the density ratio counted from there (Gagg and Farrar, from memory).

*Holds for:* heights from -500 m to 11 000 m in standard air; one supercharger gear; the propeller lets the engine turn
as fast as is asked of it.
"""

from __future__ import annotations

from dataclasses import dataclass

from roundown.environment.air import Air, density
from roundown.quantities import INCH_OF_MERCURY

IDLE_PRESSURE = 6.0 * INCH_OF_MERCURY  # Pa, manifold pressure at which the engine only turns itself; own rule


@dataclass(frozen=True)
class Engine:
    """shaft_power : full [W], at full_pressure [Pa] and full_revolutions [1/s]; critical_height [m]."""

    shaft_power: float
    full_pressure: float
    full_revolutions: float
    critical_height: float


def power_at(engine: Engine, pressure: float, revolutions: float, height: float = 0.0) -> float:
    """Shaft power at a manifold pressure [Pa] and revolutions [1/s], at a height over the sea [m]; 0 or more [W]."""
    part = max(pressure - IDLE_PRESSURE, 0.0) / (engine.full_pressure - IDLE_PRESSURE)
    return engine.shaft_power * part * revolutions / engine.full_revolutions * lapse(height, engine.critical_height)


def lapse(height: float, critical_height: float) -> float:
    """Part of the power that is left at a height [m]: all of it up to the critical height [m].

    Raises ValueError for a height outside -500 to 11 000 m.
    """
    if height <= critical_height:
        return 1.0
    standard = Air()
    ratio = density(height, standard) / density(critical_height, standard)
    return max((ratio - 0.117) / 0.883, 0.0)


def pressure_for(engine: Engine, power: float, revolutions: float) -> float:
    """Manifold pressure that gives a shaft power [W] at revolutions [1/s], below the critical height [Pa]."""
    part = power / engine.shaft_power * engine.full_revolutions / revolutions
    return IDLE_PRESSURE + part * (engine.full_pressure - IDLE_PRESSURE)
