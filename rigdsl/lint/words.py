"""Words that several rules say alike: who falls silent, lists cut short, lines of one cable told once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from rigdsl.finding import Finding
from rigdsl.paths import Pair, Paths, Run
from rigdsl.rig import Insert, Leg, Link, Output, Patch, Port, Source, natural

__all__ = ["called", "count", "listed", "merged", "one_line", "silence", "stage_end", "ticked", "together"]

SHOWN = 4  # so many names are said before "and 12 more"


def ticked(names: Iterable[object]) -> str:
    """Every name in backticks: "`kick`, `snare`"."""
    return ", ".join(f"`{name}`" for name in names)


def called(thing: Link | Source | Output | Insert) -> str:
    """What has a cable, by its name; an insert has that of its channel: "the insert of `DESK.ch 3`"."""
    return f"the insert of `{thing.name}`" if isinstance(thing, Insert) else f"`{thing.name}`"


def together(names: Sequence[object]) -> str:
    """All names in backticks, as one speaks: "`FOH`, `MON` and `REC`"."""
    return " and ".join(part for part in (ticked(names[:-1]), ticked(names[-1:])) if part)


def listed(names: Sequence[object], shown: int = SHOWN) -> str:
    """Names in backticks, cut short: "`kick`, `snare` and 9 more"; one more name is said rather than counted."""
    if len(names) <= shown + 1:
        return ticked(names)
    return f"{ticked(names[:shown])} and {len(names) - shown} more"


def one_line(error: BaseException) -> str:
    """What code stumbled over, on one line and the same in every run: places in memory are left out."""
    words = re.sub(r" at 0x[0-9a-fA-F]+", "", " ".join(str(error).split()))
    return f"{type(error).__name__}: {words}"[:300]


def count(number: int, one: str, many: str = "") -> str:
    """A number and its noun: "1 channel", "3 channels"."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def stage_end(paths: Paths, run: Run) -> Port:
    """The end of a run that is away from the desk: its finding is shown under that box."""
    left, right = run.ends
    mixes = [paths.rig.boxes[paths.rig.body(end.box)].mixes for end in run.ends]
    return right if mixes[0] and not mixes[1] else left


def merged(paths: Paths, told: Iterable[tuple[Run, Finding]]) -> Iterator[Finding]:
    """One finding for the lines of one cable of which the same is said: it has the sockets of all of them.

    Where no sound passes them, it tells what falls silent by all of them too.
    """
    alike: dict[tuple[str, str], list[tuple[Run, Finding]]] = {}
    for run, finding in told:
        alike.setdefault((finding.subject, finding.message), []).append((run, finding))
    for (_, first), *others in alike.values():
        if not others:
            yield first
            continue
        lines = alike[first.subject, first.message]
        night, silent = silence(paths, *(run for run, _ in lines if not run.works))
        ports = dict.fromkeys(port for _, finding in lines for port in finding.ports)
        yield replace(first, consequence=night or first.consequence, ports=tuple(ports), silent=silent)


def silence(paths: Paths, *stopped: Run | Patch | str) -> tuple[str, tuple[str, ...]]:
    """What falls silent by runs, patches or the subjects of faults: a sentence about the night, and the names.

    "48 channels and 2 outputs are silent: `kick`, `snare`, `hat`, `bass` and 46 more". A channel counts once,
    however many take it, and whether or not a source is named for it. Where one of the sources is heard elsewhere,
    it says where not: "1 channel of `MON` is silent: `kick`". An output that nothing hangs on goes by its socket.
    """
    pairs = list(dict.fromkeys(pair for what in stopped for pair in paths.lost_pairs.get(what, ())))
    outputs = list(dict.fromkeys(pair.right for pair in pairs if _comes_out(paths, pair)))
    inward = [pair for pair in pairs if not _comes_out(paths, pair)]
    channels = {pair.route.left if pair.route else pair.left for pair in inward}
    names = tuple(sorted({name for what in stopped for name in paths.silenced_by(what)}, key=natural))
    if not channels and not outputs:
        return "", names
    sources = {leg.name for pair in inward for leg in _sources(paths, pair.left)}
    parts = [count(len(channels), "channel") + _where(paths, inward, sources)] if channels else []
    parts += [count(len(outputs), "output")] if outputs else []
    shown: list[object] = [name for name in names if name in sources or name not in paths.rig.sources]
    if outputs and all(name in sources for name in shown):
        shown += outputs
    verb = "is" if len(channels) + len(outputs) == 1 else "are"
    return f"{' and '.join(parts)} {verb} silent" + (f": {listed(shown)}" if shown else ""), names


def _sources(paths: Paths, left: Port | Leg) -> tuple[Leg, ...]:
    return (left,) if isinstance(left, Leg) else paths.sources_at(left)


def _where(paths: Paths, pairs: Iterable[Pair], sources: Iterable[str]) -> str:
    """The boxes of the channels, where that is not all there is: a source among them is heard elsewhere."""
    if not any(path.complete for name in sources for path in paths.paths_of(name)):
        return ""
    boxes = dict.fromkeys(pair.right.box for pair in pairs if isinstance(pair.right, Port))
    return f" of {together(list(boxes))}"


def _comes_out(paths: Paths, pair: Pair) -> bool:
    """Whether what is patched comes out of an output there, and does not go into a channel."""
    return isinstance(pair.right, Leg) or paths.rig.group(pair.right).role == "outputs"
