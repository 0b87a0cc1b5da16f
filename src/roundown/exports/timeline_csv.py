"""The moments of a day as a table (CSV, RFC 4180): one row a moment, each column's unit at the end of its name."""

from __future__ import annotations

import csv
import io

from roundown.documents import one_line
from roundown.exports.chart import degrees
from roundown.exports.heading import description
from roundown.exports.moments import DatedMoment, dated_moments
from roundown.plan.facts import Day
from roundown.quantities import ANGLE, RATIO, SHIP_SPEED, TRUE_DIRECTION, plain
from roundown.solution import Solution

COLUMNS = (
    "time_local", "time_utc", "what", "event", "sort", "light", "lat_deg", "lon_deg", "course_true_deg", "speed_kt",
    "sun_altitude_deg", "moon_altitude_deg", "moon_lit", "remark",
)  # fmt: skip


def timeline_bytes(day: Day, solution: Solution) -> bytes:
    """The file as written. Its first row alone has a remark: what plan it is of, and the caution.

    Raises NoMomentsError where the day has no moments.
    """
    moments = dated_moments(day, solution)
    remarks = [description(day), *[""] * (len(moments) - 1)]
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows([*_row(dated), remark] for dated, remark in zip(moments, remarks, strict=True))
    return text.getvalue().encode()


def _row(dated: DatedMoment) -> list[str]:
    moment = dated.moment
    return [
        dated.local.isoformat(timespec="seconds"),
        f"{dated.instant:%Y-%m-%dT%H:%M:%SZ}",
        moment.what,
        one_line(moment.event),
        moment.sort.value,
        dated.light,
        f"{degrees(moment.latitude):.7f}",
        f"{degrees(moment.longitude):.7f}",
        f"{plain(moment.course, TRUE_DIRECTION, 2):.2f}",
        f"{plain(moment.speed, SHIP_SPEED, 2) + 0.0:.2f}",
        f"{plain(moment.sun_altitude, ANGLE, 2) + 0.0:.2f}",
        f"{plain(moment.moon_altitude, ANGLE, 2) + 0.0:.2f}",
        f"{plain(moment.moon_lit, RATIO, 3):.3f}",
    ]
