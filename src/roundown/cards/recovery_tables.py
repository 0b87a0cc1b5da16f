"""What a recovery is told in on card and page: its times, and tables of flights, steps down, fuel and a foul deck."""

from __future__ import annotations

from dataclasses import dataclass, replace

from roundown.cards.card import Cell, Sentence, Table
from roundown.cards.clock_column import clocks_alike, table_alike
from roundown.cards.recovery_figures import Recovering
from roundown.recovery.rhythm import Rhythm
from roundown.recovery.stack import FoulDeck, Stack, StackedFlight

ABREAST = 3  # steps down in a row
SHORT = 4  # that are named
FLIGHT_WIDTHS = (0.5, 2.05, 1.1, 1.05, 1.05, 1.05, 1.05)
STEP_WIDTHS = (0.9, *(1.1, 1.1) * ABREAST)
FUEL_WIDTHS = (0.8, 1.1, 1.9, 1.2, 1.5)
FOUL_WIDTHS = (1.0, 1.45, 1.25, 1.35, 0.95, 1.6)


def head_cells(of: Recovering) -> tuple[tuple[str, Cell], ...]:
    """The times of the whole recovery with their labels; what is not known is left out."""
    found = (
        ("Prep Charlie", of.prep_charlie()),
        ("First Charlie", of.cell("first_charlie")),
        ("First over ramp", _first_over_ramp(of)),
        ("Last over ramp", of.cell("last_over_ramp")),
        ("Deck open until", of.open_until()),
    )
    return tuple((label, cell) for label, cell in found if cell.text)


def _first_over_ramp(of: Recovering) -> Cell:
    stack = of.stack
    return of.cell(f"flights.{next(iter(stack.flights))}.first_over_ramp") if isinstance(stack, Stack) else Cell("")


def rhythm_sentence(of: Recovering) -> tuple[Sentence, ...]:
    """How long it takes, as planned and when things go amiss; none where that is not worked out."""
    if not isinstance(of.rhythm, Rhythm):
        return ()
    planned, slow = of.cell("planned", "rhythm"), of.cell("slow", "rhythm")
    return (
        Sentence(
            f"First over the ramp to deck ready: planned {planned.text}, nine in ten within {slow.text}; "
            "rates are assumptions.",
            (planned.key, slow.key),
        ),
    )


@dataclass(frozen=True)
class _Clock:
    """Times in a table: the day is said only where it is not that of the first Charlie, which the head says."""

    of: Recovering

    def cell(self, what: str, *, strong: bool = False) -> Cell:
        found = self.of.cell(what, strong=strong)
        clock, _, then = found.text.partition(" ")
        said = self.of.cell("first_charlie").text.partition(" ")[2]
        return Cell(clock if then == said else found.text, found.key, found.strong)


def flights_table(of: Recovering, stack: Stack) -> Table:
    """A row a flight, in landing order."""
    clock = _Clock(of)
    rows = [
        (
            Cell(f"{place}", strong=True),
            Cell(of.flight_called(flight), strong=True),
            of.cell(f"flights.{key}.block", strong=True),
            clock.cell(f"flights.{key}.charlie", strong=True),
            clock.cell(f"flights.{key}.at_initial"),
            clock.cell(f"flights.{key}.first_over_ramp", strong=True),
            clock.cell(f"flights.{key}.last_over_ramp") if len(flight.aeroplanes) > 1 else Cell(""),
        )
        for place, (key, flight) in enumerate(stack.flights.items(), 1)
    ]
    columns = ("", "Flight", "Block", "Charlie", "Initial", "First over ramp", "Last over ramp")
    return table_alike(Table(f"In landing order, {of.order}", columns, tuple(rows), FLIGHT_WIDTHS))


def steps_of(of: Recovering, stack: Stack) -> dict[str, list[tuple[Cell, Cell]]]:
    """Which blocks each flight leaves and when, from the highest down to the last but one, by its key."""
    clock = _Clock(of)
    found = {}
    for key, flight in stack.flights.items():
        stays = [f"flights.{key}.steps.{name}" for name, stay in flight.steps.items() if stay.number > 1]
        found[key] = [(of.cell(f"{stay}.height"), clock.cell(f"{stay}.leaves", strong=True)) for stay in stays]
    texts = iter(clocks_alike([leaves.text for steps in found.values() for _, leaves in steps]))
    return {
        key: [(height, replace(leaves, text=next(texts))) for height, leaves in steps] for key, steps in found.items()
    }


def steps_table(of: Recovering, stack: Stack) -> Table:
    """When each flight steps down from which block; it leaves the lowest at Charlie. No rows for one alone."""
    rows: list[tuple[Cell, ...]] = []
    for place, steps in enumerate(steps_of(of, stack).values(), 1):
        for i in range(0, len(steps), ABREAST):
            pairs = [cell for pair in steps[i : i + ABREAST] for cell in pair]
            rows.append((Cell(f"{place}", strong=True), *pairs, *[Cell("")] * (2 * ABREAST - len(pairs))))
    return Table("Steps down", ("Flight", *("Leaves", "at") * ABREAST), tuple(rows), STEP_WIDTHS)


def fuel_table(of: Recovering, stack: Stack) -> Table:
    """Who of each flight has least over the ramp, and how late Charlie may be for it; no rows where none is known."""
    clock = _Clock(of)
    rows = []
    for place, (key, flight) in enumerate(stack.flights.items(), 1):
        least = _least(stack, flight)
        if least is not None:
            rows.append(
                (
                    Cell(f"{place}", strong=True),
                    Cell(of.seats[least].side),
                    fuel_cell(of, stack, least),
                    of.cell(f"aeroplanes.{least}.reserve"),
                    clock.cell(f"flights.{key}.latest_charlie", strong=True),
                )
            )
    columns = ("Flight", "Least has", "Fuel", "To be kept", "Latest Charlie")
    return table_alike(
        Table("Fuel over the ramp, holding from the first Charlie on", columns, tuple(rows), FUEL_WIDTHS)
    )


def _least(stack: Stack, flight: StackedFlight) -> str | None:
    """Who of a flight has least over its reserve; None where none is known."""
    known = [
        (each.fuel_at_ramp - each.reserve, key)
        for key in flight.aeroplanes
        if (each := stack.aeroplanes[key]).fuel_at_ramp is not None and each.reserve is not None
    ]
    return min(known)[1] if known else None


def fuel_cell(of: Recovering, stack: Stack, key: str) -> Cell:
    """Fuel over the ramp of one aeroplane; what is less than its reserve says so. key : of the aeroplane."""
    each, cell = stack.aeroplanes[key], of.cell(f"aeroplanes.{key}.fuel_at_ramp", strong=True)
    if each.fuel_at_ramp is None or each.reserve is None or each.fuel_at_ramp >= each.reserve:
        return cell
    dry = each.fuel_at_ramp < 0.0
    return replace(cell, text=f"{cell.text.lstrip('-')} wanting" if dry else f"{cell.text}, short")


def foul_table(of: Recovering, stack: Stack) -> Table:
    """What a deck foul for a time costs all who still hold."""
    clock = _Clock(of)
    rows = []
    for key, foul in stack.foul.items():
        over = of.cell(f"foul.{key}.left_over")
        rows.append(
            (
                of.cell(f"foul.{key}.delay", strong=True),
                replace(over, text=f"{foul.orbits} and {over.text}"),
                clock.cell(f"foul.{key}.last_over_ramp", strong=True),
                Cell("" if foul.aboard_in_time is None else f"{foul.aboard_in_time} of {len(stack.aeroplanes)}"),
                of.cell(f"foul.{key}.fuel"),
                Cell(_short(of, stack, foul)),
            )
        )
    columns = ("Foul for", "Whole orbits", "Last over ramp", "Before she turns", "Burned", "Short of fuel")
    return table_alike(Table("Deck foul: each Charlie so much later", columns, tuple(rows), FOUL_WIDTHS))


def _short(of: Recovering, stack: Stack, foul: FoulDeck) -> str:
    """Who is left with less than his reserve then; of many only how many."""
    known = sum(each.latest_charlie is not None for each in stack.aeroplanes.values())
    sides = [of.seats[each].side for each in foul.short]
    if not known:
        return "not known"
    if not sides:
        return "nobody" if known == len(stack.aeroplanes) else "nobody known"
    return ", ".join(sides) if len(sides) <= SHORT else f"{len(sides)} of them"
