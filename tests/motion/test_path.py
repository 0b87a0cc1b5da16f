"""Paths: what they refuse, that they cannot be changed, and what they hold between fixes."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest

from roundown.motion.path import Channel, MadeBy, Path, Source

Floats = npt.NDArray[np.float64]
NAMES = ("east", "north", "height", "heading", "bank", "airspeed", "ground_speed")


def made(time: list[float], lengths: dict[str, int] | None = None) -> Path:
    """A path whose channels are 10 times, 20 times ... the time."""
    instants = np.array(time, dtype=np.float64)
    channels = {
        name: Channel(np.resize(instants, (lengths or {}).get(name, instants.size)) * 10.0 * (i + 1), 0.5, Source.GIVEN)
        for i, name in enumerate(NAMES)
    }
    return Path(instants, **channels, made_by=MadeBy.FLOWN)


def test_value_between_fixes_is_on_the_straight_line() -> None:
    """By hand: channel i holds 10 (i + 1) times the time, which is linear."""
    path = made([0.0, 1.0, 3.0])
    for time in (0.0, 0.25, 1.0, 2.5, 3.0):
        assert path.at(time) == pytest.approx({name: 10.0 * (i + 1) * time for i, name in enumerate(NAMES)})


@pytest.mark.parametrize("time", [-1e-9, 3.0 + 1e-9, math.nan])
def test_outside_the_path_nothing_is_known(time: float) -> None:
    values = made([0.0, 1.0, 3.0]).at(time)
    assert tuple(values) == NAMES
    assert all(math.isnan(value) for value in values.values())


def test_channels_come_by_name_in_order() -> None:
    path = made([0.0, 1.0])
    assert tuple(path.channels) == NAMES
    assert path.channels["bank"] is path.bank


@pytest.mark.parametrize("name", NAMES)
def test_channel_of_another_length_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="length of its time"):
        made([0.0, 1.0, 2.0], {name: 2})


@pytest.mark.parametrize("time", [[0.0], [], [0.0, 0.0], [0.0, 2.0, 1.0], [0.0, math.nan, 2.0]])
def test_time_that_does_not_rise_is_refused(time: list[float]) -> None:
    with pytest.raises(ValueError, match="each later than the one before"):
        made(time)


def test_time_of_two_dimensions_is_refused() -> None:
    square = np.array([[0.0, 1.0], [2.0, 3.0]])
    channel = Channel(square.copy(), 0.0, Source.GIVEN)
    with pytest.raises(ValueError, match="each later than the one before"):
        Path(square, channel, channel, channel, channel, channel, channel, channel, MadeBy.DRAWN)


def test_path_cannot_be_written() -> None:
    path = made([0.0, 1.0])
    for values in (path.time, *(channel.values for channel in path.channels.values())):
        with pytest.raises(ValueError, match="read-only"):
            values[0] = 5.0


def test_absent_channel_holds_no_numbers_and_spoils_no_other() -> None:
    path = made([0.0, 1.0])
    absent = Channel(np.full(2, math.nan), math.nan, Source.ABSENT)
    without = Path(**{**path.channels, "bank": absent}, time=path.time, made_by=path.made_by)
    assert math.isnan(without.at(0.5)["bank"])
    assert without.at(0.5)["height"] == pytest.approx(15.0)
