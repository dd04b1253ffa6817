"""A chain is no longer than its protocol allows."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count
from rigdsl.paths import Misfit, Paths
from rigdsl.rig import Rig
from rigdsl_protocol.runs import about_run, misfits
from rigdsl_protocol.ways import free, joinable

__all__ = ["chain_too_deep"]


@rule("chain-too-deep", Level.ERROR, NoOptions)
def chain_too_deep(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """More boxes are chained behind one port than the protocol allows.

    ## On the night
    The boxes at the end of the chain are not found, and what is plugged into them is silent.

    ## A rig that breaks it
    ```rig
    rig "One box too many" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 1 }
    model nw8 { kind stage-box; inputs mic 1-8 { preamp }; digital A, B { protocol fernlink; chain } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw8 in wing
    box SR is nw8 in wing
    box DESK is desk32 in foh
    link C01: DESK.stage -- SL.A via cat6 60 m
    link C02: SL.B -- SR.A via cat6 20 m
    source kick dynamic in wing to SR 1 via xlr 6 m
    patch SR.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "As many as it takes" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 2 }
    model nw8 { kind stage-box; inputs mic 1-8 { preamp }; digital A, B { protocol fernlink; chain } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw8 in wing
    box SR is nw8 in wing
    box DESK is desk32 in foh
    link C01: DESK.stage -- SL.A via cat6 60 m
    link C02: SL.B -- SR.A via cat6 20 m
    source kick dynamic in wing to SR 1 via xlr 6 m
    patch SR.mic 1 -> DESK.ch 1
    ```

    ## Figures
    How many boxes a chain may have is what the protocol's `topology chain` says.
    """
    for misfit in misfits(paths, "chain-too-deep"):
        yield _too_deep(rig, paths, misfit)


def _too_deep(rig: Rig, paths: Paths, misfit: Misfit) -> Finding:
    protocol = rig.protocols[misfit.run.protocol or ""]
    chain = paths.chains[misfit.box]
    return about_run(
        paths,
        misfit.run,
        f"`{protocol.name}` takes {count(protocol.depth, 'box', 'boxes')} behind `{chain.head}`, "
        f"and `{misfit.box}` is number {chain.position}",
        consequence=f"`{misfit.box}` is not found, and is silent with all behind it",
        help=_way_out(rig, paths, misfit),
        related=(Related(protocol.place, "how many it takes is said here"),),
        subject=misfit.box,
        box=misfit.box,
    )


def _way_out(rig: Rig, paths: Paths, misfit: Misfit) -> str:
    """A free port of the desk, where there is one."""
    head = paths.chains[misfit.box].head.box
    for one, other, protocol in joinable(rig, paths, head, misfit.box):
        if free(paths, one):
            return f"`{one}` is free: join `{other}` to it, both speak `{protocol}`"
    return f"bring `{misfit.box}` to another port of `{head}`, or do without a box"
