"""The gear that stands in files, whatever else they say: models, protocols and cables, without any rig."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from rigdsl.finding import Finding
from rigdsl.rig.load import PACK, STANDARDS, USER, Loaded, library
from rigdsl.rig.project import File, Project, gather
from rigdsl.rig.readers import Reader
from rigdsl.rig.resolve import resolve
from rigdsl.syntax import nodes as syntax
from rigdsl.text import Source

__all__ = ["gear_of"]

GEAR = (syntax.Cable, syntax.Protocol, syntax.Model, syntax.Use, syntax.Broken)


def gear_of(entries: Iterable[tuple[str, Reader]], libraries: Iterable[Source] = ()) -> Loaded:
    """The gear of these files and of all that they use, with that of packs and the standards behind it.

    Boxes, cables that are laid and patches are left aside. `sources` are the user's own files.
    """
    shelves = [(source, PACK) for source in libraries] + [(source, STANDARDS) for source in library()]
    files: dict[str, File] = {}
    findings: list[Finding] = []
    complete = True
    entry = ""
    for path, reader in entries:
        if reader.same(path) in files:
            continue  # a file before it uses it
        project = gather(path, reader, shelves)
        known = {file.source.path for file in files.values()}
        findings += [finding for finding in project.findings if finding.place.source.path not in known]
        files = {**project.files, **files}
        complete = complete and project.complete
        entry, shelves = entry or project.entry, []
    own = tuple(file.source for file in files.values() if file.shelf == USER)
    only = {key: _gear_alone(file) for key, file in files.items()}
    return Loaded(resolve(Project(entry, only, tuple(findings), complete)), own)


def _gear_alone(file: File) -> File:
    kept = tuple(one for one in file.statements if isinstance(one, GEAR))
    return replace(file, statements=kept) if file.shelf == USER else file
