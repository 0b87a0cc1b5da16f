"""The keys of an air plan, table by table."""

from __future__ import annotations

from roundown import quantities as q
from roundown.catalog.types import Key

_KT = q.KNOT

PLACE_KEYS = (
    Key("position", (), 'where the ship is, as in "37 20 S 012 10 W"'),
    Key("date", (), "day of the recovery, as in 1949-03-17"),
    Key("time", (), 'when the first aeroplane is at the initial, universal time, as in "14:30"'),
    Key("variation", (q.VARIATION,), "magnetic variation here", low=-180 * q.DEGREE, high=180 * q.DEGREE),
)
WEATHER_KEYS = (
    Key("surface_wind", (), 'wind at 10 m, where it comes from and how strong, as in "070/12 kt"'),
    Key(
        "wind_profile",
        (),
        "how it grows with height where no winds are given",
        choices=("sea", "uniform"),
        needed=False,
    ),
    Key("temperature", (q.TEMPERATURE,), "at sea level", needed=False, low=223.15, high=333.15),
    Key("pressure", (q.PRESSURE,), "at sea level", needed=False, low=85_000.0, high=110_000.0),
)
WIND_KEYS = (
    Key("height", (q.HEIGHT_OVER_SEA,), "height of this wind", low=11.0, high=10_000.0),
    Key("wind", (), 'as in "075/15 kt"'),
)
SHIP_KEYS = (
    Key("name", (), "a ship of the catalog or of this file"),
    Key("base_course", (q.TRUE_DIRECTION,), "course between flying"),
    Key("base_speed", (q.SHIP_SPEED,), "speed between flying", low=0.0, high=45 * _KT),
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
    Key("headings", (), "what the compass card shows", choices=("magnetic", "compass", "true"), needed=False),
)
SECTIONS: dict[str, tuple[Key, ...]] = {
    "place": PLACE_KEYS,
    "weather": WEATHER_KEYS,
    "ship": SHIP_KEYS,
    "doctrine": DOCTRINE_KEYS,
    "aeroplane": AEROPLANE_KEYS,
    "cockpit": COCKPIT_KEYS,
}
TOP_KEYS = ("format", "title", "source", "catalog", *SECTIONS, "override", "ships", "types", "doctrines")
DEFAULTS = {
    "weather.wind_profile": "sea",
    "weather.temperature": "15 C",
    "weather.pressure": "29.92126 inHg",
    "cockpit.headings": "magnetic",
}
