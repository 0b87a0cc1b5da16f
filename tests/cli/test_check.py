"""`roundown check`: one verdict first, the worst first, an exit code for scripts, and how every figure came about."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from roundown.cli.why import explain
from roundown.day.solve import solve
from roundown.errors import RoundownError
from roundown.plan.read import read_plan

Call = Callable[..., Any]
CANNOT_SAIL = '\n[override.wind]\nover_deck = "60 kt"\n'
NO_CIRCUIT = '\n[override.circuit]\nupwind_offset = "2000 yd"\ngreatest_bank = "10 deg"\n'


def variant(demo: Path, text: str) -> Path:
    demo.write_text(demo.read_text("utf-8") + text, encoding="utf-8")
    return demo


# Verdict and findings


def test_a_day_that_works_ends_with_0(call: Call, demo: Path) -> None:
    outcome = call("check", demo)
    assert outcome.code == 0
    assert outcome.out.splitlines()[0] == "Home before dusk (demo): Works as planned."
    assert outcome.err == ""


def test_a_day_that_a_finding_stops_ends_with_1(call: Call, demo: Path) -> None:
    outcome = call("check", variant(demo, CANNOT_SAIL))
    assert outcome.code == 1
    first, second, *_ = outcome.out.splitlines()
    assert first.startswith("Home before dusk (demo): Does not work as planned: 1 stop")
    assert second.startswith("  stop: ")


def test_a_plan_that_cannot_be_read_ends_with_2(call: Call, tmp_path: Path) -> None:
    outcome = call("check", tmp_path / "none.toml")
    assert (outcome.code, outcome.out) == (2, "")


def test_a_day_without_a_circuit_says_why(call: Call, demo: Path) -> None:
    outcome = call("check", variant(demo, NO_CIRCUIT), "--figures")
    assert outcome.code == 1
    assert "\n  No circuit: " in outcome.out
    assert re.search(r"cockpit\.downwind +none", outcome.out)


def test_the_worst_findings_come_first_and_three_are_enough(call: Call, demo: Path) -> None:
    """Constructed: a slow approach in a strong wind brings more than three findings."""
    plan = variant(demo, MANY_FINDINGS)
    whole = findings_of(call("check", plan, "--all").out)
    short = call("check", plan)
    assert len(whole) > 3
    order = ["stop", "caution", "note"]
    levels = [order.index(line.split(":")[0].strip()) for line in whole]
    assert levels == sorted(levels)
    assert findings_of(short.out) == whole[:3]
    assert f"  and {len(whole) - 3} more: roundown check {plan} --all" in short.out.splitlines()


MANY_FINDINGS = """
[override.wind]
over_deck = "60 kt"
[override.circuit]
ramp_speed = "75 kt"
ninety_speed = "75 kt"
break_bank = "45 deg"
ramp_height = "60 ft over ramp"
[override.expected]
abeam = "100-200 yd"
final_bank = "1-2 deg"
"""


def findings_of(out: str) -> list[str]:
    return [line for line in out.splitlines() if line.startswith(("  stop: ", "  caution: ", "  note: "))]


def test_every_finding_says_what_was_found_what_is_wanted_and_what_to_do(call: Call, demo: Path) -> None:
    for line in findings_of(call("check", variant(demo, MANY_FINDINGS), "--all").out):
        assert re.match(r"  (stop|caution|note): .+; .+\. .+", line), line


def test_ship_and_circuit_stand_in_two_lines(call: Call, demo: Path) -> None:
    out = call("check", demo).out
    assert re.search(r"^  Steer \d{3} T at [\d.]+ kt: [\d.]+ kt over the deck", out, flags=re.MULTILINE)
    assert re.search(r"^  Break [\d.]+ deg of bank for [\d.]+ s; downwind [\d,]+ yd abeam;", out, flags=re.MULTILINE)
    assert "\n  Cards and pictures: roundown brief " in out


# Figures


def test_all_figures_are_shown_with_key_and_unit(call: Call, demo: Path) -> None:
    out = call("check", demo, "--figures").out
    day = read_plan(demo)
    for key, found in solve(day).figures.items():
        assert re.search(rf"^  {re.escape(key)} +{re.escape(found.text)}$", out, flags=re.MULTILINE), key


def test_metric_units_are_shown_where_asked(call: Call, demo: Path) -> None:
    """Own arithmetic: the break height of the demo, 300 ft, is 91 m; 120 kt is 222 km/h."""
    out = call("check", demo, "--figures", "--metric").out
    assert re.search(r"circuit\.gates\.break\.height +91 m$", out, flags=re.MULTILINE)
    assert re.search(r"circuit\.gates\.break\.indicated +222(\.\d)? km/h$", out, flags=re.MULTILINE)
    assert not re.search(r"^  \S+ +[\d,.-]+ (ft|yd|ft/min|nm)$", out, flags=re.MULTILINE)


def test_json_is_complete_and_its_code_is_the_same(call: Call, demo: Path) -> None:
    outcome = call("check", demo, "--json")
    assert outcome.code == 0
    data = json.loads(outcome.out)
    solution = solve(read_plan(demo))
    assert set(data["figures"]) == set(solution.figures)
    assert data["verdict"] == solution.verdict
    outcome = call("check", variant(demo, CANNOT_SAIL), "--json")
    assert outcome.code == 1
    assert json.loads(outcome.out)["findings"][0]["level"] == "stop"


# Why


def test_every_figure_says_how_it_came_about_and_from_what(demo: Path) -> None:
    """Every given a figure rests on is named with its place (file and line where the plan has one) and its source."""
    day = read_plan(demo)
    solution = solve(day)
    for key, found in solution.figures.items():
        lines = explain(day, solution, key).splitlines()
        heading, what, how, start, *givens = [line for line in lines if not line.startswith("  by rule of thumb:")]
        assert (len(lines) > len(givens) + 4) == (f"{key}_by_rule" in solution.figures)
        assert heading == f"{key} = {found.text}"
        assert what == f"  what: {found.how.sentence}"
        assert how == f"  how: {found.how.method}"
        assert start == "  from:"
        assert givens or found.value is None or not found.how.inputs, key
        for line in givens:
            solved = re.fullmatch(r"    (\S+) = .+ \(solved; --why (\S+)\)", line)
            if solved:
                assert solved[1] == solved[2]
                assert solved[1] in solution.figures
            else:
                if re.fullmatch(r"    [a-z]+\.\*: \d+ values? \(--why one of them by its key\)", line):
                    continue
                given = re.fullmatch(r"    (\S+) = (.+?) \((?:built-in|.*demo\.toml:\d+).*: .+\)", line)
                assert given, line
                assert given[1] in day.givens


def test_why_points_to_the_line_of_the_plan(call: Call, demo: Path) -> None:
    text = demo.read_text("utf-8")
    line = text[: text.index("base_speed")].count("\n") + 1
    out = call("check", demo, "--why", "turn.ready_after").out
    assert f"ship.base_speed = 16 kt ({demo}:{line}: given in the plan)" in out


def test_why_names_what_an_override_replaced(call: Call, demo: Path) -> None:
    plan = variant(demo, '\n[override.circuit]\nbreak_bank = "28 deg"\n')
    out = call("check", plan, "--why", "circuit.break_bank").out
    line = plan.read_text("utf-8").count("\n")
    given = "doctrine.circuit.break_bank = 28 deg"
    assert f"{given} ({plan}:{line}: given in the plan, in place of built-in doctrines.toml)" in out


def test_why_shows_metric_units_where_asked(call: Call, demo: Path) -> None:
    assert call("check", demo, "--why", "circuit.abeam", "--metric").out.splitlines()[0].endswith(" m")
    assert call("check", demo, "--why", "circuit.abeam").out.splitlines()[0].endswith(" yd")


@pytest.mark.parametrize(
    ("key", "hint"),
    [
        ("circuit.abeem", "Did you mean circuit.abeam?"),
        ("abeam", "Did you mean circuit.abeam?"),
        ("final_bank", "Did you mean circuit.final_bank?"),
        ("xyzzy", "See all keys with --figures."),
        ("", "See all keys with --figures."),
    ],
)
def test_an_unknown_figure_is_told_with_a_near_one(call: Call, demo: Path, key: str, hint: str) -> None:
    outcome = call("check", demo, "--why", key)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == f"there is no figure {key}. {hint}\n"


def test_the_error_of_an_unknown_figure_is_ours(demo: Path) -> None:
    day = read_plan(demo)
    with pytest.raises(RoundownError):
        explain(day, solve(day), "xyzzy")


# The command line itself


@pytest.mark.parametrize("line", [["check"], ["chek", "x"], ["check", "x", "--al"], ["check", "x", "y"]])
def test_a_command_line_that_is_not_understood_ends_with_2(call: Call, line: list[str]) -> None:
    outcome = call(*line)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.strip()


def test_heights_that_cannot_be_lost_in_the_final_are_a_finding(call: Call, demo: Path) -> None:
    """An allowed height, far too high for this circuit, must be an answer."""
    assert call("check", variant(demo, '\n[override.circuit]\ninitial_height = "3000 ft over sea"\n')).code == 1
