"""From the cut to the deck: what the aeroplane does when the throttle is shut over the ramp.

*Method:* up to the throttle shut a steady approach straight down its slope through the air, level or not, at constant
speed; from there a point mass in the upright plane along the deck, which begins with that sink. With u
the airspeed along the deck, w the rate of climb, c the airspeed across, h^2 = u^2 + c^2 and V^2 = h^2 + w^2,
    m du/dt = -(D - T) u/V - L (w/V) (u/h),  m dw/dt = -(D - T) w/V + L h/V - m g,  dx/dt = u - (wind from ahead)
(any flight mechanics text; own notation). T is the thrust of the shut throttle. Fourth-order Runge-Kutta.

As the throttle shuts the pilot lets the nose dip, and with it a part of the wing's lift is given up; then he eases
back, and keeps the sink from growing beyond a rate, by as much lift as that takes and the wing has. Both are own
models: that he does so is PRO-91, how much is an assumption, and where that sink is reached, it is the assumption that
is shown. With no dip and no such rate the angle of attack of the approach is held.

In the approach the slipstream carries part of the weight, and the throttle takes that away at once. The part of the
wing in it meets air that is faster by s = sqrt(1 + T / (q A)) - 1 (momentum theory, A the disc), and its lift is taken
to grow with that speed: lift of the whole wing times 1 + s x diameter / span (R. Smelt and H. Davies, ARC R&M 1788,
1937, from memory, in its limit for a slipstream narrow against the chord). T is what holds the approach: drag less the
weight's part along the slope, and not less than nothing.

*Holds for:* below the stall; wind and density the same all the way; the pilot keeps the centre line. Left out: ground
effect (over the last few feet it lengthens the fall), the thrust's part across the path, the wake of the round-down
and of the island.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from roundown.environment.air import GRAVITY
from roundown.errors import NoSolution
from roundown.motion.aeroplane import Aeroplane
from roundown.passes.pass_plan import PASS_INPUTS

Floats = npt.NDArray[np.float64]
State = tuple[float, float, float, float]
"""airspeed along the deck, rate of climb [m/s], ahead of where the throttle was shut, height from there [m]"""
Forces = tuple[float, float, float, float, float, float, float, float]
"""see the F_ indices"""

# lift coefficient held and greatest; drag without lift, and what the square of lift adds; dynamic pressure times area
# over mass and square of the airspeed [1/m]; thrust over mass [m/s2]; wind from ahead [m/s]; square of that across
F_LIFT, F_MOST, F_PARASITE, F_INDUCED, F_AREA, F_IDLE, F_AHEAD, F_ACROSS = 0, 1, 2, 3, 4, 5, 6, 7

STEP = 0.02  # s
LONGEST = 15.0  # s, after which it is given up
EASING = 0.3  # s, in which two thirds of a sink too fast are to be taken out, while the wing can; own rule
ROUNDS = 60  # most in which thrust and slipstream settle

AFTER_CUT_INPUTS = (
    *PASS_INPUTS, "doctrine.recovery.cut_reaction", "doctrine.recovery.nose_dip", "doctrine.recovery.eased_sink",
    "type.landing.sink_limit", "type.wing_span",
)  # fmt: skip
"""What the flight from the cut to the deck rests on: the pass for the slope of its final, and what is done after it."""


@dataclass(frozen=True)
class Approach:
    """The steady approach that the cut ends.

    airspeed : true [m/s]; density [kg/m3]; lift : coefficient of the wing without slipstream
    carried : part of the weight the slipstream carries; slope : through the air, down positive [rad]
    """

    airspeed: float
    density: float
    lift: float
    carried: float
    slope: float = 0.0

    @property
    def sink(self) -> float:
        """Rate of descent [m/s]."""
        return self.airspeed * math.sin(self.slope)


@dataclass(frozen=True)
class Hand:
    """What the pilot does after the throttle. Without anything the angle of attack is held.

    dip : part of the lift given up as the nose dips, 0 to 1; kept_sink : beyond which he eases back [m/s]
    """

    dip: float = 0.0
    kept_sink: float = math.inf


def steady_approach(aeroplane: Aeroplane, wing_span: float, airspeed: float, density: float, slope: float) -> Approach:
    """The approach, gear and flap down, with the power it needs.

    wing_span [m]; airspeed : true [m/s]; density [kg/m3]; slope : through the air, down positive [rad]
    Raises NoSolution where the wing does not carry the weight at that speed.
    """
    weight = aeroplane.mass * GRAVITY / (0.5 * density * airspeed**2 * aeroplane.wing_area)
    wanted, along = weight * math.cos(slope), weight * math.sin(slope)
    disc = math.pi * aeroplane.propeller_diameter**2 / 4.0
    lift = wanted
    for _ in range(ROUNDS):
        drag = _parasite(aeroplane) + aeroplane.induced_drag * lift**2
        faster = math.sqrt(1.0 + max(drag - along, 0.0) * aeroplane.wing_area / disc) - 1.0
        before, lift = lift, wanted / (1.0 + faster * aeroplane.propeller_diameter / wing_span)
        if lift == before:
            break
    if lift > aeroplane.lift_flap:
        raise NoSolution("an approach: at the speed over the ramp the wing does not carry the weight")
    return Approach(airspeed, density, lift, (1.0 - lift / wanted) * math.cos(slope), slope)


def _parasite(aeroplane: Aeroplane) -> float:
    return aeroplane.zero_lift_drag + aeroplane.gear_drag + aeroplane.flap_drag


@dataclass(frozen=True)
class Moment:
    """One moment of the flight.

    time : since the throttle was shut, before it negative [s]; run : ahead of there, in the ship frame [m]
    fall : below the height there [m]; level : airspeed along the deck, climb : rate of climb [m/s]
    """

    time: float
    run: float
    fall: float
    level: float
    climb: float


@dataclass(frozen=True, eq=False)
class Flight:
    """The flight from the throttle shut on, one entry a step; before it the approach, straight. Read-only.

    time, run, fall, level, climb : as in Moment; wind_ahead, wind_across : over the deck [m/s]
    """

    time: Floats
    run: Floats
    fall: Floats
    level: Floats
    climb: Floats
    wind_ahead: float
    wind_across: float

    @property
    def closing(self) -> float:
        """Speed past the ship until the throttle is shut [m/s]."""
        return float(self.level[0]) - self.wind_ahead

    @property
    def descent(self) -> float:
        """Fall over run, past the ship, until the throttle is shut."""
        return -float(self.climb[0]) / self.closing

    def at_run(self, run: float) -> Moment | None:
        """The moment at a place ahead of where the throttle was shut [m]; None beyond the flight."""
        if run <= 0.0:
            return self._before(run)
        return self._between(run, self.run) if run <= self.run[-1] else None

    def at_fall(self, fall: float) -> Moment | None:
        """The moment it has fallen so far [m], negative before the throttle; None where it does not.

        From a level approach less than none is where the throttle is shut.
        """
        if fall < 0.0:
            return self._before(fall / self.descent if self.descent > 0.0 else 0.0)
        return self._between(fall, self.fall) if fall <= self.fall[-1] else None

    def at_drop(self, drop: float) -> Moment | None:
        """The moment it is first so far under the approach carried on [m]; None where it does not come to that.

        None at all is where the throttle is shut.
        """
        if drop <= 0.0:
            return self._before(0.0)
        dropped = np.maximum.accumulate(self.fall - self.descent * self.run)
        return self._between(drop, dropped) if drop <= dropped[-1] else None

    def _before(self, run: float) -> Moment:
        return Moment(run / self.closing, run, run * self.descent, float(self.level[0]), float(self.climb[0]))

    def _between(self, value: float, by: Floats) -> Moment:
        columns = (self.time, self.run, self.fall, self.level, self.climb)
        return Moment(*(float(np.interp(value, by, column)) for column in columns))


def closing_speed(approach: Approach, wind_ahead: float, wind_across: float) -> float:
    """Speed of an approach past the ship, along the deck [m/s].

    wind_ahead, wind_across : over the deck, from ahead and from either side [m/s]
    Raises NoSolution where it does not gain on the ship.
    """
    level = _level(approach, wind_across)
    if level <= wind_ahead:
        raise NoSolution("a touchdown: the aeroplane does not gain on the ship")
    return level - wind_ahead


def _level(approach: Approach, wind_across: float) -> float:
    """Airspeed along the deck."""
    return math.sqrt(max(approach.airspeed**2 - approach.sink**2 - wind_across**2, 0.0))


def fly_on(
    aeroplane: Aeroplane,
    approach: Approach,
    hand: Hand,
    wind_ahead: float,
    wind_across: float,
    drop: float,
    run: float,
    fall: float = math.inf,
) -> Flight:
    """The flight from the throttle shut on, until it climbs, LONGEST has passed, or it has come far enough.

    run : which it has to make, and beside it either drop : under the approach carried on, or fall : in all [m]
    wind_ahead, wind_across : over the deck, from ahead and from either side [m/s]
    Raises NoSolution where it does not gain on the ship.
    """
    closing_speed(approach, wind_ahead, wind_across)  # which is to be more than nothing
    forces = (
        approach.lift * (1.0 - hand.dip),
        max(aeroplane.lift_flap, approach.lift),
        _parasite(aeroplane),
        aeroplane.induced_drag,
        0.5 * approach.density * aeroplane.wing_area / aeroplane.mass,
        aeroplane.idle_thrust / aeroplane.mass,
        wind_ahead,
        wind_across**2,
    )
    start = (_level(approach, wind_across), -approach.sink, 0.0, 0.0)
    rows = np.array(list(_rows(start, forces, hand.kept_sink, drop, run, fall)))
    time, along, climb, ahead, height = (rows[:, i].copy() for i in range(5))
    columns = (time, ahead, -height, along, climb)
    for column in columns:
        column.setflags(write=False)
    return Flight(*columns, wind_ahead, wind_across)


def _rows(s: State, forces: Forces, kept: float, drop: float, run: float, fall: float) -> Iterator[tuple[float, ...]]:
    """Time and state step by step."""
    descent = -s[1] / (s[0] - forces[F_AHEAD])
    yield 0.0, *s
    for count in range(1, round(LONGEST / STEP) + 1):
        after = step(s, STEP, kept, forces)
        if after[3] >= s[3] or after[2] <= s[2]:  # climbs, or falls back
            return
        s = after
        yield count * STEP, *s
        if s[2] >= run and (-s[3] >= fall or -s[3] - descent * s[2] >= drop):
            return


def rates(s: State, kept: float, forces: Forces) -> State:
    """Rates of change of a state. kept : sink beyond which the pilot eases back [m/s]."""
    square = s[0] * s[0] + forces[F_ACROSS]
    level, airspeed = math.sqrt(square), math.sqrt(square + s[1] * s[1])
    lift = forces[F_LIFT]
    if -s[1] > kept:
        easing = GRAVITY - (s[1] + kept) / EASING
        lift = min(max(lift, easing / (forces[F_AREA] * airspeed * level)), forces[F_MOST])
    drag = forces[F_PARASITE] + forces[F_INDUCED] * lift * lift
    back = forces[F_AREA] * drag * airspeed - forces[F_IDLE] / airspeed
    upright = forces[F_AREA] * lift * airspeed
    return (
        -back * s[0] - upright * s[1] * s[0] / level,
        -back * s[1] + upright * level - GRAVITY,
        s[0] - forces[F_AHEAD],
        s[1],
    )


def step(s: State, h: float, kept: float, forces: Forces) -> State:
    """One Runge-Kutta step of length h [s]."""
    k1 = rates(s, kept, forces)
    k2 = rates(_along(s, k1, 0.5 * h), kept, forces)
    k3 = rates(_along(s, k2, 0.5 * h), kept, forces)
    k4 = rates(_along(s, k3, h), kept, forces)
    return _along(_along(_along(_along(s, k1, h / 6.0), k2, h / 3.0), k3, h / 3.0), k4, h / 6.0)


def _along(s: State, k: State, h: float) -> State:
    return s[0] + h * k[0], s[1] + h * k[1], s[2] + h * k[2], s[3] + h * k[3]
