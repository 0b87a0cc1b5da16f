"""Pitch and heave of the deck at a place of it, and what the worst moment of them makes of a touchdown.

*Method:* pitch about midships and heave, each a sine of one period; how heave lies to pitch in time is not known, so
that every relation is tried. A place x ahead of the ramp then rises by pitch x (x - half the deck) + heave, no faster
than 2 pi / period times the sum of both amplitudes there (own derivation). The worst moment of a touchdown is looked
for over the whole cycle, at even steps of it and of the relation of heave to pitch.

*Holds for:* pitch of a few degrees; the flight is not bent by the moving deck; roll, sway and yaw are left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from roundown.figures import figure
from roundown.quantities import ANGLE, CLEARANCE, LENGTH, SINK, TIME, write
from roundown.recovery.after_cut import AFTER_CUT_INPUTS

Floats = npt.NDArray[np.float64]

MOMENTS, RELATIONS = 48, 24  # of the cycle, and of heave to pitch, that are tried
OFF = "Deck motion off: the deck is taken as steady."

MOTION_KEYS = ("ship.deck.pitch", "ship.deck.pitch_period", "ship.deck.heave", "ship.deck_length")
_CLOSED = "greatest pitch times the arm from midships, and greatest heave, together (recovery/deck_motion.py)"
_TRIED = "the flight met with the deck at every moment of its cycle, heave anyhow to pitch (recovery/deck_motion.py)"
_HOOKED = (*AFTER_CUT_INPUTS, *MOTION_KEYS, "type.hook.behind", "type.hook.below")


@dataclass(frozen=True)
class DeckMotion:
    """pitch : either way, about midships [rad]; heave : either way [m]; period : of both [s]; deck_length [m]."""

    pitch: float
    heave: float
    period: float
    deck_length: float

    @property
    def off(self) -> bool:
        """Whether the deck is steady."""
        return self.pitch == 0.0 and self.heave == 0.0

    @property
    def sentence(self) -> str:
        """What a card says of it."""
        if self.off:
            return OFF
        return (
            f"Deck motion: pitch {write(self.pitch, ANGLE)} and heave {write(self.heave, CLEARANCE)} either way, "
            f"period {write(self.period, TIME)}, at the worst moment."
        )

    def most(self, ahead: float) -> float:
        """Greatest rise of a place ahead of the ramp over its mean height [m]."""
        return self.pitch * abs(ahead - 0.5 * self.deck_length) + self.heave

    def fastest(self, ahead: float) -> float:
        """Greatest rate at which that place rises [m/s]."""
        return 0.0 if self.off else math.tau / self.period * self.most(ahead)


def rise(
    motion: DeckMotion, ahead: Floats, time: Floats, moment: Floats, relation: Floats
) -> tuple[Floats, Floats, Floats]:
    """How far places ahead of the ramp stand over their mean height [m], how fast they rise [m/s], slope of the deck.

    time [s]; moment : phase of the pitch at time nil, relation : of heave ahead of pitch [rad]; all broadcast
    The slope is positive with the bow up.
    """
    turning = math.tau / motion.period if not motion.off else 0.0
    pitching = turning * time + moment
    heaving, arm = pitching + relation, ahead - 0.5 * motion.deck_length
    slope = motion.pitch * np.sin(pitching)
    height = slope * arm + motion.heave * np.sin(heaving)
    rate = turning * (motion.pitch * np.cos(pitching) * arm + motion.heave * np.cos(heaving))
    return height, rate, slope


@dataclass(frozen=True, eq=False)
class PointPath:
    """The path of a point over the mean deck, one entry a moment.

    time [s]; ahead : of the ramp, height : over the mean deck [m]; closing : past the ship, climb [m/s]
    """

    time: Floats
    ahead: Floats
    height: Floats
    closing: Floats
    climb: Floats


@dataclass(frozen=True, eq=False)
class Meetings:
    """Where and how hard a point meets the deck, by moment and relation of the deck's motion.

    ahead : of the ramp [m]; sink : toward the deck [m/s]; both (RELATIONS, MOMENTS), NaN where it does not
    """

    ahead: Floats
    sink: Floats


def meetings(motion: DeckMotion, path: PointPath) -> Meetings:
    """Where the path first meets the moving deck, over the cycle.

    A path that comes over the ramp below the deck meets it there.
    """
    moments: Floats = (math.tau / MOMENTS * np.arange(MOMENTS, dtype=np.float64))[None, :, None]
    relations: Floats = (math.tau / RELATIONS * np.arange(RELATIONS, dtype=np.float64))[:, None, None]
    on_deck = path.ahead >= 0.0
    time, ahead, above = path.time[on_deck], path.ahead[on_deck], path.height[on_deck]
    over = above - rise(motion, ahead, time, moments, relations)[0]
    after = np.argmax(over <= 0.0, axis=-1)
    met = over.min(axis=-1) <= 0.0
    before = np.maximum(after - 1, 0)
    start = np.take_along_axis(over, before[..., None], -1)[..., 0]
    end = np.take_along_axis(over, after[..., None], -1)[..., 0]
    span = np.where(start == end, 1.0, start - end)
    part = np.where(after == 0, 0.0, np.clip(start / span, 0.0, 1.0))
    when = time[before] + part * (time[after] - time[before])
    where, closing, climb = (np.interp(when, path.time, each) for each in (path.ahead, path.closing, path.climb))
    _, rate, slope = rise(motion, where, when, moments[..., 0], relations[..., 0])
    return Meetings(np.where(met, where, np.nan), np.where(met, rate + slope * closing - climb, np.nan))


@dataclass(frozen=True, kw_only=True)
class WorstMotion:
    """The touchdown at the worst moment of the deck's motion; the same as on a steady deck where there is none."""

    ramp_rise: float = figure(CLEARANCE, "ramp over its mean height, at the most", _CLOSED, MOTION_KEYS)
    deck_speed: float = figure(
        SINK, "rise of the deck where the wheels touch, at the most",
        "2 pi / period times the greatest rise there (recovery/deck_motion.py)",
        (*AFTER_CUT_INPUTS, *MOTION_KEYS),
    )  # fmt: skip
    hook_over_ramp: float = figure(
        CLEARANCE, "hook over the ramp when the ramp stands highest", "hook over the ramp less the ramp's rise", _HOOKED
    )
    sink: float = figure(
        SINK, "sink of the wheels toward the deck, at the most", _TRIED, (*AFTER_CUT_INPUTS, *MOTION_KEYS)
    )
    nearest: float = figure(LENGTH, "hook meets the deck ahead of the ramp, at the least", _TRIED, _HOOKED)
    furthest: float = figure(LENGTH, "hook meets the deck ahead of the ramp, at the most", _TRIED, _HOOKED)


def worst_motion(
    motion: DeckMotion, wheels: PointPath, hook: PointPath, touch_ahead: float, hook_over_ramp: float
) -> WorstMotion:
    """The worst of the cycle for a path of the wheels and of the hook's point, on a deck that moves.

    touch_ahead : where the wheels touch a steady deck, hook_over_ramp : over a steady ramp [m]
    """
    touching, hooking = meetings(motion, wheels), meetings(motion, hook)
    return WorstMotion(
        ramp_rise=motion.most(0.0),
        deck_speed=motion.fastest(touch_ahead),
        hook_over_ramp=hook_over_ramp - motion.most(0.0),
        sink=float(np.nanmax(touching.sink)),
        nearest=float(np.nanmin(hooking.ahead)),
        furthest=float(np.nanmax(hooking.ahead)),
    )
