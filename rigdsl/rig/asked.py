"""What a person asks for by name: a source, an output, a cable, a box, or one socket, channel or mix."""

from __future__ import annotations

import re
from collections.abc import Mapping

from rigdsl.finding import near
from rigdsl.rig.port import Port
from rigdsl.rig.rig import Rig
from rigdsl.rig.stage import Box

__all__ = ["asked"]

NUMBERS = r"(?P<number>[0-9]{1,6})(?P<more>\s*[-,][-,\s0-9]*)?"
SOCKET = re.compile(rf"(?P<box>[^\s.]+)\s*\.\s*(?P<group>[^\s.]+?)(?:\s+{NUMBERS})?")
NUMBERED = re.compile(rf"(?P<box>[^\s.]+)(?P<group>)\s+{NUMBERS}")  # the group goes without saying
KINDS = {"channels": "channel", "mixes": "mix"}
EXAMPLE = "a name is that of a source, output, cable, box or socket, such as `SL.mic 3`"


def asked(rig: Rig, text: str) -> tuple[str, str | Port]:
    """The kind of thing that a text names, and its name or socket. LookupError says what there is instead."""
    text = text.strip()
    kinds: dict[str, Mapping[str, object]] = {"source": rig.sources, "output": rig.outputs, "cable": rig.links}
    for kind, things in kinds.items():
        if text in things:
            return kind, text
    if text in rig.boxes:
        return ("output" if rig.boxes[text].kind == "loudspeaker" else "box"), text
    parts = SOCKET.fullmatch(text) or NUMBERED.fullmatch(text)
    name = parts["box"] if parts else text
    if parts is None or name not in rig.boxes:
        nearest = near(name, [*rig.sources, *rig.outputs, *rig.links, *rig.boxes])
        hint = f"there is one with a similar name: `{nearest}`" if nearest else EXAMPLE
        raise LookupError(f"there is no source, output, cable or box called `{name}`; {hint}")
    number = int(parts["number"] or 0)
    port = _port(rig.boxes[name], parts["group"] or _only_group(rig.boxes[name], number), number)
    if parts["more"]:
        raise LookupError(f"`{text}` is more than one socket; name one of them: `{port}`")
    return KINDS.get(rig.group(port).role, "socket"), port


def _port(box: Box, group: str, number: int) -> Port:
    if group not in box.model.groups:
        raise LookupError(f"`{box.name}` has no `{group}`; it has {_sockets(box)}")
    count = box.model.groups[group].count
    if count == 1 and number <= 1:
        return Port(box.name, group, 0)
    if not 1 <= number <= count:
        raise LookupError(f"`{box.name}.{group}` goes from 1 to {count}: say one of them, as in `{box.name}.{group} 1`")
    return Port(box.name, group, number)


def _only_group(box: Box, number: int) -> str:
    """The one group that a bare number can mean: the only one that has it, or the one wired to all that have it."""
    groups = box.model.groups.values()
    having = [group.name for group in groups if group.count >= max(number, 2)] or [
        group.name for group in groups if group.count == 1 == number
    ]
    wired = {(inner.left, inner.right) for inner in box.model.passes}
    wired |= {(right, left) for left, right in wired}
    for name in having:
        if all(name == other or (name, other) in wired for other in having):
            return name
    if not having:
        raise LookupError(f"`{box.name}` has no socket {number}; it has {_sockets(box)}")
    named = ", ".join(f"`{Port(box.name, name, number)}`" for name in having)
    raise LookupError(f"`{box.name} {number}` may be several sockets; name one of them: {named}")


def _sockets(box: Box) -> str:
    return ", ".join(
        f"`{group.name} 1-{group.count}`" if group.count > 1 else f"`{group.name}`"
        for group in box.model.groups.values()
    )
