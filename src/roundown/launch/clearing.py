"""The clearing turn after the bow: how far it takes the aeroplane off the ship's track line.

*Method:* level airspeed is that of the straight flight past the bow (launch/past_bow.py), its last kept beyond it.
Some seconds after the first climb the aeroplane rolls to the bank at the type's roll rate, rolls out in time for the
heading wanted, holds that, and turns back to the flight course. Rate of turn g tan(bank) / V; the bank is never more
than can be rolled out in the heading that is left, whose integral over an even roll is in closed form; marched in short
even steps. Common practice, no source, is a small turn to starboard that takes the slipstream off the next aeroplane.

*Holds for:* bank and change of heading small enough that the turn costs neither speed nor height (15 degrees of bank
ask for 4 % more lift); heading along the ship's before the turn, so that a wind across the deck drifts it; the ship
holds course and speed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.environment.air import GRAVITY
from roundown.figures import figure
from roundown.launch.deck_run import RUN_INPUTS
from roundown.launch.facts import RunFacts
from roundown.launch.kernel import Floats
from roundown.launch.past_bow import PastBow
from roundown.quantities import ANGLE, DEGREE, DISTANCE, TIME

STEP = 0.05  # s
HORIZON = 60.0  # s past the bow

TURN_INPUTS = (*RUN_INPUTS, "type.gear_time", "type.roll_rate", "doctrine.launch.*")
_TURNED = "turn marched at the airspeed of the straight flight past the bow (launch/clearing.py)"


@dataclass(frozen=True)
class ClearingTurn:
    """side : +1 to starboard, -1 to port; bank, change of heading [rad]; wait : from the first climb, hold : on the
    heading turned to [s].

    The values given are common practice and own rules, no source.
    """

    side: float = 1.0
    bank: float = 15.0 * DEGREE
    change: float = 15.0 * DEGREE
    wait: float = 2.0
    hold: float = 5.0


@dataclass(frozen=True, eq=False)
class ShipFrameTrack:
    """Where it goes beside the ship, one entry a moment. Read-only.

    time : past the bow [s]; ahead : of the bow, starboard : of her track line [m]; heading, bank : off the ship's and
    from level, to starboard positive [rad]
    """

    time: Floats
    ahead: Floats
    starboard: Floats
    heading: Floats
    bank: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class Clearing:
    """The clearing turn, in the first 60 s past the bow."""

    begins_after: float = figure(
        TIME, "from the bow to the clearing turn", "first climb and the wait after it", TURN_INPUTS
    )
    steady_after: float | None = figure(
        TIME, "from the bow to steady on the flight course again; none: not within 60 s", _TURNED, TURN_INPUTS
    )
    off_after_10_s: float = figure(DISTANCE, "off the ship's track line 10 s past the bow", _TURNED, TURN_INPUTS)
    off_after_20_s: float = figure(DISTANCE, "off the ship's track line 20 s past the bow", _TURNED, TURN_INPUTS)
    off_after_30_s: float = figure(DISTANCE, "off the ship's track line 30 s past the bow", _TURNED, TURN_INPUTS)
    greatest_off: float = figure(DISTANCE, "most off the ship's track line in 60 s", _TURNED, TURN_INPUTS)
    greatest_change: float = figure(ANGLE, "greatest change of heading", _TURNED, TURN_INPUTS)
    track: ShipFrameTrack


def clearing(facts: RunFacts, past: PastBow, turn: ClearingTurn) -> Clearing | None:
    """The clearing turn after a flight past the bow; None where that touches the sea or never climbs.

    Raises ValueError where bank or change of heading is not between 0 and 45 degrees.
    """
    for name, value in (("bank", turn.bank), ("change of heading", turn.change)):
        if not 0.0 < value < math.pi / 4.0:
            raise ValueError(f"{name} of the clearing turn {value / DEGREE:g} deg is not between 0 and 45 deg")
    if past.climb_after is None or past.touches:
        return None
    begins = past.climb_after + turn.wait
    time, level = _kept_on(past)
    heading, bank, steady = _headings(time, level, begins, facts.aeroplane.roll_rate, turn)
    track = _track(facts, time, level, heading, bank)
    off = {seconds: abs(float(np.interp(seconds, time, track.starboard))) for seconds in (10, 20, 30)}
    return Clearing(
        begins_after=begins,
        steady_after=steady,
        off_after_10_s=off[10],
        off_after_20_s=off[20],
        off_after_30_s=off[30],
        greatest_off=float(np.abs(track.starboard).max()),
        greatest_change=float(np.abs(track.heading).max()),
        track=track,
    )


def straight_track(facts: RunFacts, past: PastBow) -> ShipFrameTrack:
    """The same flight without a turn."""
    time, level = _kept_on(past)
    return _track(facts, time, level, np.zeros_like(time), np.zeros_like(time))


def roll_out_turn(bank: float, speed: float, roll_rate: float) -> float:
    """Change of heading while a bank is rolled out at an even rate [rad]: integral of g tan(bank) / V over the roll.

    bank : 0 or more [rad]; speed : level airspeed [m/s]; roll_rate [rad/s]
    """
    return -GRAVITY / (speed * roll_rate) * math.log(math.cos(bank))


def roll_out_bank(change: float, speed: float, roll_rate: float) -> float:
    """Bank that is just rolled out in a change of heading [rad]; the inverse of roll_out_turn."""
    return math.acos(math.exp(-max(change, 0.0) * speed * roll_rate / GRAVITY))


def _headings(
    time: Floats, level: Floats, begins: float, roll: float, turn: ClearingTurn
) -> tuple[Floats, Floats, float | None]:
    """Heading and bank at each moment, and when it is steady on the flight course again."""
    heading, banks = np.zeros_like(time), np.zeros_like(time)
    bank, turned, back_at = 0.0, 0.0, math.inf
    steady: float | None = None
    for i in range(len(time) - 1):
        now, speed, after = float(time[i]), float(level[i]), float(time[i + 1])
        if now >= begins and steady is None:
            out = now < back_at
            way = 1.0 if out else -1.0
            left = way * ((turn.change if out else 0.0) - turned)
            lean = way * bank
            soon = left - GRAVITY * math.tan(lean) / speed * STEP  # what is left after this step
            wanted = min(turn.bank, roll_out_bank(soon, speed, roll))
            leaned = lean + min(max(wanted - lean, -roll * STEP), roll * STEP)
            turned += way * GRAVITY * math.tan(0.5 * (lean + leaned)) / speed * STEP
            bank = way * leaned
            left = way * ((turn.change if out else 0.0) - turned)
            if left <= roll_out_turn(roll * STEP, speed, roll):  # less than a step turns: on the heading
                bank, turned = 0.0, turn.change if out else 0.0
                if not out:
                    steady = after
                elif back_at == math.inf:
                    back_at = after + turn.hold
        heading[i + 1], banks[i + 1] = turned, bank
    return turn.side * heading, turn.side * banks, steady


def _kept_on(past: PastBow) -> tuple[Floats, Floats]:
    """Even moments to the horizon, and the level airspeed at each."""
    time: Floats = np.arange(round(HORIZON / STEP) + 1, dtype=np.float64) * STEP
    level: Floats = np.interp(time, past.path.time, past.path.level)
    return time, level


def _track(facts: RunFacts, time: Floats, level: Floats, heading: Floats, bank: Floats) -> ShipFrameTrack:
    ahead = _summed(level * np.cos(heading) - facts.wind_ahead)
    starboard = _summed(level * np.sin(heading) - facts.wind_across)
    for part in (time, ahead, starboard, heading, bank):
        part.setflags(write=False)
    return ShipFrameTrack(time, ahead, starboard, heading, bank)


def _summed(rate: Floats) -> Floats:
    """Integral over the even steps, from nil (trapezoids)."""
    return np.concatenate([[0.0], np.cumsum(0.5 * STEP * (rate[1:] + rate[:-1]))])
