"""Both ends of a run must speak one language."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl_protocol.runs import about_run, stopped
from rigdsl_protocol.ways import spoken, understanding

__all__ = ["protocol_mismatch"]


@rule("protocol-mismatch", Level.ERROR, NoOptions)
def protocol_mismatch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """The two ends of a digital run share no protocol.

    ## On the night
    The plugs fit, the lights may even blink, and no sound passes: the two boxes do not understand each other.

    ## A rig that breaks it
    ```rig
    rig "Two makers" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    protocol mosslink { carries 32 at 48 kHz; over cat5e 80 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol mosslink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "One maker" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink, aes50 } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## See also
    `unroutable-protocol` for protocols led through a network switch, `control-mismatch` for boxes that pass sound
    and yet cannot be controlled.
    """
    for run, fault in stopped(paths, "protocol-mismatch"):
        left, right = run.ends
        alike = set(rig.group(left).protocols) & set(rig.group(right).protocols)
        yield about_run(
            paths,
            run,
            fault.because
            if alike
            else f"`{left}` speaks {spoken(rig, left)}, `{right}` speaks {spoken(rig, right)}: they share no protocol",
            consequence="no sound passes this cable",
            help="join a port that sends to one that takes" if alike else understanding(rig, paths, run),
            related=tuple(
                Related(rig.group(end).place, f"`{end}` speaks {spoken(rig, end)} by this line") for end in run.ends
            ),
        )
