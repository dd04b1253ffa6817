"""What follows from a change on the night, read off the paths of both rigs."""

from __future__ import annotations

from rigdsl.paths import Paths
from rigdsl.review.carried import carried
from rigdsl.review.effect import Effect
from rigdsl.review.heard import at_the_desk, passing
from rigdsl.review.phantom import phantom
from rigdsl.review.sound import sound

__all__ = ["effects"]


def effects(old: Paths, new: Paths) -> tuple[Effect, ...]:
    """All of them, sources first. The old paths are by the new names of what is only called otherwise."""
    return (
        *at_the_desk(old, new),
        *passing(old, new),
        *carried(old, new),
        *phantom(old, new),
        *sound(old, new),
    )
