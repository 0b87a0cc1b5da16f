"""Where does it touch, which wire does it take, and how late may the cut be?

*Method:* the final comes straight down its slope through the air, at the height and speed asked for over the ramp if
the throttle is still open there; past the ship that slope is steeper by airspeed over closing speed. The cut is given
where the doctrine says; after the time to react the throttle is shut, and the flight goes on from there as the pilot
lets the nose dip and eases back (recovery/after_cut.py). The hook's point keeps its place behind and below the main
wheels: he eases back just as much as keeps the attitude of the approach where the wheels touch.

Nothing in that flight depends on the deck. A cut elsewhere therefore moves it along the slope of the final, so that it
also begins higher or lower: the wheels are over x at the slope's height there less what the flight has dropped under
the slope since the throttle. Earliest and latest cut are where that drop is just what may be or what is needed; another
height over the ramp lifts or lowers all of it. So all four follow from the one flight. Other speeds are flown anew.
*Holds for:* the ship on a steady course; the slope is the mean one from the ninety to the ramp.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from roundown.environment.air import SEA_LEVEL_DENSITY
from roundown.errors import NoSolution
from roundown.figures import Givens
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.equations.kernel import density_at
from roundown.motion.position_error import calibrated, indicated
from roundown.quantities import FOOT, KNOT
from roundown.recovery.after_cut import STEP, Approach, Flight, Hand, Moment, closing_speed, fly_on, steady_approach
from roundown.recovery.arresting import Gear, Hook, arrest, wire_taken
from roundown.recovery.deck_motion import DeckMotion, PointPath, meetings, worst_motion
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.touchdown_result import Moved, Touchdown

NOT_DOWN = "a touchdown: it does not come down to the deck"
LOWER = 0.01  # m, that it is flown below what is asked for
HEIGHT_ERROR, SPEED_ERROR, CUT_ERROR = 5.0 * FOOT, 3.0 * KNOT, 0.3  # m, m/s, s; own choice

_GEAR = ("wires", "first_wire", "spacing", "run_out", "rating_weight", "rating_speed", "barrier_place")
NEEDED = ("type.hook.behind", "type.hook.below", *(f"ship.gear.{name}" for name in _GEAR))


@dataclass(frozen=True)
class NoTouchdown:
    """Why the touchdown is not worked out. reason, remedy : sentences, without a full stop."""

    reason: str
    remedy: str


@dataclass(frozen=True)
class TouchdownFacts:
    """SI and radians.

    aeroplane : at its weight on coming aboard; wing_span [m]
    temperature [K], pressure [Pa] : at sea level; deck_height : over the sea [m]
    wind_ahead, wind_across : over the deck, from ahead and from either side [m/s]
    ramp_height : of the wheels over the ramp, with the throttle open [m]; ramp_speed : indicated airspeed there [m/s]
    slope : of the approach through the air, down positive, not negative [rad]
    cut_ahead : where the cut is given, ahead of the ramp [m]; reaction : from the cut to the throttle shut [s]
    clearance : least of the hook over the ramp [m]; hand : what the pilot does after the throttle
    sink_limit : fastest sink the undercarriage takes [m/s], hook_load : greatest deceleration [m/s2]; None not known
    """

    aeroplane: Aeroplane
    wing_span: float
    temperature: float
    pressure: float
    deck_height: float
    wind_ahead: float
    wind_across: float
    ramp_height: float
    ramp_speed: float
    slope: float
    cut_ahead: float
    reaction: float
    clearance: float
    hook: Hook
    gear: Gear
    motion: DeckMotion
    hand: Hand
    sink_limit: float | None = None
    hook_load: float | None = None

    @property
    def density(self) -> float:
        """Of the air over the ramp [kg/m3]."""
        return density_at(self.deck_height + self.ramp_height, (self.temperature, self.pressure))


def facts_of(circuit: CircuitFacts, givens: Givens, slope: float) -> TouchdownFacts | NoTouchdown:
    """The facts of a circuit's touchdown; or which keys are missing.

    givens : of the day, by key; slope : of the final through the air, down positive [rad]; a climb counts as level
    """
    absent = [key for key in NEEDED if key not in givens]
    if absent:
        return NoTouchdown(f"The touchdown waits for {', '.join(absent)}", "Give them, or choose another type or ship")

    def given(key: str) -> float:
        return givens[key].value

    def perhaps(key: str) -> float | None:
        return given(key) if key in givens else None

    east, north = circuit.setting.wind(circuit.ramp_over_sea)
    sine, cosine = math.sin(circuit.ship_course), math.cos(circuit.ship_course)
    limit = perhaps("type.landing.sink_limit")
    wires, *rest = (given(f"ship.gear.{name}") for name in _GEAR)
    return TouchdownFacts(
        aeroplane=circuit.aeroplane,
        wing_span=given("type.wing_span"),
        temperature=circuit.temperature,
        pressure=circuit.pressure,
        deck_height=circuit.deck_height,
        wind_ahead=circuit.ship_speed - (east * sine + north * cosine),
        wind_across=abs(east * cosine - north * sine),
        ramp_height=circuit.ramp_height,
        ramp_speed=circuit.ramp_speed,
        slope=max(slope, 0.0),
        cut_ahead=circuit.cut_ahead,
        reaction=given("doctrine.recovery.cut_reaction"),
        clearance=given("doctrine.recovery.ramp_clearance"),
        hook=Hook(given("type.hook.behind"), given("type.hook.below")),
        gear=Gear(round(wires), *rest),
        motion=DeckMotion(
            perhaps("ship.deck.pitch") or 0.0,
            perhaps("ship.deck.heave") or 0.0,
            perhaps("ship.deck.pitch_period") or math.inf,
            circuit.deck_length,
        ),
        hand=Hand(
            given("doctrine.recovery.nose_dip"),
            math.inf if limit is None else given("doctrine.recovery.eased_sink") * limit,
        ),
        sink_limit=limit,
        hook_load=perhaps("type.landing.hook_load"),
    )


def solve_touchdown(facts: TouchdownFacts) -> Touchdown | NoTouchdown:
    """The touchdown; or why there is none."""
    try:
        return _solve(facts)
    except NoSolution as error:
        return NoTouchdown(f"There is no answer for {error.sought}", "Look at the speed over the ramp and the wind")


def flight_of(facts: TouchdownFacts) -> tuple[Approach, Flight]:
    """The approach, and the flight from the throttle shut, as far as any wire, the barrier or the deck's motion asks.

    Raises NoSolution.
    """
    approach = _approach(facts)
    motion, gear = facts.motion, facts.gear
    drop = facts.ramp_height + HEIGHT_ERROR + motion.most(0.0) + max(-facts.hook.below, 0.0)
    run = max(gear.last_wire, gear.barrier_place) + facts.hook.behind
    return approach, fly_on(facts.aeroplane, approach, facts.hand, facts.wind_ahead, facts.wind_across, drop, run)


def _approach(facts: TouchdownFacts) -> Approach:
    free = calibrated(facts.ramp_speed, facts.aeroplane.position_error)
    airspeed = free * math.sqrt(SEA_LEVEL_DENSITY / facts.density)
    return steady_approach(facts.aeroplane, facts.wing_span, airspeed, facts.density, facts.slope)


def _to_deck(facts: TouchdownFacts) -> Flight:
    """The flight from the throttle shut no further than past the ramp and down to the deck, as low as that comes."""
    approach = _approach(facts)
    closing = closing_speed(approach, facts.wind_ahead, facts.wind_across)
    shut = facts.cut_ahead + facts.reaction * closing
    fall = facts.ramp_height - approach.sink / closing * shut + facts.motion.most(0.0) + max(-facts.hook.below, 0.0)
    run = facts.hook.behind - shut
    plane, wind = facts.aeroplane, (facts.wind_ahead, facts.wind_across)
    return fly_on(plane, approach, facts.hand, *wind, math.inf, run, fall + LOWER)


def hook_meets(facts: TouchdownFacts) -> tuple[float, float, bool]:
    """Where the hook meets a steady deck, ahead of the ramp [m]; how far it passes over it [m]; whether it is struck.

    Raises NoSolution.
    """
    flight = _to_deck(facts)
    shut = shut_place(facts, flight)
    ahead, over = _met(flight, shut, facts)
    return ahead, over, over < 0.0 or _wheels_over(flight, shut, facts) < 0.0


def hook_furthest(facts: TouchdownFacts) -> tuple[float, bool]:
    """Where the hook meets the deck at the most, whatever the deck's motion, ahead of the ramp [m]; whether it strikes.

    Raises NoSolution.
    """
    flight = _to_deck(facts)
    shut = shut_place(facts, flight)
    ahead, over = _met(flight, shut, facts)
    struck = over < 0.0 or _wheels_over(flight, shut, facts) < 0.0
    if facts.motion.off:
        return ahead, struck
    return float(np.nanmax(meetings(facts.motion, _hook_path(_path(flight, shut, facts), facts)).ahead)), struck


def shut_place(facts: TouchdownFacts, flight: Flight) -> float:
    """Where the throttle is shut, ahead of the ramp [m]."""
    return facts.cut_ahead + facts.reaction * flight.closing


def cut_to_meet(place: float, flight: Flight, facts: TouchdownFacts) -> float | None:
    """Where the cut brings the hook down at a place, both ahead of the ramp [m]; None where no cut does.

    Where the slope itself comes to the deck before that place: the last cut that shuts the throttle in the air.
    """
    wheels, height = place + facts.hook.behind, facts.ramp_height - facts.hook.below
    met = flight.at_drop(height - flight.descent * wheels)
    if met is None:
        return None
    shut = wheels - met.run
    if flight.descent > 0.0:
        shut = min(shut, height / flight.descent)
    return shut - facts.reaction * flight.closing


def _solve(facts: TouchdownFacts) -> Touchdown:
    approach, flight = flight_of(facts)
    shut, hook, gear, plane = shut_place(facts, flight), facts.hook, facts.gear, facts.aeroplane
    begun = _height_shut(flight, shut, facts)
    touch, hooked = flight.at_fall(begun), flight.at_fall(begun - hook.below)
    if touch is None or hooked is None:
        raise NoSolution(NOT_DOWN)
    hook_ahead, over_ramp = _met(flight, shut, facts)
    closing = hooked.level - facts.wind_ahead
    strikes = over_ramp < 0.0 or _wheels_over(flight, shut, facts) < 0.0
    stop = None if strikes else arrest(hook_ahead, closing, plane.mass, hook, gear)
    at_barrier = None if stop or strikes else _at_barrier(flight, touch, shut, facts)
    earliest, latest = _earliest(flight, facts), cut_to_meet(gear.last_wire, flight, facts)
    wheels = _path(flight, shut, facts)
    point = _hook_path(wheels, facts)
    touch_speed = _indicated(touch, facts)
    return Touchdown(
        cut_height=max(facts.ramp_height - flight.descent * facts.cut_ahead, 0.0),
        throttle_shut=shut,
        carried=approach.carried,
        touch_ahead=shut + touch.run,
        touch_after=facts.reaction + touch.time,
        touch_speed=touch_speed,
        touch_closing=touch.level - facts.wind_ahead,
        sink=-touch.climb,
        speed_lost=facts.ramp_speed - touch_speed,
        hook_over_ramp=over_ramp,
        wheels_over_ramp=_wheels_over(flight, shut, facts),
        hook_ahead=hook_ahead,
        hook_after=facts.reaction + hooked.time,
        hook_closing=closing,
        barrier_closing=None if at_barrier is None else at_barrier.level - facts.wind_ahead,
        barrier_height=None if at_barrier is None else max(begun - at_barrier.fall, 0.0),
        cut_earliest=earliest,
        cut_latest=latest,
        cut_window=None if earliest is None or latest is None else (latest - earliest) / flight.closing,
        cut_in_hand=None if latest is None else (latest - facts.cut_ahead) / flight.closing,
        ramp_lowest=_lowest(flight, shut, facts),
        ramp_highest=_highest(flight, shut, facts),
        strikes=strikes,
        motion=worst_motion(facts.motion, wheels, point, shut + touch.run, over_ramp),
        deck_motion=facts.motion.sentence,
        arresting=stop,
        errors=_errors(hook_ahead, facts),
        wheels=wheels,
        hook=point,
    )


def _indicated(moment: Moment, facts: TouchdownFacts) -> float:
    true = math.sqrt(moment.level**2 + moment.climb**2 + facts.wind_across**2)
    return indicated(true * math.sqrt(facts.density / SEA_LEVEL_DENSITY), facts.aeroplane.position_error)


def _height_shut(flight: Flight, shut: float, facts: TouchdownFacts) -> float:
    """Of the wheels over the deck where the throttle is shut [m]; negative where the slope comes to the deck before."""
    return facts.ramp_height - flight.descent * shut


def _met(flight: Flight, shut: float, facts: TouchdownFacts) -> tuple[float, float]:
    """Where the hook's point meets a steady deck, ahead of the ramp, and how far it passes over the ramp [m].

    Raises NoSolution where it does not come down.
    """
    begun = _height_shut(flight, shut, facts)
    met = flight.at_fall(begun - facts.hook.below)
    if met is None:
        raise NoSolution(NOT_DOWN)
    passing = flight.at_run(facts.hook.behind - shut)
    fallen = begun if passing is None else passing.fall
    return shut + met.run - facts.hook.behind, begun - facts.hook.below - fallen


def _wheels_over(flight: Flight, shut: float, facts: TouchdownFacts) -> float:
    passing = flight.at_run(-shut)
    return 0.0 if passing is None else _height_shut(flight, shut, facts) - passing.fall


def _at_barrier(flight: Flight, touch: Moment, shut: float, facts: TouchdownFacts) -> Moment:
    """At the barrier, flying or rolling."""
    there = flight.at_run(facts.gear.barrier_place - shut)
    return touch if there is None or there.run >= touch.run else there


def _earliest(flight: Flight, facts: TouchdownFacts) -> float | None:
    """Earliest cut: the hook, or the wheels if they hang lower, passes the ramp with the clearance asked for."""
    room = facts.ramp_height - facts.clearance - facts.motion.most(0.0)
    hook_room = room - facts.hook.below - flight.descent * facts.hook.behind
    hook, wheels = flight.at_drop(hook_room), flight.at_drop(room)
    if hook is None or wheels is None or min(hook_room, room) < 0.0:
        return None
    return max(facts.hook.behind - hook.run, -wheels.run) - facts.reaction * flight.closing


def _lowest(flight: Flight, shut: float, facts: TouchdownFacts) -> float | None:
    hook, wheels = flight.at_run(facts.hook.behind - shut), flight.at_run(-shut)
    if hook is None or wheels is None:
        return None
    fallen = max(hook.fall + facts.hook.below, wheels.fall)
    return facts.clearance + facts.motion.most(0.0) + flight.descent * shut + fallen


def _highest(flight: Flight, shut: float, facts: TouchdownFacts) -> float | None:
    last = flight.at_run(facts.gear.last_wire + facts.hook.behind - shut)
    return None if last is None else flight.descent * shut + last.fall + facts.hook.below


def _errors(planned: float, facts: TouchdownFacts) -> dict[str, Moved]:
    """What each error does, by its name. planned : where the hook meets the deck without any [m]."""
    found: dict[str, Moved] = {}
    for name, off in (
        ("early", replace(facts, reaction=facts.reaction - CUT_ERROR)),
        ("late", replace(facts, reaction=facts.reaction + CUT_ERROR)),
        ("low", replace(facts, ramp_height=facts.ramp_height - HEIGHT_ERROR)),
        ("high", replace(facts, ramp_height=facts.ramp_height + HEIGHT_ERROR)),
        ("slow", replace(facts, ramp_speed=facts.ramp_speed - SPEED_ERROR)),
        ("fast", replace(facts, ramp_speed=facts.ramp_speed + SPEED_ERROR)),
    ):
        try:
            ahead, over, struck = hook_meets(off)
        except NoSolution:  # so slow that the wing does not carry it, or so fast that it does not come down
            continue
        wire = None if struck else wire_taken(ahead, facts.gear)
        found[name] = Moved(moved=ahead - planned, hook_ahead=ahead, hook_over_ramp=over, wire=wire)
    return found


def _path(flight: Flight, shut: float, facts: TouchdownFacts) -> PointPath:
    """The wheels from over the ramp on, or from the throttle shut where that comes before; time from the cut."""
    steps = math.ceil(max(shut, 0.0) / (flight.closing * STEP))
    time = -STEP * np.arange(steps, 0, -1)
    begun, sink = _height_shut(flight, shut, facts), -float(flight.climb[0])
    return PointPath(
        time=np.concatenate([time, flight.time]) + facts.reaction,
        ahead=np.concatenate([flight.closing * time, flight.run]) + shut,
        height=begun - np.concatenate([sink * time, flight.fall]),
        closing=np.concatenate([np.full(steps, flight.closing), flight.level - facts.wind_ahead]),
        climb=np.concatenate([np.full(steps, -sink), flight.climb]),
    )


def _hook_path(wheels: PointPath, facts: TouchdownFacts) -> PointPath:
    return replace(wheels, ahead=wheels.ahead - facts.hook.behind, height=wheels.height - facts.hook.below)
