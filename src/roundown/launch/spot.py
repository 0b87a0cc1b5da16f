"""The spot: where each aeroplane of a deck load stands, and what run that leaves it when its turn comes.

*The launch taken:* what stands in front goes first. When its turn comes an aeroplane taxies ahead and across on to the
launch line, as far aft as its spread wings are clear of those still folded beside and behind it, and runs from there;
to come across it goes ahead too (`slant`). The launch line is the centre line unless another is given; where wings
would not pass the island or a keep-out on it, the run begins ahead of that (`spot_findings` says so).
*Method:* packed from aft in every manner of `packing.manners`; the one that stands most is taken, then the one with the
longest run for the first off, then the longest runs together (own). `spot_search.improved` betters it.
*Holds for:* aeroplanes that stand with their noses to the bow, save pinned ones.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import repeat

import numpy as np

from roundown.figures import figure
from roundown.launch.apart import Outline, forbidden, standing
from roundown.launch.deck_plan import Deck
from roundown.launch.footprint import Footprint
from roundown.launch.packing import Ground, Piece, Place, ground_for, manners, pack
from roundown.motion.frames import Floats
from roundown.quantities import FOOT, LENGTH, OFF_BOW

SPOT_INPUTS = (
    "type.launch.*", "type.wing_span", "type.wing_area", "type.propeller_diameter", "ship.deck_length",
    "ship.deck_width", "ship.deck.*", "ship.island_place", "event.*", "doctrine.spot.*",
)  # fmt: skip
_PACKED = "packed from aft in launch order, clear of one another (launch/spot.py)"


@dataclass(frozen=True)
class Pin:
    """A place given by hand. ahead : of the ramp, port : of the centre line [m]; heading : off the bow [rad]."""

    ahead: float
    port: float
    heading: float = 0.0


@dataclass(frozen=True)
class Parked:
    """One of a deck load. key : its own name; pin : where it has to stand, or None."""

    key: str
    footprint: Footprint
    pin: Pin | None = None


@dataclass(frozen=True)
class SpotRules:
    """What is kept; all common practice, no source.

    clearance : between folded aeroplanes, and from island and keep-outs [m]; spread : from spread wings [m]
    slant : how far ahead it goes for each metre across on to the launch line; 1 is at 45 degrees
    line : launch line, to port of the centre line [m]; step : between the columns that are tried [m]
    """

    clearance: float = 2.5 * FOOT
    spread: float = 4.0 * FOOT
    slant: float = 1.0
    line: float = 0.0
    step: float = 0.25


@dataclass(frozen=True, kw_only=True)
class Spotted:
    """One aeroplane on its spot, wings folded."""

    ahead: float = figure(LENGTH, "main wheels on the spot, ahead of the ramp", _PACKED, SPOT_INPUTS)
    port: float = figure(LENGTH, "the same to port of the centre line, negative to starboard", _PACKED, SPOT_INPUTS)
    heading: float = figure(
        OFF_BOW,
        "nose on the spot, off the bow",
        "to the bow, save where pinned",
        (
            "event.*",
            "doctrine.spot.*",
        ),
    )
    launch_ahead: float = figure(
        LENGTH, "main wheels at the launch place, ahead of the ramp",
        "as far aft on the launch line as spread wings are clear of those still standing (launch/spot.py)", SPOT_INPUTS,
    )  # fmt: skip
    run_left: float = figure(LENGTH, "run its spot leaves it", "bow less the launch place", SPOT_INPUTS)
    pinned: bool = False


@dataclass(frozen=True, kw_only=True)
class Spotting:
    """A deck load spotted. places : in launch order; left_out : those that find no place, in launch order."""

    places: Mapping[str, Spotted]
    left_out: tuple[str, ...]
    line: float = figure(
        LENGTH,
        "launch line to port of the centre line",
        "as given, else the centre line",
        (
            "event.*",
            "doctrine.spot.*",
        ),
    )
    first_run: float | None = figure(LENGTH, "run left to the first off", "bow less its launch place", SPOT_INPUTS)
    least_run: float | None = figure(LENGTH, "least run left to anyone", "bow less the launch place", SPOT_INPUTS)

    @property
    def fits(self) -> bool:
        """Whether all stand."""
        return not self.left_out


def spot(load: Sequence[Parked], deck: Deck, rules: SpotRules | None = None) -> Spotting:
    """The deck load spotted at once.

    load : in launch order, keys all different; a pinned one stands where it is pinned, right or wrong (`spot_findings`)
    Raises ValueError where a key stands twice.
    """
    kept = rules or SpotRules()
    ground = ground_of(load, deck, kept)
    launching = Launching(load, deck, kept)
    layouts = [pack(ground, repeat(manner))[::-1] for manner in manners(ground)]
    return max((judged_by(launching, load, deck, layout) for layout in layouts), key=worth)


def how_many(load: Sequence[Parked], deck: Deck, least_run: float, rules: SpotRules | None = None) -> int:
    """How many of a deck load, the last off and those before it, stand so that the first off has a run [m]."""
    kept = rules or SpotRules()
    ground = ground_of(load, deck, kept)
    launching = Launching(load, deck, kept)
    most = 0
    for manner in manners(ground):
        spotting = judged_by(launching, load, deck, pack(ground, repeat(manner))[::-1])
        from_aft = list(spotting.places.values())[::-1]
        enough = [i + 1 for i, place in enumerate(from_aft) if place.run_left >= least_run]
        most = max(most, *enough) if enough else most
    return most


def worth(spotting: Spotting) -> tuple[int, float, float]:
    """What makes one spotting better than another: how many, the first one's run, all runs together."""
    runs = sum(place.run_left for place in spotting.places.values())
    return len(spotting.places), round(spotting.first_run or 0.0, 6), round(runs, 6)


def ground_of(load: Sequence[Parked], deck: Deck, rules: SpotRules) -> Ground:
    """The ground of a deck load, pieces from aft to bow."""
    if len({parked.key for parked in load}) < len(load):
        raise ValueError("a key stands twice in the deck load")
    count = math.ceil((deck.width / 2.0 - deck.edge) / rules.step)
    columns = rules.step * np.arange(-count, count + 1, dtype=np.float64)
    rooms = {parked.footprint: deck.room(parked.footprint.wheels, columns) for parked in load}
    outlines = {each: each.folded for each in rooms}
    kinds = {each: f"{i}" for i, each in enumerate(rooms)}
    pieces = []
    for parked in reversed(load):
        pin, print_ = parked.pin, parked.footprint
        outline = outlines[print_] if pin is None else standing(outlines[print_], 0.0, 0.0, pin.heading)
        place = None if pin is None else (pin.ahead, pin.port)
        pieces.append(Piece(kinds[print_], outline, *rooms[print_], pinned=place))
    obstacles = [(each.outline, rules.clearance) for each in deck.keep_outs]
    return ground_for(pieces, columns, obstacles, rules.clearance)


def launch_line(widest: float, deck: Deck, rules: SpotRules) -> float | None:
    """The launch line nearest the centre line on which spread wings pass all keep-outs, to port of it [m].

    widest : span [m]. None where they pass on no line.
    """
    half = widest / 2.0 + rules.spread
    least = max((each.port + half for each in deck.keep_outs if each.port + each.starboard <= 0.0), default=-math.inf)
    most = min((each.starboard - half for each in deck.keep_outs if each.port + each.starboard > 0.0), default=math.inf)
    return min(max(0.0, least), most) if least <= most else None


class Launching:
    """Launch places of a deck load."""

    def __init__(self, load: Sequence[Parked], deck: Deck, rules: SpotRules) -> None:
        """Find what depends on the load alone."""
        self.rules, self._load = rules, load
        self._spread = {parked.footprint: parked.footprint.spread for parked in load}
        here = np.array([self.rules.line])
        self._past = {
            own: max((float(self._ahead(own, out.outline, here)[0]) for out in deck.keep_outs), default=-math.inf)
            for own in self._spread
        }
        self._beside: dict[tuple[Footprint, Footprint, float], dict[float, float]] = {}

    def _ahead(self, own: Footprint, outline: Outline, across: Floats) -> Floats:
        """How far ahead of an outline its own wheels must be so that its spread wings are clear [m]."""
        return forbidden(self._spread[own], outline, self.rules.spread, across)[1]

    def past_standing(self, own: Footprint, other: Parked, port: float) -> float:
        """The same for one that stands at a place to port of the centre line."""
        known = self._beside.setdefault((own, other.footprint, _heading(other)), {})
        if port not in known:
            outline = standing(other.footprint.folded, 0.0, 0.0, _heading(other))
            near = port + self.rules.step * np.arange(-8.0, 9.0)  # neighbours come cheap, and are asked for next
            ends = self._ahead(own, outline, self.rules.line - near)
            known.update({float(each): float(end) for each, end in zip(near, ends, strict=True)})
        return known[port]

    def ready(self, places: Sequence[Place | None]) -> list[float | None]:
        """Launch places, ahead of the ramp [m]. places : by launch order; None for those that do not stand."""
        found: list[float | None] = []
        for i, (parked, place) in enumerate(zip(self._load, places, strict=True)):
            if place is None:
                found.append(None)
                continue
            ahead = place[0] + self.rules.slant * abs(place[1] - self.rules.line)
            ahead = max(ahead, self._past[parked.footprint])
            for other, there in zip(self._load[i + 1 :], places[i + 1 :], strict=True):
                if there is not None:
                    ahead = max(ahead, there[0] + self.past_standing(parked.footprint, other, there[1]))
            found.append(ahead)
        return found


def _heading(parked: Parked) -> float:
    return 0.0 if parked.pin is None else parked.pin.heading


def judged(load: Sequence[Parked], deck: Deck, rules: SpotRules, places: Sequence[Place | None]) -> Spotting:
    """A layout with its runs. places : by launch order, None for those that find none."""
    return judged_by(Launching(load, deck, rules), load, deck, places)


def judged_by(launching: Launching, load: Sequence[Parked], deck: Deck, places: Sequence[Place | None]) -> Spotting:
    """The same where the load's launching is known already."""
    stood: dict[str, Spotted] = {}
    for parked, place, ahead in zip(load, places, launching.ready(places), strict=True):
        if place is not None and ahead is not None:
            stood[parked.key] = Spotted(
                ahead=place[0],
                port=place[1],
                heading=_heading(parked),
                launch_ahead=ahead,
                run_left=deck.length - ahead,
                pinned=parked.pin is not None,
            )
    runs = [place.run_left for place in stood.values()]
    return Spotting(
        places=stood,
        left_out=tuple(parked.key for parked in load if parked.key not in stood),
        line=launching.rules.line,
        first_run=runs[0] if runs else None,
        least_run=min(runs, default=None),
    )
