"""How late may the wave-off come? The last place from which the wheels stay clear of the deck.

*Method:* point mass in the upright plane along the deck, from the trimmed, steady approach. With true airspeed V, its
slope gamma, level part u, rate of climb w and angle of attack alpha,
    m du/dt = (T - D) cos(gamma) - L sin(gamma),  m dw/dt = (T - D) sin(gamma) + L cos(gamma) - m g
(any flight mechanics text; own notation); lift and drag by angle of attack (motion/equations/wing.py), thrust of the
power there is by momentum theory. Nothing changes for the reaction; then the power rises evenly from the approach's to
full over the time the roll can be held for, and the nose is eased up toward a shallow climb, no further than leaves
the doctrine's margin over the stall (own rules, first-order lags). Fourth-order Runge-Kutta. The height lost does not
depend on where it begins, so the last place follows from the wheels' height along the approach. By rule of thumb
beside it: the sink s goes on for the reaction t, then the load n the margin allows stops it, s t + s^2 / (2 (n - 1) g).

*Holds for:* a straight last part of the final, on the slope from the ninety to the ramp: the solved turn flattens out
over its roll-out and loses less; wings level; wind and density as over the ramp; a deck that does not move; no ground
effect, no burble, no slipstream over the wing; the stall with the throttle shut. After the cut there is no wave-off on
a straight deck (PRO-100 of docs/sources.md): a wire, or an accident.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from roundown.environment.air import GRAVITY
from roundown.errors import NoSolution
from roundown.figures import figure
from roundown.findings import Finding, Level
from roundown.motion.equations.kernel import density_at, full_thrust
from roundown.motion.equations.wing import W_AREA, Wing, angle_for, drag_at, greatest_lift, lift_at
from roundown.passes.pass_plan import PASS_INPUTS
from roundown.quantities import (
    DEGREE,
    DISTANCE,
    FOOT,
    HEIGHT_OVER_DECK,
    LENGTH,
    SHARE,
    TIME,
    write,
)  # fmt: skip
from roundown.recovery.facts import CircuitFacts
from roundown.recovery.result import CircuitResult

CLIMB_SLOPE = 2.0 * DEGREE  # rad, shallow climb the nose is eased to; own rule
PATH_LAG = 1.0  # s, in which two thirds of a difference of slope are to be taken out; own rule
ANGLE_LAG = 0.3  # s, the same of the angle of attack; own rule
ANGLE_RATE = 3.0 * DEGREE  # rad/s, fastest change of the angle of attack: eased, not pulled; own rule
AT_ONCE = 0.01  # s, of a rise of power that takes no time to speak of
STEP, LONGEST = 0.05, 12.0  # s, of the integration and in all
LATE = 2.0  # s before the ramp, from which on a last place is a caution and not a note; own rule, no source

State = tuple[float, float, float, float, float]
"""level part of the airspeed, rate of climb [m/s], run past the ship, height gained [m], angle of attack [rad]"""

LAST_INPUTS = (
    *PASS_INPUTS, "doctrine.wave_off.reaction", "doctrine.expected.stall_margin", "type.wave_off.power_time",
    "type.launch.lift_slope", "type.launch.zero_lift_angle", "type.launch.flap_lift", "type.launch.post_stall_lift",
)  # fmt: skip
_CLEAR = (*LAST_INPUTS, "doctrine.wave_off.clearance")
_FLOWN = "flight in the upright plane integrated from the signal on (recovery/last_wave_off.py)"
_ALONG = "wheels' height along the approach less what is lost"


@dataclass(frozen=True)
class LastWaveOffFacts:
    """Beside the circuit's facts. wing : lift and drag by angle of attack, in the order of motion/equations/wing.py.

    reaction : from the signal to the throttle [s]; power_time : from approach power to full power, above 0 [s]
    clearance : least of the wheels over the deck [m]
    """

    reaction: float
    power_time: float
    clearance: float
    wing: Wing


@dataclass(frozen=True)
class Approach:
    """What is integrated. SI; useful_power : full shaft power times figure of merit [W]; disc : of the propeller [m2].

    speed : true airspeed; slope : of the descent through the air, down positive [rad]; wind_ahead : over the deck
    margin : true airspeed kept over the stall [m/s]; the rest are the hand's habits
    """

    mass: float
    wing: Wing
    useful_power: float
    disc: float
    density: float
    speed: float
    slope: float
    wind_ahead: float
    margin: float
    reaction: float
    power_time: float
    climb_slope: float = CLIMB_SLOPE
    path_lag: float = PATH_LAG
    angle_lag: float = ANGLE_LAG
    angle_rate: float = ANGLE_RATE

    @property
    def trim(self) -> float:
        """Lift coefficient of the steady approach."""
        return self.mass * GRAVITY * math.cos(self.slope) / self.pressure_area(self.speed)

    @property
    def sink(self) -> float:
        """Rate of descent [m/s]."""
        return self.speed * math.sin(self.slope)

    def pressure_area(self, airspeed: float) -> float:
        """Dynamic pressure times wing area [N]."""
        return 0.5 * self.density * airspeed * airspeed * self.wing[W_AREA]

    def allowed(self, airspeed: float) -> float:
        """Greatest lift coefficient that leaves the margin over the stall; never less than the approach's own."""
        part = max(airspeed - self.margin, 0.0) / airspeed
        return max(greatest_lift(1.0, self.wing) * part * part, self.trim)


@dataclass(frozen=True)
class Saved:
    """How the sink was stopped: height lost [m], time since the signal [s], run past the ship meanwhile [m]."""

    lost: float
    time: float
    run: float


@dataclass(frozen=True)
class NoWaveOff:
    """Why there is none. reason : a sentence without its full stop."""

    reason: str


@dataclass(frozen=True, kw_only=True)
class LastWaveOff:
    """The last wave-off that keeps the wheels clear. up_to_cut : it may come as late as the cut."""

    height_lost: float = figure(LENGTH, "height lost from the signal to the end of the sink", _FLOWN, LAST_INPUTS)
    height_lost_at_once: float = figure(LENGTH, "the same if full power could be given at once", _FLOWN, LAST_INPUTS)
    height_lost_by_rule: float | None = figure(
        LENGTH, "the same by rule of thumb: sink for the reaction, then stopped by the load the margin allows",
        "s t + s^2 / (2 (n - 1) g)", LAST_INPUTS,
    )  # fmt: skip
    stop_time: float = figure(TIME, "from the signal to the end of the sink", _FLOWN, LAST_INPUTS)
    stop_run: float = figure(DISTANCE, "run past the ship meanwhile", _FLOWN, LAST_INPUTS)
    approach_power: float = figure(
        SHARE, "power on the approach, as part of full power",
        "drag less the weight's part along the path, by momentum theory", LAST_INPUTS,
    )  # fmt: skip
    latest: float | None = figure(
        TIME, "last wave-off before the ramp; negative: that long past it, at the cut at the latest", _ALONG, _CLEAR
    )
    latest_astern: float | None = figure(
        DISTANCE, "where that is, astern of the ramp; ahead of it is negative", _ALONG, _CLEAR
    )
    latest_height: float | None = figure(HEIGHT_OVER_DECK, "wheels over the deck there", _ALONG, _CLEAR)
    over_deck_from_ramp: float = figure(
        HEIGHT_OVER_DECK, "least of the wheels over the deck after a wave-off over the ramp", _ALONG, LAST_INPUTS
    )
    over_deck_from_cut: float = figure(
        HEIGHT_OVER_DECK, "least of the wheels over the deck after a wave-off where the cut is due", _ALONG, LAST_INPUTS
    )
    up_to_cut: bool


def last_wave_off(result: CircuitResult, facts: CircuitFacts, by: LastWaveOffFacts) -> LastWaveOff | NoWaveOff:
    """The last safe wave-off of a solved circuit, or why there is none."""
    approach = approach_of(result, facts, by)
    try:
        power = approach_power(approach)
        saved = go_round(approach)
        at_once = go_round(replace(approach, power_time=AT_ONCE))
    except NoSolution as error:
        return NoWaveOff(f"There is no answer for {error.sought}")
    sink, at_ramp = approach.sink, facts.ramp_height - saved.lost
    to_cut = max(facts.cut_ahead, 0.0) / result.closing_ramp
    at_cut = at_ramp - sink * to_cut
    latest: float | None = -to_cut
    if at_cut < by.clearance:
        latest = (by.clearance - at_ramp) / sink if sink > 0.0 else math.inf
    if latest is not None and latest > result.final_time:
        latest = None
    return LastWaveOff(
        height_lost=saved.lost,
        height_lost_at_once=at_once.lost,
        height_lost_by_rule=lost_by_rule(approach),
        stop_time=saved.time,
        stop_run=saved.run,
        approach_power=power,
        latest=latest,
        latest_astern=None if latest is None else latest * result.closing_ramp,
        latest_height=None if latest is None else facts.ramp_height + sink * latest,
        over_deck_from_ramp=at_ramp,
        over_deck_from_cut=at_cut,
        up_to_cut=at_cut >= by.clearance,
    )


def approach_of(result: CircuitResult, facts: CircuitFacts, by: LastWaveOffFacts) -> Approach:
    """The last part of a circuit's final as a straight approach; a final that climbs is taken as level."""
    setting, plane = facts.setting, facts.aeroplane
    speed = setting.true_speed(facts.ramp_speed, facts.ramp_over_sea)
    slope = max(result.final_slope, 0.0)
    return Approach(
        mass=plane.mass,
        wing=by.wing,
        useful_power=plane.shaft_power * plane.figure_of_merit,
        disc=math.pi * plane.propeller_diameter**2 / 4.0,
        density=density_at(facts.ramp_over_sea, setting.air),
        speed=speed,
        slope=slope,
        wind_ahead=speed * math.cos(slope) - result.closing_ramp,
        margin=speed - setting.true_speed(max(facts.ramp_speed - facts.least_margin, 0.0), facts.ramp_over_sea),
        reaction=by.reaction,
        power_time=by.power_time,
    )


def approach_power(approach: Approach) -> float:
    """Part of full power that carries the approach; 0 where the throttle is shut.

    Raises NoSolution where the approach is below the stall, or full power does not carry it.
    """
    if approach.trim > greatest_lift(1.0, approach.wing):
        raise NoSolution("an approach below the stall")
    angle = angle_for(approach.trim, 1.0, approach.wing)
    drag = approach.pressure_area(approach.speed) * drag_at(angle, 1.0, 1.0, 1.0, approach.wing)
    thrust = max(drag - approach.mass * GRAVITY * math.sin(approach.slope), 0.0)
    # T = 2 rho A (V + w) w, P = T (V + w)
    speed = approach.speed
    through = 0.5 * (speed + math.sqrt(speed * speed + 2.0 * thrust / (approach.density * approach.disc)))
    part = thrust * through / approach.useful_power if approach.useful_power > 0.0 else math.inf
    if part > 1.0:
        raise NoSolution("an approach that full power carries, wheels and flap down")
    return part


def go_round(approach: Approach, step: float = STEP) -> Saved:
    """The flight from the signal until the sink is stopped.

    step : of the integration [s]
    Raises NoSolution where it sinks on, or sinks again, within 12 s; and as `approach_power`.
    """
    part = approach_power(approach)
    sink = approach.sink
    time = approach.reaction
    closing = approach.speed * math.cos(approach.slope) - approach.wind_ahead
    state = (
        approach.speed * math.cos(approach.slope), -sink, closing * time, -sink * time,
        angle_for(approach.trim, 1.0, approach.wing),
    )  # fmt: skip
    lowest = Saved(-state[3], time if sink > 0.0 else 0.0, state[2] if sink > 0.0 else 0.0)
    rise = max(1, math.ceil(approach.power_time / step - 1e-9))
    lengths = [approach.power_time / rise] * rise
    lengths += [step] * math.ceil((LONGEST - approach.power_time) / step)
    for h in lengths:
        after = _step(time, h, state, part, approach)
        if state[1] < 0.0 <= after[1]:
            found = _stopped(time, h, state, part, approach)
            if found.lost > lowest.lost:
                lowest = found
        time, state = time + h, after
    if state[1] < 0.0 or -state[3] > lowest.lost:
        raise NoSolution("a wave-off: full power does not stop the sink")
    return lowest


def lost_by_rule(approach: Approach) -> float | None:
    """Height lost by rule of thumb [m]; None where the margin leaves no load to stop the sink with."""
    load = approach.allowed(approach.speed) / approach.trim * math.cos(approach.slope)
    sink = approach.sink
    if load <= 1.0:
        return 0.0 if sink == 0.0 else None
    return sink * approach.reaction + sink * sink / (2.0 * (load - 1.0) * GRAVITY)


def _rates(time: float, s: State, part: float, approach: Approach) -> State:
    """Rates of change at a time since the signal; part : of full power on the approach."""
    level, climb, _, _, angle = s
    airspeed, slope = math.hypot(level, climb), math.atan2(climb, level)
    risen = min(max(time - approach.reaction, 0.0) / approach.power_time, 1.0)
    power = (part + (1.0 - part) * risen) * approach.useful_power
    thrust = full_thrust(airspeed, approach.density, (0.0,) * 7 + (power, approach.disc))
    area = approach.pressure_area(airspeed)
    along = thrust - area * drag_at(angle, 1.0, 1.0, 1.0, approach.wing)
    lift = area * lift_at(angle, 1.0, approach.wing)
    weight = approach.mass * GRAVITY
    factor = math.cos(slope) + airspeed * (approach.climb_slope - slope) / (GRAVITY * approach.path_lag)
    wanted = angle_for(min(factor * weight / area, approach.allowed(airspeed)), 1.0, approach.wing)
    turning = min(max((wanted - angle) / approach.angle_lag, -approach.angle_rate), approach.angle_rate)
    return (
        (along * math.cos(slope) - lift * math.sin(slope)) / approach.mass,
        (along * math.sin(slope) + lift * math.cos(slope)) / approach.mass - GRAVITY,
        level - approach.wind_ahead,
        climb,
        turning,
    )


def _along(s: State, k: State, h: float) -> State:
    return s[0] + h * k[0], s[1] + h * k[1], s[2] + h * k[2], s[3] + h * k[3], s[4] + h * k[4]


def _step(time: float, h: float, s: State, part: float, approach: Approach) -> State:
    """One Runge-Kutta step of length h."""
    k1 = _rates(time, s, part, approach)
    k2 = _rates(time + 0.5 * h, _along(s, k1, 0.5 * h), part, approach)
    k3 = _rates(time + 0.5 * h, _along(s, k2, 0.5 * h), part, approach)
    k4 = _rates(time + h, _along(s, k3, h), part, approach)
    return _along(_along(_along(_along(s, k1, h / 6.0), k2, h / 3.0), k3, h / 3.0), k4, h / 6.0)


def _stopped(time: float, h: float, s: State, part: float, approach: Approach) -> Saved:
    """Where within a step of length h the sink ends (bisection on shorter steps from the same start)."""
    low, high = 0.0, h
    while high - low > 1e-9:
        middle = 0.5 * (low + high)
        if _step(time, middle, s, part, approach)[1] < 0.0:
            low = middle
        else:
            high = middle
    there = _step(time, high, s, part, approach)
    return Saved(-there[3], time + high, there[2])


def last_wave_off_findings(found: LastWaveOff | NoWaveOff, by: LastWaveOffFacts) -> list[Finding]:
    """What to know where a wave-off over the ramp comes too late, with the height over the ramp that mends it."""
    limit = f"the wheels are to stay {write(by.clearance, HEIGHT_OVER_DECK)} over the deck"
    if isinstance(found, NoWaveOff):
        remedy = "Come aboard lighter, or faster; or take the cut as the only end of a pass."
        return [Finding("wave-off-late", Level.STOP, "last_wave_off.latest", found.reason, limit, remedy)]
    if found.latest is not None and found.latest <= 0.0:
        return []
    needed = FOOT * math.ceil((by.clearance + found.height_lost) / FOOT - 1e-6)
    higher = f"cross the ramp {write(needed, HEIGHT_OVER_DECK)} over it"
    if found.latest is None or found.latest_astern is None:
        value, remedy = "no place on the final from which a wave-off clears the deck", f"C{higher[1:]}."
        return [Finding("wave-off-late", Level.STOP, "last_wave_off.latest", value, limit, remedy)]
    value = (
        f"a wave-off over the ramp loses {write(found.height_lost, LENGTH, decimals=1)} and leaves the wheels "
        f"{write(found.over_deck_from_ramp, HEIGHT_OVER_DECK)} over the deck"
    )
    remedy = (
        f"Wave off {write(found.latest, TIME)} before the ramp at the latest, "
        f"{write(found.latest_astern, DISTANCE)} astern of it, or {higher}."
    )
    level = Level.CAUTION if found.latest > LATE else Level.NOTE
    return [Finding("wave-off-late", level, "last_wave_off.over_deck_from_ramp", value, limit, remedy)]
