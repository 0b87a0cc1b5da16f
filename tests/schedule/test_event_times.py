"""When an event's launch, push, blow and recovery are."""

from __future__ import annotations

import pytest

from roundown.schedule.event_times import EventFacts, TakeOffs, event_times
from roundown.schedule.when import When, read_when


def facts(most: int = 4, ramp: float | None = 120.0, **times: str) -> EventFacts:
    whens: dict[str, When] = {name: read_when(text) for name, text in times.items()}
    light, dark = ({f"{i}": each * i for i in range(most)} for each in (25.0, 52.5))
    return EventFacts("patrol", whens, most, TakeOffs(25.0, light), TakeOffs(52.5, dark), 30.0, ramp)


def test_times_are_counted_one_from_another() -> None:
    """Own arithmetic: sunset 18:00, launch 16:45, push 17:00, on target 17:40, recovery 18:30."""
    found = event_times(
        facts(
            launch="sunset - 75 min", push="launch + 15 min", time_on_target="push + 40 min", recovery="sunset + 30 min"
        ),
        {"sunset": 18 * 3600.0},
        dark=False,
    )
    assert found.launch == 16.75 * 3600.0
    assert found.push == 17.0 * 3600.0
    assert found.time_on_target == 17.0 * 3600.0 + 2400.0
    assert found.recovery == 18.5 * 3600.0
    assert found.last_off == 16.75 * 3600.0 + 75.0
    assert found.first_aboard == 18.5 * 3600.0 + 120.0
    assert found.last_aboard == 18.5 * 3600.0 + 210.0


def test_one_aeroplane_is_first_and_last() -> None:
    found = event_times(facts(most=1, launch="17:00", recovery="18:00"), {}, dark=False)
    assert found.last_off == found.launch
    assert found.last_aboard == found.first_aboard


@pytest.mark.parametrize("sky", [{}, {"sunset": None}])
def test_a_sun_that_does_not_set_leaves_times_unknown(sky: dict[str, float | None]) -> None:
    found = event_times(facts(launch="sunset - 1 h", push="launch + 10 min", recovery="23:00"), sky, dark=False)
    assert (found.launch, found.last_off, found.push) == (None, None, None)
    assert found.recovery == 23 * 3600.0


def test_without_a_circuit_the_time_aboard_is_not_known() -> None:
    found = event_times(facts(ramp=None, recovery="18:00"), {}, dark=False)
    assert (found.first_aboard, found.last_aboard) == (None, None)
    assert found.take_off_interval is None
