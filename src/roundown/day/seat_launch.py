"""One aeroplane's take-off, from its load, its spot and today's wind and air."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from roundown.catalog.launch_keys import FOR_THE_SETTINGS
from roundown.day.deck_load import event_key, part_of
from roundown.day.facts import of_type
from roundown.day.memory import Memory
from roundown.environment.air import Air, density
from roundown.errors import NoSolution
from roundown.figures import Givens, key_of
from roundown.launch.abort import abort_point
from roundown.launch.catapult import shot
from roundown.launch.clearance import Clearance, Obstacle, Side, wingtip_clearance
from roundown.launch.clearing import ClearingTurn, clearing
from roundown.launch.deck_plan import Deck
from roundown.launch.deck_run import Run, deck_run, true_airspeed
from roundown.launch.facts import RunFacts
from roundown.launch.loading import Loaded, loaded
from roundown.launch.of_type import full_weight, launch_aeroplane, settings_facts, why_not
from roundown.launch.past_bow import PastBow, past_bow
from roundown.launch.result import DeckSpot, SeatLaunch
from roundown.launch.sequence import TakeOff
from roundown.launch.settings import SettingsFacts, rudder_speed_at, settings_of
from roundown.launch.spot import Spotted
from roundown.plan.deck import load_said
from roundown.plan.facts import Day, FlyingEvent, Seat
from roundown.ship.flight import LaunchFlight


@dataclass(frozen=True, eq=False)
class Seated:
    """One seat with what its take-off was solved from.

    day : of its carrier and type; facts : of its run; settings : on the brakes, None where its type lacks keys
    """

    event: FlyingEvent
    seat: Seat
    day: Day
    facts: RunFacts
    settings: SettingsFacts | None
    launch: SeatLaunch

    @property
    def key(self) -> str:
        """Of the seat among the figures."""
        return key_of(self.seat.side)

    @property
    def full_weight(self) -> float:
        """With full tanks and the heaviest stores [kg]."""
        return full_weight(of_type(self.day))

    @property
    def called(self) -> str:
        """Its number and name, for people."""
        return f"{self.seat.side} {self.seat.name}".strip()


def seat_launch(
    day: Day,
    event: FlyingEvent,
    seat: Seat,
    number: int | None,
    stood: DeckSpot,
    flight: LaunchFlight,
    take_off: TakeOff,
    memory: Memory,
) -> Seated:
    """The take-off of one seat of a deck load.

    day : the whole; number : on the deck, None without a place; stood : the deck load spotted
    flight : of its carrier, to launch
    Raises NoSolution, naming type and keys, where the type does not give what the run needs.
    """
    part = part_of(day, seat)
    values, said = of_type(part), load_said(part.givens, event_key(event), seat.squadron)
    try:
        weighed = loaded(values, said)
    except NoSolution as error:
        raise NoSolution(f"{error.sought} ({part.word('type.label').split(',')[0]})") from error
    spot = stood.spotting.places.get(key_of(seat.side))
    facts = launch_facts(part, flight, weighed, stood.deck.length if spot is None else spot.run_left)
    braked = None
    if not why_not(values, FOR_THE_SETTINGS):
        air = density(facts.deck_height, Air(facts.temperature, facts.pressure))
        braked = _braked(settings_facts(values, air, facts.wind_ahead, weighed.weight), said)
    shoots = seat.side in event.catapult and "ship.catapult.speed" in part.givens
    thrown = shot(facts, part.number("ship.catapult.speed")) if shoots else None
    run = None
    if spot is not None and spot.run_left > 0.0 and not shoots:
        run = memory.recall("run", facts, lambda: deck_run(facts))
    past = _past_bow(
        facts, thrown.bow_airspeed if thrown is not None else None if run is None else run.bow_airspeed, memory
    )
    brakes = part.number("type.launch.brake_friction")
    launch = SeatLaunch(
        number=number,
        loaded=weighed,
        settings=None if braked is None else settings_of(braked),
        spot=spot,
        run=run,
        shot=thrown,
        past_bow=past,
        clearing=None if past is None else clearing(facts, past, clearing_turn(part)),
        clearance=None if spot is None or run is None else _clearance(part, stood.deck, spot, run, facts),
        abort=None if run is None else memory.recall("abort", (facts, brakes), lambda: abort_point(run, facts, brakes)),
        take_off=take_off,
    )
    return Seated(event, seat, part, facts, braked, launch)


def launch_facts(day: Day, flight: LaunchFlight, load: Loaded, run: float) -> RunFacts:
    """One aeroplane of a day's type on its spot. run : from the wheels to the bow [m]. Raises NoSolution."""
    return RunFacts(
        aeroplane=launch_aeroplane(of_type(day), load.weight, load.flap, load.power),
        temperature=day.number("weather.temperature"),
        pressure=day.number("weather.pressure"),
        deck_height=day.number("ship.deck_height"),
        wind_ahead=flight.over_deck * math.cos(flight.off_bow),
        wind_across=flight.over_deck * math.sin(flight.off_bow),
        ship_speed=flight.speed,
        run=run,
    )


def clearing_turn(day: Day) -> ClearingTurn:
    """The doctrine's turn past the bow."""
    stem = "doctrine.launch.clearing_"
    return ClearingTurn(
        side=1.0 if day.word(f"{stem}side") == "starboard" else -1.0,
        bank=day.number(f"{stem}bank"),
        change=day.number(f"{stem}change"),
        wait=day.number(f"{stem}wait"),
        hold=day.number(f"{stem}hold"),
    )


def _braked(facts: SettingsFacts, said: Givens) -> SettingsFacts:
    """With the pressure run up to on the brakes that the event says, never more than that of its run."""
    pressures = [each for each in (facts.braked_pressure, facts.engine.full_pressure) if each is not None]
    if "braked_pressure" in said:
        pressures = [said["braked_pressure"].value]
    elif facts.braked_pressure is None:
        return facts
    if "manifold_pressure" in said:
        pressures.append(said["manifold_pressure"].value)
    return replace(facts, braked_pressure=min(pressures))


def _past_bow(facts: RunFacts, airspeed: float | None, memory: Memory) -> PastBow | None:
    """The flight past the bow from a true airspeed there [m/s]."""
    if airspeed is None:
        return None
    return memory.recall("past the bow", (facts, airspeed), lambda: past_bow(facts, airspeed))


def _clearance(day: Day, deck: Deck, spot: Spotted, run: Run, facts: RunFacts) -> Clearance | None:
    """Wingtips along a run, past island, keep-outs and what stands at the deck's edge."""
    values = of_type(day)
    obstacles = []
    for each in deck.keep_outs:
        side = Side.PORT if each.port + each.starboard > 0.0 else Side.STARBOARD
        edge = each.starboard if side is Side.PORT else -each.port
        obstacles.append(Obstacle(each.name, each.after, each.fore, side, edge))
    if "ship.deck.clear_width" in day.givens:
        half = 0.5 * day.number("ship.deck.clear_width")
        obstacles += [Obstacle(f"gun tubs to {side.name.lower()}", 0.0, deck.length, side, half) for side in Side]
    swing, held = values.get("launch.swing"), 0.0
    if swing is not None and "launch.rudder_speed" in values:
        part = facts.aeroplane.shaft_power / day.number("type.shaft_power")
        held = _held_after(run, facts, rudder_speed_at(values["launch.rudder_speed"].value, part))
    return wingtip_clearance(
        obstacles,
        0.5 * facts.aeroplane.wing_span,
        spot.launch_ahead,
        spot.run_left,
        day.number("doctrine.spot.line"),
        swing.value if swing is not None else 0.0,
        held,
    )


def _held_after(run: Run, facts: RunFacts, speed: float) -> float:
    """Run after which full rudder holds the nose [m]. speed : indicated airspeed from which it does [m/s]."""
    held = run.path.airspeed >= true_airspeed(speed, facts)
    return float(run.path.place[held.argmax()]) if held.any() else float(run.path.place[-1])
