"""The plan on the table: a file that other editors may change too, or a text that has no file yet."""

from __future__ import annotations

import hashlib
import threading
from dataclasses import dataclass
from pathlib import Path

from roundown.documents import GREATEST_SIZE, open_document
from roundown.errors import Complaint, RoundownError
from roundown.exports.files import write_file

ENDING = ".toml"
DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{i}" for port in ("com", "lpt") for i in range(1, 10))}


class Refused(RoundownError):  # noqa: N818 - a refusal is an answer
    """The file is not written. found : what stands on disk instead."""

    def __init__(self, sentence: str, found: OnDisk) -> None:
        super().__init__(sentence)
        self.found = found


@dataclass(frozen=True)
class OnDisk:
    """What stands on disk. file : as named, "" for none yet; text : of it; hash : of its bytes, "" where there is none.

    problem : why it cannot be read, "" when it can
    """

    file: str
    text: str
    hash: str
    problem: str = ""


class PlanFile:
    """A plan's file, written only when nobody else changed it since it was read.

    path : of the file, None for none yet; text : of a plan that has none
    """

    def __init__(self, path: Path | None, text: str) -> None:
        self.path, self._unsaved = path, text
        self._lock = threading.Lock()

    def read(self) -> OnDisk:
        """What stands on disk now; the unsaved text where there is no file yet."""
        if self.path is None:
            return OnDisk("", self._unsaved, "")
        return _read(self.path)

    def save(self, text: str, known: str) -> OnDisk:
        """Write the text, if the file on disk is still the one known by its hash, or is gone.

        Line ends stay as they were in the file. Raises Refused, and RoundownError when it cannot be written.
        """
        with self._lock:
            if self.path is None:
                raise RoundownError("The plan has no file yet. Give it a name.")
            now = self.read()
            if now.hash not in {"", known}:
                raise Refused("The file was changed by another program since it was read. Nothing was written.", now)
            return _write(self.path, text)

    def save_as(self, text: str, name: str) -> OnDisk:
        """Write the text into a new file of this folder, which is the plan's file from then on.

        name : of the file, without a folder. Raises Refused for one that is there, RoundownError for no name.
        """
        with self._lock:
            plain = name.strip()
            if not _is_name(plain):
                raise RoundownError("That is no name for a file in this folder. Write for example evening.toml.")
            path = Path(plain if plain.endswith(ENDING) else plain + ENDING)
            if path.exists():
                raise Refused(f"{path} is there already. Choose another name.", self.read())
            found = _write(path, text)
            self.path = path
            return found


def _is_name(name: str) -> bool:
    """Whether a text names a file in this folder on any system: no sign that parts paths, no device, not too long."""
    if (
        not name
        or not name.isprintable()
        or name.startswith(".")
        or name.endswith(".")
        or len(name) > 100
        or len(name.encode()) > 200
    ):
        return False
    return not set(name) & set('<>:"/\\|?*') and name.split(".", maxsplit=1)[0].strip().lower() not in DEVICES


def _read(path: Path) -> OnDisk:
    raw, text = b"", ""
    try:
        there = path.exists()
        if path.is_file() and path.stat().st_size <= GREATEST_SIZE:
            raw = path.read_bytes()
            text = raw.decode("utf-8-sig").replace("\r\n", "\n")
    except (OSError, UnicodeDecodeError):
        there = True
    mark = hashlib.sha256(raw).hexdigest() if there else ""
    document = None if text.strip() else open_document(path)
    problem = f"{document.limit}. {document.remedy}." if isinstance(document, Complaint) else ""
    return OnDisk(str(path), text, mark, problem)


def _write(path: Path, text: str) -> OnDisk:
    ends = "\r\n" if path.is_file() and b"\r\n" in path.read_bytes() else "\n"
    write_file(path, text.replace("\r\n", "\n").replace("\n", ends).encode())
    return _read(path)
