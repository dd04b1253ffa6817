"""Where a file lies in its repository: services that show findings beside changes know it by nothing else."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path

from rigdsl.cli.reading import STDIN, here
from rigdsl.reports.spot import Where

__all__ = ["in_repository"]


def in_repository() -> Where:
    """From a path as reports say it to the path from the repository's root, links followed.

    The root is the nearest folder with `.git`, from the current one upwards; without one it is that of the project.
    What is no file, such as the standards that come with rigdsl, has no path there.
    """
    current = Path(os.path.realpath(os.curdir))
    root = next((folder for folder in (current, *current.parents) if (folder / ".git").exists()), None)
    root = root or Path(os.path.realpath(here()))

    @cache
    def named(path: str) -> str:
        if path == STDIN:
            return path
        if not path or not os.path.exists(path):
            return ""
        real = os.path.realpath(path)
        inside = Path(real).is_relative_to(root)
        try:
            return os.path.relpath(real if inside else path, root).replace(os.sep, "/")
        except ValueError:  # another drive
            return path

    return named
