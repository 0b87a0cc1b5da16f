"""What an aeroplane weighs at take-off and how it is set: fuel, stores, flap, power.

*Method:* empty weight, fuel and stores added up (definition). What is not said is full: full tanks, the heaviest
stores, full power, the type's own flap, so that a run is not called long enough by silence.
*Holds for:* types that give what a deck run needs (catalog/launch_keys.py).
"""

from __future__ import annotations

from dataclasses import dataclass

from roundown.errors import NoSolution
from roundown.figures import Givens, figure
from roundown.launch.of_type import engine_of, why_not
from roundown.motion.engine import power_at
from roundown.quantities import MASS, RATIO

_SAID = ("type.launch.*", "event.*")


@dataclass(frozen=True, kw_only=True)
class Loaded:
    """An aeroplane loaded and set for take-off."""

    weight: float = figure(MASS, "weight at take-off", "empty weight, fuel and stores", _SAID)
    fuel: float = figure(MASS, "fuel at take-off", "as the event says, else full tanks", _SAID)
    stores: float = figure(
        MASS, "ammunition and stores at take-off", "as the event says, else the heaviest the type carries", _SAID
    )
    flap: float = figure(RATIO, "part of full flap for take-off", "as the event says, else the type's own", _SAID)
    power: float = figure(
        RATIO,
        "part of full power in the run",
        "as the event says, else full; of a manifold pressure, straight in it (motion/engine.py)",
        ("type.shaft_power", *_SAID),
    )


def loaded(values: Givens, said: Givens) -> Loaded:
    """A type loaded and set.

    values : of the type by key name, without "type." before it
    said : of fuel, stores, flap, and power or manifold_pressure, those that are
    Raises NoSolution, naming the keys, where the type does not give what the deck run needs.
    """
    absent = why_not(values)
    if absent:
        raise NoSolution(f"a deck run: {absent}")

    def one(name: str, otherwise: str) -> float:
        return (said[name] if name in said else values[otherwise]).value

    fuel, stores = one("fuel", "launch.fuel_weight"), one("stores", "launch.stores_weight")
    return Loaded(
        weight=values["launch.empty_weight"].value + fuel + stores,
        fuel=fuel,
        stores=stores,
        flap=one("flap", "launch.take_off_flap"),
        power=_power(values, said),
    )


def _power(values: Givens, said: Givens) -> float:
    """Part of full power."""
    pressure = said.get("manifold_pressure")
    if pressure is None:
        return said["power"].value if "power" in said else 1.0
    absent = why_not(values, ("launch.full_pressure", "launch.full_revolutions"))
    if absent:
        raise NoSolution(f"power by manifold pressure: {absent}")
    engine = engine_of(values)
    return power_at(engine, pressure.value, engine.full_revolutions) / engine.shaft_power
