"""One rig file on several branches: its parts by name, two changed texts as one, and what a text says line by line."""

from rigdsl.branches.meaning import meaning
from rigdsl.branches.merge import Marks, Merged, by_lines, merged
from rigdsl.branches.patterns import HEADING, WORD
from rigdsl.branches.unsettled import unsettled
from rigdsl.branches.weave import Clash

__all__ = ["HEADING", "WORD", "Clash", "Marks", "Merged", "by_lines", "meaning", "merged", "unsettled"]
