"""The plan's file under the page: saved, changed by others, chosen between. Constructed cases, in a real browser."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.web.conftest import Opened

from roundown.errors import RoundownError
from roundown.web.plan_file import PlanFile, Refused

WIND, OTHER_WIND, THIRD_WIND = 'surface_wind = "140/11 kt"', 'surface_wind = "125/18 kt"', 'surface_wind = "150/14 kt"'
CONFLICT = "the server responded with a status of 409"


def test_control_and_s_saves_the_text_on_the_page(opened: Opened, plan: Path, demo_text: str) -> None:
    room = opened(plan)
    assert room.page.inner_text("#saved") == "saved"
    text = demo_text.replace(WIND, OTHER_WIND)
    room.write(text)
    assert room.page.inner_text("#saved") == "changed, not saved"
    room.page.keyboard.press("Control+s")
    room.page.get_by_text("saved", exact=True).wait_for()
    assert plan.read_text("utf-8") == text
    assert [entry.name for entry in plan.parent.iterdir()] == [plan.name]


def test_a_change_by_another_program_is_read_again_when_nothing_was_typed(
    opened: Opened, plan: Path, demo_text: str
) -> None:
    room = opened(plan)
    text = demo_text.replace(WIND, OTHER_WIND)
    plan.write_text(text, "utf-8")
    room.page.get_by_text("It was read again").wait_for()
    room.settled()
    assert room.page.input_value("#text") == text
    assert room.numbers() == {"2"}
    assert not room.page.locator("#choices").is_visible()


@pytest.mark.parametrize("choice", ["Take the text of the file", "Keep the text of this page"])
def test_a_change_on_both_sides_is_told_and_both_are_offered(
    opened: Opened, plan: Path, demo_text: str, choice: str
) -> None:
    room = opened(plan)
    ours, theirs = demo_text.replace(WIND, OTHER_WIND), demo_text.replace(WIND, THIRD_WIND)
    room.write(ours)
    plan.write_text(theirs, "utf-8")
    room.page.get_by_text("was changed too").wait_for()
    room.page.get_by_role("button", name=choice).click()
    room.settled()
    kept = theirs if choice.startswith("Take") else ours
    assert room.page.input_value("#text") == kept
    room.page.keyboard.press("Control+s")
    room.page.get_by_text("Saved to").wait_for()
    assert plan.read_text("utf-8") == kept


def test_saving_over_a_change_on_disk_is_refused_and_told(opened: Opened, plan: Path, demo_text: str) -> None:
    room = opened(plan)
    before = room.page.request.get(room.address + "/state").json()
    room.page.route("**/state", lambda route: route.fulfill(json=before))  # both happened within the same second
    for _ in range(2):  # none that the server answers is still under way
        with room.page.expect_response("**/state"):
            pass
    theirs = demo_text.replace(WIND, THIRD_WIND)
    plan.write_text(theirs, "utf-8")
    room.write(demo_text.replace(WIND, OTHER_WIND))
    room.page.keyboard.press("Control+s")
    room.page.get_by_text("Nothing was written").wait_for()
    assert room.page.get_by_role("button", name="Take the text of the file").is_visible()
    assert plan.read_text("utf-8") == theirs
    assert any(CONFLICT in fault for fault in room.faults)
    room.faults[:] = [fault for fault in room.faults if CONFLICT not in fault]


def test_the_demo_has_no_file_until_it_is_given_a_name(
    opened: Opened, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, demo_text: str
) -> None:
    monkeypatch.chdir(tmp_path)
    room = opened(None)
    assert room.page.inner_text("#file") == "The demo, without a file"
    room.page.keyboard.press("Control+s")
    room.page.get_by_text("Give the file a name first").wait_for()
    assert list(tmp_path.iterdir()) == []
    room.page.get_by_label("Name of the file").fill("my evening")
    room.page.keyboard.press("Enter")
    room.page.get_by_text("Saved to my evening.toml").wait_for()
    assert (tmp_path / "my evening.toml").read_text("utf-8") == demo_text
    assert room.page.inner_text("#file") == "my evening.toml"
    assert room.page.inner_text("#save") == "Save"


def test_line_ends_stay_as_they_were(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_bytes(b"\xef\xbb\xbfformat = 1\r\ntitle = 'A'\r\n")
    plan = PlanFile(file, "")
    found = plan.read()
    assert found.text == "format = 1\ntitle = 'A'\n"
    plan.save("format = 1\ntitle = 'B'\n", found.hash)
    assert file.read_bytes() == b"format = 1\r\ntitle = 'B'\r\n"


def test_a_file_that_is_gone_is_written_again_and_a_changed_one_is_not(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_text("format = 1\n", "utf-8")
    plan = PlanFile(file, "")
    known = plan.read()
    file.write_text("format = 2\n", "utf-8")
    with pytest.raises(Refused) as refused:
        plan.save("format = 3\n", known.hash)
    assert refused.value.found.text == "format = 2\n"
    file.unlink()
    assert plan.read().problem.startswith("there is no such file")
    plan.save("format = 3\n", known.hash)
    assert file.read_text("utf-8") == "format = 3\n"


@pytest.mark.parametrize("raw", [b"\xff\xfe\x00bad", b""], ids=["not text", "empty"])
def test_a_file_that_cannot_be_read_is_not_written_over_unseen(tmp_path: Path, raw: bytes) -> None:
    file = tmp_path / "plan.toml"
    file.write_text("format = 1\n", "utf-8")
    plan = PlanFile(file, "")
    known = plan.read()
    file.write_bytes(raw)
    assert plan.read().problem
    with pytest.raises(Refused):
        plan.save("format = 1\n", known.hash)
    assert file.read_bytes() == raw


@pytest.mark.parametrize("name", ["../up.toml", "/tmp/x.toml", "a\\b.toml", ".hidden", "", "x" * 101])  # noqa: S108
def test_a_new_file_is_made_in_this_folder_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(RoundownError, match="no name for a file"):
        PlanFile(None, "").save_as("format = 1\n", name)
    assert list(tmp_path.iterdir()) == []


def test_a_new_file_never_replaces_one_that_is_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.toml").write_text("mine", "utf-8")
    with pytest.raises(Refused, match="is there already"):
        PlanFile(None, "").save_as("format = 1\n", "a.toml")
    assert (tmp_path / "a.toml").read_text("utf-8") == "mine"
