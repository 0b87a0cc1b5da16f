"""Reading tracks from CSV in the project's own column names (docs/track-csv.md).

*Holds for:* UTF-8, comma, one header row, `time_utc` with zone, latitude and longitude; height, airspeed, heading and
bank where their columns are there. Other people's columns and units are not guessed.
"""

from __future__ import annotations

import csv
import io
import math
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from roundown.errors import TrackError
from roundown.motion.frames import NearPlane
from roundown.motion.path import Channel, Floats, MadeBy, Path, Source
from roundown.quantities import DEGREE, FOOT, KNOT

NEEDED = ("time_utc", "lat_deg", "lon_deg")
_CHANNELS = {
    "height": ("alt_msl_ft", FOOT),
    "heading": ("hdg_true_deg", DEGREE),
    "bank": ("bank_deg", DEGREE),
    "airspeed": ("tas_kt", KNOT),
    "ground_speed": ("gs_kt", KNOT),
}
PLACE_SIGMA = 0.01  # m, of seven decimals of a degree


@dataclass(frozen=True, eq=False)
class Tracks:
    """Paths by track identity, on one clock and plane. start : instant of time zero; plane : about the first fix."""

    paths: dict[str, Path]
    start: datetime
    plane: NearPlane


def read_track_csv(name: str, content: bytes, plane: NearPlane | None = None, start: datetime | None = None) -> Tracks:
    """Read tracks.

    name : of the file, for messages; plane, start : to put the paths on, otherwise those of the first fix
    Raises TrackError with file, line, what is wrong and what to do.
    """
    try:
        lines = content.decode("utf-8-sig").splitlines()
    except UnicodeDecodeError as error:
        raise TrackError(f"{name}: the file is not UTF-8 text. Save it as UTF-8.") from error
    skipped = next((i for i, line in enumerate(lines) if line.strip() and not line.startswith("#")), len(lines))
    reader = csv.DictReader(io.StringIO("\n".join(lines[skipped:])))
    columns = reader.fieldnames or []
    missing = [column for column in NEEDED if column not in columns]
    if missing:
        raise TrackError(
            f"{name}:{skipped + 1}: the header lacks {', '.join(missing)}. Write the columns as in docs/track-csv.md."
        )
    rows: dict[str, list[tuple[datetime, dict[str, float]]]] = {}
    try:
        for number, row in enumerate(reader, start=skipped + 2):
            instant, values = _fix(name, number, row)
            rows.setdefault(row.get("track_id") or "1", []).append((instant, values))
    except csv.Error as error:
        raise TrackError(
            f"{name}: a quotation mark is not closed. Look for one after line {reader.line_num}."
        ) from error
    if not rows:
        raise TrackError(f"{name}: there are no fixes in it. Record the flight again, or name another file.")
    first = min(fixes[0][0] for fixes in rows.values())
    start = start or first
    if plane is None:
        fix = next(iter(rows.values()))[0][1]
        plane = NearPlane(fix["lat_deg"] * DEGREE, fix["lon_deg"] * DEGREE)
    return Tracks(
        {identity: _path(name, identity, fixes, start, plane) for identity, fixes in rows.items()}, start, plane
    )


def _fix(name: str, number: int, row: dict[str, str | None]) -> tuple[datetime, dict[str, float]]:
    values = {}
    try:
        instant = datetime.fromisoformat(row["time_utc"] or "")
    except ValueError as error:
        raise TrackError(
            f"{name}:{number}: time_utc = {row['time_utc']}: not an instant. Write 2022-05-06T14:00:00.0Z."
        ) from error
    if instant.tzinfo is None:
        raise TrackError(f"{name}:{number}: time_utc = {row['time_utc']}: the zone is missing. Add Z for UTC.")
    for column in ("lat_deg", "lon_deg", *(column for column, _ in _CHANNELS.values())):
        text = row.get(column)
        if not text:
            values[column] = math.nan
            continue
        try:
            values[column] = float(text)
        except ValueError:
            values[column] = math.inf
        if not math.isfinite(values[column]):
            raise TrackError(f"{name}:{number}: {column} = {text}: not a number. Write digits with a point.")
    if not (abs(values["lat_deg"]) <= 90.0 and abs(values["lon_deg"]) <= 180.0):
        raise TrackError(f"{name}:{number}: the position is not on the earth. Look at lat_deg and lon_deg.")
    return instant, values


def _path(
    name: str, identity: str, fixes: list[tuple[datetime, dict[str, float]]], start: datetime, plane: NearPlane
) -> Path:
    time = np.array([(instant - start).total_seconds() for instant, _ in fixes])
    if time.size < 2 or not np.all(np.diff(time) > 0.0):
        raise TrackError(
            f"{name}: track {identity} needs two or more fixes, each later than the one before. Sort it by time."
        )
    places = np.array([plane.place(fix["lat_deg"] * DEGREE, fix["lon_deg"] * DEGREE) for _, fix in fixes])
    channels = {}
    for channel, (column, unit) in _CHANNELS.items():
        values = np.array([fix[column] for _, fix in fixes]) * unit
        absent = bool(np.all(np.isnan(values)))
        if channel == "heading" and absent:  # the direction made good stands in for it
            values, source = (
                np.arctan2(np.gradient(places[:, 0], time), np.gradient(places[:, 1], time)),
                Source.DERIVED,
            )
        else:
            source = Source.ABSENT if absent else Source.GIVEN
        if channel == "heading":
            values = np.unwrap(values)
        channels[channel] = Channel(values, math.nan, source)
    return Path(
        time,
        _place(places[:, 0]),
        _place(places[:, 1]),
        made_by=MadeBy.FLOWN,
        **channels,
    )


def _place(values: Floats) -> Channel:
    return Channel(values.copy(), PLACE_SIGMA, Source.GIVEN)
