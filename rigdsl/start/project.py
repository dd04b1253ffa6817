"""The files of a new project, and what its rigs already call by a name."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from rigdsl.rig import DictReader
from rigdsl.rig.project import gather
from rigdsl.syntax import headed, nodes
from rigdsl.text import Source, normalised

__all__ = ["BAND", "BAND_SHOW", "FIRST_SHOW", "beside", "new_files"]

BAND = "shows/band.rig"
BAND_SHOW = "shows/band-show.rig"
FIRST_SHOW = "shows/first-show.rig"
TEMPLATE = Path(__file__).parent / "template"
# Where each file of the template goes; a package cannot hold files whose names begin with a dot on every road.
PLACES = {
    ".ci/check.sh": "check.sh",
    ".gitattributes": "gitattributes.txt",
    "README.md": "README.md",
    "gear/gear.rig": "gear.rig",
    "rig.toml": "rig.toml",
    "venue/house.rig": "house.rig",
}


def new_files(*, band: bool) -> dict[str, str]:
    """The texts of a new project by path; its show is a first one, or the night of a band whose list was read."""
    show = {BAND_SHOW: "band-show.rig"} if band else {FIRST_SHOW: "first-show.rig"}
    return {path: normalised((TEMPLATE / name).read_text("utf-8")) for path, name in sorted({**PLACES, **show}.items())}


def beside(texts: Mapping[str, str], band: str) -> tuple[tuple[str, ...], frozenset[str]]:
    """The rigs that use a band's file, and the names of what else is in them."""
    reader = DictReader({**texts, band: texts.get(band, "")})
    shows: list[str] = []
    names: set[str] = set()
    for path, text in sorted(texts.items()):
        if not headed(Source(path, text)):
            continue
        files = gather(path, reader, ()).files
        if band in files and path != band:
            shows.append(path)
            said = [one for key, file in files.items() if key != band for one in file.statements]
            names.update(name for one in said if (name := _name(one)))
    return tuple(shows), frozenset(names)


def _name(said: nodes.Statement) -> str:
    """The name that a statement gives to a thing of the rig; those of models and cables are a set each of their own."""
    if isinstance(said, nodes.Zone | nodes.Box | nodes.Link | nodes.Plug | nodes.Supply) and said.name:
        return said.name.text
    return ""
