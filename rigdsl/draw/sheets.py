"""A view as sheets: everything in its place, and what is too large for one paper on several."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from rigdsl.draw.cuts import letters
from rigdsl.draw.estimate import estimate, ranks_of, whole_size
from rigdsl.draw.named import NamedView
from rigdsl.draw.offsheet import Numbers, Whole, part
from rigdsl.draw.packing import packed
from rigdsl.draw.paper import Page, pages
from rigdsl.draw.pieces import cut_up, satellites
from rigdsl.draw.shapes import View
from rigdsl.rig import Rig

__all__ = ["sheets"]

Size = tuple[float, float]
Measure = Callable[[Sequence[View]], Sequence[Size]]
Sheet = frozenset[int]  # the numbers of the units on it

ROUND_IT = 210.0  # points of a page's height that captions and air take: no node is higher than the rest
TOGETHER = 1.5  # what one zone counts, against the lines between two units
ZONES_FIRST = 1000.0  # where the view draws zones
FULLEST = (0.5, 0.3)  # of a page that nodes can ever cover: laid out by the engine, in their zones
MUCH = 1.2  # of a page: more than that two sheets never take together, although captions fall away
LOWER, ROUNDS = 0.75, 4
SURE = 0.85  # of its page: a sheet that is estimated to be smaller does fit


def sheets(view: View, rig: Rig, named: NamedView, paper: str = "", measure: Measure | None = None) -> tuple[View, ...]:
    """The sheets of a view, numbered, in reading order, all on paper that lies one way: the way that needs fewer.

    `measure` says how large the engine draws sheets that are not placed: one that comes out too large for its paper
    is split again.
    """
    if named.fit:
        return named.fit(view, rig, pages(paper))
    for page in pages(paper):  # most drawings are one sheet: nothing has to be split, nor drawn to be measured
        one = replace(view, page=page)
        one = named.place(one, rig) if named.place else one
        if _over(_size(one), page) <= (1.0 if named.place else SURE):
            return (one,)
    splits = [_split(view, rig, named, page) for page in pages(paper)]
    best = min(splits, key=lambda split: (len(split.misfits()), len(split.sheets)))
    if measure is None or named.place:
        return best.made()
    if len(best.sheets) == 1 and _drawn_over(best.made(), measure)[0] > 1.0:
        best = _split(view, rig, named, best.page, at_once=False)
    return best.mended(measure)


@dataclass(frozen=True)
class Split:
    """How a view is split: units are what stays together, nodes by their ids; sheets have units by their numbers."""

    whole: Whole
    rig: Rig
    named: NamedView
    page: Page
    units: tuple[tuple[str, ...], ...] = ()
    places: tuple[int, ...] = ()
    weights: dict[tuple[int, int], float] | None = None
    sheets: tuple[Sheet, ...] = ()
    areas: dict[Sheet, float] = field(default_factory=dict)  # of sheets that have been laid out
    too_much: list[Sheet] = field(default_factory=list)  # what has no room on a page, and so nothing with it has

    def names(self, sheet: Sheet) -> list[str]:
        """The nodes of a sheet in the order of the view."""
        here = {name for unit in sheet for name in self.units[unit]}
        return [name for name in self.whole.nodes if name in here]

    def size(self, names: Sequence[str]) -> Size:
        """How large a sheet with these nodes will be, about."""
        return _size(self._placed(part(self.whole, names)), self.whole.sizes)

    def _placed(self, view: View) -> View:
        return self.named.place(view, self.rig) if self.named.place else view

    def fits(self, sheet: Sheet, slack: float = 1.0) -> bool:
        """Whether it has room on the page."""
        names = self.names(sheet)
        areas = (wide * high for wide, high in (self.whole.sizes[name] for name in names))
        if sum(areas) > FULLEST[bool(self.named.place)] * self.page.room[0] * self.page.room[1]:
            return False  # no need to lay it out
        wide, high = self.size(names)
        self.areas[sheet] = wide * high
        return wide * slack <= self.page.room[0] and high * slack <= self.page.room[1]

    def fit(self, one: Sheet, other: Sheet, slack: float) -> bool:
        """Whether two have room on one page; what is far too much is not laid out."""
        both = one | other
        areas = self.areas.get(one, 0.0) + self.areas.get(other, 0.0)
        if areas > MUCH * self.page.room[0] * self.page.room[1] or any(some <= both for some in self.too_much):
            return False
        room = self.fits(both, slack)
        if not room and slack == 1.0:
            self.too_much.append(both)
        return room

    def misfits(self) -> list[Sheet]:
        """Sheets that are too large although they have one unit only."""
        return [sheet for sheet in self.sheets if len(sheet) == 1 and not self.fits(sheet)]

    def packed(self, units: Sequence[int], slack: float = 1.0) -> tuple[Sheet, ...]:
        """Sheets of these units."""
        at = {unit: index for index, unit in enumerate(units)}
        some = {(at[a], at[b]): w for (a, b), w in (self.weights or {}).items() if a in at and b in at}
        places = [self.places[unit] for unit in units]

        def fit(one: Sheet, other: Sheet) -> bool:
            return self.fit(frozenset(units[at] for at in one), frozenset(units[at] for at in other), slack)

        made = packed(len(units), some, fit, places)
        return tuple(frozenset(units[index] for index in sheet) for sheet in made)

    def made(self) -> tuple[View, ...]:
        """The sheets as views."""
        where = {name: at for at, sheet in enumerate(self.sheets, 1) for unit in sheet for name in self.units[unit]}
        view, count = self.whole.view, len(self.sheets)
        ends = {edge.id: sorted((where[edge.left.node], where[edge.right.node])) for edge in view.edges}
        cut = sorted((name for name, (first, second) in ends.items() if first != second), key=lambda name: ends[name])
        numbers = Numbers(where, dict(zip(cut, letters(view.nodes), strict=False)))
        made = []
        for at, sheet in enumerate(self.sheets, 1):
            said = f"{view.description} Sheet {at} of {count}." if count > 1 else view.description
            one = replace(part(self.whole, self.names(sheet), numbers), sheet=(at, count), description=said)
            made.append(self._placed(one))
        return tuple(made)

    def mended(self, measure: Measure) -> tuple[View, ...]:
        """The sheets as views, those that the engine draws too large split again."""
        split = self
        for _ in range(ROUNDS):
            views = split.made()
            sheets: list[Sheet] = []
            for sheet, view, over in zip(split.sheets, views, _drawn_over(views, measure), strict=True):
                slack = 1.02 * over / min(_over(_size(view), self.page), 1.0)
                sheets += split.packed(sorted(sheet), slack) if over > 1.0 else [sheet]
            if len(sheets) == len(split.sheets):
                return views
            split = replace(split, sheets=tuple(sheets))
        return split.made()


def _over(size: Size, page: Page) -> float:
    """How many times as large as its page a drawing is."""
    return max(size[0] / page.room[0], size[1] / page.room[1])


def _drawn_over(views: Sequence[View], measure: Measure) -> list[float]:
    """The same of sheets as the engine draws them; where there is room to spare nobody needs to try."""
    guesses = [_over(_size(view), view.page) for view in views if view.page]
    tried = [at for at, guess in enumerate(guesses) if guess >= SURE]
    for at, size in zip(tried, measure([views[at] for at in tried]), strict=True):
        page = views[at].page
        guesses[at] = _over(size, page) if page else guesses[at]
    return guesses


def _size(view: View, sizes: Mapping[str, Size] | None = None) -> Size:
    return whole_size(view, *view.size) if view.placed else estimate(view, sizes)


def _split(view: View, rig: Rig, named: NamedView, page: Page, *, at_once: bool = True) -> Split:
    """A view on sheets of one page; nodes are cut lower where a sheet with one of them alone is too high."""
    view = replace(view, page=page)
    whole = Split(Whole.of(view), rig, named, page)
    everything = (tuple(node.id for node in view.nodes),)
    if at_once and (not view.nodes or _over(whole.size(everything[0]), page) <= 1.0):
        return replace(whole, units=everything, sheets=(frozenset((0,)),))
    most = page.room[1] - ROUND_IT
    for _ in range(ROUNDS):
        nodes, edges = cut_up(view.nodes, view.edges, most)
        split = _in_units(replace(whole, whole=Whole.of(replace(view, nodes=nodes, edges=edges))))
        if all(split.size(split.names(sheet))[1] <= page.room[1] for sheet in split.misfits()):
            break
        most *= LOWER
    return split


def _in_units(split: Split) -> Split:
    """Units: a box with what is plugged into it, as far as that has room."""
    view = split.whole.view
    hosts = satellites(view.nodes, view.edges)
    units: dict[str, list[str]] = {node.id: [node.id] for node in view.nodes if node.id not in hosts}
    for name, host in hosts.items():
        if _over(split.size([*units[host], name]), split.page) <= 1.0:
            units[host].append(name)
        else:
            units[name] = [name]
    places = _places(split)
    split = replace(split, units=tuple(map(tuple, units.values())), areas={})
    in_order = sorted(range(len(split.units)), key=lambda unit: places[split.units[unit][0]])
    place = {unit: at for at, unit in enumerate(in_order)}
    split = replace(split, places=tuple(place[unit] for unit in range(len(place))))
    split = replace(split, weights=_weights(split))
    return replace(split, sheets=split.packed(range(len(split.units))))


def _places(split: Split) -> dict[str, tuple[float, ...]]:
    """Where each node stands in the whole drawing, to be compared: as the signal goes, else as on the stage."""
    view = split.whole.view
    if not split.named.place:
        ranks = ranks_of(list(split.whole.nodes), view.edges)
        from_sources = _reached(split)
        return {name: (name not in from_sources, ranks[name], at) for at, name in enumerate(split.whole.nodes)}
    at = {node.id: node.at or (0.0, 0.0) for node in split.named.place(view, split.rig).nodes}
    zones: dict[str, tuple[float, float]] = {}
    for node in view.nodes:
        (x, y), (left, top) = at[node.id], zones.get(node.group, at[node.id])
        zones[node.group] = (min(x, left), max(y, top))
    corners = {name: zones[node.group] for name, node in split.whole.nodes.items()}
    return {name: (-corners[name][1], corners[name][0], -y, x) for name, (x, y) in at.items()}


def _reached(split: Split) -> set[str]:
    """The nodes that sources are plugged into, and what is further on."""
    nodes, view = split.whole.nodes, split.whole.view
    ready = [name for name, node in nodes.items() if node.kind == "sources"]
    reached = set(ready)
    for name in ready:
        onward = {view.edges[index].right.node for index in split.whole.lines[name]} - reached
        reached |= onward
        ready += sorted(onward)
    return reached


def _weights(split: Split) -> dict[tuple[int, int], float]:
    """What units have in common: the lines between them, and their zone."""
    owner = {name: at for at, unit in enumerate(split.units) for name in unit}
    weights: dict[tuple[int, int], float] = {}
    for edge in split.whole.view.edges:
        a, b = sorted((owner[edge.left.node], owner[edge.right.node]))
        if a != b:
            weights[a, b] = weights.get((a, b), 0.0) + 1.0
    bonus = ZONES_FIRST if split.whole.view.groups else TOGETHER
    last: dict[str, int] = {}
    for at, unit in enumerate(split.units):
        zone = split.whole.nodes[unit[0]].group
        if zone and zone in last:
            pair = (last[zone], at)
            weights[pair] = weights.get(pair, 0.0) + bonus
        last[zone] = at
    return weights
