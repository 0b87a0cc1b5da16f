"""The wing-edge cue: does the leading edge of the wing touch the ship's stern at the turn-in?

"Turn in when the stern touches the leading edge" is common practice, no source. Whether and when it does depends on the
type's wing and eye, on the distance abeam and on the height. Here the corner of the ramp on the circuit's side is
followed along the downwind leg in body axes, and straight on past the turn-in for a while, as for one who waits for it.

*Method:* the line of the leading edge and the eye lie in one plane; the stern crosses the edge, or its line carried on
past the tip, when it comes into that plane. *Holds for:* the leg flown straight past the turn-in as at its end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from roundown.motion.frames import Floats
from roundown.sight.attitude import Attitudes
from roundown.sight.cockpit import leading_edge
from roundown.sight.facts import SightFacts
from roundown.sight.horizon_cut import sight_lines
from roundown.sight.projection import bearing
from roundown.sight.wireframe import points_of

WAITS = 30.0  # s past the turn-in that the leg is carried on
STEP = 0.25  # s


@dataclass(frozen=True)
class WingCue:
    """The stern against the leading edge.

    after : when the stern crosses the line of the edge, from the turn-in [s]; None where it does not
    along : where, from 0 at the root to 1 at the tip; beyond 1 it passes outside the tip and does not touch
    ahead_of_tip : at the turn-in, azimuth of the stern ahead of the leading edge at the tip [rad]
    over_tip : at the turn-in, how much higher than the leading edge at the tip the stern stands in the cockpit [rad]
    """

    after: float | None
    along: float | None
    ahead_of_tip: float
    over_tip: float

    @property
    def touches(self) -> bool:
        """Whether the edge itself touches the stern."""
        return self.along is not None and 0.0 <= self.along <= 1.0


def wing_cue(facts: SightFacts, flown: Attitudes) -> WingCue:
    """The cue on the downwind leg of a circuit.

    flown : the attitudes along it. The leg is straight from the gate "downwind" to the gate "turn-in".
    """
    begun, turn_in = facts.gates["downwind"], facts.gates["turn-in"]
    edge = leading_edge(facts.cockpit, -facts.hand)
    time = np.arange(begun, turn_in + WAITS, STEP)
    stern = _stern(facts, _carried_on(flown, time, turn_in))
    after, along = _crossing(time, stern, edge)
    here = _stern(facts, flown.at(turn_in))
    (stern_azimuth, tip_azimuth), (stern_height, tip_height) = bearing(np.vstack([here, edge[1]]))
    return WingCue(
        after=None if after is None else after - turn_in,
        along=along,
        ahead_of_tip=float(facts.hand * (tip_azimuth - stern_azimuth)),
        over_tip=float(stern_height - tip_height),
    )


def _carried_on(flown: Attitudes, time: Floats, turn_in: float) -> Attitudes:
    """Attitudes on the leg, and from the turn-in on straight with the speed past the ship it had."""
    held = flown.at(np.minimum(time, turn_in))
    last, before = flown.at(turn_in), flown.at(turn_in - 1.0)
    on = np.maximum(time - turn_in, 0.0)
    ahead, port = (
        getattr(held, name) + on * (getattr(last, name) - getattr(before, name)) for name in ("ahead", "port")
    )
    return replace(held, time=time.copy(), ahead=ahead, port=port)


def _stern(facts: SightFacts, there: Attitudes) -> Floats:
    """From the eye to the corner of the ramp, in body axes (n, 3) [m]."""
    eyes = there.eyes(facts.cockpit, facts.ship.deck_height)
    corner = points_of(facts.ship, facts.hand)["stern"]
    found: Floats = np.einsum("nij,nj->ni", there.body, sight_lines(corner, eyes))
    return found


def _crossing(time: Floats, seen: Floats, edge: Floats) -> tuple[float | None, float | None]:
    """When a point seen first comes onto an edge's line, and where along the edge, root 0, tip 1."""
    root, tip = edge
    off = seen @ np.cross(root, tip)
    for i in np.flatnonzero((off[:-1] > 0.0) != (off[1:] > 0.0)):
        part = off[i] / (off[i] - off[i + 1])
        there = seen[i] + part * (seen[i + 1] - seen[i])
        # there = reach (root + along (tip - root)): least squares, exact because all lie in one plane
        (reach, further), *_ = np.linalg.lstsq(np.column_stack([root, tip - root]), there, rcond=None)
        if reach > 0.0:
            return float(time[i] + part * (time[i + 1] - time[i])), float(further / reach)
    return None, None
