"""The muster written into the text of a plan: nothing else in it changes."""

from __future__ import annotations

import tomllib
from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.documents import Document, parse_document
from roundown.plan.muster_text import MusterError, check_people, muster_text, people, rostered

DEMO = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
REST = '\n[ship]\nname = "x"  # the ship\n'
TABLES = {
    "absent": '[muster]\nabsent = ["Vane"]\n',
    "present": '[muster] # today\n# those who wrote\npresent = ["Vane", "Pell"] # so far\n',
    "over several lines": '[muster]\nabsent = [\n  "Vane", # ill\n  "Pell",\n]\n# end of muster\n',
    "both": '[muster]\npresent = ["Vane"]\n  absent = ["Pell"]\n',
    "empty": "[muster]\n",
    "empty with a remark": "[muster] # nobody yet\n\n# a remark\n",
    "quoted": "[ \"muster\" ]\n'absent' = ['Vane']\n",
}
HEADS = {
    "in braces": 'muster = { absent = ["Vane"] } # here\n',
    "dotted": 'muster.absent = ["Vane"]\n',
    "dotted twice": 'muster.absent = ["Vane"]\nmuster . present = ["Pell"] # who\n',
}


def data_of(text: str) -> dict[str, object]:
    return tomllib.loads(text.replace("\r\n", "\n"))


def remarks(text: str) -> list[str]:
    return [line[line.index("#") :].rstrip() for line in text.splitlines() if "#" in line]


def kept(before: str, after: str) -> None:
    """Everything but the muster is as it was."""
    assert {**data_of(before), "muster": None} == {**data_of(after), "muster": None}


@pytest.mark.parametrize("ends", ["\n", "\r\n"], ids=["unix", "windows"])
def test_a_plan_without_a_muster_gets_one_at_its_end(ends: str) -> None:
    text = DEMO.replace("\n", ends)
    new = muster_text(text, "absent", ["Pell", "Orme"])
    assert new == text + f'{ends}[muster]{ends}absent = ["Pell", "Orme"]{ends}'


def test_a_last_line_without_an_end_gets_one() -> None:
    assert muster_text("format = 1", "present", ["Vane"]) == 'format = 1\n\n[muster]\npresent = ["Vane"]\n'


@pytest.mark.parametrize("ends", ["\n", "\r\n"], ids=["unix", "windows"])
@pytest.mark.parametrize("table", TABLES.values(), ids=TABLES)
@pytest.mark.parametrize("order", ["first", "last"])
def test_a_muster_is_changed_where_it_stands(table: str, ends: str, order: str) -> None:
    text = ("format = 1\n" + (table + REST if order == "first" else REST + table)).replace("\n", ends)
    new = muster_text(text, "absent", ["Orme"])
    kept(text, new)
    assert data_of(new)["muster"] == {"absent": ["Orme"]}
    assert new.count("\n") == new.count(ends)
    assert [remark for remark in remarks(text) if remark != "# ill"] == remarks(new)
    start = text.index(REST.replace("\n", ends))
    assert new.endswith(text[start:]) if order == "first" else new.startswith(text[: start + len(REST)])


@pytest.mark.parametrize("head", HEADS.values(), ids=HEADS)
def test_a_muster_above_all_tables_is_changed_too(head: str) -> None:
    text = head + REST
    new = muster_text(text, "present", ["Orme"])
    kept(text, new)
    assert data_of(new)["muster"] == {"present": ["Orme"]}
    assert remarks(new) == remarks(text)
    assert new.endswith(REST)


def test_a_key_that_goes_takes_its_line_with_it() -> None:
    new = muster_text('[muster]\npresent = ["Vane"]\n  absent = ["Pell"]\n' + REST, "absent", ["Orme"])
    assert new == '[muster]\nabsent = ["Orme"]\n' + REST


def test_the_same_muster_leaves_the_text_alone() -> None:
    text = TABLES["over several lines"]
    assert muster_text(text, "absent", ["Vane", "Pell"]) == text


def test_nobody_absent_leaves_a_plan_without_a_muster_alone() -> None:
    assert muster_text(DEMO, "absent", []) == DEMO
    assert muster_text(DEMO + TABLES["absent"], "absent", []) == DEMO + "[muster]\nabsent = []\n"


def test_a_muster_in_a_list_is_not_guessed_at() -> None:
    with pytest.raises(MusterError, match="could not be changed"):
        muster_text('[[muster]]\nabsent = ["Vane"]\n', "absent", ["Pell"])
    with pytest.raises(MusterError, match="could not be changed"):
        muster_text('[muster]\naway = ["Vane"]\n[muster.x]\n', "absent", ["Pell"])


names = st.lists(st.text(st.characters(exclude_categories=["Cs"]), max_size=8), max_size=5, unique=True)


@given(first=names, second=names, which=st.sampled_from(["present", "absent"]), windows=st.booleans())
def test_any_names_can_be_written_and_written_over(
    first: list[str], second: list[str], which: str, *, windows: bool
) -> None:
    text = DEMO.replace("\n", "\r\n") if windows else DEMO
    one = muster_text(text, "absent", first)
    assert data_of(one).get("muster", {"absent": []}) == {"absent": first}
    two = muster_text(one, "present" if which == "present" else "absent", second)
    kept(text, two)
    assert data_of(two).get("muster", {"absent": []}) == {which: second}
    assert muster_text(two, "present" if which == "present" else "absent", second) == two
    assert muster_text(two, "absent", first) == one or not first
    assert two.startswith(text)


# Names


def test_the_people_are_those_of_the_rosters_in_order() -> None:
    document = parse_document("demo.toml", DEMO + '[muster]\nabsent = ["Vane"]\n')
    assert isinstance(document, Document)
    assert rostered(document) == ("Vane", "Pell", "Orme", "Lusk", "Hale", "Dray", "Moss", "Finch")


def test_names_are_parted_by_commas_unless_a_name_holds_one() -> None:
    assert people(["Vane, Pell", " Orme ", "Vane,"], ("Vane",)) == ("Vane", "Pell", "Orme")
    assert people(["Vane, J.", "Pell"], ("Vane, J.", "Pell")) == ("Vane, J.", "Pell")


def test_an_unknown_name_is_told_with_the_nearest() -> None:
    known = ("Vane", "Pell")
    check_people(known, known)
    with pytest.raises(MusterError, match=r"called Pel\. Did you mean Pell\?"):
        check_people(["Pel"], known)
    with pytest.raises(MusterError, match=r"called Zzz\. There are Vane, Pell\."):
        check_people(["Zzz"], known)
    with pytest.raises(MusterError, match="no roster with names"):
        check_people([], ())
