"""What the pilot sees, in brief.html: stills that can be read, data and scripts inside the page. Constructed cases."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
from tests.cards.conftest import NO_CIRCUIT, RIGHT_HAND, SHIPS, SolvedBy
from tests.cards.test_drawings import assert_clear

from roundown.cards.brief_page import brief_page
from roundown.cards.brief_sight import SCRIPTS, sight_section, views_of
from roundown.solution import Unsolved


@pytest.mark.parametrize("doctrine", SHIPS)
@pytest.mark.parametrize("more", ["", RIGHT_HAND], ids=["left", "right"])
def test_the_stills_are_eight_and_no_text_covers_another(solved: SolvedBy, doctrine: str, more: str) -> None:
    found = solved(doctrine, more=more)
    section = sight_section(found.day, found.solution)
    drawings = section.findall(".//svg")
    assert len(drawings) == 8
    for drawing in drawings:
        assert_clear(drawing)
    ids = [each.attrib["id"] for each in section.iter() if "id" in each.attrib]
    assert len(ids) == len(set(ids))


def test_a_type_that_says_too_little_gets_one_sentence_and_no_script(solved: SolvedBy) -> None:
    found = solved()
    section = sight_section(found.day, replace(found.solution, sight=Unsolved("the type gives no eye_height")))
    assert [(each.tag, each.text) for each in section] == [
        ("h2", "What the pilot sees"),
        ("p", "Nothing is drawn of what is seen: the type gives no eye_height."),
    ]
    none = solved(more=NO_CIRCUIT)
    (view,) = views_of(none.day, none.solution)
    assert view.data is None
    assert view.reason == "Nothing is drawn of what is seen: there is no circuit."


def test_what_stands_inside_the_page_cannot_end_its_element(solved: SolvedBy) -> None:
    found = solved()
    awkward = replace(found.day, givens={**found.day.givens})
    given = awkward.givens["type.label"]
    awkward.givens["type.label"] = replace(given, word="</script><!-- & \u2028")  # type: ignore[index]
    source = brief_page(awkward, found.solution, {}).decode()
    text, module = re.findall(r"<script[^>]*>(.*?)</script>", source, re.DOTALL)
    assert json.loads(text)[0]["whose"].startswith("</script><!-- & ")
    assert json.loads(text)[0]["data"]["gates"]["break"] == 0.0
    assert not re.search(r"^import |^const (\w+) .*^const \1 ", module, re.MULTILINE | re.DOTALL)
    assert "export class SightPanel" in module
    assert len(SCRIPTS) == 4


def test_the_rules_are_those_of_the_plotting_room_and_stand_there_once(solved: SolvedBy) -> None:
    found = solved()
    style = sight_section(found.day, found.solution).findtext("style") or ""
    assert ".sight-edge {" in style
    assert ".sight-figures dd {" in style
    assert style.count("{") == style.count("}")
    assert ".cards {" not in style
    head = re.findall(r"<style>(.*?)</style>", brief_page(found.day, found.solution, {}).decode(), re.DOTALL)[0]
    assert ".sight-edge" not in head


def test_other_types_and_carriers_bring_their_own_plan_and_elevation(solved: SolvedBy) -> None:
    one, other = solved(), solved("half-mile-1945")
    day, solution = replace(one.day, parts={"b": other.day}), replace(one.solution, parts={"b": other.solution})
    first, second = views_of(day, solution)
    assert (first.plan, first.elevation) == ("", "")
    assert first.whose != second.whose
    for markup, kind in ((second.plan, "plan"), (second.elevation, "elevation")):
        assert ET.fromstring(markup).attrib["data-drawing"] == kind  # noqa: S314 - our own drawing
