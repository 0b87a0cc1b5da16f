"""Equations of the run along the deck, and many runs at once.

Plain scalar Python on floats, tuples of floats and float64 arrays, so that it runs as it stands and compiles unchanged
(motion/jit.py).

*Method:* with u the speed past the deck, w the wind over the deck (ahead, across) and theta the deck's pitch, bow up,
    V = sqrt((u + w_ahead)^2 + w_across^2),  L = q S C_L,  D = q S C_D,  q = rho V^2 / 2,
    N = W cos(theta) - L - T sin(eps),  m du/dt = T cos(eps) - D - mu N - W sin(theta),  dx/dt = u
(after J. D. Anderson, *Aircraft Performance and Design*, 1999, ch. 6, with the wind over the deck put in; own
notation). The tail is down up to a given airspeed and up beyond it; eps, the tilt of the thrust, is nil with the tail
up and what the tail is lower by before (own rule). Thrust is a propeller's by momentum theory, or a parabola in V, as
worked examples have it. Fourth-order Runge-Kutta in time, steps cut where the tail comes up, at lift-off and at the
bow. Past lift-off speed the aeroplane gains speed as on its wheels.

*Holds for:* wind from ahead of the beam; the wing meets the air along the deck; the tail comes up at once; the wing
carries the weight just as lift-off speed is reached, so that no time goes to raising the nose.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from roundown.environment.air import GRAVITY
from roundown.motion.equations.kernel import C_DISC, C_POWER, full_thrust
from roundown.motion.equations.wing import W_AREA, Wing, drag_at, lift_at
from roundown.motion.jit import compiled

Floats = npt.NDArray[np.float64]
Load = tuple[float, ...]
"""see the L_ indices; useful power and disc stand where the path engine's craft has them (C_POWER 7, C_DISC 8)"""
Deck = tuple[float, ...]
"""see the D_ indices"""
Outcome = tuple[float, float, float, float, float, int]
"""see the O_ indices; NaN where it did not come to it; the last is how many rows were recorded"""

# mass [kg], flap 0 to 1, factor on the induced drag, friction, angles of attack tail down and up [rad], law of thrust
L_MASS, L_FLAP, L_GROUND, L_FRICTION, L_DOWN, L_UP, L_LAW = 0, 1, 2, 3, 4, 5, 6
# true airspeeds at which the tail comes up and of lift-off [m/s]; thrust a + b V + c V^2 [N]
L_TAIL_SPEED, L_OFF_SPEED, L_CONSTANT, L_LINEAR, L_SQUARE = 9, 10, 11, 12, 13
PROPELLER, PARABOLA = 0.0, 1.0

# wind [m/s]; run to the bow [m]; density [kg/m3]; pitch: mean, either way from it [rad], rate, phase at the start [rad]
D_AHEAD, D_ACROSS, D_RUN, D_DENSITY, D_PITCH, D_SWAY, D_RATE, D_PHASE = 0, 1, 2, 3, 4, 5, 6, 7

O_OFF_TIME, O_OFF_PLACE, O_OFF_SPEED, O_BOW_TIME, O_BOW_SPEED, O_ROWS = 0, 1, 2, 3, 4, 5

# columns of a record
T_TIME, T_PLACE, T_SPEED, T_AIRSPEED, T_THRUST, T_DRAG, T_WEIGHT, T_ANGLE, T_PITCH = 0, 1, 2, 3, 4, 5, 6, 7, 8
COLUMNS = 9

STEP = 0.1  # s
LONGEST = 120.0  # s, after which it is given up
FARTHEST = 3000.0  # m, likewise

# columns of a draw: wind ahead [m/s] and tail-up airspeed [m/s] added; mass, power as factors; phase of the pitch [rad]
DRAW_WIND, DRAW_TAIL, DRAW_MASS, DRAW_POWER, DRAW_PHASE = 0, 1, 2, 3, 4

_TAIL, _OFF, _BOW = 0, 1, 2


def _airspeed(speed: float, deck: Deck) -> float:
    ahead = speed + deck[D_AHEAD]
    return math.sqrt(ahead * ahead + deck[D_ACROSS] * deck[D_ACROSS])


airspeed_at = compiled(_airspeed)


def _thrust(airspeed: float, load: Load, deck: Deck) -> float:
    if load[L_LAW] == PROPELLER:
        return full_thrust(airspeed, deck[D_DENSITY], load)
    return load[L_CONSTANT] + airspeed * (load[L_LINEAR] + airspeed * load[L_SQUARE])


thrust_at = compiled(_thrust)


def _pitch(time: float, deck: Deck) -> float:
    return deck[D_PITCH] + deck[D_SWAY] * math.sin(deck[D_RATE] * time + deck[D_PHASE])


pitch_at = compiled(_pitch)


def _forces(
    time: float, speed: float, angle: float, load: Load, wing: Wing, deck: Deck
) -> tuple[float, float, float, float]:
    """Thrust, drag, weight on the wheels (negative where the wing lifts more) [N], acceleration [m/s2]."""
    airspeed = airspeed_at(speed, deck)
    pressure_area = 0.5 * deck[D_DENSITY] * airspeed * airspeed * wing[W_AREA]
    thrust = thrust_at(airspeed, load, deck)
    drag = pressure_area * drag_at(angle, load[L_FLAP], 1.0, load[L_GROUND], wing)
    weight, pitch, tilt = load[L_MASS] * GRAVITY, pitch_at(time, deck), angle - load[L_UP]
    carried = pressure_area * lift_at(angle, load[L_FLAP], wing) + thrust * math.sin(tilt)
    pressing = weight * math.cos(pitch) - carried
    along = thrust * math.cos(tilt) - drag - load[L_FRICTION] * max(pressing, 0.0) - weight * math.sin(pitch)
    return thrust, drag, pressing, along / load[L_MASS]


forces = compiled(_forces)


def _step(
    time: float, speed: float, place: float, h: float, angle: float, load: Load, wing: Wing, deck: Deck
) -> tuple[float, float]:
    """Speed and place after one Runge-Kutta step of length h."""
    a1 = forces(time, speed, angle, load, wing, deck)[3]
    u2 = speed + 0.5 * h * a1
    a2 = forces(time + 0.5 * h, u2, angle, load, wing, deck)[3]
    u3 = speed + 0.5 * h * a2
    a3 = forces(time + 0.5 * h, u3, angle, load, wing, deck)[3]
    u4 = speed + h * a3
    a4 = forces(time + h, u4, angle, load, wing, deck)[3]
    return (
        speed + h / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4),
        place + h / 6.0 * (speed + 2.0 * u2 + 2.0 * u3 + u4),
    )


step = compiled(_step)


def _past(
    event: int, time: float, speed: float, place: float, angle: float, load: Load, wing: Wing, deck: Deck
) -> float:
    """Nil where the event happens, positive past it."""
    if event == _BOW:
        return place - deck[D_RUN]
    airspeed = airspeed_at(speed, deck)
    if event == _TAIL:
        return airspeed - load[L_TAIL_SPEED]
    lightness = -forces(time, speed, angle, load, wing, deck)[2] / (load[L_MASS] * GRAVITY)
    return max(airspeed - load[L_OFF_SPEED], lightness * load[L_OFF_SPEED])


past = compiled(_past)


def _cut(
    event: int, h: float, time: float, speed: float, place: float, angle: float, load: Load, wing: Wing, deck: Deck
) -> float:
    """Length of the step that ends at an event met within h (false position, Illinois rule)."""
    low, high = 0.0, h
    before = past(event, time, speed, place, angle, load, wing, deck)
    u, x = step(time, speed, place, h, angle, load, wing, deck)
    after = past(event, time + h, u, x, angle, load, wing, deck)
    side = 0
    for _ in range(60):
        middle = high - after * (high - low) / (after - before)
        u, x = step(time, speed, place, middle, angle, load, wing, deck)
        miss = past(event, time + middle, u, x, angle, load, wing, deck)
        if abs(miss) < 1e-11 or high - low < 1e-14:
            return middle
        if miss > 0.0:
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
    rows: int, time: float, speed: float, place: float, angle: float, load: Load, wing: Wing, deck: Deck, into: Floats
) -> int:
    """Write one row if there is room; returns how many are written."""
    if rows >= into.shape[0]:
        return rows
    thrust, drag, pressing, _ = forces(time, speed, angle, load, wing, deck)
    into[rows, T_TIME], into[rows, T_PLACE], into[rows, T_SPEED] = time, place, speed
    into[rows, T_AIRSPEED] = airspeed_at(speed, deck)
    into[rows, T_THRUST], into[rows, T_DRAG], into[rows, T_WEIGHT] = thrust, drag, max(pressing, 0.0)
    into[rows, T_ANGLE], into[rows, T_PITCH] = angle, pitch_at(time, deck)
    return rows + 1


record = compiled(_record)


def _run(load: Load, wing: Wing, deck: Deck, into: Floats) -> Outcome:
    """One run from brakes off until it is past both lift-off and the bow, on a deck that goes on beyond the bow.

    into : (rows, COLUMNS), filled with the run; two rows at one time where the tail comes up. No rows: nothing kept.
    """
    time, speed, place = 0.0, 0.0, 0.0
    off_time, off_place, off_speed, bow_time, bow_speed = math.nan, math.nan, math.nan, math.nan, math.nan
    tail_up, off, bow = False, False, False
    met = -1  # the event the last step ended at
    rows = record(0, time, speed, place, load[L_DOWN], load, wing, deck, into)
    while True:
        angle = load[L_UP] if tail_up else load[L_DOWN]
        if not tail_up and (met == _TAIL or past(_TAIL, time, speed, place, angle, load, wing, deck) >= 0.0):
            tail_up, angle = True, load[L_UP]
            rows = record(rows, time, speed, place, angle, load, wing, deck, into)
        if not off and (met == _OFF or past(_OFF, time, speed, place, angle, load, wing, deck) >= 0.0):
            off, off_time, off_place, off_speed = True, time, place, speed
        if not bow and (met == _BOW or past(_BOW, time, speed, place, angle, load, wing, deck) >= 0.0):
            bow, bow_time, bow_speed = True, time, speed
        if (off and bow) or time >= LONGEST or place >= FARTHEST or speed < 0.0:
            break
        h, met = STEP, -1
        u, x = step(time, speed, place, h, angle, load, wing, deck)
        for event in range(3):
            if (event == _TAIL and tail_up) or (event == _OFF and off) or (event == _BOW and bow):
                continue
            if past(event, time + h, u, x, angle, load, wing, deck) >= 0.0:
                h, met = cut(event, h, time, speed, place, angle, load, wing, deck), event
                u, x = step(time, speed, place, h, angle, load, wing, deck)
        speed, place = u, x
        time += h
        rows = record(rows, time, speed, place, angle, load, wing, deck, into)
    return off_time, off_place, off_speed, bow_time, bow_speed, rows


run = compiled(_run)


def _margins(draws: Floats, load: Load, wing: Wing, deck: Deck, margins: Floats) -> None:
    """Airspeed at the bow over lift-off speed [m/s] for each draw; that airspeed is nil where it never comes there.

    draws : (runs, 5), see the DRAW_ indices; margins : (runs,), filled
    Lift-off speed goes with the root of the weight.
    """
    nothing = np.empty((0, COLUMNS))
    for k in range(draws.shape[0]):
        mass, power = draws[k, DRAW_MASS], draws[k, DRAW_POWER]
        drawn = (
            load[L_MASS] * mass,
            load[L_FLAP],
            load[L_GROUND],
            load[L_FRICTION],
            load[L_DOWN],
            load[L_UP],
            load[L_LAW],
            load[C_POWER] * power,
            load[C_DISC],
            load[L_TAIL_SPEED] + draws[k, DRAW_TAIL],
            load[L_OFF_SPEED] * math.sqrt(mass),
            load[L_CONSTANT] * power,
            load[L_LINEAR] * power,
            load[L_SQUARE] * power,
        )
        there = (
            deck[D_AHEAD] + draws[k, DRAW_WIND],
            deck[D_ACROSS],
            deck[D_RUN],
            deck[D_DENSITY],
            deck[D_PITCH],
            deck[D_SWAY],
            deck[D_RATE],
            draws[k, DRAW_PHASE],
        )
        speed = run(drawn, wing, there, nothing)[O_BOW_SPEED]
        reached = airspeed_at(speed, there) if speed == speed else 0.0  # noqa: PLR0124 - not a number
        margins[k] = reached - drawn[L_OFF_SPEED]


margins_of = compiled(_margins)
