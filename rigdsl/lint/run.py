"""The run: every rule over one rig, then one cause one finding, names for repeats, what was accepted or known."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.lint.accept import CORE, Accepted, Split, accept_faults, split
from rigdsl.lint.known import Known, Open, Seen, known_left, sorted_out
from rigdsl.lint.options import chosen
from rigdsl.lint.order import in_file_order, place_key
from rigdsl.lint.precedence import first_causes
from rigdsl.lint.rule import PackedRule, Sockets
from rigdsl.lint.settings import Setting
from rigdsl.lint.told import Telling, numbered
from rigdsl.lint.words import one_line
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig
from rigdsl.text import Source, Span

__all__ = ["Verdict", "lint"]


@dataclass(frozen=True)
class Verdict:
    """What a rig's check came to, in file order. `crashed`: a rule broke down, so the check is not whole.

    `ran` are the rules of packs that ran to their end.
    `findings` are open, `known` are those of the list of known findings; `left` is what the list has left of them.
    """

    findings: tuple[Finding, ...]
    accepted: tuple[Accepted, ...] = ()
    crashed: bool = False
    ran: frozenset[str] = frozenset()
    known: tuple[Finding, ...] = ()
    left: tuple[Known, ...] = ()


def lint(
    rig: Rig,
    paths: Paths,
    rules: Sequence[PackedRule],
    *,
    options: Mapping[str, Any] | None = None,
    names: Iterable[str] = (),
    today: str = "",
    settings: Mapping[str, Setting] | None = None,
    known: Sequence[Known] = (),
) -> Verdict:
    """Run rules over a rig; the findings made while it was read are among the result.

    `rules` are those to run; `options` has an options value for each rule that has other ones than its
    own; `names` are rules that exist but are not run (an `accept` of one is not judged); `today` is an
    ISO date, against which `until` is held (empty: nothing expires); `settings` are levels and options that a
    project chose; `known` are findings known from before.
    """
    told = [Telling(finding) for finding in rig.findings]
    crashes: dict[str, Finding] = {}
    for packed in rules:
        setting = (settings or {}).get(packed.name)
        try:
            told += list(_told(packed, rig, paths, (options or {}).get(packed.name), setting))
        except Exception as error:  # the other rules go on, whatever one of them does
            crashes[packed.name] = _crash(packed, error, rig)
    causes = first_causes(told)
    shares, used = split(numbered(causes), rig.accepts, today)
    open_: list[Open] = []
    accepted: list[Accepted] = []
    by_name = {packed.name: packed for packed in rules}
    for share in shares:
        try:
            _tell(share, open_, accepted)
        except Exception as error:
            name = share.telling.finding.rule
            crashes[name] = _crash(by_name[name], error, rig)
    run = frozenset(by_name.keys() - crashes.keys())
    open_ += [Open.of_one(finding) for finding in accept_faults(rig, used, run, {*by_name, *names}, today)]
    new, old = sorted_out(open_, known)
    seen = Seen.of(rig, told, causes, [*new, *old], CORE, run)
    return Verdict(
        in_file_order([*new, *crashes.values()]),
        tuple(sorted(accepted, key=lambda item: (place_key(item.finding), item.by.place.start))),
        bool(crashes),
        run,
        in_file_order(old),
        known_left(known, seen),
    )


def _told(
    packed: PackedRule, rig: Rig, paths: Paths, options: Any, setting: Setting | None = None
) -> Iterator[Telling]:
    """What one rule says, with its name and level filled in."""
    rule = packed.rule
    level = setting.level_set if setting else None
    if options is None:
        options = chosen(rule.options, setting.values if setting else {})

    def stamped(finding: Finding) -> Finding:
        return replace(finding, rule=rule.name, level=level or finding.level or rule.level)

    def again(sockets: Sockets) -> Callable[[tuple[Port, ...]], Finding]:
        return lambda ports: stamped(sockets.tell(ports))

    for said in rule.check(rig, paths, options):
        if isinstance(said, Sockets):
            tell = again(said)
            yield Telling(tell(said.ports), said.ports, tell)
        else:
            yield Telling(stamped(said))


def _tell(share: Split, findings: list[Open], accepted: list[Accepted]) -> None:
    """Say what is left of a finding, and what was accepted of it."""
    telling = share.telling
    if share.whole:
        accepted.append(Accepted(telling.finding, share.whole))
        return
    parts = [Accepted(telling.of(ports), line) for line, ports in share.taken]
    if share.open_ports or not parts:
        findings.append(Open(telling.of(share.open_ports), share.open_ports, telling.of))
    accepted += parts


def _crash(packed: PackedRule, error: Exception, rig: Rig) -> Finding:
    """One finding for a rule that broke down."""
    version = f" {packed.version}" if packed.version else ""
    return Finding(
        place=rig.head.place or Span(Source("", ""), 0, 0),
        subject=packed.name,
        message=f"the rule `{packed.name}` broke down: {one_line(error)}",
        rule="rule-crashed",
        level=Level.ERROR,
        consequence="what this rule looks for was not looked for",
        help=f"tell the makers of the pack `{packed.pack}`{version}, with this rig",
    )
