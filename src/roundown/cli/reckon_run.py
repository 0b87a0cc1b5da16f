"""`roundown reckon run`: one deck run from a spot, and what comes after the bow."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from roundown.cli.reckon import Json, limits, number, say
from roundown.errors import RoundownError
from roundown.launch.facts import RunFacts
from roundown.quantities import FOOT, KNOT, LENGTH, MASS, POUND, RATIO, WIND_OVER_DECK, plain, write


def run(
    *,
    type: Annotated[str, Parameter(help="A type of the catalog, or of the plan.")],  # noqa: A002 - the option's trade name
    over_deck: Annotated[float, number("Wind over the deck from dead ahead, kt.", WIND_OVER_DECK)],
    spot_run: Annotated[float, number("From the wheels on the spot to the bow, ft.", LENGTH)],
    weight: Annotated[float | None, number("At take-off, lb; otherwise full tanks and stores.", MASS)] = None,
    flap: Annotated[float | None, number("Part of full flap, 0 to 1; otherwise the type's own.", RATIO)] = None,
    ship: Annotated[str, Parameter(help="A ship of the catalog, or of the plan, for her deck's height.")] = "corbel",
    plan: Annotated[Path | None, Parameter(help="A plan or catalog file with types of your own.")] = None,
    as_json: Json = False,
) -> int:
    """The deck run in standard air, full power: does it fly off, and how low does it come past the bow."""
    from roundown.catalog.load import find_entry
    from roundown.catalog.types import Entry
    from roundown.cli.type import catalog_with
    from roundown.environment.air import SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE
    from roundown.launch.deck_run import deck_run
    from roundown.launch.needs import least_wind
    from roundown.launch.of_type import full_weight, launch_aeroplane, why_not

    limits({"--over-deck": (over_deck, 0, 60), "--spot-run": (spot_run, 10, 1200)})
    if weight is not None:
        limits({"--weight": (weight, 500, 60_000)})
    if flap is not None:
        limits({"--flap": (flap, 0, 1)})
    catalog = catalog_with(plan)
    entries = []
    for option, table, name in (("--type", "types", type), ("--ship", "ships", ship)):
        found = find_entry(catalog, table, name)
        if not isinstance(found, Entry):
            raise RoundownError(f"{option} = {name}: {found[0]}. {found[1]}.")
        entries.append(found)
    most = full_weight(entries[0].values) if not why_not(entries[0].values) else math.inf
    if weight is not None and weight * POUND > most * (1.0 + 1e-9):
        full = write(most, MASS)
        raise RoundownError(f"--weight = {weight:,.0f} lb: {type} weighs {full} with full tanks and stores. Give less.")
    facts = RunFacts(
        aeroplane=launch_aeroplane(entries[0].values, None if weight is None else weight * POUND, flap),
        temperature=SEA_LEVEL_TEMPERATURE,
        pressure=SEA_LEVEL_PRESSURE,
        deck_height=entries[1].values["deck_height"].value,
        wind_ahead=over_deck * KNOT,
        wind_across=0.0,
        ship_speed=over_deck * KNOT,
        run=spot_run * FOOT,
    )
    made, needed = deck_run(facts), least_wind(facts)
    lowest = None if made.bow_airspeed is None else _lowest(facts, made.bow_airspeed)
    answer = {
        "run_ft": None if made.distance is None else plain(made.distance, LENGTH),
        "time_s": made.time,
        "airspeed_at_lift_off_kt": made.lift_off_speed / KNOT,
        "margin_ft": None if made.length_margin is None else plain(made.length_margin, LENGTH),
        "lowest_height_ft": None if lowest is None else plain(lowest, LENGTH),
        "least_over_deck_kt": None if needed.value is None else needed.value / KNOT,
    }
    return say(answer, as_json, _words(answer, needed.reason))


def _lowest(facts: RunFacts, airspeed: float) -> float:
    """Lowest height of the wheels over the sea past the bow [m]. airspeed : true, at the bow [m/s]."""
    from roundown.launch.past_bow import past_bow

    return past_bow(facts, airspeed).lowest_height


def _words(answer: dict[str, float | None], reason: str) -> str:
    """The answer as sentences."""
    length, left, lowest = answer["run_ft"], answer["margin_ft"], answer["lowest_height_ft"]
    speed, least = answer["airspeed_at_lift_off_kt"], answer["least_over_deck_kt"]
    if length is None or left is None:
        first = f"It never comes to its lift-off speed of {speed:.1f} kt indicated"
    else:
        more = f"{left:.0f} ft in hand" if left >= 0.0 else f"{-left:.0f} ft more than there are"
        first = f"Run {length:.0f} ft in {answer['time_s']:.1f} s to {speed:.1f} kt indicated, {more}"
    if lowest is None:
        bow = "it does not reach the bow"
    elif lowest <= 0.0:
        bow = "past the bow it touches the sea"
    else:
        bow = f"past the bow the wheels come down to {lowest:.0f} ft over the sea"
    wind = reason if least is None or least == 0.0 else f"the least over the deck is {least:.1f} kt"
    return f"{first}; {bow}; {wind}."
