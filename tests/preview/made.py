"""A small rig on the disk, and what a made page shows."""

from __future__ import annotations

import re
from pathlib import Path

from lxml import html

from rigdsl.draw import Wanted
from rigdsl.preview import Made, Maker
from rigdsl.show import load

__all__ = ["RIG", "boxes_of", "drawings_of", "maker", "note_of", "views_of"]

RIG = """rig "Test" { lead xlr }
zone wing "Wing" at (0, 0) m
model b { kind stage-box; inputs mic 1-4 { preamp }; outputs line 1-2 }
box SL "Rack" is b in wing
source kick "Kick" dynamic in wing to SL.mic 1 via xlr 3 m
"""


def maker(rig: Path) -> Maker:
    return Maker(lambda: load(rig), lambda show: Wanted())


def note_of(made: Made) -> str:
    found = html.fromstring(made.page.decode("utf-8")).xpath("//*[@id='note']/text()")
    return found[0] if found else ""


def boxes_of(made: Made) -> list[str]:
    text = made.page.decode("utf-8")
    return sorted(set(re.findall(r'data-things="\[&quot;([A-Z]+)&quot;\]" data-zone', text)))


def views_of(made: Made) -> list[str]:
    """The views that have a tab."""
    return [str(view) for view in html.fromstring(made.page.decode("utf-8")).xpath("//*[@class='tab']/@data-view")]


def drawings_of(made: Made) -> list[str]:
    return re.findall("<svg.*?</svg>", made.page.decode("utf-8"), re.DOTALL)
