"""One source and its row in a newer list: what the list changed is changed here, unless a person has been there.

A field has three values: what the list said before (the remark keeps it), what it says now, and what stands in the
file. Only where the file still says what the list said before does the new value take its place.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigdsl.rig.amounts import clipped
from rigdsl.start.edits import Change, fact_changes, line_end, line_start
from rigdsl.start.kept import Entry, Kept, numbers
from rigdsl.start.listed import Item
from rigdsl.start.quoted import quoted
from rigdsl.start.write import channels_text, listed_text, patch_line
from rigdsl.syntax import nodes

__all__ = ["Merged", "merged"]


@dataclass(frozen=True)
class Merged:
    """The changes to a source, and what a person must know of them."""

    changes: tuple[Change, ...] = ()
    told: tuple[str, ...] = ()


def merged(there: Kept, entry: Entry, item: Item, partner_before: str, partner: str) -> Merged:
    """What a row changes in its source. A source that was written by hand keeps what it has and gets what it lacks."""
    changes: list[Change] = []
    told: list[str] = []
    if entry.cells != item.cells:
        changes.append(_listed(there, entry, item))
    if entry.plug is None:
        return Merged(tuple(changes), (f"`{entry.name}` is in the list and was taken out by hand: it stays out",))
    before = entry.row if entry.cells else _as_it_is(entry.plug, item)
    changes += _label(entry, entry.plug, before, item, told)
    changes += _type(there, entry, entry.plug, before, item, told)
    changes += _facts(entry, entry.plug, _all_facts(before, partner_before), _all_facts(item, partner), told)
    changes += _back(there, entry, before, item, told) if entry.gone else _channels(there, entry, before, item, told)
    return Merged(tuple(changes), tuple(told))


def _as_it_is(plug: nodes.Plug, item: Item) -> Item:
    """A source that no list is known of: nothing of it may change, and only what it lacks is new."""
    now = _facts_now(plug)
    facts = tuple((name, value) for name, value in item.facts if name in now)
    return Item((), item.label, (), item.guess, facts)


def _listed(there: Kept, entry: Entry, item: Item) -> Change:
    text = listed_text(item, entry.name)
    if entry.listed:
        return Change(*entry.listed, text)
    assert entry.plug is not None
    at = line_start(there.text, entry.plug.span.start)
    return Change(at, at, f"{text}\n")


def _may(name: str, what: str, before: object, wanted: object, now: object, told: list[str]) -> bool:
    """Whether a field takes its new value; where somebody has changed it, that is told."""
    if wanted in (before, now):
        return False
    if now != before:
        told.append(f"`{name}`: its {what} has changed in the list, and was changed here by hand: it stays as it is")
    return now == before


def _label(entry: Entry, plug: nodes.Plug, before: Item, item: Item, told: list[str]) -> Iterator[Change]:
    if not _may(entry.name, "label", before.label, item.label, entry.label, told):
        return
    if plug.label:
        yield Change(plug.label.start, plug.label.end, quoted(item.label))
    else:
        yield Change(plug.name.end, plug.name.end, f" {quoted(item.label)}")
    told.append(f"`{entry.name}` is called {quoted(clipped(item.label))} now: its name in the rig stays")


def _type(there: Kept, entry: Entry, plug: nodes.Plug, before: Item, item: Item, told: list[str]) -> Iterator[Change]:
    """The type, and the remark that says it is a guess."""
    changes = _may(entry.name, "type", before.guess.type, item.guess.type, plug.type.text, told)
    if changes:
        yield Change(plug.type.start, plug.type.end, item.guess.type)
    end = plug.span.end
    tail = there.text[end : line_end(there.text, end)].rstrip("\n")
    ours = tail.strip() == before.guess.remark if tail.strip() else changes
    if ours and before.guess != item.guess and plug.type.text in (before.guess.type, item.guess.type):
        yield Change(end, end + len(tail), f"  {item.guess.remark}" if item.guess.remark else "")


def _all_facts(item: Item, partner: str) -> dict[str, str]:
    return {**dict(item.facts), **({"with": partner} if partner else {})}


def _facts_now(plug: nodes.Plug) -> dict[str, str]:
    """The facts of a source as the list would say them."""
    said = {fact.name.text: [atom for clause in fact.clauses for atom in clause] for fact in plug.facts}
    now = {name: " ".join(getattr(atom, "text", atom.span.text) for atom in atoms) for name, atoms in said.items()}
    return {name: "" if (name, value) == ("phantom", "yes") else value for name, value in now.items()}


def _facts(
    entry: Entry, plug: nodes.Plug, before: dict[str, str], wanted: dict[str, str], told: list[str]
) -> list[Change]:
    now = _facts_now(plug)
    names = list(dict.fromkeys((*wanted, *before)))
    return fact_changes(
        plug,
        {
            name: wanted.get(name)
            for name in names
            if _may(entry.name, f"`{name}`", before.get(name), wanted.get(name), now.get(name), told)
        },
    )


def _channels(there: Kept, entry: Entry, before: Item, item: Item, told: list[str]) -> Iterator[Change]:
    """Where it is patched to, as long as one patch of its own says so."""
    patch = entry.patches[0] if len(entry.patches) == 1 else None
    now, place = numbers(patch.right[0]) if patch else ((), None)
    if len(entry.patches) > 1:
        now = (0,)  # no channel: several patches are somebody's own
    if not _may(entry.name, "channel", before.channels, item.channels, now, told):
        return
    if patch and place and item.channels:
        yield Change(place.start, place.end, channels_text(item.channels))
    elif patch:
        yield Change(patch.span.start, patch.span.end, f"# no channel in the list: {patch.span.text}")
    else:
        yield _patched(there, entry, item)


def _patched(there: Kept, entry: Entry, item: Item) -> Change:
    """A new patch, on the line behind its source."""
    assert entry.plug is not None
    end = line_end(there.text, entry.plug.span.end)
    start = "" if there.text[:end].endswith("\n") else "\n"
    return Change(end, end, start + patch_line(entry.name, there.desk, item.channels))


def _back(there: Kept, entry: Entry, before: Item, item: Item, told: list[str]) -> Iterator[Change]:
    """A source that the list has again: the remarks that it was gone are taken out, and its patch is one again."""
    if entry.gone:
        yield Change(*entry.gone, "")
    if entry.gone_patch is None:
        yield from _channels(there, entry, before, item, told)
        return
    was = there.text[slice(*entry.gone_patch)].partition(": ")[2]
    ours = was == patch_line(entry.name, there.desk, before.channels)
    if not _may(entry.name, "channel", before.channels, item.channels, before.channels if ours else None, told):
        yield Change(*entry.gone_patch, was)
    else:
        yield Change(*entry.gone_patch, patch_line(entry.name, there.desk, item.channels) if item.channels else "")
