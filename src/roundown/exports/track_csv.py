"""A flown or planned path as CSV, in the project's own column names (docs/track-csv.md)."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping
from datetime import datetime, timedelta

import numpy as np

from roundown.motion.frames import NearPlane
from roundown.motion.manoeuvre import Setting
from roundown.motion.path import Path, Source
from roundown.quantities import DEGREE, FOOT, KNOT

SHIP = "ship"
COLUMNS = (
    "time_utc", "track_id", "lat_deg", "lon_deg", "alt_msl_ft", "ias_kt", "tas_kt", "gs_kt", "hdg_true_deg", "bank_deg",
)  # fmt: skip


def track_csv(tracks: Mapping[str, tuple[Path, float]], plane: NearPlane, start: datetime, setting: Setting) -> bytes:
    """Tracks as CSV.

    tracks : by identity ("ship" is reserved), each with the time between rows [s]; plane : where their places are
    start : instant of time zero; setting : for indicated airspeeds
    Returns UTF-8 bytes, rows sorted by time; milliseconds, 7 decimals of a degree; an absent channel is an empty cell.
    """
    rows: list[tuple[float, list[str]]] = []
    for identity, (path, step) in tracks.items():
        first = float(path.time[0])
        for i in range(math.floor((float(path.time[-1]) - first) / step + 1e-9) + 1):
            time = min(first + i * step, float(path.time[-1]))  # rounding may carry the last one past the end
            rows.append((time, _row(identity, time, path, plane, start, setting)))
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(cells for _, cells in sorted(rows, key=lambda row: row[0]))
    return text.getvalue().encode()


def _row(identity: str, time: float, path: Path, plane: NearPlane, start: datetime, setting: Setting) -> list[str]:
    at = path.at(time)
    latitude, longitude = plane.position(at["east"], at["north"])
    instant = (start + timedelta(seconds=round(time, 3))).isoformat(timespec="milliseconds").replace("+00:00", "Z")

    def cell(name: str, value: float, unit: float, digits: int) -> str:
        return "" if path.channels[name].source is Source.ABSENT or np.isnan(value) else f"{value / unit:.{digits}f}"

    indicated = setting.indicated_speed(at["airspeed"], at["height"])
    return [
        instant,
        identity,
        f"{round(latitude / DEGREE, 7) + 0.0:.7f}",
        f"{round(longitude / DEGREE, 7) + 0.0:.7f}",
        cell("height", at["height"], FOOT, 1),
        cell("airspeed", indicated, KNOT, 2),
        cell("airspeed", at["airspeed"], KNOT, 2),
        cell("ground_speed", at["ground_speed"], KNOT, 2),
        cell("heading", round(at["heading"] / DEGREE, 2) % 360.0, 1.0, 2),
        cell("bank", at["bank"], DEGREE, 2),
    ]
