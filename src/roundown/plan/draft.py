"""A first air plan from eight numbers: the rest is estimated and says so.

*Method:* own rules of thumb, no source, each beside its line. The wing follows from the stall with flap at a greatest
lift coefficient of 1.9; the power from the calm deck run: mean acceleration to 1.1 times the stall, thrust at 0.7 of
that speed, shaft power by momentum theory. *Holds for:* single propellers of the 1940s; good enough to see the circuit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from roundown.environment.air import GRAVITY, SEA_LEVEL_DENSITY
from roundown.plan.draft_recovery import ship_lines, type_lines
from roundown.quantities import (
    AREA,
    FOOT,
    FORCE,
    HEIGHT_OVER_SEA,
    INDICATED_SPEED,
    KNOT,
    LENGTH,
    MASS,
    POWER,
    SHIP_SPEED,
    TRUE_DIRECTION,
    write,
)  # fmt: skip

LIFT_FLAP, LIFT_CLEAN = 1.9, 1.35  # greatest lift coefficients with and without flap
ASPECT_RATIO, SPAN_FACTOR = 5.5, 0.8  # wing span squared over area; Oswald factor
DRAG, GEAR_DRAG, FLAP_DRAG = 0.026, 0.018, 0.06  # coefficients
ROLLING = 0.03  # friction on the deck
MERIT = 0.76  # propeller's figure of merit
DECK_LENGTH_TO_HEIGHT = 12.5
SHORTEST_DECK, LONGEST_DECK = 260 * FOOT, 1200 * FOOT  # m
NINETY_OVER_DECK = 25 * FOOT  # m


@dataclass(frozen=True)
class Sketch:
    """What a person is asked. Speeds indicated [m/s], heights and lengths [m], weight as mass [kg].

    wind_from : true [rad]; wind_speed at 10 m [m/s]; ship_speed : her greatest
    """

    ship_speed: float
    deck_height: float
    approach_speed: float
    stall_speed: float
    break_speed: float
    weight: float
    calm_run: float
    wind_from: float
    wind_speed: float


def estimated_power(sketch: Sketch, area: float, diameter: float) -> float:
    """Shaft power that gives the calm deck run [W]. area [m2] of the wing; diameter [m] of the propeller."""
    lift_off = 1.1 * sketch.stall_speed
    acceleration = lift_off**2 / (2.0 * sketch.calm_run)
    speed = 0.7 * lift_off
    drag = 0.5 * SEA_LEVEL_DENSITY * speed**2 * area * (DRAG + GEAR_DRAG + 0.5 * FLAP_DRAG)
    thrust = sketch.weight * (acceleration + ROLLING * GRAVITY) + drag
    disc = math.pi * diameter**2 / 4.0
    inflow = 0.5 * (-speed + math.sqrt(speed**2 + 2.0 * thrust / (SEA_LEVEL_DENSITY * disc)))
    return thrust * (speed + inflow) / MERIT


def draft_plan(sketch: Sketch, wind: str) -> str:
    """A short commented plan. wind : as the person wrote it."""
    area = 2.0 * sketch.weight * GRAVITY / (SEA_LEVEL_DENSITY * sketch.stall_speed**2 * LIFT_FLAP)
    span = math.sqrt(ASPECT_RATIO * area)
    diameter = 0.31 * span
    power = estimated_power(sketch, area, diameter)
    length = min(max(DECK_LENGTH_TO_HEIGHT * sketch.deck_height, SHORTEST_DECK), LONGEST_DECK)
    downwind = sketch.approach_speed + 10.0 * KNOT

    base = write(sketch.wind_from + 0.5 * math.pi, TRUE_DIRECTION)
    ninety = write(sketch.deck_height + NINETY_OVER_DECK, HEIGHT_OVER_SEA)

    def knots(value: float) -> str:
        return write(value, INDICATED_SPEED, decimals=1)

    return f"""\
# An air plan for roundown. Lines under "estimated" are guesses from your numbers: put in what you know.
format = 1
title = "My circuit"

[place]
position = {{ value = "31 40 S 005 20 W", source = "estimated: put in yours" }}
date = {{ value = "1949-03-17", source = "estimated: put in yours" }}
time = {{ value = "16:30", source = "estimated: by the ship's clock; of a whole day its beginning" }}
# zone = "+00:00"              # what that clock is ahead of universal time
# variation = "24 deg W"       # only if the simulator's compass has its own; else the earth's field of the date

[weather]
surface_wind = "{wind}"     # at 10 m: direction it comes from, then speed

[ship]
name = "mine"
base_course = {{ value = "{base}", source = "estimated: across the wind" }}
base_speed = {{ value = "{write(0.6 * sketch.ship_speed, SHIP_SPEED)}", source = "estimated" }}

[doctrine]
name = "fast-carrier-1944"       # or half-mile-1945: see `roundown catalog`

[aeroplane]
type = "mine"

[override.circuit]               # any value of the doctrine can be put here
initial_speed = "{knots(sketch.break_speed)}"
downwind_speed = {{ value = "{knots(downwind)}", source = "estimated: approach speed and 10 kt" }}
ninety_speed = "{knots(sketch.approach_speed)}"
ramp_speed = "{knots(sketch.approach_speed)}"
ninety_height = {{ value = "{ninety} over sea", source = "estimated: deck and 25 ft" }}

[ships.mine]
label = {{ value = "my ship", source = "given in the plan" }}
deck_height = {{ value = "{write(sketch.deck_height, HEIGHT_OVER_SEA)} over sea", source = "given in the plan" }}
greatest_speed = {{ value = "{write(sketch.ship_speed, SHIP_SPEED)}", source = "given in the plan" }}
# estimated
deck_length = {{ value = "{write(length, LENGTH)}", source = "estimated: 12.5 times deck height, 260 to 1200 ft" }}
deck_width = {{ value = "{write(0.12 * length, LENGTH)}", source = "estimated" }}
island_place = {{ value = "{write(0.52 * length, LENGTH)} ahead of ramp", source = "estimated" }}
least_speed = {{ value = "{write(min(5.0 * KNOT, sketch.ship_speed), SHIP_SPEED)}", source = "estimated" }}
turning_circle = {{ value = "{write(1.6 * 3.0 * length, LENGTH)}", source = "estimated" }}
speed_gain = {{ value = "4 kt/min", source = "estimated" }}
{ship_lines(length, 0.12 * length, sketch.weight)}

[types.mine]
label = {{ value = "my aeroplane", source = "given in the plan" }}
landing_weight = {{ value = "{write(sketch.weight, MASS)}", source = "given in the plan" }}
# estimated
wing_area = {{ value = "{write(area, AREA)}", source = "estimated from weight and stall" }}
wing_span = {{ value = "{write(span, LENGTH)}", source = "estimated" }}
lift_clean = {{ value = "{LIFT_CLEAN}", source = "estimated" }}
lift_flap = {{ value = "{LIFT_FLAP}", source = "estimated" }}
zero_lift_drag = {{ value = "{DRAG}", source = "estimated" }}
gear_drag = {{ value = "{GEAR_DRAG}", source = "estimated" }}
flap_drag = {{ value = "{FLAP_DRAG}", source = "estimated" }}
induced_drag = {{ value = "{1.0 / (math.pi * ASPECT_RATIO * SPAN_FACTOR):.4f}", source = "estimated" }}
idle_thrust = {{ value = "{write(0.01 * sketch.weight * GRAVITY, FORCE)}", source = "estimated" }}
shaft_power = {{ value = "{write(power, POWER)}", source = "estimated from the calm deck run" }}
propeller_diameter = {{ value = "{write(diameter, LENGTH, decimals=1)}", source = "estimated" }}
figure_of_merit = {{ value = "{MERIT}", source = "estimated" }}
roll_rate = {{ value = "12 deg/s", source = "estimated" }}
gear_time = {{ value = "9 s", source = "estimated" }}
flap_time = {{ value = "7 s", source = "estimated" }}
gear_limit = {{ value = "{knots(1.1 * sketch.break_speed)}", source = "estimated" }}
flap_limit = {{ value = "{knots(1.02 * sketch.break_speed)}", source = "estimated" }}
{type_lines(span, power)}

# A whole day: take away the marks, put in your people, and say when they go and come home.
# [squadrons.amber]
# type = "mine"
# call_sign = "Tallow"
# roster = [
#   {{ side = "11", name = "Vane", leader = "squadron", skill = "experienced" }},
#   {{ side = "12", name = "Pell", skill = "novice" }},
# ]
#
# [[event]]
# name = "first patrol"
# launch = "17:00"             # or "sunset - 75 min"
# recovery = "launch + 1 h"
# aeroplanes = {{ amber = 2 }}
"""
