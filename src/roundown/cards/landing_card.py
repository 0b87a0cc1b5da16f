"""The card of the cut and the wires: side view, where the cut is due and between which places, the touch, the stop."""

from __future__ import annotations

from dataclasses import replace

from roundown.cards.card import Card, Group, Line, Sentence, shortened
from roundown.cards.marks import marks_of
from roundown.cards.markup import svg_text
from roundown.cards.pass_card import subtitles
from roundown.cards.sentences import no_circuit, sided
from roundown.cards.touchdown_drawing import touchdown_drawing
from roundown.day.facts import circuit_facts, wind_rows
from roundown.figures import Figure
from roundown.plan.facts import Day
from roundown.quantities import ACCELERATION, AHEAD_OF_RAMP, write
from roundown.recovery.deck_motion import OFF
from roundown.recovery.result import CircuitResult
from roundown.recovery.touchdown import NoTouchdown, TouchdownFacts, facts_of
from roundown.recovery.touchdown_result import Touchdown
from roundown.solution import Solution, Unsolved

HELD = 0.98  # of the sink to which it is eased back, from which on it is called held
MOST_FIGURES = 17  # on a deck that moves; 15 on a steady one


def landing_cards(day: Day, solution: Solution) -> tuple[Card, ...]:
    """The card of a carrier and type, of one page; where the touchdown is not worked out it says why."""
    found = solution.touchdown
    head: tuple[Line, ...] = ()
    groups: tuple[Group, ...] = ()
    drawings: tuple[str, ...] = ()
    if isinstance(found, Unsolved):
        sentences: tuple[Sentence, ...] = (Sentence(_why(solution, found)),)
    else:
        head, groups = landing_head(day, found, solution.figures), landing_groups(day, found, solution.figures)
        drawings = (svg_text(touchdown_drawing(found, touchdown_facts(day, solution), "side")),)
        sentences = landing_sentences(found, solution.figures)
    card = Card(
        template="landing-card",
        heading="The cut and the wires",
        title=shortened(day.title),
        subtitles=subtitles(day),
        head=head,
        groups=groups,
        sentences=sentences,
        marks=(),
        units="Places from the ramp. Speed past the ship kt; sink ft/s; g is the pull of gravity.",
        drawings=drawings,
        plan=day.hash,
    )
    return (replace(card, marks=marks_of(day, solution, card.keys)),)


def _why(solution: Solution, found: Unsolved) -> str:
    if isinstance(solution.circuit, Unsolved):
        return no_circuit(solution.circuit, solution.findings)
    return f"The touchdown is not worked out: {found.reason.rstrip('.')}."


def touchdown_facts(day: Day, solution: Solution) -> TouchdownFacts:
    """What the touchdown of a solved day was found from."""
    assert isinstance(solution.circuit, CircuitResult)
    circuit = circuit_facts(day, wind_rows(day), solution.flight.course, solution.flight.speed)
    facts = facts_of(circuit, day.givens, solution.circuit.final_slope)
    assert not isinstance(facts, NoTouchdown)
    return facts


def wire_words(day: Day, found: Touchdown) -> str:
    """Which wire of how many the hook takes, or that it takes none."""
    if found.strikes:
        return "the ramp is struck"
    if found.arresting is None:
        return "no wire"
    return f"wire {found.arresting.wire} of {day.number('ship.gear.wires'):.0f}"


def landing_head(day: Day, found: Touchdown, figures: dict[str, Figure]) -> tuple[Line, ...]:
    """What is read first: over the ramp, the touch, the wire."""
    lines = [
        Line("Hook over the ramp", figures["touchdown.hook_over_ramp"].text, "touchdown.hook_over_ramp", large=True),
        Line("Wheels touch", figures["touchdown.touch_ahead"].text, "touchdown.touch_ahead", "ahead", large=True),
    ]
    if found.arresting is not None:
        key, words = "touchdown.arresting.wire_place", wire_words(day, found)
        lines.append(Line(words[:1].upper() + words[1:], figures[key].text, key, "ahead", large=True))
    return tuple(lines)


def landing_groups(day: Day, found: Touchdown, figures: dict[str, Figure]) -> tuple[Group, ...]:
    """The other figures: the cut and between which places it may come, the deck, the wire or the barrier."""
    due = day.givens["doctrine.circuit.cut_place"]
    cut = [
        Line("due", _place(due.value), "doctrine.circuit.cut_place", large=True),
        Line("throttle shut", _place(found.throttle_shut), "touchdown.throttle_shut"),
    ]
    if found.cut_earliest is not None:
        cut.append(Line("too early before", _place(found.cut_earliest), "touchdown.cut_earliest"))
    if found.cut_latest is not None:
        cut.append(Line("too late after", _place(found.cut_latest), "touchdown.cut_latest"))
    if found.cut_in_hand is not None:
        label = "in hand" if found.cut_in_hand >= 0.0 else "too late by"
        cut.append(Line(label, figures["touchdown.cut_in_hand"].text.lstrip("-"), "touchdown.cut_in_hand"))
    deck = [
        Line("touches after the cut", figures["touchdown.touch_after"].text, "touchdown.touch_after"),
        Line(_sink_label(day, found), figures["touchdown.sink"].text, "touchdown.sink", large=True),
    ]
    groups = [("The cut", cut), ("On deck", deck)]
    stop = found.arresting
    if stop is not None:
        stem, run_out = "touchdown.arresting", day.givens["ship.gear.run_out"]
        groups.append(
            (
                "On the wire",
                [
                    Line("hook meets it at", figures[f"{stem}.engaging"].text, f"{stem}.engaging", large=True),
                    Line("run-out", run_out.text, "ship.gear.run_out"),
                    Line("mean pull", write(stop.mean, ACCELERATION, decimals=1), f"{stem}.mean"),
                    Line("greatest, up to", write(stop.peak_high, ACCELERATION, decimals=1), f"{stem}.peak_high"),
                    Line("short of the barrier" if stop.barrier_margin >= 0.0 else "past the barrier",
                         figures[f"{stem}.barrier_margin"].text.lstrip("-"), f"{stem}.barrier_margin"),
                ],
            )
        )  # fmt: skip
    elif found.barrier_closing is not None:
        groups.append(
            (
                "At the barrier",
                [Line("speed past the ship", figures["touchdown.barrier_closing"].text, "touchdown.barrier_closing")],
            )
        )
    return tuple(Group(name, tuple((line,) for line in lines)) for name, lines in groups)


def _sink_label(day: Day, found: Touchdown) -> str:
    """That the sink is the assumption of the doctrine and not a finding of the flight, where it comes to that."""
    limit = day.givens.get("type.landing.sink_limit")
    held = limit is not None and found.sink >= HELD * day.number("doctrine.recovery.eased_sink") * limit.value
    return "sink, by assumption" if held else "sink"


def _place(value: float) -> str:
    return sided(value, AHEAD_OF_RAMP, "ahead", "astern")


def landing_sentences(found: Touchdown, figures: dict[str, Figure]) -> tuple[Sentence, ...]:
    """Whether a wire is taken, and the deck's motion or that there is none."""
    told = []
    if found.strikes:
        told.append(Sentence("Hook or wheels strike the ramp: no touchdown."))
    elif found.arresting is None:
        key = "touchdown.hook_ahead"
        told.append(
            Sentence(f"No wire: the hook meets the deck {figures[key].text} ahead of the ramp, past the last.", (key,))
        )
    if found.deck_motion == OFF:
        told.append(Sentence(OFF))
    else:
        keys = ("touchdown.motion.hook_over_ramp", "touchdown.motion.sink")
        over, sink = (figures[key].text for key in keys)
        told.append(
            Sentence(f"{found.deck_motion.rstrip('.')}: hook over the ramp {over}, sink to the deck {sink}.", keys)
        )
    return tuple(told)
