"""One aeroplane flown through one row of a program: the inner loop of the path engine.

Plain scalar Python, as `equations/kernel.py`. `motion/manoeuvre.py` builds its arguments from named things and is the
only importer.

*Method:* whatever switches (roll ended, speed or height reached, gear or flap home, row's guard) has a *margin*,
positive until it happens; a step in which a margin turns negative is cut where it is zero, by false position on shorter
steps from the same start. A fixed step across a switch would cost metres. Feedback laws choose their bank once per
control tick.
"""

from __future__ import annotations

import math

from roundown.environment.air import GRAVITY
from roundown.motion.equations.kernel import (
    AVAILABLE,
    BY_HEADING,
    C_FLAP_LIMIT,
    C_GEAR_LIMIT,
    C_ROLL,
    COMMANDED,
    M_BANK,
    M_FLAP,
    M_GEAR,
    M_HEIGHT,
    M_OUT,
    M_ROLL,
    M_SPEED,
    M_SPEED_WAY,
    R_BANK,
    R_DIRECTION,
    R_FLAP,
    R_GEAR,
    R_GUARD,
    R_HEADING,
    R_HEIGHT,
    R_HEIGHT_TARGET,
    R_LATERAL,
    R_LONGEST,
    R_SPEED,
    R_SPEED_RATE,
    R_SPEED_TARGET,
    R_VALUE,
    R_X,
    R_Y,
    STEADY,
    TO_HEIGHT,
    Air,
    Craft,
    Floats,
    Mode,
    Row,
    State,
    available,
    climb_of,
    in_ship_frame,
    indicated,
    rates,
    ship_at,
    step,
    wind_at,
)
from roundown.motion.jit import compiled

Margins = tuple[float, float, float, float, float, float, float, float, float]

TICK = 0.1  # s, control tick of feedback laws
CLOSE = 1e-9  # a margin this small counts as reached (s, m, m/s or rad)
ROLL_STEP = math.radians(5.0)  # most change of bank in a step: the turn rate goes with its tangent
STEEPEST = 0.5  # climb or descent over airspeed beyond which a row ends: no aeroplane of this kind does it
NEVER = 1.0  # margin of a switch that is not waiting

# lateral laws, speed laws, guards
HOLD_BANK, TURN_TO, REGAIN_LINE, CLOSE_ON = 0, 1, 2, 3
HOLD_SPEED, CHANGE_SPEED, SPEED_BY_HEADING = 0, 1, 2
TURN_DONE, TIME, SHIP_X, SHIP_Y, HEADING, HEIGHT, SPEED, RANGE = 0, 1, 2, 3, 4, 5, 6, 7

# how a row ended
MET, OUT_OF_TIME, OUT_OF_ROOM, TOO_STEEP = 0, 1, 2, 3


def _guard_value(t: float, s: State, row: Row, begun: float, air: Air, track: Floats) -> float:
    """Signed distance of the row's guard from its value. A turn is done when it has rolled out: see `fly_row`."""
    kind, value = row[R_GUARD], row[R_VALUE]
    if kind == TURN_DONE:
        return -1.0
    if kind == TIME:
        return t - begun - value
    if kind == HEADING:
        return s[4] - value
    if kind == HEIGHT:
        return s[2] - value
    if kind == SPEED:
        return indicated(s, air) - value
    x, y = in_ship_frame(t, s[0], s[1], track)
    if kind == SHIP_X:
        return x - value
    if kind == SHIP_Y:
        return y - value
    return math.hypot(x - row[R_X], y - row[R_Y]) - value


guard_value = compiled(_guard_value)


def _guard_reach(row: Row, h: float) -> float:
    """How far the guard's value could move within h, generously: beyond it no double crossing can hide in a step."""
    kind = row[R_GUARD]
    if kind == HEADING:
        return 2.0 * h  # rad: 2 rad/s is more than any turn of an aeroplane
    if kind in (TIME, TURN_DONE):
        return 0.0
    return 300.0 * h  # m or m/s


guard_reach = compiled(_guard_reach)


def _roll_out_lead(s: State, row: Row, mode: Mode, craft: Craft, air: Air, winds: Floats) -> float:
    """Heading still turned through while the wings are levelled [rad].

    (g / pV) ln sec(bank), V where half of that heading is turned through: as the bank falls evenly to nought in time T,
    a steady change of speed weighs T/3 (less where it ends on the way), and one that falls with the square of the bank
    weighs 0.6 T/3, hence the change is taken at the root of 0.6 of the bank.
    """
    tilt = abs(s[5])
    milder = (s[0], s[1], s[2], s[3], s[4], math.sqrt(0.6) * s[5], s[6], s[7])
    change = rates(milder, row, mode, craft, air, winds)[3] * tilt / craft[C_ROLL]
    if change != 0.0 and (mode[M_SPEED] == COMMANDED or mode[M_SPEED] == AVAILABLE):
        going = min(1.0, abs((row[R_SPEED_TARGET] - indicated(s, air)) / change))
        change *= 1.0 - (1.0 - going) ** 3
    return -GRAVITY / (craft[C_ROLL] * (s[3] + change / 3.0)) * math.log(math.cos(tilt))


roll_out_lead = compiled(_roll_out_lead)


def _margins(s: State, row: Row, mode: Mode, craft: Craft, air: Air, winds: Floats) -> Margins:
    """Positive until: 0 bank reached, 1 time to roll out, 2 speed reached, 3 commanded change of speed crosses what is
    available, 4 gear home, 5 flap home, 6 slow enough for gear, 7 slow enough for flap, 8 height reached.
    """
    bank = roll_out = reached = enough = gear = flap = gear_limit = flap_limit = height = NEVER
    if mode[M_ROLL] != 0.0:
        bank = (mode[M_BANK] - s[5]) * mode[M_ROLL]
    if row[R_LATERAL] == TURN_TO and mode[M_OUT] == 0.0:
        lead = roll_out_lead(s, row, mode, craft, air, winds)
        roll_out = (row[R_HEADING] - s[4]) * math.copysign(1.0, row[R_BANK]) - lead
    if mode[M_SPEED] == COMMANDED or mode[M_SPEED] == AVAILABLE:
        reached = (indicated(s, air) - row[R_SPEED_TARGET]) * -mode[M_SPEED_WAY]
        climb = climb_of(s, row, mode[M_HEIGHT])
        spare = available(s, climb, mode[M_SPEED_WAY], craft, air) - row[R_SPEED_RATE]
        enough = spare + CLOSE if mode[M_SPEED] == COMMANDED else CLOSE - spare
    if mode[M_GEAR] != 0.0:
        gear = (row[R_GEAR] - s[6]) * mode[M_GEAR]
    elif s[6] < row[R_GEAR]:
        gear_limit = indicated(s, air) - craft[C_GEAR_LIMIT]
    if mode[M_FLAP] != 0.0:
        flap = (row[R_FLAP] - s[7]) * mode[M_FLAP]
    elif s[7] < row[R_FLAP]:
        flap_limit = indicated(s, air) - craft[C_FLAP_LIMIT]
    if mode[M_HEIGHT] != 0.0:
        height = (row[R_HEIGHT_TARGET] - s[2]) * mode[M_HEIGHT]
    return bank, roll_out, reached, enough, gear, flap, gear_limit, flap_limit, height


margins = compiled(_margins)


def _toward(now: float, wanted: float) -> float:
    return 0.0 if abs(wanted - now) <= CLOSE else math.copysign(1.0, wanted - now)


toward = compiled(_toward)


def _first_mode(s: State, row: Row, craft: Craft, air: Air) -> Mode:
    """The mode in which a row begins."""
    speed_mode, speed_way = STEADY, 0.0
    if row[R_SPEED] == SPEED_BY_HEADING:
        speed_mode = BY_HEADING
    elif row[R_SPEED] == CHANGE_SPEED:
        speed_way = toward(indicated(s, air), row[R_SPEED_TARGET])
    gear = toward(s[6], row[R_GEAR])
    flap = toward(s[7], row[R_FLAP])
    if gear > 0.0 and indicated(s, air) > craft[C_GEAR_LIMIT]:
        gear = 0.0
    if flap > 0.0 and indicated(s, air) > craft[C_FLAP_LIMIT]:
        flap = 0.0
    height = toward(s[2], row[R_HEIGHT_TARGET]) if row[R_HEIGHT] == TO_HEIGHT else 0.0
    if speed_way != 0.0:
        can = available(s, climb_of(s, row, height), speed_way, craft, air)
        speed_mode = COMMANDED if row[R_SPEED_RATE] <= can else AVAILABLE
    return toward(s[5], row[R_BANK]), row[R_BANK], 0.0, speed_mode, speed_way, gear, flap, height


first_mode = compiled(_first_mode)


def _switched(which: int, mode: Mode, s: State) -> Mode:
    """The mode after switch `which` (numbered as in `margins`)."""
    roll, bank, out, speed, way, gear, flap, height = mode
    if which == 0:
        roll = 0.0
    elif which == 1:
        out, bank = 1.0, 0.0
        roll = toward(s[5], 0.0)
    elif which == 2:
        speed = STEADY
    elif which == 3:
        speed = AVAILABLE if speed == COMMANDED else COMMANDED
    elif which == 4:
        gear = 0.0
    elif which == 5:
        flap = 0.0
    elif which == 6:
        gear = 1.0
    elif which == 7:
        flap = 1.0
    else:
        height = 0.0
    return roll, bank, out, speed, way, gear, flap, height


switched = compiled(_switched)


def _feedback_bank(t: float, s: State, row: Row, winds: Floats, track: Floats) -> float:
    """Bank that regains a line of the ship frame, or closes on a point of it [rad] (own derivation).

    Line y = R_Y: lateral acceleration -(w^2 e + 2 z w de/dt) with w 0.15 rad/s and z 0.9; far off the line the error
    counts as 100 m so that the cut stays gentle. Point: proportional navigation, 3 V times the turning of the line of
    sight, plus a turn toward the point while it is not ahead.
    """
    x, y = in_ship_frame(t, s[0], s[1], track)
    _, _, course, ship_speed = ship_at(t, track)
    east, north = wind_at(s[2], winds)
    ve = s[3] * math.sin(s[4]) + east - ship_speed * math.sin(course)
    vn = s[3] * math.cos(s[4]) + north - ship_speed * math.cos(course)
    vx = ve * math.sin(course) + vn * math.cos(course)
    vy = vn * math.sin(course) - ve * math.cos(course)
    if row[R_LATERAL] == REGAIN_LINE:
        error = min(100.0, max(-100.0, y - row[R_Y]))
        to_port = -(0.15**2 * error + 2.0 * 0.9 * 0.15 * vy)
        sideways = -to_port * math.cos(s[4] - course)
    else:
        dx, dy = row[R_X] - x, row[R_Y] - y
        far = max(dx * dx + dy * dy, 1.0)
        turning = (dx * vy - dy * vx) / far  # of the line of sight, to starboard positive (x ahead, y to port)
        bearing = math.atan2(-dy, dx) + course - s[4]
        bearing -= 2.0 * math.pi * math.floor((bearing + math.pi) / (2.0 * math.pi))
        sideways = 3.0 * s[3] * turning if abs(bearing) < 0.5 else math.copysign(GRAVITY, bearing)
    limit = abs(row[R_BANK])
    return min(limit, max(-limit, math.atan(sideways / GRAVITY)))


feedback_bank = compiled(_feedback_bank)


def _margin_of(
    which: int, sign: float, t: float, h: float, s: State, row: Row, mode: Mode, begun: float,
    craft: Craft, air: Air, winds: Floats, track: Floats,
) -> float:  # fmt: skip
    """Margin of one switch (9: the guard, by the side it is on) after a step of length h from s."""
    after = step(s, h, row, mode, craft, air, winds)
    if which == 9:
        return sign * guard_value(t + h, after, row, begun, air, track)
    return margins(after, row, mode, craft, air, winds)[which]


margin_of = compiled(_margin_of)


def _when(
    which: int, sign: float, at_start: float, at_end: float, t: float, h: float, s: State, row: Row, mode: Mode,
    begun: float, craft: Craft, air: Air, winds: Floats, track: Floats,
) -> float:  # fmt: skip
    """Length of the step, in (0, h], at which a margin that ends negative is zero (Illinois false position)."""
    low, high, f_low, f_high = 0.0, h, at_start, at_end
    if f_low <= 0.0:
        return 0.0
    for _ in range(60):
        middle = (low * f_high - high * f_low) / (f_high - f_low)
        if not low < middle < high:
            middle = 0.5 * (low + high)
        f = margin_of(which, sign, t, middle, s, row, mode, begun, craft, air, winds, track)
        if f > 0.0:
            low, f_low = middle, f
            f_high *= 0.5
        else:
            high, f_high = middle, f
            f_low *= 0.5
            if f > -1e-12:
                break
        if high - low < 1e-12:
            break
    return high


when = compiled(_when)


def _first_switch(
    t: float, h: float, s: State, after: State, row: Row, mode: Mode, begun: float,
    craft: Craft, air: Air, winds: Floats, track: Floats,
) -> tuple[float, int]:  # fmt: skip
    """The first switch within a step of length h: (when, its number), or (h, -1) where there is none."""
    before_margins = margins(s, row, mode, craft, air, winds)
    after_margins = margins(after, row, mode, craft, air, winds)
    cut, which = h, -1
    for i in range(9):
        if before_margins[i] <= 0.0:
            return 0.0, i
    for i in range(9):
        if after_margins[i] <= 0.0:
            length = when(
                i, 0.0, before_margins[i], after_margins[i], t, h, s, row, mode, begun, craft, air, winds, track
            )
            if length < cut or which < 0:
                cut, which = length, i
    return cut, which


first_switch = compiled(_first_switch)


def _guard_crossing(
    side: float, t: float, h: float, s: State, after: State, row: Row, mode: Mode, begun: float,
    craft: Craft, air: Air, winds: Floats, track: Floats,
) -> float:  # fmt: skip
    """When the armed guard is crossed within a step of length h; -1 where it is not.

    A value that dips through and back inside the step is found by looking at the foot of the parabola through its
    start, middle and end.
    """
    start = side * guard_value(t, s, row, begun, air, track)
    end = side * guard_value(t + h, after, row, begun, air, track)
    span = h
    if end > 0.0 and min(start, end) < guard_reach(row, h):
        half = margin_of(9, side, t, 0.5 * h, s, row, mode, begun, craft, air, winds, track)
        bend = start - 2.0 * half + end
        if half <= 0.0:
            span, end = 0.5 * h, half
        elif bend > 0.0 and abs(start - end) < 2.0 * bend:
            foot = h * (0.5 + 0.25 * (start - end) / bend)
            low = margin_of(9, side, t, foot, s, row, mode, begun, craft, air, winds, track)
            if low <= 0.0:
                span, end = foot, low
    if end > 0.0:
        return -1.0
    return when(9, side, start, end, t, span, s, row, mode, begun, craft, air, winds, track)


guard_crossing = compiled(_guard_crossing)


def _record(out: Floats, n: int, t: float, s: State) -> None:
    out[n, 0] = t
    for i in range(8):
        out[n, i + 1] = s[i]


record = compiled(_record)


def _fly_row(
    t: float, s: State, row: Row, longest_step: float, craft: Craft, air: Air, winds: Floats, track: Floats,
    out: Floats, first: int,
) -> tuple[int, int]:  # fmt: skip
    """Fly one row from time t and state s.

    longest_step : longest step recorded [s]; feedback laws step no further than the control tick
    out : (n, 9) filled from index `first` on with time and state; out[first] is the start of the row
    Returns (index of the last record, MET, OUT_OF_TIME, OUT_OF_ROOM or TOO_STEEP). A turn to a heading is met when it
    has rolled out. Other guards are armed once their value has left zero on the side the wanted direction comes from.
    """
    begun = t
    next_tick = t if row[R_LATERAL] == REGAIN_LINE or row[R_LATERAL] == CLOSE_ON else math.inf
    mode = first_mode(s, row, craft, air)
    side = 0.0
    n = first
    record(out, n, t, s)
    while True:
        if mode[M_OUT] == 1.0 and mode[M_ROLL] == 0.0 and row[R_GUARD] == TURN_DONE:
            return n, MET
        if t - begun >= row[R_LONGEST] - CLOSE:
            return n, OUT_OF_TIME
        if n + 1 >= out.shape[0]:
            return n, OUT_OF_ROOM
        if t >= next_tick - CLOSE:
            bank = feedback_bank(t, s, row, winds, track)
            mode = (toward(s[5], bank), bank, mode[2], mode[3], mode[4], mode[5], mode[6], mode[7])
            next_tick = t + TICK
        h = min(longest_step, row[R_LONGEST] - (t - begun), next_tick - t)
        if mode[M_ROLL] != 0.0:  # a hair past the end of the roll and no further: the bank must not pass the vertical
            h = min(h, ROLL_STEP / craft[C_ROLL], abs(mode[M_BANK] - s[5]) / craft[C_ROLL] + CLOSE)
        value = guard_value(t, s, row, begun, air, track)
        if side == 0.0 and abs(value) > CLOSE and row[R_DIRECTION] * value <= 0.0:
            side = math.copysign(1.0, value)
        after = step(s, h, row, mode, craft, air, winds)
        cut, which = first_switch(t, h, s, after, row, mode, begun, craft, air, winds, track)
        if side != 0.0:
            met = guard_crossing(side, t, h, s, after, row, mode, begun, craft, air, winds, track)
            if 0.0 <= met <= cut:
                cut, which = met, 9
        if cut > 0.0:
            s = after if cut == h else step(s, cut, row, mode, craft, air, winds)
            n += int(t + cut > t)  # two switches can be closer together than the time of day can tell
            t += cut
            record(out, n, t, s)
        if abs(climb_of(s, row, mode[M_HEIGHT])) > STEEPEST * s[3]:
            return n, TOO_STEEP
        if which == 9:
            return n, MET
        if which >= 0:
            mode = switched(which, mode, s)
        if which == 0:  # the roll ends on the bank wanted, not a rounding beside it
            s = (s[0], s[1], s[2], s[3], s[4], mode[M_BANK], s[6], s[7])
            out[n, 6] = s[5]


fly_row = compiled(_fly_row)
