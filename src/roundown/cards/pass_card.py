"""The card of the pass: cues by the clock and by eye, what an error costs, how late one may turn in, round again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from roundown.cards.card import Card, Cell, Line, Sentence, Table, shortened, two_abreast
from roundown.cards.marks import marks_of
from roundown.cards.sentences import no_circuit, sided
from roundown.figures import Figure
from roundown.passes.cost import USUAL
from roundown.plan.facts import Day
from roundown.quantities import BANK, DISTANCE, LENGTH, SPEED_MARGIN, TIME, Kind, write
from roundown.recovery.error_costs import ErrorCost
from roundown.solution import Solution, Unsolved

MOST_FIGURES = 18
LATE = "turn_in_1_s_late"
AT_THE_RAMP = "ramp_"  # how the keys begin of errors that are made at the ramp and are their own cost
SHOWN = 5  # errors on the card
PAIRS = (1.0, 1.45, 1.0, 1.45)
COSTS, ROUND_AGAIN, OTHERS = (1.6, 1.0), (1.25, 1.7, 0.7), (1.0, 3.0)
EFFECTS: tuple[tuple[str, float, Kind, str, str], ...] = (
    ("ahead", USUAL.ahead, DISTANCE, "{} further ahead", "{} further astern"),
    ("port", USUAL.port, LENGTH, "{} to port", "{} to starboard"),
    ("height", USUAL.height, LENGTH, "{} higher", "{} lower"),
    ("speed", USUAL.speed, SPEED_MARGIN, "{} faster", "{} slower"),
)
"""Field of an ErrorCost, what counts as one of it, its kind, and how it is said when it is positive and negative."""


def pass_cards(day: Day, solution: Solution) -> tuple[Card, ...]:
    """The card of a carrier and type, of one page; without a circuit it says why."""
    if isinstance(solution.circuit, Unsolved):
        head: tuple[Line, ...] = ()
        tables: tuple[Table, ...] = ()
        sentences: tuple[Sentence, ...] = (Sentence(no_circuit(solution.circuit, solution.findings)),)
    else:
        found = solution.figures
        head, tables = _head(found, solution), _tables(day, solution, found)
        sentences = unsolved_sentences(solution)
    card = Card(
        template="table-card",
        heading="The pass",
        title=shortened(day.title),
        subtitles=subtitles(day),
        head=head,
        groups=(),
        sentences=sentences,
        marks=(),
        units="Heights ft over the sea; port and starboard of the centre line; by rule: of thumb.",
        drawings=(),
        plan=day.hash,
        tables=tuple(table for table in tables if table.rows),
    )
    return (replace(card, marks=marks_of(day, solution, card.keys)),)


def subtitles(day: Day) -> tuple[str, ...]:
    """Whose pass it is: type, and carrier with the doctrine flown."""
    return (
        shortened(day.word("type.label")),
        shortened(f"{day.word('ship.label')}; flown as {day.word('doctrine.label')}"),
    )


def unsolved_sentences(solution: Solution) -> tuple[Sentence, ...]:
    """A sentence for each result of the pass that there is none of, with the reason."""
    parts = (
        ("How late one may turn in", solution.latest_turn_in),
        ("Going round again", solution.wave_off),
        ("The last wave-off", solution.last_wave_off),
        ("Who is where", solution.spacing),
    )
    found = [
        Sentence(f"{name} is not worked out: {_sentence_end(result.reason)}")
        for name, result in parts
        if isinstance(result, Unsolved)
    ]
    if not solution.costs:
        found.append(Sentence("What an error costs is not worked out: no pass with an error could be flown."))
    return tuple(found)


def _sentence_end(reason: str) -> str:
    return f"{reason[0].lower()}{reason[1:].rstrip('.')}."


def turn_in_by_ship(solution: Solution) -> tuple[str, str, str]:
    """The clock's cue for the turn-in by a part of the ship: label, text and key.

    By the ramp where the turn-in comes after it is abeam, by the bow otherwise.
    """
    cues = solution.cues
    assert not isinstance(cues, Unsolved)
    part, after = (
        ("ramp", cues.turn_in_after_ramp) if cues.turn_in_after_ramp >= 0.0 else ("bow", cues.turn_in_after_bow)
    )
    text = sided(after, TIME, "", "").strip()
    return f"Turn in {'after' if after >= 0.0 else 'before'} {part} abeam", text, f"cues.turn_in_after_{part}"


def _head(found: dict[str, Figure], solution: Solution) -> tuple[Line, ...]:
    label, text, key = turn_in_by_ship(solution)
    cues = solution.cues
    assert not isinstance(cues, Unsolved)
    way = "astern" if cues.ninety_astern >= 0.0 else "ahead"
    return (
        Line(label, text, key, large=True),
        Line("Ramp off nose", found["cues.ramp_off_nose"].text, "cues.ramp_off_nose", large=True),
        Line("Ninety height", found["cues.ninety_height"].text, "cues.ninety_height", large=True),
        Line(f"Ninety {way}", found["cues.ninety_astern"].text.lstrip("-"), "cues.ninety_astern", large=True),
    )


def _tables(day: Day, solution: Solution, found: dict[str, Figure]) -> tuple[Table, ...]:
    return (
        Table("Turn-ins that still end over the ramp", ("", "") * 2, two_abreast(_window(solution)), PAIRS),
        Table("What an error costs", ("left unmended", "wings then come level"), tuple(_errors(solution)), COSTS),
        Table("Waved off over the ramp", ("", "", "by rule"), tuple(_round_again(solution, found)), ROUND_AGAIN),
        Table("Others in the circuit", ("", ""), tuple(_others(day, solution, found)), OTHERS),
    )


def _window(solution: Solution) -> list[tuple[Cell, ...]]:
    """The window of turn-ins."""
    window = solution.latest_turn_in
    if isinstance(window, Unsolved):
        return []
    rows: list[tuple[Cell, ...]] = []
    for name, limit in (("earliest", window.earliest), ("latest", window.latest)):
        text, key = "none closes", ""
        if limit is not None:
            steepest = write(max(limit.to_ninety, limit.from_ninety), BANK)
            text = f"{sided(limit.after, TIME, 'late', 'early')}, with {steepest}"
            key = f"latest_turn_in.{name}.after"
        rows.append((Cell(name), Cell(text, key, strong=True)))
    return rows


def shown_errors(solution: Solution) -> list[str]:
    """The keys of the errors on the card, dearest first: a late turn-in, and the dearest of the others.

    Errors made at the ramp are their own cost and are left out.
    """
    costs = {key: each for key, each in solution.costs.items() if not key.startswith(AT_THE_RAMP)}
    others = sorted((key for key in costs if key != LATE), key=lambda key: -costs[key].cost)
    late = [LATE] if LATE in costs else []
    return sorted([*late, *others[: SHOWN - len(late)]], key=lambda key: -costs[key].cost)


def effect(error: ErrorCost) -> tuple[str, str]:
    """What an error comes to, the miss that weighs most: field of the cost, and in words."""
    field, _, kind, positive, negative = max(EFFECTS, key=lambda each: abs(getattr(error, each[0])) / each[1])
    value = getattr(error, field)
    return field, (positive if value >= 0.0 else negative).format(sided(value, kind, "", "").strip())


def error_words(error: ErrorCost) -> str:
    """The error as it begins a line."""
    words = error.words.rstrip(",")
    return f"{words[0].upper()}{words[1:]}"


def _errors(solution: Solution) -> list[tuple[Cell, ...]]:
    rows: list[tuple[Cell, ...]] = []
    for key in shown_errors(solution):
        field, text = effect(solution.costs[key])
        rows.append((Cell(error_words(solution.costs[key])), Cell(text, f"costs.{key}.{field}", strong=True)))
    return rows


def _round_again(solution: Solution, found: dict[str, Figure]) -> list[tuple[Cell, ...]]:
    rows: list[tuple[Cell, ...]] = []
    again, last = solution.wave_off, solution.last_wave_off
    if not isinstance(again, Unsolved):
        rows.append(
            (
                Cell("over the ramp again in"),
                Cell(found["wave_off.time"].text, "wave_off.time", strong=True),
                Cell(found["wave_off.time_by_rule"].text, "wave_off.time_by_rule"),
            )
        )
        places = f"{again.places} {'place' if again.places == 1 else 'places'}"
        text = f"{places}: in {found['wave_off.next_free'].text}"
        rows.append((Cell("next free place"), Cell(text, "wave_off.next_free", strong=True), Cell("")))
        if again.fuel_in_place is not None:
            fuel = found["wave_off.fuel_in_place"].text
            rows.append((Cell("fuel until then"), Cell(fuel, "wave_off.fuel_in_place", strong=True), Cell("")))
    if not isinstance(last, Unsolved):
        text, key = last_safe(solution)
        rows.append((Cell("last that stays clear"), Cell(text, key, strong=True), Cell("")))
    return rows


def last_safe(solution: Solution) -> tuple[str, str]:
    """The last wave-off that keeps the wheels clear of the deck, in words, and its key, "" where there is none."""
    last = solution.last_wave_off
    assert not isinstance(last, Unsolved)
    if last.latest is None:
        return "none on the final", ""
    text = sided(last.latest, TIME, "before the ramp", "past the ramp")
    return f"{text}, at the cut" if last.up_to_cut else text, "last_wave_off.latest"


def _others(day: Day, solution: Solution, found: dict[str, Figure]) -> Sequence[tuple[Cell, ...]]:
    key = "doctrine.circuit.interval"
    rows = [(Cell("interval"), Cell(day.givens[key].text, key, strong=True))]
    if not isinstance(solution.spacing, Unsolved) and solution.spacing.closest is not None:
        pair, nearest = solution.spacing.closest, "spacing.closest.distance"
        text = f"{found[nearest].text}: {pair.second}, and {pair.first}"
        rows.append((Cell("closest two"), Cell(text, nearest, strong=True)))
    return rows
