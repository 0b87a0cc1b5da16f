"""What the launch wants to know of a type and of a ship's deck, beside what the circuit knows already.

None of these keys must be there: a type without them flies the circuit as before, and `missing` names what its launch
waits for. Angles of attack are all from one line of the wing, so that only their differences matter.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from roundown import quantities as q
from roundown.catalog.keys import Key, word_key
from roundown.figures import Givens
from roundown.quantities import Kind

_KT, _FT, _DEG, _INHG = q.KNOT, q.FOOT, q.DEGREE, q.INCH_OF_MERCURY


def _key(name: str, kind: Kind, meaning: str, low: float, high: float, default: str = "") -> Key:
    return Key(name, (kind,), meaning, needed=False, low=low, high=high, default=default)


TYPE_LAUNCH_KEYS = (
    _key("launch.empty_weight", q.MASS, "ready to fly with crew and oil, without fuel and stores",
         500 * q.POUND, 60_000 * q.POUND),
    _key("launch.fuel_weight", q.MASS, "fuel when the tanks are full", 0.0, 20_000 * q.POUND),
    _key("launch.stores_weight", q.MASS, "ammunition and the heaviest stores", 0.0, 20_000 * q.POUND, "0 lb"),
    _key("launch.lift_slope", q.RATIO, "lift coefficient gained in a radian of angle of attack", 2.0, 2.0 * math.pi),
    _key("launch.zero_lift_angle", q.ANGLE, "angle of attack without lift, flap up", -12 * _DEG, 5 * _DEG),
    _key("launch.flap_lift", q.RATIO, "lift coefficient full flap adds at the same angle of attack", 0.0, 2.5),
    _key("launch.post_stall_lift", q.RATIO, "part of the greatest lift that is left well past the stall",
         0.2, 1.0, "0.7"),
    _key("launch.wing_height", q.HEIGHT_OVER_DECK, "wing over the deck in the run", 1 * _FT, 20 * _FT),
    _key("launch.three_point", q.ANGLE, "angle of attack with the tail on the deck", 3 * _DEG, 25 * _DEG),
    _key("launch.tail_up", q.ANGLE, "angle of attack with the tail up in the run", -5 * _DEG, 15 * _DEG),
    _key("launch.tail_up_speed", q.INDICATED_SPEED, "airspeed at which the tail comes up", 10 * _KT, 120 * _KT),
    _key("launch.lift_off_margin", q.RATIO, "lift-off speed over the stall with that flap, throttle shut",
         1.0, 1.5, "1.1"),
    _key("launch.take_off_flap", q.RATIO, "part of full flap for take-off", 0.0, 1.0),
    _key("launch.pull_rate", q.TURN_RATE, "change of angle of attack when the stick is eased back",
         0.5 * _DEG, 20 * _DEG, "4 deg/s"),
    _key("launch.friction", q.RATIO, "rolling on a deck, wheels free, part of the weight on them", 0.0, 0.2, "0.03"),
    _key("launch.brake_friction", q.RATIO, "greatest hold of the brakes, part of the weight on the wheels",
         0.05, 1.0, "0.4"),
    _key("launch.full_pressure", q.PRESSURE, "manifold pressure of full power", 15 * _INHG, 90 * _INHG),
    _key("launch.full_revolutions", q.REVOLUTIONS, "engine speed of full power", 1000 / 60, 4000 / 60),
    _key("launch.critical_height", q.HEIGHT_OVER_SEA, "greatest height at which full power is had", 0.0, 36_000 * _FT),
    _key("launch.braked_pressure", q.PRESSURE, "manifold pressure run up to on the brakes", 10 * _INHG, 90 * _INHG),
    _key("launch.clearance_three_point", q.LENGTH, "propeller tip from the deck, tail down", 0.1 * _FT, 8 * _FT),
    _key("launch.clearance_tail_up", q.LENGTH, "propeller tip from the deck, tail up", 0.02 * _FT, 8 * _FT),
    _key("launch.wheels_ahead", q.LENGTH, "wheels ahead of the centre of gravity, tail down", 0.2 * _FT, 8 * _FT),
    _key("launch.thrust_height", q.HEIGHT_OVER_DECK, "thrust line over the deck, at the wheels", 2 * _FT, 15 * _FT),
    _key("launch.tail_hold", q.RATIO, "what full up elevator in the slipstream adds to the weight's hold on the tail",
         0.0, 1.5),
    _key("launch.rudder_speed", q.INDICATED_SPEED, "airspeed from which full rudder holds full power",
         0.0, 100 * _KT),
    _key("launch.swing", q.OFF_BOW, "how far the nose swings in the run before the rudder holds it",
         -20 * _DEG, 20 * _DEG),
    word_key("launch.trim", "how it is trimmed for take-off", needed=False),
    word_key("launch.trim_loaded", "the same with heavy stores", needed=False),
    _key("launch.length", q.LENGTH, "from nose to tail, tail down", 12 * _FT, 80 * _FT),
    _key("launch.folded_span", q.LENGTH, "span, wings folded", 6 * _FT, 130 * _FT),
    _key("launch.folded_length", q.LENGTH, "length, wings folded, where they reach past the tail", 12 * _FT, 90 * _FT),
)  # fmt: skip

SHIP_LAUNCH_KEYS = (
    _key("deck.bow_width", q.LENGTH, "flight deck at the bow", 20 * _FT, 250 * _FT),
    _key("deck.clear_width", q.LENGTH, "between gun tubs and masts of both sides, the island aside",
         20 * _FT, 250 * _FT),
    _key("deck.edge_clearance", q.LENGTH, "what parked wheels keep from the edge of the deck", 0.0, 20 * _FT, "3 ft"),
    word_key("deck.island_side", "side the island stands on", "starboard", "port", needed=False, default="starboard"),
    _key("deck.island_length", q.LENGTH, "island, fore and aft", 5 * _FT, 400 * _FT),
    _key("deck.island_width", q.LENGTH, "what the island takes of the deck's width", 0.0, 80 * _FT),
    _key("deck.pitch", q.ANGLE, "pitch either way from level", 0.0, 8 * _DEG, "0 deg"),
    _key("deck.pitch_period", q.TIME, "from bow highest to bow highest", 3.0, 30.0, "10 s"),
    _key("catapult.speed", q.CLOSING_SPEED, "speed at its end, past the ship", 20 * _KT, 120 * _KT),
    _key("catapult.weight", q.MASS, "heaviest aeroplane it brings to that speed", 1000 * q.POUND, 60_000 * q.POUND),
    _key("catapult.number", q.RATIO, "how many catapults are fitted", 1.0, 4.0, "1"),
)  # fmt: skip

FOR_THE_RUN = (
    "launch.empty_weight", "launch.fuel_weight", "launch.lift_slope", "launch.zero_lift_angle", "launch.flap_lift",
    "launch.wing_height", "launch.three_point", "launch.tail_up", "launch.tail_up_speed", "launch.take_off_flap",
)  # fmt: skip
FOR_THE_SETTINGS = (
    "launch.empty_weight", "launch.fuel_weight", "launch.three_point", "launch.tail_up",
    "launch.full_pressure", "launch.full_revolutions", "launch.clearance_three_point", "launch.clearance_tail_up",
    "launch.wheels_ahead", "launch.thrust_height", "launch.tail_hold", "launch.rudder_speed",
)  # fmt: skip
FOR_THE_SPOT = ("launch.length", "launch.folded_span")


def missing(values: Givens, wanted: Iterable[str]) -> list[str]:
    """The wanted keys that a type does not give, in their order. values : by key name, without "type." before it."""
    return [name for name in wanted if name not in values]
