"""What is asked to fail, by its name, and all there is to say of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rigdsl.finding import near
from rigdsl.paths import Path, Paths
from rigdsl.paths.failure import LOOM, Failures, Lost
from rigdsl.rig import Port, Rig, natural

__all__ = ["Loss", "asked_to_fail", "loss"]

EXAMPLE = "a name is that of a cable, box, source, output or supply, or a loom: `loom T1`"


@dataclass(frozen=True)
class Loss:
    """What goes silent, and `idle`: what stays up and has nothing to play, by the desk that no source reaches."""

    lost: Lost
    idle: tuple[tuple[str, tuple[str, ...]], ...]
    rig: Rig


def asked_to_fail(rig: Rig, words: Sequence[str]) -> tuple[str, ...]:
    """The names among the words of a command: `loom T1` may be two of them. LookupError says what there is instead."""
    names, waiting = [], [" ".join(word.split()) for word in words]
    while waiting:
        name = waiting.pop(0)
        if f"{name} " == LOOM and not _is_named(rig, name) and waiting:
            name = LOOM + waiting.pop(0)
        turned = " -- ".join(reversed(name.split(" -- ")))  # a cable without an id, told from its other end
        if not _is_named(rig, name) and turned in rig.links:
            name = turned
        _require(rig, name)
        names.append(name)
    return tuple(dict.fromkeys(names))


def _is_named(rig: Rig, name: str) -> bool:
    return any(name in things for things in (rig.links, rig.boxes, rig.sources, rig.outputs, rig.supplies))


def _require(rig: Rig, name: str) -> None:
    looms = {f"{LOOM}{link.loom}" for link in rig.links.values() if link.loom}
    if _is_named(rig, name) or name in looms:
        return
    named = [*rig.links, *rig.boxes, *rig.sources, *rig.outputs, *rig.supplies]
    nearest = near(name, looms if name.startswith(LOOM) else [*named, *looms])
    hint = f"there is one with a similar name: `{nearest}`" if nearest else EXAMPLE
    if name.startswith(LOOM):
        raise LookupError(f"there is no loom called `{name.removeprefix(LOOM)}`; {hint}")
    raise LookupError(f"there is no cable, box, source, output or supply called `{name}`; {hint}")


def loss(failures: Failures, names: Sequence[str]) -> Loss:
    """All there is to say of what fails together."""
    lost = failures.lost_with(names)
    return Loss(lost, tuple(_idle(failures, lost)), failures.paths.rig)


def _idle(failures: Failures, lost: Lost) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Desks that stand, that sources reach now and none would, with the outputs that nothing else feeds."""
    rig, left = failures.paths.rig, failures.left(lost.gone)
    silent, standing = {*lost.silent_sources, *lost.silent_outputs}, set(lost.standing)
    heard = {name: set(_desks(rig, failures.paths.paths_of(name))) for name in failures.ways if name in rig.sources}
    still = {
        desk
        for name, desks in heard.items()
        if name not in silent
        for desk in (_desks(rig, left.paths_of(name)) if name in standing else desks)
    }
    bereft = {desk for name in silent for desk in heard.get(name, ())} - still - lost.gone.boxes
    bereft -= set(_sent_to(failures.paths))
    found: dict[str, list[str]] = {}
    for name in failures.ways if bereft else ():
        if name not in rig.sources and name not in silent:
            feeding = {path.start.box if isinstance(path.start, Port) else "" for path in left.paths_of(name)}
            if feeding and feeding <= bereft:
                found.setdefault(min(feeding, key=natural), []).append(name)
    for desk in sorted(found, key=natural):
        yield desk, tuple(sorted(found[desk], key=natural))


def _desks(rig: Rig, paths: Iterable[Path]) -> Iterator[str]:
    """Desks in whose channels paths end."""
    for path in paths:
        if path.complete and isinstance(path.end, Port) and rig.boxes[rig.body(path.end.box)].mixes:
            yield path.end.box


def _sent_to(paths: Paths) -> Iterator[str]:
    """Boxes that take something from another desk: of those nothing is said."""
    for path in paths.all_paths:
        if path.leg is None and isinstance(path.end, Port):
            yield path.end.box
