"""A path: where something was, instant by instant. Planned, flown, drawn and live passes are all this one type.

A path never grows: live code keeps a ring of fixes and steps the same measures.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


class Source(StrEnum):
    """How a channel came to hold its values."""

    GIVEN = "given"
    DERIVED = "derived"
    ABSENT = "absent"


class MadeBy(StrEnum):
    """Where a path comes from."""

    PLANNED = "planned"
    FLOWN = "flown"
    DRAWN = "drawn"
    LIVE = "live"


@dataclass(frozen=True, eq=False)
class Channel:
    """One quantity along a path: values (n,), one standard deviation (same unit, NaN unknown), and its source.

    The values are set read-only. An absent channel holds NaN.
    """

    values: Floats
    sigma: float
    source: Source

    def __post_init__(self) -> None:
        self.values.setflags(write=False)


@dataclass(frozen=True, eq=False)
class Path:
    """Channels of equal length on rising times.

    time [s] from the day's datum; east, north of the near plane's datum [m]; height over the sea [m]; heading true,
    unwrapped [rad]; bank right positive [rad]; airspeed true [m/s]; ground_speed [m/s].
    Raises ValueError when lengths differ or time does not rise.
    """

    time: Floats
    east: Channel
    north: Channel
    height: Channel
    heading: Channel
    bank: Channel
    airspeed: Channel
    ground_speed: Channel
    made_by: MadeBy

    def __post_init__(self) -> None:
        self.time.setflags(write=False)
        if any(channel.values.shape != self.time.shape for channel in self.channels.values()):
            raise ValueError("all channels of a path have the length of its time")
        if self.time.ndim != 1 or self.time.size < 2 or not np.all(np.diff(self.time) > 0.0):
            raise ValueError("a path needs two or more instants, each later than the one before")

    @property
    def channels(self) -> dict[str, Channel]:
        """The channels by name, in order."""
        names = ("east", "north", "height", "heading", "bank", "airspeed", "ground_speed")
        return {name: getattr(self, name) for name in names}

    def at(self, time: float) -> dict[str, float]:
        """Every channel at an instant, linear between fixes; NaN outside the path."""
        if not self.time[0] <= time <= self.time[-1]:
            return dict.fromkeys(self.channels, float("nan"))
        return {name: float(np.interp(time, self.time, channel.values)) for name, channel in self.channels.items()}
