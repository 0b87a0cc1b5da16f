"""What a doctrine says of the flight deck: what a launch keeps in hand, how the deck is spotted, how long things take.

None of it need be given. The defaults are common practice or own rules, without a source, and say so in each trace.
"""

from __future__ import annotations

from roundown import quantities as q
from roundown.catalog.keys import Key, word_key
from roundown.quantities import Kind

_KT, _FT, _DEG = q.KNOT, q.FOOT, q.DEGREE


def _key(name: str, kind: Kind, meaning: str, low: float, high: float, default: str, *, band: bool = False) -> Key:
    return Key(name, (kind,), meaning, band=band, low=low, high=high, default=default)


DOCTRINE_DECK_KEYS = (
    _key("launch.in_hand", q.LENGTH, "deck wanted ahead of the wheels at lift-off", 0.0, 400 * _FT, "50 ft"),
    _key("launch.wind_limits", q.WIND_OVER_DECK, "least and most wind along the deck to launch in",
         0.0, 60 * _KT, "25-40 kt over deck", band=True),
    _key("launch.across", q.WIND_OVER_DECK, "most wind across the deck to launch in", 0.0, 30 * _KT, "8 kt over deck"),
    _key("launch.wingtip", q.LENGTH, "least room beside a wingtip in the run", 0.0, 40 * _FT, "5 ft"),
    word_key("launch.clearing_side", "side of the clearing turn past the bow", "starboard", "port",
             default="starboard"),
    _key("launch.clearing_bank", q.BANK, "bank of the clearing turn", 1 * _DEG, 44 * _DEG, "15 deg"),
    _key("launch.clearing_change", q.COURSE_CHANGE, "how far it turns, and turns back", 1 * _DEG, 44 * _DEG, "15 deg"),
    _key("launch.clearing_wait", q.TIME, "from the first climb to the clearing turn", 0.0, 30.0, "2 s"),
    _key("launch.clearing_hold", q.TIME, "held on the heading turned to", 0.0, 40.0, "5 s"),
    _key("launch.warm_up", q.TIME, "from engine start to the first take-off", 0.0, 7200.0, "10 min"),
    _key("launch.taxi", q.TIME, "from the spot to the launch place", 0.0, 600.0, "15 s"),
    _key("launch.spread", q.TIME, "to spread the wings", 0.0, 600.0, "20 s"),
    _key("launch.lock", q.TIME, "to lock them", 0.0, 600.0, "10 s"),
    _key("launch.at_once", q.RATIO, "how many are readied at once", 1.0, 8.0, "2"),
    _key("launch.clear", q.TIME, "from take-off until past the bow and clear", 0.0, 120.0, "10 s"),
    _key("launch.catapult_interval", q.TIME, "from shot to shot of one catapult", 10.0, 1200.0, "60 s"),
    _key("launch.rig", q.TIME, "wires and barriers up after the last take-off", 0.0, 3600.0, "60 s"),
    _key("spot.clearance", q.LENGTH, "kept between folded aeroplanes", 0.0, 20 * _FT, "2.5 ft"),
    _key("spot.spread_clearance", q.LENGTH, "kept by spread wings at the launch place", 0.0, 30 * _FT, "4 ft"),
    _key("spot.slant", q.RATIO, "how far ahead one goes for each foot across on to the launch line",
         0.0, 5.0, "1"),
    _key("spot.line", q.LENGTH, "launch line, to port of the centre line, negative to starboard",
         -60 * _FT, 60 * _FT, "0 ft"),
    _key("spot.together", q.TIME, "launches nearer together than this are ranged on deck at once",
         0.0, 6 * 3600.0, "30 min"),
    _key("spot.respot", q.TIME, "for each aeroplane moved forward on deck", 0.0, 600.0, "30 s"),
)  # fmt: skip
