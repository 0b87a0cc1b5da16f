"""What a type's numbers come to, so that they can be set beside what the simulator's machine does.

*Method:* as each figure says. *Holds for:* still air, standard day, sea level; full power as given.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from roundown.catalog.launch_keys import FOR_THE_RUN, FOR_THE_SETTINGS, FOR_THE_SPOT, missing
from roundown.environment.air import SEA_LEVEL_DENSITY, SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE
from roundown.errors import NoSolution
from roundown.figures import Givens, figure
from roundown.launch.deck_run import Run, deck_run
from roundown.launch.facts import RunFacts
from roundown.launch.of_type import aeroplane_at, full_weight, launch_aeroplane, settings_facts, why_not
from roundown.launch.settings import (
    brake_limit,
    power_for_thrust,
    pressure_limit,
    propeller_clearance,
    rudder_speed_at,
    tail_rise_limit,
)
from roundown.motion.aeroplane import level_speed, stall_speed
from roundown.motion.climb import Climb, best_climb
from roundown.motion.engine import power_at
from roundown.quantities import (
    CLIMB_RATE,
    FORCE,
    INDICATED_SPEED,
    KNOT,
    LENGTH,
    MASS,
    PRESSURE,
    RATIO,
    TRUE_SPEED,
)

LONG_DECK = 3000.0  # m, longer than any run that is found
_WEIGHTS = ("type.landing_weight", "type.launch.*")
_STALL = ("type.wing_area", "type.lift_clean", "type.lift_flap", "type.position_error.*", *_WEIGHTS)
_POWERED = (
    "type.wing_area", "type.lift_clean", "type.zero_lift_drag", "type.induced_drag", "type.shaft_power",
    "type.propeller_diameter", "type.figure_of_merit", *_WEIGHTS,
)  # fmt: skip
_RUN = (*_STALL, *_POWERED, "type.wing_span", "type.gear_drag", "type.flap_drag")
_BRAKED = ("type.launch.*", "type.shaft_power", "type.propeller_diameter", "type.figure_of_merit")
_LIFT = "lift = weight at the greatest lift coefficient, linear in the flap between the two given"
_MOMENTS = "moments about the braked wheels (own derivation, launch/settings.py)"
_FROM_THRUST = "thrust by momentum theory in still air; power straight in manifold pressure (motion/engine.py)"


@dataclass(frozen=True, kw_only=True)
class AtWeight:
    """The type at one weight. None: the type lacks keys for it, or full power does not carry it.

    calm_run, run_in_wind : full power, the type's own flap
    """

    weight: float = figure(MASS, "weight", "given, or the sum of what is loaded", _WEIGHTS)
    stall_clean: float = figure(INDICATED_SPEED, "stall, flap up, throttle shut", _LIFT, _STALL)
    stall_take_off: float | None = figure(INDICATED_SPEED, "stall, take-off flap, throttle shut", _LIFT, _STALL)
    stall_flap: float = figure(INDICATED_SPEED, "stall, full flap, throttle shut", _LIFT, _STALL)
    level_speed: float | None = figure(
        TRUE_SPEED, "greatest level speed at sea level, full power, clean", "thrust = drag", _POWERED
    )
    climb_rate: float | None = figure(
        CLIMB_RATE, "best climb at sea level, full power, clean", "thrust less drag, times speed, by weight", _POWERED
    )
    climb_speed: float | None = figure(TRUE_SPEED, "airspeed of the best climb", "where that is greatest", _POWERED)
    lift_off_speed: float | None = figure(
        INDICATED_SPEED, "lift-off, take-off flap", "stall times the type's margin", _STALL
    )
    calm_run: float | None = figure(LENGTH, "deck run in a calm", "run integrated (launch/deck_run.py)", _RUN)
    run_in_wind: float | None = figure(
        LENGTH, "deck run with 30 kt over the deck", "run integrated (launch/deck_run.py)", _RUN
    )


@dataclass(frozen=True, kw_only=True)
class OnTheBrakes:
    """The type at full weight, in a calm, brakes on, stick right back. None: not reached with full power."""

    tail_rise_thrust: float = figure(FORCE, "thrust at which the tail lifts", _MOMENTS, _BRAKED)
    tail_rise_pressure: float | None = figure(
        PRESSURE, "manifold pressure at which the tail lifts", _FROM_THRUST, _BRAKED
    )
    tail_rise_power: float = figure(RATIO, "the power that is, as a part of full power", _FROM_THRUST, _BRAKED)
    brake_thrust: float = figure(
        FORCE, "greatest thrust the brakes hold", "brake friction times weight, all of it on the wheels", _BRAKED
    )
    brake_pressure: float | None = figure(PRESSURE, "manifold pressure at which they slip", _FROM_THRUST, _BRAKED)
    rudder_braked: float | None = figure(
        INDICATED_SPEED,
        "airspeed from which full rudder holds the power run up to on the brakes",
        "square root of the part of full power (own rule)",
        _BRAKED,
    )
    clearance_tail_up: float = figure(
        LENGTH, "propeller tip from the deck, tail up", "straight line between two attitudes", _BRAKED
    )


@dataclass(frozen=True, kw_only=True)
class TypeReport:
    """weights : "empty", "landing" and "full", those that are known; braked : None where keys for it are missing.

    absent : what each part of the launch waits for, by its name; empty where nothing is missing.
    """

    weights: Mapping[str, AtWeight]
    braked: OnTheBrakes | None
    absent: Mapping[str, tuple[str, ...]]


def type_report(values: Givens) -> TypeReport:
    """What the values of a type, by key name without "type." before it, come to."""
    loads = {"landing": values["landing_weight"].value}
    if not missing(values, ("launch.empty_weight", "launch.fuel_weight")):
        empty = values["launch.empty_weight"].value
        loads = {"empty": empty, **loads, "full": full_weight(values)}
    wanted = {"the deck run": FOR_THE_RUN, "the settings": FOR_THE_SETTINGS, "the spot": FOR_THE_SPOT}
    absent = {part: tuple(missing(values, keys)) for part, keys in wanted.items()}
    return TypeReport(
        weights={name: _at_weight(values, mass) for name, mass in loads.items()},
        braked=None if absent["the settings"] else _on_the_brakes(values),
        absent={part: keys for part, keys in absent.items() if keys},
    )


def _at_weight(values: Givens, mass: float) -> AtWeight:
    aeroplane = aeroplane_at(values, mass)
    flap = values.get("launch.take_off_flap")
    climb: Climb | None = None
    level: float | None = None
    try:
        level = level_speed(aeroplane)
        climb = best_climb(aeroplane)
    except NoSolution:
        pass
    runs = [] if why_not(values) else [_run(values, mass, wind) for wind in (0.0, 30.0 * KNOT)]
    return AtWeight(
        weight=mass,
        stall_clean=stall_speed(aeroplane, 0.0),
        stall_take_off=None if flap is None else stall_speed(aeroplane, flap.value),
        stall_flap=stall_speed(aeroplane, 1.0),
        level_speed=level,
        climb_rate=None if climb is None else climb.rate,
        climb_speed=None if climb is None else climb.speed,
        lift_off_speed=runs[0].lift_off_speed if runs else None,
        calm_run=runs[0].distance if runs else None,
        run_in_wind=runs[1].distance if runs else None,
    )


def _run(values: Givens, mass: float, wind: float) -> Run:
    """The run on a level deck at the sea, long enough to lift off from. mass [kg]; wind : over the deck [m/s]."""
    facts = RunFacts(
        aeroplane=launch_aeroplane(values, mass),
        temperature=SEA_LEVEL_TEMPERATURE,
        pressure=SEA_LEVEL_PRESSURE,
        deck_height=0.0,
        wind_ahead=wind,
        wind_across=0.0,
        ship_speed=0.0,
        run=LONG_DECK,
    )
    return deck_run(facts)


def _on_the_brakes(values: Givens) -> OnTheBrakes:
    facts = settings_facts(values, SEA_LEVEL_DENSITY, 0.0)
    rise = tail_rise_limit(facts.mass, facts.wheels_ahead, facts.thrust_height, facts.tail_hold)
    held = brake_limit(facts.mass, facts.brake_friction)
    power = power_for_thrust(rise, 0.0, facts.density, facts.propeller_diameter, facts.figure_of_merit)
    engine = facts.engine
    braked = None
    if facts.braked_pressure is not None:
        part = power_at(engine, facts.braked_pressure, engine.full_revolutions) / engine.shaft_power
        braked = rudder_speed_at(facts.rudder_speed, part)
    return OnTheBrakes(
        tail_rise_thrust=rise,
        tail_rise_pressure=pressure_limit(facts, rise),
        tail_rise_power=power / engine.shaft_power,
        brake_thrust=held,
        brake_pressure=pressure_limit(facts, held),
        rudder_braked=braked,
        clearance_tail_up=propeller_clearance(facts.tail_up, facts),
    )
