"""The figures of what is seen, each with how it came about, and the attitudes the pictures are drawn from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from roundown.figures import figure
from roundown.motion.frames import Floats
from roundown.quantities import (
    ANGLE,
    DISTANCE,
    HEIGHT_OVER_DECK,
    HEIGHT_OVER_SEA,
    OFF_NOSE,
    RATIO,
    TIME,
)  # fmt: skip
from roundown.sight.attitude import Attitudes, attitudes_of
from roundown.sight.cockpit import nose_edge
from roundown.sight.facts import SightFacts
from roundown.sight.final_turn import PointSeen, hidden_from, hidden_seconds, point_seen
from roundown.sight.horizon_cut import horizon_cut, horizon_dip, sight_lines
from roundown.sight.officer import span_seen
from roundown.sight.over_nose import straight_view
from roundown.sight.wing_cue import wing_cue

BENEATH = 30.0  # m, nearer than which the ramp is under the aeroplane and has no place beside its nose; own rule
FINE = 0.05  # s, between the instants at which the final turn is looked at

_ALL = ("flight.course", "flight.speed", "weather.*", "doctrine.circuit.*", "ship.*", "type.*")
_EYE = "wheels of the solved path, and the eye from them by the attitude (sight/attitude.py)"
_CUT = "(sqrt(eye height) - distance / 1.169)^2, feet and miles (sight/horizon_cut.py)"
_SEEN = "line of sight from the eye in body axes (sight/projection.py)"
_NOSE = "line of sight against the outline of the nose (sight/cockpit.py, sight/final_turn.py)"
_STRAIGHT = "height of eye over the deck / tan(view over the nose less body pitch), less the slope (sight/over_nose.py)"
_WING = "corner of the ramp against the plane of eye and leading edge (sight/wing_cue.py)"


@dataclass(frozen=True, kw_only=True)
class GateSight:
    """What is seen at one gate. None where the ramp is beneath or, for the nose, behind, or where the wing stalls."""

    eye_height: float | None = figure(
        HEIGHT_OVER_SEA, "pilot's eye; by rule the horizon cuts the ship there", _EYE, _ALL
    )
    pitch: float | None = figure(ANGLE, "fuselage's datum over the level, nose up positive", _EYE, _ALL)
    horizon_cut: float | None = figure(HEIGHT_OVER_SEA, "where the sea horizon cuts the island", _CUT, _ALL)
    horizon_over_deck: float | None = figure(
        HEIGHT_OVER_DECK, "where the sea horizon cuts the island, over the deck; below it negative", _CUT, _ALL
    )
    ramp_azimuth: float | None = figure(
        OFF_NOSE, "middle of the ramp off the fuselage, to the inside of the circuit positive", _SEEN, _ALL
    )
    ramp_below_horizon: float | None = figure(ANGLE, "middle of the ramp below the sea horizon", _SEEN, _ALL)
    beside_nose: float | None = figure(
        ANGLE, "middle of the ramp inward of the nose's inner edge; by common practice 0 in the final turn",
        _NOSE, _ALL,
    )  # fmt: skip
    clear_of_nose: float | None = figure(
        ANGLE, "least angle from the middle of the ramp to the nose's outline; negative when hidden", _NOSE, _ALL
    )
    deck_angle: float | None = figure(ANGLE, "angle the deck takes in view, from ramp to bow", _SEEN, _ALL)
    officer_span: float | None = figure(
        ANGLE, "angle the aeroplane's span takes, seen from the signal officer's platform", "sight/officer.py", _ALL
    )


@dataclass(frozen=True, eq=False, kw_only=True)
class SightResult:
    """What is seen on the pass. facts, attitudes : what pictures at any instant are made from."""

    wing_cue_after: float | None = figure(
        TIME, "stern on the line of the wing's leading edge, after the turn-in; none up to 30 s past it", _WING, _ALL
    )
    wing_cue_along: float | None = figure(
        RATIO, "where along the leading edge, root 0, tip 1; more than 1 passes outside the tip and does not touch",
        _WING, _ALL,
    )  # fmt: skip
    stern_ahead_of_tip: float | None = figure(
        ANGLE, "stern ahead of the leading edge at the tip, at the turn-in", _WING, _ALL
    )
    stern_over_tip: float | None = figure(ANGLE, "stern above the leading edge at the tip, at the turn-in", _WING, _ALL)
    straight_deepest: float | None = figure(
        ANGLE, "deepest view ahead on a straight approach, below the horizontal; negative hides the horizon",
        "view over the nose less body pitch (sight/over_nose.py)", _ALL,
    )  # fmt: skip
    straight_ramp_lost: float | None = figure(
        DISTANCE, "straight-in, distance astern from which the nose hides the ramp; none: from any distance",
        _STRAIGHT, _ALL,
    )  # fmt: skip
    straight_ramp_hidden: float | None = figure(
        TIME, "straight-in, how long the ramp is hidden", "that distance over the speed past the ship", _ALL
    )
    straight_wire_lost: float | None = figure(
        DISTANCE, "straight-in, distance astern of the ramp from which the nose hides the first wire; none: any",
        _STRAIGHT, _ALL,
    )  # fmt: skip
    final_ramp_hidden: float | None = figure(
        TIME, "how long the nose hides the ramp, from the turn-in to the ramp", _NOSE, _ALL
    )
    final_ramp_lost: float | None = figure(
        TIME, "before the ramp, when the nose comes over it for good; none: never", _NOSE, _ALL
    )
    edge_on_ramp: float | None = figure(
        TIME, "before the ramp, when the inner edge of the nose comes onto the middle of the ramp", _NOSE, _ALL
    )
    gates: Mapping[str, GateSight]
    facts: SightFacts
    attitudes: Attitudes


def sight(facts: SightFacts) -> SightResult:
    """What is seen on the pass. Figures are None where the wing does not carry the aeroplane."""
    flown = attitudes_of(facts)
    cue = wing_cue(facts, flown)
    lost, wire_lost, deepest = _straight(facts)
    start, ramp = facts.gates["turn-in"], facts.gates["ramp"]
    final = flown.at(np.append(np.arange(start, ramp, FINE), ramp))
    hidden, gone = hidden_seconds(final, facts.cockpit, facts.ship), hidden_from(final, facts.cockpit, facts.ship)
    return SightResult(
        wing_cue_after=cue.after,
        wing_cue_along=cue.along,
        stern_ahead_of_tip=_known(cue.ahead_of_tip),
        stern_over_tip=_known(cue.over_tip),
        straight_deepest=deepest,
        straight_ramp_lost=lost,
        straight_ramp_hidden=None if lost is None else lost / facts.straight.closing,
        straight_wire_lost=wire_lost,
        final_ramp_hidden=_known(hidden),
        final_ramp_lost=None if gone is None else ramp - gone,
        edge_on_ramp=_edge_on_ramp(facts, final),
        gates={name: _gate(facts, flown.at(time)) for name, time in facts.gates.items()},
        facts=facts,
        attitudes=flown,
    )


def _known(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _straight(facts: SightFacts) -> tuple[float | None, float | None, float | None]:
    """Distances at which a straight approach loses ramp and first wire [m], and its deepest view [rad]."""
    view = straight_view(facts.straight, facts.cockpit, facts.lifting)
    if view is None:
        return None, None, None
    wire = view.lost(facts.ship.wires[0]) if facts.ship.wires else math.inf
    return _known(view.lost()), _known(wire), view.deepest


def _beside(seen: PointSeen, facts: SightFacts) -> Floats:
    """The point seen beside the inner edge of the nose, inward positive, (n,) [rad]."""
    beside: Floats = facts.hand * seen.azimuth - nose_edge(facts.cockpit)
    return beside


def _edge_on_ramp(facts: SightFacts, final: Attitudes) -> float | None:
    """How long before the end of the final turn the inner edge of the nose first comes onto the ramp [s]."""
    seen = point_seen(final, facts.cockpit, facts.ship)
    beside = np.where(seen.distance > BENEATH, _beside(seen, facts), np.nan)
    met = np.flatnonzero((beside[:-1] > 0.0) & (beside[1:] <= 0.0))
    if met.size == 0:
        return None
    i = int(met[0])
    part = beside[i] / (beside[i] - beside[i + 1])
    return float(final.time[-1] - final.time[i] - part * (final.time[i + 1] - final.time[i]))


def _gate(facts: SightFacts, there: Attitudes) -> GateSight:
    ship, cockpit = facts.ship, facts.cockpit
    eye = there.eyes(cockpit, ship.deck_height)[0]
    over_sea = float(eye[2]) + ship.deck_height
    if not math.isfinite(over_sea):
        nothing = dict.fromkeys(GateSight.__dataclass_fields__)
        return GateSight(**nothing)
    cut = horizon_cut(over_sea, math.hypot(ship.island_place - float(eye[0]), float(eye[1])))
    ramp = point_seen(there, cockpit, ship)
    lines = sight_lines(np.array([(0.0, 0.0, 0.0), (ship.deck_length, 0.0, 0.0)]), eye)
    lines /= np.linalg.norm(lines, axis=1, keepdims=True)
    off = bool(ramp.distance[0] > BENEATH)
    ahead = off and abs(float(ramp.azimuth[0])) < 0.5 * math.pi
    return GateSight(
        eye_height=over_sea,
        pitch=float(there.pitch[0]),
        horizon_cut=cut,
        horizon_over_deck=cut - ship.deck_height,
        ramp_azimuth=facts.hand * float(ramp.azimuth[0]) if off else None,
        ramp_below_horizon=float(ramp.depression[0]) - horizon_dip(over_sea) if off else None,
        beside_nose=float(_beside(ramp, facts)[0]) if ahead else None,
        clear_of_nose=float(ramp.clear_of_nose[0]) if ahead else None,
        deck_angle=math.acos(float(np.clip(lines[0] @ lines[1], -1.0, 1.0))) if off else None,
        officer_span=float(span_seen(there, cockpit, ship)[0]),
    )
