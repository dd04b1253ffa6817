"""Does sound pass over a run? The faults, in the order in which one hides the next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigdsl.paths.model import Fault, Piece
from rigdsl.rig import Cable, Group, Port, Protocol, Rig

__all__ = ["Ends", "Verdict", "judge", "judge_trunk", "reach_on"]


@dataclass(frozen=True)
class Ends:
    """The two ends of a run, and what they are: `data` where only control data can pass."""

    ports: tuple[Port, Port]
    groups: tuple[Group, Group]
    switches: tuple[bool, bool]
    rates_hz: tuple[int, int]
    converts: tuple[bool, bool]
    data: bool

    @classmethod
    def of(cls, rig: Rig, left: Port, right: Port, pieces: tuple[Piece, ...]) -> Ends:
        """The ends of a run; a rate that a link names holds at both."""
        groups = rig.group(left), rig.group(right)
        switches = rig.boxes[left.box].kind == "switch", rig.boxes[right.box].kind == "switch"
        said = next((piece.link.rate_hz for piece in pieces if piece.link.rate_hz), None)
        rates = said or rig.rate_of(left), said or rig.rate_of(right)
        converts = rig.converts_rate(left), rig.converts_rate(right)
        roles = [group.role for group in groups]
        data = "data" in roles and all(
            role == "data" or (role == "digital" and switch) for role, switch in zip(roles, switches, strict=True)
        )
        return cls((left, right), groups, switches, rates, converts, data)

    @property
    def rate_hz(self) -> int:
        """The rate of the run: that of the end that does not convert; a switch has none of its own."""
        if self.switches[0] or self.converts[0]:
            return self.rates_hz[1]
        return self.rates_hz[0]


@dataclass(frozen=True)
class Length:
    """How long a run is as far as anybody knows; not `whole` where a piece has no length."""

    known_m: float
    whole: bool


@dataclass(frozen=True)
class Verdict:
    """What a run works by, best first, or why it does not. `reach_m` is that of `protocol`; None: not limited."""

    protocols: tuple[str, ...]
    protocol: str | None
    faults: tuple[Fault, ...]
    reach_m: float | None


def judge(rig: Rig, ends: Ends, pieces: tuple[Piece, ...], length: Length) -> Verdict:
    """Judge a run by the protocols that its ends share."""
    fault = _domain(ends, pieces)
    if fault or ends.data:
        return Verdict((), None, (fault,) if fault else (), None)
    spoken, fault = _shared(rig, ends)
    if fault:
        return Verdict((), None, (fault,), None)
    if not spoken:
        faults = tuple(_medium_alike(pieces)) or tuple(_rates(ends, None))
        return Verdict((), None, faults, None)
    return _best_of([(name, _by(rig.protocols[name], ends, pieces, length)) for name in spoken])


def judge_trunk(rig: Rig, spoken: tuple[str, ...], pieces: tuple[Piece, ...], length: Length) -> Verdict:
    """Judge a run between two switches by what their network speaks: only its cable matters."""
    if not spoken:
        return Verdict((), None, (), None)
    return _best_of([(name, _over(rig.protocols[name], pieces, length)) for name in spoken])


Judged = tuple[tuple[Fault, ...], float | None]


def _best_of(judged: list[tuple[str, Judged]]) -> Verdict:
    """What works, best first; else the protocol that is nearest to working, and why it does not."""
    working = tuple(name for name, (faults, _) in judged if not faults)
    if working:
        reach = next(reach for name, (faults, reach) in judged if not faults)
        return Verdict(working, working[0], (), reach)
    name, (faults, reach) = max(judged, key=lambda one: ORDER.index(one[1][0][0].rule))
    return Verdict((), name, faults, reach)


# The nearer to the end, the nearer to working.
ORDER = ("protocol-mismatch", "medium-mismatch", "run-too-long", "rate-mismatch")


def _domain(ends: Ends, pieces: tuple[Piece, ...]) -> Fault | None:
    roles = [group.role for group in ends.groups]
    analogue = [role in ("inputs", "outputs") for role in roles]
    if any(analogue):
        plug, far = ends.ports if analogue[0] else ends.ports[::-1]
        if all(analogue):
            far = pieces[0].right  # two analogue sockets over a digital panel
        return Fault("domain-mismatch", f"`{plug}` is analogue, and `{far}` is digital")
    if "data" in roles and not ends.data:
        port = ends.ports[roles.index("data")]
        return Fault("not-an-audio-port", f"`{port}` carries remote control only, never audio")
    return None


def _shared(rig: Rig, ends: Ends) -> tuple[tuple[str, ...], Fault | None]:
    """The protocols that both ends speak; none, and no fault, where an end names none at all."""
    spoken = [group.protocols for group in ends.groups]
    for at, other in ((0, 1), (1, 0)):
        if not ends.switches[at]:
            continue
        if ends.switches[other] or not spoken[other]:
            return (), None
        routed = tuple(name for name in spoken[other] if rig.protocols[name].topology == "network")
        if routed:
            return routed, None
        names = " and ".join(f"`{name}`" for name in spoken[other])
        because = f"`{ends.ports[other]}` speaks {names}, which no switch passes on"
        return (), Fault("unroutable-protocol", because)
    if not spoken[0] or not spoken[1]:
        return spoken[0] or spoken[1], _same_way(ends)
    both = tuple(name for name in spoken[0] if name in spoken[1])
    if both:
        return both, _same_way(ends)
    left, right = (
        f"`{port}` speaks {' and '.join(f'`{name}`' for name in names)}"
        for port, names in zip(ends.ports, spoken, strict=True)
    )
    return (), Fault("protocol-mismatch", f"{left}, and {right}")


def _same_way(ends: Ends) -> Fault | None:
    """Two ends of a one-way protocol that both send, or both take."""
    ways = [group.direction for group in ends.groups]
    if ways[0] and ways[0] == ways[1]:
        do = "send, and neither takes" if ways[0] == "sends" else "take, and neither sends"
        return Fault("protocol-mismatch", f"`{ends.ports[0]}` and `{ends.ports[1]}` both {do}")
    return None


def _by(protocol: Protocol, ends: Ends, pieces: tuple[Piece, ...], length: Length) -> Judged:
    faults, reach = _over(protocol, pieces, length)
    return faults or tuple(_rates(ends, protocol)), reach


def _over(protocol: Protocol, pieces: tuple[Piece, ...], length: Length) -> Judged:
    """The cable alone: its kind and its length."""
    reach, fault = _reach(protocol, pieces)
    faults = [fault] if fault else list(_medium_alike(pieces))
    if not faults and reach is not None and length.known_m > reach * (1 + 1e-9):
        least = "" if length.whole else "at least "
        because = f"{least}{_metres(length.known_m)} of cable, and `{protocol.name}` reaches {_metres(reach)} on it"
        faults = [Fault("run-too-long", because)]
    return tuple(faults), reach


def reach_on(protocol: Protocol, cable: Cable) -> float | None:
    """How far a protocol reaches on a cable, by its name, else its category or grade; None: it does not run over it."""
    if cable.name in protocol.reach:
        return protocol.reach[cable.name]
    return max((protocol.reach[rung] for rung in cable.rungs if rung in protocol.reach), default=None)


def _reach(protocol: Protocol, pieces: tuple[Piece, ...]) -> tuple[float | None, Fault | None]:
    """The reach on the poorest piece. Cables that nobody knows, and protocols that name none, are not judged."""
    reaches = []
    for piece in pieces:
        cable = piece.link.lead.cable if piece.link.lead else None
        if cable is None or not cable.medium or not protocol.reach:
            continue
        reach = reach_on(protocol, cable)
        if reach is None:
            runs_over = ", ".join(f"{name} ({_metres(far)})" for name, far in protocol.reach.items())
            because = f"`{protocol.name}` does not run over {_cable_words(cable)}; it runs over {runs_over}"
            return None, Fault("medium-mismatch", because)
        reaches.append(reach)
    return min(reaches, default=None), None


def _cable_words(cable: Cable) -> str:
    kind = f"category {cable.category}" if cable.category else cable.grade or cable.medium
    return f"`{cable.name}`" if cable.name in (kind, f"cat{cable.category}") else f"`{cable.name}` ({kind})"


def _medium_alike(pieces: tuple[Piece, ...]) -> Iterator[Fault]:
    """Pieces of one run must be of one medium, and of one grade where they are fibre."""
    kinds: dict[tuple[str, str], str] = {}
    for piece in pieces:
        cable = piece.link.lead.cable if piece.link.lead else None
        if cable is not None and cable.medium:
            grade = cable.grade if cable.medium == "fibre" else ""
            kinds.setdefault((cable.medium, grade), f"`{piece.link.name}` is {grade or cable.medium}")
    if len(kinds) > 1:
        yield Fault("medium-mismatch", ", and ".join(kinds.values()))


def _rates(ends: Ends, protocol: Protocol | None) -> Iterator[Fault]:
    if any(ends.switches):
        rates = {rate for rate, switch in zip(ends.rates_hz, ends.switches, strict=True) if not switch}
    else:
        rates = set(ends.rates_hz)
        if len(rates) > 1 and not any(ends.converts):
            left, right = (
                f"`{port}` runs at {rate / 1000:g} kHz" for port, rate in zip(ends.ports, ends.rates_hz, strict=True)
            )
            yield Fault("rate-mismatch", f"{left}, and {right}")
            return
    if protocol is None or not protocol.capacity or not rates:
        return
    if protocol.channels_at(ends.rate_hz) is None:
        known = ", ".join(f"{rate / 1000:g} kHz" for rate in sorted(protocol.capacity))
        yield Fault("rate-mismatch", f"`{protocol.name}` has no {ends.rate_hz / 1000:g} kHz; it has {known}")


def _metres(length_m: float) -> str:
    return f"{length_m:.1f}".removesuffix(".0") + " m"
