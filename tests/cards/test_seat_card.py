"""The personal card of a seat: who, where in the order, when, beside whom, and whose circuit. Constructed cases."""

from __future__ import annotations

import functools
import re
from dataclasses import replace

import pytest
from tests.cards.day_plans import day_of

from roundown.cards.card import Card
from roundown.cards.seat_card import seat_cards
from roundown.cards.timeline_card import timeline_cards
from roundown.recovery.result import CircuitResult
from roundown.solution import Unsolved


@functools.cache
def all_seats(name: str) -> dict[str, tuple[Card, ...]]:
    found = day_of(name)
    return seat_cards(found.day, found.solution)


def cards(name: str, side: str) -> tuple[Card, ...]:
    return all_seats(name)[side]


def rows(card: Card, table: str) -> list[tuple[str, ...]]:
    return [tuple(cell.text for cell in row) for each in card.tables if each.name == table for row in each.rows]


def pairs(card: Card, table: str) -> dict[str, str]:
    return {row[i]: row[i + 1] for row in rows(card, table) for i in range(0, len(row), 2)}


def head(card: Card) -> dict[str, str]:
    return {line.label: f"{line.text} {line.note}".strip() for line in card.head}


def test_every_seat_that_flies_has_a_card_and_no_other() -> None:
    found = day_of("night")
    flown = {seat.side for event in found.day.events for seat in event.seats}
    assert set(all_seats("night")) == flown
    assert "25" not in flown


@pytest.mark.parametrize(("side", "clock"), [("11", "17:00"), ("12", "17:00:25"), ("14", "17:01:15")])
def test_he_takes_off_an_interval_after_the_one_before_him(side: str, clock: str) -> None:
    """Own arithmetic: 25 s is the middle of the doctrine's 20 to 30 s by day; the first is off at 17:00."""
    assert head(cards("evening", side)[0])["Take-off"] == clock


def test_he_is_due_over_the_ramp_a_landing_interval_after_the_one_before_him() -> None:
    """Own arithmetic: the doctrine's interval is 30 s."""
    found = day_of("evening")
    for event, sides in (("first_patrol", ("11", "12", "13", "14")), ("second_patrol", ("21", "22", "23", "24"))):
        times = found.solution.events[event]
        assert times.first_aboard is not None
        due = [times.seats[side].over_ramp for side in sides]
        assert due == pytest.approx([times.first_aboard + 30.0 * i for i in range(4)])


def test_each_carrier_has_an_order_of_her_own() -> None:
    """Own arithmetic: in the dark 52.5 s is the middle of 45 to 60 s; both carriers launch their first at 20:05."""
    assert pairs(cards("night", "1")[0], "Your part")["goes off"] == "1st of 8"
    assert pairs(cards("night", "12")[0], "Your part")["goes off"] == "2nd of 8"
    assert head(cards("night", "1")[0])["Take-off"] == head(cards("night", "11")[0])["Take-off"] == "20:05"
    assert head(cards("night", "3")[0])["Take-off"] == "20:06:45"
    assert head(cards("night", "11")[0])["Over the ramp"].endswith(" next day")


def test_all_his_events_are_on_pages_of_their_own() -> None:
    flown = cards("night", "12")
    assert flown[0].heading.startswith("Seat 12, event 1 of 2")
    second = [card for card in flown if card.heading.startswith("Seat 12, event 2 of 2")]
    assert flown[-len(second) :] == tuple(second)
    assert rows(second[0], "Dawn patrol") == [("task", "not given")]


def beside(side: str) -> list[tuple[str, ...]]:
    return [row for card in cards("evening", side) for row in rows(card, "With you")]


def test_who_leads_him_and_who_is_beside_him() -> None:
    assert beside("12") == [("11 Vane", "beside you; leads the squadron, division and section")]
    assert beside("13") == [
        ("11 Vane", "leads the squadron and division"),
        ("14 Lusk", "beside you"),
    ]
    assert beside("24") == [
        ("21 Hale", "leads the division"),
        ("23 Moss", "beside you; leads the section"),
    ]


def test_who_was_moved_is_told_from_where() -> None:
    assert cards("night", "12")[0].subtitles[0] == "Late, call sign Tallow 2"
    assert cards("night", "12")[0].subtitles[1].endswith("; moved here from seat 25")
    assert not any("moved" in line for line in cards("night", "11")[0].subtitles)


@pytest.mark.parametrize(("side", "part"), [("11", "corbel.ottery"), ("2", "lintel.sallow")])
def test_the_circuit_is_that_of_his_own_type_on_his_own_carrier(side: str, part: str) -> None:
    found = day_of("night")
    theirs = found.solution if part == found.day.part else found.solution.parts[part]
    assert isinstance(theirs.circuit, CircuitResult)
    wanted = [theirs.figures[f"circuit.{key}"].text for key in (
        "break_to_rollout", "abeam", "rollout_to_turn_in", "ramp_off_nose", "final_bank",
    )]  # fmt: skip
    assert any(rows(card, "The circuit") == [tuple(wanted)] for card in cards("night", side))
    assert (
        head(cards("night", side)[0])["Flight course"] == f"{theirs.figures['cockpit.flight_course'].text} by compass"
    )


def test_the_other_carrier_s_channel_is_left_out() -> None:
    named = {row[0] for card in cards("night", "2") for row in rows(card, "Radio")}
    assert named == {"B", "C"}


def test_no_card_shows_what_is_not_worked_out() -> None:
    for name in ("evening", "night"):
        found = day_of(name)
        for card in [each for pages in all_seats(name).values() for each in pages]:
            words = " ".join(
                (card.units, *(row for table in card.tables for cells in rows(card, table.name) for row in cells))
            )
            for word in ("join", "fuel on the way", "route", "not solved"):
                assert word not in words
        assert timeline_cards(found.day, found.solution)


def test_he_is_told_his_block_and_charlie_and_where_he_comes_in_landing_order() -> None:
    """Own arithmetic: fours at 30 s, so the second four is at the initial two minutes after the first, at 01:20."""
    first, second = (pairs(cards("night", side)[0], "Your part") for side in ("12", "22"))
    assert (first["holds at"], second["holds at"]) == ("1,000 ft", "2,000 ft")
    assert first["at the initial"] == "01:20:30 next day"
    assert second["at the initial"] == "01:22:30 next day"
    assert (first["over the ramp"], second["over the ramp"]) == ("2nd of 8", "6th of 8")
    figures = day_of("night").solution.figures
    flights = [key for key in figures if re.fullmatch(r"recoveries\.strike_on[^.]*\.flights\.[^.]*\.charlie", key)]
    assert [first["leaves at Charlie"], second["leaves at Charlie"]] == [figures[key].text for key in flights]


def test_a_card_without_known_fuel_says_nothing_of_it() -> None:
    assert all("fuel" not in label for label in pairs(cards("night", "12")[0], "Your part"))


def test_without_a_stack_he_has_the_times_of_the_event() -> None:
    found = day_of("evening")
    bare = replace(found.solution, recoveries={"first_patrol": Unsolved("tried"), "second_patrol": Unsolved("tried")})
    card = seat_cards(found.day, bare)["12"][0]
    part = pairs(card, "Your part")
    assert "holds at" not in part
    assert part["at the initial"] == found.solution.figures["events.first_patrol.seats.12.at_initial"].text
    assert head(card)["Over the ramp"] == found.solution.figures["events.first_patrol.seats.12.over_ramp"].text
