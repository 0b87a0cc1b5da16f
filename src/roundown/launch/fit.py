"""The numbers of a type fitted to what was measured of a machine in the simulator.

*Method:* least squares (launch/least_squares.py) of what the type says of each measurement (launch/expected.py) against
what was measured, in standard deviations of the measurement. The sum of squares, chi-square, should come to about one
for each degree of freedom; the chance that it comes out as great or greater by luck is the incomplete gamma function
(W. H. Press and others, *Numerical Recipes*, ch. 15, from memory). A value is fitted only where the measurements tell
it to within WORTH, and apart from the others; else it is held as it was, and said so.

*Holds for:* shaft power, propeller, weights, wing, angles and friction as the type has them: they are not fitted. Shaft
power and figure of merit act as their product, of which the latter is fitted.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from roundown.catalog.types import TYPE_KEYS
from roundown.errors import NoSolution
from roundown.figures import Givens, given_number
from roundown.launch import least_squares
from roundown.launch.expected import expected, lifts_off
from roundown.launch.least_squares import Floats
from roundown.launch.measured import RUNS, Measured, What
from roundown.quantities import POUND_FORCE, Kind

WORTH = {
    "lift_clean": 0.1,
    "lift_flap": 0.1,
    "figure_of_merit": 0.08,
    "zero_lift_drag": 0.005,
    "induced_drag": 0.02,
    "gear_drag": 0.01,
    "flap_drag": 0.02,
    "idle_thrust": 200.0 * POUND_FORCE,
    "launch.lift_off_margin": 0.05,
}
"""What may be fitted, and the greatest standard deviation with which it is worth having; own rule, no source."""
TOLD_BY = {
    "lift_clean": "stalls with the flap up",
    "lift_flap": "stalls with full flap",
    "figure_of_merit": "deck runs in more than one wind, and climbs",
    "zero_lift_drag": "level speeds at full power",
    "induced_drag": "climbs slow and fast",
    "gear_drag": "slow-downs with the wheels down beside some with all up",
    "flap_drag": "slow-downs with the flap down beside some with all up",
    "idle_thrust": "slow-downs with all up, fast and slow, at two weights",
    "launch.lift_off_margin": "deck runs with the airspeed at lift-off",
}
"""What would tell each of them; own rule, from the forces."""
NEEDED = {"lift_clean": What.STALL, "lift_flap": What.STALL, "launch.lift_off_margin": What.LIFT_OFF}
"""Values left alone where nothing of this was measured: else a run that fits badly would be laid to them; own rule."""
OUTLYING = 3.0  # standard deviations beyond which a difference is pointed at; own rule
UNLIKELY = 0.01  # chance below which the misfit is more than luck; own rule
LEANING = 0.95  # correlation above which two values are said to lean on one another; own rule
_NEAR_LIMIT = 1e-3  # of the scale
Heard = Callable[[int, float], None]
"""is told how many types were tried so far, and the sum of squares of the one just tried"""


@dataclass(frozen=True)
class Fitted:
    """One fitted value, SI. deviation : one standard deviation; None where the value stands at the limit allowed."""

    name: str
    kind: Kind
    value: float
    deviation: float | None
    before: float


@dataclass(frozen=True)
class Held:
    """One value held as it was, SI.

    like : the value it cannot be told apart from, "" where no measurement moves it enough or none of its kind was made
    """

    name: str
    kind: Kind
    value: float
    like: str


@dataclass(frozen=True)
class Compared:
    """A measurement and what the fitted type says of it, SI."""

    measured: Measured
    expected: float

    @property
    def difference(self) -> float:
        """Measured less expected."""
        return self.measured.value - self.expected

    @property
    def spreads(self) -> float:
        """The same in standard deviations of the measurement."""
        return self.difference / self.measured.spread

    @property
    def outlying(self) -> bool:
        """Whether it lies further out than measurements should."""
        return abs(self.spreads) > OUTLYING


@dataclass(frozen=True)
class Fit:
    """A type fitted. values : all of the type, by key name; leaning : pairs of values that move together."""

    values: Givens
    fitted: tuple[Fitted, ...]
    held: tuple[Held, ...]
    compared: tuple[Compared, ...]
    leaning: tuple[tuple[str, str, float], ...]
    chance: float | None

    @property
    def chi_square(self) -> float:
        """Sum of the squared differences in standard deviations."""
        return sum(each.spreads**2 for each in self.compared)

    @property
    def freedom(self) -> int:
        """Measurements beyond the values fitted to them."""
        return len(self.compared) - len(self.fitted)

    @property
    def poor(self) -> bool:
        """Whether the misfit is more than the stated spreads allow."""
        return self.chance is not None and self.chance < UNLIKELY


def fit_type(values: Givens, measurements: Sequence[Measured], heard: Heard | None = None) -> Fit:
    """A type, by key name without "type." before it, fitted to measurements.

    heard : of each type tried, on the way
    Raises NoSolution where a measured run does not end in the air, and where the search does not settle.
    """
    keys = {key.name: key for key in TYPE_KEYS if key.name in WORTH and key.name in values}
    made = {each.what for each in measurements}
    names = [name for name in WORTH if name in keys and (name not in NEEDED or NEEDED[name] in made)]
    worth = np.array([WORTH[name] for name in names])
    low, high = (np.array([getattr(keys[name], end) for name in names]) / worth for end in ("low", "high"))
    start = np.clip(np.array([values[name].value for name in names]) / worth, low, high)
    _all_lift_off(values, measurements, "as the type is now")

    measured = np.array([each.value for each in measurements])
    spreads = np.array([each.spread for each in measurements])

    count = 0

    def misses(scaled: Floats) -> Floats:
        nonlocal count
        tried = _with(values, dict(zip(names, scaled * worth, strict=True)))
        missed = np.asarray((measured - np.array(expected(tried, measurements))) / spreads, dtype=np.float64)
        count += 1
        if heard is not None:
            heard(count, float(missed @ missed))
        return missed

    at, chosen, held = least_squares.fit(misses, start, low, high)
    found = _with(values, {names[j]: float(at[j] * worth[j]) for j in chosen})
    _all_lift_off(found, measurements, "with the nearest type there is")
    inside = [j for j in chosen if min(at[j] - low[j], high[j] - at[j]) > _NEAR_LIMIT]
    spread = least_squares.covariance(least_squares.sensitivities(misses, at, low, high)[:, inside])
    deviations = dict(zip(inside, np.sqrt(np.diag(spread)), strict=True))
    told = {names[j] for j in chosen}
    likes = {names[j]: names[like] for j, like in held.items() if like is not None}
    compared = tuple(Compared(*pair) for pair in zip(measurements, expected(found, measurements), strict=True))
    return Fit(
        values=found,
        fitted=tuple(
            Fitted(
                names[j],
                keys[names[j]].kinds[0],
                found[names[j]].value,
                float(deviations[j] * worth[j]) if j in deviations else None,
                values[names[j]].value,
            )
            for j in chosen
        ),
        held=tuple(
            Held(name, keys[name].kinds[0], values[name].value, likes.get(name, ""))
            for name in WORTH
            if name in keys and name not in told
        ),
        compared=compared,
        leaning=_leaning([names[j] for j in inside], spread),
        chance=_chance(sum(each.spreads**2 for each in compared), len(compared) - len(chosen)),
    )


def below_stall(fit: Fit) -> list[str]:
    """Names of the climbs and slow-downs flown slower than the fitted type stalls, where the sums do not hold."""
    slow = [each.measured for each in fit.compared if each.measured.what in (What.CLIMB, What.SLOW_DOWN)]
    stalls = expected(fit.values, [replace(each, what=What.STALL) for each in slow])
    return [
        each.name
        for each, stall in zip(slow, stalls, strict=True)
        if (each.flown.speed if each.what is What.CLIMB else each.flown.end) < stall
    ]


def _with(values: Givens, changed: Mapping[str, float]) -> Givens:
    """The values of a type with some changed, SI; the others stay bit for bit."""
    made = {}
    for name, value in changed.items():
        given = values[name]
        assert given.kind is not None
        made[name] = given_number(float(value), given.kind, given.origin)
    return {**values, **made}


def _all_lift_off(values: Givens, measurements: Sequence[Measured], when: str) -> None:
    for each in measurements:
        if each.what in RUNS and not lifts_off(values, each.flown):
            raise NoSolution(
                f"a fit: {each.name.split(',')[0]} never comes to lift-off {when}; look at its weight, flap and wind, "
                "or begin with more shaft_power or figure_of_merit in the type"
            )


def _leaning(names: list[str], spread: Floats) -> tuple[tuple[str, str, float], ...]:
    """Pairs whose errors go together, with their correlation."""
    found = []
    for i, first in enumerate(names):
        for j in range(i):
            correlation = float(spread[i, j] / np.sqrt(spread[i, i] * spread[j, j]))
            if abs(correlation) > LEANING:
                found.append((names[j], first, correlation))
    return tuple(found)


def _chance(chi_square: float, freedom: int) -> float | None:
    """Chance of a sum of squares as great or greater by luck; None where nothing is left over to judge by."""
    from scipy.special import gammaincc

    return float(gammaincc(0.5 * freedom, 0.5 * chi_square)) if freedom > 0 else None
