"""What every file for other programs says of itself: the day, the plan it was made from, and the caution."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from roundown import CAUTION
from roundown.documents import one_line
from roundown.plan.facts import Day


def title_of(day: Day) -> str:
    """The day's title as every format takes it."""
    return one_line(day.title)


def zone_of(day: Day) -> dt.timezone:
    """The ship's clock as a time zone."""
    return dt.timezone(dt.timedelta(seconds=day.offset))


def description(day: Day, missing: Sequence[str] = ()) -> str:
    """Title, hash of the plan and datum by the ship's clock; what the file has not, in sentences; the caution."""
    datum = day.start.astimezone(zone_of(day)).isoformat(sep=" ", timespec="minutes")
    head = f"{title_of(day)}. Plan {day.hash}, datum {datum}."
    return " ".join([head, *missing, CAUTION])
