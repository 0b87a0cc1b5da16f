"""`roundown schema`: the JSON Schema of plan and catalog files, for an editor that completes and checks."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


def schema(
    *,
    output: Annotated[
        Path | None, Parameter(name=["-o", "--output"], help="File to write; otherwise it is shown.")
    ] = None,
) -> int:
    """Show the JSON Schema of plan and catalog files, or write it for an editor of TOML.

    With it beside the plan, and #:schema roundown.schema.json as the plan's first line, such an editor offers the keys
    with what they mean, and marks what will not be read.
    """
    from roundown.catalog.lists import builtin_lists
    from roundown.catalog.load import builtin_catalog
    from roundown.exports.files import write_file
    from roundown.plan.json_schema import plan_schema

    text = json.dumps(plan_schema(builtin_catalog(), builtin_lists()), indent=1, ensure_ascii=False) + "\n"
    if output is None:
        print(text, end="")
        return 0
    write_file(output, text.encode())
    print(f"Written to {output}. First line of a plan beside it: #:schema {output.name}")
    return 0
