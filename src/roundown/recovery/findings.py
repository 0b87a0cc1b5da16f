"""Where the doctrine's own figures do not close in this circuit, and what closes them."""

from __future__ import annotations

import math
from dataclasses import replace

from roundown.errors import NoSolution
from roundown.findings import Finding, Level
from roundown.motion.position_error import calibrated
from roundown.motion.solve import find_root
from roundown.quantities import (
    ACCELERATION,
    ANGLE,
    CLIMB_RATE,
    DEGREE,
    DISTANCE,
    FOOT,
    HEIGHT_OVER_SEA,
    LENGTH,
    MASS,
    POUND,
    SPEED_MARGIN,
    TIME,
    YARD,
    Band,
    Kind,
    write,
)
from roundown.recovery.circuit import NoCircuit, abeam_needed, break_abeam, solve_circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult

SLACK = 0.05 * DEGREE  # half of what is shown of a bank
LEAST_DOWNWIND = 3.0  # s, from wings level to the turn-in; own rule, no source
MOST_LET_DOWN = 1000.0 * FOOT / 60.0  # m/s, steepest let-down a remedy names at these heights; own rule, no source
ROOM = 20.0  # m: what is added to a break place that just closes


def no_circuit_findings(none: NoCircuit, facts: CircuitFacts) -> list[Finding]:
    """The stop that says why there is no circuit, with the break place that would close it where that is known."""
    value, limit, remedy = none.reason, "the final turn needs a downwind leg before it", f"{none.remedy}."
    if none.short_by > 0.0:
        ahead = facts.break_ahead + none.short_by + ROOM
        value = f"{none.reason}, by {write(none.short_by, DISTANCE)}"
        before = write(facts.break_ahead, DISTANCE)
        remedy = f"Break {write(ahead, DISTANCE)} ahead of the {facts.datum} instead of {before}."
    return [Finding("no-circuit", Level.STOP, "circuit", value, limit, remedy)]


def circuit_findings(result: CircuitResult, facts: CircuitFacts) -> list[Finding]:
    """Findings of a solved circuit."""
    return [
        *_stall(result, facts),
        *_power(result),
        *_wheels(result),
        *_slowing(result, facts),
        *_heights(result, facts),
        *_downwind(result, facts),
        *_bank(result, facts),
        *_abeam(result, facts),
    ]


def _outside(value: float, band: Band, slack: float) -> float | None:
    """The end of a band a value lies beyond, or None."""
    if value < band.low - slack:
        return band.low
    return band.high if value > band.high + slack else None


def _span(band: Band, kind: Kind) -> str:
    low, high = write(band.low, kind), write(band.high, kind)
    return low if low == high else f"{low.rsplit(' ', 1)[0]} to {high}"


def _break_bank_for(abeam: float, facts: CircuitFacts) -> float | None:
    """Bank of the break that leaves the aeroplane that far abeam [rad]; None where none does."""

    def miss(break_bank: float) -> float:
        return break_abeam(replace(facts, break_bank=break_bank)) - abeam

    try:
        return find_root(miss, 12.0 * DEGREE, 55.0 * DEGREE, "the break bank", steps=4, tolerance=1e-4)
    except NoSolution:
        return None


def _bank(result: CircuitResult, facts: CircuitFacts) -> list[Finding]:
    bank = result.final_bank
    steep = bank > facts.greatest_bank + SLACK
    end = facts.greatest_bank if steep else _outside(bank, facts.expected_bank, SLACK)
    if end is None:
        return []
    remedy = _bank_remedy(min(end, facts.expected_bank.high), facts)
    limit = f"the doctrine allows {write(end, ANGLE)}" if steep else f"expected is {_span(facts.expected_bank, ANGLE)}"
    value = f"the final turn needs {write(bank, ANGLE)} of bank from {write(result.abeam, DISTANCE)} abeam"
    return [Finding("final-bank", Level.STOP if steep else Level.CAUTION, "circuit.final_bank", value, limit, remedy)]


def _bank_remedy(target: float, facts: CircuitFacts) -> str:
    """The break bank that brings the final bank to a target, and the distance abeam into its own band if it can."""
    needed, band = abeam_needed(target, facts), facts.expected_abeam
    inside = min(max(needed, band.low), band.high)
    for abeam in (inside, needed):
        wanted = _break_bank_for(abeam, facts)
        if wanted is None:
            continue
        # a steeper break needs a steeper final: rounded to the side that lies inside the band
        wanted = _rounded(wanted, 0.1 * DEGREE, up=target <= facts.expected_bank.low)
        cured = solve_circuit(replace(facts, break_bank=wanted))
        if isinstance(cured, NoCircuit):
            continue
        most = min(facts.expected_bank.high, facts.greatest_bank)
        if _outside(cured.final_bank, Band(min(facts.expected_bank.low, most), target, most), SLACK) is None:
            return (
                f"Break with {write(wanted, ANGLE)} of bank: from {write(abs(cured.turn_in_port), DISTANCE)} abeam the "
                f"final turn needs {write(cured.final_bank, ANGLE)}."
            )
    return "Break with another bank, or change the speeds."


def _abeam(result: CircuitResult, facts: CircuitFacts) -> list[Finding]:
    end = _outside(result.abeam, facts.expected_abeam, 0.5 * YARD)
    if end is None:
        return []

    bank = _break_bank_for(end, facts)
    remedy = "Change the speeds or the upwind offset."
    if bank is not None:
        # less bank is further out: rounded to the side that lies inside the band, to a whole degree where that will do
        up = end == facts.expected_abeam.high
        whole = _rounded(bank, DEGREE, up=up)
        abeam = break_abeam(replace(facts, break_bank=whole))
        if abeam not in facts.expected_abeam:
            whole = _rounded(bank, 0.1 * DEGREE, up=up)
            abeam = break_abeam(replace(facts, break_bank=whole))
        remedy = f"Break with {write(whole, ANGLE)} of bank to be about {write(abeam, DISTANCE)} abeam."
    limit = f"expected is {_span(facts.expected_abeam, DISTANCE)}"
    value = f"the break leaves the downwind leg {write(result.abeam, DISTANCE)} abeam"
    return [Finding("abeam", Level.CAUTION, "circuit.abeam", value, limit, remedy)]


def _rounded(value: float, step: float, *, up: bool) -> float:
    """A value brought to a whole number of steps, up or down."""
    steps = value / step
    return step * (math.ceil(steps - 1e-6) if up else math.floor(steps + 1e-6))


def _heights(result: CircuitResult, facts: CircuitFacts) -> list[Finding]:
    found = []
    drop = result.descent_to_ramp
    over_ramp = f"{write(facts.ramp_over_sea, HEIGHT_OVER_SEA, decimals=1)} over the sea at this ramp"
    end = _outside(result.final_slope, facts.expected_slope, SLACK)
    if end is not None:
        ninety = facts.ramp_over_sea + math.sin(end) * result.final_run
        ninety = _rounded(ninety, FOOT, up=end == facts.expected_slope.low)
        slope = _span(facts.expected_slope, ANGLE)
        climbs = drop < 0.0
        value = (
            f"{write(facts.ninety_height, HEIGHT_OVER_SEA, decimals=1)} over the sea at the ninety and {over_ramp} "
            + (
                f"mean a climb of {write(-drop, LENGTH, decimals=1)}"
                if climbs
                else f"leave {write(drop, LENGTH, decimals=1)} to lose"
            )
            + f", {write(abs(result.final_slope), ANGLE)}"
        )
        remedy = f"Be at {write(ninety, HEIGHT_OVER_SEA)} over the sea at the ninety for this deck."
        level = Level.STOP if climbs else Level.CAUTION
        found.append(Finding("heights", level, "circuit.final_slope", value, f"expected is {slope}", remedy))
    return found


def _downwind(result: CircuitResult, facts: CircuitFacts) -> list[Finding]:
    """The downwind leg: long enough to look round on, and to let down on."""
    had, closing = result.rollout_to_turn_in, result.closing_downwind
    turn_in, highest = result.gates["turn-in"].height, facts.downwind_band.high
    high = turn_in > highest + 0.5 * FOOT
    to_lose = max(facts.initial_height - highest, 0.0)
    wanted = max(LEAST_DOWNWIND, to_lose / facts.let_down if high else 0.0)
    if had >= wanted:
        return []
    ahead = _rounded(facts.break_ahead + (wanted - had) * closing, 10.0 * YARD, up=True)
    further = f"break {write(ahead, DISTANCE)} ahead of the {facts.datum}"
    found = []
    if high:
        rate = _rounded(to_lose / max(had, 1e-3), 10.0 * FOOT / 60.0, up=True)
        faster = f"let down at {write(rate, CLIMB_RATE)}, or " if rate <= MOST_LET_DOWN else ""
        remedy = f"{faster}{further}."
        found.append(
            Finding(
                "let-down", Level.CAUTION, "circuit.gates.turn-in.height",
                f"still at {write(turn_in, HEIGHT_OVER_SEA)} over the sea at the turn-in",
                f"the downwind leg is flown at {write(highest, HEIGHT_OVER_SEA)} or lower",
                remedy[0].upper() + remedy[1:],
            )
        )  # fmt: skip
    if had < LEAST_DOWNWIND:
        found.append(
            Finding(
                "downwind-short", Level.CAUTION, "circuit.rollout_to_turn_in",
                f"{write(had, TIME)} from wings level to the turn-in",
                f"{write(LEAST_DOWNWIND, TIME)} is wanted to look round in (own rule)",
                f"{further[0].upper()}{further[1:]}.",
            )
        )  # fmt: skip
    return found


def _wheels(result: CircuitResult) -> list[Finding]:
    found = []
    for name, key, after in (
        ("wheels", "wheels_down_after", result.wheels_down_after),
        ("flap", "flap_down_after", result.flap_down_after),
    ):
        by_turn_in = result.break_to_rollout + result.rollout_to_turn_in
        if after is not None and after <= by_turn_in:
            continue
        late = after is not None and after <= result.break_to_ramp
        when = "not down at the ramp" if not late else f"down only {write(after or 0.0, TIME)} after the break"
        found.append(
            Finding(
                f"{name}-late", Level.CAUTION if late else Level.STOP, f"circuit.{key}", f"{name} {when}",
                f"the turn-in comes {write(by_turn_in, TIME)} after the break",
                "Come up the ship slower, so that they may be lowered sooner, or break further ahead.",
            )
        )  # fmt: skip
    return found


def _slowing(result: CircuitResult, facts: CircuitFacts) -> list[Finding]:
    found = []
    had = write(result.slowing_had, ACCELERATION) if result.slowing_had > 0.0 else "none"
    weak = result.slowing_had < facts.slowing - 1e-3
    if result.slowed_after is None:
        found.append(
            Finding(
                "cannot-slow", Level.STOP, "circuit.slowed_after", "not slowed to the downwind speed by the turn-in",
                f"of slowing, throttle shut, {had} is to be had at the least",
                "Come up the ship slower, or break further ahead.",
            )
        )  # fmt: skip
    elif result.slowed_after > result.break_to_rollout:
        found.append(
            Finding(
                "slow-late", Level.CAUTION, "circuit.slowed_after",
                f"slowed only {write(result.slowed_after, TIME)} after the break",
                f"the break takes {write(result.break_to_rollout, TIME)}",
                "Come up the ship slower." if weak else f"Slow harder: {had} is to be had at the least.",
            )
        )  # fmt: skip
    if weak and result.slowed_after is not None:
        found.append(
            Finding(
                "slowing-weak", Level.NOTE, "circuit.slowing_had",
                f"of slowing, throttle shut, {had} is to be had at the least",
                f"the doctrine slows at {write(facts.slowing, ACCELERATION)}",
                "The figures count with what is to be had; the circle is a little wider for it.",
            )
        )  # fmt: skip
    if result.slowing_spare < 0.0:
        found.append(
            Finding(
                "cannot-slow-final", Level.STOP, "circuit.slowing_spare",
                f"the final turn asks for {write(-result.slowing_spare, ACCELERATION)} more slowing than there is",
                "throttle shut, gear and flap down", "Be slower on the downwind leg, or let down less in the turn.",
            )
        )  # fmt: skip
    return found


def _power(result: CircuitResult) -> list[Finding]:
    if result.power_spare >= 0.0:
        return []
    return [
        Finding(
            "power-short", Level.STOP, "circuit.power_spare",
            f"the final turn asks for {write(-result.power_spare, ACCELERATION)} more than full power gives",
            "full power, gear and flap down", "Come aboard lighter, or turn wider.",
        )
    ]  # fmt: skip


def _stall(result: CircuitResult, facts: CircuitFacts) -> list[Finding]:
    found = []
    turns = (
        ("break", "in the break", result.stall_margin_break, result.stall_in_break),
        ("final", "in the final turn", result.stall_margin_final, result.stall_in_final),
    )
    for name, where, margin, stall in sorted(turns, key=lambda turn: turn[2]):
        if margin < facts.least_margin:
            # the stall goes with the root of the weight, as a speed free of position error
            error = facts.aeroplane.position_error
            wanted = calibrated(stall + margin - facts.least_margin, error)
            mass = facts.aeroplane.mass * (wanted / calibrated(stall, error)) ** 2
            lighter = write(_rounded(mass, 10.0 * POUND, up=False), MASS)
            found.append(
                Finding(
                    id=f"stall-margin-{name}",
                    level=Level.STOP if margin < 0.0 else Level.CAUTION,
                    key=f"circuit.stall_margin_{name}",
                    value=f"{write(abs(margin), SPEED_MARGIN)} {'below' if margin < 0.0 else 'over'} the stall {where}",
                    limit=f"the doctrine keeps {write(facts.least_margin, SPEED_MARGIN)}",
                    remedy=f"Come aboard at {lighter} or less, or turn with less bank.",
                )
            )
    return found
