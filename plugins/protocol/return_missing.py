"""Mixes need a way back to the stage."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, listed
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig, natural, ports_text
from rigdsl_protocol.runs import unsure
from rigdsl_protocol.ways import carrying, is_one_way, taken

__all__ = ["return_missing"]


@rule("return-missing", Level.ERROR, NoOptions)
def return_missing(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A box's outputs are fed by mixes, and nothing carries the mixes back to it.

    A one-way protocol takes sound to the desk; the way back wants a cable of its own.

    ## On the night
    The house hears the band, and the wedges are silent.

    ## A rig that breaks it
    ```rig
    rig "One way only" { rate 48 kHz }
    model nw16 {
      kind stage-box
      inputs mic 1-16 { preamp }
      outputs line 1-8
      digital to-desk { protocol aes10-coax; sends }
      digital back { protocol aes10-coax; takes }
    }
    model desk32 {
      kind console
      channels ch 1-32
      mixes mix 1-16
      digital in { protocol aes10-coax; takes }
      digital out { protocol aes10-coax; sends }
    }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link M01: SL.to-desk -- DESK.in via coax75 40 m
    source vox dynamic in wing to SL 1 via xlr 6 m
    output wdg1 wedge in wing from SL.line 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    patch DESK.mix 1 -> wdg1
    clock DESK
    ```

    ## A rig that keeps it
    ```rig
    rig "There and back" { rate 48 kHz }
    model nw16 {
      kind stage-box
      inputs mic 1-16 { preamp }
      outputs line 1-8
      digital to-desk { protocol aes10-coax; sends }
      digital back { protocol aes10-coax; takes }
    }
    model desk32 {
      kind console
      channels ch 1-32
      mixes mix 1-16
      digital in { protocol aes10-coax; takes }
      digital out { protocol aes10-coax; sends }
    }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link M01: SL.to-desk -- DESK.in via coax75 40 m
    link M02: DESK.out -- SL.back via coax75 40 m
    source vox dynamic in wing to SL 1 via xlr 6 m
    output wdg1 wedge in wing from SL.line 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    patch DESK.mix 1 -> wdg1
    clock DESK
    ```

    ## Figures
    AES10 is a one-way connection and a return path needs a second one (abstract of AES10-2020).
    """
    lost: dict[str, dict[Port, Port]] = {}
    for pair in paths.pairs:
        if pair.route and is_one_way(rig, paths, pair.route) and not unsure(paths, pair.route):
            lost.setdefault(rig.body(pair.route.right.box), {})[pair.route.right] = pair.route.left
    for box, fed in lost.items():
        yield _missing(rig, paths, box, fed)


def _missing(rig: Rig, paths: Paths, box: str, fed: dict[Port, Port]) -> Finding:
    """`fed` has the outputs of the box, each with the mix that should feed it."""
    desk = next(iter(fed.values())).box
    back = paths.route(next(iter(fed)), next(iter(fed.values()))).runs
    silent = tuple(name for name in _names(paths, fed))
    return Finding(
        place=rig.boxes[box].place,
        subject=box,
        message=f"nothing carries mixes from `{desk}` back to `{box}`: the cables between them go one way",
        consequence=_night(fed, silent),
        help=_way_out(rig, paths, desk, box),
        related=tuple(Related(run.links[0].place, f"`{run.name}` goes towards `{desk}` only") for run, _ in back),
        ports=tuple(str(port) for port in fed),
        silent=silent,
        box=box,
    )


def _names(paths: Paths, fed: dict[Port, Port]) -> list[str]:
    """The outputs and loudspeakers behind these sockets."""
    names = []
    for port in fed:
        for reached in paths.walk_from(port).came:
            names += [leg.name for leg in paths.plugs.get(reached, ()) if leg.name in paths.rig.outputs]
            names += [reached.box] if paths.is_loudspeaker_input(reached) else []
    return sorted(dict.fromkeys(names), key=natural)


def _night(fed: dict[Port, Port], silent: tuple[str, ...]) -> str:
    verb = "is" if len(fed) == 1 else "are"
    return f"{count(len(fed), 'output')} {verb} silent: {listed(silent) if silent else f'`{ports_text(fed)}`'}"


def _way_out(rig: Rig, paths: Paths, desk: str, box: str) -> str:
    """Ports for the way back: one that sends at the desk and one that takes at the box."""
    for one, other, protocol in carrying(rig, paths, desk, box):
        return f"join `{one}` to `{other}` by a second cable: both speak `{protocol}`{taken(paths, one, other)}"
    return f"`{box}` takes nothing back: feed these outputs another way"
