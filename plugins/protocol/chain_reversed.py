"""The near port of a chained box faces the desk."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import ticked
from rigdsl.paths import Chain, Paths
from rigdsl.rig import Rig
from rigdsl_protocol.runs import chained_before, doubtful

__all__ = ["chain_reversed"]


@rule("chain-reversed", Level.WARNING, NoOptions)
def chain_reversed(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """The far port of a chained box faces the desk, where the maker says which port is which.

    ## On the night
    Some boxes come up in the wrong place of the chain, or not at all: channels of one box arrive under another's.

    ## A rig that breaks it
    ```rig
    rig "Wrong way round" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 4 }
    model nw16 {
      kind stage-box
      inputs mic 1-16 { preamp }
      digital A { protocol fernlink; chain near }
      digital B { protocol fernlink; chain far }
    }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: DESK.stage -- SL.B via cat6 60 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Right way round" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; topology chain 4 }
    model nw16 {
      kind stage-box
      inputs mic 1-16 { preamp }
      digital A { protocol fernlink; chain near }
      digital B { protocol fernlink; chain far }
    }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: DESK.stage -- SL.A via cat6 60 m
    ```
    """
    for chain in paths.chains.values():
        cut = any(paths.chains[box].run.faults for box in chained_before(paths, chain.box))
        if rig.group(chain.near).chain == "far" and not cut and not doubtful(paths, (chain.box, chain.before)):
            yield _reversed(rig, chain)


def _reversed(rig: Rig, chain: Chain) -> Finding:
    groups = rig.groups_of(chain.box, "digital")
    near = [f"{one.name}.{group.name}" for one, group in groups if group.chain == "near"]
    return Finding(
        place=chain.run.links[0].place,
        subject=chain.box,
        message=f"`{chain.near}` faces `{chain.before}`, and it is the port for what comes behind `{chain.box}`",
        consequence="boxes come up in the wrong place of the chain, or not at all",
        help=f"plug the cable from `{chain.before}` into {ticked(near)}" if near else "swap the two cables of this box",
        related=(Related(rig.group(chain.near).place, f"`{chain.near}` is the far port by this line"),),
        ports=(str(chain.near),),
        box=chain.box,
    )
