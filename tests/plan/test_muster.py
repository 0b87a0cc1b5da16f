"""Who flies what when not everyone turns up."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from roundown.plan.facts import Seat
from roundown.plan.muster import Seated, reseat

LEADS = ("squadron", "", "section", "", "division", "", "section", "", "division", "", "section", "")
SKILLS = ("experienced", "trained", "trained", "novice") * 3


def seat(i: int, name: str, leader: str = "", skill: str = "trained") -> Seat:
    return Seat(str(i), name, "amber", i // 4 + 1, i % 4 // 2 + 1, leader, skill, f"Tallow {i}")


TWELVE = tuple(seat(i, chr(ord("A") + i), LEADS[i], SKILLS[i]) for i in range(12))


def here(names: str) -> list[bool]:
    return [one.name in names for one in TWELVE]


def flying(found: Seated) -> str:
    return "".join(one.name for one in found.seats)


def test_when_all_are_here_nobody_moves() -> None:
    found = reseat(TWELVE, [True] * 12)
    assert found == Seated(TWELVE, {})


def test_seven_of_twelve_fill_the_front_seats() -> None:
    """Constructed: B, C, E, F, H, I and L are here, so seats A to G fly.

    Empty among them are A (leads the squadron), D and G (leads a section). Behind sit H, I (leads a division) and L.
    I leads most and takes A; then H and L, both novices, take the next leader's seat and the last one, in their order.
    """
    found = reseat(TWELVE, here("BCEFHIL"))
    assert flying(found) == "IBCLEFH"
    assert found.moved == {"I": "8", "H": "7", "L": "11"}
    assert [one.side for one in found.seats] == ["0", "1", "2", "3", "4", "5", "6"]


def test_a_seat_keeps_its_duty_and_the_pilot_his_skill() -> None:
    first = reseat(TWELVE, here("BCEFHIL")).seats[0]
    assert (first.side, first.leader, first.call_sign, first.division) == ("0", "squadron", "Tallow 0", 1)
    assert (first.name, first.skill) == ("I", "experienced")


def test_of_those_who_lead_nothing_the_more_skilled_moves_to_the_leaders_seat() -> None:
    """Constructed: A and B are away; of D (novice) and E (trained) behind them, E takes A's seat."""
    roster = (seat(0, "A", "squadron"), seat(1, "B"), seat(2, "C"), seat(3, "D", skill="novice"), seat(4, "E"))
    found = reseat(roster, [False, False, True, True, True])
    assert flying(found) == "EDC"


def test_nobody_here_leaves_no_seat() -> None:
    assert reseat(TWELVE, [False] * 12) == Seated((), {})


rosters = st.lists(
    st.tuples(
        st.sampled_from(["", "section", "division", "squadron"]),
        st.sampled_from(["novice", "trained", "experienced"]),
        st.booleans(),
    ),
    max_size=30,
)


@given(rosters)
def test_whoever_is_here_flies_once_and_nobody_else(rows: list[tuple[str, str, bool]]) -> None:
    roster = [seat(i, f"pilot {i}", leader, skill) for i, (leader, skill, _) in enumerate(rows)]
    present = [row[2] for row in rows]
    found = reseat(roster, present)
    assert len(found.seats) == sum(present)
    assert sorted(one.name for one in found.seats) == sorted(
        one.name for one, is_here in zip(roster, present, strict=True) if is_here
    )
    skills = {one.name: one.skill for one in roster}
    assert all(skills[one.name] == one.skill for one in found.seats)


@given(rosters)
def test_the_seats_flown_are_the_rosters_front_and_who_sat_there_stays(rows: list[tuple[str, str, bool]]) -> None:
    roster = [seat(i, f"pilot {i}", leader, skill) for i, (leader, skill, _) in enumerate(rows)]
    present = [row[2] for row in rows]
    found = reseat(roster, present)
    for i, one in enumerate(found.seats):
        assert (one.side, one.leader, one.division, one.section, one.call_sign) == (
            roster[i].side, roster[i].leader, roster[i].division, roster[i].section, roster[i].call_sign,
        )  # fmt: skip
        if present[i]:
            assert one.name == roster[i].name
    sides = {one.name: one.side for one in roster}
    assert found.moved == {one.name: sides[one.name] for one in found.seats if one.side != sides[one.name]}


@given(rosters)
def test_a_leaders_seat_is_filled_before_a_wingmans_and_by_one_who_leads_as_much(
    rows: list[tuple[str, str, bool]],
) -> None:
    """Of those who moved, the one in the higher seat led no less than the one in the lower."""
    rank = {"squadron": 0, "division": 1, "section": 2, "": 3}
    roster = [seat(i, f"pilot {i}", leader, skill) for i, (leader, skill, _) in enumerate(rows)]
    found = reseat(roster, [row[2] for row in rows])
    led = {one.name: rank[one.leader] for one in roster}
    movers = [one for one in found.seats if one.name in found.moved]
    for one in movers:
        for other in movers:
            if rank[one.leader] < rank[other.leader]:
                assert led[one.name] <= led[other.name]
