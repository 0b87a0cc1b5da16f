"""`roundown rehearse`: a pass with a stated error as a recording, written whole or not at all."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]


def rows(file: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(file.read_text("utf-8"))))


def flown(file: Path) -> list[dict[str, str]]:
    return [row for row in rows(file) if row["track_id"] != "ship"]


def test_a_rehearsal_is_a_recording_of_ship_and_aeroplane(call: Call, demo: Path) -> None:
    """Ship at 1 Hz, aeroplane at 10 Hz, each row with its instant; own count of the rows."""
    file = demo.parent / "new" / "pass.csv"
    outcome = call("rehearse", demo, "--csv", file)
    assert outcome.code == 0
    assert outcome.out.startswith(f"Written to {file}: the aeroplane as track 1 at 10 Hz, the ship at 1 Hz; ")
    recording = rows(file)
    assert {row["track_id"] for row in recording} == {"ship", "1"}
    times = [row["time_utc"] for row in recording]
    assert times == sorted(times)
    assert all(time.startswith("1949-03-17T17:") and time.endswith("Z") for time in times)
    assert len(flown(file)) == pytest.approx(10 * (len(recording) - len(flown(file))), abs=20)
    assert [entry.name for entry in file.parent.iterdir()] == ["pass.csv"]


def test_a_late_turn_in_is_flown_late(call: Call, demo: Path) -> None:
    """Constructed: four seconds late, the bank of the final turn comes on four seconds later."""
    on_time, late = demo.parent / "a.csv", demo.parent / "b.csv"
    assert call("rehearse", demo, "--csv", on_time).code == 0
    assert call("rehearse", demo, "--csv", late, "--late", "4 s").code == 0
    first, second = flown(on_time), flown(late)
    until = next(i for i, (one, other) in enumerate(zip(first, second, strict=False)) if one != other)
    assert 0 < until < len(first) - 50
    assert first[: until - 1] == second[: until - 1]
    assert all(abs(float(row["bank_deg"])) < 1.0 for row in second[until : until + 35])
    assert abs(float(first[until + 35]["bank_deg"])) > 10.0


def test_early_and_shallower_are_written_with_a_sign(call: Call, demo: Path) -> None:
    """As the help says; the sign was once taken for another option."""
    file = demo.parent / "pass.csv"
    outcome = call("rehearse", demo, "--csv", file, "--late", "-3 s", "--bank-error", "-3 deg")
    assert outcome.code == 0, outcome.err
    assert "turn-in 3.0 s early, bank 3.0 deg less." in outcome.out


@pytest.mark.parametrize(
    ("option", "text", "says"),
    [
        ("--late", "4", "--late = 4: a time needs its unit: s, min, h."),
        ("--late", "4 deg", "--late = 4 deg: unit 'deg' does not fit a time"),
        ("--late", "nan s", "--late = nan s: not a time."),
        ("--bank-error", "3 s", "--bank-error = 3 s: unit 's' does not fit an angle"),
        ("--bank-error", "steep", "--bank-error = steep: not an angle."),
    ],
)
def test_an_error_that_is_none_is_refused_and_nothing_written(
    call: Call, demo: Path, option: str, text: str, says: str
) -> None:
    outcome = call("rehearse", demo, "--csv", demo.parent / "pass.csv", option, text)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(says)
    assert [entry.name for entry in demo.parent.iterdir()] == ["demo.toml"]


def test_a_day_without_a_circuit_has_nothing_to_rehearse(call: Call, demo: Path) -> None:
    no_circuit = '\n[override.circuit]\nupwind_offset = "2000 yd"\ngreatest_bank = "10 deg"\n'
    demo.write_text(demo.read_text("utf-8") + no_circuit, encoding="utf-8")
    outcome = call("rehearse", demo, "--csv", demo.parent / "pass.csv")
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(f"{demo}: there is no circuit to fly: ")
    assert [entry.name for entry in demo.parent.iterdir()] == ["demo.toml"]


def test_a_recording_that_cannot_be_written_keeps_the_last_one(
    call: Call, demo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = demo.parent / "pass.csv"
    file.write_bytes(b"last week")

    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    outcome = call("rehearse", demo, "--csv", file)
    assert (outcome.code, outcome.out) == (2, "")
    assert "cannot be written: No space left on device" in outcome.err
    assert file.read_bytes() == b"last week"
    assert sorted(entry.name for entry in demo.parent.iterdir()) == ["demo.toml", "pass.csv"]
