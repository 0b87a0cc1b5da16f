"""Does one deck's whole day close: launch, clear, recover, spot aft again, launch?

*Method:* the deck's launches and recoveries in the order they begin, each against the one before. After a launch those
left are moved forward and wires and barriers come up (launch/sequence.py); only then may the first be over the ramp.
After a recovery all that are parked forward, those just back and those the last launch left, are moved aft one after
another, and then engines are warmed for the next launch. Common practice, no source; 20 to 30 minutes to spot a deck
aft are told from memory (PRO-96).

*Holds for:* one deck that launches and recovers in turn, nobody struck below meanwhile. When each recovery ends is a
given: as planned, or as late as one recovery in ten (recovery/rhythm.py).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from roundown.figures import figure
from roundown.quantities import CLOCK_TIME, COUNT, MINUTES

INPUTS = (
    "event.*", "doctrine.*", "circuit.*", "type.*", "ship.*", "weather.*", "place.*", "simulator.*", "company.*",
    "rhythm.*",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Off:
    """A launch; by the ship's clock [s].

    start_engines : when the spot must stand; first_off, last_off : take-offs; deck_clear : ready to come aboard
    staying : so many are left on deck and moved forward
    """

    start_engines: float
    first_off: float
    last_off: float
    deck_clear: float
    staying: int = 0


@dataclass(frozen=True, kw_only=True)
class Back:
    """A recovery; by the ship's clock [s]. first_ramp : first over the ramp; recovered : deck ready behind the last.

    count : so many come aboard
    """

    first_ramp: float
    recovered: float
    count: int


@dataclass(frozen=True, kw_only=True)
class Turn:
    """What one event asks of the deck; None where it does not launch, or does not come back, or it is not known."""

    off: Off | None = None
    back: Back | None = None


@dataclass(frozen=True, kw_only=True)
class DeckTurn:
    """One event's place in the deck's day. None where there is no such thing, or nothing before or after it."""

    ready_off: float | None = figure(
        CLOCK_TIME, "ready to launch: what came before is over, the deck spotted, engines warm",
        "end of the recovery before, a time for each moved aft, engines warmed; or the last off of the launch before",
        INPUTS,
    )  # fmt: skip
    margin_off: float | None = figure(
        MINUTES,
        "first take-off after the deck is ready for it; negative: before",
        "the one less the other",
        (".ready_off", *INPUTS),
    )
    deck_ready: float | None = figure(
        CLOCK_TIME, "deck clear to come aboard",
        "last off and clear of the bow, those left moved forward, wires and barriers up; or the recovery before over",
        INPUTS,
    )  # fmt: skip
    margin_aboard: float | None = figure(
        MINUTES,
        "first over the ramp after the deck is clear for it; negative: before",
        "the one less the other",
        (".deck_ready", *INPUTS),
    )
    recovered: float | None = figure(CLOCK_TIME, "deck ready behind the last aboard", "the recovery's own", INPUTS)
    forward: float | None = figure(
        COUNT, "how many are parked forward then", "those back, and those the last launch left", INPUTS
    )
    respot: float | None = figure(
        MINUTES, "to spot them aft", "a time for each, one after another", (".forward", *INPUTS)
    )
    spotted: float | None = figure(
        CLOCK_TIME, "deck spotted aft again", "end of the recovery and that time", (".recovered", ".respot", *INPUTS)
    )
    open_until: float | None = figure(
        CLOCK_TIME, "deck open until: the last must be out of the way by then",
        "engines started for the next launch, less the time to spot aft", (".respot", *INPUTS),
    )  # fmt: skip


_NOTHING = DeckTurn(
    ready_off=None, margin_off=None, deck_ready=None, margin_aboard=None, recovered=None, forward=None, respot=None,
    spotted=None, open_until=None,
)  # fmt: skip


@dataclass(frozen=True)
class Stretch:
    """A launch or a recovery of an event, and when it begins and ends to need the deck, by the ship's clock [s]."""

    event: str
    begins: float
    ends: float
    part: Off | Back


def deck_day(turns: Mapping[str, Turn], respot_each: float) -> dict[str, DeckTurn]:
    """The day of one deck, by event.

    turns : by event, in any order; respot_each : to move one aft [s]
    Raises ValueError where a launch or a recovery ends before it begins.
    """
    found = dict.fromkeys(turns, _NOTHING)
    order = stretches(turns)
    forward = 0  # so many are parked forward
    around = [None, *order, None]
    for before, now, after in zip(around, order, around[2:], strict=False):
        own = found[now.event]
        if isinstance(now.part, Off):
            ready = None if before is None else _ready_off(before, now.part, forward * respot_each)
            found[now.event] = replace(
                own,
                ready_off=ready,
                margin_off=None if ready is None else now.begins - ready,
            )
            forward = now.part.staying
        else:
            forward += now.part.count
            respot = forward * respot_each
            next_off = after.part if after is not None and isinstance(after.part, Off) else None
            found[now.event] = replace(
                own,
                deck_ready=None if before is None else before.ends,
                margin_aboard=None if before is None else now.begins - before.ends,
                recovered=now.ends,
                forward=float(forward),
                respot=respot,
                spotted=now.ends + respot,
                open_until=None if next_off is None else next_off.start_engines - respot,
            )
    return found


def stretches(turns: Mapping[str, Turn]) -> list[Stretch]:
    """Launches and recoveries in the order they begin.

    Raises ValueError where one ends before it begins.
    """
    found = []
    for name, turn in turns.items():
        if turn.off is not None:
            found.append(Stretch(name, turn.off.first_off, turn.off.deck_clear, turn.off))
        if turn.back is not None:
            found.append(Stretch(name, turn.back.first_ramp, turn.back.recovered, turn.back))
    if any(each.ends < each.begins for each in found):
        raise ValueError("a launch or a recovery ends before it begins")
    return sorted(found, key=lambda each: each.begins)


def _ready_off(before: Stretch, off: Off, respot: float) -> float:
    """When the deck is ready to launch [s]: behind a launch its last off, behind a recovery spotted aft and warm."""
    if isinstance(before.part, Off):
        return before.part.last_off
    return before.ends + respot + off.first_off - off.start_engines
