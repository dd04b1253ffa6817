"""A box behind a box needs one before it that carries on."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import ticked
from rigdsl.paths import Misfit, Paths
from rigdsl.rig import Port, Rig
from rigdsl_protocol.runs import about_run, misfits
from rigdsl_protocol.ways import free, joinable

__all__ = ["chain_not_supported"]


@rule("chain-not-supported", Level.ERROR, NoOptions)
def chain_not_supported(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A box is chained behind one that does not carry its channels on.

    A box carries on what comes behind it where its ports say `chain` and the protocol's topology is a chain.
    A panel carries on what a `pass` of its model joins.

    ## On the night
    The first box plays, and the one behind it is silent.

    ## A rig that breaks it
    ```rig
    rig "Behind a box that keeps to itself" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 4 }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box SR is nw16 in wing
    box DESK is desk32 in foh
    link C01: DESK.stage -- SL.A via cat6 60 m
    link C02: SL.B -- SR.A via cat6 20 m
    source kick dynamic in wing to SR 1 via xlr 6 m
    patch SR.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Chained" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 4 }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A, B { protocol fernlink; chain } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box SR is nw16 in wing
    box DESK is desk32 in foh
    link C01: DESK.stage -- SL.A via cat6 60 m
    link C02: SL.B -- SR.A via cat6 20 m
    source kick dynamic in wing to SR 1 via xlr 6 m
    patch SR.mic 1 -> DESK.ch 1
    ```

    ## See also
    `chain-too-deep` and `chain-reversed` for chains that go wrong otherwise.
    """
    for misfit in misfits(paths, "chain-not-supported"):
        yield _unsupported(rig, paths, misfit)


def _unsupported(rig: Rig, paths: Paths, misfit: Misfit) -> Finding:
    run, before = misfit.run, misfit.before
    link = min(run.links, key=lambda link: link.key)
    ports = [end for end in run.ends if rig.body(end.box) == before]
    panel = rig.boxes[before].kind == "panel"
    return about_run(
        paths,
        run,
        _panel_words(rig, paths, misfit) if panel else misfit.fault.because,
        consequence=f"`{misfit.box}` is silent, and so is all that is chained behind it",
        help=_missing_pass(rig, paths, misfit) if panel else _way_out(rig, paths, misfit),
        related=tuple(Related(rig.group(port).place, f"what `{port}` can do is said here") for port in ports),
        at=link,
        subject=link.name,
        box=misfit.box,
    )


def _way_out(rig: Rig, paths: Paths, misfit: Misfit) -> str:
    """A free port of the desk for this box, else chain ports of the box before it."""
    chain = paths.chains.get(misfit.box)
    if chain and chain.head.box in rig.boxes:
        for one, other, protocol in joinable(rig, paths, chain.head.box, misfit.box):
            if free(paths, one):
                return f"`{one}` is free: join `{other}` to it, both speak `{protocol}`"
    groups = rig.groups_of(misfit.before, "digital")
    ports = [f"{one.name}.{group.name}" for one, group in groups if group.chain]
    if ports:
        return f"the ports that chain on `{misfit.before}` are {ticked(ports)}"
    return f"bring `{misfit.box}` to a port of its own, or use boxes that can be chained"


def _panel_ports(paths: Paths, misfit: Misfit) -> tuple[Port, Port]:
    """The two sockets of a panel that should be one line: towards the desk, and towards the box."""
    far = next(end for end in misfit.run.ends if end.box == misfit.before)
    return paths.chains[misfit.before].near, far


def _panel_words(rig: Rig, paths: Paths, misfit: Misfit) -> str:
    """A panel is wire from socket to socket, by its model's `pass`."""
    near, far = _panel_ports(paths, misfit)
    return f"the panel's model `{rig.boxes[near.box].model.name}` has no `pass` that joins `{far}` to `{near}`"


def _missing_pass(rig: Rig, paths: Paths, misfit: Misfit) -> str:
    ports = _panel_ports(paths, misfit)
    model = rig.boxes[misfit.before].model
    groups = [name for name in model.groups if name in (ports[0].group, ports[1].group)]
    if len(groups) == 1:
        return f"add a `pass` to model `{model.name}` that says which of its sockets are one line"
    if any({one.left, one.right} == set(groups) for one in model.passes):
        return f"use sockets of `{misfit.before}` that are one line, by the `pass` of its model"
    return f"add `pass {groups[0]} -- {groups[1]}` to model `{model.name}`"
