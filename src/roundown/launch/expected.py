"""What a type says a measurement should be: stall, run, climb, level speed, slow-down.

*Method:* stalls and runs as everywhere in the launch (launch/facts.py, launch/deck_run.py). In flight thrust and drag
are those of the path engine (motion/equations/kernel.py), lift taken as weight:
    climb at a steady indicated airspeed: rate = (T - D) V / W / (1 + V (dV/dh) / g)
    level at full power: the greatest V at which T = D
    slow-down, level, throttle shut: t = m integral of dV / (D - idle thrust), by Gauss and Legendre's rule
(any text on aircraft performance). Full power falls with height as in motion/engine.py. Indicated and true airspeed are
connected by the position error of the type and the full subsonic formula of environment/air.py.

*Holds for:* airspeeds over the stall; climbs below some 20 degrees; heights measured as length. Where a type cannot do
what was measured the answer goes on smoothly beyond, so that a fit finds its way back: a run ends at the greatest
length and time of launch/kernel.py, a level speed is the one at which least is missing, a slow-down is at least
LEAST_SLOWING.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from roundown.environment.air import (
    GAS_CONSTANT,
    GRAVITY,
    LAPSE_RATE,
    calibrated_from_true,
    density,
    pressure,
    speed_of_sound,
    temperature,
    true_from_calibrated,
)
from roundown.figures import Givens
from roundown.launch import kernel
from roundown.launch.deck_run import indicated_airspeed, roll
from roundown.launch.facts import RunFacts
from roundown.launch.measured import RUNS, Flown, Measured, What
from roundown.launch.of_type import aeroplane_at, launch_aeroplane
from roundown.motion.aeroplane import Aeroplane, stall_speed
from roundown.motion.engine import lapse
from roundown.motion.equations.kernel import drag, full_thrust
from roundown.motion.position_error import Card, calibrated, indicated

LEAST_SLOWING = 1e-3  # m/s2, a slow-down that takes a quarter of an hour for each metre a second; own rule
_PASSED_AT_ONCE = 1.0  # m, a bow so near that a run ends at lift-off
_FASTEST = 0.9  # of the speed of sound; own rule
_SCAN = 48  # airspeeds looked at for a level speed
_HALVINGS = 36  # of the interval between two of them: to 1e-10 m/s
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)


def expected(values: Givens, measurements: Sequence[Measured]) -> list[float]:
    """What a type, by key name without "type." before it, says each measurement should be; SI.

    Raises NoSolution, naming the keys, for a run where the type does not give what the deck run needs.
    """
    runs = {flown: _rolled(values, flown) for flown in {each.flown for each in measurements if each.what in RUNS}}
    return [_run(runs[each.flown], each) if each.what in RUNS else _flight(values, each) for each in measurements]


def lifts_off(values: Givens, flown: Flown) -> bool:
    """Whether the run of a type ends in the air at all."""
    return _rolled(values, flown).ended


class _Rolled(NamedTuple):
    """A run rolled once: whether it ended in the air, length [m], time [s], indicated airspeed at lift-off [m/s]."""

    ended: bool
    length: float
    time: float
    speed: float


def _rolled(values: Givens, flown: Flown) -> _Rolled:
    facts = _facts(values, flown)
    outcome = roll(facts)
    if not math.isfinite(outcome[kernel.O_OFF_PLACE]):
        return _Rolled(ended=False, length=kernel.FARTHEST, time=kernel.LONGEST, speed=0.0)
    speed = indicated_airspeed(outcome[kernel.O_OFF_SPEED] + flown.wind, facts)
    return _Rolled(ended=True, length=outcome[kernel.O_OFF_PLACE], time=outcome[kernel.O_OFF_TIME], speed=speed)


def _run(rolled: _Rolled, measured: Measured) -> float:
    """Length [m], time [s] or indicated airspeed [m/s] of lift-off."""
    if measured.what is What.RUN:
        return rolled.length
    return rolled.time if measured.what is What.RUN_TIME else rolled.speed


def _flight(values: Givens, measured: Measured) -> float:
    """What was measured off the deck; SI."""
    flown = measured.flown
    match measured.what:
        case What.STALL:
            return stall_speed(aeroplane_at(values, flown.mass), flown.flap)
        case What.CLIMB:
            return _climb(values, flown)
        case What.LEVEL | What.LEVEL_TRUE:
            aeroplane = _powered(values, flown)
            true = _level(aeroplane, flown)
            return true if measured.what is What.LEVEL_TRUE else _dial(true, flown, aeroplane.position_error)
        case _:
            return _slow_down(aeroplane_at(values, flown.mass), flown)


def _facts(values: Givens, flown: Flown) -> RunFacts:
    return RunFacts(
        aeroplane=launch_aeroplane(values, flown.mass, flown.flap),
        temperature=flown.air.temperature,
        pressure=flown.air.pressure,
        deck_height=flown.height,
        wind_ahead=flown.wind,
        wind_across=0.0,
        ship_speed=0.0,
        run=_PASSED_AT_ONCE,
    )


def _powered(values: Givens, flown: Flown) -> Aeroplane:
    """The type with the full power it has at the height; without a critical height power falls from the sea up."""
    aeroplane = aeroplane_at(values, flown.mass)
    height = values.get("launch.critical_height")
    left = lapse(flown.height, height.value if height is not None else 0.0)
    return replace(aeroplane, shaft_power=left * aeroplane.shaft_power)


def _missing(aeroplane: Aeroplane, flown: Flown) -> Callable[[float], float]:
    """Drag less full thrust [N] by true airspeed [m/s]."""
    thick, craft = density(flown.height, flown.air), aeroplane.craft

    def missing(speed: float) -> float:
        return drag(speed, thick, 1.0, flown.gear, flown.flap, craft) - full_thrust(speed, thick, craft)

    return missing


def _climb(values: Givens, flown: Flown) -> float:
    """Rate of climb at full power and a steady indicated airspeed [m/s]."""
    aeroplane = _powered(values, flown)
    speed = true_airspeed(flown.speed, flown, aeroplane.position_error)
    steady = -_missing(aeroplane, flown)(speed) * speed / (aeroplane.mass * GRAVITY)
    gained = 0.5 * speed**2 * (GRAVITY / GAS_CONSTANT - LAPSE_RATE) / temperature(flown.height, flown.air)
    return steady / (1.0 + gained / GRAVITY)


def _level(aeroplane: Aeroplane, flown: Flown) -> float:
    """Greatest level true airspeed at full power [m/s], by halves."""
    missing = _missing(aeroplane, flown)
    low = true_airspeed(stall_speed(aeroplane, flown.flap), flown, aeroplane.position_error)
    top = _FASTEST * speed_of_sound(temperature(flown.height, flown.air))
    speeds = [top + (low - top) * i / _SCAN for i in range(_SCAN + 1)]
    carried = next((i for i, speed in enumerate(speeds) if missing(speed) < 0.0), None)
    if carried is None:
        return _least_missing(missing, speeds)
    if carried == 0:
        return top
    low, high = speeds[carried], speeds[carried - 1]
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if missing(middle) < 0.0 else (low, middle)
    return 0.5 * (low + high)


def _least_missing(missing: Callable[[float], float], speeds: Sequence[float]) -> float:
    """The airspeed at which full power comes nearest to carrying it [m/s], by thirds."""
    at = min(range(len(speeds)), key=lambda i: missing(speeds[i]))
    low, high = speeds[min(at + 1, len(speeds) - 1)], speeds[max(at - 1, 0)]
    for _ in range(2 * _HALVINGS):
        first, second = low + (high - low) / 3.0, high - (high - low) / 3.0
        low, high = (low, second) if missing(first) < missing(second) else (first, high)
    return 0.5 * (low + high)


def _slow_down(aeroplane: Aeroplane, flown: Flown) -> float:
    """Time from one indicated airspeed to a lower one, level, throttle shut [s]."""
    begin, end = (true_airspeed(shown, flown, aeroplane.position_error) for shown in (flown.begin, flown.end))
    thick, craft, mass = density(flown.height, flown.air), aeroplane.craft, aeroplane.mass
    time = 0.0
    for node, weight in zip(_NODES, _WEIGHTS, strict=True):
        speed = 0.5 * (begin + end) + 0.5 * (begin - end) * float(node)
        slowing = (drag(speed, thick, 1.0, flown.gear, flown.flap, craft) - aeroplane.idle_thrust) / mass
        time += 0.5 * (begin - end) * float(weight) / max(slowing, LEAST_SLOWING)
    return time


def true_airspeed(shown: float, flown: Flown, card: Card) -> float:
    """True airspeed of what the dial shows [m/s]. Raises ValueError above the speed of sound."""
    height, air = flown.height, flown.air
    return true_from_calibrated(calibrated(shown, card), pressure(height, air), temperature(height, air))


def _dial(true: float, flown: Flown, card: Card) -> float:
    height, air = flown.height, flown.air
    return indicated(calibrated_from_true(true, pressure(height, air), temperature(height, air)), card)
