"""Known findings: what an old repository had before anybody looked. They are told apart, and the list only shrinks.

An entry is rule and subject, never a line, and the sockets that it was about: others under the same subject are new.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from rigdsl.finding import Finding, Level
from rigdsl.lint.told import Telling
from rigdsl.rig import Port, Rig, natural

__all__ = ["NEVER", "Known", "Open", "Seen", "known_left", "known_order", "remembered", "sorted_out"]

# Findings of files that could not be read whole: whatever else stands in them is not found, and not gone either.
UNREAD = frozenset({"file-loop", "file-missing", "outside-project", "syntax-error", "unreadable-file"})
# What is never known from before: it says that the check itself is not whole.
NEVER = frozenset({"rule-crashed", "wrong-config"}) | UNREAD

Key = tuple[str, str]


@dataclass(frozen=True)
class Known:
    """A finding known from before; without `ports` it is about its subject whatever sockets are concerned."""

    rule: str
    subject: str
    ports: tuple[str, ...] = ()

    @property
    def key(self) -> Key:
        """What it is known by."""
        return self.rule, self.subject


def known_order(entry: Known) -> tuple[object, ...]:
    """By rule, then by subject as people count."""
    return entry.rule, natural(entry.subject), entry.subject


def known_of(finding: Finding) -> Known:
    """The entry of a finding."""
    return Known(finding.rule, finding.subject, finding.ports)


@dataclass(frozen=True)
class Open:
    """A finding that nobody accepted, with the sockets that it can be told for one by one (perhaps none)."""

    finding: Finding
    ports: tuple[Port, ...]
    of: Callable[[tuple[Port, ...]], Finding]

    @classmethod
    def of_one(cls, finding: Finding) -> Open:
        """A finding that is told as it is."""
        return cls(finding, (), lambda _: finding)


def sorted_out(found: Iterable[Open], known: Iterable[Known]) -> tuple[list[Finding], list[Finding]]:
    """The findings that are new, and those that are known; one whose sockets are known in part is told in two."""
    by_key = {entry.key: entry for entry in known if entry.rule not in NEVER}
    new: list[Finding] = []
    old: list[Finding] = []
    for one in found:
        entry = by_key.get((one.finding.rule, one.finding.subject))
        if entry is None:
            new.append(one.finding)
        elif not entry.ports or set(one.finding.ports) <= set(entry.ports):
            old.append(one.finding)
        elif not one.ports:
            new.append(one.finding)
        else:
            there = tuple(port for port in one.ports if str(port) in entry.ports)
            new.append(one.of(tuple(port for port in one.ports if port not in there)))
            old += [one.of(there)] if there else []
    return new, old


@dataclass(frozen=True)
class Seen:
    """What a check found, and what it could judge: only that can be gone.

    `ports` are the sockets by rule and subject, `hidden` what another finding explains for now, by rule and subject
    without the number of a repeat; `judged` the rules that looked at all there is.
    """

    ports: dict[Key, set[str]]
    hidden: frozenset[Key]
    judged: frozenset[str]

    @classmethod
    def of(
        cls,
        rig: Rig,
        told: Sequence[Telling],
        causes: Sequence[Telling],
        found: Iterable[Finding],
        core: Iterable[str],
        run: Iterable[str],
    ) -> Seen:
        """From a run: all that was `told`, the `causes` left of it, and what is open or known of them."""
        ports: dict[Key, set[str]] = {}
        for finding in found:
            ports.setdefault((finding.rule, finding.subject), set()).update(finding.ports)
        standing = {id(telling) for telling in causes}
        hidden = {(one.finding.rule, one.finding.subject) for one in told if id(one) not in standing}
        whole = {finding.rule for finding in rig.findings if finding.level == Level.ERROR}
        judged: set[str] = set()
        if not whole & UNREAD:
            judged.update(core)
            if not whole and not rig.incomplete and not rig.left_out:
                judged.update(run)
        return cls(ports, frozenset(hidden), frozenset(judged))


def known_left(known: Iterable[Known], seen: Seen) -> tuple[Known, ...]:
    """What is left of the list: without what is gone, and without sockets that are mended."""
    left = []
    for entry in known:
        hidden = (entry.rule, entry.subject.partition("#")[0]) in seen.hidden
        if entry.rule not in seen.judged or hidden:
            left.append(entry)
        elif entry.key in seen.ports:
            ports = tuple(port for port in entry.ports if port in seen.ports[entry.key])
            left += [replace(entry, ports=ports)] if ports or not entry.ports else []
    return tuple(sorted(left, key=known_order))


def remembered(findings: Iterable[Finding], left: Iterable[Known]) -> tuple[Known, ...]:
    """The list with open findings put into it: an entry that is there already gets their sockets too."""
    entries = {entry.key: entry for entry in left}
    for finding in findings:
        if finding.rule in NEVER:
            continue
        before = entries.get((finding.rule, finding.subject))
        if before is not None and not before.ports:
            continue
        ports = {*finding.ports, *(before.ports if before else ())}
        entries[finding.rule, finding.subject] = Known(finding.rule, finding.subject, tuple(sorted(ports, key=natural)))
    return tuple(sorted(entries.values(), key=known_order))
