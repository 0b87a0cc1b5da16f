"""The keys of an air plan, table by table."""

from __future__ import annotations

from roundown import quantities as q
from roundown.catalog.types import Key

_KT = q.KNOT

PLACE_KEYS = (
    Key("position", (), 'where the guide is at that time, as in "37 20 S 012 10 W"'),
    Key("date", (), "day of the plan by the ship's clock, as in 1949-03-17"),
    Key(
        "time",
        (),
        'datum time by the ship\'s clock, as in "14:30"; without events the first aeroplane is at the initial then',
    ),
    Key("zone", (), 'what the ship\'s clock is ahead of universal time, as in "+10:00" or "-9:30"', default="+00:00"),
    Key(
        "variation",
        (q.VARIATION,),
        "magnetic variation as the simulator has it; else the earth's field of the date",
        low=-180 * q.DEGREE,
        high=180 * q.DEGREE,
        needed=False,
    ),
)
WEATHER_KEYS = (
    Key("surface_wind", (), 'wind at 10 m, where it comes from and how strong, as in "070/12 kt"'),
    Key(
        "wind_profile",
        (),
        "how it grows with height where no winds are given",
        choices=("sea", "uniform"),
        default="sea",
    ),
    Key("temperature", (q.TEMPERATURE,), "at sea level", default="15 C", low=223.15, high=333.15),
    Key("pressure", (q.PRESSURE,), "at sea level", default="29.92126 inHg", low=85_000.0, high=110_000.0),
    Key("swell", (q.LENGTH,), "height of the swell, trough to crest", default="0 ft", low=0.0, high=100 * q.FOOT),
)
WIND_KEYS = (
    Key("height", (q.HEIGHT_OVER_SEA,), "height of this wind", low=11.0, high=10_000.0),
    Key("wind", (), 'as in "075/15 kt"'),
)
SHIP_KEYS = (
    Key("name", (), "a ship of the catalog or of this file: the carrier, and guide of those in company"),
    Key("base_course", (q.TRUE_DIRECTION,), "course between flying"),
    Key("base_speed", (q.SHIP_SPEED,), "speed between flying", low=0.0, high=45 * _KT),
    Key(
        "regain_speed",
        (q.SHIP_SPEED,),
        "speed at which she regains the base track; else her greatest",
        needed=False,
        low=1 * _KT,
        high=45 * _KT,
    ),
)
DOCTRINE_KEYS = (Key("name", (), "a doctrine of the catalog or of this file"),)
AEROPLANE_KEYS = (
    Key("type", (), "a type of the catalog or of this file"),
    Key(
        "weight",
        (q.MASS,),
        "on coming aboard, if not the type's",
        needed=False,
        low=500 * q.POUND,
        high=60_000 * q.POUND,
    ),
)
COCKPIT_KEYS = (
    Key("headings", (), "what the compass card shows", choices=("magnetic", "compass", "true"), default="magnetic"),
    Key(
        "altimeter",
        (q.PRESSURE,),
        "what the altimeter is set to; else the pressure at sea level",
        needed=False,
        low=85_000.0,
        high=110_000.0,
    ),
)
_SKY_TIMES = ("sunrise", "sunset", "civil_dawn", "civil_dusk", "nautical_dawn", "nautical_dusk")
SIMULATOR_KEYS = (
    Key("winds", (), "how the winds of this plan are named", choices=("from", "to"), default="from"),
    *(
        Key(name, (q.CLOCK_TIME,), f"{name.replace('_', ' ')} in the simulator, by the ship's clock", needed=False)
        for name in _SKY_TIMES
    ),
)
RADIO_KEYS = (
    Key("silence", (), "when nothing is said", needed=False),
    Key("lights", (), "which lights, and when", needed=False),
    Key("identification", (), "how one's own are known", needed=False),
)
CHANNEL_KEYS = (
    Key("name", (), "number or letter of the channel"),
    Key("use", (), "what it is for"),
    Key("frequency", (), "as people say it", needed=False),
    Key("call_sign", (), "who answers on it", needed=False),
)
SQUADRON_KEYS = (
    Key("label", (), "what it is called", needed=False),
    Key("type", (), "a type of the catalog or of this file"),
    Key("ship", (), "the carrier it flies from, [ship] or one of [[company]]; else that of [ship]", needed=False),
    Key("call_sign", (), "spoken; a seat's own is this and its number", needed=False),
)
SEAT_KEYS = (
    Key("side", (), "number on the aeroplane's side, no two alike"),
    Key("name", (), "who flies it", needed=False),
    Key("division", (), "number, from 1", needed=False),
    Key("section", (), "number, from 1", needed=False),
    Key("leader", (), "what he leads", choices=("squadron", "division", "section"), needed=False),
    Key("skill", (), "how well he flies it", choices=("novice", "trained", "experienced"), needed=False),
    Key("call_sign", (), "spoken, if not the squadron's and a number", needed=False),
)
TROUBLES = ("no radio", "hook", "hung stores", "wounded", "damaged")
LOADING_KEYS = (
    Key("fuel", (q.MASS,), "fuel at take-off; else full tanks", needed=False, low=0.0, high=20_000 * q.POUND),
    Key(
        "stores",
        (q.MASS,),
        "ammunition and stores at take-off; else the heaviest the type carries",
        needed=False,
        low=0.0,
        high=20_000 * q.POUND,
    ),
    Key("flap", (q.RATIO,), "part of full flap for take-off; else the type's own", needed=False, low=0.0, high=1.0),
    Key("power", (q.RATIO,), "part of full power in the run; else full power", needed=False, low=0.1, high=1.0),
    Key(
        "manifold_pressure",
        (q.PRESSURE,),
        "the power of the run, at full engine speed",
        needed=False,
        low=10.0 * q.INCH_OF_MERCURY,
        high=90.0 * q.INCH_OF_MERCURY,
    ),
    Key(
        "braked_pressure",
        (q.PRESSURE,),
        "manifold pressure run up to on the brakes; else the type's own",
        needed=False,
        low=10.0 * q.INCH_OF_MERCURY,
        high=90.0 * q.INCH_OF_MERCURY,
    ),
)
HOME_KEYS = (
    Key("fuel", (q.MASS,), "fuel left on reaching the hold", needed=False, low=0.0, high=20_000 * q.POUND),
    Key("trouble", (), "what is wrong", choices=TROUBLES, needed=False),
)
PIN_KEYS = (
    Key("ahead", (q.LENGTH,), "main wheels ahead of the ramp", low=0.0, high=1200 * q.FOOT),
    Key(
        "port",
        (q.LENGTH,),
        "the same to port of the centre line, negative to starboard",
        low=-125 * q.FOOT,
        high=125 * q.FOOT,
        default="0 ft",
    ),
    Key("heading", (q.OFF_BOW,), "nose off the bow", low=-180 * q.DEGREE, high=180 * q.DEGREE, default="0 deg"),
)
EVENT_KEYS = (
    Key("name", (), "what it is called, no two alike"),
    Key("task", (), "what it is for", needed=False),
    Key("load", (), "what it carries", needed=False),
    Key("launch", (), 'first take-off, as in "17:25" or "sunset - 75 min"', needed=False),
    Key("push", (), 'leaving the rendezvous, as in "launch + 20 min"', needed=False),
    Key("target", (), "where it goes", needed=False),
    Key("time_on_target", (), "when it is to be there", needed=False),
    Key("recovery", (), "first aeroplane at the initial", needed=False),
    Key(
        "fuel_home",
        (q.MASS,),
        "fuel left in each on reaching the hold",
        needed=False,
        low=0.0,
        high=20_000 * q.POUND,
    ),
    Key(
        "left_on_deck",
        (q.COUNT,),
        "aeroplanes left on deck, moved forward after the launch",
        needed=False,
        low=0.0,
        high=80.0,
    ),
    *LOADING_KEYS,
)
COMPANY_KEYS = (
    Key("name", (), "what she is called, no two alike"),
    Key("ship", (), "a ship of the catalog or of this file; a carrier must be one, its name if left out", needed=False),
    Key("role", (), "what she is", choices=("carrier", "escort", "plane guard")),
    Key("bearing", (q.OFF_BOW,), "off the guide's bow on the base course", low=-180 * q.DEGREE, high=180 * q.DEGREE),
    Key("distance", (q.DISTANCE,), "from the guide", low=100 * q.YARD, high=60_000 * q.YARD),
    Key("guards", (), "plane guard: the carrier she follows; bearing and distance are then from her", needed=False),
    Key("greatest_speed", (q.SHIP_SPEED,), "of an escort, where known", needed=False, low=1 * _KT, high=45 * _KT),
)
SECTIONS: dict[str, tuple[Key, ...]] = {
    "place": PLACE_KEYS,
    "weather": WEATHER_KEYS,
    "ship": SHIP_KEYS,
    "doctrine": DOCTRINE_KEYS,
    "aeroplane": AEROPLANE_KEYS,
    "cockpit": COCKPIT_KEYS,
    "simulator": SIMULATOR_KEYS,
    "radio": RADIO_KEYS,
}
TABLES_OF_ROWS: dict[str, tuple[Key, ...]] = {
    "company": COMPANY_KEYS,
    "event": EVENT_KEYS,
}
LISTS_IN_PLAN = ("checklists", "signs", "words", "emergencies", "lessons")
TOP_KEYS = (
    "format", "title", "source", "catalog", *SECTIONS, "company", "squadrons", "event", "muster", "sea_room", "ashore",
    "override", "ships", "types", "doctrines", *LISTS_IN_PLAN,
)  # fmt: skip
