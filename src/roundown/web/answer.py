"""From the text of a plan to everything the page shows of it, or to what must be mended first."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from roundown.cards.brief_sight import views_of
from roundown.cards.card import Card
from roundown.cards.marks import ESTIMATED, is_estimated
from roundown.cards.sentences import late_sentence, no_circuit
from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.errors import Complaint, ComplaintsError, RoundownError
from roundown.findings import Finding
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.solution import Solution, Unsolved
from roundown.web.lines import line_of
from roundown.web.models import Answer, Complained, Remark, View
from roundown.web.papers import papers_of
from roundown.web.sheets import sheets_of, shown_figures
from roundown.web.solver import Edit


@dataclass(frozen=True, eq=False)
class Solved:
    """A day that was solved for an edit; the cards are made from it."""

    edit: int
    day: Day
    solution: Solution

    @cached_property
    def papers(self) -> dict[str, Card]:
        """Its cards by name, laid out when they are first asked for. Raises ValueError."""
        return papers_of(self.day, self.solution)


def answer_edit(edit: Edit, file: str, memory: Memory) -> tuple[Answer, Solved | None]:
    """The answer, and the solved day where there is one.

    file : of the plan as the user named it: catalogs are looked for beside it; memory : of phases solved before
    """
    document = parse_document(file, edit.text)
    if isinstance(document, Complaint):
        return _broken(edit, file, [document]), None
    try:
        day = day_of(document)
        solution = solve(day, memory)
    except ComplaintsError as error:
        return _broken(edit, file, error.complaints), None
    except RoundownError as error:
        return _broken(edit, file, [Complaint(file, 0, "", "", str(error), "Change the plan")]), None
    return _solved(edit, document, day, solution), Solved(edit.number, day, solution)


def _solved(edit: Edit, document: Document, day: Day, solution: Solution) -> Answer:
    figures = solution.figures
    circuit = solution.circuit
    sentence = no_circuit(circuit, solution.findings) if isinstance(circuit, Unsolved) else late_sentence(circuit).text
    return Answer(
        edit=edit.number,
        outcome="solved",
        title=day.title,
        verdict=solution.verdict,
        sentence=sentence,
        estimate=ESTIMATED if is_estimated(day, day.givens) else "",
        remarks=tuple(_of_finding(found, line_of(day, document, figures, found)) for found in solution.findings),
        figures=shown_figures(day, solution, figures),
        sheets=sheets_of(day, solution, figures),
        views=tuple(View(**vars(view)) for view in views_of(day, solution)),
        plan=day.hash,
    )


def _of_finding(found: Finding, line: int) -> Remark:
    place = f"line {line}" if line else "the whole day"
    text = f"{found.value}; {found.limit}. {found.remedy}"
    return Remark(level=found.level.word, line=line, place=place, text=text)


def _broken(edit: Edit, file: str, complaints: list[Complaint] | tuple[Complaint, ...]) -> Answer:
    count = len(complaints)
    return Answer(
        edit=edit.number,
        outcome="broken",
        verdict=f"Cannot be read: {count} to mend.",
        remarks=tuple(_of_complaint(each, file) for each in complaints),
        complaints=tuple(Complained(**vars(each)) for each in complaints),
    )


def _of_complaint(each: Complaint, file: str) -> Remark:
    here = each.file == file
    line = each.line if here else 0
    place = f"line {line}" if line else "the whole plan" if here else f"{Path(each.file).name}, line {each.line}"
    what = f"{each.key} = {each.value}: " if each.value else f"{each.key}: " if each.key else ""
    return Remark(level="mend", line=line, place=place, text=f"{what}{each.limit}. {each.remedy}.")
