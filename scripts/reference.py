"""Write docs/reference/plan-file.md from the tables of keys: `python scripts/reference.py`. A test holds it current."""

from __future__ import annotations

import sys
from pathlib import Path

from roundown.catalog.emergencies import EMERGENCY_KEYS
from roundown.catalog.lessons import LESSON_KEYS
from roundown.catalog.lists import SIGN_KEYS, STEP_KEYS, WORD_KEYS
from roundown.catalog.load import example_of
from roundown.catalog.types import TABLES, Key
from roundown.plan.ashore import ASHORE_KEYS
from roundown.plan.schema import (
    CHANNEL_KEYS,
    COMPANY_KEYS,
    EVENT_KEYS,
    HOME_KEYS,
    LOADING_KEYS,
    PIN_KEYS,
    SEAT_KEYS,
    SECTIONS,
    SQUADRON_KEYS,
    WIND_KEYS,
)

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

WHO = """\
Who flies stands as `aeroplanes = { blue = 4 }`, the next so many of a squadron's roster, or as `seats = ["11", "12"]`
by side number. A time is by the ship's clock (`"17:25"`, `"01:20 next day"`), or counted from the sun or the moon
(`"sunset - 75 min"`: the first one after the datum time), or from an earlier time of the same event
(`"launch + 1 h 30 min"`)."""
LOADING = """\
`loading = { blue = { fuel = "900 lb", stores = "0 lb" } }` says by squadron what stands above for all, and goes before
it. Power is given as a part or by manifold pressure, not both."""
SPOTS = """\
`spots = { "11" = { ahead = "120 ft", port = "-10 ft" } }` pins an aeroplane to a place on deck by its side number; the
others are packed round it. Each has:"""
CATAPULT = """\
`catapult = ["11", "12"]`: side numbers of those that are shot off, where the ship has `catapult.speed`."""
HOME = """\
`home = { "12" = { fuel = "380 lb", trouble = "hook" } }`: in what state an aeroplane comes home, by side number; it
goes before `fuel_home`. Each has:"""
MUSTER = """\
`present = ["Pell", "Orme"]` or `absent = ["Vane"]`: names of the rosters. As many seats are flown as people turned up,
those of the roster's front; whoever has such a seat keeps it, the others move up, leaders' seats first."""
CHECKLISTS = """\
`label`, and lists `[[checklists.NAME.start]]`, `before_take_off`, `after_take_off`, `landing` and `after_landing` of
steps; a type names its checklists."""
EMERGENCIES = """\
`source` and `[[emergencies.NAME.list]]`, one for each emergency; a doctrine names the set. Its `steps` are a list, each
with `who` (pilot, leader, signal officer, ship, plane guard), `do` and `source`."""
LESSONS = """\
`source` and `[[lessons.NAME.list]]`, one for each lesson in the order they are flown; a doctrine names the ladder. Its
`look` is a list of one to four texts: what to look at."""
SEA_ROOM = """\
`corners = ["31 00 S 006 00 W", ...]`: three or more corners, in order round the water she must keep to."""


def rows(keys: tuple[Key, ...]) -> list[str]:
    """Lines of a table for some keys."""
    lines = ["| key | meaning | written as | |", "|---|---|---|---|"]
    for key in keys:
        written = " or ".join(f'`"{example_of(key, kind)}"`' for kind in key.kinds)
        if key.by is not None:
            written = f'`{{ "{key.by.example}" = "{example_of(key)}" }}`'
        if key.choices:
            written = " or ".join(f'`"{choice}"`' for choice in key.choices)
        notes = [
            "range allowed" if key.band else "",
            "" if key.needed and not key.default else "may be left out",
            f"else `{key.default}`" if key.default else "",
        ]
        lines.append(
            f"| `{key.name}` | {key.meaning} | {written or 'text'} | {'; '.join(note for note in notes if note)} |"
        )
    return lines


def page() -> str:
    """The whole page."""
    lines = [HEAD]
    for section, keys in SECTIONS.items():
        lines += [f"## [{section}]", "", *rows(keys), ""]
        if section == "weather":
            lines += [
                "`winds` is a list of winds by height, from above 10 m upward, each with:",
                "",
                *rows(WIND_KEYS),
                "",
            ]
        if section == "cockpit":
            lines += ['`deviation`, needed for compass headings: `{ "000" = "2 deg E", "090" = "1 deg W" }`.', ""]
        if section == "radio":
            lines += ["`channels` is a list, each with:", "", *rows(CHANNEL_KEYS), ""]
    lines += ["## [[company]]", "", "Each ship in company with the guide.", "", *rows(COMPANY_KEYS), ""]
    lines += ["## [squadrons.NAME]", "", *rows(SQUADRON_KEYS), ""]
    lines += ["`roster` is a list of seats in order of precedence, each with:", "", *rows(SEAT_KEYS), ""]
    lines += ["## [[event]]", "", *rows(EVENT_KEYS), "", WHO, ""]
    lines += [LOADING, "", *rows(LOADING_KEYS), "", SPOTS, "", *rows(PIN_KEYS), "", CATAPULT, ""]
    lines += [HOME, "", *rows(HOME_KEYS), ""]
    lines += ["## [muster]", "", MUSTER, "", "## [sea_room]", "", SEA_ROOM, ""]
    lines += [
        "## [ashore]",
        "",
        "The runway the ship's deck is marked out on, for practice.",
        "",
        *rows(ASHORE_KEYS),
        "",
    ]
    for table, keys in TABLES.items():
        lines += [f"## [{table}.NAME]", "", *rows(keys), ""]
    for heading, text, keys in (
        ("[checklists.NAME]", CHECKLISTS, STEP_KEYS),
        ("[signs.NAME]", "`label` and `[[signs.NAME.list]]`, one for each sign; a doctrine names the set.", SIGN_KEYS),
        ("[words.NAME]", "`label` and `[[words.NAME.list]]`, one for each word; a doctrine names the set.", WORD_KEYS),
        ("[emergencies.NAME]", EMERGENCIES, EMERGENCY_KEYS),
        ("[lessons.NAME]", LESSONS, LESSON_KEYS),
    ):
        lines += [f"## {heading}", "", text, "", *rows(keys), ""]
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
