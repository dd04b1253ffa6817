"""`rig.toml` as it was read: its values with their places, and what is wrong with it, collected on the way."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from rigdsl.config.values import expected, fits_kind, said
from rigdsl.finding import Finding, Level, Related, similar
from rigdsl.lint.settings import Choice
from rigdsl.text import Span
from rigdsl.text.toml_places import KeyPath, Places

__all__ = ["Said", "at", "spelled", "wrong"]


@dataclass
class Said:
    """`values` is what the whole file says, `places` where; `findings` grows while it is looked through."""

    values: Mapping[str, Any]
    places: Places
    findings: list[Finding] = field(default_factory=list)

    def choice(self, path: KeyPath, value: object, more: str = "") -> Choice:
        """A value with the line that says it."""
        return Choice(value, f"{at(self.places.key(path))}{more}")

    def taken(self, path: KeyPath, value: object, kind: Mapping[str, Any], consequence: str, hint: str = "") -> bool:
        """Whether a value is of the kind that its key takes; where not, that is told."""
        if fits_kind(value, kind):
            return True
        message = f"`{path[-1]}` takes {expected(kind)}, and not `{said(value)}`"
        choices = [one for one in kind.get("enum", ()) if isinstance(one, str)]
        near = similar("word", value, choices) if isinstance(value, str) else ""
        self.tell(self.places.value(path), path, message, consequence, near or hint)
        return False

    def unknown(self, path: KeyPath, what: str, known: Iterable[str], consequence: str, hint: str = "") -> None:
        """Tell that a key is none, with the nearest one that is."""
        known = tuple(known)
        message = f"there is no {what} called `{path[-1]}`"
        listed = f"there are: {', '.join(f'`{name}`' for name in known)}" if known else ""
        help_ = similar(what, str(path[-1]), known) or hint or listed
        self.tell(self.places.key(path), path, message, consequence, help_)

    def tell(
        self,
        place: Span,
        path: KeyPath,
        message: str,
        consequence: str,
        help_: str,
        related: tuple[Related, ...] = (),
    ) -> None:
        """Something is wrong at a key."""
        self.findings.append(wrong(place, spelled(path), message, consequence, help_, related))


def wrong(
    place: Span, subject: str, message: str, consequence: str, help_: str, related: tuple[Related, ...] = ()
) -> Finding:
    """One finding about what a project has set."""
    return Finding(
        place=place,
        subject=subject,
        message=message,
        rule="wrong-config",
        level=Level.ERROR,
        consequence=consequence,
        help=help_,
        related=related,
    )


def at(place: Span) -> str:
    """`rig.toml:12`."""
    return f"{place.source.path}:{place.from_position.line}"


def spelled(path: KeyPath) -> str:
    """The keys that lead somewhere, with dots; the blocks of `[[for]]` are counted from 1."""
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in path)
