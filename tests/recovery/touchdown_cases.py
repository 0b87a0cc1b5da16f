"""An invented fighter coming aboard an invented ship, for the tests of the touchdown."""

from __future__ import annotations

import math
from dataclasses import replace

from roundown.motion.aeroplane import Aeroplane
from roundown.recovery.after_cut import Hand
from roundown.recovery.arresting import Gear, Hook
from roundown.recovery.deck_motion import DeckMotion
from roundown.recovery.touchdown import TouchdownFacts

FT, KT, LB, LBF, G, DEG = 0.3048, 1852.0 / 3600.0, 0.45359237, 4.4482216152605, 9.80665, math.pi / 180.0
STANDARD = 1.225  # kg/m3

FIGHTER = Aeroplane(
    mass=9740.0 * LB,
    wing_area=296.0 * FT**2,
    zero_lift_drag=0.0235,
    gear_drag=0.019,
    flap_drag=0.062,
    induced_drag=0.0755,
    idle_thrust=90.0 * LBF,
    shaft_power=1640.0 * 745.7,
    propeller_diameter=12.4 * FT,
    figure_of_merit=0.78,
    roll_rate=12.0 * DEG,
    gear_time=9.0,
    flap_time=6.0,
    gear_limit=138.0 * KT,
    flap_limit=122.0 * KT,
    lift_clean=1.42,
    lift_flap=1.98,
)
SPAN = 39.5 * FT
HOOK = Hook(behind=17.5 * FT, below=1.4 * FT)
GEAR = Gear(
    wires=11,
    first_wire=62.0 * FT,
    spacing=20.0 * FT,
    run_out=120.0 * FT,
    rating_weight=16_000.0 * LB,
    rating_speed=60.0 * KT,
    barrier_place=330.0 * FT,
)
STEADY = DeckMotion(pitch=0.0, heave=0.0, period=10.0, deck_length=838.0 * FT)
ROUGH = DeckMotion(pitch=0.5 * DEG, heave=2.0 * FT, period=9.0, deck_length=838.0 * FT)
HELD = Hand()
EASED = Hand(dip=0.15, kept_sink=11.0 * FT)

LATE = TouchdownFacts(
    aeroplane=FIGHTER,
    wing_span=SPAN,
    temperature=288.15,
    pressure=101_325.0,
    deck_height=65.0 * FT,
    wind_ahead=30.0 * KT,
    wind_across=0.0,
    ramp_height=17.5 * FT,
    ramp_speed=90.0 * KT,
    slope=0.0,
    cut_ahead=30.0 * FT,
    reaction=0.5,
    clearance=5.0 * FT,
    hook=HOOK,
    gear=GEAR,
    motion=STEADY,
    hand=HELD,
    sink_limit=14.0 * FT,
    hook_load=2.6 * G,
)
"""Fast, high and cut late: past the wires."""
GOOD = replace(LATE, ramp_height=11.0 * FT, ramp_speed=80.0 * KT, cut_ahead=-30.0 * FT)
"""Slower, lower and cut in time: a wire that stops it short of the barrier."""
DOWN = replace(GOOD, ramp_height=18.0 * FT, slope=3.0 * DEG, hand=Hand(dip=0.2, kept_sink=11.0 * FT))
"""The same down a slope, higher over the ramp."""
