"""Reading the events of a plan: what is launched when, with whom, what for, and when it comes home."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from roundown.catalog.load import GIVEN_IN_PLAN, nearest, read_keys
from roundown.documents import Document, KeyPath, shown
from roundown.errors import Complaint, QuantityError
from roundown.figures import Given, key_of
from roundown.plan.deck import DECK_KEYS, read_deck
from roundown.plan.facts import FlyingEvent, Seat, Squadron
from roundown.plan.schema import EVENT_KEYS
from roundown.plan.sections import as_text
from roundown.quantities import CLOCK_TIME, write
from roundown.schedule.when import When, read_when

MOST = 40  # events of a day
LATEST = 3 * 86400.0  # s after midnight of the plan's date
TIMES = ("launch", "push", "time_on_target", "recovery")
_WHO = 'Write aeroplanes = { blue = 4 } or seats = ["11", "12"]'


def read_events(
    document: Document, squadrons: Mapping[str, Squadron], datum: float
) -> tuple[tuple[FlyingEvent, ...], dict[str, Given], list[Complaint]]:
    """The events in the plan's order, what they give by key, and everything wrong with them.

    datum : the datum time [s after midnight]; no time by the clock may lie before it
    """
    raw = document.data.get("event", [])
    if not isinstance(raw, list) or not all(isinstance(row, dict) for row in raw):
        return (), {}, [document.complain(("event",), shown(raw), "events are tables in a list", "Write [[event]]")]
    if len(raw) > MOST:
        return (), {}, [document.complain(("event",), f"{len(raw)} events", f"at most {MOST}", "Make two plans of it")]
    events: list[FlyingEvent] = []
    givens: dict[str, Given] = {}
    complaints: list[Complaint] = []
    taken: dict[str, int] = dict.fromkeys(squadrons, 0)
    for i, row in enumerate(raw):
        path: KeyPath = ("event", i)
        own = {key: as_text(value) for key, value in row.items() if key not in ("aeroplanes", "seats", *DECK_KEYS)}
        values, wrong = read_keys(document, path, own, EVENT_KEYS, GIVEN_IN_PLAN)
        complaints += wrong
        words = {key: given.word for key, given in values.items()}
        name = words.get("name", f"event {i + 1}")
        if any(key_of(event.name) == key_of(name) for event in events):
            complaints.append(document.complain((*path, "name"), shown(name), "two events of one name", "Rename one"))
        givens |= {f"event.{key_of(name)}.{key}": given for key, given in values.items()}
        whens, wrong = _times(document, path, values, datum)
        complaints += wrong
        seats, wanted, wrong = _who(document, path, row, squadrons, taken)
        complaints += wrong
        deck, catapult, wrong = read_deck(document, path, row, squadrons, seats)
        givens |= {f"event.{key_of(name)}.{key}": given for key, given in deck.items()}
        complaints += wrong
        events.append(
            FlyingEvent(
                name=name,
                task=words.get("task", ""),
                seats=seats,
                wanted=wanted,
                load=words.get("load", ""),
                target=words.get("target", ""),
                catapult=catapult,
                **whens,
            )
        )
    return tuple(events), givens, complaints


def _times(
    document: Document, path: KeyPath, values: Mapping[str, Given], datum: float
) -> tuple[dict[str, When | None], list[Complaint]]:
    whens: dict[str, When | None] = dict.fromkeys(TIMES)
    complaints: list[Complaint] = []
    for key in TIMES:
        if key not in values:
            continue
        text = values[key].word
        try:
            found = read_when(text)
            _sensible(found, key, values, datum)
            whens[key] = found
        except QuantityError as error:
            complaints.append(document.complain((*path, key), shown(text), error.limit, error.remedy))
    if "launch" not in values and "recovery" not in values:
        complaints.append(
            document.complain(path, "", "an event has a launch, a recovery or both", 'Add launch = "17:25"')
        )
    return whens, [*complaints, *_order(document, path, whens)]


def _order(document: Document, path: KeyPath, whens: Mapping[str, When | None]) -> list[Complaint]:
    """Whether the times counted from the same thing, the clock or one rise or set, follow one another."""
    complaints: list[Complaint] = []
    roots: dict[str, tuple[str, float]] = {}
    for key in TIMES:
        when = whens[key]
        if when is None:
            continue
        root, seconds = when.anchor, when.seconds
        if (own := root.replace(" ", "_")) in TIMES:
            if own not in roots:
                continue
            root, seconds = roots[own][0], roots[own][1] + seconds
        earlier = next((name for name, (of, at) in roots.items() if of == root and seconds <= at), None)
        roots[key] = (root, seconds)
        before = whens[earlier] if earlier else None
        if before is not None:
            stands = before.written if before.anchor else write(before.seconds, CLOCK_TIME)
            remedy = "Make it later" if root else 'Write the later day with it, as in "01:20 next day"'
            limit = f"{key} must come after {earlier}, {stands}"
            complaints.append(document.complain((*path, key), shown(when.written), limit, remedy))
    return complaints


def _sensible(when: When, key: str, values: Mapping[str, Given], datum: float) -> None:
    """Raises QuantityError when a time cannot be meant."""
    if not when.anchor:
        if when.seconds < datum:
            raise QuantityError(
                f"this is before the datum time, {write(datum, CLOCK_TIME)}",
                'Set place.time earlier, or write the later day with it, as in "01:20 next day"',
            )
        if when.seconds > LATEST:
            raise QuantityError("an event lies within three days", "Make a plan of its own for the later day")
    elif abs(when.seconds) > 86400.0:
        raise QuantityError("at most 24 h from what it is counted from", "Choose something nearer to count from")
    elif (own := when.anchor.replace(" ", "_")) in TIMES:
        if own == key:
            raise QuantityError("a time cannot be counted from itself", "Count it from something else")
        if own not in values:
            raise QuantityError(f"the event gives no {when.anchor}", f"Give {own}, or count from something else")
        if TIMES.index(own) > TIMES.index(key):
            raise QuantityError(
                f"{key} is counted from {own}, which comes later", "Count a later time from an earlier one"
            )
        if when.seconds < 0.0:
            raise QuantityError(f"{key} must not come before {own}", 'Write a plus, as in "launch + 1 h"')


def _who(
    document: Document,
    path: KeyPath,
    row: Mapping[str, Any],
    squadrons: Mapping[str, Squadron],
    taken: dict[str, int],
) -> tuple[tuple[Seat, ...], int, list[Complaint]]:
    """The seats that fly, in launch order, and how many were asked for. taken : seats given out so far; updated."""
    if ("aeroplanes" in row) == ("seats" in row):
        limit = "aeroplanes by squadron or by seat are wanted, one of the two"
        return (), 0, [document.complain(path, "", limit, _WHO)]
    if "seats" in row:
        return _by_seat(document, (*path, "seats"), row["seats"], squadrons)
    raw = row["aeroplanes"]
    path = (*path, "aeroplanes")
    if not isinstance(raw, dict) or not raw:
        return (), 0, [document.complain(path, shown(raw), "how many of each squadron is wanted", _WHO)]
    seats: list[Seat] = []
    complaints: list[Complaint] = []
    wanted = 0
    for name, count in raw.items():
        if name not in squadrons:
            near = nearest(name, squadrons)
            remedy = (
                f"Did you mean {near}" if near else f"There are {', '.join(squadrons) or 'none: add [squadrons.blue]'}"
            )
            complaints.append(document.complain((*path, name), shown(count), "no squadron of that name", remedy))
        elif not isinstance(count, int) or isinstance(count, bool) or not 1 <= count <= 60:
            complaints.append(
                document.complain((*path, name), shown(count), "a number from 1 to 60", f"Write {name} = 4")
            )
        else:
            wanted += count
            seats += _next(squadrons[name].seats, count, taken, name)
    return tuple(seats), wanted, complaints


def _next(roster: Sequence[Seat], count: int, taken: dict[str, int], name: str) -> list[Seat]:
    """The next so many of a roster: those who have not flown yet, and when all have, from the front again."""
    start = taken[name] if taken[name] < len(roster) else 0
    found = list(roster[start : start + count])
    taken[name] = start + len(found)
    return found


def _by_seat(
    document: Document, path: KeyPath, raw: Any, squadrons: Mapping[str, Squadron]
) -> tuple[tuple[Seat, ...], int, list[Complaint]]:
    if not isinstance(raw, list) or not raw or not all(isinstance(side, str) for side in raw):
        return (), 0, [document.complain(path, shown(raw), "a list of side numbers is wanted", _WHO)]
    known = {seat.side: seat for squadron in squadrons.values() for seat in squadron.seats}
    rostered = {seat.side for squadron in squadrons.values() for seat in squadron.roster}
    complaints: list[Complaint] = []
    for i, side in enumerate(raw):
        if side not in rostered:
            near = nearest(side, rostered)
            remedy = f"Did you mean {near}" if near else "Side numbers are those of the rosters"
            complaints.append(document.complain((*path, i), shown(side), "no seat of that number", remedy))
        elif side in raw[:i]:
            complaints.append(document.complain((*path, i), shown(side), "this seat is named twice", "Leave one out"))
    return tuple(known[side] for side in raw if side in known), len(raw), complaints
