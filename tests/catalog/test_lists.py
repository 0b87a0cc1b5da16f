"""Checklists, signs and words: how they are read, what is told of a bad one, and what the built-in ones say."""

from __future__ import annotations

import hashlib
import re
from importlib import resources

import pytest
from tests.catalog.test_data import KNOWN_NAMES

from roundown.catalog.lists import (
    LONGEST,
    MOST,
    PHASES,
    ListCatalog,
    Sign,
    Step,
    Word,
    add_lists,
    builtin_lists,
)
from roundown.catalog.load import builtin_catalog
from roundown.documents import Document, parse_document

BUILT_IN = builtin_lists()
ALL_STEPS = [
    (name, step) for name, each in BUILT_IN.checklists.items() for steps in each.phases.values() for step in steps
]
MARKS = ("published", "common practice, no source", "from memory", "invented", "film of 1944")
# Words of the trade that came after the 1940s, from memory and later manuals: they stand in brackets after "later:".
LATER = (
    "axial", "barricade", "base recovery course", "brc", "bingo", "bolter", "cold shot", "deck multiple", "delta",
    "foxtrot", "initial", "knock-it-off", "marshal", "missed approach", "pattern", "pim", "popeye", "primary",
    "pri-fly", "push", "push time", "ramp time", "shuttle", "starboard pattern", "state", "touch-and-go", "trap",
    "traps", "meatball", "buddy", "bullseye", "air boss", "nordo",
)  # fmt: skip

CHECKLIST = """
[checklists.teal]
label = "Teal"
[[checklists.teal.start]]
name = "wings"
do = "Spread the wings"
verify = "flat"
after = "director's sign"
why = "no room"
source = "a book"
[[checklists.teal.start]]
do = "Lock them"
after = "wings"
[[checklists.teal.landing]]
do = "Hook down"
"""
SIGNS = '[signs.mine]\nlist = [{ sign = "arms up", means = "stop", do = "brake" }, { sign = "flag", means = "go" }]\n'
WORDS = '[words.mine]\nsource = "heard"\n[[words.mine.list]]\nword = "Dog"\nmeans = "wait"\n'


def read(text: str, source: str = "own notes") -> tuple[ListCatalog, list[str]]:
    document = parse_document("mine.toml", text)
    assert isinstance(document, Document), document
    lists = ListCatalog()
    return lists, [str(complaint) for complaint in add_lists(lists, document, source)]


def test_a_checklist_is_read_in_its_phases() -> None:
    lists, complaints = read(CHECKLIST)
    assert complaints == []
    teal = lists.checklists["teal"]
    assert (teal.name, teal.label, list(teal.phases)) == ("teal", "Teal", ["start", "landing"])
    assert teal.phases["start"] == (
        Step("Spread the wings", "flat", "director's sign", "no room", "a book", "wings"),
        Step("Lock them", "", "wings", "", "own notes"),
    )


def test_phases_stand_in_the_order_of_the_day_not_of_the_file() -> None:
    lists, _ = read('[checklists.x]\nlabel = "X"\nlanding = [{ do = "a" }]\nstart = [{ do = "b" }]\n')
    assert list(lists.checklists["x"].phases) == ["start", "landing"]


def test_signs_and_words_are_read_with_the_nearest_source() -> None:
    lists, complaints = read('source = "the head"\n' + SIGNS + WORDS)
    assert complaints == []
    assert lists.signs["mine"] == (Sign("arms up", "stop", "brake", "the head"), Sign("flag", "go", "", "the head"))
    assert lists.words["mine"] == (Word("Dog", "wait", "heard"),)


def test_a_step_may_wait_for_one_of_an_earlier_phase() -> None:
    assert read(CHECKLIST + 'after = "wings"\n')[1] == []


def step(more: str, phase: str = "after_landing") -> str:
    return CHECKLIST + f'[[checklists.teal.{phase}]]\ndo = "Park"\n{more}'


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (step('after = "wngs"'), ':18: checklists.teal.after_landing[1].after = "wngs": there is no step of'),
        (step('after = "wngs"'), "there is no step of that name. Did you mean wings."),
        (step('after = "chocks"'), "there is no step of that name. Write an outside cue in words"),
        (CHECKLIST.replace('"director\'s sign"', '"late"') + 'name = "late"\n', "the step it waits for comes later"),
        (CHECKLIST.replace('"director\'s sign"', '"wings"'), "the step it waits for comes later"),
        (step('name = "wings"'), '.name = "wings": two steps of one name'),
        (step('name = "two words"'), "a step's name is one word. Write \"two\""),
        (step('veryfy = "x"'), "[1].veryfy: there is no such key here. Did you mean verify"),
        (step("why = 3"), ".why = 3: a text in quotes is wanted"),
        (step('why = ""'), "the text is empty"),
        (step('why = """a\nb"""'), "the text has several lines"),
        (step(f'why = "{"x" * (LONGEST + 1)}"'), f"at most {LONGEST} letters, not {LONGEST + 1}. Say it in fewer"),
        (step("source = 3"), ".source = 3: a text in quotes is wanted"),
        (CHECKLIST.replace('do = "Lock them"', ""), ":11: checklists.teal.start[2].do: what is done: missing. Add do"),
        (CHECKLIST.replace('label = "Teal"', ""), "checklists.teal.label: what it is of, for people: missing"),
        (CHECKLIST.replace("teal.landing", "teal.landin"), "there is no such key here. Did you mean landing"),
        ('[checklists.x]\nlabel = "X"\n', ":1: checklists.x: a checklist with nothing in it. Write [[checklists.x.st"),
        ('[checklists.x]\nlabel = "X"\nstart = []\n', ":3: checklists.x.start: a list with nothing in it. Write [["),
        ('[checklists.x]\nlabel = "X"\nstart = { do = "a" }\n', 'start = { do = "a" }: a list of tables is wanted'),
        ('[checklists.x]\nlabel = "X"\nstart = ["a"]\n', 'start = ["a"]: a list of tables is wanted'),
        ('[checklists.x]\nlabel = "X"\nstart = "a"\n', 'start = "a": a list of tables is wanted'),
        ("checklists = 3\n", "checklists = 3: checklists are tables. Write [checklists.name] above its keys"),
        ("[checklists]\nx = 3\n", "checklists.x = 3: a checklist is a table. Write [checklists.x]"),
        ("[signs]\nx = 3\n", "signs.x = 3: a set of signs is a table. Write [signs.x]"),
        ("words = true\n", "words = true: words are tables"),
        ("[signs.x]\n", ":1: signs.x.list: a list with nothing in it. Write [[signs.x.list]] and under it sign"),
        ("[words.x]\nlist = 3\n", "words.x.list = 3: a list of tables is wanted. Write [[words.x.list]] and under it"),
        ("[words.x]\nlst = []\n", "words.x.lst: there is no such key here. Did you mean list"),
        ('[words.x]\nlist = [{ word = "Dog" }]\n', "words.x.list[1].means: what it says: missing"),
        ("[words.x]\nlist = [" + '{ word = "a", means = "b" },' * (MOST + 1) + "]\n", f"at most {MOST} entries"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_list_is_told(text: str, told: str) -> None:
    complaints = read(text)[1]
    assert any(told in complaint for complaint in complaints), complaints
    assert all(complaint.startswith("mine.toml:") for complaint in complaints)


def test_everything_wrong_is_told_in_one_reading() -> None:
    assert len(read(step('after = "x"\nwhy = 3\n') + '[words.y]\nlist = [{ word = "Dog" }]\n[signs.z]\n')[1]) == 4


@pytest.mark.parametrize(("text", "bare"), [(CHECKLIST, 2), (SIGNS, 2), (WORDS.replace('source = "heard"', ""), 1)])
def test_an_entry_without_a_source_is_told_once_for_its_list(text: str, bare: int) -> None:
    complaints = read(text, source="")[1]
    assert len(complaints) == 1
    assert f"a catalog entry needs a source: {bare} in this list without one. Write source =" in complaints[0]


def test_a_name_is_given_once() -> None:
    lists, _ = read(CHECKLIST + SIGNS + WORDS)
    again = parse_document("other.toml", CHECKLIST + SIGNS + WORDS)
    assert isinstance(again, Document)
    told = [str(complaint) for complaint in add_lists(lists, again, "own notes")]
    assert [text.split(": ", 1)[1] for text in told] == [
        "checklists.teal: there is a checklist of that name already. Choose another name.",
        "signs.mine: there is a set of signs of that name already. Choose another name.",
        "words.mine: there is a set of words of that name already. Choose another name.",
    ]


def test_every_invented_type_has_checklists_for_the_whole_flight() -> None:
    assert set(BUILT_IN.checklists) == set(builtin_catalog()["types"])
    for checklist in BUILT_IN.checklists.values():
        assert list(checklist.phases) == list(PHASES)
        assert all(len(steps) >= 5 for steps in checklist.phases.values())


def test_every_doctrine_has_signs_and_words() -> None:
    doctrines = set(builtin_catalog()["doctrines"])
    assert doctrines == set(BUILT_IN.signs) == set(BUILT_IN.words)


def test_checklists_differ_by_type() -> None:
    texts = [{each.do for name, each in ALL_STEPS if name == which} for which in BUILT_IN.checklists]
    for i, one in enumerate(texts):
        for other in texts[i + 1 :]:
            assert len(one & other) < 0.75 * min(len(one), len(other))


def test_whatever_a_built_in_step_waits_for_came_before_it() -> None:
    for checklist in BUILT_IN.checklists.values():
        seen: set[str] = set()
        for each in (each for steps in checklist.phases.values() for each in steps):
            assert not each.after or " " in each.after or each.after in seen, (checklist.name, each.do)
            seen.add(each.name)


@pytest.mark.parametrize("name", [name for name in BUILT_IN.checklists if name != "sallow"])
def test_folding_wings_are_verified_locked_before_flap_and_take_off(name: str) -> None:
    """Constructed: what PRO-43 tells of wings that were not locked, as an order of steps."""
    steps = BUILT_IN.checklists[name].phases["before_take_off"]
    places = {word: next(i for i, each in enumerate(steps) if word in each.name) for word in ("spread", "locked")}
    flap = next(i for i, each in enumerate(steps) if each.do.startswith("Flap"))
    assert places["spread"] < places["locked"] < flap < len(steps) - 1
    assert "red flags gone" in steps[places["locked"]].verify


@pytest.mark.published
@pytest.mark.parametrize("name", list(BUILT_IN.checklists))
def test_hook_then_wheels_then_flap_then_propeller(name: str) -> None:
    """Source: B. Tillman, Clash of the Carriers (2005), extract: the order of the landing (fact PRO-83)."""
    steps = [each.do.lower() for each in BUILT_IN.checklists[name].phases["landing"]]
    order = [
        next(i for i, do in enumerate(steps) if word in do)
        for word in ("hook down", "wheels down", "full flap", "propeller to low pitch")
    ]
    assert order == sorted(order)


@pytest.mark.parametrize("name", list(BUILT_IN.checklists))
def test_the_tail_wheel_is_locked_to_land_and_freed_after(name: str) -> None:
    """Constructed: the order of hook, wheels, flap and propeller with the tail wheel in its place (PRO-83, 84, 86)."""
    phases = BUILT_IN.checklists[name].phases
    landing = [each.do.lower() for each in phases["landing"]]
    flap, tail, propeller, again = (
        next(i for i, do in enumerate(landing) if word in do)
        for word in ("full flap", "tail wheel locked", "propeller to low pitch", "once more")
    )
    assert flap < tail < propeller < again
    assert "PRO-86" in phases["landing"][tail].source
    assert "PRO-84" in phases["landing"][again].source
    free = [each.do for each in phases["after_landing"] if "tail wheel free" in each.do]
    assert free or name == "brindle"  # hers is freed as her wings are folded


def shown_texts() -> list[str]:
    texts = [text for _, each in ALL_STEPS for text in (each.do, each.verify, each.after, each.why)]
    texts += [text for signs in BUILT_IN.signs.values() for each in signs for text in (each.sign, each.means, each.do)]
    return texts + [text for words in BUILT_IN.words.values() for each in words for text in (each.word, each.means)]


def test_words_of_a_later_time_are_marked_or_left_out() -> None:
    for text in shown_texts():
        plain = re.sub(r"\(later: [^)]*\)", "", text).lower()
        for word in LATER:
            assert not re.search(rf"\b{re.escape(word)}\b", plain), (word, text)


def test_every_entry_says_how_good_its_source_is() -> None:
    sources = [each.source for _, each in ALL_STEPS]
    sources += [each.source for signs in BUILT_IN.signs.values() for each in signs]
    sources += [each.source for words in BUILT_IN.words.values() for each in words]
    for source in sources:
        assert any(mark in source for mark in MARKS), source


def test_no_list_names_a_ship_or_type_that_sailed_or_flew() -> None:
    folder = resources.files("roundown.catalog") / "procedures"
    for file in folder.iterdir():
        words = set(re.findall(r"[a-z0-9]+(?:-[0-9a-z]+)?", file.read_text("utf-8").lower()))
        assert not {word for word in words if hashlib.sha256(word.encode()).hexdigest()[:8] in KNOWN_NAMES}


def test_checklists_show_no_setting_of_a_real_type() -> None:
    """Constructed: no digit stands in a step."""
    assert not [each.do for _, each in ALL_STEPS if re.search(r"\d", each.do + each.verify + each.why)]
