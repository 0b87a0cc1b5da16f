"""Root finding against functions whose roots are known."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from roundown.errors import NoSolution, RoundownError
from roundown.motion.solve import find_root


@pytest.mark.parametrize(
    ("miss", "low", "high", "root"),
    [
        (lambda x: x * x - 2.0, 0.0, 2.0, math.sqrt(2.0)),
        (math.cos, 0.0, 3.0, math.pi / 2.0),
        (lambda x: math.exp(x) - 5.0, -1.0, 4.0, math.log(5.0)),
        (lambda x: 3.0 - x, 0.0, 10.0, 3.0),
        (lambda x: x - 1e-6, -1.0, 1.0, 1e-6),
    ],
)
def test_known_roots(miss: Callable[[float], float], low: float, high: float, root: float) -> None:
    assert find_root(miss, low, high, "a known root") == pytest.approx(root, abs=1e-10)


def test_first_of_several_roots() -> None:
    """sin has roots at pi, 2 pi and 3 pi between 1 and 10."""
    assert find_root(math.sin, 1.0, 10.0, "the first root", steps=12) == pytest.approx(math.pi, abs=1e-10)


@pytest.mark.parametrize("root", [0.0, 3.0, 8.0])
def test_root_on_a_point_of_the_scan_is_taken_as_it_is(root: float) -> None:
    assert find_root(lambda x: (x - root) ** 3, 0.0, 8.0, "a root of the scan") == root


def test_interval_may_run_downward() -> None:
    assert find_root(lambda x: x - 2.3, 5.0, 0.0, "a root") == pytest.approx(2.3, abs=1e-10)


def test_no_change_of_sign_says_what_was_sought_and_the_nearest_miss() -> None:
    """By hand: x^2 + 1 on -2 to 2 in 4 steps is 5, 2, 1, 2, 5."""
    with pytest.raises(NoSolution, match=r"^no solution for a bank; nearest miss 1 at 0$") as caught:
        find_root(lambda x: x * x + 1.0, -2.0, 2.0, "a bank", steps=4)
    error = caught.value
    assert isinstance(error, RoundownError)
    assert error.sought == "a bank"
    assert error.scan == ((-2.0, 5.0), (-1.0, 2.0), (0.0, 1.0), (1.0, 2.0), (2.0, 5.0))
    assert error.nearest == (0.0, 1.0)


def test_places_that_cannot_be_computed_are_passed_over() -> None:
    """log(x) cannot be had below 0; its root is 1."""

    def miss(x: float) -> float:
        return math.log(x) if x > 0.0 else math.nan

    assert find_root(miss, -4.0, 4.0, "a root", steps=5) == pytest.approx(1.0, abs=1e-10)


def test_change_of_sign_across_what_cannot_be_computed_is_no_root() -> None:
    def miss(x: float) -> float:
        return math.nan if 0.9 < x < 2.1 else x - 1.5

    with pytest.raises(NoSolution) as caught:
        find_root(miss, 0.0, 3.0, "a root", steps=3)
    assert caught.value.nearest == (0.0, -1.5)
    assert math.isnan(caught.value.scan[1][1])


def test_nothing_can_be_computed() -> None:
    with pytest.raises(NoSolution, match=r"no solution for a root$") as caught:
        find_root(lambda _: math.nan, 0.0, 1.0, "a root")
    assert caught.value.nearest is None
    assert len(caught.value.scan) == 9
