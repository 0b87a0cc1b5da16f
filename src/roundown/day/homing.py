"""In what state each aeroplane of an event comes home, and in what order they land."""

from __future__ import annotations

from roundown.day.deck_load import carriers_of, event_key, part_of, seats_from
from roundown.figures import key_of
from roundown.plan.facts import Day, FlyingEvent, Seat
from roundown.recovery.landing_order import By, HurtLand, Returning, landing_order


def returning_of(day: Day, event: FlyingEvent, carrier: str) -> tuple[Returning, ...]:
    """The aeroplanes of an event that come home to a carrier, in launch order."""
    found = []
    for seat in seats_from(day, event, carrier):
        theirs = part_of(day, seat)
        hold, circuit = (theirs.givens.get(f"type.fuel.{name}") for name in ("hold", "circuit"))
        stem = f"event.{event_key(event)}"
        own = day.givens.get(f"{stem}.home.{key_of(seat.side)}.fuel", day.givens.get(f"{stem}.fuel_home"))
        trouble = day.givens.get(f"{stem}.home.{key_of(seat.side)}.trouble")
        found.append(
            Returning(
                key=seat.side,
                group=_group(day, event, seat),
                fuel=None if own is None else own.value,
                hold_flow=None if hold is None else hold.value,
                circuit_flow=None if circuit is None else circuit.value,
                trouble="" if trouble is None else trouble.word,
            )
        )
    return tuple(found)


def _group(day: Day, event: FlyingEvent, seat: Seat) -> str:
    """What a division is called: by its squadron, and its number where more than one of it flies the event."""
    label = day.squadrons[seat.squadron].label or seat.squadron
    divisions = {each.division for each in event.seats if each.squadron == seat.squadron}
    return label if len(divisions) == 1 else f"{label} {seat.division}"


def landing_places(day: Day, event: FlyingEvent) -> dict[str, int]:
    """The place of each aeroplane in its carrier's landing order, from 1, by its key."""
    found: dict[str, int] = {}
    for carrier in carriers_of(day, event):
        hers = part_of(day, seats_from(day, event, carrier)[0])
        flights = landing_order(
            returning_of(day, event, carrier),
            round(hers.number("doctrine.stack.flight")),
            By(hers.word("doctrine.stack.order")),
            HurtLand(hers.word("doctrine.stack.hurt")),
        )
        order = [each for flight in flights for each in flight.aeroplanes]
        found |= {key_of(each.key): place for place, each in enumerate(order, 1)}
    return found
