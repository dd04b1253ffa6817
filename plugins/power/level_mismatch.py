"""What comes to an input must be of a level that it takes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import together
from rigdsl.paths import Paths, Signal
from rigdsl.rig import Insert, Leg, Link, Port, Rig, natural

__all__ = ["level_mismatch"]

MOST_OHM = 100  # no loudspeaker has more without a transformer: common practice, no source
SWITCHED_OFF = "switch the amplifier off before anybody touches its cables: its outputs can carry dangerous voltages"


@rule("level-mismatch", Level.WARNING, NoOptions, edition=2)
def level_mismatch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A signal comes to an input at a level that the input does not take.

    Loudspeaker level into an input that is for another level is an error. Line level into an input for microphones
    alone (unless the source says `pad`, here or at the receiver or computer that it comes by), microphone level into
    an input for line alone, and line level into a loudspeaker without an amplifier (its input has an `impedance`, and
    it says no `power`) are warnings. A level
    goes through sub-boxes, panels and splitters as it is, starts anew behind a DI or anything active, and is judged
    at the first input that takes the sound in. Instruments are not judged here: `hi-z-run` looks at their cables.

    ## On the night
    An amplifier's output burns out an input, and perhaps the amplifier with it; its voltage can hurt whoever holds
    the plug, so switch it off before anybody touches its cables. Line into a microphone input distorts at any gain;
    a microphone into a line input is 40 dB too quiet, and comes up with hiss or not at all.

    ## A rig that breaks it
    ```rig
    rig "The wrong output" { rate 48 kHz }
    model desk12 {
      kind console; channels ch 1-12; mixes mix 1-4
      inputs local 1-12 { preamp }; outputs local-out 1-4; pass local -> ch; pass mix -> local-out
    }
    model amp2 { kind amplifier; inputs in 1-2; outputs out 1-2; pass in -> out }
    model sub-amp { kind loudspeaker; inputs in { level line }; outputs top { level line }; pass in -> top }
    zone stage
    box DESK is desk12 in stage
    box AMP is amp2 in stage
    box BASS "Powered bass loudspeaker" is sub-amp in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    link L01: DESK.local-out 1 -- AMP.in 1 via xlr 3 m
    link L02: AMP.out 1 -- BASS.in via ls4 10 m
    ```

    ## A rig that keeps it
    ```rig
    rig "The right output" { rate 48 kHz }
    model desk12 {
      kind console; channels ch 1-12; mixes mix 1-4
      inputs local 1-12 { preamp }; outputs local-out 1-4; pass local -> ch; pass mix -> local-out
    }
    model sub-amp { kind loudspeaker; inputs in { level line }; outputs top { level line }; pass in -> top }
    zone stage
    box DESK is desk12 in stage
    box BASS "Powered bass loudspeaker" is sub-amp in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    link L01: DESK.local-out 1 -- BASS.in via xlr 10 m
    ```

    ## Figures
    Microphone level is -70 to -50 dBu, line level -15 to +20 dBu (*Sound Engineer's Pocket Book*, chapter 14): at
    least 35 dB lie between them. That a transformer elsewhere than in a DI is one to one is common practice, no
    source.

    ## See also
    `connector-mismatch`, `phantom-into-output`.
    """
    wrong = {port: worst for port, signals in paths.signals.items() if (worst := _worst(rig, paths, signals))}
    for signal, finding in wrong.values():
        if not any(port in wrong for port in _on_the_way(signal)):
            yield finding


def _worst(rig: Rig, paths: Paths, signals: tuple[Signal, ...]) -> tuple[Signal, Finding] | None:
    """What is worst for an input of all that comes to it."""
    found = [(signal, finding) for signal in signals if (finding := _judged(rig, paths, signal))]
    return max(found, key=lambda item: item[1].level or 0, default=None)


def _on_the_way(signal: Signal) -> list[Port]:
    """The sockets that a signal comes by, its input left out."""
    ends = (end for hop in signal.hops for end in (hop.left, hop.right))
    return [end for end in ends if isinstance(end, Port) and end != signal.port]


def _judged(rig: Rig, paths: Paths, signal: Signal) -> Finding | None:
    """The finding about one signal; nothing is said where something on its way could not be read."""
    wanted, given = set(rig.group(signal.port).levels), set(signal.levels)
    if not wanted or not given or given & wanted or _doubtful(rig, signal):
        return None
    if "loudspeaker" in given:
        return _hot(rig, signal)
    if given == {"line"} and wanted == {"mic"} and not _padded(rig, paths, signal):
        return _loud(rig, paths, signal)
    if given == {"line"} and wanted == {"loudspeaker"} and _passive(rig, signal.port):
        return _faint(rig, signal)
    if given == {"mic"} and wanted == {"line"}:
        return _quiet(rig, signal)
    return None


def _doubtful(rig: Rig, signal: Signal) -> bool:
    boxes = {port.box for port in (*_on_the_way(signal), signal.port)}
    name = signal.origin.name if isinstance(signal.origin, Leg) else signal.origin.box
    return not rig.incomplete.isdisjoint(boxes | {name})


def _padded(rig: Rig, paths: Paths, signal: Signal) -> bool:
    names = _behind(rig, paths, signal)
    return bool(names) and all(rig.sources[name].pad_db > 0 for name in names)


def _behind(rig: Rig, paths: Paths, signal: Signal) -> list[str]:
    """The source itself; of a box's output, those that are plugged into that box and come out there."""
    if isinstance(signal.origin, Leg):
        return [signal.origin.name]
    box = signal.origin.box
    entries = [port for port in paths.walk_back(signal.origin).came if port.box == box]
    names = (leg.name for port in entries for leg in paths.plugs.get(port, ()))
    return sorted({name for name in names if name in rig.sources}, key=natural)


def _passive(rig: Rig, port: Port) -> bool:
    """A loudspeaker without an amplifier; one that says too little to tell is not judged."""
    box, ohm = rig.boxes[port.box], rig.group(port).impedance_ohm
    powered = box.power_w is not None or box.model.power_w is not None
    return box.kind == "loudspeaker" and ohm is not None and ohm <= MOST_OHM and not powered


def _hot(rig: Rig, signal: Signal) -> Finding:
    message = f"`{signal.port}` takes {_levels(rig, signal)}, and loudspeaker level comes from `{signal.origin}`"
    consequence = "the input burns out, perhaps the amplifier too, and its voltage can hurt"
    help = f"feed it from the line output before the amplifier; {SWITCHED_OFF}"
    found = _about(rig, signal, Level.ERROR, message, consequence, help)
    return replace(found, ports=tuple(dict.fromkeys(str(port) for port in (signal.port, *_on_the_way(signal)))))


def _loud(rig: Rig, paths: Paths, signal: Signal) -> Finding:
    message = f"`{signal.port}` takes microphone level alone, and line level comes from `{signal.origin}`"
    help = "plug it into an input for line level, or put a pad or a DI between"
    names = [f"`{name}`" for name in _behind(rig, paths, signal)[:4]]
    if _insert(rig, signal):
        help = "insert outboard that takes line level, or put a pad between"
    elif names:
        help += f" and write `pad 20 dB` in the block of {', '.join(names)}"
    return _about(rig, signal, Level.WARNING, message, "it distorts, however low the gain is set", help)


def _quiet(rig: Rig, signal: Signal) -> Finding:
    message = f"`{signal.port}` takes line level alone, and microphone level comes from `{signal.origin}`"
    help = "plug it into a microphone input, or put a preamp between"
    return _about(rig, signal, Level.WARNING, message, "it is far too quiet, and comes up with hiss", help)


def _faint(rig: Rig, signal: Signal) -> Finding:
    message = f"`{signal.port}` takes loudspeaker level, and line level comes from `{signal.origin}`"
    return _about(rig, signal, Level.WARNING, message, "it stays all but silent", "put an amplifier between")


def _insert(rig: Rig, signal: Signal) -> Insert | None:
    """The insert that sends the signal, where one does."""
    sockets = {signal.port, *_on_the_way(signal)}
    return next((one for one in rig.inserts if one.at == signal.origin and one.send in sockets), None)


def _levels(rig: Rig, signal: Signal) -> str:
    words = {"mic": "microphone", "instrument": "instrument", "line": "line"}
    return " or ".join(words.get(level, level) for level in rig.group(signal.port).levels) + " level"


def _about(rig: Rig, signal: Signal, level: Level, message: str, consequence: str, help: str) -> Finding:
    """Shown at the last cable before the input, or at the insert."""
    link: Link | Insert | None = next((hop.link for hop in reversed(signal.hops) if hop.link), None)
    if isinstance(signal.origin, Leg):
        source = rig.sources[signal.origin.name]
        place, origin = source.place, Related(source.place, f"{together([source.name])} comes from here")
    else:
        group = rig.group(signal.origin)
        place = group.place
        origin = Related(group.place, f"{together([signal.origin])} gives that level by this line")
        link = _insert(rig, signal) or link
    return Finding(
        place=link.place if link else place,
        subject=str(signal.port),
        message=message,
        level=level,
        consequence=consequence,
        help=help,
        related=(
            *((origin,) if link else ()),
            Related(rig.group(signal.port).place, f"`{signal.port}` takes what it takes by this line"),
        ),
        ports=(str(signal.port),),
        box=signal.port.box,
    )
