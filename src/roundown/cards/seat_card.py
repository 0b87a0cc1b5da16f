"""The personal card of a seat: one page for each event its pilot flies, from spot to ramp.

What is not worked out (join-up, route, fuel on the way) is not on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from roundown.cards.card import Card, Cell, Line, Table, channels_table, shortened, two_abreast
from roundown.cards.clock_column import table_alike
from roundown.cards.launch_card import launch_marks
from roundown.cards.launch_figures import Launching, all_texts, launchings
from roundown.cards.marks import ESTIMATED, marks_of
from roundown.cards.pages import pages
from roundown.cards.recovery_figures import Recovering, recoverings
from roundown.cards.recovery_tables import fuel_cell
from roundown.cards.seat_launch_tables import seat_launch_tables
from roundown.cards.sentences import by_what
from roundown.day.deck_load import event_key
from roundown.figures import key_of
from roundown.plan.facts import Day, FlyingEvent, Seat, Squadron
from roundown.recovery.stack import Stack
from roundown.solution import Solution

CIRCUIT = (
    ("Break to roll-out", "circuit.break_to_rollout"),
    ("Abeam", "circuit.abeam"),
    ("Turn-in after", "circuit.rollout_to_turn_in"),
    ("Ramp off nose", "circuit.ramp_off_nose"),
    ("Bank", "circuit.final_bank"),
)
LONGEST = 160  # letters of a task, a load or a target, as many as a row holds
SIDE = 12  # letters of a side number in the heading


@dataclass(frozen=True)
class _Book:
    """Where the figures of a seat are: those of the day, and of its own carrier and type.

    stem : before the keys of the latter, "parts.lintel.brindle." or ""
    launches : of every event by its name and the squadron's, with their marks
    recoveries : of every event by its name and the carrier's
    """

    day: Day
    solution: Solution
    texts: Mapping[str, str]
    stem: str
    launches: Mapping[tuple[str, str], tuple[Launching, tuple[str, ...]]]
    recoveries: Mapping[tuple[str, str], Recovering]

    def recovering(self, seat: Seat, event: FlyingEvent) -> tuple[Recovering, Stack] | None:
        """The recovery he comes home in and its stack; None where there is none."""
        of = self.recoveries.get((event.name, self.day.squadrons[seat.squadron].ship))
        return (of, of.stack) if of is not None and isinstance(of.stack, Stack) else None

    def line(self, label: str, key: str, note: str = "") -> Line | None:
        """A figure with its label; None where there is none. What belongs to a clock time is set small beside it."""
        text = self.texts.get(key, "")
        if not text or text == "none":
            return None
        clock, _, day = text.partition(" ") if label in _TIMES else (text, "", "")
        return Line(label, clock, key, note or day, large=True)

    def cell(self, key: str) -> Cell:
        """A figure in a table; empty where there is none."""
        text = self.texts.get(key, "")
        return Cell("" if text == "none" else text, key if text and text != "none" else "", strong=True)


_TIMES = ("Take-off", "Over the ramp")


def seat_cards(day: Day, solution: Solution) -> dict[str, tuple[Card, ...]]:
    """The cards of each seat that flies, by its side number, in the order of the first event each flies."""
    books: dict[str, _Book] = {}
    marks: dict[str, tuple[str, ...]] = {}
    texts = all_texts(solution)
    launches = {
        (of.event.name, of.squadron.name): (of, launch_marks(day, solution, of))
        for of in launchings(day, solution, texts)
    }
    recoveries = {(of.event.name, of.carrier): of for of in recoverings(day, solution, texts)}
    events: dict[str, list[FlyingEvent]] = {}
    seats: dict[str, Seat] = {}
    for event in day.events:
        for seat in event.seats:
            events.setdefault(seat.side, []).append(event)
            seats[seat.side] = seat
            part = _part(day, seat)
            if part not in books:
                books[part], marks[part] = _book(day, solution, texts, part, launches, recoveries)
    return {
        side: tuple(
            page
            for i, event in enumerate(flown, 1)
            for page in _pages(
                books[_part(day, seats[side])], seats[side], event, marks[_part(day, seats[side])], (i, len(flown))
            )
        )
        for side, flown in events.items()
    }


def _part(day: Day, seat: Seat) -> str:
    squadron = day.squadrons[seat.squadron]
    return f"{squadron.ship}.{squadron.type}"


def _book(
    day: Day,
    solution: Solution,
    texts: Mapping[str, str],
    part: str,
    launches: Mapping[tuple[str, str], tuple[Launching, tuple[str, ...]]],
    recoveries: Mapping[tuple[str, str], Recovering],
) -> tuple[_Book, tuple[str, ...]]:
    keys = [key for _, key in CIRCUIT]
    marks = marks_of(day, solution, ["flight.course", *keys])
    if part == day.part:
        return _Book(day, solution, texts, "", launches, recoveries), marks
    theirs = solution.parts[part]
    marks = tuple(
        dict.fromkeys(
            (
                *marks_of(day, solution, ["flight.course"]),
                *(mark for mark in marks_of(day.parts[part], theirs, keys) if mark == ESTIMATED),
            )
        )
    )
    return _Book(day.parts[part], solution, texts, f"parts.{part}.", launches, recoveries), marks


def _pages(
    book: _Book, seat: Seat, event: FlyingEvent, marks: tuple[str, ...], of: tuple[int, int]
) -> tuple[Card, ...]:
    """One event of one seat; of : which of how many events he flies."""
    day = book.day
    squadron = day.squadrons[seat.squadron]
    stem = f"events.{event_key(event)}"
    own = f"{stem}.seats.{key_of(seat.side)}"
    shown = by_what(book.solution.cockpit.shown)
    launching, own_marks = book.launches.get((event.name, squadron.name), (None, ()))
    course = book.line("Flight course", f"{book.stem}cockpit.flight_course", shown)
    home = book.recovering(seat, event)
    ramp = f"{own}.over_ramp" if home is None else home[0].key(f"aeroplanes.{key_of(seat.side)}.over_ramp")
    head = (book.line("Take-off", f"{own}.take_off"), book.line("Over the ramp", ramp), course)
    fuel = " Fuel: holding from the first Charlie on." if _fuel(book, seat, event).text else ""
    card = Card(
        template="table-card",
        heading=f"Seat {_cut(seat.side, SIDE)}" + (f", event {of[0]} of {of[1]}" if of[1] > 1 else ""),
        title=shortened(day.title),
        subtitles=tuple(shortened(line) for line in _who(day, seat, squadron)),
        head=tuple(line for line in head if line is not None),
        groups=(),
        sentences=(),
        marks=tuple(dict.fromkeys((*marks, *own_marks))),
        units=f"Ship’s clock, zone {day.word('place.zone')}. Courses {shown}.{fuel}",
        drawings=(),
        plan=day.hash,
        tables=(
            _task(event),
            _part_of(book, stem, seat, event),
            *(seat_launch_tables(launching, seat) if launching is not None else ()),
            _beside(seat, event),
            _circuit(book),
            _gates(book),
            _radio(day, squadron),
        ),
    )
    return pages(card)


def _who(day: Day, seat: Seat, squadron: Squadron) -> Iterator[str]:
    """Who he is, where he belongs, what he flies from where."""
    yield ", ".join(part for part in (seat.name, f"call sign {seat.call_sign}" if seat.call_sign else "") if part)
    leads = f"; leads the {seat.leader}" if seat.leader else ""
    moved = squadron.moved.get(seat.name, "") if seat.name else ""
    changed = f"; moved here from seat {moved}" if moved else ""
    yield f"{squadron.label}, division {seat.division}, section {seat.section}{leads}{changed}"
    yield f"{day.word('type.label')}; {day.word('ship.label')}"


def _task(event: FlyingEvent) -> Table:
    given = (("task", event.task), ("target", event.target), ("load", event.load))
    rows = tuple((Cell(label), Cell(_cut(text), strong=True)) for label, text in given if text)
    return Table(shortened(event.name).capitalize(), ("", ""), rows or ((Cell("task"), Cell("not given")),), (1.0, 6.0))


def _cut(text: str, longest: int = LONGEST) -> str:
    words = " ".join(text.split())
    return words if len(words) <= longest else words[: longest - 1].rstrip() + "…"


def _part_of(book: _Book, stem: str, seat: Seat, event: FlyingEvent) -> Table:
    """His place and his times, in the order they come."""
    own = f"{stem}.seats.{key_of(seat.side)}"
    times = book.solution.events[event_key(event)].seats[key_of(seat.side)]
    ship = book.day.squadrons[seat.squadron].ship
    count = sum(book.day.squadrons[each.squadron].ship == ship for each in event.seats)
    rows: list[tuple[Cell, Cell]] = []
    if event.launch is not None:
        rows.append((Cell("goes off"), Cell(f"{_ordinal(times.place)} of {count}", strong=True)))
        launch = book.cell("cockpit.launch_course")
        if launch.text != book.texts["cockpit.flight_course"]:
            rows.append((Cell("course to launch"), launch))
    rows += [(Cell("departs"), book.cell(f"{stem}.push")), (Cell("on target"), book.cell(f"{stem}.time_on_target"))]
    rows += _home(book, seat, event, f"{own}.at_initial")
    if event.recovery is not None:
        rows.append((Cell("over the ramp"), Cell(f"{_ordinal(times.landing_place)} of {count}", strong=True)))
        rows.append((Cell("fuel at the ramp"), _fuel(book, seat, event)))
        rows.append((Cell("reciprocal"), book.cell(f"{book.stem}cockpit.reciprocal")))
    rows = [row for row in rows if row[1].text]
    return table_alike(Table("Your part", ("", "") * 2, two_abreast(rows), (1.7, 1.5) * 2))


def _home(book: _Book, seat: Seat, event: FlyingEvent, at_initial: str) -> list[tuple[Cell, Cell]]:
    """His block, when his flight leaves the lowest one, and when he is due at the initial.

    at_initial : key of the last where there is no stack
    """
    found = book.recovering(seat, event)
    if found is None:
        return [(Cell("at the initial"), book.cell(at_initial))]
    of, stack = found
    flight = stack.aeroplanes[key_of(seat.side)].flight
    wrong = of.trouble_of(key_of(seat.side))
    rows = [(Cell("comes home with"), Cell(wrong, strong=True))] if wrong else []
    rows.append((Cell("holds at"), of.cell(f"flights.{flight}.block", strong=True)))
    for name, stay in stack.flights[flight].steps.items():
        if stay.number > 1:
            left = of.cell(f"flights.{flight}.steps.{name}.leaves", strong=True)
            rows.append((Cell(f"leaves {of.cell(f'flights.{flight}.steps.{name}.height').text}"), left))
    return [
        *rows,
        (Cell("leaves at Charlie"), of.cell(f"flights.{flight}.charlie", strong=True)),
        (Cell("at the initial"), of.cell(f"aeroplanes.{key_of(seat.side)}.at_initial", strong=True)),
    ]


def _fuel(book: _Book, seat: Seat, event: FlyingEvent) -> Cell:
    """With how much fuel he is due over the ramp; empty where that is not known."""
    found = book.recovering(seat, event)
    return Cell("") if found is None else fuel_cell(*found, key_of(seat.side))


def _ordinal(number: int) -> str:
    last = number % 10 if number % 100 not in {11, 12, 13} else 0
    return str(number) + {1: "st", 2: "nd", 3: "rd"}.get(last, "th")


def _beside(seat: Seat, event: FlyingEvent) -> Table:
    """Who leads him and who flies beside him, of those who fly the event."""
    wing = [other for other in event.seats if other.squadron == seat.squadron]
    division = [other for other in wing if other.division == seat.division]
    section = [other for other in division if other.section == seat.section]
    roles: dict[str, list[str]] = {}
    people = {other.side: other for other in wing}
    for what, among, leads in (
        ("squadron", wing, ("squadron",)),
        ("division", division, ("squadron", "division")),
        ("section", section, ("squadron", "division", "section")),
    ):
        leader = next((other.side for word in leads for other in among if other.leader == word), None)
        if leader is not None:
            roles.setdefault(leader, []).append(what)
    told = {side: f"{'lead' if side == seat.side else 'leads'} the {_listed(whats)}" for side, whats in roles.items()}
    for other in section:
        if other.side != seat.side:
            told[other.side] = "; ".join(part for part in ("beside you", told.get(other.side, "")) if part)
    if seat.leader:
        told.pop(seat.side, None)  # it stands under his name
    order = sorted(told, key=lambda side: side != seat.side)
    rows = [
        (Cell("you" if side == seat.side else _cut(f"{side} {people[side].name}"), strong=True), Cell(told[side]))
        for side in order
    ]
    rows += [
        (Cell(label), Cell(_cut(", ".join(f"{other.side} {other.name}".strip() for other in led))))
        for label, led in _led(seat, wing, division).items()
    ]
    return Table("With you", ("", ""), tuple(rows), (1.6, 4.4))


def _led(seat: Seat, wing: Sequence[Seat], division: Sequence[Seat]) -> dict[str, list[Seat]]:
    """Whom a leader leads beside his own section: of a squadron by divisions, of a division by sections."""
    found: dict[str, list[Seat]] = {}
    among = wing if seat.leader == "squadron" else division if seat.leader == "division" else ()
    for other in among:
        if (other.division, other.section) != (seat.division, seat.section):
            part = f"division {other.division}" if seat.leader == "squadron" else f"section {other.section}"
            found.setdefault(part, []).append(other)
    return found


def _listed(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else words[0]


def _circuit(book: _Book) -> Table:
    """The five figures of his own type on his own carrier; no table where it has no circuit."""
    found = [(label, book.cell(f"{book.stem}{key}")) for label, key in CIRCUIT]
    rows = (tuple(cell for _, cell in found),) if all(cell.text for _, cell in found) else ()
    return Table("The circuit", tuple(label for label, _ in found), rows, (1.3, 1.0, 1.1, 1.1, 0.8))


def _gates(book: _Book) -> Table:
    """How high and how fast at four gates of that circuit; no table where it has none."""
    gates = ("initial", "turn-in", "ninety", "ramp")
    rows = tuple(
        (Cell(label), *(book.cell(f"{book.stem}circuit.gates.{gate}.{what}") for gate in gates))
        for label, what in (("over the sea", "height"), ("indicated", "indicated"))
    )
    shown = rows if all(cell.text for row in rows for cell in row) else ()
    return Table("", ("", "Initial", "Turn-in", "Ninety", "Ramp"), shown, (1.3, 1.0, 1.0, 1.0, 1.0))


def _radio(day: Day, squadron: Squadron) -> Table:
    """The channels, without those that are for another carrier by name."""
    others = {each.ship.casefold() for each in day.squadrons.values()} - {squadron.ship.casefold()}
    own = squadron.ship.casefold()

    def elsewhere(use: str) -> bool:
        return own not in use.casefold() and any(other in use.casefold() for other in others)

    rows = [
        (_cut(each.name), _cut(each.use), _cut(each.frequency), _cut(each.call_sign))
        for each in day.radio.channels
        if not elsewhere(each.use)
    ]
    return channels_table("Radio", rows)
