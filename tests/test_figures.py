"""How figures are declared, found and followed down to what was given; findings and errors in the order people read."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import pytest

from roundown.errors import CatalogError, Complaint, NoSolution, PlanError, RoundownError
from roundown.figures import Given, Origin, figure, figures_of, given_number, given_word, matching, trace
from roundown.findings import Finding, Level, worst_first
from roundown.quantities import INDICATED_SPEED, LENGTH, TIME, Band

ORIGIN = Origin("day.toml", ("ship", "length"), "invented")
GIVENS = {
    "ship.length": given_number(100.0, LENGTH, ORIGIN),
    "ship.speed": given_number(10.0, INDICATED_SPEED, ORIGIN),
    "crew.officer": given_word("signal officer", ORIGIN),
}


@dataclass(frozen=True)
class Leg:
    """One part of an invented result."""

    length: float = figure(LENGTH, "length of the leg", "as given", ("ship.length",))


@dataclass(frozen=True)
class Result:
    """An invented result: a figure, one that may be missing, parts, and something that is no figure."""

    time: float = figure(TIME, "time of the leg", "length over speed", ("legs.out.length", "ship.speed"))
    spare: float | None = figure(TIME, "time to spare", "none in this test", ("ship.*",))
    legs: dict[str, Leg] = field(default_factory=dict)
    remark: str = ""


RESULT = Result(time=10.0, spare=None, legs={"out": Leg(100.0), "home": Leg(120.0)}, remark="calm")


def found() -> dict[str, Any]:
    return {each.key: each for each in figures_of(RESULT)}


def test_every_figure_is_found_with_its_place_in_the_result() -> None:
    assert list(found()) == ["time", "spare", "legs.out.length", "legs.home.length"]


def test_a_prefix_stands_before_every_key() -> None:
    assert [each.key for each in figures_of(Leg(1.0), "leg.")] == ["leg.length"]


def test_a_class_or_a_word_holds_no_figures() -> None:
    assert list(figures_of(Leg)) == []
    assert list(figures_of("word")) == []


def test_a_figure_shows_its_unit_and_a_missing_one_says_none() -> None:
    assert found()["time"].text == "10.0 s"
    assert found()["spare"].text == "none"
    assert found()["legs.out.length"].text == "328 ft"  # 100 m / 0.3048


def test_a_figure_is_followed_down_to_what_was_given() -> None:
    assert trace("time", found(), GIVENS) == {"ship.length": GIVENS["ship.length"], "ship.speed": GIVENS["ship.speed"]}
    assert list(trace("legs.home.length", found(), GIVENS)) == ["ship.length"]


def test_a_missing_figure_rests_on_nothing() -> None:
    assert trace("spare", found(), GIVENS) == {}


def test_a_star_stands_for_all_keys_below() -> None:
    assert matching("ship.*", sorted(GIVENS)) == ["ship.length", "ship.speed"]
    assert matching("ship.length", sorted(GIVENS)) == ["ship.length"]
    assert matching("ship", sorted(GIVENS)) == []


def test_figures_that_rest_on_each_other_are_followed_once() -> None:
    @dataclass(frozen=True)
    class Round:
        one: float = figure(TIME, "one", "from two", ("two", "ship.length"))
        two: float = figure(TIME, "two", "from one", ("one", "ship.speed"))

    figures = {each.key: each for each in figures_of(Round(1.0, 2.0))}
    assert list(trace("one", figures, GIVENS)) == ["ship.length", "ship.speed"]


def test_an_input_nobody_gives_is_a_fault_of_the_declaration() -> None:
    @dataclass(frozen=True)
    class Faulty:
        one: float = figure(TIME, "one", "from nothing", ("nowhere",))

    with pytest.raises(KeyError, match="one declares the input nowhere"):
        trace("one", {each.key: each for each in figures_of(Faulty(1.0))}, GIVENS)


def test_a_given_is_shown_as_it_was_written() -> None:
    assert given_number(100.0, LENGTH, ORIGIN, None, "100 m").text == "100 m"
    assert GIVENS["ship.length"].text == "328 ft"
    assert GIVENS["crew.officer"].text == "signal officer"


def test_a_single_figure_given_is_a_band_of_no_width() -> None:
    assert GIVENS["ship.length"].band == Band(100.0, 100.0, 100.0)
    assert Given(1.0, LENGTH, Band(0.0, 1.0, 2.0), "", ORIGIN).band.high == 2.0


def finding(name: str, level: Level) -> Finding:
    return Finding(name, level, "time", "10 s", "8 s at most", "Go faster.")


def test_findings_come_worst_first_and_otherwise_as_found() -> None:
    mixed = [finding("a", Level.NOTE), finding("b", Level.STOP), finding("c", Level.CAUTION), finding("d", Level.STOP)]
    assert [each.id for each in worst_first(mixed)] == ["b", "d", "c", "a"]


def test_a_finding_reads_as_a_sentence() -> None:
    assert str(finding("a", Level.STOP)) == "stop: 10 s; 8 s at most. Go faster."


def test_a_complaint_reads_as_place_key_value_limit_and_remedy() -> None:
    full = Complaint("day.toml", 7, "ship.name", '"corbl"', "there is no ship of that name", "Did you mean corbel")
    assert str(full) == 'day.toml:7: ship.name = "corbl": there is no ship of that name. Did you mean corbel.'
    assert (
        str(Complaint("day.toml", 0, "", "", "the file is empty", "Write one"))
        == "day.toml: the file is empty. Write one."
    )
    assert str(Complaint("d", 2, "ship", "", "missing", "Add it")) == "d:2: ship: missing. Add it."


def test_all_complaints_travel_together() -> None:
    complaints = [Complaint("day.toml", line, "", "", "wrong", "Mend it") for line in (1, 2)]
    for error in (PlanError(complaints), CatalogError(complaints)):
        assert isinstance(error, RoundownError)
        assert error.complaints == tuple(complaints)
        assert str(error) == "day.toml:1: wrong. Mend it.\nday.toml:2: wrong. Mend it."


def test_no_solution_names_the_nearest_miss() -> None:
    error = NoSolution("the abeam distance", ((0.4, 120.0), (0.5, -30.0), (0.6, float("nan"))))
    assert error.nearest == (0.5, -30.0)
    assert str(error) == "no solution for the abeam distance; nearest miss -30 at 0.5"
    assert str(NoSolution("anything")) == "no solution for anything"
