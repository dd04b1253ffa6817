"""What a project sets for its papers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["MOST_JOINS", "PaperSettings"]

MOST_JOINS = 3


@dataclass(frozen=True)
class PaperSettings:
    """As `[papers]` in `rig.toml` has it.

    `language` of headings, `paper` for what is printed on pages, `joins`: how many times cables of the stock may be
    joined for one line, `spares_percent`: so many more cables of each kind and length for the kit list, `colours`:
    label strips with the colours of IEC 60062, `columns`: the columns of a paper, by its name.
    """

    language: str = "en"
    paper: str = "a4"
    joins: int = 0
    spares_percent: float = 0
    colours: bool = False
    columns: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
