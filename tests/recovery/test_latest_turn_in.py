"""The window of turn-ins and the closest abeam, against half circles, stall arithmetic and a scan of banks."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from roundown.figures import figures_of
from roundown.motion.equations.kernel import in_ship_frame
from roundown.motion.manoeuvre import fly
from roundown.recovery.circuit import Circuit, final_legs
from roundown.recovery.closing_turn import fly_halves
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.latest_turn_in import LatestTurnIn, latest_turn_in, latest_turn_in_findings
from roundown.recovery.result import CircuitResult, describe

Make = Callable[..., CircuitFacts]
Solve = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]
KT = 1852.0 / 3600.0  # m/s
YD = 0.9144  # m
DEG = math.pi / 180.0
G = 9.80665  # m/s2
SPEED = 90.0 * KT
EVEN = {"downwind_speed": SPEED, "ninety_speed": SPEED, "ramp_speed": SPEED, "break_bank": 25.0 * DEG}
AT_ONCE = {"roll_rate": 100.0}
"""Rolls at once and one speed from the break on: the final turn is two quarter circles."""


@pytest.fixture(scope="module")
def quarters(sea_level: Make, solved: Solve) -> tuple[CircuitFacts, Circuit, LatestTurnIn]:
    facts = sea_level(aeroplane=AT_ONCE, **EVEN)
    circuit, _ = solved(facts)
    return facts, circuit, latest_turn_in(circuit, facts)


@pytest.fixture(scope="module")
def demo(demo_facts: CircuitFacts, solved: Solve) -> tuple[CircuitFacts, Circuit, LatestTurnIn]:
    circuit, _ = solved(demo_facts)
    return demo_facts, circuit, latest_turn_in(circuit, demo_facts)


def radius(bank: float) -> float:
    return SPEED**2 / (G * math.tan(bank))


def test_a_late_turn_is_mended_by_twice_the_radius_saved_before_the_ninety(
    quarters: tuple[CircuitFacts, Circuit, LatestTurnIn],
) -> None:
    """Closed form. Two quarter circles R1 + R2 = 2 R take the same time as one half circle; the end lies R2 - R1
    further ahead, 2 (R - R1) with R1 at 35 degrees; that over 90 + 30 kt is how late the turn-in may be.
    """
    _, circuit, window = quarters
    assert window.latest is not None
    planned, steep = radius(circuit.final_bank), radius(35.0 * DEG)
    assert window.latest.to_ninety == pytest.approx(35.0 * DEG)
    assert radius(window.latest.from_ninety) == pytest.approx(2.0 * planned - steep, rel=1e-3)
    late = 2.0 * (planned - steep) / (120.0 * KT)
    assert window.latest.after == pytest.approx(late, rel=2e-3)
    assert window.latest.ahead == pytest.approx(circuit.turn_in_ahead - 120.0 * KT * late, abs=1.0)
    assert window.latest.ramp_off_nose == pytest.approx(math.atan2(circuit.turn_in_port, window.latest.ahead), abs=1e-3)


def test_an_early_turn_is_mended_by_the_steeper_bank_after_the_ninety(
    quarters: tuple[CircuitFacts, Circuit, LatestTurnIn],
) -> None:
    """Closed form and symmetry: the same time the other way, the banks changed about; the window is both together."""
    _, circuit, window = quarters
    assert window.latest is not None
    assert window.earliest is not None
    early = 2.0 * (radius(circuit.final_bank) - radius(35.0 * DEG)) / (120.0 * KT)
    assert window.earliest.after == pytest.approx(-early, rel=2e-3)
    assert window.earliest.from_ninety == pytest.approx(35.0 * DEG)
    assert window.earliest.to_ninety == pytest.approx(window.latest.from_ninety, rel=2e-3)
    assert window.window == pytest.approx(2.0 * early, rel=2e-3)
    assert not window.by_downwind


def test_the_closest_abeam_is_two_radii_at_the_greatest_bank(
    quarters: tuple[CircuitFacts, Circuit, LatestTurnIn],
) -> None:
    """Closed form."""
    _, _, window = quarters
    assert window.closest_abeam == pytest.approx(2.0 * radius(35.0 * DEG), rel=1e-3)


@pytest.mark.parametrize(
    ("key", "error"), [("closer_200_yd", -200.0), ("closer_100_yd", -100.0), ("wider_200_yd", 200.0)]
)
def test_the_bank_from_a_wrong_distance_abeam_is_that_of_a_half_circle_as_wide(
    quarters: tuple[CircuitFacts, Circuit, LatestTurnIn], key: str, error: float
) -> None:
    """Closed form: tan of the bank = V^2 / (g R), R half the distance abeam."""
    _, circuit, window = quarters
    abeam = abs(circuit.turn_in_port) + error * YD
    assert window.abeam[key].abeam == pytest.approx(abeam)
    assert window.abeam[key].bank == pytest.approx(math.atan(2.0 * SPEED**2 / (G * abeam)), rel=1e-3)


def test_the_stall_margin_limits_the_bank_before_the_doctrine_does(sea_level: Make, solved: Solve) -> None:
    """Own arithmetic: with flap the stall is sqrt(2 m g / (rho S CL)); the margin is kept up to the load n for which
    the stall times the root of n is 90 kt less the margin; cos of the bank is 1 / n.
    """
    stall = math.sqrt(2.0 * 3900.0 * G / (1.225 * 27.0 * 2.1))
    margin = SPEED - stall * math.sqrt(1.0 / math.cos(28.0 * DEG))
    facts = sea_level(aeroplane=AT_ONCE, least_margin=margin, **EVEN)
    window = latest_turn_in(solved(facts)[0], facts)
    assert window.limit_to_ninety == pytest.approx(28.0 * DEG, abs=1e-6)
    assert window.limit_from_ninety == pytest.approx(28.0 * DEG, abs=1e-6)
    assert window.closest_abeam == pytest.approx(2.0 * radius(28.0 * DEG), rel=1e-3)


def test_the_latest_turn_flown_keeps_the_stall_margin_the_limit_was_made_from(
    demo_facts: CircuitFacts, solved: Solve
) -> None:
    """Second method: the turn at the limit flown and its margin read off by the circuit's own figures: within 0.1 kt of
    what was asked, and not below it.
    """
    facts = replace(demo_facts, least_margin=14.5 * KT)
    circuit, _ = solved(facts)
    window = latest_turn_in(circuit, facts)
    assert window.latest is not None
    assert window.limit_to_ninety < facts.greatest_bank
    leg = circuit.flown.end("downwind")
    flown = fly(*leg, final_legs(facts, window.limit_to_ninety), circuit.setting)
    steep = Circuit(
        replace(
            circuit.flown,
            records=np.vstack([circuit.flown.records[: circuit.flown.ends[2] + 1], flown.records[1:]]),
            ends=(*circuit.flown.ends[:3], *(circuit.flown.ends[2] + end for end in flown.ends)),
            names=circuit.flown.names[:5],
            outcomes=circuit.flown.outcomes[:5],
        ),
        circuit.setting, window.limit_to_ninety, circuit.turn_in_ahead, circuit.turn_in_port,
    )  # fmt: skip
    margin = describe(steep, facts).stall_margin_final
    assert 14.5 * KT - 1e-6 <= margin <= 14.6 * KT


@pytest.mark.parametrize("end", ["latest", "earliest"])
def test_the_turn_at_the_end_of_the_window_comes_level_over_the_ramp(
    demo_facts: CircuitFacts, solved: Solve, end: str
) -> None:
    """Second method: flown again by the engine's own steps from the planned turn-in moved along the downwind leg, which
    is longer here, so that it is steady so far back.
    """
    facts = replace(demo_facts, break_ahead=demo_facts.break_ahead + 500.0)
    circuit, _ = solved(facts)
    limit = getattr(latest_turn_in(circuit, facts), end)
    time, state = circuit.flown.end("downwind")
    east, north = circuit.setting.wind(state[2])
    moved = (
        state[0] + limit.after * (state[3] * math.sin(state[4]) + east),
        state[1] + limit.after * (state[3] * math.cos(state[4]) + north),
        *state[2:],
    )
    flown = fly_halves(time + limit.after, moved, limit.to_ninety, limit.from_ninety, facts, step=0.1)
    assert flown is not None
    when, level = flown.record(-1)
    ahead, port = in_ship_frame(when, level[0], level[1], circuit.setting.ship.rows)
    assert math.hypot(ahead, port) < 0.2


def scanned(facts: CircuitFacts, circuit: Circuit) -> list[tuple[float, float, float]]:
    """Time after the planned turn-in from which a pair of banks closes, with the pair: every whole degree to the
    ninety, the bank from it on read where the end lies on the centre line. The downwind leg is steady at the turn-in.
    """
    time, state = circuit.flown.end("downwind")
    rows = circuit.setting.ship.rows
    closing = describe(circuit, facts).closing_downwind
    found = []
    after_ninety = [second * DEG for second in range(12, 46, 2)]
    for first in (degrees * DEG for degrees in range(16, 41)):
        ends = []
        for second in after_ninety:
            flown = fly_halves(time, state, first, second, facts)
            assert flown is not None
            when, level = flown.record(-1)
            ends.append(in_ship_frame(when, level[0], level[1], rows))
        ports = np.array([port for _, port in ends])  # falls to starboard with less bank
        if not ports[0] < 0.0 < ports[-1]:
            continue
        cotangents = np.array([1.0 / math.tan(second) for second in after_ninety])
        cotangent = float(np.interp(0.0, ports, cotangents))
        ahead = float(np.interp(cotangent, cotangents[::-1], np.array([end[0] for end in ends])[::-1]))
        found.append((ahead / closing, first, math.atan(1.0 / cotangent)))
    return found


def test_a_scan_of_banks_finds_no_later_and_no_earlier_turn_in_that_closes(
    demo: tuple[CircuitFacts, Circuit, LatestTurnIn],
) -> None:
    """Second method, brute force: of 425 pairs of banks those of 35 degrees or less that end on the centre line; the
    latest and the earliest turn-in among them, within 0.1 s, and more bank would allow more.
    """
    facts, circuit, window = demo
    assert window.latest is not None
    assert window.earliest is not None
    pairs = scanned(facts, circuit)
    allowed = [pair for pair in pairs if max(pair[1:]) <= 35.0 * DEG + 1e-9]
    assert max(pair[0] for pair in allowed) == pytest.approx(window.latest.after, abs=0.1)
    assert max(pair[0] for pair in pairs) > window.latest.after + 1.0
    # no pair of whole degrees lies on the earlier limit: read between the two beside it
    by_second = sorted((second, after) for after, _, second in pairs)
    early = float(np.interp(35.0 * DEG, [pair[0] for pair in by_second], [pair[1] for pair in by_second]))
    assert early == pytest.approx(window.earliest.after, abs=0.1)


def test_a_turn_too_steep_as_planned_has_no_window(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Limit case: 24 degrees allowed, 25 needed."""
    facts = replace(demo_facts, greatest_bank=24.0 * DEG)
    window = latest_turn_in(solved(facts)[0], facts)
    assert window.latest is None
    assert window.earliest is None
    assert window.window is None
    assert latest_turn_in_findings(window) == []


def test_a_window_of_a_second_is_worth_a_word(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Constructed: a degree of bank in hand; and the demo, with ten, says nothing."""
    circuit, _ = solved(demo_facts)
    facts = replace(demo_facts, greatest_bank=circuit.final_bank + 1.0 * DEG)
    (finding,) = latest_turn_in_findings(latest_turn_in(solved(facts)[0], facts))
    assert finding.id == "turn-in-window"
    assert finding.remedy.startswith("Break with less bank")
    assert latest_turn_in_findings(latest_turn_in(circuit, demo_facts)) == []


def test_less_bank_in_the_break_widens_the_window_as_the_remedy_says(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Constructed: two degrees less in the break."""
    facts = replace(demo_facts, greatest_bank=26.0 * DEG)
    wider = replace(facts, break_bank=facts.break_bank - 2.0 * DEG)
    (before, after) = (latest_turn_in(solved(tried)[0], tried).window for tried in (facts, wider))
    assert before is not None
    assert after is not None
    assert after > before + 1.0


def test_a_short_downwind_leg_ends_the_window_where_it_begins(demo_facts: CircuitFacts, solved: Solve) -> None:
    """Constructed: broken so near that 2 s are left downwind; no bank is at its limit there."""
    far = solved(demo_facts)[1]
    nearer = demo_facts.break_ahead - (far.rollout_to_turn_in - 2.0) * far.closing_downwind
    facts = replace(demo_facts, break_ahead=nearer, initial_height=demo_facts.downwind_height)
    circuit, result = solved(facts)
    window = latest_turn_in(circuit, facts)
    assert window.by_downwind
    assert window.earliest is not None
    assert window.earliest.after == pytest.approx(-result.rollout_to_turn_in, abs=1e-6)
    assert window.earliest.from_ninety < facts.greatest_bank


def test_every_figure_of_the_window_has_its_key(demo: tuple[CircuitFacts, Circuit, LatestTurnIn]) -> None:
    """Constructed."""
    keys = {figure.key for figure in figures_of(demo[2], "latest_turn_in.")}
    assert {"latest_turn_in.latest.after", "latest_turn_in.window", "latest_turn_in.abeam.closer_100_yd.bank"} <= keys
