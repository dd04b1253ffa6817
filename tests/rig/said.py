"""What the reading of a rig says, and what it comes to, in short."""

from __future__ import annotations

from collections.abc import Iterable

from rigdsl.finding import Finding
from rigdsl.rig import Output, Port, Rig, Source, read

__all__ = ["HEAD", "clean", "faults", "plugs", "ports", "said", "short"]

HEAD = 'rig "Lantern Hall" {}\n'

# Rule, the text that it stands at, message, help: all that a user reads first.
Said = tuple[str, str, str, str]


def short(findings: Iterable[Finding]) -> list[Said]:
    """Findings as a table has them."""
    return [(finding.rule, finding.place.text, finding.message, finding.help) for finding in findings]


def said(text: str, **more_files: str) -> list[Said]:
    """What is said of a text, where it has a rig's head before it."""
    return short(read(HEAD + text, **more_files).findings)


def faults(text: str, **more_files: str) -> list[tuple[str, str]]:
    """The same, rule and place only."""
    return [(rule, place) for rule, place, _, _ in said(text, **more_files)]


def clean(text: str, **more_files: str) -> Rig:
    """A rig that reads without a fault."""
    rig = read(text if 'rig "' in text else HEAD + text, **more_files)
    assert short(rig.findings) == []
    return rig


def plugs(rig: Rig) -> list[Source | Output]:
    """All sources, then all outputs."""
    return [*rig.sources.values(), *rig.outputs.values()]


def ports(found: Iterable[object]) -> list[str]:
    """Sockets as they are written."""
    return [str(port) for port in found if isinstance(port, Port)]
