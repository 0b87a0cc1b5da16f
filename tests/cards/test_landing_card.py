"""The card of the cut and the wires: it says what was solved, with sides for signs; stop and motion in words."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from tests.cards.conftest import NO_CIRCUIT, RIGHT_HAND, Solved, SolvedBy
from tests.cards.day_plans import day_of
from tests.cards.test_pass_card import assert_fits

from roundown.cards.card import Card
from roundown.cards.landing_card import MOST_FIGURES, landing_cards, touchdown_facts
from roundown.day.solve import solve
from roundown.quantities import DEGREE, FOOT, KNOT, YARD
from roundown.recovery.deck_motion import OFF, DeckMotion
from roundown.recovery.touchdown import solve_touchdown
from roundown.recovery.touchdown_result import Touchdown
from roundown.solution import Unsolved

DAYS = [("fast-carrier-1944", ""), ("half-mile-1945", ""), ("fast-carrier-1944", RIGHT_HAND)]
READ = 15.0  # pixels of the side view's smallest text on a picture 600 wide
NUMBER = re.compile(r"\d[\d,.]*")


def landing(found: Solved) -> Touchdown:
    assert isinstance(found.solution.touchdown, Touchdown)
    return found.solution.touchdown


def card(found: Solved, **fields: Any) -> Card:
    (made,) = landing_cards(found.day, replace(found.solution, **fields))
    return made


def told(of: Card) -> dict[str, str]:
    return {line.key: line.text for line in of.lines}


@pytest.mark.parametrize(("doctrine", "more"), DAYS)
def test_the_card_says_what_was_solved_and_can_be_read(solved: SolvedBy, doctrine: str, more: str) -> None:
    found = solved(doctrine, more=more)
    made = card(found)
    values = {key: given.value for key, given in found.day.givens.items()}
    values |= {key: figure.value or 0.0 for key, figure in found.solution.figures.items()}
    units = {"yd": YARD, "ft": FOOT, "kt": KNOT, "s": 1.0, "g": 9.80665, "ft/s": FOOT}
    printed = assert_fits(made, READ)
    for line in made.lines:
        number, unit = line.text.split()[:2]
        digits = len(number.partition(".")[2])
        assert float(number.replace(",", "")) == pytest.approx(
            abs(values[line.key]) / units[unit], abs=0.5001 * 10.0**-digits
        ), line.key
        assert line.text in printed, line.key
    assert len(made.keys) == len(set(made.keys)) <= MOST_FIGURES
    assert len(made.drawings) == 1


def test_every_carrier_and_type_of_a_night_has_its_card() -> None:
    found = day_of("night")
    for name, theirs in found.solution.parts.items():
        (made,) = landing_cards(found.day.parts[name], theirs)
        assert_fits(made, READ)


def test_the_side_view_is_of_the_facts_it_was_solved_from(solved: SolvedBy) -> None:
    """Second method: solved once more from them."""
    for doctrine in ("fast-carrier-1944", "half-mile-1945"):
        found = solved(doctrine)
        again = solve_touchdown(touchdown_facts(found.day, found.solution))
        assert isinstance(again, Touchdown)
        assert again.touch_ahead == landing(found).touch_ahead
        assert again.hook_over_ramp == landing(found).hook_over_ramp


def test_the_mean_pull_is_that_of_stopping_in_the_run_out(solved: SolvedBy) -> None:
    """Own arithmetic: v^2 / (2 s) over 9.80665 m/s2, from speed and run-out as printed; twice it at most."""
    found = solved()
    shown = told(card(found))
    stem = "touchdown.arresting"
    speed = float(shown[f"{stem}.engaging"].split()[0]) * KNOT
    run_out = float(shown["ship.gear.run_out"].split()[0]) * FOOT
    mean = speed**2 / (2.0 * run_out) / 9.80665
    assert float(shown[f"{stem}.mean"].split()[0]) == pytest.approx(mean, abs=0.06)
    assert float(shown[f"{stem}.peak_high"].split()[0]) == pytest.approx(2.0 * mean, abs=0.06)


def test_places_have_their_side_of_the_ramp(solved: SolvedBy) -> None:
    """Constructed."""
    found = solved()
    moved = replace(landing(found), cut_earliest=-60.0 * YARD, cut_latest=25.0 * YARD, throttle_shut=20.0 * YARD)
    shown = told(card(found, touchdown=moved))
    assert shown["touchdown.cut_earliest"] == "60 yd astern"
    assert shown["touchdown.cut_latest"] == "25 yd ahead"
    assert shown["touchdown.throttle_shut"] == "20 yd ahead"
    late = replace(moved, cut_earliest=None, cut_in_hand=-0.6)
    made = card(found, touchdown=late)
    assert "touchdown.cut_earliest" not in told(made)
    line = next(line for line in made.lines if line.key == "touchdown.cut_in_hand")
    assert (line.label, line.text) == ("too late by", "0.6 s")


def test_a_sink_that_is_the_doctrines_assumption_is_told_as_one(solved: SolvedBy) -> None:
    """Constructed: at the part of the undercarriage's limit to which it is eased back, and well under it."""
    found = solved("half-mile-1945")
    kept = found.day.number("doctrine.recovery.eased_sink") * found.day.number("type.landing.sink_limit")
    for sink, label in ((kept, "sink, by assumption"), (0.8 * kept, "sink")):
        made = card(found, touchdown=replace(landing(found), sink=sink))
        assert next(line.label for line in made.lines if line.key == "touchdown.sink") == label


def test_the_wire_is_told_of_how_many(solved: SolvedBy) -> None:
    found = solved()
    stop = landing(found).arresting
    assert stop is not None
    line = card(found).head[2]
    assert line.label == f"Wire {stop.wire} of {found.day.number('ship.gear.wires'):.0f}"
    assert line.key == "touchdown.arresting.wire_place"


def test_past_the_wires_the_barrier_is_told_and_no_wire(solved: SolvedBy) -> None:
    """Constructed."""
    found = solved()
    past = replace(landing(found), arresting=None, barrier_closing=50.0 * KNOT)
    made = card(found, touchdown=past)
    assert told(made)["touchdown.barrier_closing"] == "50.0 kt"
    assert not any(".arresting." in key for key in made.keys)
    assert made.sentences[0].text.startswith("No wire: the hook meets the deck ")
    assert_fits(made, READ)


def test_a_struck_ramp_is_told(solved: SolvedBy) -> None:
    """Constructed."""
    found = solved()
    made = card(found, touchdown=replace(landing(found), arresting=None, strikes=True))
    assert "strike the ramp" in assert_fits(made, READ)


def on_deck(found: Solved, motion: DeckMotion) -> Solved:
    """The day with its deck moving so."""
    again = solve_touchdown(replace(touchdown_facts(found.day, found.solution), motion=motion))
    assert isinstance(again, Touchdown)
    return Solved(found.day, replace(found.solution, touchdown=again))


def test_a_steady_deck_says_that_its_motion_is_off(solved: SolvedBy) -> None:
    """Constructed: the motion taken away."""
    made = card(on_deck(solved("half-mile-1945"), DeckMotion(0.0, 0.0, 9.0, 200.0)))
    assert [sentence.text for sentence in made.sentences] == [OFF]


def test_a_moving_deck_says_its_worst_moment_in_one_line(solved: SolvedBy) -> None:
    """Own arithmetic: a degree about midships of 200 m lifts the ramp by 100 m x 1/57.3, and 1 m of heave with it."""
    found = on_deck(solved(), DeckMotion(1.0 * DEGREE, 1.0, 9.0, 200.0))
    made = card(found)
    (sentence,) = made.sentences
    assert "pitch 1.0 deg" in sentence.text
    assert sentence.keys == ("touchdown.motion.hook_over_ramp", "touchdown.motion.sink")
    assert all(found.solution.figures[key].text in sentence.text for key in sentence.keys)
    over = float(made.head[0].text.split()[0]) * FOOT
    lowest = float(sentence.text.split("hook over the ramp ")[1].split()[0]) * FOOT
    assert over - lowest == pytest.approx(100.0 / 57.29578 + 1.0, abs=0.04)
    assert_fits(made, READ)


def test_what_is_not_worked_out_says_why_and_shows_no_figure(solved: SolvedBy) -> None:
    found = solved()
    made = card(found, touchdown=Unsolved("The touchdown waits for ship.gear.wires"))
    assert not made.keys
    assert not made.drawings
    assert "not worked out: The touchdown waits for ship.gear.wires." in assert_fits(made)
    assert "No circuit: the break ends behind" in assert_fits(card(solved(more=NO_CIRCUIT)))


def test_the_same_day_gives_the_same_card(solved: SolvedBy) -> None:
    found = solved()
    assert card(found) == card(Solved(found.day, solve(found.day)))
