"""How late may I turn in and still come level over the ramp on the centre line? And how early, and how close abeam?

A turn-in off its place is mended in the turn itself. Late, the aeroplane is too far aft: it turns steeper up to the
ninety and slacker after it, which carries the wings-level place ahead. Early, it is slack at first and steep after the
ninety. The *latest* turn-in is the one for which the first half needs the steepest bank allowed, the *earliest* the one
for which the second half does; allowed is the doctrine's greatest bank, or less where the stall margin asks for it.
Between the two the turn goes on all the way round and ends with the wings level over the ramp. After the latest, it
cannot: straight flight behind the ship is left (recovery/late.py), or a slant across her wake. Before the earliest, the
pilot is to hold his turn-in.

Close abeam the whole turn needs more bank. The *closest abeam* is where one bank all round, from the planned turn-in's
state, is the steepest allowed; the turn-in then has a place of its own.

*Method:* two halves of their own bank by the path engine (recovery/closing_turn.py); two unknowns, two misses, Powell's
hybrid method. Own derivation, docs/method/errors.md.

*Holds for:* a steady ship; heights and speeds by heading as planned; a pilot who sees his error at the turn-in. Power
for the steeper half is not asked after.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from roundown.errors import NoSolution
from roundown.figures import figure
from roundown.findings import Finding, Level
from roundown.motion.equations.kernel import Floats, State, in_ship_frame
from roundown.motion.frames import wrap
from roundown.motion.manoeuvre import Guard, Until, fly
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import AHEAD_OF_RAMP, ANGLE, DISTANCE, OFF_NOSE, TIME, YARD, write
from roundown.recovery.circuit import COARSE, LEAST_BANK, MOST_BANK, Circuit, downwind_leg
from roundown.recovery.closing_turn import SLACK, bank_limits, fly_halves, level_place, radius_by_bank, settle
from roundown.recovery.facts import CircuitFacts

ABEAM_ERRORS = (-200.0, -100.0, 100.0, 200.0)  # yd, shown
NARROW = 2.0  # s, a narrower window of turn-ins is worth a word; own rule, no source
Place = tuple[float, float]
_INPUTS = (*PASS_INPUTS, "doctrine.circuit.greatest_bank", "doctrine.expected.stall_margin")
_PAIR = "two halves with a bank each, wings level over the ramp (recovery/latest_turn_in.py)"
_ONE = "one bank all round from the state at the planned turn-in (recovery/latest_turn_in.py)"
_LIMIT = "doctrine's greatest bank, or the bank that leaves the stall margin at the speeds of the turn if that is less"


@dataclass(frozen=True, kw_only=True)
class TurnInLimit:
    """One end of the window of turn-ins."""

    after: float = figure(TIME, "time of the turn-in after the planned one; before it is negative", _PAIR, _INPUTS)
    ahead: float = figure(AHEAD_OF_RAMP, "place of that turn-in, ahead of the ramp; astern is negative", _PAIR, _INPUTS)
    ramp_off_nose: float = figure(OFF_NOSE, "bearing of the ramp off the nose there", _PAIR, _INPUTS)
    to_ninety: float = figure(ANGLE, "bank it needs up to the ninety", _PAIR, _INPUTS)
    from_ninety: float = figure(ANGLE, "bank it needs from the ninety on", _PAIR, _INPUTS)


@dataclass(frozen=True, kw_only=True)
class AbeamError:
    """A downwind leg too close or too wide by a stated distance."""

    abeam: float = figure(DISTANCE, "distance abeam at the turn-in", "planned abeam and the error", PASS_INPUTS)
    bank: float | None = figure(ANGLE, "bank of a final turn from there that ends on the line", _ONE, PASS_INPUTS)


@dataclass(frozen=True, eq=False, kw_only=True)
class LatestTurnIn:
    """The window of turn-ins, and what being close abeam asks.

    by_downwind : whether the earliest is where the downwind leg begins, and not where the bank ends it
    """

    latest: TurnInLimit | None
    earliest: TurnInLimit | None
    window: float | None = figure(TIME, "from the earliest turn-in that closes to the latest", _PAIR, _INPUTS)
    limit_to_ninety: float = figure(ANGLE, "steepest bank allowed up to the ninety", _LIMIT, _INPUTS)
    limit_from_ninety: float = figure(ANGLE, "steepest bank allowed from the ninety on", _LIMIT, _INPUTS)
    closest_abeam: float | None = figure(DISTANCE, "closest abeam from which a final turn still closes", _ONE, _INPUTS)
    abeam: Mapping[str, AbeamError]
    by_downwind: bool


def name_of_abeam(error: float) -> str:
    """The key of an error abeam [yd]: closer_100_yd, wider_200_yd."""
    return f"{'closer' if error < 0 else 'wider'}_{abs(error):.0f}_yd"


def latest_turn_in(circuit: Circuit, facts: CircuitFacts) -> LatestTurnIn:
    """The window of turn-ins of a solved circuit; its ends are None where the planned turn is too steep already."""
    limits = bank_limits(circuit, facts)
    latest, (earliest, by_downwind) = _latest(circuit, facts, limits[0]), _earliest(circuit, facts, limits[1])
    steepest = min(limits)
    closest = abs(_carried(circuit, facts, steepest)) if steepest >= LEAST_BANK else math.nan
    return LatestTurnIn(
        latest=latest,
        earliest=earliest,
        window=None if latest is None or earliest is None else latest.after - earliest.after,
        limit_to_ninety=limits[0],
        limit_from_ninety=limits[1],
        closest_abeam=None if math.isnan(closest) else closest,
        abeam={name_of_abeam(error): _abeam_error(error * YARD, circuit, facts) for error in ABEAM_ERRORS},
        by_downwind=by_downwind,
    )


def latest_turn_in_findings(result: LatestTurnIn) -> list[Finding]:
    """A window of turn-ins so narrow that it is luck to meet it."""
    if result.window is None or result.window >= NARROW or result.latest is None or result.earliest is None:
        return []
    allowed = write(min(result.limit_to_ninety, result.limit_from_ninety), ANGLE)
    early, late = write(-result.earliest.after, TIME), write(result.latest.after, TIME)
    remedy = "Break with less bank, so that the final turn is wider and leaves bank in hand."
    if result.by_downwind:
        remedy = "Break further ahead, so that the downwind leg leaves time to choose the turn-in."
    return [
        Finding(
            id="turn-in-window",
            level=Level.CAUTION,
            key="latest_turn_in.window",
            value=f"turned in from {early} before the planned place to {late} after it, the final turn ends over the "
            f"ramp with {allowed} of bank or less",
            limit=f"{write(NARROW, TIME)} are wanted (own rule)",
            remedy=remedy,
        )
    ]


def _at(after: float, circuit: Circuit, facts: CircuitFacts) -> tuple[float, State]:
    """Time and state on the downwind leg, flown that much past the planned turn-in; before it, that much less."""
    begun, state = circuit.flown.end("break")
    long = circuit.flown.end("downwind")[0] + after - begun
    if long <= 0.0:
        return begun, state
    return fly(
        begun, state, [downwind_leg(facts, Until(Guard.TIME, long, 1))], circuit.setting, longest_step=COARSE
    ).record(-1)


def _level(after: float, to_ninety: float, from_ninety: float, circuit: Circuit, facts: CircuitFacts) -> Place:
    """Where the wings come level, ahead and to port [m]; NaN for a bank nobody flies."""
    if not (LEAST_BANK <= to_ninety <= MOST_BANK and LEAST_BANK <= from_ninety <= MOST_BANK):
        return math.nan, math.nan
    time, state = _at(after, circuit, facts)
    return level_place(fly_halves(time, state, to_ninety, from_ninety, facts), facts)


def _other(bank: float, circuit: Circuit) -> float:
    """A guess at the other half's bank: radii that add up to twice the planned one, speed for speed."""
    slack = 2.0 / math.tan(circuit.final_bank) - 1.0 / math.tan(bank)
    return math.atan(1.0 / slack)


def _shift(bank: float, circuit: Circuit, facts: CircuitFacts) -> float:
    """A guess at the time a steeper half is worth: twice what its radius is less by, at the speed past the ship."""
    _, state = circuit.flown.end("downwind")
    past = state[3] + facts.ship_speed
    speed = facts.ninety_speed
    return 2.0 * (radius_by_bank(circuit.final_bank, speed) - radius_by_bank(bank, speed)) / past


def _latest(circuit: Circuit, facts: CircuitFacts, limit: float) -> TurnInLimit | None:
    if limit < circuit.final_bank:
        return None
    start = (_shift(limit, circuit, facts), _other(limit, circuit))
    try:
        after, slack = settle(lambda u: _level(u[0], limit, u[1], circuit, facts), start, "the latest turn-in")
    except NoSolution:
        return None
    return _limit_at(float(after), limit, float(slack), circuit, facts)


def _earliest(circuit: Circuit, facts: CircuitFacts, limit: float) -> tuple[TurnInLimit | None, bool]:
    """The earliest turn-in, and whether it is where the downwind leg begins."""
    if limit < circuit.final_bank:
        return None, False
    begun = circuit.flown.end("break")[0] - circuit.flown.end("downwind")[0]
    after = max(-_shift(limit, circuit, facts), begun)
    slack = _other(limit, circuit)
    try:
        found = settle(lambda u: _level(u[0], u[1], limit, circuit, facts), (after, slack), "the earliest turn-in")
        if found[0] > begun:
            return _limit_at(float(found[0]), float(found[1]), limit, circuit, facts), False
    except NoSolution:  # it would lie before the downwind leg
        pass
    try:
        slack, steep = settle(
            lambda u: _level(begun, u[0], u[1], circuit, facts),
            (circuit.final_bank, circuit.final_bank),
            "a final turn from the beginning of the downwind leg",
        )
    except NoSolution:
        return None, False
    if steep > limit + SLACK:
        return None, False
    return _limit_at(begun, float(slack), float(steep), circuit, facts), True


def _limit_at(after: float, to_ninety: float, from_ninety: float, circuit: Circuit, facts: CircuitFacts) -> TurnInLimit:
    time, state = _at(after, circuit, facts)
    ahead, port = in_ship_frame(time, state[0], state[1], circuit.setting.ship.rows)
    return TurnInLimit(
        after=after,
        ahead=ahead,
        ramp_off_nose=abs(wrap(math.atan2(port, -ahead) + facts.ship_course - state[4])),
        to_ninety=to_ninety,
        from_ninety=from_ninety,
    )


def _carried(circuit: Circuit, facts: CircuitFacts, bank: float) -> float:
    """How far to the side one bank all round carries from the planned turn-in's state, to port positive [m]; or NaN."""
    time, state = circuit.flown.end("downwind")
    return level_place(fly_halves(time, state, bank, bank, facts), facts)[1] - circuit.turn_in_port


def _abeam_error(error: float, circuit: Circuit, facts: CircuitFacts) -> AbeamError:
    """The bank from a downwind leg further from the ship than planned by an error, closer negative [m]."""
    abeam = abs(circuit.turn_in_port) + error
    if abeam <= 0.0:
        return AbeamError(abeam=abeam, bank=None)
    first = math.atan(math.tan(circuit.final_bank) * abs(circuit.turn_in_port) / abeam)
    if not LEAST_BANK <= first <= MOST_BANK:
        return AbeamError(abeam=abeam, bank=None)

    def miss(unknown: Floats) -> tuple[float]:
        bank = float(unknown[0])
        in_use = LEAST_BANK <= bank <= MOST_BANK
        return (abs(_carried(circuit, facts, bank)) - abeam if in_use else math.nan,)

    try:
        (bank,) = settle(miss, (first,), "the bank from that far abeam")
    except NoSolution:
        return AbeamError(abeam=abeam, bank=None)
    return AbeamError(abeam=abeam, bank=float(bank))
