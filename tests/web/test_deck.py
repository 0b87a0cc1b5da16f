"""The deck on the page: an aeroplane is moved, pinned and freed, and what that leaves everyone follows. Constructed."""

from __future__ import annotations

import json
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Locator
from tests.web.conftest import Opened, Room
from tests.web.test_page import solution_of

from roundown.cards.deck_drawing import DeckView
from roundown.launch.result import EventLaunch
from roundown.plan.spots_text import spots_text
from roundown.quantities import FOOT, LENGTH, write

LARGER = resources.files("roundown.plan").joinpath("larger.toml").read_text("utf-8")
PATROL = "first patrol"
BOW_UP = DeckView(True, 3.2, (250.0, 125.0, 0.0), ((60.0, 20.0), (190.0, 20.0)))
BOW_LEFT = DeckView(False, 5.4, (260.0, 173.3, 86.7, 0.0), ((30.0, 70.0), (30.0, 210.0), (30.0, 350.0)))
VIEW = """(text) => {
  const { perMetre, cuts, starts, bowUp } = JSON.parse(text);
  const write = JSON.stringify;
  return { dataset: { perMetre, cuts: write(cuts), starts: write(starts), bowUp: bowUp ? "yes" : "" } };
}"""


@dataclass
class DeckOnPage:
    """The open load, as a person sees it."""

    room: Room

    @property
    def drawing(self) -> Locator:
        return self.room.page.locator("#sheet-deck .load:not([hidden]) svg")

    def outline(self, seat: str) -> Locator:
        return self.drawing.locator(f".parked[data-seat='{seat}']")

    def row(self, seat: str) -> list[str]:
        cells = self.room.page.locator(f"#sheet-deck .load:not([hidden]) [data-row='{seat}'] > *")
        return [each.inner_text() for each in cells.all()]

    def place(self, seat: str) -> tuple[float, float]:
        """Where an outline stands [m]."""
        outline = self.outline(seat)
        return float(outline.get_attribute("data-ahead") or 0.0), float(outline.get_attribute("data-port") or 0.0)

    @property
    def view(self) -> DeckView:
        """How the deck lies on its drawing, as its attributes tell."""
        data = self.drawing.evaluate("(svg) => ({ ...svg.dataset })")
        starts = tuple((float(x), float(y)) for x, y in json.loads(data["starts"]))
        return DeckView(data.get("bowUp") == "yes", float(data["perMetre"]), tuple(json.loads(data["cuts"])), starts)

    def on_screen(self, seat: str) -> tuple[float, float]:
        """The middle of an outline."""
        self.outline(seat).scroll_into_view_if_needed()
        box = self.outline(seat).locator("path").first.bounding_box()
        assert box is not None
        return box["x"] + box["width"] / 2.0, box["y"] + box["height"] / 2.0

    def scale(self) -> float:
        """Pixels to a metre."""
        return self.view.per_metre * float(self.drawing.evaluate("(svg) => svg.getScreenCTM().a"))

    def told(self, words: str) -> str:
        """What is read out, once it holds some words."""
        said = self.room.page.locator("#deck-said").filter(has_text=words)
        said.wait_for(state="attached")
        self.room.settled()
        return said.inner_text()


def opened_deck(opened: Opened, plan: Path) -> DeckOnPage:
    return DeckOnPage(opened(plan))


def feet(place: tuple[float, float]) -> tuple[int, int]:
    return round(place[0] / FOOT), round(place[1] / FOOT)


def assert_shows(deck: DeckOnPage, text: str) -> None:
    """The text on the paper, and runs and places in drawing and table as solved apart from the page."""
    assert deck.room.page.input_value("#text") == text
    solution = solution_of(text)
    (stood,) = solution.spots
    for seat, spotted in stood.spotting.places.items():
        assert deck.place(seat) == pytest.approx((spotted.ahead, spotted.port))
        assert deck.row(seat)[4] == write(spotted.run_left, LENGTH)
        assert deck.outline(seat).get_attribute("data-pinned") == ("yes" if spotted.pinned else None)
        assert deck.outline(seat).get_attribute("transform") is None
    for launch in solution.launches.values():
        assert isinstance(launch, EventLaunch)
        for seat, each in launch.seats.items():
            assert each.run is not None
            margin = each.run.length_margin or 0.0
            assert deck.row(seat)[5] == f"{'short by ' if margin < 0.0 else ''}{write(abs(margin), LENGTH)}"
    assert deck.drawing.locator(".going").count() == 0


@pytest.mark.parametrize("view", [BOW_UP, BOW_LEFT], ids=["bow up", "bow to the left"])
def test_the_page_finds_places_and_points_as_the_server_does(opened: Opened, plan: Path, view: DeckView) -> None:
    """Second method: the same from Python, for points on the strips, between them and beside them."""
    deck = opened_deck(opened, plan)
    length = view.cuts[0]
    points = [(17.0 * i, 23.0 * j) for i in range(30) for j in range(20)]
    places = [(length * i / 40.0, 3.0 * j) for i in range(-2, 43) for j in range(-6, 7)]
    told = json.dumps({"perMetre": view.per_metre, "cuts": view.cuts, "starts": view.starts, "bowUp": view.bow_up})
    found = deck.room.page.evaluate(
        f"""async ([told, points, places]) => {{
          const {{ DeckView }} = await import("/static/deck_view.js");
          const view = new DeckView(({VIEW})(told));
          return [points.map(([x, y]) => {{ const {{ ahead, port }} = view.onDeck(x, y); return [ahead, port]; }}),
                  places.map(([ahead, port]) => [view.strip(ahead), ...view.onSheet({{ ahead, port }})])];
        }}""",
        [told, points, places],
    )
    for (x, y), place in zip(points, found[0], strict=True):
        assert place == pytest.approx(view.on_deck(x, y))
    for (ahead, port), (strip, *point) in zip(places, found[1], strict=True):
        assert strip == view.strip(ahead)
        assert point == pytest.approx(view.on_sheet(ahead, port, strip))


def test_the_deck_is_drawn_with_what_each_place_leaves(opened: Opened, plan: Path, demo_text: str) -> None:
    deck = opened_deck(opened, plan)
    assert_shows(deck, demo_text)
    assert deck.row("11")[:2] == ["1", "11 Vane"]
    label = deck.outline("12").get_attribute("aria-label") or ""
    assert label.startswith("2, 12 Pell: ")
    assert f"run left {deck.row('12')[4]}, {deck.row('12')[5]} in hand" in label
    assert deck.room.page.locator("#deck-loads").is_hidden()


@pytest.mark.parametrize("width", [1280, 820, 600])
def test_an_aeroplane_is_pinned_where_it_is_let_go_and_the_others_make_room(
    opened: Opened, plan: Path, demo_text: str, width: int
) -> None:
    deck = opened_deck(opened, plan)
    page = deck.room.page
    page.set_viewport_size({"width": width, "height": 900})
    before = deck.place("11")
    x, y = deck.on_screen("11")
    page.mouse.move(x + 3.0, y + 2.0)
    page.mouse.down()
    page.mouse.move(x - 40.0, y + 10.0)
    page.mouse.move(x - 97.0, y + 12.0, steps=4)
    place = feet((before[0] + 100.0 / deck.scale(), before[1] + 10.0 / deck.scale()))
    words = f"{place[0]} ft ahead, {place[1]} ft to port"
    assert deck.drawing.locator(".going").text_content() == words
    assert page.inner_text("#deck-chosen") == f"11 Vane: {words}"
    assert page.input_value("#text") == demo_text
    page.mouse.up()
    said = deck.told("pinned")
    assert said.startswith(f"11 Vane: {words}, pinned; run left ")
    assert_shows(deck, spots_text(demo_text, PATROL, "11", (place[0] * FOOT, place[1] * FOOT)))
    assert page.evaluate("() => document.activeElement.getAttribute('data-seat')") == "11"


def test_an_aeroplane_crosses_from_strip_to_strip_under_the_pointer(opened: Opened, plan: Path, demo_text: str) -> None:
    """It is let go in the foremost strip, above the one it stood in."""
    deck = opened_deck(opened, plan)
    page, view = deck.room.page, deck.view
    assert len(view.starts) > 1
    x, y = deck.on_screen("11")
    turn = deck.drawing.evaluate("(svg) => { const m = svg.getScreenCTM(); return [m.a, m.e, m.f]; }")
    grip = view.on_deck((x - turn[1]) / turn[0], (y - turn[2]) / turn[0])
    before = deck.place("11")
    to = turn[1] + turn[0] * (view.starts[0][0] + 200.0), turn[2] + turn[0] * (view.starts[0][1] + 8.0)
    under = view.on_deck((to[0] - turn[1]) / turn[0], (to[1] - turn[2]) / turn[0])
    place = feet((under[0] - grip[0] + before[0], under[1] - grip[1] + before[1]))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(*to, steps=6)
    page.mouse.up()
    deck.told("pinned")
    assert view.strip(place[0] * FOOT) == 0
    assert_shows(deck, spots_text(demo_text, PATROL, "11", (place[0] * FOOT, place[1] * FOOT)))


def test_a_finger_moves_an_aeroplane_and_not_the_page(opened: Opened, plan: Path) -> None:
    deck = opened_deck(opened, plan)
    page = deck.room.page
    touching = page.context.new_cdp_session(page)
    touching.send("Emulation.setTouchEmulationEnabled", {"enabled": True})
    x, y = deck.on_screen("11")
    scrolled = page.evaluate("() => scrollY")
    before = feet(deck.place("11"))
    for kind, points in (
        ("touchStart", [{"x": x, "y": y}]),
        ("touchMove", [{"x": x - 30.0, "y": y - 30.0}]),
        ("touchMove", [{"x": x - 80.0, "y": y - 60.0}]),
        ("touchEnd", []),
    ):
        touching.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    deck.told("pinned")
    assert feet(deck.place("11"))[0] > before[0] + 20
    assert page.evaluate("() => scrollY") == scrolled


def test_escape_puts_back_what_is_being_moved(opened: Opened, plan: Path, demo_text: str) -> None:
    deck = opened_deck(opened, plan)
    page = deck.room.page
    x, y = deck.on_screen("11")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 90.0, y, steps=3)
    assert deck.outline("11").get_attribute("transform")
    page.keyboard.press("Escape")
    page.mouse.move(x - 120.0, y)
    page.mouse.up()
    assert deck.told("Put back") == "Put back."
    assert_shows(deck, demo_text)
    assert deck.room.numbers() == {"1"}


def test_a_click_chooses_and_moves_nothing(opened: Opened, plan: Path, demo_text: str) -> None:
    deck = opened_deck(opened, plan)
    deck.on_screen("13")
    deck.outline("13").click()
    assert deck.room.page.inner_text("#deck-chosen").startswith("13 Orme: ")
    assert deck.room.page.input_value("#text") == demo_text


def test_the_buttons_pin_free_and_pack_again(opened: Opened, plan: Path, demo_text: str) -> None:
    deck = opened_deck(opened, plan)
    page = deck.room.page
    text = demo_text
    for i, (seat, event) in enumerate((("12", PATROL), ("22", "second patrol"))):
        place = [10 * value for value in deck.place(seat)]  # a tenth of a foot is as near as packed ones stand
        place = [round(value / FOOT) / 10 for value in place]
        deck.outline(seat).focus()
        page.get_by_role("button", name="Pin where it stands").click()
        page.wait_for_selector(f"body[data-shown='{i + 2}']")
        text = spots_text(text, event, seat, (place[0] * FOOT, place[1] * FOOT))
        assert_shows(deck, text)
    page.get_by_role("button", name="Pin where it stands").click()
    assert deck.told("already") == "It stands there already."
    page.get_by_role("button", name="Free", exact=True).click()
    page.wait_for_selector("body[data-shown='4']")
    assert_shows(deck, spots_text(text, "second patrol", "22", None))
    page.get_by_role("button", name="Free", exact=True).click()
    assert deck.told("not pinned") == "22 Dray is not pinned."
    page.get_by_role("button", name="Pack again").click()
    page.wait_for_selector("body[data-shown='5']")
    assert_shows(deck, demo_text)
    page.get_by_role("button", name="Pack again").click()
    assert deck.told("Nobody") == "Nobody of this load is pinned."


def test_another_load_is_chosen_with_the_arrow_keys_and_stays_chosen(opened: Opened, plan: Path) -> None:
    plan.write_text(LARGER, "utf-8")
    deck = opened_deck(opened, plan)
    page = deck.room.page
    choices = page.locator("#deck-loads label")
    names = choices.all_inner_texts()
    assert len(names) == len(solution_of(LARGER).spots) > 1
    other = next(i for i, name in enumerate(names) if name.strip() == "Lintel: dawn search")
    choices.nth(0).locator("input").focus()
    for _ in range(other):
        page.keyboard.press("ArrowDown")
    assert deck.row("1")[1] == "1 Marl"
    assert page.locator("#sheet-deck .load:not([hidden])").count() == 1
    place = feet(deck.place("4"))
    deck.outline("4").focus()
    page.keyboard.press("ArrowLeft")
    deck.told("4 Alder")
    assert page.input_value("#text") == spots_text(LARGER, "dawn search", "4", ((place[0] + 1) * FOOT, place[1] * FOOT))
    assert choices.nth(other).locator("input").is_checked()
    assert deck.row("4")[6].endswith(", pinned")
    results = Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


def test_two_pinned_on_one_place_are_crossed_out_and_said_beside_the_pin(
    opened: Opened, plan: Path, demo_text: str
) -> None:
    """Not by colour: two dashed lines across each outline, and words in the table."""
    deck = opened_deck(opened, plan)
    page = deck.room.page
    text = spots_text(demo_text, PATROL, "12", (300 * FOOT, 0.0))
    text = spots_text(text, PATROL, "13", (305 * FOOT, 10 * FOOT))
    assert deck.room.write(text) == "solved"
    for seat in ("12", "13"):
        assert deck.outline(seat).locator("path[stroke-dasharray]").count() == 2
        assert ", pinned: " in deck.row(seat)[6]
    assert deck.outline("11").locator("path[stroke-dasharray]").count() == 0
    item = page.locator("#remarks li").filter(has_text="overlaps")
    line = next(i for i, each in enumerate(text.split("\n"), 1) if each.startswith("spots = "))
    assert item.get_attribute("data-line") == str(line)
    results = Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


def test_in_a_plan_that_cannot_be_read_what_is_moved_goes_back_with_a_sentence(
    opened: Opened, plan: Path, demo_text: str
) -> None:
    deck = opened_deck(opened, plan)
    page = deck.room.page
    deck.room.write(demo_text + "\n[")
    deck.outline("11").focus()
    page.keyboard.press("ArrowLeft")
    deck.told("mend the marked lines")
    assert deck.outline("11").get_attribute("transform") is None
    assert page.input_value("#text") == demo_text + "\n["
    deck.room.write(demo_text.replace("140/11 kt", "140/11 bananas"))
    deck.outline("11").focus()
    page.keyboard.press("ArrowLeft")
    deck.told("cannot be solved")
    assert deck.outline("11").get_attribute("transform") is None
    deck.room.faults[:] = [fault for fault in deck.room.faults if "400 (Bad Request)" not in fault]
