"""Recovery and deck on the brief page: every recovery and every deck, with the figures of the Solution. Constructed."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest
from tests.cards.conftest import NO_CIRCUIT, Solved, SolvedBy
from tests.cards.day_plans import EVENING, day_of
from tests.cards.launch_plans import forty, plan_of
from tests.cards.recovery_plans import in_trouble, recovering, texts_of
from tests.cards.test_brief_page import Page
from tests.cards.test_day_cards import to_the_second

from roundown.cards.brief_recovery import recovery_section
from roundown.cards.markup import html_text
from roundown.recovery.day_cycle import DeckTurn
from roundown.recovery.stack import Stack
from roundown.solution import Solution

DAYS = {"evening": lambda: day_of("evening"), "night": lambda: day_of("night"), "trouble": in_trouble}


def section(found: Solved) -> ET.Element:
    made = recovery_section(found.day, found.solution)
    assert made is not None
    return made


def page_of(found: Solved) -> tuple[str, Page]:
    source = html_text(section(found))
    page = Page()
    page.feed(source)
    page.close()
    assert page.open_ == []
    return source, page


@pytest.mark.parametrize("name", DAYS)
def test_every_flight_and_aeroplane_has_its_times_on_the_page(name: str) -> None:
    found = DAYS[name]()
    _, page = page_of(found)
    texts = texts_of(found)
    for of in recovering(found):
        assert of.heading in page.text
        assert isinstance(of.stack, Stack)
        wanted = [of.key(f"aeroplanes.{key}.over_ramp") for key in of.stack.aeroplanes]
        for key, flight in of.stack.flights.items():
            wanted += [of.key(f"flights.{key}.{what}") for what in ("told_by", "charlie", "at_initial")]
            wanted += [of.key(f"flights.{key}.steps.{step}.height") for step in flight.steps]
            assert of.flight_called(flight) in page.text
        wanted += [of.key(f"foul.{minutes}.last_over_ramp") for minutes in of.stack.foul]
        wanted += [of.key(what, "rhythm") for what in ("planned", "slow", "wave_offs", "foul_decks")]
        for key in wanted:
            text = texts[key].partition(" next")[0] if ".foul." in key else texts[key]
            assert text in page.text or to_the_second(text) in page.text, key


@pytest.mark.parametrize("name", DAYS)
def test_ids_are_its_own_and_every_label_is_there(name: str) -> None:
    source, page = page_of(DAYS[name]())
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    for _, attributes in page.elements:
        assert set(attributes.get("aria-labelledby", "").split()) <= set(ids)
    assert page.named("script") == []
    assert not re.search(r"https?://|url\(", source)


@pytest.mark.parametrize("name", DAYS)
def test_the_keys_it_names_can_be_asked_for(name: str) -> None:
    found = DAYS[name]()
    source, _ = page_of(found)
    parts: dict[str, Solution] = {"": found.solution, **found.solution.parts}
    asked = re.findall(r"<code>roundown check PLAN(?: --part ([^ ]+))? --why ([^<]+)</code>", source)
    assert len(asked) >= 4 * len(recovering(found))
    for part, key in asked:
        assert key in parts[part].figures


def test_each_deck_has_a_strip_with_all_her_launches_and_recoveries_true_to_time() -> None:
    """Second method: ends of the bars, from the hours beneath, against launch and recovery of the day's events."""
    found = day_of("evening")
    strips = [
        svg for svg in section(found).iter("svg") if (svg.find("title") is not None and "day" in svg[0].attrib["id"])
    ]
    (strip,) = strips
    texts = [(float(text.attrib["x"]), text.text or "") for text in strip.iter("text")]
    hours = {words: x for x, words in texts if re.fullmatch(r"\d\d:\d\d", words)}
    (first, at_first), *_, (last, at_last) = sorted(hours.items())

    def seconds(words: str) -> float:
        return 3600.0 * int(words[:2]) + 60.0 * int(words[3:])

    scale = (at_last - at_first) / (seconds(last) - seconds(first))
    bars = []
    for path in strip.iter("path"):
        if path.attrib["fill"] == "#000":
            places = [float(place.split()[0]) for place in path.attrib["d"].strip("MZ").split("L")]
            bars.append(seconds(first) + (min(places) - at_first) / scale)
    for key in ("first_patrol", "second_patrol"):
        times, turn = found.solution.events[key], found.solution.cycle[key]
        assert isinstance(turn, DeckTurn)
        for wanted in (times.launch, times.first_aboard, turn.recovered):
            assert wanted is not None
            assert min(abs(bar - wanted) for bar in bars) < 1.0 / scale
    assert [words for _, words in texts].count("first patrol") == 2


def test_each_carrier_has_a_strip_of_her_own() -> None:
    found = day_of("night")
    told = [svg[1].text or "" for svg in section(found).iter("svg") if svg[0].text == "One deck's day"]
    assert len(told) == 2
    assert all("launch strike on the anchorage beyond the outer reef" in each for each in told)


def test_ten_flights_are_drawn_on_several_sheets_and_none_twice() -> None:
    drawn = [
        text.text
        for svg in section(plan_of(forty())).iter("svg")
        if (svg[0].text or "").startswith("Stack")
        for text in svg.iter("text")
        if text.attrib["font-size"] == "17"
    ]
    assert drawn == [str(i) for i in range(1, 11)]


def test_what_goes_amiss_is_said_to_rest_on_assumptions() -> None:
    _, page = page_of(day_of("evening"))
    assert page.text.count("; rates are assumptions.") == 2
    assert page.text.count("change doctrine.recovery to your own count") == 1


def test_a_day_without_events_has_no_section_and_one_without_a_circuit_says_why(solved: SolvedBy) -> None:
    found = solved()
    assert recovery_section(found.day, found.solution) is None
    _, page = page_of(day_of("evening", NO_CIRCUIT))
    assert page.text.count("No stack is worked out: there is no circuit to come home to.") == 2


def test_a_plan_s_text_never_becomes_markup() -> None:
    source, _ = page_of(plan_of(EVENING.replace('label = "Amber squadron"', 'label = "<b>Amber"')))
    assert "&lt;b&gt;Amber" in source
    assert "<b>Amber" not in source
