"""How deep a pilot sees over his nose, and from where a straight approach loses the deck.

*Method:* with level wings the deepest he sees straight ahead is, below the horizontal,

    view over the nose, from the datum down, less body pitch        (own derivation)

so a point some height below his eye goes out of sight at the distance height / tan(deepest). In a bank the nose's
outline turns with the aeroplane: toward the inside of the turn, an angle off the nose, he sees deeper by about
bank x sin(that angle); `nose_rim` has it without the approximation, from the outline.
*Holds for:* the outline of cockpit.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from roundown.sight.attitude import angle_of_attack, body_pitch
from roundown.sight.cockpit import nose
from roundown.sight.facts import Cockpit, Lifting, StraightIn
from roundown.sight.projection import axes


def deepest(over_nose: float, pitch: float) -> float:
    """Deepest view straight ahead below the horizontal, wings level [rad]; negative: the horizon itself is hidden."""
    return over_nose - pitch


def lost_at(drop: float, deepest_view: float, slope: float = 0.0) -> float:
    """Distance at which a point goes out of sight under the nose, on a straight approach to it [m].

    drop : of the point below the eye when the eye is over it [m]; deepest_view : below the horizontal [rad]
    slope : of the eye's way towards the point, descending positive [rad]
    Returns 0 for a point not below the eye's way, infinity where it is hidden from any distance.
    """
    if deepest_view <= slope:
        return math.inf
    return max(0.0, drop) / (math.tan(deepest_view) - math.tan(slope))


def bank_gain(bank: float, off_nose: float) -> float:
    """How much deeper a bank lets one see, to first order [rad].

    bank, off_nose : azimuth from the nose [rad], both to starboard positive: a turn and a look to one side gain
    """
    return bank * math.sin(off_nose)


def nose_rim(cockpit: Cockpit, pitch: float, bank: float, off_nose: float) -> float | None:
    """Deepest view over the nose's outline in one direction, below the horizontal [rad]; None where no nose is.

    pitch, bank : of the fuselage; off_nose : azimuth of the upright plane looked along, to starboard positive [rad]
    """
    level = nose(cockpit) @ axes(0.0, pitch, bank)
    ahead = np.array([math.cos(off_nose), -math.sin(off_nose), 0.0])
    aside = np.array([math.sin(off_nose), math.cos(off_nose), 0.0])
    starts, ends = level, np.roll(level, -1, axis=0)
    off, off_next = starts @ aside, ends @ aside
    crosses = (off >= 0.0) != (off_next >= 0.0)
    if not np.any(crosses):
        return None
    part = (off[crosses] / (off[crosses] - off_next[crosses]))[:, None]
    met = starts[crosses] + part * (ends[crosses] - starts[crosses])
    reach = met @ ahead
    rises = np.arctan2(met[:, 2], reach)[reach > 0.0]
    return -float(rises.max()) if rises.size else None


@dataclass(frozen=True)
class StraightView:
    """What a straight approach sees.

    pitch : of the fuselage; deepest : view ahead below the horizontal; slope : of the way past the ship, descending
    positive [rad]; eye_over_deck : when the eye passes the ramp [m]
    """

    pitch: float
    deepest: float
    slope: float
    eye_over_deck: float

    def lost(self, ahead: float = 0.0) -> float:
        """Distance of the eye astern of the ramp from which a point of the deck is out of sight [m].

        ahead : of the point, from the ramp [m]. Infinity where it is out of sight from any distance.
        """
        drop = self.eye_over_deck - ahead * math.tan(self.slope)
        return lost_at(drop, self.deepest, self.slope) - ahead


def straight_view(straight: StraightIn, cockpit: Cockpit, wing: Lifting) -> StraightView | None:
    """The view from a straight approach with full flap; None where the wing does not carry it."""
    attack = angle_of_attack(math.cos(straight.climb), straight.airspeed, straight.density, 1.0, wing)
    pitch = float(body_pitch(attack, straight.climb, cockpit.wing_setting))
    if not math.isfinite(pitch):
        return None
    slope = math.atan2(-straight.airspeed * math.sin(straight.climb), straight.closing)
    behind = cockpit.eye_behind * math.cos(pitch) + cockpit.eye_height * math.sin(pitch)
    over_wheels = cockpit.eye_height * math.cos(pitch) - cockpit.eye_behind * math.sin(pitch)
    # the wheels are at the ramp height over the ramp; the eye comes there later and lower
    over_deck = straight.ramp_height + over_wheels - behind * math.tan(slope)
    return StraightView(pitch, deepest(cockpit.over_nose, pitch), slope, over_deck)
