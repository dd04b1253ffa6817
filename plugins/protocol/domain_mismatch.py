"""Analogue and digital sockets are not joined by a cable, even where the plugs fit."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl_protocol.runs import about_run, stopped

__all__ = ["domain_mismatch"]


@rule("domain-mismatch", Level.ERROR, NoOptions)
def domain_mismatch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """An analogue socket is joined to a digital one.

    ## On the night
    Nothing, or a loud buzz: a digital stream on an analogue input is noise at full level. Keep the channel muted.

    ## A rig that breaks it
    ```rig
    rig "A stream into a mic input" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk12 {
      kind console
      channels ch 1-12
      inputs local 1-12 { preamp }
      pass local -> ch
    }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk12 in foh
    link C01: SL.A -- DESK.local 1 via cat6 60 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Line by line" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; inputs local 1-8 { preamp }; digital stage { protocol aes50 } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    ```
    """
    for run, _ in stopped(paths, "domain-mismatch"):
        digital = next((end for end in run.ends if not rig.group(end).analogue), run.ends[0])
        analogue = run.other(digital)
        yield about_run(
            paths,
            run,
            f"`{digital}` is digital and `{analogue}` is analogue: a cable cannot join them",
            consequence="no sound passes, or the stream is heard as loud noise: keep the channel muted",
            help=f"go through a box that converts, or into a digital port of `{analogue.box}`",
            related=(
                Related(rig.group(digital).place, f"`{digital}` is digital by this line"),
                Related(rig.group(analogue).place, f"`{analogue}` is analogue by this line"),
            ),
        )
