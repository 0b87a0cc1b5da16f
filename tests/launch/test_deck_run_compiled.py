"""Compiled and plain runs, in processes of their own: the choice is made once, before the first import."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

RUNS = """
import sys
from roundown.motion import jit
if sys.argv[1] == "compiled":
    assert jit.enable()
import numpy as np
from roundown.launch import kernel
assert hasattr(kernel.run, "py_func") == (sys.argv[1] == "compiled")
wing = (27.5, 4.42, -0.037, 0.61, 1.42, 1.98, 0.72, 0.0235, 0.019, 0.062, 0.0755)
load = (4890.0, 0.5, 0.76, 0.03, 0.22, 0.042, 0.0, 953.0e3, 11.2, 27.0, 43.0, 0.0, 0.0, 0.0)
deck = (15.0, 1.5, 110.0, 1.22, 0.0, 0.01, 0.7, 1.0)
rows = np.full((1300, kernel.COLUMNS), -1.0)
outcome = kernel.run(load, wing, deck, rows)
draws = np.linspace([-3.0, 2.0, 0.9, 1.1, 0.0], [3.0, -2.0, 1.1, 0.9, 6.0], 9)
margins = np.empty(9)
kernel.margins_of(draws, load, wing, deck, margins)
np.save(sys.argv[2], np.concatenate([np.array(outcome), rows.ravel(), margins]))
"""


@pytest.mark.skipif(importlib.util.find_spec("numba") is None, reason="numba is an extra")
def test_plain_and_compiled_runs_agree(tmp_path: Path) -> None:
    """Second method: the kernel as it stands and compiled, to 1e-9 m and a part in 1e10."""
    found = []
    for way in ("plain", "compiled"):
        file = tmp_path / f"{way}.npy"
        subprocess.run(  # noqa: S603 - runs what stands in this file
            [sys.executable, "-c", RUNS, way, str(file)],
            env={**os.environ, "NUMBA_CACHE_DIR": str(tmp_path)},
            check=True,
            timeout=180,
        )
        found.append(np.load(file))
    np.testing.assert_allclose(found[0], found[1], rtol=1e-10, atol=1e-9)
