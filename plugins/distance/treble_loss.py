"""What long copper takes off the top end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import pi, sqrt

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.paths import Copper, Paths, longest_copper, treble_loss_db
from rigdsl.rig import Rig, Source, shown
from rigdsl_distance.copper import links_of
from rigdsl_distance.words import metres, ohms

__all__ = ["treble_loss"]


@dataclass(frozen=True)
class Options:
    """How much may be lost, and where."""

    most_db: float = field(default=1.0, metadata={"help": "loss that is still fine, in dB", "exclusiveMinimum": 0})
    at_khz: float = field(
        default=20.0, metadata={"help": "frequency at which it is judged, in kHz", "exclusiveMinimum": 0}
    )


@rule("treble-loss", Level.WARNING, Options)
def treble_loss(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """A source's own impedance and the capacitance of its cables take too much off the top end.

    Counted are the cables as far as the first active or isolated box: plug, sub-box, multicore (snake). A cable
    that gives no `capacitance`, or whose length is not known, counts as nothing. An instrument whose `impedance` is
    not written is judged by `hi-z-run` alone.

    ## On the night
    Cymbals and consonants sound dull, and the equaliser that mends it brings up the hiss.

    ## A rig that breaks it
    ```rig
    rig "Long way to the desk" { rate 48 kHz }
    cable multi12 "12-pair multicore" { medium analogue; lines 12; capacitance 110 pF/m }
    model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }
    zone stage
    zone foh
    box DR is sub12 in stage
    box DESK is desk12 in foh
    link X01: DR.tail 1-12 -- DESK.local 1-12 via multi12 120 m
    source vox "Old microphone" dynamic in stage to DR 1 via xlr 10 m { impedance 600 ohm }
    ```

    ## A rig that keeps it
    ```rig
    rig "Long way to the desk" { rate 48 kHz }
    cable multi12 "12-pair multicore" { medium analogue; lines 12; capacitance 110 pF/m }
    model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }
    zone stage
    zone foh
    box DR is sub12 in stage
    box DESK is desk12 in foh
    link X01: DR.tail 1-12 -- DESK.local 1-12 via multi12 120 m
    source vox "Newer microphone" dynamic in stage to DR 1 via xlr 10 m { impedance 200 ohm }
    ```

    ## Figures
    The corner lies at 1/(2 pi Z C), the load left out (E. Sengpiel, "Cable and treble damping"); at half that
    frequency the loss is 1 dB. A microphone has 150 to 200 ohm, its cable about 100 pF/m (same source).
    1 dB at 20 kHz is common practice, no source.

    ## See also
    `hi-z-run` for instruments.
    """
    for source, copper in longest_copper(paths):
        loss_db = treble_loss_db(source.impedance_ohm, copper.capacitance_f, options.at_khz * 1000)
        if loss_db > options.most_db + 1e-9 and not _guessed(source):
            yield _lost(source, copper, loss_db, options)


def _guessed(source: Source) -> bool:
    """What an instrument counts as while nobody writes its impedance is too much of a guess to warn by."""
    return source.level == "instrument" and not source.balanced and not source.impedance_said


def _lost(source: Source, copper: Copper, loss_db: float, options: Options) -> Finding:
    nano_f = shown(copper.capacitance_f, 1e-9, 1)
    return Finding(
        place=source.place,
        subject=source.name,
        message=(
            f"`{source.name}` loses {shown(loss_db)} dB at {shown(options.at_khz)} kHz:"
            f" {metres(copper.length_m)} of cable ({nano_f} nF) on {ohms(source.impedance_ohm)}"
        ),
        consequence="it sounds dull",
        help=f"{_longest(source, copper, options)}; put the preamp nearer, or an active split or a line driver between",
        related=links_of(copper),
        ports=tuple(str(port) for port in source.ports),
        box=source.ports[0].box,
    )


def _longest(source: Source, copper: Copper, options: Options) -> str:
    """How much of this cable would still be fine: the formula solved for the capacitance."""
    most_f = sqrt(10 ** (options.most_db / 10) - 1) / (2 * pi * options.at_khz * 1000 * source.impedance_ohm)
    length_m = copper.length_m * most_f / copper.capacitance_f
    return f"up to {metres(length_m // 1)} of it loses less than {shown(options.most_db)} dB"
