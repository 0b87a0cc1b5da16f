"""A better spot than the one at hand, by search; only where the extra [spot] is installed.

*Method:* aeroplanes that follow one another in the order are taken up a few at a time, and their columns chosen anew by
constraint programming (the library OR-tools, CP-SAT) while the others keep theirs and slide: first for the longest run
of the first off, then for the sum of all (large neighbourhood search after P. Shaw, 1998). The places along the deck
follow exactly by `packing.pack`, so that rounding in the search costs nothing, and only a better spot is taken.
*Holds for:* one worker and a limit that counts work and not time: the same input gives the same output.
"""

from __future__ import annotations

import importlib.util
import math
import time
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import numpy as np

from roundown.launch.deck_plan import Deck
from roundown.launch.packing import Ground, Manner, pack
from roundown.launch.spot import Launching, Parked, SpotRules, Spotting, ground_of, judged_by, worth
from roundown.motion.frames import Floats

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

    Number = cp_model.IntVar | int

UNIT = 0.05  # m, to which the search rounds
NEAR = 16  # so many before and behind in the order are kept clear within the search; `pack` keeps all clear
WORK = 4.0  # counted, about as many seconds where this was tried
ONE_WORK = 0.3  # of the library's own count, most for one handful
SET_UP, RATE = 0.05, 2.0  # what a handful counts to set up, and a unit of the library's own count
HANDFULS = (4, 6, 8, 10)  # aeroplanes taken up at a time
MOST_COLUMNS = 40  # tried for each one; of more columns only some
ROOM = 8.0  # m, further ahead than now that one of many may come to stand within the search
FIRST = 20  # times the mean place of all counts the launch place of the first
TELL_EACH = 1.0  # s

Progress = Callable[[str], None]


def can_search() -> bool:
    """Whether the extra is installed."""
    return importlib.util.find_spec("ortools") is not None


def improved(
    found: Spotting,
    load: Sequence[Parked],
    deck: Deck,
    rules: SpotRules | None = None,
    *,
    work: float = WORK,
    progress: Progress | None = None,
) -> Spotting:
    """The spotting found, or a better one of the same deck load.

    work : how long to search, counted in work and so about seconds; progress : told about each second how far it is
    Without the extra, or where not all of the load stands, the spotting found is returned.
    """
    kept = rules or SpotRules()
    if not can_search() or not found.fits or all(parked.pin is not None for parked in load):
        return found
    ground, launching = ground_of(load, deck, kept), Launching(load, deck, kept)
    best, left, told = found, work, time.monotonic()
    for handful in HANDFULS:
        gained = True
        while gained:
            gained = False
            for first in range(0, len(load), max(handful // 2, 1)):
                if left <= 0.0:
                    return best
                taken = range(first, min(first + handful, len(load)))
                if all(load[i].pin is not None for i in taken):
                    continue
                columns, spent = _chosen(_Model(ground, load, launching, best, taken), ONE_WORK)
                left -= spent
                if columns is not None:
                    manners = [_only(ground, column) for column in reversed(columns)]
                    better = judged_by(launching, load, deck, pack(ground, manners)[::-1])
                    if worth(better) > worth(best):
                        best, gained = better, True
                if progress is not None and time.monotonic() - told > TELL_EACH:
                    told = time.monotonic()
                    progress(f"{100.0 * (1.0 - max(left, 0.0) / work):.0f} % of the search for a better spot is done")
    return best


def _only(ground: Ground, column: int) -> Manner:
    there = np.arange(len(ground.columns)) == column
    return Manner(there, np.zeros(there.shape), 0.0)


def _units(places: Floats, *, up: bool, far: int) -> list[int]:
    """Places in units of the search, rounded up or down; nothing lies further than `far`."""
    rounded = np.ceil(places / UNIT - 1e-6) if up else np.floor(places / UNIT + 1e-6)
    return [int(each) for each in np.clip(rounded, -far, far)]


class _Model:
    """The places of a deck load in launch order, and the columns of the handful taken up, as the search sees them."""

    def __init__(
        self,
        ground: Ground,
        load: Sequence[Parked],
        launching: Launching,
        found: Spotting,
        taken: Sequence[int],
    ) -> None:
        from ortools.sat.python import cp_model

        self.model, self._domain = cp_model.CpModel(), cp_model.Domain
        self.ground, self.pieces = ground, ground.pieces[::-1]
        self.far = 2 + max(math.ceil(float(piece.high.max()) / UNIT) for piece in self.pieces)
        self.columns: list[Number] = []
        self.places: list[Number] = []
        for i, parked in enumerate(load):
            spotted = found.places[parked.key]
            self._stands(i, int(np.abs(ground.columns - spotted.port).argmin()), spotted.ahead, free=i in taken)
        for i in range(len(load) - 1):
            self.model.add(self.places[i] >= self.places[i + 1])
            for j in range(i + 1, min(i + 1 + NEAR, len(load))):
                self._clear(i, j)
        launch = self._launch_of_first(load, launching)
        self.model.minimize(FIRST * len(load) * launch + sum(self.places))

    def _stands(self, i: int, column: int, ahead: float, *, free: bool) -> None:
        """One piece: its room by column, and what blocks it. column, ahead : where it stands now."""
        piece, model = self.pieces[i], self.model
        if piece.pinned is not None:
            self.columns.append(column)
            self.places.append(math.ceil(piece.pinned[0] / UNIT - 1e-6))
            return
        usable = [int(k) for k in np.flatnonzero(piece.low <= piece.high)]
        coarse = math.ceil(len(usable) / MOST_COLUMNS)
        chosen: Number = column
        if free:
            tried = [k for k in usable if (k - column) % coarse == 0]
            chosen = model.new_int_var_from_domain(self._domain.from_values(tried), f"column {i}")
            model.add_hint(chosen, column)
        room = ROOM if len(self.pieces) > max(HANDFULS) else self.far * UNIT
        most = min(math.ceil((ahead + room) / UNIT), self.far)
        place = model.new_int_var(0, most, f"place {i}")
        self.columns.append(chosen)
        self.places.append(place)
        model.add(place >= self._at(chosen, _units(piece.low, up=True, far=self.far)))
        model.add(place <= self._at(chosen, _units(piece.high, up=False, far=self.far)))
        for low, high in self.ground.blocked[piece.kind]:
            if np.any((low < high)[usable]):
                fore = model.new_bool_var("")
                past = self._at(chosen, _units(high, up=True, far=self.far))
                short = self._at(chosen, _units(np.where(low < high, low, math.inf), up=False, far=self.far))
                model.add(place >= past).only_enforce_if(fore)
                model.add(place <= short).only_enforce_if(~fore)

    def _at(self, column: Number, table: Sequence[int]) -> Number:
        """The entry of a table at a column."""
        if isinstance(column, int):
            return table[column]
        value = self.model.new_int_var(min(table), max(table), "")
        self.model.add_element(column, table, value)
        return value

    def _clear(self, i: int, j: int) -> None:
        """One piece ahead of another, both free: those that are pinned block in `_stands`."""
        front, back = self.pieces[i], self.pieces[j]
        if front.pinned is not None or back.pinned is not None:
            return
        last = len(self.ground.columns) - 1
        ahead = np.maximum(self.ground.clear_ahead[front.kind, back.kind], 0.0)  # never behind it: the order says so
        table = _units(ahead, up=True, far=self.far)
        one, other = self.columns[i], self.columns[j]
        across: Number
        if isinstance(one, int) and isinstance(other, int):
            across = one - other + last
        elif isinstance(other, int):
            across, table = one, table[last - other : 2 * last + 1 - other]
        elif isinstance(one, int):
            across, table = other, table[one : one + last + 1][::-1]
        else:
            across = self.model.new_int_var(0, 2 * last, "")
            self.model.add(across == one - other + last)
        self.model.add(self.places[i] >= self.places[j] + self._at(across, table))

    def _launch_of_first(self, load: Sequence[Parked], launching: Launching) -> Number:
        """Where the first off runs from."""
        launch = self.model.new_int_var(0, 2 * self.far, "launch")
        for j, (parked, piece) in enumerate(zip(load, self.pieces, strict=True)):
            ports = self.ground.columns if piece.pinned is None else np.full(len(self.ground.columns), piece.pinned[1])
            if j == 0:
                ends = launching.rules.slant * np.abs(ports - launching.rules.line)
            else:
                ends = np.array([launching.past_standing(load[0].footprint, parked, float(port)) for port in ports])
            past = _units(np.maximum(ends, 0.0), up=True, far=self.far)
            self.model.add(launch >= self.places[j] + self._at(self.columns[j], past))
        return launch


def _chosen(whole: _Model, work: float) -> tuple[list[int] | None, float]:
    """The columns the search chose, by launch order, None where it found nothing; and the work it took."""
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = work
    solver.parameters.cp_model_probing_level = 0  # it would take all the work there is
    status = solver.solve(whole.model)
    spent = SET_UP + RATE * solver.response_proto.deterministic_time
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return None, spent
    return [each if isinstance(each, int) else int(solver.value(each)) for each in whole.columns], spent
