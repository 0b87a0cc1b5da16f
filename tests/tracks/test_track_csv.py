"""Reading tracks: good files come back as they are, bad ones give a sentence that names file, line and remedy."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from roundown.errors import TrackError
from roundown.motion.frames import NearPlane
from roundown.motion.path import MadeBy, Source
from roundown.tracks.track_csv import PLACE_SIGMA, read_track_csv

KT = 1852.0 / 3600.0  # m/s
FT = 0.3048  # m
DEG = math.pi / 180.0
HEADER = "time_utc,track_id,lat_deg,lon_deg,alt_msl_ft,tas_kt,hdg_true_deg,bank_deg"
GOOD = f"""{HEADER}
1949-03-17T16:30:00.000Z,1,-31.6666667,-5.3333333,300,120,359.0,0
1949-03-17T16:30:01.000Z,1,-31.6661100,-5.3333333,299,119,001.0,-2.5
1949-03-17T16:30:01.000Z,ship,-31.6600000,-5.3333333,,,140,
1949-03-17T16:30:02.500Z,1,-31.6652800,-5.3333333,,118,003.0,-30
1949-03-17T16:30:03.000Z,ship,-31.6600500,-5.3332700,,,140,
"""


def complaint(content: str | bytes) -> str:
    """What is said about a bad file."""
    with pytest.raises(TrackError) as caught:
        read_track_csv("flight.csv", content.encode() if isinstance(content, str) else content)
    text = str(caught.value)
    assert text.startswith("flight.csv:")
    assert text.endswith(".")
    assert "\n" not in text
    return text


# ---- good files


def test_a_recording_comes_back_in_si_on_one_clock() -> None:
    """Own arithmetic: 120 kt is 61.733 m/s, 300 ft 91.44 m; heading unwrapped through north; blanks are not known."""
    tracks = read_track_csv("flight.csv", GOOD.encode())
    assert list(tracks.paths) == ["1", "ship"]
    assert tracks.start == datetime(1949, 3, 17, 16, 30, tzinfo=UTC)
    path, ship = tracks.paths["1"], tracks.paths["ship"]
    assert path.time.tolist() == [0.0, 1.0, 2.5]
    assert ship.time.tolist() == [1.0, 3.0]
    assert path.airspeed.values == pytest.approx([61.7333, 61.2189, 60.7044], abs=1e-4)
    assert path.height.values[:2] == pytest.approx([91.44, 91.1352])
    assert math.isnan(path.height.values[2])
    assert path.heading.values == pytest.approx(np.array([359.0, 361.0, 363.0]) * DEG)
    assert path.bank.values == pytest.approx(np.array([0.0, -2.5, -30.0]) * DEG)
    assert path.made_by is MadeBy.FLOWN
    sources = {name: channel.source for name, channel in ship.channels.items()}
    assert sources["bank"] is sources["airspeed"] is sources["height"] is sources["ground_speed"] is Source.ABSENT
    assert sources["east"] is sources["heading"] is Source.GIVEN
    assert path.east.sigma == PLACE_SIGMA
    assert math.isnan(path.height.sigma)


def test_places_are_metres_from_the_first_fix() -> None:
    """Second method: along the meridian by its radius M = a (1 - e^2) / (1 - e^2 sin^2 lat)^1.5, ellipsoid of 1984."""
    tracks = read_track_csv("flight.csv", GOOD.encode())
    first_eccentricity = 0.00669437999
    sine = math.sin(-31.6664 * DEG)
    meridian = 6_378_137.0 * (1.0 - first_eccentricity) / (1.0 - first_eccentricity * sine**2) ** 1.5
    north = tracks.paths["1"].north.values
    assert north == pytest.approx(np.array([0.0, 0.0005567, 0.0013867]) * DEG * meridian, abs=0.01)
    assert tracks.paths["1"].east.values == pytest.approx(0.0, abs=1e-6)


def test_a_plane_and_a_start_given_are_kept() -> None:
    """Constructed: two recordings must come to lie on one plane and clock."""
    plane = NearPlane(-31.7 * DEG, -5.3 * DEG)
    start = datetime(1949, 3, 17, 16, 0, tzinfo=UTC)
    tracks = read_track_csv("flight.csv", GOOD.encode(), plane, start)
    assert tracks.plane is plane
    assert tracks.paths["1"].time[0] == 1800.0
    assert tracks.paths["1"].north.values[0] == pytest.approx(0.0333333 * DEG * 6_353_000.0, rel=1e-3)


def test_an_instant_with_another_zone_is_the_same_instant() -> None:
    """Own arithmetic: 18:30 two hours ahead of universal time is 16:30."""
    tracks = read_track_csv("flight.csv", GOOD.replace("16:30:00.000Z", "18:30:00.000+02:00").encode())
    assert tracks.start == datetime(1949, 3, 17, 16, 30, tzinfo=UTC)
    assert tracks.paths["1"].time.tolist() == [0.0, 1.0, 2.5]


@pytest.mark.parametrize("first", ["# recorded at home\n", "\n", "# one\n# two\n\n"])
def test_notes_and_blank_lines_above_the_header_are_passed_over(first: str) -> None:
    """Constructed; with a byte order mark and carriage returns, as spreadsheets write."""
    content = "\ufeff" + (first + GOOD).replace("\n", "\r\n")
    tracks = read_track_csv("flight.csv", content.encode())
    assert tracks.paths["1"].time.size == 3


def test_without_an_identity_all_fixes_are_one_track() -> None:
    """Constructed: no track_id column."""
    content = "time_utc,lat_deg,lon_deg\n1949-03-17T16:30:00Z,1.0,2.0\n1949-03-17T16:30:01Z,1.0,2.001\n"
    tracks = read_track_csv("flight.csv", content.encode())
    assert list(tracks.paths) == ["1"]


def test_without_a_heading_the_direction_made_good_stands_in() -> None:
    """Constructed: due east, then north east; marked as derived."""
    rows = [(0, 0.0), (1, 0.0), (2, 0.0), (3, 0.0)]
    content = "time_utc,lat_deg,lon_deg\n" + "".join(
        f"1949-03-17T16:30:0{second}Z,{latitude},{0.001 * second}\n" for second, latitude in rows
    )
    heading = read_track_csv("flight.csv", content.encode()).paths["1"].heading
    assert heading.source is Source.DERIVED
    assert heading.values == pytest.approx(90.0 * DEG, abs=1e-4)


# ---- bad files


def test_a_file_that_is_no_text_says_so() -> None:
    """Constructed: bytes of another encoding."""
    assert complaint(b"time_utc\xff\xfe\x00") == "flight.csv: the file is not UTF-8 text. Save it as UTF-8."


def test_missing_columns_are_named_with_the_line_of_the_header() -> None:
    """Constructed: other people's column names."""
    text = complaint("# a note\nTime,Latitude,lon_deg\n1,2,3\n")
    assert text.startswith("flight.csv:2: the header lacks time_utc, lat_deg.")


@pytest.mark.parametrize("content", ["", "\n\n", "# only a note\n"])
def test_an_empty_file_lacks_its_columns(content: str) -> None:
    """Constructed."""
    assert "the header lacks time_utc, lat_deg, lon_deg" in complaint(content)


def test_a_header_alone_has_no_fixes() -> None:
    """Constructed."""
    assert "there are no fixes in it" in complaint(HEADER + "\n")


@pytest.mark.parametrize(
    ("before", "after", "line", "said"),
    [
        ("16:30:00.000Z", "16:30:00.000", 2, "the zone is missing. Add Z for UTC."),
        ("1949-03-17T16:30:01.000Z,1", "half past four,1", 3, "not an instant. Write 2022-05-06T14:00:00.0Z."),
        ("1949-03-17T16:30:01.000Z,1", ",1", 3, "not an instant"),
        (",118,003.0", ",fast,003.0", 5, "tas_kt = fast: not a number. Write digits with a point."),
        ("-31.6661100", '"-31,6661100"', 3, "lat_deg = -31,6661100: not a number"),
        ("-31.6661100", "", 3, "the position is not on the earth"),
        ("-31.6661100", "-91", 3, "the position is not on the earth. Look at lat_deg and lon_deg."),
        ("-31.6661100", "nan", 3, "lat_deg = nan: not a number"),
        ("-5.3333333,299", "185,299", 3, "the position is not on the earth"),
    ],
)
def test_a_bad_cell_is_named_with_its_line_and_what_to_write(before: str, after: str, line: int, said: str) -> None:
    """Constructed: one cell of a good file spoilt."""
    assert before in GOOD
    text = complaint(GOOD.replace(before, after, 1))
    assert text.startswith(f"flight.csv:{line}: ")
    assert said in text


@pytest.mark.parametrize("value", ["inf", "-inf"])
def test_a_bank_that_is_no_finite_number_is_refused(value: str) -> None:
    """Constructed."""
    assert "not a number" in complaint(GOOD.replace(",-2.5", f",{value}"))


def test_fixes_out_of_order_are_refused() -> None:
    """Constructed: two rows of one track exchanged."""
    lines = GOOD.splitlines()
    text = complaint("\n".join([lines[0], lines[2], lines[1], lines[4]]))
    assert "track 1 needs two or more fixes, each later than the one before. Sort it by time." in text


def test_a_track_of_one_fix_is_refused() -> None:
    """Constructed."""
    assert "track 1 needs two or more fixes" in complaint("\n".join(GOOD.splitlines()[:2]))


def test_a_quote_never_closed_gives_a_sentence() -> None:
    """Constructed: a quotation mark opened in the first row of half an hour at 2 Hz."""
    start = datetime(1949, 3, 17, 16, 30, tzinfo=UTC)
    rows = [
        f"{(start + timedelta(seconds=i / 2)).isoformat(timespec='milliseconds')},1,-31.6,-5.3,300,120,0,0"
        for i in range(3600)
    ]
    rows[0] = rows[0].replace(",1,", ',"1,')
    complaint("\n".join([HEADER, *rows]))
