"""How does a flight come down from its block over the ship to the initial, and how long does it take?

*Method:* flown by the path engine round a ship on her flight course. The flight leaves its orbit abeam the point the
break is measured from, heading down the ship, and flies aft letting down; it turns in to the flight course with the
bank of the hold, and slows to the speed of the initial. The length of the leg aft is the one root of the time that is
left steady on the way in (level, slowed, wings level) before the initial. Where the orbit is left abeam follows from
the turn: the way seen from the ship does not depend on where it begins abeam, so that it is shifted to end on the
line of the upwind leg. Own derivation, docs/method/stack.md.

*Holds for:* a ship on a steady course and speed, coordinated flight, the leader of the flight: the others follow him
and open out on the way in.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from roundown.environment.air import GRAVITY
from roundown.errors import NoSolution
from roundown.figures import figure
from roundown.motion.equations.kernel import State, in_ship_frame
from roundown.motion.manoeuvre import (
    ChangeSpeed,
    Flown,
    Guard,
    HoldBank,
    HoldSpeed,
    Leg,
    ToHeight,
    TurnTo,
    Until,
    fly,
    path_of,
)  # fmt: skip
from roundown.motion.path import Path
from roundown.motion.solve import find_root
from roundown.motion.turns import radius
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import DISTANCE, HEIGHT_OVER_SEA, LONG_DISTANCE, TIME, write
from roundown.recovery.circuit import LONGEST, heading_along, start_state
from roundown.recovery.facts import CircuitFacts

STEADY = 30.0  # s, level, slowed and with wings level before the initial; own rule, no source
SAME = 1e-3  # m or m/s, within which a height or a speed has been reached
LEAST_AFT = 0.01  # s, a leg aft so short that there is none
MOST_AFT = 300.0  # s beyond the let-down, up to which the leg aft is looked for
FINE, SOLVING = 0.5, 2.0  # s, longest step of the answer, and while solving
NEAR = 0.25  # part of the leg aft by which a first reckoning of it may be off

_STACK = tuple(f"doctrine.stack.{name}" for name in ("lowest", "block", "flight", "speed", "bank", "let_down"))
FEED_INPUTS = (*PASS_INPUTS, *_STACK)
_FLOWN = "the path engine round the ship, leg aft by the root of the time steady before the initial (recovery/feed.py)"
_AIR = ("weather.temperature", "weather.pressure", "type.position_error.*")
_TURN = (*_AIR, *_STACK)


@dataclass(frozen=True, eq=False)
class FeedFacts:
    """What a let-down is flown from. circuit : gives ship, air, aeroplane, the initial and the hand of the hold.

    speed : indicated, in the hold [m/s]; bank : in the hold and turning in, unsigned [rad]
    let_down : rate, above 0 [m/s]
    """

    circuit: CircuitFacts
    speed: float
    bank: float
    let_down: float


@dataclass(frozen=True)
class NoFeed:
    """Why there is no way down. reason, remedy : sentences without a full stop."""

    reason: str
    remedy: str


@dataclass(frozen=True, kw_only=True)
class Orbit:
    """The hold over the ship at a height."""

    radius: float = figure(DISTANCE, "radius of the orbit through the air", "V squared over g tan bank", _TURN)
    circle: float = figure(TIME, "once round a plain circle", "2 pi V over g tan bank", _TURN)
    drift: float = figure(
        DISTANCE, "how far a plain circle falls behind the ship each time round",
        "wind felt on board a ship with the air of that height, times the time of the circle",
        ("flight.course", "flight.speed", "weather.*", *_TURN),
    )  # fmt: skip
    whole: float = figure(
        TIME, "once round and over the ship again",
        "circle, and straight into the wind felt on board for what it drifts, at V less that wind",
        ("flight.course", "flight.speed", "weather.*", *_TURN),
    )  # fmt: skip


@dataclass(frozen=True, eq=False, kw_only=True)
class Feed:
    """The way from a block to the initial, of the leader of a flight.

    path : flown, time 0 on leaving the block, ship's ramp at east 0, north 0 then; flown : the same by its legs
    """

    height: float = figure(HEIGHT_OVER_SEA, "block that is left", "as given", ("doctrine.stack.lowest", *_STACK))
    time: float = figure(TIME, "from leaving the block to the initial", _FLOWN, FEED_INPUTS)
    leg_aft: float = figure(TIME, "aft, down the ship, before turning in", _FLOWN, FEED_INPUTS)
    turn: float = figure(TIME, "turn in to the flight course", _FLOWN, FEED_INPUTS)
    way_in: float = figure(TIME, "from wings level on the flight course to the initial", _FLOWN, FEED_INPUTS)
    level_after: float = figure(TIME, "from leaving the block to level at the initial's height", _FLOWN, FEED_INPUTS)
    slowed_after: float = figure(TIME, "from leaving the block to the initial's speed", _FLOWN, FEED_INPUTS)
    steady: float = figure(TIME, "level, at speed and wings level before the initial", _FLOWN, FEED_INPUTS)
    let_down_time: float = figure(
        TIME, "letting down", "height to lose over the rate", ("doctrine.circuit.initial_height", *_STACK)
    )
    furthest_astern: float = figure(LONG_DISTANCE, "furthest astern of the ramp", _FLOWN, FEED_INPUTS)
    abeam: float = figure(
        DISTANCE, "abeam of the centre line on leaving, on the side of the downwind leg", _FLOWN, FEED_INPUTS
    )
    path: Path
    flown: Flown


def orbit(height: float, facts: FeedFacts) -> Orbit | NoFeed:
    """The hold over the ship at a height [m over the sea].

    A circle through the air falls behind the ship by the wind felt on board, W, times its time T; straight into that
    wind the aeroplane makes it good at V - W, in W T / (V - W). Wind and speed are those of the height.
    """
    setting, circuit = facts.circuit.setting, facts.circuit
    speed = setting.true_speed(facts.speed, height)
    east, north = setting.wind(height)
    felt = math.hypot(
        east - circuit.ship_speed * math.sin(circuit.ship_course),
        north - circuit.ship_speed * math.cos(circuit.ship_course),
    )
    if felt >= speed:
        return NoFeed("In the hold the aeroplane is slower than the wind felt on board", "Hold faster, or lower")
    circle = math.tau * speed / (GRAVITY * math.tan(facts.bank))
    return Orbit(
        radius=radius(speed, facts.bank), circle=circle, drift=felt * circle, whole=circle * speed / (speed - felt)
    )


def feed(height: float, facts: FeedFacts) -> Feed | NoFeed:
    """The way from a block at a height [m over the sea] to the initial; or why there is none."""
    if height < facts.circuit.initial_height:
        initial = write(facts.circuit.initial_height, HEIGHT_OVER_SEA)
        block = write(height, HEIGHT_OVER_SEA)
        return NoFeed(f"The block at {block} is under the initial at {initial}", "Put the lowest block higher")
    try:
        return _solve(height, facts)
    except NoSolution as error:
        return NoFeed(f"There is no answer for {error.sought}", "Look at the speeds, the winds and the let-down")


def _solve(height: float, facts: FeedFacts) -> Feed | NoFeed:
    """The same. Raises NoSolution."""

    def spare(leg_aft: float) -> float:
        flown = _fly(height, leg_aft, facts, SOLVING)
        return _steady(flown, facts) - STEADY if flown.met else math.nan

    circuit = facts.circuit
    let_down_time = (height - circuit.initial_height) / facts.let_down
    flown = _shifted(_fly(height, _leg_aft(spare, let_down_time, height, facts), facts, FINE), circuit)
    if not flown.met:
        raise NoSolution("a way in that reaches the initial")
    rows = circuit.setting.ship.rows
    ahead = [in_ship_frame(float(r[0]), float(r[1]), float(r[2]), rows)[0] for r in flown.records]
    _, start = flown.record(0)
    abeam = -circuit.hand * in_ship_frame(0.0, start[0], start[1], rows)[1]
    aft, turned, end = (flown.end(name)[0] for name in ("aft", "turn in", "way in"))
    level, slowed = _reached(flown, facts)
    return Feed(
        height=height,
        time=end,
        leg_aft=aft,
        turn=turned - aft,
        way_in=end - turned,
        level_after=level,
        slowed_after=slowed,
        steady=_steady(flown, facts),
        let_down_time=let_down_time,
        furthest_astern=max(-min(ahead), 0.0),
        abeam=abeam,
        path=path_of(flown, circuit.setting),
        flown=flown,
    )


def _leg_aft(spare: Callable[[float], float], let_down_time: float, height: float, facts: FeedFacts) -> float:
    """Length of the leg aft that leaves the flight steady as long as it should be; hardly any where that is too long.

    Looked for first near a reckoning with one speed and the wind along the course. Raises NoSolution.
    """
    if spare(LEAST_AFT) > 0.0:
        return LEAST_AFT
    circuit, setting = facts.circuit, facts.circuit.setting
    middle = 0.5 * (height + circuit.initial_height)
    speed = setting.true_speed(facts.speed, middle)
    east, north = setting.wind(middle)
    felt = circuit.ship_speed - east * math.sin(circuit.ship_course) - north * math.cos(circuit.ship_course)
    half_turn = math.pi * speed / (GRAVITY * math.tan(facts.bank)) + facts.bank / setting.aeroplane.roll_rate
    sought = "a leg aft after which the flight is level and slowed in time"
    if abs(felt) < speed:
        # the way in makes good the leg aft at V + W and the drift W in the turn, at V - W
        in_time = ((let_down_time + STEADY - half_turn) * (speed - felt) - felt * half_turn) / (2.0 * speed)
        low, high = max((1.0 - NEAR) * in_time, LEAST_AFT), (1.0 + NEAR) * in_time
        if low < high:
            try:
                return find_root(spare, low, high, sought, steps=1, tolerance=1e-6)
            except NoSolution:  # the slowing takes longer than the let-down: look everywhere
                pass
    return find_root(spare, LEAST_AFT, let_down_time + MOST_AFT, sought, steps=16, tolerance=1e-6)


def _shifted(flown: Flown, circuit: CircuitFacts) -> Flown:
    """The same way abeam of where it was flown, so that it ends on the line of the upwind leg."""
    time, end = flown.record(-1)
    port = circuit.hand * circuit.upwind_offset - in_ship_frame(time, end[0], end[1], circuit.setting.ship.rows)[1]
    records = flown.records.copy()
    records[:, 1] -= port * math.cos(circuit.ship_course)
    records[:, 2] += port * math.sin(circuit.ship_course)
    return replace(flown, records=records)


def _steady(flown: Flown, facts: FeedFacts) -> float:
    """How long before its end it was level, slowed and wings level [s]; negative by what is still wanted there."""
    return flown.record(-1)[0] - max(*_reached(flown, facts), flown.end("turn in")[0])


def _reached(flown: Flown, facts: FeedFacts) -> tuple[float, float]:
    """When the height and the speed of the initial were reached for good [s]; past the end where they were not."""
    circuit, records = facts.circuit, flown.records
    high = records[:, 3] - circuit.initial_height
    shown = np.array([circuit.setting.indicated_speed(float(r[4]), float(r[3])) for r in records])
    times = []
    for off, rate in ((high, facts.let_down), (shown - circuit.initial_speed, circuit.slowing)):
        outside = np.flatnonzero(np.abs(off) > SAME)
        last = len(records) - 1
        if outside.size == 0:
            times.append(float(records[0, 0]))
        elif outside[-1] < last:
            times.append(float(records[outside[-1] + 1, 0]))
        else:
            times.append(float(records[last, 0]) + abs(float(off[last])) / rate)
    return times[0], times[1]


def _fly(height: float, leg_aft: float, facts: FeedFacts, longest_step: float) -> Flown:
    """From abeam the break's datum to abeam it again, begun on the centre line."""
    circuit = facts.circuit
    setting = circuit.setting
    sine, cosine = math.sin(circuit.ship_course), math.cos(circuit.ship_course)
    speed = setting.true_speed(facts.speed, height)
    state: State = (
        circuit.datum_ahead * sine,
        circuit.datum_ahead * cosine,
        height,
        speed,
        heading_along(-1, speed, height, circuit),
        0.0,
        0.0,
        0.0,
    )
    # the heading of the upwind leg, a whole turn on
    upwind = start_state(circuit)[4] + circuit.hand * math.tau
    down = ToHeight(circuit.initial_height, facts.let_down)
    slow = ChangeSpeed(circuit.initial_speed, circuit.slowing)
    in_turn = TurnTo(upwind, circuit.hand * facts.bank)
    legs = [
        Leg("turn in", in_turn, HoldSpeed(), down, Until(Guard.TURN_DONE), LONGEST),
        Leg("way in", HoldBank(0.0), slow, down, Until(Guard.SHIP_AHEAD, circuit.datum_ahead, 1), LONGEST),
    ]
    aft = Leg("aft", HoldBank(0.0), HoldSpeed(), down, Until(Guard.TIME, leg_aft, 1), LONGEST)
    return fly(0.0, state, [aft, *legs], setting, longest_step=longest_step)
