"""The pilot's card: the circuit in today's wind, fourteen figures in all, in the order they are flown."""

from __future__ import annotations

from dataclasses import replace

from roundown.cards.card import Card, Group, Line, Sentence, shortened
from roundown.cards.circuit_drawing import Heading, PlanSheet, deck_of, plan_drawing
from roundown.cards.marks import marks_of
from roundown.cards.markup import svg_text
from roundown.cards.sentences import by_what, no_circuit, short_late_sentence
from roundown.figures import Figure
from roundown.plan.facts import Day
from roundown.solution import Solution, Unsolved

MOST_FIGURES = 14
CARD_PLAN = PlanSheet(184.0, 356.0, 11.0, 12.0, 60.0, 14.0, 26.0, figures=False)
ROOM_OF_MARK, ROOM_OF_LINE, LONG_TITLE = 23.0, 13.0, 40  # points; letters that make a title two lines
FLOWN: tuple[tuple[str, tuple[tuple[str, str, bool], ...]], ...] = (
    ("Upwind", (
        ("height", "circuit.gates.initial.height", False),
        ("speed", "circuit.gates.initial.indicated", False),
    )),
    ("Downwind", (
        ("break to roll-out", "circuit.break_to_rollout", True),
        ("abeam", "circuit.abeam", True),
    )),
    ("Turn-in", (
        ("after roll-out", "circuit.rollout_to_turn_in", True),
        ("ramp {side} of the nose", "circuit.ramp_off_nose", True),
        ("height", "circuit.gates.turn-in.height", False),
    )),
    ("Final", (
        ("bank", "circuit.final_bank", True),
        ("height at the ninety", "circuit.gates.ninety.height", False),
        ("speed at the ninety", "circuit.gates.ninety.indicated", False),
    )),
)  # fmt: skip
"""Group, and its rows: label, key, whether it is read first; {side} is the hand of the circuit."""


def circuit_card(day: Day, solution: Solution) -> Card:
    """The circuit card of a solved day; without a circuit it says why, and shows what there is."""
    figures, shown = solution.figures, solution.cockpit.shown
    marks = marks_of(day, solution, [key for _, rows in FLOWN for _, key, _ in rows])
    groups: tuple[Group, ...] = ()
    drawings: tuple[str, ...] = ()
    if isinstance(solution.circuit, Unsolved):
        sentences: tuple[Sentence, ...] = (Sentence(no_circuit(solution.circuit, solution.findings)),)
    else:
        groups = _groups(figures, day.word("doctrine.circuit.hand"))
        heading = Heading(
            figures["cockpit.flight_course"].text, by_what(shown), figures["flight.over_deck"].text,
            solution.flight.off_bow,
        )  # fmt: skip
        drawings = (svg_text(plan_drawing(solution.circuit, deck_of(day), heading, _sheet(day, marks), "plan")),)
        order = Sentence(
            f"Upwind: {day.word('doctrine.upwind_order')}. In the break: {day.word('doctrine.break_order')}. "
            f"From the ninety on, watch the {day.word('doctrine.officer')}."
        )
        sentences = (short_late_sentence(solution.circuit), order)
    head = tuple(
        Line(label, figures[key].text, key, note, large=True) for label, key, note in _head(figures, by_what(shown))
    )
    return Card(
        template="circuit-card",
        heading="Circuit card",
        title=shortened(day.title),
        subtitles=(
            shortened(day.word("type.label")),
            shortened(f"{day.word('ship.label')}; flown as {day.word('doctrine.label')}"),
        ),
        head=head,
        groups=groups,
        sentences=sentences,
        marks=marks,
        units=f"Headings {by_what(shown)}; speeds indicated, kt; distances yd; heights ft over the sea; "
        "times s. Rings on the plan are five hundred yards apart.",
        drawings=drawings,
        plan=day.hash,
    )


def _head(figures: dict[str, Figure], shown: str) -> tuple[tuple[str, str, str], ...]:
    """What stands across the top: label, key, note. With the wind off the bow the nose is not on the reciprocal."""
    back = ("Reciprocal", "cockpit.reciprocal", "")
    downwind = figures["cockpit.downwind"]
    if downwind.value is not None and downwind.text != figures["cockpit.reciprocal"].text:
        back = ("Head downwind", "cockpit.downwind", "")
    return (
        ("Flight course", "cockpit.flight_course", shown),
        back,
        ("Wind over the deck", "flight.over_deck", ""),
    )


def _groups(figures: dict[str, Figure], side: str) -> tuple[Group, ...]:
    return tuple(
        Group(
            name,
            tuple((Line(label.format(side=side), figures[key].text, key, large=large),) for label, key, large in rows),
        )
        for name, rows in FLOWN
    )


def _sheet(day: Day, marks: tuple[str, ...]) -> PlanSheet:
    """The plan's sheet: as high as marks and title leave room for, so that its text keeps its size."""
    taken = ROOM_OF_MARK * len(marks) + (ROOM_OF_LINE if len(day.title) > LONG_TITLE else 0.0)
    return replace(CARD_PLAN, height=CARD_PLAN.height - taken)
