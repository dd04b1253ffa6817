"""Random rigs in which things fail, and the slow way to see what goes silent: take it out and look again.

The gear is that of `small.py`. Every socket takes one plug; what makes a rig interesting here are second ways:
splits to two desks, redundant pairs, rings of boxes and of switches, chains, processors, patches by name.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import count

from hypothesis import strategies as st

from rigdsl.paths import Paths
from rigdsl.paths.failure import gone_with
from rigdsl.paths.left import Gone
from rigdsl.rig import Link, Port, Rig, natural, read
from tests.paths.small import GEAR

__all__ = ["NAMES", "built", "rigs", "silent", "without"]

MORE = """\
protocol shortlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 2 }
model sb { kind stage-box; inputs mic 1-4 { preamp }; outputs line 1-4; digital A, B { protocol shortlink; chain } }
model sd {
  kind console; channels ch 1-16; mixes mix 1-4; inputs local 1-4 { preamp }; outputs local-out 1-4
  digital stage 1-3 { protocol shortlink }; digital pri { protocol brooknet; net primary }
  digital sec { protocol brooknet; net secondary }
}
model pb {
  kind stage-box; inputs mic 1-4 { preamp }; outputs line 1-4
  digital pri { protocol brooknet; net primary }; digital sec { protocol brooknet; net secondary }; poe 13 W
}
model ph { kind switch; digital port 1-4; poe 13 W; gives poe 60 W }
model hp { kind switch; digital port 1-4; gives poe 60 W }
model split2 { kind splitter; inputs in 1-2; outputs a 1-2; outputs b 1-2; pass in -> a; pass in -> b { isolated } }
model pn { kind panel; digital p 1-2; digital q 1-2; pass p -- q }
model loose { kind panel; inputs in 1-99; outputs out 1-99 }
model sub { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }
model spk { kind loudspeaker; inputs in { level loudspeaker }; outputs thru; pass in -> thru }
"""

# Model, how many of it at most, its digital ports; sockets that take sound in and give it out.
BOXES: tuple[tuple[str, int, tuple[str, ...], tuple[str, ...], tuple[str, ...]], ...] = (
    ("sd", 2, ("stage 1", "stage 2", "stage 3", "pri", "sec"), ("local 1", "local 2"), ("local-out 1",)),
    ("sb", 4, ("A", "B"), ("mic 1", "mic 2", "mic 3"), ("line 1", "line 2")),
    ("nb8", 2, ("pri", "sec"), ("mic 1", "mic 2"), ("line 1",)),
    ("hub8", 3, ("port 1", "port 2", "port 3", "port 4"), (), ()),
    ("pb", 2, ("pri", "sec"), ("mic 1", "mic 2"), ("line 1",)),
    ("ph", 1, ("port 1", "port 2", "port 3", "port 4"), (), ()),
    ("hp", 2, ("port 1", "port 2", "port 3", "port 4"), (), ()),
    ("pn", 1, ("p 1", "p 2", "q 1", "q 2"), (), ()),
    ("split2", 1, (), ("in 1", "in 2"), ("a 1", "a 2", "b 1", "b 2")),
    ("sub", 2, (), ("panel 1", "panel 2"), ("tail 1", "tail 2")),
    ("proc", 1, ("net",), ("in 1", "in 2"), ("out 1", "out 2")),
    ("desk12", 1, (), ("local 1", "local 2"), ("local-out 1",)),
    ("spk", 2, (), ("in",), ("thru",)),
)
NAMES = ("kick", "snare", "vox", "keys", "bass", "gtr")


@dataclass
class _Sockets:
    """What is free yet."""

    digital: list[str]
    inward: list[str]
    outward: list[str]


@st.composite
def rigs(draw: st.DrawFn) -> str:
    """The text of a small rig whose patches and cables hang together by chance."""
    boxes = [f"{model.upper()}{n}" for model, most, *_ in BOXES for n in range(draw(st.integers(0, most)))]
    kinds = {model.upper(): (digital, inward, outward) for model, _, digital, inward, outward in BOXES}
    lines = [f"box {name} is {name[:-1].lower()}" for name in boxes]
    of = [(name, *kinds[name[:-1]]) for name in boxes]
    free = _Sockets(
        draw(st.permutations([f"{name}.{port}" for name, digital, _, _ in of for port in digital])),
        draw(st.permutations([f"{name}.{port}" for name, _, inward, _ in of for port in inward])),
        draw(st.permutations([f"{name}.{port}" for name, _, _, outward in of for port in outward])),
    )
    lines += _cables(draw, free)
    lines += _plugs(draw, free)
    lines += draw(_patches(of, [line.split()[1] for line in lines if line.startswith(("source", "output"))], lines))
    return "\n".join(lines)


def built(lines: str) -> Rig:
    """The rig of such lines."""
    return read(f'rig "Random" {{ rate 48 kHz }}\nuse "gear.rig"\nbox LOOSE is loose\n{lines}', gear=GEAR + MORE)


def _cables(draw: st.DrawFn, free: _Sockets) -> list[str]:
    looms = st.sampled_from(["", " { loom T1 }", " { loom T2 }", " { ring R1 }", " { redundant }"])
    pairs = list(zip(free.digital[::2], free.digital[1::2], strict=False))
    joined = [
        f"link C{n}: {a} -- {b} via cat6 5 m{draw(looms)}"
        for n, (a, b) in enumerate(pairs[: draw(st.integers(0, len(pairs)))])
        if a.split(".")[0] != b.split(".")[0]
    ]
    leads = [
        f"link L{n}: {free.outward.pop()} -- {free.inward.pop()} via xlr 5 m"
        for n in range(draw(st.integers(0, 4)))
        if free.outward and free.inward and free.outward[-1].split(".")[0] != free.inward[-1].split(".")[0]
    ]
    return joined + leads


def _plugs(draw: st.DrawFn, free: _Sockets) -> list[str]:
    made = []
    for name in NAMES[: draw(st.integers(1, len(NAMES)))]:
        width = draw(st.integers(1, 2))
        ports = [free.inward.pop() for _ in range(min(width, len(free.inward)))]
        if ports:
            made.append(f"source {name} dynamic to {', '.join(ports)} via xlr 5 m")
    outputs = min(draw(st.integers(0, 4)), len(free.outward))
    return made + [f"output w{n} wedge from {free.outward.pop()} via xlr 5 m" for n in range(outputs)]


@st.composite
def _patches(
    draw: st.DrawFn,
    of: list[tuple[str, tuple[str, ...], tuple[str, ...], tuple[str, ...]]],
    names: list[str],
    lines: list[str],
) -> list[str]:
    """One patch into each channel and each output, from anything that can feed it."""
    desks = [name for name, *_ in of if name.startswith("SD")]
    digital = [row for row in of if row[1] and row[2]]
    lefts = [f"{name}.{port}" for name, _, inward, _ in digital for port in inward]
    sources = [line.split()[1] for line in lines if line.startswith("source") and "," not in line]
    outputs = [line.split()[1] for line in lines if line.startswith("output")]
    mixes = [f"{desk}.{mix}" for desk in desks for mix in ("mix 1", "mix 2", "ch 1")]
    channels = [f"{desk}.ch {n}" for desk in desks for n in range(1, draw(st.integers(1, 8)))]
    feeding = lefts + sources
    made = [f"patch {draw(st.sampled_from(feeding))} -> {channel}" for channel in channels if feeding]
    rights = [f"{name}.{port}" for name, _, _, outward in digital for port in outward] + outputs
    fed = draw(st.lists(st.sampled_from(rights), unique=True)) if rights and mixes else []
    return made + [f"patch {draw(st.sampled_from(mixes + lefts))} -> {right}" for right in fed]


def without(rig: Rig, gone: Gone) -> Rig:
    """The rig with the cables and plugs taken out, and so all those of a box that fails; plugs then hang on nothing."""
    links = {name: kept for name, link in rig.links.items() if name not in gone.links and (kept := _joins(link, gone))}

    loose = count(1)

    def plugged(name: str, group: str, ports: Iterable[Port]) -> tuple[Port, ...]:
        lost = name in gone.plugs
        return tuple(Port("LOOSE", group, next(loose)) if lost or port.box in gone.boxes else port for port in ports)

    sources = {name: replace(one, ports=plugged(name, "in", one.ports)) for name, one in rig.sources.items()}
    outputs = {name: replace(one, ports=plugged(name, "out", one.ports)) for name, one in rig.outputs.items()}
    return replace(rig, links=links, sources=sources, outputs=outputs)


def _joins(link: Link, gone: Gone) -> Link | None:
    joins = tuple(pair for pair in link.joins if not any(port.box in gone.boxes for port in pair))
    return replace(link, joins=joins) if joins else None


def _fed(paths: Paths) -> frozenset[str]:
    """The boxes that have their power over the cable."""
    return frozenset(power.box for power in paths.cable_powers if power.givers and not power.wall)


def settled(rig: Rig) -> Rig:
    """The rig with each patch between the sockets that it is set to: a cable that fails does not turn a patch off."""
    made = []
    for pair in Paths(rig).pairs:
        ends = (pair.left, pair.right) if pair.route is None else (pair.route.left, pair.route.right)
        made.append(replace(pair.patch, pairs=(ends,)))
    return replace(rig, patches=tuple(made))


def silent(rig: Rig, names: Iterable[str]) -> tuple[list[str], list[str]]:
    """The sources and the outputs that sound in the rig and do not in what is left of it, all worked out anew."""
    rig = settled(rig)
    now, gone = Paths(rig), gone_with(rig, names)
    fed = _fed(now)
    while dark := (fed - _fed(Paths(without(rig, gone)))) - gone.boxes:
        gone = replace(gone, boxes=gone.boxes | dark)
    then = Paths(without(rig, gone))
    sources = [name for name in rig.sources if now.arrives(name) and not then.arrives(name)]
    outputs = [*rig.outputs, *now.speaker_inputs]
    lost = [name for name in outputs if now.sounds(name) and (name in gone.boxes or not then.sounds(name))]
    return sorted(sources, key=natural), sorted(lost, key=natural)
