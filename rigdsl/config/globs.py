"""Which rigs a pattern of `rig.toml` means: `shows/*.rig`, `arena/**`, `arena/`."""

from __future__ import annotations

from fnmatch import fnmatchcase

__all__ = ["fits"]

ANY_DEPTH = "**"


def fits(path: str, pattern: str) -> bool:
    """Whether a path (relative to `rig.toml`, with `/`) is one that a pattern means.

    `*` and `?` stay inside a name, `**` is any number of folders; a pattern that ends in `/` means all below it.
    """
    parts = (pattern + ANY_DEPTH if pattern.endswith("/") else pattern).removeprefix("./").split("/")
    names = path.split("/")
    reached = {0}  # how many of the names may be used up by the parts so far
    for part in parts:
        if part == ANY_DEPTH:
            reached = set(range(min(reached), len(names) + 1))
        else:
            reached = {at + 1 for at in reached if at < len(names) and fnmatchcase(names[at], part)}
        if not reached:
            return False
    return len(names) in reached
