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

__all__ = ["Plates"]

AT_ONCE = min(os.cpu_count() or 1, 8)  # engines that draw at the same time, each a sheet


def _nobody(note: str) -> None:
    """Nobody is told."""


@dataclass
class Plates:
    """The SVGs of an engine; `say` is told what `render` has to say of them."""

    engine: str = "embedded"
    say: Callable[[str], None] = _nobody
    drawn: dict[str, bytes] = field(default_factory=dict)

    def prepare(self, texts: Iterable[str]) -> None:
        """Draw those that are not there yet, several at once; what there is to say of them is said in their order."""
        missing = [text for text in dict.fromkeys(texts) if text not in self.drawn]
        notes: dict[str, list[str]] = {text: [] for text in missing}
        with ThreadPoolExecutor(AT_ONCE) as pool:
            each = pool.map if len(missing) > 1 else map  # a pool for one is a wait for nothing
            svgs = each(lambda text: render(text, self.engine, say=notes[text].append), missing)
            for text, svg in zip(missing, svgs, strict=True):
                self.drawn[text] = svg
                for note in notes[text]:
                    self.say(note)

    def sizes(self, pages: Sequence[View]) -> list[tuple[float, float]]:
        """How large sheets come out."""
        texts = [dot(page) for page in pages]
        self.prepare(texts)
        return [svg_size(self.drawn[text]) for text in texts]
