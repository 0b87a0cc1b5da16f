"""Units at the edge: factors against the library pint, texts there and back, kinds apart, refusals that help."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown import quantities as q
from roundown.errors import QuantityError
from roundown.quantities import (
    ALL_KINDS,
    Kind,
    in_unit,
    plain,
    read,
    read_position,
    read_wind,
    read_zone,
    spellings,
    write,
    write_position,
)
from roundown.units import UNITS

PINT_NAMES = {
    "ft": "foot", "yd": "yard", "nm": "nautical_mile", "m": "metre", "km": "kilometre", "kt": "knot",
    "mph": "mile / hour", "m/s": "metre / second", "km/h": "kilometre / hour", "ft/min": "foot / minute",
    "ft/s": "foot / second", "deg": "degree", "deg/s": "degree / second", "s": "second", "min": "minute", "h": "hour",
    "lb": "pound", "kg": "kilogram", "lbf": "force_pound", "N": "newton", "ft2": "foot ** 2", "m2": "metre ** 2",
    "hp": "horsepower", "kW": "kilowatt", "inHg": "inch_Hg", "hPa": "hectopascal", "mb": "millibar",
    "C": "degC", "F": "degF", "K": "kelvin", "g": "standard_gravity", "m/s2": "metre / second ** 2",
    "kt/min": "knot / minute", "needle widths": "", "": "", "s after midnight": "second",
    "rpm": "turn / minute", "%": "percent", "lb/h": "pound / hour", "kg/h": "kilogram / hour",
}  # fmt: skip
SI = {
    "length": "metre", "speed": "metre / second", "climb": "metre / second", "angle": "radian",
    "rate": "radian / second", "time": "second", "mass": "kilogram", "force": "newton", "area": "metre ** 2",
    "power": "watt", "pressure": "pascal", "temperature": "kelvin", "acceleration": "metre / second ** 2",
    "ship acceleration": "metre / second ** 2", "needle": "", "ratio": "", "clock": "second",
    "revolutions": "turn / second", "flow": "kilogram / second",
}  # fmt: skip
ALL_UNITS = [(dimension, unit) for dimension, units in UNITS.items() for unit in units]
DIRECTIONS = (q.TRUE_DIRECTION, q.MAGNETIC_DIRECTION, q.COCKPIT_DIRECTION)


def named(kind: Kind) -> str:
    return f"{kind.name} in {kind.unit}"


def refused(text: str, *kinds: Kind, band: bool = False) -> QuantityError:
    with pytest.raises(QuantityError) as caught:
        read(text, *kinds, band=band)
    return caught.value


def value(text: str, *kinds: Kind) -> float:
    return read(text, *kinds).band.aim


@cache
def pint_units() -> Any:
    """The library pint's own table of units; it takes half a second to set up."""
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


# Factors


@pytest.mark.parametrize(("dimension", "unit"), ALL_UNITS)
def test_every_unit_agrees_with_another_library(dimension: str, unit: str) -> None:
    """Second method: the library pint, which has its own table of units."""
    units = pint_units()
    wanted = units.Quantity(7.5, PINT_NAMES[unit]).to(SI[dimension]).magnitude
    kind = Kind("anything", dimension, unit, unit, "")
    assert value(f"7.5 {unit}", kind) == pytest.approx(wanted, rel=2e-7)  # pint's mercury is 3386.3886 Pa an inch
    assert in_unit(wanted, unit, dimension) == pytest.approx(7.5, rel=2e-6)


@pytest.mark.parametrize(
    ("factor", "exact"),
    [
        (q.FOOT, 0.3048), (q.YARD, 0.9144), (q.NAUTICAL_MILE, 1852.0), (q.POUND, 0.45359237),
        (q.KNOT, 1852.0 / 3600.0), (q.STANDARD_GRAVITY, 9.80665), (q.POUND_FORCE, 0.45359237 * 9.80665),
        (q.DEGREE, math.pi / 180.0),
    ],
)  # fmt: skip
def test_factors_are_the_exact_definitions(factor: float, exact: float) -> None:
    """Definitions of 1959 (yard and pound) and 1929 (nautical mile), from memory, to the last digit of a float."""
    assert factor == pytest.approx(exact, rel=1e-15)


def test_temperatures_have_their_own_zero() -> None:
    """Own arithmetic: water freezes at 0 C = 32 F = 273.15 K, and -40 is the same on both scales."""
    assert value("0 C", q.TEMPERATURE) == pytest.approx(273.15)
    assert value("32 F", q.TEMPERATURE) == pytest.approx(273.15)
    assert value("-40 F", q.TEMPERATURE) == pytest.approx(value("-40 C", q.TEMPERATURE))
    assert write(293.15, q.TEMPERATURE) == "20.0 C"
    assert plain(293.15, q.TEMPERATURE) == pytest.approx(20.0)


# There and back


@pytest.mark.parametrize("kind", ALL_KINDS, ids=named)
def test_the_example_of_every_kind_is_read(kind: Kind) -> None:
    found = read(kind.example, kind, band=True)
    assert found.kind is kind
    assert found.band.low <= found.band.aim <= found.band.high


@pytest.mark.parametrize("metric", [False, True], ids=["trade", "metric"])
@pytest.mark.parametrize("kind", ALL_KINDS, ids=named)
@given(number=st.floats(-9e6, 9e6))
@settings(max_examples=40, deadline=None)
def test_what_is_written_is_read_back(kind: Kind, number: float, metric: bool) -> None:  # noqa: FBT001
    """Round trip to half a unit of the last digit written; directions after taking whole turns off."""
    si = in_unit(number, "K" if kind.dimension == "temperature" else kind.unit, kind.dimension)
    unit = kind.metric if metric else kind.unit
    text = write(si, kind, metric=metric, words=True)
    again = value(text, kind)
    apart = in_unit(again, unit, kind.dimension) - in_unit(si, unit, kind.dimension)
    if kind in DIRECTIONS:
        apart = (apart + 180.0) % 360.0 - 180.0
    assert abs(apart) <= 0.5 * 10.0**-kind.decimals + 1e-6
    assert write(again, kind, metric=metric, words=True) == text


@given(number=st.floats(0.0, 360.0), digits=st.integers(0, 3))
@settings(deadline=None)
def test_a_direction_is_always_three_digits_below_360(number: float, digits: int) -> None:
    text = write(number * q.DEGREE, q.COCKPIT_DIRECTION, decimals=digits)
    assert len(text) == 3 + (digits + 1 if digits else 0)
    assert text < "360"


# Bands


def test_a_range_aims_half_way() -> None:
    """Own arithmetic: (15 + 20) / 2 ft = 17.5 ft = 5.334 m."""
    band = read("15-20 ft over ramp", q.HEIGHT_OVER_DECK, band=True).band
    assert (band.low, band.aim, band.high) == pytest.approx((4.572, 5.334, 6.096))
    assert band.low in band
    assert 6.1 not in band


@pytest.mark.parametrize(
    "text", ["150-200 ft over sea", "150 - 200 ft over sea", "150–200 ft over sea", "150 to 200 ft over sea"]
)
def test_a_range_may_be_written_with_any_dash(text: str) -> None:
    band = read(text, q.HEIGHT_OVER_SEA, band=True).band
    assert (band.low, band.aim, band.high) == pytest.approx((150 * 0.3048, 175 * 0.3048, 200 * 0.3048))


def test_a_single_figure_is_a_band_of_no_width() -> None:
    band = read("30 deg", q.ANGLE, band=True).band
    assert band.low == band.aim == band.high


def test_a_range_may_begin_below_zero() -> None:
    band = read("-0.5-0.5 deg", q.ANGLE, band=True).band
    assert (band.low, band.aim, band.high) == pytest.approx((-0.5 * q.DEGREE, 0.0, 0.5 * q.DEGREE))


def test_a_range_where_one_value_is_wanted_is_refused() -> None:
    assert refused("150-200 ft over sea", q.HEIGHT_OVER_SEA).limit == "one value is wanted here, not a range"


def test_a_reversed_range_is_refused_and_turned_round() -> None:
    error = refused("200-150 ft over sea", q.HEIGHT_OVER_SEA, band=True)
    assert error.limit == "the first figure of a range is the lower one"
    assert error.remedy == 'Write "150-200 ft over sea"'


def test_a_range_to_port_keeps_low_below_high() -> None:
    """Port is negative: from 10 to 0 degrees on that side the numbers rise from -10 to 0."""
    band = read("0-10 deg port", q.OFF_BOW, band=True).band
    assert (band.low, band.aim, band.high) == pytest.approx((-10 * q.DEGREE, -5 * q.DEGREE, 0.0))


# Kinds never mix


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("300 ft over deck", q.HEIGHT_OVER_SEA),
        ("300 ft over ramp", q.HEIGHT_OVER_SEA),
        ("60 ft over sea", q.HEIGHT_OVER_DECK),
        ("120 kt true", q.INDICATED_SPEED),
        ("120 kt over ground", q.INDICATED_SPEED),
        ("120 kt indicated", q.TRUE_SPEED),
        ("30 kt over deck", q.SHIP_SPEED),
        ("30 kt through water", q.WIND_OVER_DECK),
        ("070 magnetic", q.TRUE_DIRECTION),
        ("070 M", q.TRUE_DIRECTION),
        ("070 true", q.MAGNETIC_DIRECTION),
        ("070 T", q.MAGNETIC_DIRECTION),
        ("070 true", q.COCKPIT_DIRECTION),
        ("1 nm ahead of ramp", q.AHEAD_OF_BOW),
        ("1 nm ahead of bow", q.AHEAD_OF_ISLAND),
        ("10 deg E", q.OFF_BOW),
        ("10 deg port", q.VARIATION),
        ("2 needle widths", q.ANGLE),
        ("2 deg", q.NEEDLE_WIDTHS),
        ("300 ft", q.HEIGHT_OVER_SEA),
        ("300 ft", q.HEIGHT_OVER_DECK),
        ("083", q.MAGNETIC_DIRECTION),
        ("1 nm", q.AHEAD_OF_BOW),
        ("12 m/s2", q.SPEED_MARGIN),
        ("12 kg", q.FORCE),
        ("12 lb", q.FORCE),
        ("500 ft", q.CLIMB_RATE),
    ],
)  # fmt: skip
def test_a_text_of_another_kind_is_refused(text: str, kind: Kind) -> None:
    refused(text, kind)


@given(first=st.sampled_from(ALL_KINDS), second=st.sampled_from(ALL_KINDS), number=st.integers(1, 300))
@settings(max_examples=400, deadline=None)
def test_no_text_that_names_its_datum_is_taken_for_another_kind(first: Kind, second: Kind, number: int) -> None:
    """A text that ends in the words of one kind is read only by kinds with those words, or with the same unit."""
    for word in first.words:
        text = f"{number:03d} {word}" if first in DIRECTIONS else f"{number} {first.unit} {word}"
        if word not in second.words:
            refused(text, second)


def test_the_refusal_names_the_datum_wanted() -> None:
    assert (
        refused("300 ft over deck", q.HEIGHT_OVER_SEA).limit
        == "a height over the sea is wanted here, not one 'over deck'"
    )
    assert refused("120 kt true", q.INDICATED_SPEED).limit == "an indicated airspeed is wanted here, not one 'true'"
    assert refused("070 magnetic", q.TRUE_DIRECTION).limit == "a true direction is wanted here, not 'magnetic'"
    assert refused("300 ft", q.HEIGHT_OVER_SEA).remedy == "Add 'over sea', for example \"300 ft over sea\""


def test_where_two_datums_are_allowed_the_text_chooses() -> None:
    kinds = (q.AHEAD_OF_BOW, q.AHEAD_OF_ISLAND, q.AHEAD_OF_RAMP)
    for kind in kinds:
        assert read(kind.example, *kinds).kind is kind
    error = refused("1 nm", *kinds)
    assert all(kind.name in error.limit and kind.example in error.remedy for kind in kinds)


def test_where_two_datums_are_allowed_the_refusal_is_that_of_the_one_named() -> None:
    error = refused("1 nmm ahead of ramp", q.AHEAD_OF_BOW, q.AHEAD_OF_RAMP)
    assert "unit 'nmm' does not fit a distance ahead of the ramp" in error.limit
    assert refused("1-2 nm ahead of ramp", q.AHEAD_OF_BOW, q.AHEAD_OF_RAMP).limit.startswith("one value is wanted")


# Refusals that help


@pytest.mark.parametrize(
    ("text", "kind", "limit"),
    [
        ("30", q.WIND_SPEED, "a wind speed needs its unit: kt, mph, m/s, km/h"),
        ("30", q.INDICATED_SPEED, "an indicated airspeed needs its unit: kt, mph, m/s, km/h"),
        ("15", q.TEMPERATURE, "a temperature needs its unit: C, F, K"),
        ("30 ft", q.WIND_SPEED, "unit 'ft' does not fit a wind speed; use one of: kt, mph, m/s, km/h"),
        ("0.5 kt", q.RATIO, "unit 'kt' does not fit a ratio; use one of: %"),
        ("10,5 kt", q.WIND_SPEED, "a decimal comma is not read"),
        ("nan kt", q.WIND_SPEED, "not a wind speed"),
        ("inf ft", q.LENGTH, "not a length"),
        ("-inf ft", q.LENGTH, "not a length"),
        ("", q.LENGTH, "not a length"),
        ("   ", q.LENGTH, "not a length"),
        ("ft", q.LENGTH, "not a length"),
        ("twelve ft", q.LENGTH, "not a length"),
        ("9" * 400 + " ft", q.LENGTH, "not a finite length"),
        ("10 deg", q.OFF_BOW, "an angle off the bow must say which side"),
        ("7 deg", q.VARIATION, "an angle east or west must say which side"),
        ("X10", q.OFF_BOW, "not an angle off the bow"),
        ("-10 deg port", q.OFF_BOW, "an angle off the bow has no sign: its side is named"),
        ("-7 deg W", q.VARIATION, "an angle east or west has no sign: its side is named"),
        ("70", q.TRUE_DIRECTION, "a direction is three digits from 000 to 360"),
        ("361", q.TRUE_DIRECTION, "a direction is three digits from 000 to 360"),
        ("360.0001", q.TRUE_DIRECTION, "a direction is three digits from 000 to 360"),
        ("-000", q.TRUE_DIRECTION, "a direction is three digits from 000 to 360"),
        ("", q.TRUE_DIRECTION, "a direction is three digits from 000 to 360"),
    ],
)  # fmt: skip
def test_a_refusal_says_what_is_allowed_and_what_to_write(text: str, kind: Kind, limit: str) -> None:
    error = refused(text, kind)
    assert error.limit == limit
    assert error.remedy.startswith(("Write", "Add", "Did you mean"))
    assert not error.remedy.endswith(".")


@pytest.mark.parametrize(
    ("text", "kind", "unit"),
    [
        ("30 ktt", q.WIND_SPEED, "kt"),
        ("30 KTS", q.WIND_SPEED, "kt"),
        ("30 konts", q.WIND_SPEED, "kt"),
        ("300 feets over sea", q.HEIGHT_OVER_SEA, "ft"),
        ("300 FT", q.LENGTH, "ft"),
        ("870 metre", q.LENGTH, "m"),
        ("29.92 inhg", q.PRESSURE, "inHg"),
        ("12 degs/s", q.TURN_RATE, "deg/s"),
    ],
)
def test_the_nearest_unit_is_suggested(text: str, kind: Kind, unit: str) -> None:
    assert refused(text, kind).remedy.startswith(f"Did you mean '{unit}'?")


def test_a_good_unit_of_another_dimension_brings_no_suggestion() -> None:
    """From "300 kg" for a length nobody means km."""
    assert "Did you mean" not in refused("300 kg", q.LENGTH).remedy


def test_the_refusal_of_a_unit_names_it_as_it_was_written() -> None:
    assert "unit 'miles' does not fit" in refused("30 miles", q.WIND_SPEED).limit
    assert len(str(refused("30 " + "x" * 5000, q.WIND_SPEED))) < 300


def test_a_decimal_comma_is_never_taken_for_thousands() -> None:
    """0,125 g read as 125 g would be wrong a thousandfold; a comma before three digits stands only behind 1 to 999."""
    assert refused("0,125 g", q.ACCELERATION).remedy == 'Write a point: "0.125 g"'
    assert refused("10,5-11,5 kt", q.WIND_SPEED).remedy == 'Write a point: "10.5-11.5 kt"'
    assert value("1,200 ft", q.LENGTH) == pytest.approx(1200 * 0.3048)
    assert value("1,234,567.5 ft", q.LENGTH) == pytest.approx(1234567.5 * 0.3048)


def test_powers_of_ten_are_refused() -> None:
    """No person writes 1e3 kt for a thousand; nothing is guessed."""
    assert "does not fit a wind speed" in refused("1e3 kt", q.WIND_SPEED).limit


@pytest.mark.parametrize("text", ["12 kt", "  12 kt", "12 kt\t ", "12kt", "12   kt", "12.0 knots", "+12 kt", "12 kn"])
def test_blanks_and_common_spellings_do_not_matter(text: str) -> None:
    assert value(text, q.WIND_SPEED) == pytest.approx(12 * 1852 / 3600)


@pytest.mark.parametrize("minus", ["-", "\N{MINUS SIGN}"])
def test_a_printed_minus_sign_is_a_minus(minus: str) -> None:
    assert value(f"{minus}5 C", q.TEMPERATURE) == pytest.approx(268.15)


def test_a_long_run_of_blanks_is_refused_at_once() -> None:
    """A pattern that tries every split of the blanks would take minutes for this text."""
    refused("12" + " " * 200_000 + "x", q.WIND_SPEED)
    with pytest.raises(QuantityError):
        read_wind("070" + " " * 200_000 + "x")


# Directions


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("000", 0.0), ("360", 0.0), ("359.9999", 359.9999), ("070", 70.0), ("070.5", 70.5), (" 070 ", 70.0),
     ("070 T", 70.0), ("070 true", 70.0), ("070 deg", 70.0), ("070 deg true", 70.0), ("070°", 70.0),
     ("070 degrees", 70.0), ("360.0", 0.0)],
)  # fmt: skip
def test_directions_are_read_into_one_turn(text: str, degrees: float) -> None:
    assert value(text, q.TRUE_DIRECTION) == pytest.approx(degrees * q.DEGREE)


@pytest.mark.parametrize("degrees", [0.0, -0.0, 360.0, 359.9999, 359.5, -1e-20, 720.0, -0.4])
def test_what_rounds_to_360_is_written_000(degrees: float) -> None:
    assert write(degrees * q.DEGREE, q.TRUE_DIRECTION) == "000"
    assert 0.0 <= plain(degrees * q.DEGREE, q.TRUE_DIRECTION) < 360.0


def test_directions_say_their_north_where_asked() -> None:
    assert write(70 * q.DEGREE, q.TRUE_DIRECTION, words=True) == "070 T"
    assert write(83 * q.DEGREE, q.MAGNETIC_DIRECTION, words=True) == "083 M"
    assert write(83 * q.DEGREE, q.COCKPIT_DIRECTION, words=True) == "083"
    assert write(7.26 * q.DEGREE, q.TRUE_DIRECTION, decimals=1) == "007.3"


# Sides


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("P10", -10.0), ("S10", 10.0), ("p10", -10.0), ("s 2.5", 2.5), ("10 deg port", -10.0), ("10 deg starboard", 10.0),
     ("10° port", -10.0), ("0 deg", 0.0), ("S0", 0.0), ("P0", 0.0)],
)  # fmt: skip
def test_off_the_bow_starboard_is_positive(text: str, degrees: float) -> None:
    assert value(text, q.OFF_BOW) == pytest.approx(degrees * q.DEGREE)


def test_sides_are_named_and_nought_has_none() -> None:
    assert write(-10 * q.DEGREE, q.OFF_BOW) == "10.0 deg port"
    assert write(10 * q.DEGREE, q.OFF_BOW) == "10.0 deg starboard"
    assert write(-0.01 * q.DEGREE, q.OFF_BOW) == "0.0 deg"
    assert write(-24 * q.DEGREE, q.VARIATION) == "24.0 deg W"
    assert value("24 deg W", q.VARIATION) == pytest.approx(-24 * q.DEGREE)
    assert value("24°E", q.VARIATION) == pytest.approx(24 * q.DEGREE)


# Writing


def test_small_negative_figures_are_not_written_as_minus_nought() -> None:
    assert write(-0.001, q.LENGTH) == "0 ft"
    assert write(-0.0, q.WIND_SPEED) == "0.0 kt"


def test_thousands_digits_words_and_metric_units() -> None:
    """Own arithmetic: 3048 m = 10,000 ft; 20 m/s = 72 km/h = 38.88 kt."""
    assert write(3048.0, q.HEIGHT_OVER_SEA, words=True) == "10,000 ft over sea"
    assert write(3048.0, q.HEIGHT_OVER_SEA, metric=True) == "3,048 m"
    assert write(20.0, q.WIND_SPEED) == "38.9 kt"
    assert write(20.0, q.INDICATED_SPEED, metric=True, decimals=0) == "72 km/h"
    assert write(0.75, q.RATIO) == "0.750"


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_not_known(number: float) -> None:
    assert write(number, q.LENGTH) == "not known"
    assert write(number, q.TRUE_DIRECTION) == "not known"


# Winds


@pytest.mark.parametrize(
    ("text", "degrees", "knots"),
    [("070/12 kt", 70.0, 12.0), (" 070 / 12 kt ", 70.0, 12.0), ("360/12 kt", 0.0, 12.0), ("000/0 kt", 0.0, 0.0),
     ("calm", 0.0, 0.0), (" Calm ", 0.0, 0.0), ("070 T/12 kt", math.nan, 0.0), ("070/22.224 km/h", 70.0, 12.0)],
)  # fmt: skip
def test_winds_are_read_by_where_they_come_from(text: str, degrees: float, knots: float) -> None:
    if math.isnan(degrees):
        with pytest.raises(QuantityError, match="not a wind"):
            read_wind(text)
        return
    assert read_wind(text) == pytest.approx((degrees * q.DEGREE, knots * 1852 / 3600))


@pytest.mark.parametrize(
    ("text", "limit"),
    [
        ("70/12 kt", "not a wind"),
        ("070-12 kt", "not a wind"),
        ("", "not a wind"),
        ("070/", "not a wind"),
        ("400/12 kt", "three digits from 000 to 360"),
        ("070/12", "needs its unit"),
        ("070/-12 kt", "not negative"),
        ("070/12 kt true", "is wanted here"),
        ("070/10-12 kt", "one value"),
        ("070/nan kt", "not a wind speed"),
    ],
)
def test_what_is_no_wind_is_refused(text: str, limit: str) -> None:
    with pytest.raises(QuantityError, match=limit):
        read_wind(text)


@given(text=st.text(max_size=30), kind=st.sampled_from(ALL_KINDS), band=st.booleans())
@settings(max_examples=300, deadline=None)
def test_no_text_ends_in_anything_but_a_quantity_or_a_refusal(text: str, kind: Kind, band: bool) -> None:  # noqa: FBT001
    for each in (text, f"12 {text}", f"{text} kt", f"070/{text}"):
        try:
            found = read(each, kind, band=band)
        except QuantityError:
            continue
        assert math.isfinite(found.band.aim)
        assert found.band.low <= found.band.aim <= found.band.high


# The clock


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("00:00", 0.0), ("7:05", 25_500.0), ("17:25", 62_700.0), ("17:25:30", 62_730.0), ("23:59:59", 86_399.0),
        ("01:20 next day", 91_200.0), ("23:50 day before", -600.0), ("00:00 +2 days", 172_800.0),
        ("12:00 -3 days", -216_000.0),
    ],
)  # fmt: skip
def test_a_time_by_the_clock_is_seconds_after_midnight(text: str, seconds: float) -> None:
    """Own arithmetic."""
    assert value(text, q.CLOCK_TIME) == seconds
    assert value(write(seconds, q.CLOCK_TIME), q.CLOCK_TIME) == seconds


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (62_700.0, "17:25"), (62_730.0, "17:25:30"), (86_399.4, "23:59:59"), (86_399.6, "00:00 next day"),
        (86_400.0, "00:00 next day"), (-0.4, "00:00"), (-0.6, "23:59:59 day before"), (-60.0, "23:59 day before"),
        (172_800.0, "00:00 +2 days"), (-86_401.0, "23:59:59 -2 days"),
    ],
)  # fmt: skip
def test_a_day_that_is_not_the_plans_own_is_said(seconds: float, text: str) -> None:
    """Own arithmetic; times are written to the nearest second, through midnight both ways."""
    assert write(seconds, q.CLOCK_TIME) == text


@pytest.mark.parametrize(
    "text", ["24:00", "17:60", "17:25:60", "1725", "17.25", "17:25 tomorrow", "+1:00", "17:25 2 days", ""]
)
def test_what_is_no_time_by_the_clock_is_refused(text: str) -> None:
    error = refused(text, q.CLOCK_TIME)
    assert error.limit.startswith("a time is hours and minutes by the clock")
    assert error.remedy == 'Write for example "17:25"'


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("+00:00", 0.0), ("-00:00", 0.0), ("Z", 0.0), ("z", 0.0), ("+10:00", 10.0), ("-9:30", -9.5), ("+5:45", 5.75),
        (" +10:00 ", 10.0), ("\N{MINUS SIGN}3:30", -3.5), ("-12:00", -12.0), ("+14:00", 14.0), ("ZD -10", 10.0),
        ("ZD +5", -5.0), ("ZD-5:30", 5.5), ("ZD +9:30", -9.5), ("ZD +12", -12.0), ("ZD \N{MINUS SIGN}12", 12.0),
    ],
)  # fmt: skip
def test_a_zone_is_what_the_clock_is_ahead_and_its_description_the_opposite(text: str, hours: float) -> None:
    """Own arithmetic: east of Greenwich the clock is ahead, and the zone description is negative."""
    assert read_zone(text) == hours * 3600.0


@pytest.mark.parametrize(
    ("text", "limit"),
    [
        ("", "not an offset from universal time"),
        ("10", "not an offset from universal time"),
        ("10:00", "not an offset from universal time"),
        ("+10", "not an offset from universal time"),
        ("+10:60", "not an offset from universal time"),
        ("ZD 10", "not an offset from universal time"),
        ("GMT", "not an offset from universal time"),
        ("+14:01", "-12:00 to +14:00 is allowed"),
        ("-12:30", "-12:00 to +14:00 is allowed"),
        ("ZD +13", "-12:00 to +14:00 is allowed"),
    ],
)
def test_what_is_no_zone_is_refused(text: str, limit: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_zone(text)
    assert caught.value.limit == limit


# Positions


@pytest.mark.parametrize(
    ("latitude", "longitude", "text"),
    [
        (-(31 + 40 / 60), -(5 + 20 / 60), "31 40.0 S 005 20.0 W"),
        (0.0, 0.0, "00 00.0 N 000 00.0 E"),
        (-0.04 / 60, -0.04 / 60, "00 00.0 N 000 00.0 E"),
        (59.9999, 0.9999, "60 00.0 N 001 00.0 E"),
        (12 + 5.25 / 60, 176 + 40.99 / 60, "12 05.2 N 176 41.0 E"),
        (10.0, 180.5, "10 00.0 N 179 30.0 W"),
        (10.0, -181.0, "10 00.0 N 179 00.0 E"),
        (10.0, 365.0, "10 00.0 N 005 00.0 E"),
    ],
)
def test_a_position_is_written_in_degrees_and_tenths_of_minutes(latitude: float, longitude: float, text: str) -> None:
    """Own arithmetic; a longitude beyond the date line is named from the nearer side."""
    assert write_position(latitude * q.DEGREE, longitude * q.DEGREE) == text


@given(latitude=st.floats(-88.9, 88.9), longitude=st.floats(-179.99, 179.99))
def test_a_position_written_is_read_back(latitude: float, longitude: float) -> None:
    """Round trip to half of the last digit written, a twentieth of a minute."""
    again = read_position(write_position(latitude * q.DEGREE, longitude * q.DEGREE))
    assert again == pytest.approx((latitude * q.DEGREE, longitude * q.DEGREE), abs=0.0501 / 60 * q.DEGREE)


def test_every_spelling_of_a_unit_is_read() -> None:
    kind = q.DISTANCE
    assert {"ft", "feet", "yd", "yards", "nm", "miles", "km"} <= set(spellings(kind))
    for spelling in spellings(kind):
        assert value(f"1 {spelling}", kind) > 0.0
    assert spellings(q.RATIO) == ("", "%")
