"""The resolved rig for other programs: one JSON document, whose schema is `grammar/export.schema.json`."""

from __future__ import annotations

from collections.abc import Collection

from rigdsl.reports.check_json import dumped
from rigdsl.rig import Rig
from rigdsl.rig.record import record
from rigdsl.text import Source

__all__ = ["FORMAT", "export"]

FORMAT = 1  # raised when a reader of the document would have to change


def export(rig: Rig, own: Collection[Source]) -> bytes:
    """The document, in UTF-8. `own` are the user's files: of other gear, only what the rig uses is written."""
    return dumped({"format": FORMAT, **record(rig, own)})
