"""Deck runs that tests are made of: worked examples of books, and the invented types on their spots."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from roundown.catalog.load import builtin_catalog
from roundown.launch import kernel
from roundown.launch.deck_run import ROWS
from roundown.launch.facts import RunFacts
from roundown.launch.kernel import Floats, Outcome
from roundown.launch.of_type import launch_aeroplane
from roundown.motion.equations.wing import Wing

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
LB = 0.45359237  # kg
LBF = 4.4482216152605  # N
HP = 745.699_871_58  # W
SLUG = LBF / FT  # kg
G = 9.80665  # m/s2
TYPES = ("ottery", "brindle", "sallow")
OUT_OF_REACH = 1.0e6  # m


def worked(
    *,
    mass: float,
    area: float = 1.0,
    lift: float = 0.0,
    drag: float = 0.0,
    induced: float = 0.0,
    ground: float = 1.0,
    friction: float = 0.0,
    lift_off: float,
    thrust: tuple[float, float, float] = (0.0, 0.0, 0.0),
    propeller: tuple[float, float] | None = None,
    wind: float = 0.0,
    density: float = 1.225,
    bow: float = OUT_OF_REACH,
) -> tuple[Outcome, Floats]:
    """A run at one lift coefficient, SI; propeller : useful power and disc. Also the rows of its path."""
    wing = (area, 1.0, 0.0, 0.0, 9.0, 9.0, 0.7, drag, 0.0, 0.0, induced)  # lift coefficient = angle, far from the stall
    law = kernel.PARABOLA if propeller is None else kernel.PROPELLER
    load = (mass, 0.0, ground, friction, lift, lift, law, *(propeller or (0.0, 1.0)), 0.0, lift_off, *thrust)
    rows = np.empty((ROWS, kernel.COLUMNS))
    outcome = kernel.run(load, wing, (wind, 0.0, min(bow, kernel.FARTHEST), density, 0.0, 0.0, 0.0, 0.0), rows)
    return outcome, rows[: outcome[kernel.O_ROWS]]


def fictional_single(wind: float) -> tuple[Outcome, Floats]:
    """A propeller aeroplane of 8000 lb made up for checking: see test_deck_run.py. wind [kt]."""
    mass = 8_000.0 * LB
    stall = math.sqrt(2.0 * mass * G / (1.225 * 260.0 * FT**2 * 1.8))
    return worked(
        mass=mass,
        area=260.0 * FT**2,
        lift=0.6,
        drag=0.045,
        induced=1.0 / (math.pi * 0.8 * 38.0**2 / 260.0),
        ground=0.8123,
        friction=0.03,
        lift_off=1.1 * stall,
        propeller=(0.75 * 1_200.0 * HP, math.pi * (9.75 * FT) ** 2 / 4.0),
        wind=wind * KT,
        bow=100.0 * FT,
    )


def on_spot(kind: str = "ottery", wind: float = 30.0, run: float = 450.0, across: float = 0.0) -> RunFacts:
    """An invented type at full weight in standard air. wind, across [kt]; run [ft]."""
    aeroplane = launch_aeroplane(builtin_catalog()["types"][kind].values)
    return RunFacts(
        aeroplane=aeroplane,
        temperature=288.15,
        pressure=101_325.0,
        deck_height=19.0,
        wind_ahead=wind * KT,
        wind_across=across * KT,
        ship_speed=wind * KT,
        run=run * FT,
    )


def fitted(facts: RunFacts, **changes: float | Wing) -> RunFacts:
    """The same spot with the aeroplane changed."""
    return replace(facts, aeroplane=replace(facts.aeroplane, **changes))  # type: ignore[arg-type]
