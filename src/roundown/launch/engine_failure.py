"""The engine fails past the bow: where the aeroplane strikes the sea before the ship, and how long she takes to it.

*Method:* the failure is tried from every second past the bow, with and without the clearing turn (launch/clearing.py).
Power is gone at once, the propeller windmills as a plate of a part of its disc, the wings are levelled, and the angle
of attack is taken to that of the longest glide (induced drag as great as the rest, any flight mechanics text), not
above the easing pilot's; the glide is integrated (launch/bow_kernel.py). Where it strikes the sea it stays, and the
ship comes up at her speed.

*Holds for:* as launch/bow_kernel.py; a glide straight on, without turning away and without flare; no current; the ship
holds course and speed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.errors import NoSolution
from roundown.figures import figure
from roundown.launch import bow_kernel
from roundown.launch.clearing import TURN_INPUTS, ClearingTurn, ShipFrameTrack, clearing, straight_track
from roundown.launch.deck_run import deck_of, load_of
from roundown.launch.facts import RunFacts
from roundown.launch.kernel import D_DENSITY, L_CONSTANT, L_LAW, L_SQUARE, PARABOLA, Load
from roundown.launch.past_bow import LONGEST, PastBow, eased_angle
from roundown.motion.equations.wing import (
    W_AREA,
    W_DRAG,
    W_FLAP_DRAG,
    W_GEAR_DRAG,
    W_INDUCED,
    angle_for,
)
from roundown.quantities import LENGTH, TIME

WINDMILLING = 0.1  # drag of a windmilling propeller as a plate of this part of its disc; own rule, no source
APART = 1.0  # s between two moments of failure that are tried
LONGEST_GLIDE = 180.0  # s

_INPUTS = (*TURN_INPUTS, "ship.deck_width", "type.wing_span")
_GLIDED = "glide without power from every second past the bow (launch/engine_failure.py)"


@dataclass(frozen=True, kw_only=True)
class Ditching:
    """Where a failure at one moment ends, in the ship frame.

    failed_after, struck_after : past the bow [s]; ahead : of the bow, starboard : of the track line, as it strikes [m]
    ship_after : from then until the bow is there [s], None where the ship has no way or is past the place
    """

    failed_after: float
    struck_after: float
    ahead: float
    starboard: float
    ship_after: float | None


@dataclass(frozen=True, eq=False, kw_only=True)
class EngineFailure:
    """Failures in the first 30 s past the bow. straight, turning : every moment tried, without and with the turn."""

    worst_moment: float = figure(
        TIME, "from the bow to the failure that leaves the ship least time", _GLIDED, TURN_INPUTS
    )
    struck_after: float = figure(TIME, "from the bow to the sea after it", _GLIDED, TURN_INPUTS)
    struck_ahead: float = figure(LENGTH, "ditched that far ahead of the bow", _GLIDED, TURN_INPUTS)
    ship_after: float | None = figure(
        TIME, "from ditching until the ship's bow is there", "distance ahead over ship's speed", TURN_INPUTS
    )
    abeam: float = figure(LENGTH, "ditched off the ship's track line, with the turn", _GLIDED, TURN_INPUTS)
    abeam_straight: float = figure(LENGTH, "ditched off the ship's track line, without it", _GLIDED, TURN_INPUTS)
    clear_from: float | None = figure(
        TIME, "from the bow to the first failure from which on the ship passes clear, with the turn", _GLIDED, _INPUTS
    )
    clear_from_straight: float | None = figure(TIME, "the same without the turn", _GLIDED, _INPUTS)
    straight: tuple[Ditching, ...]
    turning: tuple[Ditching, ...]


def engine_failure(
    facts: RunFacts, past: PastBow, turn: ClearingTurn, half_width: float, windmilling: float = WINDMILLING
) -> EngineFailure | None:
    """Failures at every second past the bow; None where there is no clearing turn, so no climb to fail from.

    half_width : half the ship's breadth and half the span, beyond which she passes clear [m]
    windmilling : drag of the propeller as a plate of this part of its disc
    Raises ValueError as clearing does; NoSolution where a glide does not come down in 180 s.
    """
    turned = clearing(facts, past, turn)
    if turned is None:
        return None
    ahead_only = straight_track(facts, past)
    straight, turning = [], []
    for moment in np.arange(0.0, LONGEST + 0.5 * APART, APART).tolist():
        way, time = _glide(facts, past, moment, windmilling)
        straight.append(_ditched(facts, ahead_only, moment, way, time))
        turning.append(_ditched(facts, turned.track, moment, way, time))
    worst = min(range(len(turning)), key=lambda place: turning[place].ahead)
    end = turning[worst]
    return EngineFailure(
        worst_moment=end.failed_after,
        struck_after=end.struck_after,
        struck_ahead=end.ahead,
        ship_after=end.ship_after,
        abeam=abs(end.starboard),
        abeam_straight=abs(straight[worst].starboard),
        clear_from=_clear_from(turning, half_width),
        clear_from_straight=_clear_from(straight, half_width),
        straight=tuple(straight),
        turning=tuple(turning),
    )


def glide_angle(facts: RunFacts, gear: float, windmilling: float = WINDMILLING) -> float:
    """Angle of attack of the longest glide, power gone, not above the easing pilot's [rad]. gear : 1 down, 0 up."""
    craft, wing = facts.aeroplane, facts.aeroplane.wing
    parasite = wing[W_DRAG] + gear * wing[W_GEAR_DRAG] + craft.flap * wing[W_FLAP_DRAG]
    parasite += windmilling * craft.disc / wing[W_AREA]
    return min(angle_for(math.sqrt(parasite / wing[W_INDUCED]), craft.flap, wing), eased_angle(facts))


def _glide(facts: RunFacts, past: PastBow, moment: float, windmilling: float) -> tuple[float, float]:
    """Level way through the air [m] and time [s] from a failure to the sea."""
    path, craft = past.path, facts.aeroplane
    parts = (path.level, path.climb, path.height, path.angle, path.gear)
    level, climb, height, angle, gear = (float(np.interp(moment, path.time, part)) for part in parts)
    begun = past.climb_after if past.climb_after is not None else math.inf
    gear_from = begun if begun < moment else moment + LONGEST_GLIDE  # not begun by then: they stay down
    best = glide_angle(facts, gear, windmilling)
    technique = (bow_kernel.PULL, best, 0.0, craft.pull_rate, craft.gear_time, 1.0)
    rows = np.empty((round(LONGEST_GLIDE / bow_kernel.STEP) + 64, bow_kernel.COLUMNS))
    outcome = bow_kernel.fly(
        moment,
        moment + LONGEST_GLIDE,
        (level, climb, 0.0, height, angle),
        gear_from,
        _dead(facts, windmilling),
        technique,
        craft.wing,
        deck_of(facts),
        rows,
    )
    *_, struck, filled = outcome
    if math.isnan(struck):
        raise NoSolution(f"a glide to the sea within {LONGEST_GLIDE:g} s")
    time = struck - moment
    return float(rows[filled - 1, bow_kernel.B_PLACE]) + facts.wind_ahead * time, time


def _dead(facts: RunFacts, windmilling: float) -> Load:
    """The load without power, the propeller a plate."""
    load = list(load_of(facts))
    load[L_LAW], load[L_CONSTANT] = PARABOLA, 0.0
    load[L_SQUARE] = -0.5 * deck_of(facts)[D_DENSITY] * windmilling * facts.aeroplane.disc
    return tuple(load)


def _ditched(facts: RunFacts, track: ShipFrameTrack, moment: float, way: float, time: float) -> Ditching:
    parts = (track.ahead, track.starboard, track.heading)
    ahead, starboard, heading = (float(np.interp(moment, track.time, part)) for part in parts)
    ahead += way * math.cos(heading) - facts.wind_ahead * time
    starboard += way * math.sin(heading) - facts.wind_across * time
    return Ditching(
        failed_after=moment,
        struck_after=moment + time,
        ahead=ahead,
        starboard=starboard,
        ship_after=ahead / facts.ship_speed if facts.ship_speed > 0.0 and ahead >= 0.0 else None,
    )


def _clear_from(ditchings: list[Ditching], half_width: float) -> float | None:
    """Moment from which on every failure ends clear of the ship's side; None where the last does not."""
    since = None
    for ditching in reversed(ditchings):
        if abs(ditching.starboard) <= half_width:
            break
        since = ditching.failed_after
    return since
