"""From a ship's clock to universal time and back, and when sun and moon do something by that clock."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from roundown.environment.light import Sky, SkyNow, next_event, skies


@dataclass(frozen=True)
class ShipClock:
    """datum : an instant in universal time; shows : what the clock shows then [s after midnight of the plan's date]."""

    datum: dt.datetime
    shows: float

    def instant(self, time: float) -> dt.datetime:
        """Universal time when the clock shows a time [s after midnight]."""
        return self.datum + dt.timedelta(seconds=time - self.shows)

    def time(self, instant: dt.datetime) -> float:
        """What the clock shows at an instant [s after midnight]."""
        return self.shows + (instant - self.datum).total_seconds()


@dataclass(frozen=True)
class SimulatorSun:
    """What the simulator's sun does when: its times, in order, and those at which the true sun does the same.

    shown, true : [s after midnight]; without any the simulator's sun is the true one
    *Method:* own rule: between two of its times the simulator's sun keeps pace with them, beyond them it is as much
    before or behind the true one as at the nearest.
    """

    shown: tuple[float, ...] = ()
    true: tuple[float, ...] = ()

    def true_time(self, time: float) -> float:
        """When the true sun stands as the simulator's does at a time, both by the clock [s after midnight]."""
        if not self.shown:
            return time
        ahead = np.subtract(self.true, self.shown)
        return time + float(np.interp(time, self.shown, ahead))


def sky_time(
    anchor: str, latitude: float, longitude: float, clock: ShipClock, after: float, simulator: Mapping[str, float]
) -> float | None:
    """When sun or moon first do something after a time, by the clock [s after midnight]; None if not in 36 hours.

    anchor : words such as "sunset"; latitude, longitude : where [rad]; after : [s after midnight]
    simulator : times the simulator has instead, by the same words [s after midnight]; they come again each day
    """
    if anchor in simulator:
        return simulator[anchor] + 86400.0 * max(0.0, -((simulator[anchor] - after) // 86400.0))
    found = next_event(Sky(anchor), latitude, longitude, clock.instant(after))
    return None if found is None else clock.time(found)


def skies_at(
    times: list[float], latitudes: list[float], longitudes: list[float], clock: ShipClock
) -> tuple[SkyNow, ...]:
    """Sun and moon at times by the clock [s after midnight], each over its own place [rad]."""
    return skies([clock.instant(time) for time in times], latitudes, longitudes)
