"""What is wrong with a touchdown, and what mends it: ramp, cut, sink, no wire, barrier, hook and gear."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from roundown.errors import NoSolution
from roundown.findings import Finding, Level
from roundown.quantities import (
    ACCELERATION,
    AHEAD_OF_RAMP,
    CLEARANCE,
    CLOSING_SPEED,
    FOOT,
    HEIGHT_OVER_DECK,
    INDICATED_SPEED,
    KNOT,
    LENGTH,
    MASS,
    POUND,
    SINK,
    SPEED_MARGIN,
    TIME,
    YARD,
    write,
)  # fmt: skip
from roundown.recovery.arresting import PEAK, Arresting, mean_deceleration
from roundown.recovery.touchdown import TouchdownFacts, cut_to_meet, flight_of, hook_furthest, shut_place
from roundown.recovery.touchdown_result import Touchdown

HALF_FOOT = 0.5 * FOOT  # to which heights of remedies are rounded
MOST_SLOWER = 20  # kt less over the ramp that a remedy looks for
MOST_BACK = 24  # yards astern and half feet lower, on a deck that moves, likewise
WORST = "at the worst moment of the deck's motion"


def touchdown_findings(found: Touchdown, facts: TouchdownFacts, key: str = "touchdown") -> list[Finding]:
    """Findings of a touchdown of those facts. key : stem of the figures they are about."""
    ramp = _ramp(found, facts, key)
    if found.strikes:
        return ramp
    stop = found.arresting
    stopping = [] if stop is None else [*_run_out(stop, found, facts, key), *_hook_load(stop, facts, key)]
    rating = [] if stop is None else _rating(stop, facts, key)
    flown = [*_open(found, facts, key), *_sink(found, facts, key), *_no_wire(found, facts, key)]
    return [*ramp, *flown, *stopping, *rating]


def _ramp(found: Touchdown, facts: TouchdownFacts, key: str) -> list[Finding]:
    rise = found.motion.ramp_rise
    what, least = min(
        (("hook", found.hook_over_ramp - rise), ("wheels", found.wheels_over_ramp - rise)), key=lambda part: part[1]
    )
    if least >= facts.clearance:
        return []
    when = "" if facts.motion.off else f" {WORST}"
    value = f"{what} {write(abs(least), CLEARANCE)} {'below' if least < 0.0 else 'over'} the ramp{when}"
    level = Level.STOP if least < 0.0 else Level.CAUTION
    limit = f"the doctrine keeps {write(facts.clearance, CLEARANCE)}"
    remedy = "Come over the ramp higher."
    if found.ramp_lowest is not None:
        remedy = f"Be {_height(found.ramp_lowest, up=True)} or more over the ramp."
    if found.cut_earliest is not None and found.cut_earliest > facts.cut_ahead:
        remedy = f"{remedy[:-1]}, or cut no earlier than {_place(found.cut_earliest, up=True)}."
    return [Finding("ramp-clearance", level, f"{key}.motion.hook_over_ramp", value, limit, remedy)]


def _open(found: Touchdown, facts: TouchdownFacts, key: str) -> list[Finding]:
    late = facts.reaction - found.hook_after
    if late <= 0.0:
        return []
    value = f"the hook meets the deck {write(late, TIME)} before the throttle is shut"
    limit = f"from the cut to the throttle shut {write(facts.reaction, TIME)} pass"
    place = facts.cut_ahead - late * flight_of(facts)[1].closing
    remedy = f"Cut {_sooner(late)} earlier, {_place(place, up=False)}."
    return [Finding("throttle-open", Level.CAUTION, f"{key}.hook_after", value, limit, remedy)]


def _sink(found: Touchdown, facts: TouchdownFacts, key: str) -> list[Finding]:
    limit = facts.sink_limit
    if limit is None or max(found.sink, found.motion.sink) <= limit:
        return []
    steady = found.sink > limit
    sink = found.sink if steady else found.motion.sink
    value = f"the wheels touch at {write(sink, SINK)} of sink{'' if steady else f' {WORST}'}"
    text = f"the undercarriage takes {write(limit, SINK)}"
    remedy = _sink_remedy(limit - (sink - found.sink), found, facts)
    level = Level.STOP if steady else Level.CAUTION
    return [Finding("sink", level, f"{key}.sink" if steady else f"{key}.motion.sink", value, text, remedy)]


def _sink_remedy(allowed: float, found: Touchdown, facts: TouchdownFacts) -> str:
    """The greatest height over the ramp from which a steady deck is met with no more than a sink [m/s]."""
    approach, flight = flight_of(facts)
    if allowed <= approach.sink and approach.sink > 0.0:
        final = f"the final itself sinks at {write(approach.sink, SINK)}"
        return f"No height over the ramp spares the wheels, {final}: fly it flatter, come aboard lighter, or ease back."
    fall = float(np.interp(allowed, np.maximum.accumulate(-flight.climb), flight.fall)) if allowed > 0.0 else 0.0
    height = fall + flight.descent * shut_place(facts, flight)
    shown = math.floor(height / HALF_FOOT) * HALF_FOOT
    if found.ramp_lowest is None or shown < found.ramp_lowest:
        return "No height over the ramp both clears it and spares the wheels: come aboard lighter, or ease back more."
    return f"Be no more than {write(shown, HEIGHT_OVER_DECK)} over the ramp."


def _no_wire(found: Touchdown, facts: TouchdownFacts, key: str) -> list[Finding]:
    last = facts.gear.last_wire
    steady = found.arresting is None
    if not steady and found.motion.furthest <= last:
        return []
    where = found.hook_ahead if steady else found.motion.furthest
    value = f"the hook meets the deck {write(where, LENGTH)} ahead of the ramp, past every wire"
    if not steady:
        value += f", {WORST}"
    elif found.barrier_closing is not None:
        height = found.barrier_height or 0.0
        how = f", still {write(height, HEIGHT_OVER_DECK)} over the deck" if height > 0.0 else ""
        value += f", and the barrier is met at {write(found.barrier_closing, CLOSING_SPEED)} past the ship{how}"
    limit = f"the last of {facts.gear.wires} wires lies {write(last, LENGTH)} ahead"
    level = Level.STOP if steady else Level.CAUTION
    name = f"{key}.hook_ahead" if steady else f"{key}.motion.furthest"
    return [Finding("no-wire", level, name, value, limit, _wire_remedy(found, facts))]


def _wire_remedy(found: Touchdown, facts: TouchdownFacts) -> str:
    """What brings the hook back on to the last wire: an earlier cut, less height, less speed, where they can."""
    ways = []
    closing, latest = flight_of(facts)[1].closing, _cut_for_wire(found, facts)
    if latest is not None:
        ways.append(f"cut {_sooner((facts.cut_ahead - latest) / closing)} earlier, {_place(latest, up=False)}")
    highest = _height_for_wire(found, facts) if found.arresting is None else None
    if highest is not None:
        ways.append(f"be no more than {_height(highest, up=False)} over the ramp")
    slower = _slower(facts)
    if slower is not None:
        ways.append(f"come over the ramp at {write(slower, INDICATED_SPEED)}")
    if not ways:
        return "Have more wind over the deck, or come aboard lighter and slower."
    text = ", or ".join(ways)
    return f"{text[0].upper()}{text[1:]}."


def _cut_for_wire(found: Touchdown, facts: TouchdownFacts) -> float | None:
    """The latest cut that takes a wire whatever the deck's motion, to a yard, ahead of the ramp [m]; None if none."""
    furthest = found.hook_ahead if facts.motion.off else found.motion.furthest
    _, flight = flight_of(facts)
    place = cut_to_meet(found.hook_ahead - (furthest - facts.gear.last_wire), flight, facts)
    if place is None or found.cut_earliest is None:
        return None
    if facts.motion.off:
        return place if place >= found.cut_earliest else None
    tried = (math.floor(place / YARD + 1e-6) * YARD - back * YARD for back in range(MOST_BACK))
    fit = (cut for cut in tried if _takes_wire(replace(facts, cut_ahead=cut)))
    cut = next(fit, None)
    return cut if cut is not None and cut >= found.cut_earliest else None


def _height_for_wire(found: Touchdown, facts: TouchdownFacts) -> float | None:
    """The greatest height over the ramp that takes a wire whatever the deck's motion [m]; None if none clears it."""
    highest, lowest = found.ramp_highest, found.ramp_lowest
    if highest is None or lowest is None:
        return None
    if not facts.motion.off:
        tried = (math.floor(highest / HALF_FOOT) * HALF_FOOT - less * HALF_FOOT for less in range(MOST_BACK))
        fit = (height for height in tried if height >= lowest and _takes_wire(replace(facts, ramp_height=height)))
        highest = next(fit, -math.inf)
    return highest if highest >= lowest else None


def _takes_wire(facts: TouchdownFacts) -> bool:
    try:
        ahead, struck = hook_furthest(facts)
    except NoSolution:
        return False
    return not struck and ahead <= facts.gear.last_wire


def _slower(facts: TouchdownFacts) -> float | None:
    """The greatest whole indicated airspeed that takes a wire whatever the deck's motion; None if none does."""
    slow, fast = math.floor(facts.ramp_speed / KNOT) - MOST_SLOWER, math.ceil(facts.ramp_speed / KNOT)
    while fast - slow > 1:
        middle = (slow + fast) // 2
        slow, fast = (middle, fast) if _met_at(facts, middle) <= facts.gear.last_wire else (slow, middle)
    return slow * KNOT if math.isfinite(_met_at(facts, slow)) else None


def _met_at(facts: TouchdownFacts, knots: int) -> float:
    """Where the hook meets the deck at a speed over the ramp [m]; minus infinity where that is too slow to fly."""
    try:
        ahead, struck = hook_furthest(replace(facts, ramp_speed=knots * KNOT))
    except NoSolution:
        return -math.inf
    return -math.inf if struck else ahead


def _run_out(stop: Arresting, found: Touchdown, facts: TouchdownFacts, key: str) -> list[Finding]:
    if stop.barrier_margin >= 0.0:
        return []
    part = min(-stop.barrier_margin / facts.gear.run_out, 1.0)
    left = write(stop.engaging * math.sqrt(part), CLOSING_SPEED)
    value = (
        f"wire {stop.wire} pays out until the wheels stand {write(stop.stop_ahead, LENGTH)} ahead of the ramp: "
        f"the barrier is met at about {left}"
    )
    limit = f"the first barrier stands {write(facts.gear.barrier_place, LENGTH)} ahead"
    wire = stop.wire - math.ceil(-stop.barrier_margin / facts.gear.spacing - 1e-9)
    remedy = "No wire stops it short of the barrier: choose a ship with more room."
    if wire >= 1:
        remedy = "Come over the ramp lower or slower."
        _, flight = flight_of(facts)
        cut = cut_to_meet(facts.gear.place(wire), flight, facts)
        if cut is not None and found.cut_earliest is not None and cut >= found.cut_earliest:
            sooner = _sooner((facts.cut_ahead - cut) / flight.closing)
            remedy = f"Cut {sooner} earlier for wire {wire}, or come over the ramp lower or slower."
    return [Finding("run-out", Level.CAUTION, f"{key}.arresting.barrier_margin", value, limit, remedy)]


def _hook_load(stop: Arresting, facts: TouchdownFacts, key: str) -> list[Finding]:
    most = facts.hook_load
    if most is None or stop.peak_high <= most:
        return []
    over = stop.mean > most
    value = f"the wire slows it by {write(stop.mean, ACCELERATION)} in the mean"
    if not over:
        value += f", at the worst by {write(stop.peak_low, ACCELERATION)} to {write(stop.peak_high, ACCELERATION)}"
    allowed = math.sqrt((most / (1.0 if over else PEAK[1])) / mean_deceleration(1.0, facts.gear.run_out))
    remedy = _less_closing(stop.engaging - allowed)
    level = Level.STOP if over else Level.CAUTION
    limit = f"the hook takes {write(most, ACCELERATION)}"
    return [Finding("hook-load", level, f"{key}.arresting.mean" if over else f"{key}.arresting.peak_high", value,
                    limit, remedy)]  # fmt: skip


def _rating(stop: Arresting, facts: TouchdownFacts, key: str) -> list[Finding]:
    mass, gear = facts.aeroplane.mass, facts.gear
    rated = f"the gear is rated for {write(gear.rating_weight, MASS)} at {write(gear.rating_speed, CLOSING_SPEED)}"
    name = f"{key}.arresting.energy_share"
    if stop.energy_share > 1.0:
        value = (
            f"{write(mass, MASS)} at {write(stop.engaging, CLOSING_SPEED)} past the ship is more than the gear takes"
        )
        return [
            Finding("gear-rating", Level.STOP, name, value, rated, _less_closing(stop.engaging - stop.most_closing))
        ]
    if mass > gear.rating_weight:
        lighter = math.floor(gear.rating_weight / (10.0 * POUND) + 1e-6) * 10.0 * POUND
        value = f"{write(mass, MASS)} comes aboard"
        return [Finding("gear-rating", Level.CAUTION, name, value, rated, f"Come aboard at {write(lighter, MASS)}.")]
    return []


def _less_closing(less: float) -> str:
    """A remedy for a speed past the ship that is too great by so much [m/s]."""
    shown = write(math.ceil(less / (0.1 * KNOT)) * 0.1 * KNOT, SPEED_MARGIN)
    return f"Have {shown} more wind over the deck, or touch that much slower."


def _sooner(time: float) -> str:
    return write(math.ceil(time / 0.1 - 1e-6) * 0.1, TIME)


def _height(height: float, *, up: bool) -> str:
    halves = height / HALF_FOOT
    return write((math.ceil(halves - 1e-6) if up else math.floor(halves + 1e-6)) * HALF_FOOT, HEIGHT_OVER_DECK)


def _place(ahead: float, *, up: bool) -> str:
    """A place of the cut, to a yard."""
    whole = (math.ceil(ahead / YARD - 1e-6) if up else math.floor(ahead / YARD + 1e-6)) * YARD
    if whole == 0.0:
        return "over the ramp"
    return f"{write(abs(whole), AHEAD_OF_RAMP)} {'ahead' if whole > 0.0 else 'astern'} of the ramp"
