"""A plug must go into its socket."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import called, count
from rigdsl.paths import Paths, WrongPlug, misfits, turned
from rigdsl.rig import Cable, Insert, Link, Output, Rig, Source, ports_text

__all__ = ["connector_mismatch"]


@rule("connector-mismatch", Level.WARNING, NoOptions, edition=2)
def connector_mismatch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A cable's plug does not fit the socket that it goes into.

    Judged are cables and sockets that both name a `connector`; a socket that names several takes any of them. A
    cable that names two has one at each end, and lies whichever way round fits. `rj45`, `lc` and `bnc` have no
    gender. A cable from a source goes on with a male XLR, one to an output comes with a female one. The lead of an
    insert has a plug for each way: judged is what kind of plug it is, at the outboard.

    ## On the night
    The line is pulled, and it does not go in. The adapter is in the other case, or at home.

    ## A rig that breaks it
    ```rig
    rig "Microphone leads into a small mixer" { rate 48 kHz }
    model mix4 {
      kind console; channels ch 1-4
      inputs mic 1-2 { preamp; connector xlr-f }
      pass mic -> ch 1-2
    }
    model keys2 { kind computer; outputs out 1-2 { connector jack } }
    zone stage
    box DESK is mix4 in stage
    box KEYS is keys2 in stage
    source vox dynamic in stage to DESK.mic 1 via xlr 5 m
    link L01: KEYS.out 1 -- DESK.mic 2 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "A lead with both" { rate 48 kHz }
    cable jack-xlr "Jack to XLR" { medium analogue; connector jack, xlr-m }
    model mix4 {
      kind console; channels ch 1-4
      inputs mic 1-2 { preamp; connector xlr-f }
      pass mic -> ch 1-2
    }
    model keys2 { kind computer; outputs out 1-2 { connector jack } }
    zone stage
    box DESK is mix4 in stage
    box KEYS is keys2 in stage
    source vox dynamic in stage to DESK.mic 1 via xlr 5 m
    link L01: KEYS.out 1 -- DESK.mic 2 via jack-xlr 5 m
    ```

    ## Figures
    XLR outputs are male and inputs female (AES14-1992), so a cable has a female plug at the end of the output and
    a male one at the end of the input.

    ## See also
    `level-mismatch`, `medium-mismatch`.
    """
    for misfit in misfits(rig, paths):
        yield _told(rig, misfit.thing, misfit.cable, misfit.plugs)


def _told(rig: Rig, thing: Link | Source | Output | Insert, cable: Cable, wrong: Sequence[WrongPlug]) -> Finding:
    first = wrong[0]
    ports = list(dict.fromkeys(one.port for one in wrong))
    is_turned = turned(first.plug, first.socket)
    alike = "both are of one gender" if is_turned else f"its socket is `{first.socket}`"
    return Finding(
        place=thing.place,
        subject=thing.name,
        message=f"{called(thing)} has a plug `{first.plug}` at `{ports_text(ports)}`, and {alike}",
        consequence="it does not go in",
        help=f"for the kit list: {_adapters(wrong)}; or take another cable than `{cable.name}`",
        related=(Related(rig.group(first.port).place, f"`{first.port}` has its connector by this line"),),
        ports=tuple(str(port) for port in ports),
        box=first.port.box,
    )


def _adapters(wrong: Sequence[WrongPlug]) -> str:
    """The adapters that would do, each kind once, with how many it takes."""
    kinds = Counter((one.plug, one.socket) for one in wrong)
    return ", ".join(
        f"{count(number, 'turnaround' if turned(*kind) else 'adapter')} from plug `{kind[0]}` to socket `{kind[1]}`"
        for kind, number in kinds.items()
    )
