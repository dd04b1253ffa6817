"""What goes over a run must fit into what its protocol carries; what goes through a bridge, into the bridge."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, stage_end
from rigdsl.paths import BridgeLoad, Load, Paths, Run
from rigdsl.rig import Rig
from rigdsl.rig.units import shown
from rigdsl_protocol.ways import audio_ports, free

__all__ = ["too_many_channels"]


@rule("too-many-channels", Level.ERROR, NoOptions)
def too_many_channels(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """More channels go over a run than its protocol carries at its rate, or through a bridge than it takes.

    With `slots fixed` a box takes its channels whether they are used or not, and so does every box chained behind
    it; with `slots routed` only what is patched counts, each channel once. Each half of a redundant pair carries
    the full load. One overload is told once, at the run next to the desk.

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
    hops = _hops_to_a_desk(rig, paths)
    told: dict[tuple[str, bool], list[frozenset[str]]] = {}
    overloads = [load for run in paths.runs for load in paths.load_of(run) if load.limit is not None]
    overloads = [load for load in overloads if load.channels > (load.limit or 0)]
    for load in sorted(overloads, key=lambda load: (_nearest(load.run, hops), load.run.key, load.enters.key)):
        boxes, inwards = frozenset(box for box, _ in load.by_box), _inwards(load, hops)
        if any(boxes <= more for more in told.get((load.by_box[0][0], inwards), ())):
            continue  # a run nearer to the desk has all of it, the same way
        for box in boxes:
            told.setdefault((box, inwards), []).append(boxes)
        yield _full_run(rig, paths, load)
    for narrow in paths.bridge_loads:
        if narrow.bridge.channels is not None and narrow.channels > narrow.bridge.channels:
            run = _run_of_bridge(paths, narrow, hops)
            if run is not None:
                yield _full_bridge(narrow, run)


def _hops_to_a_desk(rig: Rig, paths: Paths) -> Mapping[str, int]:
    """How many runs lie between each box and the nearest desk or engine."""
    hops = {name: 0 for name, box in rig.boxes.items() if box.mixes}
    joins: dict[str, list[str]] = {}
    for run in paths.runs:
        left, right = (end.box for end in run.ends)
        joins.setdefault(left, []).append(right)
        joins.setdefault(right, []).append(left)
    waiting = list(hops)
    for name in waiting:
        for other in joins.get(name, ()):
            if other not in hops:
                hops[other] = hops[name] + 1
                waiting.append(other)
    return hops


def _nearest(run: Run, hops: Mapping[str, int]) -> int:
    return min(hops.get(end.box, len(hops)) for end in run.ends)


def _inwards(load: Load, hops: Mapping[str, int]) -> bool:
    """The load goes towards the desk."""
    far = load.run.other(load.enters)
    return hops.get(load.enters.box, len(hops)) > hops.get(far.box, len(hops))


def _full_run(rig: Rig, paths: Paths, load: Load) -> Finding:
    run, limit = load.run, load.limit or 0
    protocol = rig.protocols[run.protocol or ""]
    rate = f"{shown(run.rate_hz, 1000)} kHz"
    far = run.other(load.enters)
    tips = f"; `{load.tips}` is the one too many" if load.tips and len(load.by_box) > 1 else ""
    return Finding(
        place=run.links[0].place,
        subject=run.name,
        message=f"{load.channels} channels go from `{load.enters}` to `{far}`, "
        f"and `{protocol.name}` carries {limit} at {rate}{tips}",
        consequence=_cut_off(load.channels - limit),
        help=_way_out(rig, paths, load),
        related=(
            Related(protocol.place, f"what `{protocol.name}` carries is said here"),
            *(
                Related(rig.boxes[name].place, f"`{name}` takes {count(channels, 'channel')}")
                for name, channels in load.by_box
                if name in rig.boxes
            ),
        ),
        ports=tuple(str(end) for end in run.ends),
        box=stage_end(paths, run).box,
    )


def _cut_off(over: int) -> str:
    return f"{over} of them {'does' if over == 1 else 'do'} not get through"


def _way_out(rig: Rig, paths: Paths, load: Load) -> str:
    """A free port of the desk that speaks the protocol, for the box that tips it; else a lower load."""
    desk = next((end for end in load.run.ends if rig.boxes[end.box].mixes), None)
    box = load.tips or load.enters.box
    if desk:
        for port in audio_ports(rig, paths, desk.box):
            if free(paths, port) and load.run.protocol in rig.group(port).protocols:
                return f"`{port}` is free and speaks `{load.run.protocol}`: join `{box}` to it"
    if len(load.by_box) > 1:
        return f"bring `{box}` to the desk another way"
    return "patch fewer channels over it, or run at a lower rate, or take a protocol that carries more"


def _run_of_bridge(paths: Paths, load: BridgeLoad, hops: Mapping[str, int]) -> Run | None:
    """The run at a bridge that is nearest to a desk."""
    groups = load.bridge.left, load.bridge.right
    runs = [
        run
        for port, found in paths.run_at.items()
        if port.box == load.box.name and port.group in groups
        for run in found
    ]
    return min(runs, key=lambda run: (_nearest(run, hops), run.key), default=None)


def _full_bridge(narrow: BridgeLoad, run: Run) -> Finding:
    box, limit = narrow.box, narrow.bridge.channels or 0
    other = narrow.bridge.right if narrow.enters == narrow.bridge.left else narrow.bridge.left
    return Finding(
        place=box.place,
        subject=run.name,
        message=f"{narrow.channels} channels go through `{box.name}` from `{narrow.enters}` to `{other}`, "
        f"and it takes {limit}",
        consequence=_cut_off(narrow.channels - limit),
        help="patch fewer channels through it, or put a second bridge beside it",
        related=(
            Related(narrow.bridge.place, "how many it takes is said here"),
            Related(run.links[0].place, "the run next to the desk"),
        ),
        ports=tuple(str(port) for port in narrow.ports),
        box=box.name,
    )
