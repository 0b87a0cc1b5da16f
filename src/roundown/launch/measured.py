"""What an author measures of a machine in the simulator, one number at a time, and how well it is known."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from roundown.environment.air import Air
from roundown.quantities import CLIMB_RATE, INDICATED_SPEED, LENGTH, TIME, TRUE_SPEED, Kind

STANDARD = Air()


class What(Enum):
    """What was measured; the words stand in the table of measurements."""

    STALL = "stall"
    RUN = "run"
    RUN_TIME = "run, time"
    LIFT_OFF = "run, lift-off speed"
    CLIMB = "climb"
    LEVEL = "level"
    LEVEL_TRUE = "level, true"
    SLOW_DOWN = "slow-down"


KINDS: dict[What, Kind] = {
    What.STALL: INDICATED_SPEED,
    What.RUN: LENGTH,
    What.RUN_TIME: TIME,
    What.LIFT_OFF: INDICATED_SPEED,
    What.CLIMB: CLIMB_RATE,
    What.LEVEL: INDICATED_SPEED,
    What.LEVEL_TRUE: TRUE_SPEED,
    What.SLOW_DOWN: TIME,
}
"""What each is measured as."""

RUNS = (What.RUN, What.RUN_TIME, What.LIFT_OFF)
"""Those that one run along the deck answers together."""


@dataclass(frozen=True)
class Flown:
    """How the machine was flown when something was measured; SI. What a measurement has no use for stays nil.

    mass [kg]; flap, gear : parts lowered, 0 to 1; height : over the sea [m]; air : of the day at sea level
    wind : over the deck from ahead, of a run [m/s]; speed : indicated, held in a climb [m/s]
    begin, end : indicated airspeeds of a slow-down [m/s]
    """

    mass: float
    flap: float = 0.0
    gear: float = 0.0
    height: float = 0.0
    air: Air = STANDARD
    wind: float = 0.0
    speed: float = 0.0
    begin: float = 0.0
    end: float = 0.0


@dataclass(frozen=True)
class Measured:
    """One number read in the simulator.

    name : its row, such as "stall 2"; value, spread : the latter one standard deviation of it, both SI by KINDS
    """

    what: What
    name: str
    value: float
    spread: float
    flown: Flown

    @property
    def kind(self) -> Kind:
        """What it is measured as."""
        return KINDS[self.what]
