"""The card for practice ashore: the circuit round the marked runway as it is flown, then beside the circuit at sea."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from roundown.cards.card import Card, Cell, Group, Line, Sentence, Table, shortened
from roundown.cards.circuit_card import CARD_PLAN, FLOWN
from roundown.cards.circuit_drawing import Heading, deck_of, plan_drawing
from roundown.cards.lesson_card import lesson_cards
from roundown.cards.marks import ESTIMATED, is_estimated
from roundown.cards.markup import svg_text
from roundown.cards.pages import pages
from roundown.cards.sentences import by_what, sided
from roundown.cards.sight_card import sight_cards
from roundown.day.ashore import Ashore, ashore_facts
from roundown.day.facts import heading_shown
from roundown.day.lessons import SolvedLesson
from roundown.figures import figures_of
from roundown.motion.frames import wrap
from roundown.plan.facts import Day
from roundown.quantities import AHEAD_OF_RAMP, COCKPIT_DIRECTION, HEIGHT_OVER_SEA, LENGTH, WIND_OVER_DECK, write
from roundown.recovery.clock_cues import cue_sentences
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved

BESIDE = (
    ("Break to roll-out", "break_to_rollout"), ("Abeam", "abeam"), ("Turn-in after roll-out", "rollout_to_turn_in"),
    ("Turn-in ahead of the ramp", "turn_in_ahead"), ("Ramp off the nose", "ramp_off_nose"),
    ("Bank of the final", "final_bank"), ("Final turn", "final_time"), ("Break to ramp", "break_to_ramp"),
    ("Speed over the ramp, seen from the deck", "closing_ramp"),
    ("Height at the ninety", "gates.ninety.height"),
)  # fmt: skip
MOST_MARKS = 3
NO_WIND = 0.025  # m/s: less is not read off a card


def practice_cards(
    day: Day, solution: Solution, ashore: Ashore, lessons: Sequence[SolvedLesson]
) -> dict[str, tuple[Card, ...]]:
    """The cards for practice ashore and one for each lesson, by name in the order they are flown.

    solution : of the day's carrier and type
    """
    seen = (
        {} if isinstance(ashore.sight, Unsolved) else {"ashore-sight-card": ashore_sight_cards(day, solution, ashore)}
    )
    return {"ashore-card": ashore_cards(day, ashore), **seen, **lesson_cards(day, lessons)}


def ashore_sight_cards(day: Day, solution: Solution, ashore: Ashore) -> tuple[Card, ...]:
    """What is seen of the marked deck, as the sight cards of the ship; the cues by clock and eye stand under it."""
    there = replace(solution, circuit=ashore.circuit, cues=ashore.cues, sight=ashore.sight)
    cues = () if isinstance(ashore.cues, Unsolved) else tuple(cue_sentences(ashore.cues, ashore_facts(day)).values())
    made = []
    for card in sight_cards(day, there):
        groups = tuple(
            Group(group.name, tuple(row for row in group.rows if not row[0].label.startswith("horizon")))
            for group in card.groups
        )
        sentences = tuple(Sentence(_on_ground(each.text), each.keys) for each in card.sentences)
        made.append(
            replace(
                card,
                heading=card.heading.replace("What you see", "Seen ashore"),
                subtitles=(card.subtitles[0], f"Her deck marked out on the runway; {day.ship_called}"),
                groups=groups,
                sentences=sentences,
                units="Heights ft over the ground; angles off nose and bow deg. The marked deck lies flat.",
                marks=(),
            )
        )
    words = Card(
        template="table-card",
        heading="Cues ashore",
        title=shortened(day.title),
        subtitles=(shortened(day.word("type.label")), f"Her deck marked out on the runway; {day.ship_called}"),
        head=(),
        groups=(),
        sentences=(),
        marks=(),
        units="Times from the gate named; places from the marked deck.",
        drawings=(),
        plan=day.hash,
        tables=(Table("By the clock and by eye", ("",), tuple((Cell(text),) for text in cues)),),
    )
    return (*made, *(pages(words) if cues else ()))


def _on_ground(text: str) -> str:
    """A sentence about the ship as one about her deck marked out on the ground."""
    return text.replace("over sea", "over the ground").replace("Straight in up the wake", "Straight in")


def ashore_cards(day: Day, ashore: Ashore) -> tuple[Card, ...]:
    """The circuit ashore on one page, and on another beside the circuit at sea."""
    return (_flown(day, ashore), *pages(_beside(day, ashore)))


def _flown(day: Day, ashore: Ashore) -> Card:
    """As the circuit card, with the runway for the ship."""
    groups: tuple[Group, ...] = ()
    drawings: tuple[str, ...] = ()
    shown = by_what(day.word("cockpit.headings"))
    if isinstance(ashore.circuit, Unsolved):
        reason = ashore.circuit.reason
        sentences = (Sentence(f"No circuit ashore: {reason[0].lower()}{reason[1:].rstrip('.')}."),)
    else:
        text = {found.key: found.text for found in figures_of(ashore.circuit)}
        side = day.word("doctrine.circuit.hand")
        groups = tuple(
            Group(
                name,
                tuple(
                    (
                        Line(
                            label.format(side=side).replace(" of the nose", " of nose"),
                            text[key.removeprefix("circuit.")],
                            f"ashore.{key}",
                            large=large,
                        ),
                    )
                    for label, key, large in rows
                ),
            )
            for name, rows in FLOWN
        )
        over = write(abs(ashore.along), WIND_OVER_DECK)
        heading = Heading(_course(day, ashore), shown, over, _off_runway(ashore))
        drawings = (svg_text(plan_drawing(ashore.circuit, deck_of(day), heading, CARD_PLAN, "ashore")),)
        sentences = (Sentence(_heights(day, ashore, ashore.circuit)),)
    return _card(day, ashore, "circuit-card", "Ashore", groups=groups, drawings=drawings, sentences=sentences)


def _beside(day: Day, ashore: Ashore) -> Card:
    """Figure by figure beside the circuit at sea."""
    table = Table("", ("", "Ashore", "At sea"), tuple(_rows(ashore)), (2.6, 1.2, 1.2))
    return _card(day, ashore, "table-card", "Ashore and at sea", tables=(table,), sentences=(Sentence(ashore.differs),))


def _card(
    day: Day,
    ashore: Ashore,
    template: str,
    heading: str,
    *,
    sentences: tuple[Sentence, ...],
    groups: tuple[Group, ...] = (),
    drawings: tuple[str, ...] = (),
    tables: tuple[Table, ...] = (),
) -> Card:
    name = ashore.name or "a runway"
    return Card(
        template=template,
        heading=heading,
        title=shortened(day.title),
        subtitles=(
            shortened(day.word("type.label")),
            shortened(f"{day.ship_called}'s deck marked on {name}; flown as {day.word('doctrine.label')}"),
        ),
        head=tuple(_head(day, ashore)),
        groups=groups,
        sentences=sentences,
        marks=tuple(_marks(day, ashore, whole=bool(tables))),
        units=f"Headings {by_what(day.word('cockpit.headings'))}; speeds indicated, kt; distances yd; heights ft over "
        f"the sea, the field {write(ashore.height, HEIGHT_OVER_SEA)} over it; times s.",
        drawings=drawings,
        plan=day.hash,
        tables=tables,
    )


def _marks(day: Day, ashore: Ashore, *, whole: bool) -> Iterator[str]:
    """What stands against the circuit ashore; on the page with the drawing, only that something does."""
    for found in ashore.findings[: MOST_MARKS if whole else 1]:
        word = found.level.word
        text = f"{word.capitalize()}: {found.value}; {found.limit}."
        yield text if whole else f"A {word} stands against this circuit: see the next page."
    if is_estimated(day, day.givens):
        yield ESTIMATED


def _head(day: Day, ashore: Ashore) -> Iterator[Line]:
    yield Line("Runway", _course(day, ashore), "ashore.runway", by_what(day.word("cockpit.headings")))
    behind, left = ashore.along < -NO_WIND, ashore.across < -NO_WIND
    along, across = (write(abs(part), WIND_OVER_DECK) for part in (ashore.along, ashore.across))
    yield Line("Wind from behind" if behind else "Wind down it", along, "ashore.along")
    none = abs(ashore.across) < NO_WIND
    yield Line(
        "Wind across" if none else "Across, from left" if left else "Across, from right", across, "ashore.across"
    )


def _course(day: Day, ashore: Ashore) -> str:
    return write(heading_shown(day, ashore.runway), COCKPIT_DIRECTION)


def _off_runway(ashore: Ashore) -> float:
    """Side the wind comes from off the runway's course, starboard positive [rad]."""
    return wrap(ashore.wind_from - ashore.runway)


def _heights(day: Day, ashore: Ashore, circuit: CircuitResult) -> str:
    """Why the heights are not those at sea, and how low that is over the ground."""
    down = day.number("ship.deck_height") - ashore.height
    low = write(circuit.gates["ninety"].height - ashore.height, LENGTH)
    moved = "lower" if down >= 0.0 else "higher"
    return (
        f"All heights are {write(abs(down), LENGTH)} {moved} than at sea, so that they are the same over the deck. "
        f"At the ninety that is {low} over the ground: it must be clear."
    )


def _rows(ashore: Ashore) -> Iterator[tuple[Cell, ...]]:
    texts = []
    for circuit, stem in ((ashore.circuit, "ashore.circuit"), (ashore.at_sea, "ashore.at_sea")):
        found = {} if isinstance(circuit, Unsolved) else {f.key: f.text for f in figures_of(circuit)}
        if isinstance(circuit, CircuitResult):
            found["turn_in_ahead"] = sided(circuit.turn_in_ahead, AHEAD_OF_RAMP, "", "astern").strip()
        texts.append((found, stem))
    yield (
        Cell("Wind along the deck"),
        Cell(write(ashore.along, WIND_OVER_DECK), "ashore.along", strong=True),
        Cell(write(ashore.along + ashore.over_deck_less, WIND_OVER_DECK), "ashore.over_deck_less"),
    )
    for label, key in BESIDE:
        cells = (Cell(found.get(key, "none"), f"{stem}.{key}", strong=i == 0) for i, (found, stem) in enumerate(texts))
        yield (Cell(label), *cells)
