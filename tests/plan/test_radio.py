"""The radio plan."""

from __future__ import annotations

from collections.abc import Callable

from roundown.plan.facts import Channel, Day, Radio

Read = Callable[[str], Day]
PLANE = '\n[aeroplane]\ntype = "ottery"\n'


def test_silence_lights_and_channels_stand_as_written(read: Read) -> None:
    radio = read(
        PLANE
        + """[radio]
silence = "from take-off"
identification = { value = "side number", source = "squadron order" }
channels = [
  { name = "A", use = "landing", frequency = "three eight decimal five", call_sign = "Hearth" },
  { name = "B", use = "between aeroplanes" },
]
"""
    ).radio
    assert (radio.silence, radio.lights, radio.identification) == ("from take-off", "", "side number")
    assert radio.channels == (
        Channel("A", "landing", "three eight decimal five", "Hearth"),
        Channel("B", "between aeroplanes", "", ""),
    )


def test_twenty_channels_are_read(read: Read) -> None:
    rows = "".join(f'[[radio.channels]]\nname = "{i}"\nuse = "x"\n' for i in range(20))
    assert len(read(PLANE + rows).radio.channels) == 20


def test_a_plan_without_radio_has_an_empty_one(read: Read) -> None:
    assert read(PLANE).radio == Radio()
