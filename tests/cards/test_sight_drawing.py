"""Pictures drawn and as plain data: text clear of text, black and grey only, and a page's projection of the data."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from tests.cards.test_drawings import assert_clear
from tests.sight.sight_cases import half_turn

from roundown.cards.markup import svg_text
from roundown.cards.sight_data import picture_data
from roundown.cards.sight_drawing import CARD_SIGHT, PAGE_SIGHT, SightSheet, caption, sight_drawing, told
from roundown.sight.result import SightResult, sight
from roundown.sight.view import officers_picture, pilots_picture

TIMES = (-20.0, -10.0, 0.0, 4.0, 8.0, 16.0, 20.0, 24.0, 27.0, 29.0, 31.0)


@pytest.fixture(scope="module", params=[-1, 1], ids=["left", "right"])
def seen(request: pytest.FixtureRequest) -> SightResult:
    facts = half_turn(request.param)
    gates = {**facts.gates, "break": -20.0}
    return sight(type(facts)(**{**vars(facts), "gates": gates}))


@pytest.mark.parametrize("sheet", [PAGE_SIGHT, CARD_SIGHT], ids=["page", "card"])
@pytest.mark.parametrize("time", TIMES)
def test_no_text_covers_another_or_leaves_the_picture(seen: SightResult, sheet: SightSheet, time: float) -> None:
    pilot = pilots_picture(seen.facts, seen.attitudes, time)
    officer = officers_picture(seen.facts, seen.attitudes, time)
    assert_clear(sight_drawing(pilot, sheet, "Pilot's eye, 4.0 s after the turn-in", "pilot"))
    assert_clear(sight_drawing(officer, sheet, "Signal officer's eye, aeroplane at the ninety", "officer"))


def test_the_card_and_the_page_can_be_read_at_their_width(seen: SightResult) -> None:
    """Own rule: no text below 9 units at 300 wide; the page's picture shrunk to 300 has none below 9 either."""
    for sheet, least in ((CARD_SIGHT, 9.0), (PAGE_SIGHT, 18.0)):
        drawing = sight_drawing(pilots_picture(seen.facts, seen.attitudes, 20.0), sheet, "Pilot's eye", "pilot")
        assert min(float(text.attrib["font-size"]) for text in drawing.iter("text")) >= least


def test_the_picture_is_black_white_and_grey_and_has_words_for_those_who_hear_it(seen: SightResult) -> None:
    picture = pilots_picture(seen.facts, seen.attitudes, 20.0)
    drawing = sight_drawing(picture, PAGE_SIGHT, "Pilot's eye", "pilot")
    for path in drawing.iter("path"):
        for colour in (path.attrib["fill"], path.attrib["stroke"]):
            part = colour.removeprefix("#")
            assert (
                colour == "none"
                or len({part[i : i + len(part) // 3] for i in range(0, len(part), len(part) // 3)}) == 1
            )
    assert (drawing.findtext("title") or "").startswith("Pilot's eye; eye ")
    assert drawing.findtext("desc") == told(picture)
    assert "The horizon cuts the ship" in told(picture)
    assert "ft over the sea" in told(picture)
    assert svg_text(drawing).startswith("<svg")


def test_a_caption_says_whose_eye_how_wide_and_whither(seen: SightResult) -> None:
    lines = caption(pilots_picture(seen.facts, seen.attitudes, 8.0), "Pilot's eye")
    side = "port" if seen.facts.hand < 0 else "starboard"
    assert lines[0] == "Pilot's eye"
    assert "field of view 66 deg" in lines[1]
    assert "ft over sea" in lines[1]
    assert f"to {side} of the nose" in lines[2]


def test_a_hidden_ramp_is_said_to_be_hidden(seen: SightResult) -> None:
    picture = pilots_picture(seen.facts, seen.attitudes, float(seen.facts.flight.time[-1]) - 0.7)
    assert picture.marks["ramp"].hidden_by == "nose"
    drawing = sight_drawing(picture, PAGE_SIGHT, "Pilot's eye", "pilot")
    assert "ramp, behind the nose" in [text.text for text in drawing.iter("text")]
    assert "hidden by the nose" in told(picture)


def matrix(heading: float, pitch: float, bank: float) -> list[list[float]]:
    """Rows forward, port, up, written out as docs/method/sight.md has them."""
    sh, ch, sp, cp = math.sin(heading), math.cos(heading), math.sin(pitch), math.cos(pitch)
    sb, cb = math.sin(bank), math.cos(bank)
    return [
        [cp * ch, -cp * sh, sp],
        [cb * sh - sb * sp * ch, cb * ch + sb * sp * sh, sb * cp],
        [-cb * sp * ch - sb * sh, cb * sp * sh - sb * ch, cb * cp],
    ]


def times(rows: list[list[float]], v: list[float]) -> list[float]:
    return [sum(a * b for a, b in zip(row, v, strict=True)) for row in rows]


def projected(data: dict[str, Any], i: int, point: list[float]) -> tuple[float, float]:
    """A point of the ship on the pilot's picture, as a page would find it from the data alone."""
    path = data["path"]
    body = matrix(path["heading"][i], path["pitch"][i], path["bank"][i])
    wheels = [path["ahead"][i], path["port"][i], path["height"][i] - data["deck_height"]]
    eye = [wheels[k] + sum(data["cockpit"]["eye"][j] * body[j][k] for j in range(3)) for k in range(3)]
    line = [a - b for a, b in zip(point, eye, strict=True)]
    line[2] -= (line[0] ** 2 + line[1] ** 2) / data["reach"] ** 2
    x, y, z = times(matrix(path["look_azimuth"][i], path["look_elevation"][i], 0.0), times(body, line))
    return -y / x, z / x


def test_a_page_projects_the_data_to_the_same_picture(seen: SightResult) -> None:
    """Second method: the formulas of the method page written out once more, on the data after a trip through JSON."""
    data = json.loads(json.dumps(picture_data(seen), allow_nan=False))
    for i in range(0, len(data["path"]["time"]), 17):
        time = data["path"]["time"][i] + seen.facts.gates["break"]
        for name, mark in pilots_picture(seen.facts, seen.attitudes, time).marks.items():
            right, up = projected(data, i, data["ship"]["points"][name])
            assert (right, up) == pytest.approx((mark.right, mark.up), abs=2e-3 if abs(right) + abs(up) > 0.3 else 5e-4)


def test_the_data_say_their_axes_and_are_of_one_length(seen: SightResult) -> None:
    data = picture_data(seen)
    assert {len(column) for column in data["path"].values()} == {len(data["path"]["time"])}
    assert set(data["axes"]) >= {"ship", "body", "heading", "pitch", "bank", "image"}
    assert data["gates"]["turn-in"] == pytest.approx(20.0)
    assert len(json.dumps(data)) < 120_000
