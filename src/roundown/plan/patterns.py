"""Patterns of the texts a plan takes, for the JSON Schema: each lets through every text that is read, and few others.

*Holds for:* what can be seen from the shape of a text. Limits, order of a range and days of a month are the reader's.
"""

from __future__ import annotations

import re

from roundown import quantities as q
from roundown.quantities import Kind, spellings

_SIGN = "[+\N{MINUS SIGN}-]"
_NUMBER = rf"{_SIGN}?[\d,.]+"
_TURN = r"\d{1,2}(\s+\d{1,2}(\.\d+)?)?"
_CLOCK = r"\d{1,2}:\d{2}(:\d{2})?"
_DAYS = rf"(\s+(next\s+day|day\s+before|{_SIGN}\d{{1,3}}\s+days))?"

TEXT = r"\S"
POSITION = rf"^\s*{_TURN}\s*[NS][\s,]+\d{{1,3}}(\s+\d{{1,2}}(\.\d+)?)?\s*[EW]\s*$"
DATE = r"^\d{4}-?(\d{2}-?\d{2}|W\d{2}(-?\d)?)$"
TIME = r"^T?\d{2}[\d:.,]*(Z|[+-][\d:.]+)?$"
ZONE = rf"^\s*([Zz]|{_SIGN}\d{{1,2}}:\d{{2}}|ZD\s*{_SIGN}\d{{1,2}}(:\d{{2}})?)\s*$"
WHEN = (
    rf"^\s*({_CLOCK}{_DAYS}|[A-Za-z][A-Za-z\s]*({_SIGN}\s*(\d+(\.\d+)?\s*h)?\s*(\d+(\.\d+)?\s*min)?"
    rf"\s*(\d+(\.\d+)?\s*s)?)?)\s*$"
)
HEADING = r"^([0-2]\d|3[0-5])\d$"
WHOLE_TO_30 = r"^0*([1-9]|[12]\d|30)$"


def wind_pattern() -> str:
    """Pattern of a wind such as "070/12 kt", or "calm"."""
    return rf"^\s*([Cc][Aa][Ll][Mm]|\d{{3}}(\.\d+)?\s*/\s*{_NUMBER}\s*{_units(q.WIND_SPEED)})\s*$"


def kind_pattern(*kinds: Kind, band: bool = False) -> str:
    """Pattern of a text of one of some kinds. band : whether a range is allowed."""
    return rf"^\s*({'|'.join(_one(kind, band=band) for kind in kinds)})\s*$"


def _one(kind: Kind, *, band: bool) -> str:
    if kind is q.CLOCK_TIME:
        return _CLOCK + _DAYS
    if kind in (q.TRUE_DIRECTION, q.MAGNETIC_DIRECTION, q.COCKPIT_DIRECTION):
        return rf"\d{{3}}(\.\d+)?\s*(degrees?|deg|°)?\s*{_words(kind)}"
    other = rf"(\s*(-|\N{{EN DASH}}|\N{{MINUS SIGN}}|to)\s*{_NUMBER})?" if band else ""
    short = r"|[PpSs]\s*\d+(\.\d+)?" if kind is q.OFF_BOW else ""
    return rf"{_NUMBER}{other}\s*{_units(kind)}\s*{_words(kind)}{short}"


def _units(kind: Kind) -> str:
    units = [re.escape(unit).replace(r"\ ", " ") for unit in sorted(spellings(kind), key=len, reverse=True) if unit]
    return f"({'|'.join(units)})" + ("?" if kind.dimension == "ratio" else "") if units else ""


def _words(kind: Kind) -> str:
    if not kind.words:
        return ""
    return f"({'|'.join(re.escape(word).replace(chr(92) + ' ', ' ') for word in kind.words)})" + (
        "" if kind.word_needed else "?"
    )
