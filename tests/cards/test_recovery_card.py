"""The recovery card: who lands when from which block, on pages that can be read. Constructed cases."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations

import pypdfium2
import pytest
from tests.cards.conftest import NO_CIRCUIT, Solved
from tests.cards.day_plans import day_of
from tests.cards.launch_plans import forty, pairs, plan_of, rows
from tests.cards.recovery_plans import as_shown, cards_of, in_trouble, recovering, texts_of
from tests.cards.test_day_cards import close, said

from roundown import CAUTION
from roundown.cards.card import Card
from roundown.cards.layout import POINTS_WIDE, render
from roundown.cards.seat_card import seat_cards
from roundown.recovery.day_cycle import DeckTurn
from roundown.recovery.stack import Stack

ORDER = "In landing order"
DAYS: dict[str, Callable[[], Solved]] = {
    "evening": lambda: day_of("evening"),
    "night": lambda: day_of("night"),
    "trouble": in_trouble,
    "forty": lambda: plan_of(forty()),
}


def only(found: Solved) -> tuple[Card, ...]:
    ((_, pages),) = cards_of(found).items()
    return pages


def head(card: Card) -> dict[str, str]:
    return {line.label: f"{line.text} {line.note}".strip() for line in card.head}


@pytest.mark.parametrize("name", DAYS)
def test_every_figure_on_the_card_is_the_solution_s(name: str) -> None:
    found = DAYS[name]()
    for card in (card for pages in cards_of(found).values() for card in pages):
        assert all(line.key for line in card.lines)
        for key, text in said(card):
            assert any(one in text for one in as_shown(texts_of(found)[key])), (key, text)
        for sentence in card.sentences:
            for key in sentence.keys:
                assert texts_of(found)[key] in sentence.text


@pytest.mark.parametrize("name", DAYS)
def test_no_number_on_the_card_is_without_a_key(name: str) -> None:
    """Places, side numbers and "4 of 4" are counted, not solved."""
    counted = re.compile(r"\d+|\d+ of \d+|[^:]+: .*|[\w/: ,]*|not known|nobody( known)?|\d+ of them")
    for card in (card for pages in cards_of(DAYS[name]()).values() for card in pages):
        for row in (row for table in card.tables for row in table.rows):
            for cell in row:
                assert cell.key or counted.fullmatch(cell.text), cell
                assert cell.key or not re.search(r"\d (ft|lb|min|s)\b", cell.text), cell


@pytest.mark.parametrize("name", DAYS)
def test_every_page_can_be_read_and_nothing_runs_over_anything(name: str) -> None:
    """Of the drawing the sizes of its texts are looked at, 11 points at the least: 15.7 pixels of 600."""
    for card in (card for pages in cards_of(DAYS[name]()).values() for card in pages):
        for drawing in card.drawings:
            assert min(map(float, re.findall(r'font-size="([\d.]+)"', drawing))) * 600.0 / POINTS_WIDE >= 15.0
            assert 'width="386pt"' in drawing.split(">")[0]
        pages = pypdfium2.PdfDocument(render(card, "pdf"))
        assert len(pages) == 1
        text = close(pages[0].get_textpage().get_text_range())
        for words in (card.title, *card.subtitles, CAUTION, card.plan, card.units, *card.marks):
            assert close(words) in text, words
        for line in card.lines:
            assert close(f"{line.text}{line.note}") in text, line
        for cell in (cell for table in card.tables for row in table.rows for cell in row):
            assert close(cell.text) in text, cell
        bare = pypdfium2.PdfDocument(render(replace(card, drawings=()), "pdf"))[0]
        pieces = list(bare.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], max_depth=1))
        for piece in pieces:
            size = ctypes.c_float()
            assert pypdfium2.raw.FPDFTextObj_GetFontSize(piece.raw, size)
            assert size.value * abs(piece.get_matrix().d) * 600.0 / POINTS_WIDE >= 15.0
        boxes = [piece.get_bounds() for piece in pieces]
        for left, bottom, right, top in boxes:
            assert 16.0 <= left <= right <= POINTS_WIDE - 16.0
            assert 10.0 <= bottom <= top <= 583.0
        for one, other in combinations(boxes, 2):
            wide, high = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
            assert wide <= 1.5 or high <= 2.5, (one, other)


def test_flights_stand_in_landing_order_with_those_in_trouble_alone() -> None:
    """Own arithmetic: 13 with least fuel takes its division first; three at 30 s make 1 min 30 s to the next flight.

    One alone is followed by the next after wait and step, 15 s and a minute, since it cannot come down sooner. The
    first is at the initial at the recovery of the plan.
    """
    told = rows(only(in_trouble()), ORDER)
    assert [row[:3] for row in told] == [
        ("1", "Amber squadron 1: 11, 13, 14 (no radio)", "1,000 ft"),
        ("2", "Amber squadron 2: 21, 23, 24", "2,000 ft"),
        ("3", "22 Dray, alone: wounded", "3,000 ft"),
        ("4", "12 Pell, alone: hook will not lower", "4,000 ft"),
    ]
    assert [row[4] for row in told] == ["18:00:00", "18:01:30", "18:03:00", "18:04:15"]
    assert [row[6] for row in told][2:] == ["", ""]


def test_steps_down_follow_a_wait_after_the_flight_below() -> None:
    """Own arithmetic: each leaves its first block 15 s after the flight below has left the block under it."""
    pages = only(in_trouble())
    charlie = rows(pages, ORDER)[0][3]

    def seconds(clock: str) -> int:
        hours, minutes, rest = map(int, clock.split(":"))
        return 3600 * hours + 60 * minutes + rest

    steps = rows(pages, "Steps down")
    assert [row[:2] for row in steps] == [("2", "2,000 ft"), ("3", "3,000 ft"), ("4", "4,000 ft")]
    for i, row in enumerate(steps, 1):
        assert seconds(row[2]) == pytest.approx(seconds(charlie) + 15 * i, abs=1)


def test_who_is_short_of_fuel_is_named_and_said_so() -> None:
    pages = only(in_trouble())
    fuel = {row[0]: row for row in rows(pages, "Fuel")}
    assert fuel["1"][1] == "13"
    assert fuel["1"][2].endswith(" lb, short")
    assert not any("short" in row[2] for flight, row in fuel.items() if flight != "1")
    assert [row[5] for row in rows(pages, "Deck foul")] == ["13"] * 3


def test_a_dry_one_is_told_by_what_is_wanting() -> None:
    found = in_trouble()
    (of,) = recovering(found)
    assert isinstance(of.stack, Stack)
    (key,) = (key for key, seat in of.seats.items() if seat.side == "13")
    dry = replace(of.stack.aeroplanes[key], fuel_at_ramp=-5.0)
    recoveries = {"first_patrol": replace(of.stack, aeroplanes={**of.stack.aeroplanes, key: dry})}
    pages = only(Solved(found.day, replace(found.solution, recoveries=recoveries)))
    assert rows(pages, "Fuel")[0][2] == "11 lb wanting"  # own arithmetic: 5 kg over 0.4536


def test_fuel_that_is_not_known_is_not_called_enough() -> None:
    for pages in cards_of(day_of("night")).values():
        assert rows(pages, "Fuel") == []
        assert [row[5] for row in rows(pages, "Deck foul")] == ["not known"] * 3
        assert {table.name for table in pages[0].tables if table.name.startswith(ORDER)} == {f"{ORDER}, as launched"}
    assert only(in_trouble())[0].tables[0].name == f"{ORDER}, shortest endurance first"


def test_ten_flights_go_on_several_pages_with_all_their_steps() -> None:
    """Own arithmetic: forty in fours are ten flights; the n-th steps down n - 1 times, 45 in all."""
    pages = only(DAYS["forty"]())
    assert len(pages) > 2
    assert [card.heading for card in pages] == [f"Recovery, page {i} of {len(pages)}" for i in range(1, len(pages) + 1)]
    assert [row[0] for row in rows(pages, ORDER)] == [str(i) for i in range(1, 11)]
    steps = [(row[0], row[i]) for row in rows(pages, "Steps down") for i in (1, 3, 5) if row[i]]
    assert steps == [(str(flight), f"{block},000 ft") for flight in range(2, 11) for block in range(flight, 1, -1)]
    drawings = [drawing for card in pages for drawing in card.drawings]
    assert len(drawings) == 2
    drawn = re.findall(r'font-weight="bold"[^>]*>(\d+)<', "".join(drawings))
    assert drawn == [str(i) for i in range(1, 11)]


def test_divisions_of_a_long_name_are_told_apart() -> None:
    named = [row[1].split(":")[0] for row in rows(only(DAYS["forty"]()), ORDER)]
    assert len(set(named)) == 10


def test_another_day_is_said_once_over_the_card() -> None:
    for (event, _), pages in cards_of(day_of("night")).items():
        told = [line.note for line in pages[0].head if line.note]
        assert told == ["next day"], event
        assert not any(
            "next day" in cell.text for card in pages for table in card.tables for row in table.rows for cell in row
        )


def test_prep_charlie_waits_for_the_launch_and_for_the_recovery_before() -> None:
    """The second patrol's deck is ready only when the first is aboard, long after its own launch."""
    found = day_of("evening")
    first, second = (head(cards_of(found)[name, "corbel"][0]) for name in ("first patrol", "second patrol"))
    assert list(first) == ["Prep Charlie", "First Charlie", "First over ramp", "Last over ramp", "Deck open until"]
    assert list(second) == list(first)
    figures = found.solution.figures
    assert figures["recoveries.second_patrol.deck_ready"].value == figures["cycle.first_patrol.recovered"].value
    assert second["Prep Charlie"] > first["First Charlie"]


def test_the_deck_is_open_until_the_earlier_of_two_ends() -> None:
    of = recovering(day_of("evening"))[0]
    assert isinstance(of.stack, Stack)
    assert isinstance(of.turn, DeckTurn)
    assert of.stack.open_until is not None
    for shift, where in ((-60.0, "cycle"), (60.0, "recoveries")):
        texts = {**of.texts, "cycle.first_patrol.open_until": "by hand"}
        turn = replace(of.turn, open_until=of.stack.open_until + shift)
        assert replace(of, turn=turn, texts=texts).open_until().key == f"{where}.first_patrol.open_until"


def test_each_carrier_s_card_has_her_own_aeroplanes() -> None:
    found = cards_of(day_of("night"))
    strike = "strike on the anchorage beyond the outer reef"
    assert "11, 12, 13, 14" in rows(found[strike, "corbel"], ORDER)[0][1]
    assert rows(found[strike, "lintel"], ORDER)[0][1].endswith("1: 1, 2, 3, 4")
    assert {line.key.split(".recoveries")[0] for line in found[strike, "lintel"][0].head[:1]} == {"parts.lintel.sallow"}


def test_without_a_circuit_there_is_no_card() -> None:
    assert cards_of(day_of("evening", NO_CIRCUIT)) == {}


def test_a_seat_s_own_card_says_the_same() -> None:
    """Second method: block, Charlie and times of each seat, against the rows of the recovery card."""
    found = in_trouble()
    flights = {row[1]: row for row in rows(only(found), ORDER)}
    seats = seat_cards(found.day, found.solution)
    for side, pages in seats.items():
        part = pairs(pages[:1], "Your part")
        (row,) = (row for who, row in flights.items() if re.search(rf"\b{side}\b", who))
        assert (part["holds at"], part["leaves at Charlie"]) == (row[2], row[3])
        place = [each for who in flights for each in re.findall(r"\b\d\d\b", who)].index(side) + 1
        assert part["over the ramp"].startswith(f"{place}")
    assert pairs(seats["13"][:1], "Your part")["fuel at the ramp"].endswith("lb, short")
