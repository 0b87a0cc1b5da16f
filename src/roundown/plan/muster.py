"""Who flies what when not everyone turns up.

*Method:* own rule, common practice, no source. As many seats are flown as people turned up, those of the roster's
front, so that divisions and sections fill from the first on. Whoever has such a seat keeps it. Seats left empty among
them are filled by those who sat behind: the leaders' seats first, each with the one who leads most, then with the more
skilled, then with the earlier in the roster.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass

from roundown.plan.facts import Seat

_LEADS = {"squadron": 0, "division": 1, "section": 2, "": 3}
_SKILL = {"experienced": 0, "trained": 1, "novice": 2}


@dataclass(frozen=True)
class Seated:
    """seats : flown, in roster order; moved : side number each person left who flies another seat, by name."""

    seats: tuple[Seat, ...]
    moved: dict[str, str]


def reseat(roster: Sequence[Seat], present: Sequence[bool]) -> Seated:
    """Seat those who turned up.

    roster : seats in order, each with the person whose it is; present : whether that person turned up
    """
    flown = sum(present)
    movers = sorted(
        (i for i, here in enumerate(present) if here and i >= flown),
        key=lambda i: (_LEADS[roster[i].leader], _SKILL[roster[i].skill], i),
    )
    empty = sorted((i for i in range(flown) if not present[i]), key=lambda i: (_LEADS[roster[i].leader], i))
    seats = list(roster[:flown])
    moved: dict[str, str] = {}
    for seat, mover in zip(empty, movers, strict=True):
        seats[seat] = dataclasses.replace(roster[seat], name=roster[mover].name, skill=roster[mover].skill)
        moved[roster[mover].name] = roster[mover].side
    return Seated(tuple(seats), moved)
