"""Writing files so that nothing is left half written: a temporary file beside the target, then one rename."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from roundown.errors import RoundownError


class WriteError(RoundownError):
    """A file or folder that cannot be written."""


def write_file(path: Path, content: bytes) -> None:
    """Write one file, replacing what was there only when all of it is on disk. Raises WriteError."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".roundown-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(name).chmod(0o644)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        reason = error.strerror or str(error)
        raise WriteError(f"{path}: cannot be written: {reason}. Choose another folder with -o.") from error


def write_files(folder: Path, files: Mapping[str, bytes]) -> list[Path]:
    """Write files into a folder, which is made if need be; other files in it stay.

    Raises WriteError, before anything is written where a folder stands in the way.
    """
    if folder.exists() and not folder.is_dir():
        raise WriteError(f"{folder}: this is a file. Name a folder with -o.")
    paths = [folder / name for name in files]
    for path in paths:
        if path.is_dir():
            raise WriteError(f"{path}: a folder stands in the place of this file. Choose another folder with -o.")
    for path, content in zip(paths, files.values(), strict=True):
        write_file(path, content)
    return paths
