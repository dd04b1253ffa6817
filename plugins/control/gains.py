"""What the rules about gain share: the sources behind preamps, and how to name them."""

from __future__ import annotations

from collections.abc import Iterable

from rigdsl.lint.words import listed
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig, Source

__all__ = ["behind", "names_behind"]


def behind(rig: Rig, paths: Paths, ports: Iterable[Port]) -> list[Source]:
    """The sources whose sound arrives at these preamps, each once."""
    names = dict.fromkeys(leg.name for port in ports for leg in paths.sources_at(port))
    return [rig.sources[name] for name in names]


def names_behind(sources: Iterable[Source]) -> str:
    """Who it is about, to end a sentence with: ": `kick`, `snare`", or nothing."""
    names = [source.name for source in sources]
    return f": {listed(names)}" if names else ""
