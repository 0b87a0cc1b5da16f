"""What the deck's sheet says of each aeroplane, and how it fits a narrow page. Constructed."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from tests.web.conftest import Opened
from tests.web.test_deck import LARGER, PATROL, opened_deck
from tests.web.test_page import solution_of

from roundown.documents import Document, parse_document
from roundown.launch.result import EventLaunch
from roundown.plan.read import day_of
from roundown.plan.spots_text import spots_text
from roundown.quantities import FOOT, KNOT, SPEED_MARGIN, write
from roundown.solution import Unsolved
from roundown.web.deck_sheet import deck_sheet


def test_a_load_that_has_no_deck_says_why(demo_text: str) -> None:
    document = parse_document("plan.toml", demo_text)
    assert isinstance(document, Document)
    solution = replace(solution_of(demo_text), spots=(), launches={"first_patrol": Unsolved("it has no propeller.")})
    sheet = deck_sheet(day_of(document), solution)
    assert [each.text for each in sheet] == ["No deck is spotted for first patrol: it has no propeller."]
    nothing = deck_sheet(day_of(document), replace(solution, launches={}))
    assert [each.text for each in nothing] == ["The plan launches nothing, so no deck is spotted."]


def test_a_run_too_short_says_by_how_much(demo_text: str) -> None:
    """Own arithmetic: needed less left, each rounded to a foot."""
    text = spots_text(demo_text, PATROL, "11", (600 * FOOT, 0.0))
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    sheet = deck_sheet(day_of(document), solution_of(text))
    cells = ["".join(cell.itertext()) for cell in sheet.iterfind(".//tr[@data-row='11']/*")]
    short = int(cells[3].split()[0]) - int(cells[4].split()[0])
    assert cells[5].startswith("short by ")
    assert math.isclose(int(cells[5].split()[2]), short, abs_tol=1)


def test_who_is_shot_off_has_no_run(opened: Opened, plan: Path, demo_text: str) -> None:
    text = demo_text.replace(f'name = "{PATROL}"', f'name = "{PATROL}"\ncatapult = ["12"]')
    plan.write_text(text, "utf-8")
    launch = solution_of(text).launches["first_patrol"]
    assert isinstance(launch, EventLaunch)
    shot = launch.seats["12"].shot
    assert shot is not None
    over = f"{write(shot.speed_margin, SPEED_MARGIN)} over lift-off speed"
    assert not over.startswith("-")
    deck = opened_deck(opened, plan)
    cells = deck.row("12")
    assert cells[3] == "catapult"
    assert "".join(cells[4].split()) == "–norun"
    assert cells[5] == over
    left = deck.room.page.locator("#sheet-deck [data-row='12'] > *").nth(4)
    assert left.locator("[aria-hidden='true']").inner_text() == "–"
    assert left.locator(".heard").inner_text() == "no run"
    label = deck.outline("12").get_attribute("aria-label") or ""
    assert label.endswith(f"; by catapult, {over}")
    assert "run left" not in label
    assert "run left" in (deck.outline("11").get_attribute("aria-label") or "")
    results = Axe().run(deck.room.page)
    assert results.violations_count == 0, results.generate_report()


def test_a_shot_too_slow_says_by_how_much(demo_text: str) -> None:
    text = demo_text.replace(f'name = "{PATROL}"', f'name = "{PATROL}"\ncatapult = ["12"]')
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    solution = solution_of(text)
    launch = solution.launches["first_patrol"]
    assert isinstance(launch, EventLaunch)
    seat = launch.seats["12"]
    assert seat.shot is not None
    slow = replace(seat, shot=replace(seat.shot, speed_margin=-3.0 * KNOT))
    launches = {**solution.launches, "first_patrol": replace(launch, seats={**launch.seats, "12": slow})}
    sheet = deck_sheet(day_of(document), replace(solution, launches=launches))
    strong = sheet.find(".//tr[@data-row='12']//strong")
    assert strong is not None
    assert strong.text == "short of lift-off speed by 3.0 kt"


@pytest.mark.parametrize("text", ["demo", LARGER], ids=["demo", "larger"])
def test_on_a_narrow_page_the_whole_deck_is_seen(opened: Opened, plan: Path, text: str) -> None:
    if text == LARGER:
        plan.write_text(text, "utf-8")
    deck = opened_deck(opened, plan)
    page = deck.room.page
    page.set_viewport_size({"width": 600, "height": 900})
    for each in (deck.drawing, *deck.drawing.locator(".parked").all()):
        box = each.bounding_box()
        assert box is not None
        assert box["x"] >= 0.0
        assert box["x"] + box["width"] <= 600.0
    assert page.locator(".deck-slides").is_hidden()


def test_on_a_page_narrower_still_words_say_that_the_deck_slides(opened: Opened, plan: Path) -> None:
    deck = opened_deck(opened, plan)
    page = deck.room.page
    page.set_viewport_size({"width": 420, "height": 900})
    assert page.locator(".deck-slides").inner_text().startswith("The drawing is wider than this page")
    first = deck.outline("11")
    first.focus()
    for _ in range(deck.drawing.locator(".parked").count()):
        box = page.locator(".parked:focus").bounding_box()
        assert box is not None
        assert box["x"] + box["width"] > 0.0
        assert box["x"] < 420.0
        page.keyboard.press("PageDown")
    results = Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("width", [1280, 820, 600, 420])
def test_the_deck_needs_no_scrolling_sideways(opened: Opened, plan: Path, width: int) -> None:
    plan.write_text(LARGER, "utf-8")
    room = opened(plan)
    room.page.set_viewport_size({"width": width, "height": 1000})
    assert room.page.evaluate("() => document.documentElement.scrollWidth") <= width
