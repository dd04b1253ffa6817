"""PDF and PNG: vector, letters embedded, text as written, the same bytes everywhere."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import unicodedata
from importlib import util
from pathlib import Path

import pikepdf
import pytest
from fontTools.ttLib import TTFont
from pypdf import PdfReader

from rigdsl.draw import Wanted, draw, typeset
from rigdsl.draw.letters import missing
from rigdsl.draw.render import DrawError
from rigdsl.paths import Paths
from tests.draw.made import EXAMPLES, SHAPES, example, small

VIEWS = ["flow", "cabling"]
PNG_HEAD = b"\x89PNG\r\n\x1a\n"


def drawn(name: str, which: str, form: str) -> tuple[bytes, ...]:
    rig = example(name)
    return draw(rig, Paths(rig), (), Wanted(which, paper="a3"), form)


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_a_pdf_has_a_page_for_each_sheet_and_brings_its_letters(name: str, which: str) -> None:
    """Sizes are the sheets' own; each font is embedded and none is made of pictures; nothing is a picture of dots."""
    sheets = drawn(name, which, "svg")
    (data,) = drawn(name, which, "pdf")
    with pikepdf.open(io.BytesIO(data)) as made:
        assert len(made.pages) == len(sheets)
        for page, sheet in zip(made.pages, sheets, strict=True):
            _, _, wide, high = (float(side) for side in page.mediabox)
            assert (wide, high) == pytest.approx(typeset.size_pt(sheet), abs=0.1)
        objects = [made.get_object(number, 0) for number in range(1, len(made.objects))]
        dicts = [one for one in objects if isinstance(one, pikepdf.Dictionary | pikepdf.Stream)]
        fonts = [one for one in dicts if one.get("/Type") == "/FontDescriptor"]
        assert fonts
        assert all({"/FontFile2", "/FontFile3"} & set(map(str, font.keys())) for font in fonts)
        assert not [one for one in dicts if one.get("/Subtype") in ("/Type3", "/Image")]
        assert "/CreationDate" not in made.docinfo


def test_text_comes_out_of_a_pdf_as_it_was_written() -> None:
    """What a page says of the words in a drawing is what a reader copies out of it."""
    labels = ['Say "when"', "a < b & c", "back\\slash", "#import", "Ångström", "Звук", "Ήχος"]
    lines = [
        f'zone z{n} "{text.replace(chr(92), chr(92) * 2).replace(chr(34), chr(92) + chr(34))}"'
        for n, text in enumerate(labels)
    ]
    lines += [f"box B{n} is sub8 in z{n}" for n in range(len(labels))]
    rig = small("\n".join(lines))
    (data,) = draw(rig, Paths(rig), (), Wanted("cabling"), "pdf")
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
    assert [label for label in labels if label not in text] == []


@pytest.mark.parametrize("which", VIEWS)
def test_a_picture_of_dots_is_as_large_as_its_sheet(which: str) -> None:
    """144 dots an inch: two for each point."""
    for sheet, picture in zip(drawn("club/friday", which, "svg"), drawn("club/friday", which, "png"), strict=True):
        assert picture.startswith(PNG_HEAD)
        size = [int.from_bytes(picture[at : at + 4]) for at in (16, 20)]
        assert size == pytest.approx([side * 2 for side in typeset.size_pt(sheet)], abs=1.5)


@pytest.mark.parametrize("form", ["pdf", "png"])
def test_the_same_rig_gives_the_same_bytes(form: str) -> None:
    """Whatever the hash seed, the zone of the clock and the language of the machine."""
    script = (
        "import sys\nfrom rigdsl.show import load\n"
        f"sys.stdout.buffer.write(load({str(EXAMPLES / 'club/shows/friday.rig')!r}).draw('flow', {form!r}).data)"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", script], env={**os.environ, **env}, capture_output=True, check=True
        ).stdout
        for env in (
            {"PYTHONHASHSEED": "1", "TZ": "UTC", "SOURCE_DATE_EPOCH": "1"},
            {"PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "LC_ALL": "C", "SOURCE_DATE_EPOCH": "1764547200"},
        )
    }
    assert len(made) == 1


def test_letters_that_do_not_come_along_are_told() -> None:
    said: list[str] = []
    rig = small('zone z "舞台 🎸"\nbox B is sub8 in z')
    draw(rig, Paths(rig), (), Wanted("cabling"), "png", say=said.append)
    assert said == [
        "these letters are this machine's own, if it has them: 台 舞 🎸; look whether they are there, or take SVG"
    ]


def test_the_letters_that_come_along_are_those_of_the_fonts() -> None:
    """Against the fonts' own tables, read by fontTools."""
    spec = util.find_spec("font_source_sans_pro")
    assert spec is not None
    assert spec.origin is not None
    folder = Path(spec.origin).parent / "files"
    faces = [set(TTFont(folder / f"SourceSansPro-{face}.ttf").getBestCmap()) for face in ("Regular", "Bold")]
    both = {chr(code) for code in faces[0] & faces[1]}
    everything = "".join(map(chr, [*range(0x20, 0xD800), *range(0xE000, 0x30000)]))
    lacking = set(missing(everything))
    assert {char for char in both if char in lacking} == set()
    seen = {char for char in everything if unicodedata.category(char) not in ("Mn", "Me", "Cf", "Cc")}
    assert seen - lacking == seen & both


def test_a_picture_too_large_to_make_says_what_to_do() -> None:
    vast = b'<svg xmlns="x" width="90000pt" height="9000pt" viewBox="0 0 90000 9000"></svg>'
    with pytest.raises(DrawError, match=r"180,000 x 18,000 dots; draw it on sheets"):
        typeset.png([vast], "Test", lambda note: None)


@pytest.mark.parametrize(
    ("lacking", "said"), [("typst", "`typst`"), ("font_source_sans_pro", "`font-source-sans-pro`")]
)
def test_what_is_missing_is_named_with_how_to_get_it(lacking: str, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    real = util.find_spec
    monkeypatch.setitem(
        sys.modules, "typst", None if lacking == "typst" else sys.modules.get("typst") or __import__("typst")
    )
    monkeypatch.setattr(util, "find_spec", lambda name: None if name == lacking else real(name))
    rig = small("zone z\nbox B is sub8 in z")
    with pytest.raises(DrawError, match=f"PDF and PNG need {said}, which is not installed"):
        draw(rig, Paths(rig), (), Wanted("cabling"), "pdf")


def test_no_text_of_the_user_is_source() -> None:
    """What typst reads as its own language has no word of the rig's in it."""
    source = typeset._source([b'<svg xmlns="x" width="10pt" height="10pt"><text>#import</text></svg>'])
    assert "#import" not in source
