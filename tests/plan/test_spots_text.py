"""A pinned place written into the text of a plan: nothing else in it changes. Constructed cases."""

from __future__ import annotations

import tomllib
from importlib import resources
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.documents import Document, parse_document
from roundown.plan.read import day_of
from roundown.plan.spots_text import Place, SpotsError, spots_text
from roundown.quantities import FOOT

DEMO = resources.files("roundown.plan").joinpath("demo.toml").read_text("utf-8")
HEAD = 'format = 1  # the plan\n\n[[event]]\nname = "early"\nspots = { "11" = { ahead = "1 ft" } }\n\n'
TAIL = '\n[[event]]\nname = "late"\nspots."11".ahead = "2 ft"\n'
FORMS = {
    "none": 'seats = [\n  "11",\n  "12",  # he too\n]  # those\n# end\n',
    "none before a table": '[event.loading.blue]\nfuel = "100 lb"\n',
    "inline": 'spots = { "12" = { ahead = "90 ft", port = "3 ft" } }  # pinned\ntask = "t"\n',
    "inline and empty": 'spots = {}\ntask = "t"\n',
    "inline with all": (
        'spots = { "11" = { heading = "9 deg port", ahead = "80 m" },12 = { ahead = "9 ft" },13 = { ahead = "5 m" } }\n'
    ),
    "inline and dotted": 'spots = { 12.ahead = "90 ft", 11.ahead = "7 ft", 11.port = "3 ft" }\n',
    "a table": '[event.spots]  # all\n# why\n"12" = { ahead = "90 ft" }  # he\n# so\n',
    "an empty table": "[event.spots]  # all\n",
    "a table each": (
        '[event.spots.12]\n# by the island\nahead = "90 ft"  # a guess\n\n[event.loading]\nblue = { fuel = "9 lb" }\n'
    ),
    "a table each, all": (
        '[ event . spots . "12" ]\nahead = "90 ft"\n[event.spots.11]\nport = "3 ft"\nahead = "7 ft"\n'
    ),
    "a table in a table": '[event.spots]\n12.ahead = "90 ft"\n[event.spots.11]\nahead = "7 ft"  # there\n',
    "dotted": '  spots.12.ahead = "90 ft"\n  spots . 12 . port = "4 ft"\ntask = "t"\n',
    "dotted, all": 'spots.11.ahead = "90 ft" # one\nspots.12 = { ahead = "4 ft" }\n',
}
FORMS = {name: f'[[event]]\nname = "noon"  # by day\n{form}' for name, form in FORMS.items()}
sides = st.sampled_from(["11", "12", "13", "A 4", 'a"b', "F.3", "Ü"])
places = st.tuples(st.integers(0, 1200), st.integers(-125, 125)).map(lambda each: (each[0] * FOOT, each[1] * FOOT))


def data_of(text: str) -> dict[str, Any]:
    return tomllib.loads(text.replace("\r\n", "\n"))


def spots_of(text: str, i: int = 1) -> dict[str, dict[str, str]]:
    found: dict[str, dict[str, str]] = data_of(text)["event"][i].get("spots", {})
    return found


def rest_of(text: str) -> dict[str, Any]:
    """Everything but the places of the event in the middle."""
    data = data_of(text)
    data["event"][1].pop("spots", None)
    return data


def remarks(text: str) -> list[str]:
    return [line[line.index("#") :].rstrip() for line in text.splitlines() if "#" in line]


def feet(place: Place) -> dict[str, str]:
    return {"ahead": f"{round(place[0] / FOOT)} ft", "port": f"{round(place[1] / FOOT)} ft"}


@given(
    form=st.sampled_from(sorted(FORMS)),
    moves=st.lists(st.tuples(sides, st.none() | places), min_size=1, max_size=6),
    windows=st.booleans(),
    ended=st.booleans(),
)
def test_any_places_can_be_written_moved_and_freed(
    form: str, moves: list[tuple[str, Place | None]], *, windows: bool, ended: bool
) -> None:
    """What is read back is what was meant; every other value, remark and line end stays."""
    text = HEAD + FORMS[form] + TAIL
    text = text if ended else text.rstrip("\n")
    text = text.replace("\n", "\r\n") if windows else text
    wanted = spots_of(text)
    new = text
    for side, place in moves:
        new = spots_text(new, "noon", side, place)
        if place is None:
            wanted.pop(side, None)
        else:
            wanted[side] = {**wanted.get(side, {}), **feet(place)}
        assert spots_of(new) == wanted
    assert rest_of(new) == rest_of(text)
    assert remarks(new) == remarks(text)
    assert new.startswith(text[: len(HEAD.replace("\n", "\r\n")) if windows else len(HEAD)])
    assert new.endswith(text[text.rindex("[[event]]") :])
    assert ("\r\n" in new, new.count("\n")) == (windows, new.count("\r\n") or new.count("\n"))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("which", [0, 1, 2])
def test_only_the_event_that_is_meant_changes(form: str, which: int) -> None:
    """Also where the event is the last of the text, which then ends without a line end."""
    texts = [HEAD, FORMS[form], '[[event]]\nname = "late"\nspots."11".ahead = "2 ft"']
    text = "".join(texts)
    name = ("early", "noon", "late")[which]
    new = spots_text(text, name, "11", (90 * FOOT, -3 * FOOT))
    for i in range(3):
        heading = {key: value for key, value in spots_of(text, i).get("11", {}).items() if key == "heading"}
        assert spots_of(new, i).get("11") == (
            {"ahead": "90 ft", "port": "-3 ft", **heading} if i == which else spots_of(text, i).get("11")
        )
    assert remarks(new) == remarks(text)


@given(place=places, windows=st.booleans())
def test_a_first_place_is_one_line_and_goes_without_a_trace(place: Place, *, windows: bool) -> None:
    text = DEMO.replace("\n", "\r\n") if windows else DEMO
    new = spots_text(text, "first patrol", "11", place)
    ahead, port = feet(place).values()
    line = f'spots = {{ "11" = {{ ahead = "{ahead}", port = "{port}" }} }}'
    assert new.splitlines().count(line) == 1
    assert [each for each in new.splitlines(keepends=True) if each.rstrip() != line] == text.splitlines(keepends=True)
    assert spots_text(new, "first patrol", "11", place) == new
    assert spots_text(new, "first patrol", "11", None) == text
    document = parse_document("demo.toml", new)
    assert isinstance(document, Document)
    day = day_of(document)
    stem = "event.first_patrol.spots.11"
    assert (day.number(f"{stem}.ahead"), day.number(f"{stem}.port")) == pytest.approx(place)


def test_a_place_that_is_moved_keeps_its_heading_and_its_line() -> None:
    text = HEAD + FORMS["inline with all"]
    new = spots_text(text, "noon", "11", (90 * FOOT, 3 * FOOT))
    assert new == text.replace('ahead = "80 m" }', 'ahead = "90 ft", port = "3 ft" }')


def test_freeing_who_is_not_pinned_changes_nothing() -> None:
    for form in FORMS.values():
        assert (
            spots_text(HEAD + form, "noon", "99", None) == HEAD + form
            or "spots = {}" in form
            or "[event.spots]" in form
        )


def test_an_event_without_a_name_has_its_number() -> None:
    text = '[[event]]\nlaunch = "17:25"\n\n[[event]]\nlaunch = "18:25"\n'
    assert spots_of(spots_text(text, "event 2", "11", (FOOT, 0.0))) == {"11": {"ahead": "1 ft", "port": "0 ft"}}


@pytest.mark.parametrize(
    "text", ['event = [{ name = "noon" }]\n', 'event = [{ name = "noon", spots.1.ahead = "3 ft" }]\n']
)
def test_an_event_in_braces_gets_its_place_too(text: str) -> None:
    new = spots_text(text, "noon", "11", (FOOT, 0.0))
    assert spots_of(new, 0)["11"] == {"ahead": "1 ft", "port": "0 ft"}
    assert data_of(spots_text(new, "noon", "11", None)) == data_of(text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("event = [", "cannot be read as it stands"),
        ("", "cannot be read as it stands"),
        ("event = 3", "no event called noon"),
        ('[[event]]\nname = "eve"\n', "no event called noon"),
        ('[[event]]\nname = "noon"\nspots = 3\n', "Places stand in a table"),
        ('[[event]]\nname = "noon"\nspots = { 11 = "90 ft" }\n', "Places stand in a table"),
        ('[[event]]\nname = "noon"\n[[event.spots]]\nahead = "90 ft"\n', "Places stand in a table"),
    ],
)
def test_what_cannot_be_written_is_said_in_a_sentence(text: str, said: str) -> None:
    with pytest.raises(SpotsError, match=said):
        spots_text(text, "noon", "11", (FOOT, FOOT))
