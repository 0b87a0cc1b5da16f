"""What can go wrong, as classes.

RoundownError
├── PlanError        an air plan cannot be read: carries every complaint
├── CatalogError     a ship, type or doctrine cannot be read or found: carries every complaint
├── TrackError       a recorded track cannot be read
└── NoSolution       a solver found no answer: what was sought, where, and the nearest miss

QuantityError is a ValueError, not a RoundownError: it says what is wrong with one text, and whoever
reads the file turns it into a Complaint. An error means "cannot compute"; a *finding* means
"computed, and you should know" and is never raised.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Complaint:
    """One thing wrong in a file a person wrote: where, what stands there, what is allowed, what to do.

    line is 0 where the whole file is meant; key and value are empty where there is none to name.
    """

    file: str
    line: int
    key: str
    value: str
    limit: str
    remedy: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        what = f"{self.key} = {self.value}: " if self.value else f"{self.key}: " if self.key else ""
        return f"{place}: {what}{self.limit}. {self.remedy}."


class QuantityError(ValueError):
    """A text that is not a quantity of the kind wanted.

    limit says what is allowed, remedy what to write instead; both without a full stop.
    """

    def __init__(self, limit: str, remedy: str) -> None:
        super().__init__(f"{limit}. {remedy}.")
        self.limit = limit
        self.remedy = remedy


class RoundownError(Exception):
    """Base of every error that the command line and the page turn into a sentence."""


class ComplaintsError(RoundownError):
    """An input with one or more complaints, all found in one reading."""

    def __init__(self, complaints: list[Complaint]) -> None:
        super().__init__("\n".join(str(complaint) for complaint in complaints))
        self.complaints = tuple(complaints)


class PlanError(ComplaintsError):
    """An air plan that cannot be read."""


class CatalogError(ComplaintsError):
    """A ship, type or doctrine that cannot be read, or is not there."""


class TrackError(RoundownError):
    """A recorded track that cannot be read."""


class NoSolution(RoundownError):  # noqa: N818 - it is an answer as much as an error
    """A solver found no answer.

    sought says what was to be met; scan holds (tried value, miss) pairs in SI; the message names the nearest miss.
    """

    def __init__(self, sought: str, scan: tuple[tuple[float, float], ...] = ()) -> None:
        known = [pair for pair in scan if pair[1] == pair[1]]
        nearest = min(known, key=lambda pair: abs(pair[1]), default=None)
        miss = f"; nearest miss {nearest[1]:.4g} at {nearest[0]:.4g}" if nearest else ""
        super().__init__(f"no solution for {sought}{miss}")
        self.sought = sought
        self.scan = scan
        self.nearest = nearest
