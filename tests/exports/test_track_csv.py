"""Writing tracks: the columns, what a cell holds, and the way back through the reader."""

from __future__ import annotations

import csv
import io
import math
from datetime import UTC, datetime

import numpy as np
import numpy.typing as npt
import pytest

from roundown.exports.track_csv import COLUMNS, SHIP, track_csv
from roundown.motion.aeroplane import Aeroplane
from roundown.motion.frames import NearPlane
from roundown.motion.manoeuvre import Setting
from roundown.motion.path import Channel, MadeBy, Path, Source
from roundown.motion.ship_track import steady_track
from roundown.tracks.track_csv import read_track_csv

Floats = npt.NDArray[np.float64]
KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
DEG = math.pi / 180.0
START = datetime(1949, 3, 17, 16, 30, tzinfo=UTC)
PLANE = NearPlane(-31.5 * DEG, -5.25 * DEG)
SOME = Aeroplane(
    mass=4000.0, wing_area=27.0, zero_lift_drag=0.025, gear_drag=0.02, flap_drag=0.06, induced_drag=0.07,
    idle_thrust=300.0, shaft_power=1.1e6, propeller_diameter=3.5, figure_of_merit=0.75, roll_rate=0.2, gear_time=8.0,
    flap_time=6.0, gear_limit=70.0, flap_limit=60.0, lift_clean=1.4, lift_flap=1.9,
)  # fmt: skip
SETTING = Setting(SOME, (288.15, 101_325.0), np.zeros((1, 3)), steady_track(0.0, 0.0))


def path_over(times: list[float], *, bank: bool = True) -> Path:
    """North at 100 kt, 1000 m east of the plane's datum, climbing 1 m/s from 305 m, turning 2 deg a second from 350."""
    time = np.array(times)

    def channel(values: Floats, source: Source = Source.GIVEN) -> Channel:
        return Channel(values, 0.0, source)

    return Path(
        time,
        channel(np.full(time.shape, 1000.0)),
        channel(100.0 * KT * time),
        channel(304.8 + time),
        channel((350.0 + 2.0 * time) * DEG),
        channel(np.full(time.shape, -12.5 * DEG)) if bank else channel(np.full(time.shape, math.nan), Source.ABSENT),
        channel(np.full(time.shape, 100.0 * KT)),
        channel(np.full(time.shape, 100.0 * KT)),
        MadeBy.PLANNED,
    )


def rows_of(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode())))


def test_the_columns_say_their_units() -> None:
    """Form: the project's own names, each with its unit at the end."""
    content = track_csv({"1": (path_over([0.0, 10.0]), 1.0)}, PLANE, START, SETTING)
    assert content.splitlines()[0].decode() == (
        "time_utc,track_id,lat_deg,lon_deg,alt_msl_ft,ias_kt,tas_kt,gs_kt,hdg_true_deg,bank_deg"
    )
    assert len(COLUMNS) == 10
    assert content.endswith(b"\n")


def test_a_row_holds_the_instant_the_place_and_the_channels() -> None:
    """Own arithmetic at 5 s: 309.8 m is 1016.4 ft; 100 kt true at 309.8 m is 98.52 kt indicated (density 0.9706)."""
    rows = rows_of(track_csv({"1": (path_over([0.0, 10.0]), 2.5)}, PLANE, START, SETTING))
    assert [row["time_utc"] for row in rows][:3] == [
        "1949-03-17T16:30:00.000Z", "1949-03-17T16:30:02.500Z", "1949-03-17T16:30:05.000Z",
    ]  # fmt: skip
    assert len(rows) == 5
    row = rows[2]
    assert row["alt_msl_ft"] == "1016.4"
    assert row["tas_kt"] == row["gs_kt"] == "100.00"
    assert float(row["ias_kt"]) == pytest.approx(98.52, abs=0.01)
    assert row["bank_deg"] == "-12.50"
    assert row["hdg_true_deg"] == "0.00"
    assert rows[1]["hdg_true_deg"] == "355.00"


def test_rows_of_several_tracks_are_sorted_by_time() -> None:
    """Constructed: an aeroplane at 2 Hz and a ship at 1 Hz that starts earlier."""
    tracks = {"1": (path_over([0.0, 3.0]), 0.5), SHIP: (path_over([-1.0, 3.0], bank=False), 1.0)}
    rows = rows_of(track_csv(tracks, PLANE, START, SETTING))
    instants = [row["time_utc"] for row in rows]
    assert instants == sorted(instants)
    assert instants[0] == "1949-03-17T16:29:59.000Z"
    assert sum(row["track_id"] == SHIP for row in rows) == 5
    assert sum(row["track_id"] == "1" for row in rows) == 7


def test_an_absent_channel_is_an_empty_cell() -> None:
    """Constructed."""
    rows = rows_of(track_csv({SHIP: (path_over([0.0, 2.0], bank=False), 1.0)}, PLANE, START, SETTING))
    assert {row["bank_deg"] for row in rows} == {""}
    assert "nan" not in str(rows)


def test_what_is_written_is_read_back() -> None:
    """Round trip: places to 2 cm (1e-7 deg), heights to 0.05 ft, angles to 0.005 deg, speeds to 0.005 kt."""
    path = path_over([-4.0, 0.0, 10.0])
    content = track_csv({"1": (path, 0.5)}, PLANE, START, SETTING)
    back = read_track_csv("flight.csv", content, PLANE, START).paths["1"]
    assert back.time == pytest.approx(np.arange(-4.0, 10.01, 0.5), abs=1e-9)
    assert back.east.values == pytest.approx(1000.0, abs=0.02)
    assert back.north.values == pytest.approx(100.0 * KT * back.time, abs=0.02)
    assert back.height.values == pytest.approx(304.8 + back.time, abs=0.05 * FT + 1e-9)
    assert back.heading.values == pytest.approx((350.0 + 2.0 * back.time) * DEG, abs=0.005 * DEG + 1e-9)
    assert back.bank.values == pytest.approx(-12.5 * DEG, abs=0.005 * DEG)
    assert back.airspeed.values == pytest.approx(100.0 * KT, abs=0.005 * KT)


def test_the_last_row_is_inside_the_path_whatever_the_rounding_of_its_time() -> None:
    """Constructed: three steps of 0.1 s are 0.30000000000000004 s, past a path that ends at 0.3 s."""
    rows = rows_of(track_csv({"1": (path_over([0.0, 0.3]), 0.1)}, PLANE, START, SETTING))
    assert len(rows) == 4
    assert rows[-1]["lat_deg"] != "nan"
    assert float(rows[-1]["alt_msl_ft"]) == pytest.approx(305.1 / FT, abs=0.06)


def test_a_heading_just_short_of_north_is_not_written_as_360() -> None:
    """Constructed: 359.999 rounds to 0.00, which is what a compass rose has."""
    time = np.array([0.0, 1.0])
    base = path_over([0.0, 1.0])
    heading = Channel(np.full(time.shape, 359.999 * DEG), 0.0, Source.GIVEN)
    channels = {**base.channels, "heading": heading}
    rows = rows_of(track_csv({"1": (Path(time, made_by=base.made_by, **channels), 1.0)}, PLANE, START, SETTING))
    assert rows[0]["hdg_true_deg"] == "0.00"
