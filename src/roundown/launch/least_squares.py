"""Least squares within bounds: which values the measurements can tell at all, the values, and how well they are known.

*Method:* the sum of squared differences in standard deviations is least at the answer; the covariance of the values is
the inverse of J^T J there, J being how each difference in standard deviations moves with each value (W. H. Press and
others, *Numerical Recipes*, ch. 15, from memory). The way there is scipy.optimize.least_squares, trust regions within
bounds. What can be told apart is looked for first, by QR with the greatest column next (G. H. Golub and C. F. Van Loan,
*Matrix Computations*, ch. 5, from memory): a value is taken in while every standard deviation stays within what it may
be.

*Holds for:* smooth models, independent errors; the covariance where the model is near enough to straight within some
standard deviations.

Values are scaled throughout: one is the greatest standard deviation at which a value is worth having.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from roundown.errors import NoSolution

Floats = npt.NDArray[np.float64]
Misses = Callable[[Floats], Floats]
"""differences in standard deviations, (measurements,), of scaled values, (values,)"""

STEP = 0.02  # of the scale, either way, to see how a difference moves
ROUNDS = 3  # of looking anew at what can be told apart, after which nothing is taken in any more
_EVALUATIONS = 200


def sensitivities(misses: Misses, at: Floats, low: Floats, high: Floats) -> Floats:
    """How each difference moves with each value, (measurements, values), by differences within the bounds."""
    columns = []
    for j in range(at.size):
        up, down = at.copy(), at.copy()
        up[j], down[j] = min(at[j] + STEP, high[j]), max(at[j] - STEP, low[j])
        columns.append((misses(up) - misses(down)) / (up[j] - down[j]))
    return np.column_stack(columns)


def covariance(sensitivity: Floats) -> Floats:
    """Covariance of scaled values, (values, values). sensitivity : of full rank, (measurements, values)."""
    _, right = np.linalg.qr(sensitivity)
    inverse = np.linalg.inv(right)
    return np.asarray(inverse @ inverse.T)


def told_apart(sensitivity: Floats) -> tuple[list[int], dict[int, int | None]]:
    """Which values the measurements tell, and of each other one from which of those it cannot be told apart.

    sensitivity : (measurements, values), scaled; None stands for one that no measurement moves enough.
    """
    strength = np.linalg.norm(sensitivity, axis=0)
    held: dict[int, int | None] = {j: None for j in range(strength.size) if strength[j] < 1.0}
    waiting = [j for j in range(strength.size) if j not in held]
    chosen: list[int] = []
    while waiting:
        j = max(waiting, key=lambda k: float(np.linalg.norm(_left(sensitivity, chosen, k)[0])))
        waiting.remove(j)
        left, parts = _left(sensitivity, chosen, j)
        tried = [*chosen, j]
        alone = np.linalg.norm(left) >= 1.0
        if alone and np.sqrt(np.diag(covariance(sensitivity[:, tried]))).max() <= 1.0:
            chosen = tried
        else:
            held[j] = chosen[int(np.argmax(np.abs(parts) * strength[chosen]))] if chosen else None
    return sorted(chosen), held


def _left(sensitivity: Floats, chosen: list[int], j: int) -> tuple[Floats, Floats]:
    """What of a column those chosen do not make up, and the parts of them that make up the rest."""
    column = sensitivity[:, j]
    if not chosen:
        return column, np.empty(0)
    parts: Floats = np.linalg.lstsq(sensitivity[:, chosen], column, rcond=None)[0].astype(np.float64)
    return column - sensitivity[:, chosen] @ parts, parts


def fit(misses: Misses, start: Floats, low: Floats, high: Floats) -> tuple[Floats, list[int], dict[int, int | None]]:
    """The scaled values of the least sum of squares, which were told, and which were held at the start and why.

    start, low, high : (values,), the start within the bounds
    Raises NoSolution when the search does not settle.
    """
    at, allowed = start, list(range(start.size))
    reasons: dict[int, int | None] = {}
    before: list[int] | None = None
    for turn in range(ROUNDS + start.size + 1):
        told, held = told_apart(sensitivities(misses, at, low, high)[:, allowed])
        chosen = [allowed[k] for k in told]
        reasons |= {allowed[k]: None if other is None else allowed[other] for k, other in held.items()}
        if chosen == before:
            return at, chosen, {j: reason for j, reason in reasons.items() if j not in chosen}
        if turn >= ROUNDS:
            allowed = chosen
        at, before = _solve(misses, start, at, low, high, chosen), chosen
    raise NoSolution("a fit: what can be told apart does not settle")


def _solve(misses: Misses, start: Floats, warm: Floats, low: Floats, high: Floats, chosen: list[int]) -> Floats:
    """The least sum of squares over the chosen values; all others as at the start."""
    from scipy.optimize import least_squares

    if not chosen:
        return start

    def whole(part: Floats) -> Floats:
        full = start.copy()
        full[chosen] = part
        return full

    bounds = low[chosen], high[chosen]
    inside = 1e-6 * (bounds[1] - bounds[0])
    found = least_squares(
        lambda part: misses(whole(part)),
        np.clip(warm[chosen], bounds[0] + inside, bounds[1] - inside),
        jac=lambda part: sensitivities(lambda p: misses(whole(p)), part, *bounds),
        bounds=bounds,
        xtol=1e-10,
        ftol=1e-10,
        gtol=1e-10,
        max_nfev=_EVALUATIONS,
    )
    if found.status <= 0:
        raise NoSolution(f"a fit within {_EVALUATIONS} tries")
    return whole(np.asarray(found.x, dtype=np.float64))
