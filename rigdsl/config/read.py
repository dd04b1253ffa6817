"""`rig.toml` and the list of known findings, from the disk to one value; what is wrong with them is collected."""

from __future__ import annotations

from dataclasses import replace
from importlib.metadata import version
from pathlib import Path
from typing import Any

from rigdsl.config.config import OURS, Config
from rigdsl.config.keys import EDITION, FAIL_ON, FILE, KEYS, KNOWN_FILE, PATTERNS, VERSION
from rigdsl.config.known_file import read_known
from rigdsl.config.packs import asked_packs, in_use
from rigdsl.config.papers import paper_choices
from rigdsl.config.rules import blocks
from rigdsl.config.said import Said, at, wrong
from rigdsl.config.toml import NOTHING, read_toml
from rigdsl.config.values import fits_kind
from rigdsl.config.versions import meets
from rigdsl.finding import Finding
from rigdsl.lint.order import in_file_order
from rigdsl.lint.settings import Choice
from rigdsl.packs import EDITION as NEWEST
from rigdsl.packs import Packs
from rigdsl.rig import DiskReader, Unread, typed
from rigdsl.text import Source, Span
from rigdsl.text.toml_places import KeyPath

__all__ = ["config_of", "read_config"]


def config_of(root: Path, packs: Packs) -> Config:
    """What the project in a folder has set."""
    reader = DiskReader(root)
    config = _from_file(str(root), packs, reader.read(typed(str(root / FILE))))
    known = reader.read(typed(str(root / KNOWN_FILE)))
    if isinstance(known, Unread):
        faults = [] if known.rule == "file-missing" else [_unread(known, typed(str(root / KNOWN_FILE)))]
        return replace(config, known=None if faults else {}, findings=(*config.findings, *faults))
    entries, findings = read_known(known)
    return replace(config, known=entries, findings=(*config.findings, *findings))


def _from_file(folder: str, packs: Packs, found: Source | Unread) -> Config:
    nothing = Config(folder, in_use(packs, {}), packs)
    if isinstance(found, Unread):
        faults = () if found.rule == "file-missing" else (_unread(found, typed(str(Path(folder, FILE)))),)
        return replace(nothing, findings=faults)
    said = read_toml(found)
    if isinstance(said, Finding):
        return replace(nothing, findings=(said,))
    return read_config(folder, packs, said)


def _unread(why: Unread, path: str) -> Finding:
    return wrong(Span(Source(path, ""), 0, 0), path.rpartition("/")[2], why.message, NOTHING, why.help)


def read_config(folder: str, packs: Packs, said: Said) -> Config:
    """From what a file says."""
    for name in said.values:
        if name not in KEYS:
            said.unknown((name,), "key of `rig.toml`", KEYS, "it changes nothing")
    _requirement(said)
    packs, used, editions, missing = asked_packs(said, packs)
    edition = _edition(said)
    if edition is not None:
        editions[OURS] = edition
    idle = {item.pack.name for item in packs.installed if item not in used.installed}
    idle |= {offer.name for offer in packs.waiting}
    every_rig = "`check` without a path looks at every rig of the project"
    rigs = _value(said, "rigs", KEYS["rigs"], every_rig)
    fail_on = _value(said, "fail-on", FAIL_ON, "findings at `error` fail")
    return Config(
        folder,
        used,
        packs,
        None if rigs is None else tuple(rigs.value),
        fail_on,
        editions,
        blocks(said, used.rules, idle - missing, missing),
        papers=paper_choices(said),
        patterns=_patterns(said),
        findings=in_file_order(said.findings),
    )


def _patterns(said: Said) -> tuple[tuple[str, Span], ...]:
    """Every pattern with its place, of lists that are as they should be."""
    blocks = said.values.get("for", [])
    lists: list[tuple[KeyPath, Any]] = [(("rigs",), said.values.get("rigs"))]
    lists += [
        (("for", number, "rigs"), block.get("rigs"))
        for number, block in enumerate(blocks if isinstance(blocks, list) else [])
        if isinstance(block, dict)
    ]
    return tuple(
        (pattern, said.places.value((*path, number)))
        for path, listed in lists
        if fits_kind(listed, PATTERNS)
        for number, pattern in enumerate(listed)
    )


def _value(said: Said, name: str, kind: dict[str, Any], consequence: str) -> Choice | None:
    """The value of a key at the top, where it has one of the right kind."""
    if name not in said.values or not said.taken((name,), said.values[name], kind, consequence):
        return None
    return Choice(said.values[name], at(said.places.key((name,))))


def _requirement(said: Said) -> None:
    hint = 'a version is `">=0.1"` or `">=0.1, <1"`'
    asked = said.values.get("requires")
    if asked is None or not said.taken(("requires",), asked, VERSION, "any rigdsl will do", hint):
        return
    own = version("rigdsl")
    if not meets(own, asked):
        message = f"this project needs rigdsl {asked}, and this is rigdsl {own}"
        consequence = "what is found here may differ from what the others of the crew find"
        help_ = f"install rigdsl {asked}, or change `requires`"
        said.tell(said.places.value(("requires",)), ("requires",), message, consequence, help_)


def _edition(said: Said) -> Choice | None:
    edition = _value(said, "edition", EDITION, "the rules of every edition are run")
    if edition is None or edition.value <= NEWEST:
        return edition
    message = f"there is no edition {edition.value} of the rules yet: the newest is {NEWEST}"
    help_ = f"write `edition = {NEWEST}`, or install a later rigdsl"
    said.tell(said.places.value(("edition",)), ("edition",), message, "the rules of every edition are run", help_)
    return None
