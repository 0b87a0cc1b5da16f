"""The pass on the brief page: what an error costs, turning in early and late, round again, who is where, touchdown."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree import ElementTree as ET

from roundown.cards.brief_tables import how_details, plain_list, table, whose
from roundown.cards.circuit_drawing import deck_of
from roundown.cards.landing_card import landing_groups, landing_head, landing_sentences, touchdown_facts
from roundown.cards.late_drawing import LateTurns, late_drawing
from roundown.cards.markup import Child, element
from roundown.cards.pass_card import error_words, last_safe, unsolved_sentences
from roundown.cards.sentences import sided
from roundown.cards.touchdown_drawing import touchdown_drawing
from roundown.figures import Figure
from roundown.passes.cost import USUAL
from roundown.plan.facts import Day
from roundown.quantities import (
    AHEAD_OF_RAMP,
    ANGLE,
    DISTANCE,
    LENGTH,
    RATIO,
    SPEED_MARGIN,
    TIME,
    write,
)  # fmt: skip
from roundown.recovery.approach_speed import POWER_ON
from roundown.recovery.error_costs import dearest
from roundown.recovery.latest_turn_in import TurnInLimit
from roundown.recovery.result import CircuitResult
from roundown.recovery.touchdown_result import what_moves_it
from roundown.solution import Solution, Unsolved

LATE_KEY = (
    "Seen from the ship. Solid: turned in on time; thin: early; dashed: late; all with the planned bank. Straight: "
    "flight behind the ship to the ramp; left to turn: when the ramp is passed; hidden: the nose hides the ramp, from "
    "the turn-in on."
)
TOLERANCES = (
    f"In tolerances: {write(USUAL.ahead, DISTANCE)} along the deck, {write(USUAL.port, LENGTH)} to the side, "
    f"{write(USUAL.height, LENGTH)} of height and {write(USUAL.speed, SPEED_MARGIN)} count as one each (own rule)."
)
HOW = (
    ("A turn-in 1 s late, wings level further ahead", "costs.turn_in_1_s_late.ahead"),
    ("1 deg more bank, further to port", "costs.final_bank_1_deg_more.port"),
    ("Latest turn-in, after the planned one", "latest_turn_in.latest.after"),
    ("Over the ramp again after a wave-off", "wave_off.time"),
    ("Last wave-off, before the ramp", "last_wave_off.latest"),
    ("Nearest two", "spacing.closest.distance"),
    ("Speed over the ramp beyond the stall", "approach.margin"),
    ("Steady before the first is over the ramp", "turning.steady_before"),
    ("Hook over the ramp", "touchdown.hook_over_ramp"),
    ("Wheels touch", "touchdown.touch_ahead"),
)
"""Figures whose origin is told."""


def pass_section(day: Day, solution: Solution) -> ET.Element | None:
    """The section of a carrier and type; None without a circuit."""
    if not isinstance(solution.circuit, CircuitResult):
        return None
    name, found = f"pass-{day.part.replace('.', '-').replace(' ', '-')}", solution.figures
    how = "How the figures of the pass came about"
    return element(
        "section",
        element("h2", f"The pass: {whose(day)}"),
        *(element("p", sentence.text) for sentence in unsolved_sentences(solution)),
        *_errors(solution, name, whose(day)),
        _late(day, solution, solution.circuit, found, name),
        _lists(solution, found),
        element("p", POWER_ON, class_="small"),
        *_places(solution, found, name, whose(day)),
        *_touchdown(day, solution, found, name),
        how_details(day, found, HOW, how, f"{name}-givens"),
    )


def _errors(solution: Solution, name: str, called: str) -> list[Child]:
    """One row an error, dearest first."""
    if not solution.costs:
        return []
    rows = [
        (
            error_words(error),
            _nil_or(sided(error.ahead, DISTANCE, "ahead", "astern")),
            _nil_or(sided(error.port, LENGTH, "to port", "to starboard")),
            _nil_or(sided(error.height, LENGTH, "higher", "lower")),
            _nil_or(sided(error.speed, SPEED_MARGIN, "faster", "slower")),
            _nil_or(sided(error.time, TIME, "later", "earlier")),
            _nil_or(sided(error.bank, ANGLE, "more", "less")),
            write(error.cost, RATIO, decimals=1),
        )
        for error in sorted(solution.costs.values(), key=lambda error: -error.cost)
    ]
    heads = ("Error", "Wings level", "Off the centre line", "Height", "Speed", "Over the ramp", "Bank that mends it",
             "In tolerances")  # fmt: skip
    return [
        table(f"What an error costs, {called}, left unmended: the other way as much", heads, rows, f"{name}-errors"),
        element("p", f"{dearest(solution.costs)} {TOLERANCES}", class_="small"),
    ]  # fmt: skip


def _nil_or(text: str) -> str:
    """A figure, or a dash for one that is nil as it is written."""
    return text if any(digit in text for digit in "123456789") else "–"


def _late(day: Day, solution: Solution, circuit: CircuitResult, found: Mapping[str, Figure], name: str) -> ET.Element:
    """The picture of early and late turn-ins, and between which the turn still ends over the ramp."""
    turns = LateTurns(solution.late_paths, solution.late_views, circuit.late, circuit.hand)
    drawing = late_drawing(turns, deck_of(day), f"{name}-late") if turns.shown else None
    window = _window(solution, found)
    told = element(
        "div",
        element("h3", "Early and late at the turn-in") if drawing is not None else None,
        element("p", LATE_KEY) if drawing is not None else None,
        element("h3", "Turn-ins that still end over the ramp") if window else None,
        element("p", window) if window else None,
    )
    return element("div", element("div", drawing), told, class_="ship")


def _window(solution: Solution, found: Mapping[str, Figure]) -> str:
    """The window of turn-ins in words; "" where it is not worked out."""
    window = solution.latest_turn_in
    if isinstance(window, Unsolved):
        return ""
    allowed = found["latest_turn_in.limit_to_ninety"].text, found["latest_turn_in.limit_from_ninety"].text
    most = (
        f"{allowed[0]} of bank" if allowed[0] == allowed[1] else f"{allowed[0]} of bank, {allowed[1]} past the ninety"
    )
    parts = [f"With a bank of its own for either half of the turn, {most} at the most."]
    if window.latest is None or window.earliest is None:
        ends = ("earliest", window.earliest), ("latest", window.latest)
        parts += [f"{end.capitalize()}: {'none closes' if limit is None else _limit(limit)}." for end, limit in ends]
    else:
        soonest = ", as the wings come level downwind" if window.by_downwind else ""
        parts.append(
            f"From {_limit(window.earliest)}{soonest}, to {_limit(window.latest)}: "
            f"{found['latest_turn_in.window'].text} in all. {_banks('earliest', window.earliest)} "
            f"{_banks('latest', window.latest)}"
        )
    if window.closest_abeam is not None:
        parts.append(f"Closest abeam from which the turn closes: {found['latest_turn_in.closest_abeam'].text}.")
    return " ".join(parts)


def _banks(end: str, limit: TurnInLimit) -> str:
    halves = write(limit.to_ninety, ANGLE), write(limit.from_ninety, ANGLE)
    return f"The {end} needs {halves[0]} up to the ninety and {halves[1]} after it."


def _limit(limit: TurnInLimit) -> str:
    place = sided(limit.ahead, AHEAD_OF_RAMP, "ahead of the ramp", "astern of the ramp")
    return f"{sided(limit.after, TIME, 'late', 'early')}, {place}"


def _lists(solution: Solution, found: Mapping[str, Figure]) -> ET.Element:
    """Round again, the last wave-off, the speed over the ramp and the ship's own turns, in a few figures each."""
    lists = (
        ("Waved off over the ramp", _round_again(solution, found)),
        ("Last wave-off that stays clear", _last(solution, found)),
        ("Speed over the ramp", _approach(solution, found)),
        ("The ship’s own turns", _turning(solution, found)),
        ("Straight in, against the curved final", _straight(solution, found)),
        ("By the clock", _cues(solution, found)),
    )
    return element("div", *(plain_list(head, rows) for head, rows in lists if rows), class_="ship-figures")


def _round_again(solution: Solution, found: Mapping[str, Figure]) -> dict[str, str]:
    again = solution.wave_off
    if isinstance(again, Unsolved):
        return {}
    places = f"{again.places} {'place' if again.places == 1 else 'places'}"
    rows = {
        "over the ramp again in": found["wave_off.time"].text,
        "the same by rule of thumb": found["wave_off.time_by_rule"].text,
        "next free place": f"{places} later, in {found['wave_off.next_free'].text}",
        "to lose on the way": found["wave_off.spare"].text,
        "straight on before the turn downwind": found["wave_off.straight"].text,
        "bank of that turn": found["wave_off.turn_bank"].text,
        "climb at full power": found["wave_off.climb_rate"].text,
    }
    if again.fuel is not None and again.fuel_in_place is not None:
        rows["fuel to the ramp; to the free place"] = (
            f"{found['wave_off.fuel'].text}; {found['wave_off.fuel_in_place'].text}"
        )
    return rows


def _last(solution: Solution, found: Mapping[str, Figure]) -> dict[str, str]:
    last = solution.last_wave_off
    if isinstance(last, Unsolved):
        return {}
    rows = {"no later than": last_safe(solution)[0], "height lost": found["last_wave_off.height_lost"].text}
    if last.height_lost_by_rule is not None:
        rows["the same by rule of thumb"] = found["last_wave_off.height_lost_by_rule"].text
    rows["wheels over the deck, waved off over the ramp"] = found["last_wave_off.over_deck_from_ramp"].text
    return rows


def _approach(solution: Solution, found: Mapping[str, Figure]) -> dict[str, str]:
    if isinstance(solution.approach, Unsolved):
        return {}
    return {
        "as ordered": found["approach.ramp_speed"].text,
        "stall, throttle shut": found["approach.stall"].text,
        "over the stall": found["approach.margin"].text,
        "by rule, so many knots over it": found["approach.by_rule"].text,
        "by rule of 1.05 to 1.10, no more than": (
            f"{found['approach.by_ratio_low'].text} to {found['approach.by_ratio_high'].text}"
        ),
    }


def _straight(solution: Solution, found: Mapping[str, Figure]) -> dict[str, str]:
    straight = solution.straight_in
    if isinstance(straight, Unsolved):
        return {}
    rows = {
        "from a mile astern to the ramp": found["straight_in.marks.one_mile.time"].text,
        "the curved final takes": found["straight_in.curved_time"].text,
        "aeroplanes in the last mile at this interval": f"{straight.in_last_mile}",
        "one second is": found["straight_in.one_second"].text,
    }
    seen = found["straight_in.marks.half_mile.deck_seen"]
    if seen.value is not None:
        rows["the deck from half a mile, ramp to bow"] = seen.text
    lost = found.get("sight.straight_ramp_lost")
    if lost is not None and lost.value is not None:
        rows["the nose hides the ramp from"] = f"{lost.text} on"
    return rows


def _cues(solution: Solution, found: Mapping[str, Figure]) -> dict[str, str]:
    if isinstance(solution.cues, Unsolved):
        return {}
    bow = solution.cues.turn_in_after_bow
    return {
        "initial to the break": found["cues.initial_to_break"].text,
        "break to the turn-in": found["cues.break_to_turn_in"].text,
        f"turn-in {'after' if bow >= 0.0 else 'before'} the bow is abeam": write(abs(bow), TIME),
        "turn-in to the ninety": found["cues.turn_in_to_ninety"].text,
        "ninety to the ramp": found["cues.ninety_to_ramp"].text,
    }


def _turning(solution: Solution, found: Mapping[str, Figure]) -> dict[str, str]:
    if isinstance(solution.turning, Unsolved):
        return {}
    return {
        "steady before the first is over the ramp": found["turning.steady_before"].text,
        "no turn sooner before the last is over the ramp than": found["turning.may_begin"].text,
    }


def _places(solution: Solution, found: Mapping[str, Figure], name: str, called: str) -> list[Child]:
    """Who is where when number one is over the ramp, and the nearest two."""
    spacing = solution.spacing
    if isinstance(spacing, Unsolved):
        return []
    rows = []
    for key, place in spacing.places.items():
        text = f"spacing.places.{key}"
        rows.append(
            (
                key.replace("_", " ").capitalize(),
                place.leg,
                sided(place.since_break, TIME, "after", "before"),
                sided(place.ahead, AHEAD_OF_RAMP, "ahead", "astern"),
                sided(place.port, DISTANCE, "to port", "to starboard"),
                found[f"{text}.height"].text,
                "" if place.to_next is None else found[f"{text}.to_next"].text,
            )
        )
    heads = (
        "Number",
        "Where",
        "From his break",
        "From the ramp",
        "Off the centre line",
        "Over the sea",
        "To the one ahead",
    )
    pair = spacing.closest
    nearest = "No two are ever in the circuit together."
    if pair is not None:
        apart = "place" if pair.apart == 1 else "places"
        nearest = (
            f"Nearest two, {pair.apart} {apart} apart: {found['spacing.closest.distance'].text}, with "
            f"{found['spacing.closest.height'].text} of height between them, one {_on(pair.first)}, the other "
            f"{_on(pair.second)}. At most {spacing.in_circuit} between break and ramp at once."
        )
    return [
        table(f"Who is where when number one is over the ramp, {called}", heads, rows, f"{name}-places"),
        element("p", nearest, class_="small"),
    ]


def _on(leg: str) -> str:
    return leg if leg.startswith(("over", "coming")) else f"in the {leg}" if "turn" in leg else f"on the {leg}"


def _touchdown(day: Day, solution: Solution, found: dict[str, Figure], name: str) -> list[Child]:
    touchdown = solution.touchdown
    if isinstance(touchdown, Unsolved):
        return [
            element("h3", "The cut and the wires"),
            element("p", f"Not worked out: {touchdown.reason.rstrip('.')}."),
        ]
    lines = landing_head(day, touchdown, found)
    groups = landing_groups(day, touchdown, found)
    lists = [plain_list("The touch", {line.label: f"{line.text} {line.note}".strip() for line in lines})]
    lists += [plain_list(group.name, {row[0].label: row[0].text for row in group.rows}) for group in groups]
    told = " ".join(sentence.text for sentence in landing_sentences(touchdown, found))
    moves = element("ul", *(element("li", sentence) for sentence in what_moves_it(touchdown)))
    drawing = touchdown_drawing(touchdown, touchdown_facts(day, solution), f"{name}-touchdown")
    return [
        element("h3", "The cut and the wires"),
        element(
            "div",
            element("div", drawing, element("p", told), element("p", "What moves it:"), moves),
            element("div", *lists, class_="ship-figures"),
            class_="ship",
        ),
    ]
