"""What is wrong with a run: too short, thin, wind out of limits; and what mends it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from roundown.findings import Finding, Level
from roundown.launch.clearance import Clearance
from roundown.launch.deck_run import Run
from roundown.launch.facts import RunFacts
from roundown.launch.needs import deck_left, heaviest, least_flap, least_wind
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
    """What a remedy may use.

    least_mass : the type weighs at all [kg]; aft : deck free behind the spot [m]
    most_wind : the ship can have over the deck [m/s]; full_power : shaft power there is [W], 0 where nothing more is
    catapult : whether one is fitted; pinned : whether anyone of the deck load is pinned
    """

    least_mass: float
    aft: float = 0.0
    most_wind: float = math.inf
    full_power: float = 0.0
    catapult: bool = True
    pinned: bool = False


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
            f"Move the launch line {over} away from the {clearance.past}, or hold the swing sooner.",
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
    ways = [*_by_wind(facts, limits, room), *_by_weight(facts, limits, room), *_by_settings(facts, limits, room)]
    further = math.ceil(-deck_left(facts, limits.in_hand) / FOOT) * FOOT
    if 0.0 < further <= room.aft:
        ways.append(f"spot it {write(further, LENGTH)} further aft")
    if room.pinned:
        ways.append("free those that are pinned")
    if not ways:
        return "Take less, or use the catapult." if room.catapult else "Take less: no one of wind, load and flap does."
    words = ways[0] if len(ways) == 1 else f"{', '.join(ways[:-1])}, or {ways[-1]}"
    return f"{words[0].upper()}{words[1:]}."


def _by_wind(facts: RunFacts, limits: RunLimits, room: Room) -> list[str]:
    wind = least_wind(facts, limits.in_hand)
    whole = math.inf if wind.value is None else math.ceil(wind.value / KNOT - 1e-6) * KNOT
    if whole > min(limits.wind.high, room.most_wind):
        return []
    return [f"have {write(whole, WIND_OVER_DECK, decimals=0)} over the deck"]


def _by_weight(facts: RunFacts, limits: RunLimits, room: Room) -> list[str]:
    mass = facts.aeroplane.mass
    if room.least_mass >= mass:
        return []
    found = heaviest(facts, room.least_mass, mass, limits.in_hand)
    if found.value is None:
        return []
    whole = math.floor(found.value / (10.0 * POUND)) * 10.0 * POUND
    return [f"load it to {write(whole, MASS)} at most ({write(mass - whole, MASS)} less)"]


def _by_settings(facts: RunFacts, limits: RunLimits, room: Room) -> list[str]:
    craft, ways = facts.aeroplane, []
    flap = least_flap(facts, limits.in_hand)
    if flap.value is not None:
        whole = math.ceil(100.0 * flap.value - 1e-6) / 100.0
        if deck_left(replace(facts, aeroplane=replace(craft, flap=whole)), limits.in_hand) >= 0.0:
            ways.append(f"set {100.0 * whole:.0f} % of full flap")
    if room.full_power > craft.shaft_power * (1.0 + 1e-9):
        full = replace(facts, aeroplane=replace(craft, shaft_power=room.full_power))
        if deck_left(full, limits.in_hand) >= 0.0:
            ways.append("use full power")
    return ways


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
