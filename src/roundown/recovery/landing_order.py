"""Who lands first? Flights that wait over the ship, in the order in which they come aboard.

*Method:* one total order. A wounded pilot and a damaged aeroplane leave their flight and go alone, first or last as the
doctrine has it; one whose hook will not lower or who brings a hung store home may foul the deck for those behind, and
goes alone after all others, the hook last of all since it ends in the barrier (own rule, no source; no published rule
was found). One without a radio stays with his
flight, whose leader brings him in. Among each of these the flight of the aeroplane with least fuel goes first, or the
flights go as they were launched; ties go by the launch. Within a flight the order is that of the launch.

Fuel is compared as the time it lasts in the hold where every flow is known, else as weight. An aeroplane whose fuel is
not known does not put its flight forward.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

HURT = frozenset({"wounded", "damaged"})
HOOK = "hook"
FOULS = frozenset({HOOK, "hung stores"})


class By(StrEnum):
    """What the order goes by."""

    FUEL = "fuel"
    LAUNCH = "launch"


class HurtLand(StrEnum):
    """When a wounded man or a damaged aeroplane lands."""

    FIRST = "first"
    LAST = "last"


@dataclass(frozen=True)
class Returning:
    """One aeroplane that is coming home.

    key : its own; group : the division or flight it flies in, for people
    fuel : on reaching the hold [kg]; hold_flow, circuit_flow : burned [kg/s]; None where not known
    trouble : "no radio", "hook", "hung stores", "wounded", "damaged", or "" none
    """

    key: str
    group: str
    fuel: float | None = None
    hold_flow: float | None = None
    circuit_flow: float | None = None
    trouble: str = ""


@dataclass(frozen=True)
class HoldingFlight:
    """Aeroplanes that hold together. name : for people, its own; trouble : of one who goes alone, else ""."""

    name: str
    aeroplanes: tuple[Returning, ...]
    trouble: str = ""


def holding_flights(returning: Sequence[Returning], most: int) -> tuple[HoldingFlight, ...]:
    """Who holds with whom, by the first of each launched.

    returning : in launch order; most : aeroplanes in a flight, a larger group holds in parts
    Those who go alone are flights of one. Raises ValueError for less than one in a flight, or a key that stands twice.
    """
    if most < 1:
        raise ValueError("a flight is one aeroplane or more")
    if len({each.key for each in returning}) < len(returning):
        raise ValueError("an aeroplane comes home once")
    together: dict[str, list[Returning]] = {}
    alone = []
    for each in returning:
        if each.trouble in HURT | FOULS:
            alone.append(HoldingFlight(f"{each.group} alone {each.key}", (each,), each.trouble))
        else:
            together.setdefault(each.group, []).append(each)
    flights = list(alone)
    for group, members in together.items():
        parts = [tuple(members[i : i + most]) for i in range(0, len(members), most)]
        for i, part in enumerate(parts):
            flights.append(HoldingFlight(group if len(parts) == 1 else f"{group} part {i + 1}", part))
    place = {each.key: i for i, each in enumerate(returning)}
    return tuple(sorted(flights, key=lambda flight: place[flight.aeroplanes[0].key]))


def landing_order(returning: Sequence[Returning], most: int, by: By, hurt: HurtLand) -> tuple[HoldingFlight, ...]:
    """The flights in the order in which they land; the first holds lowest.

    returning : in launch order; most : aeroplanes in a flight; by : least fuel or the launch
    Raises ValueError as `holding_flights` does.
    """
    flights = holding_flights(returning, most)
    place = {flight.name: i for i, flight in enumerate(flights)}
    in_time = all(each.hold_flow is not None for each in returning if each.fuel is not None)

    def rank(flight: HoldingFlight) -> tuple[int, float, int]:
        least = _least(flight.aeroplanes, in_time=in_time) if by is By.FUEL else 0.0
        return _turn(flight.trouble, hurt), least, place[flight.name]

    return tuple(sorted(flights, key=rank))


def _turn(trouble: str, hurt: HurtLand) -> int:
    if trouble in FOULS:
        return 4 if trouble == HOOK else 3
    if trouble in HURT:
        return 0 if hurt is HurtLand.FIRST else 2
    return 1


def _least(aeroplanes: Iterable[Returning], *, in_time: bool) -> float:
    """The least fuel of those known, as time in the hold [s] or weight [kg]; infinite where none is known."""
    known = ((each.fuel, each.hold_flow) for each in aeroplanes if each.fuel is not None)
    return min((fuel / flow if in_time and flow is not None else fuel for fuel, flow in known), default=math.inf)
