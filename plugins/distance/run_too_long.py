"""A digital run must not be longer than its protocol reaches."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import merged, silence, stage_end, ticked
from rigdsl.paths import Paths, Run, reach_on
from rigdsl.rig import Protocol, Rig
from rigdsl_distance.words import kinds, known_m, metres, other_pieces, poorest, protocol_of

__all__ = ["run_too_long"]


@rule("run-too-long", Level.ERROR, NoOptions)
def run_too_long(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A digital run is longer than its protocol reaches on that cable.

    Cables joined by wall panels are one run: their lengths add up, and the cable that reaches least counts. A piece
    of unknown length counts as nothing.

    ## On the night
    It works at the sound check and drops out when the room warms up, or it never works at all.

    ## A rig that breaks it
    ```rig
    rig "Over the balcony" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m, om3 300 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
    zone wing
    zone foh
    box SL is nw16 in wing
    box WP is panel4 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- WP.front 1 via cat5e 25 m
    link C02: WP.rear 1 -- DESK.stage via cat6 90 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Rack beside the panel" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m, om3 300 m }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol fernlink } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol fernlink } }
    model panel4 { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
    zone wing
    zone foh
    box SL is nw16 in wing
    box WP is panel4 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- WP.front 1 via cat5e 1 m
    link C02: WP.rear 1 -- DESK.stage via cat6 80 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## Figures
    The reach stands in the protocol's `over`. For AES50 it is 100 m (AES standards blog on AES50-2011), for
    100BASE-TX and 1000BASE-T 100 m (Univ. of Wisconsin KB 7829).

    ## See also
    `run-near-limit`, `length-missing`, `fibre-budget`.
    """
    yield from merged(
        paths,
        (
            (run, _too_long(rig, paths, run))
            for run in paths.runs
            if run.faults and run.faults[0].rule == "run-too-long"
        ),
    )


def _too_long(rig: Rig, paths: Paths, run: Run) -> Finding:
    night, silent = silence(paths, run)
    length_m, reach_m = run.known_m, run.reach_m or 0.0
    least = "at least " if run.length_m is None else ""
    longest = max(run.links, key=known_m)
    reach = f"`{run.protocol}` reaches {metres(reach_m)} on {kinds(poorest(rig, run))}"
    return Finding(
        place=longest.place,
        subject=run.name,
        message=f"`{run.name}` is {least}{metres(length_m)} long, and {reach}",
        consequence=night or "it drops out, or does not work at all",
        help=_ways_out(rig, run, length_m, reach_m),
        related=other_pieces(run, longest),
        ports=tuple(str(end) for end in run.ends),
        silent=silent,
        box=stage_end(paths, run).box,
    )


def _ways_out(rig: Rig, run: Run, length_m: float, reach_m: float) -> str:
    """Another cable that reaches, and which piece to shorten by how much."""
    protocol = protocol_of(rig, run)
    ways = _better_cable(rig, run, protocol, length_m) if protocol else []
    longest = max(run.links, key=known_m)
    if known_m(longest) > length_m - reach_m:
        least = "at least " if run.length_m is None else ""
        ways.append(f"`{longest.name}` {least}{metres(length_m - reach_m)} shorter would do")
    return ", or ".join(ways) or "stand the two ends nearer to each other, or put a box between that repeats the signal"


def _better_cable(rig: Rig, run: Run, protocol: Protocol, length_m: float) -> list[str]:
    """The cables of the protocol that reach so far, and the pieces to change for each."""
    leads = {link.name: link.lead.cable for link in run.links if link.lead}
    media = {cable.medium for cable in leads.values()}
    ways = []
    for name, reach_m in sorted(protocol.reach.items(), key=lambda item: (item[1], item[0])):
        if reach_m < length_m:
            continue
        kind = rig.cables.get(name)
        if kind is not None and kind.medium in media:
            weak = [link for link, cable in leads.items() if (reach_on(protocol, cable) or 0.0) < length_m]
            ways.append(f"`{name}` reaches {metres(reach_m)}: change {ticked(weak)}")
        else:
            pair = "a fibre pair" if kind is not None and kind.medium == "fibre" else "it"
            ways.append(f"over `{name}` {pair} reaches {metres(reach_m)}, if both boxes have a port for that")
    return ways[:2]
