"""What the recovery wants to know of a type, of a ship and of a doctrine, beside the circuit itself.

Of a type and a ship none of these keys must be there: what waits for them says which. A doctrine's have defaults, which
are common practice or own rules without a source, and rates that are assumptions; each trace says so.
"""

from __future__ import annotations

from roundown import quantities as q
from roundown.catalog.keys import Key, word_key
from roundown.quantities import Kind

_KT, _FT, _DEG = q.KNOT, q.FOOT, q.DEGREE
_LB_H = q.POUND / 3600.0


def _of_thing(name: str, kind: Kind, meaning: str, low: float, high: float, default: str = "") -> Key:
    return Key(name, (kind,), meaning, needed=False, low=low, high=high, default=default)


def _of_doctrine(name: str, kind: Kind, meaning: str, low: float, high: float, default: str, band: bool = False) -> Key:  # noqa: FBT001, FBT002
    return Key(name, (kind,), meaning, band=band, low=low, high=high, default=default)


TYPE_RECOVERY_KEYS = (
    _of_thing("sight.eye_height", q.LENGTH, "pilot's eye over the wheels", 3 * _FT, 25 * _FT),
    _of_thing("sight.eye_behind", q.LENGTH, "pilot's eye behind the main wheels", -15 * _FT, 25 * _FT),
    _of_thing("sight.over_nose", q.ANGLE, "from the fuselage's datum down to the top of the nose, seen from the eye",
              0.0, 30 * _DEG),
    _of_thing("sight.nose_length", q.LENGTH, "from the eye to the front of the nose", 2 * _FT, 30 * _FT),
    _of_thing("sight.nose_width", q.LENGTH, "nose across its front", 1 * _FT, 12 * _FT),
    _of_thing("sight.wing_setting", q.ANGLE, "line of the angles of attack to the fuselage's datum", -3 * _DEG,
              10 * _DEG),
    _of_thing("sight.wing_below", q.LENGTH, "leading edge at the root below the eye", -8 * _FT, 15 * _FT),
    _of_thing("sight.wing_ahead", q.LENGTH, "leading edge at the root ahead of the eye", -10 * _FT, 20 * _FT),
    _of_thing("sight.tip_ahead", q.LENGTH, "leading edge at the tip ahead of the eye", -15 * _FT, 20 * _FT),
    _of_thing("sight.root_chord", q.LENGTH, "wing at the root, fore and aft", 2 * _FT, 25 * _FT),
    _of_thing("sight.tip_chord", q.LENGTH, "wing at the tip, fore and aft", 1 * _FT, 20 * _FT),
    _of_thing("sight.dihedral", q.ANGLE, "how the wing rises to its tip", -8 * _DEG, 12 * _DEG),
    _of_thing("hook.behind", q.LENGTH, "hook's point behind the main wheels, hook down", 3 * _FT, 50 * _FT),
    _of_thing("hook.below", q.LENGTH, "hook's point below the main wheels, hook down, in the approach",
              -5 * _FT, 10 * _FT),
    _of_thing("landing.sink_limit", q.SINK, "fastest sink the undercarriage takes", 2 * _FT, 30 * _FT),
    _of_thing("landing.hook_load", q.ACCELERATION, "greatest deceleration the hook takes", 0.5 * q.STANDARD_GRAVITY,
              8 * q.STANDARD_GRAVITY),
    _of_thing("wave_off.power_time", q.TIME, "from approach power to full power, as fast as the roll can be held",
              0.2, 15.0),
    _of_thing("fuel.circuit", q.FUEL_FLOW, "burned in the circuit", 20 * _LB_H, 4000 * _LB_H),
    _of_thing("fuel.hold", q.FUEL_FLOW, "burned holding", 20 * _LB_H, 4000 * _LB_H),
    _of_thing("fuel.full_power", q.FUEL_FLOW, "burned at full power", 20 * _LB_H, 6000 * _LB_H),
)  # fmt: skip

SHIP_RECOVERY_KEYS = (
    _of_thing("gear.wires", q.COUNT, "how many wires lie across the deck", 1.0, 30.0),
    _of_thing("gear.first_wire", q.LENGTH, "first wire ahead of the ramp", 5 * _FT, 400 * _FT),
    _of_thing("gear.spacing", q.LENGTH, "from one wire to the next", 5 * _FT, 80 * _FT),
    _of_thing("gear.run_out", q.LENGTH, "how far a wire pays out", 30 * _FT, 400 * _FT),
    _of_thing("gear.rating_weight", q.MASS, "heaviest aeroplane the gear stops", 2000 * q.POUND, 60_000 * q.POUND),
    _of_thing("gear.rating_speed", q.CLOSING_SPEED, "speed it stops that from, past the ship", 20 * _KT, 120 * _KT),
    _of_thing("gear.barrier_place", q.LENGTH, "first barrier ahead of the ramp", 50 * _FT, 900 * _FT),
    _of_thing("gear.barriers", q.COUNT, "how many barriers there are", 1.0, 8.0, "2"),
    _of_thing("outline.island_height", q.LENGTH, "top of the island over the deck", 5 * _FT, 150 * _FT),
    _of_thing("outline.mast_height", q.LENGTH, "top of the mast over the deck", 5 * _FT, 250 * _FT),
    _of_thing("outline.beam", q.LENGTH, "hull across at the waterline", 20 * _FT, 200 * _FT),
    _of_thing("outline.platform_ahead", q.LENGTH, "signal officer's platform ahead of the ramp", 0.0, 200 * _FT,
              "35 ft"),
    _of_thing("deck.heave", q.LENGTH, "heave either way", 0.0, 40 * _FT, "0 ft"),
)  # fmt: skip

DOCTRINE_RECOVERY_KEYS = (
    _of_doctrine("stack.lowest", q.HEIGHT_OVER_SEA, "lowest block of the stack", 200 * _FT, 10_000 * _FT,
                 "1000 ft over sea"),
    _of_doctrine("stack.block", q.LENGTH, "from one block to the next", 200 * _FT, 5000 * _FT, "1000 ft"),
    _of_doctrine("stack.flight", q.COUNT, "how many hold together at most", 1.0, 12.0, "4"),
    _of_doctrine("stack.speed", q.INDICATED_SPEED, "speed in the hold", 60 * _KT, 250 * _KT, "130 kt"),
    _of_doctrine("stack.bank", q.BANK, "bank in the hold", 5 * _DEG, 45 * _DEG, "20 deg"),
    _of_doctrine("stack.let_down", q.CLIMB_RATE, "let-down from block to block, and to the initial",
                 100 * _FT / 60, 4000 * _FT / 60, "1000 ft/min"),
    _of_doctrine("stack.wait", q.TIME, "from one flight leaving its block to the next stepping down", 0.0, 600.0,
                 "15 s"),
    word_key("stack.order", "who lands first: least fuel, or as launched", "fuel", "launch", default="fuel"),
    word_key("stack.hurt", "when a wounded man or a damaged aeroplane lands", "first", "last", default="last"),
    _of_doctrine("wave_off.reaction", q.TIME, "from the signal to the throttle", 0.2, 5.0, "1 s"),
    _of_doctrine("wave_off.clearance", q.HEIGHT_OVER_DECK, "least of the wheels in a wave-off", 0.0, 60 * _FT,
                 "8 ft over deck"),
    word_key("wave_off.side", "where one waved off goes", "port", "ahead", default="port"),
    _of_doctrine("wave_off.straight", q.TIME, "straight on, climbing, before the turn downwind", 0.0, 120.0, "10 s"),
    _of_doctrine("recovery.clear", q.TIME, "from the wire until the deck is ready for the next", 3.0, 300.0,
                 "18-26 s", band=True),
    _of_doctrine("recovery.scatter", q.TIME, "standard deviation of the interval", 0.0, 60.0, "3 s"),
    _of_doctrine("recovery.wave_offs", q.RATIO, "part waved off for the pass", 0.0, 0.9, "0.06"),
    _of_doctrine("recovery.barrier_hits", q.RATIO, "part that end in the barrier", 0.0, 0.5, "0.004"),
    _of_doctrine("recovery.barrier_clear", q.TIME, "to clear one from the barrier", 10.0, 3600.0, "5 min"),
    _of_doctrine("recovery.fouls", q.RATIO, "part that are slow out of the gear", 0.0, 0.9, "0.03"),
    _of_doctrine("recovery.foul_time", q.TIME, "how much longer those take", 0.0, 1800.0, "30 s"),
    _of_doctrine("recovery.respot_each", q.TIME, "for each aeroplane moved aft for the next launch", 0.0, 600.0,
                 "45 s"),
    _of_doctrine("recovery.reserve", q.TIME, "fuel kept, as time in the circuit", 0.0, 7200.0, "20 min"),
    _of_doctrine("recovery.ramp_clearance", q.CLEARANCE, "least of the hook over the ramp", 0.0, 40 * _FT, "5 ft"),
    _of_doctrine("recovery.cut_reaction", q.TIME, "from the cut to the throttle shut", 0.0, 3.0, "0.5 s"),
    _of_doctrine("recovery.nose_dip", q.RATIO, "part of the lift given up as the nose dips after the cut", 0.0, 0.6,
                 "0.2"),
    _of_doctrine("recovery.eased_sink", q.RATIO, "sink at which the stick is eased back, part of what the wheels take",
                 0.2, 1.5, "0.8"),
)  # fmt: skip
