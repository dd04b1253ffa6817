"""What has no label cannot be found by it."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, listed
from rigdsl.paths import Paths
from rigdsl.rig import Rig, natural

__all__ = ["label_missing"]


@rule("label-missing", Level.NOTE, NoOptions, edition=2)
def label_missing(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Boxes without a label and cables without an id, said once for the whole rig.

    A card in a slot is found where its box is, and needs no label.

    ## On the night
    Lists, labels and drawings call a box by its short name, and a cable by its two ends: longer to read, and harder
    to find on the tape.

    ## A rig that breaks it
    ```rig
    rig "Names alone" { rate 48 kHz }
    model rx2 { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    box RX "Radio receiver" is rx2 in stage
    link RX.line 1-2 -- DESK.local 1-2 via xlr 3 m
    source vox wireless in stage to RX 1
    source host wireless in stage to RX 2
    ```

    ## A rig that keeps it
    ```rig
    rig "Labels and ids" { rate 48 kHz }
    model rx2 { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK "Desk" is desk4 in stage
    box RX "Radio receiver" is rx2 in stage
    link L01: RX.line 1-2 -- DESK.local 1-2 via xlr 3 m
    source vox wireless in stage to RX 1
    source host wireless in stage to RX 2
    ```

    ## Figures
    That every cable has an identifier of its own, and both ends carry it, is asked by AVIXA F501.01:2015 "Cable
    Labeling for Audiovisual Systems" (number and year from memory).

    ## See also
    `label-repeated`.
    """
    bare = [box for box in rig.boxes.values() if not (box.label or box.slot)]
    boxes = sorted(bare, key=lambda box: natural(box.name))
    links = sorted((link for link in rig.links.values() if not link.id), key=lambda link: link.key)
    parts = []
    if boxes:
        parts.append(f"{_have(len(boxes), 'box', 'boxes')} no label: {listed([box.name for box in boxes])}")
    if links:
        parts.append(f"{_have(len(links), 'cable', 'cables')} no id: {listed([link.name for link in links])}")
    if parts:
        yield Finding(
            place=rig.head.place or (boxes[0].place if boxes else links[0].place),
            subject="rig",
            message="; ".join(parts),
            consequence="lists and labels call them by their short names or their two ends",
            help="write a label behind a box's name: `box SL \"Stage left rack\" is ...`; an id before a link's ends: "
            "`link C01: ...`",
        )


def _have(number: int, one: str, many: str) -> str:
    return f"{count(number, one, many)} {'has' if number == 1 else 'have'}"
