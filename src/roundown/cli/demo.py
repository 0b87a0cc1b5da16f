"""`roundown demo`: an invented day, briefed in one command."""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


def demo(
    *,
    output: Annotated[
        Path | None,
        Parameter(name=["-o", "--output"], help="Folder to write into; else roundown-demo, or roundown-larger."),
    ] = None,
    larger: Annotated[
        bool, Parameter(help="The larger day: two carriers, three types, before dawn.", negative="")
    ] = False,
) -> int:
    """Write the demo plan, solve it and brief it: cards, and brief.html to open in a browser.

    Ship, aeroplane, people and waters are invented. Edit the plan it writes and brief it again.
    """
    from roundown.cli.brief import progress, write_brief
    from roundown.exports.files import write_files

    output = output or Path("roundown-larger" if larger else "roundown-demo")
    progress("writing the demo plan")
    name = "larger.toml" if larger else "demo.toml"
    plan = output / name
    if not plan.exists():
        write_files(output, {name: resources.files("roundown.plan").joinpath(name).read_bytes()})
    code = write_brief(plan, output, 1200)
    print(f"The plan is {plan}: change a wind or a weight, then `roundown brief {plan} -o {output}`.")
    return code
