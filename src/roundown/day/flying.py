"""When the ship must fly her aeroplanes, what that makes of her track, and the day in order of time.

The times of the plan are decisions and are not moved. Those that hang on sun or moon are settled with the ship's track,
since where she is says when the sun sets there: three passes at most.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from roundown.day.deck_load import carriers_of, event_key, sequence_facts
from roundown.day.facts import clock_of, simulator_times
from roundown.day.homing import landing_places
from roundown.day.memory import Memory
from roundown.day.stacking import Landing, landing
from roundown.environment.light import CIVIL, Darkness
from roundown.figures import key_of
from roundown.findings import Finding, Level
from roundown.launch.sequence import launch_sequence
from roundown.motion.rhumb import PolarError
from roundown.plan.facts import Day, FlyingEvent
from roundown.recovery.result import CircuitResult
from roundown.schedule.clock import SimulatorSun, skies_at, sky_time
from roundown.schedule.event_times import EventFacts, EventTimes, TakeOffs, event_times
from roundown.schedule.timeline import Happening, Moment, Ship, Sort, timeline
from roundown.schedule.when import SKY, When
from roundown.ship.day_track import DayTrack, DayTrackFacts, FlyingPeriod, ShipPlace, What, day_track
from roundown.ship.flight import Flight, LaunchFlight
from roundown.solution import Unsolved

PASSES = 3
SETTLED = 0.5  # s, between two passes
PLACES, NEAR = 8, 0.05  # times a rising is looked up where the ship then is, until it moves less than that [s]
HALF_A_DAY = 43200.0  # s
BEGINS = {
    "nautical dawn": Darkness.NAUTICAL,
    "civil dawn": Darkness.CIVIL,
    "sunrise": Darkness.DAY,
    "sunset": Darkness.CIVIL,
    "civil dusk": Darkness.NAUTICAL,
    "nautical dusk": Darkness.ASTRONOMICAL,
}
"""The light that begins with what the sun does."""
SHOWN_BEFORE, SHOWN_AFTER = 1800.0, 1800.0  # s, of sky about the first and last happening


@dataclass(frozen=True, eq=False)
class Flown:
    """What the day's flying makes of it. findings : times that cannot be, so far as they are found on the way."""

    events: Mapping[str, EventTimes]
    periods: tuple[FlyingPeriod, ...]
    track: DayTrack | Unsolved
    timeline: Mapping[str, Moment] | Unsolved
    findings: tuple[Finding, ...]


def fly_the_day(
    day: Day,
    flight: Flight,
    launch_flight: LaunchFlight | None,
    circuits: Mapping[str, CircuitResult | Unsolved],
    memory: Memory,
) -> Flown:
    """The times of every event, the guide's track and the timeline.

    circuits : by "carrier.type"; memory : tracks and lights found before
    """
    if not day.events:
        none = Unsolved("the plan names no event")
        return Flown({}, (), none, none, ())
    landings = {event_key(event): landing(day, event, circuits, memory) for event in day.events}
    facts = {event_key(event): _event_facts(day, event, circuits, landings[event_key(event)]) for event in day.events}
    try:
        return _fly(day, flight, launch_flight, facts, landings, memory)
    except PolarError:
        polar = Unsolved("the ship's track goes beyond 89 degrees of latitude")
        return Flown({name: event_times(fact, {}, dark=False) for name, fact in facts.items()}, (), polar, polar, ())


def _fly(
    day: Day,
    flight: Flight,
    launch_flight: LaunchFlight | None,
    facts: Mapping[str, EventFacts],
    landings: Mapping[str, Landing],
    memory: Memory,
) -> Flown:
    """The same from the facts of each event. Raises PolarError."""
    track = _track(day, (), memory)
    anchors = sorted({when.anchor for fact in facts.values() for when in fact.times.values() if when.anchor in SKY})
    sky = {anchor: _sky_time(anchor, day, track, memory) for anchor in anchors}
    for _ in range(PASSES):
        events = {
            name: event_times(fact, sky, dark=_dark(day, fact, sky, track, memory)) for name, fact in facts.items()
        }
        periods = _periods(day, events, flight, launch_flight)
        track = _track(day, periods, memory)
        again = {anchor: _sky_time(anchor, day, track, memory) for anchor in anchors}
        apart = max((abs((again[a] or 0.0) - (sky[a] or 0.0)) for a in anchors), default=0.0)
        if apart < SETTLED:
            break
        sky = again
    else:
        reason = f"sun and moon at the ship's place do not settle: {apart:.0f} s apart after {PASSES} passes"
        return Flown(events, periods, Unsolved(reason), Unsolved(reason), ())
    findings = _missing(day, sky)
    moments = timeline(
        _happenings(day, events, landings, track, memory), _ship_of(track), clock_of(day), _sun(day, track, memory)
    )
    return Flown(events, periods, track, moments, tuple(findings))


def leaves_course(track: DayTrack, period: str) -> bool:
    """Whether the ship leaves her flight course after a period, by its name; else she holds on for the next."""
    end = track.periods[period].end
    following = (stretch for stretch in track.stretches if stretch.what is not What.FLIGHT)
    return any(abs(stretch.start - end) < 1e-6 for stretch in following)


def _ship_of(track: DayTrack) -> Ship:
    def ship(time: float) -> tuple[float, float, float, float]:
        place = track.at(time)
        return place.latitude, place.longitude, place.course, place.speed

    return ship


def _event_facts(
    day: Day, event: FlyingEvent, circuits: Mapping[str, CircuitResult | Unsolved], down: Landing
) -> EventFacts:
    homes = {name: squadron.ship for name, squadron in day.squadrons.items()}
    counts = Counter(homes[seat.squadron] for seat in event.seats)
    flown = {f"{homes[seat.squadron]}.{day.squadrons[seat.squadron].type}" for seat in event.seats}
    theirs = [circuits[part] for part in sorted(flown) if part in circuits]
    solved = [each.initial_to_break + each.break_to_ramp for each in theirs if isinstance(each, CircuitResult)]
    times: dict[str, When] = {
        name: when
        for name in ("launch", "push", "time_on_target", "recovery")
        if (when := getattr(event, name)) is not None
    }
    places: dict[str, int] = {}
    launched: Counter[str] = Counter()
    for seat in event.seats:
        home = homes[seat.squadron]
        launched[home] += 1
        places[key_of(seat.side)] = launched[home]
    return EventFacts(
        name=event.name,
        times=times,
        most=max(counts.values(), default=0),
        by_day=_take_offs(day, event, "doctrine.launch.interval"),
        in_dark=_take_offs(day, event, "doctrine.launch.interval_dark"),
        landing_interval=day.number("doctrine.circuit.interval"),
        initial_to_ramp=max(solved) if solved and len(solved) == len(theirs) else None,
        places=places,
        landing_places=landing_places(day, event),
        landing_after=down.after,
    )


def _take_offs(day: Day, event: FlyingEvent, interval: str) -> TakeOffs:
    """The take-offs of an event from all its carriers. interval : key of the doctrine's for the light."""
    after: dict[str, float] = {}
    longest = 0.0
    for carrier in carriers_of(day, event):
        sequence = launch_sequence(sequence_facts(day, event, carrier, 0.0, interval))
        after |= {key: off.off for key, off in sequence.offs.items()}
        longest = max(longest, sequence.interval)
    return TakeOffs(longest, after)


def _sky_time(anchor: str, day: Day, track: DayTrack, memory: Memory) -> float | None:
    """When sun or moon first do something after the datum at the place where the ship then is."""
    simulator = tuple(simulator_times(day).items())
    after, time = day.datum, None
    for _ in range(PLACES):
        place = track.at(day.datum if time is None else time)
        found = _found(anchor, place, day, after, simulator, memory)
        if found is None or (time is not None and abs(found - time) < NEAR):
            return found
        after, time = found - HALF_A_DAY, found
    return time


def _found(
    anchor: str, place: ShipPlace, day: Day, after: float, simulator: tuple[tuple[str, float], ...], memory: Memory
) -> float | None:
    """The first of its kind after a time at a place, remembered."""
    facts = (anchor, place.latitude, place.longitude, clock_of(day), after, simulator)
    return memory.recall("sky", facts, lambda: sky_time(*facts[:5], dict(simulator)))


def _sun(day: Day, track: DayTrack, memory: Memory) -> SimulatorSun:
    """The sun as the plan's simulator has it on the plan's date, at the ship's place."""
    pairs = []
    for word, shown in simulator_times(day).items():
        if word not in BEGINS:
            continue
        place = track.at(shown)
        true = _found(word, place, day, shown - HALF_A_DAY, (), memory)
        if true is not None:
            pairs += [(shown + 2.0 * HALF_A_DAY * days, true + 2.0 * HALF_A_DAY * days) for days in (-1, 0, 1, 2)]
    pairs.sort()
    return SimulatorSun(tuple(pair[0] for pair in pairs), tuple(pair[1] for pair in pairs))


def _dark(day: Day, facts: EventFacts, sky: Mapping[str, float | None], track: DayTrack, memory: Memory) -> bool:
    """Whether the sun is further down than civil twilight at the launch."""
    launch = event_times(facts, sky, dark=False).launch
    if launch is None:
        return False
    place = track.at(launch)
    time = _sun(day, track, memory).true_time(launch)
    return skies_at([time], [place.latitude], [place.longitude], clock_of(day))[0].sun_altitude < CIVIL


def _periods(
    day: Day, events: Mapping[str, EventTimes], flight: Flight, launch_flight: LaunchFlight | None
) -> tuple[FlyingPeriod, ...]:
    """The times for which the ship must be on a flight course."""
    periods = []
    idle = {event_key(event) for event in day.events if not event.seats}
    for name, times in events.items():
        if name in idle:
            continue
        if times.launch is not None and times.last_off is not None and launch_flight is not None:
            start = times.launch - day.number("doctrine.launch.steady_before")
            end = times.last_off + day.number("doctrine.launch.clear")
            periods.append(FlyingPeriod(f"{name}_launch", launch_flight.course, launch_flight.speed, start, end))
        if times.recovery is not None:
            start = times.recovery - day.number("doctrine.recovery.steady_before")
            last = times.last_aboard if times.last_aboard is not None else times.recovery
            end = last + day.number("doctrine.recovery.in_hand")
            periods.append(FlyingPeriod(f"{name}_recovery", flight.course, flight.speed, start, end))
    return tuple(periods)


def _track(day: Day, periods: tuple[FlyingPeriod, ...], memory: Memory) -> DayTrack:
    slowest = min(each.number("ship.greatest_speed") for each in (day, *day.parts.values()))
    regain = day.number("ship.regain_speed") if "ship.regain_speed" in day.givens else slowest
    facts = DayTrackFacts(
        start=day.datum,
        latitude=day.number("place.latitude"),
        longitude=day.number("place.longitude"),
        base_course=day.number("ship.base_course"),
        base_speed=day.number("ship.base_speed"),
        turning_circle=day.number("ship.turning_circle"),
        speed_gain=day.number("ship.speed_gain"),
        regain_speed=min(regain, slowest),
        periods=periods,
    )
    return memory.recall("track", facts, lambda: day_track(facts))


def _missing(day: Day, sky: Mapping[str, float | None]) -> list[Finding]:
    """Events that wait for a sun or moon that does not come."""
    findings = []
    for event in day.events:
        for name in ("launch", "push", "time_on_target", "recovery"):
            when: When | None = getattr(event, name)
            if when is not None and when.anchor in SKY and sky.get(when.anchor) is None:
                findings.append(
                    Finding(
                        "no-such-light",
                        Level.STOP,
                        f"events.{event_key(event)}.{name}",
                        f"{event.name}: {name.replace('_', ' ')} is {when.written}",
                        f"there is no {when.anchor} at the ship within 36 hours of the datum time",
                        "Give the time by the clock.",
                    )
                )
    return findings


def _happenings(
    day: Day, events: Mapping[str, EventTimes], landings: Mapping[str, Landing], track: DayTrack, memory: Memory
) -> list[Happening]:
    """Everything that happens, in no order."""
    names = {event_key(event): event.name for event in day.events}
    found = [Happening("datum", day.datum, Sort.SHIP, "datum: on base course and speed")]
    for key, times in events.items():
        rows = (
            ("launch", times.launch, Sort.LAUNCH, "first take-off"),
            ("last_off", times.last_off, Sort.LAUNCH, "last take-off"),
            ("push", times.push, Sort.FLIGHT, "departs"),
            ("time_on_target", times.time_on_target, Sort.FLIGHT, "on target"),
            ("recovery", times.recovery, Sort.RECOVERY, "first aeroplane at the initial"),
            ("first_aboard", times.first_aboard, Sort.RECOVERY, "first over the ramp"),
            ("last_aboard", times.last_aboard, Sort.RECOVERY, "last due over the ramp"),
        )
        alone = times.launch == times.last_off, times.first_aboard == times.last_aboard
        found += [
            Happening(f"{key}_{name}", time, sort, what, names[key])
            for name, time, sort, what in rows
            if time is not None and not (name == "last_off" and alone[0]) and not (name == "last_aboard" and alone[1])
        ]
        if times.recovery is not None:
            found += [
                Happening(
                    f"{key}_charlie_{key_of(flight)}", times.recovery + offset, Sort.RECOVERY,
                    f"Charlie: {flight} leaves the lowest block", names[key],
                )
                for flight, offset in landings[key].charlies.items()
            ]  # fmt: skip
    for key, period in track.periods.items():
        event = next(name for name in names if key in (f"{name}_launch", f"{name}_recovery"))
        label = names[event]
        if period.steady > period.order:
            found.append(Happening(f"{key}_order", period.order, Sort.SHIP, "turns into the wind", label))
            found.append(Happening(f"{key}_steady", period.steady, Sort.SHIP, "steady on the flight course", label))
        if leaves_course(track, key):
            found.append(Happening(f"{key}_end", period.end, Sort.SHIP, "flying ends, turns back", label))
        if period.regained is not None:
            found.append(Happening(f"{key}_regained", period.regained, Sort.SHIP, "base track regained", label))
    return [*found, *_sky_happenings(day, found, track, memory)]


def _sky_happenings(day: Day, found: list[Happening], track: DayTrack, memory: Memory) -> list[Happening]:
    """What sun and moon do at the ship's place from half an hour before the first happening to half an hour after."""
    first = min(happening.time for happening in found) - SHOWN_BEFORE
    last = max(happening.time for happening in found) + SHOWN_AFTER
    sky = []
    for word in SKY:
        time = _sky_time(word, day, track, memory)
        if time is not None and first <= time <= last:
            begins = BEGINS.get(word)
            sky.append(Happening(word.replace(" ", "_"), time, Sort.SKY, f"{word} at the ship", begins=begins))
    return sky
