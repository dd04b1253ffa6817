"""The Python face of rigdsl: a rig, its paths, and what there is to say about them.

The commands use the same values, so what a script sees is what `rigdsl check` prints.
"""

from __future__ import annotations

import os
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from rigdsl import rig as rigs
from rigdsl.config import Config, config_of
from rigdsl.finding import Finding, Level
from rigdsl.lint import Verdict, lint
from rigdsl.lint.order import in_file_order, worst_first
from rigdsl.packs import Packs, discover
from rigdsl.paths import Paths
from rigdsl.paths.model import Path
from rigdsl.rig import DiskReader, Reader, Rig, Unread, project_root, typed
from rigdsl.rig.asked import asked
from rigdsl.syntax import headed
from rigdsl.text import Source

if TYPE_CHECKING:  # only who asks for a paper waits for what makes them
    from rigdsl.draw import Layouts, Wanted
    from rigdsl.papers import Facts, PaperSettings, Printed
    from rigdsl.review import Review
    from rigdsl.review.review import Side

__all__ = ["FORMATS", "VIEWS", "Drawing", "Show", "load", "opened", "sheet_paths", "today", "typed"]

VIEWS = ("flow", "cabling", "plan")
LISTS = ("input-list", "output-list")  # those that stand on the page
FORMATS = ("svg", "png", "pdf", "gv", "mmd", "txt")


@dataclass(frozen=True)
class Drawing:
    """A finished drawing, sheet by sheet; in a notebook an SVG shows itself.

    `notes` say what had to be drawn more simply.
    """

    sheets: tuple[bytes, ...] = field(repr=False)
    format: str = "svg"
    notes: tuple[str, ...] = ()

    @property
    def data(self) -> bytes:
        """The first sheet; of most drawings it is the only one."""
        return self.sheets[0]

    def save(self, path: str | os.PathLike[str]) -> tuple[FilePath, ...]:
        """Write it to a file; of several sheets each to its own: `flow-1.svg`, `flow-2.svg`. Says to which."""
        targets = sheet_paths(FilePath(path), len(self.sheets))
        for target, data in zip(targets, self.sheets, strict=True):
            target.write_bytes(data)
        return targets

    def _repr_html_(self) -> str | None:
        return "\n".join(data.decode("utf-8") for data in self.sheets) if self.format == "svg" else None


def sheet_paths(target: FilePath, count: int) -> tuple[FilePath, ...]:
    """Where the sheets of a drawing go: the file itself, or a file for each of several."""
    if count == 1:
        return (target,)
    return tuple(target.with_name(f"{target.stem}-{number}{target.suffix}") for number in range(1, count + 1))


@dataclass(frozen=True)
class Show:
    """A rig file with all that it uses. `today` is the ISO date that `until` of an `accept` line is held against.

    `config` is what its project has set; `packs` are those in use there.
    """

    path: str
    rig: Rig = field(repr=False)
    sources: tuple[Source, ...] = field(repr=False)
    packs: Packs = field(repr=False)
    today: str = ""
    config: Config = field(default_factory=Config, repr=False)

    @cached_property
    def paths(self) -> Paths:
        """How sound gets from socket to socket."""
        return Paths(self.rig)

    @property
    def is_rig(self) -> bool:
        """Whether the file has a `rig` head of its own; one without is a library, complete only inside a rig."""
        return any(source.path == self.path and headed(source) for source in self.sources)

    @cached_property
    def verdict(self) -> Verdict:
        """What all rules say that the project has on, and what the rig accepts of it or is known of it.

        A library is judged only by what stands in it: the rig that uses it may complete it.
        """
        if not self.is_rig:
            own = [finding for finding in self.rig.findings if finding.rule != "unknown-name"]
            return Verdict(in_file_order(own))
        settings = self.config.settings(self.path)
        return lint(
            self.rig,
            self.paths,
            [packed for packed in self.packs.rules if settings[packed.name].runs],
            names=settings,
            today=self.today,
            settings=settings,
            known=self.config.known_of(self.path),
        )

    def findings(self) -> tuple[Finding, ...]:
        """What is wrong, in the order of the files; without what the rig accepts and what is known."""
        return self.verdict.findings

    @cached_property
    def side(self) -> Side:
        """This state of the rig, to hold against another: its findings from the worst on."""
        from rigdsl.review.review import Side

        return Side(self.rig, self.paths, self.sources, worst_first(self.findings()))

    def compare(self, old: Show) -> Review:
        """What is otherwise than in an older state of the rig, and what follows from it on the night."""
        from rigdsl.review import review

        return review(old.side, self.side)

    def trace(self, name: str) -> tuple[Path, ...]:
        """Where a source, output, cable, box or socket (`SL.mic 3`) comes from and goes to.

        Raises LookupError for an unknown name.
        """
        return self.paths.trace(asked(self.rig, name)[1])

    def draw(
        self,
        view: str | Wanted = "flow",
        format: str = "svg",
        engine: str = "embedded",
        *,
        layouts: Layouts | None = None,
    ) -> Drawing:
        """A drawing, `flow` (as the signal goes), `cabling` (as it is built) or a pack's, in one of FORMATS.

        `view` is a name, or a whole `Wanted` that also says which part, on what paper and in what colours. Findings
        are marked where they are, numbered from the worst on. `layouts` are those of earlier drawings, for who draws
        a rig again and again.

        Raises `rigdsl.draw.DrawError` where there is no layout engine, or it fails; KeyError for an unknown view;
        `rigdsl.packs.PackError` where a pack's view breaks down.
        """
        from rigdsl import draw

        wanted = draw.Wanted(view) if isinstance(view, str) else view
        notes: list[str] = []
        told, views = worst_first(self.findings()), self.packs.views
        made = draw.draw(
            self.rig, self.paths, told, wanted, format, engine, say=notes.append, more=views, layouts=layouts
        )
        return Drawing(made, format, tuple(notes))

    def bound(self, views: Sequence[str], wanted: Wanted, engine: str = "embedded") -> Drawing:
        """Several views in one PDF, sheet after sheet; one that nothing of what is wanted is on is left out and noted.

        Raises what `draw` does.
        """
        from rigdsl import draw

        notes: list[str] = []
        sheets: list[bytes] = []
        for view in views:
            paper = wanted.paper or draw.PDF_PAPER
            one = draw.Wanted(view, wanted.choice, paper, wanted.theme, wanted.revision)
            try:
                drawing = self.draw(one, "svg", engine)
            except draw.EmptyPartError as empty:
                notes.append(str(empty.args[0]))
                continue
            sheets += drawing.sheets
            notes += drawing.notes
        if not sheets:
            raise draw.EmptyPartError("nothing of that is on any drawing")
        return Drawing(
            draw.pdf(sheets, self.rig.head.title or "a rig without a name", notes.append), "pdf", tuple(notes)
        )

    def page(
        self,
        drawings: Mapping[str, Drawing],
        wanted: Wanted | None = None,
        *,
        of: Show | None = None,
        note: str = "",
        script: str = "",
    ) -> bytes:
        """The page of drawings in SVG, findings, traces and lists: one file that needs no server and no network.

        `drawings` are by view, drawn as `wanted` says. `of` is another state of the rig that they are of, where the
        findings are of this one; `note` stands at the top, `script` runs in it.
        """
        from rigdsl import draw
        from rigdsl.page import Drawn, Page, page

        drawn = of or self
        views = {**drawn.packs.views, **draw.VIEWS}
        choice = wanted.choice if wanted else draw.Choice()
        shown = []
        for name, drawing in drawings.items():
            words = drawn.draw(draw.Wanted(name, choice), "txt").data.decode("utf-8")
            shown.append(Drawn(name, views[name].title, drawing.sheets, words))
        head = drawn.rig.head
        revision = (wanted.revision if wanted else "") or head.revision
        facts = (f"revision {revision}" if revision else "", head.date, "demo data" if head.demo else "")
        return page(
            Page(
                title=head.title or "a rig without a name",
                facts=tuple(filter(None, facts)),
                path=self.path,
                drawings=tuple(shown),
                findings=worst_first(self.findings()),
                accepted=len(self.verdict.accepted),
                paths=drawn.paths,
                lists=tuple((paper.title, table) for paper in map(drawn.paper, LISTS) for table in paper.tables),
                note=note,
                script=script,
            )
        )

    def errors_off(self, view: str) -> int:
        """How many errors have no place on a drawing: what they are about is not on it, or could not be read."""
        from rigdsl import draw

        errors = [finding for finding in self.findings() if finding.level == Level.ERROR]
        return draw.view(self.rig, self.paths, errors, view, self.packs.views).elsewhere if errors else 0

    @cached_property
    def paper_settings(self) -> PaperSettings:
        """What `[papers]` in rig.toml chooses."""
        from rigdsl.papers import PaperSettings

        chosen = {name.replace("-", "_"): value for name, value in self.config.papers.items()}
        columns = {name: tuple(some) for name, some in chosen.pop("columns", {}).items()}
        return PaperSettings(**chosen, columns=columns)

    def facts(self, guest: Sequence[str] = ()) -> Facts:
        """What papers are made of; `guest` names what a guest's sheet is about."""
        from rigdsl.papers import Facts

        findings = worst_first(self.findings())
        accepted = len(self.verdict.accepted)
        return Facts(self.rig, self.paths, findings, accepted, self.path, tuple(guest), self.paper_settings)

    def paper(self, name: str) -> Printed:
        """A paper, `input-list` or another of ours, or a pack's, with its tables. KeyError for an unknown one."""
        from rigdsl.papers import PAPERS, printed

        return printed({**self.packs.papers, **PAPERS}[name], self.facts())

    def _repr_html_(self) -> str | None:
        return self.draw()._repr_html_()


def load(path: str | os.PathLike[str]) -> Show:
    """The show of a rig file. Raises OSError where the file itself cannot be read."""
    shown = typed(os.fspath(path))
    reader = DiskReader(project_root(shown))
    start = reader.read(shown)
    if isinstance(start, Unread):
        kind = FileNotFoundError if start.rule == "file-missing" else OSError
        raise kind(start.message)
    packs = discover()
    return opened(shown, reader, packs, today(), config_of(reader.root, packs))


def opened(path: str, reader: Reader, packs: Packs, day: str, config: Config | None = None) -> Show:
    """The show of an entry file that a reader reads; without a configuration all packs are in use, as they are."""
    config = config or Config.plain(packs)
    loaded = rigs.load(path, reader, config.packs.libraries)
    return Show(path, loaded.rig, loaded.sources, config.packs, day, config)


def today() -> str:
    """The date as ISO text, of the clock or, as reproducible builds have it, of SOURCE_DATE_EPOCH."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    return time.strftime("%Y-%m-%d", time.gmtime(int(epoch)) if epoch.isdigit() else time.localtime())
