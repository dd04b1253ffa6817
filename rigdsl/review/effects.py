"""What follows from a change on the night, read off the paths of both rigs."""

from __future__ import annotations

from rigdsl.paths import Paths
from rigdsl.review.carried import carried
from rigdsl.review.effect import Effect
from rigdsl.review.heard import at_the_desk, passing
from rigdsl.review.phantom import phantom
from rigdsl.review.renames import Renames
from rigdsl.review.sound import sound

__all__ = ["effects"]


def effects(old: Paths, new: Paths, names: Renames) -> tuple[Effect, ...]:
    """All of them, sources first. `names` has the new names of what is only called otherwise."""
    fresh = {was: now for (_, was), now in names.items()}
    return (
        *at_the_desk(old, new, fresh),
        *passing(old, new, fresh),
        *carried(old, new, fresh),
        *phantom(old, new, fresh),
        *sound(old, new, fresh),
    )
