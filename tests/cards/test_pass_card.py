"""The card of the pass: what it says is what was solved, in words with their sides, dearest errors first."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pypdfium2
import pytest
from tests.cards.conftest import NO_CIRCUIT, RIGHT_HAND, Solved, SolvedBy
from tests.cards.day_plans import day_of
from tests.cards.test_cards import read, text_sizes

from roundown import CAUTION
from roundown.cards.card import Card, Cell, Table
from roundown.cards.layout import POINTS_WIDE, render
from roundown.cards.pass_card import MOST_FIGURES, effect, last_safe, pass_cards, turn_in_by_ship
from roundown.passes.cost import USUAL
from roundown.quantities import FOOT, KNOT, YARD
from roundown.recovery.clock_cues import ClockCues
from roundown.recovery.error_costs import ErrorCost
from roundown.recovery.last_wave_off import LastWaveOff
from roundown.recovery.latest_turn_in import LatestTurnIn
from roundown.recovery.result import CircuitResult
from roundown.recovery.wave_off import WaveOff
from roundown.solution import Solution, Unsolved

DAYS = [("fast-carrier-1944", ""), ("half-mile-1945", ""), ("fast-carrier-1944", RIGHT_HAND)]
NUMBER = re.compile(r"\d[\d,.]*")


def card(found: Solved) -> Card:
    (made,) = pass_cards(found.day, found.solution)
    return made


def table(of: Card, name: str) -> Table | None:
    return next((each for each in of.tables if each.name.startswith(name)), None)


def rows(of: Card, name: str) -> list[tuple[str, ...]]:
    found = table(of, name)
    return [] if found is None else [tuple(cell.text for cell in row) for row in found.rows]


def other(found: Solved, **fields: Any) -> Card:
    """The card of the day with other results."""
    return card(Solved(found.day, replace(found.solution, **fields)))


def cells(of: Card) -> list[Cell]:
    return [cell for each in of.tables for row in each.rows for cell in row if cell.key]


def assert_traced(of: Card, found: Solved) -> None:
    """Every figure with a key holds the number of that key, as it is written, or with its side for its sign."""
    texts = {key: given.text for key, given in found.day.givens.items()}
    texts |= {key: figure.text for key, figure in found.solution.figures.items()}
    for key, text in [(cell.key, cell.text) for cell in cells(of)] + [(line.key, line.text) for line in of.lines]:
        assert texts[key].lstrip("-").removesuffix(" over sea") in text, key


def assert_fits(of: Card, least: float = 15.0) -> str:
    """One page, nothing outside its margins, no text below so many pixels on a picture 600 wide. Returns its text."""
    made = render(of, "pdf")
    text, page = read(made), pypdfium2.PdfDocument(made)[0]
    assert min(text_sizes(page)) * 600.0 / POINTS_WIDE >= least
    for piece in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], max_depth=2):
        left, bottom, right, top = piece.get_bounds()
        assert 16.0 <= left <= right <= POINTS_WIDE - 16.0
        assert 10.0 <= bottom <= top <= 583.0
    assert CAUTION in text
    return text


@pytest.mark.parametrize(("doctrine", "more"), DAYS)
def test_the_card_says_what_was_solved_and_can_be_read(solved: SolvedBy, doctrine: str, more: str) -> None:
    found = solved(doctrine, more=more)
    made = card(found)
    assert_traced(made, found)
    text = assert_fits(made)
    for cell in cells(made):
        assert NUMBER.findall(cell.text)[0] in text, cell.key
    assert len(made.keys) == len(set(made.keys)) <= MOST_FIGURES


def test_every_carrier_and_type_of_a_night_has_its_card() -> None:
    found = day_of("night")
    for name, theirs in found.solution.parts.items():
        hers = Solved(found.day.parts[name], theirs)
        made = card(hers)
        assert_traced(made, hers)
        assert_fits(made)
        assert made.subtitles[0] == found.day.parts[name].word("type.label")


def test_a_second_late_costs_half_of_what_two_seconds_late_cost(solved: SolvedBy) -> None:
    """Second method: the late turn-ins of the circuit, flown by themselves, for a steady ship go with the delay."""
    found = solved()
    assert isinstance(found.solution.circuit, CircuitResult)
    two = -found.solution.circuit.late["late_2_s"].rolled_out_ahead / YARD
    said = next(row[1] for row in rows(card(found), "What an error") if row[0] == "A turn-in 1 s late")
    assert said.endswith(" yd further astern")
    assert float(said.split()[0]) == pytest.approx(two / 2.0, abs=0.7)


def test_the_dearest_errors_are_shown_and_a_late_turn_in_always(solved: SolvedBy) -> None:
    """Second method: weighed here, root of the sum of squares of the misses in tolerances."""
    found = solved()
    weighed = {
        key: sum((getattr(error, name) / getattr(USUAL, name)) ** 2 for name in ("ahead", "port", "height", "speed"))
        for key, error in found.solution.costs.items()
        if not key.startswith("ramp_")
    }
    dearest = sorted(weighed, key=lambda key: -weighed[key])
    shown = [cell.key.split(".")[1] for row in (table(card(found), "What an error") or Table("", (), ())).rows
             for cell in row[1:]]  # fmt: skip
    assert shown == [key for key in dearest if key in shown]
    assert "turn_in_1_s_late" in shown
    others = [key for key in dearest if key != "turn_in_1_s_late"]
    assert [key for key in shown if key != "turn_in_1_s_late"] == others[:4]
    cheap = {key: replace(each, cost=0.0) if key == "turn_in_1_s_late" else each
             for key, each in found.solution.costs.items()}  # fmt: skip
    assert rows(other(found, costs=cheap), "What an error")[-1][0] == "A turn-in 1 s late"


@pytest.mark.parametrize(
    ("misses", "field", "words"),
    [
        ({"ahead": -100.0 * YARD, "port": 1.0}, "ahead", "100 yd further astern"),
        ({"ahead": 100.0 * YARD}, "ahead", "100 yd further ahead"),
        ({"ahead": 20.0 * YARD, "port": 30.0 * FOOT}, "port", "30 ft to port"),
        ({"port": -30.0 * FOOT}, "port", "30 ft to starboard"),
        ({"height": -10.0 * FOOT}, "height", "10 ft lower"),
        ({"speed": 5.0 * KNOT}, "speed", "5.0 kt faster"),
    ],
)
def test_an_error_is_told_by_the_miss_that_weighs_most(misses: dict[str, float], field: str, words: str) -> None:
    """Own arithmetic, with 50 m, 10 ft, 5 ft and 2 kt as one each."""
    nil = dict.fromkeys(("ahead", "port", "time", "height", "speed", "bank", "cost"), 0.0)
    assert effect(ErrorCost(words="an error", **{**nil, **misses})) == (field, words)


@pytest.mark.parametrize(
    ("bow", "ramp", "label", "text", "key"),
    [
        (-5.0, -9.0, "Turn in before bow abeam", "5.0 s", "cues.turn_in_after_bow"),
        (6.0, -2.0, "Turn in after bow abeam", "6.0 s", "cues.turn_in_after_bow"),
        (9.0, 4.0, "Turn in after ramp abeam", "4.0 s", "cues.turn_in_after_ramp"),
    ],
)
def test_the_clock_is_started_by_the_part_of_the_ship_last_passed(
    solved: SolvedBy, bow: float, ramp: float, label: str, text: str, key: str
) -> None:
    """Constructed."""
    found = solved()
    assert isinstance(found.solution.cues, ClockCues)
    cues = replace(found.solution.cues, turn_in_after_bow=bow, turn_in_after_ramp=ramp)
    assert turn_in_by_ship(replace(found.solution, cues=cues)) == (label, text, key)
    line = other(found, cues=cues).head[0]
    assert (line.label, line.text, line.key) == (label, text, key)


@pytest.mark.parametrize(
    ("latest", "words"),
    [
        (2.0, "2.0 s before the ramp"),
        (-0.2, "0.2 s past the ramp"),
        (-0.3, "0.3 s past the ramp, at the cut"),
        (None, "none on the final"),
    ],
)
def test_the_last_wave_off_has_its_side_in_words(solved: SolvedBy, latest: float | None, words: str) -> None:
    """Constructed."""
    found = solved()
    assert isinstance(found.solution.last_wave_off, LastWaveOff)
    last = replace(found.solution.last_wave_off, latest=latest, up_to_cut="at the cut" in words)
    assert last_safe(replace(found.solution, last_wave_off=last))[0] == words
    assert words in [row[1] for row in rows(other(found, last_wave_off=last), "Waved off")]


def test_the_window_of_turn_ins_has_its_sides_in_words(solved: SolvedBy) -> None:
    """Constructed: an end that does not close is said so, with no figure."""
    found = solved()
    window = found.solution.latest_turn_in
    assert isinstance(window, LatestTurnIn)
    assert window.latest is not None
    (row,) = rows(card(found), "Turn-ins")
    assert (row[0], row[2]) == ("earliest", "latest")
    assert " early, with " in row[1]
    assert " late, with " in row[3]
    early = replace(window.latest, after=-1.0)
    made = other(found, latest_turn_in=replace(window, earliest=None, latest=early))
    assert rows(made, "Turn-ins") == [("earliest", "none closes", "latest", "1.0 s early, with 35 deg")]
    assert "latest_turn_in.earliest.after" not in made.keys


def test_places_lost_are_counted_to_the_next_free_one(solved: SolvedBy) -> None:
    """Own arithmetic: whole intervals after his own time over the ramp."""
    found = solved()
    again = found.solution.wave_off
    assert isinstance(again, WaveOff)
    places = -(-again.time // found.day.number("doctrine.circuit.interval"))
    told = {row[0]: row[1] for row in rows(card(found), "Waved off")}
    assert told["next free place"].startswith(f"{places:.0f} places: in ")
    one = other(found, wave_off=replace(again, places=1))
    assert rows(one, "Waved off")[1][1].startswith("1 place: ")
    dry = other(found, wave_off=replace(again, fuel=None, fuel_in_place=None))
    assert "fuel until then" not in {row[0] for row in rows(dry, "Waved off")}


def test_the_rule_of_thumb_stands_beside_the_time_flown(solved: SolvedBy) -> None:
    found = solved()
    (flown, *_) = rows(card(found), "Waved off")
    figures = found.solution.figures
    assert flown[1:] == (figures["wave_off.time"].text, figures["wave_off.time_by_rule"].text)


@pytest.mark.parametrize(
    ("field", "name"),
    [("latest_turn_in", "How late"), ("wave_off", "Going round"), ("last_wave_off", "The last"), ("spacing", "Who is")],
)
def test_what_is_not_worked_out_says_why_and_shows_no_figure(solved: SolvedBy, field: str, name: str) -> None:
    found = solved()
    made = other(found, **{field: Unsolved("The type does not give wave_off.power_time")})
    (sentence,) = made.sentences
    assert sentence.text.startswith(name)
    assert sentence.text.endswith("not worked out: the type does not give wave_off.power_time.")
    assert not any(key.startswith(f"{field}.") for key in made.keys)
    assert "not worked out" in assert_fits(made)


def test_all_that_can_be_missing_still_goes_on_its_page(solved: SolvedBy) -> None:
    found = solved(title="A title long enough for two lines of the card, " * 2)
    why = Unsolved("the type does not give launch.lift_slope, launch.zero_lift_angle, wave_off.power_time")
    made = other(found, latest_turn_in=why, wave_off=why, last_wave_off=why, spacing=why, costs={})
    assert len(made.sentences) == 5
    assert rows(made, "What an error") == rows(made, "Waved off") == rows(made, "Turn-ins") == []
    assert_fits(made)


def test_with_marks_and_a_long_title_it_still_goes_on_its_page(solved: SolvedBy) -> None:
    found = solved("half-mile-1945", "070/3 kt", title="A title long enough for two lines of the card, " * 2)
    made = card(found)
    assert_fits(replace(made, marks=("A stop stands against this plan.", "Estimated: some of it is an estimate.")))


def test_without_a_circuit_the_card_says_why(solved: SolvedBy) -> None:
    found = solved(more=NO_CIRCUIT)
    made = card(found)
    assert not made.keys
    assert "No circuit: the break ends behind" in assert_fits(made)


def test_one_in_the_air_at_a_time_has_no_closest_two(solved: SolvedBy) -> None:
    found = solved()
    solution: Solution = found.solution
    assert not isinstance(solution.spacing, Unsolved)
    made = other(found, spacing=replace(solution.spacing, closest=None))
    assert [row[0] for row in rows(made, "Others")] == ["interval"]
