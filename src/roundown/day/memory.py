"""Phases remembered by what they were handed, so that an edit solves again only what it touches."""

from __future__ import annotations

import pickle
from collections import OrderedDict
from collections.abc import Callable
from typing import Any, TypeVar

KEPT = 200  # results, the oldest unused given up first

Result = TypeVar("Result")


class Memory:
    """Results of phases by the facts they came from. Facts and results are immutable, so none is copied."""

    def __init__(self) -> None:
        self._kept: OrderedDict[bytes, Any] = OrderedDict()
        self.solved: dict[str, int] = {}

    def recall(self, phase: str, facts: object, solve: Callable[[], Result]) -> Result:
        """The result of a phase for some facts, solved only where they are new. solved : counts how often, by phase."""
        key = pickle.dumps((phase, facts))
        if key not in self._kept:
            self._kept[key] = solve()
            self.solved[phase] = self.solved.get(phase, 0) + 1
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        self._kept.move_to_end(key)
        result: Result = self._kept[key]
        return result
