"""`accept`: findings that are known and stand, with a reason and perhaps a last day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level, similar
from rigdsl.lint.told import Telling
from rigdsl.rig import Accept, Port, Rig, natural

__all__ = ["CORE", "Accepted", "Split", "accept_faults", "split"]

# The rules that belong to no pack.
CORE = frozenset(
    {
        "expired-accept",
        "file-loop",
        "file-missing",
        "no-such-port",
        "outside-project",
        "range-length",
        "repeated-name",
        "rule-crashed",
        "syntax-error",
        "unknown-name",
        "unreadable-file",
        "unused-accept",
        "wrong-config",
        "wrong-number",
        "wrong-unit",
    }
)


@dataclass(frozen=True)
class Accepted:
    """A finding, and the `accept` line that takes it out."""

    finding: Finding
    by: Accept


@dataclass(frozen=True)
class Split:
    """One thing told, shared out: `open_ports` are the sockets nobody accepted, `taken` what each line accepts.

    Where no sockets are told apart, an accepted finding is `whole`.
    """

    telling: Telling
    open_ports: tuple[Port, ...] = ()
    taken: tuple[tuple[Accept, tuple[Port, ...]], ...] = ()
    whole: Accept | None = None


@dataclass
class _Lines:
    """The `accept` lines of a rig by rule and by each thing that they name, and which of them were of use."""

    by_name: Mapping[tuple[str, str], Sequence[Accept]]
    today: str
    used: set[Accept] = field(default_factory=set)

    @classmethod
    def of(cls, accepts: Iterable[Accept], today: str) -> _Lines:
        """Sort lines by what they name, in the order of the files."""
        by_name: dict[tuple[str, str], list[Accept]] = {}
        for line in accepts:
            for name in _names(line):
                by_name.setdefault((line.rule, name), []).append(line)
        return cls(by_name, today)

    def matching(self, telling: Telling) -> list[Accept]:
        """Lines in force that are about what was told; those whose day is past are marked as used too."""
        finding = telling.finding
        keys = [(finding.rule, name) for name in (_in_order(finding.subject), *finding.ports)]
        candidates = dict.fromkeys(line for key in keys for line in self.by_name.get(key, ()))
        found = [line for line in candidates if _about(line, telling)]
        self.used.update(found)
        return [line for line in found if not expired(line, self.today)]


def split(tellings: Iterable[Telling], accepts: Sequence[Accept], today: str) -> tuple[list[Split], frozenset[Accept]]:
    """Share out what was told among the `accept` lines; also gives the lines that something was found for."""
    lines = _Lines.of(accepts, today)
    return [_split(telling, lines) for telling in tellings], frozenset(lines.used)


def _split(telling: Telling, lines: _Lines) -> Split:
    found = lines.matching(telling)
    whole = next((line for line in found if _whole(line, telling)), None)
    if whole or not found:
        return Split(telling, () if whole else telling.ports, whole=whole)
    left = telling.ports
    taken = []
    for line in found:
        theirs = tuple(port for port in left if port in line.ports)
        left = tuple(port for port in left if port not in line.ports)
        taken.append((line, theirs))
    return Split(telling, left, tuple((line, ports) for line, ports in taken if ports))


def expired(line: Accept, today: str) -> bool:
    """Whether the last day of a line is past; ISO dates sort as text."""
    return bool(today and line.until) and line.until < today


def _names(line: Accept) -> set[str]:
    """Whatever a line names: its subject as a whole, each of several names, each socket."""
    said = (line.subject, *line.subject.split(", "))
    return {*(_in_order(name) for name in said), *(str(port) for port in line.ports)}


def _in_order(subject: str) -> str:
    """A subject as findings have it: the links of a run, and the ends of a link without a name, in natural order.

    People write them as they see them: `C10+C2`, `SL.A -- DESK.stage 1`.
    """
    subject, number, count = subject.partition("#")
    links = (" -- ".join(_sorted(link.split("--"))) for link in subject.split("+"))
    return "+".join(_sorted(links)) + number + count


def _sorted(parts: Iterable[str]) -> list[str]:
    return sorted((" ".join(part.split()) for part in parts), key=natural)


def _about(line: Accept, telling: Telling) -> bool:
    return not set(telling.ports).isdisjoint(line.ports) or _whole(line, telling)


def _whole(line: Accept, telling: Telling) -> bool:
    """A line that takes a finding out altogether: by its subject, or by every socket that it is about."""
    finding = telling.finding
    names = _names(line)
    return _in_order(finding.subject) in names or (bool(finding.ports) and names.issuperset(finding.ports))


def accept_faults(
    rig: Rig, used: frozenset[Accept], run: Iterable[str], names: Iterable[str], today: str
) -> list[Finding]:
    """What is wrong with the `accept` lines themselves: `run` are the rules that were run, `names` all that exist."""
    judged, known = CORE | set(run), CORE | set(names)
    findings = []
    for line in rig.accepts:
        if line.rule not in known:
            findings.append(_unknown(line, known))
        elif line in used and expired(line, today):
            findings.append(_expired(line))
        elif line not in used and line.rule in judged and not _unread(line, rig):
            findings.append(_unused(line))
    return findings


def _unread(line: Accept, rig: Rig) -> bool:
    """Whether it is about something that could not be read, so that its rule had to keep quiet."""
    names = {line.subject, *line.subject.split(", "), *(port.box for port in line.ports)}
    if not names.isdisjoint(rig.incomplete):
        return True
    places = (finding.place for finding in rig.findings)
    return any(p.source is line.place.source and line.place.start <= p.start < line.place.end for p in places)


def _unknown(line: Accept, known: Iterable[str]) -> Finding:
    pack, slash, _ = line.rule.partition("/")
    packs = {name.partition("/")[0] for name in known if "/" in name}
    if slash and pack not in packs:
        message = f"`{line.rule}` is a rule of a pack that is not in use here"
        help_ = f"install the pack `{pack}` and list it under `[packs]` in rig.toml, or take the line out"
        help_ = similar("pack", pack, packs) or help_
    else:
        message = f"there is no rule called `{line.rule}`"
        help_ = similar("rule", line.rule, known) or "`rigdsl rules` prints the names of all rules"
    return _finding(line, "unknown-name", message, "nothing is accepted by this line", help_, Level.ERROR, line.rule)


def _expired(line: Accept) -> Finding:
    message = f"`{line.rule}` on `{line.subject}` was accepted until {line.until}, and that day is past"
    help_ = "mend what it is about, or agree on a new date"
    return _finding(line, "expired-accept", message, "what it is about counts again", help_)


def _unused(line: Accept) -> Finding:
    message = f"`{line.rule}` finds nothing on `{line.subject}` that this line could accept"
    help_ = "take the line out, or say the subject as the finding has it"
    return _finding(line, "unused-accept", message, "it would hide the next fault of this name", help_)


def _finding(
    line: Accept, rule: str, message: str, consequence: str, help_: str, level: Level = Level.WARNING, subject: str = ""
) -> Finding:
    return Finding(
        place=line.place,
        subject=subject or f"{line.rule} {line.subject}",
        message=message,
        rule=rule,
        level=level,
        consequence=consequence,
        help=help_,
    )
