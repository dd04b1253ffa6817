"""What a network asks of its runs: one rate on every run into it, and trunks that reach as far as its protocols do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from rigdsl.paths.model import Fault, Island, Network, Run
from rigdsl.paths.verdict import Length, judge_trunk
from rigdsl.rig import Rig, natural

__all__ = ["with_networks"]


@dataclass(frozen=True)
class _Spoken:
    """What a network's boxes speak, and the rate of its clock leader (0: nobody leads, or at several rates)."""

    protocols: tuple[str, ...]
    leader: str
    rate_hz: int


def with_networks(
    rig: Rig, runs: tuple[Run, ...], islands: tuple[Island, ...], networks: tuple[Network, ...]
) -> tuple[Run, ...]:
    """The runs, with the faults that show only when a whole network is seen.

    A box's run at another rate than the clock leader's is one: nothing in a switch converts it.
    A run between two switches is judged by what the boxes of their network speak.
    """
    network_of = {switch: index for index, net in enumerate(networks) for switch in net.switches}
    spoken = _spoken(rig, runs, islands, network_of)
    return tuple(_seen(rig, run, network_of, spoken) for run in runs)


def _into(rig: Rig, run: Run, network_of: Mapping[str, int]) -> Iterator[tuple[str, str]]:
    """The switch and the box of a run that leads into a network."""
    left, right = (rig.body(end.box) for end in run.ends)
    if not run.data and not run.open and (left in network_of) != (right in network_of):
        yield (left, right) if left in network_of else (right, left)


def _spoken(
    rig: Rig, runs: tuple[Run, ...], islands: tuple[Island, ...], network_of: Mapping[str, int]
) -> dict[int, _Spoken]:
    leaders = {island.leader for island in islands if island.leader}
    into: dict[int, list[tuple[Run, str]]] = {}
    for run in runs:
        for switch, box in _into(rig, run, network_of):
            into.setdefault(network_of[switch], []).append((run, box))
    return {index: _heard(found, leaders) for index, found in into.items()}


def _heard(into: list[tuple[Run, str]], leaders: set[str]) -> _Spoken:
    protocols = sorted({name for run, _ in into for name in run.protocols}, key=natural)
    leader = next((box for _, box in into if box in leaders), "")
    rates = {run.rate_hz for run, box in into if box == leader}
    return _Spoken(tuple(protocols), leader, rates.pop() if len(rates) == 1 else 0)


def _seen(rig: Rig, run: Run, network_of: Mapping[str, int], spoken: Mapping[int, _Spoken]) -> Run:
    if run.faults:
        return run
    for switch, box in _into(rig, run, network_of):
        return _rated(rig, run, box, spoken[network_of[switch]])
    left, right = run.ends[0].box, run.ends[1].box
    if left in network_of and right in network_of and not run.open and network_of[left] in spoken:
        return _reaching(rig, run, spoken[network_of[left]].protocols)
    return run


def _rated(rig: Rig, run: Run, box: str, spoken: _Spoken) -> Run:
    """Nothing in a switch converts a rate."""
    port = next(port for port in run.ends if rig.body(port.box) == box)
    if not spoken.rate_hz or run.rate_hz == spoken.rate_hz:
        return run
    if rig.converts_rate(port):
        return run
    because = f"`{box}` runs at {run.rate_hz / 1000:g} kHz, and `{spoken.leader}` at {spoken.rate_hz / 1000:g} kHz"
    return replace(run, faults=(Fault("rate-mismatch", because),))


def _reaching(rig: Rig, run: Run, protocols: tuple[str, ...]) -> Run:
    """A run between two switches works for those of the network's protocols that its cable carries so far."""
    verdict = judge_trunk(rig, protocols, run.pieces, Length(run.known_m, run.length_m is not None))
    return replace(
        run,
        protocols=verdict.protocols,
        protocol=verdict.protocol,
        faults=verdict.faults,
        reach_m=verdict.reach_m,
    )
