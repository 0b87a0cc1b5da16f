"""The searched spot: against trying every layout on a grid, and never worse than the one at hand. Constructed cases."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest
from tests.launch.spot_cases import DECK, LARGE, MIDDLE, SHORT, SMALL, assert_sound, clear_by, load_of, shapes

from roundown.launch import spot_search
from roundown.launch.deck_plan import KeepOut
from roundown.launch.footprint import Footprint
from roundown.launch.spot import Parked, Pin, SpotRules, spot, worth
from roundown.launch.spot_search import improved

GRID, FILES = 0.25, 1.0  # m, of the tried places along and across the deck
RULES = SpotRules(step=FILES)
TUB = KeepOut("gun tub", 8.0, 12.0, 4.0, 7.0)


@cache
def clear(one: Footprint, other: Footprint, ahead: float, port: float, *, spread: bool) -> bool:
    outline = one.spread if spread else one.folded
    room = RULES.spread if spread else RULES.clearance
    return clear_by(shapes(outline, ahead, port), shapes(other.folded, 0.0, 0.0)) >= room - 1e-9


@cache
def clear_of_tub(one: Footprint, ahead: float, port: float, *, spread: bool) -> bool:
    outline = one.spread if spread else one.folded
    room = RULES.spread if spread else RULES.clearance
    return clear_by(shapes(outline, ahead, port), [[(8.0, 4.0), (12.0, 4.0), (12.0, 7.0), (8.0, 7.0)]]) >= room - 1e-9


def best_of_all(load: list[Parked], *, tub: bool) -> float:
    """The longest run of the first off over every layout on the grid, each stood as far aft as it goes."""
    behind = load[::-1]
    best = -math.inf

    def launch(size: Footprint, stood: list[tuple[Footprint, float, float]], least: float) -> float:
        at = SHORT.length
        while (
            at - GRID >= least
            and all(clear(size, other, at - GRID - x, -y, spread=True) for other, x, y in stood)
            and (not tub or clear_of_tub(size, at - GRID, 0.0, spread=True))
        ):
            at -= GRID
        return at

    def stand(i: int, stood: list[tuple[Footprint, float, float]]) -> None:
        nonlocal best
        if i == len(behind):
            size, x, y = stood[-1]
            best = max(best, SHORT.length - launch(size, stood[:-1], x + abs(y)))
            return
        size = behind[i].footprint
        for file in range(-6, 7):
            y = file * FILES
            if abs(y) + size.track / 2.0 > SHORT.width / 2.0 - SHORT.edge:
                continue
            x = max(math.ceil((SHORT.round_down + 0.68 * size.length) / GRID) * GRID, stood[-1][1] if stood else 0.0)
            while x < SHORT.length and not (
                all(clear(size, other, x - ahead, y - port, spread=False) for other, ahead, port in stood)
                and (not tub or clear_of_tub(size, x, y, spread=False))
            ):
                x += GRID
            if x < SHORT.length - 12.0:
                stand(i + 1, [*stood, (size, x, y)])

    stand(0, [])
    return best


@pytest.mark.parametrize("tub", [False, True])
@pytest.mark.parametrize(
    "sizes", [(SMALL, SMALL, SMALL), (SMALL, MIDDLE, SMALL), (SMALL, SMALL, MIDDLE, MIDDLE)], ids=["3", "mixed", "4"]
)
def test_no_layout_on_a_grid_is_better_by_more_than_the_grid(sizes: tuple[Footprint, ...], tub: bool) -> None:  # noqa: FBT001
    """Second method: every layout tried, with the independent check of clearances."""
    pytest.importorskip("ortools")
    load = load_of(*sizes)
    deck = replace(SHORT, keep_outs=(TUB,)) if tub else SHORT
    brute = best_of_all(load, tub=tub)
    greedy = spot(load, deck, RULES)
    better = improved(greedy, load, deck, RULES)
    assert_sound(better, load, deck, RULES)
    assert better.first_run is not None
    assert worth(better) >= worth(greedy)
    assert better.first_run >= brute - GRID
    assert better.first_run <= brute + GRID * (len(load) + 1)  # each place of the grid is rounded ahead


def test_forty_are_bettered_and_the_same_input_gives_the_same_spot() -> None:
    pytest.importorskip("ortools")
    load = load_of(*[MIDDLE] * 12, *[SMALL] * 14, *[LARGE] * 14)
    greedy = spot(load, DECK)
    told: list[str] = []
    better = improved(greedy, load, DECK, work=1.5, progress=told.append)
    assert worth(better) >= worth(greedy)
    assert_sound(better, load, DECK, SpotRules())
    assert improved(greedy, load, DECK, work=1.5) == better
    assert all("search" in words for words in told)


def test_pinned_ones_stay_where_they_are() -> None:
    pytest.importorskip("ortools")
    pins = {1: Pin(90.0, -7.0), 4: Pin(60.0, 3.0, 0.3)}
    load = [replace(parked, pin=pins.get(i)) for i, parked in enumerate(load_of(*[MIDDLE] * 8))]
    greedy = spot(load, DECK)
    better = improved(greedy, load, DECK, work=1.0)
    assert_sound(better, load, DECK, SpotRules())
    assert worth(better) >= worth(greedy)
    for i, pin in pins.items():
        place = better.places[f"no {i + 1}"]
        assert (place.ahead, place.port, place.heading) == (pin.ahead, pin.port, pin.heading)


def test_without_the_extra_the_spot_at_hand_is_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spot_search, "can_search", lambda: False)
    load = load_of(SMALL, MIDDLE)
    greedy = spot(load, DECK)
    assert improved(greedy, load, DECK) is greedy
