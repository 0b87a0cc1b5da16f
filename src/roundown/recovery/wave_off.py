"""Waved off: when is he over the ramp again, what does it burn, and how many places does it cost him?

*Method:* flown by the path engine from a place on the final turn or over the ramp. He holds his height and rolls level
while the hand reacts and the power comes (half of its rise, which stands for the whole at full power), climbs at the
approach speed at what full power leaves over drag, wheels and flap down, gathers the downwind speed level, and goes
straight on beside the deck or over it. The turn downwind has the one bank that brings him on to the circuit's own
downwind line, so that the same final, begun at the same turn-in, ends on the centre line: its root is found over the
flown turn. He goes straight on for the doctrine's time, or until the climb is done, or until the turn leaves downwind
leg enough before the turn-in to let down on and to look round in, whichever is longest. Own derivation.

*Holds for:* as recovery/circuit.py; wheels and flap stay down all the way round (own rule); engine and propeller give
full power at once when it has come; traffic is not looked at here but counted in whole intervals.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.errors import NoSolution
from roundown.figures import figure
from roundown.motion.equations.kernel import State, available, in_ship_frame
from roundown.motion.manoeuvre import (
    ChangeSpeed,
    Flown,
    Guard,
    HoldBank,
    HoldSpeed,
    Leg,
    Level,
    Outcome,
    RegainLine,
    Setting,
    ToHeight,
    TurnTo,
    Until,
    fly,
    path_of,
)  # fmt: skip
from roundown.motion.path import Path
from roundown.motion.solve import find_root
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import AHEAD_OF_RAMP, BANK, CLIMB_RATE, DEGREE, MASS, STANDARD_GRAVITY, TIME, YARD
from roundown.recovery.circuit import COARSE, LONGEST, Circuit, final_legs, heading_along
from roundown.recovery.facts import CircuitFacts

BESIDE = 50.0 * YARD  # m, line flown beside the deck, from its centre line: clear of deck and span; own rule, no source
REGAIN_BANK = 15.0 * DEGREE  # rad, most bank used to come on to that line; own rule, no source
LEAST_DOWNWIND = 3.0  # s, wings level before the turn-in; own rule, no source
LEAST_BANK, MOST_BANK = 8.0 * DEGREE, 60.0 * DEGREE  # rad, of the turn downwind
MOST_TO_TURN = 60.0 * DEGREE  # rad, heading still to turn from which a wave-off is flown here
STEEPEST = 0.49  # climb over airspeed, a hair less than the path engine flies
AT_ONCE = STANDARD_GRAVITY  # m/s2, more gain of speed than there is: he takes what full power gives
ROUNDS, NEAR = 12, 0.05  # in which the length of the straight settles, and to how much [m]
MISS_ALLOWED = 2.0  # m, of the flown answer at the ramp

WAVE_OFF_INPUTS = (
    *PASS_INPUTS, "doctrine.wave_off.reaction", "doctrine.wave_off.side", "doctrine.wave_off.straight",
    "type.wave_off.power_time",
)  # fmt: skip
_FLOWN = "flown by the path engine at what full power leaves over drag (recovery/wave_off.py)"


@dataclass(frozen=True)
class WaveOffFacts:
    """What a wave-off is flown by, beside the circuit's own facts.

    side : +1 beside the deck to port, 0 ahead over it, -1 beside it to starboard
    straight : time straight on from the wave-off, at least [s]
    reaction : from the signal to the throttle [s]; power_time : from approach power to full power [s]
    full_power_fuel, circuit_fuel : fuel flows [kg/s], None where the type gives none
    """

    side: int
    straight: float
    reaction: float
    power_time: float
    full_power_fuel: float | None
    circuit_fuel: float | None


@dataclass(frozen=True, eq=False, kw_only=True)
class WaveOff:
    """A wave-off flown round to the ramp. Times count from the signal.

    before : how long before the ramp the signal came [s]; places : in the order of landing that it costs him
    path : from the signal to the ramp, on the clock and plane of the circuit's own path
    """

    before: float
    time: float = figure(TIME, "from the wave-off until over the ramp again", _FLOWN, WAVE_OFF_INPUTS)
    time_by_rule: float = figure(
        TIME, "the same by rule of thumb",
        "from the ramp to the break place at the speed past the ship over the ramp, then from the break to the ramp",
        PASS_INPUTS,
    )  # fmt: skip
    climb_rate: float = figure(
        CLIMB_RATE, "climb at full power and the approach speed, wheels and flap down",
        "climb at which full thrust less drag carries the weight's part along the path, half-way up",
        WAVE_OFF_INPUTS,
    )  # fmt: skip
    climb_time: float = figure(TIME, "from the wave-off until back at the height of the initial", _FLOWN,
                               WAVE_OFF_INPUTS)  # fmt: skip
    full_power_time: float = figure(
        TIME, "at full power, until the height is won and the downwind speed gathered", _FLOWN, WAVE_OFF_INPUTS
    )
    straight: float = figure(TIME, "straight on, from the wave-off to the turn downwind", _FLOWN, WAVE_OFF_INPUTS)
    turn_ahead: float = figure(AHEAD_OF_RAMP, "where the turn downwind begins", _FLOWN, WAVE_OFF_INPUTS)
    turn_bank: float = figure(
        BANK, "bank of the turn that ends on the circuit's downwind line", "root over the flown turn", WAVE_OFF_INPUTS
    )
    downwind_time: float = figure(TIME, "wings level downwind before the turn-in", _FLOWN, WAVE_OFF_INPUTS)
    next_free: float = figure(
        TIME, "from the wave-off to the next free place over the ramp",
        "his own time over the ramp and whole intervals after it: the others keep theirs",
        (*WAVE_OFF_INPUTS, "doctrine.circuit.interval"),
    )  # fmt: skip
    spare: float = figure(
        TIME, "to lose on the way, so as to fit that place", "next free place less time flown",
        (*WAVE_OFF_INPUTS, "doctrine.circuit.interval"),
    )  # fmt: skip
    fuel: float | None = figure(
        MASS, "fuel burned from the wave-off to the ramp",
        "flow at full power for the time it is held, the circuit's for the rest",
        (*WAVE_OFF_INPUTS, "type.fuel.*"),
    )  # fmt: skip
    fuel_in_place: float | None = figure(
        MASS, "fuel burned until the next free place", "the same, the circuit's flow for the time to lose too",
        (*WAVE_OFF_INPUTS, "type.fuel.*", "doctrine.circuit.interval"),
    )  # fmt: skip
    places: int
    path: Path


def wave_off(circuit: Circuit, facts: CircuitFacts, by: WaveOffFacts, before: float = 0.0) -> WaveOff:
    """A wave-off given `before` seconds before the ramp, and round again.

    Raises NoSolution where full power does not climb with wheels and flap down, where the place is after the ramp or
    further back than 60 degrees of turn before it, or where no bank leads back on to the circuit.
    """
    setting = facts.setting
    begun, state = _signalled(circuit, before, facts)
    power = by.reaction + 0.5 * by.power_time
    line = RegainLine(by.side * BESIDE, REGAIN_BANK)
    start = _down("waved off", HoldBank(0.0), HoldSpeed(), Level(), Until(Guard.TIME, power, 1))
    rate = climb_at_full_power(fly(begun, state, [start], setting).record(-1)[1], facts.initial_height, setting)
    up = max(facts.initial_height - state[2], 0.0) / rate
    climb = _down("climb", line, HoldSpeed(), ToHeight(facts.initial_height, rate), Until(Guard.TIME, up, 1))

    def straight_on(time: float) -> Flown:
        gather = ChangeSpeed(facts.downwind_speed, AT_ONCE)
        on = _down("straight on", line, gather, Level(), Until(Guard.TIME, max(time, 1e-3), 1))
        return fly(begun, state, [start, climb, on] if up > 0.0 else [start, on], setting)

    target = _turn_in(circuit, facts)
    least = max(by.straight - power - up, 0.0)
    time = least
    for _ in range(ROUNDS):
        flown = straight_on(time)
        bank, short = _turn_downwind(flown, target, facts)
        if abs(short) < NEAR or (short < 0.0 and time <= least):
            break
        time = max(time + short / _closing(flown.record(-1)[1], facts), least)
    else:
        raise NoSolution("the length of the straight before the turn downwind of a wave-off")
    again = fly(*flown.record(-1), _round_again(target, bank, circuit, facts), setting)
    ahead, port = _place(again, facts)
    if not again.met or math.hypot(ahead, port) > MISS_ALLOWED:
        raise NoSolution("wings level over the ramp after a wave-off", ((bank, math.hypot(ahead, port)),))
    return _described(circuit, facts, by, before, flown, again, bank, rate, power + up)


def climb_at_full_power(state: State, top: float, setting: Setting) -> float:
    """Steady climb at full power from a state to a height over the sea, wings level, by the air half-way up [m/s].

    Raises NoSolution where full power does not hold it level.
    """
    craft = setting.aeroplane.craft
    east, north, height, speed, heading, _, gear, flap = state
    there = (east, north, max(0.5 * (height + top), height), speed, heading, 0.0, gear, flap)
    if available(there, 0.0, 1.0, craft, setting.air) <= 0.0:
        raise NoSolution("a climb after a wave-off: full power does not carry it, wheels and flap down")
    return find_root(
        lambda climb: available(there, climb, 1.0, craft, setting.air), 0.0, STEEPEST * speed, "the climb at full power"
    )


def _down(name: str, lateral: HoldBank | TurnTo | RegainLine, speed: HoldSpeed | ChangeSpeed,
          height: Level | ToHeight, until: Until) -> Leg:  # fmt: skip
    """A leg with wheels and flap down."""
    return Leg(name, lateral, speed, height, until, LONGEST, gear=1.0, flap=1.0)


def _signalled(circuit: Circuit, before: float, facts: CircuitFacts) -> tuple[float, State]:
    """Time and state of the circuit that long before the ramp, linear between its records."""
    leg = circuit.flown.leg("to ramp")
    time = float(leg[-1, 0]) - before
    if not leg[0, 0] <= time <= leg[-1, 0]:
        raise NoSolution("a wave-off from there: it is flown from the last part of the final turn, or over the ramp")
    east, north, height, speed, heading, bank, gear, flap = (
        float(np.interp(time, leg[:, 0], leg[:, i])) for i in range(1, 9)
    )
    if abs(float(leg[-1, 5]) - heading) > MOST_TO_TURN:
        raise NoSolution("a wave-off from so far back in the final turn")
    # headings count from the upwind leg on again
    return time, (east, north, height, speed, heading - facts.hand * math.tau, bank, gear, flap)


def _turn_in(circuit: Circuit, facts: CircuitFacts) -> tuple[float, float]:
    """Turn-in (ahead, to port) [m] from which the circuit's final bank, let down and slowed, ends over the ramp."""
    speed = facts.setting.true_speed(facts.downwind_speed, facts.downwind_height)
    state = (0.0, 0.0, facts.downwind_height, speed, _downwind_heading(facts), 0.0, 1.0, 1.0)
    ahead, port = _place(fly(0.0, state, final_legs(facts, circuit.final_bank), facts.setting), facts)
    return -ahead, -port


def _turn_downwind(flown: Flown, target: tuple[float, float], facts: CircuitFacts) -> tuple[float, float]:
    """Bank of the turn that ends on the downwind line, and how far short of the turn-in it leaves him [m]."""

    def after(bank: float) -> tuple[float, float]:
        legs = _downwind_legs(bank, Until(Guard.TIME, _least_downwind(facts), 1), facts)
        turned = fly(*flown.record(-1), legs, facts.setting, longest_step=COARSE)
        return _place(turned, facts) if turned.met else (math.nan, math.nan)

    bank = find_root(
        lambda tried: after(tried)[1] - target[1],
        LEAST_BANK,
        MOST_BANK,
        "the bank of the turn downwind",
        tolerance=1e-9,
    )
    return bank, target[0] - after(bank)[0]


def _round_again(target: tuple[float, float], bank: float, circuit: Circuit, facts: CircuitFacts) -> list[Leg]:
    """From the turn downwind to the ramp."""
    to_turn_in = Until(Guard.SHIP_AHEAD, target[0], -1)
    return [*_downwind_legs(bank, to_turn_in, facts), *final_legs(facts, circuit.final_bank)]


def _downwind_legs(bank: float, until: Until, facts: CircuitFacts) -> list[Leg]:
    turn = TurnTo(_downwind_heading(facts), facts.hand * bank)
    speed = ChangeSpeed(facts.downwind_speed, AT_ONCE)
    down = ToHeight(facts.downwind_height, facts.let_down)
    return [
        _down("turn", turn, speed, Level(), Until(Guard.TURN_DONE)),
        _down("downwind", HoldBank(0.0), speed, down, until),
    ]


def _downwind_heading(facts: CircuitFacts) -> float:
    speed = facts.setting.true_speed(facts.downwind_speed, facts.downwind_height)
    return heading_along(-1, speed, facts.downwind_height, facts)


def _least_downwind(facts: CircuitFacts) -> float:
    """Time wanted wings level before the turn-in [s]: to let down on, and to look round in."""
    return max(LEAST_DOWNWIND, abs(facts.initial_height - facts.downwind_height) / facts.let_down)


def _place(flown: Flown, facts: CircuitFacts) -> tuple[float, float]:
    """Where a flight ends, ahead of the ramp and to port [m]."""
    time, end = flown.record(-1)
    return in_ship_frame(time, end[0], end[1], facts.setting.ship.rows)


def _closing(state: State, facts: CircuitFacts) -> float:
    """Speed ahead past the ship on the straight [m/s]."""
    east, north = facts.setting.wind(state[2])
    course = facts.ship_course
    ahead = east * math.sin(course) + north * math.cos(course) + state[3] * math.cos(state[4] - course)
    if ahead - facts.ship_speed <= 0.0:
        raise NoSolution("a wave-off that gains on the ship")
    return ahead - facts.ship_speed


def _by_rule(circuit: Circuit, before: float, facts: CircuitFacts) -> float:
    """Time to the ramp, the run from there to the break place, and from the break to the ramp [s]."""
    over_ramp, broke = circuit.flown.end("to ramp"), circuit.flown.end("initial")[0]
    run = facts.datum_ahead + facts.break_ahead
    return before + run / _closing(over_ramp[1], facts) + over_ramp[0] - broke


def _described(circuit: Circuit, facts: CircuitFacts, by: WaveOffFacts, before: float, flown: Flown, again: Flown,
               bank: float, rate: float, up: float) -> WaveOff:  # fmt: skip
    begun = float(flown.records[0, 0])
    time = float(again.records[-1, 0]) - begun
    records = np.vstack([flown.records, again.records[1:]])
    wanted = facts.setting.true_speed(facts.downwind_speed, facts.initial_height)
    fast = records[(records[:, 0] >= begun + up - 1e-9) & (records[:, 4] >= wanted - 1e-6), 0]
    full = max(float(fast[0]) - begun, up) if fast.size else time
    places = math.ceil((time - before) / facts.interval - 1e-9)
    next_free = before + places * facts.interval
    downwind = again.leg("downwind")
    burned = _burned(full - by.reaction, time - full + by.reaction, by)
    waiting = _burned(0.0, next_free - time, by)
    return WaveOff(
        before=before,
        time=time,
        time_by_rule=_by_rule(circuit, before, facts),
        climb_rate=rate,
        climb_time=up,
        full_power_time=full - by.reaction,
        straight=float(flown.records[-1, 0]) - begun,
        turn_ahead=_place(flown, facts)[0],
        turn_bank=bank,
        downwind_time=float(downwind[-1, 0] - downwind[0, 0]),
        next_free=next_free,
        spare=next_free - time,
        fuel=burned,
        fuel_in_place=None if burned is None or waiting is None else burned + waiting,
        places=places,
        path=path_of(Flown(records, (len(records) - 1,), (Outcome.MET,), ("wave-off",)), facts.setting),
    )


def _burned(full: float, rest: float, by: WaveOffFacts) -> float | None:
    """Fuel of so long at full power and so long in the circuit [kg]; None where the type gives no flow."""
    if by.full_power_fuel is None or by.circuit_fuel is None:
        return None
    return full * by.full_power_fuel + rest * by.circuit_fuel
