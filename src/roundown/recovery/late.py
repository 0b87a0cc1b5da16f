"""What being late or early at the turn-in costs, if the final turn is then flown as planned.

*Method:* the same bank from a turn-in shifted in time, by the path engine. With a steady ship the turn still ends on
the centre line, further astern or further ahead: a late turn-in is paid in straight flight behind the ship.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.figures import figure
from roundown.motion.equations.kernel import Floats, in_ship_frame
from roundown.motion.manoeuvre import Flown, Guard, Until, fly
from roundown.passes.cost import STRAIGHT
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import AHEAD_OF_RAMP, ANGLE, DISTANCE, TIME
from roundown.recovery.circuit import Circuit, downwind_leg, final_legs
from roundown.recovery.facts import CircuitFacts

DELAYS = (-6.0, -4.0, -2.0, 2.0, 4.0, 6.0)  # s
LEVEL_AT_RAMP = 0.05  # m: wings level within it are level over the ramp, as the planned circuit's are
_FLOWN = "the planned final turn flown from a turn-in that much later (motion/kernel.py)"


@dataclass(frozen=True, kw_only=True)
class Late:
    """One delay: after a late turn-in the straight flight, after an early one what is left of the turn at the ramp.

    A turn so early that it stays ahead of the ramp has neither.
    """

    delay: float
    rolled_out_ahead: float = figure(
        AHEAD_OF_RAMP, "where the wings come level, ahead of the ramp; astern is negative", _FLOWN, PASS_INPUTS
    )
    straight_time: float | None = figure(TIME, "straight flight from wings level to the ramp", _FLOWN, PASS_INPUTS)
    still_to_turn: float | None = figure(ANGLE, "turn still to make when the ramp is passed", _FLOWN, PASS_INPUTS)
    off_centre: float | None = figure(
        DISTANCE, "distance to port of the centre line when the ramp is passed", _FLOWN, PASS_INPUTS
    )


@dataclass(frozen=True, eq=False)
class LatePath:
    """A pass turned in at another time, for drawing, one entry an instant from wings level downwind on. Read-only.

    It ends over the ramp, or where the wings come level ahead of it.
    delay : of the turn-in; time : after the break [s]; ahead, port : place in the ship frame [m]
    height : over the sea [m]; heading : true, unwrapped, bank : to starboard positive [rad]
    speed : true airspeed [m/s]; turn_in : time of the turn-in [s]
    straight_from : time from which the flight behind the ship is straight [s]; NaN where the ramp is passed turning
    """

    delay: float
    time: Floats
    ahead: Floats
    port: Floats
    height: Floats
    heading: Floats
    bank: Floats
    speed: Floats
    turn_in: float
    straight_from: float


def name_of(delay: float) -> str:
    """The key of a delay: late_4_s, early_2_s, and on_time for none."""
    return "on_time" if delay == 0.0 else f"{'late' if delay > 0 else 'early'}_{abs(delay):.0f}_s"


def late_turn_ins(circuit: Circuit, facts: CircuitFacts) -> dict[str, Late]:
    """Each delay by its key; one that would turn in before the downwind leg begins is left out."""
    found = {}
    rows = circuit.setting.ship.rows
    for delay in DELAYS:
        flown = _turned(delay, circuit, facts)
        if flown is None:
            continue
        time, end = flown.record(-1)
        ahead, _ = in_ship_frame(time, end[0], end[1], rows)
        if ahead <= 0.0:
            after = fly(time, end, [STRAIGHT], circuit.setting).record(-1)
            off_centre = in_ship_frame(after[0], after[1][0], after[1][1], rows)[1]
            found[name_of(delay)] = Late(
                delay=delay,
                rolled_out_ahead=ahead,
                straight_time=after[0] - time,
                still_to_turn=None,
                off_centre=off_centre,
            )
        else:
            final = flown.records[flown.ends[0] :]
            still, off = _passing(final, _places(final, rows), end[4])
            found[name_of(delay)] = Late(
                delay=delay, rolled_out_ahead=ahead, straight_time=None, still_to_turn=still, off_centre=off
            )
    return found


def late_paths(circuit: Circuit, facts: CircuitFacts) -> dict[str, LatePath]:
    """The paths of the delays and of the planned turn-in among them, earliest first, by the key of the delay.

    One that would turn in before the downwind leg begins is left out.
    """
    found = {}
    rows = circuit.setting.ship.rows
    begun = circuit.flown.end("initial")[0]
    for delay in sorted((*DELAYS, 0.0)):
        flown = _turned(delay, circuit, facts)
        if flown is None:
            continue
        records, straight_from = flown.records, math.nan
        time, end = flown.record(-1)
        ahead = in_ship_frame(time, end[0], end[1], rows)[0]
        if ahead <= LEVEL_AT_RAMP:
            straight_from = time - begun
        if ahead < -LEVEL_AT_RAMP:
            records = np.vstack([records, fly(time, end, [STRAIGHT], circuit.setting).records[1:]])
        places = _places(records, rows)
        found[name_of(delay)] = LatePath(
            delay=delay,
            time=_kept(records[:, 0] - begun),
            ahead=_kept(places[:, 0]),
            port=_kept(places[:, 1]),
            height=_kept(records[:, 3]),
            heading=_kept(records[:, 5]),
            bank=_kept(records[:, 6]),
            speed=_kept(records[:, 4]),
            turn_in=flown.end("downwind")[0] - begun,
            straight_from=straight_from,
        )
    return found


def _turned(delay: float, circuit: Circuit, facts: CircuitFacts) -> Flown | None:
    """The downwind leg and the planned final turn after a delay; None where the leg has not begun by then."""
    begun, state = circuit.flown.end("break")
    long = circuit.flown.end("downwind")[0] - begun + delay
    if long <= 0.0:
        return None
    legs = [downwind_leg(facts, Until(Guard.TIME, long, 1)), *final_legs(facts, circuit.final_bank)]
    return fly(begun, state, legs, circuit.setting)


def _kept(column: Floats) -> Floats:
    own = column.copy()
    own.setflags(write=False)
    return own


def _places(records: Floats, rows: Floats) -> Floats:
    """Places in the ship frame of records, (n, 2): ahead and to port [m]."""
    return np.array([in_ship_frame(float(r[0]), float(r[1]), float(r[2]), rows) for r in records])


def _passing(final: Floats, places: Floats, last_heading: float) -> tuple[float | None, float | None]:
    """Turn left and distance to port where the ramp is passed in the turn; None where the turn stays ahead of it."""
    lowest = int(np.argmin(places[:, 0]))
    if places[lowest, 0] > 0.0:
        return None, None
    heading = float(np.interp(0.0, places[lowest:, 0], final[lowest:, 5]))
    return abs(last_heading - heading), float(np.interp(0.0, places[lowest:, 0], places[lowest:, 1]))
