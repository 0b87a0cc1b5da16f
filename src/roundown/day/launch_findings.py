"""What is wrong with a launch, told once for all it is so for: the worst seat by name, the others by their numbers."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from functools import partial
from itertools import pairwise

from roundown.day.deck_load import DeckLoad, event_key, seats_from
from roundown.day.facts import deck_wind_of
from roundown.day.memory import Memory
from roundown.day.seat_launch import Seated
from roundown.figures import key_of
from roundown.findings import Finding, Level
from roundown.launch.bow_findings import bow_findings
from roundown.launch.catapult import shot_findings
from roundown.launch.deck_plan import ROUND_DOWN
from roundown.launch.deck_run import Run
from roundown.launch.findings import Room, RunLimits, clearance_findings, launch_wind_findings, length_findings
from roundown.launch.launch_order import need_findings, order_by_need
from roundown.launch.result import DeckSpot
from roundown.launch.sequence import LaunchSequence, SequenceFacts, sequence_findings
from roundown.launch.settings import settings_findings
from roundown.launch.spot import spot
from roundown.launch.spot_findings import spot_findings
from roundown.plan.facts import Day
from roundown.quantities import CLOCK_TIME, TIME, write

NAMED = 12  # seats that are named one by one
TRIED = "spot-order-tried"  # what stays short in the best order that is known
SOON = 0.5  # s, by which one may go sooner than the interval
ALIKE = 2  # decimals of a metre to which runs are alike


def launch_remarks(day: Day, spots: Sequence[DeckSpot], seated: Sequence[Seated], memory: Memory) -> list[Finding]:
    """Findings of every deck load and every take-off, alike ones once. memory : a remedy is searched for once."""
    found: list[Finding] = []
    tried: set[str] = set()
    for stood in spots:
        rows = [row for row in seated if row.day.ship == stood.carrier and event_key(row.event) in stood.events]
        for each in _of_spot(day, stood, rows):
            if each.id == TRIED:
                tried |= {row.key for row in rows}
            found.append(each)
    parts: dict[str, list[Seated]] = {}
    for row in seated:
        parts.setdefault(row.day.part, []).append(row)
    for rows in parts.values():
        found += _of_runs(day, rows, memory, tried)
        found += _of_bows(day, rows, memory)
        found += _of_settings(day, rows)
        found += _of_clearances(day, rows)
        found += _of_shots(day, rows)
    for row in {row.day.ship: row for row in reversed(seated)}.values():
        found += _of_wind(day, row)
    short = {each.key.rpartition(".seats.")[0] for each in found if each.id == "run-short"}
    return _once(each for each in found if each.id not in {TRIED, "spot-order-impossible"} or not short)


def _once(found: Iterable[Finding]) -> list[Finding]:
    """Those that say the same are told once."""
    return list({(each.id, each.value, each.limit, each.remedy): each for each in reversed([*found])}.values())[::-1]


def stem_of(day: Day, row: Seated) -> str:
    """Stem of a seat's figures among those of the day."""
    part = "" if row.day.part == day.part else f"parts.{row.day.part}."
    return f"{part}launches.{event_key(row.event)}.seats.{row.key}"


def limits_of(day: Day) -> RunLimits:
    """What the doctrine wants of a run."""
    return RunLimits(
        in_hand=day.number("doctrine.launch.in_hand"),
        wind=day.givens["doctrine.launch.wind_limits"].band,
        across=day.number("doctrine.launch.across"),
        tip=day.number("doctrine.launch.wingtip"),
    )


def sequence_remarks(
    day: Day,
    load: DeckLoad,
    sequences: Mapping[str, tuple[SequenceFacts, LaunchSequence]],
) -> list[Finding]:
    """Findings of the launches of a deck load as they follow one another. sequences : by event."""
    found: list[Finding] = []
    found += _overlaps(day, load, sequences)
    for event in dict.fromkeys(event for event, _ in load.seats):
        facts, sequence = sequences[event_key(event)]
        stem = f"launches.{event_key(event)}.sequence"
        found += [
            dataclasses.replace(each, value=f"{event.name}: {each.value}")
            for each in sequence_findings(sequence, facts, key=stem)
        ]
        wanted = [seat.side for seat in seats_from(day, event, load.carrier) if seat.side in event.catapult]
        if wanted and not facts.catapulted:
            found.append(
                Finding(
                    "no-catapult", Level.STOP, f"{stem}.interval",
                    f"{event.name}: {_named(wanted)} {'is' if len(wanted) == 1 else 'are'} to be shot off",
                    f"{day.carrier_called(load.carrier)} has no catapult; the run is solved instead",
                    "Take catapult out of the event, or give her one.",
                )
            )  # fmt: skip
    return found


def _overlaps(
    day: Day, load: DeckLoad, sequences: Mapping[str, tuple[SequenceFacts, LaunchSequence]]
) -> Iterator[Finding]:
    """Launches of one deck that begin before it can have the next one ready."""
    rows = sorted(
        ((sequences[event_key(event)][1].offs[key_of(seat.side)].off, event, seat) for event, seat in load.seats),
        key=lambda row: row[0],
    )
    told = set()
    for (before, event, first), (after, other, second) in pairwise(rows):
        interval = sequences[event_key(other)][1].interval
        pair = frozenset((event_key(event), event_key(other)))
        if event is other or pair in told or after - before >= interval - SOON:
            continue
        told.add(pair)
        early, late = sorted((event, other), key=lambda each: sequences[event_key(each)][1].first_off)
        clear = sequences[event_key(early)][1].last_off + interval
        gap = write(after - before, TIME, decimals=0)
        yield Finding(
            "launches-overlap", Level.STOP, f"launches.{event_key(late)}.sequence.first_off",
            f"{second.side} of {other.name} goes {gap} after {first.side} of {event.name}, off the deck of "
            f"{day.carrier_called(load.carrier)}",
            f"one goes every {write(interval, TIME)}",
            f"Launch {late.name} at {write(clear, CLOCK_TIME)} or later, or make one event of the two.",
        )  # fmt: skip


def _of_spot(day: Day, stood: DeckSpot, seated: Sequence[Seated]) -> Iterator[Finding]:
    """Those of the deck as a whole: their keys become those of the seats they are about."""
    stems = {row.key: stem_of(day, row) for row in seated}
    first = next(iter(stems.values()), "")
    needs = {
        row.key: math.inf if row.launch.run.distance is None else round(row.launch.run.distance, ALIKE)
        for row in seated
        if row.launch.run is not None
    }
    if not seated:
        return
    tip = limits_of(seated[0].day).tip
    found = spot_findings(stood.spotting, stood.load, stood.deck, stood.rules, tip=tip)
    if all(math.isfinite(need) for need in needs.values()):
        found += need_findings(stood.spotting, needs)
    carrier = f"on {day.carrier_called(stood.carrier)} " if day.parts else ""
    for each in found:
        side = each.key.removeprefix("spot.places.")
        key = f"{stems.get(side, first)}.spot.run_left"
        told = dataclasses.replace(each, key=key, value=f"{carrier}{each.value}")
        yield _with_order(told, stood, needs) if each.id == "spot-run-short" else told


def _with_order(finding: Finding, stood: DeckSpot, needs: Mapping[str, float]) -> Finding:
    """The order that closes it, tried on the deck; where it does not, none does that is known here."""
    named = [*order_by_need(needs), *(parked.key for parked in stood.load if parked.key not in needs)]
    parked = {each.key: each for each in stood.load}
    again = spot([parked[name] for name in named], stood.deck, stood.rules)
    closes = all(name in again.places and again.places[name].run_left >= need for name, need in needs.items())
    if not closes:
        here = [parked.key for parked in stood.load]
        return dataclasses.replace(finding, id="spot-order-impossible" if named == here else TRIED)
    sides = ", ".join(f'"{stood.sides[name]}"' for name in named)
    one = len(stood.events) == 1 and len(named) <= NAMED
    remedy = f"Put those that need least run in front{f': seats = [{sides}]' if one else ', and it closes'}."
    return dataclasses.replace(finding, remedy=remedy)


def _of_runs(day: Day, rows: Sequence[Seated], memory: Memory, tried: Container[str]) -> Iterator[Finding]:
    """Runs too short, then runs with too little in hand: the worst of each.

    tried : keys of those whose deck was spotted again with those in front that need least
    """
    limits = limits_of(rows[0].day)
    running = [(row, row.launch.run) for row in rows if row.launch.run is not None]
    short = [(row, run) for row, run in running if not run.flies_off]
    thin = [(row, run) for row, run in running if run.flies_off and (run.length_margin or 0.0) < limits.in_hand]
    for kind in (short, thin):
        if not kind:
            continue
        worst, run = min(kind, key=lambda pair: _margin(pair[1]))
        room = _room(day, worst, rows)
        about = (run.distance, worst.facts, limits, room)
        made = memory.recall("run findings", about, partial(length_findings, run, worst.facts, limits, room))
        for each in _told(day, made, worst, [row for row, _ in kind], "run"):
            also = kind is short and worst.key in tried
            limit = f"{each.limit}, and not enough with those in front that need least" if also else each.limit
            yield dataclasses.replace(each, limit=limit)


def _room(day: Day, row: Seated, rows: Sequence[Seated]) -> Room:
    """What a remedy for a seat may use. rows : of its carrier and type."""
    spot = row.launch.spot
    stands = spot is not None and spot.pinned
    natural = math.hypot(*deck_wind_of(row.day))
    return Room(
        least_mass=row.day.number("type.launch.empty_weight"),
        aft=spot.launch_ahead - ROUND_DOWN - row.day.number("type.launch.length")
        if spot is not None and stands
        else 0.0,
        most_wind=natural + min(each.number("ship.greatest_speed") for each in (day, *day.parts.values())),
        full_power=row.day.number("type.shaft_power"),
        catapult="ship.catapult.speed" in row.day.givens,
        pinned=any(each.launch.spot is not None and each.launch.spot.pinned for each in rows),
    )


def _margin(run: Run) -> tuple[float, float]:
    """Deck in hand, then speed: what is less is worse."""
    length = -math.inf if run.length_margin is None else run.length_margin
    return length, -math.inf if run.speed_margin is None else run.speed_margin


def _of_bows(day: Day, rows: Sequence[Seated], memory: Memory) -> Iterator[Finding]:
    """Past the bow: by each kind the one that comes lowest."""
    found: dict[str, list[Seated]] = {}
    made: dict[str, list[Finding]] = {}
    flying = [row for row in rows if row.launch.past_bow is not None]
    for row in sorted(flying, key=lambda row: row.launch.past_bow.lowest_height if row.launch.past_bow else 0.0):
        past, launch = row.launch.past_bow, row.launch
        airspeed = launch.shot.bow_airspeed if launch.shot else launch.run.bow_airspeed if launch.run else None
        if past is None or airspeed is None:
            continue
        kind = "sea" if past.touches else "none" if past.climb_after is None else "deep"
        if kind == "deep" and past.sink <= 0.5 * row.facts.deck_height:
            continue
        if kind not in found:
            tell = partial(bow_findings, past, row.facts, airspeed)
            made[kind] = memory.recall("bow findings", (row.facts, airspeed), tell)
        found.setdefault(kind, []).append(row)
    for kind, those in found.items():
        yield from _told(day, made[kind], those[0], those, "past_bow")


def _of_settings(day: Day, rows: Sequence[Seated]) -> Iterator[Finding]:
    """Power on the brakes, rudder and propeller of those that run: for the lightest, which braces least."""
    braked = [row for row in rows if row.settings is not None and row.launch.shot is None]
    worst = min(braked, key=lambda row: row.launch.loaded.weight, default=None)
    if worst is not None and worst.settings is not None:
        yield from _told(day, settings_findings(worst.settings), worst, braked, "settings")


def _of_clearances(day: Day, rows: Sequence[Seated]) -> Iterator[Finding]:
    limits = limits_of(rows[0].day)
    near = [row for row in rows if row.launch.clearance is not None and row.launch.clearance.least < limits.tip]
    if near:
        worst = min(near, key=lambda row: row.launch.clearance.least if row.launch.clearance else math.inf)
        yield from _told(day, clearance_findings(worst.launch.clearance, limits), worst, near, "")


def _of_shots(day: Day, rows: Sequence[Seated]) -> Iterator[Finding]:
    """Each kind of trouble with the catapult, the slowest by name."""
    found: dict[str, list[tuple[Seated, Finding]]] = {}
    thrown = [row for row in rows if row.launch.shot is not None]
    for row in sorted(thrown, key=lambda row: row.launch.shot.speed_margin if row.launch.shot else 0.0):
        if row.launch.shot is not None:
            heaviest = row.day.number("ship.catapult.weight") if "ship.catapult.weight" in row.day.givens else math.inf
            for each in shot_findings(row.launch.shot, row.facts, heaviest, ""):
                found.setdefault(each.id, []).append((row, each))
    for those in found.values():
        worst, finding = those[0]
        yield from _told(day, [finding], worst, [row for row, _ in those], "")


def _of_wind(day: Day, row: Seated) -> Iterator[Finding]:
    """The wind over one deck."""
    speed, slow = row.facts.ship_speed, 1e-3
    fastest = min(each.number("ship.greatest_speed") for each in (day, *day.parts.values()))
    for each in launch_wind_findings(row.facts, limits_of(row.day)):
        figure = "off_bow" if each.id == "crosswind" else "over_deck"
        prefix = "" if row.day.ship == day.ship else f"parts.{row.day.part}."
        carrier = "" if row.day.ship == day.ship else f"{row.day.ship_called}: "
        remedy = each.remedy
        if each.id == "wind-outside":
            weak = row.facts.wind_ahead < limits_of(row.day).wind.low
            if weak and speed >= fastest - slow:
                remedy = "She steams her fastest: wait for more wind, or take less."
            elif not weak and speed <= row.day.number("ship.least_speed") + slow:
                remedy = "She steams her slowest: the doctrine's limits stand in launch.wind_limits."
            else:
                remedy = f"Ask for {'more' if weak else 'less'}: launch_over_deck under [override.wind]."
        told = f"to launch {carrier}{each.value}"
        yield dataclasses.replace(each, key=f"{prefix}launch_flight.{figure}", value=told, remedy=remedy)


def _told(day: Day, found: Iterable[Finding], worst: Seated, rows: Sequence[Seated], under: str) -> Iterator[Finding]:
    """The findings of one seat as those of all it is so for. under : name of the result they are about."""
    others = [side for side in dict.fromkeys(row.seat.side for row in rows) if side != worst.seat.side]
    also = f" ({_named(others)} too)" if others else ""
    for each in found:
        last = each.key.partition(".")[2]
        key = ".".join(part for part in (stem_of(day, worst), under, last) if part)
        event = f", {worst.event.name}" if len({event_key(row.event) for row in rows}) > 1 else ""
        yield dataclasses.replace(each, key=key, value=f"{worst.called}{event}{also}: {each.value}")


def _named(sides: Sequence[str]) -> str:
    if len(sides) > NAMED:
        return f"{len(sides)} others"
    return sides[0] if len(sides) == 1 else f"{', '.join(sides[:-1])} and {sides[-1]}"
