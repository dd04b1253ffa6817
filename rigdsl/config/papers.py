"""`[papers]` in `rig.toml`: paper size, language and columns of what is printed, and how cables are chosen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigdsl.config.keys import PAPERS
from rigdsl.config.said import Said

__all__ = ["paper_choices"]

LEFT = "papers are printed as if the line were not there"


def paper_choices(said: Said) -> Mapping[str, Any]:
    """What is asked for and can be done, by the keys of the block."""
    block = said.values.get("papers", {})
    if not isinstance(block, dict):
        hint = 'write `[papers]`, and under it a line for each, as in `paper = "letter"`'
        said.tell(said.places.key(("papers",)), ("papers",), "`papers` is no block", LEFT, hint)
        return {}
    for name in block:
        if name not in PAPERS:
            said.unknown(("papers", name), "key of papers", PAPERS, "it changes nothing")
    return {
        name: block[name]
        for name, kind in PAPERS.items()
        if name in block and said.taken(("papers", name), block[name], kind, LEFT, _hint(name))
    }


def _hint(name: str) -> str:
    if name != "columns":
        return ""
    return 'write `[papers.columns]`, and under it a line for each paper: `input-list = ["channel", "source", "mic"]`'
