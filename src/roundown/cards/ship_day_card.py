"""The ship's day: her track and the base track, who is in company where, and each time of flying with its turns."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from xml.etree import ElementTree as ET

from roundown.cards.card import Card, Cell, Table, shortened
from roundown.cards.clock_column import table_alike
from roundown.cards.company_drawing import company_drawing
from roundown.cards.day_track_drawing import day_track_drawing, legend, lies_across
from roundown.cards.layout import ask
from roundown.cards.light_card import date_of
from roundown.cards.marks import marks_of
from roundown.cards.markup import svg_text
from roundown.cards.pages import pages
from roundown.cards.sentences import by_what, sided
from roundown.day.deck_load import event_key
from roundown.day.flying import leaves_course
from roundown.figures import Figure, key_of
from roundown.plan.facts import Day
from roundown.quantities import COURSE_CHANGE
from roundown.ship.day_track import DayTrack
from roundown.solution import Solution, Unsolved

WIDE, TEXT, COMPANY = 386.0, 11.0, 140.0  # points: of a page, of the drawings' text, of the sheet of stations
LEAST, MOST = 190.0, 440.0  # points, height of the track's sheet
BETWEEN = 8.0  # points, from drawing to drawing, and a little to spare
ABREAST = 4  # times of flying side by side in a table
TO_LAUNCH = "_launch"  # how the name of a period to launch ends
SAME = 1.0  # s: an order this near to steady is no turn


def ship_day_cards(day: Day, solution: Solution) -> tuple[Card, ...]:
    """The ship's day on one page where tables and drawings go on it, else on several; none where she has no track."""
    track = solution.track
    if isinstance(track, Unsolved):
        return ()
    figures = solution.figures
    clock = f"Times by the ship’s clock, zone {day.word('place.zone')}. The base track is kept from the datum on."
    card = Card(
        template="ship-day-card",
        heading="Ship’s day",
        title=shortened(day.title),
        subtitles=(shortened(f"{date_of(day)}; {day.word('ship.label')}"),),
        head=(),
        groups=(),
        sentences=(),
        marks=marks_of(day, solution, [key for key in figures if key.startswith("track.")]),
        units=f"{legend(day.sea_room)}. {clock}",
        drawings=(),
        plan=day.hash,
        tables=(*period_tables(day, solution, track, figures), *_company(day, figures)),
    )
    heights = ask(card, "table-heights", "heights")
    taken = sum(heights["gap"] + each["top"] + sum(each["rows"]) for each in heights["tables"])
    left = float(heights["room"]) - taken - 2.0 * BETWEEN
    if left >= LEAST:
        return (replace(card, drawings=_drawings(day, solution, track, (WIDE, min(left, MOST)), across=False)),)
    tables = pages(replace(card, template="table-card", heading="Ship’s turns", units=clock))
    room = WIDE, float(heights["room"]) - 2.0 * BETWEEN
    drawings = _drawings(day, solution, track, room, across=lies_across(track))
    return (replace(card, tables=(), drawings=drawings), *tables)


def _drawings(
    day: Day, solution: Solution, track: DayTrack, room: tuple[float, float], *, across: bool
) -> tuple[str, ...]:
    """The track, and the stations where there are some. room : for both; across : one under the other, not abreast."""
    width, height = room
    if solution.stations:
        width, height = (width, height - COMPANY - BETWEEN) if across else (width - COMPANY - BETWEEN, height)
    drawn = [day_track_drawing(track, day.sea_room, width, height, TEXT, "day-track")]
    if solution.stations:
        names = {key_of(ship.name): ship.called for ship in day.company}
        course = solution.flight.course
        drawn.append(company_drawing(solution.stations, names, day.ship_called, course, COMPANY, TEXT))
    return tuple(svg_text(_in_points(each)) for each in drawn)


def _in_points(drawing: ET.Element) -> ET.Element:
    """A drawing whose sheet units are points of the page."""
    wide, high = drawing.attrib["viewBox"].split()[2:]
    drawing.attrib |= {"width": f"{wide}pt", "height": f"{high}pt"}
    return drawing


def period_tables(day: Day, solution: Solution, track: DayTrack, figures: dict[str, Figure]) -> tuple[Table, ...]:
    """Each time of flying in a column of its own, some abreast, for card and page."""
    names = list(track.periods)
    return tuple(
        table_alike(
            Table(
                "Into the wind" if i == 0 else "Into the wind, later",
                ("", *(_said(day, name) for name in names[i : i + ABREAST])),
                tuple(_rows(solution, track, figures, names[i : i + ABREAST])),
                (1.75, *(1.3 for _ in names[i : i + ABREAST])),
            )
        )
        for i in range(0, len(names), ABREAST)
    )


def _said(day: Day, period: str) -> str:
    """A period's name as people gave it: the event's, and to launch or recover."""
    for event in day.events:
        for what in ("launch", "recovery"):
            if period == f"{event_key(event)}_{what}":
                return f"{event.name}, {what}"
    return period.replace("_", " ")


def _rows(
    solution: Solution, track: DayTrack, figures: dict[str, Figure], names: Sequence[str]
) -> Iterable[tuple[Cell, ...]]:
    def cell(name: str, what: str, *, strong: bool = False) -> Cell:
        key = f"track.periods.{name}.{what}"
        return Cell(figures[key].text, key, strong=strong)

    def turned(name: str) -> bool:
        period = track.periods[name]
        return period.steady - period.order > SAME

    def order(name: str) -> Cell:
        return cell(name, "order", strong=True) if turned(name) else Cell("holds on")

    def turn(name: str) -> Cell:
        if not turned(name):
            return Cell("")
        text = sided(track.periods[name].turn, COURSE_CHANGE, "to starboard", "to port")
        return Cell(text, f"track.periods.{name}.turn")

    def pilots(name: str) -> Cell:
        key = "cockpit.launch_course" if name.endswith(TO_LAUNCH) else "cockpit.flight_course"
        return Cell(figures[key].text, key, strong=True)

    def regained(name: str) -> Cell:
        if track.periods[name].regained is not None:
            return cell(name, "regained")
        if track.periods[name].left_off is None:
            return Cell("no")
        if not leaves_course(track, name):
            return Cell("holds on")
        key = f"track.periods.{name}.left_off"
        return Cell(f"{figures[key].text} off at the next turn", key)

    rows = (
        ("order to turn", order),
        ("turn", turn),
        ("steady", lambda name: cell(name, "steady")),
        ("flight course, true", lambda name: cell(name, "course")),
        (f"the same, {by_what(solution.cockpit.shown)}", pilots),
        ("speed", lambda name: cell(name, "speed")),
        ("flying ends", lambda name: cell(name, "end", strong=True)),
        ("then off base track", lambda name: cell(name, "off_at_end")),
        ("on bearing, true", lambda name: cell(name, "bearing_at_end")),
        ("base track regained", regained),
    )
    for label, made in rows:
        yield (Cell(label), *(made(name) for name in names))


def _company(day: Day, figures: dict[str, Figure]) -> tuple[Table, ...]:
    """Where each ship stands from the guide while flying; no table without company."""
    rows = []
    for ship in day.company:
        stem = f"stations.{key_of(ship.name)}"
        what = f"plane guard of {day.carrier_called(ship.guards)}" if ship.role == "plane guard" else ship.role
        keys = (f"{stem}.bearing", f"{stem}.distance", f"{stem}.off_bow")
        rows.append(
            (
                Cell(ship.called, strong=True),
                Cell(what),
                *(Cell(figures[key].text, key) for key in keys if key in figures),
            )
        )
    columns = ("Ship", "What she is", "True", "Distance", "Off the guide’s bow")
    return (Table("In company while flying", columns, tuple(rows), (1.6, 2.2, 0.8, 1.3, 2.2)),) if rows else ()
