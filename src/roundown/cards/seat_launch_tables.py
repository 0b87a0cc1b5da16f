"""The launch on a seat's own card: where it stands, what it sets, what run it has, and what comes past the bow."""

from __future__ import annotations

from roundown.cards.card import Cell, Table
from roundown.cards.launch_figures import (
    ROUNDED,
    Launching,
    bow_cell,
    braked_cell,
    flap_cell,
    in_hand_cell,
    left_cell,
    needed_cell,
    power_cells,
    trim_cell,
    why_unsolved,
)
from roundown.cards.past_bow_rows import clearing_turn, expected
from roundown.cards.sentences import sided
from roundown.launch.bow_findings import best_hand
from roundown.launch.result import SeatLaunch
from roundown.plan.facts import Seat
from roundown.quantities import LENGTH
from roundown.solution import Unsolved

NAME = "Launch"
WORDS = (1.2, 4.4)
RUN = (0.95, 1.15, 1.0, 1.05, 0.95, 1.1)
SHOT = (0.95, 1.15, 1.8, 1.05, 1.25)
SET = (1.1, 1.1, 1.2, 1.1, 1.1)


def seat_launch_tables(of: Launching, seat: Seat) -> tuple[Table, ...]:
    """The tables, one under the other; one line where it is not worked out, none where nothing is launched."""
    launch = of.launch_of(seat)
    if launch is None:
        why = _why_not(of)
        return (Table(NAME, ("", ""), ((Cell("not known"), Cell(why)),), WORDS),) if why else ()
    return (_run(of, seat, launch), _set(of, seat, launch), _before(of, seat, launch), _past(of, seat, launch))


def _why_not(of: Launching) -> str:
    if isinstance(of.found, Unsolved):
        return why_unsolved(of.found.reason)
    return "it stands on deck for another event" if of.spot is not None else ""


def _run(of: Launching, seat: Seat, launch: SeatLaunch) -> Table:
    """Its number on deck, run needed and left, what is in hand, and at what speed it flies."""
    number = of.number_of(seat)
    shot = launch.shot is not None
    cells = [
        ("On deck", Cell("no place" if number is None else f"No. {number}")),
        ("Goes by" if shot else "Run needed", needed_cell(of, seat, launch)),
        ("Run left", left_cell(of, seat, launch)),
        ("In hand", in_hand_cell(of, seat, launch)),
        ("Lifts off", of.cell(seat, "run.lift_off_speed")),
        ("At the bow", bow_cell(of, seat, launch)),
    ]
    name = NAME if launch.run is None else f"{NAME}, feet {ROUNDED}"
    return _row(name, [(column, cell) for column, cell in cells if cell.text], SHOT if shot else RUN)


def _set(of: Launching, seat: Seat, launch: SeatLaunch) -> Table:
    """Weight and settings."""
    power, revolutions = power_cells(of, seat, launch)
    cells = [
        ("Weight", of.cell(seat, "loaded.weight")),
        ("Flap of full", flap_cell(of, seat, launch, short=True)),
        ("On the brakes", braked_cell(of, seat, launch)),
        ("Power", power),
        ("Engine", revolutions),
    ]
    return _row("", [(name, cell) for name, cell in cells if cell.text], SET)


def _row(name: str, cells: list[tuple[str, Cell]], widths: tuple[float, ...]) -> Table:
    """One row under its columns, as wide as if there were as many of them as widths."""
    filled = [*cells, *[("", Cell(""))] * (len(widths) - len(cells))]
    row = tuple(Cell(cell.text, cell.key, strong=True) for _, cell in filled)
    return Table(name, tuple(column for column, _ in filled), (row,), widths)


def _place(of: Launching, seat: Seat, launch: SeatLaunch) -> Cell:
    """Where it stands on deck; empty without a place."""
    ahead = of.cell(seat, "spot.ahead")
    if launch.spot is None:
        return Cell("")
    across = sided(launch.spot.port, LENGTH, "to port", "to starboard")
    if "to " not in across:
        across = "on the centre line"
    return Cell(f"{ahead.text} ahead of the ramp, {across}", ahead.key, strong=True)


def _start(of: Launching, seat: Seat) -> Cell:
    """When its engine is started, and the wind it goes off in."""
    start, wind = of.cell(seat, "take_off.start"), of.figure(f"{of.stem}launch_flight.over_deck")
    return Cell(f"{start.text}; then {wind.text} over the deck", start.key, strong=True)


def _give_up(of: Launching, seat: Seat) -> Cell:
    """The last place to give it up, lift-off at the latest; empty for one that makes no run."""
    speed, place = of.cell(seat, "abort.airspeed"), of.cell(seat, "abort.place")
    return Cell(f"{speed.text} indicated, {place.text} from the spot", speed.key, strong=True) if speed.text else speed


def _before(of: Launching, seat: Seat, launch: SeatLaunch) -> Table:
    """Where it stands, when and into what wind it goes, its trim, and the last place to give it up."""
    trim = trim_cell(of, launch)
    rows = (
        (Cell("stands"), _place(of, seat, launch)),
        (Cell("start engine"), _start(of, seat)),
        (Cell("trim"), Cell(trim.text, trim.key, strong=True)),
        (Cell("give up by"), _give_up(of, seat)),
    )
    return Table("", ("", ""), tuple(row for row in rows if row[1].text), WORDS)


def _past(of: Launching, seat: Seat, launch: SeatLaunch) -> Table:
    """What to expect and do past the bow; no rows for one that does not get there."""
    past = launch.past_bow
    if past is None:
        return Table("", ("", ""), (), WORDS)
    rows = (
        (Cell("past the bow"), expected(of, seat, launch, past)),
        (Cell("stick"), Cell(best_hand(past))),
        (Cell("then"), clearing_turn(of, seat, launch)),
    )
    return Table("", ("", ""), tuple(row for row in rows if row[1].text), WORDS)
