"""What the launch phase found: each seat's take-off, each carrier's sequence, and the spotted decks for drawing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from roundown.figures import figure
from roundown.launch.abort import AbortPoint
from roundown.launch.catapult import Shot
from roundown.launch.clearance import Clearance
from roundown.launch.clearing import Clearing
from roundown.launch.deck_plan import Deck
from roundown.launch.deck_run import Run
from roundown.launch.loading import Loaded
from roundown.launch.past_bow import PastBow
from roundown.launch.pitch_cycle import PitchCycle
from roundown.launch.sequence import LaunchSequence, TakeOff
from roundown.launch.settings import Settings
from roundown.launch.spot import SPOT_INPUTS, Parked, SpotRules, Spotted, Spotting
from roundown.quantities import LENGTH


@dataclass(frozen=True, eq=False, kw_only=True)
class SeatLaunch:
    """One aeroplane's take-off.

    number : in launch order among those that stand on the deck, from 1, as in the drawing; None without a place
    loaded : weight and settings; settings : what brakes, tail, rudder and propeller allow, None without keys for it
    spot : None where it finds no place; run : None where it has none, or is shot off; shot : where it is
    past_bow : None where it does not come to the bow; clearing : None where it does not climb from there
    clearance : wingtips along the run, None where nothing stands beside it; abort : the last place to give it up
    """

    number: int | None
    loaded: Loaded
    settings: Settings | None
    spot: Spotted | None
    run: Run | None
    shot: Shot | None
    past_bow: PastBow | None
    clearing: Clearing | None
    clearance: Clearance | None
    abort: AbortPoint | None
    take_off: TakeOff

    @property
    def speed_margin(self) -> float | None:
        """Indicated airspeed at the bow over that of lift-off [m/s]; None where it does not come to the bow."""
        if self.shot is not None:
            return self.shot.speed_margin
        return None if self.run is None else self.run.speed_margin


@dataclass(frozen=True, eq=False, kw_only=True)
class EventLaunch:
    """The launch of one event from one carrier, as far as one type goes.

    seats : those of the type, by key, in launch order; sequence : of all the carrier launches in the event
    closest : key of the seat that has least in hand, "" where none runs; cycle : of its run, where the deck pitches
    """

    seats: Mapping[str, SeatLaunch]
    sequence: LaunchSequence
    first_run: float | None = figure(
        LENGTH, "run the spot leaves the first off of the deck load", "bow less its launch place", SPOT_INPUTS
    )
    least_run: float | None = figure(
        LENGTH, "least run the spot leaves anyone of the deck load", "bow less the launch place", SPOT_INPUTS
    )
    closest: str
    cycle: PitchCycle | None


@dataclass(frozen=True, eq=False)
class DeckSpot:
    """A deck load as it stands before the first of it goes, for drawing and for spotting again.

    carrier : its name in the plan; events : launched from it, by key; load : in launch order; sides : of each, by key
    """

    carrier: str
    events: tuple[str, ...]
    deck: Deck
    load: Sequence[Parked]
    sides: Mapping[str, str]
    rules: SpotRules
    spotting: Spotting
