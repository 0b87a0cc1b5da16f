"""Whether kernels are compiled.

Kernels are plain scalar Python. A heavy command calls `enable()` before the first kernel module is imported; from then
on `compiled` hands kernels to numba, where the extra [fast] is installed. Otherwise it hands them back unchanged, so a
light command never pays for numba. Plain and compiled kernels give the same path to 1e-9 m (tests/motion/test_jit.py).
"""

from __future__ import annotations

import importlib.util
import os
import sys
from collections.abc import Callable
from typing import ParamSpec, TypeVar

_Arguments = ParamSpec("_Arguments")
_Result = TypeVar("_Result")
KERNELS = ("roundown.motion.equations.kernel", "roundown.motion.equations.wing", "roundown.motion.kernel")
_state = {"on": False}


def enable() -> bool:
    """Ask for compiled kernels from here on.

    Returns True when they will be compiled, False when numba is not installed.
    Raises RuntimeError if a kernel module was imported before: it would stay plain without a word.
    """
    if importlib.util.find_spec("numba") is None:
        return False
    if too_late():
        raise RuntimeError(f"enable() must be called before {' or '.join(KERNELS)} is imported")
    if not _state["on"]:
        from platformdirs import user_cache_path

        from roundown import __version__

        os.environ.setdefault("NUMBA_CACHE_DIR", str(user_cache_path("roundown") / f"kernels-{__version__}"))
    _state["on"] = True
    return True


def too_late() -> bool:
    """Whether kernels stand plain already, so that `enable()` would raise."""
    return not _state["on"] and any(name in sys.modules for name in KERNELS)


def compiled(function: Callable[_Arguments, _Result]) -> Callable[_Arguments, _Result]:
    """The kernel compiled if `enable()` was called, else the kernel itself."""
    if not _state["on"]:
        return function
    from numba import njit

    made: Callable[_Arguments, _Result] = njit(cache=True)(function)
    return made
