"""DOT text through a layout engine: the one that comes with the package, or an installed `dot`.

A drawing that takes too long is tried again with simpler lines, and that is said.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Callable
from pathlib import Path
from threading import Lock
from typing import Any, Literal

from rigdsl.draw.dot import PLACED

__all__ = ["ENGINES", "DrawError", "Engine", "render"]

Engine = Literal["embedded", "system"]
ENGINES = ("embedded", "system")

# How lines are led, from the finest to the quickest; each gets the time limit anew.
LADDER = ("spline", "polyline", "line")
WORDS = {"spline": "curved", "polyline": "bent", "line": "straight"}
LIMIT_S = 20.0

# An installed engine takes its letters from the machine's fonts: the first of these that is there.
ONE_FONT = 'fontname="Arial"'
ANY_FONT = 'fontname="Arial,Liberation Sans,Arimo,Helvetica,Nimbus Sans,DejaVu Sans Condensed"'
ONE_AT_A_TIME = Lock()  # sheets are drawn side by side, and an engine is named in one place for all of them


class DrawError(Exception):
    """A drawing could not be made; the text says what to do about it, in one line."""


def _quiet(note: str) -> None:
    """Nobody is told."""


def _binary(engine: str) -> Path:
    """Where the engine is."""
    if engine == "system":
        found = shutil.which("dot")
        if found is None:
            raise DrawError("no `dot` is installed here; install Graphviz, or draw with the engine that comes along")
        return Path(found)
    folders = [str(Path(sys.executable).parent), sysconfig.get_path("scripts"), os.environ.get("PATH", "")]
    for folder in folders:
        found = shutil.which("graphviz-pure", path=folder)
        if found is not None:
            return Path(found)
    raise DrawError(
        "the engine that comes along is missing (`graphviz-pure`); install it with `pip install graphviz-pure`, "
        "or draw with an installed `dot`: `--engine system`"
    )


def _command(binary: Path, lines: str) -> list[str]:
    """The engine's command line; a sheet whose lines are placed already has no `lines`."""
    from graphviz.backend import dot_command  # only where a picture is made: what merely names views need not wait

    with ONE_AT_A_TIME:
        return _words(dot_command, binary, lines)


def _words(dot_command: Any, binary: Path, lines: str) -> list[str]:
    before = dot_command.DOT_BINARY
    dot_command.DOT_BINARY = binary  # the package's own way of naming an engine; others in this process keep theirs
    try:
        if lines:
            parts = [*dot_command.command("dot", "svg"), f"-Gsplines={lines}"]
        else:
            parts = list(dot_command.command("neato", "svg", neato_no_op=2))
    finally:
        dot_command.DOT_BINARY = before
    return [str(part) for part in parts]


def render(
    dot_text: str,
    engine: str = "embedded",
    *,
    limit_s: float = LIMIT_S,
    say: Callable[[str], None] = _quiet,
) -> bytes:
    """The picture of a DOT text as the engine gives it, as SVG.

    `limit_s` is for each attempt; `say` is told when lines had to be led in a simpler way. DrawError where there is
    no engine, where it fails, and where even the simplest lines take too long.
    """
    from graphviz.backend import execute

    binary = _binary(engine)
    data = (dot_text if engine == "embedded" else dot_text.replace(ONE_FONT, ANY_FONT)).encode("utf-8")
    ladder = ("",) if dot_text.startswith(PLACED) else LADDER
    for step, lines in enumerate(ladder):
        try:
            done = execute.run_check(
                _command(binary, lines), input=data, capture_output=True, quiet=True, timeout=limit_s
            )
        except subprocess.TimeoutExpired:
            if step + 1 < len(ladder):
                say(f"the drawing took over {limit_s:g} s with {WORDS[lines]} lines; it is tried with simpler ones")
            continue
        except execute.ExecutableNotFound as trouble:
            raise DrawError(f"the engine `{binary.name}` cannot be started") from trouble
        except subprocess.CalledProcessError as trouble:
            raise DrawError(f"the engine `{binary.name}` failed: {_said(trouble.stderr)}") from trouble
        return bytes(done.stdout)
    simplest = " even with straight lines" if len(ladder) > 1 else ""
    raise DrawError(f"the drawing took more than {limit_s:g} s{simplest}; draw fewer boxes on a sheet")


def _said(stderr: bytes | str | None) -> str:
    """The last line that an engine said of a failure."""
    text = stderr.decode("utf-8", "replace") if isinstance(stderr, bytes) else stderr or ""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    return lines[-1] if lines else "it said nothing"
