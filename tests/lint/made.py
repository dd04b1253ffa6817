"""Rules made for the tests of how rules are run, and a rig for them to talk about."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from rigdsl.finding import Finding, Level
from rigdsl.lint import Verdict, lint
from rigdsl.lint.rule import NoOptions, PackedRule, Rule, Sockets, Told
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig, ports_text, read

__all__ = ["HALL", "about", "checked", "made", "sockets"]

HALL = """\
rig "Lantern Hall" {}
model nw16 { kind stage-box; inputs mic 1-16 { preamp } }
zone wing
box SL is nw16 in wing
box SR is nw16 in wing
"""


def made(name: str, *say: Callable[[Rig], Told], level: Level = Level.WARNING, pack: str = "made") -> PackedRule:
    """A rule that says these things of any rig."""

    def check(rig: Rig, paths: Paths, options: NoOptions) -> Iterable[Told]:
        return [one(rig) for one in say]

    return PackedRule(Rule(name, level, check, NoOptions, "Made for a test."), pack, "1.0")


def about(
    subject: str,
    *,
    box: str = "SL",
    silent: tuple[str, ...] = (),
    ports: tuple[str, ...] = (),
    level: Level | None = None,
) -> Callable[[Rig], Finding]:
    """Something to say about a subject, placed at a box."""

    def say(rig: Rig) -> Finding:
        return Finding(
            place=rig.boxes[box].place,
            subject=subject,
            message=f"about {subject}",
            level=level,
            ports=ports,
            silent=silent,
            box=box,
        )

    return say


def sockets(*numbers: int, box: str = "SL") -> Callable[[Rig], Sockets]:
    """Something to say about several microphone sockets of a box."""
    return lambda rig: Sockets(tuple(Port(box, "mic", number) for number in numbers), partial(_tell, rig, box))


def _tell(rig: Rig, box: str, ports: tuple[Port, ...]) -> Finding:
    return Finding(
        place=rig.boxes[box].place,
        subject=f"{box}.mic",
        message=f"about {ports_text(ports)}",
        ports=tuple(str(port) for port in ports),
        box=box,
    )


def checked(text: str, *rules: PackedRule, today: str = "", names: tuple[str, ...] = ()) -> Verdict:
    """What rules say of a rig."""
    rig = read(text)
    return lint(rig, Paths(rig), rules, today=today, names=names)
