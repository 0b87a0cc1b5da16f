"""Files are replaced whole or not at all, and nothing else is left lying about."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any, Self

import pytest

from roundown.errors import RoundownError
from roundown.exports.files import WriteError, write_file, write_files


def contents(folder: Path) -> dict[str, bytes]:
    return {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A file of last week."""
    file = tmp_path / "brief.html"
    file.write_bytes(b"last week")
    return file


def fail(*_: Any, **__: Any) -> None:
    raise OSError(28, "No space left on device")


def test_a_file_is_written_and_written_again(tmp_path: Path) -> None:
    file = tmp_path / "new" / "folder" / "card.pdf"
    write_file(file, b"first")
    write_file(file, b"second")
    assert contents(tmp_path) == {"new/folder/card.pdf": b"second"}


def test_a_written_file_may_be_read_by_others(tmp_path: Path) -> None:
    write_file(tmp_path / "card.pdf", b"x")
    assert (tmp_path / "card.pdf").stat().st_mode & 0o444 == 0o444


@pytest.mark.parametrize("step", ["replace", "chmod"])
def test_a_failing_last_step_leaves_the_old_file_and_no_other(
    old: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    monkeypatch.setattr(Path, step, fail)
    with pytest.raises(WriteError, match=r"brief\.html: cannot be written: No space left on device\. Choose another"):
        write_file(old, b"this week")
    assert contents(old.parent) == {"brief.html": b"last week"}


def test_a_full_disk_leaves_the_old_file_and_no_other(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Full:
        """A file that takes nothing."""

        def __init__(self, handle: int) -> None:
            self.handle = handle

        def __enter__(self) -> Self:
            return self

        def __exit__(self, *_: object) -> None:
            os.close(self.handle)

        write = staticmethod(fail)

    monkeypatch.setattr("roundown.exports.files.os.fdopen", lambda handle, _: Full(handle))
    with pytest.raises(WriteError):
        write_file(old, b"this week")
    assert contents(old.parent) == {"brief.html": b"last week"}


def test_a_person_who_stops_it_keeps_the_old_file(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_file(old, b"this week")
    assert contents(old.parent) == {"brief.html": b"last week"}


def test_a_folder_that_takes_no_files_is_told(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def read_only(*_: Any, **__: Any) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("roundown.exports.files.tempfile.mkstemp", read_only)
    with pytest.raises(WriteError, match="Permission denied"):
        write_file(old, b"this week")
    assert contents(old.parent) == {"brief.html": b"last week"}


def test_a_file_where_a_folder_is_wanted_is_told(old: Path) -> None:
    with pytest.raises(WriteError, match=r"this is a file\. Name a folder with -o\."):
        write_files(old, {"brief.html": b"x"})
    with pytest.raises(WriteError, match="cannot be written"):
        write_file(old / "inside" / "card.pdf", b"x")
    assert contents(old.parent) == {"brief.html": b"last week"}


def test_a_folder_where_a_file_is_wanted_is_told(tmp_path: Path) -> None:
    (tmp_path / "card.pdf").mkdir()
    with pytest.raises(WriteError, match="cannot be written"):
        write_file(tmp_path / "card.pdf", b"x")
    assert [entry.name for entry in tmp_path.iterdir()] == ["card.pdf"]


def test_other_files_of_the_folder_stay(old: Path) -> None:
    paths = write_files(old.parent, {"a.pdf": b"a", "b.pdf": b"b"})
    assert [path.name for path in paths] == ["a.pdf", "b.pdf"]
    assert contents(old.parent) == {"brief.html": b"last week", "a.pdf": b"a", "b.pdf": b"b"}


def test_a_write_error_becomes_a_sentence_on_the_command_line() -> None:
    assert issubclass(WriteError, RoundownError)
