"""Two desks on one preamp: one of them must own its gain."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, Sockets, rule
from rigdsl.lint.words import together
from rigdsl.paths import Gain, Paths
from rigdsl.rig import Port, Rig, natural, ports_text
from rigdsl_control.gains import behind, names_behind

__all__ = ["two_controllers"]


@rule("two-controllers", Level.WARNING, NoOptions)
def two_controllers(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Sockets]:
    """Two desks are patched from one remote preamp, and no `control` line says whose it is.

    ## On the night
    Whoever turns gain last moves both: the monitor engineer helps the singer, and the house mix jumps.

    ## A rig that breaks it
    ```rig
    rig "Two hands on one gain" { rate 48 kHz }
    model nw8 { kind stage-box; inputs mic 1-8 { preamp; gain remote }; digital A, B { protocol aes50; control fern } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50; control fern } }
    zone wing
    zone foh
    box SL is nw8 in wing
    box FOH is desk32 in foh
    box MON is desk32 in wing
    link C01: SL.A -- FOH.stage via cat6 60 m
    link C02: SL.B -- MON.stage via cat6 10 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> FOH.ch 1
    patch SL.mic 1 -> MON.ch 1
    clock FOH
    ```

    ## A rig that keeps it
    ```rig
    rig "One hand on the gain" { rate 48 kHz }
    model nw8 { kind stage-box; inputs mic 1-8 { preamp; gain remote }; digital A, B { protocol aes50; control fern } }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50; control fern } }
    zone wing
    zone foh
    box SL is nw8 in wing
    box FOH is desk32 in foh
    box MON is desk32 in wing
    link C01: SL.A -- FOH.stage via cat6 60 m
    link C02: SL.B -- MON.stage via cat6 10 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> FOH.ch 1
    patch SL.mic 1 -> MON.ch 1
    clock FOH
    control SL.mic 1 by FOH
    ```
    """
    if "control" in rig.left_out:
        return  # a line that says whose it is could not be read
    takers = _takers(rig, paths)
    for gain in paths.gains:
        if gain.shared:
            yield Sockets(gain.shared, partial(_finding, rig, paths, takers, gain))


def _takers(rig: Rig, paths: Paths) -> dict[Port, list[str]]:
    """The desks that each socket is patched to, and arrives at."""
    found: dict[Port, list[str]] = {}
    for pair in paths.pairs:
        if pair.route and pair.route.works and rig.boxes[pair.route.right.box].mixes:
            found.setdefault(pair.route.left, []).append(pair.route.right.box)
    return found


def _finding(rig: Rig, paths: Paths, takers: Mapping[Port, list[str]], gain: Gain, ports: tuple[Port, ...]) -> Finding:
    desks = sorted({desk for port in ports for desk in takers[port]}, key=natural)
    taken = {desk: tuple(port for port in ports if desk in takers[port]) for desk in desks}
    able = [desk for desk in desks if paths.can_set(desk, gain.box)]
    owner = max(able or desks, key=lambda desk: len(taken[desk]))
    line = f"as in `control {ports_text(taken[owner])} by {owner}`"
    night = "whoever turns gain last moves it for all" if able else "gain and phantom move from no desk"
    return Finding(
        place=rig.boxes[gain.box].place,
        subject=f"{gain.box}.{gain.group}",
        message=f"{together(desks)} are patched from `{ports_text(ports)}`, and no line says whose gain it is",
        consequence=f"{night}{names_behind(behind(rig, paths, ports))}",
        help=f"agree on one owner, {line}; the other trims digitally" if able else _by_hand(gain.box, desks),
        related=tuple(Related(rig.boxes[desk].place, f"`{desk}` takes them too") for desk in desks),
        ports=tuple(str(port) for port in ports),
        box=gain.box,
    )


def _by_hand(box: str, desks: list[str]) -> str:
    """Where no desk could set them, naming an owner alone would not mend it."""
    return f"{together(desks)} cannot set them: carry control of `{box}` to one of them, and name that one as owner"
