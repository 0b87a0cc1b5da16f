"""What is wrong with a run: too short, thin, wind out of limits; and what mends it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.findings import Finding, Level
from roundown.launch.clearance import Clearance
from roundown.launch.deck_run import Run
from roundown.launch.facts import RunFacts
from roundown.launch.needs import deck_left, heaviest, least_wind
from roundown.quantities import (
    FOOT,
    INDICATED_SPEED,
    KNOT,
    LENGTH,
    MASS,
    POUND,
    SPEED_MARGIN,
    WIND_OVER_DECK,
    Band,
    write,
)


@dataclass(frozen=True)
class RunLimits:
    """What is wanted of a run; SI.

    in_hand : deck ahead of the wheels at lift-off [m]; wind : over the deck, from ahead [m/s]
    across : most wind across the deck, either side [m/s]; tip : least room beside a wingtip [m]
    """

    in_hand: float
    wind: Band
    across: float
    tip: float


COMMON = RunLimits(
    in_hand=50.0 * FOOT, wind=Band(25.0 * KNOT, 32.5 * KNOT, 40.0 * KNOT), across=8.0 * KNOT, tip=5.0 * FOOT
)
"""Common practice, no source: 30 to 35 kt over the deck; the rest own rules."""


@dataclass(frozen=True)
class Room:
    """What a remedy may use: the least the type weighs at all [kg], and the deck free behind the spot [m]."""

    least_mass: float
    aft: float = 0.0


def run_findings(run: Run, facts: RunFacts, limits: RunLimits, room: Room, key: str = "launch") -> list[Finding]:
    """Findings of a run of those facts. key : stem of the figures they are about."""
    return [*length_findings(run, facts, limits, room, key), *launch_wind_findings(facts, limits, key)]


def clearance_findings(clearance: Clearance | None, limits: RunLimits, key: str = "launch") -> list[Finding]:
    """Findings of the wingtips along the run; stop where one strikes."""
    if clearance is None or clearance.least >= limits.tip:
        return []
    strikes = clearance.least <= 0.0
    room = write(abs(clearance.least), LENGTH, decimals=1)
    value = f"a wingtip strikes the {clearance.past}" if strikes else f"a wingtip passes the {clearance.past} by {room}"
    over = write(limits.tip - clearance.least, LENGTH, decimals=1)
    return [
        Finding(
            "wingtip", Level.STOP if strikes else Level.CAUTION, f"{key}.clearance.least", value,
            f"{write(limits.tip, LENGTH, decimals=1)} is wanted",
            f"Spot it {over} further from the {clearance.past}, or hold the swing sooner.",
        )
    ]  # fmt: skip


def length_findings(run: Run, facts: RunFacts, limits: RunLimits, room: Room, key: str = "launch") -> list[Finding]:
    """Findings of the run's length alone; arguments as of run_findings."""
    left = f"the spot leaves {write(facts.run, LENGTH)}"
    if not run.flies_off:
        remedy = _remedy(facts, limits, room)
        return [Finding("run-short", Level.STOP, f"{key}.distance", _short(run), left, remedy)]
    if run.length_margin is None or run.length_margin >= limits.in_hand:
        return []
    value = f"{write(run.length_margin, LENGTH)} of deck are left at lift-off"
    limit = f"{write(limits.in_hand, LENGTH)} are wanted"
    return [Finding("run-thin", Level.CAUTION, f"{key}.length_margin", value, limit, _remedy(facts, limits, room))]


def _short(run: Run) -> str:
    """What the run comes to where it does not fly off."""
    if run.bow_speed is None or run.speed_margin is None:
        return "it does not gain speed enough to reach the bow"
    slow = f"{write(-run.speed_margin, SPEED_MARGIN)} below lift-off speed"
    at_bow = f"it passes the bow at {write(run.bow_speed, INDICATED_SPEED)}, {slow}"
    if run.distance is None:
        return f"{at_bow}, and never reaches it"
    return f"it needs {write(run.distance, LENGTH)} and {at_bow}"


def _remedy(facts: RunFacts, limits: RunLimits, room: Room) -> str:
    """What mends it with the wanted deck in hand, each rounded to the side that closes it."""
    ways = []
    wind = least_wind(facts, limits.in_hand)
    if wind.value is not None:
        whole = math.ceil(wind.value / KNOT - 1e-6) * KNOT
        if whole <= limits.wind.high:
            ways.append(f"have {write(whole, WIND_OVER_DECK, decimals=0)} over the deck")
    if room.least_mass < facts.aeroplane.mass:
        mass = heaviest(facts, room.least_mass, facts.aeroplane.mass, limits.in_hand)
        if mass.value is not None:
            whole = math.floor(mass.value / (10.0 * POUND)) * 10.0 * POUND
            ways.append(f"load it to {write(whole, MASS)} at most")
    further = math.ceil(-deck_left(facts, limits.in_hand) / FOOT) * FOOT
    if 0.0 < further <= room.aft:
        ways.append(f"spot it {write(further, LENGTH)} further aft")
    if not ways:
        return "Take less, or use the catapult."
    words = ways[0] if len(ways) == 1 else f"{', '.join(ways[:-1])}, or {ways[-1]}"
    return f"{words[0].upper()}{words[1:]}."


def launch_wind_findings(facts: RunFacts, limits: RunLimits, key: str = "launch") -> list[Finding]:
    """Findings of the wind over the deck alone."""
    found = []
    if facts.wind_ahead not in limits.wind:
        low, high = write(limits.wind.low, WIND_OVER_DECK), write(limits.wind.high, WIND_OVER_DECK)
        weak = facts.wind_ahead < limits.wind.low
        found.append(
            Finding(
                "wind-outside", Level.CAUTION, f"{key}.wind_ahead",
                f"{write(facts.wind_ahead, WIND_OVER_DECK)} over the deck", f"{low} to {high} are wanted to launch",
                "Steam faster into the wind." if weak else "Steam slower, while she steers.",
            )
        )  # fmt: skip
    if abs(facts.wind_across) > limits.across:
        side = "starboard" if facts.wind_across > 0.0 else "port"
        found.append(
            Finding(
                "crosswind", Level.CAUTION, f"{key}.wind_across",
                f"{write(abs(facts.wind_across), WIND_OVER_DECK)} across the deck from {side}",
                f"{write(limits.across, WIND_OVER_DECK)} are allowed", "Bring the wind nearer the bow.",
            )
        )  # fmt: skip
    return found
