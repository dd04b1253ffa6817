"""Waiting for files to be saved: those of a rig, whatever way an editor has of saving them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from threading import Event

from watchfiles import Change, watch

__all__ = ["watched"]

DEBOUNCE_MS = 150  # what is saved within this time is one change


def watched(files: Callable[[], Sequence[str]], stop: Event) -> Iterator[None]:
    """One turn for each burst of changes to the files, which may be others each time; it ends when `stop` is set.

    The folders are watched, not the files: many editors save by putting a new file in the place of the old one.
    """
    while not stop.is_set():
        wanted = {os.path.realpath(path) for path in files()}
        folders = sorted({folder for path in wanted if os.path.isdir(folder := os.path.dirname(path))})

        def ours(change: Change, path: str, wanted: set[str] = wanted) -> bool:
            return os.path.realpath(path) in wanted

        for _ in watch(
            *folders,
            watch_filter=ours,
            debounce=DEBOUNCE_MS,
            stop_event=stop,
            recursive=False,
            rust_timeout=500,
            raise_interrupt=True,
        ):
            yield
            if {os.path.realpath(path) for path in files()} != wanted:
                break  # the rig uses other files now
