"""What a chart of the day holds, before it is any format: tracks and moments with their instants, and the sea room.

Ships and aeroplanes are given as fixes close enough together that straight lines between them will do. The company is
placed from the guide by its stations; a circuit is laid where its carrier is when the first aeroplane is at the
initial.
"""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass
from enum import StrEnum

from roundown.day.facts import clock_of
from roundown.documents import one_line
from roundown.exports.heading import description, title_of
from roundown.exports.moments import dated_moments
from roundown.figures import key_of
from roundown.motion.frames import NearPlane
from roundown.plan.facts import Day, FlyingEvent
from roundown.quantities import CLOCK_TIME, write
from roundown.recovery.result import CircuitResult
from roundown.schedule.clock import ShipClock
from roundown.ship.company import Station, StationFacts, stations
from roundown.ship.day_track import DayTrack, PeriodTimes
from roundown.solution import Solution, Unsolved

STEADY_STEP = 300.0  # s between fixes of a ship on a steady course
TURN_STEP = 10.0  # s between fixes while she turns or changes speed: a few degrees of turn
CIRCUIT_STEP = 1.0  # s between fixes of an aeroplane
SHORTEST = 1.0  # s, of a stretch that is drawn


class Sort(StrEnum):
    """What a feature of a chart is."""

    GUIDE = "track of the guide"
    COMPANY = "ship in company"
    CIRCUIT = "circuit"
    MOMENT = "moment"
    PLACE = "place"


@dataclass(frozen=True)
class Fix:
    """A place at an instant (universal time). latitude, longitude [rad]; height : over the sea [m], or None."""

    instant: dt.datetime
    latitude: float
    longitude: float
    height: float | None = None


@dataclass(frozen=True)
class Feature:
    """Something on a chart: a point where it has one fix, otherwise a line.

    key : unique on the chart; who : the ship or aeroplane it is of; name, about : in words, on one line
    """

    sort: Sort
    key: str
    who: str
    name: str
    about: str
    fixes: tuple[Fix, ...]


@dataclass(frozen=True)
class Chart:
    """A day's chart. title; about : what day it is, what is not on the chart, and the caution.

    features : those of one sort together; sea_room : its corners, latitude and longitude [rad]
    missing : sentences on what could not be drawn
    """

    title: str
    about: str
    features: tuple[Feature, ...]
    sea_room: tuple[tuple[float, float], ...]
    missing: tuple[str, ...]


def utc(instant: dt.datetime) -> str:
    """An instant as text, to the millisecond: 1949-03-17T17:25:00.000Z."""
    return instant.astimezone(dt.UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def degrees(angle: float) -> float:
    """A latitude or longitude [rad] in degrees, to seven decimals, which is a centimetre."""
    return round(math.degrees(angle), 7) + 0.0


def chart_of(day: Day, solution: Solution) -> Chart:
    """The chart of a solved day. A day without events has one instant, the datum, with the first at the initial."""
    track = solution.track
    features = _guide(day, solution)
    features += _company(day, solution)
    circuits, missing = _circuits(day, solution)
    features += circuits
    if isinstance(track, Unsolved):
        features.append(_datum(day))
        if day.events:
            missing = [f"No track and no times: {track.reason}.", *missing]
    else:
        features += _moments(day, solution)
    return Chart(title_of(day), description(day, missing), tuple(features), day.sea_room, tuple(missing))


def _guide(day: Day, solution: Solution) -> list[Feature]:
    """Her track, stretch by stretch, to the last moment of the day."""
    track, moments = solution.track, solution.timeline
    if isinstance(track, Unsolved) or isinstance(moments, Unsolved):
        return []
    clock, name = clock_of(day), _ship_name(day)
    last = max(moment.time for moment in moments.values())
    features: list[Feature] = []
    for stretch in track.stretches:
        start, end = stretch.start, min(stretch.end, last)
        if end - start < SHORTEST:
            continue
        places = [(time, track.at(time)) for time in _instants(track, start, end)]
        fixes = [Fix(clock.instant(time), place.latitude, place.longitude) for time, place in places]
        key = f"track.{len(features) + 1}"
        features.append(_feature(Sort.GUIDE, key, name, f"{name}: {stretch.what}", _span(start, end), fixes))
    return features


def _company(day: Day, solution: Solution) -> list[Feature]:
    """Each ship in company while the guide is on a flight course; without events, where she is at the datum."""
    features = []
    for ship in day.company:
        name, key = _short(ship.label), f"company.{key_of(ship.name)}"
        if not isinstance(solution.track, Unsolved):
            for period, times in solution.track.periods.items():
                fixes = _on_station(day, solution.track, times, ship.name)
                about = f"{ship.role}, on station while flying; {_span(times.steady, times.end)}"
                label = f"{name}: {period.replace('_', ' ')}"
                features.append(_feature(Sort.COMPANY, f"{key}.{period}", name, label, about, fixes))
        elif not day.events:
            place = _beside(_start(day), solution.stations[key_of(ship.name)])
            about = f"{ship.role}, on station while flying"
            features.append(_feature(Sort.COMPANY, key, name, name, about, [Fix(day.start, *place)]))
    return features


def _on_station(day: Day, track: DayTrack, times: PeriodTimes, name: str) -> list[Fix]:
    """A ship's fixes through a flying period, from her station on its flight course."""
    facts = [StationFacts(ship.name, ship.bearing, ship.distance, ship.guards) for ship in day.company]
    station = stations(facts, day.number("ship.base_course"), times.course, day.ship)[name]
    clock = clock_of(day)
    fixes = []
    for time in _instants(track, times.steady, times.end):
        guide = track.at(time)
        fixes.append(Fix(clock.instant(time), *_beside((guide.latitude, guide.longitude), station)))
    return fixes


def _circuits(day: Day, solution: Solution) -> tuple[list[Feature], list[str]]:
    """The circuit of each carrier and type at each recovery, and sentences for those there are not."""
    if not day.events:
        return _circuit(day, solution, day.part, _start(day), day.datum)
    features: list[Feature] = []
    missing: list[str] = []
    if isinstance(solution.track, Unsolved):
        return features, missing
    for event in day.events:
        time = solution.events[key_of(event.name)].recovery
        if time is None:
            continue
        homes = [day.squadrons[seat.squadron] for seat in event.seats]
        guide = solution.track.at(time)
        for carrier, kind in dict.fromkeys((home.ship, home.type) for home in homes):
            place = (guide.latitude, guide.longitude)
            if carrier != day.ship:
                place = _beside(place, solution.stations[key_of(carrier)])
            found, wrong = _circuit(day, solution, f"{carrier}.{kind}", place, time, event)
            features += found
            missing += [sentence for sentence in wrong if sentence not in missing]
    return features, missing


def _circuit(
    day: Day,
    solution: Solution,
    part: str,
    place: tuple[float, float],
    time: float,
    event: FlyingEvent | None = None,
) -> tuple[list[Feature], list[str]]:
    """One circuit. part : "carrier.type"; place : of the carrier [rad] at `time`, with the first at the initial [s]."""
    theirs = day.parts.get(part, day)
    circuit = solution.circuit if part == day.part else solution.parts[part].circuit
    who = f"{_short(theirs.word('type.label'))} on {_ship_name(theirs)}"
    if isinstance(circuit, Unsolved):
        return [], [f"No circuit of {who}: {circuit.reason}."]
    fixes = _flown(circuit, clock_of(day), time, NearPlane(*place))
    key = f"circuit.{part}" if event is None else f"circuit.{key_of(event.name)}.{part}"
    name = f"circuit of {who}" if event is None else f"{event.name}: circuit of {who}"
    about = f"planned for the first aeroplane, at the initial at {write(time, CLOCK_TIME)} by the ship's clock"
    return [_feature(Sort.CIRCUIT, key, name, name, about, fixes)], []


def _flown(circuit: CircuitResult, clock: ShipClock, start: float, plane: NearPlane) -> list[Fix]:
    """The path over the earth. start : at the initial by the clock [s]; plane : about the carrier then."""
    path = circuit.path
    first, last = float(path.time[0]), float(path.time[-1])
    fixes = []
    for time in [*(first + CIRCUIT_STEP * i for i in range(math.ceil((last - first) / CIRCUIT_STEP))), last]:
        at = path.at(time)
        place = plane.position(at["east"], at["north"])
        fixes.append(Fix(clock.instant(start + time), *place, at["height"]))
    return fixes


def _moments(day: Day, solution: Solution) -> list[Feature]:
    """The timeline, each moment where the guide then is."""
    features = []
    for dated in dated_moments(day, solution):
        fix = Fix(dated.instant, dated.moment.latitude, dated.moment.longitude)
        key = f"timeline.{dated.key}"
        features.append(_feature(Sort.MOMENT, key, _ship_name(day), dated.name, dated.about, [fix]))
    return features


def _instants(track: DayTrack, start: float, end: float) -> list[float]:
    """Times at which a part of the track is fixed, both ends among them [s]; one where it has no length."""
    times = [start]
    for row, following in zip(track.rows, [*track.rows[1:], None], strict=True):
        first, last = max(row.start, start), end if following is None else min(following.start, end)
        step = TURN_STEP if row.rate or row.gain else STEADY_STEP
        pieces = math.ceil((last - first) / step - 1e-6)
        times += [first + (last - first) * i / pieces for i in range(1, pieces + 1)]
    return times


def _beside(guide: tuple[float, float], station: Station) -> tuple[float, float]:
    """Latitude and longitude [rad] of a station from the guide's."""
    return NearPlane(*guide).position(station.east, station.north)


def _datum(day: Day) -> Feature:
    about = f"{write(day.datum, CLOCK_TIME)} by the ship's clock: datum of the plan"
    name = _ship_name(day)
    return _feature(Sort.PLACE, "datum", name, f"{name} at the datum", about, [Fix(day.start, *_start(day))])


def _feature(sort: Sort, key: str, who: str, name: str, about: str, fixes: list[Fix]) -> Feature:
    """A feature whose words no format stumbles over."""
    return Feature(sort, one_line(key), one_line(who), one_line(name), one_line(about), tuple(fixes))


def _start(day: Day) -> tuple[float, float]:
    return day.number("place.latitude"), day.number("place.longitude")


def _span(start: float, end: float) -> str:
    return f"{write(start, CLOCK_TIME)} to {write(end, CLOCK_TIME)} by the ship's clock"


def _ship_name(day: Day) -> str:
    return _short(day.word("ship.label"))


def _short(label: str) -> str:
    """A label without what is said after its comma."""
    return label.partition(",")[0]
