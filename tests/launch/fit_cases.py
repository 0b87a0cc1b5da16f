"""Invented machines in an imagined simulator, and what one would read of them."""

from __future__ import annotations

from dataclasses import replace

from roundown.catalog.load import builtin_catalog
from roundown.figures import Given, Givens
from roundown.launch.expected import expected
from roundown.launch.measured import Flown, Measured, What

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
LB = 0.45359237  # kg
OTTERY = builtin_catalog()["types"]["ottery"].values
MACHINE = {
    "lift_clean": 1.5,
    "lift_flap": 2.1,
    "figure_of_merit": 0.72,
    "zero_lift_drag": 0.027,
    "induced_drag": 0.068,
    "gear_drag": 0.023,
    "flap_drag": 0.05,
    "idle_thrust": -300.0,  # N
    "launch.lift_off_margin": 1.15,
}  # an Ottery that is otherwise: what the fit is to find


def like(values: Givens, changed: dict[str, float]) -> dict[str, Given]:
    """A type with some values changed, SI."""
    return {**values, **{name: replace(values[name], value=value) for name, value in changed.items()}}


def stall(flap: float, number: int = 1, mass: float = 10_500.0 * LB) -> Measured:
    return Measured(What.STALL, f"stall {number}", 40.0, 1.0 * KT, Flown(mass, flap=flap))


def flights() -> list[Measured]:
    """What the how-to asks an author to fly; values are to be put in."""
    mass, height = 10_500.0 * LB, 1_000.0 * FT
    rows = [stall(flap, i + 1) for i, flap in enumerate((0.0, 0.65, 1.0))]
    for i, wind in enumerate((0.0, 15.0, 30.0)):
        flown = Flown(mass, flap=0.65, wind=wind * KT)
        rows.append(Measured(What.RUN, f"run {i + 1}", 100.0, 15.0 * FT, flown))
        rows.append(Measured(What.RUN_TIME, f"run {i + 1}, time", 8.0, 0.3, flown))
        rows.append(Measured(What.LIFT_OFF, f"run {i + 1}, lift-off speed", 40.0, 2.0 * KT, flown))
    for i, speed in enumerate((110.0, 130.0, 160.0)):
        flown = Flown(mass, height=height, speed=speed * KT)
        rows.append(Measured(What.CLIMB, f"climb {i + 1}", 10.0, 75.0 * FT / 60.0, flown))
    rows.append(Measured(What.LEVEL, "level 1", 100.0, 2.0 * KT, Flown(mass, height=500.0 * FT)))
    rows.append(Measured(What.LEVEL_TRUE, "level 2", 100.0, 2.0 * KT, Flown(mass, height=4_000.0 * FT)))
    slow = ((0.0, 0.0, 180.0, 130.0), (0.0, 0.0, 130.0, 100.0), (1.0, 0.0, 135.0, 100.0), (0.0, 1.0, 115.0, 85.0))
    for i, (gear, flap, begin, end) in enumerate(slow):
        flown = Flown(mass, flap=flap, gear=gear, height=height, begin=begin * KT, end=end * KT)
        rows.append(Measured(What.SLOW_DOWN, f"slow-down {i + 1}", 15.0, 0.5, flown))
    return rows


def read_of(values: Givens, rows: list[Measured]) -> list[Measured]:
    """The same rows with what a machine like that shows, without error."""
    return [replace(row, value=value) for row, value in zip(rows, expected(values, rows), strict=True)]
