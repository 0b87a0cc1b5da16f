"""Running a command in this process."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

import pytest

from roundown.cli.main import run


@dataclass(frozen=True)
class Outcome:
    """How a command ended: exit code, answer stream, error stream."""

    code: object
    out: str
    err: str


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Callable[..., Outcome]:
    """Runs `roundown` with the arguments given; nothing but its own exit may come out of it."""

    def command(*arguments: str | Path) -> Outcome:
        capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            run([str(argument) for argument in arguments])
        captured = capsys.readouterr()
        assert "Traceback" not in captured.err
        return Outcome(ended.value.code, captured.out, captured.err)

    return command


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """The demo plan in a folder of its own."""
    file = tmp_path / "demo.toml"
    file.write_bytes(resources.files("roundown.plan").joinpath("demo.toml").read_bytes())
    return file
