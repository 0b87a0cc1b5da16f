"""Finding a root: scan for a change of sign, then close in.

*Method:* an even scan of the interval, then Brent's method (R. P. Brent, Algorithms for Minimization without
Derivatives, 1973, ch. 4) as scipy.optimize.brentq. A solver that fails says so; it never returns its last guess.
"""

from __future__ import annotations

from collections.abc import Callable

from roundown.errors import NoSolution


def find_root(
    miss: Callable[[float], float], low: float, high: float, sought: str, *, steps: int = 8, tolerance: float = 1e-11
) -> float:
    """The first value in [low, high] at which `miss` changes sign.

    miss : a function, NaN where it cannot be computed; steps : intervals of the scan
    sought : what the root means, for the error; tolerance : on the value
    Raises NoSolution, which holds the scan, when no change of sign lies between two values that can be computed.
    """
    from scipy.optimize import brentq

    scan: list[tuple[float, float]] = []
    for i in range(steps + 1):
        value = low + (high - low) * i / steps
        scan.append((value, miss(value)))
        if scan[-1][1] == 0.0:
            return value
        if i and scan[-2][1] * scan[-1][1] < 0.0:
            try:
                return float(brentq(miss, scan[-2][0], value, xtol=tolerance, rtol=1e-14))
            except ValueError as error:  # a miss that cannot be computed, met on the way
                raise NoSolution(sought, tuple(scan)) from error
    raise NoSolution(sought, tuple(scan))
