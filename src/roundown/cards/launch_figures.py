"""A squadron's launch of one event: where its figures are, and how they are said on card and page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from roundown.cards.card import Cell
from roundown.day.deck_load import event_key
from roundown.day.facts import of_type
from roundown.figures import Given, key_of
from roundown.launch.of_type import engine_of, why_not
from roundown.launch.result import DeckSpot, EventLaunch, SeatLaunch
from roundown.motion.engine import pressure_for
from roundown.plan.deck import load_said
from roundown.plan.facts import Day, FlyingEvent, Seat, Squadron
from roundown.quantities import PRESSURE, write
from roundown.solution import Solution, Unsolved

MOST_MISSING = 2  # keys a type does not give that are named
ROUNDED = "each rounded by itself"  # why run left less run needed may differ by one from what is in hand
NAME = 26  # letters of a seat's number and name, or of a squadron, as many as two lines of a column hold


@dataclass(frozen=True, eq=False)
class Launching:
    """One squadron's launch of one event.

    day, solution : of its carrier and type; stem : before their keys, "parts.lintel.sallow." or ""
    texts : of every figure of the whole day by its key, as `all_texts` has them
    seats : of the squadron that fly it, in launch order
    found : None where no launch of it is worked out and none is wanted
    spot : the deck it stands on, None where none is spotted
    """

    event: FlyingEvent
    squadron: Squadron
    day: Day
    solution: Solution
    stem: str
    texts: Mapping[str, str]
    seats: tuple[Seat, ...]
    found: EventLaunch | Unsolved | None
    spot: DeckSpot | None

    @property
    def key(self) -> str:
        """Stem of its figures among those of the day."""
        return f"{self.stem}launches.{event_key(self.event)}"

    def launch_of(self, seat: Seat) -> SeatLaunch | None:
        """A seat's take-off; None where the event has none worked out for it."""
        return self.found.seats.get(key_of(seat.side)) if isinstance(self.found, EventLaunch) else None

    def launched(self) -> Iterator[tuple[Seat, SeatLaunch]]:
        """The seats whose take-off is worked out, in launch order."""
        for seat in self.seats:
            launch = self.launch_of(seat)
            if launch is not None:
                yield seat, launch

    def seat_key(self, seat: Seat, what: str) -> str:
        """Key of a seat's figure. what : of it, as "run.distance"."""
        return f"{self.key}.seats.{key_of(seat.side)}.{what}"

    def cell(self, seat: Seat, what: str, *, strong: bool = False) -> Cell:
        """A seat's figure; empty where there is none."""
        return self.figure(self.seat_key(seat, what), strong=strong)

    def figure(self, key: str, *, strong: bool = False) -> Cell:
        """A figure of the day by its whole key; empty where there is none."""
        text = self.texts.get(key, "none")
        return Cell("") if text == "none" else Cell(text, key, strong=strong)

    def given(self, name: str) -> Cell:
        """What its type gives, as it was written; empty where it does not. name : of the key, without "type."."""
        key = f"type.{name}"
        return Cell(self.day.givens[key].text, f"{self.stem}{key}") if key in self.day.givens else Cell("")

    def number_of(self, seat: Seat) -> int | None:
        """Its number on the drawn deck; None where it finds no place."""
        return None if self.spot is None else numbers_on(self.spot).get(key_of(seat.side))


def numbers_on(spot: DeckSpot) -> dict[str, int]:
    """The number of each that stands, by key, as the drawing has them: in launch order."""
    return {key: number for number, key in enumerate(spot.spotting.places, 1)}


def all_texts(solution: Solution) -> dict[str, str]:
    """The text of every figure of a whole day by its key, with those of the other carriers and types."""
    texts = {key: figure.text for key, figure in solution.figures.items()}
    for part, theirs in solution.parts.items():
        texts |= {f"parts.{part}.{key}": figure.text for key, figure in theirs.figures.items()}
    return texts


def launchings(day: Day, solution: Solution, texts: Mapping[str, str]) -> tuple[Launching, ...]:
    """Every squadron's launch of every event that has one, in the order of the events. texts : from `all_texts`."""
    return tuple(
        launching(day, solution, texts, event, day.squadrons[name])
        for event in day.events
        if event.launch is not None
        for name in dict.fromkeys(seat.squadron for seat in event.seats)
    )


def launching(
    day: Day, solution: Solution, texts: Mapping[str, str], event: FlyingEvent, squadron: Squadron
) -> Launching:
    """One squadron's launch of one event. Arguments as of `launchings`."""
    part = f"{squadron.ship}.{squadron.type}"
    own = part == day.part
    theirs = solution if own else solution.parts[part]
    spots = [spot for spot in solution.spots if spot.carrier == squadron.ship and event_key(event) in spot.events]
    return Launching(
        event=event,
        squadron=squadron,
        day=day if own else day.parts[part],
        solution=theirs,
        stem="" if own else f"parts.{part}.",
        texts=texts,
        seats=tuple(seat for seat in event.seats if seat.squadron == squadron.name),
        found=theirs.launches.get(event_key(event)),
        spot=spots[0] if spots else None,
    )


def called(seat: Seat) -> str:
    """A seat's number and name, cut where it would not go in a row."""
    return cut(f"{seat.side} {seat.name}")


def cut(text: str) -> str:
    """A text someone gave, cut to a column; the mark of omission shows that it is."""
    words = " ".join(text.split())
    return words if len(words) <= NAME else words[: NAME - 1].rstrip() + "…"


def percent(part: float) -> str:
    """A part of the whole: 0.65 is "65 %"."""
    return f"{100.0 * part:.0f} %"


def flap_cell(of: Launching, seat: Seat, launch: SeatLaunch, *, short: bool = False) -> Cell:
    """Flap as a part of full flap. short : where what it is a part of is said beside it."""
    part = percent(launch.loaded.flap)
    return Cell(part if short else f"{part} of full", of.seat_key(seat, "loaded.flap"))


def power_cells(of: Launching, seat: Seat, launch: SeatLaunch) -> tuple[Cell, Cell]:
    """Power in the run and the engine's speed with it; without either by the gauges, the part of full power and none.

    A part of full power is turned into the pressure for it.
    """
    values = of_type(of.day)
    if why_not(values, ("launch.full_pressure", "launch.full_revolutions")):
        return Cell(f"{percent(launch.loaded.power)} of full", of.seat_key(seat, "loaded.power")), Cell("")
    revolutions = of.given("launch.full_revolutions")
    said = load_said(of.day.givens, event_key(of.event), of.squadron.name)
    pressure_said = said.get("manifold_pressure")
    if pressure_said is not None:
        return _pressure_cell(of, pressure_said), revolutions
    if launch.loaded.power == 1.0:
        return _pressure_cell(of, of.day.givens["type.launch.full_pressure"]), revolutions
    engine = engine_of(values)
    pressure = pressure_for(engine, launch.loaded.power * engine.shaft_power, engine.full_revolutions)
    return Cell(pressure_text(pressure), of.seat_key(seat, "loaded.power")), revolutions


def pressure_text(pressure: float) -> str:
    """A manifold pressure [Pa] as the gauges are read, to a tenth."""
    return write(pressure, PRESSURE, decimals=1)


def braked_cell(of: Launching, seat: Seat, launch: SeatLaunch) -> Cell:
    """Manifold pressure run up to on the brakes; empty for one that is shot off, or whose type gives none."""
    if launch.shot is not None:
        return Cell("")
    if launch.settings is not None:
        pressure = launch.settings.braked_pressure
        key = of.seat_key(seat, "settings.braked_pressure")
        return Cell("") if pressure is None else Cell(pressure_text(pressure), key)
    given = of.day.givens.get("type.launch.braked_pressure")
    return Cell("") if given is None else _pressure_cell(of, given)


def _pressure_cell(of: Launching, given: Given) -> Cell:
    key = next(key for key, each in of.day.givens.items() if each is given)
    return Cell(pressure_text(given.value), f"{of.stem}{key}")


def trim_cell(of: Launching, launch: SeatLaunch) -> Cell:
    """Trim for take-off: that for heavy stores, where the type gives one, from half of the heaviest on (own rule)."""
    loaded = of.given("launch.trim_loaded")
    heavy = launch.loaded.stores > 0.5 * of.day.number("type.launch.stores_weight")
    return loaded if heavy and loaded.text else of.given("launch.trim")


def in_hand_cell(of: Launching, seat: Seat, launch: SeatLaunch, *, strong: bool = True) -> Cell:
    """Deck ahead at lift-off, or speed over that of lift-off after a shot; what is short says so in words."""
    if launch.shot is not None:
        cell = of.cell(seat, "shot.speed_margin", strong=strong)
        side = "over" if launch.shot.speed_margin >= 0.0 else "below"
        return Cell(f"{cell.text.lstrip('-')} {side} lift-off", cell.key, strong)
    if launch.run is None:
        return Cell("")
    if launch.run.length_margin is None:
        return Cell("does not lift off", strong=strong)
    return _or_short(of.cell(seat, "run.length_margin", strong=strong), launch.run.length_margin)


def _or_short(cell: Cell, value: float) -> Cell:
    return cell if value >= 0.0 else Cell(f"short by {cell.text.lstrip('-')}", cell.key, cell.strong)


def needed_cell(of: Launching, seat: Seat, launch: SeatLaunch) -> Cell:
    """Run needed, or how else it goes."""
    if launch.shot is not None:
        return Cell("catapult")
    if launch.spot is None:
        return Cell("no place on deck")
    if launch.run is None:
        return Cell("no run is left")
    return of.cell(seat, "run.distance") if launch.run.distance is not None else Cell("no run is enough")


def left_cell(of: Launching, seat: Seat, launch: SeatLaunch) -> Cell:
    """Run left; who is shot off makes none."""
    return Cell("") if launch.shot is not None else of.cell(seat, "spot.run_left")


def any_run(of: Launching) -> bool:
    """Whether anyone of a launch runs."""
    return any(launch.run is not None for _, launch in of.launched())


def any_shot(of: Launching) -> bool:
    """Whether anyone of a launch is shot off."""
    return any(launch.shot is not None for _, launch in of.launched())


def bow_cell(of: Launching, seat: Seat, launch: SeatLaunch) -> Cell:
    """Indicated airspeed at the bow."""
    return of.cell(seat, "shot.bow_speed" if launch.shot is not None else "run.bow_speed")


def least_in_hand(of: Launching) -> tuple[Seat, SeatLaunch] | None:
    """Who of those that run has least deck in hand; of those shot off only, least speed; None where nobody goes."""
    run = [(seat, launch) for seat, launch in of.launched() if launch.run is not None]
    shot = [(seat, launch) for seat, launch in of.launched() if launch.shot is not None]
    return min(run or shot, key=lambda pair: _margin(pair[1]), default=None)


def _margin(launch: SeatLaunch) -> float:
    if launch.shot is not None:
        return launch.shot.speed_margin
    margin = launch.run.length_margin if launch.run is not None else None
    return float("-inf") if margin is None else margin


def why_unsolved(reason: str) -> str:
    """Why there is no launch, in one short line: of many keys a type does not give the first are named."""
    before, gives, listed = reason.partition(" does not give ")
    names: Sequence[str] = listed.split(", ")
    if len(names) > MOST_MISSING:
        listed = f"{', '.join(names[:MOST_MISSING])} and {len(names) - MOST_MISSING} more"
    return f"{before}{gives}{listed}"
