"""A pass flown on purpose with a stated error, or perfectly: for trying what reads and judges recorded passes.

The pilot turns in `late` seconds after the planned place and holds a bank that is off by a stated angle; wings level
behind the ship he regains the centre line and comes straight in.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from roundown.errors import NoSolution
from roundown.motion.equations.kernel import in_ship_frame
from roundown.motion.frames import Floats
from roundown.motion.manoeuvre import (
    Guard,
    HoldSpeed,
    Leg,
    Level,
    RegainLine,
    Setting,
    Until,
    fly,
    path_of,
)  # fmt: skip
from roundown.motion.path import Channel, MadeBy, Path, Source
from roundown.quantities import DEGREE
from roundown.recovery.circuit import LONGEST, Circuit, downwind_leg, final_legs, start_state, upwind_legs
from roundown.recovery.facts import CircuitFacts

LEAD_IN, AFTER = 10.0, 3.0  # s, flown before the initial and after the cut
STEP = 0.1  # s, between the records
LEAST_REHEARSED, MOST_REHEARSED = 5.0 * DEGREE, 60.0 * DEGREE  # rad, banks a rehearsal is flown with
STRAIGHT_BANK = 15.0 * DEGREE  # rad, most bank used to regain the centre line


def rehearse(circuit: Circuit, facts: CircuitFacts, late: float = 0.0, bank_error: float = 0.0) -> Path:
    """The path of a pass with errors.

    late : delay of the turn-in [s], early negative; bank_error : added to the final bank [rad]
    Returns the path from 10 s before the initial to 3 s past the place of the cut. A turn begun so early that the ramp
    is passed in it ends soon after the turn.
    Raises NoSolution for a turn-in before the downwind leg, or a bank outside 5 to 60 degrees.
    """
    begun = circuit.flown.end("break")[0]
    planned = circuit.flown.end("downwind")[0] - begun
    bank = circuit.final_bank + bank_error
    if planned + late <= 0.0:
        raise NoSolution("a pass that turns in before the wings are level on the downwind leg")
    if not LEAST_REHEARSED <= bank <= MOST_REHEARSED:
        raise NoSolution("a pass with so much or so little bank")
    legs = [
        *upwind_legs(facts),
        downwind_leg(facts, Until(Guard.TIME, planned + late, 1)),
        *final_legs(facts, bank),
    ]
    east, north, height, speed, heading, *rest = start_state(facts)
    wind_east, wind_north = circuit.setting.wind(height)
    east -= LEAD_IN * (speed * math.sin(heading) + wind_east)
    north -= LEAD_IN * (speed * math.cos(heading) + wind_north)
    state = (east, north, height, speed, heading, rest[0], rest[1], rest[2])
    turned = fly(-LEAD_IN, state, legs, circuit.setting, longest_step=STEP)
    time, end = turned.record(-1)
    ahead = in_ship_frame(time, end[0], end[1], circuit.setting.ship.rows)[0]
    straight = Leg(
        "to cut", RegainLine(0.0, STRAIGHT_BANK), HoldSpeed(), Level(), Until(Guard.TIME, AFTER, 1), LONGEST, 1.0, 1.0
    )
    if ahead < facts.cut_ahead:
        legs.append(replace(straight, until=Until(Guard.SHIP_AHEAD, max(facts.cut_ahead, 1e-3), 1)))
    legs.append(replace(straight, name="after"))
    return path_of(fly(-LEAD_IN, state, legs, circuit.setting, longest_step=STEP), circuit.setting, MadeBy.FLOWN)


def ship_path(setting: Setting, start: float, end: float, step: float = 1.0) -> Path:
    """The ship's ramp as a path over a span of time [s]; it has no bank and no airspeed."""
    times = np.arange(start, end + step, step)
    rows = setting.ship.over(times)

    def channel(values: Floats, source: Source = Source.GIVEN) -> Channel:
        return Channel(values, 0.0 if source is Source.GIVEN else math.nan, source)

    none = np.full(times.shape, math.nan)
    return Path(
        times,
        east=channel(rows[:, 0]),
        north=channel(rows[:, 1]),
        height=channel(np.zeros(times.shape)),
        heading=channel(rows[:, 2]),
        bank=channel(none.copy(), Source.ABSENT),
        airspeed=channel(none.copy(), Source.ABSENT),
        ground_speed=channel(rows[:, 3]),
        made_by=MadeBy.FLOWN,
    )
