"""The commands: one file each, loaded when called."""

from rigdsl.cli.main import main

__all__ = ["main"]
