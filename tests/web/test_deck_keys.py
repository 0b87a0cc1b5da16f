"""The deck on the page with the keyboard alone: one is chosen, moved, pinned and freed. Constructed."""

from __future__ import annotations

from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from tests.web.conftest import Opened
from tests.web.test_deck import PATROL, assert_shows, feet, opened_deck

from roundown.plan.spots_text import spots_text
from roundown.quantities import FOOT


def test_arrow_keys_move_by_a_foot_and_with_shift_by_ten_and_keep_the_keyboard(
    opened: Opened, plan: Path, demo_text: str
) -> None:
    """The bow is to the left here: left is ahead, down is to port."""
    deck = opened_deck(opened, plan)
    page = deck.room.page
    ahead, port = feet(deck.place("11"))
    deck.outline("11").focus()
    for key in (
        "Shift+ArrowLeft",
        "Shift+ArrowLeft",
        "ArrowLeft",
        "ArrowRight",
        "ArrowRight",
        "ArrowDown",
        "ArrowDown",
    ):
        page.keyboard.press(key)
    page.keyboard.press("Shift+ArrowUp")
    said = deck.told("pinned")
    words = f"{ahead + 19} ft ahead, {port - 8 if port > 8 else 8 - port} ft to {'port' if port > 8 else 'starboard'}"
    assert said.startswith(f"11 Vane: {words}, pinned; run left ")
    text = spots_text(demo_text, PATROL, "11", ((ahead + 19) * FOOT, (port - 8) * FOOT))
    assert_shows(deck, text)
    page.keyboard.press("Shift+ArrowLeft")
    page.wait_for_timeout(600)
    page.keyboard.press("Shift+ArrowLeft")
    deck.told(f"{ahead + 39} ft")
    assert_shows(deck, spots_text(text, PATROL, "11", ((ahead + 39) * FOOT, (port - 8) * FOOT)))
    page.keyboard.press("Delete")
    deck.told(f"Vane: {ahead} ft")
    assert_shows(deck, demo_text)


def test_keys_pressed_while_the_day_is_solved_are_not_lost(opened: Opened, plan: Path, demo_text: str) -> None:
    """Each press comes after the one before was sent and before its day is shown."""
    deck = opened_deck(opened, plan)
    page = deck.room.page
    ahead, port = feet(deck.place("11"))
    deck.outline("11").focus()
    for i in range(4):
        page.keyboard.press("Shift+ArrowLeft")
        page.wait_for_selector(f"body[data-asked='{i + 2}']")
    deck.told(f"{ahead + 40} ft")
    assert_shows(deck, spots_text(demo_text, PATROL, "11", ((ahead + 40) * FOOT, port * FOOT)))


def test_undo_takes_a_move_back_and_redo_moves_again(opened: Opened, plan: Path, demo_text: str) -> None:
    deck = opened_deck(opened, plan)
    page = deck.room.page
    deck.outline("11").focus()
    page.keyboard.press("Shift+ArrowLeft")
    deck.told("pinned")
    moved = page.input_value("#text")
    scrolled = page.evaluate("() => scrollY")
    page.keyboard.press("Control+z")
    page.wait_for_selector("body[data-shown='3']")
    assert_shows(deck, demo_text)
    assert page.evaluate("() => scrollY") == scrolled
    page.keyboard.press("Control+Shift+z")
    page.wait_for_selector("body[data-shown='4']")
    assert_shows(deck, moved)
    page.locator("#text").focus()
    page.keyboard.press("Control+z")
    page.wait_for_selector("body[data-shown='5']")
    assert_shows(deck, demo_text)


def test_page_keys_choose_in_launch_order_and_the_buttons_act_on_the_chosen_one(
    opened: Opened, plan: Path, demo_text: str
) -> None:
    deck = opened_deck(opened, plan)
    page = deck.room.page

    def keyboard() -> str:
        return str(page.evaluate("() => document.activeElement.dataset.seat ?? document.activeElement.id"))

    def stops() -> list[str | None]:
        found = deck.drawing.locator(".parked[tabindex='0']").all()
        assert deck.drawing.locator(".parked:not([tabindex='-1'])").count() == len(found)
        return [each.get_attribute("data-seat") for each in found]

    rows = page.locator("#sheet-deck .load:not([hidden]) [data-row]").all()
    order = [row.get_attribute("data-row") or "" for row in rows]
    assert len(order) > 3
    assert stops() == [order[0]]
    deck.outline(order[0]).focus()
    for key, wanted in (("PageUp", 0), ("End", -1), ("PageDown", -1), ("PageUp", -2), ("Home", 0), ("PageDown", 1)):
        page.keyboard.press(key)
        assert (keyboard(), stops()) == (order[wanted], [order[wanted]])
    page.keyboard.press("PageDown")
    third = order[2]
    place = [round(10 * value / FOOT) / 10 for value in deck.place(third)]
    passed = []
    while keyboard() != "deck-pin":
        page.keyboard.press("Tab")
        passed.append(keyboard())
        assert len(passed) < 4
    assert not set(passed) & set(order)
    assert page.inner_text("#deck-chosen").startswith(deck.row(third)[1])
    page.keyboard.press("Enter")
    assert deck.told(", pinned").startswith(f"{deck.row(third)[1]}: ")
    event = next(row.get_attribute("data-event") or "" for row in rows if row.get_attribute("data-row") == third)
    assert_shows(deck, spots_text(demo_text, event, third, (place[0] * FOOT, place[1] * FOOT)))
    assert stops() == [third]
    results = Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


def test_another_is_chosen_before_the_arrow_keys_have_settled(opened: Opened, plan: Path, demo_text: str) -> None:
    """The one that was moved is pinned; the other has the keyboard and is the chosen one."""
    deck = opened_deck(opened, plan)
    page = deck.room.page
    ahead, port = feet(deck.place("11"))
    deck.outline("11").focus()
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("PageDown")
    deck.told("11 Vane: ")
    assert_shows(deck, spots_text(demo_text, PATROL, "11", ((ahead + 10) * FOOT, port * FOOT)))
    assert page.evaluate("() => document.activeElement.dataset.seat") == "12"
    assert page.inner_text("#deck-chosen").startswith("12 Pell: ")


def test_the_help_under_the_drawing_names_every_key(opened: Opened, plan: Path) -> None:
    words = opened_deck(opened, plan).room.page.inner_text("#deck-key")
    for key in ("arrow keys", "Shift", "Page Up", "Page Down", "Home", "End", "Enter pins", "Delete frees", "Escape"):
        assert key in words
