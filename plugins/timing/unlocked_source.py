"""A box that sends at a clock of its own."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import stage_end
from rigdsl.paths import Island, Paths, Run
from rigdsl.rig import Port, Rig, natural, shown

__all__ = ["slip_s", "unlocked_source"]

DRIFT = 10e-6  # two good clocks that nobody joins: AES11 grade 2, from memory


@rule("unlocked-source", Level.WARNING, NoOptions, edition=2)
def unlocked_source(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A box sends over a one-way line and takes nothing back, so its clock is not that of the others.

    A one-way protocol carries the sender's clock with the sound. Where another box leads and nothing leads from
    there to this one, the two clocks run apart, unless the taking port converts the rate.

    ## On the night
    A click every few seconds, in the recording too, and nobody finds it: every meter says that sound is there.

    ## A rig that breaks it
    ```rig
    rig "Two clocks" { rate 48 kHz }
    model desk32 {
      kind console
      channels ch 1-32
      digital aes-in { protocol aes3; takes }
      digital stage { protocol aes50 }
    }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model player2 { kind computer; channels track 1-2 { soft }; digital aes-out { protocol aes3; sends } }
    zone wing
    zone foh
    box DESK is desk32 in foh
    box SL is nw16 in wing
    box PLAY is player2 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    link P01: PLAY.aes-out -- DESK.aes-in via aes-pair 5 m
    source vox dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    patch PLAY.track 1-2 -> DESK.ch 31-32
    ```

    ## A rig that keeps it
    ```rig
    rig "The desk converts the player's rate" { rate 48 kHz }
    model desk32 {
      kind console
      channels ch 1-32
      digital aes-in { protocol aes3; takes; converts rate }
      digital stage { protocol aes50 }
    }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model player2 { kind computer; channels track 1-2 { soft }; digital aes-out { protocol aes3; sends } }
    zone wing
    zone foh
    box DESK is desk32 in foh
    box SL is nw16 in wing
    box PLAY is player2 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    link P01: PLAY.aes-out -- DESK.aes-in via aes-pair 5 m
    source vox dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    patch PLAY.track 1-2 -> DESK.ch 31-32
    ```

    ## Figures
    AES3 and AES10 carry one way on one line (AES3-1-2009 and AES10-2020, abstracts). Two clocks 10 ppm apart (AES11,
    grade 2, from memory) slip one sample in about 2 s at 48 kHz: 48 000 times 0.00001 is 0.48 samples a second.

    ## See also
    `clock-leader` where nobody says who leads, `return-missing` where mixes find no way back to the box.
    """
    given: set[Port] = set()  # sockets that are offered to one box are not offered to the next
    for island in paths.islands:
        for box in island.boxes:
            runs = _sent(rig, paths, box) if island.leader not in ("", box) else ()
            if runs and not _in_doubt(paths, box, island.leader) and not _told(paths, box):
                yield _finding(rig, paths, island, box, runs, given)


def _sent(rig: Rig, paths: Paths, box: str) -> tuple[Run, ...]:
    """The one-way runs by which a box sends; none where it takes anything over another, or converts its rate."""
    runs = []
    for port, run in _runs(rig, paths, box):
        one_way = run.protocol is not None and rig.protocols[run.protocol].one_way
        if not one_way or rig.group(port).direction != "sends":
            return ()
        if not any(rig.converts_rate(end) for end in run.ends):
            runs.append(run)
    return tuple(sorted(runs, key=lambda run: run.key))


def _runs(rig: Rig, paths: Paths, box: str) -> Iterator[tuple[Port, Run]]:
    """The digital runs that have an end at a box, working or not."""
    for group in rig.boxes[box].model.of_role("digital"):
        for port in rig.boxes[box].ports(group):
            for run in paths.run_at.get(port, ()):
                if not run.open and not run.data:
                    yield port, run


def _in_doubt(paths: Paths, box: str, leader: str) -> bool:
    return paths.unsure_between(box, leader)


def _told(paths: Paths, box: str) -> bool:
    """Something should get to the box and does not: the cable that is missing is told there."""
    return any(pair.route is not None and not pair.route.works and pair.route.right.box == box for pair in paths.pairs)


def slip_s(rate_hz: float) -> float:
    """How long two clocks that are so far apart take to slip one sample."""
    return 1 / (rate_hz * DRIFT)


def _finding(rig: Rig, paths: Paths, island: Island, box: str, runs: tuple[Run, ...], given: set[Port]) -> Finding:
    first = runs[0]
    port = next(end for end in first.ends if end.box == box)
    seconds = shown(slip_s(first.rate_hz), 1, 0)
    return Finding(
        place=first.links[0].place,
        subject=first.name,
        message=f"`{box}` sends to `{first.other(port).box}` and takes nothing back, so it does not follow the clock "
        f"of `{island.leader}`",
        consequence=f"clicks: two clocks 10 ppm apart lose or double a sample about every {seconds} s",
        help=_help(rig, paths, box, first.other(port), given),
        related=tuple(Related(run.links[0].place, f"`{run.name}` leads away from `{box}` too") for run in runs[1:]),
        ports=tuple(str(end) for run in runs for end in run.ends),
        box=stage_end(paths, first).box,
    )


def _help(rig: Rig, paths: Paths, box: str, far: Port, given: set[Port]) -> str:
    """A line back, where there are sockets for one; else a port that converts the rate."""
    taking = [port for port in _free(rig, paths, box, given) if rig.group(port).direction == "takes"]
    sending = [port for port in _free(rig, paths, far.box, given) if rig.group(port).direction == "sends"]
    for back in sorted(sending, key=lambda port: natural(str(port))):
        for port in taking:
            if set(rig.group(back).protocols) & set(rig.group(port).protocols):
                given.update((back, port))
                return f"join `{back}` to `{port}`: its clock then comes with that line"
    own = sorted(port for port in _free(rig, paths, far.box, given) if rig.converts_rate(port))
    if own:
        given.add(own[0])
        return f"plug it into `{own[0]}`, which converts the rate"
    return (
        f"let `{far}` convert the rate (say `converts rate` in its group, if it does), or feed `{box}` the house clock"
    )


def _free(rig: Rig, paths: Paths, box: str, given: set[Port]) -> Iterator[Port]:
    for group in rig.boxes[box].model.of_role("digital"):
        yield from (port for port in rig.boxes[box].ports(group) if port not in paths.pieces and port not in given)
