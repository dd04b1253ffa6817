"""Both ends of a run at one rate, and one that the protocol has."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import merged
from rigdsl.paths import Fault, Paths, Run
from rigdsl.rig import Protocol, Rig, shown
from rigdsl_protocol.runs import about_run, stopped

__all__ = ["rate_mismatch"]


@rule("rate-mismatch", Level.ERROR, NoOptions)
def rate_mismatch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """The two ends of a run are set to different rates and nothing converts, or the protocol has no such rate.

    A link's own rate counts first, then the port's, the box's, the rig's, else 48 kHz. 44.1 and 88.2 kHz
    use what a protocol says of 48 and 96 kHz.

    ## On the night
    The link does not lock: silence, or clicks all the way.

    ## A rig that breaks it
    ```rig
    rig "Two rates" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh { rate 96 kHz }
    link C01: SL.A -- DESK.stage via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "One rate" { rate 96 kHz }
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

    ## See also
    `clock-leader` for boxes of one rate that follow different clocks.
    """
    found = stopped(paths, "rate-mismatch")
    yield from merged(paths, ((run, _at_two_rates(rig, paths, run, fault)) for run, fault in found))


def _at_two_rates(rig: Rig, paths: Paths, run: Run, fault: Fault) -> Finding:
    return about_run(
        paths,
        run,
        fault.because,
        consequence="the link does not lock: silence or clicks",
        help=_way_out(rig.protocols.get(run.protocol or ""), run),
        related=tuple(Related(rig.boxes[name].place, f"`{name}` stands here") for name in _at_odds(rig, paths, run)),
    )


def _at_odds(rig: Rig, paths: Paths, run: Run) -> Iterator[str]:
    """The boxes that run at two rates: the ends, or for a switch the leader of the clock that it takes over."""
    for end in run.ends:
        if rig.boxes[end.box].kind != "switch":
            yield end.box
            continue
        far = rig.body(run.other(end).box)
        yield next((one.leader for one in paths.islands if one.leader and far in one.boxes), end.box)


def _way_out(protocol: Protocol | None, run: Run) -> str:
    if protocol and protocol.channels_at(run.rate_hz) is None:
        return f"`{protocol.name}` runs at {', '.join(_khz(rate) for rate in sorted(protocol.capacity))}"
    return "set both to one rate, or put in between what converts rates"


def _khz(rate_hz: float) -> str:
    return f"{shown(rate_hz, 1000)} kHz"
