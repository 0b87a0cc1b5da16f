"""Past the bow in words: what to expect, what the stick does, what pulling does instead, the clearing turn."""

from __future__ import annotations

from roundown.cards.card import Cell
from roundown.cards.launch_figures import Launching
from roundown.launch.bow_findings import best_hand
from roundown.launch.past_bow import LONGEST, PastBow
from roundown.launch.result import SeatLaunch
from roundown.plan.facts import Seat
from roundown.quantities import LENGTH, TIME, write

NO_SINK = "0 ft"  # a sink that shows as nothing
AT_ONCE = "0.0 s"
Row = tuple[str, Cell]


def past_bow_rows(of: Launching, seat: Seat, launch: SeatLaunch) -> tuple[Row, ...]:
    """Labels and what is said, in the order they come; none where nobody gets there."""
    past = launch.past_bow
    if past is None:
        return ()
    rows = [("expect", expected(of, seat, launch, past)), ("stick", Cell(best_hand(past))), pulled(of, seat, past)]
    turn = clearing_turn(of, seat, launch)
    return (*rows, ("then", turn)) if turn.text else tuple(rows)


def expected(of: Launching, seat: Seat, launch: SeatLaunch, past: PastBow) -> Cell:
    """Sink, lowest height and first climb of the better technique; guarded of one that is short."""
    text = {name: of.cell(seat, f"past_bow.{name}").text for name in (
        "sink", "lowest_height", "lowest_after", "climb_after", "touches_after", "after.after_10_s.height",
    )}  # fmt: skip
    if past.touches:
        return Cell(
            f"It touches the sea {text['touches_after']} past the bow.", of.seat_key(seat, "past_bow.touches_after")
        )
    if text["sink"] != NO_SINK:
        if not text["climb_after"]:
            climbs = f"does not climb in {write(LONGEST, TIME, decimals=0)}"
        elif text["climb_after"] == text["lowest_after"]:
            climbs = "then climbs"
        else:
            climbs = f"climbs from {text['climb_after']} on"
        told = (
            f"It sinks {text['sink']}, to {text['lowest_height']} over the sea {text['lowest_after']} past the bow, "
            f"and {climbs}."
        )
        return Cell(told, of.seat_key(seat, "past_bow.lowest_height"))
    if not text["climb_after"]:
        told = f"{_begins(launch, 'It keeps')} the height of the deck and does not climb in"
        return Cell(f"{told} {write(LONGEST, TIME, decimals=0)}.", of.seat_key(seat, "past_bow.lowest_height"))
    begins = "at once" if text["climb_after"] == AT_ONCE else f"from {text['climb_after']} on"
    told = f"{_begins(launch, 'It does not sink')} and climbs {begins}"
    later = text["after.after_10_s.height"]
    if later:
        told += f"; ten seconds past the bow it is at {later} over the sea"
    if _is_short(launch):
        told += "; see the findings"
    return Cell(f"{told}.", of.seat_key(seat, "past_bow.after.after_10_s.height" if later else "past_bow.climb_after"))


def _begins(launch: SeatLaunch, told: str) -> str:
    """How a sentence begins that says no harm comes: of who is slow at the bow, that it is by this sum only."""
    if not _is_short(launch):
        return told
    what = "slow at the bow" if launch.shot is not None else "short of run"
    return f"Though {what}, by this sum {told[0].lower()}{told[1:]}"


def _is_short(launch: SeatLaunch) -> bool:
    """Whether it comes to the bow below lift-off speed."""
    if launch.shot is not None:
        return launch.shot.speed_margin < 0.0
    return launch.run is not None and not launch.run.flies_off


def pulled(of: Launching, seat: Seat, past: PastBow) -> Row:
    """What pulling past the stall does instead."""
    lowest = of.cell(seat, "past_bow.lowest_pulling")
    if past.lowest_pulling <= 0.0:
        return "pulling", Cell("Pulled past the stall it goes into the sea.")
    if write(past.lowest_pulling, LENGTH) == write(past.lowest_height, LENGTH):
        told = f"Pulled past the stall it gains nothing: lowest {lowest.text} over the sea."
    elif past.lowest_pulling < past.lowest_height:
        told = f"Pulled past the stall it comes down to {lowest.text} over the sea."
    else:
        told = f"Pulled past the stall its lowest is {lowest.text} over the sea, but it is stalled."
    return "pulling", Cell(told, lowest.key)


def clearing_turn(of: Launching, seat: Seat, launch: SeatLaunch) -> Cell:
    """Side of the clearing turn and when it begins; empty where there is none."""
    begins = of.cell(seat, "clearing.begins_after")
    if launch.clearing is None or not begins.text:
        return Cell("")
    side = of.day.word("doctrine.launch.clearing_side")
    return Cell(f"Clearing turn to {side}, {begins.text} past the bow, and back.", begins.key)
