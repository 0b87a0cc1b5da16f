"""The ship's turn from base course to flight course, and how far holding it takes her from her base track.

*Method:* she turns the shorter way on her turning circle at base speed, then comes to the flight speed; rows in closed
form (motion/ship_track.py). *Holds for:* no loss of speed in the turn, no leeway.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from roundown.figures import figure
from roundown.motion.frames import wrap
from roundown.motion.ship_track import STEERAGE_WAY, Order, ShipTrack, ordered_track, run_off
from roundown.quantities import COURSE_CHANGE, LONG_DISTANCE, TIME, TRUE_DIRECTION

HOLDS = (10, 20, 30)  # minutes
_TURN = (
    "flight.course",
    "flight.speed",
    "ship.base_course",
    "ship.base_speed",
    "ship.turning_circle",
    "ship.speed_gain",
)
_METHOD = "turning circle, then change of speed, in closed form (motion/ship_track.py)"


@dataclass(frozen=True, kw_only=True)
class RunOff:
    """Where holding the flight course for a time takes her from where she would have been."""

    distance: float = figure(
        LONG_DISTANCE,
        "distance off the base track's place, that long after steady on the flight course",
        _METHOD,
        _TURN,
    )
    bearing: float = figure(TRUE_DIRECTION, "its bearing from there, true", _METHOD, _TURN)


@dataclass(frozen=True, eq=False, kw_only=True)
class TurnIntoWind:
    """The turn. run_off : by the minutes she holds the flight course; track : from the order to turn, time zero."""

    turn: float = figure(COURSE_CHANGE, "turn into the wind, to starboard positive", "shorter way round", _TURN)
    turn_time: float = figure(TIME, "time to turn", _METHOD, _TURN)
    ready_after: float = figure(
        TIME, "from the order until steady on the flight course at flight speed", _METHOD, _TURN
    )
    run_off: Mapping[str, RunOff]
    track: ShipTrack


def turn_into_wind(
    course: float, speed: float, base_course: float, base_speed: float, turning_circle: float, speed_gain: float
) -> TurnIntoWind:
    """The turn from base course and speed to a flight course and speed.

    turning_circle : diameter [m]; speed_gain : change of speed, either way [m/s2]
    """
    orders = [Order(course=course, speed=speed)]
    track = ordered_track(base_course, base_speed, orders, turning_circle / 2.0, speed_gain)
    turn = wrap(course - base_course)
    runs = {}
    for minutes in HOLDS:
        distance, bearing = run_off(track, track.settled + 60.0 * minutes, base_course, base_speed)
        runs[f"after_{minutes}_min"] = RunOff(distance=distance, bearing=bearing)
    way = base_speed if base_speed >= STEERAGE_WAY else speed  # without way on she gathers it first
    turn_time = abs(turn) * turning_circle / 2.0 / way if way > 0.0 else 0.0
    return TurnIntoWind(turn=turn, turn_time=turn_time, ready_after=track.settled, run_off=runs, track=track)
