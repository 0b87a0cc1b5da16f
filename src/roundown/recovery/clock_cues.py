"""What the pilot goes by: the clock from gate to gate, the ship's parts abeam, and where the ramp bears.

*Method:* read off the solved path, which is straight between its records. The ship's parts are points of the centre
line; one is abeam when the aeroplane is as far ahead of the ramp as it is. Where the turn-in comes before a part is
abeam, the time is what would still be flown to it at the speed past the ship.

*Holds for:* as recovery/circuit.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.figures import figure
from roundown.motion.frames import wrap
from roundown.passes.pass_plan import PASS_INPUTS, Gate
from roundown.quantities import (
    AHEAD_OF_BOW,
    AHEAD_OF_RAMP,
    DISTANCE,
    HEIGHT_OVER_SEA,
    OFF_NOSE,
    RATIO,
    TIME,
    write,
)
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult

_READ = "the solved path (recovery/clock_cues.py)"
_BY_SPEED = "distance along the deck by the speed past the ship at the turn-in"


@dataclass(frozen=True, kw_only=True)
class ClockCues:
    """Cues of the circuit. Times by the clock; None where a cue does not come."""

    initial_to_break: float = figure(TIME, "from abeam the break's datum to the break", _READ, PASS_INPUTS)
    break_to_downwind: float = figure(TIME, "from the break to wings level downwind", _READ, PASS_INPUTS)
    downwind_to_turn_in: float = figure(TIME, "from wings level downwind to the turn-in", _READ, PASS_INPUTS)
    break_to_turn_in: float = figure(TIME, "from the break to the turn-in, one run of the clock", _READ, PASS_INPUTS)
    turn_in_to_ninety: float = figure(TIME, "from the turn-in to the ninety", _READ, PASS_INPUTS)
    ninety_to_ramp: float = figure(TIME, "from the ninety to the ramp", _READ, PASS_INPUTS)
    turn_in_after_bow: float = figure(
        TIME, "turn-in after the bow is abeam; negative: before it would be", _BY_SPEED, PASS_INPUTS
    )
    turn_in_after_ramp: float = figure(
        TIME, "turn-in after the ramp is abeam; negative: before it would be", _BY_SPEED, PASS_INPUTS
    )
    downwind_after_bow: float | None = figure(
        TIME, "wings level downwind until the bow is abeam; none where it is not before the turn-in", _BY_SPEED,
        PASS_INPUTS,
    )  # fmt: skip
    turn_in_ahead_of_ramp: float = figure(AHEAD_OF_RAMP, "turn-in ahead of the ramp; astern is negative", _READ,
                                          PASS_INPUTS)  # fmt: skip
    turn_in_ahead_of_bow: float = figure(AHEAD_OF_BOW, "turn-in ahead of the bow; abaft it is negative", _READ,
                                         PASS_INPUTS)  # fmt: skip
    turn_in_along_deck: float = figure(
        RATIO, "turn-in along the ship: 0 abeam the ramp, 1 abeam the bow", "ahead of the ramp by the deck's length",
        PASS_INPUTS,
    )  # fmt: skip
    turn_in_abeam: float = figure(DISTANCE, "turn-in from the centre line", _READ, PASS_INPUTS)
    ramp_off_nose: float = figure(OFF_NOSE, "ramp off the nose at the turn-in", _READ, PASS_INPUTS)
    bow_off_nose: float = figure(OFF_NOSE, "bow off the nose at the turn-in", _READ, PASS_INPUTS)
    ninety_off_nose: float = figure(OFF_NOSE, "ramp off the nose at the ninety", _READ, PASS_INPUTS)
    ninety_height: float = figure(HEIGHT_OVER_SEA, "height at the ninety", _READ, PASS_INPUTS)
    ninety_astern: float = figure(DISTANCE, "ninety astern of the ramp; ahead is negative", _READ, PASS_INPUTS)


def clock_cues(result: CircuitResult, facts: CircuitFacts) -> ClockCues:
    """The cues of a solved circuit."""
    gates = result.gates
    turn_in, ninety = gates["turn-in"], gates["ninety"]
    length, closing = facts.deck_length, result.closing_downwind
    rolled_out = gates["downwind"].ahead
    bow_seen = rolled_out > length >= turn_in.ahead
    return ClockCues(
        initial_to_break=result.initial_to_break,
        break_to_downwind=gates["downwind"].time,
        downwind_to_turn_in=turn_in.time - gates["downwind"].time,
        break_to_turn_in=turn_in.time,
        turn_in_to_ninety=ninety.time - turn_in.time,
        ninety_to_ramp=gates["ramp"].time - ninety.time,
        turn_in_after_bow=(length - turn_in.ahead) / closing,
        turn_in_after_ramp=-turn_in.ahead / closing,
        downwind_after_bow=turn_in.time - (length - turn_in.ahead) / closing - gates["downwind"].time
        if bow_seen
        else None,
        turn_in_ahead_of_ramp=turn_in.ahead,
        turn_in_ahead_of_bow=turn_in.ahead - length,
        turn_in_along_deck=turn_in.ahead / length,
        turn_in_abeam=abs(turn_in.port),
        ramp_off_nose=_off_nose(turn_in, 0.0, result),
        bow_off_nose=_off_nose(turn_in, length, result),
        ninety_off_nose=_off_nose(ninety, 0.0, result),
        ninety_height=ninety.height,
        ninety_astern=-ninety.ahead,
    )


def cue_sentences(cues: ClockCues, facts: CircuitFacts) -> dict[str, str]:
    """One plain sentence a cue, by the key of the figure it is about, in the order they are met."""
    side = "left" if facts.hand < 0 else "right"
    inside = "port" if facts.hand < 0 else "starboard"
    return {
        "initial_to_break": (
            f"Start the clock abeam the {facts.datum} and break at {write(cues.initial_to_break, TIME)}."
        ),
        "break_to_downwind": (
            f"Start the clock at the break: wings level downwind at {write(cues.break_to_downwind, TIME)}."
        ),
        "break_to_turn_in": (
            f"Turn in {write(cues.break_to_turn_in, TIME)} after the break, "
            f"{write(cues.downwind_to_turn_in, TIME)} after the wings are level."
        ),
        "turn_in_ahead_of_ramp": _place_sentence(cues, facts),
        "turn_in_after_bow": _bow_sentence(cues),
        "turn_in_abeam": f"The ship's line is then {write(cues.turn_in_abeam, DISTANCE)} off, to {inside}.",
        "ramp_off_nose": (
            f"At the turn-in the ramp bears {write(cues.ramp_off_nose, OFF_NOSE)} off the nose to the {side}, the bow "
            f"{write(cues.bow_off_nose, OFF_NOSE)}."
        ),
        "turn_in_to_ninety": (
            f"At the ninety, {write(cues.turn_in_to_ninety, TIME)} after the turn-in, be at "
            f"{write(cues.ninety_height, HEIGHT_OVER_SEA)} over the sea; the ramp bears "
            f"{write(cues.ninety_off_nose, OFF_NOSE)} off the nose."
        ),
        "ninety_to_ramp": f"Over the ramp {write(cues.ninety_to_ramp, TIME)} after the ninety.",
    }


def _off_nose(gate: Gate, ahead: float, result: CircuitResult) -> float:
    """Bearing of a point of the centre line off the nose at a gate, to either side [rad]."""
    # the point lies `ahead - gate.ahead` further ahead and `gate.port` to starboard of the aeroplane
    bearing = math.atan2(gate.port, ahead - gate.ahead) + result.ship_course - gate.heading
    return abs(wrap(bearing))


def _place_sentence(cues: ClockCues, facts: CircuitFacts) -> str:
    ahead, beyond = cues.turn_in_ahead_of_ramp, cues.turn_in_ahead_of_bow
    if beyond >= 0.0:
        return (
            f"Turn in {write(beyond, DISTANCE)} before the bow comes abeam, {write(ahead, DISTANCE)} ahead of the ramp."
        )
    if ahead < 0.0:
        return f"Turn in {write(-ahead, DISTANCE)} past the ramp, {write(-beyond, DISTANCE)} abaft the bow."
    third = min(int(3.0 * ahead / facts.deck_length), 2)
    part = ("after third", "middle third", "forward third")[third]
    return (
        f"Turn in with the {part} of the deck abeam, {write(ahead, DISTANCE)} ahead of the ramp and "
        f"{write(-beyond, DISTANCE)} abaft the bow."
    )


def _bow_sentence(cues: ClockCues) -> str:
    after = cues.turn_in_after_bow
    if after < 0.0:
        return f"The bow is not yet abeam: it would be {write(-after, TIME)} after the turn-in."
    return f"Start the clock with the bow abeam and turn in at {write(after, TIME)}."
