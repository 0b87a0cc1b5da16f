"""Write docs/reference/plan-file.md from the tables of keys: `python scripts/reference.py`. A test holds it current."""

from __future__ import annotations

import sys
from pathlib import Path

from roundown.catalog.load import example_of
from roundown.catalog.types import TABLES, Key
from roundown.plan.schema import DEFAULTS, SECTIONS, WIND_KEYS

PAGE = Path(__file__).resolve().parent.parent / "docs" / "reference" / "plan-file.md"

HEAD = """\
# The plan file, key by key

Made from the program's own tables by `scripts/reference.py`; do not edit.

An air plan is TOML. It begins with `format = 1`; `title` and a list `catalog = ["file.toml"]` of catalog files beside
the plan may follow. A value is a text with its unit. Where a *range* is allowed, `"150-200 ft over sea"`, the aim is
its middle. In a catalog a value may name its source: `{ value = "65 ft over sea", source = "..." }`; a `source` at the
head of the file, or the plan itself, stands for those that do not.

A table `[override]` holds doctrine values to change, as `[override.circuit]`; a ship may bring her own as
`[ships.NAME.override.circuit]`, over which those of the plan go.
"""


def rows(keys: tuple[Key, ...], prefix: str) -> list[str]:
    """Lines of a table for some keys."""
    lines = ["| key | meaning | written as | |", "|---|---|---|---|"]
    for key in keys:
        written = " or ".join(f'`"{example_of(key, kind)}"`' for kind in key.kinds)
        if key.choices:
            written = " or ".join(f'`"{choice}"`' for choice in key.choices)
        default = DEFAULTS.get(f"{prefix}{key.name}")
        notes = [
            "range allowed" if key.band else "",
            "" if key.needed else "may be left out",
            f"else `{default}`" if default else "",
        ]
        lines.append(
            f"| `{key.name}` | {key.meaning} | {written or 'text'} | {'; '.join(note for note in notes if note)} |"
        )
    return lines


def page() -> str:
    """The whole page."""
    lines = [HEAD]
    for section, keys in SECTIONS.items():
        lines += [f"## [{section}]", "", *rows(keys, f"{section}."), ""]
        if section == "weather":
            lines += [
                "`winds` is a list of winds by height, from above 10 m upward, each with:",
                "",
                *rows(WIND_KEYS, ""),
                "",
            ]
        if section == "cockpit":
            lines += ['`deviation`, needed for compass headings: `{ "000" = "2 deg E", "090" = "1 deg W" }`.', ""]
    for table, keys in TABLES.items():
        lines += [f"## [{table}.NAME]", "", *rows(keys, ""), ""]
    return "\n".join(lines).rstrip() + "\n"


def main() -> int:
    """Write the page; with --check only say whether it is current."""
    if "--check" in sys.argv[1:]:
        return 0 if PAGE.is_file() and PAGE.read_text("utf-8") == page() else 1
    PAGE.parent.mkdir(parents=True, exist_ok=True)
    PAGE.write_text(page(), "utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
