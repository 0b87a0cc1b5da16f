"""Lessons: how they are read, what is told of bad ones, and what the built-in ladders say."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from tests.catalog.test_lists import LATER

from roundown.catalog.lessons import LONGEST_LABEL, LONGEST_LOOK, MOST_LOOKS, STANDARD_KINDS, Lesson, Standard
from roundown.catalog.lists import LONGEST, ListCatalog, add_lists, builtin_lists
from roundown.catalog.load import builtin_catalog
from roundown.documents import Document, parse_document
from roundown.quantities import YARD

BUILT_IN = builtin_lists().lessons
ONE = """
[[lessons.mine.list]]
name = "first"
label = "First"
where = "ship"
wind = "070/12 kt"
aeroplanes = "2"
light = "dark"
passes = "5"
look = ["the clock", "the deck"]
onward = "three good ones"
standards = { turn_in = "3 s", abeam = { value = "100 yd", source = "a book" } }
"""


def read(text: str, source: str = "own notes") -> tuple[ListCatalog, list[str]]:
    document = parse_document("mine.toml", text)
    assert isinstance(document, Document), document
    lists = ListCatalog()
    return lists, [str(complaint) for complaint in add_lists(lists, document, source)]


def test_a_lesson_is_read() -> None:
    lists, complaints = read(ONE)
    assert complaints == []
    standards = {"turn_in": Standard(3.0, "own notes"), "abeam": Standard(100.0 * YARD, "a book")}
    look = ("the clock", "the deck")
    assert lists.lessons["mine"] == (
        Lesson("first", "First", "ship", "070/12 kt", 2, "dark", 5, "three good ones", look, standards, "own notes"),
    )


def test_a_lesson_is_for_one_by_day_in_the_wind_of_the_day_unless_it_says_otherwise() -> None:
    text = re.sub(r'(wind|aeroplanes|light) = ".*"\n', "", ONE)
    (found,) = read(text)[0].lessons["mine"]
    assert (found.wind, found.aeroplanes, found.light) == ("day", 1, "day")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (ONE.replace('"070/12 kt"', '"fresh"'), 'lessons.mine.list[1].wind = "fresh": not a wind'),
        (ONE.replace('"070/12 kt"', '"070/120 kt"'), "a wind of at most 100 kt is allowed"),
        (ONE.replace('where = "ship"', 'where = "sea"'), "allowed are ashore, ship"),
        (ONE.replace('"5"', '"2.5"'), '.passes = "2.5": a whole number is wanted'),
        (ONE.replace('"5"', '"0"'), "at least 1"),
        (ONE.replace('turn_in = "3 s"', 'turn_in = "3 kt"'), "standards.turn_in"),
        (ONE.replace('turn_in = "3 s"', 'turnin = "3 s"'), "Did you mean standards.turn_in"),
        (re.sub(r"standards = .*", "", ONE), "a lesson without a standard"),
        (re.sub(r"look = .*", "", ONE), "texts in a list are wanted: what to look at"),
        (re.sub(r"look = .*", "look = [3]", ONE), "texts in a list are wanted"),
        (re.sub(r"look = .*", f"look = {['x'] * (MOST_LOOKS + 1)}", ONE), f"at most {MOST_LOOKS} things to look at"),
        (
            re.sub(r"look = .*", f'look = ["{"x" * (LONGEST_LOOK + 1)}"]', ONE),
            f"one line of at most {LONGEST_LOOK} letters",
        ),
        (ONE.replace('"First"', f'"{"x" * (LONGEST_LABEL + 1)}"'), f"at most {LONGEST_LABEL} letters"),
        (ONE.replace("three good ones", "x" * (LONGEST + 1)), f"at most {LONGEST} letters"),
        (ONE.replace('onward = "three good ones"', ""), "when to go on to the next lesson: missing"),
        (ONE + ONE, "two entries of one name"),
        (ONE.replace('name = "first"', 'name = "First!"'), "small letters, figures and hyphens"),
        ("[lessons.mine]\n", "lessons.mine.list: a list with nothing in it"),
        ("[lessons]\nmine = 3\n", "a ladder of lessons is a table"),
    ],
)
def test_what_is_wrong_with_a_lesson_is_told(text: str, told: str) -> None:
    complaints = read(text)[1]
    assert any(told in complaint for complaint in complaints), complaints
    assert all(complaint.startswith("mine.toml:") for complaint in complaints)


def test_a_standard_without_a_source_is_told() -> None:
    assert any("needs a source" in complaint for complaint in read(ONE, source="")[1])


def test_every_doctrine_has_the_ladder_from_the_field_to_before_dawn() -> None:
    assert set(BUILT_IN) == set(builtin_catalog()["doctrines"])
    for ladder in BUILT_IN.values():
        conditions = [(each.where, each.wind, each.aeroplanes, each.light) for each in ladder]
        assert conditions == [
            ("ashore", "day", 1, "day"),
            ("ship", "calm", 1, "day"),
            ("ship", "day", 1, "day"),
            ("ship", "day", 4, "day"),
            ("ship", "day", 1, "dark"),
        ]


def test_no_standard_grows_wider_on_the_way_up_the_ladder() -> None:
    for ladder in BUILT_IN.values():
        for below, above in pairwise(ladder):
            for name in below.standards:
                if name in above.standards:
                    assert above.standards[name].tolerance <= below.standards[name].tolerance, (above.label, name)


def test_every_lesson_has_a_standard_at_every_gate_and_the_flight_one_for_its_interval() -> None:
    for ladder in BUILT_IN.values():
        for each in ladder:
            alone = set(STANDARD_KINDS) - {"interval"}
            assert set(each.standards) == (alone if each.aeroplanes == 1 else set(STANDARD_KINDS)), each.label
            assert 3 <= len(each.look) <= MOST_LOOKS


def test_every_standard_says_that_it_is_an_assumption() -> None:
    for ladder in BUILT_IN.values():
        for each in ladder:
            assert all("assumption" in standard.source for standard in each.standards.values())


def test_words_of_a_later_time_are_left_out() -> None:
    for ladder in BUILT_IN.values():
        for each in ladder:
            for text in (each.label, each.onward, *each.look):
                for word in LATER:
                    assert not re.search(rf"\b{re.escape(word)}\b", text.lower()), (word, text)
