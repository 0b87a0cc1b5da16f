"""Rules for all tests, and compiled kernels for those that run in these processes.

Commands are tested in processes of their own, with plain kernels unless they ask for others; that plain and compiled
ones agree is held by tests/motion/test_jit.py and its like. Hypothesis has no deadline: the first example compiles, and
how busy the machine is says nothing about the program.
"""

from __future__ import annotations

import pytest
from hypothesis import settings

from roundown.motion import jit

jit.enable()
settings.register_profile("roundown", deadline=None)
settings.load_profile("roundown")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A test marked published must name its source in its docstring."""
    for item in items:
        text = getattr(getattr(item, "function", None), "__doc__", None) or ""
        if item.get_closest_marker("published") and "Source:" not in text:
            raise pytest.UsageError(f"{item.nodeid}: marked published, but no 'Source:' line in its docstring")
