"""A label on the gaffer tape must name one thing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import together
from rigdsl.paths import Paths
from rigdsl.rig import Box, Link, Rig, natural

__all__ = ["label_repeated"]


@rule("label-repeated", Level.WARNING, NoOptions, edition=2)
def label_repeated(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Two boxes, or two links, have one label.

    Capitals make no difference. A box and a link may share one.

    ## On the night
    "Stage left rack" is two racks: the wrong one is opened, plugged up or switched off.

    ## A rig that breaks it
    ```rig
    rig "Two racks of one name" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box FOH "Desk" is desk4 in stage
    box MON "Desk" is desk4 in stage
    source vox dynamic in stage to FOH 1 via xlr 5 m
    source shout talkback in stage to MON 1 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Two racks of two names" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box FOH "House desk" is desk4 in stage
    box MON "Monitor desk" is desk4 in stage
    source vox dynamic in stage to FOH 1 via xlr 5 m
    source shout talkback in stage to MON 1 via xlr 5 m
    ```

    ## See also
    `label-missing`.
    """
    yield from _repeated(rig.boxes.values(), "boxes")
    yield from _repeated(rig.links.values(), "links")


def _repeated(things: Iterable[Box | Link], what: str) -> Iterator[Finding]:
    by_label: dict[str, list[Box | Link]] = defaultdict(list)
    for thing in sorted(things, key=lambda thing: natural(thing.name)):
        label = " ".join(thing.label.split()).casefold()
        if label:
            by_label[label].append(thing)
    for first, *others in by_label.values():
        if others:
            yield _told(first, others, what)


def _told(first: Box | Link, others: list[Box | Link], what: str) -> Finding:
    names = [thing.name for thing in (first, *others)]
    return Finding(
        place=first.place,
        subject=first.name,
        message=f'the {what} {together(names)} are all labelled "{first.label}"'
        if len(names) > 2
        else f'the {what} {together(names)} are both labelled "{first.label}"',
        consequence="one is taken for the other",
        help="give each a label of its own",
        related=tuple(Related(thing.place, f"`{thing.name}` has that label too") for thing in others),
        box=first.name if isinstance(first, Box) else "",
    )
