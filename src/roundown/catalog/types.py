"""What a ship, a type and a doctrine consist of: one table of keys each, and the entry that holds the values.

The tables drive reading, messages, the reference in docs/ and `catalog --json`. A doctrine's *commanded* keys drive the
solver; its *expected* keys are only compared with what was solved.
"""

from __future__ import annotations

from dataclasses import dataclass

from roundown import quantities as q
from roundown.catalog.deck_keys import DOCTRINE_DECK_KEYS
from roundown.catalog.keys import Key, word_key
from roundown.catalog.launch_keys import SHIP_LAUNCH_KEYS, TYPE_LAUNCH_KEYS
from roundown.catalog.recovery_keys import DOCTRINE_RECOVERY_KEYS, SHIP_RECOVERY_KEYS, TYPE_RECOVERY_KEYS
from roundown.figures import Givens


@dataclass(frozen=True)
class Entry:
    """A named ship, type or doctrine. values : by key name; overrides : doctrine values a ship brings with her."""

    name: str
    label: str
    values: Givens
    overrides: Givens


_KT, _FT, _DEG, _G = q.KNOT, q.FOOT, q.DEGREE, q.STANDARD_GRAVITY
_HP = 550.0 * q.FOOT * q.POUND_FORCE

SHIP_KEYS = (
    word_key("label", "what she is, for people"),
    Key("deck_height", (q.HEIGHT_OVER_SEA,), "flight deck over the sea", low=5 * _FT, high=120 * _FT),
    Key("deck_length", (q.LENGTH,), "flight deck, ramp to bow", low=150 * _FT, high=1200 * _FT),
    Key("deck_width", (q.LENGTH,), "flight deck at the landing area", low=30 * _FT, high=250 * _FT),
    Key("island_place", (q.AHEAD_OF_RAMP,), "middle of the island", low=0.0, high=1200 * _FT),
    Key("least_speed", (q.SHIP_SPEED,), "slowest speed at which she steers", low=0.0, high=15 * _KT),
    Key("greatest_speed", (q.SHIP_SPEED,), "fastest speed for flying", low=0.0, high=45 * _KT),
    Key("turning_circle", (q.DISTANCE,), "diameter of her turn", low=100 * q.YARD, high=3000 * q.YARD),
    Key("speed_gain", (q.SHIP_ACCELERATION,), "gain or loss of speed", low=0.1 * _KT / 60, high=60 * _KT / 60),
    *SHIP_LAUNCH_KEYS,
    *SHIP_RECOVERY_KEYS,
)

TYPE_KEYS = (
    word_key("label", "what it is, for people"),
    Key("landing_weight", (q.MASS,), "weight on coming aboard", low=500 * q.POUND, high=60_000 * q.POUND),
    Key("wing_area", (q.AREA,), "wing area", low=50 * _FT**2, high=1600 * _FT**2),
    Key("wing_span", (q.LENGTH,), "span, wings spread", low=15 * _FT, high=130 * _FT),
    Key("lift_clean", (q.RATIO,), "greatest lift coefficient, flap up, throttle shut", low=0.5, high=4.0),
    Key("lift_flap", (q.RATIO,), "greatest lift coefficient, flap down, throttle shut", low=0.5, high=5.0),
    Key("zero_lift_drag", (q.RATIO,), "drag coefficient at no lift, clean", low=0.005, high=0.2),
    Key("gear_drag", (q.RATIO,), "what the wheels add to it", low=0.0, high=0.2),
    Key("flap_drag", (q.RATIO,), "what full flap adds to it", low=0.0, high=0.5),
    Key("induced_drag", (q.RATIO,), "K in drag = K times lift coefficient squared", low=0.01, high=0.3),
    Key(
        "idle_thrust", (q.FORCE,), "thrust with the throttle shut", low=-4000 * q.POUND_FORCE, high=4000 * q.POUND_FORCE
    ),
    Key("shaft_power", (q.POWER,), "full power at sea level", low=10 * _HP, high=7000 * _HP),
    Key("propeller_diameter", (q.LENGTH,), "propeller", low=3 * _FT, high=26 * _FT),
    Key("figure_of_merit", (q.RATIO,), "of the propeller: useful part of the shaft power", low=0.3, high=1.0),
    Key("roll_rate", (q.TURN_RATE,), "roll in the circuit", low=1 * _DEG, high=90 * _DEG),
    Key("gear_time", (q.TIME,), "wheels up to down", low=0.1, high=60.0),
    Key("flap_time", (q.TIME,), "flap up to full", low=0.1, high=60.0),
    Key("gear_limit", (q.INDICATED_SPEED,), "fastest to lower the wheels", low=30 * _KT, high=400 * _KT),
    Key("flap_limit", (q.INDICATED_SPEED,), "fastest to lower full flap", low=30 * _KT, high=400 * _KT),
    Key(
        "position_error",
        (q.SPEED_MARGIN,),
        "what is added to the airspeed shown to free it of position error, linear between rows",
        needed=False,
        low=-40 * _KT,
        high=40 * _KT,
        by=q.INDICATED_SPEED,
    ),
    word_key("checklist", "name of its checklists", needed=False),
    *TYPE_LAUNCH_KEYS,
    *TYPE_RECOVERY_KEYS,
)

DOCTRINE_KEYS = (
    word_key("label", "whose practice, and when"),
    word_key("officer", "what the man on the platform is called"),
    word_key("upwind_order", "what is done on the upwind leg"),
    word_key("break_order", "what is done in the break"),
    Key("wind.over_deck", (q.WIND_OVER_DECK,), "wind wanted along the deck to land", low=1 * _KT, high=60 * _KT),
    Key("wind.off_bow", (q.OFF_BOW,), "side it should come from", low=-45 * _DEG, high=45 * _DEG),
    Key(
        "wind.launch_over_deck",
        (q.WIND_OVER_DECK,),
        "wind wanted along the deck to launch",
        low=1 * _KT,
        high=60 * _KT,
        default="30 kt over deck",
    ),
    Key(
        "launch.interval",
        (q.TIME,),
        "from one take-off to the next, by day",
        band=True,
        low=5.0,
        high=300.0,
        default="20-30 s",
    ),
    Key(
        "launch.interval_dark",
        (q.TIME,),
        "the same when the sun is more than 6 degrees down",
        band=True,
        low=5.0,
        high=600.0,
        default="45-60 s",
    ),
    Key(
        "launch.steady_before",
        (q.TIME,),
        "steady on the flight course before the first take-off",
        low=0.0,
        high=3600.0,
        default="2 min",
    ),
    Key(
        "recovery.steady_before",
        (q.TIME,),
        "steady on the flight course before the first aeroplane is at the initial",
        low=0.0,
        high=3600.0,
        default="2 min",
    ),
    Key(
        "recovery.in_hand",
        (q.TIME,),
        "held on after the last is due aboard, for those waved off",
        low=0.0,
        high=7200.0,
        default="5 min",
    ),
    *DOCTRINE_DECK_KEYS,
    *DOCTRINE_RECOVERY_KEYS,
    word_key("signs", "name of the deck directors' signs", needed=False),
    word_key("words", "name of the words of the radio", needed=False),
    word_key("emergencies", "name of the emergencies", needed=False),
    word_key("lessons", "name of the ladder of lessons", needed=False),
    word_key("circuit.hand", "side of the ship the downwind leg is on", "left", "right"),
    Key("circuit.upwind_offset", (q.DISTANCE,), "upwind leg from the centre line", low=0.0, high=2000 * q.YARD),
    Key("circuit.initial_height", (q.HEIGHT_OVER_SEA,), "upwind leg", band=True, low=50 * _FT, high=3000 * _FT),
    Key("circuit.initial_speed", (q.INDICATED_SPEED,), "upwind leg", band=True, low=40 * _KT, high=300 * _KT),
    Key(
        "circuit.break_place",
        (q.AHEAD_OF_BOW, q.AHEAD_OF_ISLAND, q.AHEAD_OF_RAMP),
        "where the first one breaks",
        low=0.0,
        high=10_000 * q.YARD,
    ),
    Key("circuit.interval", (q.TIME,), "from one break to the next", band=True, low=8.0, high=300.0),
    Key("circuit.break_bank", (q.ANGLE,), "bank of the break", band=True, low=5 * _DEG, high=60 * _DEG),
    Key("circuit.slowing", (q.ACCELERATION,), "loss of speed in the break", band=True, low=0.01 * _G, high=_G),
    Key("circuit.downwind_height", (q.HEIGHT_OVER_SEA,), "downwind leg", band=True, low=50 * _FT, high=3000 * _FT),
    Key("circuit.downwind_speed", (q.INDICATED_SPEED,), "downwind leg", band=True, low=40 * _KT, high=300 * _KT),
    Key(
        "circuit.let_down",
        (q.CLIMB_RATE,),
        "let-down to the downwind height",
        band=True,
        low=50 * _FT / 60,
        high=3000 * _FT / 60,
    ),
    Key("circuit.ninety_height", (q.HEIGHT_OVER_SEA,), "half-way round the final", band=True, low=0.0, high=2000 * _FT),
    Key(
        "circuit.ninety_speed",
        (q.INDICATED_SPEED,),
        "half-way round the final",
        band=True,
        low=40 * _KT,
        high=300 * _KT,
    ),
    Key("circuit.ramp_height", (q.HEIGHT_OVER_DECK,), "wheels over the ramp", band=True, low=0.0, high=100 * _FT),
    Key("circuit.ramp_speed", (q.INDICATED_SPEED,), "over the ramp", band=True, low=40 * _KT, high=300 * _KT),
    Key("circuit.cut_place", (q.AHEAD_OF_RAMP,), "where the cut is given", low=0.0, high=200 * q.YARD),
    Key("circuit.greatest_bank", (q.ANGLE,), "steepest final turn allowed", low=10 * _DEG, high=60 * _DEG),
    Key("expected.abeam", (q.DISTANCE,), "downwind leg from the centre line", band=True, low=0.0),
    Key("expected.final_bank", (q.ANGLE,), "bank of the final turn", band=True, low=0.0),
    Key("expected.final_slope", (q.ANGLE,), "path through the air from ninety to ramp", band=True, low=-0.2, high=0.3),
    Key("expected.stall_margin", (q.SPEED_MARGIN,), "least indicated speed over the stall", low=0.0, high=100 * _KT),
)

TABLES: dict[str, tuple[Key, ...]] = {"ships": SHIP_KEYS, "types": TYPE_KEYS, "doctrines": DOCTRINE_KEYS}
SINGULAR = {"ships": "ship", "types": "type", "doctrines": "doctrine"}
Catalog = dict[str, dict[str, Entry]]

__all__ = [
    "DOCTRINE_KEYS", "SHIP_KEYS", "SINGULAR", "TABLES", "TYPE_KEYS", "Catalog", "Entry", "Key",
]  # fmt: skip
