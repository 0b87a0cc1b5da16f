"""What else there is to know of a solved circuit: what errors cost, going round again, touchdown, and what is seen.

One part of the day at a time: a carrier and a type on her flight course. A type or a ship that does not give what one
of these waits for leaves that one unsolved, and the reason names the keys.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from roundown.catalog.launch_keys import missing
from roundown.day.facts import of_type
from roundown.day.memory import Memory
from roundown.errors import NoSolution
from roundown.figures import Givens
from roundown.findings import Finding, Level
from roundown.launch.deck_plan import NARROWS_PART
from roundown.launch.of_type import wing_of
from roundown.motion.equations.kernel import density_at
from roundown.plan.facts import Day
from roundown.recovery.approach_speed import ApproachSpeed, approach_speed
from roundown.recovery.circuit import Circuit
from roundown.recovery.clock_cues import ClockCues, clock_cues
from roundown.recovery.error_costs import ErrorCost, error_costs
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.last_wave_off import (
    LastWaveOff,
    LastWaveOffFacts,
    NoWaveOff,
    last_wave_off,
    last_wave_off_findings,
)  # fmt: skip
from roundown.recovery.late import LatePath, late_paths
from roundown.recovery.latest_turn_in import LatestTurnIn, latest_turn_in, latest_turn_in_findings
from roundown.recovery.result import CircuitResult
from roundown.recovery.spacing import Spacing, spacing, spacing_findings
from roundown.recovery.straight_in import StraightIn, straight_in
from roundown.recovery.touchdown import NoTouchdown, facts_of, solve_touchdown
from roundown.recovery.touchdown_findings import touchdown_findings
from roundown.recovery.touchdown_result import Touchdown
from roundown.recovery.turning_ship import TurningShip, turning_ship
from roundown.recovery.wave_off import WaveOff, WaveOffFacts, wave_off
from roundown.sight.facts import Cockpit, Flight, Lifting, ShipOutline, SightFacts, flap_along, flight_of
from roundown.sight.facts import StraightIn as StraightView
from roundown.sight.late_view import LateView, late_view
from roundown.sight.result import SightResult, sight
from roundown.solution import Unsolved

SIDES = {"port": 1, "ahead": 0}
LIFT = ("launch.lift_slope", "launch.zero_lift_angle", "launch.flap_lift")
OF_TYPE = (
    "eye_height", "eye_behind", "over_nose", "nose_length", "nose_width", "wing_setting", "wing_below", "wing_ahead",
    "tip_ahead", "root_chord", "tip_chord", "dihedral",
)  # fmt: skip
OF_SHIP = (
    "deck.bow_width", "deck.island_length", "deck.island_width", "outline.island_height", "outline.mast_height",
    "outline.beam",
)  # fmt: skip


@dataclass(frozen=True, eq=False, kw_only=True)
class PassWork:
    """What is found beside the circuit; the fields are those of a Solution. findings : of all of it."""

    approach: ApproachSpeed
    cues: ClockCues
    costs: Mapping[str, ErrorCost]
    latest_turn_in: LatestTurnIn
    turning: TurningShip | Unsolved
    spacing: Spacing
    straight_in: StraightIn
    wave_off: WaveOff | Unsolved
    last_wave_off: LastWaveOff | Unsolved
    touchdown: Touchdown | Unsolved
    sight: SightResult | Unsolved
    late_paths: Mapping[str, LatePath]
    late_views: Mapping[str, LateView]


def pass_work(
    day: Day, circuit: Circuit, result: CircuitResult, facts: CircuitFacts, memory: Memory
) -> tuple[PassWork, list[Finding]]:
    """All of it, and its findings. day : of the carrier and type; facts : of her circuit."""
    eye = day.givens.get("type.sight.eye_height")
    seen = _sight(day, result, facts, memory)
    late = memory.recall("late paths", facts, lambda: late_paths(circuit, facts))
    found = PassWork(
        approach=approach_speed(facts),
        cues=clock_cues(result, facts),
        costs=memory.recall("costs", facts, lambda: error_costs(circuit, facts)),
        latest_turn_in=memory.recall("latest turn-in", facts, lambda: latest_turn_in(circuit, facts)),
        turning=_turning(day, circuit, facts, memory),
        spacing=memory.recall("spacing", facts, lambda: spacing(result, facts.interval)),
        straight_in=straight_in(result, facts, None if eye is None else eye.value),
        wave_off=_wave_off(day, circuit, facts, memory),
        last_wave_off=_last_wave_off(day, result, facts, memory),
        touchdown=_touchdown(day, result, facts, memory),
        sight=seen,
        late_paths=late,
        late_views={} if isinstance(seen, Unsolved) else _late_views(late, seen.facts, facts),
    )
    return found, _findings(day, found, result, facts)


def _turning(day: Day, circuit: Circuit, facts: CircuitFacts, memory: Memory) -> TurningShip | Unsolved:
    radius = 0.5 * day.number("ship.turning_circle")
    if facts.ship_speed <= 0.0:
        return Unsolved("a ship without way on does not turn")

    def found() -> TurningShip | Unsolved:
        try:
            return turning_ship(circuit, facts, radius)
        except NoSolution as error:
            return Unsolved(f"there is no answer for {error.sought}")

    return memory.recall("turning", (facts, radius), found)


def _wave_off(day: Day, circuit: Circuit, facts: CircuitFacts, memory: Memory) -> WaveOff | Unsolved:
    power_time = day.givens.get("type.wave_off.power_time")
    if power_time is None:
        return Unsolved("the type does not give wave_off.power_time")
    full, flow = (day.givens.get(f"type.fuel.{name}") for name in ("full_power", "circuit"))
    by = WaveOffFacts(
        side=SIDES[day.word("doctrine.wave_off.side")],
        straight=day.number("doctrine.wave_off.straight"),
        reaction=day.number("doctrine.wave_off.reaction"),
        power_time=power_time.value,
        full_power_fuel=None if full is None else full.value,
        circuit_fuel=None if flow is None else flow.value,
    )

    def found() -> WaveOff | Unsolved:
        try:
            return wave_off(circuit, facts, by)
        except NoSolution as error:
            return Unsolved(f"there is no answer for {error.sought}")

    return memory.recall("wave-off", (facts, by), found)


def _last_wave_off_facts(day: Day) -> LastWaveOffFacts | Unsolved:
    absent = missing(of_type(day), ("wave_off.power_time", *LIFT))
    if absent:
        return Unsolved(f"the type does not give {', '.join(absent)}")
    return LastWaveOffFacts(
        reaction=day.number("doctrine.wave_off.reaction"),
        power_time=day.number("type.wave_off.power_time"),
        clearance=day.number("doctrine.wave_off.clearance"),
        wing=wing_of(of_type(day)),
    )


def _last_wave_off(day: Day, result: CircuitResult, facts: CircuitFacts, memory: Memory) -> LastWaveOff | Unsolved:
    by = _last_wave_off_facts(day)
    if isinstance(by, Unsolved):
        return by
    found = memory.recall("last wave-off", (facts, by), lambda: last_wave_off(result, facts, by))
    return Unsolved(found.reason) if isinstance(found, NoWaveOff) else found


def _touchdown(day: Day, result: CircuitResult, facts: CircuitFacts, memory: Memory) -> Touchdown | Unsolved:
    given = facts_of(facts, day.givens, result.final_slope)
    if isinstance(given, NoTouchdown):
        return Unsolved(given.reason)
    found = memory.recall("touchdown", given, lambda: solve_touchdown(given))
    return Unsolved(found.reason) if isinstance(found, NoTouchdown) else found


def sight_waits_for(day: Day) -> list[str]:
    """The keys that what is seen waits for."""
    absent = [
        f"type.{name}"
        for name in missing(of_type(day), (*(f"sight.{name}" for name in OF_TYPE), *LIFT, "launch.length"))
    ]
    return [*absent, *(f"ship.{name}" for name in OF_SHIP if f"ship.{name}" not in day.givens)]


def _sight(day: Day, result: CircuitResult, facts: CircuitFacts, memory: Memory) -> SightResult | Unsolved:
    absent = sight_waits_for(day)
    if absent:
        return Unsolved(f"what is seen waits for {', '.join(absent)}")
    given = sight_facts(day.givens, result, facts)
    return memory.recall("sight", (given.ship, given.cockpit, given.lifting, facts), lambda: sight(given))


def sight_facts(givens: Givens, result: CircuitResult, facts: CircuitFacts) -> SightFacts:
    """What the pictures of a solved circuit are made from. givens : of the day, with every key they want."""

    def given(key: str) -> float:
        return givens[key].value

    setting = facts.setting
    height = facts.ramp_over_sea
    down = result.flap_down_after
    lowered = result.initial_to_break + (down if down is not None else result.path.time[-1])
    speed = setting.true_speed(facts.ramp_speed, height)
    wires: list[float] = []
    if all(f"ship.gear.{name}" in givens for name in ("wires", "first_wire", "spacing")):
        first, apart = given("ship.gear.first_wire"), given("ship.gear.spacing")
        wires = [first + number * apart for number in range(round(given("ship.gear.wires")))]
    plane = facts.aeroplane
    return SightFacts(
        ship=ShipOutline(
            deck_length=facts.deck_length,
            deck_width=given("ship.deck_width"),
            bow_width=given("ship.deck.bow_width"),
            narrows_at=NARROWS_PART * facts.deck_length,
            deck_height=facts.deck_height,
            beam=given("ship.outline.beam"),
            island_place=given("ship.island_place"),
            island_length=given("ship.deck.island_length"),
            island_width=given("ship.deck.island_width"),
            island_side=1 if givens["ship.deck.island_side"].word == "port" else -1,
            island_height=given("ship.outline.island_height"),
            mast_height=given("ship.outline.mast_height"),
            platform_ahead=given("ship.outline.platform_ahead"),
            wires=tuple(wires),
        ),
        cockpit=Cockpit(
            **{name: given(f"type.sight.{name}") for name in OF_TYPE},
            span=given("type.wing_span"),
            length=given("type.launch.length"),
        ),
        lifting=Lifting(
            mass=plane.mass,
            wing_area=plane.wing_area,
            lift_slope=given("type.launch.lift_slope"),
            zero_lift_angle=given("type.launch.zero_lift_angle"),
            flap_lift=given("type.launch.flap_lift"),
            lift_clean=plane.lift_clean,
            lift_flap=plane.lift_flap,
        ),
        flight=flight_of(
            result.path, facts.ship_course, facts.ship_speed,
            flap_along(np.asarray(result.path.time), lowered, plane.flap_time),
        ),
        straight=StraightView(
            airspeed=speed,
            climb=-result.final_slope,
            closing=result.closing_ramp,
            ramp_height=facts.ramp_height,
            density=density_at(height, (facts.temperature, facts.pressure)),
        ),
        gates={name: gate.time + result.initial_to_break for name, gate in result.gates.items()},
        hand=facts.hand,
        temperature=facts.temperature,
        pressure=facts.pressure,
    )  # fmt: skip


def _late_views(paths: Mapping[str, LatePath], seen: SightFacts, facts: CircuitFacts) -> dict[str, LateView]:
    """What is seen along the way of each delay, from its turn-in on."""
    found = {}
    for key, way in paths.items():
        final = way.time >= way.turn_in - 1e-9
        flight = Flight(
            time=way.time[final],
            ahead=way.ahead[final],
            port=way.port[final],
            height=way.height[final],
            heading=way.heading[final] - facts.ship_course,
            bank=way.bank[final],
            airspeed=way.speed[final],
            flap=np.ones(int(np.count_nonzero(final))),
        )
        found[key] = late_view(flight, seen)
    return found


def _waiting(found: PassWork) -> list[Finding]:
    """One note for all of the pass that waits for keys nobody gave."""
    parts = {"what the pilot sees": found.sight, "the touchdown": found.touchdown, "going round again": found.wave_off}
    reasons = {what: part.reason for what, part in parts.items() if isinstance(part, Unsolved)}
    said = " ".join(reasons.values())
    tables = dict.fromkeys(re.findall(r"\b(sight|hook|wave_off|launch|gear|outline|deck)\.", said))
    if not tables:
        return []
    return [
        Finding(
            "pass-waits",
            Level.NOTE,
            "circuit.final_time",
            f"{', '.join(reasons)}: not worked out",
            f"values below {', '.join(tables)} are not given",
            "Give them: `roundown catalog ottery` and `roundown catalog corbel` show which there are.",
        )
    ]


def _findings(day: Day, found: PassWork, result: CircuitResult, facts: CircuitFacts) -> list[Finding]:
    told = [
        *_waiting(found),
        *latest_turn_in_findings(found.latest_turn_in),
        *spacing_findings(found.spacing, result, facts.interval),
    ]
    by = _last_wave_off_facts(day)
    if not isinstance(by, Unsolved):
        told += last_wave_off_findings(
            found.last_wave_off
            if isinstance(found.last_wave_off, LastWaveOff)
            else NoWaveOff(found.last_wave_off.reason),
            by,
        )
    given = facts_of(facts, day.givens, result.final_slope)
    if isinstance(found.touchdown, Touchdown) and not isinstance(given, NoTouchdown):
        told += touchdown_findings(found.touchdown, given)
    return told
