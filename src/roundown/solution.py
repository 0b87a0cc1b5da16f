"""What all phases found, in one place."""

from __future__ import annotations

from dataclasses import dataclass

from roundown.figures import Figure, figure, figures_of
from roundown.findings import Finding, Level
from roundown.quantities import COCKPIT_DIRECTION
from roundown.recovery.result import CircuitResult
from roundown.ship.flight import Flight
from roundown.ship.turn_into_wind import TurnIntoWind

_CARD = "true less variation, and less deviation where compass headings are asked for"
_BY = ("place.variation", "cockpit.headings", "cockpit.deviation.*")


@dataclass(frozen=True)
class Unsolved:
    """Why a phase has no result."""

    reason: str


@dataclass(frozen=True, kw_only=True)
class Cockpit:
    """Headings as the compass in the cockpit shows them. shown : magnetic, compass or true; None without a circuit."""

    shown: str
    flight_course: float = figure(COCKPIT_DIRECTION, "flight course", _CARD, ("flight.course", *_BY))
    reciprocal: float = figure(COCKPIT_DIRECTION, "reciprocal of the flight course", _CARD, ("flight.reciprocal", *_BY))
    upwind: float | None = figure(COCKPIT_DIRECTION, "heading upwind", _CARD, ("circuit.upwind_heading", *_BY))
    downwind: float | None = figure(COCKPIT_DIRECTION, "heading downwind", _CARD, ("circuit.downwind_heading", *_BY))
    final: float | None = figure(COCKPIT_DIRECTION, "heading over the ramp", _CARD, ("circuit.final_heading", *_BY))


@dataclass(frozen=True, eq=False, kw_only=True)
class Solution:
    """A solved day: each phase's result, and the findings, worst first."""

    flight: Flight
    turn: TurnIntoWind
    circuit: CircuitResult | Unsolved
    cockpit: Cockpit
    findings: tuple[Finding, ...]

    @property
    def figures(self) -> dict[str, Figure]:
        """Every figure by its key."""
        return {found.key: found for found in figures_of(self)}

    @property
    def verdict(self) -> str:
        """One line: does the day work?"""
        counts = {level: sum(finding.level is level for finding in self.findings) for level in Level}
        parts = [f"{counts[level]} {level.word}{'s' if counts[level] > 1 else ''}" for level in Level if counts[level]]
        if counts[Level.STOP]:
            return f"Does not work as planned: {', '.join(parts)}."
        return f"Works, with {' and '.join(parts)}." if parts else "Works as planned."
