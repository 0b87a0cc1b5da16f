"""`roundown type`: what the numbers of one type come to, to tune it by."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any

from cyclopts import App, Parameter

from roundown import CAUTION
from roundown.catalog.types import Catalog
from roundown.errors import Complaint, PlanError, RoundownError
from roundown.figures import Figure, figures_of
from roundown.quantities import FOOT, INDICATED_SPEED, LENGTH, PRESSURE, plain, write

app = App(
    name="type", help="What a type's numbers come to: stalls, climb, run, limits; or fit it.", help_format="plaintext"
)
app.command(
    "roundown.cli.type_fit:fit", name="fit", help="Fit a type to what was measured of a machine in the simulator."
)


@app.default
def report(
    name: str,
    *,
    plan: Annotated[Path | None, Parameter(help="A plan or catalog file with types of your own.")] = None,
    as_json: Annotated[bool, Parameter(name="--json", help="Answer in JSON.", negative="")] = False,
) -> int:
    """Say what a type's numbers come to: stalls, level speed, climb, deck run, limits on the brakes, what is missing.

    Parameters
    ----------
    name
        The type, as its table is called.

    """
    from roundown.catalog.load import find_entry
    from roundown.catalog.types import Entry
    from roundown.launch.type_report import type_report

    entry = find_entry(catalog_with(plan), "types", name)
    if not isinstance(entry, Entry):
        raise RoundownError(f"{name}: {entry[0]}. {entry[1]}.")
    found = type_report(entry.values)
    figures = list(figures_of(found))
    if as_json:
        said = {
            each.key: {
                "value": None if each.value is None else plain(each.value, each.how.kind, 6),
                "unit": each.how.kind.unit,
                "means": each.how.sentence,
                "method": each.how.method,
            }
            for each in figures
        }
        answer: dict[str, Any] = {"type": name, "label": entry.label, "figures": said, "missing": found.absent}
        print(json.dumps(answer, indent=1, ensure_ascii=False))
        return 0
    print(f"{name}: {entry.label}. Sea level, standard day.")
    for line in _table(found.weights):
        print(line)
    if found.braked is not None:
        print("At full weight in a calm, braked, stick right back:")
        for each in figures_of(found.braked):
            print(f"  {each.how.sentence:75} {_shown(each):>9}")
    for part, keys in found.absent.items():
        print(f"Missing for {part}: {', '.join(keys)}.")
    print(CAUTION)
    return 0


def catalog_with(plan: Path | None) -> Catalog:
    """The built-in catalog with the tables of a plan and of the catalog files it names. Raises PlanError."""
    from roundown.catalog.load import GIVEN_IN_PLAN, add_entries, builtin_catalog
    from roundown.documents import open_document

    catalog = builtin_catalog()
    if plan is None:
        return catalog
    document = open_document(plan)
    if isinstance(document, Complaint):
        raise PlanError([document])
    complaints: list[Complaint] = []
    named = document.data.get("catalog", [])
    for each in named if isinstance(named, list) else []:
        other = open_document(plan.parent / str(each))
        complaints += [other] if isinstance(other, Complaint) else add_entries(catalog, other, "")
    complaints += add_entries(catalog, document, GIVEN_IN_PLAN)
    if complaints:
        raise PlanError(complaints)
    return catalog


def _table(weights: Mapping[str, Any]) -> list[str]:
    """Lines of a table: a figure a row, a load a column. weights : results by load."""
    columns = [list(figures_of(at)) for at in weights.values()]
    rows = [(row[0].how.sentence, *(_shown(each) for each in row)) for row in zip(*columns, strict=True)]
    return [f"  {first:50}" + "".join(f" {text:>13}" for text in rest) for first, *rest in [("", *weights), *rows]]


def _shown(figure: Figure) -> str:
    """A figure with its unit, as finely as one tunes by."""
    if figure.value is None:
        return "none"
    kind = figure.how.kind
    finely = kind in (PRESSURE, INDICATED_SPEED) or (kind is LENGTH and figure.value < 10.0 * FOOT)
    return write(figure.value, kind, decimals=1 if finely else None)
