"""The launch on a seat's own card: where it stands, what it sets, what run it has, and what comes past the bow."""

from __future__ import annotations

from roundown.cards.card import Cell, Table
from roundown.cards.launch_figures import (
    Launching,
    bow_cell,
    flap_cell,
    in_hand_cell,
    needed_cell,
    power_cells,
    trim_cell,
    why_unsolved,
)
from roundown.cards.past_bow_rows import clearing_turn, expected
from roundown.launch.bow_findings import best_hand
from roundown.launch.result import SeatLaunch
from roundown.plan.facts import Seat
from roundown.solution import Unsolved

NAME = "Launch"
WORDS = (1.2, 4.4)
RUN = (0.95, 1.15, 1.0, 1.05, 0.95, 1.1)
SET = (1.1, 1.1, 1.2, 1.1, 1.1)


def seat_launch_tables(of: Launching, seat: Seat) -> tuple[Table, ...]:
    """The tables, one under the other; one line where it is not worked out, none where nothing is launched."""
    launch = of.launch_of(seat)
    if launch is None:
        why = _why_not(of)
        return (Table(NAME, ("", ""), ((Cell("not known"), Cell(why)),), WORDS),) if why else ()
    return (_run(of, seat, launch), _set(of, seat, launch), _words(of, seat, launch))


def _why_not(of: Launching) -> str:
    if isinstance(of.found, Unsolved):
        return why_unsolved(of.found.reason)
    return "it stands on deck for another event" if of.spot is not None else ""


def _run(of: Launching, seat: Seat, launch: SeatLaunch) -> Table:
    """Its number on deck, run needed and left, what is in hand, and at what speed it flies."""
    number = of.number_of(seat)
    cells = [
        ("On deck", Cell("no place" if number is None else f"No. {number}")),
        ("Run needed", needed_cell(of, seat, launch)),
        ("Run left", of.cell(seat, "spot.run_left")),
        ("In hand", in_hand_cell(of, seat, launch)),
        ("Lifts off", of.cell(seat, "run.lift_off_speed")),
        ("At the bow", bow_cell(of, seat, launch)),
    ]
    return _row(NAME, [(name, cell) for name, cell in cells if cell.text], RUN)


def _set(of: Launching, seat: Seat, launch: SeatLaunch) -> Table:
    """Weight and settings."""
    power, revolutions = power_cells(of, seat, launch)
    cells = [
        ("Weight", of.cell(seat, "loaded.weight")),
        ("Flap of full", flap_cell(of, seat, launch, short=True)),
        ("On the brakes", of.given("launch.braked_pressure")),
        ("Power", power),
        ("Engine", revolutions),
    ]
    return _row("", [(name, cell) for name, cell in cells if cell.text], SET)


def _row(name: str, cells: list[tuple[str, Cell]], widths: tuple[float, ...]) -> Table:
    """One row under its columns, as wide as if there were as many of them as widths."""
    filled = [*cells, *[("", Cell(""))] * (len(widths) - len(cells))]
    row = tuple(Cell(cell.text, cell.key, strong=True) for _, cell in filled)
    return Table(name, tuple(column for column, _ in filled), (row,), widths)


def _words(of: Launching, seat: Seat, launch: SeatLaunch) -> Table:
    """Trim, and what to expect and do past the bow."""
    trim = trim_cell(of, launch)
    rows = [(Cell("trim"), Cell(trim.text, trim.key, strong=True))] if trim.text else []
    if launch.past_bow is not None:
        told = expected(of, seat, launch.past_bow)
        rows.append((Cell("past the bow"), told))
        turn = clearing_turn(of, seat, launch)
        rows.append((Cell("stick"), Cell(best_hand(launch.past_bow))))
        rows.append((Cell("then"), turn))
    return Table("", ("", ""), tuple(row for row in rows if row[1].text), WORDS)
