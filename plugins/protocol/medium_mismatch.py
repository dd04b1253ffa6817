"""The cable must be one that the protocol runs over, and one kind all the way."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import merged, ticked
from rigdsl.paths import Paths, Run
from rigdsl.rig import MULTIMODE, SINGLE_MODE, Cable, Link, Protocol, Rig, shown
from rigdsl_protocol.runs import about_run, stopped

__all__ = ["medium_mismatch"]


@rule("medium-mismatch", Level.ERROR, NoOptions)
def medium_mismatch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A digital run is on a cable that its protocol does not run over, or changes its medium on the way.

    Single-mode fibre does not serve for multimode nor the reverse, coax of another impedance does not serve for 75 ohm
    coax, and a lower category does not serve for a higher one; a better one of the same medium does. Categories of
    copper may mix along a run, and the lowest counts; fibre grades may not.

    ## On the night
    The link does not come up, or comes and goes as the cable is moved.

    Never look into an open fibre or its port to see whether there is light: it may be invisible and hurt the eye.
    Cap what is open, and leave fibre to people who are trained for it, by local laser rules.

    ## A rig that breaks it
    ```rig
    rig "Wrong fibre" { rate 48 kHz }
    protocol fernlink { carries 64 at 48 kHz; over om3 300 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link F01: SL.A -- DESK.stage via os2 80 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Better than it must be" { rate 48 kHz }
    protocol fernlink { carries 64 at 48 kHz; over om3 300 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link F01: SL.A -- DESK.stage via om4 80 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## Figures
    Which cable serves which protocol stands in the protocol's `over`; for the open standards these are the
    standards' own (AES50: Category 5 or better; AES10: one 75 ohm coax, or multimode fibre).
    The order of categories and grades is that of ISO/IEC 11801, from memory.

    ## See also
    `run-too-long` for the right cable that is too long.
    """
    yield from merged(paths, _found(rig, paths))


def _found(rig: Rig, paths: Paths) -> Iterator[tuple[Run, Finding]]:
    for run, fault in stopped(paths, "medium-mismatch"):
        related: tuple[Related, ...] = ()
        protocol = rig.protocols.get(run.protocol or "")
        wrong = _first_wrong(run, protocol)
        if protocol is None or wrong is None:
            message = fault.because
        else:
            link, cable = wrong
            message = f"{_cable(link, cable)}, and `{protocol.name}` runs over {_media(protocol)}"
            related = (Related(protocol.place, f"what `{protocol.name}` runs over is said here"),)
        finding = about_run(
            paths,
            run,
            message,
            consequence="the link does not come up",
            help=_way_out(protocol) if wrong else "take one kind of cable all the way, or convert between the two",
            related=related,
            at=wrong[0] if wrong else None,
        )
        yield run, finding


def _first_wrong(run: Run, protocol: Protocol | None) -> tuple[Link, Cable] | None:
    """The first piece whose cable the protocol does not run over."""
    for link in run.links:
        cable = link.lead.cable if link.lead else None
        if cable and cable.medium and protocol and not set(cable.rungs) & protocol.reach.keys():
            return link, cable
    return None


def _cable(link: Link, cable: Cable) -> str:
    details = [cable.medium]
    if cable.category:
        details.append(f"category {cable.category}")
    if cable.grade:
        details.append(cable.grade)
    if cable.impedance_ohm:
        details.append(f"{shown(cable.impedance_ohm)} ohm")
    return f"`{link.name}` is `{cable.name}` ({', '.join(details)})"


def _media(protocol: Protocol) -> str:
    return ticked(protocol.reach) or "no cable that its line names"


def _way_out(protocol: Protocol | None) -> str:
    if protocol is None or not protocol.reach:
        return "take a cable that the protocol runs over"
    reach = ", ".join(f"`{kind}` reaches {metres:g} m" for kind, metres in protocol.reach.items())
    caution = (
        "; never look into an open fibre" if any(kind in (*MULTIMODE, *SINGLE_MODE) for kind in protocol.reach) else ""
    )
    return f"a cable that serves: {reach}{caution}"
