"""Recovery and deck on the brief page: each stack, who lands when with what fuel, each deck's rhythm and day."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree import ElementTree as ET

from roundown.cards.brief_tables import as_table, table
from roundown.cards.card import Cell, Table
from roundown.cards.clock_column import table_alike
from roundown.cards.launch_figures import all_texts, called
from roundown.cards.markup import Child, element
from roundown.cards.recovery_figures import Recovering, recoverings
from roundown.cards.recovery_tables import foul_table, fuel_cell, head_cells, rhythm_sentence, steps_of
from roundown.cards.rhythm_drawing import deck_strip, rhythm_drawing
from roundown.cards.stack_drawing import stack_drawings
from roundown.day.deck_load import event_key, seats_from
from roundown.launch.result import EventLaunch
from roundown.plan.facts import Day, FlyingEvent
from roundown.recovery.day_cycle import Back, Off, Turn
from roundown.recovery.stack import Stack
from roundown.solution import Solution, Unsolved

WIDE, HIGH, TEXT = 760.0, 240.0, 15.0  # sheet units of the drawings of a deck, and of their text
NOTE = (
    "Blocks are heights over the sea. Told by: one orbit before Charlie. Fuel is counted from the first Charlie on; "
    "latest Charlie is the one that leaves each of a flight what is to be kept. Nobody waved off."
)
RATES = (
    "How often one is waved off or fouls the deck is assumed, not known: change doctrine.recovery to your own count. "
    "The bars are drawn by chance from one seed, so that the same plan gives the same ones."
)
HOW = (
    ("Prep Charlie", "recoveries", "prep_charlie"),
    ("First Charlie", "recoveries", "first_charlie"),
    ("Last over ramp", "recoveries", "last_over_ramp"),
    ("Planned", "rhythm", "planned"),
    ("Nine in ten within", "rhythm", "slow"),
    ("Deck spotted aft", "cycle", "spotted"),
)
"""Figures whose origin is told, with their label and where they stand."""


def recovery_section(day: Day, solution: Solution) -> ET.Element | None:
    """The recoveries by event and carrier and the day of each deck; None where nobody comes home."""
    found = recoverings(day, solution, all_texts(solution))
    if not found:
        return None
    parts: list[Child] = []
    for i, of in enumerate(found, 1):
        parts += _recovery(of, i)
    parts.append(element("p", f"{NOTE} {RATES}", class_="small"))
    for i, of in enumerate({of.carrier: of for of in found}.values(), 1):
        parts += _deck(day, solution, of, i)
    return element("section", element("h2", "Recovery and deck"), *parts)


def _recovery(of: Recovering, number: int) -> list[Child]:
    """One recovery. number : of it, for the ids."""
    if isinstance(of.stack, Unsolved):
        return [element("h3", of.heading), element("p", f"No stack is worked out: {of.stack.reason}.")]
    initial = of.day.number("doctrine.circuit.initial_height")
    who = {key: of.flight_called(flight) for key, flight in of.stack.flights.items()}
    drawings = stack_drawings(of.stack, initial, who, f"stack-{number}")
    return [
        element("h3", of.heading),
        element("p", *_times(of)),
        *(
            _wide(drawing, f"{of.heading}: the stack{f', sheet {i}' if len(drawings) > 1 else ''}")
            for i, drawing in enumerate(drawings, 1)
        ),
        _flights(of, of.stack, f"flights-{number}"),
        element(
            "details",
            element("summary", "Each aeroplane, and a deck that is foul"),
            as_table(aeroplanes_table(of, of.stack), f"{of.heading}: when each is due", f"aeroplanes-{number}"),
            as_table(
                foul_table(of, of.stack), f"{of.heading}, deck foul: each Charlie so much later", f"foul-{number}"
            ),
        ),
        *_rhythm(of, number),
        _how(of),
    ]


def _times(of: Recovering) -> list[Child]:
    """The times of the whole recovery in one line."""
    told: list[Child] = []
    for label, cell in head_cells(of):
        told += [f"; {label[:1].lower()}{label[1:]} " if told else f"{label} ", element("b", cell.text)]
    return [*told, "."]


def _wide(drawing: ET.Element, called: str) -> ET.Element:
    """A drawing that slides by itself where the page is narrow. called : what it is, as no other is."""
    return element("div", drawing, class_="wide deck", role="region", tabindex="0", aria_label=called)


def _flights(of: Recovering, stack: Stack, name: str) -> ET.Element:
    """A row a flight, its steps down one under the other. name : id of the table."""
    steps = steps_of(of, stack)
    what = ("told_by", "charlie", "at_initial", "first_over_ramp", "last_over_ramp", "latest_charlie")
    keys = list(stack.flights)
    shown = table_alike(
        Table("", what, tuple(tuple(of.cell(f"flights.{key}.{each}") for each in what) for key in keys))
    )
    rows: list[list[Child]] = []
    for place, (key, row) in enumerate(zip(keys, shown.rows, strict=True), 1):
        times = [
            element("b", cell.text) if each == "charlie" else cell.text for each, cell in zip(what, row, strict=True)
        ]
        rows.append(
            [
                f"{place}. {of.flight_called(stack.flights[key])}",
                of.cell(f"flights.{key}.block").text,
                _lines([f"{height.text} {leaves.text}" for height, leaves in steps[key]]),
                *times,
            ]
        )
    heads = (
        "Flight", "Block", "Steps down: leaves, at", "Told by", "Charlie", "Initial", "First over ramp",
        "Last over ramp", "Latest Charlie",
    )  # fmt: skip
    return table(f"{of.heading}: in landing order, {of.order}", heads, rows, name)


def _lines(texts: Sequence[str]) -> ET.Element:
    """Texts one under the other."""
    parts: list[Child] = []
    for text in texts:
        parts += [element("br"), text] if parts else [text]
    return element("span", *parts)


def aeroplanes_table(of: Recovering, stack: Stack) -> Table:
    """A row an aeroplane, in landing order."""
    rows = tuple(
        (
            Cell(f"{each.place}. {called(of.seats[key])}"),
            Cell(of.trouble_of(key)),
            of.cell(f"aeroplanes.{key}.at_initial"),
            of.cell(f"aeroplanes.{key}.over_ramp", strong=True),
            fuel_cell(of, stack, key),
            of.cell(f"aeroplanes.{key}.reserve"),
        )
        for key, each in stack.aeroplanes.items()
    )
    columns = ("Aeroplane", "Trouble", "At the initial", "Over the ramp", "Fuel over the ramp", "To be kept")
    return table_alike(Table("", columns, rows))


def _rhythm(of: Recovering, number: int) -> list[Child]:
    """How long such a recovery takes when things go amiss."""
    if isinstance(of.rhythm, Unsolved):
        return [element("p", f"How long it takes when things go amiss is not worked out: {of.rhythm.reason}.")]
    waved, foul = (of.cell(what, "rhythm").text for what in ("wave_offs", "foul_decks"))
    told = " ".join(sentence.text for sentence in rhythm_sentence(of))
    drawing = rhythm_drawing(of.rhythm, f"{number}", WIDE, HIGH, TEXT)
    return [
        element("p", f"{told} Wave-offs in a recovery, mean: {waved} for the pass, {foul} for a foul deck."),
        _wide(drawing, f"{of.heading}: how long it takes"),
    ]


def _how(of: Recovering) -> ET.Element:
    """How the figures came about, with the keys that tell what each rests on."""
    told: list[Child] = []
    part = f" --part {of.day.part}" if of.stem else ""
    for label, where, what in HOW:
        figure = of.solution.figures.get(f"{where}.{event_key(of.event)}.{what}")
        if figure is not None and figure.value is not None:
            sentence = f"{figure.how.sentence[:1].upper()}{figure.how.sentence[1:]}"
            told += [
                element("dt", f"{label}: {figure.text}"),
                element("dd", f"{sentence}. Found from: {figure.how.method}."),
                element("dd", element("code", f"roundown check PLAN{part} --why {figure.key}")),
            ]
    summary = f"How the figures of the recovery came about: {of.heading}"
    return element("details", element("summary", summary), element("dl", *told, class_="how"))


def _deck(day: Day, solution: Solution, of: Recovering, number: int) -> list[Child]:
    """One deck's day, true to time. of : any of her recoveries; number : of the deck, for the ids."""
    turns = {event_key(event): _turn(day, solution, event, of) for event in day.events}
    turns = {key: turn for key, turn in turns.items() if turn.off is not None or turn.back is not None}
    if not turns:
        return []
    names = {event_key(event): event.name for event in day.events}
    cycle = {key: of.solution.cycle[key] for key in turns}
    strip = deck_strip(turns, cycle, names, f"{number}", WIDE, TEXT)
    return [
        element("h3", f"The day of her deck: {of.day.ship_called}"),
        _wide(strip, f"The day of the deck of {of.day.ship_called}"),
    ]


def _turn(day: Day, solution: Solution, event: FlyingEvent, of: Recovering) -> Turn:
    """What an event asks of her deck, as it is solved."""
    key = event_key(event)
    own = of.solution.cycle.get(key)
    if own is None:
        return Turn()
    times, seats = solution.events[key], seats_from(day, event, of.carrier)
    parts = dict.fromkeys(f"{of.carrier}.{day.squadrons[seat.squadron].type}" for seat in seats)
    theirs = [solution if part == day.part else solution.parts[part] for part in parts]
    launches = [found for each in theirs if isinstance(found := each.launches.get(key), EventLaunch)]
    off = back = None
    if launches:
        sequence = launches[0].sequence  # the same for all her types
        off = Off(
            start_engines=sequence.start_engines,
            first_off=sequence.first_off,
            last_off=sequence.last_off,
            deck_clear=sequence.deck_clear,
        )
    if times.first_aboard is not None and own.recovered is not None:
        back = Back(first_ramp=times.first_aboard, recovered=own.recovered, count=len(seats))
    return Turn(off=off, back=back)
