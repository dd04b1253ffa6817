"""What all rules say of a small rig, in short."""

from __future__ import annotations

from rigdsl.testing import wrong

__all__ = ["told", "wrong"]


def told(text: str) -> list[str]:
    """Errors and warnings: "error lost-patch SL.mic 1 -> DESK.ch 1"."""
    return [f"{item.level} {item.rule} {item.subject}" for item in wrong(text)]
