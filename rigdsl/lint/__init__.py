"""Linting: rules, the run over a rig, what users accepted."""

from rigdsl.lint.run import Verdict, lint

__all__ = ["Verdict", "lint"]
