"""Lesson cards: the figures that were solved with their tolerances, on one page, large enough to be read."""

from __future__ import annotations

import dataclasses

import pytest
from tests.cards.conftest import ESTIMATE, NO_CIRCUIT, SHIPS
from tests.cards.practice_plans import today
from tests.cards.test_cards import text_sizes
from tests.cards.test_list_cards import assert_nothing_runs_over, close, page_of, text_of

from roundown import CAUTION
from roundown.cards.card import Card
from roundown.cards.layout import POINTS_WIDE
from roundown.cards.lesson_card import LABELS, lesson_cards
from roundown.cards.marks import ESTIMATED
from roundown.catalog.lessons import LESSON_KEYS, LONGEST_LABEL, LONGEST_LOOK, MOST_LOOKS, STANDARD_KINDS, Standard
from roundown.catalog.rows import LONGEST
from roundown.day.lessons import AIMED, SolvedLesson, solve_lessons
from roundown.day.memory import Memory
from roundown.figures import figures_of
from roundown.plan.facts import Day
from roundown.quantities import FOOT

MEMORY = Memory()
MOST_FIGURES = 10


def ladder(day: Day) -> tuple[SolvedLesson, ...]:
    return solve_lessons(day, MEMORY)


def cards_of(day: Day) -> dict[str, Card]:
    return {name: pages[0] for name, pages in lesson_cards(day, ladder(day)).items()}


def test_every_standard_has_a_name_a_figure_and_a_label() -> None:
    assert set(LABELS) == set(AIMED) == set(STANDARD_KINDS)
    assert {f"standards.{name}" for name in AIMED} <= {key.name for key in LESSON_KEYS}


@pytest.mark.parametrize("doctrine", SHIPS)
def test_the_card_says_what_was_solved_and_how_near_is_near_enough(doctrine: str) -> None:
    day = today(doctrine)
    for each, card in zip(ladder(day), cards_of(day).values(), strict=True):
        assert each.aims is not None
        figures = {f"lessons.{each.lesson.name}.{figure.key}": figure.text for figure in figures_of(each.aims)}
        lines = [line for group in card.groups for row in group.rows for line in row]
        assert 6 <= len(lines) <= MOST_FIGURES
        text = text_of(card)
        for line in lines:
            assert line.text == figures[line.key]
            assert close(f"{line.label}") in text
            assert close(f"{line.text}{line.note}") in text, line
        for words in (*each.lesson.look, each.lesson.onward, each.lesson.label, CAUTION, card.plan):
            assert close(words) in text


def test_the_tolerances_are_those_of_the_ladder() -> None:
    """From the data: the third lesson of the fast carriers."""
    card = cards_of(today())["lesson-card-3-wind"]
    notes = {line.label: line.note for group in card.groups for row in group.rows for line in row}
    assert notes == {
        "Turn-in after wings level": "± 1.5 s", "Abeam": "± 100 yd", "Bank of the final": "± 3 deg",
        "Height at the ninety": "± 10 ft", "Speed at the ninety": "± 5 kt", "Wheels over the ramp": "± 5 ft",
        "Speed over the ramp": "± 4 kt", "Off the centre line": "± 12 ft", "Ramp off the nose, turn-in": "",
    }  # fmt: skip


@pytest.mark.parametrize("doctrine", SHIPS)
def test_nothing_runs_over_anything_and_the_figures_are_large(doctrine: str) -> None:
    for card in cards_of(today(doctrine)).values():
        assert_nothing_runs_over(card)
        sizes = sorted(text_sizes(page_of(card)))
        assert sizes[0] * 600.0 / POINTS_WIDE >= 15.0
        assert sum(size >= 20.0 for size in sizes) >= 8


@pytest.mark.parametrize("title", ["x" * 300, "long words " * 40])
def test_the_longest_texts_go_on_one_page(title: str) -> None:
    day = today("half-mile-1945", more=ESTIMATE)
    long = "straightforwardness " * 6
    lessons = tuple(
        dataclasses.replace(
            each,
            lesson=dataclasses.replace(
                each.lesson,
                label=long[:LONGEST_LABEL],
                onward=long[:LONGEST],
                look=(long[:LONGEST_LOOK],) * MOST_LOOKS,
            ),
        )
        for each in ladder(day)
    )
    for pages in lesson_cards(dataclasses.replace(day, title=title), lessons).values():
        assert_nothing_runs_over(pages[0])


def test_of_four_the_card_has_the_interval_and_when_the_last_is_home() -> None:
    card = cards_of(today())["lesson-card-4-four"]
    assert "From break to break" in {line.label for group in card.groups for row in group.rows for line in row}
    assert "The last is over the ramp" in card.sentences[0].text
    assert "4 in the circuit" in card.subtitles[0]


def test_before_dawn_says_that_it_is_dark() -> None:
    assert "in the dark" in cards_of(today())["lesson-card-5-dawn"].subtitles[0]


def test_ashore_the_card_names_the_runway_and_the_field() -> None:
    day = today(more='[ashore]\nname = "Long Strand"\nrunway = "080"\n')
    card = cards_of(day)["lesson-card-1-ashore"]
    assert card.head[0].label == "Runway"
    assert card.head[0].text == "104"  # 080 true, 24 deg of variation west
    assert "Corbel's deck marked on Long Strand" in card.subtitles[0]


def test_without_a_circuit_the_card_says_why() -> None:
    card = cards_of(today(more=NO_CIRCUIT))["lesson-card-3-wind"]
    assert card.groups == ()
    assert card.sentences[0].text.startswith("No circuit in these conditions: the break ends behind")
    assert_nothing_runs_over(card)


def test_a_standard_that_cannot_be_kept_safely_is_marked() -> None:
    day = today()
    lessons = tuple(
        dataclasses.replace(each, standards={**each.standards, "ninety_height": Standard(30.0 * FOOT, "mine")})
        for each in day.lessons
    )
    for card in cards_of(dataclasses.replace(day, lessons=lessons)).values():
        assert any("wheels over the deck's level at the ninety" in mark for mark in card.marks)
        assert_nothing_runs_over(card)
    assert all(card.marks == () for card in cards_of(day).values())


def test_an_estimate_is_marked() -> None:
    assert all(ESTIMATED in card.marks for card in cards_of(today(more=ESTIMATE)).values())
