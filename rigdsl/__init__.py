"""Live-sound rigs as text: read them, check them, draw them.

import rigdsl

show = rigdsl.load("shows/friday.rig")
show.findings()
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from os import PathLike

    from rigdsl.show import Show

__all__ = ["load"]


def load(path: str | PathLike[str]) -> Show:
    """The show that a rig file and all that it uses describe.

    What is wrong with the rig's text is a finding of the show, not an error. Raises OSError where the file
    itself cannot be read.
    """
    from rigdsl import show  # imported here, so that a command's help need not wait for it

    return show.load(path)
