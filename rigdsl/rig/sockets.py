"""Sockets as they are written, and what they are: `SL.mic 1-4`, `SL 3`, `SL.A`, a source's name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from rigdsl.finding import Finding, similar
from rigdsl.rig.amounts import a, as_laid_out, clipped, fault
from rigdsl.rig.gear import Group
from rigdsl.rig.port import Port
from rigdsl.rig.stage import Box
from rigdsl.syntax import nodes as syntax
from rigdsl.text import Span

__all__ = ["Named", "Sockets", "Use", "cordless", "fitting", "groups_text", "sockets", "twice"]

END = "this end is left out"
LONGEST = 6  # digits of a number that is worth reading: a socket's number ends at 99,999

Fits = Callable[[Group], bool]


@dataclass(frozen=True)
class Use:
    """What sockets are wanted for: which groups count where none is named, and how to say it in a message.

    `whole`: a group named without a number is all its sockets (where a rule or a line is about the group);
    `aims`: a box without a socket is aimed at, and stays open.
    """

    what: str
    fits: Fits
    whole: bool = False
    aims: bool = False


@dataclass(frozen=True)
class Named:
    """What the names of boxes mean in one file: tonight's boxes, those taken away, and those in doubt.

    `broken`: of these names, or of their models, something could not be read.
    `taken_lines`: how many lines a source or output had that was taken away.
    `quiet`: a used file is missing, or a statement without its name, so an unknown name is no fault of its own.
    """

    boxes: Mapping[str, Box]
    kinds: Mapping[str, str]
    gone: frozenset[str]
    taken: Mapping[str, Box]
    broken: frozenset[str]
    taken_lines: Mapping[str, int]
    quiet: bool = False

    def knows(self, name: str) -> bool:
        """Whether a name is that of anything, or nothing can be said of it."""
        return self.quiet or any(
            name in known for known in (self.boxes, self.kinds, self.gone, self.taken, self.broken)
        )


@dataclass(frozen=True)
class Sockets:
    """What one end says. `known` false: it could not be told (and the finding stands already, or the box is broken).

    `gone`: it is of a box that was taken away; `aimed` names a box whose socket is left open.
    """

    ports: tuple[Port, ...] = ()
    known: bool = True
    gone: bool = False
    aimed: str = ""


def fitting(*roles: str, wireless: bool | None = None, soft: bool | None = None) -> Fits:
    """Groups of these roles; `wireless` or `soft` given: only those that are (or are not)."""

    def fits(group: Group) -> bool:
        return (
            group.role in roles
            and (wireless is None or group.wireless == wireless)
            and (soft is None or group.soft == soft)
        )

    return fits


def groups_text(box: Box) -> str:
    """The groups of a box, for a message: `mic 1-16`, `line 1-8`, `A`."""
    parts = (f"`{g.name} 1-{g.count}`" if g.count > 1 else f"`{g.name}`" for g in box.model.groups.values())
    return ", ".join(parts) or "none"


def sockets(end: syntax.End, use: Use, names: Named, findings: list[Finding]) -> Sockets:
    """The sockets that an end names."""
    name = end.name.text
    gone = name in names.gone
    box = names.taken.get(name) if gone else names.boxes.get(name)
    if box is None:
        if not gone and name not in names.broken and not names.quiet:
            findings.append(no_such_box(end.name, names))
        return Sockets(known=False, gone=gone)
    quiet: list[Finding] = []
    found = _in_box(end, use, box, quiet if gone or name in names.broken else findings)
    return Sockets(found.ports, found.known, gone, found.aimed)


def no_such_box(word: syntax.Word, names: Named) -> Finding:
    """A name where a box is needed, and there is none."""
    text = clipped(word.text)
    kind = names.kinds.get(word.text, "")
    if kind:
        message = f"`{text}` is {a(kind)}, and sockets of a box are needed here"
        form = "write BOX.group and the socket"
        return fault("unknown-name", word.span, message, subject=text, consequence="the line is left out", help=form)
    hint = similar("box", word.text, names.boxes) or "define it: `box NAME is MODEL in ZONE`"
    message = f"there is no box called `{text}`"
    return fault("unknown-name", word.span, message, subject=text, consequence="the line is left out", help=hint)


def _in_box(end: syntax.End, use: Use, box: Box, findings: list[Finding]) -> Sockets:
    group = _group(end, use, box, findings)
    if isinstance(group, Sockets):
        return group
    if not end.ranges:
        if group.count == 1:
            return Sockets((Port(box.name, group.name, 0),))
        if use.aims:
            return Sockets(aimed=box.name)
        if use.whole:
            return Sockets(tuple(box.ports(group)))
        message = f"`{box.name}.{group.name}` has {group.count} sockets: say which"
        form = f"write `{box.name}.{group.name} 1`, or a range such as `{box.name}.{group.name} 1-{group.count}`"
        findings.append(_no_port(end, box, message, form))
        return Sockets(known=False)
    return _numbers(end, box, group, findings)


def _group(end: syntax.End, use: Use, box: Box, findings: list[Finding]) -> Group | Sockets:
    groups = box.model.groups
    if end.group is not None:
        group = groups.get(end.group.text)
        if group is not None:
            return group
        message = f"`{box.name}` has no group `{clipped(end.group.text)}`"
        hint = similar("group", end.group.text, groups) or f"its groups are: {groups_text(box)}"
        findings.append(_no_port(end, box, message, hint, end.group))
        return Sockets(known=False)
    fit = [group for group in groups.values() if use.fits(group)]
    if len(fit) == 1:
        return fit[0]
    if use.aims and fit and not end.ranges:
        return Sockets(aimed=box.name)
    no_cable = [group for group in groups.values() if group.role == use.what and (group.wireless or group.soft)]
    if fit:
        listed = " or ".join(f"`{box.name}.{group.name}`" for group in fit)
        message = f"`{box.name}` has {len(fit)} groups of {use.what}: say which"
        findings.append(_no_port(end, box, message, f"write {listed}"))
    elif no_cable:
        findings.append(_no_port(end, box, cordless(box, no_cable[0]), f"its groups are: {groups_text(box)}"))
    else:
        message = f"`{box.name}` has no {use.what}"
        findings.append(_no_port(end, box, message, f"its groups are: {groups_text(box)}"))
    return Sockets(known=False)


def cordless(box: Box, group: Group) -> str:
    """Why no plug fits a group: it is wireless, or only inside the box."""
    where = "is wireless" if group.wireless else f"is inside `{box.name}`"
    return f"`{box.name}.{group.name}` {where}: no cable goes {'in' if group.role == 'inputs' else 'out'}"


def twice(ends: tuple[syntax.End, ...], ports: Iterable[Port]) -> Finding | None:
    """The finding about a socket that the ends of one list name twice."""
    seen: set[Port] = set()
    for port in ports:
        if port in seen:
            place = Span(ends[0].span.source, ends[0].span.start, ends[-1].span.end)
            message = f"`{port}` is named twice in one list"
            return fault("range-length", place, message, consequence=END, help="name each socket once")
        seen.add(port)
    return None


def _numbers(end: syntax.End, box: Box, group: Group, findings: list[Finding]) -> Sockets:
    numbers: list[int] = []
    for said in end.ranges:
        first, last = _number(said.first), _number(said.last or said.first)
        if last < first:
            message = f"`{said.span.text}` runs backwards"
            form = f"write `{last}-{first}`, or list them"
            findings.append(fault("range-length", said.span, message, consequence=END, help=form))
            return Sockets(known=False)
        if first < 1 or last > group.count:
            has = f"sockets 1 to {group.count}" if group.count > 1 else "one socket"
            message = f"`{box.name}.{group.name}` has {has}, and `{clipped(said.span.text)}` is not among them"
            consequence = "there is nothing to plug into"
            findings.append(_no_port(end, box, message, f"its groups are: {groups_text(box)}", said, consequence))
            return Sockets(known=False)
        numbers.extend(range(first, last + 1))
        if len(numbers) > group.count:
            break  # one of them must be said twice
    if len(set(numbers)) != len(numbers):
        message = f"a socket is named twice in `{as_laid_out(end.span)}`"
        findings.append(fault("range-length", end.span, message, consequence=END, help="name each socket once"))
        return Sockets(known=False)
    if group.count == 1:
        return Sockets((Port(box.name, group.name, 0),))
    return Sockets(tuple(Port(box.name, group.name, number) for number in numbers))


def _number(word: syntax.Word) -> int:
    """A socket's number, past any group where it has too many digits; what is no whole number is 0."""
    if not word.text.isdigit():
        return 0
    return int(word.text) if len(word.text) <= LONGEST else 10**LONGEST


def _no_port(
    end: syntax.End,
    box: Box,
    message: str,
    help: str,
    at: syntax.Word | syntax.Range | None = None,
    consequence: str = END,
) -> Finding:
    place = at.span if at else end.span
    return fault("no-such-port", place, message, subject=as_laid_out(end.span), consequence=consequence, help=help)
