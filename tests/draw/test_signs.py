"""Where sound becomes digital, or analogue again: the sign at the box, its words, its place in the legend.

What converts where follows from what a box is plugged up with: common practice, no source.
"""

from __future__ import annotations

import pytest
from lxml import etree

from rigdsl.draw import twin
from rigdsl.draw.shapes import CROSSINGS
from rigdsl.rig import Rig
from tests.draw.made import SHAPES, example, sheet, small, svg

SVG = "{http://www.w3.org/2000/svg}"

BOX = "box D is desk32\nbox S is nw16\nlink C1: S.A -- D.stage 1 via c6 9 m\n"
IN = "source a dynamic to S.mic 1\npatch S.mic 1 -> D.ch 1\n"
OUT = "output w wedge from S.line 1\npatch D.mix 1 -> S.line 1\n"
DESK = "source b dynamic to D.local 1\npatch D.local 1 -> D.ch 2\n"
BACK = "output v wedge from D.out 1\npatch D.mix 2 -> D.out 1\n"


@pytest.mark.parametrize(
    ("text", "signs"),
    [
        (BOX + IN, {"box--S--in": "AD"}),
        (BOX + OUT, {"box--S--out": "DA"}),
        (BOX + IN + OUT, {"box--S--in": "AD", "box--S--out": "DA"}),
        # The desk's own sockets too, where it mixes what is digital.
        (BOX + IN + OUT + DESK, {"box--S--in": "AD", "box--S--out": "DA", "box--D": "AD"}),
        (BOX + IN + BACK, {"box--S--in": "AD", "box--D": "DA"}),
        (BOX + IN + OUT + DESK + BACK, {"box--S--in": "AD", "box--S--out": "DA", "box--D": "AD DA"}),
        (BOX + IN + DESK, {"box--S--in": "AD", "box--D": "AD"}),
        (BOX + OUT + BACK, {"box--S--out": "DA", "box--D": "DA"}),
        # All analogue: nothing is converted, as far as anybody says.
        ("box D is desk8\nsource b dynamic to D.local 1\npatch D.local 1 -> D.ch 1\n", {}),
        # What a computer plays was digital before.
        (
            "box N is switch8\nbox R is rec\nbox D is desk32\nlink C1: R.net -- N.port 1 via c6 3 m\n"
            "link C2: D.pri -- N.port 2 via c6 3 m\nsource p playback to R.play 1\npatch R.play 1 -> D.ch 1\n",
            {},
        ),
    ],
)
def test_a_sign_stands_where_sound_is_converted(text: str, signs: dict[str, str]) -> None:
    """Small rigs, and the boxes of each that wear a sign."""
    nodes = sheet(small(text), "flow").nodes
    assert {node.id: " ".join(node.crosses) for node in nodes if node.crosses} == signs


@pytest.mark.parametrize("name", SHAPES)
def test_signs_are_drawn_and_told(name: str) -> None:
    """Letters side by side in the head, left to right as the sound goes; the legend has those of this sheet."""
    rig: Rig = example(name)
    view = sheet(rig, "flow")
    root = etree.fromstring(svg(rig, "flow"))
    texts = {text.text for text in root.iter(f"{SVG}text")}
    drawn = set()
    for node in view.nodes:
        for way in node.crosses:
            (sign,) = root.xpath(f'//*[@id="{node.id}--crossing-{way}"]')
            letters = sorted((float(text.get("x")), text.text) for text in sign.iter(f"{SVG}text"))
            assert "".join(letter for _, letter in letters) == way
            assert sign.find(f"{SVG}title").text == CROSSINGS[way]
            drawn.add(way)
    assert {way for way, words in CROSSINGS.items() if f"{words} in this box" in texts} == drawn


def test_the_text_twin_tells_of_signs_once() -> None:
    """In words: at a desk behind its name, at a stage box as its side is called anyway."""
    said = twin(sheet(small(BOX + IN + DESK), "flow"))
    lines = [line for line in said.splitlines() if "analogue to digital" in line]
    assert [line.count("analogue to digital") for line in lines] == [1, 1]
