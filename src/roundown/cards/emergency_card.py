"""The emergency cards of a doctrine: who does what, in order, and what it costs the others in time and fuel."""

from __future__ import annotations

from collections.abc import Iterator

from roundown.cards.card import Card, Cell, Line, Sentence, Table, shortened
from roundown.cards.marks import ESTIMATED, is_estimated
from roundown.cards.pages import pages
from roundown.catalog.emergencies import Emergency
from roundown.day.deck_load import event_key
from roundown.plan.facts import Day
from roundown.quantities import CLOCK_TIME, MASS, TIME, write
from roundown.recovery.held_up import HeldUp, held_up
from roundown.solution import Solution

MOST_EVENTS = 2  # whose last time is told
SAME = 1.0  # s, of a change that is none
_LANDS = {
    "first": "He lands before all others.",
    "last": "He lands after all others.",
    "in turn": "He lands in his turn.",
    "by itself": "He lands by himself, the circuit kept clear.",
    "not aboard": "He does not come aboard.",
}
_INTERVAL = {"recovery": "doctrine.circuit.interval", "launch": "doctrine.launch.interval"}


def emergency_cards(day: Day, solution: Solution) -> dict[str, tuple[Card, ...]]:
    """A card for each emergency of the day's doctrine, by "emergency-card-NAME"; none where it names no emergencies."""
    return {f"emergency-card-{each.name}": _cards(each, day, solution) for each in day.emergencies}


def cost_of(emergency: Emergency, day: Day) -> HeldUp:
    """What an emergency costs the others on a day, those of its own type."""
    flow = day.givens.get("type.fuel.hold")
    return held_up(
        emergency.intervals,
        day.number(_INTERVAL[emergency.holds_up]),
        emergency.delay,
        day.number("doctrine.recovery.barrier_clear") if emergency.barrier else None,
        None if flow is None else flow.value,
    )


def _cards(emergency: Emergency, day: Day, solution: Solution) -> tuple[Card, ...]:
    cost = cost_of(emergency, day)
    keys = [_INTERVAL[emergency.holds_up], "doctrine.stack.hurt", "doctrine.recovery.barrier_clear"]
    keys += ["type.fuel.hold"] if "type.fuel.hold" in day.givens else []
    officer = day.word("doctrine.officer")
    rows = tuple(
        (Cell(str(i)), Cell(officer if step.who == "signal officer" else step.who, strong=True), Cell(step.do))
        for i, step in enumerate(emergency.steps, 1)
    )
    return pages(
        Card(
            template="table-card",
            heading="Emergency card",
            title=shortened(emergency.label),
            subtitles=(
                shortened(day.title),
                shortened(f"{day.word('ship.label')}; flown as {day.word('doctrine.label')}"),
            ),
            head=tuple(_head(emergency, cost)),
            groups=(),
            sentences=(_sentence(emergency, cost, day, solution),),
            marks=(ESTIMATED,) if is_estimated(day, keys) else (),
            units=_sources(emergency),
            drawings=(),
            plan=day.hash,
            tables=(
                Table("", ("", "Who", "Does"), rows, (0.55, 2.55, 7.6)),
                *_last_times(emergency, cost, day, solution),
            ),
        )
    )


def _head(emergency: Emergency, cost: HeldUp) -> Iterator[Line]:
    """Time and fuel across the top; nothing where the deck goes on."""
    if cost.added < SAME:
        return
    key = "doctrine.recovery.barrier_clear" if emergency.barrier else _INTERVAL[emergency.holds_up]
    yield Line("Deck foul for", clock_text(cost.added), key)
    what = "take-offs" if emergency.holds_up == "launch" else "landings"
    yield Line("The time of", f"{cost.lost:.1f} {what}", _INTERVAL[emergency.holds_up])
    if emergency.holds_up == "recovery":
        fuel = "not known" if cost.fuel is None else write(cost.fuel, MASS)
        yield Line("Fuel, each who waits", fuel, "type.fuel.hold")


def _sentence(emergency: Emergency, cost: HeldUp, day: Day, solution: Solution) -> Sentence:
    """When he lands, what that costs him, and what it does to the deck."""
    lands = lands_on(emergency, day)
    parts = [_LANDS[lands]]
    if lands == "last":
        parts += _waiting_for_all(day, solution)
    if cost.added < SAME:
        parts.append("The deck goes on as planned.")
    if emergency.barrier:
        clear = clock_text(day.number("doctrine.recovery.barrier_clear"))
        parts.append(f"The landing ends in the barrier, which takes {clear} to clear.")
    if emergency.holds_up == "recovery" and cost.added >= SAME:
        parts += _fuel(emergency, day)
    return Sentence(" ".join(parts))


def lands_on(emergency: Emergency, day: Day) -> str:
    """When the one in trouble comes aboard on a day: a wounded man as the doctrine's stack has it."""
    return day.word("doctrine.stack.hurt") if emergency.lands == "as hurt" else emergency.lands


def _waiting_for_all(day: Day, solution: Solution) -> Iterator[str]:
    """What landing last costs the one who lands last: the longest recovery of the day."""
    spans = [
        times.last_aboard - times.first_aboard
        for times in solution.events.values()
        if times.last_aboard is not None and times.first_aboard is not None
    ]
    longest = max(spans, default=0.0)
    if longest < SAME:
        return
    flow = day.givens.get("type.fuel.hold")
    fuel = "fuel not known" if flow is None else f"{_unbroken(write(longest * flow.value, MASS))} of fuel"
    yield f"In the longest recovery that keeps him up {clock_text(longest)} longer, {fuel}."


def _fuel(emergency: Emergency, day: Day) -> Iterator[str]:
    """Fuel of the other types that fly, and that of a type whose rate is not known."""
    seen: dict[str, str] = {}
    for each in (day, *day.parts.values()):
        fuel = cost_of(emergency, each).fuel
        shown = "fuel not known" if fuel is None else _unbroken(write(fuel, MASS))
        seen.setdefault(each.word("type.label").split(",")[0], shown)
    if len(seen) > 1 or "fuel not known" in seen.values():
        yield f"Holding meanwhile, each burns: {', '.join(f'{name} {fuel}' for name, fuel in seen.items())}."


def _last_times(emergency: Emergency, cost: HeldUp, day: Day, solution: Solution) -> Iterator[Table]:
    """When the last is off, or aboard, as planned and then; he being the last, when the deck is ready again."""
    if cost.added < SAME:
        return
    launch = emergency.holds_up == "launch"
    rows = []
    for event in day.events:
        times = solution.events.get(event_key(event))
        last = None if times is None else times.last_off if launch else times.last_aboard
        if last is not None:
            key = f"events.{event_key(event)}.{'last_off' if launch else 'last_aboard'}"
            later = Cell(write(last + cost.added, CLOCK_TIME), strong=True)
            rows.append((Cell(event.name), Cell(write(last, CLOCK_TIME), key), later))
    if rows:
        what = "Last take-off" if launch else "Last aboard"
        then = "deck ready again" if not launch and lands_on(emergency, day) == "last" else "if it happens in this one"
        columns = (what, "as planned", then)
        yield Table("", columns, tuple(rows[:MOST_EVENTS]), (3.6, 2.0, 3.0))


def _sources(emergency: Emergency) -> str:
    """Whose word each step is, by the numbers of the steps, and whose the times are."""
    steps: dict[str, list[str]] = {}
    for number, step in enumerate(emergency.steps, 1):
        steps.setdefault(step.source, []).append(str(number))
    told = [f"{', '.join(numbers)}: {source}" for source, numbers in steps.items()]
    return f"Steps {'; '.join(told)}. Time: {emergency.source}."


def clock_text(seconds: float) -> str:
    """A span as people say it, on one line: "45 s", "5 min", "2 min 30 s"."""
    whole = round(seconds)
    if whole < 60:
        return _unbroken(write(float(whole), TIME, decimals=0))
    minutes, rest = divmod(whole, 60)
    return _unbroken(f"{minutes} min {rest} s" if rest else f"{minutes} min")


def _unbroken(figure: str) -> str:
    """A figure that stays on one line with its unit."""
    return figure.replace(" ", "\N{NO-BREAK SPACE}")
