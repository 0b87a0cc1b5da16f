"""`roundown`: the commands, and the one place where errors become sentences and exit codes."""

from __future__ import annotations

import sys

from cyclopts import App

from roundown import CAUTION, __version__
from roundown.errors import ComplaintsError, RoundownError

CANNOT = 2  # exit code: the input cannot be used

app = App(
    name="roundown",
    version=__version__,
    help=f"""Plan, check and brief a day of 1940s straight-deck carrier flying from one air plan file.

Start with `roundown demo`, or `roundown new` for a plan of your own.

{CAUTION}""",
    help_format="plaintext",
)
app.command("roundown.cli.demo:demo", name="demo", help="Write, solve and brief the demo evening, or the larger day.")
app.command("roundown.cli.new:new", name="new", help="Write a short plan of your own from seven numbers and the wind.")
app.command(
    "roundown.cli.check:check", name="check", help="Does the day work? Verdict, findings, and how a figure came about."
)
app.command(
    "roundown.cli.brief:brief", name="brief", help="Cards (PDF, PNG), brief.html and solution.json into a folder."
)
app.command("roundown.cli.serve:serve", name="serve", help="The plan on the table: a page that solves as you type.")
app.command(
    "roundown.cli.export:export", name="export", help="Track and times for other programs: GeoJSON, GPX, KML, ics, csv."
)
app.command(
    "roundown.cli.rehearse:rehearse",
    name="rehearse",
    help="Write the planned pass, or one with a stated error, as a recording.",
)
app.command(
    "roundown.cli.catalog:catalog", name="catalog", help="Ships, types and doctrines that come with the program."
)
app.command(
    "roundown.cli.type:app", name="type", help="What a type's numbers come to: stalls, climb, run, limits; or fit it."
)
app.command(
    "roundown.cli.launch:launch", name="launch", help="The launch: spots, runs, one take-off closely, a better spot."
)
app.command(
    "roundown.cli.practice:practice",
    name="practice",
    help="Cards to practise with: the marked runway, a ladder of lessons, emergencies.",
)
app.command("roundown.cli.diff:diff", name="diff", help="What a change of plan does to the day.")
app.command("roundown.cli.muster:muster", name="muster", help="Who turned up: seats everyone anew, in the plan.")
app.command("roundown.cli.schema:schema", name="schema", help="JSON Schema of the plan, for an editor that completes.")
app.command(
    "roundown.cli.reckon:app", name="reckon", help="Single sums: wind, turn, air, triangle, circuit, light and others."
)


def run(arguments: list[str] | None = None) -> None:
    """Run the command line; ends the process with 0, 1 (a stop was found) or 2 (the input cannot be used)."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
    try:
        code = app(arguments, result_action="return_value")
    except ComplaintsError as error:
        for complaint in error.complaints:
            print(complaint, file=sys.stderr)
        print(f"{len(error.complaints)} to mend; nothing was written.", file=sys.stderr)
        sys.exit(CANNOT)
    except RoundownError as error:
        print(error, file=sys.stderr)
        sys.exit(CANNOT)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except OSError as error:
        print(f"Cannot go on: {error.strerror or error}.", file=sys.stderr)
        sys.exit(CANNOT)
    except (KeyboardInterrupt, EOFError):  # at a question of `roundown new` the end of the input is a no
        print("Stopped; nothing was written.", file=sys.stderr)
        sys.exit(130)
    sys.exit(code if isinstance(code, int) else 0)
