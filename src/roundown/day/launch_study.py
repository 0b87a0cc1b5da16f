"""One take-off looked at closely: what would do, what a change costs, when to give up, how often it goes wrong."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from roundown.day.launch_findings import limits_of
from roundown.day.seat_launch import Seated, clearing_turn
from roundown.figures import figure
from roundown.launch.deck_run import RUN_INPUTS
from roundown.launch.engine_failure import EngineFailure, engine_failure
from roundown.launch.needs import Need, Sensitivity, heaviest, least_flap, least_wind, sensitivities
from roundown.launch.pitch_cycle import PitchCycle, worst_of_cycle
from roundown.launch.result import SeatLaunch
from roundown.launch.scatter import PLAUSIBLE, Scatter, Spread, scatter
from roundown.quantities import MASS, RATIO, WIND_OVER_DECK

SEED = 1
_METHOD = "root of the deck left at lift-off, less the deck wanted in hand (launch/needs.py)"
_INPUTS = (*RUN_INPUTS, "doctrine.launch.in_hand")


@dataclass(frozen=True, kw_only=True)
class WouldDo:
    """What would do for the run the spot leaves, with the deck in hand that the doctrine wants. reasons : of a None."""

    least_over_deck: float | None = figure(WIND_OVER_DECK, "least wind over the deck from ahead", _METHOD, _INPUTS)
    heaviest: float | None = figure(MASS, "heaviest weight at take-off", _METHOD, _INPUTS)
    least_flap: float | None = figure(RATIO, "least part of full flap", _METHOD, _INPUTS)
    reasons: Mapping[str, str]


@dataclass(frozen=True, eq=False, kw_only=True)
class LaunchStudy:
    """One seat's take-off and what hangs on it. None where the run or the flight past the bow it needs is not there."""

    launch: SeatLaunch
    would_do: WouldDo | None
    changes: Mapping[str, Sensitivity]
    cycle: PitchCycle | None
    engine_failure: EngineFailure | None
    scatter: Scatter | None


def study_launch(row: Seated, runs: int, progress: Callable[[str], None] | None = None) -> LaunchStudy:
    """A seat's take-off looked at closely.

    runs : of the scatter; progress : told what is being done
    """
    say = progress or (lambda _: None)
    run, past, facts = row.launch.run, row.launch.past_bow, row.facts
    failure = None
    if past is not None:
        say("letting the engine fail past the bow")
        half = 0.5 * (row.day.number("ship.deck_width") + facts.aeroplane.wing_span)
        failure = engine_failure(facts, past, clearing_turn(row.day), half)
    if run is None:
        return LaunchStudy(
            launch=row.launch, would_do=None, changes={}, cycle=None, engine_failure=failure, scatter=None
        )
    say("looking for the least wind, the heaviest load, the least flap")
    would_do, changes = _would_do(row), sensitivities(facts)
    pitch, period = _pitch(row)
    say(f"running {runs:,} times with a spread")
    return LaunchStudy(
        launch=row.launch,
        would_do=would_do,
        changes=changes,
        cycle=worst_of_cycle(facts, pitch, period) if pitch > 0.0 else None,
        engine_failure=failure,
        scatter=scatter(facts, spread_of(row), SEED, runs=runs),
    )


def spread_of(row: Seated) -> Spread:
    """The plausible spread, with the deck's own pitch where that is more."""
    pitch, period = _pitch(row)
    return replace(PLAUSIBLE, pitch=pitch, pitch_period=period) if pitch > PLAUSIBLE.pitch else PLAUSIBLE


def _pitch(row: Seated) -> tuple[float, float]:
    """Pitch of the deck either way [rad], and its period [s]."""
    if "ship.deck.pitch" not in row.day.givens:
        return 0.0, PLAUSIBLE.pitch_period
    return row.day.number("ship.deck.pitch"), row.day.number("ship.deck.pitch_period")


def _would_do(row: Seated) -> WouldDo:
    in_hand, facts = limits_of(row.day).in_hand, row.facts
    mass, least = facts.aeroplane.mass, row.day.number("type.launch.empty_weight")
    found: dict[str, Need] = {
        "least_over_deck": least_wind(facts, in_hand),
        "heaviest": heaviest(facts, least, max(mass, row.full_weight), in_hand),
        "least_flap": least_flap(facts, in_hand),
    }
    return WouldDo(
        **{name: need.value for name, need in found.items()},
        reasons={name: need.reason for name, need in found.items() if need.reason},
    )
