"""One deck's day by hand: margins, what must move and by how much, and that moving it closes the day."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown.figures import figures_of
from roundown.findings import Level
from roundown.recovery.cycle_findings import cycle_findings
from roundown.recovery.day_cycle import Back, Off, Turn, deck_day, stretches

HOUR, MINUTE = 3600.0, 60.0
RESPOT = 45.0  # s each


def off(first: float, count: int = 12, staying: int = 0) -> Off:
    """Take-offs 30 s apart, engines 10 min before, 30 s for each moved forward, 10 s clear and 60 s to rig."""
    last = first + 30.0 * (count - 1)
    return Off(
        start_engines=first - 600.0,
        first_off=first,
        last_off=last,
        deck_clear=last + 10.0 + 30.0 * staying + 60.0,
        staying=staying,
    )


def back(first: float, count: int = 12) -> Back:
    """Landings 30 s apart, the deck ready 25 s behind the last."""
    return Back(first_ramp=first, recovered=first + 30.0 * (count - 1) + 25.0, count=count)


def moved(turn: Turn, by: float) -> Turn:
    """The launch of an event later."""
    assert turn.off is not None
    there = turn.off
    return replace(
        turn,
        off=replace(
            there,
            start_engines=there.start_engines + by,
            first_off=there.first_off + by,
            last_off=there.last_off + by,
            deck_clear=there.deck_clear + by,
        ),
    )


# 12 off at 06:00 with 10 left on deck, 10 off at 08:00 before the 12 come back at 08:15, all 10 back at 10:00
DAY = {
    "dawn": Turn(off=off(6 * HOUR, 12, 10), back=back(8.25 * HOUR, 12)),
    "forenoon": Turn(off=off(8 * HOUR, 10), back=back(10 * HOUR, 10)),
    "noon": Turn(off=off(11 * HOUR, 12), back=back(13 * HOUR, 12)),
}


def test_a_day_that_fits_by_hand() -> None:
    """Own arithmetic in seconds after midnight.

    dawn: 06:00 to 06:05:30, deck clear 05:30 + 10 + 300 + 60 s = 06:11:40. forenoon is off at 08:04:30 and clear at
    08:05:40, 9 min 20 s before the first of dawn is over the ramp at 08:15. It is aboard at 08:15 + 355 s = 08:20:55.
    forenoon, aboard 10:00 to 10:04:55, stands forward with dawn's 12: 22 of 45 s are 16 min 30 s, spotted at 10:21:25,
    10 min of engines: ready at 10:31:25, 28 min 35 s before 11:00. Deck open until 10:50 less 16:30 = 10:33:30.
    """
    day = deck_day(DAY, RESPOT)
    dawn, forenoon, noon = day["dawn"], day["forenoon"], day["noon"]
    assert (dawn.ready_off, dawn.margin_off) == (None, None)
    assert dawn.deck_ready == 8 * HOUR + 5 * MINUTE + 40.0
    assert dawn.margin_aboard == 9 * MINUTE + 20.0
    assert dawn.recovered == 8 * HOUR + 20 * MINUTE + 55.0
    assert (dawn.forward, dawn.respot) == (12.0, 9 * MINUTE)
    assert dawn.open_until is None  # the next on deck is a recovery
    assert forenoon.ready_off == 6 * HOUR + 5 * MINUTE + 30.0  # the launch before is off
    assert forenoon.margin_off == 8 * HOUR - forenoon.ready_off
    assert forenoon.deck_ready == dawn.recovered
    assert (forenoon.forward, forenoon.respot) == (22.0, 16 * MINUTE + 30.0)
    assert forenoon.spotted == 10 * HOUR + 21 * MINUTE + 25.0
    assert forenoon.open_until == 10 * HOUR + 33 * MINUTE + 30.0
    assert noon.ready_off == 10 * HOUR + 31 * MINUTE + 25.0
    assert noon.margin_off == 28 * MINUTE + 35.0
    assert noon.spotted == 13 * HOUR + 5 * MINUTE + 55.0 + 9 * MINUTE
    assert not cycle_findings(DAY, RESPOT)


def test_the_deck_is_open_until_the_recovery_that_just_fits() -> None:
    """Limit case: ended at 'open until' the next launch is ready to the second; a minute later it is not."""
    open_until = deck_day(DAY, RESPOT)["forenoon"].open_until
    assert open_until is not None
    there = DAY["forenoon"].back
    assert there is not None
    for late, margin in ((0.0, 0.0), (60.0, -60.0)):
        turns = {**DAY, "forenoon": replace(DAY["forenoon"], back=replace(there, recovered=open_until + late))}
        assert deck_day(turns, RESPOT)["noon"].margin_off == margin
        assert bool(cycle_findings(turns, RESPOT)) == (margin < 0.0)


def test_a_launch_before_the_deck_is_spotted_says_when_it_may_be() -> None:
    """Own arithmetic: ready at 10:31:25, asked at 10:20, 11.4 min too soon; to the whole minute 10:32 or 12 min."""
    turns = {**DAY, "noon": moved(DAY["noon"], -40 * MINUTE)}
    (finding,) = cycle_findings(turns, RESPOT)
    assert (finding.id, finding.level, finding.key) == ("cycle-does-not-fit", Level.STOP, "cycle.noon.margin_off")
    assert "10:31:25" in finding.value
    assert "10:20" in finding.limit
    assert "11.4 min too soon" in finding.limit
    assert finding.remedy == "Launch noon at 10:32 or later, or recover forenoon 12 min earlier."
    assert not cycle_findings({**turns, "noon": moved(turns["noon"], 12 * MINUTE)}, RESPOT)
    there = turns["forenoon"].back
    assert there is not None
    sooner = replace(there, first_ramp=there.first_ramp - 720.0, recovered=there.recovered - 720.0)
    assert not cycle_findings({**turns, "forenoon": replace(turns["forenoon"], back=sooner)}, RESPOT)


def test_a_recovery_over_a_deck_not_clear_says_when_it_may_be() -> None:
    """Own arithmetic: clear at 08:05:40; the first at 08:02 is 3.7 min too soon. The launch may be 4 min earlier."""
    turns = {**DAY, "dawn": replace(DAY["dawn"], back=back(8 * HOUR + 2 * MINUTE, 12))}
    (finding,) = cycle_findings(turns, RESPOT, {"dawn": "Dawn strike"})
    assert finding.key == "cycle.dawn.margin_aboard"
    assert "recover Dawn strike at 08:05:40" in finding.value
    assert "3.7 min too soon" in finding.limit
    assert (
        finding.remedy
        == "Have the first of Dawn strike over the ramp at 08:06 or later, or launch forenoon 4 min earlier."
    )
    assert not cycle_findings({**turns, "forenoon": moved(turns["forenoon"], -4 * MINUTE)}, RESPOT)
    assert not cycle_findings({**turns, "dawn": replace(DAY["dawn"], back=back(8 * HOUR + 6 * MINUTE))}, RESPOT)


def test_nothing_is_to_be_moved_where_it_would_not_fit_itself() -> None:
    """Constructed: the forenoon's launch cannot be earlier, since dawn's own is hardly over."""
    turns = {
        "dawn": Turn(off=off(8 * HOUR - 6 * MINUTE), back=back(8 * HOUR + 2 * MINUTE)),
        "forenoon": DAY["forenoon"],
    }
    (finding,) = cycle_findings(turns, RESPOT)
    assert finding.remedy == "Have the first of dawn over the ramp at 08:06 or later."


def test_launches_that_overlap_and_recoveries_that_overlap_do_not_fit() -> None:
    turns = {
        "one": Turn(off=off(8 * HOUR, 12), back=back(10 * HOUR, 12)),
        "two": Turn(off=off(8 * HOUR + 3 * MINUTE, 12), back=back(10 * HOUR + 3 * MINUTE, 12)),
    }
    found = cycle_findings(turns, RESPOT)
    assert [finding.key for finding in found] == ["cycle.two.margin_off", "cycle.two.margin_aboard"]
    assert "08:06" in found[0].remedy
    assert "10:06" in found[1].remedy


def test_those_left_forward_by_the_launch_are_moved_aft_too() -> None:
    """Own arithmetic: 8 back and 5 left make 13."""
    turns = {"one": Turn(off=off(8 * HOUR, 8, 5), back=back(10 * HOUR, 8)), "two": Turn(off=off(11 * HOUR))}
    day = deck_day(turns, RESPOT)
    assert (day["one"].forward, day["one"].respot) == (13.0, 13 * 45.0)
    assert day["two"].recovered is None


def test_the_order_of_the_events_in_the_plan_is_no_matter() -> None:
    assert deck_day(DAY, RESPOT) == deck_day(dict(reversed(DAY.items())), RESPOT)
    assert [each.event for each in stretches(DAY)] == ["dawn", "forenoon", "dawn", "forenoon", "noon", "noon"]


def test_an_event_that_only_goes_or_only_comes_has_only_that() -> None:
    day = deck_day({"ferry": Turn(off=off(8 * HOUR)), "guests": Turn(back=back(9 * HOUR)), "ashore": Turn()}, RESPOT)
    assert day["ferry"].recovered is day["ferry"].deck_ready is None
    assert day["guests"].margin_off is None
    assert day["guests"].margin_aboard == HOUR - (11 * 30.0 + 70.0)
    assert all(each.value is None for each in figures_of(day["ashore"]))


def test_what_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(ValueError, match="before it begins"):
        deck_day({"one": Turn(back=Back(first_ramp=10.0, recovered=9.0, count=1))}, RESPOT)


@given(
    starts=st.lists(st.integers(0, 20 * 60), min_size=2, max_size=6, unique=True),
    counts=st.lists(st.integers(1, 30), min_size=6, max_size=6),
    each=st.floats(0.0, 120.0),
)
@settings(deadline=None, max_examples=100)
def test_what_the_remedies_say_closes_the_day_one_after_another(
    starts: list[int], counts: list[int], each: float
) -> None:
    """Round trip: launches and recoveries in turn; from the first told on, all are put off as told; each told once."""
    turns: dict[str, Turn] = {}
    for i, minute in enumerate(sorted(starts)):
        at = 4 * HOUR + minute * MINUTE
        turns[f"{i}"] = Turn(off=off(at, counts[i])) if i % 2 == 0 else Turn(back=back(at, counts[i]))
    told = []
    while found := cycle_findings(turns, each):
        told.append(found[0].key.split(".")[1])
        clock = re.search(r"at (\d\d):(\d\d)( next day)? or later", found[0].remedy)
        assert clock is not None
        at = int(clock[1]) * HOUR + int(clock[2]) * MINUTE + (24 * HOUR if clock[3] else 0.0)
        late = at - next(stretch.begins for stretch in stretches(turns) if stretch.event == told[-1])
        assert late > 0.0
        for name, turn in turns.items():
            if int(name) < int(told[-1]):
                continue
            there = turn.back
            turns[name] = moved(turn, late) if there is None else Turn(back=back(there.first_ramp + late, there.count))
    assert told == sorted(set(told), key=int)
