"""The light and wind card: sun and moon of the date, wind by height, the sea it raises, air and compass.

Wind is written as a pilot says it, by where it comes from; where the simulator names it by where it goes, that is
written beside it.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence

from roundown.cards.card import Card, Cell, Line, Table, shortened, two_abreast
from roundown.cards.clock_column import table_alike
from roundown.cards.marks import marks_of
from roundown.cards.pages import pages
from roundown.cards.sentences import by_what
from roundown.figures import Figure
from roundown.plan.facts import Day
from roundown.quantities import (
    HEIGHT_OVER_SEA,
    KNOT,
    LENGTH,
    PRESSURE,
    TEMPERATURE,
    TRUE_DIRECTION,
    VARIATION,
    WIND_SPEED,
    Kind,
    write,
)
from roundown.schedule.conditions import SKY_FIELDS
from roundown.solution import Solution

SIMULATORS = "the simulator’s"
SURFACE = 10.0  # m, the height of the surface wind
CALM = 0.05 * KNOT  # m/s, below which a wind would be shown as nil
PAIRS = (2.3, 1.5)
_SUN = ("sunrise", "sunset")


def light_cards(day: Day, solution: Solution) -> tuple[Card, ...]:
    """The light and wind card, on as many pages as it needs."""
    figures = solution.figures
    sun = [
        Line(_sky_label(name, solution).capitalize(), figures[f"light.{name}"].text, f"light.{name}") for name in _SUN
    ]
    direction, speed = _wind(day, "weather.wind_from", "weather.wind_speed")
    wind = [Line("Surface wind from", direction.text, direction.key), Line("at", speed.text, speed.key)]
    if not direction.key:
        wind = [Line("Surface wind", direction.text, "weather.wind_speed")]
    return pages(
        Card(
            template="table-card",
            heading="Light and wind",
            title=shortened(day.title),
            subtitles=(shortened(f"{date_of(day)}; {day.givens['place.latitude'].text}"),),
            head=(*sun, *wind),
            groups=(),
            sentences=(),
            marks=marks_of(day, solution, [f"light.{name}" for name in SKY_FIELDS]),
            units=light_note(day),
            drawings=(),
            plan=day.hash,
            tables=light_tables(day, solution, figures, [name for name in SKY_FIELDS if name not in _SUN]),
        )
    )


def light_note(day: Day) -> str:
    """By what clock and from where the figures of light and wind are."""
    clock = f"Times by the ship’s clock, zone {day.word('place.zone')}, at the datum place"
    return f"{clock}; directions true unless marked; heights over the sea."


def date_of(day: Day) -> str:
    """The plan's date, by the ship's clock."""
    date = dt.date.fromisoformat(day.word("place.date"))
    return f"{date.day} {date:%B} {date.year}"


def light_tables(
    day: Day, solution: Solution, figures: dict[str, Figure], skies: Sequence[str] = SKY_FIELDS
) -> tuple[Table, ...]:
    """The figures of light, wind, sea, air and compass, for card and page.

    skies : what of sun and moon is shown; their names in the Solution's light
    """
    sky = [(Cell(_sky_label(name, solution)), _cell(figures, f"light.{name}")) for name in skies]
    sky.append((Cell("moon lit at noon, full is 1"), _cell(figures, "light.moon_lit")))
    return (
        table_alike(Table("Sun and moon", ("", "") * 2, two_abreast(sky), PAIRS * 2)),
        _winds(day, figures),
        Table("Sea", ("", "") * 2, two_abreast(_sea(day, solution, figures)), (0.8, 2.7, 1.9, 1.0)),
        Table("Air and compass", ("", "") * 2, two_abreast(_air(day, solution, figures)), PAIRS * 2),
    )


def _sky_label(name: str, solution: Solution) -> str:
    said = name.replace("_", " ")
    return f"{said}, {SIMULATORS}" if name in solution.light.simulated else said


def _cell(figures: dict[str, Figure], key: str) -> Cell:
    return Cell(figures[key].text, key, strong=True)


def _given(day: Day, key: str, kind: Kind) -> Cell:
    return Cell(write(day.number(key), kind), key, strong=True)


def _wind(day: Day, direction: str, speed: str) -> tuple[Cell, Cell]:
    """Where a wind comes from and how strong it is; a calm has neither figure."""
    if day.number(speed) < CALM:
        return Cell("calm", strong=True), Cell("")
    return _given(day, direction, TRUE_DIRECTION), _given(day, speed, WIND_SPEED)


def _winds(day: Day, figures: dict[str, Figure]) -> Table:
    """The wind by height, as the pilot says it and, where the simulator has it so, as it is set there."""
    goes_to = "simulator.winds" in day.givens and day.word("simulator.winds") == "to"
    rows: list[tuple[Cell, ...]] = []

    def row(height: Cell, direction: Cell, speed: Cell, toward: float | None) -> None:
        calm = not direction.key
        setting = "" if toward is None else "calm" if calm else f"goes to {write(toward, TRUE_DIRECTION)}"
        rows.append((height, direction, speed, Cell(setting)) if goes_to else (height, direction, speed))

    surface = Cell(f"surface ({write(SURFACE, HEIGHT_OVER_SEA)})")
    row(surface, *_wind(day, "weather.wind_from", "weather.wind_speed"), _reverse(day, "weather.wind_from"))
    calm = figures["flight.wind_speed"].value
    at_deck = (_cell(figures, "flight.wind_from"), _cell(figures, "flight.wind_speed"))
    if calm is None or calm < CALM:
        at_deck = (Cell("calm", strong=True), Cell(""))
    deck = Cell(f"deck ({write(day.number('ship.deck_height'), HEIGHT_OVER_SEA)}), reckoned")
    row(deck, *at_deck, None)
    level = 1
    while (stem := f"weather.winds.{level}") and f"{stem}.height" in day.givens:
        height = Cell(write(day.number(f"{stem}.height"), HEIGHT_OVER_SEA), f"{stem}.height")
        row(height, *_wind(day, f"{stem}.from", f"{stem}.speed"), _reverse(day, f"{stem}.from"))
        level += 1
    rows[1:] = sorted(rows[1:], key=lambda cells: _height_of(day, cells[0]))
    columns = ("Height", "From, as said", "Speed", "Set in the simulator")
    return Table(
        "Wind by height", columns if goes_to else columns[:3], tuple(rows), (2.4, 1.5, 1.2, 2.2)[: len(rows[0])]
    )


def _reverse(day: Day, key: str) -> float:
    return (day.number(key) + math.pi) % math.tau


def _height_of(day: Day, cell: Cell) -> float:
    """Height of a row of the winds [m]; the one without a key is the deck's."""
    return day.number(cell.key) if cell.key else day.number("ship.deck_height")


def _sea(day: Day, solution: Solution, figures: dict[str, Figure]) -> Sequence[tuple[Cell, Cell]]:
    sea = solution.sea
    return (
        (Cell("wind"), Cell(f"force {sea.force}, {sea.wind_term}", strong=True)),
        (Cell("waves of this wind"), _cell(figures, "sea.wave_height")),
        (Cell("sea"), Cell(f"state {sea.state}, {sea.state_term}", strong=True)),
        (Cell("with the swell"), _cell(figures, "sea.combined_height")),
        (Cell("swell"), _given(day, "weather.swell", LENGTH)),
    )


def _air(day: Day, solution: Solution, figures: dict[str, Figure]) -> Sequence[tuple[Cell, Cell]]:
    variation = day.givens["place.variation"]
    whose = f"as {SIMULATORS} compass has it" if variation.origin.file != "built-in" else "earth’s field of the date"
    rows = [
        (Cell(f"variation, {whose}"), _given(day, "place.variation", VARIATION)),
        (Cell("headings in the cockpit"), Cell(by_what(solution.cockpit.shown), strong=True)),
        (Cell("temperature at the sea"), _given(day, "weather.temperature", TEMPERATURE)),
        (Cell("pressure at the sea"), _given(day, "weather.pressure", PRESSURE)),
        (Cell("density altitude at the sea"), _cell(figures, "air.density_altitude")),
        (Cell("altimeter set to"), _given(day, "cockpit.altimeter", PRESSURE)),
    ]
    if write(day.number("cockpit.altimeter"), PRESSURE) != write(day.number("weather.pressure"), PRESSURE):
        initial = write(day.number("doctrine.circuit.initial_height"), HEIGHT_OVER_SEA)
        rows += [
            (Cell("altimeter then shows on deck"), _cell(figures, "air.altimeter_on_deck")),
            (Cell(f"and at the initial, {initial}"), _cell(figures, "air.altimeter_at_initial")),
        ]
    return rows
