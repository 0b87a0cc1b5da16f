"""Which wire the hook takes, and what stopping on it asks of hook, gear and deck.

*Method:* the hook takes the first wire ahead of where its point meets the deck. Stopping from the speed past the ship
v over the run-out s: mean deceleration v^2 / (2 s), time 2 s / v at constant deceleration, energy m v^2 / 2 against
that of the gear's rated weight at its rated speed (any mechanics text). A hydraulic gear's deceleration rises well
above the mean: 1.5 to 2 times, common practice, no source.

*Holds for:* a hook that does not bounce, wires that lie straight across and pay out their whole run-out, whatever the
weight; no brakes, no drag. Peak and time are of that kind of model and no better.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.figures import figure
from roundown.quantities import ACCELERATION, CLOSING_SPEED, LENGTH, SHARE, TIME
from roundown.recovery.after_cut import AFTER_CUT_INPUTS

PEAK = (1.5, 2.0)  # greatest deceleration over the mean; common practice, no source

_MET = (*AFTER_CUT_INPUTS, "type.hook.behind", "type.hook.below")
WIRE_KEYS = ("ship.gear.wires", "ship.gear.first_wire", "ship.gear.spacing")
_TAKEN = "first wire ahead of where the hook's point meets the deck (recovery/arresting.py)"
_PEAK = "mean times 1.5 to 2: common practice, no source"


@dataclass(frozen=True)
class Hook:
    """Hook's point, hook down. behind : the main wheels, below : them, in the approach [m]."""

    behind: float
    below: float


@dataclass(frozen=True)
class Gear:
    """The arresting gear. Places ahead of the ramp [m].

    wires : how many; first_wire; spacing [m]; run_out : how far a wire pays out [m]
    rating_weight [kg], rating_speed : what it stops, from what speed past the ship [m/s]; barrier_place : the first
    """

    wires: int
    first_wire: float
    spacing: float
    run_out: float
    rating_weight: float
    rating_speed: float
    barrier_place: float

    def place(self, wire: int) -> float:
        """A wire ahead of the ramp, numbered from 1 at the ramp [m]."""
        return self.first_wire + (wire - 1) * self.spacing

    @property
    def last_wire(self) -> float:
        """The last wire ahead of the ramp [m]."""
        return self.place(self.wires)

    @property
    def rated_energy(self) -> float:
        """Energy the gear takes up at its rating [J]."""
        return energy(self.rating_weight, self.rating_speed)


def wire_taken(hook_ahead: float, gear: Gear) -> int | None:
    """Number of the first wire ahead of where the hook's point meets the deck [m]; None beyond the last."""
    if hook_ahead > gear.last_wire:
        return None
    return max(1, 1 + math.ceil((hook_ahead - gear.first_wire) / gear.spacing - 1e-12))


def mean_deceleration(speed: float, run_out: float) -> float:
    """Mean deceleration [m/s2] from a speed [m/s] to nothing over a run-out [m]."""
    return speed**2 / (2.0 * run_out)


def stopping_time(speed: float, run_out: float) -> float:
    """Time [s] from a speed [m/s] to nothing over a run-out [m], at constant deceleration."""
    return 2.0 * run_out / speed


def energy(mass: float, speed: float) -> float:
    """Energy [J] of a mass [kg] at a speed [m/s]."""
    return 0.5 * mass * speed**2


@dataclass(frozen=True, kw_only=True)
class Arresting:
    """The stop on one wire. wire : its number, from 1 at the ramp."""

    wire: int
    wire_place: float = figure(LENGTH, "wire it takes, ahead of the ramp", _TAKEN, (*_MET, *WIRE_KEYS))
    engaging: float = figure(
        CLOSING_SPEED, "speed past the ship when the hook meets the deck", "flight after the cut", _MET
    )
    mean: float = figure(
        ACCELERATION, "mean deceleration on the wire", "v^2 / (2 s), s the run-out", (*_MET, "ship.gear.run_out")
    )
    peak_low: float = figure(
        ACCELERATION, "greatest deceleration on the wire, from", _PEAK, (*_MET, "ship.gear.run_out")
    )
    peak_high: float = figure(
        ACCELERATION, "greatest deceleration on the wire, to", _PEAK, (*_MET, "ship.gear.run_out")
    )
    time: float = figure(TIME, "from the wire to the stop", "2 s / v, s the run-out", (*_MET, "ship.gear.run_out"))
    energy_share: float = figure(
        SHARE, "energy to be taken up, of what the gear is rated for", "m v^2 / 2 of either",
        (*_MET, "ship.gear.rating_weight", "ship.gear.rating_speed"),
    )  # fmt: skip
    most_closing: float = figure(
        CLOSING_SPEED, "greatest speed past the ship the gear takes at this weight",
        "rated speed times the root of rated weight over weight",
        ("type.landing_weight", "ship.gear.rating_weight", "ship.gear.rating_speed"),
    )  # fmt: skip
    stop_ahead: float = figure(
        LENGTH, "main wheels ahead of the ramp when it stands", "wire, run-out and hook behind the wheels together",
        (*_MET, *WIRE_KEYS, "ship.gear.run_out"),
    )  # fmt: skip
    barrier_margin: float = figure(
        LENGTH, "from the main wheels to the first barrier when it stands", "barrier less where the wheels stand",
        (*_MET, *WIRE_KEYS, "ship.gear.run_out", "ship.gear.barrier_place"),
    )  # fmt: skip


def arrest(hook_ahead: float, closing: float, mass: float, hook: Hook, gear: Gear) -> Arresting | None:
    """The stop of a hook that meets the deck ahead of the ramp [m] at a speed past the ship [m/s]; None past the wires.

    mass [kg]
    """
    wire = wire_taken(hook_ahead, gear)
    if wire is None:
        return None
    mean, stop = mean_deceleration(closing, gear.run_out), gear.place(wire) + gear.run_out + hook.behind
    return Arresting(
        wire=wire,
        wire_place=gear.place(wire),
        engaging=closing,
        mean=mean,
        peak_low=PEAK[0] * mean,
        peak_high=PEAK[1] * mean,
        time=stopping_time(closing, gear.run_out),
        energy_share=energy(mass, closing) / gear.rated_energy,
        most_closing=math.sqrt(2.0 * gear.rated_energy / mass),
        stop_ahead=stop,
        barrier_margin=gear.barrier_place - stop,
    )
