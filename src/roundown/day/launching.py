"""The launch of a day: for every aeroplane of every event the run its spot leaves it, and what happens past the bow."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from roundown.day.deck_load import DeckLoad, deck_loads, event_key, part_of, sequence_facts, spotted
from roundown.day.facts import deck_wind_of
from roundown.day.launch_findings import launch_remarks, sequence_remarks
from roundown.day.memory import Memory
from roundown.day.seat_launch import Seated, seat_launch
from roundown.errors import NoSolution
from roundown.figures import key_of
from roundown.findings import Finding, Level
from roundown.launch.pitch_cycle import PitchCycle, worst_of_cycle
from roundown.launch.result import DeckSpot, EventLaunch
from roundown.launch.sequence import LaunchSequence, SequenceFacts, launch_sequence
from roundown.plan.facts import Day, FlyingEvent
from roundown.schedule.event_times import EventTimes
from roundown.ship.flight import LaunchFlight, follow_flight
from roundown.solution import Unsolved


@dataclass(frozen=True, eq=False)
class Launched:
    """The day's launch.

    launches : by "carrier.type", then by event; flights : to launch, by carrier; seated : every seat with its facts
    """

    launches: Mapping[str, Mapping[str, EventLaunch | Unsolved]]
    flights: Mapping[str, LaunchFlight]
    spots: tuple[DeckSpot, ...]
    seated: tuple[Seated, ...]
    findings: tuple[Finding, ...]


def launch_the_day(day: Day, flight: LaunchFlight, times: Mapping[str, EventTimes], memory: Memory) -> Launched:
    """The launch of every event.

    flight : the guide's, to launch; times : of the events, by key; memory : runs solved before
    """
    launches: dict[str, dict[str, EventLaunch | Unsolved]] = {}
    flights: dict[str, LaunchFlight] = {}
    spots: list[DeckSpot] = []
    seats: list[Seated] = []
    findings: list[Finding] = []
    for load in deck_loads(day, times):
        hers = part_of(day, load.seats[0][1])
        flights.setdefault(load.carrier, _flight(day, hers, flight))
        sequences = {
            event_key(event): sequence_of_event(day, event, load.carrier, times[event_key(event)])
            for event in dict.fromkeys(event for event, _ in load.seats)
        }
        findings += sequence_remarks(day, load, sequences)
        try:
            stood = spotted(day, load, memory)
            numbers = {key: number for number, key in enumerate(stood.spotting.places, 1)}
            seated = [
                seat_launch(
                    day, event, seat, numbers.get(key_of(seat.side)), stood, flights[load.carrier],
                    sequences[event_key(event)][1].offs[key_of(seat.side)], memory,
                )
                for event, seat in load.seats
            ]  # fmt: skip
        except NoSolution as error:
            for event, seat in load.seats:
                launches.setdefault(part_of(day, seat).part, {})[event_key(event)] = Unsolved(error.sought)
            findings.append(_not_worked_out(day, load, error.sought))
            continue
        spots.append(stood)
        seats += seated
        for part, events in _by_event(stood, seated, sequences, memory).items():
            launches.setdefault(part, {}).update(events)
    findings += launch_remarks(day, spots, seats, memory)
    return Launched(launches, flights, tuple(spots), tuple(seats), tuple(findings))


def _not_worked_out(day: Day, load: DeckLoad, reason: str) -> Finding:
    """A deck load whose launch cannot be solved."""
    names = " and ".join(dict.fromkeys(event.name for event, _ in load.seats))
    return Finding(
        "launch-not-worked-out", Level.NOTE, f"launches.{load.events[0]}.sequence.first_off",
        f"{names}: whether they fly off the deck of {day.carrier_called(load.carrier)} is not worked out", reason,
        "Give the type those keys under [types.NAME.launch], or have them from test flights: roundown type fit.",
    )  # fmt: skip


def sequence_of_event(
    day: Day, event: FlyingEvent, carrier: str, times: EventTimes
) -> tuple[SequenceFacts, LaunchSequence]:
    """The launch of an event from a carrier by the clock, with its facts. The event has a launch."""
    interval = "doctrine.launch.interval_dark" if times.dark else "doctrine.launch.interval"
    facts = sequence_facts(day, event, carrier, times.launch or 0.0, interval)
    return facts, launch_sequence(facts)


def _flight(day: Day, hers: Day, flight: LaunchFlight) -> LaunchFlight:
    """What a carrier has on the guide's flight course to launch."""
    if hers.ship == day.ship:
        return flight
    wanted, off_bow = hers.number("doctrine.wind.launch_over_deck"), hers.number("doctrine.wind.off_bow")
    found = follow_flight(deck_wind_of(hers), flight.course, flight.speed, wanted, off_bow, day.ship_called)
    return LaunchFlight(**vars(found))


def _by_event(
    stood: DeckSpot, seated: list[Seated], sequences: Mapping[str, tuple[SequenceFacts, LaunchSequence]], memory: Memory
) -> dict[str, dict[str, EventLaunch]]:
    """The seats of a deck load by carrier and type, and by event."""
    found: dict[tuple[str, str], list[Seated]] = {}
    for each in seated:
        found.setdefault((each.day.part, event_key(each.event)), []).append(each)
    made: dict[str, dict[str, EventLaunch]] = {}
    for (part, event), rows in found.items():
        running = [row for row in rows if row.launch.run is not None]
        closest = min(running, key=_in_hand) if running else None
        made.setdefault(part, {})[event] = EventLaunch(
            seats={row.key: row.launch for row in rows},
            sequence=sequences[event][1],
            first_run=stood.spotting.first_run,
            least_run=stood.spotting.least_run,
            closest="" if closest is None else closest.key,
            cycle=None if closest is None else _cycle(closest, memory),
        )
    return made


def _in_hand(row: Seated) -> float:
    run = row.launch.run
    return -math.inf if run is None or run.length_margin is None else run.length_margin


def _cycle(row: Seated, memory: Memory) -> PitchCycle | None:
    """The run over a cycle of the deck's pitch, where she pitches."""
    pitch = row.day.givens.get("ship.deck.pitch")
    if pitch is None or pitch.value == 0.0:
        return None
    cycle = (row.facts, pitch.value, row.day.number("ship.deck.pitch_period"))
    return memory.recall("pitch", cycle, lambda: worst_of_cycle(*cycle))
