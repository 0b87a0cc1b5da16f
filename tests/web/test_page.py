"""The page in a real browser: what is typed is solved, figures of two edits never mix. Constructed cases."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Route
from tests.web.conftest import Opened, Room

from roundown import CAUTION
from roundown.cards.brief_page import COURSE, LARGE
from roundown.cards.sentences import late_sentence
from roundown.day.solve import solve
from roundown.documents import Document, parse_document
from roundown.plan.read import day_of
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution

WIND, OTHER_WIND, THIRD_WIND = 'surface_wind = "140/11 kt"', 'surface_wind = "125/18 kt"', 'surface_wind = "150/14 kt"'
BROKEN = 'surface_wind = "140/11 bananas"'
STRONG = 'surface_wind = "140/38 kt"'


def solution_of(text: str) -> Solution:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return solve(day_of(document))


def line_of(text: str, words: str) -> int:
    return next(number for number, line in enumerate(text.split("\n"), 1) if words in line)


def assert_shows(room: Room, text: str) -> None:
    """The large figures and the sentence are those of a text solved apart from the page."""
    solution = solution_of(text)
    for label, key in (*COURSE, *LARGE):
        assert room.figure(key) == solution.figures[key].text, label
    assert isinstance(solution.circuit, CircuitResult)
    assert room.page.inner_text("#sentence") == late_sentence(solution.circuit).text
    assert room.page.inner_text("#verdict") == solution.verdict


def test_the_first_sight_is_the_circuit_of_the_plan_with_its_five_figures(opened: Opened, plan: Path) -> None:
    room = opened(plan)
    assert_shows(room, plan.read_text("utf-8"))
    assert room.page.inner_text("h1") == "Home before dusk (demo)"
    for name in ("clock", "circuit", "elevation", "rose", "track"):
        assert room.page.locator(f"#sheet-{name} svg").count() == 1
    clock = room.page.inner_html("#sheet-clock")
    for words in ("first take-off", "turns into the wind", "first over the ramp", "sunset", "civil twilight"):
        assert words in clock
    assert CAUTION in room.page.inner_text("footer")
    assert room.numbers() == {"1"}


def test_a_changed_wind_changes_drawing_and_figures_to_those_of_its_edit(
    opened: Opened, plan: Path, demo_text: str
) -> None:
    room = opened(plan)
    before = room.page.inner_html("#sheet-circuit")
    text = demo_text.replace(WIND, OTHER_WIND)
    assert room.write(text) == "solved"
    assert room.page.inner_html("#sheet-circuit") != before
    assert_shows(room, text)
    assert room.numbers() == {"2"}


def test_of_two_quick_edits_the_newest_stands_and_figures_never_mix(opened: Opened, plan: Path, demo_text: str) -> None:
    """Every change of the page is looked at as it happens: at no time do two parts show figures of two edits."""
    room = opened(plan)
    room.page.evaluate(
        """() => {
          window.seen = [];
          const shown = () => [...document.querySelectorAll('[data-key], .sheet, #sentence')];
          const look = () => window.seen.push([...new Set(shown().map((each) => each.dataset.edit))].join(' '));
          new MutationObserver(look).observe(document.body, { subtree: true, attributes: true, childList: true });
        }"""
    )
    area = room.page.locator("#text")
    for i in range(6):
        area.fill(demo_text.replace(WIND, OTHER_WIND if i % 2 else THIRD_WIND))
        room.page.wait_for_selector(f"body[data-asked='{i + 2}']")
    last = demo_text.replace(WIND, 'surface_wind = "130/16 kt"')
    assert room.write(last) == "solved"
    assert_shows(room, last)
    assert room.numbers() == {"8"}
    seen: list[str] = room.page.evaluate("() => window.seen")
    assert all(re.fullmatch(r"\d+", each) for each in seen), seen
    assert [int(each) for each in seen] == sorted(int(each) for each in seen)


def test_an_older_answer_that_comes_late_is_dropped(opened: Opened, plan: Path, demo_text: str) -> None:
    room = opened(plan)
    held: list[Route] = []
    room.page.route("**/solve", lambda route: held.append(route))  # noqa: PLW0108 - it is looked into
    area = room.page.locator("#text")
    for i, wind in enumerate((OTHER_WIND, THIRD_WIND)):
        area.fill(demo_text.replace(WIND, wind))
        room.page.wait_for_selector(f"body[data-asked='{i + 2}']")
        while len(held) <= i:
            room.page.wait_for_timeout(20)
    assert "Solving edit 3" in room.page.inner_text("#said")
    assert "those of edit 1" in room.page.inner_text("#said")
    answers = [route.fetch() for route in held]
    held[1].fulfill(response=answers[1])
    room.settled()
    held[0].fulfill(response=answers[0])
    room.page.wait_for_timeout(200)
    assert_shows(room, demo_text.replace(WIND, THIRD_WIND))
    assert room.numbers() == {"3"}


def test_a_broken_plan_shows_the_complaint_beside_its_line_and_keeps_the_drawing(
    opened: Opened, plan: Path, demo_text: str
) -> None:
    room = opened(plan)
    drawing, bank = room.page.inner_html("#sheet-circuit"), room.figure("circuit.final_bank")
    text = demo_text.replace(WIND, BROKEN)
    assert room.write(text) == "broken"
    line = line_of(text, "bananas")
    remark = room.page.locator("#remarks li")
    assert remark.count() == 1
    assert remark.get_attribute("data-line") == str(line)
    assert "does not fit a wind speed" in remark.inner_text()
    assert room.page.locator("#gutter b").inner_text().split() == ["✗", str(line)]
    assert room.page.inner_html("#sheet-circuit") == drawing
    assert room.figure("circuit.final_bank") == bank
    assert room.numbers() == {"1"}
    assert "those of edit 1" in room.page.inner_text("#said")
    remark.get_by_role("button").click()
    chosen = room.page.evaluate(
        "() => { const t = document.querySelector('#text'); return t.value.slice(t.selectionStart, t.selectionEnd) }"
    )
    assert chosen == text.split("\n")[line - 1]
    assert room.write(demo_text) == "solved"
    assert room.numbers() == {"3"}
    assert room.page.locator("#remarks li").count() == 0


def test_a_finding_stands_beside_the_line_that_mends_it(opened: Opened, plan: Path, demo_text: str) -> None:
    room = opened(plan)
    text = demo_text.replace(WIND, STRONG)
    room.write(text)
    solution = solution_of(text)
    items = room.page.locator("#remarks li")
    assert items.count() == len(solution.findings) > 0
    for item, finding in zip(items.all(), solution.findings, strict=True):
        assert item.inner_text().startswith(finding.level.word)
        assert finding.remedy.split("\n")[0] in item.inner_text()
    beside = {
        item.get_attribute("data-line")
        for item, finding in zip(items.all(), solution.findings, strict=True)
        if finding.key == "flight.over_deck"
    }
    assert beside == {str(line_of(text, "surface_wind"))}


def test_without_a_circuit_the_page_says_why_in_its_place(opened: Opened, plan: Path, demo_text: str) -> None:
    room = opened(plan)
    text = demo_text + '\n[override.circuit]\nbreak_place = "0.1 nm ahead of bow"\n'
    assert room.write(text) == "solved"
    assert room.page.locator("#sheet-circuit svg").count() == 0
    assert room.page.inner_text("#sheet-circuit").startswith("No circuit: the break ends behind")
    assert room.figure("circuit.final_bank") == "none"
    assert room.numbers() == {"2"}


@pytest.mark.parametrize(
    ("old", "new"),
    [("", ""), (WIND, STRONG), (WIND, BROKEN), ("format = 1", "format = [")],
    ids=["fresh", "findings", "complaint", "not a plan"],
)
@pytest.mark.parametrize("width", [1280, 900])
def test_axe_finds_nothing(opened: Opened, plan: Path, demo_text: str, old: str, new: str, width: int) -> None:
    room = opened(plan)
    room.page.set_viewport_size({"width": width, "height": 1000})
    if old:
        room.write(demo_text.replace(old, new))
    results = Axe().run(room.page)
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("width", [1280, 900, 420])
@pytest.mark.parametrize("wind", [WIND, STRONG, BROKEN])
def test_nothing_must_be_scrolled_sideways(opened: Opened, plan: Path, demo_text: str, width: int, wind: str) -> None:
    plan.write_text(demo_text.replace(WIND, wind), "utf-8")
    room = opened(plan)
    room.page.set_viewport_size({"width": width, "height": 1000})
    assert room.page.evaluate("() => document.documentElement.scrollWidth") <= width


def test_the_whole_page_is_reached_with_the_tab_key_alone(opened: Opened, plan: Path, demo_text: str) -> None:
    room = opened(plan)
    room.write(demo_text.replace(WIND, STRONG))
    room.page.wait_for_selector("#cards[data-edit='2']")
    wanted = set(
        room.page.evaluate(
            """() => [...document.querySelectorAll('a[href], button, input, textarea, [tabindex="0"]')]
              .filter((each) => each.checkVisibility())
              .map((each, i) => { each.dataset.place = String(i); return String(i); })"""
        )
    )
    assert len(wanted) >= 6
    room.page.locator("h1").click()
    reached: list[str] = []
    for _ in range(2 * len(wanted)):
        room.page.keyboard.press("Tab")
        place = room.page.evaluate("() => document.activeElement.dataset.place ?? ''")
        outline = room.page.evaluate("() => getComputedStyle(document.activeElement).outlineStyle")
        if place:
            reached.append(place)
            assert outline == "solid"
    assert set(reached) == wanted


def test_cards_open_for_the_edit_on_the_table_only(opened: Opened, plan: Path, demo_text: str) -> None:
    room = opened(plan)
    room.page.wait_for_selector("#cards[data-edit='1']")
    links = [link.get_attribute("href") or "" for link in room.page.locator("#cards a").all()]
    assert {"circuit-card.pdf", "circuit-card.png", "ship-card.pdf"} <= {link.split("/")[-1] for link in links}
    for link in links:
        response = room.page.request.get(room.address + link)
        assert response.ok
        assert response.body().startswith(b"%PDF" if link.endswith("pdf") else b"\x89PNG")
    with room.page.context.expect_page() as opening:
        room.page.locator("#cards a[href$='png']").first.click()
    opening.value.locator("img").wait_for()
    room.write(demo_text.replace(WIND, OTHER_WIND))
    old = room.page.request.get(room.address + links[0])
    assert old.status == 404
    assert "changed since" in old.json()["sentence"]


def test_nothing_on_the_page_moves_by_itself(opened: Opened, plan: Path) -> None:
    room = opened(plan)
    rules = room.page.evaluate("() => [...document.styleSheets[0].cssRules].map((rule) => rule.cssText).join(' ')")
    assert not re.search(r"animation|transition|@keyframes|scroll-behavior", rules)
    assert room.page.evaluate("() => document.getAnimations().length") == 0
