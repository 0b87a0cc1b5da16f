"""What the pilot sees, on the page and in brief.html: one clock moves all, and it is the program's own picture."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator, Page
from tests.sight.sight_cases import half_turn
from tests.web.conftest import Opened, Served
from tests.web.test_page import solution_of

from roundown.cards import sight_data
from roundown.cards.brief_page import brief_page
from roundown.cards.circuit_drawing import GATE_WORDS, seen_from_ship
from roundown.cards.sight_data import picture_data
from roundown.cards.sight_drawing import FILLS
from roundown.documents import Document, parse_document
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.recovery.result import CircuitResult
from roundown.sight.attitude import Attitudes
from roundown.sight.cockpit import outlines
from roundown.sight.projection import Look
from roundown.sight.result import SightResult, sight
from roundown.sight.view import Picture, officers_picture, pilots_picture
from roundown.solution import Solution

WATCH = """() => {
  window.drawn = 0;
  window.written = [];
  const pen = CanvasRenderingContext2D.prototype;
  const { clearRect, fillText } = pen;
  pen.clearRect = function (...all) { window.drawn += 1; clearRect.apply(this, all); };
  pen.fillText = function (...all) { window.written.push(all[0]); fillText.apply(this, all); };
  window.offered = 0;
  const count = () => { window.offered += 1; requestAnimationFrame(count); };
  requestAnimationFrame(count);
}"""


@pytest.fixture(scope="module")
def demo(demo_text: str) -> tuple[Day, Solution]:
    document = parse_document("plan.toml", demo_text)
    assert isinstance(document, Document)
    return day_of(document), solution_of(demo_text)


@pytest.fixture(scope="module")
def brief(tmp_path_factory: pytest.TempPathFactory, demo: tuple[Day, Solution]) -> str:
    """Where brief.html of the demo stands. Its carrier under another name stands for a second."""
    day, solution = demo
    part, called = "lintel.ottery", replace(day.givens["ship.label"], word="Lintel")
    other = replace(day, ship="lintel", givens={**day.givens, "ship.label": called})
    twice = replace(day, parts={part: other}), replace(solution, parts={part: solution})
    file = tmp_path_factory.mktemp("brief") / "brief.html"
    file.write_bytes(brief_page(*twice, {}))
    return file.as_uri()


@pytest.fixture
def page(browser: Browser, brief: str) -> Iterator[Page]:
    """The brief, open; the test fails on any error in it."""
    faults: list[str] = []
    with browser.new_context(viewport={"width": 1280, "height": 900}) as context:
        page = context.new_page()
        page.on("console", lambda message: faults.append(message.text))
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.goto(brief)
        yield page
    assert faults == []


def shown(page: Page, label: str) -> str:
    return page.locator(".sight-figures div", has_text=re.compile(f"^{label}")).locator("dd").inner_text()


def shown_time(page: Page) -> float:
    number, way = re.match(r"([\d.]+) s (after|before) the break", shown(page, "Time")).groups()  # type: ignore[union-attr]
    return float(number) if way == "after" else -float(number)


def set_time(page: Page, time: float) -> None:
    page.locator("#sight-time").fill(f"{time:.1f}")


def mark_on_plan(page: Page) -> tuple[float, float, float]:
    """Place on the sheet, and the way its nose points clockwise from up [deg]."""
    words = page.locator(".sight-plan .sight-mark").get_attribute("transform") or ""
    x, y, turn = (float(number) for number in re.findall(r"-?[\d.]+(?:e-?\d+)?", words))
    return x, y, turn


def mark_on_elevation(page: Page) -> tuple[float, float]:
    mark = page.locator(".sight-elevation circle.sight-mark")
    return float(mark.get_attribute("cx") or ""), float(mark.get_attribute("cy") or "")


def off_circles(drawing: Locator, at: tuple[float, float]) -> float:
    """How far a place is from the nearest gate's mark in the drawing as it was drawn [sheet units]."""
    places = drawing.locator("svg").evaluate(
        "(svg) => [...svg.querySelectorAll('circle:not(.sight-mark, .sight-mark *)')]"
        ".map((circle) => [circle.cx.baseVal.value, circle.cy.baseVal.value])"
    )
    return min(math.dist(at, place) for place in places)


def pictures(page: Page) -> list[str]:
    found: list[str] = page.evaluate(
        "() => [...document.querySelectorAll('#sight canvas')].map((each) => each.toDataURL())"
    )
    return found


def test_the_clocks_edge_moves_time_views_plan_and_elevation(page: Page, demo: tuple[Day, Solution]) -> None:
    """Keys by a tenth of a second and by a second, down is later; gates by button.

    The marks are held against the gates and the way as solved.
    """
    circuit = demo[1].circuit
    assert isinstance(circuit, CircuitResult)
    slider = page.locator("#sight-time")
    set_time(page, 60.0)
    before, place, height = pictures(page), mark_on_plan(page), mark_on_elevation(page)
    slider.focus()
    for key, time in (
        ("ArrowDown", 60.1),
        ("PageDown", 61.1),
        ("PageDown", 62.1),
        ("ArrowUp", 62.0),
        ("PageUp", 61.0),
        ("ArrowRight", 61.1),
        ("ArrowLeft", 61.0),
    ):
        page.keyboard.press(key)
        assert shown_time(page) == pytest.approx(time)
    assert slider.get_attribute("aria-valuetext") == "61.0 s after the break, in the final turn"
    assert slider.get_attribute("aria-orientation") == "vertical"
    assert page.locator(".sight-now").inner_text() == "61.0 s"
    assert all(was != now for was, now in zip(before, pictures(page), strict=True))
    assert mark_on_plan(page) != place
    assert mark_on_elevation(page) != height

    for name in ("break", "turn-in", "ninety", "ramp"):
        page.locator(f".sight-gates [data-gate='{name}']").click()
        gate = circuit.gates[name]
        assert shown_time(page) == pytest.approx(gate.time, abs=0.051)
        assert GATE_WORDS[name] in (slider.get_attribute("aria-valuetext") or "").split(", ")[1]
        assert (slider.get_attribute("aria-valuetext") or "") == page.locator("#sight [role=status]").inner_text()
        assert shown(page, "Height of the wheels") == f"{gate.height / 0.3048:,.0f} ft over the sea"
        assert off_circles(page.locator(".sight-plan"), mark_on_plan(page)[:2]) < 0.2
        assert off_circles(page.locator(".sight-elevation"), mark_on_elevation(page)) < 0.2

    drawing, keys = page.locator("svg[data-drawing=plan]").first, ("per-metre", "ramp-x", "ramp-y")
    per_metre, ramp_x, ramp_y = (float(drawing.get_attribute(f"data-{key}") or "") for key in keys)
    way, clock = seen_from_ship(circuit), circuit.path.time - circuit.initial_to_break
    for time in (-20.0, 15.3, 40.0, 72.5):
        set_time(page, time)
        x, y, turn = mark_on_plan(page)
        ahead, port = (float(np.interp(time, clock, way[:, i])) for i in (0, 1))
        assert (x, y) == pytest.approx((ramp_x - port * per_metre, ramp_y - ahead * per_metre), abs=0.1)
        heading = np.interp(time, clock, circuit.path.heading.values) - circuit.ship_course
        assert math.degrees(math.remainder(math.radians(turn) - heading, math.tau)) == pytest.approx(0.0, abs=3.0)
    set_time(page, -20.0)
    assert page.locator(".sight-elevation circle.sight-mark").get_attribute("visibility") == "hidden"
    assert "Before the break" in page.locator(".sight-elevation").inner_text()


def test_it_runs_at_real_time_and_stops_at_the_cut(page: Page) -> None:
    """Nothing runs by itself; when it does, each view keeps up with the frames the browser offers."""
    page.evaluate(WATCH)
    begun = shown_time(page)
    page.wait_for_timeout(300)
    assert (shown_time(page), page.evaluate("window.drawn")) == (begun, 0)
    run = page.locator(".sight-run")
    page.evaluate("window.offered = 0")
    run.click()
    assert run.inner_text() == "Stop"
    page.wait_for_function("(until) => Number(document.querySelector('#sight-time').value) >= until", arg=begun + 1.0)
    drawn, offered = page.evaluate("[window.drawn / 2, window.offered]")
    assert offered > 5
    assert drawn >= 0.5 * offered  # those before the click is heard draw nothing
    run.click()
    stopped = shown_time(page)
    assert stopped >= begun + 0.9
    page.wait_for_timeout(200)
    assert shown_time(page) == stopped
    end = float(page.locator("#sight-time").get_attribute("max") or "")
    set_time(page, end - 0.3)
    run.click()
    page.wait_for_function("() => document.querySelector('.sight-run').textContent === 'Run in real time'")
    assert shown_time(page) == pytest.approx(end, abs=0.11)
    assert (page.locator("#sight-time").get_attribute("aria-valuetext") or "").endswith("at the cut")


def test_the_plotting_room_keeps_the_time_and_says_why_nothing_is_seen(
    opened: Opened, plan: Path, demo_text: str, demo: tuple[Day, Solution]
) -> None:
    room = opened(plan)
    circuit = demo[1].circuit
    assert isinstance(circuit, CircuitResult)
    room.page.locator(".sight-gates [data-gate='ninety']").click()
    assert off_circles(room.page.locator(".sight-plan"), mark_on_plan(room.page)[:2]) < 0.2
    room.write(demo_text + '\n[override.circuit]\nbreak_place = "0.1 nm ahead of bow"\n')
    assert room.page.locator("#sight").inner_text().strip() == "Nothing is drawn of what is seen: there is no circuit."
    room.write(demo_text)
    assert shown_time(room.page) == pytest.approx(circuit.gates["ninety"].time, abs=0.051)
    assert room.page.get_attribute("#sight", "data-edit") == "3"


def from_data(data: dict[str, Any], begun: float) -> Attitudes:
    """The attitudes as they stand in the plain data, on the clock of the flight."""
    path = data["path"]
    columns = (path[name] for name in ("ahead", "port", "height", "heading", "pitch", "bank"))
    return Attitudes(np.array(path["time"]) + begun, *(np.array(column, dtype=float) for column in columns))


def assert_same(found: dict[str, Any], wanted: Picture, tolerance: float, without: tuple[str, ...] = ("sea",)) -> None:
    """Shapes corner by corner, points of the ship and what hides them; the sea's rim has corners of its own in each."""
    assert found["half"] == pytest.approx(wanted.half, abs=1e-6)
    shapes = [shape for shape in wanted.shapes if shape.part not in without]
    drawn = [shape for shape in found["shapes"] if shape["part"] not in without]
    assert [shape["part"] for shape in drawn] == [shape.part for shape in shapes]
    for one, other in zip(drawn, shapes, strict=True):
        assert np.array(one["points"]) == pytest.approx(other.points, abs=tolerance)
    assert found["marks"].keys() == wanted.marks.keys()
    for name, mark in wanted.marks.items():
        there = found["marks"][name]
        assert (there["right"], there["up"]) == pytest.approx((mark.right, mark.up), abs=tolerance)
        assert there["hiddenBy"] == mark.hidden_by
    for right, up in (point for piece in found["horizon"] for point in piece):
        along = wanted.horizon[np.argsort(wanted.horizon[:, 0])]
        if np.ptp(along[:, 0]) > 0.5:
            assert up == pytest.approx(np.interp(right, along[:, 0], along[:, 1]), abs=max(tolerance, 3e-5))


def test_the_page_draws_the_picture_the_program_has(
    browser: Browser, served: Served, demo: tuple[Day, Solution], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Second method: every face, line and point of both views, cut and projected in the browser.

    From data that are not rounded, to 1e-6 at their instants and between; as they are sent, to 1e-4 for the ship.
    """
    assert isinstance(demo[1].sight, SightResult)
    cases: list[tuple[SightResult, list[float]]] = [
        (demo[1].sight, [-39.99, -20.0, 5.01, 33.01, 48.21, 60.01, 66.21, 75.01, 80.01])
    ]
    for hand in (-1, 1):
        facts = half_turn(hand)
        facts = replace(facts, gates={**facts.gates, "break": -20.0})
        cases.append((sight(facts), [2.0, 19.8, 24.0, 36.0, 44.0, 51.0]))
    script = """async ([data, times]) => {
      const { pilotsPicture, officersPicture } = await import("/static/sight.js");
      const { FILLS } = await import("/static/sight_canvas.js");
      return [FILLS, times.map((time) => [pilotsPicture(data, time), officersPicture(data, time)])];
    }"""
    hidden: set[str] = set()
    with served(None) as address, browser.new_page() as page:
        page.goto(f"{address}/static/sight.js")
        for seen, instants in cases:
            sent, begun = picture_data(seen), seen.facts.gates["break"]
            there = np.array(sent["path"]["time"])
            times = [float(there[np.argmin(np.abs(there - time))]) for time in instants]
            fills, drawn = page.evaluate(script, [sent, times])
            assert fills == FILLS
            for time, (pilot, _) in zip(times, drawn, strict=True):
                own = ("sea", *outlines(seen.facts.cockpit))
                assert_same(pilot, pilots_picture(seen.facts, seen.attitudes, time + begun), 1e-4, own)
                hidden |= {mark["hiddenBy"] for mark in pilot["marks"].values()}
            with monkeypatch.context() as patched:
                for digits in ("LENGTH_DIGITS", "ANGLE_DIGITS", "TIME_DIGITS"):
                    patched.setattr(sight_data, digits, 14)
                exact = picture_data(seen)
            path, flown = exact["path"], from_data(exact, begun)
            between = [time + part for time in times for part in (0.0, 0.07)]
            for time, (pilot, officer) in zip(between, page.evaluate(script, [exact, between])[1], strict=True):
                turned = (float(np.interp(time, path["time"], path[f"look_{way}"])) for way in ("azimuth", "elevation"))
                look = Look(*turned, **exact["field"]["pilot"])
                assert_same(pilot, pilots_picture(seen.facts, flown, time + begun, look), 1e-6)
                assert_same(officer, officers_picture(seen.facts, flown, time + begun), 1e-6)
    assert hidden >= {"", "nose"}


def test_the_brief_has_stills_without_a_script(browser: Browser, brief: str) -> None:
    with browser.new_context(java_script_enabled=False) as context:
        page = context.new_page()
        page.goto(brief)
        assert page.locator(".sight-stills svg:visible").count() == 8
        assert page.locator(".sight button, .sight input").count() == 0
        words = page.locator(".sight-stills").inner_text()
        for each in ("Pilot’s eye at the turn-in", "Signal officer’s eye at the ninety", "Pilot’s eye in the groove"):
            assert each in words


def test_another_type_or_carrier_is_chosen_and_the_time_stays(page: Page) -> None:
    set_time(page, 66.0)
    place = mark_on_plan(page)
    page.locator("#sight-whose").select_option(index=1)
    assert shown_time(page) == 66.0
    assert mark_on_plan(page) == pytest.approx(place)


BOXES = """(selector) => [...document.querySelectorAll(selector)].map((each) => {
  const { left, top, right, bottom } = each.getBoundingClientRect();
  return [left, top, right, bottom, each.textContent];
})"""


class Box(NamedTuple):
    """Room taken in the window [px], and the words in it."""

    left: float
    top: float
    right: float
    bottom: float
    words: str

    @property
    def middle(self) -> float:
        return 0.5 * (self.top + self.bottom)

    def meets(self, other: Box) -> bool:
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


def boxes(page: Page, selector: str) -> list[Box]:
    return [Box(*found) for found in page.evaluate(BOXES, selector)]


@pytest.mark.parametrize("width", [1280, 800, 420])
def test_gates_and_ticks_stand_at_their_times_down_the_edge_and_none_on_another(page: Page, width: int) -> None:
    """Own arithmetic: the edge is true to time from first gate to cut, for a hand too; near gates move apart."""
    page.set_viewport_size({"width": width, "height": 900})
    page.locator(".sight-edge").scroll_into_view_if_needed()
    set_time(page, 25.0)
    slider = page.locator("#sight-time")
    first, last = (float(slider.get_attribute(end) or "") for end in ("min", "max"))
    (ruler,) = boxes(page, ".sight-ruler")

    def there(time: float) -> float:
        return ruler.top + (ruler.bottom - ruler.top) * (time - first) / (last - first)

    ticks = [tick for tick in boxes(page, ".sight-ticks span") if tick.words]
    for tick in ticks:
        assert tick.middle == pytest.approx(there(float(tick.words.removesuffix(" s").replace("−", "-"))), abs=1.0)
    (now,) = boxes(page, ".sight-now")
    assert now.middle == pytest.approx(there(25.0), abs=1.0)
    column = sorted([*ticks, now], key=lambda box: box.middle)
    assert all(upper.bottom <= lower.top + 2.0 for upper, lower in pairwise(column))

    gates = boxes(page, ".sight-gates button")
    times: list[float] = []
    for button in page.locator(".sight-gates button").all():
        button.click()
        times.append(shown_time(page))
    assert times == sorted(times)
    assert len(times) == 7
    assert all(upper.bottom <= lower.top + 0.5 for upper, lower in pairwise(gates))
    assert all(gate.right <= ruler.right for gate in gates)
    if width == 1280:
        moved = [abs(gate.middle - there(time)) > 1.5 for gate, time in zip(gates, times, strict=True)]
        assert moved == [False, False, False, False, False, True, False]
    (bar,) = boxes(page, ".sight-ruler svg")
    page.mouse.click(bar.left + 4.0, there(10.0))
    assert shown_time(page) == pytest.approx(10.0, abs=1.0)


def test_the_aeroplane_on_the_plan_covers_no_word(page: Page) -> None:
    for gate in ("initial", "break", "downwind", "turn-in", "ninety", "ramp", "cut"):
        page.locator(f".sight-gates [data-gate='{gate}']").click()
        texts = boxes(page, ".sight-plan svg text")
        for part in boxes(page, ".sight-plan .sight-mark *"):
            assert [text.words for text in texts if text.meets(part)] == [], gate


def test_the_ramp_loses_its_name_where_it_lies_under_the_nose(page: Page, demo: tuple[Day, Solution]) -> None:
    """Farther than 60 m it is named; nearer the word would stand on nose and deck."""
    circuit = demo[1].circuit
    assert isinstance(circuit, CircuitResult)
    page.evaluate(WATCH)
    away = np.hypot(*seen_from_ship(circuit).T)
    clock = circuit.path.time - circuit.initial_to_break
    final = (clock > circuit.gates["ninety"].time) & (clock < circuit.gates["ramp"].time)
    for distance, named in ((150.0, True), (75.0, True), (50.0, False), (10.0, False)):
        time = float(np.interp(-distance, -away[final], clock[final]))
        page.evaluate("() => { window.written = []; }")
        set_time(page, time)
        assert any(word.startswith("ramp") for word in page.evaluate("window.written")) is named, distance


def test_the_edge_stays_in_sight_on_a_narrow_page_and_axe_finds_nothing(page: Page) -> None:
    for width in (1280, 420):
        page.set_viewport_size({"width": width, "height": 900})
        results = Axe().run(page)
        assert results.violations_count == 0, results.generate_report()
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 420
    page.locator(".sight-elevation").evaluate("(figure) => figure.scrollIntoView({ block: 'end' })")
    for selector in (".sight-edge", ".sight-figures"):
        (box,) = boxes(page, selector)
        assert (box.left >= 0, box.top >= 0, box.right <= 420, box.bottom < 450) == (True,) * 4
