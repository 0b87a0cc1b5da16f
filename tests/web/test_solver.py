"""The solver's thread: the newest edit of a page wins, what was overtaken is never begun. Constructed cases."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from concurrent.futures import Future

import pytest

from roundown.web.solver import Edit, Solver

SOON = 10.0  # s


class Slow:
    """Work that waits until it is let go on. begun : the numbers it was begun for."""

    def __init__(self) -> None:
        self.begun: list[int] = []
        self.at_work = threading.Event()
        self.go_on = threading.Event()

    def __call__(self, edit: Edit) -> str:
        self.begun.append(edit.number)
        self.at_work.set()
        assert self.go_on.wait(SOON)
        if edit.text == "fault":
            raise ValueError(edit.text)
        return f"{edit.page} {edit.number} {edit.text}"


@pytest.fixture
def slow() -> Slow:
    return Slow()


@pytest.fixture
def solver(slow: Slow) -> Iterator[Solver[str]]:
    made: Solver[str] = Solver(slow)
    yield made
    slow.go_on.set()
    made.close()


def submit(solver: Solver[str], number: int, text: str = "", page: str = "a") -> Future[str | None]:
    return solver.submit(Edit(page, number, text))


def test_what_was_overtaken_while_it_waited_is_never_begun(solver: Solver[str], slow: Slow) -> None:
    first = submit(solver, 1)
    assert slow.at_work.wait(SOON)
    waiting = [submit(solver, number) for number in (2, 3, 4)]
    assert [future.result(SOON) for future in waiting[:2]] == [None, None]
    slow.go_on.set()
    assert first.result(SOON) == "a 1 "
    assert waiting[2].result(SOON) == "a 4 "
    assert slow.begun == [1, 4]


def test_an_edit_that_arrives_after_a_newer_one_is_dropped(solver: Solver[str], slow: Slow) -> None:
    slow.go_on.set()
    assert submit(solver, 5).result(SOON) == "a 5 "
    assert submit(solver, 4).result(SOON) is None
    assert submit(solver, 5).result(SOON) is None
    assert slow.begun == [5]


def test_two_open_pages_do_not_overtake_one_another(solver: Solver[str], slow: Slow) -> None:
    submit(solver, 1)
    assert slow.at_work.wait(SOON)
    ours, theirs = submit(solver, 2, "ours"), submit(solver, 1, "theirs", "b")
    slow.go_on.set()
    assert ours.result(SOON) == "a 2 ours"
    assert theirs.result(SOON) == "b 1 theirs"


def test_a_fault_is_told_and_the_next_edit_is_solved(solver: Solver[str], slow: Slow) -> None:
    slow.go_on.set()
    with pytest.raises(ValueError, match="fault"):
        submit(solver, 1, "fault").result(SOON)
    assert submit(solver, 2).result(SOON) == "a 2 "


def test_closing_drops_what_waits(slow: Slow) -> None:
    solver: Solver[str] = Solver(slow)
    first = submit(solver, 1)
    assert slow.at_work.wait(SOON)
    waiting = submit(solver, 2)
    slow.go_on.set()
    solver.close()
    assert first.result(SOON) == "a 1 "
    assert waiting.result(SOON) in {None, "a 2 "}
    assert submit(solver, 3).result(SOON) is None
