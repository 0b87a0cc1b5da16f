"""`roundown practice`: the marked runway, the ladder of lessons and the emergencies of a plan, as cards."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from cyclopts import Parameter

from roundown import CAUTION
from roundown.errors import RoundownError

if TYPE_CHECKING:
    from roundown.cards.card import Card
    from roundown.day.ashore import Ashore
    from roundown.day.lessons import SolvedLesson
    from roundown.plan.facts import Day

LEAST_WIDTH, MOST_WIDTH = 300, 6000  # pixels
HEADS = ("lesson", "wind over deck", "turn-in", "abeam", "bank", "ninety")


def practice(
    plan: Path,
    *,
    output: Annotated[Path, Parameter(name=["-o", "--output"], help="Folder to write into.")] = Path("practice"),
    width: Annotated[int, Parameter(help="Width of the PNG cards in pixels.")] = 1200,
    as_json: Annotated[bool, Parameter(name="--json", help="Answer in JSON.", negative="")] = False,
) -> int:
    """Write the cards to practise with: ashore, each lesson, each emergency (PDF and PNG); say what each lesson flies.

    Ends with 0, or with 2 when the plan cannot be read.

    Parameters
    ----------
    plan
        The air plan, a TOML file.

    """
    from roundown.cards.ashore_card import practice_cards
    from roundown.cards.brief import draw
    from roundown.cards.emergency_card import emergency_cards
    from roundown.cli.brief import progress
    from roundown.day.memory import Memory
    from roundown.day.solve import solve
    from roundown.exports.files import write_files
    from roundown.plan.read import read_plan

    if not LEAST_WIDTH <= width <= MOST_WIDTH:
        raise RoundownError(
            f"--width = {width}: {LEAST_WIDTH} to {MOST_WIDTH} pixels are allowed. Choose another width."
        )
    progress("reading the plan")
    day = read_plan(plan)
    memory = Memory()
    progress("solving the day")
    solution = solve(day, memory)
    progress("solving the lessons")
    practised = [_practised(each, memory) for each in (day, *day.parts.values())]
    cards: dict[str, tuple[Card, ...]] = {}
    for part, (of, ashore, lessons) in zip(("", *day.parts), practised, strict=True):
        hers = solution.parts[part] if part else solution
        for name, pages in practice_cards(of, hers, ashore, lessons).items():
            cards[_free(f"{name} {part}", cards)] = pages
    cards |= emergency_cards(day, solution)
    progress("drawing the cards")
    files = draw(cards, width, progress)
    write_files(output, files)
    if as_json:
        parts = {of.part: _data(ashore, lessons) for of, ashore, lessons in practised}
        print(json.dumps({"caution": CAUTION, "parts": parts, "cards": sorted(files)}, indent=1, ensure_ascii=False))
        return 0
    for of, ashore, lessons in practised:
        for line in _told(of, ashore, lessons):
            print(line)
    print(f"Written to {output}: {sum(name.endswith('.pdf') for name in files)} sheets as PDF and as PNG.")
    print(CAUTION)
    return 0


def _practised(day: Day, memory: Any) -> tuple[Day, Ashore, tuple[SolvedLesson, ...]]:
    from roundown.day.ashore import solve_ashore
    from roundown.day.lessons import solve_lessons

    return day, solve_ashore(day, memory), solve_lessons(day, memory)


def _free(words: str, taken: Collection[str]) -> str:
    """A name for a card from some words, which no other has."""
    plain = re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")
    number, name = 1, plain
    while name in taken:
        number += 1
        name = f"{plain}-again-{number}"
    return name


def _told(day: Day, ashore: Ashore, lessons: Sequence[SolvedLesson]) -> Iterator[str]:
    """What differs ashore, a table of the lessons, and standards that cannot be kept safely."""
    from roundown.day.lesson_findings import ladder_findings
    from roundown.findings import worst_first

    yield f"{day.title}: {day.word('type.label')}; {day.word('ship.label')}; {day.word('doctrine.label')}."
    yield f"Ashore: {ashore.differs}"
    rows = [HEADS, *(_row(each) for each in lessons)]
    widths = [max(len(row[i]) for row in rows) for i in range(len(HEADS))]
    if lessons:
        for row in rows:
            yield "  " + "  ".join(text.ljust(wide) for text, wide in zip(row, widths, strict=True)).rstrip()
        sources = dict.fromkeys(found.source for each in lessons for found in each.lesson.standards.values())
        yield f"  Standards: {'; '.join(sources)}."
    else:
        yield "The doctrine names no lessons."
    told = {str(found): found for found in (*ashore.findings, *(f for each in lessons for f in each.findings))}
    for found in worst_first((*told.values(), *ladder_findings(lessons))):
        yield f"  {found}"


def _row(solved: SolvedLesson) -> tuple[str, ...]:
    from roundown.quantities import WIND_OVER_DECK, write

    over = write(solved.over_deck, WIND_OVER_DECK)
    if solved.aims is None:
        return (solved.lesson.label, over, "no circuit", "", "", "")
    return (
        solved.lesson.label,
        over,
        *(_aimed(solved, name) for name in ("turn_in", "abeam", "bank", "ninety_height")),
    )


def _aimed(solved: SolvedLesson, name: str) -> str:
    """A figure and how near is near enough."""
    from roundown.cards.lesson_card import tolerance_text
    from roundown.day.lessons import AIMED
    from roundown.quantities import write

    aim = write(getattr(solved.aims, name), AIMED[name])
    return f"{aim} {tolerance_text(solved, name)}" if name in solved.targets else aim


def _data(ashore: Ashore, lessons: Sequence[SolvedLesson]) -> dict[str, Any]:
    """The same as plain data: every figure with its text, its bounds where it has a standard."""
    from roundown.day.lesson_findings import ladder_findings
    from roundown.exports.solution_json import finding_data
    from roundown.figures import figures_of
    from roundown.solution import Unsolved

    return {
        "ashore": {
            "differs": ashore.differs,
            "findings": [finding_data(found) for found in ashore.findings],
            "unsolved": ashore.circuit.reason if isinstance(ashore.circuit, Unsolved) else None,
            "figures": {
                found.key: found.text
                for found in figures_of(ashore)
                if not found.key.startswith(("at_sea.", "flight."))
            },
        },
        "lessons": [_lesson_data(each) for each in lessons],
        "findings": [finding_data(found) for found in ladder_findings(lessons)],
    }


def _lesson_data(solved: SolvedLesson) -> dict[str, Any]:
    from dataclasses import asdict

    from roundown.exports.solution_json import finding_data
    from roundown.figures import figures_of
    from roundown.quantities import write
    from roundown.solution import Unsolved

    lesson = asdict(solved.lesson)
    lesson.pop("standards")
    return {
        **lesson,
        "look": list(solved.lesson.look),
        "findings": [finding_data(found) for found in solved.findings],
        "unsolved": solved.circuit.reason if isinstance(solved.circuit, Unsolved) else None,
        "figures": {} if solved.aims is None else {found.key: found.text for found in figures_of(solved.aims)},
        "standards": {
            name: {
                "from": write(target.band.low, target.kind),
                "to": write(target.band.high, target.kind),
                "source": target.source,
            }
            for name, target in solved.targets.items()
        },
    }
