"""Finding the gates of a pass in any path, planned or flown, by the same rules.

The start of a turn is where the roll begins: the line through the instants of 2 and 6 degrees of bank, carried back to
level. The end of a turn likewise. Other gates are crossings of a line of the ship frame, or of a heading. Where a path
has no bank of its own it is taken from the turn rate, tan(bank) = V x rate / g.

*Holds for:* fixes half a second or less apart; no wing-rock of more than 6 degrees toward the hand on the straight
legs; a ship whose path covers the pass.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.environment.air import GRAVITY
from roundown.motion.frames import ship_components
from roundown.motion.path import Floats, Path, Source
from roundown.passes.pass_plan import PassPlan

LOW, HIGH = math.radians(2.0), math.radians(6.0)  # rad, between which the roll is taken as steady


@dataclass(frozen=True)
class Passed:
    """A gate as passed: time [s] of the path, place in the ship frame and height over the sea [m], heading [rad]."""

    time: float
    ahead: float
    port: float
    height: float
    heading: float


def find_gates(path: Path, ship: Path, plan: PassPlan) -> dict[str, Passed]:
    """The plan's gates in a path, by name, in the order they are passed; one that is not passed is left out.

    path : of the aeroplane; ship : of the ship's ramp, its heading taken as her course; both on one clock and plane
    """
    time, hand = path.time, plan.hand
    east = path.east.values - np.interp(time, ship.time, ship.east.values)
    north = path.north.values - np.interp(time, ship.time, ship.north.values)
    course = np.interp(time, ship.time, ship.heading.values)
    ahead, port = ship_components(east, north, course)
    turned = (path.heading.values - course) * hand
    turned -= 2.0 * math.pi * round(float(turned[0]) / (2.0 * math.pi))
    bank = bank_along(path) * hand
    planned = plan.gates
    upwind = np.where(np.abs(turned) < 0.25 * math.pi, ahead - planned["initial"].ahead, math.nan)
    found: dict[str, float | None] = {"initial": _rising(time, upwind, float(time[0]))}
    clock = found["initial"] if found["initial"] is not None else float(time[0])
    found["break"] = clock = _after(_roll_in(time, bank, clock), clock)
    round_enough = np.where(turned > 0.75 * math.pi, bank, 2.0 * HIGH)
    found["downwind"] = clock = _after(_roll_out(time, round_enough, clock), clock)
    found["turn-in"] = clock = _after(_roll_in(time, bank, clock), clock)
    if "abeam" in planned:
        found["abeam"] = _rising(time, -ahead, clock)
    found["ninety"] = clock = _after(_rising(time, turned - 1.5 * math.pi, clock), clock)
    found["ramp"] = _rising(time, ahead, clock)
    if "cut" in planned:
        found["cut"] = _rising(time, ahead - planned["cut"].ahead, clock)
    passed = {name: instant for name, instant in found.items() if instant is not None and not math.isnan(instant)}
    columns = {"ahead": ahead, "port": port, "height": path.height.values, "heading": path.heading.values}
    return {
        name: Passed(instant, **{column: float(np.interp(instant, time, values)) for column, values in columns.items()})
        for name, instant in sorted(passed.items(), key=lambda item: item[1])
    }


def bank_along(path: Path) -> Floats:
    """The bank of a path, its own or from its turn rate, right positive [rad]."""
    if path.bank.source is not Source.ABSENT:
        return path.bank.values
    speed = path.airspeed if path.airspeed.source is not Source.ABSENT else path.ground_speed
    rate: Floats = np.gradient(path.heading.values, path.time)
    return np.arctan(speed.values * rate / GRAVITY)


def _after(instant: float | None, clock: float) -> float:
    """An instant to go on searching from; one not found leaves nothing after it."""
    return math.nan if instant is None or math.isnan(clock) else instant


def _rising(time: Floats, value: Floats, start: float) -> float | None:
    """First instant after `start` at which a value rises through zero; None where it does not."""
    up = np.flatnonzero((value[:-1] < 0.0) & (value[1:] >= 0.0) & (time[1:] > start))
    return _crossing(time, value, int(up[0])) if up.size else None


def _last_rising(time: Floats, value: Floats, end: float) -> float | None:
    """Last instant before `end` at which a value rises through zero; None where it does not."""
    up = np.flatnonzero((value[:-1] < 0.0) & (value[1:] >= 0.0) & (time[:-1] < end))
    return _crossing(time, value, int(up[-1])) if up.size else None


def _crossing(time: Floats, value: Floats, i: int) -> float:
    return float(time[i] - value[i] * (time[i + 1] - time[i]) / (value[i + 1] - value[i]))


def _roll_in(time: Floats, bank: Floats, start: float) -> float | None:
    """When the next roll into a turn to the circuit's hand begins: its line carried back to level."""
    high = _rising(time, bank - HIGH, start)
    low = None if high is None else _last_rising(time, bank - LOW, high)
    return None if high is None or low is None else low - (high - low) * LOW / (HIGH - LOW)


def _roll_out(time: Floats, bank: Floats, start: float) -> float | None:
    """When the next roll out of a turn to the circuit's hand ends: its line carried on to level."""
    high = _rising(time, HIGH - bank, start)
    low = None if high is None else _rising(time, LOW - bank, high)
    return None if high is None or low is None else low + (low - high) * LOW / (HIGH - LOW)
