"""The timeline as a table read back by the csv module: form by RFC 4180, content by the Solution."""

from __future__ import annotations

import csv
import datetime as dt
import io
import math

import pytest

from roundown.exports.moments import NoMomentsError
from roundown.exports.timeline_csv import COLUMNS, timeline_bytes
from roundown.plan.facts import Day
from roundown.solution import Solution, Unsolved

Solved = tuple[Day, Solution]
CAUTION = "For simulation, teaching and history. Real operations follow the authority's manuals and licensed people."
DEG = math.pi / 180.0
KT = 1852.0 / 3600.0  # m/s


def rows_of(solved: Solved) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(timeline_bytes(*solved).decode(), newline=""), strict=True))


def test_the_columns_say_their_units() -> None:
    """Form: names as in the recordings' own tables."""
    assert COLUMNS == (
        "time_local", "time_utc", "what", "event", "sort", "light", "lat_deg", "lon_deg", "course_true_deg", "speed_kt",
        "sun_altitude_deg", "moon_altitude_deg", "moon_lit", "remark",
    )  # fmt: skip


def test_rows_end_as_the_standard_asks_and_are_all_of_one_length(pacific: Solved) -> None:
    """RFC 4180, 2.1 and 2.4."""
    content = timeline_bytes(*pacific)
    assert content.endswith(b"\r\n")
    assert b"\n" not in content.replace(b"\r\n", b"")
    rows = list(csv.reader(io.StringIO(content.decode(), newline=""), strict=True))
    assert {len(row) for row in rows} == {len(COLUMNS)}
    assert tuple(rows[0]) == COLUMNS


@pytest.mark.parametrize(("name", "offset"), [("evening", "+00:00"), ("pacific", "+11:30")])
def test_every_moment_is_a_row(name: str, offset: str, request: pytest.FixtureRequest) -> None:
    day, solution = request.getfixturevalue(name)
    assert not isinstance(solution.timeline, Unsolved)
    midnight = dt.datetime.fromisoformat(f"{day.word('place.date')}T00:00:00{offset}")
    for row, moment in zip(rows_of((day, solution)), solution.timeline.values(), strict=True):
        local, universal = dt.datetime.fromisoformat(row["time_local"]), dt.datetime.fromisoformat(row["time_utc"])
        assert row["time_local"].endswith(offset)
        assert row["time_utc"].endswith("Z")
        assert local == universal
        assert (local - midnight).total_seconds() == round(moment.time)
        assert (row["what"], row["event"], row["sort"]) == (moment.what, moment.event, moment.sort.value)
        assert row["light"].startswith(moment.darkness.value)
        assert float(row["lat_deg"]) * DEG == pytest.approx(moment.latitude, abs=1e-7 * DEG)
        assert float(row["lon_deg"]) * DEG == pytest.approx(moment.longitude, abs=1e-7 * DEG)
        assert math.remainder(float(row["course_true_deg"]) - moment.course / DEG, 360.0) == pytest.approx(
            0.0, abs=0.0051
        )
        assert float(row["speed_kt"]) * KT == pytest.approx(moment.speed, abs=0.0051 * KT)
        assert float(row["sun_altitude_deg"]) * DEG == pytest.approx(moment.sun_altitude, abs=0.0051 * DEG)
        assert float(row["moon_altitude_deg"]) * DEG == pytest.approx(moment.moon_altitude, abs=0.0051 * DEG)
        assert float(row["moon_lit"]) == pytest.approx(moment.moon_lit, abs=0.00051)


def test_the_first_row_alone_names_the_plan_and_cautions(evening: Solved) -> None:
    first, *others = rows_of(evening)
    assert evening[0].hash in first["remark"]
    assert first["remark"].endswith(CAUTION)
    assert {row["remark"] for row in others} == {""}


def test_the_same_plan_gives_the_same_bytes(pacific: Solved, pacific_again: Solved) -> None:
    assert timeline_bytes(*pacific) == timeline_bytes(*pacific_again)


def test_a_day_without_events_has_no_timeline(one_circuit: Solved) -> None:
    with pytest.raises(NoMomentsError, match="the plan names no event"):
        timeline_bytes(*one_circuit)
