"""What being late or early at the turn-in costs, if the final turn is then flown as planned.

*Method:* the same bank from a turn-in shifted in time, by the path engine. With a steady ship the turn still ends on
the centre line, further astern or further ahead: a late turn-in is paid in straight flight behind the ship.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from roundown.figures import figure
from roundown.motion.equations.kernel import Floats, in_ship_frame
from roundown.motion.manoeuvre import Guard, HoldBank, HoldSpeed, Leg, Level, Until, fly
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import AHEAD_OF_RAMP, ANGLE, DISTANCE, TIME
from roundown.recovery.circuit import LONGEST, Circuit, downwind_leg, final_legs
from roundown.recovery.facts import CircuitFacts

DELAYS = (-6.0, -4.0, -2.0, 2.0, 4.0, 6.0)  # s
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


def name_of(delay: float) -> str:
    """The key of a delay: late_4_s, early_2_s."""
    return f"{'late' if delay > 0 else 'early'}_{abs(delay):.0f}_s"


def late_turn_ins(circuit: Circuit, facts: CircuitFacts) -> dict[str, Late]:
    """Each delay by its key; one that would turn in before the downwind leg begins is left out."""
    found = {}
    setting, rows = circuit.setting, circuit.setting.ship.rows
    begun, state = circuit.flown.end("break")
    planned = circuit.flown.end("downwind")[0] - begun
    for delay in DELAYS:
        if planned + delay <= 0.0:
            continue
        legs = [downwind_leg(facts, Until(Guard.TIME, planned + delay, 1)), *final_legs(facts, circuit.final_bank)]
        to_ramp = Leg(
            "straight", HoldBank(0.0), HoldSpeed(), Level(), Until(Guard.SHIP_AHEAD, 0.0, 1), LONGEST, 1.0, 1.0
        )
        flown = fly(begun, state, legs, setting)
        time, end = flown.record(-1)
        ahead, _ = in_ship_frame(time, end[0], end[1], rows)
        if ahead <= 0.0:
            after = fly(time, end, [to_ramp], setting).record(-1)
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
            places = np.array([in_ship_frame(float(r[0]), float(r[1]), float(r[2]), rows) for r in final])
            still, off = _passing(final, places, end[4])
            found[name_of(delay)] = Late(
                delay=delay, rolled_out_ahead=ahead, straight_time=None, still_to_turn=still, off_centre=off
            )
    return found


def _passing(final: Floats, places: Floats, last_heading: float) -> tuple[float | None, float | None]:
    """Turn left and distance to port where the ramp is passed in the turn; None where the turn stays ahead of it."""
    lowest = int(np.argmin(places[:, 0]))
    if places[lowest, 0] > 0.0:
        return None, None
    heading = float(np.interp(0.0, places[lowest:, 0], final[lowest:, 5]))
    return abs(last_heading - heading), float(np.interp(0.0, places[lowest:, 0], places[lowest:, 1]))
