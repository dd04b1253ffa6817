"""More that is made wrong in clean shows: in chains, cables, rates and labels, and where the public walks."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.finding import Level
from rigdsl.paths import Chain
from rigdsl.rig import Box, Port

from .mutated import Show, Site, sites
from .test_mutations import LINK, Mutation, run_of

BOX = r'^\s*box (?P<name>[\w-]+)(?: "[^"\n]*")? is (?P<model>[\w-]+)(?: in (?P<zone>[\w-]+))?(?P<rest>[ \t]*)(?=#|$)'
ZONE = r'^\s*zone (?P<name>[\w-]+)(?: "[^"\n]*")?(?: at \([^)\n]*\) m)?(?P<rest>[ \t]*)$'


def box_of(site: Site) -> Box | None:
    return site.show.rig.boxes.get(site["name"])


def last_of_chain(site: Site) -> tuple[Chain, Port, Port] | None:
    """A box with nothing behind it and one port free to carry on: its place, the port in use, the free one."""
    rig, paths, box = site.show.rig, site.show.paths, box_of(site)
    chain = paths.chains.get(site["name"])
    if box is None or chain is None or any(other.before == box.name for other in paths.chains.values()):
        return None
    protocol = rig.protocols.get(chain.run.protocol or "")
    ports = [port for group in box.model.groups.values() if group.chain for port in box.ports(group)]
    taken = {port for link in rig.links.values() for pair in link.joins for port in pair}
    free = [port for port in ports if port not in taken]
    if protocol is None or protocol.topology != "chain" or chain.run.links[0].lead is None:
        return None
    return (
        (chain, next(port for port in ports if port not in free), free[0])
        if [len(ports), len(free)] == [2, 1]
        else None
    )


def too_deep(site: Site, by: int) -> Show:
    """Boxes of the same model behind it, one more than the protocol lets stand there."""
    found = last_of_chain(site)
    assert found is not None
    chain, near, free = found
    lead = chain.run.links[0].lead
    assert lead is not None
    lines, before = [], str(free)
    for number in range(chain.position, site.show.rig.protocols[chain.run.protocol or ""].depth + 1):
        name = f"MORE-{number}"
        lines.append(f"box {name} is {site['model']}" + (f" in {site['zone']}" if site["zone"] else ""))
        lines.append(f"link M-{number}: {before} -- {near._replace(box=name)} via {lead.cable.name} {by / 100} m")
        before = str(free._replace(box=name))
    return site.show.plus(*lines)


def of_a_kind(site: Site) -> bool:
    """A cable on its own line that a digital run is, by a protocol that names the cables it runs over."""
    run = run_of(site)
    protocol = site.show.rig.protocols.get(run.protocol or "") if run else None
    return bool(site["cable"] and protocol and protocol.reach)


def other_cable(site: Site, by: int) -> Show:
    return site.with_group("cable", f"oddity-{by}").plus(f"cable oddity-{by} {{ medium coax; impedance 50 ohm }}")


def one_rate(site: Site) -> bool:
    """A stage box that says no rate, joined to others only by runs that take the rig's."""
    rig, box = site.show.rig, box_of(site)
    runs = [run for run in site.show.paths.runs if site["name"] in [port.box for port in run.ends] and not run.data]
    ends = [port for run in runs for port in run.ends]
    own = any(rig.converts_rate(port) or rig.group(port).rate_hz for port in ends)
    said = any(link.rate_hz for run in runs for link in run.links)
    works = bool(runs) and all(run.works for run in runs)
    return box is not None and box.kind == "stage-box" and works and not own and not said


def labelled(site: Site) -> bool:
    box = box_of(site)
    return box is not None and box.label != "" and box.kind in ("stage-box", "sub-box") and '"' not in box.label


def label_again(site: Site, by: int) -> Show:
    """One more box, joined to nothing."""
    box = box_of(site)
    assert box is not None
    where = f" in {box.zone}" if box.zone else ""
    return site.show.plus(f'box MORE-{by} "{box.label.upper()}" is {box.model.name}{where}')


def crossed(site: Site) -> bool:
    """A cable without a ramp comes into this zone from another one."""
    rig = site.show.rig
    links = [link for link in rig.links.values() if link.lead is not None and not link.ramp]
    zones = [{rig.boxes[port.box].zone for port in pair} for link in links for pair in link.joins]
    return any(site["name"] in ends and len(ends) == 2 for ends in zones)


MUTATIONS = {
    "boxes too many in a chain": Mutation(
        BOX, too_deep, ("chain-too-deep",), lambda site: last_of_chain(site) is not None, follows=("too-many-channels",)
    ),
    "a cable of another kind": Mutation(LINK, other_cable, ("medium-mismatch",), of_a_kind),
    "a box at another rate": Mutation(
        BOX, lambda site, by: site.with_group("rest", " { rate 32 kHz } "), ("rate-mismatch",), one_rate
    ),
    "one label on two boxes": Mutation(BOX, label_again, ("label-repeated",), labelled, Level.WARNING),
    "the public lets itself in": Mutation(
        ZONE, lambda site, by: site.with_group("rest", " { public }"), ("walkway",), crossed, Level.WARNING
    ),
}


@cache
def places(name: str) -> list[Site]:
    return sites(MUTATIONS[name].pattern, MUTATIONS[name].fit)


@pytest.mark.parametrize("name", MUTATIONS)
def test_there_are_places_for_it(name: str) -> None:
    assert len({site.show.name for site in places(name)}) >= 5


@pytest.mark.parametrize("name", MUTATIONS)
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_one_thing_wrong(name: str, data: st.DataObject) -> None:
    mutation = MUTATIONS[name]
    site = data.draw(st.sampled_from(places(name)))
    show = mutation.make(site, data.draw(st.integers(1, 300)))
    assert not show.named(Level.ERROR) - set(mutation.told) - set(mutation.follows), show.told
    assert show.named(mutation.level) & set(mutation.told), show.told
