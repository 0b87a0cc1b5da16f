"""Units of measure: the factor of each to SI, by dimension.

*Method:* factors are the exact definitions: foot 0.3048 m, yard 0.9144 m and pound 0.45359237 kg (international yard
and pound agreement, 1959), nautical mile 1852 m (1929), inch of mercury 3386.389 Pa (at 0 C, conventional),
horsepower 550 ft lbf/s. tests/test_quantities.py compares every factor with the library pint.
"""

from __future__ import annotations

import math

KNOT = 1852.0 / 3600.0  # m/s
FOOT = 0.3048  # m
YARD = 0.9144  # m
NAUTICAL_MILE = 1852.0  # m
POUND = 0.45359237  # kg
POUND_FORCE = POUND * 9.80665  # N
DEGREE = math.pi / 180.0  # rad
INCH_OF_MERCURY = 3386.389  # Pa
STANDARD_GRAVITY = 9.80665  # m/s2

# dimension -> unit -> factor to SI (temperatures have an offset, see _to_si)
UNITS: dict[str, dict[str, float]] = {
    "length": {"ft": FOOT, "yd": YARD, "nm": NAUTICAL_MILE, "m": 1.0, "km": 1000.0},
    "speed": {"kt": KNOT, "mph": 1609.344 / 3600.0, "m/s": 1.0, "km/h": 1.0 / 3.6},
    "climb": {"ft/min": FOOT / 60.0, "ft/s": FOOT, "m/s": 1.0},
    "angle": {"deg": DEGREE},
    "rate": {"deg/s": DEGREE},
    "revolutions": {"rpm": 1.0 / 60.0},
    "time": {"s": 1.0, "min": 60.0, "h": 3600.0},
    "mass": {"lb": POUND, "kg": 1.0},
    "flow": {"lb/h": POUND / 3600.0, "kg/h": 1.0 / 3600.0},
    "force": {"lbf": POUND_FORCE, "N": 1.0},
    "area": {"ft2": FOOT**2, "m2": 1.0},
    "power": {"hp": 550.0 * FOOT * POUND_FORCE, "kW": 1000.0},
    "pressure": {"inHg": INCH_OF_MERCURY, "hPa": 100.0, "mb": 100.0},
    "temperature": {"C": 1.0, "F": 5.0 / 9.0, "K": 1.0},
    "acceleration": {"g": STANDARD_GRAVITY, "m/s2": 1.0},
    "ship acceleration": {"kt/min": KNOT / 60.0},
    "needle": {"needle widths": 1.0},
    "ratio": {"": 1.0, "%": 0.01},
    "clock": {"s after midnight": 1.0},
}
SPELLINGS = {
    "knots": "kt", "knot": "kt", "kn": "kt", "kts": "kt", "feet": "ft", "foot": "ft", "yards": "yd", "yard": "yd",
    "yds": "yd", "nmi": "nm", "miles": "nm", "mile": "nm", "metres": "m", "meters": "m", "degrees": "deg",
    "degree": "deg", "°": "deg", "seconds": "s", "sec": "s", "minutes": "min", "hours": "h", "lbs": "lb",
    "pounds": "lb", "°C": "C", "°F": "F", "needle width": "needle widths", "sq ft": "ft2", "m²": "m2", "ft²": "ft2",
    "°/s": "deg/s", "inches": "inHg", "kPh": "km/h", "lb force": "lbf",
    "rev/min": "rpm", "r.p.m.": "rpm",
}  # fmt: skip
OFFSET = {"C": 273.15, "F": 273.15 - 32.0 * 5.0 / 9.0, "K": 0.0}
