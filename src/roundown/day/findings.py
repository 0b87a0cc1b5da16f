"""What the user should know about the day as a whole: wind over the deck, times, track, ships in company, people."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import combinations, pairwise

import numpy as np

from roundown.day.deck_load import event_key
from roundown.day.flying import Flown, leaves_course
from roundown.environment.light import CIVIL
from roundown.figures import key_of
from roundown.findings import Finding, Level
from roundown.motion.frames import ship_components, wrap
from roundown.plan.facts import Day, FlyingEvent
from roundown.quantities import (
    CLOCK_TIME,
    DEGREE,
    DISTANCE,
    KNOT,
    LONG_DISTANCE,
    NAUTICAL_MILE,
    OFF_BOW,
    SHIP_SPEED,
    TIME,
    WIND_OVER_DECK,
    write,
    write_position,
)
from roundown.recovery.result import CircuitResult
from roundown.schedule.event_times import EventTimes
from roundown.ship.company import Circle, Station, stands_in
from roundown.ship.flight import Flight
from roundown.ship.sea_room import leaves
from roundown.ship.wind_over_deck import Outcome
from roundown.solution import Unsolved

SHOWN_SPEED, SHOWN_ANGLE = 0.05 * KNOT, 0.05 * DEGREE  # half of what is shown
TOO_MUCH = 1.5  # of the wind wanted: above it a stop (own rule, no source)
FAR_ZONE = 2.0  # h, between the ship's clock and her sun before it is remarked on; own rule
NEARLY = 0.1 * NAUTICAL_MILE  # m, off the base track: nearer is on it
COMPANY = 1.0 * KNOT  # less wind than wanted over the deck of one who keeps company: a note up to it (own rule)
ENOUGH = (
    0.8  # of the wind wanted: below it a stop, from it a caution (own rule; PRO-06 has landings at 0.55, at a price)
)


def wind_findings(flight: Flight, day: Day, phase: str, *, both: bool = False) -> list[Finding]:
    """Whether the wind over the deck is as wanted.

    phase : "flight" to recover, "launch_flight" to launch; both : whether the launch is flown in the same wind
    """
    wanted = day.number("doctrine.wind.over_deck" if phase == "flight" else "doctrine.wind.launch_over_deck")
    turned = abs(wrap(flight.off_bow - day.number("doctrine.wind.off_bow")))
    if flight.attained or (abs(flight.short) < SHOWN_SPEED and turned < SHOWN_ANGLE):
        return []
    far_out = not ENOUGH * wanted <= flight.over_deck <= TOO_MUCH * wanted
    level = Level.STOP if far_out else Level.CAUTION
    if flight.outcome is Outcome.COMPANY and abs(flight.short) <= COMPANY:
        level = Level.NOTE
    had = f"{write(flight.over_deck, WIND_OVER_DECK)} over the deck, {write(flight.off_bow, OFF_BOW)} off the bow"
    want = (
        f"wanted are {write(wanted, WIND_OVER_DECK)}, {write(day.number('doctrine.wind.off_bow'), OFF_BOW)} off the bow"
    )
    name = "wind-over-deck" if phase == "flight" else "wind-over-deck-launch"
    had = had if phase == "flight" else f"to launch {had}"
    remedy = flight.explanation
    if flight.outcome is Outcome.WIND_STRONGER:
        keys = (
            ("over_deck", "launch_over_deck") if both else ("over_deck" if phase == "flight" else "launch_over_deck",)
        )
        lines = " and ".join(f'{key} = "{write(flight.over_deck, WIND_OVER_DECK)}"' for key in keys)
        remedy += f" To plan for it write {lines} under [override.wind]."
    return [Finding(name, level, f"{phase}.over_deck", had, want, remedy)]


def event_findings(day: Day, flown: Flown) -> list[Finding]:
    """Times out of order, people missing, one deck asked to launch and recover at once."""
    findings: list[Finding] = []
    for event in day.events:
        times = flown.events[event_key(event)]
        findings += _order(day, event, times)
        if not event.seats:
            findings.append(
                Finding(
                    "nobody-flies",
                    Level.STOP,
                    f"events.{event_key(event)}.launch",
                    f"{event.name}: nobody is there to fly",
                    f"the plan asks for {event.wanted}",
                    "Take the event out, or change the muster.",
                )
            )
        elif len(event.seats) < event.wanted:
            findings.append(
                Finding(
                    "short-of-aeroplanes",
                    Level.NOTE,
                    f"events.{event_key(event)}.launch",
                    f"{event.name}: {len(event.seats)} fly",
                    f"the plan asks for {event.wanted}",
                    "Go with fewer, or change the muster or the event.",
                )
            )
        findings += _lone_sections(event)
    return [*findings, *_twice_at_once(day, flown), *_in_the_dark(day, flown), *_zone(day)]


def _twice_at_once(day: Day, flown: Flown) -> list[Finding]:
    """People who are to fly in a second event before they are home from the first."""
    findings = []
    for event, other in combinations(day.events, 2):
        spans = [_span(flown.events[event_key(each)]) for each in (event, other)]
        if spans[0] is None or spans[1] is None or spans[0][0] > spans[1][1] or spans[1][0] > spans[0][1]:
            continue
        both = [seat for seat in event.seats if seat in other.seats]
        if both:
            who = ", ".join(f"{seat.side} {seat.name}".strip() for seat in both)
            findings.append(
                Finding(
                    "twice-at-once",
                    Level.STOP,
                    f"events.{event_key(other)}.launch",
                    f"{who}: in the air for {event.name} and for {other.name} at once",
                    "nobody flies two aeroplanes",
                    "Launch the second when the first is aboard, name others, or take one of the two out.",
                )
            )
    return findings


def _span(times: EventTimes) -> tuple[float, float] | None:
    """When an event's aeroplanes are away; without a launch or a recovery in the plan, from or until that one."""
    all_times = (times.launch, times.last_off, times.recovery, times.last_aboard)
    known = [time for time in all_times if time is not None]
    return (min(known), max(known)) if known else None


def _in_the_dark(day: Day, flown: Flown) -> list[Finding]:
    """Recoveries that end when the sun is more than 6 degrees down."""
    if isinstance(flown.timeline, Unsolved):
        return []
    findings = []
    dawn = flown.timeline.get("civil_dawn")
    for event in day.events:
        key = event_key(event)
        moment = flown.timeline.get(f"{key}_last_aboard") or flown.timeline.get(f"{key}_first_aboard")
        if moment is None or moment.sun_altitude >= CIVIL:
            continue
        remedy = "Come home earlier, or brief lights and a night circuit."
        if dawn is not None and dawn.time > moment.time:
            remedy = f"Come home after {write(dawn.time, CLOCK_TIME)}, or brief lights and a night circuit."
        findings.append(
            Finding(
                "recovery-in-the-dark",
                Level.CAUTION,
                f"events.{key}.recovery",
                f"{event.name}: the last is aboard at {write(moment.time, CLOCK_TIME)} in {moment.darkness.value}",
                "the sun is more than 6 degrees down",
                remedy,
            )
        )
    return findings


def _zone(day: Day) -> list[Finding]:
    """A ship's clock far from the sun's, which is more often a wrong sign than meant."""
    apart = (day.offset / 3600.0 - day.number("place.longitude") / (15.0 * DEGREE) + 12.0) % 24.0 - 12.0
    if abs(apart) <= FAR_ZONE:
        return []
    side = "ahead of" if apart > 0.0 else "behind"
    return [
        Finding(
            "zone-far-from-longitude",
            Level.NOTE,
            "light.sunrise",
            f"the ship's clock is {abs(apart):.1f} h {side} the sun at her longitude",
            f"clocks are mostly within {FAR_ZONE:g} h of it",
            "Look at the sign of place.zone: it is what the clock is ahead of universal time.",
        )
    ]


def _order(day: Day, event: FlyingEvent, times: EventTimes) -> list[Finding]:
    findings = []
    named = (
        ("launch", times.launch),
        ("last take-off", times.last_off),
        ("push", times.push),
        ("time on target", times.time_on_target),
        ("recovery", times.recovery),
    )
    known = [(name, time) for name, time in named if time is not None]
    for (before, first), (after, second) in pairwise(known):
        if second < first:
            findings.append(
                Finding(
                    "times-out-of-order",
                    Level.STOP,
                    f"events.{event_key(event)}.{'launch' if after == 'last take-off' else after.replace(' ', '_')}",
                    f"{event.name}: {after} at {write(second, CLOCK_TIME)}",
                    f"{before} is at {write(first, CLOCK_TIME)}",
                    "Move one of the two.",
                )
            )
    if known and known[0][1] < day.datum:
        findings.append(
            Finding(
                "before-datum",
                Level.STOP,
                f"events.{event_key(event)}.{'launch' if times.launch is not None else 'recovery'}",
                f"{event.name}: {known[0][0]} at {write(known[0][1], CLOCK_TIME)}",
                f"the plan begins at its datum time, {write(day.datum, CLOCK_TIME)}",
                "Set place.time earlier.",
            )
        )
    return findings


def _lone_sections(event: FlyingEvent) -> list[Finding]:
    """Sections of one aeroplane."""
    sections: dict[tuple[str, int, int], list[str]] = {}
    for seat in event.seats:
        sections.setdefault((seat.squadron, seat.division, seat.section), []).append(seat.side)
    return [
        Finding(
            "section-of-one",
            Level.NOTE,
            f"events.{event_key(event)}.launch",
            f"{event.name}: {sides[0]} is alone in section {section} of division {division}",
            "a section is two",
            "He flies as third of the section before him, or stays aboard.",
        )
        for (_, division, section), sides in sections.items()
        if len(sides) == 1 and len(event.seats) > 1
    ]


def track_findings(day: Day, flown: Flown) -> list[Finding]:
    """Turns that come too late, a base track that is not regained, water that is left."""
    if isinstance(flown.track, Unsolved):
        return [] if not day.events else [_unsettled(flown.track)]
    findings: list[Finding] = []
    for name, period in flown.track.periods.items():
        words = name.replace("_", " ")
        if period.late > 1.0:
            findings.append(
                Finding(
                    "turn-too-late",
                    Level.STOP,
                    f"track.periods.{name}.steady",
                    f"{words}: the ship is steady {write(period.late, TIME, decimals=0)} late, "
                    f"at {write(period.steady, CLOCK_TIME)}",
                    "she cannot turn before she is free to",
                    "Leave more time between the events, or set place.time earlier.",
                )
            )
        if period.regained is None and period.left_off is None and leaves_course(flown.track, name):
            findings.append(
                Finding(
                    "base-track-not-regained",
                    Level.CAUTION,
                    f"track.periods.{name}.off_at_end",
                    f"{words}: {write(period.off_at_end, LONG_DISTANCE)} off the base track when flying ends",
                    "at her speed for it she does not regain the base track",
                    "Raise ship.regain_speed above ship.base_speed, or lower the base speed.",
                )
            )
        if period.left_off is not None and period.left_off > NEARLY and leaves_course(flown.track, name):
            findings.append(
                Finding(
                    "base-track-not-regained",
                    Level.NOTE,
                    f"track.periods.{name}.left_off",
                    f"{words}: {write(period.left_off, LONG_DISTANCE)} off the base track at the next turn",
                    "the base track is not regained before it",
                    "Count with it, raise ship.regain_speed, or leave more time.",
                )
            )
    ends = [period.end for period in flown.track.periods.values()]
    left = leaves(flown.track, day.sea_room, day.datum, max(ends, default=day.datum) + 3600.0) if day.sea_room else None
    if left is not None:
        time, latitude, longitude = left
        findings.append(
            Finding(
                "sea-room",
                Level.STOP,
                "track",
                f"the ship leaves her sea room at {write(time, CLOCK_TIME)}, {write_position(latitude, longitude)}",
                "she must keep within the corners of [sea_room]",
                "Start further from its edge, change the base course, or fly for a shorter time.",
            )
        )
    return findings


def _unsettled(track: Unsolved) -> Finding:
    limit = "without her track the day has no times of turning and no light"
    return Finding(
        "no-track", Level.STOP, "track", track.reason, limit, "Give times by the clock, away from the poles."
    )


def company_findings(
    day: Day,
    flight: Flight,
    company: Mapping[str, Station],
    circuits: Mapping[str, CircuitResult | Unsolved],
) -> list[Finding]:
    """Ships that cannot keep up, and ships that stand in another's landing circle."""
    findings = [
        Finding(
            "cannot-keep-up",
            Level.CAUTION,
            f"stations.{key_of(ship.name)}.distance",
            f"{ship.label} makes {write(ship.greatest_speed, SHIP_SPEED)}",
            f"the flight course is run at {write(flight.speed, SHIP_SPEED)}",
            "She falls astern while flying; give her a station ahead, or leave her out.",
        )
        for ship in day.company
        if ship.greatest_speed is not None and ship.greatest_speed < flight.speed - SHOWN_SPEED
    ]
    labels = {key_of(ship.name): ship.called for ship in day.company} | {key_of(day.ship): day.ship_called}
    places = {key_of(day.ship): (0.0, 0.0)} | {name: (station.east, station.north) for name, station in company.items()}
    guards = {key_of(ship.name) for ship in day.company if ship.role == "plane guard"}
    homes = {day.part: day.ship} | {part: other.ship for part, other in day.parts.items()}
    for hers in sorted(set(homes.values())):
        carrier = key_of(hers)
        circle = _widest(circuit for part, circuit in circuits.items() if homes[part] == hers)
        if circle is None or carrier not in places:
            continue
        for name, (east, north) in places.items():
            if name in guards or name == carrier:
                continue
            off_east, off_north = east - places[carrier][0], north - places[carrier][1]
            if stands_in(circle, off_east, off_north, flight.course):
                far = write(float(np.hypot(off_east, off_north)), DISTANCE)
                findings.append(
                    Finding(
                        "no-room",
                        Level.CAUTION,
                        f"stations.{name if name in company else carrier}.distance",
                        f"{labels[name]} stands in the landing circle of {day.carrier_called(hers)}, {far} from her",
                        "no ship within 500 yd of the circle while flying",
                        "Move her station outside it.",
                    )
                )
    return findings


def _widest(circuits: Iterable[CircuitResult | Unsolved]) -> Circle | None:
    """How far the landing circles of one carrier reach."""
    found: list[Circle] = []
    for circuit in circuits:
        if isinstance(circuit, CircuitResult):
            path = circuit.path
            run = circuit.ship_speed * path.time
            course = np.full_like(path.time, circuit.ship_course)
            ahead, port = ship_components(
                path.east.values - run * np.sin(circuit.ship_course),
                path.north.values - run * np.cos(circuit.ship_course),
                course,
            )
            found.append(Circle(float(ahead.max()), -float(ahead.min()), float(port.max()), -float(port.min())))
    if not found:
        return None
    return Circle(
        max(circle.ahead for circle in found),
        max(circle.astern for circle in found),
        max(circle.port for circle in found),
        max(circle.starboard for circle in found),
    )
