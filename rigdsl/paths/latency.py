"""How late sound comes: the longest way from any source to an output, and where on it the time goes.

Conversion, hops and passes stand on the hops of paths already. Here the desks between are added, each once, and
what is inserted into their channels and mixes; a protocol whose latency is set once for a network counts once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from rigdsl.paths.model import Hop, Path, Run
from rigdsl.paths.stretches import Delay, Longest, Network, Stretch, Way, longest, stretch
from rigdsl.paths.trace import feeding_paths
from rigdsl.rig import Leg, Port

if TYPE_CHECKING:
    from rigdsl.paths.paths import Paths

__all__ = ["Delays"]

MOST_IN_A_CIRCLE = 6  # desks that all feed each other, of which every order is tried


@dataclass(frozen=True, eq=False)
class Delays:
    """The longest ways of a rig, each desk looked at once."""

    paths: Paths

    def of(self, name: str) -> Delay | None:
        """The longest way to an output; None where no source reaches it."""
        found = [delay for path in self.paths.paths_of(name) if path.complete for delay in self._of(path)]
        return max(found, key=lambda delay: delay.latency_s, default=None)

    def _of(self, path: Path) -> Iterator[Delay]:
        """`path` is one of an output."""
        for way in self._before(path.start, path.hops, frozenset()).values():
            yield Delay(way.source, path.leg or Leg("", 0), way.parts)

    def _before(self, start: Port | Leg, hops: tuple[Hop, ...], open_: frozenset[str]) -> Longest:
        """All that leads to where these hops begin, with the hops behind it."""
        if isinstance(start, Leg):
            return longest([self._followed(Way(start, (), frozenset()), hops)])
        if not self.paths.rig.boxes[start.box].mixes:
            return {}  # what a recorder plays is no longer live
        mixed = self.paths.rig.group(start).role == "mixes"
        fronts = self._desk(start.box, open_) if mixed else self._into(start, open_)
        work = self._work(start.box)
        ways = (Way(front.source, (*front.parts, *work), front.networks) for front in fronts.values())
        return longest(self._followed(way, hops) for way in ways)

    def _work(self, box: str) -> tuple[Stretch, ...]:
        latency = self.paths.rig.boxes[box].latency_s
        return (Stretch("desk", box, latency),) if latency else ()

    @cached_property
    def _desks(self) -> dict[tuple[str, frozenset[str]], Longest]:
        return {}

    def _desk(self, box: str, open_: frozenset[str]) -> Longest:
        """The longest ways into any channel of a desk; `open_` are desks that a way has been through already.

        Of those only the ones matter that feed each other in a circle with this one.
        """
        if box in open_:
            return {}
        key = box, open_ & self._circle(box)
        if key not in self._desks:
            self._desks[key] = {}  # in a circle of too many desks to try each order, this is where it is cut
            channels = self._channels.get(box, ())
            self._desks[key] = longest(way for port in channels for way in self._mixed(port, open_))
        return self._desks[key]

    def _mixed(self, channel: Port, open_: frozenset[str]) -> Iterator[Way]:
        """The longest ways through a channel to the mixes, and through what is inserted there."""
        hops = self.paths.insert_hops(channel)
        for way in self._into(channel, open_).values():
            yield self._followed(way, hops)

    @cached_property
    def _feeding_desks(self) -> Mapping[str, frozenset[str]]:
        """The desks whose mixes or channels come to a desk's channels, straight or through others."""
        straight = {
            box: {path.start.box for port in ports for path in self._fed_by(port) if isinstance(path.start, Port)}
            for box, ports in self._channels.items()
        }
        return {box: frozenset(_reached(straight, box)) for box in straight}

    def _circle(self, box: str) -> frozenset[str]:
        """The other desks that feed this one and are fed by it; of too many, none."""
        feeding = self._feeding_desks
        found = {other for other in feeding.get(box, ()) if box in feeding.get(other, ()) and other != box}
        return frozenset(found) if len(found) < MOST_IN_A_CIRCLE else frozenset()

    @cached_property
    def _channels(self) -> Mapping[str, tuple[Port, ...]]:
        """The channels of each desk that anything is patched or wired to."""
        rig = self.paths.rig
        ends = [pair.right if pair.route is None else pair.route.right for pair in self.paths.pairs]
        fed = {end for end in ends if isinstance(end, Port) and rig.group(end).role == "channels"}
        for box in rig.boxes.values():
            wired = {one.right for one in box.model.passes}
            for group in box.model.of_role("channels"):
                fed |= set(box.ports(group)) if group.name in wired else set()
        found: dict[str, list[Port]] = {}
        for port in sorted(fed, key=lambda port: port.key):
            found.setdefault(port.box, []).append(port)
        return {box: tuple(ports) for box, ports in found.items()}

    @cached_property
    def _fed(self) -> dict[Port, tuple[Path, ...]]:
        return {}

    def _fed_by(self, channel: Port) -> tuple[Path, ...]:
        """The whole ways into a channel; what a desk sends to itself goes through it no second time."""
        if channel not in self._fed:
            self._fed[channel] = tuple(
                path
                for path in feeding_paths(self.paths, channel)
                if path.complete and not (isinstance(path.start, Port) and path.start.box == channel.box)
            )
        return self._fed[channel]

    def _into(self, channel: Port, open_: frozenset[str]) -> Longest:
        """The longest ways into a channel, before what is inserted there."""
        through = open_ | {channel.box}
        return longest(
            way for path in self._fed_by(channel) for way in self._before(path.start, path.hops, through).values()
        )

    # ---- what takes time

    def _followed(self, way: Way, hops: Iterable[Hop]) -> Way:
        """A way with these hops behind it."""
        parts = list(way.parts)
        networks = set(way.networks)
        for hop in hops:
            network = self._network(hop)
            if not hop.latency_s or network in networks:
                continue
            if network is not None:
                networks.add(network)
                parts.append(Stretch("network", network[0], hop.latency_s))
            else:
                inserted = isinstance(hop.left, Port) and bool(self.paths.inserts_through(hop.left))
                parts.append(stretch(hop, inserted=inserted))
        return Way(way.source, tuple(parts), frozenset(networks))

    def _network(self, hop: Hop) -> Network | None:
        """The network that a cable leads through, where its protocol's latency is set once for all of it."""
        protocol = self.paths.rig.protocols.get(hop.protocol or "")
        if protocol is None or not protocol.latency_once or not isinstance(hop.left, Port):
            return None
        run = next((run for run in self.paths.run_at.get(hop.left, ()) if hop.link in run.links), None)
        return protocol.name, self._through(run) if run else ""

    def _through(self, run: Run) -> str:
        switch = next((end.box for end in run.ends if end.box in self._network_of), "")
        return self._network_of[switch] if switch else run.name

    @cached_property
    def _network_of(self) -> Mapping[str, str]:
        """Of each switch, the first one of its network."""
        return {switch: one.switches[0] for one in self.paths.networks for switch in one.switches}


def _reached(straight: Mapping[str, set[str]], box: str) -> set[str]:
    found: set[str] = set()
    waiting = [box]
    while waiting:
        new = straight.get(waiting.pop(), set()) - found
        found |= new
        waiting += sorted(new)
    return found
