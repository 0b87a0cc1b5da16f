"""Where the deck's rhythm does not hold, or its day does not close, and what would close it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise

from roundown.findings import Finding, Level
from roundown.quantities import CLOCK_TIME, MASS, MINUTES, POUND, TIME, write
from roundown.recovery.cycle import RhythmFacts
from roundown.recovery.day_cycle import DeckTurn, Off, Stretch, Turn, deck_day, stretches
from roundown.recovery.rhythm import Rhythm

MOST_SHORT = 0.1  # of the recoveries with one below the reserve; own rule, no source
MOST_DRY = 0.01  # of the recoveries with one that runs dry; own rule, no source
MINUTE = 60.0
SLACK = 0.5  # s, half of what is shown of a clock time
_STEP = 10.0 * POUND


def rhythm_findings(rhythm: Rhythm, facts: RhythmFacts, key: str) -> list[Finding]:
    """Findings of an event's recovery. key : stem of its figures, as "rhythm.dawn"."""
    return [*_slow_deck(facts, key), *_full_deck(facts, key), *_fuel(rhythm, key)]


def _slow_deck(facts: RhythmFacts, key: str) -> list[Finding]:
    if facts.clear.aim <= facts.interval:
        return []
    kept = write(facts.kept, TIME)
    longer = (facts.kept - facts.interval) * (facts.room - 1)
    return [
        Finding(
            "deck-slower-than-interval", Level.CAUTION, f"{key}.interval",
            f"the deck is ready every {kept}", f"the doctrine lands one every {write(facts.interval, TIME)}",
            f"Land one every {kept}, {write(longer, TIME)} longer for {facts.room}, or clear the deck faster.",
        )
    ]  # fmt: skip


def _full_deck(facts: RhythmFacts, key: str) -> list[Finding]:
    over = len(facts.aeroplanes) - facts.room
    if over == 0:
        return []
    return [
        Finding(
            "deck-full", Level.STOP, f"{key}.aboard",
            f"{facts.room} of {len(facts.aeroplanes)} that come home find room forward of the landing area",
            "none lands with the landing area full",
            f"Strike {over} below before the last come, or send {over} to another deck.",
        )
    ]  # fmt: skip


def _fuel(rhythm: Rhythm, key: str) -> list[Finding]:
    if rhythm.short is None or rhythm.dry is None or (rhythm.short <= MOST_SHORT and rhythm.dry <= MOST_DRY):
        return []
    wanting = [-float(rhythm.over_reserve[int(MOST_SHORT * rhythm.over_reserve.size)])]
    wanting.append(-float(rhythm.fuels[int(MOST_DRY * rhythm.fuels.size)]))
    more = write(math.ceil(max(wanting) / _STEP + 1e-9) * _STEP, MASS)
    dry = rhythm.dry > MOST_DRY
    part = rhythm.dry if dry else rhythm.short
    return [
        Finding(
            "last-short-of-fuel", Level.STOP if dry else Level.CAUTION, f"{key}.{'dry' if dry else 'short'}",
            f"in {_in_hundred(part)} of 100 recoveries one {'runs dry' if dry else 'is below the reserve at the wire'}",
            f"no more than {_in_hundred(MOST_DRY if dry else MOST_SHORT)} of 100 may (own rule)",
            f"Have {more} more in each on coming home, or recover fewer at once.",
        )
    ]  # fmt: skip


def _in_hundred(part: float) -> str:
    return f"{100.0 * part:.0f}" if part >= 0.02 else f"{100.0 * part:.1f}"


def cycle_findings(
    turns: Mapping[str, Turn], respot_each: float, names: Mapping[str, str] | None = None, key: str = "cycle"
) -> list[Finding]:
    """Findings of one deck's day: each launch or recovery that begins before the deck is ready for it.

    turns, respot_each : as for deck_day; names : of the events as people read them, where not their keys
    key : stem of the figures
    """
    found, day = [], deck_day(turns, respot_each)
    said = {name: name for name in turns} | dict(names or {})
    for before, now in pairwise(stretches(turns)):
        own = day[now.event]
        launch = isinstance(now.part, Off)
        ready, margin = (own.ready_off, own.margin_off) if launch else (own.deck_ready, own.margin_aboard)
        if ready is None or margin is None or margin >= -SLACK:
            continue
        name, later = said[now.event], write(_minute_up(ready), CLOCK_TIME)
        asked = "its first take-off is" if launch else "the first is over the ramp"
        ways = [
            f"Launch {name} at {later} or later"
            if launch
            else f"Have the first of {name} over the ramp at {later} or later"
        ]
        sooner = _minute_up(-margin)
        if _room_before(before, day[before.event], sooner):
            do = "launch" if isinstance(before.part, Off) else "recover"
            ways.append(f"{do} {said[before.event]} {write(sooner, MINUTES, decimals=0)} earlier")
        found.append(
            Finding(
                "cycle-does-not-fit", Level.STOP, f"{key}.{now.event}.{'margin_off' if launch else 'margin_aboard'}",
                f"the deck is ready to {'launch' if launch else 'recover'} {name} at {write(ready, CLOCK_TIME)}",
                f"{asked} at {write(now.begins, CLOCK_TIME)}, {write(-margin, MINUTES, decimals=1)} too soon",
                f"{', or '.join(ways)}.",
            )
        )  # fmt: skip
    return found


def _room_before(before: Stretch, own: DeckTurn, sooner: float) -> bool:
    """Whether a launch or a recovery may be so much earlier [s] and still find its deck ready."""
    margin = own.margin_off if isinstance(before.part, Off) else own.margin_aboard
    return margin is None or margin >= sooner


def _minute_up(time: float) -> float:
    """A time brought to the next whole minute [s]."""
    return math.ceil(time / MINUTE - 1e-9) * MINUTE
