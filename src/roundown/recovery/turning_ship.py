"""The ship turns during the recovery: where does the pass end, and can the pilot still come level on her centre line?

*Unaltered*: the aeroplane flies the planned pass while the ship begins a turn some seconds before it would be over the
ramp; where that is in the frame of the ship that has turned. *Regained*: from the moment she begins, or from the
planned turn-in if that comes later, the pilot flies what is left of the turn in two halves of heading with a bank each,
so that the wings come level over her ramp, on her centre line, tracking along her course as it then is, she turning on.
He knows at once and judges her turn rightly, so that it flatters him. Where even that needs more bank than is allowed,
or less than 3 degrees in one half, he is waved off.

*Method:* the ship's circle in closed form (motion/ship_track.py). The rest of the turn by the path engine; three
unknowns (two banks, the last heading), three misses, Powell's hybrid method. A law that steers for the line by its
distance would not do: in the last ten seconds of a curved approach it has not settled even behind a steady ship. Own
derivation, docs/method/errors.md.

*Holds for:* the ramp on its own course while she turns, at steady speed: her stern's swing outward as the rudder goes
over, her loss of speed and her heel are left out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from roundown.errors import NoSolution
from roundown.figures import figure
from roundown.motion.equations.kernel import Floats, State, in_ship_frame
from roundown.motion.frames import wrap
from roundown.motion.manoeuvre import (
    Guard,
    HeightByHeading,
    HoldBank,
    Leg,
    Setting,
    SpeedByHeading,
    TurnTo,
    Until,
    fly,
)  # fmt: skip
from roundown.motion.ship_track import ShipTrack
from roundown.motion.solve import find_root
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import ANGLE, DISTANCE, FOOT, OFF_BOW, TIME
from roundown.recovery.circuit import (
    COARSE,
    LEAST_BANK,
    LONGEST,
    MOST_BANK,
    Circuit,
    final_legs,
    heading_along,
)  # fmt: skip
from roundown.recovery.closing_turn import SLACK, bank_limits, settle
from roundown.recovery.facts import CircuitFacts

BEFORE = (10.0, 20.0, 30.0)  # s before the ramp, at which she begins her turn
SIDES = {"port": -1.0, "starboard": 1.0}
OFF_CENTRE = 10.0 * FOOT  # m off the place over the ramp that still does; own rule, no source
SAME_HEADING = 1e-6  # rad
ARM = 1000.0  # m per rad, what a heading off counts as
_INPUTS = (*PASS_INPUTS, "ship.turning_circle")
_UNALTERED = "planned pass in the frame of the ship on her circle (recovery/turning_ship.py)"
_REGAINED = "rest of the turn in two halves, level over the ramp of the turning ship (recovery/turning_ship.py)"


@dataclass(frozen=True, kw_only=True)
class ShipTurn:
    """One turn of the ship, side and start by its key. regains : whether the bank allowed is enough."""

    ahead: float = figure(
        DISTANCE, "ahead of her ramp when the planned pass is over; astern is negative", _UNALTERED, _INPUTS
    )
    port: float = figure(DISTANCE, "to port of her centre line then; to starboard is negative", _UNALTERED, _INPUTS)
    off_course: float = figure(OFF_BOW, "track past the ship then, off her course", _UNALTERED, _INPUTS)
    bank: float | None = figure(ANGLE, "steepest bank with which her centre line is regained", _REGAINED, _INPUTS)
    first_bank: float | None = figure(ANGLE, "bank of the first half of what is left of the turn", _REGAINED, _INPUTS)
    second_bank: float | None = figure(ANGLE, "bank of the second half", _REGAINED, _INPUTS)
    later: float | None = figure(TIME, "how much later over the ramp than planned", _REGAINED, _INPUTS)
    regains: bool


@dataclass(frozen=True, eq=False, kw_only=True)
class TurningShip:
    """What turns of the ship do to the pass, and how long she must be steady. turns : by port_10_s and so on."""

    turns: Mapping[str, ShipTurn]
    may_begin: float = figure(
        TIME, "no sooner than this before the last is over the ramp may she begin a turn, the pass flown as planned",
        "root of the miss over the ramp (recovery/turning_ship.py)", _INPUTS,
    )  # fmt: skip
    steady_before: float = figure(
        TIME, "how long before the first is over the ramp she must be steady on the flight course",
        "root of the miss over the ramp, turned in by the ship's place and heading then (recovery/turning_ship.py)",
        _INPUTS,
    )  # fmt: skip
    steady_before_turn_in: float = figure(
        TIME, "the same before its turn-in; after it is negative", "less the time of the final turn", _INPUTS
    )


def name_of_turn(side: str, before: float) -> str:
    """The key of a turn of the ship: port_10_s."""
    return f"{side}_{before:.0f}_s"


def turning_ship(
    circuit: Circuit, facts: CircuitFacts, turning_radius: float, off_centre: float = OFF_CENTRE
) -> TurningShip:
    """What turns of the ship do to a solved pass.

    turning_radius : of the ship [m]; off_centre : how far off the place over the ramp still does [m]
    """
    limits = bank_limits(circuit, facts)
    turns = {
        name_of_turn(side, before): _turn(before, way, circuit, facts, turning_radius, limits)
        for side, way in SIDES.items()
        for before in BEFORE
    }
    steady = steady_before(circuit, facts, turning_radius, off_centre)
    final_time = circuit.flown.end("to ramp")[0] - circuit.flown.end("downwind")[0]
    return TurningShip(
        turns=turns,
        may_begin=may_begin(circuit, facts, turning_radius, off_centre),
        steady_before=steady,
        steady_before_turn_in=steady - final_time,
    )


def turning_track(begins: float, way: float, facts: CircuitFacts, turning_radius: float) -> ShipTrack:
    """The ship of the pass, beginning a turn on her circle at a time [s] and turning on; way : +1 to starboard."""
    speed, course = facts.ship_speed, facts.ship_course
    east, north = speed * begins * math.sin(course), speed * begins * math.cos(course)
    rows = np.array(
        [
            (begins - LONGEST, east - speed * LONGEST * math.sin(course), north - speed * LONGEST * math.cos(course),
             course, speed, 0.0, 0.0),
            (begins, east, north, course, speed, 0.0, way * speed / turning_radius),
        ]
    )  # fmt: skip
    rows.setflags(write=False)
    return ShipTrack(rows)


def may_begin(circuit: Circuit, facts: CircuitFacts, turning_radius: float, off_centre: float) -> float:
    """The longest before the ramp she may begin a turn, to either side, for the planned pass to end within a miss [s].

    At most the time from the break.
    """
    time, end = circuit.flown.end("to ramp")
    most = time - circuit.flown.end("initial")[0]

    def worst(before: float) -> float:
        misses = []
        for way in SIDES.values():
            rows = turning_track(time - before, way, facts, turning_radius).rows
            misses.append(math.hypot(*in_ship_frame(time, end[0], end[1], rows)))
        return max(misses) - off_centre

    if worst(most) <= 0.0:
        return most
    return find_root(worst, 0.0, most, "how late the ship may turn", steps=64, tolerance=1e-6)


def steady_before(circuit: Circuit, facts: CircuitFacts, turning_radius: float, off_centre: float) -> float:
    """The least time before the ramp at which she must have steadied on the flight course for a miss, either side [s].

    At the turn-in the pilot is at the planned place beside the ship as she then lies and heads, and from there flies
    the planned headings.
    """
    final_time = circuit.flown.end("to ramp")[0] - circuit.flown.end("downwind")[0]

    def worst(steady: float) -> float:
        turning = max(final_time - steady, 0.0)
        return max(math.hypot(*_moved(turning, way, circuit, facts, turning_radius)) for way in SIDES.values())

    if worst(0.0) <= off_centre:
        return 0.0
    # looked for from the turn-in back: the miss grows from nought as she steadies later
    late = find_root(
        lambda after: worst(final_time - after) - off_centre, 0.0, final_time, "when the ship must be steady",
        steps=64, tolerance=1e-6,
    )  # fmt: skip
    return final_time - late


def _moved(
    turning: float, way: float, circuit: Circuit, facts: CircuitFacts, turning_radius: float
) -> tuple[float, float]:
    """Miss over the ramp, ahead and to port [m], when she still turns for a time after the turn-in [s].

    In the frame of the flight course: the turn-in's place swings with her heading, and she goes less far ahead.
    """
    angle = way * facts.ship_speed * turning / turning_radius  # her change of course to come, to starboard positive
    ahead, port = circuit.turn_in_ahead, circuit.turn_in_port
    # she heads so much to port of the flight course, and his place with her
    swung_ahead = ahead * math.cos(angle) - port * math.sin(angle) - ahead
    swung_port = ahead * math.sin(angle) + port * math.cos(angle) - port
    run_short = turning_radius * (math.sin(abs(angle)) - abs(angle))
    run_aside = way * turning_radius * (1.0 - math.cos(angle))
    return swung_ahead - run_short, swung_port - run_aside


def _turn(
    before: float, way: float, circuit: Circuit, facts: CircuitFacts, turning_radius: float, limits: tuple[float, float]
) -> ShipTurn:
    time, end = circuit.flown.end("to ramp")
    track = turning_track(time - before, way, facts, turning_radius)
    ahead, port = in_ship_frame(time, end[0], end[1], track.rows)
    regained = _regained(time - before, track, circuit, facts)
    first, second, arrived = regained if regained is not None else (None, None, None)
    limit = limits[1] if time - before >= circuit.flown.end("to ninety")[0] else min(limits)
    steepest = None if first is None or second is None else max(first, second)
    return ShipTurn(
        ahead=ahead,
        port=port,
        off_course=_off_course(time, end, track, facts),
        bank=steepest,
        first_bank=first,
        second_bank=second,
        later=None if arrived is None else arrived - time,
        regains=steepest is not None and steepest <= limit + SLACK,
    )


def _off_course(time: float, state: State, track: ShipTrack, facts: CircuitFacts) -> float:
    """Track past the ship, to starboard of her course positive [rad]."""
    _, _, course, speed = track.at(time)
    east, north = facts.setting.wind(state[2])
    east += state[3] * math.sin(state[4]) - speed * math.sin(course)
    north += state[3] * math.cos(state[4]) - speed * math.cos(course)
    return wrap(math.atan2(east, north) - course)


def _regained(
    begins: float, track: ShipTrack, circuit: Circuit, facts: CircuitFacts
) -> tuple[float, float, float] | None:
    """Banks of the two halves of what is left, and when he is over the ramp [s]; None where no such turn is found."""
    time, state = _state_at(max(begins, circuit.flown.end("downwind")[0]), circuit, facts)
    setting = Setting(facts.aeroplane, circuit.setting.air, facts.winds, track)
    planned, end = circuit.flown.end("to ramp")

    def arrival(unknowns: Floats) -> tuple[float, State] | None:
        first, second, last = (float(value) for value in unknowns)
        in_use = LEAST_BANK <= first <= MOST_BANK and LEAST_BANK <= second <= MOST_BANK
        if not in_use or facts.hand * (last - state[4]) <= 0.0:
            return None
        flown = fly(time, state, _rest(state, first, second, last, facts), setting, longest_step=COARSE)
        return flown.record(-1) if flown.met else None

    def miss(unknowns: Floats) -> tuple[float, float, float]:
        arrived = arrival(unknowns)
        if arrived is None:
            return math.nan, math.nan, math.nan
        when, there = arrived
        ahead, port = in_ship_frame(when, there[0], there[1], track.rows)
        course = track.at(when)[2]
        wanted = heading_along(1, there[3], there[2], replace(facts, ship_course=course)) + facts.hand * math.tau
        return ahead, port, ARM * (there[4] - wanted)

    swung = track.at(planned)[2] - facts.ship_course
    try:
        found = settle(miss, (circuit.final_bank, circuit.final_bank, end[4] + swung), "the turning ship's centre line")
    except NoSolution:
        return None
    arrived = arrival(found)
    return None if arrived is None else (float(found[0]), float(found[1]), arrived[0])


def _rest(state: State, first: float, second: float, last: float, facts: CircuitFacts) -> list[Leg]:
    """What is left of the turn in two halves of heading: unsigned banks [rad], and the last heading.

    Heights and speeds go by the ninety, where that is still to come.
    """
    planned = final_legs(facts, first)[0]
    ninety, half = planned.until.value, 0.5 * (state[4] + last)
    ramp_speed = SpeedByHeading(facts.ramp_speed, facts.ramp_over_sea, last)
    ramp_height = HeightByHeading(facts.ramp_over_sea, last)
    legs = []
    begun = state[4]
    for heading in sorted((ninety, half), key=lambda value: facts.hand * value):
        if facts.hand * (heading - begun) <= SAME_HEADING:
            continue
        bank = first if facts.hand * (half - heading) >= 0.0 else second
        leg = replace(planned, lateral=HoldBank(facts.hand * bank), until=Until(Guard.HEADING, heading, facts.hand))
        if facts.hand * (ninety - heading) < 0.0:
            leg = replace(leg, speed=ramp_speed, height=ramp_height)
        legs.append(leg)
        begun = heading
    out = TurnTo(last, facts.hand * second)
    legs.append(Leg("to ramp", out, ramp_speed, ramp_height, Until(Guard.TURN_DONE), LONGEST, 1.0, 1.0))
    return legs


def _state_at(time: float, circuit: Circuit, facts: CircuitFacts) -> tuple[float, State]:
    """Time and state of the planned final turn at an instant from the turn-in on [s]."""
    to_ninety, to_ramp = final_legs(facts, circuit.final_bank)
    for leg, before in ((to_ramp, "to ninety"), (to_ninety, "downwind")):
        begun, state = circuit.flown.end(before)
        if time > begun:
            to_time = replace(leg, until=Until(Guard.TIME, time - begun, 1))
            return fly(begun, state, [to_time], circuit.setting, longest_step=COARSE).record(-1)
    return circuit.flown.end("downwind")
