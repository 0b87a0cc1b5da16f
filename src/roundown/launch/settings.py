"""What power, brakes, elevator and rudder allow before the run, and how near the propeller comes to the deck.

*Method:* moments about the point where the braked wheels stand (own derivation): the thrust line passes over it at a
height h and would lift the tail, the weight acts a length a behind it and holds it down, the elevator held up in the
slipstream adds a part of that: the tail lifts above a thrust of W a (1 + hold) / h. The brakes hold a part of the
weight. Thrust and power of the propeller are those of momentum theory, T (V + w) = P with T = 2 rho A (V + w) w, as in
the deck run. The rudder's force goes with the square of the airspeed and the swing with the power, so that the airspeed
from which it holds goes with the square root of the power (own rule). Propeller clearance is a straight line through
the two given attitudes.

*Holds for:* a tail-wheel aeroplane on a level deck; all its weight on the braked wheels, which is so when the tail is
about to lift, and a little much for the brakes before it is; engine speed as for full power.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.environment.air import GRAVITY
from roundown.figures import figure
from roundown.findings import Finding, Level
from roundown.motion.engine import Engine, power_at, pressure_for
from roundown.motion.position_error import Card, calibrated, indicated
from roundown.quantities import (
    CLEARANCE,
    INCH_OF_MERCURY,
    INDICATED_SPEED,
    KNOT,
    LENGTH,
    PRESSURE,
    WIND_OVER_DECK,
    write,
)

THIN_CLEARANCE = 6.0 * 0.0254  # m, propeller tip to deck below which a bounce is worth a word; own rule, no source
_INPUTS = (
    "type.launch.*", "type.shaft_power", "type.propeller_diameter", "type.figure_of_merit", "type.position_error.*",
    "event.*", "weather.*", "launch_flight.course", "launch_flight.speed", "ship.deck_height",
)  # fmt: skip
_MOMENTS = "moments about the braked wheels (own derivation, launch/settings.py)"
LEAST_BRAKED = 15.0 * INCH_OF_MERCURY  # Pa, below which no remedy asks for running up less; own rule


@dataclass(frozen=True)
class SettingsFacts:
    """A type at its take-off weight on its spot, brakes on, tail down; SI and radians.

    mass [kg]; engine; figure_of_merit [0..1]; propeller_diameter [m]
    wheels_ahead : of the centre of gravity, tail down [m]; thrust_height : thrust line over the deck at the wheels [m]
    tail_hold : part by which elevator held up adds to the weight's moment; brake_friction : part of the weight held
    rudder_speed : indicated airspeed from which full rudder holds full power [m/s]
    three_point, tail_up : angles of attack [rad]; clearance_three_point, clearance_tail_up : of the propeller there [m]
    braked_pressure : manifold pressure run up to on the brakes [Pa], None where none is given
    density [kg/m3]; wind_ahead : over the deck, from ahead [m/s]; position_error : card of the airspeed dial
    """

    mass: float
    engine: Engine
    figure_of_merit: float
    propeller_diameter: float
    wheels_ahead: float
    thrust_height: float
    tail_hold: float
    brake_friction: float
    rudder_speed: float
    three_point: float
    tail_up: float
    clearance_three_point: float
    clearance_tail_up: float
    braked_pressure: float | None
    density: float
    wind_ahead: float
    position_error: Card = ()


@dataclass(frozen=True, kw_only=True)
class Settings:
    """What a type on its spot allows. None: not reached with full power, or the type gives no braked pressure."""

    braked_pressure: float | None = figure(
        PRESSURE, "manifold pressure run up to on the brakes", "as the event says, else the type's own", _INPUTS
    )

    tail_rise_pressure: float | None = figure(
        PRESSURE, "manifold pressure above which the tail lifts, braked, stick right back", _MOMENTS, _INPUTS
    )
    brake_pressure: float | None = figure(
        PRESSURE, "manifold pressure up to which the brakes hold", "brake friction times weight", _INPUTS
    )
    rudder_speed: float | None = figure(
        INDICATED_SPEED,
        "airspeed from which full rudder holds the power run up to on the brakes",
        "square root of the part of full power (own rule)",
        _INPUTS,
    )
    propeller_clearance: float = figure(
        CLEARANCE, "propeller tip from the deck, tail up", "straight line between two attitudes", _INPUTS
    )


def settings_of(facts: SettingsFacts) -> Settings:
    """What power, brakes, elevator and rudder allow, as figures."""
    rise = tail_rise_limit(facts.mass, facts.wheels_ahead, facts.thrust_height, facts.tail_hold)
    return Settings(
        braked_pressure=facts.braked_pressure,
        tail_rise_pressure=pressure_limit(facts, rise),
        brake_pressure=pressure_limit(facts, brake_limit(facts.mass, facts.brake_friction)),
        rudder_speed=_holds_braked(facts),
        propeller_clearance=propeller_clearance(facts.tail_up, facts),
    )


def _holds_braked(facts: SettingsFacts) -> float | None:
    """Airspeed from which full rudder holds the power run up to on the brakes [m/s]."""
    if facts.braked_pressure is None:
        return None
    part = power_at(facts.engine, facts.braked_pressure, facts.engine.full_revolutions) / facts.engine.shaft_power
    return rudder_speed_at(facts.rudder_speed, part)


def tail_rise_limit(mass: float, wheels_ahead: float, thrust_height: float, tail_hold: float) -> float:
    """Thrust above which the tail of a braked aeroplane lifts though the elevator holds it [N].

    mass [kg]; wheels_ahead, thrust_height [m]; tail_hold : part added to the weight's moment, 0 for none
    """
    return mass * GRAVITY * wheels_ahead * (1.0 + tail_hold) / thrust_height


def brake_limit(mass: float, brake_friction: float) -> float:
    """Thrust the brakes hold [N]. mass [kg]; brake_friction : part of the weight."""
    return brake_friction * mass * GRAVITY


def power_for_thrust(
    thrust: float, wind: float, density: float, propeller_diameter: float, figure_of_merit: float
) -> float:
    """Shaft power that gives a thrust on the spot [W].

    thrust [N]; wind : over the deck from ahead [m/s]; density [kg/m3]; propeller_diameter [m]
    """
    disc = math.pi * propeller_diameter**2 / 4.0
    inflow = 0.5 * (math.sqrt(wind**2 + 2.0 * thrust / (density * disc)) - wind)
    return thrust * (wind + inflow) / figure_of_merit


def pressure_limit(facts: SettingsFacts, thrust: float) -> float | None:
    """Manifold pressure at which the braked aeroplane pulls with a thrust [N] at full engine speed [Pa].

    None where full power gives no more than that thrust.
    """
    power = power_for_thrust(thrust, facts.wind_ahead, facts.density, facts.propeller_diameter, facts.figure_of_merit)
    pressure = pressure_for(facts.engine, power, facts.engine.full_revolutions)
    return pressure if pressure < facts.engine.full_pressure else None


def rudder_speed_at(rudder_speed: float, power_part: float) -> float:
    """Airspeed from which full rudder holds a part of full power [m/s]. rudder_speed : that for full power [m/s]."""
    return rudder_speed * math.sqrt(max(power_part, 0.0))


def propeller_clearance(angle: float, facts: SettingsFacts) -> float:
    """Propeller tip from the deck at an angle of attack on it [m]; nil or less is a strike. angle [rad].

    Beyond the two given attitudes the straight line goes on: past tail up the nose is lower still.
    """
    part = (facts.three_point - angle) / (facts.three_point - facts.tail_up)
    return facts.clearance_three_point + part * (facts.clearance_tail_up - facts.clearance_three_point)


def least_attitude(facts: SettingsFacts) -> float:
    """Angle of attack at which the propeller touches the deck [rad]; -inf where lowering the nose never does it."""
    fall = facts.clearance_three_point - facts.clearance_tail_up
    if fall <= 0.0:
        return -math.inf
    return facts.three_point - (facts.three_point - facts.tail_up) * facts.clearance_three_point / fall


def settings_findings(facts: SettingsFacts, lowest: float | None = None, key: str = "launch") -> list[Finding]:
    """What is wrong with the settings before the run.

    lowest : least angle of attack in the run [rad], the tail-up one where None; key : stem of the figures meant
    """
    return [*_braked(facts, key), *_propeller(facts, facts.tail_up if lowest is None else lowest, key)]


def _braked(facts: SettingsFacts, key: str) -> list[Finding]:
    """Power run up to on the brakes: tail, wheels, rudder when they are let go."""
    if facts.braked_pressure is None:
        return []
    found = []
    held = f"{_inches(facts.braked_pressure)} on the brakes"
    rise = pressure_limit(facts, tail_rise_limit(facts.mass, facts.wheels_ahead, facts.thrust_height, facts.tail_hold))
    slip = pressure_limit(facts, brake_limit(facts.mass, facts.brake_friction))
    if rise is not None and facts.braked_pressure > rise:
        found.append(
            Finding(
                "tail-rise", Level.STOP, f"{key}.tail_rise_pressure", held,
                f"with the stick right back the tail lifts above {_inches(rise)}",
                f"Run up to {_whole_inches_below(rise)} at most, and open to full power as it rolls.",
            )
        )  # fmt: skip
    if slip is not None and facts.braked_pressure > slip:
        found.append(
            Finding(
                "brakes-slip", Level.CAUTION, f"{key}.brake_pressure", held,
                f"the brakes hold up to {_inches(slip)}",
                f"Run up to {_whole_inches_below(slip)} at most, or have it held by chocks.",
            )
        )  # fmt: skip
    holds_from = _holds_braked(facts) or 0.0
    shown = indicated(facts.wind_ahead, facts.position_error)
    if holds_from > shown:
        had = (max(shown, 0.0) / facts.rudder_speed) ** 2 * facts.engine.shaft_power
        most = pressure_for(facts.engine, had, facts.engine.full_revolutions)
        less = f"Let go at {_whole_inches_below(most)} at most, or with " if most > LEAST_BRAKED else "Have "
        wind = calibrated(math.ceil(holds_from / KNOT - 1e-6) * KNOT, facts.position_error)
        found.append(
            Finding(
                "rudder-late", Level.CAUTION, f"{key}.rudder_speed",
                f"let go at {_inches(facts.braked_pressure)}, full rudder holds it only from "
                f"{write(holds_from, INDICATED_SPEED, decimals=1)}",
                f"in the wind over the deck the dial shows {write(shown, INDICATED_SPEED, decimals=1)}",
                f"{less}{write(wind, WIND_OVER_DECK, decimals=0)} over the deck.",
            )
        )  # fmt: skip
    return found


def _propeller(facts: SettingsFacts, lowest: float, key: str) -> list[Finding]:
    left = propeller_clearance(lowest, facts)
    if left >= THIN_CLEARANCE:
        return []
    strikes = left <= 0.0
    value = "the propeller strikes the deck" if strikes else f"the propeller passes {_inch(left)} over the deck"
    return [
        Finding(
            "propeller-clearance", Level.STOP if strikes else Level.CAUTION, f"{key}.propeller_clearance", value,
            f"tail down it is {write(facts.clearance_three_point, LENGTH, decimals=1)} clear; own rule: "
            f"{_inch(THIN_CLEARANCE)} at the least",
            "Keep the tail lower in the run.",
        )
    ]  # fmt: skip


def _inches(pressure: float) -> str:
    return write(pressure, PRESSURE, decimals=1)


def _whole_inches_below(pressure: float) -> str:
    """The greatest whole inch of mercury that is not above a pressure."""
    return write(math.floor(pressure / INCH_OF_MERCURY + 1e-6) * INCH_OF_MERCURY, PRESSURE, decimals=0)


def _inch(length: float) -> str:
    return write(length, LENGTH, decimals=2)
