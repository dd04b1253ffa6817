"""Waiting for files to be saved: those of a rig, whatever way an editor has of saving them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from threading import Event

from watchfiles import Change, watch

__all__ = ["State", "state_of", "watched"]

DEBOUNCE_MS = 150  # what is saved within this time is one change
LOOK_MS = 500  # how often files are looked at that nothing was heard of: a network drive tells nobody

State = Mapping[str, tuple[int, int, int] | None]


def state_of(files: Iterable[str]) -> State:
    """When each file was saved, how large it is and which it is; None where it is not there."""
    return {path: _state(path) for path in files}


def _state(path: str) -> tuple[int, int, int] | None:
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def watched(files: Callable[[], Sequence[str]], before: State, stop: Event) -> Iterator[None]:
    """One turn for each burst of changes to the files, which may be others each time; it ends when `stop` is set.

    `before` is their state before they were read: what was saved while they were read is a change too. The folders
    are watched, not the files: many editors save by putting a new file in the place of the old one.
    """
    seen = {**state_of(files()), **before}
    for _ in _looks(files, stop):
        now = state_of(files())
        if now != {path: seen.get(path) for path in now}:
            yield
            seen = {**state_of(files()), **now}


def _looks(files: Callable[[], Sequence[str]], stop: Event) -> Iterator[None]:
    """When to look at the files: as soon as the system tells of a change to one, and now and then."""
    while not stop.is_set():
        wanted = _real(files())
        folders = sorted({folder for path in wanted if os.path.isdir(folder := os.path.dirname(path))})

        def ours(change: Change, path: str, wanted: set[str] = wanted) -> bool:
            return os.path.realpath(path) in wanted

        try:
            for _ in watch(
                *folders,
                watch_filter=ours,
                debounce=DEBOUNCE_MS,
                stop_event=stop,
                recursive=False,
                rust_timeout=LOOK_MS,
                yield_on_timeout=True,
            ):
                yield
                if _real(files()) != wanted or not all(map(os.path.isdir, folders)):
                    break  # the rig uses other files now, or a folder has gone and may come back as another one
        except OSError:  # a folder that goes at this moment, or more than the system can watch
            stop.wait(LOOK_MS / 1000)
            yield


def _real(files: Iterable[str]) -> set[str]:
    return {os.path.realpath(path) for path in files}
