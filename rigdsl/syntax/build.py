"""Rules to nodes: one method for each rule of the grammar, called from the inside out.

Each gets what its parts became (an absent `[part]` is None) and the offsets of
its first and last character; the grammar, read beside this, gives the order.
"""

from __future__ import annotations

from typing import Any, Literal

from rigdsl.syntax import nodes as n
from rigdsl.syntax.tokens import Token
from rigdsl.text import Source, Span

__all__ = ["Builder", "unquoted"]

Parts = list[Any]
Ends = tuple[n.End, ...]


class Builder:
    """Makes the nodes of one source."""

    def __init__(self, source: Source) -> None:
        self.source = source

    def on_start(self, parts: Parts, start: int, end: int) -> tuple[n.Statement, ...]:
        return tuple(parts)

    # ---- the show

    def on_rig(self, parts: Parts, start: int, end: int) -> n.RigHead:
        title, facts = parts
        return n.RigHead(title, facts or (), Span(self.source, start, end))

    def on_use(self, parts: Parts, start: int, end: int) -> n.Use:
        return n.Use(parts[0], Span(self.source, start, end))

    def on_zone(self, parts: Parts, start: int, end: int) -> n.Zone:
        name, label, position, facts = parts
        return n.Zone(name, label, position, facts or (), Span(self.source, start, end))

    def on_position(self, parts: Parts, start: int, end: int) -> n.Position:
        *coordinates, unit = parts
        return n.Position(tuple(coordinates), unit, Span(self.source, start, end))

    def on_coordinate(self, parts: Parts, start: int, end: int) -> float:
        return float(parts[0].text)

    def on_below_zero(self, parts: Parts, start: int, end: int) -> float:
        return -float(parts[0].text)

    def on_way(self, parts: Parts, start: int, end: int) -> n.Way:
        left, right, length, label, facts = parts
        return n.Way(left, right, length, label, facts or (), Span(self.source, start, end))

    def on_box(self, parts: Parts, start: int, end: int) -> n.Box:
        name, label, model, place, facts = parts
        in_slot = place is not None and (place.group is not None or place.ranges)
        zone, slot = (None, place) if in_slot else (place and place.name, None)
        return n.Box(name, label, model, zone, slot, facts or (), Span(self.source, start, end))

    def on_source(self, parts: Parts, start: int, end: int) -> n.Plug:
        return self._plug("source", parts, start, end)

    def on_output(self, parts: Parts, start: int, end: int) -> n.Plug:
        return self._plug("output", parts, start, end)

    def _plug(self, word: Literal["source", "output"], parts: Parts, start: int, end: int) -> n.Plug:
        name, label, kind, zone, ends, lead, facts = parts
        return n.Plug(word, name, label, kind, zone, ends or (), lead, facts or (), Span(self.source, start, end))

    def on_patch(self, parts: Parts, start: int, end: int) -> n.Patch:
        left, right, facts = parts
        return n.Patch(left, right, facts or (), Span(self.source, start, end))

    def on_insert(self, parts: Parts, start: int, end: int) -> n.Insert:
        at, through, lead, facts = parts
        return n.Insert(at, through, lead, facts or (), Span(self.source, start, end))

    def on_clock(self, parts: Parts, start: int, end: int) -> n.Clock:
        return n.Clock(parts[0], Span(self.source, start, end))

    def on_control(self, parts: Parts, start: int, end: int) -> n.Control:
        return n.Control(parts[0], parts[1], Span(self.source, start, end))

    def on_keep(self, parts: Parts, start: int, end: int) -> n.Keep:
        return n.Keep(parts[0], parts[1], Span(self.source, start, end))

    def on_accept(self, parts: Parts, start: int, end: int) -> n.Accept:
        rule, on, because, until = parts
        return n.Accept(rule, on, because, until, Span(self.source, start, end))

    def on_stock(self, parts: Parts, start: int, end: int) -> n.Stock:
        cable, length, count = parts
        return n.Stock(cable, length, count, Span(self.source, start, end))

    def on_supply(self, parts: Parts, start: int, end: int) -> n.Supply:
        name, label, voltage, current, zone, facts = parts
        return n.Supply(name, label, voltage, current, zone, facts or (), Span(self.source, start, end))

    def on_power(self, parts: Parts, start: int, end: int) -> n.Power:
        *boxes, supply = parts
        return n.Power(tuple(boxes), supply, Span(self.source, start, end))

    # ---- links

    def on_named_link(self, parts: Parts, start: int, end: int) -> n.Link:
        name, left, right, lead, lines = parts
        return self._link(name, (_join(self.source, left, right),), lead, lines, start, end)

    def on_plain_link(self, parts: Parts, start: int, end: int) -> n.Link:
        left, right, lead, lines = parts
        return self._link(None, (_join(self.source, left, right),), lead, lines, start, end)

    def on_many_link(self, parts: Parts, start: int, end: int) -> n.Link:
        name, lead, lines = parts
        return self._link(name, (), lead, lines, start, end)

    def _link(
        self, name: n.Word | None, joins: tuple[n.Join, ...], lead: n.Lead | None, lines: Any, start: int, end: int
    ) -> n.Link:
        joins += tuple(line for line in lines or () if type(line) is n.Join)
        facts = tuple(line for line in lines or () if type(line) is n.Fact)
        return n.Link(name, joins, lead, facts, Span(self.source, start, end))

    def on_lead(self, parts: Parts, start: int, end: int) -> n.Lead:
        return n.Lead(parts[0], parts[1])

    def on_join(self, parts: Parts, start: int, end: int) -> n.Join:
        *left, right = parts
        return _join(self.source, _hung(self.source, _paired(left)), right)

    def on_link_fact(self, parts: Parts, start: int, end: int) -> n.Fact:
        clauses: list[list[n.Atom]] = [[]]
        for part in parts[1:]:
            if type(part) is Token:
                clauses.append([])
            else:
                clauses[-1].append(part.first if type(part) is n.Range and part.last is None else part)
        return n.Fact(parts[0], tuple(tuple(clause) for clause in clauses if clause), Span(self.source, start, end))

    # ---- a night on top of a house file

    def on_without(self, parts: Parts, start: int, end: int) -> n.Without:
        return n.Without(tuple(parts), Span(self.source, start, end))

    def on_unpatch(self, parts: Parts, start: int, end: int) -> n.Unpatch:
        return n.Unpatch(parts[0], Span(self.source, start, end))

    def on_replug(self, parts: Parts, start: int, end: int) -> n.Replug:
        name, direction, ends, lead = parts
        return n.Replug(name, direction, ends, lead, Span(self.source, start, end))

    def on_change(self, parts: Parts, start: int, end: int) -> n.Change:
        return n.Change(parts[0], parts[1], Span(self.source, start, end))

    # ---- gear

    def on_cable(self, parts: Parts, start: int, end: int) -> n.Cable:
        name, label, facts = parts
        return n.Cable(name, label, facts or (), Span(self.source, start, end))

    def on_protocol(self, parts: Parts, start: int, end: int) -> n.Protocol:
        name, label, facts = parts
        return n.Protocol(name, label, facts or (), Span(self.source, start, end))

    def on_model(self, parts: Parts, start: int, end: int) -> n.Model:
        name, label, lines = parts
        lines = lines or ()
        return n.Model(
            name,
            label,
            tuple(line for line in lines if type(line) is n.Group),
            tuple(line for line in lines if type(line) is n.Pass),
            tuple(line for line in lines if type(line) is n.Slot),
            tuple(line for line in lines if type(line) is n.Fact),
            Span(self.source, start, end),
        )

    def on_group(self, parts: Parts, start: int, end: int) -> n.Group:
        role, *heads, facts = parts
        return n.Group(role, tuple(heads), facts or (), Span(self.source, start, end))

    def on_head(self, parts: Parts, start: int, end: int) -> n.GroupHead:
        return n.GroupHead(parts[0], parts[1])

    def on_pass(self, parts: Parts, start: int, end: int) -> n.Pass:
        left, arrow, right, facts = parts
        return n.Pass("pass", left, arrow, right, facts or (), Span(self.source, start, end))

    def on_bridge(self, parts: Parts, start: int, end: int) -> n.Pass:
        left, arrow, right, facts = parts
        return n.Pass("bridge", left, arrow, right, facts or (), Span(self.source, start, end))

    def on_slot(self, parts: Parts, start: int, end: int) -> n.Slot:
        head, *takes = parts
        return n.Slot(head, tuple(takes), Span(self.source, start, end))

    def on_side(self, parts: Parts, start: int, end: int) -> n.PassSide:
        return n.PassSide(parts[0], tuple(parts[1:]))

    def on_arrow(self, parts: Parts, start: int, end: int) -> str:
        text: str = parts[0].text
        return text

    # ---- facts

    def on_block(self, parts: Parts, start: int, end: int) -> tuple[Any, ...]:
        return tuple(parts)

    def on_fact(self, parts: Parts, start: int, end: int) -> n.Fact:
        return n.Fact(parts[0], tuple(parts[1:]), Span(self.source, start, end))

    def on_clause(self, parts: Parts, start: int, end: int) -> tuple[n.Atom, ...]:
        return tuple(parts)

    # ---- sockets

    def on_ends(self, parts: Parts, start: int, end: int) -> Ends:
        return (parts[0],) if len(parts) == 1 else _hung(self.source, parts)

    def on_end(self, parts: Parts, start: int, end: int) -> n.End:
        name, group, numbers = parts
        return n.End(name, group, (numbers,) if numbers else (), Span(self.source, start, end))

    def on_range(self, parts: Parts, start: int, end: int) -> n.Range:
        return n.Range(parts[0], parts[1])

    # ---- words

    def on_amount(self, parts: Parts, start: int, end: int) -> n.Amount:
        return n.Amount(parts[0], parts[1])

    def on_name(self, parts: Parts, start: int, end: int) -> n.Word:
        return n.Word("word", parts[0].text, self.source, start, end)

    on_plain_name = on_type = on_role = on_direction = on_name

    def on_unit(self, parts: Parts, start: int, end: int) -> n.Word:
        kind: Literal["word", "ratio"] = "word" if parts[0].kind == "WORD" else "ratio"
        return n.Word(kind, parts[0].text, self.source, start, end)

    def on_number(self, parts: Parts, start: int, end: int) -> n.Word:
        return n.Word("number", parts[0].text, self.source, start, end)

    def on_ratio(self, parts: Parts, start: int, end: int) -> n.Word:
        return n.Word("ratio", parts[0].text, self.source, start, end)

    def on_date(self, parts: Parts, start: int, end: int) -> n.Word:
        return n.Word("date", parts[0].text, self.source, start, end)

    def on_address(self, parts: Parts, start: int, end: int) -> n.Word:
        return n.Word("address", parts[0].text, self.source, start, end)

    def on_label(self, parts: Parts, start: int, end: int) -> n.Word:
        return n.Word("string", unquoted(parts[0].text), self.source, start, end)


def unquoted(text: str) -> str:
    """A label without its quotes, `\\"` and `\\\\` as what they stand for."""
    inner = text[1:-1]
    if "\\" not in inner:
        return inner
    return inner.replace("\\\\", "\0").replace('\\"', '"').replace("\0", "\\")


def _join(source: Source, left: Ends, right: Ends) -> n.Join:
    return n.Join(left, right, Span(source, left[0].span.start, right[-1].span.end))


def _hung(source: Source, parts: Parts) -> Ends:
    """Ends with the numbers that follow them: `X.a 1-4, 7, X.b 1` is two."""
    ends: list[n.End] = []
    ranges: list[n.Range] = []
    for part in [*parts, None]:
        if type(part) is n.Range:
            ranges.append(part)
            continue
        if ranges:
            last = ends[-1]
            span = Span(source, last.span.start, ranges[-1].span.end)
            ends[-1] = n.End(last.name, last.group, (*last.ranges, *ranges), span)
            ranges = []
        if part is not None:
            ends.append(part)
    return tuple(ends)


def _paired(parts: Parts) -> Parts:
    """Ends without numbers, and ranges, from the names, dots, commas and ranges of a join's left side."""
    paired: Parts = []
    for at, part in enumerate(parts):
        if type(part) is Token:
            continue
        if type(part) is n.Range:
            paired.append(part)
        elif at and type(parts[at - 1]) is Token and parts[at - 1].kind == "_DOT":
            owner = parts[at - 2]
            paired[-1] = n.End(owner, part, (), Span(owner.source, owner.start, part.end))
        else:
            paired.append(n.End(part, None, (), part.span))
    return paired
