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
from roundown.quantities import AHEAD_OF_BOW, AHEAD_OF_ISLAND
from roundown.solution import Solution, Unsolved

MOST_FIGURES = 14
CARD_PLAN = PlanSheet(184.0, 372.0, 11.0, 12.0, 60.0, 14.0, 26.0, figures=False)
ROOM_OF_MARK, ROOM_OF_LINE, LONG_TITLE = 23.0, 13.0, 40  # points; letters that make a title two lines
HEAD = (
    ("Flight course", "cockpit.flight_course"),
    ("Reciprocal", "cockpit.reciprocal"),
    ("Wind over the deck", "flight.over_deck"),
)
# group, and its rows: label, key, whether it is read first; {datum} is the point of the ship the break is timed from
FLOWN: tuple[tuple[str, tuple[tuple[str, str, bool], ...]], ...] = (
    ("Upwind", (
        ("speed", "circuit.gates.initial.indicated", False),
        ("{datum} to the break", "circuit.initial_to_break", False),
    )),
    ("Downwind", (
        ("break to roll-out", "circuit.break_to_rollout", True),
        ("abeam", "circuit.abeam", True),
        ("speed at the turn-in", "circuit.gates.turn-in.indicated", False),
    )),
    ("Turn-in", (
        ("after roll-out", "circuit.rollout_to_turn_in", True),
        ("ramp off the nose", "circuit.ramp_off_nose", True),
    )),
    ("Final", (
        ("bank", "circuit.final_bank", True),
        ("height at the ninety", "circuit.gates.ninety.height", False),
        ("speed over the ramp", "circuit.gates.ramp.indicated", False),
    )),
)  # fmt: skip


def circuit_card(day: Day, solution: Solution) -> Card:
    """The circuit card of a solved day; without a circuit it says why, and shows what there is."""
    figures, shown = solution.figures, solution.cockpit.shown
    marks = marks_of(day, solution, [key for _, rows in FLOWN for _, key, _ in rows])
    groups: tuple[Group, ...] = ()
    drawings: tuple[str, ...] = ()
    if isinstance(solution.circuit, Unsolved):
        sentences: tuple[Sentence, ...] = (Sentence(no_circuit(solution.circuit, solution.findings)),)
    else:
        groups = _groups(figures, _datum(day))
        heading = Heading(
            figures["cockpit.flight_course"].text, by_what(shown), figures["flight.over_deck"].text,
            solution.flight.off_bow,
        )  # fmt: skip
        drawings = (svg_text(plan_drawing(solution.circuit, deck_of(day), heading, _sheet(day, marks), "plan")),)
        officer = Sentence(f"From the ninety on the {day.word('doctrine.officer')} has you.")
        sentences = (short_late_sentence(solution.circuit), officer)
    head = tuple(Line(label, figures[key].text, key, large=True) for label, key in HEAD)
    return Card(
        template="circuit-card",
        heading="Circuit card",
        title=shortened(day.title),
        subtitles=(
            shortened(day.word("type.label")),
            shortened(f"{day.word('ship.label')}; {day.word('doctrine.label')}"),
        ),
        head=head,
        groups=groups,
        sentences=sentences,
        marks=marks,
        units=f"Headings {by_what(shown)}; speeds indicated, kt; distances yd; heights ft over the sea; "
        "times s, by the watch.",
        drawings=drawings,
        plan=day.hash,
    )


def _groups(figures: dict[str, Figure], datum: str) -> tuple[Group, ...]:
    return tuple(
        Group(
            name,
            tuple(
                (Line(label.format(datum=datum), figures[key].text, key, large=large),) for label, key, large in rows
            ),
        )
        for name, rows in FLOWN
    )


def _sheet(day: Day, marks: tuple[str, ...]) -> PlanSheet:
    """The plan's sheet: as high as marks and title leave room for, so that its text keeps its size."""
    taken = ROOM_OF_MARK * len(marks) + (ROOM_OF_LINE if len(day.title) > LONG_TITLE else 0.0)
    return replace(CARD_PLAN, height=CARD_PLAN.height - taken)


def _datum(day: Day) -> str:
    """The point of the ship the break is timed from."""
    kind = day.givens["doctrine.circuit.break_place"].kind
    return "bow" if kind is AHEAD_OF_BOW else "island" if kind is AHEAD_OF_ISLAND else "ramp"
