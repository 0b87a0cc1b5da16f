"""Who is where when number one is over the ramp, and do any two come too near one another?

*Method:* everyone flies the same circuit, one interval after the one before, so that the place of number n is the place
on the solved path so many intervals earlier, seen from the ship. Before the initial the path goes straight back along
the upwind leg. Pairs are looked at over the whole way: with both tracks straight between records, the distance of each
pair is least at the foot of the perpendicular or at an end, in closed form. Own derivation. Two types that share a
circuit are two paths with the interval kept at the break.

*Holds for:* a ship on a steady course and speed; every pilot flies the circuit as solved and keeps the interval; those
that have landed or been waved off are not counted. How near is too near is an own rule without a source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from roundown.figures import figure
from roundown.findings import Finding, Level
from roundown.motion.frames import Floats, ship_components
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import AHEAD_OF_RAMP, DISTANCE, FOOT, HEIGHT_OVER_SEA, LENGTH, TIME, YARD, write
from roundown.recovery.result import CircuitResult

NEAR = 150.0 * YARD  # m, level distance below which two are too near, where also nearer in height; own rule, no source
NEAR_HEIGHT = 100.0 * FOOT  # m, likewise in height; own rule, no source
LEAD_IN = 60.0  # s before the initial for which the upwind leg is followed back
LONGEST_INTERVAL = 180.0  # s, up to which a remedy looks for an interval
WHOLE = 1.0  # s, in whole numbers of which a remedy names an interval

SPACING_INPUTS = (*PASS_INPUTS, "doctrine.circuit.interval")
_SHIFTED = "the solved path one interval earlier for each place, seen from the ship (recovery/spacing.py)"
_CLOSEST = "least over all pairs and the whole way round (recovery/spacing.py)"
LEGS = (
    ("initial", "coming up astern"),
    ("break", "upwind leg"),
    ("downwind", "break turn"),
    ("turn-in", "downwind leg"),
    ("ninety", "first half of the final turn"),
    ("ramp", "second half of the final turn"),
)
"""The stretch that ends at each gate."""


@dataclass(frozen=True, eq=False)
class CircuitTrack:
    """A circuit seen from the ship: time [s] from the initial, ahead of the ramp, to port, height over the sea [m].

    From LEAD_IN before the initial to the ramp. gates : time of each gate [s] from the initial
    """

    time: Floats
    ahead: Floats
    port: Floats
    height: Floats
    gates: Mapping[str, float]

    def at(self, time: float) -> tuple[float, float, float]:
        """Ahead of the ramp, to port, height over the sea [m], linear between records."""
        ahead, port, height = (float(np.interp(time, self.time, row)) for row in (self.ahead, self.port, self.height))
        return ahead, port, height

    def leg(self, time: float) -> str:
        """The stretch of the circuit flown at a time."""
        return next((leg for gate, leg in LEGS if time < self.gates[gate] - 1e-9), "over the ramp")


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where one is when number one is over the ramp. leg : the stretch he is on."""

    leg: str
    since_break: float = figure(TIME, "time since his break; before it is negative", _SHIFTED, SPACING_INPUTS)
    ahead: float = figure(AHEAD_OF_RAMP, "ahead of the ramp; astern is negative", _SHIFTED, SPACING_INPUTS)
    port: float = figure(DISTANCE, "to port of the centre line; to starboard is negative", _SHIFTED, SPACING_INPUTS)
    height: float = figure(HEIGHT_OVER_SEA, "height", _SHIFTED, SPACING_INPUTS)
    to_next: float | None = figure(
        DISTANCE, "straight to the one ahead of him; none for number one", _SHIFTED, SPACING_INPUTS
    )


@dataclass(frozen=True, kw_only=True)
class Closest:
    """The nearest two come. apart : places between them; first, second : the stretches they are on.

    too_near : within 150 yd level and 100 ft in height at once (own rule)
    """

    distance: float = figure(DISTANCE, "nearest two come, straight from one to the other", _CLOSEST, SPACING_INPUTS)
    level: float = figure(DISTANCE, "level distance then", _CLOSEST, SPACING_INPUTS)
    height: float = figure(LENGTH, "difference of height then", _CLOSEST, SPACING_INPUTS)
    since_break: float = figure(TIME, "time since the break of the one ahead", _CLOSEST, SPACING_INPUTS)
    apart: int
    first: str
    second: str
    too_near: bool


@dataclass(frozen=True, kw_only=True)
class Spacing:
    """The circuit full of aeroplanes. places : by "number_1" and so on; one over the ramp, the last short of the break.

    in_circuit : most between break and ramp at once
    """

    places: Mapping[str, Place]
    closest: Closest | None
    in_circuit: int


@dataclass(frozen=True, kw_only=True)
class Behind:
    """One type breaking behind another. Figures are those of the day's type and that one."""

    ramp_interval: float = figure(
        TIME, "from the one ahead over the ramp to the one behind",
        "interval at the break and the difference of their times from break to ramp", SPACING_INPUTS,
    )  # fmt: skip
    gained: float = figure(
        TIME, "gained on the one ahead from the break to the ramp; falling back is negative",
        "difference of their times from break to ramp", PASS_INPUTS,
    )  # fmt: skip
    break_interval: float = figure(
        TIME, "interval at the break that keeps the doctrine's over the ramp",
        "interval and what is gained", SPACING_INPUTS,
    )  # fmt: skip
    closest: Closest


def circuit_track(result: CircuitResult) -> CircuitTrack:
    """A solved circuit seen from the ship, from some way before the initial to the ramp."""
    path = result.path
    run = result.ship_speed * path.time
    course = result.ship_course
    ahead, port = ship_components(
        path.east.values - run * math.sin(course), path.north.values - run * math.cos(course), np.array(course)
    )
    gates = {name: gate.time + result.initial_to_break for name, gate in result.gates.items()}
    kept = path.time <= gates["ramp"] + 1e-9
    back = np.array([-LEAD_IN])
    return CircuitTrack(
        time=np.concatenate([back, path.time[kept]]),
        ahead=np.concatenate([ahead[0] + result.closing_upwind * back, ahead[kept]]),
        port=np.concatenate([port[:1], port[kept]]),
        height=np.concatenate([path.height.values[:1], path.height.values[kept]]),
        gates=gates,
    )


def spacing(result: CircuitResult, interval: float) -> Spacing:
    """Everyone in the circuit when number one is over the ramp, and the nearest two come.

    interval : from one break to the next [s], above 0
    Raises ValueError for an interval that is not.
    """
    if not interval > 0.0:
        raise ValueError(f"interval {interval:g} s is not positive")
    track = circuit_track(result)
    ramp = track.gates["ramp"]
    return Spacing(
        places=_places(track, interval),
        closest=_closest_of_all(track, interval),
        in_circuit=math.floor((ramp - track.gates["break"]) / interval + 1e-9) + 1,
    )


def behind(first: CircuitResult, second: CircuitResult, interval: float, wanted: float | None = None) -> Behind:
    """What comes of a second circuit broken `interval` seconds behind a first, round the same ship.

    wanted : interval over the ramp [s], as at the break where None
    Raises ValueError where they do not fly round the same ship, or are never in the air together.
    """
    if (first.ship_course, first.ship_speed) != (second.ship_course, second.ship_speed):
        raise ValueError("two circuits round ships on different courses or speeds")
    ahead, follower = circuit_track(first), circuit_track(second)
    delay = ahead.gates["break"] + interval - follower.gates["break"]
    found = closest(ahead, follower, delay, 1)
    if found is None:
        raise ValueError("two circuits that are never in the air together")
    gained = first.break_to_ramp - second.break_to_ramp
    return Behind(
        ramp_interval=interval - gained,
        gained=gained,
        break_interval=(interval if wanted is None else wanted) + gained,
        closest=found,
    )


def closest(first: CircuitTrack, second: CircuitTrack, delay: float, apart: int) -> Closest | None:
    """The nearest two come, the second `delay` seconds [s] after the first; None where they never fly together.

    apart : places between them, which is passed on
    Where they come too near, it is the least level distance of the stretch on which the heights are near as well.
    """
    low = max(first.time[0], second.time[0] + delay)
    high = min(first.time[-1], second.time[-1] + delay)
    if low >= high:
        return None
    inner = np.concatenate([first.time, second.time + delay])
    times = np.unique(np.concatenate([[low, high], inner[(inner > low) & (inner < high)]]))
    there = np.stack([np.interp(times, first.time, row) for row in (first.ahead, first.port, first.height)], axis=1)
    theirs = [np.interp(times - delay, second.time, row) for row in (second.ahead, second.port, second.height)]
    parting = np.stack(theirs, axis=1) - there
    step = np.diff(parting, axis=0)
    part, distances = _foot(parting[:-1], step, np.zeros(len(step)), np.ones(len(step)))
    near = _near_in_height(parting[:-1, 2], step[:, 2])
    level_part, level = _foot(parting[:-1, :2], step[:, :2], *near)
    level = np.where(near[1] > near[0], level, math.inf)
    too_near = bool(np.min(level) < NEAR)
    i = int(np.argmin(level if too_near else distances))
    within = float((level_part if too_near else part)[i])
    across = parting[i] + within * step[i]
    time = float(times[i] + within * (times[i + 1] - times[i]))
    return Closest(
        distance=float(np.linalg.norm(across)),
        level=float(math.hypot(across[0], across[1])),
        height=abs(float(across[2])),
        since_break=time - first.gates["break"],
        apart=apart,
        first=first.leg(time),
        second=second.leg(time - delay),
        too_near=too_near,
    )


def _foot(start: Floats, step: Floats, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Part of each segment, within low to high, at which it is nearest the origin, and how near."""
    square = np.sum(step * step, axis=1)
    free = -np.sum(start * step, axis=1) / np.where(square > 0.0, square, 1.0)
    part: Floats = np.clip(free, low, np.maximum(high, low))
    return part, np.linalg.norm(start + part[:, None] * step, axis=1)


def _near_in_height(start: Floats, step: Floats) -> tuple[Floats, Floats]:
    """Part of each segment over which the heights are near: from and to, equal where they never are."""
    moving = step != 0.0
    safe = np.where(moving, step, 1.0)
    one, other = (-NEAR_HEIGHT - start) / safe, (NEAR_HEIGHT - start) / safe
    always = np.abs(start) < NEAR_HEIGHT
    low = np.where(moving, np.clip(np.minimum(one, other), 0.0, 1.0), 0.0)
    high = np.where(moving, np.clip(np.maximum(one, other), 0.0, 1.0), np.where(always, 1.0, 0.0))
    return low, high


def _places(track: CircuitTrack, interval: float) -> dict[str, Place]:
    found: dict[str, Place] = {}
    ramp, number, before = track.gates["ramp"], 1, None
    while True:
        time = ramp - (number - 1) * interval
        if time < track.gates["initial"]:
            return found
        there = track.at(time)
        found[f"number_{number}"] = Place(
            leg=track.leg(time),
            since_break=time - track.gates["break"],
            ahead=there[0],
            port=there[1],
            height=there[2],
            to_next=None if before is None else math.dist(there, before),
        )
        before, number = there, number + 1


def _closest_of_all(track: CircuitTrack, interval: float) -> Closest | None:
    """The nearest pair of all; one that is too near before one that is not; None with one in the air at a time."""
    pairs = [
        found
        for apart in range(1, math.ceil((track.time[-1] - track.time[0]) / interval) + 1)
        if (found := closest(track, track, apart * interval, apart)) is not None
    ]
    return min(pairs, key=lambda pair: (not pair.too_near, pair.distance), default=None)


def spacing_findings(found: Spacing, result: CircuitResult, interval: float) -> list[Finding]:
    """Two that come too near one another, with the interval that parts them."""
    pair = found.closest
    if pair is None or not pair.too_near:
        return []
    track = circuit_track(result)
    tried = math.floor(interval / WHOLE + 1.0) * WHOLE
    while tried <= LONGEST_INTERVAL:
        other = _closest_of_all(track, tried)
        if other is None or not other.too_near:
            remedy = f"Break {write(tried, TIME)} apart instead of {write(interval, TIME)}."
            break
        tried += WHOLE
    else:
        remedy = "Break further ahead, or change the heights, so that the legs do not cross."
    value = (
        f"{pair.apart} {'place' if pair.apart == 1 else 'places'} apart, {pair.second} and {pair.first}: "
        f"{write(pair.level, DISTANCE)} and {write(pair.height, LENGTH)} of height"
    )
    limit = f"{write(NEAR, DISTANCE)} level or {write(NEAR_HEIGHT, LENGTH)} of height is kept (own rule)"
    return [Finding("conflict", Level.CAUTION, "spacing.closest.distance", value, limit, remedy)]
