"""What the projects of the checked rigs have set, and their lists of known findings kept up to date."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from rigdsl.cli.streams import notice, write
from rigdsl.config import Config, config_of, known_text
from rigdsl.lint import Verdict
from rigdsl.lint.known import NEVER, Known, remembered
from rigdsl.lint.order import in_file_order
from rigdsl.packs import Packs
from rigdsl.reports.report import counted

__all__ = ["Projects", "announce", "in_ci", "keep_up", "known_now"]


@dataclass
class Projects:
    """The configurations of this run, each read once."""

    packs: Packs
    found: dict[Path, Config] = field(default_factory=dict)

    def of(self, root: Path) -> Config:
        """That of the project in a folder."""
        if root not in self.found:
            self.found[root] = config_of(root, self.packs)
        return self.found[root]

    @property
    def loaded(self) -> Packs:
        """All packs that are loaded by now: those of a project come in when its `rig.toml` is read."""
        every = (item for config in self.found.values() for item in config.installed.installed)
        by_name = {item.pack.name: item for item in (*every, *self.packs.installed)}
        return replace(self.packs, installed=tuple(by_name[name] for name in sorted(by_name)))

    def judge(self, root: Path, paths: Iterable[str]) -> None:
        """Where a whole project was looked through: which patterns of its `rig.toml` fit nothing."""
        config = self.of(root)
        self.found[root] = replace(config, findings=(*config.findings, *config.fitting_nothing(paths)))


def announce(config: Config) -> None:
    """What a project does not use, though it is there: packs that it does not list, rules newer than its edition."""
    if config.idle:
        names = ", ".join(f"`{name}`" for name in config.idle)
        notice(f"installed and not in use: {names}; a project lists the packs that it uses under `[packs]` in rig.toml")
    newer = config.not_asked_for()
    if newer:
        rules = "1 newer rule is" if len(newer) == 1 else f"{len(newer)} newer rules are"
        notice(f"{rules} not in the edition that rig.toml keeps to: `rigdsl rules --newer` lists what is new")


def in_ci() -> bool:
    """Whether this runs for nobody in particular, where files of the checkout are no one's to change."""
    return os.environ.get("CI", "").lower() not in ("", "0", "false")


def known_now(verdict: Verdict) -> Verdict:
    """With all that can be known among what is known."""
    stay = tuple(finding for finding in verdict.findings if finding.rule in NEVER)
    known = [finding for finding in verdict.findings if finding.rule not in NEVER]
    return replace(verdict, findings=stay, known=in_file_order([*verdict.known, *known]))


def _tell_missing(config: Config, known: Mapping[str, tuple[Known, ...]]) -> None:
    """Rigs on the list that are not there any more: a rig that got another name has all its findings back."""
    gone = [name for name, entries in known.items() if entries and not Path(config.folder, name).exists()]
    if gone:
        names = " and ".join(f"`{name}`" for name in gone)
        one = "which is not there: write the rig's new name there" if len(gone) == 1 else "which are not there"
        notice(f"`{config.known_path}` names {names}, {one}, or have it made anew by `rigdsl check --remember`")


def keep_up(config: Config, checked: Iterable[tuple[str, Verdict]], *, remember: bool, keep: bool = False) -> None:
    """Bring the list up to date: what is gone goes, and what is open comes in where that was asked for.

    `keep`: nothing is written, and what could be is said. A list that cannot be read is left as it is.
    """
    if config.known is None:
        if remember:
            notice(f"`{config.known_path}` cannot be read, and stays as it is: mend it, or take it away, and try again")
        return
    before = dict(config.known)
    _tell_missing(config, before)
    after = dict(before)
    for path, verdict in checked:
        name = config.within(path)
        after[name] = remembered(verdict.findings, verdict.left) if remember else verdict.left
    if remember:
        after = {name: entries for name, entries in after.items() if Path(config.folder, name).exists()}
    if {name: entries for name, entries in after.items() if entries} == before:
        return
    left = sum(map(len, after.values()))
    gone = sum(map(len, before.values())) - left
    if keep:
        notice(f"the list of known findings could be shorter by {gone}" if gone > 0 else "sockets on it are mended")
        return
    try:
        write(Path(config.folder, os.path.basename(config.known_path)), known_text(after).encode("utf-8"))
    except OSError as trouble:
        if remember:
            raise
        notice(f"`{config.known_path}` cannot be written, and stays as it is: {(trouble.strerror or '').lower()}")
        return
    if remember:
        notice(f"{counted([(left, 'finding')]) or 'no finding'} known from now on: `{config.known_path}`")
    elif gone > 0:
        said = f"{counted([(gone, 'known finding')])} {'is' if gone == 1 else 'are'} gone"
        notice(f"{said}: the list has {left} left" if left else f"{said}: the list is empty")
    else:
        notice("sockets of known findings are mended: the list is shorter by them")
