"""Light, variation and horizon from the command line: keys, clocks, published cases, refusals in one sentence."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable
from typing import Any

import pytest

Call = Callable[..., Any]
PLACE = "15 00 N 145 00 E"
TIMES = ["sunrise", "sunset", "civil_dawn", "civil_dusk", "nautical_dawn", "nautical_dusk", "moonrise", "moonset"]


def answer(call: Call, *arguments: str) -> dict[str, Any]:
    outcome = call("reckon", *arguments, "--json")
    assert outcome.code == 0, outcome.err
    found = json.loads(outcome.out)
    assert isinstance(found, dict)
    return found


def light(call: Call, position: str, date: str, zone: str) -> dict[str, Any]:
    return answer(call, "light", "--position", position, "--date", date, "--zone", zone)


def test_light_has_exactly_its_keys_and_times_with_their_offset(call: Call) -> None:
    found = light(call, PLACE, "1944-06-19", "+10:00")
    assert list(found) == [*TIMES, "moon_lit"]
    for key in TIMES:
        time = dt.datetime.fromisoformat(found[key])
        assert time.utcoffset() == dt.timedelta(hours=10)
        assert time.date() == dt.date(1944, 6, 19)
        assert len(found[key]) == len("1944-06-19T05:50:34+10:00")
    assert 0.0 <= found["moon_lit"] <= 1.0


@pytest.mark.parametrize(
    ("zone", "ending"), [("+10:00", "+10:00"), ("-9:30", "-09:30"), ("Z", "+00:00"), ("+09:30", "+09:30")]
)
def test_zones_of_every_kind_are_read(call: Call, zone: str, ending: str) -> None:
    found = light(call, PLACE, "1944-06-19", zone)
    assert found["sunset"].endswith(ending)


def test_zones_show_the_same_instant_on_different_clocks(call: Call) -> None:
    first, second = (light(call, PLACE, "1944-06-19", zone)["sunset"] for zone in ("+10:00", "+9:30"))
    apart = dt.datetime.fromisoformat(first) - dt.datetime.fromisoformat(second)
    assert abs(apart.total_seconds()) <= 1.0


@pytest.mark.published
def test_moonrise_on_a_half_hour_clock(call: Call) -> None:
    """Source: P. Shingleton, The Advocate, 29 July 2013, after Olson, Doescher & Johns, Sky & Telescope, July 2002.

    Moonrise 10:30 p.m., 29 July 1945, Philippine Sea (12 02 N 134 48 E from memory); to a minute.
    """
    rise = dt.datetime.fromisoformat(light(call, "12 02 N 134 48 E", "1945-07-29", "+9:30")["moonrise"])
    printed = dt.datetime.fromisoformat("1945-07-29T22:30:00+09:30")
    assert abs((rise - printed).total_seconds()) < 60.0


def test_what_does_not_happen_is_null(call: Call) -> None:
    """From geometry: at 72 N the midnight sun of June stands 5.4 degrees above the horizon."""
    found = light(call, "72 00 N 020 00 E", "1944-06-20", "+1:00")
    assert [found[key] for key in TIMES[:6]] == [None] * 6
    outcome = call("reckon", "light", "--position", "72 00 N 020 00 E", "--date", "1944-06-20", "--zone", "+1:00")
    assert outcome.out.startswith("Sun up all day")


def test_variation_is_east_positive(call: Call) -> None:
    """Second method: the table of computed places has 24.6 W in the Atlantic and 11.1 E at Pearl Harbor (ppigrf)."""
    atlantic = answer(call, "variation", "--position", "50 00 N 030 00 W", "--date", "1943-05-01")
    pacific = answer(call, "variation", "--position", "21 21 N 157 57 W", "--date", "1941-12-07")
    assert list(atlantic) == ["variation_deg"]
    assert atlantic["variation_deg"] == pytest.approx(-24.58, abs=0.01)
    assert pacific["variation_deg"] == pytest.approx(11.11, abs=0.01)


@pytest.mark.published
def test_horizon_of_a_height_as_printed(call: Call) -> None:
    """Source: Seamanship Secrets, appendix I, p. 292: 125 ft, 13.1 miles; printed to 0.1 mile."""
    found = answer(call, "horizon", "--height", "125")
    assert list(found) == ["distance_nm", "radio_nm"]
    assert found["distance_nm"] == pytest.approx(13.1, abs=0.05)
    assert found["radio_nm"] == pytest.approx(1.23 * 125**0.5, abs=1e-4)
    assert answer(call, "horizon", "--height", "125 ft") == found


@pytest.mark.parametrize(
    "arguments",
    [
        ("light", "--position", PLACE, "--date", "1944-06-19", "--zone", "+10:00"),
        ("variation", "--position", PLACE, "--date", "1944-06-19"),
        ("horizon", "--height", "90"),
    ],
)
def test_without_json_the_answer_is_one_sentence(call: Call, arguments: tuple[str, ...]) -> None:
    outcome = call("reckon", *arguments)
    assert outcome.code == 0
    assert len(outcome.out.splitlines()) == 1
    assert outcome.out.rstrip().endswith(".")


def test_help_tells_the_offset_from_the_zone_description(call: Call) -> None:
    words = " ".join(call("reckon", "light", "--help").out.replace("│", " ").split())
    assert "ahead of universal time" in words
    assert "Not the navigator's zone description, whose sign is the opposite" in words


def test_the_sums_are_listed(call: Call) -> None:
    out = call("reckon", "--help").out
    assert all(f"│ {name} " in out for name in ("light", "variation", "horizon"))


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("light", "--position", "15N", "--date", "1944-06-19", "--zone", "Z"), "--position = 15N: not a position"),
        (("light", "--position", PLACE, "--date", "19 June", "--zone", "Z"), "--date = 19 June: not a date."),
        (("light", "--position", PLACE, "--date", "1899-12-31", "--zone", "Z"), "1900-01-01 to 2050-12-31 is known."),
        (("light", "--position", PLACE, "--date", "1944-06-19", "--zone", "10"), "--zone = 10: not an offset"),
        (("light", "--position", PLACE, "--date", "1944-06-19", "--zone", "K"), "--zone = K: not an offset"),
        (("light", "--position", PLACE, "--date", "1944-06-19", "--zone", "+15:00"), "-12:00 to +14:00 is allowed."),
        (("light", "--position", PLACE, "--date", "1944-06-19", "--zone", "-12:30"), "-12:00 to +14:00 is allowed."),
        (("light", "--position", PLACE, "--date", "1944-06-19"), "--zone"),
        (("variation", "--position", "15 00 N 190 00 E", "--date", "1944-06-19"), "longitude to 180"),
        (("variation", "--position", PLACE, "--date", "2031-01-01"), "1900-01-01 to 2030-01-01 is known."),
        (("horizon", "--height", "-1"), "--height = -1: 0 to 60000 is allowed."),
        (("horizon", "--height", "nan"), "--height = nan: 0 to 60000 is allowed."),
    ],
)
def test_what_cannot_be_reckoned_is_refused_in_a_sentence(call: Call, arguments: tuple[str, ...], says: str) -> None:
    outcome = call("reckon", *arguments)
    assert outcome.code == 2
    assert says in " ".join(outcome.err.replace("│", " ").split())
    assert outcome.out == ""
