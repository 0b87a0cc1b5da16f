"""Emergencies: how they are read, what is told of bad ones, and what the built-in ones say."""

from __future__ import annotations

import re

import pytest
from tests.catalog.test_lists import LATER, MARKS

from roundown.catalog.emergencies import WHO, Emergency, EmergencyStep
from roundown.catalog.lists import LONGEST, MOST, ListCatalog, add_lists, builtin_lists
from roundown.catalog.load import builtin_catalog
from roundown.documents import Document, parse_document

BUILT_IN = builtin_lists().emergencies
EACH = [(doctrine, each) for doctrine, found in BUILT_IN.items() for each in found]
IDS = [f"{doctrine}-{each.name}" for doctrine, each in EACH]
ONE = """
[[emergencies.mine.list]]
name = "fire"
label = "Fire"
source = "club rule"
effect = { lands = "first", intervals = "2", delay = "1 min", barrier = "yes", source = "guess" }
steps = [
  { who = "pilot", do = "Fuel off" },
  { who = "ship", do = "Hoses out", source = "a book" },
]
"""


def read(text: str, source: str = "own notes") -> tuple[ListCatalog, list[str]]:
    document = parse_document("mine.toml", text)
    assert isinstance(document, Document), document
    lists = ListCatalog()
    return lists, [str(complaint) for complaint in add_lists(lists, document, source)]


def test_an_emergency_is_read_with_its_steps_and_its_effect() -> None:
    lists, complaints = read(ONE)
    assert complaints == []
    steps = (EmergencyStep("pilot", "Fuel off", "club rule"), EmergencyStep("ship", "Hoses out", "a book"))
    assert lists.emergencies["mine"] == (
        Emergency("fire", "Fire", steps, "recovery", "first", 2.0, 60.0, barrier=True, source="guess"),
    )


def test_what_is_not_said_of_the_effect_is_nil() -> None:
    (found,) = read(re.sub(r"effect = .*", 'effect = { lands = "not aboard" }', ONE))[0].emergencies["mine"]
    assert (found.holds_up, found.intervals, found.delay, found.barrier) == ("recovery", 0.0, 0.0, False)
    assert found.source == "club rule"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (ONE.replace('"first"', '"firts"'), '.effect.lands = "firts": allowed are first, last, in turn'),
        (ONE.replace('lands = "first", ', ""), "effect.lands: when the one in trouble comes aboard: missing"),
        (ONE.replace('"1 min"', '"1"'), "a time needs its unit"),
        (ONE.replace('intervals = "2"', 'intervals = "-2"'), "at least 0"),
        (ONE.replace('barrier = "yes"', 'barrier = "maybe"'), "allowed are yes, no"),
        (ONE.replace('who = "pilot"', 'who = "cook"'), f'.steps[1].who = "cook": allowed are {", ".join(WHO)}'),
        (ONE.replace(', do = "Fuel off"', ""), "steps[1].do: what he does, or she: missing"),
        (ONE.replace('"Fuel off"', f'"{"x" * (LONGEST + 1)}"'), f"at most {LONGEST} letters"),
        (ONE.replace('name = "fire"', 'name = "On Fire"'), "a name here is small letters, figures and hyphens"),
        (ONE + ONE, 'emergencies.mine.list[2].name = "fire": two entries of one name'),
        (re.sub(r"steps = \[.*\]", "steps = []", ONE, flags=re.DOTALL), "steps: a list with nothing in it"),
        (ONE.replace("label", "lable"), "there is no such key here. Did you mean label"),
        ("[emergencies.mine]\n", "emergencies.mine.list: a list with nothing in it. Write [[emergencies.mine.list]]"),
        ("[emergencies.mine]\nlist = 3\n", "a list of tables is wanted"),
        ("[emergencies.mine]\nlst = []\n", "emergencies.mine.lst: there is no such key here. Did you mean list"),
        ("emergencies = 3\n", "emergencies are tables"),
        ("[emergencies]\nmine = 3\n", "a set of emergencies is a table"),
        ("\n".join(ONE.replace("fire", f"fire-{i}") for i in range(MOST + 1)), f"at most {MOST} entries"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_an_emergency_is_told(text: str, told: str) -> None:
    complaints = read(text)[1]
    assert any(told in complaint for complaint in complaints), complaints
    assert all(complaint.startswith("mine.toml:") for complaint in complaints)


def test_a_step_without_a_source_is_told() -> None:
    text = re.sub(r'source = "[^"]*"\n', "\n", ONE).replace(', source = "guess"', "")
    assert any("without one" in complaint for complaint in read(text, source="")[1])


def test_every_doctrine_has_the_six_emergencies() -> None:
    assert set(BUILT_IN) == set(builtin_catalog()["doctrines"])
    for found in BUILT_IN.values():
        names = [each.name for each in found]
        assert names == ["no-radio", "hook", "hung-stores", "wounded", "launch-engine", "ditching"]


def test_the_two_doctrines_do_not_say_the_same() -> None:
    one, other = ({step.do for each in found for step in each.steps} for found in (BUILT_IN.values()))
    assert len(one & other) < 0.25 * min(len(one), len(other))


@pytest.mark.parametrize(("doctrine", "each"), EACH, ids=IDS)
def test_an_emergency_has_few_steps_of_which_some_are_the_pilots(doctrine: str, each: Emergency) -> None:
    assert 6 <= len(each.steps) <= 10, doctrine
    assert [step for step in each.steps if step.who in ("pilot", "leader")]


@pytest.mark.parametrize(("doctrine", "each"), EACH, ids=IDS)
def test_every_step_and_every_effect_says_how_good_its_source_is(doctrine: str, each: Emergency) -> None:
    for source in (*(step.source for step in each.steps), each.source):
        assert any(mark in source for mark in (*MARKS, "own rule, no source", "assumption")), (doctrine, source)
    assert "assumption" in each.source  # no time of any of them is published


@pytest.mark.parametrize("name", ["hook", "hung-stores", "wounded"])
def test_where_no_rule_was_found_the_decisions_say_so(name: str) -> None:
    """Constructed: PRO-115 has no published rule for these three."""
    for found in BUILT_IN.values():
        steps = next(each.steps for each in found if each.name == name)
        assert any("no rule found (PRO-115)" in step.source for step in steps if step.who == "ship")


def test_words_of_a_later_time_are_left_out() -> None:
    for _, each in EACH:
        for text in (each.label, *(step.do for step in each.steps)):
            for word in LATER:
                assert not re.search(rf"\b{re.escape(word)}\b", text.lower()), (word, text)


def step_of(doctrine: str, name: str, words: str) -> EmergencyStep:
    steps = next(each.steps for each in BUILT_IN[doctrine] if each.name == name)
    return next(step for step in steps if words in step.do)


@pytest.mark.published
def test_nobody_ditches_with_wheels_down() -> None:
    """Source: Naval Aviation News, 15 September 1944: wheels down caught the water and turned her over (PRO-110)."""
    for doctrine in BUILT_IN:
        assert "PRO-110, published" in step_of(doctrine, "ditching", "Wheels up").source


@pytest.mark.published
def test_a_ditching_is_decided_while_there_is_power() -> None:
    """Source: B. Tillman, Clash of the Carriers (2005), extract: they ditched under control, with power (PRO-111)."""
    for doctrine in BUILT_IN:
        steps = next(each.steps for each in BUILT_IN[doctrine] if each.name == "ditching")
        assert "engine still runs" in steps[0].do


@pytest.mark.published
def test_stores_are_dropped_before_a_ditching_and_flares_only_live() -> None:
    """Source: E. E. Barringer, Alone on a Wide, Wide Sea (1995), extract (PRO-109)."""
    for doctrine in BUILT_IN:
        step = step_of(doctrine, "ditching", "flares")
        assert "live" in step.do
        assert "safe" in step.do


@pytest.mark.published
def test_without_a_radio_the_leader_brings_him_into_the_break() -> None:
    """Source: CNATRA P-821, section formation procedures, a later manual: the break, and the leader first (PRO-114)."""
    for doctrine in BUILT_IN:
        step = step_of(doctrine, "no-radio", "into the break")
        assert step.who == "leader"
        assert "later navy" in step.source
