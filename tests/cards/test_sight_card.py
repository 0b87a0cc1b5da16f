"""The cards of what is seen: pictures large enough, captions beside them, and sentences that are true."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from tests.cards.conftest import NO_CIRCUIT, RIGHT_HAND, Solved, SolvedBy
from tests.cards.day_plans import day_of
from tests.cards.test_drawings import assert_clear
from tests.cards.test_pass_card import assert_fits

from roundown.cards import sight_card
from roundown.cards.card import Card
from roundown.cards.sight_card import (
    NEAR_RAMP,
    SHEET,
    horizon_words,
    sight_cards,
    straight_sentence,
    wing_sentence,
    without_caption,
)
from roundown.cards.sight_drawing import caption, sight_drawing
from roundown.errors import NoSolution
from roundown.quantities import DEGREE, FOOT, YARD
from roundown.sight.result import SightResult
from roundown.sight.view import Picture, pilots_picture
from roundown.solution import Unsolved

DAYS = [("fast-carrier-1944", ""), ("half-mile-1945", ""), ("fast-carrier-1944", RIGHT_HAND)]


def seen_by(found: Solved) -> SightResult:
    assert isinstance(found.solution.sight, SightResult)
    return found.solution.sight


def cards(found: Solved, **fields: Any) -> tuple[Card, ...]:
    return sight_cards(found.day, replace(found.solution, **fields))


@pytest.mark.parametrize(("doctrine", "more"), DAYS)
def test_four_pictures_on_two_pages_that_can_be_read(solved: SolvedBy, doctrine: str, more: str) -> None:
    found = solved(doctrine, more=more)
    pages = cards(found)
    assert [len(page.drawings) for page in pages] == [2, 2]
    texts = {key: figure.text for key, figure in found.solution.figures.items()}
    for page in pages:
        printed = assert_fits(page)
        assert len(page.keys) == len(set(page.keys)) <= 14
        for line in page.lines:
            assert texts[line.key].lstrip("-") == line.text
            assert f"{line.text} {line.note}".strip() in printed
        for sentence in page.sentences:
            assert all(texts[key].lstrip("-") in sentence.text for key in sentence.keys)
            assert sentence.text.split(";")[0] in printed


def test_two_pages_with_marks_and_a_long_title_still_hold_their_pictures(solved: SolvedBy) -> None:
    found = solved("half-mile-1945", "070/3 kt", title="A title long enough for two lines of the card, " * 2)
    marked = [
        replace(page, marks=("A stop stands against this plan.", "Estimated: some of it is.")) for page in cards(found)
    ]
    for page in marked:
        assert_fits(page)


def test_every_carrier_and_type_of_a_night_has_its_pictures() -> None:
    found = day_of("night")
    for name, theirs in found.solution.parts.items():
        for page in sight_cards(found.day.parts[name], theirs):
            assert_fits(page)


def test_the_captions_are_those_of_the_pictures(solved: SolvedBy) -> None:
    found = solved()
    seen = seen_by(found)
    first = pilots_picture(seen.facts, seen.attitudes, seen.facts.gates["turn-in"])
    sentence = cards(found)[0].sentences[0]
    assert sentence.text == f"{'; '.join(caption(first, 'Pilot’s eye'))}."
    assert sentence.keys == ("sight.gates.turn-in.eye_height",)
    assert [group.name for page in cards(found) for group in page.groups] == [
        "At the turn-in", "At the ninety", "7 s before the ramp", "The same from the deck",
    ]  # fmt: skip


def test_the_officer_is_called_what_the_doctrine_calls_him(solved: SolvedBy) -> None:
    for doctrine, word in (("fast-carrier-1944", "Signal officer’s eye"), ("half-mile-1945", "Batsman’s eye")):
        assert cards(solved(doctrine))[1].sentences[1].text.startswith(f"{word}, 7 s before the ramp; eye ")


def test_the_last_pictures_are_six_to_eight_seconds_before_the_ramp(
    solved: SolvedBy, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Constructed: the instants at which pictures are asked for."""
    found = solved()
    seen, asked = seen_by(found), []

    def noted(facts: Any, flown: Any, time: float) -> Picture:
        asked.append(time)
        return pilots_picture(facts, flown, time)

    monkeypatch.setattr(sight_card, "pilots_picture", noted)
    cards(found)
    assert asked[:2] == [seen.facts.gates["turn-in"], seen.facts.gates["ninety"]]
    assert 6.0 <= NEAR_RAMP <= 8.0
    assert asked[2] == pytest.approx(seen.facts.gates["ramp"] - 7.0)


def test_a_picture_without_its_caption_is_the_frame_alone(solved: SolvedBy) -> None:
    seen = seen_by(solved())
    picture = pilots_picture(seen.facts, seen.attitudes, seen.facts.gates["ninety"])
    whole = sight_drawing(picture, SHEET, "Pilot’s eye", "one")
    inside = {text.text for text in whole.iter("text")} - set(caption(picture, "Pilot’s eye"))
    alone = without_caption(sight_drawing(picture, SHEET, "Pilot’s eye", "one"), picture, SHEET)
    assert {text.text for text in alone.iter("text")} == inside
    assert inside
    across, upward = picture.half
    assert [float(each) for each in alone.attrib["viewBox"].split()] == pytest.approx(
        [0.0, 0.0, SHEET.width, SHEET.width * upward / across], abs=0.06
    )
    assert_clear(alone)


def test_pictures_of_a_card_have_ids_of_their_own(solved: SolvedBy) -> None:
    drawings = [each for page in cards(solved()) for each in page.drawings]
    ids = [found for drawing in drawings for found in re.findall(r' id="([^"]*)"', drawing)]
    assert len(ids) == len(set(ids)) == 8
    assert all(ET.fromstring(drawing).tag.endswith("svg") for drawing in drawings)  # noqa: S314 - our own


def test_the_horizon_is_said_to_cut_what_it_cuts(solved: SolvedBy) -> None:
    """Own arithmetic: by the heights of deck, island and mast."""
    seen = seen_by(solved())
    island, mast = seen.facts.ship.island_height, seen.facts.ship.mast_height
    assert horizon_words(-1.0, seen) == ("horizon cuts the hull", "below the deck")
    assert horizon_words(0.5 * island, seen)[0] == "horizon cuts the island"
    assert horizon_words(0.5 * (island + mast), seen)[0] == "horizon cuts the mast"
    assert horizon_words(mast + 0.1, seen)[0] == "horizon above all of her"


def test_at_the_ninety_the_horizon_cuts_the_island_as_the_rule_has_it(solved: SolvedBy) -> None:
    """Common practice, no source: at 90 ft it cuts the island 90 ft above the sea. The eye is over the wheels, and the
    round sea takes (sqrt(h) - d / 1.169)^2: within 10 ft of 90 all the same.
    """
    found = solved()
    line = next(line for line in cards(found)[0].lines if line.key == "sight.gates.ninety.horizon_over_deck")
    assert line.label == "horizon cuts the island"
    over_sea = float(line.text.split()[0]) + found.day.number("ship.deck_height") / FOOT
    assert over_sea == pytest.approx(90.0, abs=10.0)


def test_where_the_edge_never_touches_the_card_says_the_wing_is_no_cue(solved: SolvedBy) -> None:
    """Second method: the stern and the edge's ends on the picture at that instant, flown straight on."""
    seen = seen_by(solved())
    assert seen.wing_cue_along is not None
    assert seen.wing_cue_along > 1.0
    sentence = wing_sentence(seen)
    assert sentence.text.startswith("The wing is no cue: flown straight on, the stern passes outside its tip ")
    assert "never touches it; at the turn-in the stern stands " in sentence.text


THEN = "; at the turn-in the stern stands 2.0 deg abaft the tip and 3.0 deg below it."


@pytest.mark.parametrize(
    ("after", "along", "words"),
    [
        (0.3, 0.4, "The leading edge touches the stern at the turn-in, within 1.0 s: 0.40 of the way out to the tip."),
        (
            -4.0,
            0.75,
            f"The leading edge touches the stern 4.0 s before the turn-in, 0.75 of the way out to the tip{THEN}",
        ),
        (
            5.0,
            0.1,
            f"Flown straight on, the leading edge touches the stern 5.0 s after the turn-in, 0.10 of {{}}{THEN}",
        ),
        (
            5.0,
            -0.2,
            f"no cue: flown straight on, the stern passes inside its root 5.0 s after the turn-in, and {{}}{THEN}",
        ),
        (-3.0, 1.5, f"no cue: the stern passes outside its tip 3.0 s before the turn-in, and {{}}{THEN}"),
        (None, None, f"no cue: its leading edge does not come to the stern{THEN}"),
    ],
)
def test_the_wing_edge_is_told_as_it_is(solved: SolvedBy, after: float | None, along: float | None, words: str) -> None:
    """Constructed."""
    seen = replace(
        seen_by(solved()), wing_cue_after=after, wing_cue_along=along, stern_ahead_of_tip=-2.0 * DEGREE,
        stern_over_tip=-3.0 * DEGREE,
    )  # fmt: skip
    way = "the way out to the tip" if along is not None and 0.0 <= along <= 1.0 else "the leading edge never touches it"
    assert wing_sentence(seen).text.removeprefix("The wing is ") == words.format(way)


def test_a_straight_in_is_told_from_where_it_loses_the_deck(solved: SolvedBy) -> None:
    """Second method: height of the eye over the ramp by the deepest view, which the card's distance must bring back
    within the slope's part; and constructed cases.
    """
    found = solved()
    seen, figures = seen_by(found), found.solution.figures
    sentence = straight_sentence(seen, figures)
    assert sentence.text.startswith("Straight in up the wake, the nose hides the ramp from ")
    lost = float(sentence.text.split(" yd")[0].split()[-1]) * YARD
    eye = found.day.number("doctrine.circuit.ramp_height") + found.day.number("type.sight.eye_height")
    assert seen.straight_deepest is not None
    assert lost == pytest.approx(eye / math.tan(seen.straight_deepest), rel=0.2)
    any_distance = replace(seen, straight_ramp_lost=None, straight_ramp_hidden=None)
    assert straight_sentence(any_distance, figures).text.endswith("from any distance.")
    stalled = replace(any_distance, straight_deepest=None)
    assert "the wing does not carry" in straight_sentence(stalled, figures).text
    no_wires = straight_sentence(replace(seen, straight_wire_lost=None), figures)
    assert "first wire" not in no_wires.text


def test_a_picture_that_is_not_to_be_had_is_said_and_the_rest_is_shown(
    solved: SolvedBy, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = solved()
    ninety = seen_by(found).facts.gates["ninety"]

    def stalled(facts: Any, flown: Any, time: float) -> Picture:
        if time == ninety:
            raise NoSolution("a picture")
        return pilots_picture(facts, flown, time)

    monkeypatch.setattr(sight_card, "pilots_picture", stalled)
    pages = cards(found)
    assert [len(page.drawings) for page in pages] == [2, 1]
    assert [group.name for page in pages for group in page.groups][1] == "7 s before the ramp"
    assert "At the ninety: no picture, since the wing does not carry" in assert_fits(pages[0])


def test_what_is_not_seen_says_why_and_shows_no_figure(solved: SolvedBy) -> None:
    (page,) = cards(solved(), sight=Unsolved("what is seen waits for type.sight.eye_height"))
    assert not page.keys
    assert "not worked out: what is seen waits for type.sight.eye_height." in assert_fits(page)
    (page,) = cards(solved(more=NO_CIRCUIT))
    assert "No circuit: the break ends behind" in assert_fits(page)
