"""Times as people write them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from roundown.errors import QuantityError
from roundown.schedule.when import OWN, SKY, When, read_span, read_when


@pytest.mark.parametrize(
    ("text", "anchor", "seconds"),
    [
        ("17:25", "", 62700.0),
        ("7:05", "", 25500.0),
        ("17:25:30", "", 62730.0),
        ("01:20 next day", "", 91200.0),
        ("23:50 day before", "", -600.0),
        ("00:00 +2 days", "", 172800.0),
        ("  17:25   next  day ", "", 149100.0),
        ("sunset", "sunset", 0.0),
        ("sunset - 75 min", "sunset", -4500.0),
        ("Sunset\N{MINUS SIGN}75 min", "sunset", -4500.0),
        ("civil dawn + 1 h 30 min", "civil dawn", 5400.0),
        ("launch + 40 s", "launch", 40.0),
        ("time on target+0.5 h", "time on target", 1800.0),
        ("moonrise + 1h5min10s", "moonrise", 3910.0),
    ],
)
def test_a_time_is_by_the_clock_or_counted_from_something(text: str, anchor: str, seconds: float) -> None:
    """Own arithmetic."""
    assert read_when(text) == When(anchor, seconds, text)


@pytest.mark.parametrize(
    ("text", "limit", "remedy"),
    [
        ("sunst - 5 min", "a time is counted from", "Did you mean sunset"),
        ("breakfast + 5 min", "a time is counted from", "Write "),
        ("time_on_target + 5 min", "not a time", "Write "),
        ("sunset - 75", "a length of time has its unit", "Write "),
        ("sunset - ", "not a time", "Write "),
        ("sunset 75 min", "not a time", "Write "),
        ("24:00", "a time is hours and minutes", "Write "),
        ("17:60", "a time is hours and minutes", "Write "),
        ("17.25", "a time is hours and minutes", "Write "),
        ("", "not a time", "Write "),
        ("?", "not a time", "Write "),
    ],
)
def test_what_is_no_time_is_refused_with_a_way_out(text: str, limit: str, remedy: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_when(text)
    assert caught.value.limit.startswith(limit)
    assert caught.value.remedy.startswith(remedy)


@given(
    hours=st.integers(0, 20), minutes=st.integers(0, 200), seconds=st.integers(0, 200),
    anchor=st.sampled_from((*SKY, *OWN)), sign=st.sampled_from("+-"),
)  # fmt: skip
def test_hours_minutes_and_seconds_add_up(hours: int, minutes: int, seconds: int, anchor: str, sign: str) -> None:
    found = read_when(f"{anchor} {sign} {hours} h {minutes} min {seconds} s")
    assert found.anchor == anchor
    assert found.seconds == (1 if sign == "+" else -1) * (3600 * hours + 60 * minutes + seconds)


@given(st.text(max_size=30))
def test_any_text_is_a_time_or_a_sentence(text: str) -> None:
    try:
        found = read_when(text)
    except QuantityError as error:
        said = bool(error.limit and error.remedy)
    else:
        said = found.anchor in ("", *SKY, *OWN) and found.written == text
    assert said


@pytest.mark.parametrize("text", ["", "h", "1 h 30", "30 min 1 h", "1 d", "-5 min"])
def test_a_length_of_time_has_a_unit(text: str) -> None:
    with pytest.raises(QuantityError, match="a length of time has its unit"):
        read_span(text)
