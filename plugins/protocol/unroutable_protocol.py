"""Only protocols made for a network go through a network switch."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import ticked
from rigdsl.paths import Paths, Run
from rigdsl.rig import Rig
from rigdsl_protocol.runs import about_run, stopped

__all__ = ["unroutable_protocol"]


RULE = "unroutable-protocol"


@rule(RULE, Level.ERROR, NoOptions)
def unroutable_protocol(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A protocol that is not made for a network is led through a switch.

    ## On the night
    The plug fits the switch, and the switch throws away what it does not understand: no sound.

    ## A rig that breaks it
    ```rig
    rig "Through the switch" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    model switch8 { kind switch; digital port 1-8 }
    zone wing
    zone foh
    box SL is nw16 in wing
    box SW is switch8 in foh
    box DESK is desk32 in foh
    link C01: SL.A -- SW.port 1 via cat6 60 m
    link C02: SW.port 2 -- DESK.stage via cat6 2 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Straight to the desk" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## Figures
    AES50 is point-to-point and not a network (AES Standards News Blog, "New revision of AES50-2011").
    The topology of other protocols is what their `topology` line says.
    """
    later = _told_before(paths)
    for run, _ in stopped(paths, RULE):
        if run in later:
            continue
        switch = next((end for end in run.ends if rig.boxes[end.box].kind == "switch"), run.ends[1])
        sender = run.other(switch)
        names = rig.group(sender).protocols
        them = "it" if len(names) == 1 else "them"
        yield about_run(
            paths,
            run,
            f"`{sender}` speaks {ticked(names)}, and the switch `{switch.box}` does not pass {them} on",
            consequence="no sound passes the switch",
            help=f"run the cable past `{switch.box}`, or use ports whose protocol is made for a network",
            related=tuple(
                Related(rig.protocols[name].place, f"`{name}` is {_topology(rig, name)}")
                for name in names
                if name in rig.protocols
            ),
        )


def _told_before(paths: Paths) -> set[Run]:
    """Into the switch and out of it again is one mistake: of two such cables on one way only the first is told."""
    first: set[Run] = set()
    later: set[Run] = set()
    for pair in paths.pairs:
        blame = pair.route.blame if pair.route else ()
        runs = sorted((run for run, fault, _ in blame if run and fault.rule == RULE), key=lambda run: run.key)
        first.update(runs[:1])
        later.update(runs[1:])
    return later - first


def _topology(rig: Rig, name: str) -> str:
    topology = rig.protocols[name].topology
    return "for a chain of boxes" if topology == "chain" else topology
