"""The launch card of a squadron in an event: what to set, who goes when, with what in hand, and what then comes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from roundown.cards.card import Card, Cell, Line, Table, shortened, two_abreast
from roundown.cards.clock_column import clocks_alike, table_alike
from roundown.cards.launch_figures import (
    ROUNDED,
    Launching,
    all_texts,
    any_run,
    any_shot,
    bow_cell,
    braked_cell,
    called,
    flap_cell,
    in_hand_cell,
    launchings,
    least_in_hand,
    left_cell,
    needed_cell,
    power_cells,
    pressure_text,
    trim_cell,
)
from roundown.cards.marks import ESTIMATED, marks_of
from roundown.cards.pages import pages
from roundown.cards.past_bow_rows import past_bow_rows
from roundown.cards.sentences import by_what
from roundown.day.deck_load import event_key
from roundown.figures import key_of
from roundown.launch.result import SeatLaunch
from roundown.plan.facts import Day, Seat
from roundown.solution import Solution

COLUMNS = ("No.", "Seat", "Take-off", "Run needed", "Run left", "In hand", "At the bow")
WIDTHS = (0.6, 2.0, 1.3, 1.1, 1.0, 1.25, 1.0)
SHOT_WIDTHS = (0.6, 1.55, 1.3, 1.1, 0.95, 1.75, 1.0)  # where some say how far over lift-off speed they are
PAIRS = (1.5, 1.35) * 2
MARKED = (
    "loaded.weight",
    "run.distance",
    "run.length_margin",
    "spot.run_left",
    "shot.bow_speed",
    "past_bow.lowest_height",
    "settings.tail_rise_pressure",
)
"""Figures of a seat whose givens decide whether its cards are marked."""


def launch_cards(day: Day, solution: Solution) -> dict[tuple[str, str], tuple[Card, ...]]:
    """The launch cards by event and squadron, as the plan names them; none where a launch is not worked out."""
    found = {}
    for of in launchings(day, solution, all_texts(solution)):
        if any(of.launched()):
            found[of.event.name, of.squadron.name] = pages(_card(day, solution, of))
    return found


def _card(day: Day, solution: Solution, of: Launching) -> Card:
    shown = by_what(solution.cockpit.shown)
    return Card(
        template="table-card",
        heading="Launch",
        title=shortened(day.title),
        subtitles=(
            shortened(f"{of.event.name[:1].upper()}{of.event.name[1:]}, {of.squadron.label}"),
            shortened(f"{of.day.word('type.label')}; {of.day.word('ship.label')}"),
        ),
        head=_head(of, shown),
        groups=(),
        sentences=(),
        marks=launch_marks(day, solution, of),
        units=(
            f"Ship’s clock, zone {day.word('place.zone')}. Course {shown}, speeds indicated. "
            f"No.: on the deck, as on the spot card. In hand: {_in_hand(of)}."
        ),
        drawings=(),
        plan=day.hash,
        tables=(settings_table(of), trim_table(of), seats_table(of), past_bow_table(of)),
    )


def _in_hand(of: Launching) -> str:
    """What is in hand for those of the card."""
    run = f"deck ahead of the wheels at lift-off (feet {ROUNDED})"
    shot = "speed at the bow over that of lift-off"
    if not any_shot(of):
        return run
    return f"{run}; by catapult, {shot}" if any_run(of) else shot


def launch_marks(day: Day, solution: Solution, of: Launching) -> tuple[str, ...]:
    """The marks of a card that shows a launch: those of the whole day, and whether its figures are estimated."""
    seat = next((seat for seat, _ in of.launched()), None)
    stem = "" if seat is None else f"launches.{event_key(of.event)}.seats.{key_of(seat.side)}."
    own = [f"{stem}{what}" for what in MARKED if stem]
    estimated = [mark for mark in marks_of(of.day, of.solution, own) if mark == ESTIMATED]
    return tuple(dict.fromkeys((*marks_of(day, solution, ()), *estimated)))


def _head(of: Launching, shown: str) -> tuple[Line, ...]:
    """Launch course, wind over the deck, and when the squadron begins; another day is said beside the time."""
    course, wind = of.figure("cockpit.launch_course"), of.figure(f"{of.stem}launch_flight.over_deck")
    lines = [
        Line("Launch course", course.text, course.key, shown, large=True),
        Line("Over the deck", wind.text, wind.key, large=True),
    ]
    first, _ = min(of.launched(), key=lambda pair: pair[1].take_off.off)
    start, off = of.figure(f"{of.key}.sequence.start_engines"), of.cell(first, "take_off.off")
    told = ""
    for label, text, key in zip(
        ("Start engines", "First off"), clocks_alike((start.text, off.text)), (start.key, off.key), strict=True
    ):
        clock, _, then = text.partition(" ")
        lines.append(Line(label, clock, key, then if then != told else "", large=True))
        told = then
    return tuple(lines)


def settings(of: Launching, seat: Seat, launch: SeatLaunch) -> tuple[tuple[str, Cell], ...]:
    """What is set and at what speeds, with labels; the same for all seats of a squadron in an event."""
    power, revolutions = power_cells(of, seat, launch)
    braked, rises, up = braked_cell(of, seat, launch), Cell(""), of.given("launch.tail_up_speed")
    if launch.settings is not None and braked.text:
        above = launch.settings.tail_rise_pressure
        rises = (
            Cell("full power")
            if above is None
            else Cell(pressure_text(above), of.seat_key(seat, "settings.tail_rise_pressure"))
        )
    rows = (
        ("flap", flap_cell(of, seat, launch)),
        ("weight", of.cell(seat, "loaded.weight")),
        ("power", power),
        ("engine", revolutions),
        ("on the brakes", braked),
        ("tail lifts above", rises),
        ("tail up at", up if launch.shot is None else Cell("")),
        ("lifts off at", of.cell(seat, "run.lift_off_speed")),
    )
    return tuple((label, cell) for label, cell in rows if cell.text)


def _anyone(of: Launching) -> tuple[Seat, SeatLaunch]:
    """One of them whose settings stand for all: the first that runs, or the first."""
    found = list(of.launched())
    return next((pair for pair in found if pair[1].run is not None), found[0])


def settings_table(of: Launching) -> Table:
    """The settings in pairs."""
    rows = [(Cell(label), Cell(cell.text, cell.key, strong=True)) for label, cell in settings(of, *_anyone(of))]
    return Table("Settings", ("", "") * 2, two_abreast(rows), PAIRS)


def trim_table(of: Launching) -> Table:
    """The trim, in words; no rows where the type gives none."""
    trim = trim_cell(of, _anyone(of)[1])
    rows = ((Cell("trim"), Cell(trim.text, trim.key, strong=True)),) if trim.text else ()
    return Table("", ("", ""), rows, (1.5, 4.2))


def seats_table(of: Launching, name: str = "In launch order") -> Table:
    """A row a seat. name : over it."""
    firsts = [of.cell(seat, "take_off.off").text.partition(" ")[2] for seat, _ in of.launched()][:1]
    rows: list[tuple[Cell, ...]] = []
    for seat in of.seats:
        launch = of.launch_of(seat)
        if launch is None:
            rows.append((Cell(""), Cell(called(seat), strong=True), Cell("ranged for another event"), *(Cell(""),) * 4))
        else:
            rows.append(_row(of, seat, launch, firsts))
    return table_alike(Table(name, COLUMNS, tuple(rows), SHOT_WIDTHS if any_shot(of) else WIDTHS))


def _row(of: Launching, seat: Seat, launch: SeatLaunch, said: Sequence[str]) -> tuple[Cell, ...]:
    """One seat. said : the day of the first take-off, which the card's head says."""
    number = of.number_of(seat)
    off = of.cell(seat, "take_off.off", strong=True)
    clock, _, then = off.text.partition(" ")
    return (
        Cell("" if number is None else f"{number}", strong=True),
        Cell(called(seat), strong=True),
        Cell(clock if [then] == list(said) else off.text, off.key, strong=True),
        needed_cell(of, seat, launch),
        left_cell(of, seat, launch),
        in_hand_cell(of, seat, launch),
        bow_cell(of, seat, launch),
    )


def past_bow_table(of: Launching) -> Table:
    """What comes past the bow to who has least in hand; no rows where nobody gets there."""
    least = least_in_hand(of)
    told = past_bow_rows(of, *least) if least is not None else ()
    name = "Past the bow" if least is None else f"Past the bow: {called(least[0])}, least in hand"
    return Table(name, ("", ""), tuple((Cell(label), cell) for label, cell in told), (0.9, 5.2))


def settings_list(of: Launching) -> Mapping[str, str]:
    """The settings and the trim as texts by label, for the page."""
    seat, launch = _anyone(of)
    found = {label: cell.text for label, cell in settings(of, seat, launch)}
    trim = trim_cell(of, launch).text
    return found | ({"trim": trim} if trim else {})
