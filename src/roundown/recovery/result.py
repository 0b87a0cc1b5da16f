"""The figures of a solved circuit, each with how it came about, and the pass plan they make."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from roundown.environment.air import GRAVITY, SEA_LEVEL_DENSITY
from roundown.figures import figure
from roundown.motion.equations import kernel as equations
from roundown.motion.equations.kernel import Floats, State, in_ship_frame
from roundown.motion.frames import wrap
from roundown.motion.manoeuvre import Flown, Setting, path_of
from roundown.motion.path import Path
from roundown.motion.position_error import indicated
from roundown.motion.turns import radius
from roundown.passes.pass_plan import FLYING, PASS_INPUTS, Gate, PassPlan
from roundown.quantities import (
    ACCELERATION,
    AHEAD_OF_RAMP,
    ANGLE,
    BANK,
    CLIMB_RATE,
    CLOSING_SPEED,
    DISTANCE,
    INDICATED_SPEED,
    LENGTH,
    OFF_NOSE,
    SPEED_MARGIN,
    TIME,
    TRUE_DIRECTION,
    Band,
)  # fmt: skip
from roundown.recovery.circuit import Circuit, heading_along
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.late import Late, late_turn_ins

_SHIP = ("flight.course", "flight.speed")
_UPWIND = (
    *_SHIP, "weather.*", "doctrine.circuit.hand", "doctrine.circuit.upwind_offset", "doctrine.circuit.break_place",
    "doctrine.circuit.initial_height", "doctrine.circuit.initial_speed", "ship.deck_length", "ship.island_place",
    "type.position_error.*",
)  # fmt: skip
_BREAK = (
    *_UPWIND, *FLYING, "doctrine.circuit.break_bank", "doctrine.circuit.slowing", "doctrine.circuit.downwind_speed",
    "doctrine.circuit.downwind_height",
)  # fmt: skip
_RAMP = (
    *_SHIP,
    "weather.*",
    "doctrine.circuit.hand",
    "doctrine.circuit.ramp_speed",
    "doctrine.circuit.ramp_height",
    "ship.deck_height",
    "type.position_error.*",
)
_RULE = (
    "weather.temperature", "weather.pressure", "doctrine.circuit.initial_speed", "doctrine.circuit.downwind_speed",
    "doctrine.circuit.initial_height", "type.position_error.*",
)  # fmt: skip
_ENGINE = "the path engine (motion/kernel.py)"
_SOLVED = "root of the lateral miss over the ramp, then shifted along the deck (recovery/circuit.py)"
_STALL = "indicated speed less stall speed times the root of the load factor, least along the turn, throttle shut"


@dataclass(frozen=True, eq=False, kw_only=True)
class CircuitResult:
    """The solved circuit. Times in seconds from the event named; distances in the ship frame."""

    initial_to_break: float = figure(TIME, "from the initial to the break", _ENGINE, _UPWIND)
    break_to_rollout: float = figure(TIME, "from the break to wings level on the downwind leg", _ENGINE, _BREAK)
    rollout_to_turn_in: float = figure(TIME, "from wings level downwind to the turn-in", _SOLVED, PASS_INPUTS)
    final_time: float = figure(TIME, "from the turn-in to the ramp", _SOLVED, PASS_INPUTS)
    break_to_ramp: float = figure(TIME, "from the break to the ramp", _SOLVED, PASS_INPUTS)
    abeam: float = figure(
        DISTANCE, "downwind leg from the centre line, at the turn-in",
        "width of the break as flown, less the upwind offset (motion/kernel.py)", PASS_INPUTS,
    )  # fmt: skip
    abeam_by_rule: float = figure(
        DISTANCE, "the same by rule of thumb",
        "two turning radii at the mean of break and downwind speed, as true airspeed, less the upwind offset",
        (*_RULE, "doctrine.circuit.break_bank", "doctrine.circuit.upwind_offset"),
    )  # fmt: skip
    turn_in_ahead: float = figure(AHEAD_OF_RAMP, "turn-in ahead of the ramp", _SOLVED, PASS_INPUTS)
    turn_in_ahead_by_rule: float = figure(
        AHEAD_OF_RAMP, "the same by rule of thumb", "wind over the deck times the time of the final turn",
        ("circuit.final_time", "circuit.closing_ramp", "doctrine.circuit.ramp_speed", "doctrine.circuit.ramp_height",
         "ship.deck_height", "weather.temperature", "weather.pressure", "type.position_error.*"),
    )  # fmt: skip
    ramp_off_nose: float = figure(OFF_NOSE, "bearing of the ramp off the nose at the turn-in", _SOLVED, PASS_INPUTS)
    ramp_range: float = figure(DISTANCE, "distance of the ramp at the turn-in", _SOLVED, PASS_INPUTS)
    break_bank: float = figure(BANK, "bank of the break", "as commanded", ("doctrine.circuit.break_bank",))
    final_bank: float = figure(BANK, "bank of the final turn that ends on the centre line", _SOLVED, PASS_INPUTS)
    upwind_heading: float = figure(TRUE_DIRECTION, "heading of the upwind leg, true", "triangle of velocities", _UPWIND)
    downwind_heading: float = figure(
        TRUE_DIRECTION, "heading of the downwind leg, true", "triangle of velocities", _BREAK
    )
    final_heading: float = figure(TRUE_DIRECTION, "heading over the ramp, true", "triangle of velocities", _RAMP)
    closing_upwind: float = figure(CLOSING_SPEED, "speed past the ship on the upwind leg", _ENGINE, _UPWIND)
    closing_downwind: float = figure(CLOSING_SPEED, "speed past the ship at the turn-in", _SOLVED, PASS_INPUTS)
    closing_ramp: float = figure(CLOSING_SPEED, "speed over the ramp, seen from the deck", _SOLVED, PASS_INPUTS)
    groove_spacing: float = figure(
        DISTANCE, "from one aeroplane to the next over the ramp", "interval times closing speed",
        ("circuit.closing_ramp", "doctrine.circuit.interval"),
    )  # fmt: skip
    wheels_down_after: float | None = figure(TIME, "from the break until the wheels are down", _ENGINE, PASS_INPUTS)
    flap_down_after: float | None = figure(TIME, "from the break until the flap is down", _ENGINE, PASS_INPUTS)
    slowed_after: float | None = figure(TIME, "from the break until slowed to the downwind speed", _ENGINE, PASS_INPUTS)
    slowing_had: float = figure(
        ACCELERATION, "least loss of speed to be had while slowing, throttle shut", "drag less idle thrust", PASS_INPUTS
    )
    slowing_spare: float = figure(
        ACCELERATION, "loss of speed to be had in the final turn beyond what it asks, least",
        "drag less idle thrust less what is asked", PASS_INPUTS,
    )  # fmt: skip
    power_spare: float = figure(
        ACCELERATION, "gain of speed to be had in the final turn beyond what it asks, least",
        "full thrust less drag less what is asked", PASS_INPUTS,
    )  # fmt: skip
    stall_margin_break: float = figure(SPEED_MARGIN, "least speed over the stall in the break", _STALL, PASS_INPUTS)
    stall_margin_final: float = figure(
        SPEED_MARGIN, "least speed over the stall in the final turn", _STALL, PASS_INPUTS
    )
    let_down: float = figure(CLIMB_RATE, "steepest let-down in the final turn", _SOLVED, PASS_INPUTS)
    stall_in_break: float = figure(INDICATED_SPEED, "stall where the margin in the break is least", _STALL, PASS_INPUTS)
    stall_in_final: float = figure(
        INDICATED_SPEED, "stall where the margin in the final turn is least", _STALL, PASS_INPUTS
    )
    final_run: float = figure(DISTANCE, "run through the air from the ninety to the ramp", _SOLVED, PASS_INPUTS)
    descent_to_ramp: float = figure(
        LENGTH, "height to lose from the ninety to the ramp", "ninety height less deck height less ramp height",
        ("doctrine.circuit.ninety_height", "doctrine.circuit.ramp_height", "ship.deck_height"),
    )  # fmt: skip
    final_slope: float = figure(
        ANGLE, "slope of the path through the air from the ninety to the ramp",
        "height lost over distance flown through the air", PASS_INPUTS,
    )  # fmt: skip
    gates: Mapping[str, Gate]
    late: Mapping[str, Late]
    path: Path
    hand: int
    ship_course: float
    ship_speed: float

    @property
    def pass_plan(self) -> PassPlan:
        """The pass as its gates."""
        return PassPlan(hand=self.hand, gates=self.gates, ship_course=self.ship_course, ship_speed=self.ship_speed)


def describe(circuit: Circuit, facts: CircuitFacts) -> CircuitResult:
    """The figures of a circuit."""
    flown, setting = circuit.flown, circuit.setting
    times = {name: flown.end(name)[0] for name in flown.names}
    ninety, ramp = flown.leg("to ninety"), flown.leg("to ramp")
    final = np.vstack([ninety, ramp])
    gain, climb = (np.concatenate(parts) for parts in zip(_rates_in(ninety), _rates_in(ramp), strict=True))
    gates = _gates(circuit, facts)
    turn_in = gates["turn-in"]
    slowed = _slowed(flown.leg("break"), flown.leg("downwind"), facts, setting)
    slowing_spare, power_spare = _spare(final, gain, climb, setting)
    drop = facts.ninety_height - facts.ramp_over_sea
    through_air = float(np.trapezoid(ramp[:, 4], ramp[:, 0]))
    ramp_speed = setting.true_speed(facts.ramp_speed, facts.ramp_over_sea)
    closing_ramp = _closing(flown.end("to ramp")[1], facts)
    mean_speed = setting.true_speed(0.5 * (facts.initial_speed + facts.downwind_speed), facts.initial_height)
    break_leg = flown.leg("break")
    break_margin, break_stall = _stall_margin(break_leg, np.zeros(len(break_leg)), setting)
    final_margin, final_stall = _stall_margin(final, climb, setting)
    return CircuitResult(
        initial_to_break=times["initial"],
        break_to_rollout=times["break"] - times["initial"],
        rollout_to_turn_in=times["downwind"] - times["break"],
        final_time=times["to ramp"] - times["downwind"],
        break_to_ramp=times["to ramp"] - times["initial"],
        abeam=abs(circuit.turn_in_port),
        abeam_by_rule=2.0 * radius(mean_speed, facts.break_bank) - facts.upwind_offset,
        turn_in_ahead=circuit.turn_in_ahead,
        turn_in_ahead_by_rule=(ramp_speed - closing_ramp) * (times["to ramp"] - times["downwind"]),
        ramp_off_nose=turn_in.ramp_off_nose,
        ramp_range=math.hypot(circuit.turn_in_ahead, circuit.turn_in_port),
        break_bank=facts.break_bank,
        final_bank=circuit.final_bank,
        upwind_heading=flown.record(0)[1][4] % math.tau,
        downwind_heading=flown.end("break")[1][4] % math.tau,
        final_heading=heading_along(1, ramp_speed, facts.ramp_over_sea, facts) % math.tau,
        closing_upwind=_closing(flown.record(0)[1], facts),
        closing_downwind=_closing(flown.end("downwind")[1], facts),
        closing_ramp=closing_ramp,
        groove_spacing=closing_ramp * facts.interval,
        wheels_down_after=_down(flown, 7, times["initial"]),
        flap_down_after=_down(flown, 8, times["initial"]),
        slowed_after=None if slowed is None else slowed - times["initial"],
        slowing_had=_slowing_had(flown.leg("break"), facts, setting),
        slowing_spare=slowing_spare,
        power_spare=power_spare,
        stall_margin_break=break_margin,
        stall_margin_final=final_margin,
        stall_in_break=break_stall,
        stall_in_final=final_stall,
        final_run=through_air,
        let_down=float(np.max(-climb)),
        descent_to_ramp=drop,
        final_slope=math.asin(max(-1.0, min(1.0, drop / through_air))),
        gates=gates,
        late=late_turn_ins(circuit, facts),
        path=path_of(flown, setting),
        hand=facts.hand,
        ship_course=facts.ship_course,
        ship_speed=facts.ship_speed,
    )


def _closing(state: State, facts: CircuitFacts) -> float:
    """Speed past the ship [m/s]."""
    east, north = facts.setting.wind(state[2])
    east += state[3] * math.sin(state[4]) - facts.ship_speed * math.sin(facts.ship_course)
    north += state[3] * math.cos(state[4]) - facts.ship_speed * math.cos(facts.ship_course)
    return math.hypot(east, north)


def _stall_margin(records: Floats, climb: Floats, setting: Setting) -> tuple[float, float]:
    """Least indicated speed over the stall along some records with their climb, and the stall there [m/s]."""
    plane = setting.aeroplane
    load = np.sqrt(1.0 - (climb / records[:, 4]) ** 2) / np.cos(records[:, 6])
    lift = plane.lift_clean + records[:, 8] * (plane.lift_flap - plane.lift_clean)
    free = np.sqrt(2.0 * load * plane.mass * GRAVITY / (SEA_LEVEL_DENSITY * plane.wing_area * lift))
    stall = np.array([indicated(float(speed), plane.position_error) for speed in free])
    shown = [setting.indicated_speed(float(r[4]), float(r[3])) for r in records]
    margin = np.array(shown) - stall
    least = int(np.argmin(margin))
    return float(margin[least]), float(stall[least])


def _slowed(break_leg: Floats, downwind: Floats, facts: CircuitFacts, setting: Setting) -> float | None:
    """When the downwind speed is first reached; None when it is not by the turn-in."""
    for record in (*break_leg, *downwind):
        if abs(setting.indicated_speed(float(record[4]), float(record[3])) - facts.downwind_speed) < 1e-6:
            return float(record[0])
    return None


def _down(flown: Flown, column: int, begun: float) -> float | None:
    """When the gear (column 7) or flap (8) of the records is first fully down, from `begun`; None where it is not."""
    down = np.flatnonzero(flown.records[:, column] >= 1.0 - 1e-9)
    return float(flown.records[down[0], 0]) - begun if down.size else None


def _slowing_had(records: Floats, facts: CircuitFacts, setting: Setting) -> float:
    """Least loss of speed to be had in the break while it is still wanted [m/s2]."""
    craft, air = setting.aeroplane.craft, setting.air
    wanted = [
        equations.available(_state(record), 0.0, -1.0, craft, air)
        for record in records
        if setting.indicated_speed(float(record[4]), float(record[3])) > facts.downwind_speed + 1e-6
    ]
    return min(wanted, default=equations.available(_state(records[0]), 0.0, -1.0, craft, air))


def _rates_in(leg: Floats) -> tuple[Floats, Floats]:
    """Gain of speed and climb along a leg whose speed and height go with heading [m/s2, m/s]."""
    turned = leg[-1, 5] - leg[0, 5]
    turning = GRAVITY * np.tan(leg[:, 6]) / leg[:, 4]
    return turning * (leg[-1, 4] - leg[0, 4]) / turned, turning * (leg[-1, 3] - leg[0, 3]) / turned


def _spare(final: Floats, gain: Floats, climb: Floats, setting: Setting) -> tuple[float, float]:
    """Least spare loss and gain of speed along the final turn [m/s2]; gain, climb : what it asks."""
    craft, air = setting.aeroplane.craft, setting.air
    slow, power = math.inf, math.inf
    for record, asked, rate in zip(final, gain, climb, strict=True):
        state = _state(record)
        slow = min(slow, equations.available(state, float(rate), -1.0, craft, air) + float(asked))
        power = min(power, equations.available(state, float(rate), 1.0, craft, air) - float(asked))
    return slow, power


def _state(record: Floats) -> State:
    east, north, height, speed, heading, bank, gear, flap = (float(value) for value in record[1:])
    return east, north, height, speed, heading, bank, gear, flap


def _gates(circuit: Circuit, facts: CircuitFacts) -> dict[str, Gate]:
    """The gates in the order they are met."""
    flown, rows = circuit.flown, circuit.setting.ship.rows
    begun = flown.end("initial")[0]
    found: list[tuple[str, float, State, Band | None]] = [
        ("initial", *flown.record(0), None),
        ("break", *flown.end("initial"), None),
        ("downwind", *flown.end("break"), None),
        ("turn-in", *flown.end("downwind"), facts.downwind_band),
        ("ninety", *flown.end("to ninety"), None),
    ]
    ramp_band = Band(*(facts.deck_height + h for h in (facts.ramp_band.low, facts.ramp_band.aim, facts.ramp_band.high)))
    found.append(("ramp", *flown.end("to ramp"), ramp_band))
    if "to cut" in flown.names:
        found.append(("cut", *flown.end("to cut"), None))
    abeam = _abeam(np.vstack([flown.leg("downwind"), flown.leg("to ninety")[1:]]), rows)
    if abeam is not None:
        found.append(("abeam", *abeam, None))
    gates: dict[str, Gate] = {}
    last = found[0][1]
    for name, time, state, band in sorted(found, key=lambda row: row[1]):
        ahead, port = in_ship_frame(time, state[0], state[1], rows)
        bearing = math.atan2(port, -ahead) + facts.ship_course - state[4]
        gates[name] = Gate(
            name=name,
            time=time - begun,
            since_last=time - last,
            ahead=ahead,
            port=port,
            east=state[0],
            north=state[1],
            height=state[2],
            heading=state[4] % math.tau,
            bank=state[5],
            indicated=circuit.setting.indicated_speed(state[3], state[2]),
            ramp_off_nose=abs(wrap(bearing)) if math.hypot(ahead, port) > 1.0 else 0.0,
            height_band=band,
        )
        last = time
    return gates


def _abeam(records: Floats, rows: Floats) -> tuple[float, State] | None:
    """Time and state where the ramp is first passed abeam going aft; None where it is not before the ninety."""
    ahead = np.array([in_ship_frame(float(r[0]), float(r[1]), float(r[2]), rows)[0] for r in records])
    after = np.flatnonzero((ahead[:-1] > 0.0) & (ahead[1:] <= 0.0))
    if after.size == 0:
        return None
    i = int(after[0])
    part = ahead[i] / (ahead[i] - ahead[i + 1])
    record = records[i] + part * (records[i + 1] - records[i])
    return float(record[0]), _state(record)
