"""What the user should know about a day that was computed.

A finding is data in the Solution, never an exception and never a log line. Levels, worst first: `stop` (it will not
work as planned), `caution` (it will work, but), `note` (worth knowing).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum


class Level(IntEnum):
    """How bad; a lower number is worse."""

    STOP = 0
    CAUTION = 1
    NOTE = 2

    @property
    def word(self) -> str:
        """The word people read."""
        return self.name.lower()


@dataclass(frozen=True)
class Finding:
    """One thing to know.

    id : stable name of the rule, e.g. "stall-margin-final"
    level : stop, caution or note
    key : the figure it is about
    value, limit : texts with units: what was found, and what is wanted
    remedy : what closes it, a sentence
    """

    id: str
    level: Level
    key: str
    value: str
    limit: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.level.word}: {self.value}; {self.limit}. {self.remedy}"


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings by level, otherwise in the order they were found."""
    return tuple(sorted(findings, key=lambda finding: finding.level))
