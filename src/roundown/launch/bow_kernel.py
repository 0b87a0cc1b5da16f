"""Equations of the flight past the bow, in the upright plane along the deck.

Plain scalar Python on floats, tuples of floats and float64 arrays, so that it runs as it stands and compiles unchanged
(motion/jit.py).

*Method:* point mass. With true airspeed V, its slope gamma, level part u and rate of climb w:
    m du/dt = (T - D) cos(gamma) - L sin(gamma),  m dw/dt = (T - D) sin(gamma) + L cos(gamma) - m g,
    dx/dt = u - (wind over the deck from ahead),  dh/dt = w
which is m dV/dt = T - D - W sin(gamma), m V dgamma/dt = L - W cos(gamma) on level axes (any flight mechanics text; own
notation). L and D by angle of attack, past the stall too (motion/equations/wing.py), without ground effect; thrust as
in the deck run, along the airspeed: what it carries of the weight, T sin(alpha), is left out. The angle of attack
follows one of three rules: the attitude held, so that it grows by as much as the path falls; raised and then eased onto
a slope wanted (own rule, first-order lags); raised and kept. The wheels come up from the first climb. Fourth-order
Runge-Kutta in time, steps cut where a sink becomes a climb and at the sea.

*Holds for:* wind and density the same at all heights; no sideslip; no slipstream over the wing.
"""

from __future__ import annotations

import math

from roundown.environment.air import GRAVITY
from roundown.launch.kernel import D_AHEAD, D_DENSITY, L_FLAP, L_MASS, Deck, Floats, Load, thrust_at
from roundown.motion.equations.wing import W_AREA, Wing, angle_for, drag_at, greatest_lift, lift_at
from roundown.motion.jit import compiled

State = tuple[float, float, float, float, float]
"""level part of the airspeed, rate of climb [m/s], place ahead of the bow, height of the wheels over the sea [m],
angle of attack [rad]; the last is not used where the attitude is held"""
Technique = tuple[float, float, float, float, float, float]
"""see the N_ indices"""
Outcome = tuple[float, float, float, float, float, int]
"""see the O_ indices; NaN where it did not come to it; the last is how many rows were recorded"""

S_LEVEL, S_CLIMB, S_PLACE, S_HEIGHT, S_ANGLE = 0, 1, 2, 3, 4

# rule; attitude held or greatest angle of attack, slope wanted [rad]; change of angle of attack [rad/s]; wheels up [s];
# 1 with forces along and across the path, 0 with lift upright, the airspeed taken for level, for the closed form
N_RULE, N_ANGLE, N_SLOPE, N_RATE, N_GEAR_TIME, N_RESOLVED = 0, 1, 2, 3, 4, 5
HOLD, EASE, PULL = 0.0, 1.0, 2.0

O_LOWEST_TIME, O_LOWEST, O_LOWEST_SPEED, O_CLIMB_TIME, O_SEA_TIME, O_ROWS = 0, 1, 2, 3, 4, 5

# columns of a record
B_TIME, B_PLACE, B_HEIGHT, B_LEVEL, B_CLIMB, B_ANGLE, B_GEAR, B_THRUST, B_DRAG, B_LIFT = 0, 1, 2, 3, 4, 5, 6, 7, 8, 9
COLUMNS = 10

STEP = 0.1  # s
PATH_LAG = 1.0  # s, in which two thirds of a difference of slope are to be taken out; own rule
ANGLE_LAG = 0.3  # s, the same of the angle of attack, within its greatest rate; own rule


def _forces(
    time: float, s: State, gear_from: float, load: Load, technique: Technique, wing: Wing, deck: Deck
) -> tuple[float, float, float, float, float, float, float]:
    """Airspeed [m/s], slope, angle of attack [rad], gear [0..1], thrust, drag, lift [N]."""
    airspeed, slope = s[S_LEVEL], 0.0
    if technique[N_RESOLVED] != 0.0:
        airspeed = math.sqrt(s[S_LEVEL] * s[S_LEVEL] + s[S_CLIMB] * s[S_CLIMB])
        slope = math.atan2(s[S_CLIMB], s[S_LEVEL])
    angle = technique[N_ANGLE] - slope if technique[N_RULE] == HOLD else s[S_ANGLE]
    gear = 1.0 - min(max(time - gear_from, 0.0) / technique[N_GEAR_TIME], 1.0)
    pressure_area = 0.5 * deck[D_DENSITY] * airspeed * airspeed * wing[W_AREA]
    thrust = thrust_at(airspeed, load, deck)
    drag = pressure_area * drag_at(angle, load[L_FLAP], gear, 1.0, wing)
    lift = pressure_area * lift_at(angle, load[L_FLAP], wing)
    return airspeed, slope, angle, gear, thrust, drag, lift


forces = compiled(_forces)


def _angle_rate(
    airspeed: float, slope: float, angle: float, load: Load, technique: Technique, wing: Wing, deck: Deck
) -> float:
    """What the pilot does with the angle of attack [rad/s]."""
    if technique[N_RULE] == HOLD:
        return 0.0
    wanted = technique[N_ANGLE]
    if technique[N_RULE] == EASE:
        pressure_area = 0.5 * deck[D_DENSITY] * airspeed * airspeed * wing[W_AREA]
        factor = math.cos(slope) + airspeed * (technique[N_SLOPE] - slope) / (GRAVITY * PATH_LAG)
        lift = factor * load[L_MASS] * GRAVITY / pressure_area
        if lift < greatest_lift(load[L_FLAP], wing):
            wanted = min(wanted, angle_for(lift, load[L_FLAP], wing))
    return min(max((wanted - angle) / ANGLE_LAG, -technique[N_RATE]), technique[N_RATE])


angle_rate = compiled(_angle_rate)


def _rates(time: float, s: State, gear_from: float, load: Load, technique: Technique, wing: Wing, deck: Deck) -> State:
    airspeed, slope, angle, _, thrust, drag, lift = forces(time, s, gear_from, load, technique, wing, deck)
    cosine, sine, along = math.cos(slope), math.sin(slope), thrust - drag
    return (
        (along * cosine - lift * sine) / load[L_MASS],
        (along * sine + lift * cosine) / load[L_MASS] - GRAVITY,
        s[S_LEVEL] - deck[D_AHEAD],
        s[S_CLIMB],
        angle_rate(airspeed, slope, angle, load, technique, wing, deck),
    )


rates = compiled(_rates)


def _along(s: State, k: State, h: float) -> State:
    return s[0] + h * k[0], s[1] + h * k[1], s[2] + h * k[2], s[3] + h * k[3], s[4] + h * k[4]


along = compiled(_along)


def _step(
    time: float, h: float, s: State, gear_from: float, load: Load, technique: Technique, wing: Wing, deck: Deck
) -> State:
    """One Runge-Kutta step of length h."""
    k1 = rates(time, s, gear_from, load, technique, wing, deck)
    k2 = rates(time + 0.5 * h, along(s, k1, 0.5 * h), gear_from, load, technique, wing, deck)
    k3 = rates(time + 0.5 * h, along(s, k2, 0.5 * h), gear_from, load, technique, wing, deck)
    k4 = rates(time + h, along(s, k3, h), gear_from, load, technique, wing, deck)
    return along(along(along(along(s, k1, h / 6.0), k2, h / 3.0), k3, h / 3.0), k4, h / 6.0)


step = compiled(_step)


def _cut(
    part: int,
    after: float,
    time: float,
    h: float,
    s: State,
    gear_from: float,
    load: Load,
    technique: Technique,
    wing: Wing,
    deck: Deck,
) -> float:
    """Length of the step in which a part of the state comes to nil (false position, Illinois rule).

    after : the part at the end of the step of length h, on the other side of nil from its start
    """
    low, high, before, side = 0.0, h, s[part], 0
    for _ in range(60):
        middle = high - after * (high - low) / (after - before)
        miss = step(time, middle, s, gear_from, load, technique, wing, deck)[part]
        if abs(miss) < 1e-11 or high - low < 1e-14:
            return middle
        if (miss > 0.0) == (after > 0.0):
            high, after = middle, miss
            if side == 1:
                before *= 0.5
            side = 1
        else:
            low, before = middle, miss
            if side == -1:
                after *= 0.5
            side = -1
    return high


cut = compiled(_cut)


def _record(
    rows: Floats,
    filled: int,
    time: float,
    s: State,
    gear_from: float,
    load: Load,
    technique: Technique,
    wing: Wing,
    deck: Deck,
) -> int:
    """Rows filled, with one more if there is room for it."""
    if filled >= rows.shape[0]:
        return filled
    _, _, angle, gear, thrust, drag, lift = forces(time, s, gear_from, load, technique, wing, deck)
    rows[filled, B_TIME] = time
    rows[filled, B_PLACE] = s[S_PLACE]
    rows[filled, B_HEIGHT] = s[S_HEIGHT]
    rows[filled, B_LEVEL] = s[S_LEVEL]
    rows[filled, B_CLIMB] = s[S_CLIMB]
    rows[filled, B_ANGLE] = angle
    rows[filled, B_GEAR] = gear
    rows[filled, B_THRUST] = thrust
    rows[filled, B_DRAG] = drag
    rows[filled, B_LIFT] = lift
    return filled + 1


record = compiled(_record)


def _fly(
    time: float,
    until: float,
    s: State,
    gear_from: float,
    load: Load,
    technique: Technique,
    wing: Wing,
    deck: Deck,
    rows: Floats,
) -> Outcome:
    """Flight from a state until a time [s] or the sea.

    gear_from : when the wheels began to come up [s], infinite while they are down: then from the first climb
    load, deck : as for the deck run (launch/kernel.py); rows : (any number, COLUMNS), filled; without rows no record
    """
    begun = time
    lowest_time, lowest = time, s[S_HEIGHT]
    lowest_speed = math.sqrt(s[S_LEVEL] * s[S_LEVEL] + s[S_CLIMB] * s[S_CLIMB])
    climb_time = sea_time = math.nan
    filled = record(rows, 0, time, s, gear_from, load, technique, wing, deck)
    count = 1
    while time < until - 1e-9:
        h = min(begun + count * STEP, until) - time
        after = step(time, h, s, gear_from, load, technique, wing, deck)
        whole = True
        if s[S_CLIMB] < 0.0 < after[S_CLIMB]:
            h = cut(S_CLIMB, after[S_CLIMB], time, h, s, gear_from, load, technique, wing, deck)
            after = step(time, h, s, gear_from, load, technique, wing, deck)
            after = (after[S_LEVEL], 0.0, after[S_PLACE], after[S_HEIGHT], after[S_ANGLE])
            whole = False
        elif s[S_CLIMB] >= 0.0 and after[S_CLIMB] > 0.0 and climb_time != climb_time:  # noqa: PLR0124 - not a number
            climb_time = time
            if gear_from == math.inf:
                gear_from = time
                after = step(time, h, s, gear_from, load, technique, wing, deck)
        if after[S_HEIGHT] <= 0.0:
            if s[S_HEIGHT] > 0.0:
                h = cut(S_HEIGHT, after[S_HEIGHT], time, h, s, gear_from, load, technique, wing, deck)
                after = step(time, h, s, gear_from, load, technique, wing, deck)
            after = (after[S_LEVEL], after[S_CLIMB], after[S_PLACE], 0.0, after[S_ANGLE])
            sea_time = time + h
        s = after
        time = min(begun + count * STEP, until) if whole and sea_time != sea_time else time + h  # noqa: PLR0124
        count += 1 if whole else 0
        filled = record(rows, filled, time, s, gear_from, load, technique, wing, deck)
        if s[S_HEIGHT] < lowest:
            lowest_time, lowest = time, s[S_HEIGHT]
            lowest_speed = math.sqrt(s[S_LEVEL] * s[S_LEVEL] + s[S_CLIMB] * s[S_CLIMB])
        if sea_time == sea_time:  # noqa: PLR0124 - not a number
            break
    return lowest_time, lowest, lowest_speed, climb_time, sea_time, filled


fly = compiled(_fly)
