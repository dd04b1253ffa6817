"""Boxes of one model want one firmware."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import listed
from rigdsl.paths import Paths
from rigdsl.rig import Box, Rig, natural

__all__ = ["firmware_differs"]


@rule("firmware-differs", Level.NOTE, NoOptions, edition=2)
def firmware_differs(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Boxes of one model have different firmware written.

    A box that says nothing of its firmware is left out.

    ## On the night
    One of two racks behaves differently, and nobody thinks of why. An update belongs in the workshop, days before.

    ## A rig that breaks it
    ```rig
    rig "Old and new" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box FOH is desk4 in stage { firmware "4.2" }
    box MON is desk4 in stage { firmware "3.9" }
    source vox dynamic in stage to FOH 1 via xlr 5 m
    source shout talkback in stage to MON 1 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Both new" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box FOH is desk4 in stage { firmware "4.2" }
    box MON is desk4 in stage { firmware "4.2" }
    source vox dynamic in stage to FOH 1 via xlr 5 m
    source shout talkback in stage to MON 1 via xlr 5 m
    ```
    """
    by_model: dict[str, dict[str, list[Box]]] = defaultdict(lambda: defaultdict(list))
    for box in sorted(rig.boxes.values(), key=lambda box: natural(box.name)):
        if box.firmware.strip():
            by_model[box.model.name][box.firmware.strip()].append(box)
    for model, versions in by_model.items():
        if len(versions) > 1:
            yield _differs(model, versions)


def _differs(model: str, versions: dict[str, list[Box]]) -> Finding:
    parts = [
        f'"{version}" in {listed([box.name for box in versions[version]])}' for version in sorted(versions, key=natural)
    ]
    first, *others = [box for boxes in versions.values() for box in boxes]
    return Finding(
        place=first.place,
        subject=model,
        message=f"boxes of model `{model}` have different firmware: {', '.join(parts)}",
        consequence="they may behave differently, and nobody thinks of why",
        help="bring them to one version in the workshop, not on the day",
        related=tuple(Related(box.place, f'`{box.name}` has "{box.firmware.strip()}"') for box in others),
        box=first.name,
    )
