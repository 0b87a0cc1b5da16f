"""Reading [ashore]: the runway on which the ship's deck is marked out for practice. A plan need not have it.

Without a runway's direction it lies into the surface wind; in a calm, along the ship's base course.
"""

from __future__ import annotations

import math

from roundown.catalog.keys import Key, word_key
from roundown.catalog.load import GIVEN_IN_PLAN, read_keys
from roundown.documents import Document
from roundown.errors import Complaint
from roundown.figures import Given, Origin, given_number
from roundown.quantities import FOOT, HEIGHT_OVER_SEA, TRUE_DIRECTION

ASHORE_KEYS = (
    word_key("name", "what the field is called", needed=False),
    Key(
        "runway", (TRUE_DIRECTION,), 'true direction of landing, as in "140"; else into the surface wind', needed=False
    ),
    Key(
        "height",
        (HEIGHT_OVER_SEA,),
        "height of the field",
        low=-100.0 * FOOT,
        high=3000.0 * FOOT,
        default="20 ft over sea",
    ),
)
INTO_WIND = "into the surface wind, since the plan names no runway"
ALONG_BASE = "along the ship's base course, since it is calm and the plan names no runway"
LONGEST_NAME = 60  # letters


def read_ashore(document: Document, givens: dict[str, Given]) -> tuple[dict[str, Given], list[Complaint]]:
    """The field by key, ashore.*, and what is wrong with the table.

    givens : those of the plan read so far, for the wind; the runway is left out where they lack it
    """
    values, complaints = read_keys(document, ("ashore",), document.data.get("ashore", {}), ASHORE_KEYS, GIVEN_IN_PLAN)
    name = values.get("name")
    if name is not None and len(name.word) > LONGEST_NAME:
        limit = f"at most {LONGEST_NAME} letters, not {len(name.word)}"
        complaints.append(document.complain(name.origin.path, f'"{name.word[:20]}..."', limit, "Shorten it"))
    if "runway" not in values:
        calm = "weather.wind_speed" in givens and givens["weather.wind_speed"].value == 0.0
        taken = givens.get("ship.base_course" if calm else "weather.wind_from")
        if taken is not None:
            origin = Origin(taken.origin.file, taken.origin.path, ALONG_BASE if calm else INTO_WIND)
            values["runway"] = given_number(taken.value % math.tau, TRUE_DIRECTION, origin)
    return {f"ashore.{key}": given for key, given in values.items()}, complaints
