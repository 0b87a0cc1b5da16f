"""Programs for the path engine: legs with a law for bank, speed and height each, and a guard that ends them.

Headings are unwrapped: a left turn from 090 to 270 ends at -090. A bank to port is negative. The laws that tie speed
or height to heading reach their value exactly when the heading does.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import Any

import numpy as np

from roundown.environment.air import SEA_LEVEL_DENSITY
from roundown.motion import kernel
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations import kernel as equations
from roundown.motion.equations.kernel import Air, Floats, Row, State
from roundown.motion.path import Channel, MadeBy, Path, Source
from roundown.motion.position_error import calibrated
from roundown.motion.position_error import indicated as dial
from roundown.motion.ship_track import ShipTrack


@dataclass(frozen=True)
class HoldBank:
    """Roll to a bank and hold it [rad]; 0 is wings level."""

    bank: float


@dataclass(frozen=True)
class TurnTo:
    """Turn to a heading [rad, unwrapped] at a signed bank [rad] and roll out on it."""

    heading: float
    bank: float


@dataclass(frozen=True)
class RegainLine:
    """Regain and hold the line `port` metres to port of the ship's centre line, with no more than `bank` [rad]."""

    port: float
    bank: float


@dataclass(frozen=True)
class CloseOn:
    """Close on a point of the ship frame (ahead, port) [m], with no more than `bank` [rad]."""

    ahead: float
    port: float
    bank: float


@dataclass(frozen=True)
class HoldSpeed:
    """Hold the indicated airspeed."""


@dataclass(frozen=True)
class ChangeSpeed:
    """Come to an indicated airspeed [m/s] at a rate [m/s2], or at what the aeroplane can do if that is less."""

    indicated: float
    rate: float


@dataclass(frozen=True)
class SpeedByHeading:
    """Have an indicated airspeed [m/s] at a height [m] when on a heading [rad]; true airspeed linear in heading."""

    indicated: float
    height: float
    heading: float


@dataclass(frozen=True)
class Level:
    """Hold the height."""


@dataclass(frozen=True)
class ToHeight:
    """Climb or let down to a height over the sea [m] at a rate [m/s], then hold it."""

    height: float
    rate: float


@dataclass(frozen=True)
class HeightByHeading:
    """Be at a height over the sea [m] when on a heading [rad]; height linear in heading."""

    height: float
    heading: float


class Guard(IntEnum):
    """What ends a leg. Ship places are in the ship frame; TURN_DONE belongs to TurnTo, RANGE to CloseOn."""

    TURN_DONE = kernel.TURN_DONE
    TIME = kernel.TIME
    SHIP_AHEAD = kernel.SHIP_X
    SHIP_PORT = kernel.SHIP_Y
    HEADING = kernel.HEADING
    HEIGHT = kernel.HEIGHT
    SPEED = kernel.SPEED
    RANGE = kernel.RANGE


@dataclass(frozen=True)
class Until:
    """A guard with its value and the way it must be crossed: +1 rising, -1 falling, 0 either.

    It is armed once its value has been on the side the crossing starts from; being there already does not end a leg.
    """

    guard: Guard
    value: float = 0.0
    way: int = 0


@dataclass(frozen=True)
class Leg:
    """One row of a program. longest [s] ends it in any case; gear, flap : part wanted down, 0 to 1."""

    name: str
    lateral: HoldBank | TurnTo | RegainLine | CloseOn
    speed: HoldSpeed | ChangeSpeed | SpeedByHeading
    height: Level | ToHeight | HeightByHeading
    until: Until
    longest: float
    gear: float = 0.0
    flap: float = 0.0


class Outcome(IntEnum):
    """How a leg ended; anything but MET is an answer, not an error."""

    MET = kernel.MET
    OUT_OF_TIME = kernel.OUT_OF_TIME
    OUT_OF_ROOM = kernel.OUT_OF_ROOM
    TOO_STEEP = kernel.TOO_STEEP


@dataclass(frozen=True, eq=False)
class Setting:
    """What a program is flown in: aeroplane, air of the day, winds (n, 3: height, east, north) and the ship's track."""

    aeroplane: Aeroplane
    air: Air
    winds: Floats
    ship: ShipTrack

    def true_speed(self, indicated: float, height: float) -> float:
        """True airspeed [m/s] of an indicated airspeed at a height over the sea [m]."""
        error = self.aeroplane.position_error
        return calibrated(indicated, error) * math.sqrt(SEA_LEVEL_DENSITY / equations.density_at(height, self.air))

    def indicated_speed(self, true: float, height: float) -> float:
        """Indicated airspeed [m/s] of a true airspeed at a height over the sea [m]."""
        free = true * math.sqrt(equations.density_at(height, self.air) / SEA_LEVEL_DENSITY)
        return dial(free, self.aeroplane.position_error)

    def wind(self, height: float) -> tuple[float, float]:
        """Where the air goes, east and north [m/s], at a height over the sea [m]."""
        return equations.wind_at(height, self.winds)


@dataclass(frozen=True, eq=False)
class Flown:
    """What came of a program: records (n, 9) of time and state, and for each leg the index of its last record."""

    records: Floats
    ends: tuple[int, ...]
    outcomes: tuple[Outcome, ...]
    names: tuple[str, ...]

    @property
    def met(self) -> bool:
        """Whether every leg ended by its guard."""
        return all(outcome is Outcome.MET for outcome in self.outcomes)

    def record(self, index: int) -> tuple[float, State]:
        """Time and state of a record."""
        time, *state = (float(value) for value in self.records[index])
        return time, _state(state)

    def end(self, name: str) -> tuple[float, State]:
        """Time and state at the end of the leg of that name."""
        return self.record(self.ends[self.names.index(name)])

    def leg(self, name: str) -> Floats:
        """The records of one leg, its start included."""
        place = self.names.index(name)
        return self.records[self.ends[place - 1] if place else 0 : self.ends[place] + 1]


def fly(
    time: float, state: State, legs: Sequence[Leg], setting: Setting, *, longest_step: float = 0.2, room: int = 20_000
) -> Flown:
    """Fly a program from a time [s] and state.

    longest_step : between records [s]; room : most records
    Returns the records; after a leg that did not end by its guard the rest is not flown.
    """
    out = np.zeros((room, 9))
    index, ends, outcomes, names = 0, [], [], []
    craft = setting.aeroplane.craft
    for leg in legs:
        row = _row(leg, state, setting)
        index, ended = kernel.fly_row(
            time, state, row, longest_step, craft, setting.air, setting.winds, setting.ship.rows, out, index
        )
        names.append(leg.name)
        ends.append(index)
        outcomes.append(Outcome(ended))
        time = float(out[index, 0])
        state = _state([float(value) for value in out[index, 1:]])
        if ended != kernel.MET:
            break
    return Flown(out[: index + 1].copy(), tuple(ends), tuple(outcomes), tuple(names))


def path_of(flown: Flown, setting: Setting, made_by: MadeBy = MadeBy.PLANNED) -> Path:
    """The records of a program as a Path; everything in it is exact, so each sigma is zero."""
    time, east, north, height, speed, heading, bank = (flown.records[:, i].copy() for i in range(7))
    winds = np.array([setting.wind(float(h)) for h in height])
    level = np.sqrt(speed**2 - np.gradient(height, time) ** 2)
    ground = np.hypot(level * np.sin(heading) + winds[:, 0], level * np.cos(heading) + winds[:, 1])

    def channel(values: Floats, source: Source = Source.GIVEN) -> Channel:
        return Channel(values, 0.0, source)

    return Path(
        time, channel(east), channel(north), channel(height), channel(heading), channel(bank), channel(speed),
        channel(ground, Source.DERIVED), made_by,
    )  # fmt: skip


def _state(values: Sequence[float]) -> State:
    east, north, height, speed, heading, bank, gear, flap = values
    return east, north, height, speed, heading, bank, gear, flap


def _row(leg: Leg, state: State, setting: Setting) -> Row:
    heading, bank, ahead, port = _lateral(leg.lateral)
    speed_law, speed_target, speed_rate = _speed(leg.speed, state, setting)
    height_law, height_target, height_rate = _height(leg.height, state)
    value = leg.until.value
    if leg.until.guard is Guard.SPEED:
        value = calibrated(value, setting.aeroplane.position_error)
    lateral: dict[Any, int] = {
        HoldBank: kernel.HOLD_BANK,
        TurnTo: kernel.TURN_TO,
        RegainLine: kernel.REGAIN_LINE,
        CloseOn: kernel.CLOSE_ON,
    }
    values = (
        lateral[type(leg.lateral)], heading, bank, ahead, port,
        speed_law, speed_target, speed_rate,
        height_law, height_target, height_rate,
        leg.gear, leg.flap, leg.until.guard, value, leg.until.way, leg.longest,
    )  # fmt: skip
    return tuple(float(value) for value in values)


def _lateral(law: HoldBank | TurnTo | RegainLine | CloseOn) -> tuple[float, float, float, float]:
    match law:
        case HoldBank(bank):
            return 0.0, bank, 0.0, 0.0
        case TurnTo(heading, bank):
            return heading, bank, 0.0, 0.0
        case RegainLine(port, bank):
            return 0.0, bank, 0.0, port
        case CloseOn(ahead, port, bank):
            return 0.0, bank, ahead, port


def _speed(law: HoldSpeed | ChangeSpeed | SpeedByHeading, state: State, setting: Setting) -> tuple[int, float, float]:
    match law:
        case HoldSpeed():
            return kernel.HOLD_SPEED, 0.0, 0.0
        case ChangeSpeed(indicated, rate):
            return kernel.CHANGE_SPEED, calibrated(indicated, setting.aeroplane.position_error), rate
        case SpeedByHeading(indicated, height, heading):
            slope = _slope(setting.true_speed(indicated, height) - state[3], heading - state[4])
            return kernel.SPEED_BY_HEADING, 0.0, slope


def _height(law: Level | ToHeight | HeightByHeading, state: State) -> tuple[int, float, float]:
    match law:
        case Level():
            return equations.LEVEL, 0.0, 0.0
        case ToHeight(height, rate):
            return equations.TO_HEIGHT, height, rate
        case HeightByHeading(height, heading):
            return equations.HEIGHT_BY_HEADING, 0.0, _slope(height - state[2], heading - state[4])


def _slope(rise: float, turn: float) -> float:
    return rise / turn if turn != 0.0 else 0.0
