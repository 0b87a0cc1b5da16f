"""When each event's launch, push, blow and recovery are, once sun and moon are known; and how long each takes.

*Method:* take-offs follow one another as the deck's sequence has it, each carrier's by itself (launch/sequence.py).
Aeroplanes come aboard at the circuit's interval, the first after the circuit's own time from the initial to the ramp
(common practice).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from roundown.figures import figure
from roundown.quantities import CLOCK_TIME, TIME
from roundown.schedule.when import OWN, When

_TIMES = ("place.*", "event.*", "simulator.*", "ship.*", "weather.*", "doctrine.*", "company.*", "type.*")
_GIVEN = "as the plan gives it; by the sun or moon at the place where the ship then is"


@dataclass(frozen=True)
class TakeOffs:
    """The take-offs of an event in one light.

    interval : longest from one to the next of a carrier [s]
    after : of each aeroplane after the first one, by its key [s]
    """

    interval: float
    after: Mapping[str, float]


@dataclass(frozen=True)
class EventFacts:
    """What the times of an event are found from.

    name : of the event; times : those the plan gives, by "launch", "push", "time_on_target" and "recovery"
    most : aeroplanes of the carrier with most of them; by_day, in_dark : their take-offs
    landing_interval : between landings [s]; initial_to_ramp : of the slowest circuit [s], None where there is none
    places : of each aeroplane in the launch order of its own carrier, from 1, by its key
    landing_places : the same in the order in which they come aboard
    landing_after : of each, how long after the first of its carrier it comes aboard [s]; an interval for each before it
    where that is not given
    """

    name: str
    times: Mapping[str, When]
    most: int
    by_day: TakeOffs
    in_dark: TakeOffs
    landing_interval: float
    initial_to_ramp: float | None
    places: Mapping[str, int] = field(default_factory=dict)
    landing_places: Mapping[str, int] = field(default_factory=dict)
    landing_after: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class SeatTimes:
    """The times of one aeroplane of an event; None as for the event.

    place, landing_place : in its carrier's launch order and in the order they come aboard, from 1
    """

    place: int
    landing_place: int
    take_off: float | None = figure(
        CLOCK_TIME, "take-off", "first take-off and the intervals of those before it", ("doctrine.launch.*", *_TIMES)
    )
    at_initial: float | None = figure(
        CLOCK_TIME,
        "due at the initial",
        "first at the initial, and how long after it as the stack feeds them (recovery/stack.py)",
        _TIMES,
    )
    over_ramp: float | None = figure(
        CLOCK_TIME,
        "due over the ramp",
        "first over the ramp, and how long after it as the stack feeds them (recovery/stack.py); nobody waved off",
        ("circuit.*", *_TIMES),
    )


@dataclass(frozen=True, kw_only=True)
class EventTimes:
    """The times of an event; None where the plan gives none, or where it cannot be known.

    seats : of each aeroplane, by its key; dark : whether the launch is in the dark
    """

    launch: float | None = figure(CLOCK_TIME, "first take-off", _GIVEN, _TIMES)
    last_off: float | None = figure(CLOCK_TIME, "last take-off", "first take-off and the intervals", _TIMES)
    take_off_interval: float | None = figure(
        TIME, "from one take-off to the next", "the doctrine's, by day or in the dark", ("doctrine.launch.*", *_TIMES)
    )
    push: float | None = figure(CLOCK_TIME, "leaving the rendezvous", _GIVEN, _TIMES)
    time_on_target: float | None = figure(CLOCK_TIME, "on target", _GIVEN, _TIMES)
    recovery: float | None = figure(CLOCK_TIME, "first aeroplane at the initial", _GIVEN, _TIMES)
    first_aboard: float | None = figure(
        CLOCK_TIME, "first aeroplane over the ramp", "the circuit's time from the initial", ("circuit.*", *_TIMES)
    )
    last_aboard: float | None = figure(
        CLOCK_TIME,
        "last aeroplane due over the ramp",
        "first over the ramp, and how long after it the last, as the stack feeds them; nobody waved off",
        ("circuit.*", *_TIMES),
    )
    seats: Mapping[str, SeatTimes] = field(default_factory=dict)
    dark: bool = False


def event_times(facts: EventFacts, sky: Mapping[str, float | None], *, dark: bool) -> EventTimes:
    """The times of one event.

    sky : when sun and moon do what the plan counts from, by their words [s after midnight]; None where they do not
    dark : whether the launch is in the dark
    """
    found: dict[str, float | None] = {}
    for name in (own.replace(" ", "_") for own in OWN):
        when = facts.times.get(name)
        if when is None:
            found[name] = None
        elif not when.anchor:
            found[name] = when.seconds
        else:
            anchor = found.get(when.anchor.replace(" ", "_")) if when.anchor in OWN else sky.get(when.anchor)
            found[name] = None if anchor is None else anchor + when.seconds
    launch, recovery = found["launch"], found["recovery"]
    take_offs = facts.in_dark if dark else facts.by_day
    first = None if recovery is None or facts.initial_to_ramp is None else recovery + facts.initial_to_ramp

    def landing(start: float | None, name: str, place: int) -> float | None:
        plain = facts.landing_interval * (facts.landing_places.get(name, place) - 1)
        return None if start is None else start + facts.landing_after.get(name, plain)

    longest = max(facts.landing_after.values(), default=facts.landing_interval * max(facts.most - 1, 0))

    return EventTimes(
        launch=launch,
        last_off=None if launch is None else launch + max(take_offs.after.values(), default=0.0),
        take_off_interval=None if launch is None else take_offs.interval,
        push=found["push"],
        time_on_target=found["time_on_target"],
        recovery=recovery,
        first_aboard=first,
        last_aboard=None if first is None else first + longest,
        seats={
            name: SeatTimes(
                place=place,
                landing_place=facts.landing_places.get(name, place),
                take_off=None if launch is None else launch + take_offs.after[name],
                at_initial=landing(recovery, name, place),
                over_ramp=landing(first, name, place),
            )
            for name, place in facts.places.items()
        },
        dark=dark,
    )
