"""Reading the table [radio]: silence, lights, identification, channels."""

from __future__ import annotations

from roundown.catalog.load import GIVEN_IN_PLAN, read_keys
from roundown.documents import Document, KeyPath, shown
from roundown.errors import Complaint
from roundown.plan.facts import Channel, Radio
from roundown.plan.schema import CHANNEL_KEYS, RADIO_KEYS

MOST = 20  # channels


def read_radio(document: Document) -> tuple[Radio, list[Complaint]]:
    """The radio plan; empty where the plan gives none."""
    raw = document.data.get("radio", {})
    if not isinstance(raw, dict):
        return Radio(), [document.complain(("radio",), shown(raw), "a table is wanted here", "Write [radio]")]
    own = {key: value for key, value in raw.items() if key != "channels"}
    values, complaints = read_keys(document, ("radio",), own, RADIO_KEYS, GIVEN_IN_PLAN)
    words = {key: given.word for key, given in values.items()}
    rows = raw.get("channels", [])
    path: KeyPath = ("radio", "channels")
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        example = 'Write channels = [{ name = "A", use = "launch and landing", call_sign = "Hearth" }]'
        complaints.append(document.complain(path, shown(rows), "a list of channels is wanted", example))
        rows = []
    if len(rows) > MOST:
        complaints.append(document.complain(path, f"{len(rows)} channels", f"at most {MOST}", "Leave some out"))
        rows = []
    channels = []
    for i, row in enumerate(rows):
        found, wrong = read_keys(document, (*path, i), row, CHANNEL_KEYS, GIVEN_IN_PLAN)
        complaints += wrong
        texts = {key: given.word for key, given in found.items()}
        channels.append(
            Channel(texts.get("name", ""), texts.get("use", ""), texts.get("frequency", ""), texts.get("call_sign", ""))
        )
    return (
        Radio(words.get("silence", ""), words.get("lights", ""), words.get("identification", ""), tuple(channels)),
        complaints,
    )
