"""Pictures of dots against a browser's pictures of the same SVG.

The browser is given the letters that come along, so that only what is drawn can differ. Both pictures are blurred,
which takes away how edges are smoothed. The mean says nothing: a word that is missing moves it by a fiftieth. What
counts is the worst place. Over all sheets of all examples it was 0.11 of the way from black to white at most; dashes
that were lost made 0.15 and more, a word that was lost 0.23, one that was not bold 0.26.
"""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator
from importlib import util
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageFilter

from rigdsl.draw import Wanted, draw, typeset
from rigdsl.draw.finish import FONTS
from rigdsl.paths import Paths
from tests.draw.made import example, findings
from tests.page.browser import browser

BLUR = 4  # dots, two points: wider than a smoothed edge, narrower than a stroke of text is long
WORST = 0.125
SHEETS = [("club/friday", "flow"), ("stage-core/cabaret", "cabling"), ("festival/saturday-night", "plan")]
READY = "const done = arguments[0]; document.images[0].decode().then(() => requestAnimationFrame(() => done()))"


@pytest.fixture(scope="module")
def window(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    with browser(tmp_path_factory.mktemp("profile"), (1800, 1300)) as driver:
        yield driver


def faces() -> str:
    """The regular and the bold face as a style, inside the file: a picture in a page may load nothing."""
    spec = util.find_spec(typeset.PACKAGE)
    assert spec is not None
    assert spec.origin is not None
    files = Path(spec.origin).parent / "files"
    rules = []
    for weight, name in ((400, "Regular"), (700, "Bold")):
        data = base64.b64encode((files / f"SourceSansPro-{name}.ttf").read_bytes()).decode("ascii")
        rules.append(f"@font-face {{ font-family: Own; font-weight: {weight}; src: url(data:font/ttf;base64,{data}) }}")
    return " ".join(rules)


def in_browser(window: Any, folder: Path, sheet: bytes) -> Image.Image:
    """What the browser makes of a sheet, at as many dots to the inch as ours."""
    text = sheet.decode("utf-8").replace(f'font-family="{FONTS}"', 'font-family="Own"', 1)
    (folder / "sheet.svg").write_text(text.replace("<style>", f"<style>{faces()} ", 1), encoding="utf-8")
    wide, high = (side / 72 * 96 for side in typeset.size_pt(sheet))
    style = f"display: block; width: {wide}px; height: {high}px"
    page = folder / "page.html"
    page.write_text(f'<!doctype html><body style="margin: 0"><img src="sheet.svg" style="{style}">', encoding="utf-8")
    window.get(page.as_uri())
    window.execute_async_script(READY)
    clip = {"x": 0, "y": 0, "width": wide, "height": high, "scale": typeset.DPI / 96}
    shot = window.execute_cdp_cmd("Page.captureScreenshot", {"captureBeyondViewport": True, "clip": clip})
    return Image.open(io.BytesIO(base64.b64decode(shot["data"])))


def ours(sheet: bytes) -> Image.Image:
    return Image.open(io.BytesIO(typeset.png([sheet], "Test", lambda note: None)[0]))


def worst(one: Image.Image, other: Image.Image) -> float:
    """How far two pictures are from each other where they differ most: 0 alike, 1 black against white."""
    assert abs(one.width - other.width) <= 1
    assert abs(one.height - other.height) <= 1
    box = (0, 0, min(one.width, other.width), min(one.height, other.height))
    soft = [
        np.asarray(picture.convert("L").crop(box).filter(ImageFilter.GaussianBlur(BLUR)), dtype=float)
        for picture in (one, other)
    ]
    return float(np.abs(soft[0] - soft[1]).max()) / 255


@pytest.mark.parametrize(("name", "which"), SHEETS)
def test_a_picture_of_dots_shows_what_a_browser_shows(name: str, which: str, window: Any, tmp_path: Path) -> None:
    """And where lines have lost their dashes, or words their weight, it is seen."""
    rig = example(name)
    sheet = draw(rig, Paths(rig), findings(rig), Wanted(which, paper="a3"), "svg")[0]
    shown = in_browser(window, tmp_path, sheet)
    assert worst(shown, ours(sheet)) < WORST
    for lost in (b"stroke-dasharray", b"font-weight"):
        assert worst(shown, ours(sheet.replace(lost, b"data-lost"))) > WORST
