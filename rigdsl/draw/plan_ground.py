"""What lies under a plan: a grid of metres, a scale bar, where the audience is. `k` points make a metre."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rigdsl.draw.patterns import GROUND, INK, PAPER
from rigdsl.draw.shapes import Ground
from rigdsl.rig.units import shown

__all__ = ["grounds"]

Box = tuple[float, float, float, float]

STEPS_M = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
LEAST = 28.0  # points between two lines of the grid
HAIR = 1.44  # how thick they are: the engine draws none thinner
BAR = 5.0  # how high the scale bar is
WORDS = 13.0  # how high a line of words is
AIR = 8.0


def grounds(box: Box, k: float) -> tuple[Ground, ...]:
    """The grid over a box, and below it the audience's side and the scale bar."""
    step_m = next((step for step in STEPS_M if step * k >= LEAST), STEPS_M[-1])
    return (*_grid(box, k, step_m), *_audience(box), *_bar(box, k, step_m))


def _grid(box: Box, k: float, step_m: float) -> Iterator[Ground]:
    """Lines through whole steps from the place (0, 0)."""
    left, bottom, right, top = box
    step = step_m * k
    for n in range(math.ceil(left / step), math.floor(right / step) + 1):
        yield Ground(f"grid-x{n}", (n * step - HAIR / 2, bottom, n * step + HAIR / 2, top), GROUND)
    for n in range(math.ceil(bottom / step), math.floor(top / step) + 1):
        yield Ground(f"grid-y{n}", (left, n * step - HAIR / 2, right, n * step + HAIR / 2), GROUND)


def _audience(box: Box) -> Iterator[Ground]:
    left, bottom, right, _ = box
    middle, low = (left + right) / 2, bottom - AIR - WORDS
    yield Ground("audience", (middle - 60, low, middle + 60, low + WORDS), words="audience's side")
    yield Ground("stage-right", (left, low, left + 70, low + WORDS), words="stage right")
    yield Ground("stage-left", (right - 70, low, right, low + WORDS), words="stage left")


def _bar(box: Box, k: float, step_m: float) -> Iterator[Ground]:
    """Four fields, dark and light in turn, each a step of the grid long, with the metres below."""
    left, bottom, _, _ = box
    step, top = step_m * k, bottom - 2 * AIR - WORDS
    yield Ground("bar-frame", (left - 0.5, top - BAR - 0.5, left + 4 * step + 0.5, top + 0.5), INK)
    for n in range(4):
        colour = INK if n % 2 == 0 else PAPER
        yield Ground(f"bar-{n}", (left + n * step, top - BAR, left + (n + 1) * step, top), colour)
    for n in (0, 1, 2, 4):
        at = left + n * step
        words = shown(n * step_m) + (" m" if n == 4 else "")
        yield Ground(f"bar-words-{n}", (at - 14, top - BAR - WORDS - 1, at + 14, top - BAR - 1), words=words)
