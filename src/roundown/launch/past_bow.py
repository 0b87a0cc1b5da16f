"""Past the bow: how far it sinks below the deck, how near the sea it comes, and what the pilot's hand makes of it.

*Method:* flight integrated from the deck's edge (launch/bow_kernel.py), level at first, wheels at the deck's height,
flap kept, wheels up from the first climb, ground effect gone. Three techniques are flown from the same edge: easing,
the angle of attack raised to what leaves a tenth over the stall, or the type's lift-off margin if that is less, and
eased onto a shallow climb; holding the attitude of the edge; pulling on past the stall and keeping it there. The
figures are those of the better of the first two. Pulling is shown as a warning: a foot or two short it passes through
the greatest lift before it mushes; further short it comes lower than easing, or into the sea.

An aeroplane that has its lift-off speed passes the edge with the wing carrying the weight. One that has not has had its
nose lifted over the last of the deck as far as that would need, but not above the tail-down attitude nor the greatest
angle of easing (own rule). Keeping the tail up to the edge is shown beside it.

*Holds for:* as launch/bow_kernel.py; a level edge: heave and pitch of the bow give no rate of climb of their own.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from roundown.environment.air import GRAVITY
from roundown.figures import figure
from roundown.launch import bow_kernel
from roundown.launch.deck_run import RUN_INPUTS, deck_of, indicated_airspeed, lift_off_airspeed, load_of
from roundown.launch.facts import RunFacts
from roundown.launch.kernel import D_DENSITY, Floats
from roundown.motion.equations.wing import W_AREA, angle_for, greatest_lift, stall_angle
from roundown.quantities import DEGREE, HEIGHT_OVER_SEA, INDICATED_SPEED, LENGTH, TIME

LONGEST = 30.0  # s past the bow
LATER = (10, 20, 30)  # s
EASED_MARGIN = 1.1  # greatest angle of easing: that of level flight at this many times the stall; own rule
EASED_SLOPE = 2.0 * DEGREE  # rad, shallow climb in which speed is gathered; own rule
PULLED_PAST = 10.0 * DEGREE  # rad past the stall, the technique shown as a warning; own rule
ROWS = round(LONGEST / bow_kernel.STEP) + 32  # of a path, with those where steps are cut

_INPUTS = (*RUN_INPUTS, "type.gear_time")
_METHOD = "flight integrated from the deck's edge, no ground effect, better technique (launch/bow_kernel.py)"


class Hand(StrEnum):
    """What the pilot does past the bow."""

    EASING = "easing"
    HOLDING = "holding"
    PULLING = "pulling"


_RULES = {Hand.EASING: bow_kernel.EASE, Hand.HOLDING: bow_kernel.HOLD, Hand.PULLING: bow_kernel.PULL}


@dataclass(frozen=True, eq=False)
class BowPath:
    """The flight past the bow for drawing, one entry a moment. Read-only.

    time [s]; place : ahead of the bow, height : of the wheels over the sea [m]; level, climb : parts of the airspeed
    [m/s]; angle : of attack [rad]; gear : 1 down, 0 up; thrust, drag, lift [N]
    """

    time: Floats
    place: Floats
    height: Floats
    level: Floats
    climb: Floats
    angle: Floats
    gear: Floats
    thrust: Floats
    drag: Floats
    lift: Floats


@dataclass(frozen=True, kw_only=True)
class Later:
    """Where it is some seconds past the bow; None once it has touched the sea."""

    height: float | None = figure(HEIGHT_OVER_SEA, "wheels over the sea, that long past the bow", _METHOD, _INPUTS)
    speed: float | None = figure(INDICATED_SPEED, "indicated airspeed, that long past the bow", _METHOD, _INPUTS)


@dataclass(frozen=True, eq=False, kw_only=True)
class PastBow:
    """The flight past the bow, in the first 30 s. best : the technique of the figures; paths : by technique."""

    lowest_height: float = figure(HEIGHT_OVER_SEA, "wheels over the sea at the lowest", _METHOD, _INPUTS)
    lowest_after: float = figure(TIME, "from the bow to the lowest", _METHOD, _INPUTS)
    sink: float = figure(LENGTH, "sink of the wheels below the deck's height", "deck height less lowest", _INPUTS)
    lowest_speed: float = figure(INDICATED_SPEED, "indicated airspeed at the lowest", _METHOD, _INPUTS)
    climb_after: float | None = figure(TIME, "from the bow to the first climb", _METHOD, _INPUTS)
    touches_after: float | None = figure(TIME, "from the bow to the sea", _METHOD, _INPUTS)
    after: Mapping[str, Later]
    lowest_easing: float = figure(
        HEIGHT_OVER_SEA, "wheels at the lowest, angle of attack raised and eased", _METHOD, _INPUTS
    )
    lowest_holding: float = figure(HEIGHT_OVER_SEA, "wheels at the lowest, attitude held", _METHOD, _INPUTS)
    lowest_pulling: float = figure(HEIGHT_OVER_SEA, "wheels at the lowest, pulled past the stall", _METHOD, _INPUTS)
    lowest_tail_up: float = figure(
        HEIGHT_OVER_SEA, "wheels at the lowest, tail kept up to the bow and eased only then", _METHOD, _INPUTS
    )
    best: Hand
    paths: Mapping[Hand, BowPath]

    @property
    def touches(self) -> bool:
        """Whether it touches the sea, by the better technique."""
        return self.touches_after is not None

    @property
    def path(self) -> BowPath:
        """The path of the better technique."""
        return self.paths[self.best]


def past_bow(facts: RunFacts, airspeed: float, angle: float | None = None) -> PastBow:
    """The flight past the bow.

    airspeed : true, at the bow [m/s]; angle : of attack there [rad], else as the module says
    Raises ValueError where airspeed is not positive.
    """
    if not airspeed > 0.0:
        raise ValueError(f"airspeed at the bow {airspeed:g} m/s is not positive")
    at_edge = edge_angle(facts, airspeed) if angle is None else angle
    flown = {hand: _flown(facts, airspeed, at_edge, hand) for hand in Hand}
    late, _ = _flown(facts, airspeed, facts.aeroplane.tail_up, Hand.EASING)
    lowest = {hand: outcome[bow_kernel.O_LOWEST] for hand, (outcome, _) in flown.items()}
    best = Hand.HOLDING if lowest[Hand.HOLDING] > lowest[Hand.EASING] + 1e-3 else Hand.EASING
    outcome, path = flown[best]
    return PastBow(
        lowest_height=lowest[best],
        lowest_after=outcome[bow_kernel.O_LOWEST_TIME],
        sink=facts.deck_height - lowest[best],
        lowest_speed=indicated_airspeed(outcome[bow_kernel.O_LOWEST_SPEED], facts),
        climb_after=_known(outcome[bow_kernel.O_CLIMB_TIME]),
        touches_after=_known(outcome[bow_kernel.O_SEA_TIME]),
        after={f"after_{seconds}_s": _later(path, float(seconds), facts) for seconds in LATER},
        lowest_easing=lowest[Hand.EASING],
        lowest_holding=lowest[Hand.HOLDING],
        lowest_pulling=lowest[Hand.PULLING],
        lowest_tail_up=late[bow_kernel.O_LOWEST],
        best=best,
        paths={hand: flown[hand][1] for hand in Hand},
    )


def edge_angle(facts: RunFacts, airspeed: float) -> float:
    """Angle of attack with which it passes the bow where none is given [rad]. airspeed : true, there [m/s]."""
    craft = facts.aeroplane
    pressure_area = 0.5 * deck_of(facts)[D_DENSITY] * airspeed * airspeed * craft.wing[W_AREA]
    carrying = angle_for(craft.mass * GRAVITY / pressure_area, craft.flap, craft.wing)
    if airspeed >= lift_off_airspeed(facts):
        return carrying
    return max(min(carrying, craft.three_point, eased_angle(facts)), craft.tail_up)


def eased_angle(facts: RunFacts) -> float:
    """Greatest angle of attack of the easing pilot [rad]."""
    craft = facts.aeroplane
    margin = min(craft.lift_off_margin, EASED_MARGIN)
    return angle_for(greatest_lift(craft.flap, craft.wing) / (margin * margin), craft.flap, craft.wing)


def lowest_by_angle(facts: RunFacts, airspeed: float, angles: Floats) -> Floats:
    """Lowest height of the wheels over the sea [m] where the angle of attack is raised to each of those, then eased.

    More lift helps up to the stall; past it, it comes lower again.
    airspeed : true, at the bow [m/s]; angles : greatest of the flight, (n,) [rad]
    """
    edge, nothing = edge_angle(facts, airspeed), np.empty((0, bow_kernel.COLUMNS))
    return np.array([
        _fly(facts, airspeed, min(edge, angle), bow_kernel.EASE, angle, nothing)[bow_kernel.O_LOWEST]
        for angle in angles.tolist()
    ])  # fmt: skip


def lowest_past_bow(facts: RunFacts, airspeed: float) -> float:
    """Lowest height of the wheels over the sea [m] by the better technique, as past_bow has it, and nothing more.

    airspeed : true, at the bow [m/s]
    """
    nothing, angle = np.empty((0, bow_kernel.COLUMNS)), edge_angle(facts, airspeed)
    return max(
        _fly(facts, airspeed, angle, rule, wanted, nothing)[bow_kernel.O_LOWEST]
        for rule, wanted in ((bow_kernel.EASE, eased_angle(facts)), (bow_kernel.HOLD, angle))
    )


def _flown(facts: RunFacts, airspeed: float, angle: float, hand: Hand) -> tuple[bow_kernel.Outcome, BowPath]:
    """What a technique comes to, and its path. angle : of attack at the edge [rad]."""
    craft, rows = facts.aeroplane, np.empty((ROWS, bow_kernel.COLUMNS))
    match hand:
        case Hand.EASING:
            wanted = eased_angle(facts)
        case Hand.HOLDING:
            wanted = angle
        case Hand.PULLING:
            wanted = stall_angle(craft.flap, craft.wing) + PULLED_PAST
    outcome = _fly(facts, airspeed, angle, _RULES[hand], wanted, rows)
    return outcome, path_of(rows[: outcome[bow_kernel.O_ROWS]])


def _fly(
    facts: RunFacts, airspeed: float, angle: float, rule: float, wanted: float, rows: Floats
) -> bow_kernel.Outcome:
    """From the edge; wanted : attitude held, or greatest angle of attack [rad]."""
    craft = facts.aeroplane
    technique = (rule, wanted, EASED_SLOPE, craft.pull_rate, craft.gear_time, 1.0)
    start = (airspeed, 0.0, 0.0, facts.deck_height, angle)
    return bow_kernel.fly(
        0.0, LONGEST, start, math.inf, load_of(facts), technique, craft.wing, deck_of(facts), rows
    )  # fmt: skip


def path_of(rows: Floats) -> BowPath:
    """Recorded rows as a path of its own."""
    kept = rows.copy()
    kept.setflags(write=False)
    return BowPath(*kept.T)


def _later(path: BowPath, time: float, facts: RunFacts) -> Later:
    if path.time[-1] < time - 1e-6:
        return Later(height=None, speed=None)
    level, climb = (float(np.interp(time, path.time, part)) for part in (path.level, path.climb))
    return Later(
        height=float(np.interp(time, path.time, path.height)),
        speed=indicated_airspeed(math.hypot(level, climb), facts),
    )


def _known(value: float) -> float | None:
    return value if math.isfinite(value) else None
