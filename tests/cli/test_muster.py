"""`roundown muster`: the one action that seats people anew."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from roundown.plan.read import read_plan

Call = Callable[..., Any]


def test_those_here_are_seated_and_shown(call: Call, demo: Path) -> None:
    """Constructed: Pell and Finch of eight are away; Moss, who leads a section, is the only one behind seat 22."""
    before = demo.read_text("utf-8")
    outcome = call("muster", demo, "--absent", "Pell, Finch")
    assert (outcome.code, outcome.err) == (0, "")
    assert outcome.out.splitlines() == [
        f"Home before dusk (demo): written to {demo}",
        "Amber squadron: 6 of 8",
        "    11  Vane           division 1, section 1    leads the squadron",
        "    12  Moss           division 1, section 1                         from 23",
        "    13  Orme           division 1, section 2    leads the section",
        "    14  Lusk           division 1, section 2",
        "    21  Hale           division 2, section 1    leads the division",
        "    22  Dray           division 2, section 1",
        "  absent: Pell, Finch",
        f"Cards anew: roundown brief {demo} -o brief",
    ]
    assert demo.read_text("utf-8") == before + '\n[muster]\nabsent = ["Pell", "Finch"]\n'
    assert read_plan(demo).squadrons["amber"].absent == ("Pell", "Finch")


def test_order_of_launch_follows(call: Call, demo: Path) -> None:
    call("muster", demo, "--present", "Orme, Lusk", "--present", "Hale")
    first, second = read_plan(demo).events
    assert [seat.name for seat in first.seats] == ["Hale", "Lusk", "Orme"]
    assert second.seats == first.seats  # all three have flown: from the front again
    assert first.wanted == 4


def test_the_same_muster_twice_is_written_once(call: Call, demo: Path) -> None:
    call("muster", demo, "--absent", "Pell")
    once = (demo.read_bytes(), demo.stat().st_mtime_ns)
    assert f"as it stood in {demo}" in call("muster", demo, "--absent", "Pell").out
    assert (demo.read_bytes(), demo.stat().st_mtime_ns) == once


def test_everyone_is_here_again(call: Call, demo: Path) -> None:
    seats = read_plan(demo).squadrons["amber"].seats
    call("muster", demo, "--absent", "Pell")
    assert "8 of 8" in call("muster", demo, "--everyone").out
    assert read_plan(demo).squadrons["amber"].seats == seats


def test_line_ends_remarks_and_the_mark_of_some_editors_stay(call: Call, demo: Path) -> None:
    raw = b"\xef\xbb\xbf" + demo.read_bytes().replace(b"\n", b"\r\n")
    demo.write_bytes(raw)
    assert call("muster", demo, "--absent", "Pell").code == 0
    assert demo.read_bytes() == raw + b'\r\n[muster]\r\nabsent = ["Pell"]\r\n'


def test_a_muster_that_was_wrong_is_mended(call: Call, demo: Path) -> None:
    demo.write_text(demo.read_text("utf-8") + '[muster]\nabsent = ["Nobody"]\n', encoding="utf-8")
    assert call("check", demo).code == 2
    assert call("muster", demo, "--absent", "Pell").code == 0
    assert read_plan(demo).squadrons["amber"].absent == ("Pell",)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--absent", "Pel"), "nobody on the rosters is called Pel. Did you mean Pell?"),
        (("--present", "Vane, Zzz"), "nobody on the rosters is called Zzz. There are Vane, Pell, "),
        (("--present", "Vane", "--absent", "Pell"), "say who turned up: "),
        (("--present", "Vane", "--everyone"), "say who turned up: "),
        ((), "say who turned up: "),
        (("--absent", " , "), "--absent names nobody. "),
        (("--absent", "Vane,Pell,Orme,Lusk,Hale,Dray,Moss,Finch"), ": squadrons: nobody is left to fly: "),
    ],
)
def test_what_cannot_be_is_told_and_the_file_stays(
    call: Call, demo: Path, arguments: tuple[str, ...], said: str
) -> None:
    before = (demo.read_bytes(), sorted(demo.parent.iterdir()))
    outcome = call("muster", demo, *arguments)
    assert (outcome.code, outcome.out) == (2, "")
    assert said in outcome.err
    assert (demo.read_bytes(), sorted(demo.parent.iterdir())) == before


def test_a_plan_wrong_elsewhere_is_told_with_the_lines_it_has(call: Call, demo: Path) -> None:
    text = '[muster]\nabsent = [\n  "Vane",\n  "Pell",\n]\n' + demo.read_text("utf-8")
    head, rest = text[: text.index("# The demo")], text[text.index("# The demo") :]
    rest = rest.replace("[place]", head + "[place]", 1).replace('"16 kt"', '"16"')
    demo.write_text(rest, encoding="utf-8")
    outcome = call("muster", demo, "--absent", "Orme")
    line = rest[: rest.index("base_speed")].count("\n") + 1
    assert outcome.code == 2
    assert outcome.err.startswith(f"{demo}:{line}: ship.base_speed")
    assert demo.read_text("utf-8") == rest


def test_a_plan_without_a_roster_has_nobody_to_muster(call: Call, tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text("format = 1\n", encoding="utf-8")
    assert "no roster with names" in call("muster", plan, "--absent", "Vane").err
    assert "no such file" in call("muster", tmp_path / "none.toml", "--everyone").err
