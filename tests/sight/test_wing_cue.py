"""The stern against the leading edge: a case by hand, and a search along a camera's picture of the wing."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tests.sight.sight_cases import COCKPIT, DEG, FT, KT, SHIP, Floats, camera, half_turn, through

from roundown.sight.attitude import attitudes_of
from roundown.sight.cockpit import leading_edge
from roundown.sight.facts import SightFacts
from roundown.sight.wing_cue import wing_cue

STRAIGHT_WING = replace(COCKPIT, wing_ahead=0.0, tip_ahead=0.0, dihedral=0.0)


def level_pitch(facts: SightFacts) -> SightFacts:
    """The same with the wing set so that the fuselage lies level on the leg."""
    pitch = float(attitudes_of(facts).at(-5.0).pitch[0])
    return replace(facts, cockpit=replace(facts.cockpit, wing_setting=facts.cockpit.wing_setting + pitch))


def test_a_wing_square_to_the_body_touches_the_stern_when_it_is_abeam_of_the_eye() -> None:
    """By hand: fuselage level, leading edge straight out at the eye: the stern comes onto it when the eye is abreast.

    The eye is 5.2 ft behind the wheels, which pass the ramp at the turn-in: 5.2 ft earlier on this leg, where the
    eye is yet further ahead; so it is abreast after the wheels are, by 5.2 ft at 90 kt: 0.034 s.
    Where along: the stern is 143.4 ft below the eye (200 + 8.4 - 65) and as far off as the circle's diameter less half
    the deck and the root is 3.6 ft below; equal slopes: y = 3.6 x off / 143.4, from the root at 2.3 ft to 19.75 ft.
    """
    made = half_turn()
    level = replace(made.flight, height=np.full_like(made.flight.height, 200 * FT))
    facts = level_pitch(replace(made, cockpit=STRAIGHT_WING, flight=level))
    cue = wing_cue(facts, attitudes_of(facts))
    off = float(facts.flight.port[0]) - 47 * FT
    lower = (off / (1.169 * 1852.0)) ** 2 * FT  # by the round sea
    y = 3.6 * FT * off / (143.4 * FT + lower)
    assert cue.after == pytest.approx(5.2 * FT / (90 * KT), abs=0.01)
    assert cue.along == pytest.approx((y - 2.3 * FT) / ((19.75 - 2.3) * FT), rel=0.005)


@pytest.mark.parametrize("hand", [-1, 1])
@pytest.mark.parametrize("cockpit", [COCKPIT, STRAIGHT_WING, replace(COCKPIT, wing_below=7 * FT, tip_ahead=3.5 * FT)])
def test_the_stern_meets_the_edge_where_a_camera_shows_them_in_line(hand: int, cockpit: object) -> None:
    """Second method: a pinhole camera looking along the wing; the stern against the straight line of the edge."""
    facts = replace(half_turn(hand), cockpit=cockpit)  # type: ignore[arg-type]
    flown = attitudes_of(facts)
    cue = wing_cue(facts, flown)
    edge = leading_edge(facts.cockpit, -hand)
    speed = 90 * KT

    def off_line(time: float) -> tuple[float, float]:
        on = max(time, 0.0)
        there = flown.at(min(time, 0.0))
        lies = float(there.heading[0]), float(there.pitch[0]), float(there.bank[0])
        eye = there.eyes(facts.cockpit, SHIP.deck_height)[0] - (speed * on, 0.0, 0.0)
        matrix = camera(eye, *lies, hand * 70 * DEG, -10 * DEG)
        body = there.body[0]
        stern = np.array([0.0, -hand * 47 * FT, 0.0])
        stern[2] -= ((stern[:2] - eye[:2]) ** 2).sum() / (1.169 * 1852.0 / math.sqrt(FT)) ** 2
        root, tip, seen = through(matrix, np.array([eye + edge[0] @ body, eye + edge[1] @ body, stern]))
        return cross(tip - root, seen - root), float((seen - root) @ (tip - root) / ((tip - root) @ (tip - root)))

    times = np.arange(-20.0, 30.0, 0.05)
    side = np.array([off_line(time)[0] for time in times])
    changes = np.flatnonzero(side[:-1] * side[1:] < 0.0)
    if cue.after is None:
        assert changes.size == 0
        return
    assert times[changes[0]] == pytest.approx(cue.after, abs=0.06)
    assert cue.along is not None
    # along the edge in space and along its picture agree at both ends, and in which side of the tip it is
    assert (off_line(cue.after)[1] > 1.0) == (cue.along > 1.0)
    assert cue.touches == (0.0 <= cue.along <= 1.0)


def cross(first: Floats, second: Floats) -> float:
    return float(first[0] * second[1] - first[1] * second[0])


def test_left_and_right_hand_circuits_have_the_same_cue() -> None:
    """Mirror: port for starboard changes nothing."""
    left, right = (wing_cue(facts, attitudes_of(facts)) for facts in (half_turn(-1), half_turn(1)))
    for one, other in zip(vars(left).values(), vars(right).values(), strict=True):
        assert one == pytest.approx(other, abs=1e-9)


def test_a_stern_already_behind_the_wing_is_not_waited_for() -> None:
    """Limit case: leg that begins well past the stern."""
    facts = half_turn()
    late = replace(facts, flight=replace(facts.flight, ahead=facts.flight.ahead - 2500.0))
    cue = wing_cue(late, attitudes_of(late))
    assert cue.after is None
    assert not cue.touches
    assert cue.ahead_of_tip < 0.0
