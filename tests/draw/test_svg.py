"""The finished SVG: for readers of every kind, with labels as data."""

from __future__ import annotations

import re
import unicodedata
from io import StringIO

import pytest
from lxml import etree
from svgelements import SVG as PARSED
from svgelements import Path as DrawnPath

from rigdsl.draw import Wanted, draw
from rigdsl.draw.measure import cleaned
from rigdsl.draw.patterns import INK, PAPER, PATTERNS, QUIET
from rigdsl.paths import Paths
from tests.draw.made import SHAPES, example, findings, sheet, small, svg
from tests.reports import told

SVG = "{http://www.w3.org/2000/svg}"
VIEWS = ["flow", "cabling", "plan"]


def root_of(name: str, which: str) -> etree._Element:
    """The root of an example's drawing, its findings marked."""
    rig = example(name)
    return etree.fromstring(svg(rig, which, findings(rig)))


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_everything_can_be_named_and_nothing_leads_outside(name: str, which: str) -> None:
    """Role, title, description; an id, a class and a title for each part; no script, no reference."""
    root = root_of(name, which)
    assert root.get("role") == "img"
    for mark, element in zip(root.get("aria-labelledby").split(), (f"{SVG}title", f"{SVG}desc"), strict=True):
        assert root.find(element).get("id") == mark
        assert root.find(element).text
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    parts = [
        group for group in root.iter(f"{SVG}g") if {"node", "edge", "socket"} & set((group.get("class") or "").split())
    ]
    assert parts
    for part in parts:
        assert part.get("id")
        if "caption" not in part.get("class"):
            assert part.find(f"{SVG}title").text
    tags = {etree.QName(element).localname for element in root.iter() if isinstance(element.tag, str)}
    assert not tags & {"script", "a", "image", "use", "foreignObject"}
    assert not any("href" in key or key.startswith("on") for element in root.iter() for key in element.attrib)
    assert not re.search(rb"url\(|@import|<!DOCTYPE|<!ENTITY", etree.tostring(root))


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_text_is_large_enough_and_dark_enough(name: str, which: str) -> None:
    """Never under 8 points; and the inks that text is written in are those that are checked for contrast."""
    texts = list(root_of(name, which).iter(f"{SVG}text"))
    assert min(float(text.get("font-size")) for text in texts) >= 8
    assert {text.get("fill", "#000000") for text in texts} <= {INK, QUIET, PAPER, "#000000"}


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_the_legend_has_the_patterns_of_this_sheet_and_no_others(name: str, which: str) -> None:
    """Read back: the classes of the lines that are there, the words of the legend."""
    root = root_of(name, which)
    drawn: set[str] = set()
    for group in root.iter(f"{SVG}g"):
        kinds = (group.get("class") or "").split()
        if kinds[:1] == ["edge"]:
            drawn.update(pattern.means for pattern in PATTERNS if pattern.name == kinds[1])
            drawn.update(pattern.means for pattern in PATTERNS if pattern.name == "silent" and "stops" in kinds)
    texts = {text.text for text in root.iter(f"{SVG}text")}
    assert {pattern.means for pattern in PATTERNS if pattern.means in texts} == drawn


@pytest.mark.parametrize("which", VIEWS)
def test_the_title_block(which: str) -> None:
    """Title, view, revision, date, unit, that it is demo data, the sheet: each in a field of its own."""
    texts = [text.text for text in root_of("club/friday", which).iter(f"{SVG}text")]
    at = texts.index("Moth Lamp Cellar, Friday")
    what = {"flow": "signal flow", "cabling": "cabling", "plan": "plan"}[which]
    scale = ["scale 1:50"] if which == "plan" else []
    fields = [what, "revision 2", *scale, "2026-12-04", "lengths in metres", "demo data", "sheet 1 of 1"]
    assert texts[at + 1 : at + 1 + len(fields)] == fields


@pytest.mark.parametrize("which", VIEWS)
def test_another_reader_sees_the_same_lines(which: str) -> None:
    """svgelements finds a path of some length for every line."""
    data = svg(example("club/friday"), which)
    paths = [part for part in PARSED.parse(StringIO(data.decode("utf-8"))).elements() if isinstance(part, DrawnPath)]
    lines = re.findall(rb'class="edge [^"]*"', data)
    assert sum(path.length() > 3 for path in paths) >= len(lines)


HOSTILE = [
    'a "quoted" one',
    "<b>bold?</b> & <TABLE>",
    "&amp; &#65; &lt;",
    "back\\slash \\N \\G \\l \\n",
    "日本語のとても長いラベル" * 10,
    "שלום עולם",
    "نص عربي طويل",
    "🎤🎸 👩‍👩‍👧 🇪🇺",
    "é̂ combining ü",
    "x" * 200,
    "word " * 40 + "end",
    "]]> --> <!-- %s {0} ${x} ' \"",
    "two  spaces, one no-break",
    ";drop(*)|pipe{a}<b>\\{",
]


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("label", HOSTILE)
def test_labels_are_data(label: str, which: str) -> None:
    """Every label comes out as it was written, or broken into lines; nothing in it is markup."""
    quoted = '"' + label.replace("\\", "\\\\").replace('"', '\\"') + '"'
    rig = small(
        f"zone z {quoted} at (0, 2) m\nzone y at (3, 2) m\n"
        f"box S {quoted} is nw16 in z\nbox D is desk32 in y\nlink C1: S.A -- D.stage 1 via c6 5 m\n"
        f"source a {quoted} dynamic in z to S.mic 1\noutput w {quoted} wedge in z from S.line 1\n"
        "patch S.mic 1 -> D.ch 1\npatch D.mix 1 -> S.line 1\n"
    )
    assert not rig.findings
    root = etree.fromstring(svg(rig, which))
    for wanted in {"flow": ("sources--z--S", "S"), "cabling": ("zone--z", "S"), "plan": ("zone--z",)}[which]:
        group = next(g for g in root.iter(f"{SVG}g") if _names(g, wanted))
        assert _bare(label) in _bare("".join(text.text for text in group.iter(f"{SVG}text")))
    assert {_bare(label)} & {_bare(title.text or "") for title in root.iter(f"{SVG}title")} or any(
        _bare(label) in _bare(title.text or "") for title in root.iter(f"{SVG}title")
    )


def _names(group: etree._Element, wanted: str) -> bool:
    return (group.get("id") or "") in (wanted, f"box--{wanted}", f"box--{wanted}--in")


def _bare(text: str) -> str:
    """Text without the spaces at which lines may be broken."""
    return "".join(char for char in text if unicodedata.category(char) != "Zs")


def test_no_empty_words_reach_the_engine() -> None:
    """An empty label or title is a space: the engine refuses a frame of nothing."""
    rig = small('zone z ""\nbox S "" is nw16 in z\nsource a "" dynamic in z to S.mic 1')
    for which in VIEWS:
        assert b"<svg" in svg(rig, which)
        assert sheet(rig, which).nodes


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("text", told.HOSTILE)
def test_what_others_wrote_can_do_no_harm(text: str, which: str) -> None:
    """A finding's message, a revision: two readers take the drawing, of which nothing but words has changed."""
    rig = small(
        "zone z at (0, 2) m\nzone y at (3, 2) m\nbox S is nw16 in z\nbox D is desk32 in y\n"
        "link C1: S.A -- D.stage 1 via c6 5 m\nsource a dynamic in z to S.mic 1\n"
    )
    (said, plain) = (
        draw(rig, Paths(rig), [told.finding(message=message, subject="S")], Wanted(which, revision=message), "svg")[0]
        for message in (text, "plain")
    )
    strict = etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False)
    root, other = etree.fromstring(said, strict), etree.fromstring(plain, strict)
    words = _bare("".join(part.text or "" for part in root.iter(f"{SVG}text")))
    assert words.count(_bare(cleaned(text).replace("\n", ""))) == 2
    assert root.getroottree().docinfo.internalDTD is None
    assert len(list(PARSED.parse(StringIO(said.decode("utf-8"))).elements())) > 3
    broken = {f"{SVG}text", f"{SVG}polygon", f"{SVG}polyline"}  # where words go on in a further line
    assert shape(root, broken) == shape(other, broken)


def shape(root: etree._Element, without: set[str]) -> list[tuple[str, ...]]:
    """Every element with the names of its attributes, in order; comments and instructions show as well."""
    return [(str(one.tag), *sorted(one.attrib)) for one in root.iter() if one.tag not in without]
