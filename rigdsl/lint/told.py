"""What rules said, on its way to the user: findings, and those that can be told again for fewer sockets."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from rigdsl.finding import Finding
from rigdsl.lint.order import place_key
from rigdsl.rig import Port

__all__ = ["Telling", "numbered"]


@dataclass(frozen=True)
class Telling:
    """A finding; where it is about several `ports`, `tell` words it for some of them."""

    finding: Finding
    ports: tuple[Port, ...] = ()
    tell: Callable[[tuple[Port, ...]], Finding] | None = None

    def of(self, ports: tuple[Port, ...]) -> Finding:
        """The finding for some of its sockets, under the same subject."""
        if ports == self.ports or self.tell is None:
            return self.finding
        return replace(self.tell(ports), subject=self.finding.subject)


def numbered(tellings: Iterable[Telling]) -> list[Telling]:
    """In file order; the second and further ones of one rule and subject get `#2`, `#3` behind the subject.

    What is the same in every respect is said once.
    """
    seen: dict[tuple[str, str], int] = {}
    result: list[Telling] = []
    before: set[Finding] = set()
    for telling in sorted(tellings, key=lambda telling: place_key(telling.finding)):
        finding = telling.finding
        if finding in before:
            continue
        before.add(finding)
        number = seen[finding.rule, finding.subject] = seen.get((finding.rule, finding.subject), 0) + 1
        if number > 1:
            telling = replace(telling, finding=replace(finding, subject=f"{finding.subject}#{number}"))
        result.append(telling)
    return result
