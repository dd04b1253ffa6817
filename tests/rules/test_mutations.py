"""One thing made wrong in a clean show: the rule that it is for says so, and no other has an error to tell.

Whether the thing matters is asked of the rig itself, or of a graph library, and never of a rule.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.finding import Level
from rigdsl.rig import Port, Rig

from .mutated import Show, Site, clean, sites

LINK = (
    r"^\s*link (?P<name>[\w-]+): (?P<left>[^#\n]*?) -- (?P<right>[^#\n]*?)"
    r"(?: via (?P<cable>[\w-]+) (?P<length>[\d.]+) m)?(?P<rest>[ \t]*(?:\{[^\n]*\})?)$"
)
SOURCE = (
    r'^\s*source (?P<name>[\w-]+)(?P<label> "[^"\n]*")? (?P<type>[\w-]+)(?P<zone> in [\w-]+)?'
    r" to (?P<to>[^{\n]*?)(?P<via> via [\w-]+ [\d.]+ m)?(?P<block>[ \t]*\{[^\n]*\})?$"
)


@dataclass(frozen=True)
class Mutation:
    """What is made wrong where, with a number drawn for it; the rules of which one must speak up.

    `told` must be there and be of this level; `follows` are errors that may come with it.
    """

    pattern: str
    make: Callable[[Site, int], Show]
    told: tuple[str, ...]
    fit: Callable[[Site], bool] = lambda site: True
    level: Level = Level.ERROR
    follows: tuple[str, ...] = ()
    shows: Callable[[], tuple[Show, ...]] = clean


def run_of(site: Site) -> Any:
    """The digital run that is this link alone, where it carries sound for somebody."""
    found = [run for run in site.show.paths.runs if [link.name for link in run.links] == [site["name"]]]
    return found[0] if len(found) == 1 and site.show.paths.load_of(found[0]) else None


def named_elsewhere(site: Site) -> bool:
    """Whether another line says the name of this one."""
    word = re.compile(rf"(?<![\w.-]){re.escape(site['name'])}(?![\w-])")
    return sum(len(word.findall(text)) for _, text in site.show.files) > 1


def joined(rig: Rig, without: str = "") -> list[bool]:
    """For every pair of a patch between two boxes, whether cables join them."""
    graph: nx.Graph[str] = nx.Graph()
    graph.add_nodes_from(rig.body(box) for box in rig.boxes)
    links = [link for link in rig.links.values() if link.name != without]
    graph.add_edges_from((rig.body(a.box), rig.body(b.box)) for link in links for a, b in link.joins)
    ends = [(a, b) for patch in rig.patches for a, b in patch.pairs if isinstance(a, Port) and isinstance(b, Port)]
    return [nx.has_path(graph, rig.body(a.box), rig.body(b.box)) for a, b in ends]


def cuts_off(rig: Rig, link: str) -> bool:
    """Whether a cable is all that joins the two ends of some patch."""
    return joined(rig) != joined(rig, link)


def lost_cable(site: Site) -> bool:
    return run_of(site) is not None and not named_elsewhere(site) and cuts_off(site.show.rig, site["name"])


def too_long(site: Site) -> bool:
    run = run_of(site)
    return run is not None and run.reach_m is not None and bool(site["length"])


def lengthened(site: Site, by: int) -> Show:
    return site.with_group("length", str(int(run_of(site).reach_m) + by))


def has_distance(site: Site) -> bool:
    """A link of its own length between two zones, which the rig measures."""
    link = site.show.rig.links.get(site["name"])
    if link is None or not site["length"] or not link.joins:
        return False
    rig = site.show.rig
    zones = {rig.boxes[port.box].zone for port in link.joins[0]}
    return len(zones) == 2 and "" not in zones


def moved(site: Site, by: int) -> Show:
    """The box at the left end stands in a zone so far away that its cable does not reach."""
    rig = site.show.rig
    left, right = rig.links[site["name"]].joins[0]
    far = float(site["length"]) + by
    return site.show.everywhere(
        rf'^(\s*box {re.escape(left.box)}(?: "[^"\n]*")? is [\w-]+) in [\w-]+', r"\1 in far-away"
    ).plus("zone far-away", f"way far-away -- {rig.boxes[right.box].zone} {far} m")


def can_move(site: Site) -> bool:
    if not has_distance(site):
        return False
    left = site.show.rig.links[site["name"]].joins[0][0].box
    line = re.compile(rf'^\s*box {re.escape(left)}(?: "[^"\n]*")? is [\w-]+ in [\w-]+', re.M)
    return any(line.search(text) for _, text in site.show.files)


def plugged(site: Site) -> bool:
    """A source with sockets of its own, in a file of the show."""
    source = site.show.rig.sources.get(site["name"])
    elsewhere = re.compile(rf"^\s*replug {re.escape(site['name'])}\b", re.M)  # a second night moves it
    return source is not None and bool(source.ports) and not any(elsewhere.search(text) for _, text in site.show.files)


def again(site: Site, by: int) -> Show:
    return site.written(
        f"{site.match[0]}\nsource twin-{by} {site['type']}{site['zone'] or ''} to {site['to']}{site['via'] or ''}"
    )


@cache
def without_phantom() -> tuple[Show, ...]:
    """The clean shows with phantom nowhere and nothing that needs it, as far as they are still clean."""
    made = [
        show.everywhere(r";? *phantom \d+ V(?: \d+ mA)?", "")
        .everywhere(r"\bphantom [\d.]+ V(?: [\d.]+ mA)?;? *", "")
        .everywhere(r"; phantom(?: by \w+)?(?=[; }])", "")
        .everywhere(r"^(\s*source [\w-]+(?: \"[^\"\n]*\")?) (?:condenser|active-di|ribbon)\b", r"\1 dynamic")
        for show in clean()
    ]
    return tuple(show for show in made if not show.told and not show.rig.findings)


def on_a_preamp(site: Site) -> bool:
    """A dynamic that arrives somewhere, first at a preamp: its own socket is one."""
    source = site.show.rig.sources.get(site["name"])
    if source is None or site["type"] != "dynamic" or not source.ports or "phantom" in (site["block"] or ""):
        return False
    groups = [site.show.rig.group(port) for port in source.ports]
    return all(group is not None and group.preamp for group in groups) and site.show.paths.arrives(site["name"])


def mic_alone(site: Site) -> bool:
    """A dynamic at preamps that take line level only because their model says so."""
    if not on_a_preamp(site) or "pad" in (site["block"] or ""):
        return False
    ports = site.show.rig.sources[site["name"]].ports
    models = {site.show.rig.boxes[port.box].model.name for port in ports}
    said = [
        re.search(rf"^model {re.escape(name)} [^}}]*\blevel mic, line\b", text, re.M)
        for name in models
        for _, text in site.show.files
    ]
    return any(said)


def line_into_mic(site: Site, by: int) -> Show:
    return site.with_group("type", "line").everywhere(r"level mic, line", "level mic")


def loaded(site: Site) -> bool:
    """A protocol that some run carries more than one channel by."""
    paths = site.show.paths
    return any(
        run.protocol == site["name"] and any(load.channels > 1 for load in paths.load_of(run)) for run in paths.runs
    )


def drives(site: Site) -> bool:
    """An output of an amplifier in use: something of another box hangs on it."""
    rig = site.show.rig
    ends = {port for link in rig.links.values() for pair in link.joins for port in pair}
    return any(
        port.group == site["group"] and rig.boxes[port.box].kind == "amplifier" and _loudspeaker(rig, port)
        for port in ends
    )


def _loudspeaker(rig: Rig, port: Any) -> bool:
    for link in rig.links.values():
        for pair in link.joins:
            if port in pair:
                other = pair[1] if pair[0] == port else pair[0]
                group = rig.group(other)
                return group is not None and group.impedance_ohm is not None
    return False


def group_here(site: Site) -> Any:
    """The group of sockets that a place in a model's block defines, with the model's name; None where there is none."""
    models = {box.model.name: box.model for box in site.show.rig.boxes.values()}
    for model in models.values():
        for group in model.groups.values():
            if group.place.source.path == site.path and site.match.start() <= group.place.start < site.match.end():
                return model.name, group.name
    return None


def one_end_here(site: Site) -> bool:
    """A run that sound goes over has one end at this group, and the other at another.

    The group is the only digital one of its model: of a box that others are chained behind, both its ports must change.
    """
    rig, here = site.show.rig, group_here(site)
    if here is None or any(
        len(box.model.of_role("digital")) > 1 for box in rig.boxes.values() if box.model.name == here[0]
    ):
        return False
    for run in site.show.paths.runs:
        at = [(rig.boxes[port.box].model.name, port.group) == here for port in run.ends]
        if sorted(at) == [False, True] and site.show.paths.load_of(run):
            return True
    return False


def other_protocol(site: Site, by: int) -> Show:
    """A protocol of the same powers and another name."""
    return site.with_group("protocol", f"thornlink-{by}").plus(
        f"protocol thornlink-{by} {{ carries 512 at 48 kHz, 512 at 96 kHz",
        "over cat5 900 m, om1 900 m, os1 900 m; topology chain 9 }",
    )


def fed_here(site: Site) -> bool:
    """A source that needs phantom is plugged into this group, and cannot get it elsewhere."""
    rig, here = site.show.rig, group_here(site)
    return any(
        one.needs_phantom
        and one.ports
        and all((rig.boxes[port.box].model.name, port.group) == here for port in one.ports)
        for one in rig.sources.values()
    )


def feeds_one(site: Site) -> bool:
    """A patch that is in force, of the show's own file."""
    return any(
        patch.place.source.path == site.path and site.match.start() <= patch.place.start < site.match.end()
        for patch in site.show.rig.patches
    )


def heavy(site: Site) -> bool:
    """A supply whose boxes draw more than 46 W: at 230 V, or half of that, a fifth of an ampere is too little."""
    rig = site.show.rig
    boxes = [rig.boxes[box] for line in rig.powers if line.supply == site["name"] for box in line.boxes]
    return sum(box.model.power_w or 0 for box in boxes) > 46


MUTATIONS = {
    "a cable is dropped": Mutation(
        LINK,
        lambda site, by: site.written(""),
        ("lost-patch", "lost-source", "silent-output"),
        lost_cable,
        follows=("lost-patch", "lost-source", "silent-output", "surface-alone", "return-missing"),
    ),
    "a run is longer than its protocol reaches": Mutation(LINK, lengthened, ("run-too-long",), too_long),
    "a box stands in another zone": Mutation(LINK, moved, ("link-too-short",), can_move),
    "a source without a plug": Mutation(
        SOURCE,
        lambda site, by: site.written(f"source {site['name']} {site['type']}{site['zone'] or ''}"),
        ("unplugged-source",),
        plugged,
    ),
    "two sources in one socket": Mutation(SOURCE, again, ("port-taken",), plugged),
    "a condenser where no phantom is": Mutation(
        SOURCE,
        lambda site, by: site.with_group("type", "condenser"),
        ("phantom-missing",),
        on_a_preamp,
        shows=without_phantom,
    ),
    "line level into a microphone input": Mutation(
        SOURCE, line_into_mic, ("level-mismatch",), mic_alone, Level.WARNING
    ),
    "a protocol that carries too little": Mutation(
        r"^protocol (?P<name>[\w-]+)[^}]*?carries (?P<most>\d+) at",
        lambda site, by: site.with_group("most", "1"),
        ("too-many-channels",),
        loaded,
    ),
    "an amplifier that may drive less": Mutation(
        r"outputs (?P<group>[\w-]+)[^{}\n]*\{[^}\n]*least (?P<least>[\d.]+) ohm",
        lambda site, by: site.with_group("least", str(400 + by)),
        ("amp-overload",),
        drives,
    ),
    "another protocol at one end": Mutation(
        r"digital [^{}\n;]*\{ *protocol (?P<protocol>[\w-]+)(?P<more>[^;}\n]*)",
        other_protocol,
        ("protocol-mismatch", "unroutable-protocol"),
        one_end_here,
    ),
    "preamps without phantom": Mutation(
        r"inputs [^{}\n;]*\{[^}\n]*(?P<phantom>; phantom [^;}\n]*[^;}\n ])",
        lambda site, by: site.with_group("phantom", ""),
        ("phantom-missing", "phantom-blocked"),
        fed_here,
    ),
    "two patches into one place": Mutation(
        r"^[ \t]*patch [^\n{#]* -> [^\n{#]*$",
        lambda site, by: site.written(f"{site.match[0]}\n{site.match[0]}"),
        ("channel-taken",),
        feeds_one,
    ),
    "a supply that gives too little": Mutation(
        r'^supply (?P<name>[\w-]+)(?: "[^"\n]*")? \d+ V (?P<most>\d+) A',
        lambda site, by: site.with_group("most", "0.2"),
        ("circuit-load",),
        heavy,
        Level.WARNING,
    ),
}


@cache
def places(name: str) -> list[Site]:
    mutation = MUTATIONS[name]
    return sites(mutation.pattern, mutation.fit, mutation.shows())


def test_the_shows_are_clean() -> None:
    assert len(clean()) > 50
    assert [(show.name, show.told) for show in clean() if show.told] == []
    assert len(without_phantom()) > 30


@pytest.mark.parametrize("name", MUTATIONS)
def test_there_are_places_for_it(name: str) -> None:
    assert len(places(name)) >= 2


@pytest.mark.parametrize("name", MUTATIONS)
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_one_thing_wrong(name: str, data: st.DataObject) -> None:
    mutation = MUTATIONS[name]
    site = data.draw(st.sampled_from(places(name)))
    show = mutation.make(site, data.draw(st.integers(1, 300)))
    assert not show.named(Level.ERROR) - set(mutation.told) - set(mutation.follows), show.told
    assert show.named(mutation.level) & set(mutation.told), show.told
