"""The plan of one pass: its gates in order, with place, height, speed, bank and time.

`recovery` makes a PassPlan; whoever compares, draws, signals or debriefs a pass uses it. Places are in the ship frame
(origin on the centre line at the ramp at deck level, x ahead, y to port); heights over the sea.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from roundown.figures import figure
from roundown.quantities import (
    AHEAD_OF_RAMP,
    BANK,
    DISTANCE,
    HEIGHT_OVER_SEA,
    INDICATED_SPEED,
    OFF_NOSE,
    TIME,
    TRUE_DIRECTION,
    Band,
)  # fmt: skip

FLOWN = "the solved path at this gate (motion/kernel.py)"
FLYING = tuple(
    f"type.{name}"
    for name in (
        "landing_weight", "wing_area", "lift_clean", "lift_flap", "zero_lift_drag", "gear_drag", "flap_drag",
        "induced_drag", "idle_thrust", "shaft_power", "propeller_diameter", "figure_of_merit", "roll_rate", "gear_time",
        "flap_time", "gear_limit", "flap_limit", "position_error.*",
    )
)  # fmt: skip
"""What the path engine uses of a type."""
PASS_INPUTS = (
    "flight.course", "flight.speed", "weather.*", *FLYING, "ship.deck_height", "ship.deck_length", "ship.island_place",
    *(
        f"doctrine.circuit.{name}"
        for name in (
            "hand", "upwind_offset", "initial_height", "initial_speed", "break_place", "break_bank", "slowing",
            "downwind_height", "downwind_speed", "let_down", "ninety_height", "ninety_speed", "ramp_height",
            "ramp_speed", "cut_place",
        )
    ),
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Gate:
    """One gate of a pass. height_band : what the doctrine allows there, or None."""

    name: str
    time: float = figure(TIME, "time after the break; before it is negative", FLOWN, PASS_INPUTS)
    since_last: float = figure(TIME, "time since the gate before", FLOWN, PASS_INPUTS)
    ahead: float = figure(
        AHEAD_OF_RAMP, "distance ahead of the ramp, along the deck; astern is negative", FLOWN, PASS_INPUTS
    )
    port: float = figure(DISTANCE, "distance to port of the centre line; to starboard is negative", FLOWN, PASS_INPUTS)
    east: float = figure(DISTANCE, "east of where the ramp was at the initial", FLOWN, PASS_INPUTS)
    north: float = figure(DISTANCE, "north of where the ramp was at the initial", FLOWN, PASS_INPUTS)
    height: float = figure(HEIGHT_OVER_SEA, "height", FLOWN, PASS_INPUTS)
    heading: float = figure(TRUE_DIRECTION, "heading of the nose", FLOWN, PASS_INPUTS)
    bank: float = figure(BANK, "bank, to starboard positive", FLOWN, PASS_INPUTS)
    indicated: float = figure(INDICATED_SPEED, "indicated airspeed", FLOWN, PASS_INPUTS)
    ramp_off_nose: float = figure(OFF_NOSE, "bearing of the ramp off the nose, either side", FLOWN, PASS_INPUTS)
    height_band: Band | None


@dataclass(frozen=True, kw_only=True)
class PassPlan:
    """A pass as planned. hand : -1 left-hand, +1 right-hand; gates by name, in the order they are met.

    ship_course [rad] and ship_speed [m/s] hold for the whole pass.
    """

    hand: int
    gates: Mapping[str, Gate]
    ship_course: float
    ship_speed: float
