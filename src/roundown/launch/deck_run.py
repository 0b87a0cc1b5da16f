"""One aeroplane's run from its spot to the bow: does it fly off, and with what in hand?

*Method:* the run integrated (launch/kernel.py) with ground effect (launch/ground_effect.py), lift-off where the
airspeed is the type's margin over the stall, throttle shut, or where the wing carries the weight before that. Beside it
stands the rule of thumb s = s_calm (1 - W / V)^2 with W the wind over the deck from ahead and V the airspeed at
lift-off: the limit of constant acceleration, too short by some per cent for a propeller.

*Holds for:* as launch/kernel.py; incompressible airspeed; thrust along the deck with the tail up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from roundown.environment.air import SEA_LEVEL_DENSITY
from roundown.figures import figure
from roundown.launch import kernel
from roundown.launch.facts import LaunchAeroplane, RunFacts, stall_speed
from roundown.launch.ground_effect import ground_factor
from roundown.launch.kernel import Deck, Floats, Load, Outcome
from roundown.launch.spot import SPOT_INPUTS
from roundown.motion.equations.kernel import density_at
from roundown.motion.position_error import calibrated, indicated
from roundown.quantities import ACCELERATION, FORCE, INDICATED_SPEED, LENGTH, SPEED_MARGIN, TIME, TRUE_SPEED

ROWS = round(kernel.LONGEST / kernel.STEP) + 8  # of a recorded run, with those where steps are cut

AEROPLANE_INPUTS = (
    "type.wing_area", "type.wing_span", "type.lift_clean", "type.lift_flap", "type.zero_lift_drag", "type.gear_drag",
    "type.flap_drag", "type.induced_drag", "type.shaft_power", "type.figure_of_merit", "type.propeller_diameter",
    "type.launch.*", "type.position_error.*", "event.*",
)  # fmt: skip
RUN_INPUTS = (
    *AEROPLANE_INPUTS, *SPOT_INPUTS, "launch_flight.course", "launch_flight.speed", "weather.*", "ship.deck_height",
)  # fmt: skip
_ENGINE = "run integrated from brakes off (launch/kernel.py)"
_GROUND = "ground effect by Anderson, Aircraft Performance and Design, Eq. 6.77 (launch/ground_effect.py)"
_METHOD = f"{_ENGINE}; {_GROUND}"


@dataclass(frozen=True, eq=False)
class RunPath:
    """The run for drawing, one entry a moment; two at the same moment where the tail comes up. Read-only.

    time [s]; place : of the wheels from the spot [m]; speed : past the deck, airspeed : true [m/s]
    thrust, drag, load : the last is the weight on the wheels [N]; angle : of attack, pitch : of the deck [rad]
    """

    time: Floats
    place: Floats
    speed: Floats
    airspeed: Floats
    thrust: Floats
    drag: Floats
    load: Floats
    angle: Floats
    pitch: Floats


@dataclass(frozen=True, eq=False, kw_only=True)
class Run:
    """The run. None stands where it never comes to that: thrust too small for its wheels, or not within 3000 m.

    flies_off : lift-off speed is there before the bow; may_sink : it passes the bow below lift-off speed
    """

    distance: float | None = figure(LENGTH, "run needed from brakes off to lift-off", _METHOD, RUN_INPUTS)
    time: float | None = figure(TIME, "from brakes off to lift-off", _METHOD, RUN_INPUTS)
    lift_off_speed: float = figure(
        INDICATED_SPEED,
        "indicated airspeed at lift-off, unless the wing carries the weight sooner",
        "stall, throttle shut, times the type's margin (launch/facts.py)",
        AEROPLANE_INPUTS,
    )
    bow_speed: float | None = figure(
        INDICATED_SPEED,
        "indicated airspeed at the bow; after lift-off it gains speed as on the deck",
        _METHOD,
        RUN_INPUTS,
    )
    bow_airspeed: float | None = figure(TRUE_SPEED, "true airspeed at the bow", _METHOD, RUN_INPUTS)
    length_margin: float | None = figure(
        LENGTH, "deck ahead of the wheels at lift-off; less than nothing: short by that", _METHOD, RUN_INPUTS
    )
    speed_margin: float | None = figure(
        SPEED_MARGIN, "indicated airspeed at the bow over that at lift-off", _METHOD, RUN_INPUTS
    )
    start_acceleration: float = figure(ACCELERATION, "acceleration as the brakes are let go", _ENGINE, RUN_INPUTS)
    start_thrust: float = figure(
        FORCE,
        "thrust as the brakes are let go",
        "momentum theory, T (V + w) = figure of merit times shaft power (motion/equations/kernel.py)",
        RUN_INPUTS,
    )
    rule_distance: float | None = figure(
        LENGTH,
        "run by the rule of thumb from the run in a calm",
        "s = s_calm (1 - W / V)^2, W over the deck from ahead, V at lift-off; limit of constant acceleration",
        RUN_INPUTS,
    )
    rule_excess: float | None = figure(
        LENGTH, "rule of thumb less integrated run", "rule_distance less distance", RUN_INPUTS
    )
    flies_off: bool
    may_sink: bool
    path: RunPath


def true_airspeed(shown: float, facts: RunFacts) -> float:
    """True airspeed on the deck of an indicated one [m/s]."""
    return calibrated(shown, facts.aeroplane.position_error) * math.sqrt(SEA_LEVEL_DENSITY / _density(facts))


def indicated_airspeed(true: float, facts: RunFacts) -> float:
    """Indicated airspeed on the deck of a true one [m/s]."""
    return indicated(true * math.sqrt(_density(facts) / SEA_LEVEL_DENSITY), facts.aeroplane.position_error)


def lift_off_airspeed(facts: RunFacts) -> float:
    """True airspeed of lift-off [m/s]: the margin is taken on the stall free of position error."""
    return _lift_off_calibrated(facts.aeroplane) * math.sqrt(SEA_LEVEL_DENSITY / _density(facts))


def _lift_off_calibrated(aeroplane: LaunchAeroplane) -> float:
    """Airspeed of lift-off free of position error, at sea level density [m/s]."""
    return aeroplane.lift_off_margin * calibrated(stall_speed(aeroplane), aeroplane.position_error)


def load_of(facts: RunFacts) -> Load:
    """The aeroplane in the order the kernel wants it."""
    craft = facts.aeroplane
    return (
        craft.mass,
        craft.flap,
        ground_factor(craft.wing_height, craft.wing_span),
        craft.friction,
        craft.three_point,
        craft.tail_up,
        kernel.PROPELLER,
        craft.useful_power,
        craft.disc,
        true_airspeed(craft.tail_up_speed, facts),
        lift_off_airspeed(facts),
        0.0,
        0.0,
        0.0,
    )


def deck_of(facts: RunFacts, sway: float = 0.0, rate: float = 0.0, phase: float = 0.0) -> Deck:
    """The deck in the order the kernel wants it.

    sway : pitch either way from that of the facts [rad]; rate : of its cycle [rad/s]; phase : at brakes off [rad]
    """
    return (facts.wind_ahead, facts.wind_across, facts.run, _density(facts), facts.pitch, sway, rate, phase)


def roll(facts: RunFacts, sway: float = 0.0, rate: float = 0.0, phase: float = 0.0) -> Outcome:
    """One run without its path; arguments as deck_of, answer by the O_ indices of launch/kernel.py."""
    deck = deck_of(facts, sway, rate, phase)
    return kernel.run(load_of(facts), facts.aeroplane.wing, deck, np.empty((0, kernel.COLUMNS)))


def deck_run(facts: RunFacts) -> Run:
    """The run from brakes off to the bow, and on to lift-off if that comes later."""
    load, deck, records = load_of(facts), deck_of(facts), np.empty((ROWS, kernel.COLUMNS))
    off_time, off_place, _, _, bow_speed, rows = kernel.run(load, facts.aeroplane.wing, deck, records)
    thrust, _, _, acceleration = kernel.forces(0.0, 0.0, _first_angle(load, deck), load, facts.aeroplane.wing, deck)
    lift_off = indicated(_lift_off_calibrated(facts.aeroplane), facts.aeroplane.position_error)
    distance = off_place if math.isfinite(off_place) else None
    airspeed = kernel.airspeed_at(bow_speed, deck) if math.isfinite(bow_speed) else None
    shown = None if airspeed is None else indicated_airspeed(airspeed, facts)
    rule = _rule(facts)
    flies_off = distance is not None and distance <= facts.run
    return Run(
        distance=distance,
        time=off_time if distance is not None else None,
        lift_off_speed=lift_off,
        bow_speed=shown,
        bow_airspeed=airspeed,
        length_margin=None if distance is None else facts.run - distance,
        speed_margin=None if shown is None else shown - lift_off,
        start_acceleration=acceleration,
        start_thrust=thrust,
        rule_distance=rule,
        rule_excess=None if rule is None or distance is None else rule - distance,
        flies_off=flies_off,
        may_sink=not flies_off,
        path=_path(records[:rows]),
    )


def _first_angle(load: Load, deck: Deck) -> float:
    tail_up = kernel.airspeed_at(0.0, deck) >= load[kernel.L_TAIL_SPEED]
    return load[kernel.L_UP] if tail_up else load[kernel.L_DOWN]


def _rule(facts: RunFacts) -> float | None:
    """Run by the rule of thumb [m], from the integrated run in a calm."""
    calm = roll(replace(facts, wind_ahead=0.0, wind_across=0.0))[kernel.O_OFF_PLACE]
    left = max(1.0 - facts.wind_ahead / lift_off_airspeed(facts), 0.0)
    return calm * left * left if math.isfinite(calm) else None


def _path(rows: Floats) -> RunPath:
    kept = rows.copy()
    kept.setflags(write=False)
    return RunPath(*kept.T)


def _density(facts: RunFacts) -> float:
    return density_at(facts.deck_height, (facts.temperature, facts.pressure))
