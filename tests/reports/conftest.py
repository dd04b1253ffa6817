"""The small project that tests of commands have."""

from tests.cli.conftest import club

__all__ = ["club"]
