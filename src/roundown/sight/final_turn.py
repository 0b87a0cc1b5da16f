"""The ramp against the nose: where a pilot has it in the final turn, and for how long his nose hides it.

"The left edge of the nose on the middle of the ramp" is common practice, no source; `point_seen` says what angle there
is between the two. *Method:* the outline of cockpit.py against the middle of the ramp, in body axes.
*Holds for:* the outline of the nose; a pilot who does not lean out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from roundown.motion.frames import Floats
from roundown.sight.attitude import Attitudes
from roundown.sight.cockpit import clear_of, nose
from roundown.sight.facts import Cockpit, ShipOutline
from roundown.sight.horizon_cut import sight_lines
from roundown.sight.projection import bearing


@dataclass(frozen=True, eq=False)
class PointSeen:
    """A point of the ship as the pilot has it, one entry a moment, (n,) each.

    azimuth : off the fuselage's datum in the cockpit, to starboard positive; depression : below the horizontal [rad]
    clear_of_nose : angle from the outline of the nose, negative while the nose hides it [rad]
    distance : from the eye over the sea [m]
    """

    azimuth: Floats
    depression: Floats
    clear_of_nose: Floats
    distance: Floats


def point_seen(
    there: Attitudes, cockpit: Cockpit, ship: ShipOutline, point: tuple[float, float] = (0.0, 0.0)
) -> PointSeen:
    """The middle of the ramp, or another point of the deck (ahead, port) [m], seen from attitudes."""
    eyes = there.eyes(cockpit, ship.deck_height)
    seen = sight_lines(np.array([*point, 0.0]), eyes)
    in_body = np.einsum("nij,nj->ni", there.body, seen)
    azimuth, _ = bearing(in_body)
    _, rise = bearing(seen)
    return PointSeen(azimuth, -rise, clear_of(in_body, nose(cockpit)), np.hypot(seen[:, 0], seen[:, 1]))


def hidden_seconds(there: Attitudes, cockpit: Cockpit, ship: ShipOutline) -> float:
    """For how many seconds of a way flown the nose hides the middle of the ramp, until the wheels are over it.

    NaN where the attitude is not known all along. *Method:* linear between the instants there are.
    """
    clear = point_seen(there, cockpit, ship).clear_of_nose
    before, after, step = clear[:-1], clear[1:], np.diff(there.time)
    change = np.abs(after - before)
    below = np.maximum(0.0, -np.minimum(before, after))
    share = np.where((before < 0.0) & (after < 0.0), 1.0, np.minimum(1.0, below / np.where(change > 0.0, change, 1.0)))
    return float(np.sum(step * np.where(np.isnan(change), np.nan, share)))


def hidden_from(there: Attitudes, cockpit: Cockpit, ship: ShipOutline) -> float | None:
    """The instant from which the ramp stays behind the nose to the end of a way flown [s]; None where it does not."""
    clear = point_seen(there, cockpit, ship).clear_of_nose
    seen = np.flatnonzero(~(clear < 0.0))
    if seen.size == 0:
        return float(there.time[0])
    i = int(seen[-1])
    if i == len(clear) - 1 or np.isnan(clear[i]):
        return None
    part = clear[i] / (clear[i] - clear[i + 1])
    return float(there.time[i] + part * (there.time[i + 1] - there.time[i]))
