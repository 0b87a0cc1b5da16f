"""What an error costs: how far one second, one degree, one knot or ten feet move the end of the pass.

Each error is made alone; the pilot otherwise flies the planned program: the planned headings, banks, speeds and
heights, the break and the turn-in at their places beside the ship, the last of the turn until he tracks along the deck
as he finds it. Only after a late break is the turn-in by the clock; by its place it would not move. A change of wind
over the deck is as much at every height and is not allowed for before the deck is in sight.

*Method:* half the difference of two flights by the path engine, the error made either way; only what comes after the
error is flown. The bank that would mend it is the miss to the side over what a degree of bank moves it. Own derivation,
docs/method/errors.md.

*Holds for:* errors of about the step stated; a steady ship.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from roundown.figures import figure
from roundown.motion.equations.kernel import State, in_ship_frame
from roundown.motion.manoeuvre import ChangeSpeed, Guard, Leg, Setting, Until, fly
from roundown.passes.cost import USUAL, Aim, Misses, cost
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import ANGLE, DEGREE, DISTANCE, FOOT, KNOT, LENGTH, RATIO, SPEED_MARGIN, TIME, write
from roundown.recovery.circuit import COARSE, Circuit, downwind_leg, final_legs, upwind_legs
from roundown.recovery.facts import CircuitFacts

SECOND, HEIGHT_STEP = 1.0, 10.0 * FOOT
CALM = 1.0 * KNOT  # over the deck: with less wind its direction means nothing
_FLOWN = "half the difference of two flights, the error made either way (recovery/error_costs.py)"


@dataclass(frozen=True, kw_only=True)
class ErrorCost:
    """What one error, of the size its key says, changes at the ramp. words : the error as one says it."""

    words: str
    ahead: float = figure(
        DISTANCE, "how much further ahead the wings come level; astern is negative", _FLOWN, PASS_INPUTS
    )
    port: float = figure(
        LENGTH, "how much further to port of the centre line; to starboard is negative", _FLOWN, PASS_INPUTS
    )
    time: float = figure(
        TIME, "how much later over the ramp, flown straight from where the wings come level", _FLOWN, PASS_INPUTS
    )
    height: float = figure(LENGTH, "how much higher where the wings come level", _FLOWN, PASS_INPUTS)
    speed: float = figure(SPEED_MARGIN, "how much faster there, indicated", _FLOWN, PASS_INPUTS)
    bank: float = figure(
        ANGLE, "how much more bank in the final turn would bring it back on to the centre line",
        "miss to the side over what bank moves it (recovery/error_costs.py)", PASS_INPUTS,
    )  # fmt: skip
    cost: float = figure(
        RATIO, "all of it, left unmended, in tolerances",
        "root of the sum of squares of the misses in tolerances (passes/cost.py)", PASS_INPUTS,
    )  # fmt: skip


End = tuple[float, float, float, float, float]
"""Of a flight: ahead, to port [m], time over the ramp [s], height over the sea [m], indicated airspeed [m/s]."""
Flight = Callable[[float], End | None]
"""A pass with an error of a signed size, SI."""


def legs_from(gate: str, circuit: Circuit, facts: CircuitFacts) -> list[Leg]:
    """The rest of the planned program from a gate on, to wings level: what `passes.cost.fly_rest` is to fly.

    gate : break, downwind, turn-in, abeam, ninety or ramp, where nothing is left
    """
    to_place = downwind_leg(facts, Until(Guard.SHIP_AHEAD, circuit.turn_in_ahead, -1))
    to_ninety, to_ramp = final_legs(facts, circuit.final_bank)
    rest = [upwind_legs(facts)[1], to_place, to_ninety, to_ramp]
    return rest[("break", "downwind", "turn-in", "ninety", "ramp").index("turn-in" if gate == "abeam" else gate) :]


def aim_of(gate: str, circuit: Circuit, facts: CircuitFacts) -> Aim:
    """What the planned pass means at the ramp, and the steepest bank planned from a gate on; gates as `legs_from`."""
    bank = max(facts.break_bank, circuit.final_bank) if gate == "break" else circuit.final_bank
    return Aim(height=facts.ramp_over_sea, speed=facts.ramp_speed, bank=bank)


def error_costs(circuit: Circuit, facts: CircuitFacts) -> dict[str, ErrorCost]:
    """The cost of each error by its key; one whose passes cannot be flown is left out, as is the wind in a calm."""
    flights = _flights(circuit, facts)
    changes = {key: _change(flight, step) for key, (_, step, flight) in flights.items()}
    by_bank = changes["final_bank_1_deg_more"]
    off_by_bank = math.nan if by_bank is None else by_bank[1] / DEGREE
    found = {}
    for key, (words, _, _) in flights.items():
        change = changes[key]
        if change is None or math.isnan(off_by_bank) or off_by_bank == 0.0:
            continue
        ahead, port, time, height, speed = change
        found[key] = ErrorCost(
            words=words, ahead=ahead, port=port, time=time, height=height, speed=speed, bank=-port / off_by_bank,
            cost=cost(Misses(ahead, port, height, speed, 0.0), USUAL),
        )  # fmt: skip
    return found


def dearest(costs: Mapping[str, ErrorCost]) -> str:
    """One sentence: which of the errors moves the pass furthest to the side, and which along the deck."""
    if not costs:
        return "No error could be tried."
    side = max(costs.values(), key=lambda error: abs(error.port))
    along = max(costs.values(), key=lambda error: abs(error.ahead))
    return (
        f"Left unmended, {side.words} costs most to the side: {write(abs(side.port), LENGTH)} to "
        f"{'port' if side.port > 0.0 else 'starboard'} of the centre line; {along.words} costs most along the deck: "
        f"wings level {write(abs(along.ahead), DISTANCE)} further {'ahead' if along.ahead > 0.0 else 'astern'}, which "
        "no bank held all round mends."
    )


def _change(flight: Flight, step: float) -> End | None:
    more, less = flight(step), flight(-step)
    if more is None or less is None:
        return None
    ahead, port, time, height, speed = (0.5 * (high - low) for high, low in zip(more, less, strict=True))
    return ahead, port, time, height, speed


def _flights(circuit: Circuit, facts: CircuitFacts) -> dict[str, tuple[str, float, Flight]]:
    """Each error by its key: in words, the size of the step, and the pass flown with it."""
    flown, setting, bank = circuit.flown, circuit.setting, circuit.final_bank
    at_break, level, turn_in = (flown.end(name) for name in ("initial", "break", "downwind"))
    downwind_time = turn_in[0] - level[0]
    planned_break = upwind_legs(facts)[1]
    to_place = Until(Guard.SHIP_AHEAD, circuit.turn_in_ahead, -1)
    final = final_legs(facts, bank)

    def late_turn_in(error: float) -> End | None:
        if downwind_time + error <= 0.0:
            return None
        leg = downwind_leg(facts, Until(Guard.TIME, downwind_time + error, 1))
        return _end(*level, [leg, *final], setting)

    def late_break(error: float) -> End | None:
        time, state = at_break
        east, north = setting.wind(state[2])
        moved = (
            state[0] + error * (state[3] * math.sin(state[4]) + east),
            state[1] + error * (state[3] * math.cos(state[4]) + north),
            *state[2:],
        )
        leg = downwind_leg(facts, Until(Guard.TIME, max(downwind_time, 1e-3), 1))
        return _end(time + error, moved, [planned_break, leg, *final], setting)

    def downwind_speed(error: float) -> End | None:
        faster = replace(facts, downwind_speed=facts.downwind_speed + error)
        turn = replace(planned_break, speed=ChangeSpeed(faster.downwind_speed, facts.slowing))
        return _end(*at_break, [turn, downwind_leg(faster, to_place), *final], setting)

    def downwind_height(error: float) -> End | None:
        higher = replace(facts, downwind_height=facts.downwind_height + error)
        return _end(*level, [downwind_leg(higher, to_place), *final], setting)

    def from_turn_in(**changes: float) -> End | None:
        return _end(*turn_in, final_legs(replace(facts, **changes), bank), setting)  # type: ignore[arg-type]

    def wind(factor: float, swing: float) -> End | None:
        ship = facts.ship_speed * math.sin(facts.ship_course), facts.ship_speed * math.cos(facts.ship_course)
        east, north = (air - own for air, own in zip(setting.wind(facts.deck_height), ship, strict=True))
        winds = facts.winds.copy()
        winds[:, 1] += factor * (east * math.cos(swing) + north * math.sin(swing)) - east
        winds[:, 2] += factor * (north * math.cos(swing) - east * math.sin(swing)) - north
        other = replace(facts, winds=winds)
        legs = [planned_break, downwind_leg(facts, to_place), *final_legs(other, bank)]
        return _end(*at_break, legs, other.setting)

    found: dict[str, tuple[str, float, Flight]] = {
        "turn_in_1_s_late": ("a turn-in 1 s late", SECOND, late_turn_in),
        "break_1_s_late": ("a break 1 s late, the turn-in by the clock,", SECOND, late_break),
        "final_bank_1_deg_more": (
            "1 deg more bank in the final turn", DEGREE,
            lambda error: _end(*turn_in, final_legs(facts, bank + error), setting),
        ),
        "downwind_speed_1_kt_more": ("1 kt more on the downwind leg", KNOT, downwind_speed),
        "ninety_speed_1_kt_more": (
            "1 kt more at the ninety", KNOT, lambda error: from_turn_in(ninety_speed=facts.ninety_speed + error)
        ),
        "ramp_speed_1_kt_more": (
            "1 kt more at the ramp", KNOT, lambda error: from_turn_in(ramp_speed=facts.ramp_speed + error)
        ),
        "downwind_height_10_ft_more": ("10 ft more on the downwind leg", HEIGHT_STEP, downwind_height),
        "ninety_height_10_ft_more": (
            "10 ft more at the ninety", HEIGHT_STEP,
            lambda error: from_turn_in(ninety_height=facts.ninety_height + error),
        ),
        "ramp_height_10_ft_more": (
            "10 ft more at the ramp", HEIGHT_STEP, lambda error: from_turn_in(ramp_height=facts.ramp_height + error)
        ),
    }  # fmt: skip
    over_deck = wind_over_deck(facts)
    if over_deck > CALM:
        found["wind_over_deck_1_kt_more"] = (
            "1 kt more wind over the deck", KNOT, lambda error: wind(1.0 + error / over_deck, 0.0)
        )  # fmt: skip
        found["wind_1_deg_to_starboard"] = (
            "the wind over the deck 1 deg further to starboard", DEGREE, lambda error: wind(1.0, error)
        )  # fmt: skip
    return found


def wind_over_deck(facts: CircuitFacts) -> float:
    """Speed of the wind felt on the ship at deck height [m/s]."""
    east, north = facts.setting.wind(facts.deck_height)
    east -= facts.ship_speed * math.sin(facts.ship_course)
    north -= facts.ship_speed * math.cos(facts.ship_course)
    return math.hypot(east, north)


def _end(time: float, state: State, legs: list[Leg], setting: Setting) -> End | None:
    """The end of a flight; None where it does not come to wings level, or cannot overtake the ship."""
    flown = fly(time, state, legs, setting, longest_step=COARSE)
    if not flown.met:
        return None
    time, state = flown.record(-1)
    ahead, port = in_ship_frame(time, state[0], state[1], setting.ship.rows)
    east, north = setting.wind(state[2])
    east += state[3] * math.sin(state[4])
    north += state[3] * math.cos(state[4])
    _, _, course, ship_speed = setting.ship.at(time)
    closing = east * math.sin(course) + north * math.cos(course) - ship_speed
    if closing <= 0.0:
        return None
    return ahead, port, time - ahead / closing, state[2], setting.indicated_speed(state[3], state[2])
