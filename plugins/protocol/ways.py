"""Ways out: which ports of two boxes understand each other, which are free, what can stand between."""

from __future__ import annotations

from rigdsl.lint.words import listed, ticked, together
from rigdsl.paths import Paths, Route, Run
from rigdsl.rig import Port, Rig

__all__ = [
    "audio_ports",
    "carrying",
    "crosses",
    "free",
    "is_one_way",
    "joinable",
    "over_a_switch",
    "spoken",
    "taken",
    "understanding",
]


def spoken(rig: Rig, port: Port) -> str:
    """What a port speaks: "`fernlink`, `aes50`"."""
    return ticked(rig.group(port).protocols)


def understanding(rig: Rig, paths: Paths, run: Run) -> str:
    """Help for two ends that share no protocol: other ports that do, else a translator of the gear files."""
    left, right = run.ends
    for one, other, protocol in joinable(rig, paths, left.box, right.box):
        return f"`{one}` and `{other}` both speak `{protocol}`{taken(paths, one, other, but=run)}"
    found = _translators(rig, left, right)
    if found:
        verb = "speaks" if len(found) == 1 else "speak"
        return f"of the gear files {listed(found)} {verb} both and can stand between"
    return "join ports that speak one protocol, or put a bridge between that speaks both"


def audio_ports(rig: Rig, paths: Paths, box: str) -> list[Port]:
    """One digital audio port of each group of a box, a free one where there is one; groups with one come first."""
    ports = []
    for one, group in rig.groups_of(box, "digital"):
        every = one.ports(group)
        ports.append(next((port for port in every if free(paths, port)), every[0]))
    return sorted(ports, key=lambda port: not free(paths, port))


def is_one_way(rig: Rig, paths: Paths, route: Route) -> bool:
    """A mix that finds no way to an output of a box whose own sound does get to the desk."""
    if route.works or route.blame:
        return False
    outward = rig.boxes[rig.body(route.left.box)].mixes and rig.group(route.right).role == "outputs"
    return outward and paths.route(route.right, route.left).works


def free(paths: Paths, port: Port) -> bool:
    """No cable is in this digital port."""
    return not paths.pieces.get(port)


def taken(paths: Paths, *ports: Port, but: Run | None = None) -> str:
    """What must be freed before a cable goes in, to end a sentence with; a port of the run `but` is free by then."""
    full = [port for port in ports if not free(paths, port) and not (but and port in but.ends)]
    return f"; free {together(full)} first" if full else ""


def joinable(rig: Rig, paths: Paths, left: str, right: str) -> list[tuple[Port, Port, str]]:
    """Ports of two boxes and a protocol that both speak, not both ends that send or both that take.

    Those with the most free ports come first; two that a cable joins already are none.
    """
    pairs = []
    for one in audio_ports(rig, paths, left):
        for other in audio_ports(rig, paths, right):
            ways = rig.group(one).direction, rig.group(other).direction
            shared = [name for name in rig.group(one).protocols if name in rig.group(other).protocols]
            if shared and not (ways[0] and ways[0] == ways[1]) and not _joined(paths, one, other):
                pairs.append((one, other, shared[0]))
    return sorted(pairs, key=lambda pair: sum(not free(paths, port) for port in pair[:2]))


def carrying(rig: Rig, paths: Paths, left: str, right: str) -> list[tuple[Port, Port, str]]:
    """The same for sound that goes from the left box to the right one."""
    return [
        (one, other, protocol)
        for one, other, protocol in joinable(rig, paths, left, right)
        if rig.group(one).direction != "takes" and rig.group(other).direction != "sends" and not rig.group(other).mirror
    ]


def crosses(rig: Rig, one: Port, other: Port) -> bool:
    """Whether two ports are of different halves of what is there twice: by their `net`, else by their names."""
    near, far = rig.group(one), rig.group(other)
    if near.net or far.net:
        return bool(near.net and far.net and near.net != far.net)
    return near.redundant and far.redundant and near.name != far.name


def over_a_switch(rig: Rig, paths: Paths, one: Port, other: Port) -> str:
    """Help where one of two ports is on a switch already that has a port left for the other."""
    for here, loose in ((one, other), (other, one)):
        if crosses(rig, one, other) or not free(paths, loose):
            continue
        for run in paths.run_at.get(here, ()):
            switch = rig.boxes[run.other(here).box]
            if switch.kind == "switch" and not run.faults and not run.open:
                for group in switch.model.of_role("digital"):
                    for port in switch.ports(group):
                        if free(paths, port):
                            return f"join `{loose}` to `{port}`: `{here}` is on that switch already"
    return ""


def _joined(paths: Paths, one: Port, other: Port) -> bool:
    return any(run.other(one) == other for run in paths.run_at.get(one, ()))


def _translators(rig: Rig, left: Port, right: Port) -> list[str]:
    """Bridge models whose two sides speak what the two ends speak."""
    one, other = set(rig.group(left).protocols), set(rig.group(right).protocols)
    found = []
    for name, model in sorted(rig.models.items()):
        sides = [
            (set(model.groups[bridge.left].protocols), set(model.groups[bridge.right].protocols))
            for bridge in model.bridges
        ]
        if any((one & a and other & b) or (one & b and other & a) for a, b in sides):
            found.append(name)
    return found
