"""One thread that solves edits. An edit that was overtaken before its turn is never begun."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass
from typing import Generic, TypeVar

PAGES = 50  # whose numbers are remembered, the oldest given up first

Result = TypeVar("Result")


@dataclass(frozen=True)
class Edit:
    """A text of the plan. page : the open page it comes from; number : counted up by that page; text : of the plan."""

    page: str
    number: int
    text: str


class Solver(Generic[Result]):
    """Solves edits one at a time. Of those of one page that wait, the newest is begun and the others are dropped.

    work : what is done with an edit, in the solver's thread
    """

    def __init__(self, work: Callable[[Edit], Result]) -> None:
        self._work = work
        self._changed = threading.Condition()
        self._waiting: OrderedDict[str, tuple[Edit, Future[Result | None]]] = OrderedDict()
        self._newest: OrderedDict[str, int] = OrderedDict()
        self._open = True
        self._thread = threading.Thread(target=self._run, name="solver", daemon=True)
        self._thread.start()

    def submit(self, edit: Edit) -> Future[Result | None]:
        """What comes of an edit; None where a newer one of its page came before it was begun."""
        future: Future[Result | None] = Future()
        with self._changed:
            if not self._open or edit.number <= self._newest.get(edit.page, -1):
                future.set_result(None)
                return future
            self._newest[edit.page] = edit.number
            self._newest.move_to_end(edit.page)
            while len(self._newest) > PAGES:
                self._newest.popitem(last=False)
            overtaken = self._waiting.pop(edit.page, None)
            self._waiting[edit.page] = (edit, future)
            self._changed.notify()
        if overtaken is not None:
            overtaken[1].set_result(None)
        return future

    def close(self) -> None:
        """Begin no further edit; those that wait are dropped, the one at work is finished."""
        with self._changed:
            self._open = False
            dropped = [future for _, future in self._waiting.values()]
            self._waiting.clear()
            self._changed.notify()
        for future in dropped:
            future.set_result(None)
        self._thread.join()

    def _run(self) -> None:
        while True:
            with self._changed:
                while self._open and not self._waiting:
                    self._changed.wait()
                if not self._open:
                    return
                _, (edit, future) = self._waiting.popitem(last=False)
            try:
                future.set_result(self._work(edit))
            except Exception as error:  # noqa: BLE001 - whoever waits is told; the thread must live on
                future.set_exception(error)
