"""Equations of motion of one aeroplane in the air of the day, and where the ship is meanwhile.

Plain scalar Python on floats, tuples of floats and float64 arrays, so that it runs as it stands and compiles unchanged
(motion/jit.py).

*Method:* point mass in coordinated flight. With wind (where the air goes) w, true airspeed V, climb angle gamma:
    dE/dt = V cos(gamma) sin(psi) + w_E,  dN/dt = V cos(gamma) cos(psi) + w_N,  dh/dt = V sin(gamma),
    dpsi/dt = g tan(phi) / V,  n = cos(gamma) / cos(phi),  m dV/dt = T - D - m g sin(gamma)
(any flight mechanics text; own notation). The wind's change with height bends the track but is not charged to the
airspeed: the pilot's throttle takes it. Fourth-order Runge-Kutta.

*Holds for:* speeds and heights of the circuit; incompressible airspeed (equivalent = indicated, without position
error); small climb angles (lift and turn use cos(gamma), sideslip is nil).
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from roundown.environment.air import GAS_CONSTANT, GRAVITY, LAPSE_RATE, SEA_LEVEL_DENSITY
from roundown.motion.jit import compiled

Floats = npt.NDArray[np.float64]
State = tuple[float, float, float, float, float, float, float, float]
"""east, north, height [m], true airspeed [m/s], heading unwrapped, bank right positive [rad], gear, flap [0..1]"""
Mode = tuple[float, float, float, float, float, float, float, float]
"""see the M_ indices; what holds between two switches"""
Row = tuple[float, ...]
"""see the R_ indices"""
Craft = tuple[float, ...]
"""see the C_ indices"""
Air = tuple[float, float]
"""temperature [K] and pressure [Pa] at sea level"""

# height laws
LEVEL, TO_HEIGHT, HEIGHT_BY_HEADING = 0, 1, 2

R_LATERAL, R_HEADING, R_BANK, R_X, R_Y = 0, 1, 2, 3, 4
R_SPEED, R_SPEED_TARGET, R_SPEED_RATE = 5, 6, 7
R_HEIGHT, R_HEIGHT_TARGET, R_HEIGHT_RATE = 8, 9, 10
R_GEAR, R_FLAP, R_GUARD, R_VALUE, R_DIRECTION, R_LONGEST = 11, 12, 13, 14, 15, 16

C_MASS, C_AREA, C_DRAG, C_GEAR_DRAG, C_FLAP_DRAG, C_INDUCED = 0, 1, 2, 3, 4, 5
C_IDLE, C_POWER, C_DISC, C_ROLL = 6, 7, 8, 9
C_GEAR_TIME, C_FLAP_TIME, C_GEAR_LIMIT, C_FLAP_LIMIT = 10, 11, 12, 13

# roll direction, bank wanted, rolling out (0/1), speed mode; directions of speed, gear, flap, height (-1, 0, +1)
M_ROLL, M_BANK, M_OUT, M_SPEED, M_SPEED_WAY, M_GEAR, M_FLAP, M_HEIGHT = 0, 1, 2, 3, 4, 5, 6, 7

# speed modes
STEADY, COMMANDED, AVAILABLE, BY_HEADING = 0.0, 1.0, 2.0, 3.0


def _density_at(height: float, air: Air) -> float:
    temperature = air[0] - LAPSE_RATE * height
    ratio = temperature / air[0]
    return float(air[1] * ratio ** (GRAVITY / (GAS_CONSTANT * LAPSE_RATE)) / (GAS_CONSTANT * temperature))


density_at = compiled(_density_at)


def _wind_at(height: float, winds: Floats) -> tuple[float, float]:
    last = winds.shape[0] - 1
    if height <= winds[0, 0]:
        return float(winds[0, 1]), float(winds[0, 2])
    if height >= winds[last, 0]:
        return float(winds[last, 1]), float(winds[last, 2])
    i = 0
    while height > winds[i + 1, 0]:
        i += 1
    low = float(winds[i, 0])
    part = (height - low) / (float(winds[i + 1, 0]) - low)
    east, north = float(winds[i, 1]), float(winds[i, 2])
    return east + part * (float(winds[i + 1, 1]) - east), north + part * (float(winds[i + 1, 2]) - north)


wind_at = compiled(_wind_at)


def _ship_at(time: float, track: Floats) -> tuple[float, float, float, float]:
    i = 0
    while i + 1 < track.shape[0] and time >= track[i + 1, 0]:
        i += 1
    t = time - float(track[i, 0])
    east, north, course = float(track[i, 1]), float(track[i, 2]), float(track[i, 3])
    speed, gain, turn = float(track[i, 4]), float(track[i, 5]), float(track[i, 6])
    if turn == 0.0:
        run = speed * t + 0.5 * gain * t * t
        return east + run * math.sin(course), north + run * math.cos(course), course, speed + gain * t
    radius, after = speed / turn, course + turn * t
    east += radius * (math.cos(course) - math.cos(after))
    return east, north + radius * (math.sin(after) - math.sin(course)), after, speed


ship_at = compiled(_ship_at)


def _in_ship_frame(time: float, east: float, north: float, track: Floats) -> tuple[float, float]:
    ship_east, ship_north, course, _ = ship_at(time, track)
    de, dn = east - ship_east, north - ship_north
    return de * math.sin(course) + dn * math.cos(course), dn * math.sin(course) - de * math.cos(course)


in_ship_frame = compiled(_in_ship_frame)


def _full_thrust(speed: float, density: float, craft: Craft) -> float:
    """Momentum theory: T (V + w) = P, T = 2 rho A (V + w) w; P is shaft power times the figure of merit."""
    power, disc = craft[C_POWER], craft[C_DISC]
    if power <= 0.0:
        return 0.0
    inflow = (power / (2.0 * density * disc)) ** (1.0 / 3.0)
    for _ in range(30):
        through = speed + inflow
        miss = 2.0 * density * disc * through * through * inflow - power
        slope = 2.0 * density * disc * through * (through + 2.0 * inflow)
        step = miss / slope
        inflow -= step
        if abs(step) < 1e-12 * (1.0 + inflow):
            break
    return float(2.0 * density * disc * (speed + inflow) * inflow)


full_thrust = compiled(_full_thrust)


def _drag(speed: float, density: float, load: float, gear: float, flap: float, craft: Craft) -> float:
    pressure_area = 0.5 * density * speed * speed * craft[C_AREA]
    lift = load * craft[C_MASS] * GRAVITY / pressure_area
    parasite = craft[C_DRAG] + gear * craft[C_GEAR_DRAG] + flap * craft[C_FLAP_DRAG]
    return pressure_area * (parasite + craft[C_INDUCED] * lift * lift)


drag = compiled(_drag)


def _available(s: State, climb: float, way: float, craft: Craft, air: Air) -> float:
    """Change of speed to be had in a direction [m/s2]: throttle shut to slow (way -1), full power to gain (way +1)."""
    density = density_at(s[2], air)
    sine = climb / s[3]
    load = math.sqrt(max(1.0 - sine * sine, 0.0)) / math.cos(s[5])
    resisting = drag(s[3], density, load, s[6], s[7], craft)
    if way < 0.0:
        return (resisting - craft[C_IDLE]) / craft[C_MASS] + GRAVITY * sine
    return (full_thrust(s[3], density, craft) - resisting) / craft[C_MASS] - GRAVITY * sine


available = compiled(_available)


def _indicated(s: State, air: Air) -> float:
    return s[3] * math.sqrt(density_at(s[2], air) / SEA_LEVEL_DENSITY)


indicated = compiled(_indicated)


def _climb_of(s: State, row: Row, way: float) -> float:
    """Rate of climb [m/s]; way : direction of a change to a height (-1, 0, +1)."""
    if row[R_HEIGHT] == HEIGHT_BY_HEADING:
        return row[R_HEIGHT_RATE] * GRAVITY * math.tan(s[5]) / s[3]
    return way * row[R_HEIGHT_RATE]


climb_of = compiled(_climb_of)


def _rates(s: State, row: Row, mode: Mode, craft: Craft, air: Air, winds: Floats) -> State:
    speed = s[3]
    turn = GRAVITY * math.tan(s[5]) / speed
    climb = climb_of(s, row, mode[M_HEIGHT])
    if mode[M_SPEED] == BY_HEADING:
        gain = row[R_SPEED_RATE] * turn
    elif mode[M_SPEED] == STEADY:  # indicated airspeed held: true airspeed follows the density
        gain = 0.5 * speed * climb * (GRAVITY / GAS_CONSTANT - LAPSE_RATE) / (air[0] - LAPSE_RATE * s[2])
    elif mode[M_SPEED] == COMMANDED:
        gain = mode[M_SPEED_WAY] * row[R_SPEED_RATE]
    else:
        gain = mode[M_SPEED_WAY] * available(s, climb, mode[M_SPEED_WAY], craft, air)
    level = speed if climb == 0.0 else math.sqrt(max(speed * speed - climb * climb, 0.0))  # too steep ends the row
    east, north = wind_at(s[2], winds)
    return (
        level * math.sin(s[4]) + east,
        level * math.cos(s[4]) + north,
        climb,
        gain,
        turn,
        mode[M_ROLL] * craft[C_ROLL],
        mode[M_GEAR] / craft[C_GEAR_TIME],
        mode[M_FLAP] / craft[C_FLAP_TIME],
    )


rates = compiled(_rates)


def _along(s: State, k: State, h: float) -> State:
    return (
        s[0] + h * k[0],
        s[1] + h * k[1],
        s[2] + h * k[2],
        s[3] + h * k[3],
        s[4] + h * k[4],
        s[5] + h * k[5],
        s[6] + h * k[6],
        s[7] + h * k[7],
    )


along = compiled(_along)


def _step(s: State, h: float, row: Row, mode: Mode, craft: Craft, air: Air, winds: Floats) -> State:
    """One Runge-Kutta step of length h, within which nothing switches."""
    k1 = rates(s, row, mode, craft, air, winds)
    k2 = rates(along(s, k1, 0.5 * h), row, mode, craft, air, winds)
    k3 = rates(along(s, k2, 0.5 * h), row, mode, craft, air, winds)
    k4 = rates(along(s, k3, h), row, mode, craft, air, winds)
    return along(along(along(along(s, k1, h / 6.0), k2, h / 3.0), k3, h / 3.0), k4, h / 6.0)


step = compiled(_step)
