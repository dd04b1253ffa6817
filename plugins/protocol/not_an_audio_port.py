"""A jack for remote control carries no audio, however much it looks like one."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import ticked
from rigdsl.paths import Paths, Run
from rigdsl.rig import Port, Rig
from rigdsl_protocol.runs import about_run, stopped
from rigdsl_protocol.ways import audio_ports, joinable, taken

__all__ = ["not_an_audio_port"]


@rule("not-an-audio-port", Level.ERROR, NoOptions)
def not_an_audio_port(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Audio is sent into a port that is for remote control only.

    A desk's control jack in the show's switch is fine, as long as no patch needs audio there.

    ## On the night
    The plug fits, the tablet finds the desk, and not one channel of audio arrives.

    ## A rig that breaks it
    ```rig
    rig "Into the control jack" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 }; data net }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.net via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Into the audio port" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp }; digital A { protocol aes50 } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50 }; data net }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```
    """
    for run, _ in stopped(paths, "not-an-audio-port"):
        data = next((end for end in run.ends if rig.group(end).role == "data"), run.ends[0])
        yield about_run(
            paths,
            run,
            f"`{data}` is for remote control only and carries no audio; {_who(run, data)}",
            consequence="no sound passes this cable",
            help=_way_out(rig, paths, run, data),
            related=(Related(rig.group(data).place, f"`{data}` is a data port by this line"),),
        )


def _who(run: Run, data: Port) -> str:
    """Who sends audio there: the other end itself, or a patch that finds no other way."""
    if run.faults:
        return f"`{run.other(data)}` is joined to it"
    return f"a patch needs audio from `{run.other(data)}`"


def _way_out(rig: Rig, paths: Paths, run: Run, data: Port) -> str:
    """What carries audio instead: by the boxes of the patch that found no other way, else by the far end."""
    far = run.other(data)
    boxes = _patched_over(paths, run)
    for one, other, protocol in joinable(rig, paths, *boxes) if boxes else ():
        port = next((port for port in (one, other) if rig.body(port.box) == rig.body(data.box)), None)
        if port and rig.boxes[far.box].kind == "switch" and rig.protocols[protocol].topology == "network":
            return f"`{port}` carries audio and speaks `{protocol}`: plug this cable in there{taken(paths, port)}"
        return f"`{one}` and `{other}` both speak `{protocol}`: join them{taken(paths, one, other, but=run)}"
    ports = audio_ports(rig, paths, data.box)
    speaks = set(rig.group(far).protocols)
    for port in ports:
        if shared := sorted(speaks & set(rig.group(port).protocols)):
            return f"`{port}` carries audio and speaks {ticked(shared)}{taken(paths, port)}"
    if ports:
        beyond = next((box for box in boxes if box != data.box), far.box)
        return f"the audio ports of `{data.box}` are {ticked(ports[:4])}, and they share no protocol with `{beyond}`"
    return f"`{data.box}` has no digital audio port: bring the sound in over its analogue inputs"


def _patched_over(paths: Paths, run: Run) -> tuple[str, ...]:
    """The two boxes of the first patch that this run keeps from working, where it is the patch that tells so."""
    routes = [pair.route for pair in paths.lost_pairs.get(run, ()) if pair.route] if not run.faults else []
    return (routes[0].left.box, routes[0].right.box) if routes else ()
