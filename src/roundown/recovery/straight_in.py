"""The straight-in compared with the curved approach: how long, how far apart, how much deck is to be seen.

*Method:* on the centre line the speed past the ship is that over the ramp, so that times are distances by it. Heights
are those of the slope from the ninety to the ramp, laid through the air and carried back along the straight. The deck's
length as seen is the angle between the lines of sight from the eye to ramp and bow (plane trigonometry).

*Holds for:* the ramp speed held all the way; the wind over the ramp at all heights; a flat sea. Whether the nose hides
the deck is not looked at here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from roundown.figures import figure
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import ANGLE, CLOSING_SPEED, DISTANCE, HEIGHT_OVER_SEA, NAUTICAL_MILE, TIME
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult

MARKS = {"one_mile": 1.0 * NAUTICAL_MILE, "half_mile": 0.5 * NAUTICAL_MILE, "quarter_mile": 0.25 * NAUTICAL_MILE}
"""Distances astern of the ramp that are looked at [m]."""
_STEADY = "distance by the speed past the ship over the ramp"
_SLOPE = "slope from the ninety to the ramp, through the air, carried back"
_SEEN = "angle between the lines of sight from the eye to ramp and bow"
_EYE = (*PASS_INPUTS, "type.sight.eye_height")


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A straight-in at a distance astern of the ramp. The deck's angles need the eye's height; None without it."""

    time: float = figure(TIME, "from there to the ramp", _STEADY, PASS_INPUTS)
    height: float = figure(HEIGHT_OVER_SEA, "height of the wheels there", _SLOPE, PASS_INPUTS)
    deck_seen: float | None = figure(ANGLE, "length of the deck as the eye sees it", _SEEN, _EYE)
    ramp_below: float | None = figure(ANGLE, "ramp below the level of the eye", "eye over the deck by distance", _EYE)
    through_air: float = figure(DISTANCE, "flown through the air from there to the ramp", "true airspeed times time",
                                PASS_INPUTS)  # fmt: skip
    ship_run: float = figure(DISTANCE, "run of the ship meanwhile", "ship's speed times time", PASS_INPUTS)


@dataclass(frozen=True, kw_only=True)
class StraightIn:
    """The straight-in beside the curved final. in_last_mile : how many are on the last mile at once."""

    closing: float = figure(CLOSING_SPEED, "speed past the ship, all the way in", "as over the ramp", PASS_INPUTS)
    marks: Mapping[str, Mark]
    curved_time: float = figure(
        TIME, "the curved approach: from the turn-in to the ramp", "as circuit.final_time", ("circuit.final_time",)
    )
    longer: float = figure(
        TIME, "straight-in from one mile longer than the curved approach", "difference of the two times",
        ("straight_in.marks.one_mile.time", "circuit.final_time"),
    )  # fmt: skip
    same_time_astern: float = figure(
        DISTANCE, "where astern a straight-in takes as long as the curved approach",
        "speed past the ship times the time of the curved approach", ("circuit.closing_ramp", "circuit.final_time"),
    )  # fmt: skip
    spacing: float = figure(
        DISTANCE, "the interval as distance astern of the one ahead", "interval times speed past the ship",
        ("circuit.closing_ramp", "doctrine.circuit.interval"),
    )  # fmt: skip
    one_second: float = figure(
        DISTANCE, "what one second of interval is on the straight", "speed past the ship for one second",
        ("circuit.closing_ramp",),
    )  # fmt: skip
    in_last_mile: int


def straight_in(result: CircuitResult, facts: CircuitFacts, eye_height: float | None = None) -> StraightIn:
    """A straight-in along the centre line. eye_height : eye over the wheels [m], None where the type gives none."""
    closing = result.closing_ramp
    spacing = closing * facts.interval
    time = NAUTICAL_MILE / closing
    return StraightIn(
        closing=closing,
        marks={name: _mark(astern, result, facts, eye_height) for name, astern in MARKS.items()},
        curved_time=result.final_time,
        longer=time - result.final_time,
        same_time_astern=closing * result.final_time,
        spacing=spacing,
        one_second=closing,
        in_last_mile=math.floor(NAUTICAL_MILE / spacing + 1e-9) + 1,
    )


def _mark(astern: float, result: CircuitResult, facts: CircuitFacts, eye_height: float | None) -> Mark:
    time = astern / result.closing_ramp
    speed = facts.setting.true_speed(facts.ramp_speed, facts.ramp_over_sea)
    height = facts.ramp_over_sea + speed * math.sin(result.final_slope) * time
    seen = below = None
    if eye_height is not None:
        eye = height + eye_height - facts.deck_height
        below = math.atan2(eye, astern)
        seen = below - math.atan2(eye, astern + facts.deck_length)
    return Mark(
        time=time,
        height=height,
        deck_seen=seen,
        ramp_below=below,
        through_air=speed * time,
        ship_run=facts.ship_speed * time,
    )
