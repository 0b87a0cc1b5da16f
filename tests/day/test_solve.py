"""A day solved as a whole: every doctrine, type and ship in six winds, and how the phases are put together."""

from __future__ import annotations

import math
import re
from pathlib import Path

import numpy as np
import pytest

from roundown.day.facts import wind_rows
from roundown.day.solve import DIAL, solve, solve_for_winds
from roundown.documents import Document, parse_document
from roundown.findings import Finding, Level
from roundown.plan.facts import Day
from roundown.plan.read import day_of
from roundown.recovery.result import CircuitResult
from roundown.solution import Solution, Unsolved

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
NM = 1852.0  # m
DEG = math.pi / 180.0
DEMO = (Path(__file__).parents[1] / "files" / "one_flight.toml").read_text("utf-8")
ALOFT = DEMO[DEMO.index("winds = [") : DEMO.index("temperature")]
TYPES = ("ottery", "brindle", "sallow")
WINDS = ("calm", "030/4 kt", "185/10 kt", "260/20 kt", "005/30 kt", "120/45 kt")  # base course 185
WIRE = re.compile(r"wire $")  # its number has no unit
UNITS = r"(?:kt|yd|ft|deg|g|s|nm|ft/min|ft/s|lb|wires)\b"


def day(text: str = DEMO) -> Day:
    document = parse_document("plan.toml", text)
    assert isinstance(document, Document)
    return day_of(document)


def plan(  # the demo with other choices and no winds aloft
    doctrine: str = "fast-carrier-1944",
    kind: str = "ottery",
    ship: str = "corbel",
    wind: str = "140/11 kt",
    more: str = "",
) -> Day:
    text = DEMO.replace(ALOFT, "").replace("fast-carrier-1944", doctrine).replace('type = "ottery"', f'type = "{kind}"')
    return day(text.replace('name = "corbel"', f'name = "{ship}"').replace("140/11 kt", wind) + more)


def without_a_unit(text: str) -> list[str]:
    """Numbers with no unit behind them or behind the end of their range, and not the three digits of a direction."""
    bare = []
    for match in re.finditer(r"(?<![\w.])-?\d[\d,]*(?:\.\d+)?", text):
        rest = text[match.end() :]
        ranged = re.match(rf"(?: to |-)\d[\d,]*(?:\.\d+)? {UNITS}", rest)
        if not (
            re.match(rf" {UNITS}", rest)
            or ranged
            or re.fullmatch(r"[0-3]\d\d", match[0])
            or WIRE.search(text[: match.start()])
        ):
            bare.append(match[0])
    return bare


def check_finding(finding: Finding, solution: Solution) -> None:
    for text in (finding.value, finding.limit, finding.remedy):
        assert text.strip(), finding
        assert without_a_unit(text) == [], text
        assert "nan" not in text
        assert "not known" not in text
    assert finding.remedy.endswith("."), finding
    assert not finding.remedy[0].islower(), finding
    assert finding.key in {*solution.figures, "circuit"}, finding


@pytest.mark.parametrize("wind", WINDS)
@pytest.mark.parametrize("ship", ["corbel", "lintel"])
@pytest.mark.parametrize("doctrine", ["fast-carrier-1944", "half-mile-1945"])
def test_every_type_closes_its_circuit_or_is_told_why_not(doctrine: str, ship: str, wind: str) -> None:
    """Constructed: built-in doctrines, ships and types in calm, light, 10, 20, 30 and 45 kt of natural wind."""
    for kind in TYPES:
        solution = solve(plan(doctrine, kind, ship, wind))
        for key, figure in solution.figures.items():
            assert figure.value is None or math.isfinite(figure.value), key
        stops = [finding for finding in solution.findings if finding.level is Level.STOP]
        if isinstance(solution.circuit, Unsolved):
            assert any(finding.id == "no-circuit" for finding in stops)
            assert solution.circuit.reason.endswith(".")
        assert solution.verdict.startswith("Does not work" if stops else "Works")
        assert list(solution.findings) == sorted(solution.findings, key=lambda finding: finding.level)
        for finding in solution.findings:
            check_finding(finding, solution)


def test_the_demo_works_as_planned() -> None:
    """Constructed: it is what a newcomer sees first."""
    solution = solve(day())
    assert solution.findings == ()
    assert solution.verdict == "Works as planned."


# ---- wind over the deck


def test_a_small_ship_in_calm_is_a_stop() -> None:
    """Own arithmetic: 19.5 kt of 30 wanted is 65 %, below four fifths."""
    solution = solve(plan(ship="lintel", wind="calm"))
    [finding] = [finding for finding in solution.findings if finding.id == "wind-over-deck"]
    assert finding.level is Level.STOP
    assert "19.5 kt over the deck" in finding.value


def test_a_little_too_little_wind_is_a_caution_which_more_wind_closes() -> None:
    """Own arithmetic: 9 kt at 10 m is 9.3 kt at 44 ft, with 19.5 kt of ship 28.8 kt; 11 kt make 30.9 kt."""
    short = solve(plan(ship="lintel", wind="185/9 kt")).findings
    assert {finding.id: finding.level for finding in short}["wind-over-deck"] is Level.CAUTION
    enough = solve(plan(ship="lintel", wind="185/11 kt")).findings
    assert "wind-over-deck" not in {finding.id for finding in enough}


def planned_for(strength: str) -> set[str]:
    """Findings of a day of 30 kt of wind when that much is wanted over the deck."""
    more = f'\n[override.wind]\nover_deck = "{strength} over deck"\n'
    return {finding.id for finding in solve(plan(wind="005/30 kt", more=more)).findings}


def test_too_much_wind_is_a_caution_which_planning_for_more_closes() -> None:
    """Constructed: 30 kt of wind and a ship that must make 6 kt to steer; 38.3 kt is the least to be had."""
    [finding] = [f for f in solve(plan(wind="005/30 kt")).findings if f.id == "wind-over-deck"]
    assert finding.level is Level.CAUTION
    assert "or plan for 38.3 kt over the deck" in finding.remedy
    assert "wind-over-deck" not in planned_for("39 kt")


def test_planning_for_the_strength_it_names_closes_too_much_wind() -> None:
    """Constructed: the strength is put into the plan as it stands in the remedy."""
    [finding] = [f for f in solve(plan(wind="005/30 kt")).findings if f.id == "wind-over-deck"]
    named = re.search(r"for ([\d.]+ kt) over the deck", finding.remedy)
    assert named
    assert "wind-over-deck" not in planned_for(named[1])


# ---- putting together


def density_at(today: Day, height: float) -> float:
    """By the hydrostatic law [kg/m3]."""
    warm = today.number("weather.temperature")
    part = 1.0 - 0.0065 * height / warm
    return today.number("weather.pressure") * math.pow(part, 5.25588 - 1.0) / (287.05287 * warm)


def test_winds_by_height_become_rows_where_the_air_goes() -> None:
    """Own arithmetic: 140/11 kt goes to 320: east -11 sin 140 = -7.07 kt, north -11 cos 140 = 8.43 kt."""
    rows = wind_rows(day())
    assert rows[:, 0] == pytest.approx([10.0, 500.0 * FT, 2000.0 * FT])
    assert rows[0, 1:] / KT == pytest.approx([-7.0707, 8.4265], abs=1e-3)
    assert np.hypot(rows[:, 1], rows[:, 2]) / KT == pytest.approx([11.0, 15.0, 19.0])


@pytest.mark.parametrize(
    ("place", "ahead"),
    [("1500 yd ahead of bow", 838.0 * FT), ("1500 yd ahead of island", 430.0 * FT), ("1500 yd ahead of ramp", 0.0)],
)
def test_the_break_is_measured_from_the_point_of_the_ship_it_names(place: str, ahead: float) -> None:
    """Own arithmetic: the initial is abeam that point, the break 1500 yd further; both ahead of the ramp."""
    circuit = solve(plan(more=f'\n[override.circuit]\nbreak_place = "{place}"\n')).circuit
    assert isinstance(circuit, CircuitResult)
    assert circuit.gates["initial"].ahead == pytest.approx(ahead, abs=1e-6)
    assert circuit.gates["break"].ahead == pytest.approx(ahead + 1500.0 * 0.9144, abs=1e-6)


def test_bands_aim_at_their_middle() -> None:
    """Own arithmetic: 0.05-0.10 g is aimed at as 0.075 g, 150-200 ft as 175 ft."""
    today = day()
    circuit = solve(today).circuit
    assert isinstance(circuit, CircuitResult)
    assert circuit.slowed_after is not None
    slowed = (circuit.gates["break"].indicated - circuit.gates["downwind"].indicated) / circuit.slowed_after
    true = slowed * math.sqrt(1.225 / density_at(today, 300.0 * FT))
    assert true == pytest.approx(0.075 * 9.80665, rel=1e-3)
    assert circuit.gates["turn-in"].height == pytest.approx(175.0 * FT, abs=0.01)


@pytest.mark.parametrize(
    ("cockpit", "shown"),
    [
        ('headings = "true"', 140.0),
        ('headings = "magnetic"', 164.0),
        ('headings = "compass"\ndeviation = { "090" = "2 deg E", "180" = "4 deg E" }', 164.0 - 2.0 - 2.0 * 74.0 / 90.0),
    ],
)
def test_the_cockpit_shows_headings_by_its_compass(cockpit: str, shown: float) -> None:
    """Hand-worked: 140 true, variation 24 W: 164 magnetic; deviation there between 2 E on 090 and 4 E on 180."""
    text = DEMO.replace(ALOFT, "").replace('headings = "magnetic"', cockpit)
    solution = solve(day(text))
    assert solution.cockpit.flight_course / DEG == pytest.approx(shown, abs=1e-6)
    assert solution.cockpit.shown == cockpit.split('"')[1]
    assert isinstance(solution.circuit, CircuitResult)
    assert solution.cockpit.final is not None


def test_without_a_circuit_the_cockpit_still_shows_the_flight_course() -> None:
    """Constructed: a break half a mile ahead is too near for a circle of a mile."""
    solution = solve(plan(more='\n[override.circuit]\nbreak_place = "0.3 nm ahead of bow"\n'))
    assert isinstance(solution.circuit, Unsolved)
    assert solution.cockpit.upwind is None
    assert math.isfinite(solution.cockpit.flight_course)
    assert solution.verdict.startswith("Does not work as planned: 1 stop")


def test_the_dial_holds_a_circuit_for_each_wind_over_the_deck() -> None:
    """Own arithmetic, uniform wind: over the ramp the deck sees the true airspeed less that wind; at today's 30 kt the
    dial shows today's circuit. More wind brings the turn-in further ahead.
    """
    today = day(DEMO.replace(ALOFT, 'wind_profile = "uniform"\n'))
    dial = solve_for_winds(today)
    assert tuple(dial) == DIAL
    solved = {knots: circuit for knots, circuit in dial.items() if isinstance(circuit, CircuitResult)}
    assert set(solved) == set(DIAL)
    closing = {knots: circuit.closing_ramp + knots * KT for knots, circuit in solved.items()}
    assert list(closing.values()) == pytest.approx([closing[30]] * len(DIAL), abs=1e-6)
    now = solve(today).circuit
    assert isinstance(now, CircuitResult)
    assert solved[30].turn_in_ahead == pytest.approx(now.turn_in_ahead, abs=0.01)
    assert solved[30].final_bank == pytest.approx(now.final_bank, abs=1e-6)
    places = [solved[knots].turn_in_ahead for knots in DIAL]
    assert places == sorted(places)


def test_the_dial_counts_a_wind_off_the_bow_by_its_strength() -> None:
    """Own arithmetic, uniform wind 10 degrees to port of the bow at 30 kt; the part across, A, is the same at any speed
    of the ship. Over the ramp the deck sees sqrt(V^2 - A^2) - sqrt(W^2 - A^2).
    """
    text = DEMO.replace(ALOFT, 'wind_profile = "uniform"\n') + '\n[override.wind]\noff_bow = "10 deg port"\n'
    text += '[override.expected]\nabeam = "0-9000 yd"\nfinal_bank = "0-80 deg"\n'  # nothing to search remedies for
    today = day(text)
    flight = solve(today).flight
    assert flight.off_bow == pytest.approx(-10.0 * DEG, abs=1e-9)
    across = flight.over_deck * math.sin(flight.off_bow)
    for knots, circuit in solve_for_winds(today).items():
        assert isinstance(circuit, CircuitResult)
        now = circuit.gates["ramp"]
        true = now.indicated * math.sqrt(1.225 / density_at(today, now.height))
        along = math.sqrt((knots * KT) ** 2 - across**2)
        assert circuit.closing_ramp == pytest.approx(math.sqrt(true**2 - across**2) - along, abs=0.01)
