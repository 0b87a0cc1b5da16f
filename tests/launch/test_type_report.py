"""What `roundown type` says of a type."""

from __future__ import annotations

from dataclasses import fields

import pytest

from roundown.catalog.load import builtin_catalog
from roundown.figures import figures_of, trace
from roundown.launch.type_report import AtWeight, OnTheBrakes, type_report

TYPES = {name: entry.values for name, entry in builtin_catalog()["types"].items()}


@pytest.mark.parametrize("name", TYPES)
def test_a_built_in_type_lacks_nothing(name: str) -> None:
    found = type_report(TYPES[name])
    assert found.absent == {}
    assert list(found.weights) == ["empty", "landing", "full"]
    assert found.braked is not None


@pytest.mark.parametrize("name", TYPES)
def test_weight_slows_the_climb_and_raises_every_stall(name: str) -> None:
    empty, landing, full = type_report(TYPES[name]).weights.values()
    for light, heavy in ((empty, landing), (landing, full)):
        assert light.stall_flap < heavy.stall_flap
        assert light.stall_clean < heavy.stall_clean
        assert (light.calm_run or 0.0) < (heavy.calm_run or 0.0)
        assert (light.climb_rate or 0.0) > (heavy.climb_rate or 0.0)
    # stalls go with the root of the weight
    assert full.stall_clean**2 / empty.stall_clean**2 == pytest.approx(full.weight / empty.weight)


def test_a_type_of_the_circuit_alone_is_reported_at_landing_weight() -> None:
    bare = {name: given for name, given in TYPES["brindle"].items() if not name.startswith("launch.")}
    found = type_report(bare)
    assert list(found.weights) == ["landing"]
    assert found.weights["landing"].stall_take_off is None
    assert found.weights["landing"].calm_run is None
    assert found.braked is None
    assert set(found.absent) == {"the deck run", "the settings", "the spot"}
    assert "launch.empty_weight" in found.absent["the deck run"]


def test_every_figure_is_declared_and_rests_on_keys_of_the_type() -> None:
    """Constructed: each declared input resolves."""
    found = type_report(TYPES["ottery"])
    figures = {each.key: each for each in figures_of(found)}
    givens = {f"type.{name}": given for name, given in TYPES["ottery"].items()}
    assert len(figures) == 3 * len(fields(AtWeight)) + len(fields(OnTheBrakes))
    for key, each in figures.items():
        if each.value is not None:
            assert trace(key, figures, givens), key
