"""The spot card: a deck load drawn to scale as it stands before the first of it goes, and who stands where."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from xml.etree import ElementTree as ET

from roundown.cards.card import Card, Cell, Sentence, Table, shortened
from roundown.cards.deck_drawing import deck_drawing, deck_view, scale_wanted
from roundown.cards.launch_card import launch_marks
from roundown.cards.launch_figures import Launching, all_texts, called, cut, launchings, numbers_on
from roundown.cards.layout import ask
from roundown.cards.markup import svg_text
from roundown.cards.pages import pages
from roundown.cards.sentences import sided
from roundown.day.deck_load import event_key
from roundown.figures import key_of
from roundown.launch.result import DeckSpot
from roundown.launch.spot import Spotted
from roundown.plan.facts import Day, Seat
from roundown.quantities import LENGTH, OFF_BOW, write
from roundown.solution import Solution

TEMPLATE = "spot-card"
WIDE = 386.0  # points, of a page
TEXTS = (16.0, 14.0, 12.5, 11.2)  # points, sizes of the drawing's text that are tried; numbers hardly smaller
SMALLEST = 10.5  # points, of a text that can be read
MOST = 440.0  # points, height of the drawing
BETWEEN = 5.0  # points, from drawing to table, and a little to spare
LEGEND = (
    "Numbers: order of launch. Dot: nose. Dotted: the first, wings spread where its run begins. Marks every 100 ft."
)
PLACES = "From the ramp: its main wheels. Run left: from where its run begins to the bow."
HEAVY = "Heavy outline: pinned by the plan."


def spot_cards(day: Day, solution: Solution) -> dict[tuple[str, str], tuple[Card, ...]]:
    """The spot card of each deck load by its first event and carrier, as the plan names them."""
    found = launchings(day, solution, all_texts(solution))
    return {
        (_events(day, spot)[0], spot.carrier): _pages(day, solution, spot, launches_from(spot, found))
        for spot in solution.spots
    }


def launches_from(spot: DeckSpot, found: Iterable[Launching]) -> tuple[Launching, ...]:
    """The launches of those a deck load is for."""
    return tuple(of for of in found if of.spot is spot)


def _events(day: Day, spot: DeckSpot) -> list[str]:
    return [event.name for event in day.events if event_key(event) in spot.events]


def spot_heading(day: Day, spot: DeckSpot) -> str:
    """Whose deck it is and for which events: "Corbel: first patrol and second patrol"."""
    *others, last = _events(day, spot)
    listed = f"{', '.join(others)} and {last}" if others else last
    return f"{day.carrier_called(spot.carrier)}: {listed}"


def _pages(day: Day, solution: Solution, spot: DeckSpot, launches: tuple[Launching, ...]) -> tuple[Card, ...]:
    """Drawing and table on one page where both go on it, else the drawing on one of its own."""
    card = Card(
        template=TEMPLATE,
        heading="Deck spot",
        title=shortened(day.title),
        subtitles=(shortened(spot_heading(day, spot)),),
        head=(),
        groups=(),
        sentences=begins(launches),
        marks=(*spot_marks(day, solution, launches), *left_out(spot, launches)),
        units=spot_legend(spot),
        drawings=(),
        plan=day.hash,
        tables=(spot_table(spot, launches),),
    )
    room, left = _room(card)
    if _size(spot, left) is not None:
        return (replace(card, drawings=(_drawing(spot, min(left, MOST)),)),)
    drawn, table = _apart(replace(card, drawings=(_drawing(spot, room),)))
    return (drawn, *pages(table))


def _room(card: Card) -> tuple[float, float]:
    """How high the drawing may be [points]: without the table and with it."""
    heights = ask(card, "table-heights", "heights")
    taken = sum(heights["gap"] + each["top"] + sum(each["rows"]) for each in heights["tables"])
    room = float(heights["room"]) - BETWEEN
    return room, room - taken - BETWEEN


def _apart(card: Card) -> tuple[Card, Card]:
    """The drawing on a card of its own, and the table on another."""
    table = replace(card, template="table-card", heading="Deck spot, places", units=PLACES, drawings=())
    return replace(card, tables=()), table


def parted(card: Card) -> tuple[Card, ...]:
    """A spot card whose table, longer than it was, no longer leaves the drawing its room, as two; any other as it is.

    The table may need several pages.
    """
    if card.template != TEMPLATE or not card.tables:
        return (card,)
    high, *_ = map(float, re.findall(r' height="([\d.]+)pt"', card.drawings[0]))
    smallest = min(map(float, re.findall(r'font-size="([\d.]+)"', card.drawings[0])))
    shrunk = min(_room(card)[1] / high, 1.0)
    return (card,) if smallest * shrunk >= SMALLEST else _apart(card)


def spot_legend(spot: DeckSpot) -> str:
    """What the lines of the drawing mean."""
    return f"{LEGEND} {HEAVY}" if any(place.pinned for place in spot.spotting.places.values()) else LEGEND


def _size(spot: DeckSpot, height: float) -> float | None:
    """The greatest size of text at which every number can be read [points]; None where there is none of them."""
    return next((size for size in TEXTS if height > size and reads(spot, WIDE, height, size)), None)


def reads(spot: DeckSpot, width: float, height: float, size: float) -> bool:
    """Whether every number of a drawing is hardly smaller than its text. Arguments as of `spot_drawing`."""
    wanted = scale_wanted([parked.footprint for parked in spot.load], spot.deck, size)
    return deck_view(spot.deck, width, height, size, wanted).per_metre >= wanted


def _drawing(spot: DeckSpot, height: float) -> str:
    drawn = spot_drawing(spot, WIDE, height, _size(spot, height) or TEXTS[-1], "deck")
    drawn.attrib |= {"width": f"{WIDE:g}pt", "height": f"{drawn.attrib['viewBox'].split()[3]}pt"}
    return svg_text(drawn)


def spot_drawing(spot: DeckSpot, width: float, height: float, size: float, name: str) -> ET.Element:
    """The deck of a load. width, height : of the sheet; size : of the text; name : makes its ids its own."""
    prints = {parked.key: parked.footprint for parked in spot.load}
    return deck_drawing(spot.spotting, prints, spot.deck, width, height, size, name)


def spot_marks(day: Day, solution: Solution, launches: tuple[Launching, ...]) -> tuple[str, ...]:
    """The marks of the launches together."""
    return tuple(dict.fromkeys(mark for of in launches for mark in launch_marks(day, solution, of)))


def begins(launches: tuple[Launching, ...]) -> tuple[Sentence, ...]:
    """When engines are started and the first goes."""
    if not launches:
        return ()
    of = launches[0]
    start, off = (of.figure(f"{of.key}.sequence.{what}") for what in ("start_engines", "first_off"))
    return (Sentence(f"Start engines {start.text}, first off {off.text}.", (start.key, off.key)),)


def left_out(spot: DeckSpot, launches: tuple[Launching, ...]) -> tuple[str, ...]:
    """Who finds no place, in one mark; none where all stand."""
    names = {key_of(seat.side): called(seat) for of in launches for seat in of.seats}
    those = [names.get(key, spot.sides[key]) for key in spot.spotting.left_out]
    return (f"No place on deck for {', '.join(those)}.",) if those else ()


def spot_table(spot: DeckSpot, launches: tuple[Launching, ...]) -> Table:
    """Who stands where, in launch order; the squadrons only where there are several."""
    several = len({of.squadron.name for of in launches}) > 1
    whose = _whose(launches)
    rows = []
    for key, number in numbers_on(spot).items():
        of, seat = whose[key]
        place = spot.spotting.places[key]
        squadron = (Cell(cut(of.squadron.label)),) if several else ()
        rows.append(
            (
                Cell(f"{number}", strong=True),
                Cell(f"{called(seat)}{_pinned(place)}", strong=True),
                *squadron,
                of.cell(seat, "spot.ahead"),
                Cell(sided(place.port, LENGTH, "to port", "to starboard"), of.seat_key(seat, "spot.port")),
                _left(of, seat),
            )
        )
    columns = ("No.", "Seat", *(("Squadron",) if several else ()), "From the ramp", "From the centre line", "Run left")
    widths = (0.5, 1.6, *((1.8,) if several else ()), 1.0, 1.6, 0.9)
    return Table("", columns, tuple(rows), widths)


def _left(of: Launching, seat: Seat) -> Cell:
    """Run left, or that it is shot off."""
    launch = of.launch_of(seat)
    shot = launch is not None and launch.shot is not None
    return Cell("catapult", strong=True) if shot else of.cell(seat, "spot.run_left", strong=True)


def _whose(launches: Iterable[Launching]) -> Mapping[str, tuple[Launching, Seat]]:
    """Each seat by its key with the launch its figures are in."""
    return {key_of(seat.side): (of, seat) for of in launches for seat, _ in of.launched()}


def _pinned(place: Spotted) -> str:
    if not place.pinned:
        return ""
    turned = write(place.heading, OFF_BOW)
    return f" (pinned, nose {turned})" if turned.split(" ")[-1] in {"port", "starboard"} else " (pinned)"
