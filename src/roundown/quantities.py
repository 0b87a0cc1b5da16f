"""Units at the edge: text with a unit in, SI floats inside, text with a unit out.

A *kind* is a dimension with a datum: a height over the sea is not a height over the deck, an indicated speed is not
a speed over the ground. Texts name the datum where two are possible, and a text of the wrong kind is refused.
"""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass

from roundown.errors import QuantityError
from roundown.units import (  # the constants are read from here by everyone
    DEGREE,
    FOOT,
    INCH_OF_MERCURY,
    KNOT,
    NAUTICAL_MILE,
    POUND,
    POUND_FORCE,
    STANDARD_GRAVITY,
    YARD,
)
from roundown.units import OFFSET as _OFFSET
from roundown.units import SPELLINGS as _SPELLINGS
from roundown.units import UNITS as _UNITS


@dataclass(frozen=True)
class Kind:
    """What a number is measured as: dimension, datum, how it is shown.

    name : what people call it, as it stands in messages
    dimension : key of the unit table
    unit, metric : units it is shown in (trade, metric)
    words : phrases that name the datum in a text; the first is the one shown
    word_needed : whether a text without one of the words is refused
    decimals : digits after the point when shown in trade units
    example : a text that is accepted
    """

    name: str
    dimension: str
    unit: str
    metric: str
    example: str
    words: tuple[str, ...] = ()
    word_needed: bool = False
    decimals: int = 0


HEIGHT_OVER_SEA = Kind("height over the sea", "length", "ft", "m", "300 ft over sea", ("over sea",), True)
HEIGHT_OVER_DECK = Kind(
    "height over the deck", "length", "ft", "m", "15-20 ft over ramp", ("over deck", "over ramp"), True, 1
)
INDICATED_SPEED = Kind("indicated airspeed", "speed", "kt", "km/h", "120 kt", ("indicated",))
TRUE_SPEED = Kind("true airspeed", "speed", "kt", "km/h", "120 kt true", ("true",), decimals=1)
GROUND_SPEED = Kind("speed over the ground", "speed", "kt", "km/h", "100 kt over ground", ("over ground",), decimals=1)
SHIP_SPEED = Kind("ship speed", "speed", "kt", "kt", "22 kt", ("through water",), decimals=1)
CLOSING_SPEED = Kind("speed past the ship", "speed", "kt", "kt", "60 kt past ship", ("past ship",), decimals=1)
WIND_OVER_DECK = Kind("wind over the deck", "speed", "kt", "kt", "30 kt over deck", ("over deck",), decimals=1)
WIND_SPEED = Kind("wind speed", "speed", "kt", "m/s", "12 kt", (), decimals=1)
SPEED_MARGIN = Kind("speed margin", "speed", "kt", "km/h", "5 kt", (), decimals=1)
CLIMB_RATE = Kind("rate of climb", "climb", "ft/min", "m/s", "500 ft/min")
SINK = Kind("rate of sink", "climb", "ft/s", "m/s", "14 ft/s", decimals=1)
TRUE_DIRECTION = Kind("true direction", "angle", "deg", "deg", "070", ("true", "deg true", "T"))
MAGNETIC_DIRECTION = Kind("magnetic direction", "angle", "deg", "deg", "083 magnetic", ("magnetic", "M"), True)
COCKPIT_DIRECTION = Kind("heading by the cockpit's compass", "angle", "deg", "deg", "083")
OFF_BOW = Kind("angle off the bow", "angle", "deg", "deg", "10 deg port", ("port", "starboard"), decimals=1)
OFF_NOSE = Kind("angle off the nose", "angle", "deg", "deg", "60 deg off nose", ("off nose",))
VARIATION = Kind("angle east or west", "angle", "deg", "deg", "7 deg E", ("E", "W"), decimals=1)
LENGTH = Kind("length", "length", "ft", "m", "870 ft")
CLEARANCE = Kind("clearance", "length", "ft", "m", "2.5 ft", decimals=1)
WAVE_HEIGHT = Kind("wave height", "length", "ft", "m", "4 ft", decimals=1)
DISTANCE = Kind("distance", "length", "yd", "m", "1000 yd")
LONG_DISTANCE = Kind("distance", "length", "nm", "km", "3.5 nm", decimals=2)
AHEAD_OF_BOW = Kind("distance ahead of the bow", "length", "yd", "m", "1 nm ahead of bow", ("ahead of bow",), True)
AHEAD_OF_ISLAND = Kind(
    "distance ahead of the island", "length", "yd", "m", "1 nm ahead of island", ("ahead of island",), True
)
AHEAD_OF_RAMP = Kind(
    "distance ahead of the ramp", "length", "yd", "m", "700 yd ahead of ramp", ("ahead of ramp",), True
)
ANGLE = Kind("angle", "angle", "deg", "deg", "30 deg", decimals=1)
BANK = Kind("bank", "angle", "deg", "deg", "30 deg")
COURSE_CHANGE = Kind("change of course", "angle", "deg", "deg", "45 deg")
TURN_RATE = Kind("angle rate", "rate", "deg/s", "deg/s", "12 deg/s", decimals=2)
REVOLUTIONS = Kind("engine speed", "revolutions", "rpm", "rpm", "2600 rpm")
TIME = Kind("time", "time", "s", "s", "30 s", decimals=1)
MINUTES = Kind("time in minutes", "time", "min", "min", "5 min", decimals=1)
MASS = Kind("weight", "mass", "lb", "kg", "9800 lb")
FUEL_FLOW = Kind("fuel burned", "flow", "lb/h", "kg/h", "420 lb/h")
FORCE = Kind("force", "force", "lbf", "N", "150 lbf")
AREA = Kind("area", "area", "ft2", "m2", "300 ft2")
POWER = Kind("power", "power", "hp", "kW", "1200 hp")
TEMPERATURE = Kind("temperature", "temperature", "C", "C", "15 C", decimals=1)
PRESSURE = Kind("pressure", "pressure", "inHg", "hPa", "29.92 inHg", decimals=2)
ACCELERATION = Kind("acceleration", "acceleration", "g", "m/s2", "0.08 g", decimals=3)
SHIP_ACCELERATION = Kind("gain of ship speed", "ship acceleration", "kt/min", "kt/min", "4 kt/min", decimals=1)
NEEDLE_WIDTHS = Kind("needle widths", "needle", "needle widths", "needle widths", "2 needle widths", decimals=1)
RATIO = Kind("ratio", "ratio", "", "", "0.75", decimals=3)
COUNT = Kind("number", "ratio", "", "", "4")
MEAN_COUNT = Kind("mean number", "ratio", "", "", "0.3", decimals=1)
SHARE = Kind("part", "ratio", "%", "%", "40 %", decimals=1)
CLOCK_TIME = Kind("time by the ship's clock", "clock", "s after midnight", "s after midnight", "17:25")

_DIRECTIONS = (TRUE_DIRECTION, MAGNETIC_DIRECTION, COCKPIT_DIRECTION)

# A comma parts thousands only behind a figure that is not 0: "0,125" is meant as a decimal comma.
_NUMBER = r"[+-]?(?:[1-9]\d{0,2}(?:,\d{3})+|\d+)(?:\.\d+)?|[+-]?\.\d+"
_TEXT = re.compile(rf"^({_NUMBER})(?:\s*(?:-|\N{{EN DASH}}|to)\s*({_NUMBER}))?\s*(.*)$")
_DIRECTION = re.compile(r"^(\d{3}(?:\.\d+)?)\s*(?:degrees?|deg|°)?\s*(.*)$")
_WIND = re.compile(r"^(\d{3}(?:\.\d+)?)\s*/\s*(.+)$")
_POSITION = re.compile(
    r"^\s*(\d{1,2})(?:\s+(\d{1,2}(?:\.\d+)?))?\s*([NS])[\s,]+(\d{1,3})(?:\s+(\d{1,2}(?:\.\d+)?))?\s*([EW])\s*$"
)
_CLOCK = re.compile(r"^(\d{1,2}):([0-5]\d)(?::([0-5]\d))?(?: (next day|day before|[+-]\d{1,3} days))?$")
_ZONE = re.compile(r"^([+-])(\d{1,2}):([0-5]\d)$")
_ZONE_DESCRIPTION = re.compile(r"^ZD\s*([+-])(\d{1,2})(?::([0-5]\d))?$")
_SHORT_OFF_BOW = re.compile(r"^\s*([PpSs])\s*(\d+(?:\.\d+)?)\s*$")


@dataclass(frozen=True)
class Band:
    """A value with what is allowed round it: low <= aim <= high, SI. A single figure is a band of no width."""

    low: float
    aim: float
    high: float

    def __contains__(self, value: float) -> bool:
        return self.low <= value <= self.high


@dataclass(frozen=True)
class Quantity:
    """One or two numbers read from a text, in SI, with the kind the text turned out to be."""

    band: Band
    kind: Kind


def read(text: str, *kinds: Kind, band: bool = False) -> Quantity:
    """Read a text as one of the kinds.

    text : for example "300 ft over sea", "1000 yd", "150-200 ft over sea"; a bare number has no unit and is refused
    kinds : those allowed; more than one where a key may be given over either datum
    band : whether two numbers ("150-200 ft") are allowed; the aim is then half-way
    Returns the quantity in SI. Directions are in [0, 2 pi); off the bow starboard is positive; variation east positive.
    Raises QuantityError with what is allowed and what to do.
    """
    for kind in kinds:
        try:
            return Quantity(_read_one(text.strip(), kind, band=band), kind)
        except QuantityError:
            if len(kinds) == 1 or text.strip().endswith(kind.words):
                raise
    allowed = " or ".join(kind.name for kind in kinds)
    raise QuantityError(f"not a {allowed}", "Write for example " + " or ".join(f'"{k.example}"' for k in kinds))


def read_wind(text: str) -> tuple[float, float]:
    """Read a wind "070/12 kt": where it comes from, true [rad], and its speed [m/s]. "calm" is (0, 0).

    Raises QuantityError.
    """
    if text.strip().lower() == "calm":
        return 0.0, 0.0
    match = _WIND.match(text.strip())
    if not match:
        raise QuantityError(
            'not a wind: direction it comes from, stroke, speed with unit, or "calm"', _example("070/12 kt")
        )
    speed = _read_one(match[2], WIND_SPEED, band=False).aim
    if speed < 0.0:
        raise QuantityError("a wind speed is not negative", _example("070/12 kt"))
    return _read_one(match[1], TRUE_DIRECTION, band=False).aim, speed


def read_position(text: str) -> tuple[float, float]:
    """Read a position "37 20 S 012 10 W": latitude, north positive, and longitude, east positive [rad].

    Raises QuantityError.
    """
    match = _POSITION.match(text)
    if not match:
        raise QuantityError("not a position: degrees and minutes with N or S, then E or W", 'Write "37 20 S 012 10 W"')
    latitude = float(match[1]) + float(match[2] or 0.0) / 60.0
    longitude = float(match[4]) + float(match[5] or 0.0) / 60.0
    if latitude > 89.0 or longitude > 180.0 or float(match[2] or 0.0) >= 60.0 or float(match[5] or 0.0) >= 60.0:
        raise QuantityError("latitude to 89, longitude to 180, minutes below 60", "Look at the figures")
    return (
        (-latitude if match[3] == "S" else latitude) * DEGREE,
        (-longitude if match[6] == "W" else longitude) * DEGREE,
    )


def read_zone(text: str) -> float:
    """Read what a ship's clock is ahead of universal time [s], from "+10:00", "-9:30" or "Z".

    A navigator's zone description, whose sign is the opposite, is read where it says so: "ZD -10".
    Raises QuantityError.
    """
    plain = text.strip().replace("\N{MINUS SIGN}", "-")
    if plain in ("Z", "z"):
        return 0.0
    match, sign = _ZONE.match(plain), 1.0
    if not match:
        match, sign = _ZONE_DESCRIPTION.match(plain), -1.0
    if not match:
        raise QuantityError(
            "not an offset from universal time", "Write for example +10:00, -9:30 or Z, or a zone description as ZD -10"
        )
    ahead = sign * (-1.0 if match[1] == "-" else 1.0) * (3600.0 * int(match[2]) + 60.0 * int(match[3] or 0))
    if not -12 * 3600.0 <= ahead <= 14 * 3600.0:
        raise QuantityError("-12:00 to +14:00 is allowed", "Give another offset")
    return ahead


def _example(text: str) -> str:
    return f'Write for example "{text}"'


def _a(kind: Kind) -> str:
    return f"{'an' if kind.name[0] in 'aei' else 'a'} {kind.name}"


def _read_one(text: str, kind: Kind, *, band: bool) -> Band:
    if kind is CLOCK_TIME:
        return _read_clock(text)
    if kind in _DIRECTIONS:
        return _read_direction(text, kind)
    short = _SHORT_OFF_BOW.match(text) if kind is OFF_BOW else None
    if short:
        text = f"{short[2]} deg {'port' if short[1] in 'Pp' else 'starboard'}"
    match = _TEXT.match(text.replace("\N{MINUS SIGN}", "-"))
    if not match:
        raise QuantityError(f"not {_a(kind)}", _example(kind.example))
    if re.match(r",\d", match[3]):
        raise QuantityError("a decimal comma is not read", f'Write a point: "{re.sub(r",(?=[0-9])", ".", text)}"')
    numbers = [float(part.replace(",", "")) for part in match.group(1, 2) if part is not None]
    unit, word = _split_unit(match[3], kind)
    if len(numbers) == 2 and not band:
        raise QuantityError("one value is wanted here, not a range", _example(kind.example))
    if kind.word_needed and not word:
        raise QuantityError(
            f"{_a(kind)} must say so", f'Add {" or ".join(repr(w) for w in kind.words)}, for example "{kind.example}"'
        )
    values = [_to_si(number, unit, kind) for number in numbers]
    if not math.isfinite(sum(values)):
        raise QuantityError(f"not a finite {kind.name}", _example(kind.example))
    if len(values) == 2 and values[0] > values[1]:
        raise QuantityError("the first figure of a range is the lower one", f'Write "{match[2]}-{match[1]} {match[3]}"')
    if kind in (OFF_BOW, VARIATION) and any(values):
        if values[0] < 0.0:
            raise QuantityError(f"{_a(kind)} has no sign: its side is named", _example(kind.example))
        if not word:
            raise QuantityError(f"{_a(kind)} must say which side", _example(kind.example))
        if word in ("port", "W"):
            values = [-value for value in reversed(values)]
    return Band(values[0], sum(values) / len(values), values[-1])


def _read_direction(text: str, kind: Kind) -> Band:
    match = _DIRECTION.match(text)
    if not match or not 0.0 <= float(match[1]) <= 360.0:
        raise QuantityError("a direction is three digits from 000 to 360", _example(kind.example))
    rest = match[2]
    if rest and rest not in kind.words:
        raise QuantityError(f"{_a(kind)} is wanted here, not '{rest[:40]}'", _example(kind.example))
    if kind.word_needed and not rest:
        raise QuantityError(f"{_a(kind)} must say so", _example(kind.example))
    value = float(match[1]) % 360.0 * DEGREE
    return Band(value, value, value)


def _read_clock(text: str) -> Band:
    match = _CLOCK.match(text)
    if not match or int(match[1]) > 23:
        raise QuantityError("a time is hours and minutes by the clock, from 00:00 to 23:59", _example("17:25"))
    days = {"": 0, "next day": 1, "day before": -1}.get(match[4] or "")
    days = int(match[4].removesuffix(" days")) if days is None else days
    value = 86400.0 * days + 3600.0 * int(match[1]) + 60.0 * int(match[2]) + float(match[3] or 0)
    return Band(value, value, value)


def _split_unit(rest: str, kind: Kind) -> tuple[str, str]:
    units = _UNITS[kind.dimension]
    for word in sorted(kind.words, key=len, reverse=True):
        if rest == word or rest.endswith((" " + word, "°" + word)):
            unit = rest[: len(rest) - len(word)].strip()
            break
    else:
        word, unit = "", rest
    written, unit = unit[:40], _SPELLINGS.get(unit, unit)
    if unit in units:
        return unit, word
    listed = ", ".join(name for name in units if name)
    if not unit:
        raise QuantityError(f"{_a(kind)} needs its unit: {listed}", _example(kind.example))
    for other in _WORDS:
        if unit.endswith(other) and other not in kind.words:
            raise QuantityError(f"{_a(kind)} is wanted here, not one '{other}'", _example(kind.example))
    hint = _nearest_unit(written, units)
    if not listed:
        raise QuantityError(f"{_a(kind)} has no unit", f"{hint}{_example(kind.example)}")
    raise QuantityError(
        f"unit '{written}' does not fit {_a(kind)}; use one of: {listed}", f"{hint}{_example(kind.example)}"
    )


def _nearest_unit(written: str, units: dict[str, float]) -> str:
    """A question for a misspelt unit; nothing for a good unit of another dimension."""
    if written in _SPELLINGS or any(written in table for table in _UNITS.values()):
        return ""
    known = [*units, *(spelling for spelling, unit in _SPELLINGS.items() if unit in units)]
    close = [near for word in (written, written.lower()) for near in difflib.get_close_matches(word, known, 1, 0.5)]
    return f"Did you mean '{_SPELLINGS.get(close[0], close[0])}'? " if close else ""


def _to_si(number: float, unit: str, kind: Kind) -> float:
    factor = _UNITS[kind.dimension][unit]
    return number * factor + (_OFFSET[unit] if kind.dimension == "temperature" else 0.0)


def spellings(kind: Kind) -> tuple[str, ...]:
    """Every way a text may spell a unit of the kind, the unit itself first; "" where it has none."""
    units = _UNITS[kind.dimension]
    return (*units, *(spelling for spelling, unit in _SPELLINGS.items() if unit in units))


def in_unit(value: float, unit: str, dimension: str) -> float:
    """The plain number of a SI value in a unit of a dimension."""
    return (value - (_OFFSET[unit] if dimension == "temperature" else 0.0)) / _UNITS[dimension][unit]


def plain(value: float, kind: Kind, decimals: int = 12) -> float:
    """A SI value as a plain number of the kind's trade unit, rounded; directions in [0, 360) after rounding."""
    number = in_unit(value, kind.unit, kind.dimension)
    return round(number % 360.0, decimals) % 360.0 if kind in _DIRECTIONS else round(number, decimals) + 0.0


def write(value: float, kind: Kind, *, metric: bool = False, decimals: int | None = None, words: bool = False) -> str:
    """A SI value as text with its unit.

    metric : show the metric unit instead of the trade unit
    decimals : digits after the point, otherwise those of the kind
    words : add the datum, as in "300 ft over sea"
    Directions have three digits; off the bow and variation name the side; a value that is not a number is "not known".
    """
    if not math.isfinite(value):
        return "not known"
    if kind is CLOCK_TIME:
        return _write_clock(value)
    digits = kind.decimals if decimals is None else decimals
    if kind in _DIRECTIONS:
        number = round(value / DEGREE % 360.0, digits) % 360.0
        shown = f"{number:0{4 + digits if digits else 3}.{digits}f}"
        letter = {TRUE_DIRECTION: " T", MAGNETIC_DIRECTION: " M"}.get(kind, "")
        return shown + letter if words else shown
    unit = kind.metric if metric else kind.unit
    number = round(in_unit(value, unit, kind.dimension), digits) + 0.0
    if kind in (OFF_BOW, VARIATION):
        positive, negative = ("starboard", "port") if kind is OFF_BOW else ("E", "W")
        side = positive if number > 0 else negative if number < 0 else ""
        return f"{abs(number):.{digits}f} {unit} {side}".rstrip()
    text = f"{number:,.{digits}f} {unit}".rstrip()
    return f"{text} {kind.words[0]}" if words and kind.words else text


def write_position(latitude: float, longitude: float) -> str:
    """A position in degrees and tenths of minutes, "31 40.0 S 005 20.0 W". latitude, longitude [rad]."""
    parts = []
    for angle, digits, letters in ((latitude, 2, "NS"), (longitude, 3, "EW")):
        turned = math.remainder(angle, math.tau) if digits == 3 else angle
        tenths = round(abs(turned) / DEGREE * 600.0)
        whole, minutes = divmod(tenths, 600)
        parts.append(f"{whole:0{digits}d} {minutes / 10.0:04.1f} {letters[turned < 0.0 and tenths > 0]}")
    return " ".join(parts)


def _write_clock(value: float) -> str:
    """A time of day to the second, "17:25" on the minute; a day that is not the plan's own is said."""
    days, seconds = divmod(round(value), 86400)
    clock = f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}" + (f":{seconds % 60:02d}" if seconds % 60 else "")
    if days == 0:
        return clock
    return f"{clock} {'next day' if days == 1 else 'day before' if days == -1 else f'{days:+d} days'}"


__all__ = [
    "DEGREE", "FOOT", "INCH_OF_MERCURY", "KNOT", "NAUTICAL_MILE", "POUND", "POUND_FORCE", "STANDARD_GRAVITY", "YARD",
]  # fmt: skip
ALL_KINDS: tuple[Kind, ...] = tuple(value for value in list(globals().values()) if isinstance(value, Kind))
_WORDS = sorted({word for kind in ALL_KINDS for word in kind.words if len(word) > 1}, key=len, reverse=True)
