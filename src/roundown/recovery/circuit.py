"""Where do I turn in today? The landing circuit, solved so that the wings come level over the ramp on the centre line.

*Method:* the upwind leg, the break and the downwind leg are flown by the path engine from the initial on. For the final
turn heights and speeds are tied to heading, so that its displacement in the ship frame depends on its bank alone; the
bank is the one root of the lateral miss, and the turn-in then lies ahead of the ramp by the along-deck displacement.
"Wings level" means a track along the centre line as seen from the ship; the heading differs from her course by the
crab. Own derivation, docs/method/circuit.md.

*Holds for:* a ship on a steady course and speed; coordinated flight. A break that ends behind the turn-in cannot be
flown and is `NoCircuit`, with the break place that can.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from roundown.environment.air import GRAVITY
from roundown.errors import NoSolution
from roundown.motion.equations.kernel import State, in_ship_frame
from roundown.motion.manoeuvre import (
    ChangeSpeed,
    Flown,
    Guard,
    HeightByHeading,
    HoldBank,
    HoldSpeed,
    Leg,
    Level,
    Setting,
    SpeedByHeading,
    ToHeight,
    TurnTo,
    Until,
    fly,
)  # fmt: skip
from roundown.motion.solve import find_root
from roundown.quantities import ANGLE, DEGREE, DISTANCE, write
from roundown.recovery.facts import CircuitFacts

LEAST_BANK, MOST_BANK = 3.0 * DEGREE, 65.0 * DEGREE
COARSE = 1.0  # s, longest step while solving; the answer is flown again with the engine's own
LONGEST = 1500.0  # s, of any leg
LEAST_RUN = 0.01  # m from the initial to the break, so that a break at the datum itself is passed and not stood on
MISS_ALLOWED = 0.05  # m, of the flown answer at the ramp
STUCK = {  # by the number of legs begun
    1: (
        "The break place is never reached: the ship is as fast as the aeroplane",
        "Fly faster, or ask for less wind over the deck",
    ),
    2: ("The break does not end", "Fly faster, or break with more bank"),
    3: ("The downwind leg cannot be flown", "Let down more gently, or fly faster"),
}
SETTLINGS = 12  # most rounds in which the place of the turn-in and the state there settle
SETTLED = 1e-4  # m, to which they do
PAST_RAMP = 3000.0  # m astern, where a downwind leg looked along is given up


@dataclass(frozen=True)
class NoCircuit:
    """Why there is no circuit. reason, remedy : sentences; short_by : distance the break is too near by, or 0 [m]."""

    reason: str
    remedy: str
    short_by: float = 0.0


@dataclass(frozen=True, eq=False)
class Circuit:
    """A solved circuit: the flight from the initial to the cut, and what the solver found.

    flown : legs initial, break, downwind, to ninety, to ramp, to cut; setting : what it was flown in
    final_bank : unsigned [rad]; turn_in_ahead, turn_in_port : place of the turn-in in the ship frame [m]
    """

    flown: Flown
    setting: Setting
    final_bank: float
    turn_in_ahead: float
    turn_in_port: float


def heading_along(track_side: int, true_speed: float, height: float, facts: CircuitFacts) -> float:
    """Heading whose track, seen from the ship, is along her course (+1) or its reciprocal (-1) [rad].

    Unwrapped: the reciprocal is half a turn on from the course, on the circuit's hand.
    Raises NoSolution when the cross wind is stronger than the airspeed.
    """
    east, north = facts.setting.wind(height)
    to_starboard = east * math.cos(facts.ship_course) - north * math.sin(facts.ship_course)
    if abs(to_starboard) >= true_speed:
        raise NoSolution("a heading along the ship's course in this cross wind")
    crab = math.asin(to_starboard / true_speed)
    if track_side > 0:
        return facts.ship_course - crab
    return facts.ship_course + facts.hand * math.pi + crab


def upwind_legs(facts: CircuitFacts) -> list[Leg]:
    """The upwind leg from abeam the break's datum, and the break."""
    return [
        Leg(
            "initial",
            HoldBank(0.0),
            HoldSpeed(),
            Level(),
            Until(Guard.SHIP_AHEAD, facts.datum_ahead + max(facts.break_ahead, LEAST_RUN), 1),
            LONGEST,
        ),
        Leg(
            "break",
            TurnTo(_downwind_heading(facts), facts.hand * facts.break_bank),
            ChangeSpeed(facts.downwind_speed, facts.slowing),
            Level(),
            Until(Guard.TURN_DONE),
            LONGEST,
            gear=1.0,
            flap=1.0,
        ),
    ]


def downwind_leg(facts: CircuitFacts, until: Until) -> Leg:
    """The downwind leg, with the let-down and what is left of slowing."""
    return Leg(
        "downwind",
        HoldBank(0.0),
        ChangeSpeed(facts.downwind_speed, facts.slowing),
        ToHeight(facts.downwind_height, facts.let_down),
        until,
        LONGEST,
        gear=1.0,
        flap=1.0,
    )


def final_legs(facts: CircuitFacts, bank: float) -> list[Leg]:
    """The final turn at an unsigned bank: to the ninety, and on to wings level."""
    ninety = facts.ship_course + facts.hand * 1.5 * math.pi
    setting = facts.setting
    true_speed = setting.true_speed(facts.ramp_speed, facts.ramp_over_sea)
    last = heading_along(1, true_speed, facts.ramp_over_sea, facts) + facts.hand * 2.0 * math.pi
    return [
        Leg(
            "to ninety",
            HoldBank(facts.hand * bank),
            SpeedByHeading(facts.ninety_speed, facts.ninety_height, ninety),
            HeightByHeading(facts.ninety_height, ninety),
            Until(Guard.HEADING, ninety, facts.hand),
            LONGEST,
            gear=1.0,
            flap=1.0,
        ),
        Leg(
            "to ramp",
            TurnTo(last, facts.hand * bank),
            SpeedByHeading(facts.ramp_speed, facts.ramp_over_sea, last),
            HeightByHeading(facts.ramp_over_sea, last),
            Until(Guard.TURN_DONE),
            LONGEST,
            gear=1.0,
            flap=1.0,
        ),
    ]


def start_state(facts: CircuitFacts) -> State:
    """Abeam the break's datum on the upwind leg, at time zero."""
    setting = facts.setting
    true_speed = setting.true_speed(facts.initial_speed, facts.initial_height)
    sine, cosine = math.sin(facts.ship_course), math.cos(facts.ship_course)
    port = facts.hand * facts.upwind_offset
    east, north = facts.datum_ahead * sine - port * cosine, facts.datum_ahead * cosine + port * sine
    heading = heading_along(1, true_speed, facts.initial_height, facts)
    return east, north, facts.initial_height, true_speed, heading, 0.0, 0.0, 0.0


def break_abeam(facts: CircuitFacts) -> float:
    """How far the break alone leaves the aeroplane from the centre line, wings level downwind [m]; NaN if it cannot."""
    flown = fly(0.0, start_state(facts), upwind_legs(facts), facts.setting, longest_step=COARSE)
    if not flown.met:
        return math.nan
    time, end = flown.record(-1)
    return abs(in_ship_frame(time, end[0], end[1], facts.setting.ship.rows)[1])


def abeam_needed(bank: float, facts: CircuitFacts) -> float:
    """How far abeam a final turn of a bank must begin, slowed and let down, to end on the centre line [m]; or NaN."""
    setting = facts.setting
    true_speed = setting.true_speed(facts.downwind_speed, facts.downwind_height)
    state = (0.0, 0.0, facts.downwind_height, true_speed, _downwind_heading(facts), 0.0, 1.0, 1.0)
    run = _final_run(0.0, state, bank, facts, setting)
    return math.nan if run is None else abs(run[1])


def solve_circuit(facts: CircuitFacts) -> Circuit | NoCircuit:
    """The circuit that brings the wings level over the ramp on the centre line; or why there is none."""
    try:
        return _solve(facts)
    except NoSolution as error:
        return NoCircuit(f"There is no answer for {error.sought}", "Look at the speeds, the winds and the break")


def _downwind_heading(facts: CircuitFacts) -> float:
    true_speed = facts.setting.true_speed(facts.downwind_speed, facts.downwind_height)
    return heading_along(-1, true_speed, facts.downwind_height, facts)


def _solve(facts: CircuitFacts) -> Circuit | NoCircuit:
    setting = facts.setting
    state = start_state(facts)
    far = Until(Guard.SHIP_AHEAD, -PAST_RAMP, -1)
    # read between its records, so flown in the engine's own steps
    upwind = fly(0.0, state, [*upwind_legs(facts), downwind_leg(facts, far)], setting)
    if not upwind.met:
        reason, remedy = STUCK[len(upwind.ends)]
        return NoCircuit(reason, remedy)
    leg = upwind.records[upwind.ends[1] :]
    places = np.array([in_ship_frame(r[0], r[1], r[2], setting.ship.rows) for r in leg])

    def at(ahead: float) -> tuple[float, State, float]:
        """Time, state and distance to port where the downwind leg is that far ahead of the ramp."""
        # `ahead` falls along the leg; np.interp wants it rising
        columns = [float(np.interp(ahead, places[::-1, 0], column[::-1])) for column in leg.T]
        time, east, north, height, speed, heading, bank, gear, flap = columns
        port = float(np.interp(ahead, places[::-1, 0], places[::-1, 1]))
        return time, (east, north, height, speed, heading, bank, gear, flap), port

    def meet(bank: float) -> tuple[float, float]:
        """Turn-in ahead of the ramp that fits the final turn's run, and the miss to the outside when wings level.

        The run depends on the state at the turn-in and that on its place: the secant rule, unless the leg is steady.
        """
        tried = 0.0
        run = _final_run(*at(tried)[:2], bank, facts, setting)
        if run is None:
            return math.nan, math.nan
        ahead = past = -run[0]
        for _ in range(SETTLINGS):
            if at(ahead)[1][2:] == at(tried)[1][2:]:
                break
            run = _final_run(*at(ahead)[:2], bank, facts, setting)
            if run is None:
                return math.nan, math.nan
            off = -run[0] - ahead
            if abs(off) < SETTLED or off == past:
                break
            tried, ahead, past = ahead, ahead - off * (ahead - tried) / (off - past), off
        return ahead, (at(ahead)[2] + run[1]) * -facts.hand

    abeam = abs(float(places[0, 1]))
    final_legs(facts, MOST_BANK)  # says so where no heading leads along the deck
    try:
        bank = _find_bank(lambda tried: meet(tried)[1], abeam, facts)
    except NoSolution:
        return NoCircuit(
            f"From {write(abeam, DISTANCE)} abeam no bank from {write(LEAST_BANK, ANGLE)} to {write(MOST_BANK, ANGLE)} "
            "brings the final turn on to the centre line",
            "Break with another bank, or change the upwind offset, the speeds or the heights",
        )
    turn_in = meet(bank)[0]
    short = turn_in - float(places[0, 0])
    if short > 0.0:
        return NoCircuit(
            "The break ends behind the place where the final turn must begin",
            "Break further ahead, or with more bank",
            short_by=short,
        )
    legs = [*upwind_legs(facts), downwind_leg(facts, Until(Guard.SHIP_AHEAD, turn_in, -1)), *final_legs(facts, bank)]
    if facts.cut_ahead > 0.0:
        to_cut = Until(Guard.SHIP_AHEAD, facts.cut_ahead, 1)
        legs.append(Leg("to cut", HoldBank(0.0), HoldSpeed(), Level(), to_cut, LONGEST, gear=1.0, flap=1.0))
    flown = fly(0.0, state, legs, setting)
    if not flown.met:
        return NoCircuit("The final turn does not end", "Look at the speeds and the heights")
    time, over_ramp = flown.end("to ramp")
    ahead, port = in_ship_frame(time, over_ramp[0], over_ramp[1], setting.ship.rows)
    if math.hypot(ahead, port) > MISS_ALLOWED:
        raise NoSolution("wings level over the ramp", ((bank, math.hypot(ahead, port)),))
    when, there = flown.end("downwind")
    turn_in_ahead, turn_in_port = in_ship_frame(when, there[0], there[1], setting.ship.rows)
    return Circuit(flown, setting, bank, turn_in_ahead, turn_in_port)


def _find_bank(miss: Callable[[float], float], abeam: float, facts: CircuitFacts) -> float:
    """The root of the lateral miss: looked for first near the bank of a circle as wide as the abeam distance."""
    sought = "the bank of the final turn that ends on the centre line"
    near = math.atan(2.0 * facts.ninety_speed**2 / (GRAVITY * max(abeam, 1.0)))
    low, high = max(0.7 * near, LEAST_BANK), min(1.4 * near, MOST_BANK)
    if low < high:
        try:
            return find_root(miss, low, high, sought, steps=1)
        except NoSolution:  # an odd circuit: look everywhere
            pass
    return find_root(miss, LEAST_BANK, MOST_BANK, sought)


def _final_run(
    time: float, state: State, bank: float, facts: CircuitFacts, setting: Setting
) -> tuple[float, float] | None:
    """Displacement (ahead, to port) in the ship frame over the final turn; None when it does not end."""
    flown = fly(time, state, final_legs(facts, bank), setting, longest_step=COARSE)
    if not flown.met:
        return None
    after_time, end = flown.record(-1)
    before = in_ship_frame(time, state[0], state[1], setting.ship.rows)
    after = in_ship_frame(after_time, end[0], end[1], setting.ship.rows)
    return after[0] - before[0], after[1] - before[1]
