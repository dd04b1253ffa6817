"""A rig's page that follows its files: made anew as they are saved, and served to this machine alone."""

from rigdsl.preview.server import Preview
from rigdsl.preview.state import Made, Maker
from rigdsl.preview.watch import state_of, watched

__all__ = ["Made", "Maker", "Preview", "state_of", "watched"]
