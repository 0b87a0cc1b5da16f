"""What all phases found, in one place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from roundown.environment.sea import Sea
from roundown.figures import Figure, figure, figures_of
from roundown.findings import Finding, Level
from roundown.launch.result import DeckSpot, EventLaunch
from roundown.quantities import COCKPIT_DIRECTION
from roundown.recovery.approach_speed import ApproachSpeed
from roundown.recovery.clock_cues import ClockCues
from roundown.recovery.day_cycle import DeckTurn
from roundown.recovery.error_costs import ErrorCost
from roundown.recovery.last_wave_off import LastWaveOff
from roundown.recovery.late import LatePath
from roundown.recovery.latest_turn_in import LatestTurnIn
from roundown.recovery.result import CircuitResult
from roundown.recovery.rhythm import Rhythm
from roundown.recovery.spacing import Spacing
from roundown.recovery.stack import Stack
from roundown.recovery.straight_in import StraightIn
from roundown.recovery.touchdown_result import Touchdown
from roundown.recovery.turning_ship import TurningShip
from roundown.recovery.wave_off import WaveOff
from roundown.schedule.conditions import AirToday, DayLight
from roundown.schedule.event_times import EventTimes
from roundown.schedule.timeline import Moment
from roundown.ship.company import Station
from roundown.ship.day_track import DayTrack
from roundown.ship.flight import Flight, LaunchFlight
from roundown.ship.turn_into_wind import TurnIntoWind
from roundown.sight.late_view import LateView
from roundown.sight.result import SightResult

_CARD = "true less variation, and less deviation where compass headings are asked for"
_BY = ("place.variation", "cockpit.headings", "cockpit.deviation.*")


@dataclass(frozen=True)
class Unsolved:
    """Why a phase has no result."""

    reason: str


NO_CIRCUIT = Unsolved("there is no circuit")


@dataclass(frozen=True, kw_only=True)
class Cockpit:
    """Headings as the compass in the cockpit shows them. shown : magnetic, compass or true; None without a circuit."""

    shown: str
    flight_course: float = figure(COCKPIT_DIRECTION, "flight course", _CARD, ("flight.course", *_BY))
    reciprocal: float = figure(COCKPIT_DIRECTION, "reciprocal of the flight course", _CARD, ("flight.reciprocal", *_BY))
    upwind: float | None = figure(COCKPIT_DIRECTION, "heading upwind", _CARD, ("circuit.upwind_heading", *_BY))
    downwind: float | None = figure(COCKPIT_DIRECTION, "heading downwind", _CARD, ("circuit.downwind_heading", *_BY))
    final: float | None = figure(COCKPIT_DIRECTION, "heading over the ramp", _CARD, ("circuit.final_heading", *_BY))
    launch_course: float | None = figure(
        COCKPIT_DIRECTION, "flight course of the launch", _CARD, ("launch_flight.course", *_BY)
    )


@dataclass(frozen=True, eq=False, kw_only=True)
class Solution:
    """A solved day: each phase's result, and the findings, worst first.

    flight, turn : to recover; launch_flight : to launch, None where nothing is launched
    circuit, cockpit : of the carrier and type of the day (`Day.part`)
    approach ... sight : what else there is to know of that circuit; none of it without a circuit
    late_paths, late_views : the way of each other turn-in, by its delay, and what is seen along it
    events : the times of each, by name; track : of the guide; timeline : moments by key, in order of time
    stations : of ships in company, by name, spaces as underscores
    recoveries, rhythm, cycle : of the carrier, by event; of another carrier they stand in the first of her parts
    launches : of the carrier and type of the day, by event; spots : every deck load of every carrier
    parts : the same for each other carrier and type, by "carrier.type"; their findings are among those of the whole
    unsolved : what a day has and this does not work out, in words
    """

    flight: Flight
    launch_flight: LaunchFlight | None
    turn: TurnIntoWind
    circuit: CircuitResult | Unsolved
    cockpit: Cockpit
    light: DayLight
    air: AirToday
    sea: Sea
    events: Mapping[str, EventTimes]
    track: DayTrack | Unsolved
    timeline: Mapping[str, Moment] | Unsolved
    stations: Mapping[str, Station]
    findings: tuple[Finding, ...]
    launches: Mapping[str, EventLaunch | Unsolved] = field(default_factory=dict)
    spots: tuple[DeckSpot, ...] = ()
    approach: ApproachSpeed | Unsolved = NO_CIRCUIT
    cues: ClockCues | Unsolved = NO_CIRCUIT
    costs: Mapping[str, ErrorCost] = field(default_factory=dict)
    latest_turn_in: LatestTurnIn | Unsolved = NO_CIRCUIT
    turning: TurningShip | Unsolved = NO_CIRCUIT
    spacing: Spacing | Unsolved = NO_CIRCUIT
    straight_in: StraightIn | Unsolved = NO_CIRCUIT
    wave_off: WaveOff | Unsolved = NO_CIRCUIT
    last_wave_off: LastWaveOff | Unsolved = NO_CIRCUIT
    touchdown: Touchdown | Unsolved = NO_CIRCUIT
    sight: SightResult | Unsolved = NO_CIRCUIT
    late_paths: Mapping[str, LatePath] = field(default_factory=dict)
    late_views: Mapping[str, LateView] = field(default_factory=dict)
    recoveries: Mapping[str, Stack | Unsolved] = field(default_factory=dict)
    rhythm: Mapping[str, Rhythm | Unsolved] = field(default_factory=dict)
    cycle: Mapping[str, DeckTurn] = field(default_factory=dict)
    unsolved: tuple[str, ...] = ()
    parts: Mapping[str, Solution] = field(default_factory=dict)

    @cached_property
    def figures(self) -> dict[str, Figure]:
        """Every figure by its key."""
        return {found.key: found for found in figures_of(self) if not found.key.startswith("parts.")}

    @property
    def verdict(self) -> str:
        """One line: does the day work?"""
        counts = {level: sum(finding.level is level for finding in self.findings) for level in Level}
        parts = [f"{counts[level]} {level.word}{'s' if counts[level] > 1 else ''}" for level in Level if counts[level]]
        if counts[Level.STOP]:
            return f"Does not work as planned: {', '.join(parts)}."
        return f"Works, with {' and '.join(parts)}." if parts else "Works as planned."
