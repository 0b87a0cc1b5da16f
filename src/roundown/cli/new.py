"""`roundown new`: a first plan from seven numbers and the wind."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from roundown.errors import PlanError, QuantityError, RoundownError
from roundown.quantities import (
    FOOT,
    HEIGHT_OVER_SEA,
    INDICATED_SPEED,
    KNOT,
    LENGTH,
    MASS,
    POUND,
    SHIP_SPEED,
    Kind,
    read,
    read_wind,
    write,
)

# name, question, kind, what is added where a person leaves it out, an example, allowed low and high [SI]
QUESTIONS: tuple[tuple[str, str, Kind, str, str, float, float], ...] = (
    ("ship_speed", "Ship's greatest speed", SHIP_SPEED, " kt", "30 kt", 1.0 * KNOT, 45.0 * KNOT),
    ("deck_height", "Flight deck over the sea", HEIGHT_OVER_SEA, " ft over sea", "65 ft", 5 * FOOT, 120 * FOOT),
    ("approach_speed", "Approach speed", INDICATED_SPEED, " kt", "85 kt", 40 * KNOT, 200 * KNOT),
    ("stall_speed", "Stall, wheels and flap down", INDICATED_SPEED, " kt", "70 kt", 30 * KNOT, 190 * KNOT),
    ("break_speed", "Speed at the break", INDICATED_SPEED, " kt", "120 kt", 50 * KNOT, 300 * KNOT),
    ("weight", "Weight on coming aboard", MASS, " lb", "9800 lb", 500 * POUND, 60_000 * POUND),
    ("calm_run", "Deck run in a calm", LENGTH, " ft", "750 ft", 100 * FOOT, 5000 * FOOT),
)


SPEEDS = ("stall_speed", "approach_speed", "break_speed")


def new(
    *,
    ship_speed: Annotated[str | None, Parameter(help='Her greatest speed, as in "30 kt".')] = None,
    deck_height: Annotated[str | None, Parameter(help='Flight deck over the sea, as in "65 ft".')] = None,
    approach_speed: Annotated[str | None, Parameter(help='As in "85 kt".')] = None,
    stall_speed: Annotated[str | None, Parameter(help='With wheels and flap down, as in "70 kt".')] = None,
    break_speed: Annotated[str | None, Parameter(help='On the upwind leg, as in "120 kt".')] = None,
    weight: Annotated[str | None, Parameter(help='On coming aboard, as in "9800 lb".')] = None,
    calm_run: Annotated[str | None, Parameter(help='Take-off run in a calm, as in "750 ft".')] = None,
    wind: Annotated[str | None, Parameter(help='At 10 m, as in "070/12 kt".')] = None,
    output: Annotated[Path, Parameter(name=["-o", "--output"], help="Plan file to write.")] = Path("my-circuit.toml"),
) -> int:
    """Write a short plan of your own: asks for what you do not give, estimates the rest and says so."""
    from roundown.exports.files import write_file
    from roundown.plan.draft import Sketch, draft_plan

    if output.exists():
        raise RoundownError(f"{output} is there already and is not overwritten. Choose another name with -o.")
    given = {
        "ship_speed": ship_speed, "deck_height": deck_height, "approach_speed": approach_speed,
        "stall_speed": stall_speed, "break_speed": break_speed, "weight": weight, "calm_run": calm_run,
    }  # fmt: skip
    missing = [name for name, text in given.items() if text is None] + (["wind"] if wind is None else [])
    if missing and not sys.stdin.isatty():
        options = ", ".join(f"--{name.replace('_', '-')}" for name in missing)
        raise RoundownError(
            f"still to be given: {options}. Add them, or run `roundown new` in a window where it can ask."
        )
    values = {question[0]: _answer(question, given[question[0]]) for question in QUESTIONS}
    while wrong := _out_of_order(values):
        if all(given[name] is not None for name in SPEEDS):
            raise RoundownError(wrong)
        print(f"  {wrong}")
        values |= {question[0]: _answer(question, None) for question in QUESTIONS if question[0] in SPEEDS}
    wind_text, wind_from, wind_speed = _wind(wind)
    text = draft_plan(Sketch(**values, wind_from=wind_from, wind_speed=wind_speed), wind_text)
    _read_back(text)
    write_file(output, text.encode())
    print(f"Written to {output}. Next: roundown check {output}, then roundown brief {output} -o brief")
    return 0


def _out_of_order(values: dict[str, float]) -> str:
    """What is wrong with the order of the three speeds, or ""."""
    stall, approach, at_break = (values[name] for name in SPEEDS)
    if stall < approach < at_break:
        return ""
    shown = [write(speed, INDICATED_SPEED) for speed in (stall, approach, at_break)]
    return f"stall {shown[0]}, approach {shown[1]}, break {shown[2]}: each must be faster than the one before."


def _read_back(text: str) -> None:
    """Look whether the plan can be read. Raises RoundownError when an estimate is like no ship or aeroplane."""
    from roundown.documents import Document, parse_document
    from roundown.plan.read import day_of

    document = parse_document("plan", text)
    assert isinstance(document, Document)
    try:
        day_of(document)
    except PlanError as error:
        wrong = "; ".join(f"{complaint.key}: {complaint.limit}" for complaint in error.complaints)
        raise RoundownError(
            f"these numbers do not belong together: {wrong}. Look at weight, stall and deck run; nothing was written."
        ) from error


def _answer(question: tuple[str, str, Kind, str, str, float, float], text: str | None) -> float:
    name, asked, kind, ending, example, low, high = question
    while True:
        answer = text if text is not None else input(f"{asked} (such as {example}): ")
        answer = answer.strip()
        if answer.replace(".", "", 1).isdigit():
            answer += ending
        if kind is HEIGHT_OVER_SEA and "over" not in answer:
            answer += " over sea"
        try:
            value = read(answer, kind).band.aim
            wrong = "" if low <= value <= high else f"that is out of the ordinary. Give a figure such as {example}."
        except QuantityError as error:
            wrong = str(error)
        if not wrong:
            return value
        if text is not None:
            raise RoundownError(f"--{name.replace('_', '-')} = {text}: {wrong}")
        print(f"  {wrong}")


def _wind(text: str | None) -> tuple[str, float, float]:
    while True:
        answer = (text if text is not None else input("Wind at 10 m (such as 070/12 kt, or calm): ")).strip()
        if "/" in answer and answer.rsplit("/", 1)[1].strip().replace(".", "", 1).isdigit():
            answer += " kt"
        try:
            return answer, *read_wind(answer)
        except QuantityError as error:
            if text is not None:
                raise RoundownError(f"--wind = {text}: {error}") from error
            print(f"  {error}")
