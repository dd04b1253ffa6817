"""Which boxes work with which desks, for programs: the schema is `grammar/match.schema.json`."""

from __future__ import annotations

from typing import Any

from rigdsl.plan.match import Match
from rigdsl.reports.check_json import dumped
from rigdsl.reports.pairs import Matches

__all__ = ["match_json"]


def match_json(found: Matches) -> bytes:
    """The document, in UTF-8."""
    return dumped({"pairs": [_pair(pair) for pair in found.pairs]})


def _pair(pair: Match) -> dict[str, Any]:
    """`channels_each_way` is what the first protocol carries at the first of `rates`."""
    return {
        "desk": pair.desk.name,
        "box": pair.box.name,
        "audio": pair.audio,
        "control": pair.control,
        "protocols": list(pair.protocols),
        "channels_each_way": next((pair.channels[rate] for rate in pair.rates_hz if rate in pair.channels), None),
        "rates": list(pair.rates_hz),
        "reach_m": dict(pair.reach_m),
        "because": list(pair.because),
    }
