"""`roundown reckon`: single sums, with plain numbers in and out.

JSON answers are flat; a number means the unit its key ends in.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import Annotated, Any

from cyclopts import App, Parameter, Token

from roundown.errors import NoSolution, QuantityError, RoundownError
from roundown.quantities import (
    ANGLE,
    DEGREE,
    FOOT,
    INDICATED_SPEED,
    KNOT,
    LENGTH,
    OFF_BOW,
    SHIP_SPEED,
    TRUE_DIRECTION,
    TRUE_SPEED,
    WIND_OVER_DECK,
    YARD,
    Kind,
    plain,
    read,
    read_wind,
    write,
)

app = App(
    name="reckon",
    help="Single sums: wind, true wind, turn, air, triangle, circuit, run, light, variation, horizon.",
    help_format="plaintext",
)
app.command(
    "roundown.cli.reckon_sky:light", name="light", help="Sunrise, sunset, twilights and moon of a day at a place."
)
app.command("roundown.cli.reckon_sky:variation", name="variation", help="Magnetic variation at a place and date.")
app.command(
    "roundown.cli.reckon_sky:horizon", name="horizon", help="How far the sea horizon is, for the eye and for radio."
)
app.command(
    "roundown.cli.reckon_run:run", name="run", help="One deck run from a spot, and how low it comes after the bow."
)


def number(told: str, kind: Kind) -> Parameter:
    """An option that takes a bare number in the kind's trade unit, or a text with a unit. told : its help."""

    def convert(_: Any, tokens: Sequence[Token]) -> float:
        text = tokens[0].value
        try:
            return float(text.replace(",", ""))
        except ValueError:
            return plain(read(text, kind).band.aim, kind)

    return Parameter(help=told, converter=convert)


Json = Annotated[bool, Parameter(name="--json", help="Answer in JSON.", negative="")]
Wind = Annotated[str, Parameter(help="Where it comes from and how strong, as in 070/12 (kt).")]


@app.command
def wind(
    *,
    wind: Wind,
    over_deck: Annotated[float, number("Wanted over the deck, kt.", WIND_OVER_DECK)],
    off_bow: Annotated[str, Parameter(help="Side it should come from: P10 or S10, degrees.")] = "S0",
    base_course: Annotated[
        float | None,
        number("Course between flying, degrees; of two answers the nearer.", TRUE_DIRECTION),
    ] = None,
    min_speed: Annotated[float, number("Ship's least speed, kt.", SHIP_SPEED)] = 5.0,
    max_speed: Annotated[float, number("Ship's greatest speed, kt.", SHIP_SPEED)] = 30.0,
    as_json: Json = False,
) -> int:
    """Course and speed for a wanted wind over the deck."""
    from roundown.ship.wind_over_deck import explain, flight_course

    wind_from, wind_speed = _wind(wind)
    side = _read("--off-bow", off_bow)
    limits({"--off-bow": (side / DEGREE, -180, 180)})
    limits({"--over-deck": (over_deck, 0.1, 100), "--min-speed": (min_speed, 0, 60), "--max-speed": (max_speed, 0, 60)})
    if min_speed > max_speed:
        raise RoundownError(f"--min-speed {min_speed:g} is above --max-speed {max_speed:g}. Exchange the two.")
    base = wind_from if base_course is None else _angle("--base-course", base_course)
    task = (wind_from, wind_speed, over_deck * KNOT, side)
    found = flight_course(*task, base, min_speed * KNOT, max_speed * KNOT)
    answer = {
        "course_deg": _bearing(found.course),
        "speed_kt": found.speed / KNOT,
        "over_deck_kt": found.over_deck / KNOT,
        "off_bow_deg": found.off_bow / DEGREE + 0.0,
        "attained": found.attained,
    }
    return say(answer, as_json, explain(found, *task, min_speed * KNOT, max_speed * KNOT))


@app.command(name="true-wind")
def true_wind(
    *,
    course: Annotated[float, number("Ship's course, degrees.", TRUE_DIRECTION)],
    speed: Annotated[float, number("Ship's speed, kt.", SHIP_SPEED)],
    relative: Annotated[str, Parameter(help="Wind felt: degrees clockwise off the bow / kt, as in 030/25.")],
    as_json: Json = False,
) -> int:
    """Natural wind from the wind felt on deck."""
    from roundown.ship.wind_over_deck import true_wind as natural

    limits({"--speed": (speed, 0, 60)})
    off_bow, felt = _wind(relative, "--relative")
    wind_from, strength = natural(_angle("--course", course), speed * KNOT, off_bow, felt)
    answer = {"wind_from_deg": _bearing(wind_from), "wind_kt": strength / KNOT}
    return say(answer, as_json, f"Natural wind from {_shown(wind_from)}, {strength / KNOT:.1f} kt.")


@app.command
def turn(
    *,
    tas: Annotated[float, number("True airspeed, kt.", TRUE_SPEED)],
    bank: Annotated[float, number("Bank, degrees.", ANGLE)],
    as_json: Json = False,
) -> int:
    """Level turn: radius, rate, time of a half turn, load factor."""
    from roundown.motion.turns import half_turn_time, load_factor, radius, rate

    limits({"--tas": (tas, 1, 600), "--bank": (bank, 0.5, 85)})
    speed, tilt = tas * KNOT, bank * DEGREE
    answer = {
        "radius_yd": radius(speed, tilt) / YARD,
        "rate_deg_s": rate(speed, tilt) / DEGREE,
        "half_turn_s": half_turn_time(speed, tilt),
        "load_factor": load_factor(tilt),
    }
    return say(
        answer, as_json,
        f"Radius {answer['radius_yd']:.0f} yd, {answer['rate_deg_s']:.2f} deg/s, half a turn in "
        f"{answer['half_turn_s']:.1f} s, load factor {answer['load_factor']:.3f}.",
    )  # fmt: skip


@app.command
def air(
    *,
    altitude: Annotated[float, number("Height in the standard atmosphere, ft.", LENGTH)],
    cas: Annotated[float | None, number("Calibrated airspeed, kt.", INDICATED_SPEED)] = None,
    as_json: Json = False,
) -> int:
    """Standard atmosphere at a height, and true airspeed."""
    from roundown.environment.air import Air, density, pressure, temperature, true_from_calibrated

    limits({"--altitude": (altitude, -1600, 36_000), **({"--cas": (cas, 1, 600)} if cas is not None else {})})
    height, standard = altitude * FOOT, Air()
    answer: dict[str, float | None] = {
        "temperature_c": float(temperature(height, standard)) - 273.15,
        "pressure_hpa": float(pressure(height, standard)) / 100.0,
        "density_kg_m3": float(density(height, standard)),
        "tas_kt": None,
    }
    words = f"{answer['temperature_c']:.2f} C, {answer['pressure_hpa']:.1f} hPa, {answer['density_kg_m3']:.4f} kg/m3"
    if cas is not None:
        here = float(pressure(height, standard)), float(temperature(height, standard))
        try:
            answer["tas_kt"] = float(true_from_calibrated(cas * KNOT, *here)) / KNOT
        except ValueError as error:
            raise RoundownError(f"--cas = {cas:g}: that is faster than sound there. Give a lower speed.") from error
        words += f"; {cas:g} kt calibrated is {answer['tas_kt']:.1f} kt true"
    return say(answer, as_json, f"{words}.")


@app.command
def triangle(
    *,
    course: Annotated[float, number("Track wanted, degrees.", TRUE_DIRECTION)],
    tas: Annotated[float, number("True airspeed, kt.", TRUE_SPEED)],
    wind: Wind,
    as_json: Json = False,
) -> int:
    """Heading and ground speed in a wind."""
    from roundown.environment.wind import triangle as solve_triangle

    limits({"--tas": (tas, 1, 600)})
    try:
        found = solve_triangle(_angle("--course", course), tas * KNOT, *_wind(wind))
    except NoSolution as error:
        raise RoundownError(
            "the wind across that course is stronger than the airspeed. Fly faster, or elsewhere."
        ) from error
    answer = {
        "heading_deg": _bearing(found.heading),
        "ground_speed_kt": found.ground_speed / KNOT,
        "wind_correction_deg": found.wind_correction / DEGREE + 0.0,
    }
    side = "right" if found.wind_correction > 0 else "left"
    correction = f"{abs(answer['wind_correction_deg']):.1f} deg {side}"
    return say(
        answer,
        as_json,
        f"Head {_shown(found.heading)}, {correction}; {answer['ground_speed_kt']:.1f} kt made good.",
    )


@app.command
def circuit(
    *,
    doctrine: Annotated[str, Parameter(help="A doctrine of the catalog.")],
    type: Annotated[str, Parameter(help="A type of the catalog.")],  # noqa: A002 - the option's trade name
    over_deck: Annotated[float, number("Wind over the deck from dead ahead, kt.", WIND_OVER_DECK)],
    ship: Annotated[str, Parameter(help="A ship of the catalog, for deck height and length.")] = "corbel",
    as_json: Json = False,
) -> int:
    """The landing circuit in a uniform wind over the deck, standard air."""
    from roundown.cli.reckon_circuit import solve_reckoned

    limits({"--over-deck": (over_deck, 0, 60)})
    found = solve_reckoned(doctrine, type, ship, over_deck * KNOT)
    answer = {
        "abeam_yd": found.abeam / YARD,
        "turn_in_ahead_of_ramp_yd": found.turn_in_ahead / YARD,
        "ramp_bearing_off_nose_deg": found.ramp_off_nose / DEGREE,
        "break_bank_deg": found.break_bank / DEGREE,
        "final_bank_deg": found.final_bank / DEGREE,
        "final_turn_s": found.final_time,
        "break_to_ramp_s": found.break_to_ramp,
        "initial_to_break_s": found.initial_to_break,
    }
    words = (
        f"Downwind {answer['abeam_yd']:.0f} yd abeam; turn in {answer['turn_in_ahead_of_ramp_yd']:.0f} yd ahead of the "
        f"ramp, which is then {answer['ramp_bearing_off_nose_deg']:.0f} deg off the nose; "
        f"{answer['final_bank_deg']:.1f} deg of bank for {answer['final_turn_s']:.1f} s."
    )
    return say(answer, as_json, words)


def say(answer: Mapping[str, float | str | None], as_json: bool, words: str) -> int:  # noqa: FBT001
    """Print an answer as flat JSON or as a sentence; returns the exit code 0."""
    if as_json:
        print(
            json.dumps({key: round(value, 6) if isinstance(value, float) else value for key, value in answer.items()})
        )
    else:
        print(words)
    return 0


def _bearing(angle: float) -> float:
    """Degrees in [0, 360), rounded so that 359.9999999 is 0."""
    return round(angle / DEGREE % 360.0, 6) % 360.0


def _shown(angle: float) -> str:
    return write(angle, TRUE_DIRECTION, decimals=1, words=True)


def _angle(name: str, degrees: float) -> float:
    limits({name: (degrees, 0, 360)})
    return degrees * DEGREE


def limits(values: dict[str, tuple[float, float, float]]) -> None:
    """Refuse, by option, a value outside its (value, low, high). Raises RoundownError with the limits."""
    for name, (value, low, high) in values.items():
        if not (math.isfinite(value) and low <= value <= high):
            raise RoundownError(f"{name} = {value:g}: {low:g} to {high:g} is allowed. Give another figure.")


def _read(name: str, text: str) -> float:
    try:
        return read(text, OFF_BOW).band.aim
    except QuantityError as error:
        raise RoundownError(f"{name} = {text}: {error}") from error


def _wind(text: str, name: str = "--wind") -> tuple[float, float]:
    """A wind whose speed may stand without its unit, kt."""
    bare = text.rsplit("/", 1)[-1].strip().replace(".", "", 1).isdigit()
    try:
        return read_wind(f"{text} kt" if bare else text)
    except QuantityError as error:
        raise RoundownError(f"{name} = {text}: {error}") from error
