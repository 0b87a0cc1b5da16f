"""The spotted deck drawn: to scale, every number inside its outline, on card and page. Constructed cases."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.cards.test_drawings import assert_clear, text_boxes
from tests.launch.spot_cases import DECK, LARGE, MIDDLE, SHORT, SMALL, load_of

from roundown.cards.deck_drawing import deck_drawing, deck_view
from roundown.launch.deck_plan import Deck
from roundown.launch.spot import Parked, Pin, spot

FORTY = load_of(*[MIDDLE] * 12, *[SMALL] * 14, *[LARGE] * 14)
SHEETS = {"card": (386.0, 300.0, 11.0), "page": (600.0, 830.0, 18.0), "square": (400.0, 400.0, 12.0)}


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("deck", [DECK, SHORT, replace(DECK, keep_outs=())], ids=["large", "short", "bare"])
@pytest.mark.parametrize("load", [FORTY, FORTY[:3], []], ids=["forty", "three", "none"])
def test_no_text_covers_another_and_all_that_stand_are_numbered(sheet: str, deck: Deck, load: list[Parked]) -> None:
    spotting = spot(load, deck)
    drawing = deck_drawing(spotting, {each.key: each.footprint for each in load}, deck, *SHEETS[sheet], sheet)
    assert_clear(drawing)
    numbers = [words for words, _ in text_boxes(drawing) if words.isdigit()]
    assert numbers == [f"{i}" for i in range(1, len(spotting.places) + 1)]


@pytest.mark.parametrize("sheet", SHEETS)
def test_forty_can_be_read(sheet: str) -> None:
    """Numbers not below three quarters of the text's size."""
    drawing = deck_drawing(spot(FORTY, DECK), {each.key: each.footprint for each in FORTY}, DECK, *SHEETS[sheet], sheet)
    sizes = [float(text.attrib["font-size"]) for text in drawing.iter("text") if (text.text or "").isdigit()]
    assert min(sizes) >= 0.75 * SHEETS[sheet][2]


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_ink_stays_on_the_sheet(sheet: str) -> None:
    load = [Parked("one", MIDDLE, Pin(100.0, 5.0, 0.5)), *FORTY[20:]]
    width, height, size = SHEETS[sheet]
    drawing = deck_drawing(spot(load, DECK), {p.key: p.footprint for p in load}, DECK, width, height, size, "deck")
    for path in drawing.iter("path"):
        numbers = [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", path.attrib["d"])]
        assert all(0.0 <= x <= width for x in numbers[::2])
        assert all(0.0 <= y <= height for y in numbers[1::2])


def test_the_deck_is_drawn_to_scale() -> None:
    """Own arithmetic: places 30 m apart along and 40 m across, on one strip, lie 50 m apart on the sheet."""
    for width, height, size in SHEETS.values():
        view = deck_view(DECK, width, height, size, 2.0)
        one, other = view.on_sheet(10.0, -20.0, 0), view.on_sheet(40.0, 20.0, 0)
        assert math.dist(one, other) == pytest.approx(50.0 * view.per_metre)


def test_ahead_is_up_or_to_the_left_and_port_is_on_the_left_hand() -> None:
    """Seen from above, who looks to the bow has port on the left: left where the bow is up, down where it is left."""
    up, left = deck_view(DECK, 200.0, 830.0, 12.0), deck_view(DECK, 830.0, 160.0, 12.0)
    assert (up.bow_up, left.bow_up) == (True, False)
    (x, y), (port_x, port_y) = up.on_sheet(50.0, 0.0, 0), up.on_sheet(60.0, 5.0, 0)
    assert port_x < x
    assert port_y < y
    (x, y), (port_x, port_y) = left.on_sheet(50.0, 0.0, 0), left.on_sheet(60.0, 5.0, 0)
    assert port_x < x
    assert port_y > y


@given(ahead=st.floats(0.0, 250.0), port=st.floats(-13.0, 13.0), sheet=st.sampled_from(sorted(SHEETS)))
def test_a_place_is_found_again_from_the_sheet(ahead: float, port: float, sheet: str) -> None:
    """There and back, for one who moves an aeroplane on the page."""
    view = deck_view(DECK, *SHEETS[sheet], 2.5)
    x, y = view.on_sheet(ahead, port, view.strip(ahead))
    assert view.on_deck(x, y) == pytest.approx((ahead, port), abs=1e-6)


def test_the_drawing_can_be_heard() -> None:
    load = load_of(*[LARGE] * 90)
    spotting = spot(load, DECK)
    drawing = deck_drawing(spotting, {each.key: each.footprint for each in load}, DECK, *SHEETS["page"], "deck")
    told = drawing.findtext("desc") or ""
    assert "820 ft long" in told
    assert f"{len(spotting.left_out)} find no place" in told
