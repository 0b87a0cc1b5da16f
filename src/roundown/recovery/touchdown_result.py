"""The figures of a touchdown, each with how it came about, and what moves it in a sentence each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from roundown.figures import figure
from roundown.quantities import (
    AHEAD_OF_RAMP,
    CLEARANCE,
    CLOSING_SPEED,
    HEIGHT_OVER_DECK,
    INDICATED_SPEED,
    LENGTH,
    SHARE,
    SINK,
    SPEED_MARGIN,
    TIME,
    write,
)  # fmt: skip
from roundown.recovery.after_cut import AFTER_CUT_INPUTS
from roundown.recovery.arresting import WIRE_KEYS, Arresting
from roundown.recovery.deck_motion import MOTION_KEYS, PointPath, WorstMotion

_FLOWN = (
    "flight from the throttle shut to a steady deck: the nose dips by doctrine.recovery.nose_dip of the lift and is "
    "eased back at doctrine.recovery.eased_sink of the sink limit, both assumptions (recovery/after_cut.py)"
)
_SINK = (
    "the same flight; it is held to doctrine.recovery.eased_sink of the undercarriage's limit, so that where it comes "
    "to that, it is that assumption and not a finding of the flight (recovery/after_cut.py)"
)
_SLOPE = "straight down the final's slope, the height asked for over the ramp (recovery/touchdown.py)"
_HOOK = (*AFTER_CUT_INPUTS, "type.hook.behind", "type.hook.below")
_EARLY = (*_HOOK, *MOTION_KEYS, "doctrine.recovery.ramp_clearance")
_LATE = (*_HOOK, *WIRE_KEYS)
_BARRIER = (*_LATE, "ship.gear.barrier_place")
_OVER_RAMP = "height there on the final's slope, or on the flight after the cut (recovery/after_cut.py)"
_SHIFTED = "the same flight with its cut moved along the final's slope (recovery/touchdown.py)"
_RAISED = "the same flight begun at another height (recovery/touchdown.py)"
_ERROR = "the flight after the cut with that one thing changed, on a steady deck (recovery/touchdown.py)"

ERRORS = {  # what is changed, in the words of a signal officer
    "early": "cut 0.3 s early",
    "late": "cut 0.3 s late",
    "low": "5 ft lower over the ramp",
    "high": "5 ft higher over the ramp",
    "slow": "3 kt slower",
    "fast": "3 kt faster",
}


@dataclass(frozen=True, kw_only=True)
class Moved:
    """What one error does. wire : number of the wire it takes then, None for none or for the ramp struck."""

    moved: float = figure(LENGTH, "hook meets the deck that much further ahead", _ERROR, _HOOK)
    hook_ahead: float = figure(LENGTH, "hook meets the deck ahead of the ramp", _ERROR, _HOOK)
    hook_over_ramp: float = figure(CLEARANCE, "hook over the ramp", _ERROR, _HOOK)
    wire: int | None


@dataclass(frozen=True, eq=False, kw_only=True)
class Touchdown:
    """The touchdown on a steady deck, what the deck's motion makes of it, the stop, and what moves it.

    arresting : None where no wire is taken, or the ramp is struck; strikes : whether hook or wheels strike the ramp
    deck_motion : a sentence for cards; wheels, hook : their paths from the ramp, or the throttle shut if that is before
    """

    cut_height: float = figure(HEIGHT_OVER_DECK, "wheels over the deck at the cut", _SLOPE, AFTER_CUT_INPUTS)
    throttle_shut: float = figure(
        AHEAD_OF_RAMP, "throttle shut, ahead of the ramp; astern is negative",
        "place of the cut and the run in the time to react", AFTER_CUT_INPUTS,
    )  # fmt: skip
    carried: float = figure(
        SHARE, "part of the weight carried by the slipstream, which goes with the throttle",
        "R. Smelt and H. Davies, ARC R&M 1788, 1937, from memory (recovery/after_cut.py)", AFTER_CUT_INPUTS,
    )  # fmt: skip
    touch_ahead: float = figure(LENGTH, "main wheels touch ahead of the ramp", _FLOWN, AFTER_CUT_INPUTS)
    touch_after: float = figure(TIME, "from the cut to the wheels on deck", _FLOWN, AFTER_CUT_INPUTS)
    touch_speed: float = figure(INDICATED_SPEED, "indicated airspeed as the wheels touch", _FLOWN, AFTER_CUT_INPUTS)
    touch_closing: float = figure(CLOSING_SPEED, "speed past the ship as the wheels touch", _FLOWN, AFTER_CUT_INPUTS)
    sink: float = figure(SINK, "sink as the wheels touch a steady deck", _SINK, AFTER_CUT_INPUTS)
    speed_lost: float = figure(
        SPEED_MARGIN, "indicated airspeed lost from the cut to the deck", _FLOWN, AFTER_CUT_INPUTS
    )
    hook_over_ramp: float = figure(CLEARANCE, "hook over the ramp", _OVER_RAMP, _HOOK)
    wheels_over_ramp: float = figure(HEIGHT_OVER_DECK, "wheels over the ramp", _OVER_RAMP, AFTER_CUT_INPUTS)
    hook_ahead: float = figure(LENGTH, "hook meets the deck ahead of the ramp", _FLOWN, _HOOK)
    hook_after: float = figure(TIME, "from the cut to the hook on deck", _FLOWN, _HOOK)
    hook_closing: float = figure(CLOSING_SPEED, "speed past the ship as the hook meets the deck", _FLOWN, _HOOK)
    barrier_closing: float | None = figure(
        CLOSING_SPEED, "speed past the ship at the barrier where no wire is taken, nothing on deck slowing it",
        _FLOWN, _BARRIER,
    )  # fmt: skip
    barrier_height: float | None = figure(
        HEIGHT_OVER_DECK, "wheels over the deck at the barrier where no wire is taken", _FLOWN, _BARRIER
    )
    cut_earliest: float | None = figure(
        AHEAD_OF_RAMP, "earliest cut that clears the ramp, on the deck's worst moment; astern is negative",
        _SHIFTED, _EARLY,
    )  # fmt: skip
    cut_latest: float | None = figure(
        AHEAD_OF_RAMP,
        "latest cut that takes the last wire of a steady deck, and shuts the throttle in the air; astern is negative",
        _SHIFTED, _LATE,
    )  # fmt: skip
    cut_window: float | None = figure(
        TIME, "from the earliest cut to the latest", "between the two, at the speed past the ship", (*_EARLY, *_LATE)
    )
    cut_in_hand: float | None = figure(
        TIME, "from the planned cut to the latest", "between the two, at the speed past the ship", _LATE
    )
    ramp_lowest: float | None = figure(
        HEIGHT_OVER_DECK, "least height of the wheels over the ramp that clears it with this cut", _RAISED, _EARLY
    )
    ramp_highest: float | None = figure(
        HEIGHT_OVER_DECK, "greatest height of the wheels over the ramp that takes the last wire with this cut",
        _RAISED, _LATE,
    )  # fmt: skip
    strikes: bool
    motion: WorstMotion
    deck_motion: str
    arresting: Arresting | None
    errors: Mapping[str, Moved]
    wheels: PointPath
    hook: PointPath


def what_moves_it(found: Touchdown) -> tuple[str, ...]:
    """For the signal officer: a sentence for each error, with the wire it takes."""
    return tuple(_sentence(ERRORS[name], moved) for name, moved in found.errors.items())


def _sentence(error: str, moved: Moved) -> str:
    way = "further ahead" if moved.moved >= 0.0 else "nearer the ramp"
    if moved.hook_over_ramp < 0.0:
        wire = "the ramp is struck"
    else:
        wire = "no wire, the barrier" if moved.wire is None else f"wire {moved.wire}"
    return f"{error[0].upper()}{error[1:]}: {write(abs(moved.moved), LENGTH)} {way}, {wire}."
