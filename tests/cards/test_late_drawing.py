"""Early and late turn-ins drawn: everything in its place and to scale, text clear of text, as was found."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.cards.conftest import RIGHT_HAND, SolvedBy
from tests.cards.day_plans import day_of
from tests.cards.test_drawings import assert_clear

from roundown.cards.circuit_drawing import Deck, deck_of
from roundown.cards.late_drawing import WIDTH, LateTurns, apart, late_drawing
from roundown.recovery.late import Late, LatePath
from roundown.recovery.result import CircuitResult
from roundown.sight.late_view import LateView
from roundown.solution import Solution

DECK = Deck(250.0, 28.0, 20.0, 130.0)
RADIUS, PAST, SPEED = 500.0, 40.0, 30.0  # m; m/s past the ship downwind; m/s over the ramp
DAYS = [("fast-carrier-1944", "070/3 kt", ""), ("half-mile-1945", "200/21 kt", ""), ("half-mile-1945", "070/3 kt", ""),
        ("fast-carrier-1944", "070/12 kt", RIGHT_HAND)]  # fmt: skip


def path(delay: float, hand: int) -> LatePath:
    """A half circle of 20 s from a turn-in that moves astern with the delay; then straight on to the ramp."""
    end = -PAST * delay
    turn = np.linspace(0.0, math.pi, 91)
    ahead, port = end - RADIUS * np.sin(turn), -hand * RADIUS * (1.0 + np.cos(turn))
    time = 40.0 + delay + 20.0 * turn / math.pi
    lead = np.array([0.0, end + 600.0, -hand * 2.0 * RADIUS])
    rows = np.vstack([lead, np.column_stack([time, ahead, port])])
    straight = math.nan if end > 0.0 else float(time[-1])
    if end < 0.0:
        rows = np.vstack([rows, [time[-1] - end / SPEED, 0.0, 0.0]])
    nil = np.zeros(len(rows))
    return LatePath(delay, rows[:, 0], rows[:, 1], rows[:, 2], nil, nil, nil, nil, 40.0 + delay, straight)


def turns(hand: int = -1) -> LateTurns:
    delays = {"early_6_s": -6.0, "early_4_s": -4.0, "early_2_s": -2.0, "on_time": 0.0, "late_2_s": 2.0, "late_6_s": 6.0}
    late = {
        key: Late(
            delay=delay,
            rolled_out_ahead=-PAST * delay,
            straight_time=PAST * delay / SPEED if delay > 0.0 else None,
            still_to_turn=math.radians(-10.0 * delay) if -4.0 < delay < 0.0 else None,
            off_centre=0.0,
        )
        for key, delay in delays.items()
        if delay != 0.0
    }
    views = {key: LateView(hidden=0.0 if delay < 0.0 else 1.5 + delay) for key, delay in delays.items()}
    views["late_6_s"] = LateView(hidden=None)
    return LateTurns({key: path(delay, hand) for key, delay in delays.items()}, views, late, hand)


def marks(drawing: ET.Element) -> list[tuple[float, float, bool]]:
    return [
        (float(mark.attrib["cx"]), float(mark.attrib["cy"]), mark.attrib["fill"] == "#000")
        for mark in drawing.iter("circle")
    ]


def texts(drawing: ET.Element) -> list[str]:
    return [text.text or "" for text in drawing.iter("text")]


@pytest.mark.parametrize("hand", [-1, 1], ids=["left", "right"])
def test_turn_ins_and_ends_are_to_one_scale(hand: int) -> None:
    """Own arithmetic: two seconds are 80 m along the deck, the diameter 1,000 m across; a mark is drawn to 0.1 unit."""
    drawn = late_drawing(turns(hand), DECK, "late")
    found = marks(drawn)
    assert len(found) == 10
    ins, ends = found[:5], found[5:]
    assert [full for _, _, full in ins] == [False, False, True, False, False]
    across = (ends[0][0] - ins[0][0]) * -hand
    per_metre = across / 1000.0
    assert per_metre > 0.0
    for column in (ins, ends):
        downs = [low[1] - high[1] for high, low in pairwise(column)]
        assert downs == pytest.approx([80.0 * per_metre] * 3 + [160.0 * per_metre], abs=0.21)
    assert ends[2][1] == pytest.approx(ins[2][1], abs=0.11)


@pytest.mark.parametrize("hand", [-1, 1], ids=["left", "right"])
def test_each_path_is_named_by_its_delay_and_told_what_it_leaves(hand: int) -> None:
    """Own arithmetic: 2 s late are 80 m astern, 2.7 s at 30 m/s; 6 s late 8.0 s. Six seconds early is not drawn."""
    drawn = late_drawing(turns(hand), DECK, "late")
    told = texts(drawn)
    for name in ("4 s early", "2 s early", "on time", "2 s late", "6 s late"):
        assert told.count(name) == 2
    assert not any("6 s early" in text for text in told)
    after = dict(pairwise(told))  # the last of each name stands over what it leaves
    assert after["2 s late"] == "2.7 s straight"
    assert after["6 s late"] == "8.0 s straight"
    assert after["2 s early"] == "20 deg left to turn"
    assert after["4 s early"] == "never at the ramp"
    assert after["on time"] == "level over the ramp"
    assert after["2.7 s straight"] == "ramp hidden 3.5 s"
    assert after["20 deg left to turn"] == "ramp never hidden"
    assert told.count("ramp hidden 1.5 s") == 1
    assert "8.0 s straight; " not in (drawn.findtext("desc") or "")
    assert (drawn.findtext("desc") or "").endswith("6 s late, 8.0 s straight.")


def test_late_is_dashed_early_is_thin_and_on_time_is_the_heaviest() -> None:
    drawn = late_drawing(turns(), DECK, "late")
    long = [each for each in drawn.iter("path") if each.attrib["d"].count("L") > 15]
    weights = [(float(each.attrib["stroke-width"]), "stroke-dasharray" in each.attrib) for each in long]
    assert [dashed for _, dashed in weights] == [False, False, False, True, True]
    assert weights[2][0] == max(weight for weight, _ in weights)
    assert weights[0] == weights[1] == (0.8, False)


def test_left_and_right_hand_are_mirrored() -> None:
    one, other = (late_drawing(turns(hand), DECK, "late") for hand in (-1, 1))
    for (x, y, full), (mirrored, same, filled) in zip(marks(one), marks(other), strict=True):
        assert x == pytest.approx(WIDTH - mirrored, abs=0.11)
        assert (y, full) == (same, filled)


def of(solution: Solution) -> LateTurns:
    assert isinstance(solution.circuit, CircuitResult)
    return LateTurns(solution.late_paths, solution.late_views, solution.circuit.late, solution.circuit.hand)


@pytest.mark.parametrize(("doctrine", "wind", "more"), DAYS)
def test_no_text_covers_another_and_the_ink_stays_on_the_sheet(
    solved: SolvedBy, doctrine: str, wind: str, more: str
) -> None:
    found = solved(doctrine, wind, more=more)
    drawn = late_drawing(of(found.solution), deck_of(found.day), "late")
    assert_clear(drawn)
    high = float(drawn.attrib["viewBox"].split()[3])
    for each in drawn.iter("path"):
        numbers = [float(text) for text in re.findall(r"-?\d+(?:\.\d+)?", each.attrib["d"])]
        assert all(0.0 <= x <= WIDTH for x in numbers[::2])
        assert all(0.0 <= y <= high for y in numbers[1::2])


def test_every_carrier_and_type_of_a_night_has_its_picture() -> None:
    found = day_of("night")
    for name, theirs in found.solution.parts.items():
        drawn = late_drawing(of(theirs), deck_of(found.day.parts[name]), "late")
        assert_clear(drawn)


def test_the_straight_time_and_the_hidden_time_are_those_of_the_solution(solved: SolvedBy) -> None:
    found = solved()
    figures = {key: figure.text for key, figure in found.solution.figures.items()}
    told = texts(late_drawing(of(found.solution), deck_of(found.day), "late"))
    for key in ("late_2_s", "late_4_s", "late_6_s"):
        assert f"{figures[f'circuit.late.{key}.straight_time']} straight" in told
        assert f"ramp hidden {figures[f'late_views.{key}.hidden']}" in told


def test_without_a_path_there_is_no_picture() -> None:
    with pytest.raises(ValueError, match="no turn-in"):
        late_drawing(LateTurns({}, {}, {}, -1), DECK, "late")


@given(st.lists(st.floats(0.0, 300.0), min_size=1, max_size=8), st.floats(1.0, 30.0))
def test_labels_stand_apart_in_their_order_and_in_the_room(rows: list[float], least: float) -> None:
    """Constructed: a room that holds them all."""
    placed = apart(rows, least, (0.0, 300.0))
    order = sorted(range(len(rows)), key=lambda i: rows[i])
    heights = [placed[i] for i in order]
    assert all(high - low >= least - 1e-9 for low, high in pairwise(heights))
    assert -1e-9 <= heights[0] <= heights[-1] <= 300.0 + 1e-9


def test_labels_that_stand_apart_are_not_moved() -> None:
    assert apart([20.0, 90.0, 55.0], 30.0, (0.0, 100.0)) == [20.0, 90.0, 55.0]


def test_two_labels_of_one_place_move_as_far_either_way() -> None:
    """Own arithmetic: 5 up and 5 down."""
    assert apart([50.0, 50.0], 10.0, (0.0, 100.0)) == [45.0, 55.0]
