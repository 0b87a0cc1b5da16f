"""The launch of one carrier's deck load: engines, intervals, first off to last off, and when the deck is clear.

*Method:* one after another at the doctrine's interval for the light, never faster than the deck readies them: to taxi
from the spot, spread and lock takes a time, and so many are readied at once. Catapulted ones that follow one another
keep the catapult's interval instead. The n-th of equal ones goes n - 1 intervals after the first.
Defaults are common practice, no source, and each can be given.
*Holds for:* one deck run at a time. Of several carriers each has its own sequence.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from roundown.figures import figure
from roundown.findings import Finding, Level
from roundown.quantities import CLOCK_TIME, TIME, write

_TIMES = ("event.*", "doctrine.*", "place.*", "simulator.*", "ship.*", "weather.*", "company.*", "type.*")


@dataclass(frozen=True)
class DeckTimes:
    """How long things take on deck [s]; common practice, no source.

    warm_up : from engine start to the first take-off; taxi : from the spot to the launch place; spread, lock : wings
    at_once : so many are readied while others go; catapult : from shot to shot of one catapult (from memory)
    catapults : fitted; clear : from the last take-off until he is past the bow and clear
    respot : for each one left on deck that is moved forward; rig : wires and barriers up
    """

    warm_up: float = 600.0
    taxi: float = 15.0
    spread: float = 20.0
    lock: float = 10.0
    at_once: int = 2
    catapult: float = 60.0
    catapults: int = 0
    clear: float = 10.0
    respot: float = 30.0
    rig: float = 60.0


@dataclass(frozen=True)
class SequenceFacts:
    """A carrier's launch.

    order : keys in launch order; catapulted : those of them that are shot off
    first_off : by the ship's clock [s]; interval : of the doctrine for the light [s]
    steady_before : on the flight course before the first take-off [s]
    staying : so many stay on deck and are moved forward after the launch
    """

    order: tuple[str, ...]
    first_off: float
    interval: float
    steady_before: float
    catapulted: frozenset[str] = frozenset()
    staying: int = 0
    times: DeckTimes = DeckTimes()


@dataclass(frozen=True, kw_only=True)
class TakeOff:
    """One aeroplane's times."""

    start: float = figure(CLOCK_TIME, "engine started", "take-off of the first less the time to warm up", _TIMES)
    spread: float = figure(CLOCK_TIME, "begins to taxi, then spreads", "take-off less taxi, spread and lock", _TIMES)
    off: float = figure(CLOCK_TIME, "take-off", "first take-off and the intervals of those before", _TIMES)


@dataclass(frozen=True, kw_only=True)
class LaunchSequence:
    """The launch of a deck load. offs : by key, in launch order."""

    offs: Mapping[str, TakeOff]
    start_engines: float = figure(CLOCK_TIME, "start engines", "first take-off less the time to warm up", _TIMES)
    interval: float = figure(
        TIME, "from one take-off to the next, deck run", "the doctrine's, or what the deck takes to ready them", _TIMES
    )
    first_off: float = figure(CLOCK_TIME, "first take-off", "as the event gives it", _TIMES)
    last_off: float = figure(CLOCK_TIME, "last take-off", "first take-off and the intervals", _TIMES)
    duration: float = figure(TIME, "first off to last off", "sum of the intervals", _TIMES)
    steady: float = figure(
        CLOCK_TIME, "steady on the flight course by", "first take-off less the doctrine's time", _TIMES
    )
    released: float = figure(CLOCK_TIME, "free to leave the flight course", "last one clear of the bow", _TIMES)
    on_flight_course: float = figure(TIME, "time on the flight course to launch", "from steady to released", _TIMES)
    deck_clear: float = figure(
        CLOCK_TIME, "deck clear to come aboard", "last off, those left moved forward, wires and barriers up", _TIMES
    )


def launch_sequence(facts: SequenceFacts) -> LaunchSequence:
    """The sequence of one carrier's launch.

    Raises ValueError for an empty order or a catapulted one where no catapult is fitted.
    """
    times = facts.times
    if not facts.order:
        raise ValueError("a launch has at least one aeroplane")
    if facts.catapulted and times.catapults < 1:
        raise ValueError("no catapult is fitted")
    interval = max(facts.interval, ready_each(times))
    shot = times.catapult / max(times.catapults, 1)
    off, offs = facts.first_off, {}
    for i, key in enumerate(facts.order):
        if i:
            both = key in facts.catapulted and facts.order[i - 1] in facts.catapulted
            off += shot if both else interval
        offs[key] = TakeOff(
            start=facts.first_off - times.warm_up, spread=off - times.taxi - times.spread - times.lock, off=off
        )
    steady, released = facts.first_off - facts.steady_before, off + times.clear
    return LaunchSequence(
        offs=offs,
        start_engines=facts.first_off - times.warm_up,
        interval=interval,
        first_off=facts.first_off,
        last_off=off,
        duration=off - facts.first_off,
        steady=steady,
        released=released,
        on_flight_course=released - steady,
        deck_clear=released + times.respot * facts.staying + times.rig,
    )


def ready_each(times: DeckTimes) -> float:
    """How often the deck has one ready [s]."""
    return (times.taxi + times.spread + times.lock) / times.at_once


def mean_interval(duration: float, count: int, decks: int = 1) -> float:
    """Mean time from one take-off to the next of a deck [s], where so many went off so many decks in a time [s].

    The first goes at its beginning and the last at its end. Raises ValueError with fewer than two a deck.
    """
    if count < 2 * decks:
        raise ValueError("two take-offs a deck make an interval")
    return duration / (count / decks - 1.0)


def together(sequences: Sequence[LaunchSequence]) -> tuple[float, float]:
    """First and last take-off of several carriers by the clock [s]; each has its own sequence."""
    return min(each.first_off for each in sequences), max(each.last_off for each in sequences)


def sequence_findings(sequence: LaunchSequence, facts: SequenceFacts, key: str = "launch") -> list[Finding]:
    """Findings of a launch. key : stem of the figures they are about."""
    found = []
    if sequence.interval > facts.interval:
        needed = write(sequence.interval, TIME)
        found.append(
            Finding(
                "deck-too-slow", Level.CAUTION, f"{key}.interval",
                f"the deck has one ready every {needed}",
                f"the doctrine launches one every {write(facts.interval, TIME)}",
                f"Ready more at once, or count on {needed}.",
            )
        )  # fmt: skip
    return found
