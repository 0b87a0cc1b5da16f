"""`roundown launch`: every deck load of a plan, one take-off looked at closely, and a better spot by search."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from cyclopts import Parameter

from roundown import CAUTION
from roundown.errors import RoundownError

if TYPE_CHECKING:
    from roundown.day.launching import Launched
    from roundown.day.seat_launch import Seated
    from roundown.figures import Figure
    from roundown.launch.result import DeckSpot
    from roundown.launch.spot import Spotting
    from roundown.plan.facts import Day

HEADINGS = {
    "": "take-off", "loaded": "load and settings", "settings": "on the brakes", "spot": "on deck",
    "run": "the run", "shot": "by catapult", "past_bow": "past the bow",
    "past_bow.after.after_10_s": "ten seconds past the bow", "past_bow.after.after_20_s": "twenty seconds past it",
    "past_bow.after.after_30_s": "thirty seconds past it", "clearing": "the clearing turn",
    "clearance": "wingtips along the run", "abort": "to give it up", "take_off": "the time of it",
    "would_do": "what would do, with the deck in hand that the doctrine wants",
    "changes.weight_up_10_percent": "a tenth more weight", "changes.wind_down_5_kt": "five knots less wind",
    "changes.half_the_flap": "half the flap", "changes.power_down_10_percent": "a tenth less power",
    "cycle": "on a pitching deck", "engine_failure": "if the engine fails past the bow",
    "scatter": "if nothing is quite as planned",
}  # fmt: skip
NO_LIMIT = ("tail_rise_pressure", "brake_pressure")  # none: full power does not come to it
RUNS, PLAIN_RUNS = 10_000, 1_000  # of the scatter, compiled and not


def launch(
    plan: Path,
    *,
    event: Annotated[str | None, Parameter(help="Only this event, by its name.")] = None,
    seat: Annotated[str | None, Parameter(help="Look closely at one take-off, by its side number.")] = None,
    improve: Annotated[
        float | None,
        Parameter(help="Look for a better spot so long, in seconds or thereabouts; needs the extra [spot]."),
    ] = None,
    output: Annotated[
        Path | None, Parameter(name=["--output", "-o"], help="With --improve: write the plan with that spot pinned.")
    ] = None,
    as_json: Annotated[bool, Parameter(name="--json", help="Answer in JSON.", negative="")] = False,
) -> int:
    """Say how each event leaves the deck: where each stands, the run that leaves it, the run it needs.

    Ends with 0 when all fly off, 1 when a finding of the launch stops it, 2 when the plan cannot be read.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    if seat is not None:
        from roundown.motion import jit

        compiled = not jit.too_late() and jit.enable()
    from roundown.day.deck_load import event_key
    from roundown.day.launching import launch_the_day
    from roundown.day.memory import Memory
    from roundown.day.solve import solve
    from roundown.findings import Level
    from roundown.plan.read import read_plan

    day = read_plan(plan)
    memory = Memory()
    solution = solve(day, memory)
    if solution.launch_flight is None:
        raise RoundownError(
            f"{plan}: nothing is launched. Give an [[event]] a launch; docs/tutorial.md, Make a day of it, shows how."
        )
    launched = launch_the_day(day, solution.launch_flight, solution.events, memory)
    code = 1 if any(finding.level is Level.STOP for finding in launched.findings) else 0
    if event is not None and event not in {each.name for each in day.events}:
        raise RoundownError(f"--event = {event}: no such event. There are {', '.join(e.name for e in day.events)}.")
    if output is not None and improve is None:
        raise RoundownError("--output writes a better spot: give --improve too.")
    rows = [row for row in launched.seated if event in {None, row.event.name}]
    if seat is not None:
        rows = [row for row in rows if row.seat.side == seat]
        if not rows:
            sides = ", ".join(row.seat.side for row in launched.seated if event in {None, row.event.name})
            raise RoundownError(f"--seat = {seat}: no such seat is launched. There are {sides or 'none'}.")
        return _closely(rows[0], RUNS if compiled else PLAIN_RUNS, code, as_json=as_json)
    keys = {event_key(row.event) for row in rows}
    spots = [stood for stood in launched.spots if keys & set(stood.events)]
    if improve is not None:
        return _better(plan, day, spots, improve, output, as_json=as_json)
    if as_json:
        print(json.dumps({"decks": [_deck_data(stood, rows) for stood in spots]}, indent=1, ensure_ascii=False))
        return code
    for line in _lines(day, launched, spots, rows):
        print(line)
    return code


def _lines(day: Day, launched: Launched, spots: list[DeckSpot], rows: list[Seated]) -> Iterator[str]:
    """The decks as tables, then what is wrong."""
    from roundown.day.deck_load import event_key
    from roundown.quantities import WIND_OVER_DECK, write
    from roundown.solution import Unsolved

    for part, events in launched.launches.items():
        for name, made in events.items():
            if isinstance(made, Unsolved):
                yield f"{part}, {name}: not worked out: {made.reason}."
    for stood in spots:
        here = [row for row in rows if event_key(row.event) in stood.events and row.day.ship == stood.carrier]
        names = " and ".join(dict.fromkeys(row.event.name for row in here))
        over = write(launched.flights[stood.carrier].over_deck, WIND_OVER_DECK)
        yield f"{day.carrier_called(stood.carrier)}, {names}: {_on_deck(stood, here)}, {over} over the deck"
        yield "  no  side  name         off        weight      needs       left    in hand     at the bow  lowest"
        yield from map(_row, here)
        yield from _as_many_as_fit(stood, here)
        yield f"  {_forward(stood, here[0].day.number('doctrine.spot.respot'))}"
    keys = {event_key(row.event) for row in rows}
    for finding in launched.findings:
        about = finding.key.partition("launches.")[2].partition(".")[0]
        if not about or about in keys:
            yield f"  {finding}"
    yield "in hand: deck ahead of the wheels at lift-off, below nothing short by that; lowest: wheels over the sea."
    yield CAUTION


def _on_deck(stood: DeckSpot, here: list[Seated]) -> str:
    """How many stand on deck, and how many of them are told of."""
    count = len(stood.load)
    return f"{count} on deck" if len(here) == count else f"{len(here)} of the {count} on deck"


def _row(row: Seated) -> str:
    """One take-off in a line of the table."""
    from roundown.quantities import CLOCK_TIME, INDICATED_SPEED, LENGTH, MASS, write

    made, run, past = row.launch, row.launch.run, row.launch.past_bow
    cells, shown = ["no run" if made.spot is not None else "no place", "", ""], None
    if made.shot is not None:
        cells, shown = ["shot off", "", ""], made.shot.bow_speed
    elif run is not None and made.spot is not None:
        needs = "never" if run.distance is None else write(run.distance, LENGTH)
        left = "short" if run.length_margin is None else write(run.length_margin, LENGTH)
        cells, shown = [needs, write(made.spot.run_left, LENGTH), left], run.bow_speed
    low = "" if past is None else "the sea" if past.touches else write(past.lowest_height, LENGTH)
    first = (
        f"  {made.number or '':>2}  {row.seat.side:5.12} {row.seat.name:12.12} {write(made.take_off.off, CLOCK_TIME):9}"
    )
    rest = "".join(f" {cell:>10}" for cell in cells)
    speed = "" if shown is None else write(shown, INDICATED_SPEED)
    return f"{first}{write(made.loaded.weight, MASS):>10}{rest} {speed:>14}  {low:>7}"


def _as_many_as_fit(stood: DeckSpot, here: list[Seated]) -> Iterator[str]:
    """Where runs are short: how many from aft may stand so that the first of them has what the neediest needs."""
    from roundown.launch.spot import how_many
    from roundown.quantities import LENGTH, write

    runs = [row.launch.run for row in here if row.launch.run is not None]
    needs = [run.distance for run in runs if run.distance is not None]
    if not needs or all(run.flies_off for run in runs):
        return
    count = how_many(stood.load, stood.deck, max(needs), stood.rules)
    few = f"With {count} on deck the first off has" if count else "Not even one alone on deck has"
    yield f"  {few} the {write(max(needs), LENGTH)} that the neediest needs."


def _forward(stood: DeckSpot, respot: float) -> str:
    """How long it takes to park those that stand forward.

    respot : for each [s]
    """
    from roundown.launch.pack_forward import pack_forward
    from roundown.quantities import LENGTH, TIME, write

    packed = pack_forward(stood.load, stood.deck, 0.0, stood.rules, respot)
    room = "" if packed.aft_end is None else f"; {write(packed.aft_end, LENGTH)} of deck are then free aft of them"
    return f"Parked forward again, all take {write(packed.time, TIME, decimals=0)}{room}."


def _deck_data(stood: DeckSpot, rows: list[Seated]) -> dict[str, Any]:
    from roundown.day.deck_load import event_key
    from roundown.figures import figures_of

    seats = {
        row.seat.side: {
            "event": row.event.name,
            "number": row.launch.number,
            "figures": _plain({each.key: each for each in figures_of(row.launch)}),
        }
        for row in rows
        if event_key(row.event) in stood.events and row.day.ship == stood.carrier
    }
    return {
        "carrier": stood.carrier,
        "events": list(stood.events),
        "left_out": [stood.sides[name] for name in stood.spotting.left_out],
        "seats": seats,
    }


def _plain(figures: Mapping[str, Figure]) -> dict[str, Any]:
    from roundown.quantities import plain

    return {
        key: {
            "value": None if each.value is None else plain(each.value, each.how.kind, 6),
            "unit": each.how.kind.unit,
            "means": each.how.sentence,
        }
        for key, each in figures.items()
    }


def _closely(row: Seated, runs: int, code: int, *, as_json: bool) -> int:
    """One take-off."""
    from roundown.day.launch_study import study_launch
    from roundown.figures import figures_of

    study = study_launch(row, runs, lambda text: print(f"... {text}", file=sys.stderr, flush=True))
    figures = {each.key: each for each in figures_of(study)}
    if as_json:
        said = {"seat": row.seat.side, "event": row.event.name, "figures": _plain(figures)}
        print(json.dumps(said, indent=1, ensure_ascii=False))
        return code
    print(f"{row.called}, {row.event.name}, {row.day.word('type.label')}")
    print(_headline(row))
    head = ""
    for key, each in figures.items():
        under = key.removeprefix("launch.").rpartition(".")[0]
        if under != head:
            print(f" {HEADINGS.get(under, under.replace('_', ' ').replace('.', ', '))}")
            head = under
        text = "no limit" if each.value is None and key.endswith(NO_LIMIT) else each.text
        print(f"  {each.how.sentence:92} {text:>12}")
    for line in _by_angle(row):
        print(line)
    if study.would_do is not None:
        for name, reason in study.would_do.reasons.items():
            print(f" {name.replace('_', ' ')}: {reason}.")
    print(CAUTION)
    return code


def _by_angle(row: Seated) -> Iterator[str]:
    """How low it comes past the bow by how far the nose is raised: more lift helps up to the stall, and no further."""
    import numpy as np

    from roundown.launch.past_bow import lowest_by_angle
    from roundown.motion.equations.wing import stall_angle
    from roundown.quantities import DEGREE, HEIGHT_OVER_SEA, write

    made = row.launch
    airspeed = made.shot.bow_airspeed if made.shot else None if made.run is None else made.run.bow_airspeed
    if airspeed is None:
        return
    craft = row.facts.aeroplane
    beyond = np.arange(-6.0, 6.5, 2.0) * DEGREE
    angles = stall_angle(craft.flap, craft.wing) + beyond
    yield " past the bow, by the greatest angle of attack it is raised to"
    for off, height in zip(beyond.tolist(), lowest_by_angle(row.facts, airspeed, angles).tolist(), strict=True):
        degrees = round(off / DEGREE)
        where = f"{abs(degrees)} deg {'short of' if degrees < 0 else 'past'} the stall" if degrees else "at the stall"
        low = "the sea" if height <= 0.0 else write(height, HEIGHT_OVER_SEA)
        yield f"  {where:92} {low:>12}"


def _headline(row: Seated) -> str:
    """What it comes to, in a sentence or two."""
    from roundown.quantities import INDICATED_SPEED, LENGTH, SPEED_MARGIN, write

    made, run = row.launch, row.launch.run
    if made.shot is not None:
        margin = made.shot.speed_margin
        over = f"{write(abs(margin), SPEED_MARGIN)} {'over' if margin >= 0.0 else 'below'} lift-off speed"
        return f"Shot off, he passes the bow {over}."
    if run is None:
        return "He finds no place on deck to run from."
    if not run.flies_off or run.length_margin is None:
        return "He does not fly off in the run his spot leaves him: roundown check PLAN says what would do."
    said = f"He flies off with {write(run.length_margin, LENGTH)} of deck in hand."
    if made.abort is not None:
        speed, place = write(made.abort.airspeed, INDICATED_SPEED), write(made.abort.place, LENGTH)
        said += f" To stop on deck he gives up by {speed}, {place} from his place."
    return said


def _better(plan: Path, day: Day, spots: list[DeckSpot], work: float, output: Path | None, *, as_json: bool) -> int:
    """A better spot by search, written as pins where that is wanted."""
    from roundown.cli.reckon import limits
    from roundown.day.deck_load import event_key
    from roundown.launch.spot import worth
    from roundown.launch.spot_search import can_search, improved
    from roundown.quantities import FOOT, LENGTH, write

    limits({"--improve": (work, 0.1, 600)})
    if not can_search():
        raise RoundownError('A better spot needs the extra [spot]: python -m pip install "roundown[spot]".')
    data = []
    found = []
    for stood in spots:
        better = improved(
            stood.spotting, stood.load, stood.deck, stood.rules, work=work,
            progress=lambda text: print(f"... {text}", file=sys.stderr, flush=True),
        )  # fmt: skip
        if worth(better) > worth(stood.spotting):
            found.append((stood, better))
        data.append({
            "carrier": stood.carrier,
            "events": list(stood.events),
            "first_run_ft": None if better.first_run is None else better.first_run / FOOT,
            "before_ft": None if stood.spotting.first_run is None else stood.spotting.first_run / FOOT,
            "spots": {
                stood.sides[key]: {"ahead_ft": place.ahead / FOOT, "port_ft": place.port / FOOT}
                for key, place in better.places.items()
            },
        })  # fmt: skip
        if not as_json:
            runs = [write(each.first_run or 0.0, LENGTH) for each in (better, stood.spotting)]
            names = " and ".join(event.name for event in day.events if event_key(event) in stood.events)
            where = f"{day.carrier_called(stood.carrier)}, {names}"
            gained = f"the first off has a run of {runs[0]}, before {runs[1]}"
            print(f"{where}: {gained if found and found[-1][0] is stood else 'no better spot was found'}.")
    if as_json:
        print(json.dumps({"decks": data}, indent=1, ensure_ascii=False))
    if output is not None and not found:
        print("Nothing was written: no better spot was found.", file=sys.stderr)
    elif output is not None:
        _write_pinned(plan, day, found, output)
    return 0


def _write_pinned(plan: Path, day: Day, found: list[tuple[DeckSpot, Spotting]], output: Path) -> None:
    """The plan with every place of the better spots pinned; the file is a new one."""
    from roundown.day.deck_load import event_key
    from roundown.exports.files import write_file
    from roundown.plan.spots_text import spots_text

    if output.exists():
        raise RoundownError(f"{output} is there already. Nothing was written: name another file.")
    raw = plan.read_bytes().decode("utf-8-sig")
    for stood, better in found:
        for event in day.events:
            for seat in event.seats if event_key(event) in stood.events else ():
                place = next((better.places[key] for key, side in stood.sides.items() if side == seat.side), None)
                if place is not None:
                    raw = spots_text(raw, event.name, seat.side, (place.ahead, place.port))
    write_file(output, raw.encode())
    print(f"Written to {output}: the plan with those places pinned.", file=sys.stderr)
