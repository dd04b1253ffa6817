"""Sound that comes too late to play to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.paths import Delay, Paths, Stretch
from rigdsl.rig import Output, Rig, natural, shown

__all__ = ["Budgets", "latency_over_budget"]

FREE = "the same for `{}` outputs; none by default"


@dataclass(frozen=True)
class Budgets:
    """Budgets in milliseconds by type of output; None: not looked at."""

    in_ear_ms: float | None = field(
        default=5.0, metadata={"help": "the latest that sound may come to an `in-ear` output, in milliseconds"}
    )
    wedge_ms: float | None = field(default=10.0, metadata={"help": "the same for `wedge` outputs"})
    main_ms: float | None = field(default=None, metadata={"help": FREE.format("main")})
    fill_ms: float | None = field(default=None, metadata={"help": FREE.format("fill")})
    sub_ms: float | None = field(default=None, metadata={"help": FREE.format("sub")})
    record_ms: float | None = field(default=None, metadata={"help": FREE.format("record")})
    stream_ms: float | None = field(default=None, metadata={"help": FREE.format("stream")})
    comms_ms: float | None = field(default=None, metadata={"help": FREE.format("comms")})

    def of(self, output: Output) -> float | None:
        """The budget of an output, by its type."""
        budget: float | None = getattr(self, f"{output.type.replace('-', '_')}_ms", None)
        return budget


@rule("latency-over-budget", Level.WARNING, Budgets, edition=2)
def latency_over_budget(rig: Rig, paths: Paths, options: Budgets) -> Iterator[Finding]:
    """Sound comes later to an output than whoever plays to it can bear: converters, hops and desks added up.

    The longest way from any source counts: its conversion, every hop, the boxes that it passes, each desk once,
    outboard that is inserted, and the conversion on the way out. A protocol whose latency is set once for its
    network counts once. What has no `latency` in the gear files counts as none, so the truth may be later still.
    Sound in air is not counted: a wedge 1.5 m away adds more than 4 ms of its own.

    ## On the night
    Singers with in-ears hear themselves twice, through the bone and then through the mix: the voice turns hollow,
    and they ask for more and more of it. Drummers and bass drag. Too much level in the ears to fight it harms hearing.

    ## A rig that breaks it
    ```rig
    rig "Late in the ears" { rate 48 kHz }
    protocol brooknet { carries 64 at 48 kHz; over cat5e 100 m; topology network; latency 2 ms per network }
    model nb16 {
      kind stage-box
      inputs mic 1-16 { preamp; latency 0.7 ms }
      outputs line 1-8 { latency 0.6 ms }
      digital net { protocol brooknet }
    }
    model desk32 { kind console; channels ch 1-32; mixes mix 1-16; digital net { protocol brooknet }; latency 2.1 ms }
    zone wing
    zone foh
    box SL is nb16 in wing
    box DESK is desk32 in foh
    link C01: SL.net -- DESK.net via cat6 60 m
    source vox dynamic in wing to SL 1 via xlr 6 m
    output ears in-ear in wing from SL.line 1 via xlr 3 m
    patch SL.mic 1 -> DESK.ch 1
    patch DESK.mix 1 -> ears
    ```

    ## A rig that keeps it
    ```rig
    rig "Soon enough" { rate 48 kHz }
    protocol brooknet { carries 64 at 48 kHz; over cat5e 100 m; topology network; latency 1 ms per network }
    model nb16 {
      kind stage-box
      inputs mic 1-16 { preamp; latency 0.7 ms }
      outputs line 1-8 { latency 0.6 ms }
      digital net { protocol brooknet }
    }
    model desk32 { kind console; channels ch 1-32; mixes mix 1-16; digital net { protocol brooknet }; latency 2.1 ms }
    zone wing
    zone foh
    box SL is nb16 in wing
    box DESK is desk32 in foh
    link C01: SL.net -- DESK.net via cat6 60 m
    source vox dynamic in wing to SL 1 via xlr 6 m
    output ears in-ear in wing from SL.line 1 via xlr 3 m
    patch SL.mic 1 -> DESK.ch 1
    patch DESK.mix 1 -> ears
    ```

    ## Figures
    What players bear runs from 42 ms down to less than 1.4 ms, by instrument and by wedge or in-ear (M. Lester,
    J. Boley, "The Effects of Latency on Live Sound Monitoring", AES 123rd Convention, 2007, as an engineering blog
    reports it, with thresholds of 3 ms for a voice, 6 for drums, 10 for a piano, 12 for a guitar, 20 for keyboards).
    In-ear 5 ms is the rule of a maker's audio-quality course page, from microphone to ear. Wedge 10 ms is our choice
    within that range: stricter than what guitars and keyboards bear, as the wedge's own distance comes on top.
    Set `in_ear_ms` to 3 for singers who notice.
    """
    for name in sorted(rig.outputs, key=natural):
        output = rig.outputs[name]
        budget_ms = options.of(output)
        late = None if budget_ms is None or paths.unsure(name) else paths.delay_of(name)
        if late is None or budget_ms is None or late.latency_s * 1000 <= budget_ms * (1 + 1e-9):
            continue
        if not paths.unsure(late.source.name):
            yield _finding(output, late, budget_ms)


def _finding(output: Output, late: Delay, budget_ms: float) -> Finding:
    budget = f"{shown(budget_ms, 1, 2)} ms"
    heard = output.type in ("in-ear", "wedge")
    night = "whoever plays to it hears the music late" if heard else "what comes out there is late"
    return Finding(
        place=output.place,
        subject=output.name,
        message=f"`{late.source.name}` comes to `{output.name}` {_ms(late.latency_s)} late, and its budget is {budget}",
        consequence=f"{night}; {_where(late)}",
        help=_help(late),
        ports=(str(output.ports[late.output.index]),),
        box=output.ports[late.output.index].box,
    )


def _ms(latency_s: float) -> str:
    return f"{shown(latency_s, 1e-3, 2)} ms"


def _where(late: Delay) -> str:
    """Where the time goes, along the way: parts of one kind at one place are one."""
    return f"the time goes: {', '.join(f'{_named(part)} {_ms(taken)}' for part, taken in _parts(late))}"


def _parts(late: Delay) -> list[tuple[Stretch, float]]:
    found: dict[tuple[str, str], tuple[Stretch, float]] = {}
    for part in late.parts:
        key = part.by, part.at
        found[key] = part, part.latency_s + (found[key][1] if key in found else 0.0)
    return list(found.values())


WORDS = {
    "convert": "converter at",
    "hop": "hops of",
    "network": "the network of",
    "pass": "through",
    "desk": "the desk",
    "insert": "the insert",
}


def _named(part: Stretch) -> str:
    return f"{WORDS[part.by]} `{part.at}`"


def _help(late: Delay) -> str:
    """What to shorten first."""
    most, _ = max(_parts(late), key=lambda one: one[1])
    if most.by == "network":
        return f"the most is the network of `{most.at}`: set it faster, if all its boxes and switches bear that"
    if most.by == "insert":
        return f"the most is in `{most.at}`: take it out of what is monitored, or choose one with less latency"
    if most.by == "desk":
        return f"the most is in `{most.at}`: mix monitors on a quicker desk, or bring that source there straight"
    if most.by == "hop":
        return f"the most is in the hops of `{most.at}`: fewer boxes in a row, or a shorter way to the desk"
    return f"the most is at `{most.at}`: a quicker box there, or wire past it"
