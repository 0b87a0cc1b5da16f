"""A circuit flown by an airspeed dial that shows five knots too little."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from roundown.recovery.circuit import Circuit
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.findings import circuit_findings
from roundown.recovery.result import CircuitResult

KT = 1852.0 / 3600.0  # m/s
Solved = Callable[[CircuitFacts], tuple[Circuit, CircuitResult]]


def by_a_short_dial(facts: CircuitFacts) -> CircuitFacts:
    """The same circuit commanded by a dial that shows 5 kt less."""
    plane, less = facts.aeroplane, 5.0 * KT
    return replace(
        facts,
        initial_speed=facts.initial_speed - less,
        downwind_speed=facts.downwind_speed - less,
        ninety_speed=facts.ninety_speed - less,
        ramp_speed=facts.ramp_speed - less,
        aeroplane=replace(
            plane,
            position_error=((90.0 * KT, less),),
            gear_limit=plane.gear_limit - less,
            flap_limit=plane.flap_limit - less,
        ),
    )


def test_the_path_is_the_same_and_the_dial_reads_five_knots_less(demo_facts: CircuitFacts, solved: Solved) -> None:
    """Constructed: the air knows nothing of the dial. Place and time to a millimetre and a microsecond."""
    right, shown = solved(demo_facts)
    _, short = solved(by_a_short_dial(demo_facts))
    assert short.final_bank == pytest.approx(shown.final_bank, abs=1e-8)
    assert short.break_to_ramp == pytest.approx(shown.break_to_ramp, abs=1e-5)
    assert short.turn_in_ahead == pytest.approx(shown.turn_in_ahead, abs=1e-3)
    assert list(short.gates) == list(shown.gates)
    for name, gate in shown.gates.items():
        other = short.gates[name]
        assert (other.ahead, other.port) == pytest.approx((gate.ahead, gate.port), abs=1e-3)
        assert other.indicated == pytest.approx(gate.indicated - 5.0 * KT, abs=1e-6)
    assert right.flown.met


def test_margin_over_the_stall_is_the_same_and_the_stall_five_knots_less(
    demo_facts: CircuitFacts, solved: Solved
) -> None:
    """Constructed: both speeds are read off one dial whose error is the same at both."""
    _, shown = solved(demo_facts)
    _, short = solved(by_a_short_dial(demo_facts))
    for name in ("break", "final"):
        margin, stall = f"stall_margin_{name}", f"stall_in_{name}"
        assert getattr(short, margin) == pytest.approx(getattr(shown, margin), abs=1e-6)
        assert getattr(short, stall) == pytest.approx(getattr(shown, stall) - 5.0 * KT, abs=1e-6)


def test_a_correction_that_grows_toward_the_stall_narrows_the_margin(demo_facts: CircuitFacts, solved: Solved) -> None:
    """Hand-worked: 5 kt at 60, none from 120 on: between, a twelfth of each knot is error; the dial's margin grows.

    The dial moves 12/11 of a knot for each knot of the air: a margin of m kt in the air is 12/11 m on the dial.
    """
    card = ((60.0 * KT, 5.0 * KT), (120.0 * KT, 0.0))
    ideal = replace(demo_facts, aeroplane=replace(demo_facts.aeroplane, position_error=card))
    _, found = solved(ideal)
    by_air = replace(
        ideal,
        initial_speed=_in_air(ideal.initial_speed, card),
        downwind_speed=_in_air(ideal.downwind_speed, card),
        ninety_speed=_in_air(ideal.ninety_speed, card),
        ramp_speed=_in_air(ideal.ramp_speed, card),
        aeroplane=replace(
            demo_facts.aeroplane,
            gear_limit=_in_air(demo_facts.aeroplane.gear_limit, card),
            flap_limit=_in_air(demo_facts.aeroplane.flap_limit, card),
        ),
    )
    _, air = solved(by_air)
    assert found.stall_margin_final == pytest.approx(air.stall_margin_final * 12.0 / 11.0, rel=1e-6)


def _in_air(shown: float, card: tuple[tuple[float, float], ...]) -> float:
    """Second method: numpy's interpolation of the card."""
    speeds, corrections = zip(*card, strict=True)
    return shown + float(np.interp(shown, speeds, corrections))


def test_lighter_by_what_the_remedy_says_the_margin_is_kept(demo_facts: CircuitFacts, solved: Solved) -> None:
    """Constructed: the remedy of a thin margin is weighed in the air, not on the dial."""
    facts = replace(by_a_short_dial(demo_facts), least_margin=200.0 * KT)
    _, result = solved(facts)
    wanted = result.stall_margin_final + 1.0 * KT
    facts = replace(facts, least_margin=wanted)
    _, right = solved(replace(demo_facts, least_margin=wanted))
    texts = [
        {finding.id: finding.remedy for finding in circuit_findings(each, theirs)}
        for each, theirs in ((result, facts), (right, replace(demo_facts, least_margin=wanted)))
    ]
    assert texts[0]["stall-margin-final"] == texts[1]["stall-margin-final"]
