"""Rules for all tests."""

from __future__ import annotations

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A test marked published must name its source in its docstring."""
    for item in items:
        text = getattr(getattr(item, "function", None), "__doc__", None) or ""
        if item.get_closest_marker("published") and "Source:" not in text:
            raise pytest.UsageError(f"{item.nodeid}: marked published, but no 'Source:' line in its docstring")
