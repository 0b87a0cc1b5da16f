"""Emergency cards: one page each, every step on it, and the time and fuel they cost by sums of our own."""

from __future__ import annotations

import dataclasses

import pytest
from tests.cards.conftest import SHIPS, Solved
from tests.cards.day_plans import day_of
from tests.cards.practice_plans import today
from tests.cards.test_list_cards import assert_nothing_runs_over, close, text_of

from roundown import CAUTION
from roundown.cards.card import Card
from roundown.cards.emergency_card import clock_text, emergency_cards
from roundown.cards.marks import ESTIMATED

NAMES = ["no-radio", "hook", "hung-stores", "wounded", "launch-engine", "ditching"]
LINES = 14  # of a card read in a cockpit: steps, and what it costs


def cards_of(found: Solved) -> dict[str, Card]:
    made = emergency_cards(found.day, found.solution)
    assert all(len(pages) == 1 for pages in made.values())
    return {name: pages[0] for name, pages in made.items()}


def plain(doctrine: str = "fast-carrier-1944", more: str = "") -> Solved:
    """A day without events; the solution of another will do, since the cards ask it for the times of events alone."""
    return Solved(today(doctrine, more=more), day_of("evening").solution)


def without(found: Solved, *keys: str) -> Solved:
    """The day without some givens, solved as before."""
    givens = {key: given for key, given in found.day.givens.items() if key not in keys}
    return Solved(dataclasses.replace(found.day, givens=givens), found.solution)


@pytest.mark.parametrize("doctrine", SHIPS)
def test_there_is_a_card_of_one_page_for_each_emergency(doctrine: str) -> None:
    assert list(cards_of(plain(doctrine))) == [f"emergency-card-{name}" for name in NAMES]


@pytest.mark.parametrize("doctrine", SHIPS)
def test_every_step_stands_on_the_card_in_its_order_and_so_does_its_source(doctrine: str) -> None:
    found = plain(doctrine)
    for emergency, card in zip(found.day.emergencies, cards_of(found).values(), strict=True):
        assert len(card.tables[0].rows) <= LINES - 4
        text = text_of(card)
        place = 0
        for step in emergency.steps:
            place = text.find(close(step.do), place)
            assert place >= 0, step.do
            assert close(step.source) in text, step.source
        for shown in (emergency.label, emergency.source, CAUTION, card.plan):
            assert close(shown) in text, shown


@pytest.mark.parametrize("doctrine", SHIPS)
def test_nothing_runs_over_anything(doctrine: str) -> None:
    for card in cards_of(plain(doctrine)).values():
        assert_nothing_runs_over(card)


@pytest.mark.parametrize("title", ["x" * 300, "long words " * 40])
def test_any_title_goes_on_the_pages(title: str) -> None:
    found = day_of("evening")
    day = dataclasses.replace(found.day, title=title)
    for pages in emergency_cards(day, found.solution).values():
        for card in pages:
            assert_nothing_runs_over(card)


def test_the_officer_is_called_what_the_doctrine_calls_him() -> None:
    card = cards_of(plain("half-mile-1945"))["emergency-card-hook"]
    who = [row[1].text for row in card.tables[0].rows]
    assert "batsman" in who
    assert "signal officer" not in who


def test_a_hook_that_stays_up_costs_the_barrier() -> None:
    """Own arithmetic: 5 min at 30 s a landing; at 264 lb/h 22 lb; the last of four comes 90 s after the first."""
    found = day_of("evening")
    card = cards_of(found)["emergency-card-hook"]
    flow = found.day.number("type.fuel.hold")
    pounds = round(flow * 300.0 / 0.45359237)
    assert [line.text.replace("\N{NO-BREAK SPACE}", " ") for line in card.head] == [
        "5 min", "10.0 landings", f"{pounds} lb",
    ]  # fmt: skip
    told = card.sentences[0].text.replace("\N{NO-BREAK SPACE}", " ")
    assert told.startswith("He lands after all others. In the longest recovery that keeps him up 1 min 30 s longer")
    assert "which takes 5 min to clear" in told
    (_, times) = card.tables
    assert times.columns[-1] == "deck ready again"
    planned, then = (seconds(times.rows[0][i].text) for i in (1, 2))
    assert then - planned == 300


def seconds(clock: str) -> int:
    parts = [int(part) for part in clock.split(":")]
    return 3600 * parts[0] + 60 * parts[1] + (parts[2] if len(parts) > 2 else 0)


def test_a_failure_at_launch_moves_the_last_take_off() -> None:
    """Own arithmetic: one interval of 25 s and two minutes."""
    card = cards_of(day_of("evening"))["emergency-card-launch-engine"]
    (_, times) = card.tables
    assert times.columns == ("Last take-off", "as planned", "if it happens in this one")
    assert [seconds(row[2].text) - seconds(row[1].text) for row in times.rows] == [145, 145]
    assert "Fuel, each who waits" not in [line.label for line in card.head]


def test_a_ditching_holds_nobody_up() -> None:
    card = cards_of(day_of("evening"))["emergency-card-ditching"]
    assert card.head == ()
    assert len(card.tables) == 1
    assert card.sentences[0].text == "He does not come aboard. The deck goes on as planned."


def test_a_wounded_man_lands_as_the_doctrine_has_it() -> None:
    for doctrine, words in (("fast-carrier-1944", "after all others"), ("half-mile-1945", "before all others")):
        card = cards_of(plain(doctrine))["emergency-card-wounded"]
        assert words in card.sentences[0].text
    other = plain("half-mile-1945", more='[override.stack]\nhurt = "last"\n')
    assert "after all others" in cards_of(other)["emergency-card-wounded"].sentences[0].text


def test_fuel_that_is_not_known_is_said() -> None:
    card = cards_of(without(day_of("evening"), "type.fuel.hold"))["emergency-card-hook"]
    assert card.head[-1].text == "not known"
    assert "fuel not known" in card.sentences[0].text


def test_every_type_that_flies_has_its_fuel() -> None:
    card = cards_of(day_of("night"))["emergency-card-hook"]
    assert "Holding meanwhile, each burns: Ottery" in card.sentences[0].text
    assert "Sallow" in card.sentences[0].text


def test_a_day_whose_doctrine_names_no_emergencies_has_no_cards() -> None:
    found = day_of("evening")
    assert emergency_cards(dataclasses.replace(found.day, emergencies=()), found.solution) == {}


def test_an_estimate_that_a_time_rests_on_is_marked() -> None:
    more = '[override.recovery]\nbarrier_clear = { value = "6 min", source = "estimated by the author" }\n'
    assert cards_of(plain(more=more))["emergency-card-hook"].marks == (ESTIMATED,)
    assert cards_of(plain())["emergency-card-hook"].marks == ()


@pytest.mark.parametrize(
    ("span", "shown"), [(45.0, "45 s"), (59.6, "1 min"), (90.0, "1 min 30 s"), (300.2, "5 min"), (3725.0, "62 min 5 s")]
)
def test_a_span_is_said_in_minutes_and_seconds(span: float, shown: str) -> None:
    assert clock_text(span).replace("\N{NO-BREAK SPACE}", " ") == shown
