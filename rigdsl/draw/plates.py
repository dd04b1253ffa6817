"""What an engine has drawn already, by its text: a sheet is measured, and then it is finished."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from rigdsl.draw.dot import dot
from rigdsl.draw.paper import svg_size
from rigdsl.draw.render import render
from rigdsl.draw.shapes import View

__all__ = ["Layouts", "Plates"]

AT_ONCE = min(os.cpu_count() or 1, 8)  # engines that draw at the same time, each a sheet


def _nobody(note: str) -> None:
    """Nobody is told."""


@dataclass
class Layouts:
    """SVGs that are kept from one drawing to the next, with what there was to say of them: for who draws many times.

    `turn` begins another round; what the last one had no use for is forgotten.
    """

    now: dict[tuple[str, str], tuple[bytes, list[str]]] = field(default_factory=dict)
    before: dict[tuple[str, str], tuple[bytes, list[str]]] = field(default_factory=dict)

    def turn(self) -> None:
        """Begin another round."""
        self.before, self.now = self.now, {}

    def holds(self, engine: str, text: str) -> bool:
        """Whether that is here; if so, this round has a use for it."""
        key = engine, text
        if key in self.before:
            self.now.setdefault(key, self.before[key])
        return key in self.now


@dataclass
class Plates:
    """The SVGs of an engine; `say` is told what `render` has to say of them. `layouts` may have some already."""

    engine: str = "embedded"
    say: Callable[[str], None] = _nobody
    layouts: Layouts = field(default_factory=Layouts)
    drawn: dict[str, bytes] = field(default_factory=dict)

    def prepare(self, texts: Iterable[str]) -> None:
        """Draw those that are not there yet, several at once; what there is to say of them is said in their order."""
        missing = [text for text in dict.fromkeys(texts) if text not in self.drawn]
        fresh = [text for text in missing if not self.layouts.holds(self.engine, text)]
        notes: dict[str, list[str]] = {text: [] for text in fresh}
        with ThreadPoolExecutor(AT_ONCE) as pool:
            each = pool.map if len(fresh) > 1 else map  # a pool for one is a wait for nothing
            svgs = each(lambda text: render(text, self.engine, say=notes[text].append), fresh)
            for text, svg in zip(fresh, svgs, strict=True):
                self.layouts.now[self.engine, text] = svg, notes[text]
        for text in missing:
            self.drawn[text], told = self.layouts.now[self.engine, text]
            for note in told:
                self.say(note)

    def sizes(self, pages: Sequence[View]) -> list[tuple[float, float]]:
        """How large sheets come out."""
        texts = [dot(page) for page in pages]
        self.prepare(texts)
        return [svg_size(self.drawn[text]) for text in texts]
