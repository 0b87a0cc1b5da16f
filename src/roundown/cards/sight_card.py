"""The cards of what is seen: the pilot at the turn-in, at the ninety and near the ramp, and the signal officer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from xml.etree import ElementTree as ET

from roundown.cards.card import Card, Group, Line, Sentence, shortened
from roundown.cards.drawing import RISE
from roundown.cards.marks import marks_of
from roundown.cards.markup import number, svg_text
from roundown.cards.pass_card import subtitles
from roundown.cards.sentences import no_circuit, sided
from roundown.cards.sight_drawing import SightSheet, caption, sight_drawing
from roundown.errors import NoSolution
from roundown.figures import Figure
from roundown.plan.facts import Day
from roundown.quantities import ANGLE, HEIGHT_OVER_DECK, TIME, write
from roundown.sight.result import SightResult
from roundown.sight.view import Picture, officers_picture, pilots_picture
from roundown.solution import Solution, Unsolved

HEADING = "What you see"
SHEET = SightSheet(236.0, 12.7)
NEAR_RAMP = 7.0  # s before the ramp
TOUCHES_THEN = 1.0  # s from the turn-in within which the edge is said to touch at it; own rule, no source
A_PAGE = 2  # pictures


@dataclass(frozen=True)
class View:
    """A picture of the card and what is said beside it. whose : eye; drawing : SVG, without its caption."""

    name: str
    whose: str
    picture: Picture
    drawing: str
    rows: tuple[Line, ...]
    key: str


def sight_cards(day: Day, solution: Solution) -> tuple[Card, ...]:
    """The cards of a carrier and type, two pictures each; where nothing is seen, one that says why."""
    seen = solution.sight
    if isinstance(seen, Unsolved):
        if isinstance(solution.circuit, Unsolved):
            why = no_circuit(solution.circuit, solution.findings)
        else:
            why = f"What is seen is not worked out: {seen.reason}."
        return (_card(day, solution, HEADING, (), (Sentence(why),)),)
    views, missing = views_of(day, solution, seen)
    told = ((wing_sentence(seen), *missing), (straight_sentence(seen, solution.figures),))
    pages = [views[i : i + A_PAGE] for i in range(0, len(views), A_PAGE)] or [()]
    return tuple(
        _card(
            day, solution, HEADING if len(pages) == 1 else f"{HEADING}, page {i + 1} of {len(pages)}", page,
            told[0] + told[1] if len(pages) == 1 else told[i],
        )
        for i, page in enumerate(pages)
    )  # fmt: skip


def _card(day: Day, solution: Solution, heading: str, views: Sequence[View], sentences: tuple[Sentence, ...]) -> Card:
    captions = tuple(
        Sentence(f"{'; '.join(caption(view.picture, view.whose))}.", (view.key,) if view.key else ()) for view in views
    )
    card = Card(
        template="sight-card",
        heading=heading,
        title=shortened(day.title),
        subtitles=subtitles(day),
        head=(),
        groups=tuple(Group(view.name, tuple((line,) for line in view.rows)) for view in views),
        sentences=(*captions, *sentences),
        marks=(),
        units="Heights ft; angles off nose and bow deg. Hull, deck and island are boxes to scale.",
        drawings=tuple(view.drawing for view in views),
        plan=day.hash,
    )
    return replace(card, marks=marks_of(day, solution, card.keys))


def views_of(day: Day, solution: Solution, seen: SightResult) -> tuple[tuple[View, ...], tuple[Sentence, ...]]:
    """The pictures in the order they are met, and a sentence for each there is none of."""
    officer = day.word("doctrine.officer")
    gates, figures = seen.facts.gates, solution.figures
    near = gates["ramp"] - NEAR_RAMP
    before = f"{write(NEAR_RAMP, TIME, decimals=0)} before the ramp"
    wanted: tuple[tuple[str, str, Callable[..., Picture], float, tuple[Line, ...], str], ...] = (
        ("At the turn-in", "Pilot’s eye", pilots_picture, gates["turn-in"], _at_gate("turn-in", day, seen, figures),
         "sight.gates.turn-in.eye_height"),
        ("At the ninety", "Pilot’s eye", pilots_picture, gates["ninety"], _at_gate("ninety", day, seen, figures),
         "sight.gates.ninety.eye_height"),
        (before[:1].upper() + before[1:], "Pilot’s eye", pilots_picture, near, _near_ramp(seen, figures), ""),
        ("The same from the deck", f"{officer[:1].upper()}{officer[1:]}’s eye, {before}", officers_picture, near,
         _from_deck(seen, figures), ""),
    )  # fmt: skip
    views: list[View] = []
    missing: list[Sentence] = []
    for i, (name, whose, picture_at, time, rows, key) in enumerate(wanted):
        try:
            picture = picture_at(seen.facts, seen.attitudes, time)
        except NoSolution:
            missing.append(Sentence(f"{name}: no picture, since the wing does not carry the aeroplane there."))
            continue
        drawing = svg_text(without_caption(sight_drawing(picture, SHEET, whose, f"view-{i}"), picture, SHEET))
        views.append(View(name, whose, picture, drawing, rows, key))
    return tuple(views), tuple(missing)


def without_caption(drawing: ET.Element, picture: Picture, sheet: SightSheet) -> ET.Element:
    """The framed picture alone, for a page that sets the caption beside it."""
    across, upward = picture.half
    tall = sheet.width * upward / across
    for text in drawing.findall("text"):
        if float(text.attrib["y"]) > tall + 0.5 * RISE * sheet.size:
            drawing.remove(text)
    drawing.set("viewBox", f"0 0 {number(sheet.width)} {number(tall)}")
    return drawing


def _at_gate(name: str, day: Day, seen: SightResult, figures: dict[str, Figure]) -> tuple[Line, ...]:
    gate, stem = seen.gates[name], f"sight.gates.{name}"
    lines = []
    if gate.horizon_over_deck is not None:
        where, of_deck = horizon_words(gate.horizon_over_deck, seen)
        text = write(abs(gate.horizon_over_deck), HEIGHT_OVER_DECK)
        lines.append(Line(where, text, f"{stem}.horizon_over_deck", of_deck))
    if gate.ramp_azimuth is not None:
        inside = f"to the {day.word('doctrine.circuit.hand')}" if gate.ramp_azimuth >= 0.0 else "outside the turn"
        lines.append(_line("ramp off the nose", f"{stem}.ramp_azimuth", figures, inside))
    if name == "turn-in" and gate.deck_angle is not None:
        lines.append(_line("deck, from ramp to bow", f"{stem}.deck_angle", figures, "in view"))
    if name == "ninety" and gate.beside_nose is not None:
        way = "clear of" if gate.beside_nose >= 0.0 else "behind"
        lines.append(_line(f"ramp {way} the nose’s edge by", f"{stem}.beside_nose", figures))
    return tuple(lines)


def _line(label: str, key: str, figures: dict[str, Figure], note: str = "") -> Line:
    return Line(label, figures[key].text.lstrip("-"), key, note)


def horizon_words(over_deck: float, seen: SightResult) -> tuple[str, str]:
    """Which part of the ship the horizon is level with, and how that is measured.

    over_deck : where the horizon cuts an upright on her island [m]
    """
    ship = seen.facts.ship
    if over_deck <= 0.0:
        return "horizon cuts the hull", "below the deck"
    over = "over the deck"
    if over_deck <= ship.island_height:
        return "horizon cuts the island", over
    if over_deck <= ship.mast_height:
        return "horizon cuts the mast", over
    return "horizon above all of her", over


def _near_ramp(seen: SightResult, figures: dict[str, Figure]) -> tuple[Line, ...]:
    lines = []
    if seen.edge_on_ramp is not None:
        lines.append(_line("nose’s inner edge stands under the ramp", "sight.edge_on_ramp", figures, "before it"))
    if seen.final_ramp_hidden is not None:
        lines.append(_line("nose hides the ramp for", "sight.final_ramp_hidden", figures, "of the final turn"))
    return tuple(lines)


def _from_deck(seen: SightResult, figures: dict[str, Figure]) -> tuple[Line, ...]:
    return tuple(
        _line("its span takes", f"sight.gates.{gate}.officer_span", figures, where)
        for gate, where in (("ninety", "at the ninety"), ("ramp", "over the ramp"))
        if seen.gates[gate].officer_span is not None
    )


def wing_sentence(seen: SightResult) -> Sentence:
    """Whether the leading edge touches the stern, when, and where the stern stands at the turn-in."""
    keys: list[str] = []
    after, along = seen.wing_cue_after, seen.wing_cue_along
    then = ""
    if seen.stern_ahead_of_tip is not None and seen.stern_over_tip is not None:
        ahead = sided(seen.stern_ahead_of_tip, ANGLE, "ahead of", "abaft")
        over = sided(seen.stern_over_tip, ANGLE, "above", "below")
        then = f"; at the turn-in the stern stands {ahead} the tip and {over} it"
        keys = ["sight.stern_ahead_of_tip", "sight.stern_over_tip"]
    if after is None or along is None:
        return Sentence(f"The wing is no cue: its leading edge does not come to the stern{then}.", tuple(keys))
    keys = ["sight.wing_cue_after", *keys]
    when = sided(after, TIME, "after the turn-in", "before the turn-in")
    if not 0.0 <= along <= 1.0:
        where = "outside its tip" if along > 1.0 else "inside its root"
        flown = "flown straight on, the stern passes" if after > 0.0 else "the stern passes"
        return Sentence(
            f"The wing is no cue: {flown} {where} {when}, and the leading edge never touches it{then}.", tuple(keys)
        )
    out = f"{along:.2f} of the way out to the tip"
    if abs(after) <= TOUCHES_THEN:
        return Sentence(
            f"The leading edge touches the stern at the turn-in, within {write(TOUCHES_THEN, TIME)}: {out}."
        )
    flown = "Flown straight on, the" if after > 0.0 else "The"
    return Sentence(f"{flown} leading edge touches the stern {when}, {out}{then}.", tuple(keys))


def straight_sentence(seen: SightResult, figures: dict[str, Figure]) -> Sentence:
    """From what distance a straight approach loses the deck."""
    if seen.straight_deepest is None:
        return Sentence("Straight in: not known, the wing does not carry the aeroplane.")
    if seen.straight_ramp_lost is None:
        return Sentence("Straight in up the wake, the nose hides the ramp from any distance.")
    keys = ["sight.straight_ramp_lost", "sight.straight_ramp_hidden"]
    lost, hidden = (figures[key].text for key in keys)
    text = f"Straight in up the wake, the nose hides the ramp from {lost} astern on, for the last {hidden}"
    if seen.straight_wire_lost is not None:
        keys.append("sight.straight_wire_lost")
        text += f"; the first wire from {figures[keys[-1]].text} astern of the ramp"
    return Sentence(f"{text}.", tuple(keys))
