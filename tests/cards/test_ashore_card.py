"""The card for practice ashore: what was solved, beside the ship's own, and nothing runs over anything."""

from __future__ import annotations

import functools

import pytest
from tests.cards.conftest import ESTIMATE, RIGHT_HAND, SHIPS, SolvedBy
from tests.cards.practice_plans import today
from tests.cards.test_list_cards import assert_nothing_runs_over, close, text_of

from roundown import CAUTION
from roundown.cards.ashore_card import BESIDE, ashore_cards, ashore_sight_cards, practice_cards
from roundown.cards.circuit_card import circuit_card
from roundown.cards.marks import ESTIMATED
from roundown.day.ashore import Ashore, solve_ashore
from roundown.day.lessons import solve_lessons
from roundown.day.memory import Memory
from roundown.day.solve import solve
from roundown.figures import figures_of
from roundown.plan.facts import Day
from roundown.quantities import FOOT, TIME, write
from roundown.recovery.result import CircuitResult
from roundown.sight.result import SightResult

MEMORY = Memory()
FIELD = '[ashore]\nname = "Long Strand"\nrunway = "080"\nheight = "45 ft over sea"\n'


@functools.cache
def ashore_of(day: Day) -> Ashore:
    return solve_ashore(day, MEMORY)


def test_practice_cards_stand_in_the_order_they_are_flown() -> None:
    day = today()
    names = list(practice_cards(day, solve(day, MEMORY), ashore_of(day), solve_lessons(day, MEMORY)))
    assert names[:2] == ["ashore-card", "ashore-sight-card"]
    assert [name.split("-")[3] for name in names[2:]] == ["ashore", "calm", "wind", "four", "dawn"]


def test_what_is_seen_ashore_is_over_the_ground_and_nothing_stands_on_the_deck() -> None:
    """Own arithmetic: the eye is its own height over the wheels, and the wheels 45 ft lower over the ground."""
    day = today(more=FIELD)
    ashore = ashore_of(day)
    assert isinstance(ashore.sight, SightResult)
    assert isinstance(ashore.circuit, CircuitResult)
    for gate in ("turn-in", "ninety"):
        seen = ashore.sight.gates[gate].eye_height
        assert seen is not None
        over_wheels = seen - (ashore.circuit.gates[gate].height - 45.0 * FOOT)
        assert 6.0 * FOOT < over_wheels < 10.0 * FOOT
    assert ashore.sight.facts.ship.island_height == ashore.sight.facts.ship.mast_height == 0.0
    cards = ashore_sight_cards(day, solve(day, MEMORY), ashore)
    assert [card.heading for card in cards] == ["Seen ashore, page 1 of 2", "Seen ashore, page 2 of 2", "Cues ashore"]
    for card in cards:
        text = text_of(card)
        assert close("over sea") not in text
        assert close("horizon above all of her") not in text
        assert close("marked") in text
    assert close(write(ashore.circuit.rollout_to_turn_in, TIME)) in text_of(cards[2])


@pytest.mark.parametrize("doctrine", SHIPS)
def test_the_first_page_says_what_was_solved(doctrine: str) -> None:
    day = today(doctrine, more=FIELD)
    ashore = ashore_of(day)
    assert isinstance(ashore.circuit, CircuitResult)
    figures = {f"ashore.circuit.{each.key}": each.text for each in figures_of(ashore.circuit)}
    card = ashore_cards(day, ashore)[0]
    text = text_of(card)
    lines = [line for group in card.groups for row in group.rows for line in row]
    assert len(lines) == 10
    for line in lines:
        assert line.text == figures[line.key]
        assert close(line.text) in text
    assert card.head[0].text == "104"  # 080 true, 24 deg of variation west
    assert close("deck marked on Long Strand") in text
    for words in (CAUTION, card.plan):
        assert close(words) in text


def test_the_second_page_has_each_figure_beside_the_circuit_cards(solved: SolvedBy) -> None:
    """Second method: the ship's own circuit card, of the day solved as a whole."""
    day = solved().day
    at_sea = {line.key: line.text for line in circuit_card(day, solved().solution).lines}
    card = ashore_cards(day, ashore_of(day))[1]
    rows = {row[2].key.removeprefix("ashore.at_sea."): row for row in card.tables[0].rows}
    assert len(card.tables[0].rows) == len(BESIDE) + 1
    for name in (
        "break_to_rollout",
        "abeam",
        "rollout_to_turn_in",
        "ramp_off_nose",
        "final_bank",
        "gates.ninety.height",
    ):
        assert rows[name][2].text == at_sea[f"circuit.{name}"], name
    assert card.sentences[0].text == ashore_of(day).differs


def test_how_low_that_is_over_the_ground_is_said() -> None:
    """Own arithmetic: a ninety of 90 ft over a deck of 65 ft is 25 ft over the marked one."""
    day = today(more=FIELD)
    told = ashore_cards(day, ashore_of(day))[0].sentences[0].text
    assert "All heights are 20 ft lower than at sea" in told
    assert "At the ninety that is 25 ft over the ground" in told


def test_a_field_higher_than_the_deck_raises_them() -> None:
    day = today(more=FIELD.replace("45 ft", "165 ft"))
    told = ashore_cards(day, ashore_of(day))[0].sentences[0].text
    assert "All heights are 100 ft higher than at sea" in told


def check(day: Day) -> None:
    for card in ashore_cards(day, ashore_of(day)):
        assert_nothing_runs_over(card)


@pytest.mark.parametrize("doctrine", SHIPS)
def test_nothing_runs_over_anything(doctrine: str) -> None:
    check(today(doctrine))
    check(today(doctrine, "200/21 kt", more=FIELD + RIGHT_HAND))


@pytest.mark.parametrize("title", ["x" * 300, "long words " * 40])
def test_any_title_goes_on_the_pages(title: str) -> None:
    check(today("half-mile-1945", "070/3 kt", title=title, more=ESTIMATE + "\n" + FIELD))


def test_without_a_circuit_the_card_says_why() -> None:
    """Constructed: 98 kt across the runway, more than the aeroplane flies over the ramp."""
    day = today(wind="070/98 kt", more='[ashore]\nrunway = "160"\n')
    cards = ashore_cards(day, ashore_of(day))
    assert cards[0].sentences[0].text.startswith("No circuit ashore: there is no answer for a heading along")
    assert cards[0].groups == ()
    assert "not known: one of the two has no circuit" in cards[1].sentences[0].text
    check(day)


def test_where_the_circuit_goes_below_the_deck_the_card_says_so() -> None:
    day = today(more='[override.circuit]\nninety_height = "60 ft over sea"\n')
    cards = ashore_cards(day, ashore_of(day))
    assert "in the ground" in cards[0].sentences[0].text
    assert {row[1].text for row in cards[1].tables[0].rows[1:]} == {"none"}


def test_an_estimate_is_marked() -> None:
    day = today(more=ESTIMATE)
    assert all(ESTIMATED in card.marks for card in ashore_cards(day, ashore_of(day)))
    plain = today()
    assert all(card.marks == () for card in ashore_cards(plain, ashore_of(plain)))
