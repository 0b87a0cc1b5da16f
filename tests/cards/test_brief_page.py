"""brief.html: one file, no line out, no script from outside, the figures those of the Solution. Constructed cases."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser
from itertools import pairwise

import pytest
from tests.cards.conftest import AWKWARD, NO_CIRCUIT, SHIPS, Solved, SolvedBy

from roundown import CAUTION
from roundown.cards.brief_page import COURSE, LARGE, brief_page
from roundown.cards.dial import angle_of, winds_to_be_had
from roundown.cards.sentences import late_sentence, sided
from roundown.day.solve import DIAL
from roundown.findings import Finding, Level
from roundown.quantities import ANGLE, DISTANCE, KNOT, YARD
from roundown.recovery.result import CircuitResult

VOID = {"meta", "link", "input", "br", "hr", "img"}


@dataclass
class Page(HTMLParser):
    """What a page holds: its elements in order, its text, and whether all that was opened was closed in order."""

    elements: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    open_: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        HTMLParser.__init__(self)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open_.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open_.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open_ and self.open_[-1] not in {"style", "script"}:
            self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.texts).split())

    def named(self, tag: str) -> list[dict[str, str]]:
        return [attributes for name, attributes in self.elements if name == tag]


def page_of(found: Solved) -> tuple[str, Page]:
    source = brief_page(found.day, found.solution, found.dial).decode()
    page = Page()
    page.feed(source)
    page.close()
    assert page.open_ == []
    return source, page


@pytest.mark.parametrize("doctrine", SHIPS)
def test_the_page_needs_nothing_from_outside(solved: SolvedBy, doctrine: str) -> None:
    source, page = page_of(solved(doctrine))
    assert not re.search(r"https?://|//[a-z]|@import|url\(", source)
    for _, attributes in page.elements:
        assert attributes.get("href", "data:,") == "data:,"
        assert not {"src", "srcset", "action", "poster"} & attributes.keys()
        assert not [name for name in attributes if name.startswith("on")]
    assert [script["type"] for script in page.named("script")] == ["application/json", "module"]


@pytest.mark.parametrize("doctrine", SHIPS)
def test_the_large_figures_are_those_of_the_solution(solved: SolvedBy, doctrine: str) -> None:
    found = solved(doctrine)
    text = page_of(found)[1].text
    for label, key in (*COURSE, *LARGE):
        assert found.solution.figures[key].text in text, label
    circuit = found.solution.circuit
    assert isinstance(circuit, CircuitResult)
    assert late_sentence(circuit).text in text
    assert found.solution.verdict in text
    assert CAUTION in text
    assert found.day.hash in text


def test_each_wind_of_the_dial_has_a_button_a_label_and_its_own_circuit(solved: SolvedBy) -> None:
    found = solved()
    source, page = page_of(found)
    buttons = [found for found in page.named("input") if found.get("type") == "radio"]
    assert [button["value"] for button in buttons] == ["today", *(f"{knots}-kt" for knots in DIAL)]
    assert {button["name"] for button in buttons} == {"wind"}
    assert [button["value"] for button in buttons if "checked" in button] == ["today"]
    assert {label["for"] for label in page.named("label")} == {button["id"] for button in buttons}
    shown = [attributes["class"] for attributes in page.named("div") if "position" in attributes.get("class", "")]
    assert shown == [f"position at-{button['value']}" for button in buttons]
    for button in buttons:
        assert f"body:has(#{button['id']}:checked) .at-{button['value']}" in source
    for circuit in found.dial.values():
        assert isinstance(circuit, CircuitResult)
        assert late_sentence(circuit).text in page.text
    assert len(page.named("legend")) == len(page.named("fieldset")) == 1


def test_winds_the_ship_cannot_make_are_marked_in_words(solved: SolvedBy) -> None:
    """Own arithmetic: a 19.5 kt ship in a natural wind W makes W + 19.5 kt over the deck at most."""
    found = solved("half-mile-1945")
    low, high = winds_to_be_had(found.day, found.solution)
    assert high == pytest.approx(found.solution.flight.wind_speed + 19.5 * KNOT)
    beyond = [knots for knots in DIAL if not low <= knots * KNOT <= high]
    assert beyond
    text = page_of(found)[1].text
    assert text.count("over the deck is not to be had today") == len(beyond)
    for knots in beyond:
        assert f"{knots} kt over the deck is not to be had today" in text


def test_the_needle_points_up_at_thirty_and_never_leaves_the_face() -> None:
    assert angle_of(30.0 * KNOT) == pytest.approx(0.0)
    assert angle_of(40.0 * KNOT) == pytest.approx(-angle_of(20.0 * KNOT))
    assert angle_of(90.0 * KNOT) == pytest.approx(108.0)


@pytest.mark.parametrize("more", ["", NO_CIRCUIT])
def test_the_page_can_be_read_without_eyes(solved: SolvedBy, more: str) -> None:
    page = page_of(solved(more=more))[1]
    assert page.named("html")[0]["lang"] == "en"
    levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch(r"h[1-6]", tag)]
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    for _, attributes in page.elements:
        assert set(attributes.get("aria-labelledby", "").split()) <= set(ids)
    assert all(attributes.get("scope") in {"row", "col"} for attributes in page.named("th"))
    assert len(page.named("caption")) == len(page.named("table"))


def test_without_a_circuit_the_page_says_why(solved: SolvedBy) -> None:
    found = solved(more=NO_CIRCUIT)
    page = page_of(found)[1]
    assert "No circuit: the break ends behind" in page.text
    assert found.solution.figures["cockpit.flight_course"].text in page.text
    assert "nan" not in page.text.lower().split()


def test_a_title_is_escaped(solved: SolvedBy) -> None:
    source, page = page_of(solved(title=AWKWARD))
    assert "<h1>Fog &lt;&amp;&gt; 'low' cloud</h1>" in source
    assert AWKWARD in page.text


def test_only_the_worst_three_findings_stand_open(solved: SolvedBy) -> None:
    found = solved()
    findings = tuple(
        Finding(f"rule-{i}", Level.CAUTION, "circuit.abeam", f"value {i}", "limit", "Mend it.") for i in range(5)
    )
    source = page_of(replace(found, solution=replace(found.solution, findings=findings)))[0]
    open_ones, folded = source.split('class="worst"')[1].split("<details>", 1)
    assert open_ones.count("<li>") == 3
    assert folded.split("</details>")[0].count("<li>") == 2


def test_how_names_the_givens_and_where_they_stand(solved: SolvedBy) -> None:
    found = solved(more='[override]\n"circuit.break_bank" = "28 deg"')
    text = page_of(found)[1].text
    bank = found.day.givens["doctrine.circuit.break_bank"]
    assert found.day.place_of(bank) in text
    assert "doctrine.circuit.break_bank 28 deg" in text
    assert "common practice, no source" in text


def test_a_signed_figure_has_its_side_in_words() -> None:
    assert sided(-275.0 * YARD, DISTANCE, "ahead", "astern") == "275 yd astern"
    assert sided(0.0, ANGLE, "right", "left") == "0.0 deg"
    assert sided(0.2 * YARD, DISTANCE, "ahead", "astern") == "0 yd"
