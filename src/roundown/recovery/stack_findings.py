"""Where the stack does not close: deck not ready, late home, slow down, shut or dark before the last, short of fuel.

A remedy that names an order has been tried; one that names a time or a rate closes the finding, as the tests hold.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from roundown.findings import Finding, Level
from roundown.quantities import CLIMB_RATE, CLOCK_TIME, FOOT, HEIGHT_OVER_SEA, LENGTH, MASS, POUND, TIME, write
from roundown.recovery.feed import NoFeed
from roundown.recovery.landing_order import By, HurtLand
from roundown.recovery.stack import Stack, StackedAeroplane, StackFacts, solve_stack

MINUTE = 60.0  # s, to the whole of which a remedy names a time of recovery
LEAST_OVER = 500.0 * FOOT  # m, of the lowest block over the initial; own rule, no source
MOST_LET_DOWN = 2000.0 * FOOT / 60.0  # m/s, fastest let-down in the stack that a remedy names; own rule, no source
RATE = 50.0 * FOOT / 60.0  # m/s, in steps of which it names one
SLACK = 1.0  # s
_ORDERS: tuple[tuple[dict[str, Any], str], ...] = (
    ({"by": By.FUEL}, "Land those with least fuel first"),
    ({"hurt": HurtLand.FIRST}, "Land the wounded and the damaged first"),
    ({"by": By.FUEL, "hurt": HurtLand.FIRST}, "Land the wounded and the damaged first, then those with least fuel"),
)


def no_feed_findings(none: NoFeed, key: str = "recovery") -> list[Finding]:
    """The stop that says why there is no way down from the stack. key : stem of the recovery's figures."""
    limit = "every flight comes down to the initial"
    return [Finding("no-way-down", Level.STOP, f"{key}.feed", none.reason, limit, f"{none.remedy}.")]


def stack_findings(stack: Stack, facts: StackFacts, key: str = "recovery") -> list[Finding]:
    """Findings of a solved stack. key : stem of the recovery's figures, as "recoveries.NAME"."""
    return [
        *_deck(stack, facts, key),
        *_home(stack, facts, key),
        *_fuel(stack, facts, key),
        *_shut(stack, key),
        *_dark(stack, facts, key),
        *_slow(stack, facts, key),
        *_low(facts, key),
    ]


def _clock(time: float) -> str:
    return write(time, CLOCK_TIME)


def _deck(stack: Stack, facts: StackFacts, key: str) -> list[Finding]:
    in_hand, earliest = stack.deck_in_hand, stack.earliest_recovery
    if in_hand is None or earliest is None or stack.deck_ready is None or in_hand >= 0.0:
        return []
    begin = MINUTE * math.ceil(earliest / MINUTE)
    fewer = math.ceil(-in_hand / facts.respot - 1e-9) if facts.respot > 0.0 else facts.staying + 1
    leave = f", or leave {fewer} fewer on deck" if fewer <= facts.staying else ""
    earlier = f", launch {write(float(math.ceil(-in_hand)), TIME, decimals=0)} earlier{leave}"
    if facts.busy_until is not None and facts.busy_until >= stack.deck_ready - SLACK:
        earlier = ", or bring the recovery before it home earlier"
    return [
        Finding(
            "prep-charlie-late", Level.STOP, f"{key}.earliest_prep_charlie",
            f"the deck is ready at {_clock(stack.deck_ready)}",
            f"the first is over the ramp at {_clock(stack.deck_ready + in_hand)}",
            f"Have the first at the initial at {_clock(begin)} or later{earlier}.",
        )
    ]  # fmt: skip


def _home(stack: Stack, facts: StackFacts, key: str) -> list[Finding]:
    if facts.at_hold is None or facts.at_hold <= stack.first_charlie:
        return []
    begin = MINUTE * math.ceil((facts.at_hold + stack.feed.time) / MINUTE)
    return [
        Finding(
            "late-home", Level.STOP, f"{key}.first_charlie",
            f"the first Charlie is at {_clock(stack.first_charlie)}",
            f"the flights reach the hold at {_clock(facts.at_hold)}",
            f"Have the first at the initial at {_clock(begin)} or later.",
        )
    ]  # fmt: skip


def _short(stack: Stack) -> list[tuple[str, StackedAeroplane, float]]:
    """Those under their reserve, with what they lack [kg], worst first."""
    found = [
        (name, each, each.reserve - each.fuel_at_ramp)
        for name, each in stack.aeroplanes.items()
        if each.fuel_at_ramp is not None and each.reserve is not None and each.fuel_at_ramp < each.reserve
    ]
    return sorted(found, key=lambda row: -row[2])


def _fuel(stack: Stack, facts: StackFacts, key: str) -> list[Finding]:
    short = _short(stack)
    if not short:
        return []
    name, worst, lack = short[0]
    assert worst.fuel_at_ramp is not None
    assert worst.reserve is not None
    dry = worst.fuel_at_ramp < 0.0
    has = f"would want {write(-worst.fuel_at_ramp, MASS)} more to" if dry else f"has {write(worst.fuel_at_ramp, MASS)} "
    others = f"; {len(short) - 1} more are short" if len(short) > 2 else "; one more is short" if len(short) > 1 else ""
    return [
        Finding(
            "short-of-fuel", Level.STOP if dry else Level.CAUTION, f"{key}.aeroplanes.{name}.fuel_at_ramp",
            f"{name} {has.strip()} {'reach' if dry else 'left over'} the ramp at {_clock(worst.over_ramp)}{others}",
            f"{write(worst.reserve, MASS)} is to be kept",
            _fuel_remedy(stack, facts, name, lack),
        )
    ]  # fmt: skip


def _fuel_remedy(stack: Stack, facts: StackFacts, name: str, lack: float) -> str:
    """By another order; else by an earlier recovery, where the deck and the flights are ready; else by more fuel."""
    for change, words in _ORDERS:
        again = solve_stack(replace(facts, **change), stack.ways)
        if isinstance(again, Stack) and not _short(again):
            return f"{words}."
    if facts.at_hold is not None:
        over = [
            each.latest_charlie - stack.flights[each.flight].charlie
            for each in stack.aeroplanes.values()
            if each.latest_charlie is not None
        ]
        begin = MINUTE * math.floor((facts.recovery + min(over)) / MINUTE)
        ready = -math.inf if stack.earliest_recovery is None else stack.earliest_recovery
        if begin >= max(ready, facts.at_hold + stack.feed.time):
            return f"Have the first at the initial at {_clock(begin)}."
    return f"Have {name} reach the hold with {write(POUND * math.ceil(lack / POUND), MASS)} more."


def _shut(stack: Stack, key: str) -> list[Finding]:
    if stack.open_in_hand is None or stack.open_until is None or stack.open_in_hand >= -SLACK:
        return []
    late = sum(each.over_ramp > stack.open_until for each in stack.aeroplanes.values())
    return [
        Finding(
            "deck-shut", Level.STOP, f"{key}.open_until",
            f"the ship leaves the flight course at {_clock(stack.open_until)}",
            f"the last of {len(stack.aeroplanes)} is over the ramp at {_clock(stack.last_over_ramp)}, {late} too late",
            f"Hold the flight course until {_clock(MINUTE * math.ceil(stack.last_over_ramp / MINUTE))}.",
        )
    ]  # fmt: skip


def _dark(stack: Stack, facts: StackFacts, key: str) -> list[Finding]:
    if facts.dark_at is None or stack.last_over_ramp <= facts.dark_at:
        return []
    late = sum(each.over_ramp > facts.dark_at for each in stack.aeroplanes.values())
    begin = MINUTE * math.floor((facts.recovery - (stack.last_over_ramp - facts.dark_at)) / MINUTE)
    remedy = f"Have the first at the initial at {_clock(begin)} or earlier."
    if stack.earliest_recovery is not None and begin < stack.earliest_recovery:
        remedy = f"{remedy[:-1]}, for which the deck must be ready {_clock(begin + facts.initial_to_ramp)}."
    return [
        Finding(
            "dark-recovery", Level.CAUTION, f"{key}.last_over_ramp",
            f"the last is over the ramp at {_clock(stack.last_over_ramp)}, {late} in the dark",
            f"it is dark from {_clock(facts.dark_at)}", remedy,
        )
    ]  # fmt: skip


def _slow(stack: Stack, facts: StackFacts, key: str) -> list[Finding]:
    """Flights too small for the stack to feed the deck at its interval."""
    up = {name: flight for name, flight in stack.flights.items() if flight.held_up > SLACK}
    if not up:
        return []
    name, worst = max(up.items(), key=lambda item: item[1].held_up)
    lost = sum(flight.held_up for flight in up.values())
    wanted = stack.step - worst.held_up
    rate = RATE * math.ceil(facts.block / wanted / RATE - 1e-9) if wanted > 0.0 else math.inf
    remedy = f"Count on the last over the ramp at {_clock(stack.last_over_ramp)}."
    if rate <= MOST_LET_DOWN:
        remedy = f"Let down in the stack at {write(rate, CLIMB_RATE)}. Or: {remedy[0].lower()}{remedy[1:]}"
    return [
        Finding(
            "stack-slow", Level.NOTE, f"{key}.flights.{name}.held_up",
            f"{worst.name} comes down to the lowest block {write(worst.held_up, TIME, decimals=0)} late",
            f"the interval is {write(facts.interval, TIME, decimals=0)}, and {write(lost, TIME, decimals=0)} is lost "
            "in all",
            remedy,
        )
    ]  # fmt: skip


def _low(facts: StackFacts, key: str) -> list[Finding]:
    over = facts.lowest - facts.feed.circuit.initial_height
    if over >= LEAST_OVER:
        return []
    wanted = 100.0 * FOOT * math.ceil((facts.feed.circuit.initial_height + LEAST_OVER) / (100.0 * FOOT) - 1e-9)
    return [
        Finding(
            "stack-over-circuit", Level.CAUTION, f"{key}.feed.height",
            f"the lowest block is {write(over, LENGTH)} over the initial",
            f"flights at the initial pass under the stack, wanted is {write(LEAST_OVER, LENGTH)} (own rule)",
            f"Put the lowest block at {write(wanted, HEIGHT_OVER_SEA)}.",
        )
    ]  # fmt: skip
