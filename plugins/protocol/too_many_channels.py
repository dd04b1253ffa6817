"""What goes over a run must fit into what its protocol carries; what goes through a bridge, into the bridge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, stage_end, together
from rigdsl.paths import BridgeLoad, Load, Paths, Run
from rigdsl.rig import Bridge, Rig, shown
from rigdsl_protocol.loads import hops_to_a_desk, inwards, nearest, relief

__all__ = ["too_many_channels"]


@rule("too-many-channels", Level.ERROR, NoOptions)
def too_many_channels(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """More channels go over a run than its protocol carries at its rate, or through a bridge than it takes.

    With `slots fixed` a box takes its channels whether they are used or not, and so does every box chained behind
    it; with `slots routed` only what is patched counts, each channel once. Each half of a redundant pair carries
    the full load. One overload is told once, at the run next to the desk; a run too full both ways is told once too.

    ## On the night
    The channels past the limit are not there. Which ones they are, the boxes decide.

    ## A rig that breaks it
    ```rig
    rig "A chain too full" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
    model nw32 { kind stage-box; inputs mic 1-32 { preamp }; digital A, B { protocol fernlink; chain } }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol fernlink; chain } }
    model desk64 { kind console; channels ch 1-64; digital stage 1-2 { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw32 in wing
    box SR is nw16 in wing
    box DESK is desk64 in foh
    link C01: DESK.stage 1 -- SL.A via cat6 60 m
    link C02: SL.B -- SR.A via cat6 20 m
    ```

    ## A rig that keeps it
    ```rig
    rig "A port for each box" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
    model nw32 { kind stage-box; inputs mic 1-32 { preamp }; digital A, B { protocol fernlink; chain } }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol fernlink; chain } }
    model desk64 { kind console; channels ch 1-64; digital stage 1-2 { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw32 in wing
    box SR is nw16 in wing
    box DESK is desk64 in foh
    link C01: DESK.stage 1 -- SL.A via cat6 60 m
    link C02: DESK.stage 2 -- SR.A via cat6 60 m
    ```

    ## Figures
    How many channels a protocol carries at which rate is what its `carries` says. For the open standards: AES50
    48 channels each way at 44.1 and 48 kHz (AES Standards News Blog on AES50-2011), 24 at twice the rate (from
    memory, and by arithmetic the same number of samples a second); AES10 64 channels one way at 48 kHz, 32 at
    96 kHz (abstract of AES10-2020).
    """
    hops = hops_to_a_desk(rig, paths)
    told: dict[tuple[str, bool], list[frozenset[str]]] = {}
    overloads = [load for run in paths.runs for load in paths.load_of(run) if _over(load) > 0]
    overloads.sort(key=lambda load: (nearest(load.run, hops), load.run.key, not inwards(load, hops), load.enters.key))
    for _, loads in groupby(overloads, key=lambda load: load.run.key):
        untold = [load for load in loads if not _told_already(told, load, inwards(load, hops))]
        if untold:
            yield _full_run(rig, paths, untold)
    for narrow in _full_bridges(paths):
        run = _run_of_bridge(paths, narrow[0], hops)
        if run is not None:
            yield _full_bridge(narrow, run)


def _over(load: Load) -> int:
    """How many channels too many."""
    return 0 if load.limit is None else load.channels - load.limit


def _told_already(told: dict[tuple[str, bool], list[frozenset[str]]], load: Load, to_desk: bool) -> bool:
    """A run nearer to the desk has all of it, the same way; if not, note that this one has."""
    boxes = frozenset(box for box, _ in load.by_box)
    if any(boxes <= more for more in told.get((load.by_box[0][0], to_desk), ())):
        return True
    for box in boxes:
        told.setdefault((box, to_desk), []).append(boxes)
    return False


def _full_run(rig: Rig, paths: Paths, loads: Sequence[Load]) -> Finding:
    """One finding for a run, whether it is too full one way or both."""
    first, run = loads[0], loads[0].run
    protocol = rig.protocols[run.protocol or ""]
    both = len(loads) > 1
    return Finding(
        place=run.links[0].place,
        subject=run.name,
        message=f"{_there_and_back(loads, first.enters, run.other(first.enters))}, and `{protocol.name}` carries "
        f"{first.limit}{' each way' if both else ''} at {shown(run.rate_hz, 1000)} kHz{_too_many(loads)}",
        consequence=_cut_off([_over(load) for load in loads]),
        help=relief(rig, paths, loads),
        related=(
            Related(protocol.place, f"what `{protocol.name}` carries is said here"),
            *_by_box(rig, loads),
        ),
        ports=tuple(str(end) for end in run.ends),
        box=stage_end(paths, run).box,
    )


def _by_box(rig: Rig, loads: Sequence[Load]) -> Iterator[Related]:
    """Each box that counts; with both ways too full, what it takes the first way."""
    takes = {name: channels for load in loads[::-1] for name, channels in load.by_box}
    for name, channels in takes.items():
        if name in rig.boxes:
            yield Related(rig.boxes[name].place, f"`{name}` takes {count(channels, 'channel')}")


def _there_and_back(loads: Sequence[Load | BridgeLoad], here: object, there: object, through: str = "") -> str:
    """How many channels go, one way or both: "48 channels go from `S1.A` to `DESK.stage 1` and 44 back"."""
    back = "".join(f" and {load.channels} back" for load in loads[1:])
    return f"{loads[0].channels} channels go{through} from `{here}` to `{there}`{back}"


def _too_many(loads: Sequence[Load]) -> str:
    """The boxes that take a run over its limit, where there are several to choose from."""
    tips = list(dict.fromkeys(load.tips for load in loads if load.tips and len(load.by_box) > 1))
    if not tips:
        return ""
    return f"; {together(tips)} {'is the one' if len(tips) == 1 else 'are'} too many"


def _cut_off(over: Sequence[int]) -> str:
    if len(over) > 1:
        return f"{over[0]} there and {over[1]} back do not get through"
    return f"{over[0]} of them {'does' if over[0] == 1 else 'do'} not get through"


def _full_bridges(paths: Paths) -> Iterable[list[BridgeLoad]]:
    """The loads of each bridge that takes fewer, one way or both."""
    full: dict[tuple[str, Bridge], list[BridgeLoad]] = {}
    for load in paths.bridge_loads:
        if load.bridge.channels is not None and load.channels > load.bridge.channels:
            full.setdefault((load.box.name, load.bridge), []).append(load)
    return full.values()


def _run_of_bridge(paths: Paths, load: BridgeLoad, hops: Mapping[str, int]) -> Run | None:
    """The run at a bridge that is nearest to a desk."""
    groups = [load.box.model.groups[name] for name in (load.bridge.left, load.bridge.right)]
    runs = [run for group in groups for port in load.box.ports(group) for run in paths.run_at.get(port, ())]
    return min(runs, key=lambda run: (nearest(run, hops), run.key), default=None)


def _full_bridge(loads: Sequence[BridgeLoad], run: Run) -> Finding:
    """One finding for a bridge, whether it is too full one way or both."""
    first, bridge = loads[0], loads[0].bridge
    other = bridge.right if first.enters == bridge.left else bridge.left
    limit = bridge.channels or 0
    return Finding(
        place=first.box.place,
        subject=run.name,
        message=f"{_there_and_back(loads, first.enters, other, f' through `{first.box.name}`')}, "
        f"and it takes {limit}{' each way' if len(loads) > 1 else ''}",
        consequence=_cut_off([load.channels - limit for load in loads]),
        help="patch fewer channels through it, or put a second bridge beside it",
        related=(
            Related(bridge.place, "how many it takes is said here"),
            Related(run.links[0].place, "the run next to the desk"),
        ),
        ports=tuple(str(port) for load in loads for port in load.ports),
        box=first.box.name,
    )
