"""Patches and the lines about sockets: clock, control, keep, accept, stock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rigdsl.finding import Finding, similar
from rigdsl.rig import words
from rigdsl.rig.amounts import a, alike, amount, as_laid_out, clipped, day, fault, whole
from rigdsl.rig.doubt import meant
from rigdsl.rig.facts import read
from rigdsl.rig.names import Gear, Notes, nothing_called, unknown
from rigdsl.rig.night import Said, Tonight
from rigdsl.rig.port import Leg, Port, ports_text
from rigdsl.rig.rig import Rig
from rigdsl.rig.signals import Accept, Clock, Control, Keep, Output, Patch, Source, Stock
from rigdsl.rig.sockets import Named, Use, fitting, sockets
from rigdsl.rig.units import counted
from rigdsl.syntax import nodes as syntax
from rigdsl.text import Span

__all__ = ["accepts", "clocks", "controls", "keeps", "patches", "stock"]

FEEDS = Use("inputs and mixes", fitting("inputs", "mixes"))
FED = Use("channels and outputs", fitting("channels", "outputs"))
ANY = Use("sockets", lambda group: True, whole=True)
INPUTS = Use("inputs", fitting("inputs"), whole=True)
SIDES = {"left": (FEEDS, ("inputs", "mixes", "channels")), "right": (FED, ("channels", "outputs"))}

LEFT_OUT = "the patch is left out"
UNTOUCHED = "nothing is taken away by this name"
Item = Port | Leg
# One side of a patch: what it names, in order; None stands for one that a night took away.
Side = list[Item | None]


@dataclass(frozen=True)
class Drafted:
    """A patch before `unpatch` lines are applied to it."""

    pairs: tuple[tuple[Item, Item], ...]
    said: Said
    note: str


def patches(night: Tonight, rig: Rig, names: Mapping[str, Named], notes: Notes) -> tuple[Patch, ...]:
    """All patches of tonight, in the order of the files, without the pairs that `unpatch` takes out."""
    drafts = [draft for one in night.said for draft in _draft(one, rig, names, notes)]
    removed = _unpatched(night, drafts, rig, names, notes)
    made = []
    for draft in drafts:
        key = draft.said.file.key
        pairs = tuple(pair for pair in draft.pairs if not _is_removed(pair, key, removed))
        if pairs:
            name = f"{ports_text(a for a, _ in pairs)} -> {ports_text(b for _, b in pairs)}"
            made.append(Patch(name, pairs, draft.said.statement.span, draft.note))
    return tuple(made)


def _draft(one: Said, rig: Rig, names: Mapping[str, Named], notes: Notes) -> Iterator[Drafted]:
    node = one.statement
    if not isinstance(node, syntax.Patch):
        return
    here = names[one.file.key]
    left = _side(node.left, "left", rig, here, notes)
    right = _side(node.right, "right", rig, here, notes)
    if left is None or right is None:
        notes.left_out(node)
        return
    left, right = _open_legs(left, len(right), rig), _open_legs(right, len(left), rig)
    if len(left) != len(right) and not _hang_on_unread((*left, *right), notes):
        many, others = counted(len(left), "socket"), counted(len(right), "socket")
        message = f"{many} on the left of `->`, and {others} on the right: they are patched one by one"
        help = _counts(left, right)
        ends = Span(node.span.source, node.left[0].span.start, node.right[-1].span.end)
        notes.findings.append(fault("range-length", ends, message, consequence=LEFT_OUT, help=help))
    if len(left) != len(right):
        notes.left_out(node)
        return
    fields = read(node.facts, words.PATCH, "a patch", notes.findings)
    pairs = tuple((a, b) for a, b in zip(left, right, strict=True) if a is not None and b is not None)
    yield Drafted(pairs, one, fields.get("note", ""))


def _hang_on_unread(items: Iterable[Item | None], notes: Notes) -> bool:
    """How many lines a source or output has is not known where its own words could not be understood."""
    return any(isinstance(item, Leg) and item.name in notes.incomplete for item in items)


def _counts(left: Side, right: Side) -> str:
    wide = sorted({item.name for item in (*left, *right) if isinstance(item, Leg) and item.index})
    if wide:
        return f"give both sides as many; `{wide[0]}` has several lines, each with a socket"
    short = [item for item in min(left, right, key=len) if isinstance(item, Leg)]
    return "give both sides as many" + (f"; `{short[0].name}` is plugged into one socket" if len(short) == 1 else "")


def _side(ends: tuple[syntax.End, ...], which: str, rig: Rig, names: Named, notes: Notes) -> Side | None:
    """What the ends of one side name, or None where one of them cannot be told."""
    items: Side = []
    known = True
    for end in ends:
        got = _items(end, which, rig, names, notes)
        known = known and got is not None
        items += got or []
    return items if known else None


def _items(end: syntax.End, which: str, rig: Rig, names: Named, notes: Notes) -> Side | None:
    use, roles = SIDES[which]
    name = end.name.text
    things: Mapping[str, Source] | Mapping[str, Output] = rig.sources if which == "left" else rig.outputs
    if name in things and name not in names.gone:
        return _legs(end, things[name], notes)
    if name in names.gone and name not in names.taken:
        return [None] * names.taken_lines.get(name, 1)
    if which == "right" and (speaker := _loudspeaker(end, names)):
        return [Leg(name, index) for index in range(speaker)]
    if not end.group and not end.ranges and not names.knows(name):
        notes.findings.append(_no_such_end(end, which, rig))
        return None
    found = sockets(end, use, names, notes.findings)
    if not found.known:
        return None
    if found.gone:
        return [None] * len(found.ports)
    wrong = [port for port in found.ports if rig.group(port).role not in roles]
    if wrong:
        role = rig.group(wrong[0]).role
        says = "the left of `->` is what feeds: an input, a mix, a channel or a source"
        if which == "right":
            says = "the right of `->` is what is fed: a channel or an output"
        message = f"`{wrong[0].box}.{wrong[0].group}` are {ROLE_WORDS.get(role, role)}, and {says}"
        notes.findings.append(_no_item(end, message, _turned(which)))
        return None
    return list(found.ports)


def _no_item(end: syntax.End, message: str, help: str) -> Finding:
    subject = as_laid_out(end.span)
    return fault("no-such-port", end.span, message, subject=subject, consequence=LEFT_OUT, help=help)


def _loudspeaker(end: syntax.End, names: Named) -> int:
    """How many inputs a loudspeaker box has that is named like an output; nothing where the end is none."""
    box = names.boxes.get(end.name.text)
    bare = not end.group and not end.ranges and end.name.text not in names.gone
    if box is None or not bare or box.kind != "loudspeaker":
        return 0
    return sum(group.count for group in box.model.of_role("inputs"))


def _no_such_end(end: syntax.End, which: str, rig: Rig) -> Finding:
    """A bare name on one side of a patch that is nothing a patch can name."""
    kind = "source" if which == "left" else "output"
    kinds = dict.fromkeys(rig.boxes, "box") | dict.fromkeys(rig.sources if which == "left" else rig.outputs, kind)
    text = clipped(end.name.text)
    message = f"there is no {kind} or box called `{text}`"
    hint = alike(text, kinds) or f"a bare name is that of {'a' if which == 'left' else 'an'} {kind}; sockets have a box"
    return fault("unknown-name", end.name.span, message, subject=text, consequence=LEFT_OUT, help=hint)


ROLE_WORDS = {"digital": "digital ports", "data": "ports for control data"}


def _turned(which: str) -> str:
    return "a patch reads from what feeds to what is fed: `patch SL.mic 1-8 -> DESK.ch 1-8`"


def _legs(end: syntax.End, thing: Source | Output, notes: Notes) -> Side | None:
    if end.group or end.ranges:
        kind = "source" if isinstance(thing, Source) else "output"
        message = f"`{thing.name}` is {a(kind)}: it is patched by its name alone"
        notes.findings.append(_no_item(end, message, f"write `{thing.name}`"))
        return None
    return [Leg(thing.name, index) for index in range(_lines(thing))]


def _lines(thing: Source | Output) -> int:
    return max(thing.width, len(thing.ports))


def _open_legs(side: Side, count: int, rig: Rig) -> Side:
    """A source whose socket is still open has as many lines as the other side asks for."""
    if len(side) == 1 and count > 1 and isinstance(leg := side[0], Leg) and _is_open(leg, rig):
        return [Leg(leg.name, index) for index in range(count)]
    return side


def _is_open(leg: Leg, rig: Rig) -> bool:
    return leg.name not in rig.boxes and not rig.thing(leg).ports


# What an `unpatch` takes out: the files that it reaches, and the ends that it names.
Removed = tuple[frozenset[str], frozenset[Item]]


def _unpatched(
    night: Tonight, drafts: list[Drafted], rig: Rig, names: Mapping[str, Named], notes: Notes
) -> list[Removed]:
    removed: list[Removed] = []
    quiet = notes.quiet or "patch" in notes.kinds or any("patch" in meant(one.statement) for one in night.said)
    for one in night.said:
        node = one.statement
        if not isinstance(node, syntax.Unpatch):
            continue
        below = night.below[one.file.key]
        ends = {item for draft in drafts if draft.said.file.key in below for pair in draft.pairs for item in pair}
        for end in node.ends:
            wanted = _wanted(end, rig, names[one.file.key], notes)
            there = wanted & ends
            if wanted and not there and not quiet:
                notes.findings.append(_nothing_patched(end, ends))
            removed.append((below, frozenset(there)))
    return removed


def _wanted(end: syntax.End, rig: Rig, names: Named, notes: Notes) -> set[Item]:
    thing = rig.sources.get(end.name.text) or rig.outputs.get(end.name.text)
    if thing:
        return {Leg(thing.name, index) for index in range(_lines(thing))} | set(thing.ports)
    if not end.group and not end.ranges and not names.knows(end.name.text):
        kinds = dict(names.kinds) | dict.fromkeys(rig.boxes, "box")
        nothing_called(end.name, kinds, notes, consequence=UNTOUCHED)
        return set()
    ports = set(sockets(end, FED if not end.group else ANY, names, notes.findings).ports)
    plugged: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    return ports | {Leg(one.name, i) for one in plugged for i, port in enumerate(one.ports) if port in ports}


def _nothing_patched(end: syntax.End, ends: set[Item]) -> Finding:
    text = as_laid_out(end.span)
    message = f"no used file patches `{text}`: there is nothing to take away"
    ports = {item for item in ends if isinstance(item, Port) and item.box == end.name.text}
    of_group = {port for port in ports if end.group and port.group == end.group.text}
    there = sorted(of_group or ports, key=lambda port: port.key)
    hint = f"what is patched there: `{clipped(ports_text(there))}`" if there else _other_patched(end, ends)
    return fault("unknown-name", end.span, message, subject=text, consequence=UNTOUCHED, help=hint)


def _other_patched(end: syntax.End, ends: set[Item]) -> str:
    names = {item.name if isinstance(item, Leg) else item.box for item in ends}
    found = similar("patched thing", end.name.text, names)
    return found or "`unpatch` takes away what a used file patches: name its sockets, its source or its output"


def _is_removed(pair: tuple[Item, Item], key: str, removed: Iterable[Removed]) -> bool:
    return any(key in below and not ends.isdisjoint(pair) for below, ends in removed)


def clocks(said: Iterable[Said], rig: Rig, names: Mapping[str, Named], notes: Notes) -> tuple[Clock, ...]:
    """Who is named to lead the clock."""
    found = []
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Clock):
            continue
        if _is_box(node.box, rig, names[one.file.key], notes):
            found.append(Clock(node.box.text, node.box.span))
        else:
            notes.left_out(node)
    return tuple(found)


def _is_box(word: syntax.Word, rig: Rig, names: Named, notes: Notes) -> bool:
    if word.text in names.gone:
        return False
    if word.text in rig.boxes:
        return True
    if word.text not in names.broken:
        unknown("box", word, rig.boxes, notes)
    return False


def controls(said: Iterable[Said], rig: Rig, names: Mapping[str, Named], notes: Notes) -> tuple[Control, ...]:
    """Who is named to own gain and phantom."""
    found = []
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Control):
            continue
        here = names[one.file.key]
        ports = _live(node.ends, INPUTS, here, notes)
        if _is_box(node.by, rig, here, notes) and ports:
            found.append(Control(ports, node.by.text, node.span))
        else:
            notes.left_out(node)
    return tuple(found)


def _live(ends: Iterable[syntax.End], use: Use, names: Named, notes: Notes) -> tuple[Port, ...]:
    """The sockets of the ends that can be told and that nobody took away."""
    found = [sockets(end, use, names, notes.findings) for end in ends]
    return tuple(port for one in found if not one.gone for port in one.ports)


def keeps(said: Iterable[Said], names: Mapping[str, Named], notes: Notes) -> tuple[Keep, ...]:
    """Spare sockets that are meant."""
    found = []
    for one in said:
        if isinstance(node := one.statement, syntax.Keep):
            ports = _live(node.ends, ANY, names[one.file.key], notes)
            found.append(Keep(ports, node.what.text if node.what else "", node.span))
    return tuple(found)


def accepts(said: Iterable[Said], rig: Rig, names: Mapping[str, Named], notes: Notes) -> tuple[Accept, ...]:
    """What is known and stands: a rule, and what of."""
    found = []
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Accept):
            continue
        subject, ports = _subject(node, rig, names[one.file.key], notes)
        until = node.until.text if node.until and day(node.until, notes.findings) else ""
        if subject:
            found.append(Accept(node.rule.text, subject, ports, node.because.text, until, node.span))
    return tuple(found)


def _subject(node: syntax.Accept, rig: Rig, names: Named, notes: Notes) -> tuple[str, tuple[Port, ...]]:
    if isinstance(node.on, syntax.Word):
        return node.on.text, ()
    bare = [end.name.text for end in node.on if not end.group and not end.ranges]
    if len(bare) == len(node.on):
        kinds = dict.fromkeys(rig.models, "model") | dict(names.kinds) | dict.fromkeys(rig.boxes, "box")
        for end in node.on:
            if end.name.text not in kinds and end.name.text not in names.broken | names.gone:
                nothing_called(end.name, kinds, notes, consequence="this line accepts nothing")
        return ", ".join(bare), ()
    ports = _live(node.on, ANY, names, notes)
    return ports_text(ports), ports


def stock(said: Iterable[Said], gear: Gear, notes: Notes) -> tuple[Stock, ...]:
    """What the house owns."""
    found = []
    for one in said:
        node = one.statement
        if not isinstance(node, syntax.Stock):
            continue
        if node.cable.text not in gear.cables and node.cable.text not in gear.broken:
            unknown("cable", node.cable, gear.cables, notes, consequence="no cable is counted by this line")
        length = amount(node.length, "length", notes.findings)
        count = whole(node.times, notes.findings, least=0, what="a number of cables")
        if length is not None and count is not None:
            found.append(Stock(node.cable.text, length, count, node.span))
    return tuple(found)
