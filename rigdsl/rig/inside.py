"""What is wired inside a model: passes and bridges from one group of its sockets to another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigdsl.finding import Finding, similar
from rigdsl.rig import words
from rigdsl.rig.amounts import clipped, fault, whole
from rigdsl.rig.facts import read
from rigdsl.rig.gear import LARGEST_SOCKET, Bridge, Group, Pass
from rigdsl.rig.units import counted
from rigdsl.syntax import nodes as syntax

__all__ = ["bridges", "passes", "socket", "wired_through"]

NO_SOUND = "no sound passes here"
Numbers = list[int]


def passes(said: syntax.Model, kind: str, groups: Mapping[str, Group], findings: list[Finding]) -> list[Pass]:
    """All passes of a model; one of scattered sockets is several, each of neighbours that go to neighbours."""
    made = []
    for declared in said.passes:
        if declared.word != "pass":
            continue
        fields = read(declared.facts, words.PASS, "a pass", findings)
        fields = {name: value for name, value in fields.items() if name not in ("note", "label")}
        left = _side(declared.left, groups, said.name.text, findings)
        right = _side(declared.right, groups, said.name.text, findings)
        if left is None or right is None:
            continue
        if len(left) != len(right):
            findings.append(_unequal(declared, len(left), len(right)))
            continue
        if not fields:
            fields = dict.fromkeys(words.DEFAULT_PASS.get(kind, ()), True)
        ends = declared.left.group.text, declared.right.group.text
        two_way = declared.arrow == "--"
        made += [
            Pass(*ends, first, to_first, count, declared.span, two_way, **fields)
            for first, to_first, count in _rows(left, right)
        ]
    return made


def wired_through(groups: Mapping[str, Group], made: Iterable[Pass]) -> Iterator[Pass]:
    """What `thru` says without a pass: the outputs of such a group take on what comes in, and its inputs are one."""
    led_to = {one.right for one in made}
    ins = [group for group in groups.values() if group.role == "inputs"]
    for group in (group for group in groups.values() if group.thru and group.name not in led_to):
        if group.role == "inputs" and group.count > 1:
            yield Pass(group.name, group.name, 1, 2, group.count - 1, group.place, two_way=True)
        elif group.role == "outputs":
            yield from (one for entry in ins for one in _side_by_side(entry, group))


def _side_by_side(entry: Group, out: Group) -> Iterator[Pass]:
    """Number by number, or one to all where there is one."""
    if entry.count > 1 and out.count > 1:
        yield Pass(entry.name, out.name, 1, 1, min(entry.count, out.count), out.place)
        return
    for number in range(max(entry.count, out.count)):
        yield Pass(entry.name, out.name, min(number + 1, entry.count), min(number + 1, out.count), 1, out.place)


def _rows(left: Numbers, right: Numbers) -> list[tuple[int, int, int]]:
    """Pairs of numbers as rows: the first number on each side, and how many follow one another on both."""
    rows: list[tuple[int, int, int]] = []
    for a, b in zip(left, right, strict=True):
        if rows and (a, b) == (rows[-1][0] + rows[-1][2], rows[-1][1] + rows[-1][2]):
            rows[-1] = (*rows[-1][:2], rows[-1][2] + 1)
        else:
            rows.append((a, b, 1))
    return rows


def _unequal(declared: syntax.Pass, left: int, right: int) -> Finding:
    message = (
        f"`{declared.left.group.text}` has {counted(left, 'socket')} here, and `{declared.right.group.text}` "
        f"has {counted(right, 'socket')}: a pass joins number to number"
    )
    form = "say which ones: `pass main 1-2 -> out 15-16`"
    return fault("range-length", declared.span, message, consequence=NO_SOUND, help=form)


def _side(
    side: syntax.PassSide, groups: Mapping[str, Group], model_name: str, findings: list[Finding]
) -> Numbers | None:
    """The numbers of one side of a pass; a group named alone is all of it."""
    group = groups.get(side.group.text)
    if group is None:
        message = f"model `{model_name}` has no group `{clipped(side.group.text)}`"
        hint = similar("group", side.group.text, groups) or f"its groups are: {', '.join(groups) or 'none'}"
        findings.append(fault("no-such-port", side.group.span, message, consequence=NO_SOUND, help=hint))
        return None
    if not side.ranges:
        return list(range(1, group.count + 1))
    numbers: Numbers = []
    for said in side.ranges:
        first = socket(said.first, findings)
        last = socket(said.last, findings) if said.last else first
        if first is None or last is None:
            return None
        if last > group.count or first > last:
            has = f"sockets 1 to {group.count}" if group.count > 1 else "one socket"
            message = f"`{group.name}` of model `{model_name}` has {has}, and `{said.span.text}` is not among them"
            help = "give rising numbers of its sockets"
            findings.append(fault("no-such-port", said.span, message, consequence=NO_SOUND, help=help))
            return None
        numbers += range(first, last + 1)
        if len(numbers) > LARGEST_SOCKET:
            message = f"`{clipped(side.group.text)}` has more sockets here than any group may have"
            findings.append(fault("range-length", said.span, message, consequence=NO_SOUND, help="name each once"))
            return None
    return numbers


def socket(word: syntax.Word, findings: list[Finding]) -> int | None:
    """The number of a socket; what is past the largest is never counted out."""
    if not word.text.isdigit() or len(word.text) < 6:
        return whole(word, findings, most=LARGEST_SOCKET, what="the number of a socket")
    message = f"`{clipped(word.text)}` is past the last socket that a group may have, {LARGEST_SOCKET}"
    help = "give the sockets that the gear really has"
    findings.append(fault("no-such-port", word.span, message, consequence="the number is left out", help=help))
    return None


def bridges(said: syntax.Model, groups: Mapping[str, Group], findings: list[Finding]) -> list[Bridge]:
    """All bridges of a model."""
    made = []
    for declared in said.passes:
        if declared.word != "bridge":
            continue
        fields = read(declared.facts, words.BRIDGE, "a bridge", findings)
        fields = {name: value for name, value in fields.items() if name not in ("note", "label")}
        left = _side(declared.left, groups, said.name.text, findings)
        right = _side(declared.right, groups, said.name.text, findings)
        if left and right:
            made.append(Bridge(declared.left.group.text, declared.right.group.text, declared.span, **fields))
    return made
